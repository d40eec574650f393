//! Which of the numbers nobody gave are worth measuring first.
//!
//! Each is moved to the end of its own 95 % interval, the others left alone, and the boat is asked again. What an
//! answer moves by then, over how far it may be off altogether, is what that one number is responsible for: shares add
//! up as squares, so that half of the spread is a quarter of its variance.

use boat::{Kind, Measure, Origin};
use rayon::prelude::*;

use crate::quantity::Quantity;
use crate::study::Study;
use crate::trial::{Subject, quantities};

/// Answers a builder asks first.
const ASKED: [Quantity; 5] = [
    Quantity::Freeboard,
    Quantity::PlaningSpeed,
    Quantity::TopSpeed,
    Quantity::TopCurrent,
    Quantity::FlightMargin,
];
/// Less of an answer's spread is not worth a trip to the scale (judgement).
const LEAST: f64 = 0.25;
/// Told at most.
const MOST: usize = 3;

/// A number nobody gave, and what it moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// Which, as [`boat::Boat::visit_quantities`] names it.
    pub what: String,
    /// The answer it moves most.
    pub moves: Quantity,
    /// How far, over the 95 % half-width of that answer.
    pub share: f64,
}

/// At most three, worth most first; empty without likely variations to hold them against.
pub fn worth(study: &Study) -> Vec<Worth> {
    let asked = |of: &Subject| quantities(of, study.like(), study.flight_at());
    let Some(now) = asked(&subject(study, study.boat.clone())) else {
        return Vec::new();
    };
    let widths: Vec<(Quantity, f64)> = ASKED
        .into_iter()
        .filter_map(|q| Some((q, study.number(q)?.1)))
        .filter(|(_, width)| *width > 0.0)
        .collect();
    let mut all: Vec<Worth> = assumed(study)
        .into_par_iter()
        .filter_map(|what| {
            let then = asked(&subject(study, moved(study, &what)))?;
            let share = |(q, width): &(Quantity, f64)| {
                Some((*q, (then.get(*q)? - now.get(*q)?).abs() / width))
            };
            let most = widths.iter().filter_map(share);
            let (moves, share) = most.max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Worth { what, moves, share })
        })
        .filter(|w| w.share >= LEAST)
        .collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all.truncate(MOST);
    all
}

fn subject(study: &Study, boat: boat::Boat) -> Subject {
    Subject {
        boat,
        form: study.form.clone(),
        learned: study.learned.clone(),
    }
}

/// Names of the numbers nobody gave that are not exact.
fn assumed(study: &Study) -> Vec<String> {
    let mut all = Vec::new();
    study.boat.clone().visit_measures(&mut |path, measure| {
        if matches!(measure.origin, Origin::Assumed(_)) && measure.spread > 0.0 {
            all.push(path.to_owned());
        }
    });
    all
}

/// The boat with one of them at the end of what it may be: the upper, but for a share that would pass all of it.
fn moved(study: &Study, what: &str) -> boat::Boat {
    let mut boat = study.boat.clone();
    boat.visit_quantities(&mut |path: &str, kind: Kind, measure: &mut Measure| {
        if path != what {
            return;
        }
        let up = measure.value + measure.spread;
        measure.value = match kind == Kind::Fraction && up > 1.0 {
            true => (measure.value - measure.spread).max(0.0),
            false => up,
        };
    });
    boat
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Effort, study};

    /// A number with a wide tolerance that nobody gave is found; told exactly, it is not.
    #[test]
    fn the_number_that_moves_most_is_named_and_a_given_one_is_not() {
        let text = boat::template("vee", "Tern").expect("known");
        let (mut boat, _) = boat::load(&text, "boat.toml").expect("a boat");
        let boat::HullSource::Starter(hull) = &boat.hull.source else {
            panic!("a template is a starter hull");
        };
        let form = form::Form::from_mesh(form::starter::build(hull).expect("a hull"));
        let effort = Effort {
            points: 10,
            draws: 8,
            trials: false,
            deep: false,
            ..Effort::default()
        };
        let kv = |boat: &mut boat::Boat, origin| {
            let kv = &mut boat.drives[0].motor.kv_rad_s_v;
            kv.origin = origin;
            kv.spread = 0.2 * kv.value;
        };
        let told = |boat: boat::Boat| {
            let study = study(boat, form.clone(), effort, &|_| {}).expect("a study");
            let all = worth(&study);
            all.into_iter().any(|w| w.what == "drive motor kv")
        };
        kv(&mut boat, Origin::Assumed("nobody gave it"));
        assert!(told(boat.clone()), "kv decides top speed");
        kv(&mut boat, Origin::Given);
        assert!(!told(boat), "what was given is not asked for again");
    }
}
