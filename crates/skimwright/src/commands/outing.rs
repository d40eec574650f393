//! Outings: a folder a day, with the builder's words, recordings and what they measured.

use evidence::Measured;
use evidence::outing::file::{OutingFile, RecordingEntry, is_plain_name, template};
use evidence::outing::measured::FORMAT;
use evidence::outing::recording::{Settings, kind_of};
use evidence::outing::{Analysis, Clock, Outing, Recording, RecordingKind, together};
use evidence::sound::decode::Channel;
use serde_json::json;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::builds::{frozen, same_boat};
use super::recording::{any, as_text, boat_alone, mappings, open, settings_of, sound_speed, text};
use super::together::clock_text;
use crate::boat_folder::write_whole;
use crate::cli_recordings::{OutingArgs, OutingWhat, Shown};
use crate::failure::{Failure, shown};
use crate::output;

const NOTES: &str = "outing.toml";
const MEASURED: &str = "measured.json";

pub fn run(given: &OutingArgs) -> Result<Outcome, Failure> {
    let boat = folder_of(&given.boat)?;
    match &given.what {
        OutingWhat::New { date, place, json } => new(&boat, date.as_deref(), place, *json),
        OutingWhat::Measure { date, shown } => measure(&boat, date, shown),
        OutingWhat::List { json } => list(&boat, *json),
    }
}

/// The folder of a boat.
pub fn folder_of(path: &Path) -> Result<PathBuf, Failure> {
    boat_alone(path)?;
    let folder = if path.is_dir() {
        path.to_owned()
    } else {
        path.parent().map(Path::to_owned).unwrap_or_default()
    };
    Ok(folder)
}

/// `2026-05-17`, with `-2` or a word behind it for more than one on a day.
fn check_date(date: &str) -> Result<(), Failure> {
    let wrong = || {
        Failure::new(
            format!("`{date}` does not name an outing"),
            "write the day as YYYY-MM-DD, with -2 or a word behind it for more than one",
        )
    };
    let day = date.get(..10).ok_or_else(wrong)?;
    let rest = &date[10..];
    day.parse::<jiff::civil::Date>().map_err(|_| wrong())?;
    let tail = rest.strip_prefix('-').is_some_and(|t| {
        !t.is_empty() && t.len() <= 40 && t.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
    });
    if rest.is_empty() || tail {
        Ok(())
    } else {
        Err(wrong())
    }
}

fn new(boat: &Path, date: Option<&str>, place: &str, as_json: bool) -> Result<Outcome, Failure> {
    let today = jiff::ZonedDateTime::now().date().to_string();
    let date = date.unwrap_or(&today);
    check_date(date)?;
    let folder = boat.join("outings").join(date);
    if folder.exists() {
        return Err(Failure::new(
            format!("{} is there already; nothing was changed", shown(&folder)),
            format!("for another outing that day: --date {date}-2"),
        ));
    }
    let kept = frozen(boat)?;
    let build = kept
        .iter()
        .rev()
        .find(|b| same_boat(boat, &b.folder))
        .map(|b| b.name.clone());
    fs::create_dir_all(&folder).map_err(|e| Failure::system("make", &folder, &e))?;
    let file = folder.join(NOTES);
    write_whole(&file, template(place, build.as_deref()).as_bytes())?;
    if as_json {
        output::print_json(
            &json!({"made": file.display().to_string(), "date": date, "build": build}),
        )?;
    } else {
        output::print(&format!(
            "made {}\nput the recordings beside it and say what happened; then: skimwright outing {} measure {date}\n",
            shown(&file),
            shown(boat)
        ))?;
    }
    Ok(Outcome::Good)
}

/// What one file of the outing came to.
enum Came {
    Measured(Analysis),
    Trouble(String),
    LeftAlone,
}

fn measure(boat: &Path, date: &str, how: &Shown) -> Result<Outcome, Failure> {
    check_date(date)?;
    let folder = boat.join("outings").join(date);
    let notes = folder.join(NOTES);
    if !notes.is_file() {
        return Err(Failure::new(
            format!("{} has no {NOTES}", shown(&folder)),
            format!(
                "start it with `skimwright outing {} new --date {date}`",
                shown(boat)
            ),
        ));
    }
    let notes = OutingFile::read(&text(&notes)?, &shown(&notes))?;
    let files = files_of(&folder)?;
    for entry in &notes.recording {
        if !files.contains(&entry.file) {
            output::warn(&format!(
                "{NOTES} names {}, which is not in {}\n",
                entry.file,
                shown(&folder)
            ));
        }
    }
    let ran = boat_that_ran(boat, notes.build.as_deref())?;
    let common = settings_for(&ran, boat, &notes)?;
    let earlier = read_measured(&folder)?;
    let mut outing = Outing {
        format: FORMAT,
        date: date.to_owned(),
        build: notes.build.clone(),
        invented: notes.invented,
        recordings: Vec::new(),
        quantities: Vec::new(),
        events: Vec::new(),
        clocks: Vec::new(),
    };
    let mut all = Vec::new();
    for file in &files {
        let entry = notes.entry(file);
        let (record, came) = one(&folder.join(file), file, entry, &common, earlier.as_ref())?;
        outing.recordings.push(record);
        if let Came::Measured(a) = came {
            outing.quantities.extend(a.quantities.iter().cloned());
            outing.events.extend(a.events.iter().cloned());
            all.push(a);
        }
    }
    if let Some(earlier) = earlier {
        keep_what_is_gone(&mut outing, &earlier, &files);
    }
    let (clocks, _) = together::together(&all);
    outing.clocks = clocks;
    let target = folder.join(MEASURED);
    let written = serde_json::to_string_pretty(&outing)
        .map_err(|e| Failure::new(format!("cannot write {}: {e}", shown(&target)), ""))?;
    write_whole(&target, format!("{written}\n").as_bytes())?;
    if let Some(page) = &how.output {
        write_whole(
            page,
            report::recordings(&format!("Outing {date}"), &all).as_bytes(),
        )?;
    }
    if how.json {
        let mut answer = json!(outing);
        answer["written"] = target.display().to_string().into();
        output::print_json(&answer)?;
    } else {
        output::print(&told(&outing, &all, &target))?;
    }
    Ok(Outcome::Good)
}

/// The boat as it was on the outing.
fn boat_that_ran(boat: &Path, build: Option<&str>) -> Result<boat::Boat, Failure> {
    let Some(build) = build else {
        return boat_alone(boat);
    };
    let folder = boat.join("builds").join(build);
    if !is_plain_name(build) || !folder.is_dir() {
        let all: Vec<String> = frozen(boat)?.into_iter().map(|b| b.name).collect();
        return Err(Failure::new(
            format!(
                "{NOTES} names the build `{build}`, which is not in {}",
                shown(&boat.join("builds"))
            ),
            if all.is_empty() {
                "leave `build` out for the boat as it is now".to_owned()
            } else {
                format!("there are: {}", all.join(", "))
            },
        ));
    }
    boat_alone(&folder)
}

fn settings_for(ran: &boat::Boat, home: &Path, notes: &OutingFile) -> Result<Settings, Failure> {
    let mut s = settings_of(Some(ran), mappings(Some(home))?);
    if let Some(air) = notes.air_temperature {
        s.hear.listen.sound_speed_m_s = sound_speed(air.0)?;
    }
    s.track.line = notes.lap_line.map(|l| l.line());
    s.track.shortest_lap_s = notes
        .lap_line
        .and_then(|l| l.shortest_lap)
        .map(|t| t.value());
    Ok(s)
}

/// Settings for one recording.
fn with_entry(common: &Settings, entry: Option<&RecordingEntry>) -> Settings {
    let mut s = common.clone();
    let Some(e) = entry else { return s };
    let rpm = 30.0 / std::f64::consts::PI;
    let listen = &mut s.hear.listen;
    if let (Some(low), Some(high)) = (e.lowest_rpm, e.highest_rpm) {
        listen.drive.rpm_range = Some((low.value() * rpm, high.value() * rpm));
    }
    listen.closest_m = e.closest.map(|d| {
        // Paced out unless a tolerance says better: a tenth.
        let sigma = if d.0.sigma > 0.0 {
            d.0.sigma
        } else {
            0.1 * d.value()
        };
        Measured::new(d.value(), sigma)
    });
    listen.from_s = e.from.map_or(listen.from_s, |t| t.value());
    listen.to_s = e.to.map_or(listen.to_s, |t| t.value());
    s.hear.still = e.still;
    s.channel = e.channel.map_or(Channel::Mean, Channel::Only);
    s.pulses.level_column = e.level_column;
    s.pulses.rate_hz = e.sample_rate.filter(|r| *r > 0.0);
    s
}

/// Recordings of an outing by name: everything but our own files and hidden ones.
fn files_of(folder: &Path) -> Result<Vec<String>, Failure> {
    let entries =
        fs::read_dir(folder).map_err(|e| Failure::system("read the folder", folder, &e))?;
    let mut names = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|e| Failure::system("read the folder", folder, &e))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let ours = [NOTES, MEASURED].contains(&name.as_str());
        if !ours && !name.starts_with('.') && !name.ends_with(".html") && entry.path().is_file() {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

fn one(
    path: &Path,
    name: &str,
    entry: Option<&RecordingEntry>,
    common: &Settings,
    earlier: Option<&Outing>,
) -> Result<(Recording, Came), Failure> {
    let (bytes, sha256) = hash(path)?;
    let kind = match entry.and_then(|e| e.kind) {
        Some(kind) => kind,
        None => kind_of(name, &mut open(path)?).map_err(|e| Failure::system("read", path, &e))?,
    };
    let came = if entry.is_some_and(|e| e.skip) || kind == RecordingKind::Other {
        Came::LeftAlone
    } else {
        match any(path, Some(kind), &with_entry(common, entry)) {
            Ok(a) => Came::Measured(a),
            Err(Failure::NobodyListens) => return Err(Failure::NobodyListens),
            Err(Failure::AtFault(why)) => {
                Came::Trouble(why.to_string().replace(&format!("{}: ", shown(path)), ""))
            }
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
        output::warn(&format!("{}: {words}\n", shown(path)));
        record.remarks.push(words.to_owned());
    }
    Ok((record, came))
}

fn hash(path: &Path) -> Result<(u64, String), Failure> {
    let mut file = open(path)?;
    let mut hash = Sha256::new();
    let mut buffer = vec![0u8; 1 << 18];
    let mut bytes = 0;
    loop {
        let n = file
            .read(&mut buffer)
            .map_err(|e| Failure::system("read", path, &e))?;
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
pub fn read_measured(folder: &Path) -> Result<Option<Outing>, Failure> {
    let file = folder.join(MEASURED);
    if !file.is_file() {
        return Ok(None);
    }
    let read: Outing = evidence::outing::given::from_json(&text(&file)?, &shown(&file))?;
    if read.format > FORMAT {
        return Err(Failure::new(
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
    for old in earlier
        .recordings
        .iter()
        .filter(|r| !files.contains(&r.file))
    {
        let mut record = old.clone();
        record.trouble =
            Some("no longer in the folder; its values are from an earlier measurement".to_owned());
        outing.recordings.push(record);
        let of = |q: &&evidence::outing::Value| q.from.recording == old.file;
        outing
            .quantities
            .extend(earlier.quantities.iter().filter(of).cloned());
        let seen = earlier.events.iter().filter(|e| e.recording == old.file);
        outing.events.extend(seen.cloned());
    }
}

fn told(outing: &Outing, all: &[Analysis], target: &Path) -> String {
    let mut text = String::new();
    if outing.invented {
        text.push_str("invented recordings, not taken on the water\n");
    }
    for a in all {
        text.push_str(&as_text(a));
    }
    for r in &outing.recordings {
        if let Some(why) = &r.trouble {
            let _ = writeln!(text, "{}: {why}", r.file);
        }
    }
    for c in &outing.clocks {
        let _ = writeln!(text, "one clock: {}", clock_text(c as &Clock));
    }
    let _ = writeln!(
        text,
        "wrote {} ({} values)",
        shown(target),
        outing.quantities.len()
    );
    text
}

/// Outings of a boat, by name.
pub fn outings(boat: &Path) -> Result<Vec<(String, PathBuf)>, Failure> {
    let home = boat.join("outings");
    if !home.is_dir() {
        return Ok(Vec::new());
    }
    let entries = fs::read_dir(&home).map_err(|e| Failure::system("read the folder", &home, &e))?;
    let mut all: Vec<(String, PathBuf)> = entries
        .filter_map(Result::ok)
        .map(|e| (e.file_name().to_string_lossy().into_owned(), e.path()))
        .filter(|(_, path)| path.join(NOTES).is_file())
        .collect();
    all.sort();
    Ok(all)
}

fn list(boat: &Path, as_json: bool) -> Result<Outcome, Failure> {
    let mut rows = Vec::new();
    let mut text_out = String::new();
    for (date, folder) in outings(boat)? {
        let file = folder.join(NOTES);
        let notes = OutingFile::read(&text(&file)?, &shown(&file))?;
        let measured = read_measured(&folder)?;
        let values = measured.as_ref().map(|m| m.quantities.len());
        let _ = writeln!(
            text_out,
            "{date}  {}  {}  {}",
            if notes.place.is_empty() {
                "somewhere"
            } else {
                &notes.place
            },
            notes.build.as_deref().unwrap_or("the boat as it is"),
            values.map_or("not measured yet".to_owned(), |n| format!("{n} values")),
        );
        rows.push(json!({
            "date": date, "place": notes.place, "water": notes.water, "build": notes.build,
            "invented": notes.invented, "what_happened": notes.what_happened, "values": values,
        }));
    }
    if as_json {
        output::print_json(&json!({ "outings": rows }))?;
    } else if rows.is_empty() {
        output::print(&format!(
            "no outings yet; start one with `skimwright outing {} new`\n",
            shown(boat)
        ))?;
    } else {
        output::print(&text_out)?;
    }
    Ok(Outcome::Good)
}
