//! Every law by name: what it takes, what it gives, where it holds, and a way to run it.
//!
//! Adding a law is one entry in a file of [`catalogue`](self) beside one file for the law. Values
//! go in and out in the unit of their [`Kind`]: SI, with radians and kelvin; faces convert.

mod air_surfaces;
mod drives;
mod electrics;
mod heat;
mod planing;
mod propulsion;
mod recordings;
mod shafts;
mod structure;
mod water;

use crate::input::InputError;
use crate::notes::Notes;
use crate::prismatic_planing::PrismaticError;
use std::fmt;

/// What a number measures, and so its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// m.
    Length,
    /// m2.
    Area,
    /// kg.
    Mass,
    /// m/s.
    Speed,
    /// m/s2.
    Acceleration,
    /// rad; degrees at a face.
    Angle,
    /// K; degC at a face.
    Temperature,
    /// A plain number.
    Dimensionless,
    /// A whole number.
    Count,
    /// ohm.
    Resistance,
    /// V.
    Voltage,
    /// A.
    Current,
    /// A s (C); A h is 3600 of them.
    Charge,
    /// rpm/V, by the trade's custom: the one unit here that is not SI.
    MotorConstant,
    /// rad/s.
    RotationSpeed,
    /// N m.
    Torque,
    /// N.
    Force,
    /// W.
    Power,
    /// kg/m3.
    Density,
    /// m2/s.
    KinematicViscosity,
    /// Pa.
    Pressure,
    /// N/m.
    SurfaceTension,
    /// m4.
    SecondMoment,
    /// 1/s; discharge rates are given per hour as a plain number.
    Frequency,
    /// s.
    Time,
    /// F.
    Capacitance,
    /// Pa s.
    DynamicViscosity,
    /// W/(m K).
    Conductivity,
    /// W/(m2 K).
    HeatTransfer,
    /// W/K.
    Conductance,
    /// m3/s.
    Flow,
    /// rpm, where the trade's own number is asked for; elsewhere rad/s.
    Rpm,
    /// One of these words, given as its place in the list.
    Choice(&'static [&'static str]),
}

impl Kind {
    /// The unit values of this kind have in this crate; empty for plain numbers.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Length => "m",
            Self::Area => "m2",
            Self::Mass => "kg",
            Self::Speed => "m/s",
            Self::Acceleration => "m/s2",
            Self::Angle => "rad",
            Self::Temperature => "K",
            Self::Dimensionless | Self::Count => "",
            Self::Resistance => "ohm",
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Charge => "C",
            Self::MotorConstant => "rpm/V",
            Self::RotationSpeed => "rad/s",
            Self::Torque => "N m",
            Self::Force => "N",
            Self::Power => "W",
            Self::Density => "kg/m3",
            Self::KinematicViscosity => "m2/s",
            Self::Pressure => "Pa",
            Self::SurfaceTension => "N/m",
            Self::SecondMoment => "m4",
            Self::Frequency => "1/s",
            Self::Time => "s",
            Self::Capacitance => "F",
            Self::DynamicViscosity => "Pa s",
            Self::Conductivity => "W/(m K)",
            Self::HeatTransfer => "W/(m2 K)",
            Self::Conductance => "W/K",
            Self::Flow => "m3/s",
            Self::Rpm => "rpm",
            Self::Choice(_) => "",
        }
    }

    /// True when only whole numbers make sense.
    pub fn is_whole(self) -> bool {
        matches!(self, Self::Count | Self::Choice(_))
    }
}

/// Values an input may have, in the unit of its kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bounds {
    /// Any finite number.
    Any,
    /// Above zero.
    Positive,
    /// Zero or more.
    NotNegative,
    /// Both ends included.
    Within(f64, f64),
}

impl Bounds {
    /// True for a finite value inside.
    pub fn allow(self, value: f64) -> bool {
        value.is_finite()
            && match self {
                Self::Any => true,
                Self::Positive => value > 0.0,
                Self::NotNegative => value >= 0.0,
                Self::Within(low, high) => (low..=high).contains(&value),
            }
    }
}

impl fmt::Display for Bounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Any => f.write_str("any finite number"),
            Self::Positive => f.write_str("above 0"),
            Self::NotNegative => f.write_str("0 or more"),
            Self::Within(low, high) => write!(f, "from {low} to {high}"),
        }
    }
}

/// Whether an input must be given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Need {
    /// It must.
    Required,
    /// Taken as this when not given.
    Default(f64),
    /// Exactly one of the inputs so marked must be given.
    OneOf,
}

/// An input of a law.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// Its key.
    pub key: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// Values accepted.
    pub bounds: Bounds,
    /// Whether it must be given.
    pub need: Need,
    /// One line on what it is.
    pub doc: &'static str,
}

/// An output of a law.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Output {
    /// Its key.
    pub key: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// One line on what it is.
    pub doc: &'static str,
}

/// What a law has been held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Checked {
    /// Published measurements or a standard resting on them.
    Measurement,
    /// A published fit, worked example or closed form only.
    Theory,
    /// Nothing outside the project.
    NotAtAll,
}

impl fmt::Display for Checked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Measurement => "against measurement",
            Self::Theory => "against theory only",
            Self::NotAtAll => "not at all",
        })
    }
}

/// A law of the catalogue.
#[derive(Debug, Clone, Copy)]
pub struct Law {
    /// Name at the command line.
    pub name: &'static str,
    /// One line on what it answers.
    pub summary: &'static str,
    /// Inputs, in the order to show them.
    pub inputs: &'static [Input],
    /// Outputs, in the order to show them.
    pub outputs: &'static [Output],
    /// Where it holds.
    pub validity: &'static str,
    /// Who published it.
    pub source: &'static str,
    /// What it has been held against.
    pub checked: Checked,
    run: fn(&Values<'_>) -> Result<Told, EvaluateError>,
}

/// A law's answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Evaluated {
    /// Inputs used, with defaults filled in.
    pub inputs: Vec<(&'static str, f64)>,
    /// Outputs in the catalogue's order.
    pub outputs: Vec<(&'static str, f64)>,
    /// Within the law's range.
    pub in_range: bool,
    /// Remarks.
    pub notes: Vec<String>,
}

/// Why a law was not run.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EvaluateError {
    /// No such input.
    #[error("{law} has no input {key}; it takes {}", .accepted.join(", "))]
    UnknownKey {
        /// Name of the law.
        law: &'static str,
        /// Key given.
        key: String,
        /// Keys it takes.
        accepted: Vec<&'static str>,
    },
    /// A key was given twice.
    #[error("{key} is given twice")]
    Repeated {
        /// The key.
        key: &'static str,
    },
    /// Inputs that must be given were not.
    #[error("{law} also needs {}", .keys.join(", "))]
    Missing {
        /// Name of the law.
        law: &'static str,
        /// Keys not given.
        keys: Vec<&'static str>,
    },
    /// None or more than one of a group was given.
    #[error("{law} needs exactly one of {}; {} given", .keys.join(", "), if .given.is_empty() { "none was".to_owned() } else { format!("{} were", .given.join(" and ")) })]
    ExactlyOne {
        /// Name of the law.
        law: &'static str,
        /// Keys of the group.
        keys: Vec<&'static str>,
        /// Those given.
        given: Vec<&'static str>,
    },
    /// A value that cannot be.
    #[error("{key} is {given} {unit}, but must be {bounds}")]
    OutOfBounds {
        /// The key.
        key: &'static str,
        /// Value given, in the unit of its kind.
        given: f64,
        /// That unit.
        unit: &'static str,
        /// The kind, for faces with other units.
        kind: Kind,
        /// What is accepted.
        bounds: Bounds,
    },
    /// The law itself refused a value.
    #[error(transparent)]
    Refused(#[from] InputError),
    /// The prismatic hull has no one answer.
    #[error(transparent)]
    Prismatic(PrismaticError),
}

impl From<PrismaticError> for EvaluateError {
    fn from(e: PrismaticError) -> Self {
        match e {
            PrismaticError::Input(input) => Self::Refused(input),
            other => Self::Prismatic(other),
        }
    }
}

/// All laws, in the order to list them.
pub static LAWS: &[Law] = &[
    water::FRESH_WATER,
    air_surfaces::AIR,
    water::FRICTION_LINE,
    planing::PLANING_SURFACE,
    planing::STRIP_PLANING,
    planing::PRISMATIC_PLANING,
    planing::PORPOISING_LIMIT,
    planing::RESIDUARY,
    air_surfaces::WING,
    air_surfaces::CHANNEL_FLOW,
    water::STRUT_DRAG,
    water::SHAFT_DRAG,
    water::SOFT_EDGE,
    water::TRIM_TAB,
    water::SURFACE_BLADE,
    water::WEDGE_DRAG,
    propulsion::OPEN_WATER,
    propulsion::VENTILATED_PLATE,
    propulsion::IMMERSED_DISC,
    propulsion::SURFACE_PROPELLER,
    propulsion::SURFACE_LOSS,
    propulsion::HULL_SUCTION,
    propulsion::CAVITATION,
    shafts::SHAFT_WHIRL,
    shafts::BLADE_STRESS,
    drives::DRIVELINE,
    electrics::MOTOR_POINT,
    drives::DRIVE_CIRCUIT,
    electrics::CELL,
    electrics::CELL_SETTLING,
    heat::CONTROLLER_LOSS,
    heat::MOTOR_HEAT,
    heat::HEAT_RUN,
    heat::PIPE_FLOW,
    heat::TUBE_HEAT,
    heat::INSULATION_LIMIT,
    heat::MAGNET_LIMIT,
    structure::BEAM,
    structure::CLOSED_TUBE,
    structure::OPEN_STRIP,
    structure::PLATE,
    structure::LAP_JOINT,
    structure::ENTRY_PRESSURE,
    structure::CRUSH,
    structure::PRINTED_STRENGTH,
    structure::BOLTED_BRACKET,
    recordings::DOPPLER_PASS,
    recordings::PULSE_EDGE,
];

/// The law of that name.
pub fn find(name: &str) -> Option<&'static Law> {
    LAWS.iter().find(|l| l.name == name)
}

impl Law {
    /// Runs the law on values in the units of their kinds.
    ///
    /// # Errors
    /// [`EvaluateError`].
    pub fn evaluate(&self, given: &[(&str, f64)]) -> Result<Evaluated, EvaluateError> {
        let values = Values::collect(self, given)?;
        let run = (self.run)(&values)?;
        debug_assert_eq!(run.outputs.len(), self.outputs.len(), "{}", self.name);
        let used = self
            .inputs
            .iter()
            .zip(&values.values)
            .filter_map(|(i, v)| Some((i.key, (*v)?)));
        Ok(Evaluated {
            inputs: used.collect(),
            outputs: self
                .outputs
                .iter()
                .zip(run.outputs)
                .map(|(o, v)| (o.key, v))
                .collect(),
            in_range: run.in_range,
            notes: run.notes.iter().map(str::to_owned).collect(),
        })
    }

    /// Keys of which exactly one must be given; empty when there is no such choice.
    pub fn one_of(&self) -> Vec<&'static str> {
        self.keys(|need| need == Need::OneOf)
    }

    fn keys(&self, wanted: impl Fn(Need) -> bool) -> Vec<&'static str> {
        self.inputs
            .iter()
            .filter(|i| wanted(i.need))
            .map(|i| i.key)
            .collect()
    }
}

/// What a law's adapter gives back, outputs in the catalogue's order.
struct Told {
    outputs: Vec<f64>,
    in_range: bool,
    notes: Notes,
}

impl Told {
    fn new(outputs: &[f64], in_range: bool) -> Self {
        Self {
            outputs: outputs.to_vec(),
            in_range,
            notes: Notes::default(),
        }
    }

    fn with(self, notes: Notes) -> Self {
        Self { notes, ..self }
    }
}

/// Checked inputs of a law.
struct Values<'a> {
    law: &'a Law,
    values: Vec<Option<f64>>,
}

impl<'a> Values<'a> {
    fn collect(law: &'a Law, given: &[(&str, f64)]) -> Result<Self, EvaluateError> {
        let mut values = vec![None; law.inputs.len()];
        for (key, value) in given {
            let i = position(law, key)?;
            let key = law.inputs[i].key;
            if values[i]
                .replace(bounded(&law.inputs[i], *value)?)
                .is_some()
            {
                return Err(EvaluateError::Repeated { key });
            }
        }
        let mut collected = Self { law, values };
        collected.complete()?;
        Ok(collected)
    }

    /// Fills defaults in and refuses gaps.
    fn complete(&mut self) -> Result<(), EvaluateError> {
        for (input, value) in self.law.inputs.iter().zip(&mut self.values) {
            if let (Need::Default(d), None) = (input.need, &value) {
                *value = Some(d);
            }
        }
        let law = self.law.name;
        let missing = self.law.keys(|n| n == Need::Required);
        let missing: Vec<_> = missing
            .into_iter()
            .filter(|k| self.maybe(k).is_none())
            .collect();
        if !missing.is_empty() {
            return Err(EvaluateError::Missing { law, keys: missing });
        }
        let keys = self.law.one_of();
        let given: Vec<_> = keys
            .iter()
            .copied()
            .filter(|k| self.maybe(k).is_some())
            .collect();
        if !keys.is_empty() && given.len() != 1 {
            return Err(EvaluateError::ExactlyOne { law, keys, given });
        }
        Ok(())
    }

    fn maybe(&self, key: &str) -> Option<f64> {
        position(self.law, key).ok().and_then(|i| self.values[i])
    }

    /// A required or defaulted input.
    fn get(&self, key: &str) -> f64 {
        self.maybe(key)
            .unwrap_or_else(|| unreachable!("{} declares no {key}", self.law.name))
    }
}

fn position(law: &Law, key: &str) -> Result<usize, EvaluateError> {
    law.inputs
        .iter()
        .position(|i| i.key == key)
        .ok_or_else(|| EvaluateError::UnknownKey {
            law: law.name,
            key: key.to_owned(),
            accepted: law.keys(|_| true),
        })
}

fn bounded(input: &Input, given: f64) -> Result<f64, EvaluateError> {
    let Input {
        key, kind, bounds, ..
    } = *input;
    if bounds.allow(given) && (!kind.is_whole() || given.fract() == 0.0) {
        return Ok(given);
    }
    Err(EvaluateError::OutOfBounds {
        key,
        given,
        unit: kind.unit(),
        kind,
        bounds,
    })
}

const fn input(key: &'static str, kind: Kind, bounds: Bounds, doc: &'static str) -> Input {
    Input {
        key,
        kind,
        bounds,
        need: Need::Required,
        doc,
    }
}

const fn optional(input: Input, default: f64) -> Input {
    Input {
        need: Need::Default(default),
        ..input
    }
}

const fn one_of(input: Input) -> Input {
    Input {
        need: Need::OneOf,
        ..input
    }
}

/// An input that is one of some words, the first being the default.
const fn choice(key: &'static str, words: &'static [&'static str], doc: &'static str) -> Input {
    let bounds = Bounds::Within(0.0, words.len() as f64 - 1.0);
    optional(input(key, Kind::Choice(words), bounds, doc), 0.0)
}

const fn output(key: &'static str, kind: Kind, doc: &'static str) -> Output {
    Output { key, kind, doc }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(law: &Law) -> Vec<(&'static str, f64)> {
        let usable = |b: Bounds| match b {
            Bounds::Within(low, high) => 0.5 * (low + high),
            _ => 1.0,
        };
        let whole = |i: &Input| {
            match i.kind {
                Kind::Count => usable(i.bounds).floor(),
                // Thresholds lie below the drive.
                _ if i.key == "drive" => 3.0,
                _ => usable(i.bounds),
            }
        };
        let first = law.one_of().first().copied();
        let wanted = |i: &&Input| i.need == Need::Required || Some(i.key) == first;
        law.inputs
            .iter()
            .filter(wanted)
            .map(|i| (i.key, whole(i)))
            .collect()
    }

    #[test]
    fn names_and_keys_are_unique_and_described() {
        for (i, law) in LAWS.iter().enumerate() {
            assert!(LAWS[i + 1..].iter().all(|l| l.name != law.name));
            assert!(![law.summary, law.validity, law.source].contains(&""));
            let keys = law.keys(|_| true);
            assert!((0..keys.len()).all(|k| !keys[k + 1..].contains(&keys[k])));
            assert!(
                law.inputs.iter().all(|i| !i.doc.is_empty())
                    && law.outputs.iter().all(|o| !o.doc.is_empty())
            );
        }
    }

    #[test]
    fn every_law_runs_and_answers_in_full() {
        for law in LAWS.iter().filter(|l| l.name != "prismatic-planing") {
            let e = law
                .evaluate(&plain(law))
                .unwrap_or_else(|e| panic!("{}: {e}", law.name));
            assert_eq!(e.outputs.len(), law.outputs.len());
            assert!(
                e.outputs.iter().all(|(_, v)| v.is_finite()),
                "{} {e:?}",
                law.name
            );
        }
    }

    #[test]
    fn every_default_is_allowed() {
        for i in LAWS.iter().flat_map(|l| l.inputs) {
            if let Need::Default(d) = i.need {
                assert!(i.bounds.allow(d), "{}", i.key);
            }
        }
    }

    #[test]
    fn mistakes_say_what_would_be_right() {
        let motor = find("motor-point").unwrap();
        let base = [
            ("kv_rpm_per_volt", 2000.0),
            ("resistance", 0.01),
            ("no_load_current", 2.0),
            ("voltage", 14.8),
        ];
        let say = |extra: &[(&str, f64)]| {
            motor
                .evaluate(&[&base[..], extra].concat())
                .unwrap_err()
                .to_string()
        };
        assert_eq!(
            say(&[]),
            "motor-point needs exactly one of current, shaft_speed, torque; none was given"
        );
        assert_eq!(
            say(&[("current", 1.0), ("torque", 1.0)]),
            "motor-point needs exactly one of current, shaft_speed, torque; current and torque were given"
        );
        assert!(
            say(&[("curent", 1.0)])
                .starts_with("motor-point has no input curent; it takes kv_rpm_per_volt,")
        );
        assert_eq!(say(&[("voltage", 1.0)]), "voltage is given twice");
        assert_eq!(
            motor.evaluate(&base[1..]).unwrap_err().to_string(),
            "motor-point also needs kv_rpm_per_volt"
        );
        let open = find("open-water").unwrap();
        let two_and_a_half = [
            ("blades", 2.5),
            ("area_ratio", 0.4),
            ("pitch_ratio", 1.0),
            ("advance", 0.5),
        ];
        assert!(matches!(
            open.evaluate(&two_and_a_half),
            Err(EvaluateError::OutOfBounds { key: "blades", .. })
        ));
    }

    #[test]
    fn prismatic_planing_runs_by_name() {
        let law = find("prismatic-planing").unwrap();
        let e = law
            .evaluate(&[
                ("mass", 1.8),
                ("lcg", 0.2),
                ("vcg", 0.03),
                ("beam", 0.2),
                ("deadrise", 0.2),
                ("speed", 8.0),
            ])
            .unwrap();
        assert!(e.outputs[0].0 == "trim" && e.outputs[0].1 > 0.0);
    }
}
