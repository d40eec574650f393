//! Whether it holds, under what the boat's own runs in time show: over ripple at top speed, and with the rudder put
//! over.

use boat::Boat;
use craft::{Craft, RunningState, SpeedCurve};
use making::strength::{Asking, Seen, Shape, Strength, strength_of};
use motion::run::{Conditions, Load, Peaks, RARE, Run, Sample, Start};
use motion::script::Script;
use motion::water::{RIPPLE_LENGTH, Water};
use nalgebra::Vector3;
use power::thermal::Part;
use std::ops::ControlFlow;

use crate::stint::FlatOut;

/// Ripple of a usual day on a pond, m (judgement; `pond` asks others).
const RIPPLE_M: f64 = 0.02;
/// Over the ripple and into the turn, s.
const SECONDS: (f64, f64) = (2.5, 1.0);
/// Share of top speed at which the rudder goes over.
const TURNED: f64 = 0.6;

/// Whether it holds; `None` for a plastic whose strength is not known. What is `asked` has seen no run yet.
pub fn of(
    asked: Asking<'_>,
    shape: Shape,
    craft: &Craft,
    curve: &SpeedCurve,
    flat_out: &[FlatOut],
) -> Option<Strength> {
    let top = curve.top.as_ref();
    let seen = top.map(|top| seen(asked.boat, craft, curve, top, flat_out));
    let asking = Asking {
        seen: seen.as_ref(),
        ..asked
    };
    strength_of(&asking, shape)
}

fn seen(
    boat: &Boat,
    craft: &Craft,
    curve: &SpeedCurve,
    top: &RunningState,
    flat_out: &[FlatOut],
) -> Seen {
    let throw = boat.rudders.first().map_or(0.0, |r| r.throw_rad.value);
    let (straight, turned) = rayon::join(
        || {
            let water = Water::Ripple {
                height_m: RIPPLE_M,
                length_m: RIPPLE_LENGTH * RIPPLE_M,
                from_rad: 0.0,
            };
            run(craft, throw, top, water, Script::steady(1.0), SECONDS.0)
        },
        || {
            let away = |s: &&RunningState| (s.speed_m_s - TURNED * top.speed_m_s).abs();
            let state = curve
                .running
                .iter()
                .min_by(|a, b| away(a).total_cmp(&away(b)))?;
            let throttle = craft.holding(&state.running()).min(1.0);
            let script = Script::steady(throttle).turning(0.1, throw);
            run(craft, throw, state, Water::Flat, script, SECONDS.1)
        },
    );
    let mut out = Seen {
        top_m_s: top.speed_m_s,
        water_kg_m3: craft.surroundings().water_density_kg_m3,
        ripple_m: RIPPLE_M,
        motor_c: hottest_c(flat_out),
        ..Seen::default()
    };
    if let Some(run) = &straight {
        out.up_m_s2 = blow(run);
        out.sink_m_s = sink(run);
        out.current_a = (run.samples.iter().map(|s| s.current_a)).fold(0.0, f64::max);
        keep(&mut out.elements, &run.peaks, Load::rare_n);
    }
    if let Some(run) = &turned {
        keep(&mut out.elements, &run.peaks, |load| load.most_n);
    }
    out
}

fn run(
    craft: &Craft,
    throw: f64,
    from: &RunningState,
    water: Water,
    script: Script,
    seconds: f64,
) -> Option<Run> {
    let conditions = Conditions {
        water,
        wind_m_s: Vector3::zeros(),
        script,
        start: Start::Running(from.running()),
        seconds,
        seed: 1,
    };
    motion::run(
        craft,
        throw,
        &conditions,
        &mut |_| ControlFlow::Continue(()),
    )
    .ok()
}

/// As fast as the balance point comes down once in some hundred times, m/s: three times the root mean square of its
/// heave while the boat runs, for the single fastest of a short run is as often small as large. What comes after it goes
/// over is a crash, and told as one.
fn sink(run: &Run) -> f64 {
    let heave =
        |s: &[Sample]| (s[0].place_m[2] - s[1].place_m[2]) / (s[1].time_s - s[0].time_s).max(1e-6);
    3.0 * root_mean_square(upright(run).windows(2).map(heave))
}

/// Up at the balance point as it is once in some thousand times, m/s2: four times the root mean square while it runs. A
/// pad's single blow is over in less than a millisecond, before a hull has bent (judgement).
fn blow(run: &Run) -> f64 {
    RARE * root_mean_square(upright(run).iter().map(|s| s.acceleration_m_s2[2]))
}

fn upright(run: &Run) -> &[Sample] {
    let count = run.samples.iter().take_while(|s| s.upright()).count();
    &run.samples[..count]
}

fn root_mean_square(all: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = all.fold((0.0, 0.0), |(sum, count), v| (sum + v * v, count + 1.0));
    (sum / f64::max(count, 1.0)).sqrt()
}

/// The larger of what two runs show: over ripple by chance, in a turn as it goes over.
fn keep(all: &mut Vec<(String, f64)>, peaks: &Peaks, of: fn(&Load) -> f64) {
    for load in &peaks.elements {
        let force_n = of(load);
        match all.iter_mut().find(|(name, _)| *name == load.name) {
            Some(known) => known.1 = known.1.max(force_n),
            None => all.push((load.name.clone(), force_n)),
        }
    }
}

fn hottest_c(flat_out: &[FlatOut]) -> Option<f64> {
    flat_out
        .iter()
        .map(|f| f.run.hottest_k[Part::Can as usize] - 273.15)
        .max_by(f64::total_cmp)
}
