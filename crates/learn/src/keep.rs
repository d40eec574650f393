//! `learned.toml`: what outings taught, in a file the builder can read, correct or remove.
//!
//! Each number belongs to a part. The file describes the parts it was learned on; on a boat whose part
//! is another, that part's numbers stay behind and the others carry.
//!
//! What is kept is what the outings say of the numbers *with mass and balance as the boat file has them*: those two
//! are moved while learning but not kept, and a prediction is made with the declared ones. So the next prediction
//! for the day meets what was measured on it.

use crate::model::Uncertain;
use crate::reconcile::{Reconciled, Shift};
use boat::{Boat, BoatFileError, Problem, Severity};
use evidence::Measured;
use evidence::outing::given::from_toml;
use evidence::outing::{Doing, Outing, QuantityKind, Value};
use form::Form;
use laws::constants::HALF_WIDTH_95;
use nalgebra::{DMatrix, DVector};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::f64::consts::TAU;
use std::fmt::Write as _;
use study::hull_type::HullType;
use study::lever::{Knob, Learned, Lever, Owner, TurnSeen};

/// The form written by this version.
const FORMAT: u32 = 1;
/// A hull of the same type and within this of the length is near enough for what is learned of the
/// laws (judgement).
const LIKE_LENGTH: f64 = 0.10;
/// A propeller within this of the diameter, and within this of the ratio of pitch to diameter, is near enough
/// likewise (judgement).
const LIKE_SIZE: f64 = 0.10;
const LIKE_PITCH: f64 = 0.15;
/// A number is written when its spread shrank or it moved by more than this share of the prior's, or
/// it is bound to others by more than this.
const WORTH: (f64, f64, f64) = (0.98, 0.05, 0.1);

const HEAD: &str = "\
# What outings taught about this boat, kept because `skimwright learn BOAT --keep` was asked.
# Every prediction carries it and says so. Remove the file to predict without it.
# Values: 1 is as published, or as boat.toml declares the part; friction is a place in its band,
# -1 laminar to 1 turbulent. Spreads are half-widths of the 95 % interval.

";

/// `learned.toml` as written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    /// `FORMAT`.
    pub format: u32,
    /// Outings it was learned from.
    pub outings: Vec<String>,
    /// Build they were run with; the boat as it was, unless given.
    #[serde(default)]
    pub build: Option<String>,
    /// The parts it was learned on.
    pub parts: BTreeMap<String, String>,
    /// The numbers.
    #[serde(default)]
    pub factor: Vec<KeptFactor>,
    /// Lower triangle of their correlation.
    #[serde(default)]
    pub correlation: Vec<Vec<f64>>,
    /// The tightest turn measured to each side: no prediction may say that it cannot be.
    #[serde(default)]
    pub turn: Vec<KeptTurn>,
}

/// A turn measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptTurn {
    /// Which way.
    pub to: Side,
    /// m.
    pub radius_m: f64,
    /// In the turn, m/s.
    #[serde(default)]
    pub speed_m_s: Option<f64>,
    /// On which outing.
    pub outing: String,
}

/// Which way it turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// To port.
    Left,
    /// To starboard.
    Right,
}

impl Side {
    const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// One number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptFactor {
    /// Which.
    pub name: String,
    /// The part it belongs to.
    pub of: String,
    /// Before.
    pub before: f64,
    /// 95 % half-width before.
    pub before_spread: f64,
    /// Learned.
    pub after: f64,
    /// 95 % half-width learned.
    pub after_spread: f64,
}

/// What a boat's parts are, for telling whether they were exchanged.
pub fn parts(boat: &Boat, form: &Form) -> BTreeMap<String, String> {
    let each = Owner::ALL
        .iter()
        .filter_map(|owner| Some((owner.name().to_owned(), describe(*owner, boat, form)?)));
    each.collect()
}

fn describe(owner: Owner, boat: &Boat, form: &Form) -> Option<String> {
    if owner == Owner::Hull {
        let kind = HullType::of(boat, form).name();
        return Some(format!("{kind}, {:.0} mm", 1e3 * form.outline.length_m));
    }
    let drive = boat.drives.first()?;
    let (battery, motor, propeller) = (&drive.battery, &drive.motor, &drive.propeller);
    Some(match owner {
        Owner::Hull => return None,
        Owner::Propeller => format!(
            "{:.1} mm, pitch {:.3} of diameter, {} blades, cup {:.2} mm",
            1e3 * propeller.diameter_m.value,
            propeller.pitch_ratio.value,
            propeller.blades,
            1e3 * propeller.cup_m
        ),
        Owner::Motor => format!(
            "{:.0} rpm/V, {:.2} mohm, {:.2} A unloaded",
            motor.kv_rad_s_v.value * 60.0 / TAU,
            1e3 * motor.resistance_ohm.value,
            motor.no_load_current_a.value
        ),
        Owner::Pack => format!(
            "{}S{}P, {:.0} mAh, {:.2} mohm a cell",
            battery.series,
            battery.parallel,
            battery.capacity_c.value / 3.6,
            1e3 * battery.cell_resistance_ohm.value
        ),
        Owner::Controller => format!(
            "{:.2} mohm, {:.0} mm of lead",
            1e3 * drive.controller.resistance_ohm.value,
            1e3 * drive.controller.lead_m.value
        ),
        Owner::Cooling => {
            let line = drive.cooling.as_ref()?;
            format!(
                "{:.1} mm bore, {:.0} mm, pickup {:.1} mm",
                1e3 * line.bore_m.value,
                1e3 * line.length_m.value,
                1e3 * line.pickup_m.value
            )
        }
    })
}

impl Kept {
    /// From a reconciliation with a boat as declared.
    pub fn of(
        found: &Reconciled,
        boat: &Boat,
        form: &Form,
        outings: Vec<String>,
        build: Option<String>,
    ) -> Self {
        let given = as_declared(found);
        let found = given.as_ref().unwrap_or(found);
        let worth: Vec<(usize, Lever)> = found
            .shifts
            .iter()
            .enumerate()
            .filter_map(|(i, shift)| match shift.what {
                Uncertain::Lever(lever) if is_worth(found, i) => Some((i, lever)),
                _ => None,
            })
            .collect();
        let factor = worth.iter().map(|(i, lever)| {
            let shift = &found.shifts[*i];
            KeptFactor {
                name: lever.name().to_owned(),
                of: lever.owner().name().to_owned(),
                before: rounded(shift.before.value),
                before_spread: rounded(HALF_WIDTH_95 * shift.before.sigma),
                after: rounded(shift.after.value),
                after_spread: rounded(HALF_WIDTH_95 * shift.after.sigma),
            }
        });
        let row = |(n, (i, _)): (usize, &(usize, Lever))| {
            let before = worth[..=n].iter();
            before
                .map(|(j, _)| (1e4 * found.correlation[(*i, *j)]).round() / 1e4)
                .collect()
        };
        Self {
            format: FORMAT,
            outings,
            build,
            parts: parts(boat, form),
            factor: factor.collect(),
            correlation: worth.iter().enumerate().map(row).collect(),
            turn: Vec::new(),
        }
    }

    /// With the turns of an outing: of each side the tightest is kept.
    #[must_use]
    pub fn with_turns(mut self, name: &str, outing: &Outing) -> Self {
        for (side, motion) in [
            (Side::Left, Doing::TurnToPort),
            (Side::Right, Doing::TurnToStarboard),
        ] {
            let turned = |v: &&Value| {
                v.kind == QuantityKind::TurnRadius && v.condition.motion == motion && v.value > 0.0
            };
            let each = outing.quantities.iter().filter(turned);
            let Some(tightest) = each.min_by(|a, b| a.value.total_cmp(&b.value)) else {
                continue;
            };
            let before = self.turn.iter().find(|t| t.to == side);
            if before.is_none_or(|t| t.radius_m > tightest.value) {
                self.turn.retain(|t| t.to != side);
                self.turn.push(KeptTurn {
                    to: side,
                    radius_m: rounded(tightest.value),
                    speed_m_s: tightest.condition.speed_m_s.map(rounded),
                    outing: name.to_owned(),
                });
            }
        }
        self
    }

    /// As a commented file.
    pub fn text(&self) -> String {
        let outings: Vec<String> = self.outings.iter().map(|o| quoted(o)).collect();
        let mut out = format!(
            "{HEAD}format = {}\noutings = [{}]\n",
            self.format,
            outings.join(", ")
        );
        if let Some(build) = &self.build {
            let _ = writeln!(out, "build = {}", quoted(build));
        }
        out.push_str("\n# How the numbers below hang together: each row against those before it.\ncorrelation = [\n");
        for row in &self.correlation {
            let cells: Vec<String> = row.iter().map(|c| format!("{c:?}")).collect();
            let _ = writeln!(out, "  [{}],", cells.join(", "));
        }
        out.push_str("]\n\n# Learned on these parts. A part that is exchanged leaves what was learned of it behind.\n[parts]\n");
        for (name, what) in &self.parts {
            let _ = writeln!(out, "{name} = {}", quoted(what));
        }
        for f in &self.factor {
            let _ = writeln!(
                out,
                "\n[[factor]]\nname = {}\nof = {}",
                quoted(&f.name),
                quoted(&f.of)
            );
            let _ = writeln!(
                out,
                "before = {:?}\nbefore_spread = {:?}",
                f.before, f.before_spread
            );
            let _ = writeln!(
                out,
                "after = {:?}\nafter_spread = {:?}",
                f.after, f.after_spread
            );
        }
        for t in &self.turn {
            let _ = writeln!(
                out,
                "\n# Measured: no prediction may say that it cannot turn so.\n[[turn]]\nto = \"{}\"\nradius_m = {:?}",
                t.to.word(),
                t.radius_m
            );
            if let Some(speed) = t.speed_m_s {
                let _ = writeln!(out, "speed_m_s = {speed:?}");
            }
            let _ = writeln!(out, "outing = {}", quoted(&t.outing));
        }
        out
    }

    /// Reads a file.
    ///
    /// # Errors
    /// [`BoatFileError`] with the place of what is wrong.
    pub fn read(text: &str, file_name: &str) -> Result<Self, BoatFileError> {
        let kept: Self = from_toml(text, file_name)?;
        let problems = kept.problems(text);
        if problems.is_empty() {
            Ok(kept)
        } else {
            Err(BoatFileError::new(file_name, text, problems))
        }
    }

    fn problems(&self, text: &str) -> Vec<Problem> {
        let again = "remove the file and learn again with `skimwright learn BOAT --keep`";
        if self.format != FORMAT {
            return vec![problem(
                text,
                "format",
                format!("format {} is not known here", self.format),
                again,
            )];
        }
        let mut all = Vec::new();
        for f in &self.factor {
            let place = quoted(&f.name);
            if Lever::named(&f.name).is_none() {
                let names: Vec<&str> = Lever::all().map(Lever::name).collect();
                let message = format!("no factor is called `{}`", f.name);
                all.push(problem(
                    text,
                    &place,
                    message,
                    &format!("known: {}", names.join(", ")),
                ));
            }
            let numbers = [f.before, f.before_spread, f.after, f.after_spread];
            if numbers.iter().any(|n| !n.is_finite())
                || f.after_spread <= 0.0
                || f.before_spread <= 0.0
            {
                let message = format!("`{}` needs finite numbers and spreads above zero", f.name);
                all.push(problem(text, &place, message, again));
            }
        }
        let every: Vec<usize> = (0..self.factor.len()).collect();
        if all.is_empty() && self.joint(&every).is_none() {
            let message =
                "the correlation has not a row for each factor, or no set of numbers could have it";
            all.push(problem(text, "correlation", message.to_owned(), again));
        }
        all
    }

    /// The distribution of some of the factors.
    fn joint(&self, which: &[usize]) -> Option<Learned> {
        let n = self.factor.len();
        let whole = self.correlation.len() == n
            && self
                .correlation
                .iter()
                .enumerate()
                .all(|(i, r)| r.len() == i + 1);
        if !whole {
            return None;
        }
        let at = |i: usize, j: usize| self.correlation[i.max(j)][i.min(j)];
        let correlation = DMatrix::from_fn(which.len(), which.len(), |i, j| at(which[i], which[j]));
        let knobs: Option<Vec<Knob>> = which.iter().map(|i| knob(&self.factor[*i])).collect();
        let mut from = self.outings.clone();
        if let Some(build) = &self.build {
            from.push(format!("build {build}"));
        }
        Learned::new(knobs?, &correlation, from)
    }

    /// What of it carries to a boat as declared.
    pub fn carry(&self, boat: &Boat, form: &Form) -> Learned {
        let now = parts(boat, form);
        let mut left_out = Vec::new();
        for (part, was) in &self.parts {
            let of = |f: &&KeptFactor| f.of == *part;
            let is = now.get(part).map_or("none", String::as_str);
            if self.factor.iter().any(|f| of(&f)) && !like(part, was, is) {
                let names: Vec<&str> = self
                    .factor
                    .iter()
                    .filter(of)
                    .map(|f| f.name.as_str())
                    .collect();
                left_out.push(format!(
                    "{}: learned on another {part} ({was}; now {is})",
                    names.join(", ")
                ));
            }
        }
        let carried: Vec<usize> = (0..self.factor.len())
            .filter(|i| {
                let part = &self.factor[*i].of;
                let same = self.parts.get(part).zip(now.get(part));
                same.is_some_and(|(was, is)| like(part, was, is))
            })
            .collect();
        let mut learned = self.joint(&carried).unwrap_or_default();
        learned.left_out = left_out;
        // What the hull did on the water stays true of a hull of its kind.
        let hull = Owner::Hull.name();
        let same = self.parts.get(hull).zip(now.get(hull));
        if same.is_some_and(|(was, is)| like(hull, was, is)) {
            let turn = |t: &KeptTurn| TurnSeen {
                to_port: t.to == Side::Left,
                radius_m: t.radius_m,
                speed_m_s: t.speed_m_s,
                on: t.outing.clone(),
            };
            learned.turns = self.turn.iter().map(turn).collect();
        }
        learned
    }
}

fn problem(text: &str, word: &str, message: String, help: &str) -> Problem {
    let start = text.find(word).unwrap_or(0);
    Problem {
        message,
        help: Some(help.to_owned()),
        span: start..start,
        severity: Severity::Error,
    }
}

/// Whether a part is the one it was, or near enough: a hull of the same type and about the length, a propeller of
/// about the size and pitch, a pack of the same cells.
fn like(part: &str, was: &str, is: &str) -> bool {
    if part == Owner::Propeller.name() {
        return was == is || like_propeller(was, is);
    }
    if part == Owner::Pack.name() {
        // What is learned is of a cell, however many are in a row.
        let cells = |text: &str| text.split_once('S').map(|(_, rest)| rest.to_owned());
        return was == is || cells(was).is_some_and(|was| Some(was) == cells(is));
    }
    if part != Owner::Hull.name() {
        return was == is;
    }
    let split = |text: &str| {
        let (kind, length) = text.split_once(", ")?;
        let mm: f64 = length.trim_end_matches(" mm").parse().ok()?;
        Some((kind.to_owned(), mm))
    };
    match (split(was), split(is)) {
        (Some((a, x)), Some((b, y))) => a == b && (y / x - 1.0).abs() <= LIKE_LENGTH,
        _ => was == is,
    }
}

/// What is learned of a propeller is mostly how far the laws are off, and they are off alike for one a little larger
/// or steeper with as many blades and the same cup.
fn like_propeller(was: &str, is: &str) -> bool {
    let read = |text: &str| {
        let (size, rest) = text.split_once(" mm, pitch ")?;
        let (ratio, rest) = rest.split_once(" of diameter, ")?;
        let numbers = (size.parse::<f64>().ok()?, ratio.parse::<f64>().ok()?);
        Some((numbers, rest.to_owned()))
    };
    match (read(was), read(is)) {
        (Some(((d0, p0), rest0)), Some(((d1, p1), rest1))) => {
            let near = (d1 / d0 - 1.0).abs() <= LIKE_SIZE && (p1 - p0).abs() <= LIKE_PITCH;
            near && rest0 == rest1
        }
        _ => false,
    }
}

fn knob(f: &KeptFactor) -> Option<Knob> {
    Some(Knob {
        lever: Lever::named(&f.name)?,
        mean: f.after,
        sigma: f.after_spread / HALF_WIDTH_95,
        before: (f.before, f.before_spread / HALF_WIDTH_95),
    })
}

/// What was found on condition that mass and balance are the declared ones: the conditional of a normal
/// distribution. `None` where neither was moved.
fn as_declared(found: &Reconciled) -> Option<Reconciled> {
    let at = |i: usize, j: usize| {
        let sigma = |k: usize| found.shifts[k].after.sigma;
        found.correlation[(i, j)] * sigma(i) * sigma(j)
    };
    let declared =
        |i: &usize| matches!(found.shifts[*i].what, Uncertain::Mass | Uncertain::Balance);
    let all = 0..found.shifts.len();
    let (fixed, free): (Vec<usize>, Vec<usize>) = all.partition(declared);
    if fixed.is_empty() || free.is_empty() {
        return None;
    }
    let across = DMatrix::from_fn(free.len(), fixed.len(), |i, j| at(free[i], fixed[j]));
    let own = DMatrix::from_fn(fixed.len(), fixed.len(), |i, j| at(fixed[i], fixed[j]));
    let gain = &across * own.try_inverse()?;
    let back = DVector::from_fn(fixed.len(), |i, _| {
        let shift = &found.shifts[fixed[i]];
        shift.before.value - shift.after.value
    });
    let moved = &gain * back;
    let covariance = DMatrix::from_fn(free.len(), free.len(), |i, j| at(free[i], free[j]))
        - &gain * across.transpose();
    let sigma = |i: usize| covariance[(i, i)].max(0.0).sqrt();
    let shifts = free.iter().enumerate().map(|(n, i)| Shift {
        after: Measured::new(found.shifts[*i].after.value + moved[n], sigma(n)),
        ..found.shifts[*i]
    });
    Some(Reconciled {
        shifts: shifts.collect(),
        correlation: DMatrix::from_fn(free.len(), free.len(), |i, j| {
            covariance[(i, j)] / (sigma(i) * sigma(j)).max(f64::MIN_POSITIVE)
        }),
        ..found.clone()
    })
}

fn is_worth(found: &Reconciled, i: usize) -> bool {
    let shift = &found.shifts[i];
    let bound =
        (0..found.shifts.len()).any(|j| j != i && found.correlation[(i, j)].abs() > WORTH.2);
    shift.after.sigma < WORTH.0 * shift.before.sigma || shift.moved().abs() > WORTH.1 || bound
}

fn rounded(x: f64) -> f64 {
    advice::number::significant(x)
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

#[cfg(test)]
mod tests;
