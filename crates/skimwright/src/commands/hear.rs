//! Rpm and speed from sound.

use evidence::outing::recording::measure_sound;
use evidence::sound::decode::Channel;
use evidence::sound::listen::{Heard, HeardPass};
use evidence::sound::pass::Pass;
use evidence::sound::shaft::{BaseIs, Settled};
use laws::doppler_pass::doppler_pass;
use serde_json::{Value, json};

use super::Outcome;
use super::recording::{
    boat_alone, fault, file_name, give, on_shaft, open, settings_of, sound_speed,
};
use crate::cli_recordings::{Hear, measured};
use crate::failure::Failure;

/// Points of a tone that are told.
const MOST_POINTS: usize = 600;
/// Time each side of a pass over which its curve is told, s, and steps of it.
const CURVE_REACH_S: f64 = 4.0;
const CURVE_STEPS: i32 = 80;
const RPM: f64 = 30.0 / std::f64::consts::PI;

pub fn run(given: &Hear) -> Result<Outcome, Failure> {
    let boat = given.boat.as_deref().map(boat_alone).transpose()?;
    let mut settings = settings_of(boat.as_ref(), Vec::new());
    let listen = &mut settings.hear.listen;
    let gear = given.gear.or(settings.log.gear).unwrap_or(1.0);
    if !(gear.is_finite() && gear > 0.0) {
        return Err(Failure::new(
            format!("a gear of {gear} cannot be"),
            "motor turns for one of the propeller, such as 1.5",
        ));
    }
    listen.drive.blades = given.blades.or(listen.drive.blades);
    if let Some(poles) = given.poles {
        listen.drive.pole_pairs = on_shaft(poles / 2, gear);
    }
    if let (Some(low), Some(high)) = (given.lowest_rpm, given.highest_rpm) {
        listen.drive.rpm_range = Some((low.value * RPM, high.value * RPM));
    }
    if let Some(air) = given.air_temperature {
        listen.sound_speed_m_s = sound_speed(measured(air, 0.0))?;
    }
    listen.closest_m = given.closest.map(|d| measured(d, 0.1 * d.value));
    listen.from_s = given.from.map_or(listen.from_s, |t| t.value);
    listen.to_s = given.to.map_or(listen.to_s, |t| t.value);
    settings.hear.still = given.still;
    settings.channel = given.channel.map_or(Channel::Mean, Channel::Only);
    let (mut analysis, heard) =
        measure_sound(&file_name(&given.file), open(&given.file)?, &settings)
            .map_err(|e| fault(&given.file, &e))?;
    if given.air_temperature.is_none() && !heard.passes.is_empty() {
        analysis.remarks.push(
            "air of 15 °C ± 12 °C was assumed; say it with --air-temperature: 6 °C are 1 % of speed".to_owned(),
        );
    }
    let more = json!({
        "format": heard.info.format,
        "rate_hz": heard.info.rate_hz,
        "channels": heard.info.channels,
        "tones": tones(&heard),
        "shafts": shafts(&heard),
        "passes": passes(&heard, settings.hear.listen.sound_speed_m_s.value),
        "clipped_part": heard.quality.clipped_part(),
        "dropouts": heard.quality.dropouts,
    });
    give(&[analysis], &given.shown, ("", ""), more)?;
    Ok(Outcome::Good)
}

/// Each tone: when, how loud against the noise, its usual frequency.
fn tones(heard: &Heard) -> Vec<Value> {
    let one = |t: &evidence::sound::tone::Tone| {
        let (from_s, to_s) = t.span_s();
        let all: Vec<f64> = t.points.iter().map(|p| p.frequency_hz.value).collect();
        let over: Vec<f64> = t.points.iter().map(|p| p.over_noise).collect();
        json!({
            "from_s": from_s,
            "to_s": to_s,
            "frequency_hz": evidence::measured::median(&all),
            "over_noise": evidence::measured::median(&over),
            "ln_chance": t.ln_chance,
            "points": thinned(&t.points).map(|p| (p.time_s, p.frequency_hz.value)).collect::<Vec<_>>(),
        })
    };
    heard.tones.iter().map(one).collect()
}

/// Few enough to draw.
fn thinned<T>(points: &[T]) -> impl Iterator<Item = &T> {
    points.iter().step_by(points.len() / MOST_POINTS + 1)
}

/// Each pass: the curve that was fitted, or why there is none.
fn passes(heard: &Heard, sound_speed_m_s: f64) -> Vec<Value> {
    let one = |p: &HeardPass| match &p.pass {
        Ok(pass) => json!({
            "near_s": p.near_s,
            "shaft": p.rotation,
            "frequency_hz": pass.frequency_hz,
            "time_s": pass.time_s,
            "misfit": pass.misfit,
            "curve": curve(pass, sound_speed_m_s),
        }),
        Err(why) => json!({"near_s": p.near_s, "shaft": p.rotation, "why": why.to_string()}),
    };
    heard.passes.iter().map(one).collect()
}

/// What the fitted pass sounds like, as times and Hz; nothing where its distance is not known.
fn curve(pass: &Pass, sound_speed_m_s: f64) -> Vec<(f64, f64)> {
    let Some(closest) = pass.closest_m else {
        return Vec::new();
    };
    let heard = |after: f64| {
        let tone = pass.frequency_hz.value;
        let speed = pass.speed_m_s.value;
        let at = doppler_pass(speed, sound_speed_m_s, tone, closest.value, after).ok()?;
        Some((pass.time_s.value + after, at.frequency_hz))
    };
    let steps =
        (-CURVE_STEPS..=CURVE_STEPS).map(|i| f64::from(i) * CURVE_REACH_S / f64::from(CURVE_STEPS));
    steps.filter_map(heard).collect()
}

/// Each shaft: its tones, and what their common base was taken for.
fn shafts(heard: &Heard) -> Vec<Value> {
    let one = |r: &evidence::sound::shaft::Rotation| {
        let reading = |x: &evidence::sound::shaft::Reading| {
            let is = match x.base_is {
                BaseIs::ShaftRate => "shaft_rate",
                BaseIs::BladeRate => "blade_rate",
                BaseIs::ElectricalRate => "electrical_rate",
            };
            json!({"base_is": is, "times_shaft": x.times_shaft})
        };
        let settled = match r.settled {
            Settled::ByRatios => "by_ratios",
            Settled::ByRange => "by_range",
            Settled::AssumedBladeRate => "assumed_blade_rate",
            Settled::Open => "open",
        };
        let members = r
            .members
            .iter()
            .map(|m| json!({"tone": m.tone, "order": m.order}));
        json!({
            "members": members.collect::<Vec<_>>(),
            "readings": r.readings.iter().map(reading).collect::<Vec<_>>(),
            "settled": settled,
        })
    };
    heard.rotations.iter().map(one).collect()
}
