//! What takes longer than the speed curve itself, at a few of its speeds: heat, small motions, flying and turning.

use boat::Boat;
use craft::{Craft, RunningState, SpeedCurve};
use motion::flight::{Margin, margin};
use motion::stability::{Modes, about};
use motion::turning::{Turner, TurningError, Turns};
use power::run::Discharge;
use power::script::Script;
use power::thermal::Part;
use rayon::prelude::*;

use crate::stint::Stint;

/// Speeds at which it is asked.
const WARMED: usize = 8;
const MOVED: usize = 24;
const PITCHED: usize = 8;
/// Shares of top speed at which it is turned; near top the answer hangs on a surface that only just touches.
const TURNED: [f64; 4] = [0.3, 0.45, 0.6, 0.75];
/// A speed is held for so long, or until a fifth of the charge is left, s.
pub const HELD_S: f64 = 300.0;
/// From rest up to it, s.
const UP_S: f64 = 5.0;

/// Hottest of each part of one drive, held at one speed from cold.
#[derive(Debug, Clone, PartialEq)]
pub struct Warmth {
    /// m/s.
    pub speed_m_s: f64,
    /// In the order of [`Part::ALL`], K.
    pub hottest_k: Vec<f64>,
}

/// Held at one speed after another, from cold each time, for [`HELD_S`] or until a fifth of the charge is left.
/// One list a drive; empty for a drive that cannot be run in time.
pub fn heat(boat: &Boat, craft: &Craft, curve: &SpeedCurve) -> Vec<Vec<Warmth>> {
    let states = spread_out(&within(curve), WARMED);
    (0..boat.drives.len())
        .map(|index| {
            let Ok(stint) = Stint::of(boat, craft, curve, index) else {
                return Vec::new();
            };
            let each = states.par_iter();
            each.filter_map(|state| warmth(&stint, state)).collect()
        })
        .collect()
}

fn warmth(stint: &Stint, state: &RunningState) -> Option<Warmth> {
    // The speed is given: at part throttle from rest a boat might never climb its hump.
    let rows = |level: f64| vec![(0.0, 0.0), (UP_S, level), (UP_S + HELD_S, level)];
    let script = Script::log(rows(state.throttle), Some(rows(state.speed_m_s))).ok()?;
    let run = stint.run(&script).ok()?;
    Some(Warmth {
        speed_m_s: state.speed_m_s,
        hottest_k: Part::ALL
            .iter()
            .map(|part| hottest_k(&run, *part))
            .collect(),
    })
}

/// Up to the reserve: nobody should run a pack further.
fn hottest_k(run: &Discharge, part: Part) -> f64 {
    let end_s = run.reserve_s.unwrap_or(f64::INFINITY);
    let before = run.samples.iter().filter(|s| s.time_s <= end_s);
    before
        .map(|s| s.temperature_k[part as usize])
        .fold(f64::MIN, f64::max)
}

/// Growth of small motions along the curve.
pub fn small_motions(craft: &Craft, curve: &SpeedCurve) -> Vec<Modes> {
    let states = spread_out(&within(curve), MOVED);
    let each = states.par_iter();
    each.map(|state| about(craft, &state.running())).collect()
}

/// Pitch and gust before it flies, from planing on.
pub fn flight(craft: &Craft, curve: &SpeedCurve) -> Vec<Margin> {
    let planing_m_s = craft::curve::planing_speed(curve).unwrap_or(f64::INFINITY);
    let mut states = within(curve);
    states.retain(|s| s.speed_m_s >= planing_m_s);
    let each = spread_out(&states, PITCHED);
    let each = each.par_iter();
    each.map(|state| margin(craft, &state.running())).collect()
}

/// Turns from a few straight speeds, or why there are none there.
pub fn turns(craft: &Craft, curve: &SpeedCurve) -> Vec<(f64, Result<Turns, TurningError>)> {
    let Some(top) = &curve.top else {
        return Vec::new();
    };
    let states: Vec<RunningState> = TURNED
        .iter()
        .filter_map(|share| craft.on_curve(curve, share * top.speed_m_s))
        .collect();
    let turned = |state: &RunningState| {
        let turns = Turner { craft }.turns(&state.running());
        (state.speed_m_s, turns)
    };
    states.par_iter().map(turned).collect()
}

/// States that the drive can hold, by speed, top speed last.
fn within(curve: &SpeedCurve) -> Vec<&RunningState> {
    let top_m_s = curve.top.as_ref().map_or(f64::INFINITY, |t| t.speed_m_s);
    let below = curve
        .running
        .iter()
        .filter(|s| s.speed_m_s < top_m_s && s.throttle <= 1.0);
    below.chain(&curve.top).collect()
}

/// About `count` of them, the last among them.
fn spread_out<'c>(states: &[&'c RunningState], count: usize) -> Vec<&'c RunningState> {
    let every = states.len().div_ceil(count.max(1)).max(1);
    let mut out: Vec<_> = states.iter().rev().step_by(every).copied().collect();
    out.reverse();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Effort, Study, study};

    fn quick(hull: &str) -> Study {
        let text = boat::template(hull, "Along").expect("a starter");
        let (boat, _) = boat::load(&text, "boat.toml").expect("a boat");
        let boat::HullSource::Starter(starter) = &boat.hull.source else {
            panic!("not a starter hull");
        };
        let shape = form::starter::build(starter).expect("sound dimensions");
        let mut form = form::Form::from_mesh(shape);
        form.surfaces = form::running::find(&form.envelope);
        let effort = Effort {
            draws: 0,
            trials: false,
            deep: false,
            ..Effort::default()
        };
        study(boat, form, effort, &|_| ()).expect("a boat that can be studied")
    }

    #[test]
    fn a_shallow_study_has_a_curve_and_leaves_the_rest_to_be_asked() {
        let study = quick("three-point");
        let under = study.running.expect("it floats");
        let (craft, curve) = (&under.craft, &under.curve);
        assert!(curve.top.is_some() && curve.others.is_empty());
        assert!(under.flat_out.is_empty() && under.handling.turns.is_none());
        let top_m_s = curve.top.as_ref().expect("a top speed").speed_m_s;
        for speeds in [
            small_motions(craft, curve)
                .iter()
                .map(|m| m.speed_m_s)
                .collect::<Vec<_>>(),
            flight(craft, curve).iter().map(|m| m.speed_m_s).collect(),
            heat(&study.boat, craft, curve)[0]
                .iter()
                .map(|w| w.speed_m_s)
                .collect(),
        ] {
            assert!(speeds.windows(2).all(|s| s[0] < s[1]), "{speeds:?}");
            assert_eq!(speeds.last(), Some(&top_m_s));
        }
    }

    #[test]
    fn held_faster_the_pack_is_warmer_where_the_current_rises() {
        let study = quick("vee");
        let under = study.running.expect("it floats");
        let warm = heat(&study.boat, &under.craft, &under.curve);
        let current_a = |speed_m_s: f64| {
            let state = within(&under.curve);
            let state = state.iter().find(|s| s.speed_m_s == speed_m_s);
            state.expect("a state of the curve").drives[0].current_a
        };
        let pack = |w: &Warmth| w.hottest_k[Part::Pack as usize];
        let water_k = study.boat.water.temperature_c.value + 273.15;
        assert!(warm[0].len() >= WARMED / 2);
        for pair in warm[0].windows(2) {
            let rises = current_a(pair[1].speed_m_s) > 1.05 * current_a(pair[0].speed_m_s);
            let warmer = pack(&pair[1]) >= pack(&pair[0]);
            assert!(!rises || warmer, "{pair:?}");
            assert!(pack(&pair[1]) >= water_k - 1e-6);
        }
    }
}
