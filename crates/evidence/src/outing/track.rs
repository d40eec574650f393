//! A track measured: speeds held, two-way means, turns, laps, distance, and what was left out.

use super::analysis::Analysis;
use super::events::{Follows, throttle_events};
use super::measured::{
    Condition, Doing, QuantityKind, RecordingKind, Source, Statistic, Unit, Value,
};
use crate::clock::EventKind;
use crate::columns::{Mapping, propose};
use crate::measured::Measured;
use crate::table::{Table, TableError};
use crate::track::clean::{Cleaned, Limits, clean};
use crate::track::laps::{Crossing, Line, crossings, laps};
use crate::track::path::Path;
use crate::track::plane::Plane;
use crate::track::speeds::{Source as SpeedSource, Speeds};
use crate::track::turns::{Turn, turns};
use crate::track::{Fix, Track, TrackError, from_table, gpx, nmea};
use laws::constants::GRAVITY_M_S2;

/// Times over which the best speed is given, s.
pub const HELD_S: [f64; 4] = [1.0, 2.0, 3.0, 10.0];
/// Two-way means are of speeds held this long, s.
const TWO_WAY_S: f64 = 2.0;
/// The tightest turns reported to each side.
const MOST_TURNS: usize = 3;
/// Reasons listed one by one before the rest is counted.
const MOST_REASONS: usize = 6;
/// Bytes looked at to tell the format.
const LOOKED_AT: usize = 4096;

/// A line on the ground, ends as latitude and longitude in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundLine {
    /// One end: degrees north, degrees east.
    pub from_deg: (f64, f64),
    /// The other.
    pub to_deg: (f64, f64),
}

/// What is asked of a track.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Options {
    /// What a boat can do at most.
    pub limits: Limits,
    /// A lap line.
    pub line: Option<GroundLine>,
    /// Shortest lap, s; 3 unless given.
    pub shortest_lap_s: Option<f64>,
    /// Reading of a table's columns, where the builder has agreed to one.
    pub mapping: Option<Mapping>,
}

/// Why a file gives no track.
#[derive(Debug, thiserror::Error)]
pub enum FollowError {
    /// Read as what it looks like, it gives none.
    #[error(transparent)]
    Track(#[from] TrackError),
    /// It is no table either.
    #[error(transparent)]
    Table(#[from] TableError),
}

/// Reads GPX, NMEA 0183 or a logger's table, told apart by what the file begins with.
///
/// # Errors
/// [`FollowError`].
pub fn read(bytes: &[u8], mapping: Option<&Mapping>) -> Result<Track, FollowError> {
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(LOOKED_AT)]).into_owned();
    if head
        .trim_start_matches('\u{feff}')
        .trim_start()
        .starts_with('<')
    {
        return Ok(gpx::read(bytes)?);
    }
    let sentences = head.lines().filter(|l| {
        let l = l.trim_start();
        l.starts_with("$G") || l.starts_with("$B") || l.contains(",$G")
    });
    if sentences.count() >= 1 {
        return Ok(nmea::read(bytes)?);
    }
    let table = Table::read(bytes)?;
    let proposed;
    let mapping = match mapping {
        Some(m) => m,
        None => {
            proposed = propose(&table);
            &proposed
        }
    };
    Ok(from_table(&table, mapping)?)
}

/// A track with everything worked out on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Followed {
    /// Fixes kept and left out.
    pub cleaned: Cleaned,
    /// The way.
    pub path: Path,
    /// Speeds.
    pub speeds: Speeds,
    /// Turns, in order.
    pub turns: Vec<Turn>,
    /// Crossings of the line.
    pub crossings: Vec<Crossing>,
}

/// A track measured.
///
/// # Errors
/// [`TrackError`].
pub fn follow(
    file: &str,
    track: &Track,
    options: &Options,
) -> Result<(Analysis, Followed), TrackError> {
    let cleaned = clean(track, &options.limits)?;
    let path = Path::of(&cleaned.spots);
    let speeds = Speeds::of(&cleaned, &path);
    let line = options.line.and_then(|l| on_plane(track, &cleaned, &l));
    let f = Followed {
        turns: turns(&path),
        crossings: line.map_or_else(Vec::new, |l| crossings(&cleaned, &l)),
        cleaned,
        path,
        speeds,
    };
    let mut a = Analysis::of(file, RecordingKind::Track);
    a.start_unix_s = track.start_unix_s;
    let spots = &f.cleaned.spots;
    a.span_s = Some((spots[0].time_s, spots[spots.len() - 1].time_s));
    remarks(&mut a, track, &f);
    held(&mut a, &f);
    two_way(&mut a, &f);
    turning(&mut a, &f);
    if let Some(line) = line {
        lapping(&mut a, &f, &line, options.shortest_lap_s.unwrap_or(3.0));
    }
    way(&mut a, &f);
    Ok((a, f))
}

/// The line on the plane the spots are on.
fn on_plane(track: &Track, cleaned: &Cleaned, line: &GroundLine) -> Option<Line> {
    let plane = Plane::at(&track.fixes[cleaned.origin]);
    let place = |(lat, lon): (f64, f64)| {
        let fix = Fix {
            latitude_rad: lat.to_radians(),
            longitude_rad: lon.to_radians(),
            ..track.fixes[cleaned.origin]
        };
        let at = plane.place(&fix);
        (at.0.is_finite() && at.1.is_finite()).then_some(at)
    };
    Some(Line {
        from_m: place(line.from_deg)?,
        to_m: place(line.to_deg)?,
    })
}

fn remarks(a: &mut Analysis, track: &Track, f: &Followed) {
    for s in &track.skipped {
        let line = s
            .first_line
            .map_or(String::new(), |l| format!(", the first at line {l}"));
        a.remarks
            .push(format!("passed over: {} ({} times{line})", s.what, s.count));
    }
    let out = &f.cleaned.left_out;
    for (i, time, reason) in out.iter().take(MOST_REASONS) {
        a.remarks
            .push(format!("fix {} at {time:.1} s left out: {reason}", i + 1));
    }
    if out.len() > MOST_REASONS {
        a.remarks
            .push(format!("{} fixes left out altogether", out.len()));
    }
    if f.speeds.source == SpeedSource::Places {
        a.remarks.push(
            "the receiver's own speed is missing from most fixes: speeds are from places and times, and less sure".to_owned(),
        );
    }
}

fn method(f: &Followed) -> &'static str {
    match f.speeds.source {
        SpeedSource::Receiver => "track, receiver's speed",
        SpeedSource::Places => "track, places and times",
    }
}

fn push(
    a: &mut Analysis,
    kind: QuantityKind,
    m: Measured,
    s: Statistic,
    from: Source,
    c: Condition,
    w: (f64, f64),
) {
    a.quantities
        .push(Value::new(kind, m, s, from, c).during(w.0, w.1));
}

fn held(a: &mut Analysis, f: &Followed) {
    for h in HELD_S.iter().filter_map(|s| f.speeds.best_held(*s)) {
        let window = (h.from_s, h.from_s + h.for_s);
        let straight = f
            .path
            .points
            .iter()
            .filter(|p| (window.0..=window.1).contains(&p.time_s));
        let most = straight
            .map(|p| p.turn_rate_rad_s.abs())
            .fold(0.0, f64::max);
        let motion = if most < 0.35 {
            Doing::Straight
        } else {
            Doing::Unknown
        };
        let from = a.source(method(f));
        push(
            a,
            QuantityKind::Speed,
            h.speed_m_s,
            Statistic::BestHeld,
            from,
            Condition::of(motion),
            window,
        );
    }
    if f.speeds.best_held(HELD_S[0]).is_none() {
        a.says
            .push("no unbroken part of the track is as long as a second".to_owned());
    }
}

fn two_way(a: &mut Analysis, f: &Followed) {
    let Some(t) = f.speeds.two_way(&f.path, TWO_WAY_S) else {
        a.says.push(
            "no two-way mean: it needs two straight runs in opposite directions, each held for 2 s"
                .to_owned(),
        );
        return;
    };
    let from = a.source(method(f));
    let window = (t.out.from_s.min(t.back.from_s), t.out.to_s.max(t.back.to_s));
    push(
        a,
        QuantityKind::Speed,
        t.speed_m_s,
        Statistic::TwoWay,
        from,
        Condition::of(Doing::Straight),
        window,
    );
    let (out, back) = (t.out.best.speed_m_s.value, t.back.best.speed_m_s.value);
    let part = 200.0 * (out - back).abs() / (out + back).max(1e-9);
    if part > 3.0 {
        a.remarks.push(format!(
            "the two ways differ by {part:.0} %: wind or current along the course"
        ));
    }
}

/// The tightest turns.
fn turning(a: &mut Analysis, f: &Followed) {
    let mut order: Vec<&Turn> = f.turns.iter().collect();
    order.sort_by(|x, y| x.radius_m.value.total_cmp(&y.radius_m.value));
    let side = |port: bool| {
        order
            .iter()
            .filter(move |t| (t.angle_rad > 0.0) == port)
            .take(MOST_TURNS)
    };
    for t in side(true).chain(side(false)) {
        let motion = if t.angle_rad > 0.0 {
            Doing::TurnToPort
        } else {
            Doing::TurnToStarboard
        };
        let condition = Condition {
            motion,
            throttle: None,
            speed_m_s: Some(t.speed_m_s),
        };
        let window = (t.from_s, t.to_s);
        let from = a.source("track, turn");
        push(
            a,
            QuantityKind::TurnRadius,
            t.radius_m,
            Statistic::Steady,
            from.clone(),
            condition,
            window,
        );
        let sideways = t.sideways_g.scaled(GRAVITY_M_S2);
        push(
            a,
            QuantityKind::LateralAcceleration,
            sideways,
            Statistic::Steady,
            from,
            condition,
            window,
        );
    }
}

fn lapping(a: &mut Analysis, f: &Followed, line: &Line, shortest_s: f64) {
    let found = laps(&f.cleaned, line, shortest_s);
    // A crossing lies between two fixes; place noise over speed, and the receiver's delay, remain.
    let sigma_s = 0.3 * f.path.interval_s + 0.02;
    for c in &f.crossings {
        a.happened(EventKind::Pass, Measured::new(c.time_s, sigma_s));
    }
    for l in &found {
        let from = a.source("track, line crossed");
        let lap = Measured::new(l.lap_s, sigma_s * 2f64.sqrt());
        let window = (l.from_s, l.from_s + l.lap_s);
        push(
            a,
            QuantityKind::LapTime,
            lap,
            Statistic::Total,
            from,
            Condition::of(Doing::Whole),
            window,
        );
    }
    if found.is_empty() {
        a.says.push(match f.crossings.len() {
            0 => "the track never crosses the line drawn".to_owned(),
            n => format!("the line is crossed {n} times, but no lap is closed in one direction"),
        });
    }
}

fn way(a: &mut Analysis, f: &Followed) {
    let (from_s, to_s) = a.span_s.unwrap_or((0.0, 0.0));
    let way_m = f.path.distance_m(from_s, to_s);
    let from = a.source("track, way");
    // Smoothing rounds turns off: 1 %, judgement.
    let m = Measured::new(way_m, (0.01 * way_m).max(f.path.place_sigma_m));
    push(
        a,
        QuantityKind::Distance,
        m,
        Statistic::Total,
        from,
        Condition::of(Doing::Whole),
        (from_s, to_s),
    );
    let course: Vec<(f64, f64)> = f.speeds.points.iter().map(|p| (p.0, p.1)).collect();
    throttle_events(a, &course, Follows::SLOWLY);
    let noise = f.speeds.noise_m_s;
    let points = course.iter().map(|p| (p.0, p.1, noise)).collect();
    a.trace("speed", Unit::MetrePerSecond, points);
    let every = f.path.points.len() / 5000 + 1;
    a.way_m = f
        .path
        .points
        .iter()
        .step_by(every)
        .map(|p| (p.east_m, p.north_m))
        .collect();
}
