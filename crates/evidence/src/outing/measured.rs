//! What the recordings of an outing measured: the form of `measured.json`.
//!
//! One list of values. Each says what it is, in which SI unit, how sure it is (one standard
//! uncertainty), which recording and method it comes from, when it holds on that recording's own
//! clock, and under which condition of the boat. Angles are radians, shaft speeds rad/s,
//! temperatures degC.

use crate::clock::EventKind;
use crate::measured::Measured;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The form written by this version.
pub const FORMAT: u32 = 1;

/// Everything measured on one outing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredOuting)]
pub struct Outing {
    /// [`FORMAT`].
    pub format: u32,
    /// Day, as the folder is named: `2026-05-17`.
    pub date: String,
    /// Build that was run, as in `builds/`; `None` for the boat as it is now.
    #[serde(default)]
    pub build: Option<String>,
    /// The recordings are made up, not taken on the water.
    #[serde(default)]
    pub invented: bool,
    /// Recordings of the outing, by file name.
    pub recordings: Vec<Recording>,
    /// What they measured.
    pub quantities: Vec<MeasuredValue>,
    /// What happened, each on its recording's own clock.
    pub events: Vec<RecordedEvent>,
    /// Each recording's clock against the first of them that could be joined.
    pub clocks: Vec<Clock>,
}

/// One recording and what became of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = OutingRecording)]
pub struct Recording {
    /// File name within the outing's folder.
    pub file: String,
    /// What it is.
    pub kind: RecordingKind,
    /// Size, bytes.
    pub bytes: u64,
    /// SHA-256 of its bytes, hexadecimal: proof that it is the one measured.
    pub sha256: String,
    /// First and last moment on its own clock, s.
    #[serde(default)]
    pub span_s: Option<(f64, f64)>,
    /// Start, s since 1970 UTC, where the recording knows it.
    #[serde(default)]
    pub start_unix_s: Option<f64>,
    /// What is to be known about it: faults, assumptions, what was passed over.
    #[serde(default)]
    pub remarks: Vec<String>,
    /// Why nothing (more) could be measured on it.
    #[serde(default)]
    pub trouble: Option<String>,
}

/// Kinds of recording.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecordingKind {
    /// Sound, alone or in a film.
    Sound,
    /// Marks set on the frames of a film.
    Marks,
    /// A receiver's track.
    Track,
    /// A controller's or motion log.
    Log,
    /// Servo pulses.
    Pulses,
    /// Anything else: a picture, a note.
    Other,
}

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum QuantityKind {
    /// Speed over the water or ground, m/s.
    Speed,
    /// Speed of the propeller shaft, rad/s.
    ShaftSpeed,
    /// Battery current, A.
    Current,
    /// Battery voltage, V.
    Voltage,
    /// Battery power, W.
    Power,
    /// Charge drawn, C.
    Charge,
    /// Temperature of the motor, degC.
    MotorTemperature,
    /// Temperature of the controller, degC.
    ControllerTemperature,
    /// Temperature of something else that the log does not name, degC.
    OtherTemperature,
    /// Throttle, 0 to 1.
    Throttle,
    /// Trim, bow up positive, rad.
    Trim,
    /// Heel, starboard down positive, rad.
    Heel,
    /// Frequency of regular hopping, Hz.
    HopFrequency,
    /// Amplitude of the felt acceleration of a hop, m/s2.
    HopAcceleration,
    /// Peak felt acceleration of a landing, m/s2.
    LandingAcceleration,
    /// Time in the air before a landing, s.
    FlightTime,
    /// Radius of a turn, m.
    TurnRadius,
    /// Sideways acceleration in a turn, m/s2.
    LateralAcceleration,
    /// Closest distance of a pass from the microphone, m.
    PassDistance,
    /// Duration of a lap, s.
    LapTime,
    /// Length of the way run, m.
    Distance,
    /// Width of a servo's pulses, s.
    PulseWidth,
    /// Time from one servo pulse to the next, s.
    FramePeriod,
    /// Time constant of a servo signal's edges, s.
    EdgeTimeConstant,
}

impl QuantityKind {
    /// The unit its values are in.
    pub fn unit(self) -> Unit {
        match self {
            Self::Speed => Unit::MetrePerSecond,
            Self::ShaftSpeed => Unit::RadianPerSecond,
            Self::Current => Unit::Ampere,
            Self::Voltage => Unit::Volt,
            Self::Power => Unit::Watt,
            Self::Charge => Unit::Coulomb,
            Self::MotorTemperature | Self::ControllerTemperature | Self::OtherTemperature => {
                Unit::DegreeCelsius
            }
            Self::Throttle => Unit::One,
            Self::Trim | Self::Heel => Unit::Radian,
            Self::HopFrequency => Unit::Hertz,
            Self::HopAcceleration | Self::LandingAcceleration | Self::LateralAcceleration => {
                Unit::MetrePerSecondSquared
            }
            Self::TurnRadius | Self::PassDistance | Self::Distance => Unit::Metre,
            Self::FlightTime
            | Self::LapTime
            | Self::PulseWidth
            | Self::FramePeriod
            | Self::EdgeTimeConstant => Unit::Second,
        }
    }
}

/// Units of `measured.json`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredUnit)]
pub enum Unit {
    /// m/s.
    #[serde(rename = "m/s")]
    MetrePerSecond,
    /// rad/s.
    #[serde(rename = "rad/s")]
    RadianPerSecond,
    /// A.
    #[serde(rename = "A")]
    Ampere,
    /// V.
    #[serde(rename = "V")]
    Volt,
    /// W.
    #[serde(rename = "W")]
    Watt,
    /// C.
    #[serde(rename = "C")]
    Coulomb,
    /// degC.
    #[serde(rename = "degC")]
    DegreeCelsius,
    /// A plain number.
    #[serde(rename = "1")]
    One,
    /// rad.
    #[serde(rename = "rad")]
    Radian,
    /// Hz.
    #[serde(rename = "Hz")]
    Hertz,
    /// m/s2.
    #[serde(rename = "m/s2")]
    MetrePerSecondSquared,
    /// m.
    #[serde(rename = "m")]
    Metre,
    /// s.
    #[serde(rename = "s")]
    Second,
}

/// One measured value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredValue)]
pub struct Value {
    /// What it is.
    pub kind: QuantityKind,
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty, same unit.
    pub sigma: f64,
    /// Unit of both; always that of the kind.
    pub unit: Unit,
    /// How the value stands for its time: an extreme is no mean.
    pub statistic: Statistic,
    /// Where it comes from.
    pub from: Source,
    /// When it holds, on the recording's own clock; `None` for the whole recording.
    #[serde(default)]
    pub window: Option<Window>,
    /// What the boat was doing.
    pub condition: Condition,
    /// What must be known to use it: an assumption, a doubt.
    #[serde(default)]
    pub remark: Option<String>,
}

/// [`Value`] under the name it has in descriptions of answers: there a `Value` is taken for anything.
pub type MeasuredValue = Value;

impl Value {
    /// A value of a kind, in the kind's unit.
    pub fn new(
        kind: QuantityKind,
        measured: Measured,
        statistic: Statistic,
        from: Source,
        condition: Condition,
    ) -> Self {
        Self {
            kind,
            value: measured.value,
            sigma: measured.sigma,
            unit: kind.unit(),
            statistic,
            from,
            window: None,
            condition,
            remark: None,
        }
    }

    /// The same between two times.
    #[must_use]
    pub fn during(mut self, from_s: f64, to_s: f64) -> Self {
        self.window = Some(Window { from_s, to_s });
        self
    }

    /// The same with a remark.
    #[must_use]
    pub fn remarked(mut self, remark: impl Into<String>) -> Self {
        self.remark = Some(remark.into());
        self
    }

    /// Value and sigma.
    pub fn measured(&self) -> Measured {
        Measured::new(self.value, self.sigma)
    }
}

/// How a value stands for its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = MeasuredStatistic)]
pub enum Statistic {
    /// Mean or median while steady.
    Steady,
    /// The highest mean over the window's length.
    BestHeld,
    /// The highest single value.
    Peak,
    /// The lowest single value.
    Least,
    /// The mean of two opposite runs.
    TwoWay,
    /// A total.
    Total,
    /// The last value.
    Last,
}

/// Recording and method.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredBy)]
pub struct Source {
    /// File name of the recording.
    pub recording: String,
    /// Method in plain words: `sound, fly-by`, `track, receiver's speed`.
    pub method: String,
    /// Which of several of a kind, from 1: the second motor heard is 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub which: Option<u32>,
}

/// A time window on the recording's own clock.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredWindow)]
pub struct Window {
    /// First moment, s.
    pub from_s: f64,
    /// Last moment, s.
    pub to_s: f64,
}

/// What the boat was doing; unknown where the recording does not tell.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[schema(as = MeasuredCondition)]
pub struct Condition {
    /// How it moved.
    pub motion: Doing,
    /// Throttle, 0 to 1.
    #[serde(default)]
    pub throttle: Option<f64>,
    /// Speed in the same window, m/s.
    #[serde(default)]
    pub speed_m_s: Option<f64>,
}

impl Condition {
    /// Moving so, nothing else known.
    pub fn of(motion: Doing) -> Self {
        Self {
            motion,
            ..Self::default()
        }
    }
}

/// What a boat is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = MeasuredMotion)]
pub enum Doing {
    /// The recording does not tell.
    #[default]
    Unknown,
    /// Lying still.
    AtRest,
    /// From rest to speed.
    Launch,
    /// Straight ahead.
    Straight,
    /// Turning to port.
    TurnToPort,
    /// Turning to starboard.
    TurnToStarboard,
    /// In the air or just down from it.
    Airborne,
    /// All of the recording, whatever happened.
    Whole,
}

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecordedEvent {
    /// File name of the recording.
    pub recording: String,
    /// What.
    pub kind: EventKind,
    /// Number among its kind in that recording, from 1.
    pub number: u32,
    /// When on the recording's clock, s.
    pub time_s: Measured,
}

/// A recording's clock against another's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = SharedClock)]
pub struct Clock {
    /// File name of the recording.
    pub recording: String,
    /// File name of the one it is held against.
    pub against: String,
    /// Add this to the recording's times to get the other's, s.
    pub offset_s: Measured,
    /// Events both show; 0 where both know the time of day.
    pub shared: usize,
    /// What to know about it.
    #[serde(default)]
    pub remark: Option<String>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_reads_back_as_written_and_old_files_lack_what_came_later() {
        let from = Source {
            recording: "pass.wav".into(),
            method: "sound, fly-by".into(),
            which: None,
        };
        let condition = Condition::of(Doing::Straight);
        let speed = Value::new(
            QuantityKind::Speed,
            Measured::new(12.5, 0.1),
            Statistic::Steady,
            from,
            condition,
        )
        .during(1.0, 4.0);
        let text = serde_json::to_string(&speed).unwrap();
        assert!(text.contains(r#""kind":"speed","value":12.5,"sigma":0.1,"unit":"m/s""#));
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), speed);
        let short = r#"{"kind":"shaft_speed","value":1.0,"sigma":0.1,"unit":"rad/s",
            "statistic":"steady","from":{"recording":"a","method":"b"},"condition":{"motion":"straight"}}"#;
        let read: Value = serde_json::from_str(short).unwrap();
        assert_eq!((read.window, read.condition.throttle), (None, None));
    }
}
