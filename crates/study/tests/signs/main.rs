//! Nothing moves the wrong way: some forty things that builders change, on every demonstration boat, and which way
//! each number goes, held against what builders say (common practice, no source). Written into `docs/accuracy.md`.
//!
//! Where ours differs it is listed with the reason, and has to differ: the list cannot go stale either way.

#[path = "../../../motion/tests/boats/mod.rs"]
mod boats;
mod causes;
#[path = "../../../craft/tests/docs/mod.rs"]
mod docs;
#[path = "../../../motion/tests/sweep/mod.rs"]
mod sweep;

use boats::Example;
use causes::{CAUSES, Cause};
use craft::{Craft, Factors, SpeedCurve};
use motion::flight::margins;
use motion::turning::Turner;
use rayon::prelude::*;
use study::stint::FlatOut;
use sweep::BOATS;

/// Turned from this share of top speed, as the findings do.
const TURNED_AT: f64 = 0.6;
/// Pitched at so many speeds.
const PITCHED: usize = 4;

/// What may change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum What {
    Top,
    Current,
    Planing,
    Slip,
    Trim,
    Flight,
    Turn,
    RunTime,
}

impl What {
    /// What it is called, its unit, and whether it is told as a share.
    fn told(self) -> (&'static str, &'static str, f64, bool) {
        match self {
            Self::Top => ("top speed", " %", 100.0, true),
            Self::Current => ("current", " %", 100.0, true),
            Self::Planing => ("planes from", " %", 100.0, true),
            Self::Slip => ("slip", " points", 100.0, false),
            Self::Trim => ("trim", "°", 57.295_779_513, false),
            Self::Flight => ("pitch to spare", "°", 57.295_779_513, false),
            Self::Turn => ("turn radius", " %", 100.0, true),
            Self::RunTime => ("run time", " %", 100.0, true),
        }
    }

    /// Changes smaller than this are none: what the tables show as nought.
    const fn none(self) -> f64 {
        match self {
            Self::Trim | Self::Flight => 0.02,
            _ => 0.05,
        }
    }
}

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Sign {
    More,
    Less,
    Same,
    /// By no more than a hundredth.
    NotMore,
}

impl Sign {
    const fn word(self) -> &'static str {
        match self {
            Self::More => "more",
            Self::Less => "less",
            Self::Same => "the same",
            Self::NotMore => "no more",
        }
    }

    /// `None` where it does not move: that is no sign.
    fn holds(self, change: f64, none: f64) -> bool {
        match self {
            Self::More => change >= none,
            Self::Less => change <= -none,
            Self::Same => change.abs() < none,
            Self::NotMore => change <= 1.0,
        }
    }
}

/// One boat's numbers.
struct Told {
    curve: SpeedCurve,
    craft: Craft,
    boat: boat::Boat,
}

impl Told {
    fn of(boat: boat::Boat, form: &form::Form, known: Option<&SpeedCurve>) -> Option<Self> {
        let mass = craft::mass::mass_properties(&boat, form).ok()?;
        let craft = Craft::new(&boat, form, &mass, &Factors::default()).ok()?;
        let curve = match known {
            Some(known) => craft.rough_curve_like(12, known),
            None => craft.rough_curve(48),
        };
        Some(Self { curve, craft, boat })
    }

    fn get(&self, what: What) -> Option<f64> {
        let top = self.curve.top.as_ref();
        let most = |of: fn(&craft::DriveState) -> f64| {
            let each = top.map(|t| t.drives.iter().map(of).fold(f64::MIN, f64::max));
            each.filter(|v| *v > f64::MIN)
        };
        match what {
            What::Top => Some(top?.speed_m_s),
            What::Current => most(|d| d.current_a),
            What::Slip => most(|d| d.slip),
            What::Planing => self.curve.planing_m_s,
            What::Trim => Some(top?.attitude.trim_rad),
            What::Flight => {
                let worst = margins(&self.craft, &self.curve, PITCHED).worst?;
                let tips = worst.unstable_in_gust_rad.or(worst.unstable_trim_rad);
                Some(tips.unwrap_or(motion::flight::HIGHEST_RAD) - worst.running_trim_rad)
            }
            What::Turn => {
                let state = (self.craft).on_curve(&self.curve, TURNED_AT * top?.speed_m_s)?;
                let turner = Turner { craft: &self.craft };
                let turns = turner.turns(&state.running());
                Some(turns.ok()?.tightest()?.0.radius_m)
            }
            What::RunTime => {
                let runs = FlatOut::all(&self.boat, &self.craft, &self.curve);
                runs.iter().filter_map(FlatOut::run_time_s).reduce(f64::min)
            }
        }
    }
}

/// How much a number changes, as the table tells it.
fn change(now: &Told, then: Option<&Told>, what: What) -> Option<f64> {
    let (_, _, scale, share) = what.told();
    let (a, b) = (now.get(what)?, then?.get(what)?);
    Some(match share {
        true => scale * (b / a - 1.0),
        false => scale * (b - a),
    })
}

/// With its sign, rounded to what matters.
fn shown(change: f64, unit: &str) -> String {
    if unit == " %" && change > 300.0 {
        return format!("{:.0} times", 1.0 + change / 100.0);
    }
    let places = match unit {
        " %" if change.abs() >= 10.0 => 0,
        "°" => 2,
        _ => 1,
    };
    format!("{change:+.places$}{unit}")
}

/// `None` for a boat that has no such thing.
fn changed(of: &Example, now: &Told, cause: &Cause) -> Option<Vec<Option<f64>>> {
    if !(cause.applies)(&of.boat) {
        return None;
    }
    let (mut boat, mut form) = (of.boat.clone(), of.form.clone());
    (cause.change)(&mut boat, &mut form);
    let then = Told::of(boat, &form, Some(&now.curve));
    let each = cause.expects.iter();
    Some(
        each.map(|(what, _)| change(now, then.as_ref(), *what))
            .collect(),
    )
}

#[test]
fn causes_move_numbers_as_builders_say() {
    // By boat, then by cause it has, then by what is expected of it.
    let changes: Vec<Vec<Option<Vec<Option<f64>>>>> = BOATS
        .par_iter()
        .map(|name| {
            let of = boats::example(name);
            let now = Told::of(of.boat.clone(), &of.form, None).expect("it floats");
            CAUSES.par_iter().map(|c| changed(&of, &now, c)).collect()
        })
        .collect();
    let mut table = format!(
        "| what is changed | what moves | builders say | {} | where ours differs |\n|---|---|---|{}---|\n",
        BOATS.join(" | "),
        "---|".repeat(BOATS.len())
    );
    let mut wrong = Vec::new();
    for (c, cause) in CAUSES.iter().enumerate() {
        for (e, (what, sign)) in cause.expects.iter().enumerate() {
            let (name, unit, ..) = what.told();
            let differs = cause.differs.iter().find(|d| d.0 == *what);
            let mut cells = Vec::new();
            for (boat, of) in BOATS.iter().zip(&changes) {
                let listed = differs.is_some_and(|d| d.1.contains(boat));
                let Some(of) = &of[c] else {
                    cells.push("-".to_owned());
                    continue;
                };
                let cell = match of[e] {
                    Some(change) => {
                        if sign.holds(change, what.none()) == listed {
                            wrong.push(format!(
                                "{}: {name} of {boat}: {change:+.2}{unit}, wanted {} ({listed})",
                                cause.name,
                                sign.word()
                            ));
                        }
                        format!("{}{}", shown(change, unit), if listed { " !" } else { "" })
                    }
                    None => {
                        if !listed {
                            wrong.push(format!("{}: {name} of {boat}: no number", cause.name));
                        }
                        "none !".to_owned()
                    }
                };
                cells.push(cell);
            }
            let why = differs.map_or("", |d| d.2);
            table.push_str(&format!(
                "| {} | {name} | {} | {} | {why} |\n",
                if e == 0 { cause.name } else { "" },
                sign.word(),
                cells.join(" | ")
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    docs::keep_current("signs", &table);
}
