//! Throttle and rudder against time, and a driver who holds the course.

use std::f64::consts::PI;

/// What is held between two moments: straight lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Script {
    /// Time s, throttle 0 to 1; rising.
    pub throttle: Vec<(f64, f64)>,
    /// Time s, rudder rad; rising. Until the first, and without any, the driver holds the course.
    pub rudder: Vec<(f64, f64)>,
}

/// Why a script cannot be run.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ScriptError {
    /// Nothing in it.
    #[error("the {what} script is empty: give at least one row")]
    Empty {
        /// Throttle or rudder.
        what: &'static str,
    },
    /// Time does not rise, or is no number.
    #[error(
        "row {row} of the {what} script: time must rise from row to row, and {time_s} s does not"
    )]
    Order {
        /// Throttle or rudder.
        what: &'static str,
        /// From 1.
        row: usize,
        /// What stands there.
        time_s: f64,
    },
    /// Outside what it can be.
    #[error("row {row} of the {what} script: {value} is not {wanted}")]
    Value {
        /// Throttle or rudder.
        what: &'static str,
        /// From 1.
        row: usize,
        /// What stands there.
        value: f64,
        /// What would be right.
        wanted: String,
    },
    /// Too long between two rows to tell what was meant.
    #[error(
        "the {what} script has a gap of {gap_s} s after row {row}: at most 60 s lie between two rows"
    )]
    Gap {
        /// Throttle or rudder.
        what: &'static str,
        /// From 1.
        row: usize,
        /// s.
        gap_s: f64,
    },
}

/// Longest time between two rows, s.
const LONGEST_S: f64 = 60.0;
/// How quickly a driver brings the bow back, rad/s: a person who follows a line with a simple vehicle crosses over at
/// 3 to 6 (McRuer, Jex 1967, IEEE Trans. Human Factors in Electronics 8(3), 231-249; from memory).
const CROSSOVER_RAD_S: f64 = 6.0;
/// Share of a turning seen that is undone at once, and how quickly the rudder is trimmed so that it need not be held,
/// rad/s (judgement).
const UNDONE: f64 = 0.25;
const TRIMS_RAD_S: f64 = 2.0;
/// Slower than this no rudder works better than there, m/s.
const STEERED_M_S: f64 = 2.0;

/// What a driver sees of a boat that is held on its course.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Bow to port of the course, rad.
    pub yaw_rad: f64,
    /// Bow to port, rad/s.
    pub rate_rad_s: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// From the balance point to the rudder, m.
    pub arm_m: f64,
}

impl Seen {
    /// A rudder that is followed without slip turns the boat by speed over its arm: what brings the bow back in time.
    pub(crate) fn rudder_rad(&self) -> f64 {
        self.turning_by(-CROSSOVER_RAD_S * self.yaw_rad - UNDONE * self.rate_rad_s)
    }

    /// More trim in a time, rad.
    pub(crate) fn trimmed_rad(&self, over_s: f64) -> f64 {
        self.turning_by(-CROSSOVER_RAD_S * TRIMS_RAD_S * self.yaw_rad) * over_s
    }

    fn turning_by(&self, rate_rad_s: f64) -> f64 {
        rate_rad_s * self.arm_m / self.speed_m_s.max(STEERED_M_S)
    }
}

impl Script {
    /// One throttle, course held.
    pub fn steady(throttle: f64) -> Self {
        Self {
            throttle: vec![(0.0, throttle)],
            rudder: Vec::new(),
        }
    }

    /// From rest: squeezed to a throttle over some seconds.
    pub fn squeeze(throttle: f64, over_s: f64) -> Self {
        Self {
            throttle: vec![(0.0, 0.0), (over_s.max(0.05), throttle)],
            rudder: Vec::new(),
        }
    }

    /// The same with the course held until a time and the rudder put over then, as fast as the servo goes.
    pub fn turning(self, at_s: f64, rudder_rad: f64) -> Self {
        Self {
            rudder: vec![(at_s, rudder_rad)],
            ..self
        }
    }

    /// Checks it against the rudder's throw.
    ///
    /// # Errors
    /// [`ScriptError`].
    pub fn check(&self, throw_rad: f64) -> Result<(), ScriptError> {
        if self.throttle.is_empty() {
            return Err(ScriptError::Empty { what: "throttle" });
        }
        rows(
            "throttle",
            &self.throttle,
            |v| (0.0..=1.0).contains(&v),
            || "between 0 and 1".to_owned(),
        )?;
        let within = |v: f64| v.abs() <= throw_rad + 1e-9;
        rows("rudder", &self.rudder, within, || {
            format!(
                "within the throw of {:.0} deg (given in rad)",
                throw_rad * 180.0 / PI
            )
        })
    }

    /// Throttle at a time; held at the ends.
    pub fn throttle_at(&self, time_s: f64) -> f64 {
        at(&self.throttle, time_s)
    }

    /// Rudder asked for at a time; none while the course is held.
    pub fn rudder_at(&self, time_s: f64) -> Option<f64> {
        let first = self.rudder.first()?;
        (time_s >= first.0).then(|| at(&self.rudder, time_s))
    }

    /// Times at which it bends.
    pub fn knots(&self) -> impl Iterator<Item = f64> + '_ {
        self.throttle.iter().chain(&self.rudder).map(|p| p.0)
    }
}

fn rows(
    what: &'static str,
    rows: &[(f64, f64)],
    within: impl Fn(f64) -> bool,
    wanted: impl Fn() -> String,
) -> Result<(), ScriptError> {
    for (i, &(time_s, value)) in rows.iter().enumerate() {
        let row = i + 1;
        let before = if i == 0 {
            f64::NEG_INFINITY
        } else {
            rows[i - 1].0
        };
        if !(time_s.is_finite() && time_s > before) {
            return Err(ScriptError::Order { what, row, time_s });
        }
        if i > 0 && time_s - before > LONGEST_S {
            let gap_s = time_s - before;
            return Err(ScriptError::Gap {
                what,
                row: i,
                gap_s,
            });
        }
        if !within(value) {
            let wanted = wanted();
            return Err(ScriptError::Value {
                what,
                row,
                value,
                wanted,
            });
        }
    }
    Ok(())
}

fn at(rows: &[(f64, f64)], time_s: f64) -> f64 {
    let after = rows.partition_point(|p| p.0 <= time_s);
    match (
        after.checked_sub(1).and_then(|i| rows.get(i)),
        rows.get(after),
    ) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (time_s - a.0) / (b.0 - a.0),
        (Some(a), None) => a.1,
        (None, Some(b)) => b.1,
        (None, None) => 0.0,
    }
}
