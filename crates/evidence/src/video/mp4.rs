//! The time table of an MP4 or MOV file: when each frame is shown, as the file says.
//!
//! Phones film at a varying rate, so frame number over nominal rate is wrong. The file's index
//! (`moov`) holds the duration of every frame (`stts`), the shift between decoding and showing
//! (`ctts`) and what the edit list (`elst`) skips at the start: for sound, the encoder's priming.
//!
//! Format: ISO/IEC 14496-12. Only the index is read; pictures and sound are not.

use std::io::{Read, Seek, SeekFrom};

/// The largest index accepted; an hour of film needs about 10 MB.
const LARGEST_INDEX: u64 = 64 << 20;
/// The most frames accepted in a film: a day at 100 frames a second.
const MOST_FRAMES: u64 = 10_000_000;

/// What a track holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TrackKind {
    /// Pictures.
    Video,
    /// Sound.
    Audio,
    /// Anything else.
    Other,
}

/// Times of one track.
#[derive(Debug, Clone, PartialEq)]
pub struct TrackTimes {
    /// What it holds.
    pub kind: TrackKind,
    /// Ticks a second.
    pub ticks_per_s: u32,
    /// When each frame is shown, s from the start of the film, in order of showing. Left empty for
    /// sound, whose frames are not looked at one by one.
    pub shown_s: Vec<f64>,
    /// What the edit list cuts from the start of the track, s.
    pub cut_s: f64,
    /// How long the edit list waits before the track starts, s.
    pub wait_s: f64,
}

/// Why a file gave no times.
#[derive(Debug, thiserror::Error)]
pub enum Mp4Error {
    /// It is not of this format.
    #[error("not an MP4 or MOV file")]
    NotMp4,
    /// It has no index.
    #[error(
        "the file has no index (moov): it was cut short, or the recorder did not close it; let the phone or a video program save it again"
    )]
    NoIndex,
    /// Its index is in pieces.
    #[error(
        "the film is in fragments (moof), which carry no single index; save it again as a plain MP4"
    )]
    Fragmented,
    /// Its index contradicts itself.
    #[error("the index is damaged at {place}")]
    Damaged {
        /// The box it happened in.
        place: &'static str,
    },
    /// It cannot be read.
    #[error("the file cannot be read")]
    Read(#[from] std::io::Error),
}

/// Reads the times of every track.
///
/// # Errors
/// [`Mp4Error`].
pub fn track_times<R: Read + Seek>(file: &mut R) -> Result<Vec<TrackTimes>, Mp4Error> {
    let (index, bytes) = find_index(file)?;
    // Each frame is a byte at least: an index that counts more than the file has is damaged.
    let mut left = bytes.min(MOST_FRAMES);
    let movie_ticks = child(&index, b"mvhd").map_or(Ok(1000), |b| header_ticks(b, "mvhd"))?;
    let tracks = boxes(&index).filter(|(name, _)| name == b"trak");
    let mut times = Vec::new();
    for (_, body) in tracks {
        times.push(track(body, movie_ticks, &mut left)?);
    }
    let fragments = child(&index, b"mvex").is_some();
    if fragments && times.iter().all(|t| t.shown_s.is_empty()) {
        return Err(Mp4Error::Fragmented);
    }
    Ok(times)
}

/// The body of the `moov` box, and the length of the file.
fn find_index<R: Read + Seek>(file: &mut R) -> Result<(Vec<u8>, u64), Mp4Error> {
    let end = file.seek(SeekFrom::End(0))?;
    let mut at = 0u64;
    while at + 8 <= end {
        file.seek(SeekFrom::Start(at))?;
        let mut head = [0u8; 16];
        file.read_exact(&mut head[..8])?;
        let short = u64::from(u32::from_be_bytes([head[0], head[1], head[2], head[3]]));
        let (header, size) = match short {
            0 => (8, end - at),
            1 => {
                file.read_exact(&mut head[8..])
                    .map_err(|_| Mp4Error::NoIndex)?;
                (
                    16,
                    u64::from_be_bytes(head[8..].try_into().unwrap_or_default()),
                )
            }
            n => (8, n),
        };
        if at == 0 && !known_start(&head[4..8]) {
            return Err(Mp4Error::NotMp4);
        }
        if size < header {
            return Err(Mp4Error::Damaged {
                place: "a box header",
            });
        }
        if &head[4..8] == b"moov" {
            if size > LARGEST_INDEX || at + size > end {
                return Err(Mp4Error::NoIndex);
            }
            let mut body = vec![0; (size - header) as usize];
            file.read_exact(&mut body)?;
            return Ok((body, end));
        }
        at = at.checked_add(size).ok_or(Mp4Error::NoIndex)?;
    }
    Err(if end < 8 {
        Mp4Error::NotMp4
    } else {
        Mp4Error::NoIndex
    })
}

fn known_start(name: &[u8]) -> bool {
    [
        &b"ftyp"[..],
        b"moov",
        b"mdat",
        b"wide",
        b"free",
        b"skip",
        b"pnot",
    ]
    .contains(&name)
}

/// The boxes inside a body, up to the first that does not fit.
fn boxes(body: &[u8]) -> impl Iterator<Item = ([u8; 4], &[u8])> {
    let mut rest = body;
    std::iter::from_fn(move || {
        let size = u32_at(rest, 0)? as usize;
        let name: [u8; 4] = rest.get(4..8)?.try_into().ok()?;
        let size = if size == 0 { rest.len() } else { size };
        let inside = rest.get(8..size)?;
        rest = &rest[size..];
        Some((name, inside))
    })
}

fn child<'a>(body: &'a [u8], name: &[u8; 4]) -> Option<&'a [u8]> {
    boxes(body).find(|(n, _)| n == name).map(|(_, b)| b)
}

fn descend<'a>(body: &'a [u8], path: &[&[u8; 4]]) -> Option<&'a [u8]> {
    path.iter().try_fold(body, |b, name| child(b, name))
}

fn u32_at(b: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(b.get(at..at + 4)?.try_into().ok()?))
}

fn i64_at(b: &[u8], at: usize) -> Option<i64> {
    Some(i64::from_be_bytes(b.get(at..at + 8)?.try_into().ok()?))
}

/// Ticks a second from an `mvhd` or `mdhd`.
fn header_ticks(b: &[u8], place: &'static str) -> Result<u32, Mp4Error> {
    let at = if b.first() == Some(&1) { 20 } else { 12 };
    u32_at(b, at)
        .filter(|t| *t > 0)
        .ok_or(Mp4Error::Damaged { place })
}

fn track(body: &[u8], movie_ticks: u32, left: &mut u64) -> Result<TrackTimes, Mp4Error> {
    let media = child(body, b"mdia").ok_or(Mp4Error::Damaged { place: "trak" })?;
    let ticks_per_s = header_ticks(
        child(media, b"mdhd").ok_or(Mp4Error::Damaged { place: "mdia" })?,
        "mdhd",
    )?;
    let kind = match child(media, b"hdlr").and_then(|h| h.get(8..12)) {
        Some(b"vide") => TrackKind::Video,
        Some(b"soun") => TrackKind::Audio,
        _ => TrackKind::Other,
    };
    let (wait_s, cut_ticks) = descend(body, &[b"edts", b"elst"])
        .and_then(|e| edit(e, movie_ticks))
        .unwrap_or((0.0, 0));
    let cut_s = cut_ticks as f64 / f64::from(ticks_per_s);
    let table = descend(media, &[b"minf", b"stbl"]).ok_or(Mp4Error::Damaged { place: "stbl" })?;
    let shown_s = if kind == TrackKind::Video {
        shown(table, left)?
            .into_iter()
            .map(|t| (t - cut_ticks) as f64 / f64::from(ticks_per_s) + wait_s)
            .collect()
    } else {
        Vec::new()
    };
    Ok(TrackTimes {
        kind,
        ticks_per_s,
        shown_s,
        cut_s,
        wait_s,
    })
}

/// Wait (s) and cut (ticks of the track) of the leading edits.
fn edit(b: &[u8], movie_ticks: u32) -> Option<(f64, i64)> {
    let long = b.first() == Some(&1);
    let step = if long { 20 } else { 12 };
    let mut wait = 0.0;
    for i in 0..u32_at(b, 4)?.min(64) as usize {
        let at = 8 + i * step;
        let (duration, start) = if long {
            (i64_at(b, at)? as f64, i64_at(b, at + 8)?)
        } else {
            let start = u32_at(b, at + 4)?.cast_signed();
            (f64::from(u32_at(b, at)?), i64::from(start))
        };
        if start >= 0 {
            return Some((wait, start));
        }
        wait += duration / f64::from(movie_ticks);
    }
    Some((wait, 0))
}

/// When each sample is shown, in ticks, sorted; no more than are left of all that a film can have.
fn shown(table: &[u8], left: &mut u64) -> Result<Vec<i64>, Mp4Error> {
    let stts = child(table, b"stts").ok_or(Mp4Error::Damaged { place: "stts" })?;
    let mut times: Vec<i64> = Vec::new();
    let mut now = 0i64;
    for (count, duration) in runs(stts, "stts")? {
        *left = left
            .checked_sub(u64::from(count))
            .ok_or(Mp4Error::Damaged { place: "stts" })?;
        for _ in 0..count {
            times.push(now);
            now += i64::from(duration);
        }
    }
    if let Some(ctts) = child(table, b"ctts") {
        let mut each = times.iter_mut();
        for (count, shift) in runs(ctts, "ctts")? {
            each.by_ref()
                .take(count as usize)
                // Version 0 is unsigned by the book, but signed shifts are written in it too.
                .for_each(|t| *t += i64::from(shift.cast_signed()));
        }
    }
    times.sort_unstable();
    Ok(times)
}

/// Pairs (count, value) of a run-length table.
fn runs(b: &[u8], place: &'static str) -> Result<Vec<(u32, u32)>, Mp4Error> {
    let damaged = Mp4Error::Damaged { place };
    let count = u32_at(b, 4).ok_or(Mp4Error::Damaged { place })? as usize;
    if b.len() < 8 + count.saturating_mul(8) {
        return Err(damaged);
    }
    Ok(b[8..8 + 8 * count]
        .chunks_exact(8)
        .filter_map(|c| Some((u32_at(c, 0)?, u32_at(c, 4)?)))
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Cursor;

    fn boxed(name: &[u8; 4], body: &[u8]) -> Vec<u8> {
        let mut b = (body.len() as u32 + 8).to_be_bytes().to_vec();
        b.extend(name);
        b.extend(body);
        b
    }

    fn words(w: &[u32]) -> Vec<u8> {
        w.iter().flat_map(|w| w.to_be_bytes()).collect()
    }

    /// Three frames of 20 ticks and two of 40 at 600 ticks a second; 20 ticks cut; 0.5 s waited.
    fn film() -> Vec<u8> {
        let stts = boxed(b"stts", &words(&[0, 2, 3, 20, 2, 40]));
        let stbl = boxed(b"stbl", &stts);
        let mdhd = boxed(b"mdhd", &words(&[0, 0, 0, 600, 140]));
        let hdlr = boxed(b"hdlr", &[&words(&[0, 0])[..], b"vide"].concat());
        let mdia = boxed(b"mdia", &[mdhd, hdlr, boxed(b"minf", &stbl)].concat());
        let elst = boxed(
            b"elst",
            &words(&[0, 2, 500, u32::MAX, 65536, 200, 20, 65536]),
        );
        let trak = boxed(b"trak", &[boxed(b"edts", &elst), mdia].concat());
        let mvhd = boxed(b"mvhd", &words(&[0, 0, 0, 1000, 0]));
        let moov = boxed(b"moov", &[mvhd, trak].concat());
        [boxed(b"ftyp", b"isom"), boxed(b"mdat", &[0; 50]), moov].concat()
    }

    #[test]
    fn frames_have_the_files_own_times() {
        let t = &track_times(&mut Cursor::new(film())).unwrap()[0];
        assert_eq!(t.kind, TrackKind::Video);
        let expect = [-20.0, 0.0, 20.0, 40.0, 80.0].map(|k| k / 600.0 + 0.5);
        assert_eq!(t.shown_s.len(), 5);
        for (got, want) in t.shown_s.iter().zip(expect) {
            assert!((got - want).abs() < 1e-12);
        }
    }

    #[test]
    fn a_film_cut_short_says_so() {
        let mut short = film();
        short.truncate(60);
        assert!(matches!(
            track_times(&mut Cursor::new(short)),
            Err(Mp4Error::NoIndex)
        ));
        let noise = Cursor::new(b"RIFF    WAVEfmt ".to_vec());
        assert!(matches!(
            track_times(&mut noise.clone()),
            Err(Mp4Error::NotMp4)
        ));
    }

    #[test]
    fn an_index_cannot_count_more_frames_than_the_film_has_bytes() {
        let good = film();
        let at = good.windows(4).position(|w| w == b"stts").unwrap() + 12;
        let mut counts = good.clone();
        counts[at..at + 4].copy_from_slice(&9_999_990u32.to_be_bytes());
        assert!(matches!(
            track_times(&mut Cursor::new(counts)),
            Err(Mp4Error::Damaged { place: "stts" })
        ));
        // Nor may many tracks together.
        let from = good.windows(4).position(|w| w == b"moov").unwrap() - 4;
        let (start, moov) = good.split_at(from);
        let bodies = moov[8..].repeat(100);
        let mut many = start.to_vec();
        many.extend(boxed(b"moov", &bodies));
        let all = track_times(&mut Cursor::new(many)).unwrap();
        assert_eq!(all.len(), 100);
    }

    #[test]
    fn damage_anywhere_never_panics() {
        let good = film();
        for i in 0..good.len() {
            for v in [0, 1, 0x7f, 0xff] {
                let mut bad = good.clone();
                bad[i] = v;
                let _ = track_times(&mut Cursor::new(bad));
            }
        }
    }
}
