//! Outings: a folder a day, with the builder's words, recordings and what they measured.

use evidence::outing::file::{OutingFile, RecordingEntry, is_plain_name, template};
use evidence::outing::measured::FORMAT;
use evidence::outing::recording::{Settings, kind_of};
use evidence::outing::{Analysis, Outing, Recording, RecordingKind, together};
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::beneath::{beneath, open};
use crate::builds::{frozen, same_boat};
use crate::fault::{Fault, as_argument, shown};
use crate::folder::write_whole;
use crate::question::Question;
use crate::recordings::{any, boat_alone, mappings, settings_of, text, with_entry, with_notes};
use crate::watch::Remark;
use crate::writing::{is_unfinished, one_writer};

/// The builder's words of an outing.
pub const NOTES: &str = "outing.toml";
/// What its recordings measured.
pub const MEASURED: &str = "measured.json";

/// Starts an outing: a folder with notes to fill in. One that is there is never touched.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct BeginOutingAsk {
    /// The day as YYYY-MM-DD, with `-2` or a word behind it for more than one.
    #[schema(max_length = 60)]
    pub date: String,
    /// Where.
    #[schema(max_length = 200)]
    pub place: String,
}

/// An outing that was started.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct BeginOutingAnswer {
    /// The file to fill in.
    pub made: String,
    /// As asked.
    pub date: String,
    /// The build that is the boat as it is now; nothing where none is.
    pub build: Option<String>,
}

/// Measures the recordings of an outing and writes its `measured.json`; recordings are never altered.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct MeasureAsk {
    /// The outing, as its folder is named.
    #[schema(max_length = 60)]
    pub outing: String,
}

/// What an outing's recordings measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MeasureAnswer {
    /// As it stands in `measured.json`.
    #[serde(flatten)]
    pub outing: Outing,
    /// Where it was written.
    pub written: String,
    /// Each recording as it is told alone; not sent.
    #[serde(skip)]
    pub recordings: Vec<Analysis>,
}

/// Lists the outings of a boat.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
pub struct OutingsAsk {}

/// The outings of a boat, by name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct OutingsAnswer {
    /// One a day.
    pub outings: Vec<OutingLine>,
}

/// An outing in a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct OutingLine {
    /// As its folder is named.
    pub date: String,
    /// Where.
    pub place: String,
    /// In the builder's words.
    pub water: String,
    /// Which build ran; nothing for the boat as it is.
    pub build: Option<String>,
    /// Not taken on the water.
    pub invented: bool,
    /// In the builder's words.
    pub what_happened: String,
    /// How many values were measured; nothing before that.
    pub values: Option<usize>,
}

/// Whether a word names an outing: a day, with more behind it for more than one.
///
/// # Errors
/// [`Fault`] that says how to write it.
pub fn check_date(date: &str) -> Result<(), Fault> {
    let wrong = || {
        Fault::new(
            format!("`{date}` does not name an outing"),
            "write the day as YYYY-MM-DD, with -2 or a word behind it for more than one",
        )
    };
    let (day, rest) = date.split_at_checked(10).ok_or_else(wrong)?;
    day.parse::<jiff::civil::Date>().map_err(|_| wrong())?;
    let plain = |c: char| c.is_alphanumeric() || c == '-';
    let tail = rest
        .strip_prefix('-')
        .is_some_and(|t| (1..=40).contains(&t.len()) && t.chars().all(plain));
    if rest.is_empty() || tail {
        Ok(())
    } else {
        Err(wrong())
    }
}

impl Question for BeginOutingAsk {
    type Answer = BeginOutingAnswer;

    fn answer(&self, bench: &Bench) -> Result<BeginOutingAnswer, Fault> {
        let home = bench.home()?;
        check_date(&self.date)?;
        let _one = one_writer(&home)?;
        let folder = beneath(&home, Path::new("outings").join(&self.date))?;
        // An empty one is what a full disk or a kill left of an earlier try.
        let begun = |entry: fs::DirEntry| !is_unfinished(&entry.file_name());
        let empty = fs::read_dir(&folder).is_ok_and(|all| !all.flatten().any(begun));
        if folder.exists() && !empty {
            return Err(Fault::new(
                format!("{} is there already; nothing was changed", shown(&folder)),
                format!("for another outing that day: --date {}-2", self.date),
            ));
        }
        let kept = frozen(&home)?;
        let now = kept.iter().rev().find(|b| same_boat(&home, &b.folder));
        let build = now.map(|b| b.name.clone());
        fs::create_dir_all(&folder).map_err(|e| Fault::system("make", &folder, &e))?;
        let file = folder.join(NOTES);
        write_whole(&file, template(&self.place, build.as_deref()).as_bytes())?;
        Ok(BeginOutingAnswer {
            made: file.display().to_string(),
            date: self.date.clone(),
            build,
        })
    }

    fn writes(&self) -> bool {
        true
    }
}

impl Question for OutingsAsk {
    type Answer = OutingsAnswer;

    fn answer(&self, bench: &Bench) -> Result<OutingsAnswer, Fault> {
        let each = outings(&bench.home()?)?.into_iter();
        let outings = each.map(|(date, folder)| line(date, &folder));
        Ok(OutingsAnswer {
            outings: outings.collect::<Result<_, _>>()?,
        })
    }
}

fn line(date: String, folder: &Path) -> Result<OutingLine, Fault> {
    let file = beneath(folder, NOTES)?;
    let notes = OutingFile::read(&text(&file)?, &shown(&file))?;
    let measured = read_measured(folder)?;
    Ok(OutingLine {
        date,
        place: notes.place,
        water: notes.water,
        build: notes.build,
        invented: notes.invented,
        what_happened: notes.what_happened,
        values: measured.map(|m| m.quantities.len()),
    })
}

/// What one file of the outing came to.
enum Came {
    Measured(Box<Analysis>),
    Trouble(String),
    LeftAlone,
}

impl Question for MeasureAsk {
    type Answer = MeasureAnswer;

    fn answer(&self, bench: &Bench) -> Result<MeasureAnswer, Fault> {
        let home = bench.home()?;
        check_date(&self.outing)?;
        let folder = beneath(&home, Path::new("outings").join(&self.outing))?;
        let notes = beneath(&folder, NOTES)?;
        if !notes.is_file() {
            return Err(Fault::new(
                format!("{} has no {NOTES}", shown(&folder)),
                format!(
                    "start it with `skimwright outing {} new --date {}`",
                    as_argument(&home),
                    self.outing
                ),
            ));
        }
        let notes = OutingFile::read(&text(&notes)?, &shown(&notes))?;
        let files = files_of(&folder)?;
        for entry in notes.recording.iter().filter(|e| !files.contains(&e.file)) {
            let what = format!(
                "{NOTES} names {}, which is not in {}",
                entry.file,
                shown(&folder)
            );
            bench.watch().remark(&Remark::Plain(what));
        }
        let ran = boat_that_ran(&home, notes.build.as_deref())?;
        let common = with_notes(settings_of(Some(&ran), mappings(Some(&home))?), &notes)?;
        let earlier = read_measured(&folder)?;
        let mut outing = Outing {
            format: FORMAT,
            date: self.outing.clone(),
            build: notes.build.clone(),
            invented: notes.invented,
            recordings: Vec::new(),
            quantities: Vec::new(),
            events: Vec::new(),
            clocks: Vec::new(),
        };
        let mut all = Vec::new();
        for (n, file) in files.iter().enumerate() {
            bench.go_on()?;
            bench.watch().part(n as f64 / files.len() as f64);
            let about = About {
                path: beneath(&folder, file)?,
                name: file,
                entry: notes.entry(file),
            };
            let (record, came) = one(&about, &common, earlier.as_ref(), bench)?;
            outing.recordings.push(record);
            if let Came::Measured(a) = came {
                outing.quantities.extend(a.quantities.iter().cloned());
                outing.events.extend(a.events.iter().cloned());
                all.push(*a);
            }
        }
        if let Some(earlier) = earlier {
            keep_what_is_gone(&mut outing, &earlier, &files);
        }
        outing.clocks = together::together(&all).0;
        let target = folder.join(MEASURED);
        let written = serde_json::to_string_pretty(&outing)
            .map_err(|e| Fault::new(format!("cannot write {}: {e}", shown(&target)), ""))?;
        write_whole(&target, format!("{written}\n").as_bytes())?;
        Ok(MeasureAnswer {
            outing,
            written: target.display().to_string(),
            recordings: all,
        })
    }

    fn writes(&self) -> bool {
        true
    }
}

/// The boat as it was on an outing.
pub(crate) fn boat_that_ran(home: &Path, build: Option<&str>) -> Result<boat::Boat, Fault> {
    let Some(build) = build else {
        return boat_alone(home);
    };
    let named = is_plain_name(build).then(|| beneath(home, Path::new("builds").join(build)));
    let Some(folder) = named.transpose()?.filter(|folder| folder.is_dir()) else {
        let all: Vec<String> = frozen(home)?.into_iter().map(|b| b.name).collect();
        return Err(Fault::new(
            format!(
                "{NOTES} names the build `{build}`, which is not in {}",
                shown(&home.join("builds"))
            ),
            if all.is_empty() {
                "leave `build` out for the boat as it is now".to_owned()
            } else {
                format!("there are: {}", all.join(", "))
            },
        ));
    };
    boat_alone(&folder)
}

/// Recordings of an outing by name: everything but our own files and hidden ones.
///
/// # Errors
/// [`Fault`] when the folder cannot be read.
pub fn files_of(folder: &Path) -> Result<Vec<String>, Fault> {
    let refused = |e: std::io::Error| Fault::system("read the folder", folder, &e);
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(refused)? {
        let entry = entry.map_err(refused)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let ours = [NOTES, MEASURED].contains(&name.as_str());
        if !ours && !name.starts_with('.') && !name.ends_with(".html") && entry.path().is_file() {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

/// One file of an outing.
struct About<'a> {
    path: PathBuf,
    name: &'a str,
    entry: Option<&'a RecordingEntry>,
}

fn one(
    about: &About,
    common: &Settings,
    earlier: Option<&Outing>,
    bench: &Bench,
) -> Result<(Recording, Came), Fault> {
    let (path, name, entry) = (about.path.as_path(), about.name, about.entry);
    let (bytes, sha256) = hash(path)?;
    let kind = match entry.and_then(|e| e.kind) {
        Some(kind) => kind,
        None => kind_of(name, &mut open(path)?).map_err(|e| Fault::system("read", path, &e))?,
    };
    let came = if entry.is_some_and(|e| e.skip) || kind == RecordingKind::Other {
        Came::LeftAlone
    } else {
        match any(path, Some(kind), &with_entry(common, entry)) {
            Ok(a) => Came::Measured(Box::new(a)),
            Err(Fault::Stopped) => return Err(Fault::Stopped),
            Err(why) => Came::Trouble(why.to_string().replace(&format!("{}: ", shown(path)), "")),
        }
    };
    let before = earlier.and_then(|o| o.recordings.iter().find(|r| r.file == name));
    let mut record = Recording {
        file: name.to_owned(),
        kind,
        bytes,
        sha256,
        span_s: None,
        start_unix_s: None,
        remarks: Vec::new(),
        trouble: None,
    };
    match &came {
        Came::Measured(a) => {
            record.span_s = a.span_s;
            record.start_unix_s = a.start_unix_s;
            record.remarks = a.says.iter().chain(&a.remarks).cloned().collect();
        }
        Came::Trouble(why) => record.trouble = Some(why.clone()),
        Came::LeftAlone => record.remarks.push("not measured".to_owned()),
    }
    if before.is_some_and(|b| b.sha256 != record.sha256) {
        let words = "the file is not the one measured before: it was changed or replaced";
        let what = format!("{}: {words}", shown(path));
        bench.watch().remark(&Remark::Plain(what));
        record.remarks.push(words.to_owned());
    }
    Ok((record, came))
}

fn hash(path: &Path) -> Result<(u64, String), Fault> {
    let mut file = open(path)?;
    let mut hash = Sha256::new();
    let mut buffer = vec![0u8; 1 << 18];
    let mut bytes = 0;
    loop {
        let n = file
            .read(&mut buffer)
            .map_err(|e| Fault::system("read", path, &e))?;
        if n == 0 {
            break;
        }
        bytes += n as u64;
        hash.update(&buffer[..n]);
    }
    let hex = hash.finalize().iter().fold(String::new(), |mut s, b| {
        let _ = write!(s, "{b:02x}");
        s
    });
    Ok((bytes, hex))
}

/// `measured.json` of an outing, if it was measured.
///
/// # Errors
/// [`Fault`] with what is wrong in it and where.
pub fn read_measured(folder: &Path) -> Result<Option<Outing>, Fault> {
    let file = beneath(folder, MEASURED)?;
    if !file.is_file() {
        return Ok(None);
    }
    let read: Outing = evidence::outing::given::from_json(&text(&file)?, &shown(&file))?;
    if read.format > FORMAT {
        return Err(Fault::new(
            format!(
                "{} was written by a later version (format {})",
                shown(&file),
                read.format
            ),
            "use that version, or measure the outing again",
        ));
    }
    Ok(Some(read))
}

/// What was measured on a recording that has gone since is kept, and says so.
fn keep_what_is_gone(outing: &mut Outing, earlier: &Outing, files: &[String]) {
    let gone = earlier.recordings.iter();
    for old in gone.filter(|r| !files.contains(&r.file)) {
        let mut record = old.clone();
        record.trouble =
            Some("no longer in the folder; its values are from an earlier measurement".to_owned());
        outing.recordings.push(record);
        let of = |q: &&evidence::outing::Value| q.from.recording == old.file;
        let kept = earlier.quantities.iter().filter(of);
        outing.quantities.extend(kept.cloned());
        let seen = earlier.events.iter().filter(|e| e.recording == old.file);
        outing.events.extend(seen.cloned());
    }
}

/// Outings of a boat folder, by name.
///
/// # Errors
/// [`Fault`] when the folder cannot be read.
pub fn outings(home: &Path) -> Result<Vec<(String, PathBuf)>, Fault> {
    let home = beneath(home, "outings")?;
    if !home.is_dir() {
        return Ok(Vec::new());
    }
    let entries = fs::read_dir(&home).map_err(|e| Fault::system("read the folder", &home, &e))?;
    let mut all: Vec<(String, PathBuf)> = entries
        .filter_map(Result::ok)
        .map(|e| (e.file_name().to_string_lossy().into_owned(), e.path()))
        .filter(|(name, path)| path.join(NOTES).is_file() && beneath(&home, name).is_ok())
        .collect();
    all.sort();
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::BoatAt;
    use crate::watch::Quiet;

    #[test]
    fn an_empty_folder_of_an_earlier_try_is_taken() {
        let boat = tempfile::tempdir().expect("a folder");
        let text = boat::template("vee", "Tern").expect("known");
        fs::write(boat.path().join("boat.toml"), text).expect("written");
        let day = boat.path().join("outings/2026-05-17");
        fs::create_dir_all(&day).expect("made");
        fs::write(day.join(".skimwright-of-a-kill"), "").expect("written");
        let ask = BeginOutingAsk {
            date: "2026-05-17".to_owned(),
            ..BeginOutingAsk::default()
        };
        let at = BoatAt::saved(boat.path());
        crate::ask(&ask, Some(&at), &Quiet).expect("begun");
        assert!(day.join(NOTES).is_file());
        let refused = crate::ask(&ask, Some(&at), &Quiet).expect_err("it is there");
        assert!(refused.to_string().contains("is there already"));
    }
}
