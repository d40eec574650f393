//! A controller's or motion log measured: best values, what the boat did, what cannot be.

use super::analysis::Analysis;
use super::events::{Follows, throttle_events};
use super::measured::{Condition, Doing, QuantityKind, RecordingKind, Statistic, Unit, Value};
use crate::columns::{Mapping, Quantity};
use crate::logs::doubts::{Doubt, KnownDrive, doubts};
use crate::logs::motion::{self, MotionError};
use crate::measured::{Measured, median, quantile, robust_sigma};
use crate::table::Table;
use laws::constants::GRAVITY_M_S2;

/// What a log can tell of a column: quantity, kind, name of the trace, error of a typical logger.
///
/// Errors are judgement: 2 % for a current sensor, 1 % for a voltage divider, 0.2 % for counted rpm,
/// 3 degC for a sensor stuck on a part, 3 % for power.
const COLUMNS: &[(Quantity, QuantityKind, &str, f64, f64)] = &[
    (Quantity::Rpm, QuantityKind::ShaftSpeed, "shaft", 0.002, 0.0),
    (
        Quantity::Current,
        QuantityKind::Current,
        "current",
        0.02,
        0.2,
    ),
    (
        Quantity::Voltage,
        QuantityKind::Voltage,
        "voltage",
        0.01,
        0.02,
    ),
    (Quantity::Power, QuantityKind::Power, "power", 0.03, 1.0),
    (
        Quantity::MotorTemperature,
        QuantityKind::MotorTemperature,
        "motor temperature",
        0.0,
        3.0,
    ),
    (
        Quantity::ControllerTemperature,
        QuantityKind::ControllerTemperature,
        "controller temperature",
        0.0,
        3.0,
    ),
    (
        Quantity::Temperature,
        QuantityKind::OtherTemperature,
        "temperature",
        0.0,
        3.0,
    ),
    (
        Quantity::Throttle,
        QuantityKind::Throttle,
        "throttle",
        0.0,
        0.01,
    ),
    (Quantity::Speed, QuantityKind::Speed, "speed", 0.0, 0.1),
];

/// At or above this throttle (or part of the highest current) the boat runs at full power.
const FULL: f64 = 0.95;
/// Shortest stretch of full power for a steady value, s.
const STEADY_S: f64 = 1.0;
/// At the start of such a stretch the boat still gathers way, s.
const GATHERING_S: f64 = 1.0;
/// A gyro drifts over longer than this, an accelerometer is fooled over shorter, s.
const SETTLE_S: f64 = 2.0;
/// Hardest landings reported.
const MOST_LANDINGS: usize = 5;

/// What is known beside the log.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Options {
    /// Of the drive.
    pub known: KnownDrive,
    /// Motor turns for one of the propeller; 1 unless given.
    pub gear: Option<f64>,
}

/// A log measured, and what about it cannot be as it says.
pub fn log(
    file: &str,
    table: &Table,
    mapping: &Mapping,
    options: &Options,
) -> (Analysis, Vec<Doubt>) {
    let mut a = Analysis::of(file, RecordingKind::Log);
    let found = doubts(table, mapping, &options.known);
    a.says
        .extend(found.iter().map(|d| format!("doubtful: {d}")));
    table_remarks(&mut a, table, mapping);
    if !mapping.confirmed {
        a.remarks.push(
            "the reading of the columns is a proposal; nothing of it goes into an outing before it is confirmed".to_owned(),
        );
    }
    let Some(time) = times(table, mapping) else {
        a.says
            .push("no column of time: values are known, but not when".to_owned());
        return (a, found);
    };
    a.start_unix_s = time.1;
    let clock = Clock::of(&time.0);
    if let (Some(first), Some(last)) = (clock.rows.first(), clock.rows.last()) {
        a.span_s = Some((time.0[*first], time.0[*last]));
    }
    let suspect = found
        .iter()
        .any(|d| matches!(d, Doubt::TooFastForMotor { .. } | Doubt::UnlikeSound { .. }));
    columns(&mut a, table, mapping, &clock, options, suspect);
    charge(&mut a, table, mapping, &clock);
    attitude(&mut a, table, mapping, &clock);
    (a, found)
}

/// Rows whose time runs on, and their times.
struct Clock<'t> {
    time: &'t [f64],
    rows: Vec<usize>,
}

impl<'t> Clock<'t> {
    fn of(time: &'t [f64]) -> Self {
        let mut last = f64::NEG_INFINITY;
        let mut rows = Vec::new();
        for (i, t) in time.iter().enumerate() {
            if t.is_finite() && *t > last {
                rows.push(i);
                last = *t;
            }
        }
        Self { time, rows }
    }

    fn course(&self, values: &[f64]) -> Vec<(f64, f64)> {
        let finite = self.rows.iter().filter(|i| values[**i].is_finite());
        finite.map(|i| (self.time[*i], values[*i])).collect()
    }
}

/// Times from the first row on, and when that was where the log has dates.
fn times(table: &Table, mapping: &Mapping) -> Option<(Vec<f64>, Option<f64>)> {
    let raw = mapping.values(table, Quantity::Time)?;
    let start = *raw.iter().find(|t| t.is_finite())?;
    // Above this a time is seconds since 1970 (1980 on).
    let dated = (start > 3.15e8).then_some(start);
    let zero = dated.unwrap_or(0.0);
    Some((raw.iter().map(|t| t - zero).collect(), dated))
}

fn table_remarks(a: &mut Analysis, table: &Table, mapping: &Mapping) {
    if table.ragged_rows > 0 {
        a.remarks.push(format!(
            "{} rows have more or fewer cells than the heading",
            table.ragged_rows
        ));
    }
    for c in &table.columns {
        if let Some((line, text)) = &c.first_unreadable {
            a.remarks.push(format!(
                "column {}: {} cells are no numbers, the first at line {line}: {text}",
                c.name, c.unreadable
            ));
        }
        if !c.values.iter().any(|v| v.is_finite()) {
            a.remarks.push(format!("column {} is empty", c.name));
        }
    }
    let used = mapping.columns.iter().map(|p| p.column).collect::<Vec<_>>();
    let left: Vec<&str> = (0..table.columns.len())
        .filter(|i| !used.contains(i))
        .map(|i| table.columns[i].name.as_str())
        .collect();
    if !left.is_empty() {
        a.remarks
            .push(format!("columns left alone: {}", left.join(", ")));
    }
}

fn columns(
    a: &mut Analysis,
    table: &Table,
    mapping: &Mapping,
    clock: &Clock,
    options: &Options,
    suspect: bool,
) {
    let full = full_power(table, mapping, clock);
    let mut told = false;
    for (quantity, kind, name, relative, floor) in COLUMNS {
        let Some(values) = column(table, mapping, *quantity, options) else {
            continue;
        };
        let course = clock.course(&values);
        let error = |v: f64| (relative * v).hypot(*floor);
        let points = course.iter().map(|(t, v)| (*t, *v, 0.0)).collect();
        a.trace(name, kind.unit(), points);
        let remark = (suspect && *kind == QuantityKind::ShaftSpeed)
            .then(|| "the rpm column is in doubt: see what the log says".to_owned());
        extremes(a, *kind, &course, &error, remark.as_deref());
        // A temperature that still rises has no steady value.
        let warms = kind.unit() == Unit::DegreeCelsius || *kind == QuantityKind::Throttle;
        for (from, to) in full.iter().filter(|_| !warms) {
            steady(a, *kind, &course, (*from, *to), &error, remark.as_deref());
        }
        let follows = matches!(
            quantity,
            Quantity::Throttle | Quantity::Current | Quantity::Rpm
        );
        if follows && !told {
            told = true;
            throttle_events(a, &course, Follows::AT_ONCE);
        }
    }
}

/// A column in SI; rpm also from electrical rpm and the pole pairs, always of the propeller's shaft.
fn column(
    table: &Table,
    mapping: &Mapping,
    quantity: Quantity,
    options: &Options,
) -> Option<Vec<f64>> {
    let get = |q| mapping.values(table, q);
    if quantity != Quantity::Rpm {
        return get(quantity);
    }
    let motor = get(Quantity::Rpm).or_else(|| {
        let pairs = f64::from(options.known.pole_pairs?.max(1));
        Some(
            get(Quantity::ElectricalRpm)?
                .iter()
                .map(|r| r / pairs)
                .collect(),
        )
    })?;
    let gear = options.gear.filter(|g| *g > 0.0).unwrap_or(1.0);
    let rad_s = std::f64::consts::TAU / 60.0 / gear;
    Some(motor.iter().map(|r| r * rad_s).collect())
}

/// Every reading of a log, for traces that zoom.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// s on the log's own clock, rising.
    pub time_s: Vec<f64>,
    /// Start, s since 1970 UTC, where the log has dates.
    pub start_unix_s: Option<f64>,
    /// Name, unit and value at each time; NaN where a cell was empty.
    pub courses: Vec<(&'static str, Unit, Vec<f64>)>,
}

/// Motion columns shown as they are.
const MOTION: &[(Quantity, &str, Unit)] = &[
    (
        Quantity::AccelerationX,
        "acceleration forward",
        Unit::MetrePerSecondSquared,
    ),
    (
        Quantity::AccelerationY,
        "acceleration sideways",
        Unit::MetrePerSecondSquared,
    ),
    (
        Quantity::AccelerationZ,
        "acceleration upwards",
        Unit::MetrePerSecondSquared,
    ),
    (Quantity::RateX, "roll rate", Unit::RadianPerSecond),
    (Quantity::RateY, "pitch rate", Unit::RadianPerSecond),
    (Quantity::RateZ, "yaw rate", Unit::RadianPerSecond),
    (Quantity::Pitch, "pitch", Unit::Radian),
    (Quantity::Heel, "heel", Unit::Radian),
];

/// Every reading of the columns that are known; `None` without a column of time.
pub fn readings(table: &Table, mapping: &Mapping, options: &Options) -> Option<Readings> {
    let (time, start_unix_s) = times(table, mapping)?;
    let clock = Clock::of(&time);
    let kept = |values: Vec<f64>| clock.rows.iter().map(|i| values[*i]).collect::<Vec<f64>>();
    let driven = COLUMNS.iter().filter_map(|(q, kind, name, ..)| {
        Some((*name, kind.unit(), column(table, mapping, *q, options)?))
    });
    let moved = MOTION
        .iter()
        .filter_map(|(q, name, unit)| Some((*name, *unit, mapping.values(table, *q)?)));
    let courses = driven.chain(moved);
    Some(Readings {
        courses: courses.map(|(n, u, v)| (n, u, kept(v))).collect(),
        time_s: kept(time.clone()),
        start_unix_s,
    })
}

/// Stretches of full power: throttle at its end, or without one current near its highest.
fn full_power(table: &Table, mapping: &Mapping, clock: &Clock) -> Vec<(f64, f64)> {
    let level = |q| {
        let values = mapping.values(table, q)?;
        let course = clock.course(&values);
        let all: Vec<f64> = course.iter().map(|p| p.1).collect();
        let top = quantile(&all, 0.99).filter(|t| *t > 0.0)?;
        Some(
            course
                .into_iter()
                .map(|(t, v)| (t, v / top))
                .collect::<Vec<_>>(),
        )
    };
    let throttle = level(Quantity::Throttle);
    let limit = if throttle.is_some() { FULL } else { 0.85 };
    let Some(course) = throttle.or_else(|| level(Quantity::Current)) else {
        return Vec::new();
    };
    course
        .chunk_by(|a, b| (a.1 >= limit) == (b.1 >= limit) && b.0 - a.0 < 2.0)
        .filter(|part| part[0].1 >= limit)
        .map(|part| (part[0].0 + GATHERING_S, part[part.len() - 1].0))
        .filter(|(from, to)| to - from >= STEADY_S)
        .collect()
}

fn extremes(
    a: &mut Analysis,
    kind: QuantityKind,
    course: &[(f64, f64)],
    error: &dyn Fn(f64) -> f64,
    remark: Option<&str>,
) {
    let by = |x: &&(f64, f64), y: &&(f64, f64)| x.1.total_cmp(&y.1);
    let mut push = |at: &(f64, f64), statistic| {
        let from = a.source("log");
        let mut v = Value::new(
            kind,
            Measured::new(at.1, error(at.1)),
            statistic,
            from,
            Condition::of(Doing::Unknown),
        )
        .during(at.0, at.0);
        v.remark = remark.map(str::to_owned);
        a.quantities.push(v);
    };
    if let Some(top) = course.iter().max_by(by) {
        push(top, Statistic::Peak);
    }
    if kind == QuantityKind::Voltage
        && let Some(low) = course.iter().min_by(by)
    {
        push(low, Statistic::Least);
    }
}

fn steady(
    a: &mut Analysis,
    kind: QuantityKind,
    course: &[(f64, f64)],
    (from_s, to_s): (f64, f64),
    error: &dyn Fn(f64) -> f64,
    remark: Option<&str>,
) {
    let inside: Vec<f64> = course
        .iter()
        .filter(|p| (from_s..=to_s).contains(&p.0))
        .map(|p| p.1)
        .collect();
    let (Some(middle), Some(scatter)) = (median(&inside), robust_sigma(&inside)) else {
        return;
    };
    // Neighbouring rows are not independent: the scatter itself is what a steady value stands for.
    let sigma = error(middle).hypot(scatter / (inside.len() as f64).sqrt().min(3.0));
    let condition = Condition {
        motion: Doing::Unknown,
        throttle: Some(1.0),
        speed_m_s: None,
    };
    let source = a.source("log, full power");
    let mut v = Value::new(
        kind,
        Measured::new(middle, sigma),
        Statistic::Steady,
        source,
        condition,
    )
    .during(from_s, to_s);
    v.remark = remark.map(str::to_owned);
    a.quantities.push(v);
}

/// Charge drawn: as counted by the logger, or current summed over time.
fn charge(a: &mut Analysis, table: &Table, mapping: &Mapping, clock: &Clock) {
    let counted = mapping.values(table, Quantity::ChargeDrawn).and_then(|v| {
        let course = clock.course(&v);
        Some((course.last()?.1 - course.first()?.1) * 3600.0)
    });
    let summed = mapping.values(table, Quantity::Current).map(|v| {
        let course = clock.course(&v);
        let steps = course.windows(2).filter(|w| w[1].0 - w[0].0 < 5.0);
        steps
            .map(|w| 0.5 * (w[1].0 - w[0].0) * (w[0].1 + w[1].1))
            .sum::<f64>()
    });
    let (value, method) = match (counted, summed) {
        (Some(c), _) if c > 0.0 => (c, "log, charge counted"),
        (_, Some(s)) if s > 0.0 => (s, "log, current over time"),
        _ => return,
    };
    let source = a.source(method);
    let m = Measured::new(value, 0.03 * value + 1.8);
    let condition = Condition::of(Doing::Whole);
    a.quantities.push(Value::new(
        QuantityKind::Charge,
        m,
        Statistic::Total,
        source,
        condition,
    ));
}

/// Hopping, landings, trim and heel.
fn attitude(a: &mut Analysis, table: &Table, mapping: &Mapping, clock: &Clock) {
    let Some(motion) = motion_of(table, mapping, clock) else {
        return;
    };
    let span = a.span_s.unwrap_or((0.0, 0.0));
    match motion.hop(span.0, span.1) {
        Ok(Some(hop)) => {
            let source = a.source("motion log, spectrum");
            let condition = Condition::of(Doing::Unknown);
            let (from, to) = (hop.from_s, hop.to_s);
            a.quantities.push(
                Value::new(
                    QuantityKind::HopFrequency,
                    hop.frequency_hz,
                    Statistic::Steady,
                    source.clone(),
                    condition,
                )
                .during(from, to),
            );
            let size = Measured::new(hop.amplitude_m_s2, 0.1 * hop.amplitude_m_s2);
            a.quantities.push(
                Value::new(
                    QuantityKind::HopAcceleration,
                    size,
                    Statistic::Steady,
                    source,
                    condition,
                )
                .during(from, to),
            );
        }
        Ok(None) => a
            .says
            .push("no regular hop stands out of this motion log".to_owned()),
        Err(e) => a.remarks.push(format!("hopping: {e}")),
    }
    landings(a, &motion);
    for (name, kind, course) in [
        ("trim", QuantityKind::Trim, motion.pitch_rad(SETTLE_S)),
        ("heel", QuantityKind::Heel, motion.heel_rad(SETTLE_S)),
    ] {
        let Some(course) = course else { continue };
        let points: Vec<_> = motion
            .time_s
            .iter()
            .zip(&course)
            .map(|(t, v)| (*t, *v, 0.0))
            .collect();
        a.trace(name, Unit::Radian, points);
        if let Some(middle) = median(&course) {
            // Mounting and drift: 1 degree. Judgement.
            let sigma = 1f64.to_radians();
            let source = a.source("motion log, gyro and gravity");
            let condition = Condition::of(Doing::Whole);
            let v = Value::new(
                kind,
                Measured::new(middle, sigma),
                Statistic::Steady,
                source,
                condition,
            );
            a.quantities.push(v.during(span.0, span.1));
        }
    }
}

fn motion_of(table: &Table, mapping: &Mapping, clock: &Clock) -> Option<motion::MotionLog> {
    let up = mapping.values(table, Quantity::AccelerationZ)?;
    let rows: Vec<usize> = clock
        .rows
        .iter()
        .copied()
        .filter(|i| up[*i].is_finite())
        .collect();
    let take = |q, sign: f64| {
        let values = mapping.values(table, q);
        let whole = values.filter(|v| rows.iter().all(|i| v[*i].is_finite()));
        whole.map_or_else(Vec::new, |v| rows.iter().map(|i| sign * v[*i]).collect())
    };
    Some(motion::MotionLog {
        time_s: rows.iter().map(|i| clock.time[*i]).collect(),
        up_m_s2: rows.iter().map(|i| up[*i]).collect(),
        forward_m_s2: take(Quantity::AccelerationX, 1.0),
        port_m_s2: take(Quantity::AccelerationY, 1.0),
        // A logger with x forward, y to port and z up turns the bow down at a positive y rate.
        pitch_rate_rad_s: take(Quantity::RateY, -1.0),
        roll_rate_rad_s: take(Quantity::RateX, 1.0),
    })
}

fn landings(a: &mut Analysis, motion: &motion::MotionLog) {
    let mut all = match motion.landings() {
        Ok(all) => all,
        Err(MotionError::TooShort { .. }) => return,
        Err(e) => {
            a.remarks.push(format!("landings: {e}"));
            return;
        }
    };
    all.sort_by(|x, y| y.peak_g.total_cmp(&x.peak_g));
    if !all.is_empty() {
        a.says
            .push(format!("{} flights of 0.1 s and more", all.len()));
    }
    for l in all.iter().take(MOST_LANDINGS) {
        let source = a.source("motion log, flight");
        let condition = Condition::of(Doing::Airborne);
        let peak = Measured::new(GRAVITY_M_S2 * l.peak_g, 0.5 * l.peak_g);
        let mut v = Value::new(
            QuantityKind::LandingAcceleration,
            peak,
            Statistic::Peak,
            source.clone(),
            condition,
        )
        .during(l.from_s, l.to_s);
        if l.clipped {
            v.remark = Some("the sensor was at its limit: the true peak was higher".to_owned());
        }
        a.quantities.push(v);
        let flight = Measured::new(l.to_s - l.from_s, 0.02);
        a.quantities.push(
            Value::new(
                QuantityKind::FlightTime,
                flight,
                Statistic::Total,
                source,
                condition,
            )
            .during(l.from_s, l.to_s),
        );
    }
}
