//! Rpm and speed from sound.

use evidence::Measured;
use evidence::outing::recording::measure_sound;
use evidence::outing::{Analysis, RecordingKind};
use evidence::sound::decode::Channel;
use evidence::sound::listen::{Heard, HeardPass};
use evidence::sound::pass::Pass;
use evidence::sound::shaft::{BaseIs, Settled};
use laws::doppler_pass::doppler_pass;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::{RPM, fault, file_name, on_shaft, paced, settings_at, sound_speed};
use crate::bench::Bench;
use crate::beneath::open;
use crate::fault::Fault;
use crate::question::Question;

/// Points of a tone that are told.
const MOST_POINTS: usize = 600;
/// Time each side of a pass over which its curve is told, s, and steps of it.
const CURVE_REACH_S: f64 = 4.0;
const CURVE_STEPS: i32 = 80;

/// What does a recording of the boat's sound tell? What is not given comes from the boat, and from the notes of the
/// outing the recording lies in.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct HearAsk {
    /// The recording.
    #[schema(value_type = String)]
    pub file: PathBuf,
    /// Blades of the propeller.
    pub blades: Option<u32>,
    /// Magnet poles of the motor.
    pub poles: Option<u32>,
    /// Motor turns for one of the propeller.
    pub gear: Option<f64>,
    /// Of the air, degC.
    pub air_temperature_c: Option<Measured>,
    /// Distance from the microphone where it is nearest, m.
    pub closest_m: Option<Measured>,
    /// Lowest and highest speed of the shaft that can be, rad/s.
    pub shaft_rad_s: Option<(f64, f64)>,
    /// The boat does not move: on the bench, or held.
    pub still: Option<bool>,
    /// One channel, from 0, instead of the mean of all.
    pub channel: Option<usize>,
    /// First moment to listen to, s.
    pub from_s: Option<f64>,
    /// Last one, s.
    pub to_s: Option<f64>,
}

/// What a sound told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HearAnswer {
    /// As every recording is told.
    #[serde(flatten)]
    pub analysis: Analysis,
    /// How it was stored.
    pub format: String,
    /// Samples a second.
    pub rate_hz: u32,
    /// How many.
    pub channels: usize,
    /// Tones that stand out of the noise.
    pub tones: Vec<HeardTone>,
    /// Shafts that explain them.
    pub shafts: Vec<HeardShaft>,
    /// Times the boat went by.
    pub passes: Vec<HeardBy>,
    /// Share of samples at full scale.
    pub clipped_part: f64,
    /// Gaps in the recording.
    pub dropouts: u64,
}

/// A tone that stands out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HeardTone {
    /// Its beginning, s.
    pub from_s: f64,
    /// Its end, s.
    pub to_s: f64,
    /// Its usual frequency.
    pub frequency_hz: Option<f64>,
    /// How loud against the noise.
    pub over_noise: Option<f64>,
    /// Natural logarithm of the chance that noise does this.
    pub ln_chance: f64,
    /// Time (s) and frequency (Hz), thinned.
    pub points: Vec<(f64, f64)>,
}

/// A shaft and the tones it makes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HeardShaft {
    /// Its tones.
    pub members: Vec<HeardMember>,
    /// What their common base may be.
    pub readings: Vec<ShaftReading>,
    /// `by_ratios`, `by_range`, `assumed_blade_rate` or `open`.
    pub settled: String,
}

/// A tone of a shaft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct HeardMember {
    /// Place among the tones.
    pub tone: usize,
    /// How many times the base.
    pub order: u32,
}

/// What a base may be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ShaftReading {
    /// `shaft_rate`, `blade_rate` or `electrical_rate`.
    pub base_is: String,
    /// The base over the shaft's rate.
    pub times_shaft: f64,
}

/// One time the boat went by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HeardBy {
    /// About when, s.
    pub near_s: f64,
    /// Place among the shafts.
    pub shaft: usize,
    /// Why nothing could be fitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The tone without the boat's movement.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frequency_hz: Option<Measured>,
    /// When it was nearest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_s: Option<Measured>,
    /// How badly the curve fits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub misfit: Option<f64>,
    /// What the fitted pass sounds like: times (s) and Hz; empty where its distance is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub curve: Option<Vec<(f64, f64)>>,
}

impl Question for HearAsk {
    type Answer = HearAnswer;

    fn answer(&self, bench: &Bench) -> Result<HearAnswer, Fault> {
        let mut settings = settings_at(bench, &self.file)?;
        let gear = self.gear.or(settings.log.gear).unwrap_or(1.0);
        if !(gear.is_finite() && gear > 0.0) {
            return Err(Fault::new(
                format!("a gear of {gear} cannot be"),
                "motor turns for one of the propeller, such as 1.5",
            ));
        }
        let told = settings.hear.listen.sound_speed_m_s;
        let assumed = told
            == evidence::outing::recording::Settings::default()
                .hear
                .listen
                .sound_speed_m_s
            && self.air_temperature_c.is_none();
        let listen = &mut settings.hear.listen;
        listen.drive.blades = self.blades.or(listen.drive.blades);
        if let Some(poles) = self.poles {
            listen.drive.pole_pairs = on_shaft(poles / 2, gear);
        }
        if let Some((low, high)) = self.shaft_rad_s {
            listen.drive.rpm_range = Some((low * RPM, high * RPM));
        }
        if let Some(air) = self.air_temperature_c {
            listen.sound_speed_m_s = sound_speed(air)?;
        }
        listen.closest_m = self.closest_m.map(paced).or(listen.closest_m);
        listen.from_s = self.from_s.unwrap_or(listen.from_s);
        listen.to_s = self.to_s.unwrap_or(listen.to_s);
        settings.hear.still = self.still.unwrap_or(settings.hear.still);
        if let Some(channel) = self.channel {
            settings.channel = Channel::Only(channel);
        }
        let sound_speed_m_s = settings.hear.listen.sound_speed_m_s.value;
        let (mut analysis, heard) =
            measure_sound(&file_name(&self.file), open(&self.file)?, &settings)
                .map_err(|e| fault(&self.file, RecordingKind::Sound, &e))?;
        if assumed && !heard.passes.is_empty() {
            analysis.remarks.push(
                "air of 15 °C ± 12 °C was assumed; say it with --air-temperature: 6 °C are 1 % of speed"
                    .to_owned(),
            );
        }
        Ok(HearAnswer {
            analysis,
            format: heard.info.format.clone(),
            rate_hz: heard.info.rate_hz,
            channels: heard.info.channels,
            tones: tones(&heard),
            shafts: shafts(&heard),
            passes: passes(&heard, sound_speed_m_s),
            clipped_part: heard.quality.clipped_part(),
            dropouts: heard.quality.dropouts,
        })
    }

    fn files(&self) -> Vec<&Path> {
        vec![&self.file]
    }
}

fn tones(heard: &Heard) -> Vec<HeardTone> {
    let one = |t: &evidence::sound::tone::Tone| {
        let (from_s, to_s) = t.span_s();
        let all: Vec<f64> = t.points.iter().map(|p| p.frequency_hz.value).collect();
        let over: Vec<f64> = t.points.iter().map(|p| p.over_noise).collect();
        let points = thinned(&t.points).map(|p| (p.time_s, p.frequency_hz.value));
        HeardTone {
            from_s,
            to_s,
            frequency_hz: evidence::measured::median(&all),
            over_noise: evidence::measured::median(&over),
            ln_chance: t.ln_chance,
            points: points.collect(),
        }
    };
    heard.tones.iter().map(one).collect()
}

/// Few enough to draw.
fn thinned<T>(points: &[T]) -> impl Iterator<Item = &T> {
    points.iter().step_by(points.len() / MOST_POINTS + 1)
}

fn passes(heard: &Heard, sound_speed_m_s: f64) -> Vec<HeardBy> {
    let one = |p: &HeardPass| {
        let fitted = p.pass.as_ref().ok();
        HeardBy {
            near_s: p.near_s,
            shaft: p.rotation,
            why: p.pass.as_ref().err().map(ToString::to_string),
            frequency_hz: fitted.map(|f| f.frequency_hz),
            time_s: fitted.map(|f| f.time_s),
            misfit: fitted.map(|f| f.misfit),
            curve: fitted.map(|f| curve(f, sound_speed_m_s)),
        }
    };
    heard.passes.iter().map(one).collect()
}

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

fn shafts(heard: &Heard) -> Vec<HeardShaft> {
    let one = |r: &evidence::sound::shaft::Rotation| {
        let reading = |x: &evidence::sound::shaft::Reading| {
            let is = match x.base_is {
                BaseIs::ShaftRate => "shaft_rate",
                BaseIs::BladeRate => "blade_rate",
                BaseIs::ElectricalRate => "electrical_rate",
            };
            ShaftReading {
                base_is: is.to_owned(),
                times_shaft: x.times_shaft.into(),
            }
        };
        let settled = match r.settled {
            Settled::ByRatios => "by_ratios",
            Settled::ByRange => "by_range",
            Settled::AssumedBladeRate => "assumed_blade_rate",
            Settled::Open => "open",
        };
        let member = |m: &evidence::sound::shaft::Member| HeardMember {
            tone: m.tone,
            order: m.order,
        };
        HeardShaft {
            members: r.members.iter().map(member).collect(),
            readings: r.readings.iter().map(reading).collect(),
            settled: settled.to_owned(),
        }
    };
    heard.rotations.iter().map(one).collect()
}
