//! Columns held against each other: wrong pole counts and wrong units show up here.

use crate::columns::{Mapping, Quantity};
use crate::measured::{median, quantile};
use crate::table::Table;

/// What is known of the drive beside the log.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct KnownDrive {
    /// Motor constant, rpm/V.
    pub kv_rpm_per_volt: Option<f64>,
    /// Pole pairs of the motor.
    pub pole_pairs: Option<u32>,
    /// Shaft rpm known from elsewhere (sound) at full throttle.
    pub shaft_rpm: Option<f64>,
    /// Cells in series.
    pub cells: Option<u32>,
}

/// Something in a log that cannot be as it says.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Doubt {
    /// The rpm column holds more than the motor can turn.
    #[error(
        "rpm over volts reaches {measured:.0} rpm/V where the motor has {kv:.0}: the column seems to \
         count {times} times a turn; check the pole count set in the logger"
    )]
    TooFastForMotor {
        /// In the log.
        measured: f64,
        /// The motor's.
        kv: f64,
        /// Likely factor.
        times: u32,
    },
    /// Rpm of the log and of the sound differ by a whole factor.
    #[error(
        "the log's rpm is {ratio:.2} times that heard: a pole count {}",
        if *.ratio > 1.0 { "set too low" } else { "set too high" }
    )]
    UnlikeSound {
        /// Log over sound.
        ratio: f64,
    },
    /// Loaded rpm is usually 0.80 to 0.94 of KV times volts (common practice, no source).
    #[error("rpm at full throttle is {part:.2} of KV times volts; 0.7 to 0.97 is usual under load")]
    UnusualLoad {
        /// Part.
        part: f64,
    },
    /// Volts do not fit the cells.
    #[error(
        "{volts:.1} V at rest is {per_cell:.2} V a cell for {cells} cells: wrong cell count or unit"
    )]
    VoltsPerCell {
        /// At rest.
        volts: f64,
        /// A cell.
        per_cell: f64,
        /// Cells stated.
        cells: u32,
    },
    /// Power is not volts times amperes.
    #[error(
        "logged power is {ratio:.2} times volts times amperes: one of the three has a wrong unit"
    )]
    Power {
        /// Logged over computed.
        ratio: f64,
    },
    /// Charge is not the integral of current.
    #[error(
        "charge drawn is {ratio:.2} times the sum of current over time: check the units of current, charge or time"
    )]
    Charge {
        /// Logged over summed.
        ratio: f64,
    },
    /// Time does not run on.
    #[error("time goes back {count} times; the first at line {line}")]
    TimeGoesBack {
        /// How often.
        count: usize,
        /// Where.
        line: u64,
    },
}

/// Every doubt found.
pub fn doubts(table: &Table, mapping: &Mapping, known: &KnownDrive) -> Vec<Doubt> {
    let column = |q| mapping.values(table, q);
    let mut found = Vec::new();
    let rpm = column(Quantity::Rpm).or_else(|| {
        let pairs = f64::from(known.pole_pairs?);
        Some(
            column(Quantity::ElectricalRpm)?
                .iter()
                .map(|r| r / pairs)
                .collect(),
        )
    });
    let volts = column(Quantity::Voltage);
    if let (Some(rpm), Some(volts)) = (&rpm, &volts) {
        found.extend(rpm_and_volts(rpm, volts, known));
    }
    if let (Some(rpm), Some(heard)) = (&rpm, known.shaft_rpm) {
        let ratio = quantile(&finite(rpm), 0.95).unwrap_or(0.0) / heard;
        if !(0.85..=1.15).contains(&ratio) {
            found.push(Doubt::UnlikeSound { ratio });
        }
    }
    if let (Some(volts), Some(cells)) = (&volts, known.cells) {
        let at_rest = quantile(&finite(volts), 0.98).unwrap_or(0.0);
        let per_cell = at_rest / f64::from(cells.max(1));
        if !(3.2..=4.45).contains(&per_cell) {
            found.push(Doubt::VoltsPerCell {
                volts: at_rest,
                per_cell,
                cells,
            });
        }
    }
    found.extend(power(table, mapping));
    found.extend(charge(table, mapping));
    found.extend(time(table, mapping));
    found
}

fn finite(values: &[f64]) -> Vec<f64> {
    values.iter().copied().filter(|v| v.is_finite()).collect()
}

fn rpm_and_volts(rpm: &[f64], volts: &[f64], known: &KnownDrive) -> Option<Doubt> {
    let kv = known.kv_rpm_per_volt?;
    let ratio = rpm
        .iter()
        .zip(volts)
        .filter(|(_, v)| **v > 1.0)
        .map(|(r, v)| r / v);
    let measured = quantile(&finite(&ratio.collect::<Vec<_>>()), 0.98)?;
    let part = measured / kv;
    // No motor turns faster than KV times volts; timing and an error of KV allow a tenth.
    if part > 1.15 {
        let times = part.ceil() as u32;
        return Some(Doubt::TooFastForMotor {
            measured,
            kv,
            times,
        });
    }
    (!(0.7..=1.0).contains(&part)).then_some(Doubt::UnusualLoad { part })
}

fn power(table: &Table, mapping: &Mapping) -> Option<Doubt> {
    let get = |q| mapping.values(table, q);
    let (p, v, a) = (
        get(Quantity::Power)?,
        get(Quantity::Voltage)?,
        get(Quantity::Current)?,
    );
    let ratios: Vec<f64> = (0..p.len())
        .map(|i| (p[i], v[i] * a[i]))
        .filter(|(p, va)| *va > 1.0 && p.is_finite())
        .map(|(p, va)| p / va)
        .collect();
    let ratio = median(&ratios).filter(|_| ratios.len() >= 5)?;
    (!(0.85..=1.15).contains(&ratio)).then_some(Doubt::Power { ratio })
}

fn charge(table: &Table, mapping: &Mapping) -> Option<Doubt> {
    let get = |q| mapping.values(table, q);
    let (t, a, q) = (
        get(Quantity::Time)?,
        get(Quantity::Current)?,
        get(Quantity::ChargeDrawn)?,
    );
    let good: Vec<usize> = (0..t.len())
        .filter(|i| t[*i].is_finite() && a[*i].is_finite() && q[*i].is_finite())
        .collect();
    let (first, last) = (*good.first()?, *good.last()?);
    let summed: f64 = good
        .windows(2)
        .map(|w| 0.5 * (t[w[1]] - t[w[0]]) * (a[w[0]] + a[w[1]]) / 3600.0)
        .sum();
    // Loggers count in whole mAh: a short log tells nothing.
    let drawn = q[last] - q[first];
    if drawn.abs() < 0.02 || summed.abs() < 0.002 {
        return None;
    }
    let ratio = drawn / summed;
    (!(0.8..=1.25).contains(&ratio)).then_some(Doubt::Charge { ratio })
}

fn time(table: &Table, mapping: &Mapping) -> Option<Doubt> {
    let t = mapping.values(table, Quantity::Time)?;
    let back: Vec<usize> = (1..t.len()).filter(|i| t[*i] < t[*i - 1]).collect();
    Some(Doubt::TimeGoesBack {
        count: back.len(),
        line: table.lines[*back.first()?],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::columns::propose;
    use std::fmt::Write as _;

    fn log(rpm_factor: f64, watt_factor: f64, mah_factor: f64) -> Table {
        let mut text =
            String::from("time [s],rpm,voltage [V],current [A],power [W],capacity [mAh]\n");
        for i in 0..600 {
            let t = f64::from(i) * 0.1;
            let (v, a) = (14.8, 40.0);
            let mah = mah_factor * a * t / 3.6;
            writeln!(
                text,
                "{t},{},{v},{a},{},{mah:.0}",
                26_000.0 * rpm_factor,
                v * a * watt_factor
            )
            .unwrap();
        }
        Table::parse(&text).unwrap()
    }

    #[test]
    fn a_sound_log_raises_no_doubt() {
        let known = KnownDrive {
            kv_rpm_per_volt: Some(2000.0),
            cells: Some(4),
            shaft_rpm: Some(25_800.0),
            pole_pairs: None,
        };
        let t = log(1.0, 1.0, 1.0);
        assert_eq!(doubts(&t, &propose(&t), &known), []);
    }

    #[test]
    fn pole_counts_and_units_are_noticed() {
        let known = KnownDrive {
            kv_rpm_per_volt: Some(2000.0),
            cells: Some(6),
            shaft_rpm: Some(25_800.0),
            pole_pairs: None,
        };
        let t = log(2.0, 1.0, 3.6);
        let found = doubts(&t, &propose(&t), &known);
        assert!(
            matches!(found[0], Doubt::TooFastForMotor { times: 2, .. }),
            "{found:?}"
        );
        assert!(
            found
                .iter()
                .any(|d| matches!(d, Doubt::UnlikeSound { ratio } if (*ratio - 2.0).abs() < 0.05))
        );
        assert!(
            found
                .iter()
                .any(|d| matches!(d, Doubt::VoltsPerCell { cells: 6, .. }))
        );
        assert!(
            found
                .iter()
                .any(|d| matches!(d, Doubt::Charge { ratio } if (*ratio - 3.6).abs() < 0.1))
        );
        let t = log(1.0, 0.1, 1.0);
        assert!(matches!(
            doubts(&t, &propose(&t), &KnownDrive::default())[..],
            [Doubt::Power { .. }]
        ));
    }
}
