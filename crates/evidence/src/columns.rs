//! What a column of a log is, told from its heading and unit, for the builder to confirm.
//!
//! A proposal carries a confidence and the reason for it; nothing is used before the builder agrees.
//! A confirmed [`Mapping`] is kept by its [`fingerprint`] and offered again for the same logger.

use crate::table::Table;
use laws::constants::GRAVITY_M_S2;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a column holds. Values are turned into the unit named here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = ColumnQuantity)]
pub enum Quantity {
    /// s.
    Time,
    /// rpm of the shaft.
    Rpm,
    /// Electrical rpm: shaft rpm times pole pairs.
    ElectricalRpm,
    /// V.
    Voltage,
    /// A.
    Current,
    /// W.
    Power,
    /// A h drawn.
    ChargeDrawn,
    /// Temperature of the motor, degC.
    MotorTemperature,
    /// Temperature of the controller, degC.
    ControllerTemperature,
    /// Any other temperature, degC.
    Temperature,
    /// 0 to 1.
    Throttle,
    /// Forward acceleration, m/s2.
    AccelerationX,
    /// Sideways acceleration, m/s2.
    AccelerationY,
    /// Vertical acceleration, m/s2.
    AccelerationZ,
    /// Roll rate, rad/s.
    RateX,
    /// Pitch rate, rad/s.
    RateY,
    /// Yaw rate, rad/s.
    RateZ,
    /// Pitch (trim), rad.
    Pitch,
    /// Heel, rad.
    Heel,
    /// m/s.
    Speed,
    /// Degrees north.
    Latitude,
    /// Degrees east.
    Longitude,
    /// Course over ground, rad from north.
    Course,
    /// m.
    Altitude,
    /// Horizontal dilution of precision.
    Dilution,
}

impl Quantity {
    /// Every one, in the order above.
    pub const ALL: &'static [Self] = &[
        Self::Time,
        Self::Rpm,
        Self::ElectricalRpm,
        Self::Voltage,
        Self::Current,
        Self::Power,
        Self::ChargeDrawn,
        Self::MotorTemperature,
        Self::ControllerTemperature,
        Self::Temperature,
        Self::Throttle,
        Self::AccelerationX,
        Self::AccelerationY,
        Self::AccelerationZ,
        Self::RateX,
        Self::RateY,
        Self::RateZ,
        Self::Pitch,
        Self::Heel,
        Self::Speed,
        Self::Latitude,
        Self::Longitude,
        Self::Course,
        Self::Altitude,
        Self::Dilution,
    ];
}

/// A proposed or confirmed reading of one column.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = LogColumn)]
pub struct Proposal {
    /// Column, from 0.
    pub column: usize,
    /// Its heading.
    pub heading: String,
    /// What it holds.
    pub quantity: Quantity,
    /// Value = cell times this ...
    pub factor: f64,
    /// ... plus this.
    pub offset: f64,
    /// 0 to 1.
    pub confidence: f64,
    /// Why, and what was assumed.
    pub reason: String,
}

/// Readings of a log's columns.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[schema(as = LogMapping)]
pub struct Mapping {
    /// Fingerprint of the headings it was made for.
    pub fingerprint: String,
    /// Columns that are read; others are left alone.
    pub columns: Vec<Proposal>,
    /// The builder has agreed.
    pub confirmed: bool,
}

impl Mapping {
    /// The column that holds a quantity, in the quantity's unit.
    pub fn values(&self, table: &Table, quantity: Quantity) -> Option<Vec<f64>> {
        let p = self.columns.iter().find(|p| p.quantity == quantity)?;
        let column = table.columns.get(p.column)?;
        Some(
            column
                .values
                .iter()
                .map(|v| v * p.factor + p.offset)
                .collect(),
        )
    }
}

/// Why a column cannot be read as asked.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AssignError {
    /// No such heading.
    #[error("there is no column `{heading}`; there are: {there_are}")]
    NoHeading {
        /// Asked for.
        heading: String,
        /// Headings of the table.
        there_are: String,
    },
    /// No such unit.
    #[error("`{unit}` is no unit of this; known are: {known}")]
    NoUnit {
        /// Asked for.
        unit: String,
        /// What would be right.
        known: String,
    },
}

impl Mapping {
    /// Reads the column under a heading as the builder says, in place of what was proposed; `None`
    /// leaves it alone. A quantity is read from one column only.
    ///
    /// # Errors
    /// [`AssignError`].
    pub fn assign(
        &mut self,
        table: &Table,
        heading: &str,
        what: Option<(Quantity, Option<&str>)>,
    ) -> Result<(), AssignError> {
        let same = |c: &crate::table::Column| c.name.eq_ignore_ascii_case(heading.trim());
        let column = table.columns.iter().position(same).ok_or_else(|| {
            let all: Vec<&str> = table.columns.iter().map(|c| c.name.as_str()).collect();
            AssignError::NoHeading {
                heading: heading.to_owned(),
                there_are: all.join(", "),
            }
        })?;
        let proposal = match what {
            Some((quantity, unit)) => Some(said(table, column, quantity, unit)?),
            None => None,
        };
        let quantity = proposal.as_ref().map(|p| p.quantity);
        self.columns
            .retain(|p| p.column != column && Some(p.quantity) != quantity);
        self.columns.extend(proposal);
        self.columns.sort_by_key(|p| p.column);
        Ok(())
    }
}

/// What the builder says of a column; the unit of its heading unless another is given.
fn said(
    table: &Table,
    column: usize,
    quantity: Quantity,
    unit: Option<&str>,
) -> Result<Proposal, AssignError> {
    let known = units_of(quantity);
    let of = &table.columns[column];
    let find = |u: &str| known.iter().find(|k| k.0 == plain_unit(u)).copied();
    let taken = match unit {
        Some(u) => find(u).ok_or_else(|| AssignError::NoUnit {
            unit: u.to_owned(),
            known: known.iter().map(|k| k.0).collect::<Vec<_>>().join(", "),
        })?,
        None => of
            .unit
            .as_deref()
            .and_then(find)
            .unwrap_or_else(|| likely_unit(quantity, known, &of.values)),
    };
    Ok(Proposal {
        column,
        heading: of.name.clone(),
        quantity,
        factor: taken.1,
        offset: taken.2,
        confidence: 1.0,
        reason: format!("said by the builder, in {}", taken.0),
    })
}

/// Headings and units of a log in one line: the same for every log of one logger.
pub fn fingerprint(table: &Table) -> String {
    let one = |c: &crate::table::Column| {
        let unit = c.unit.as_deref().unwrap_or("");
        format!("{}[{unit}]", c.name.to_lowercase())
    };
    table.columns.iter().map(one).collect::<Vec<_>>().join("|")
}

/// Words that name a quantity; all words of one entry must be in the heading. The first match in
/// this order is taken, so that `motor temp` is not any temperature and `erpm` is not rpm.
const WORDS: &[(&[&str], Quantity)] = &[
    (&["erpm"], Quantity::ElectricalRpm),
    (&["electrical", "rpm"], Quantity::ElectricalRpm),
    (&["elec", "rpm"], Quantity::ElectricalRpm),
    (&["rpm"], Quantity::Rpm),
    (&["revs"], Quantity::Rpm),
    (&["drehzahl"], Quantity::Rpm),
    (&["umdrehungen"], Quantity::Rpm),
    (&["toerental"], Quantity::Rpm),
    (&["varvtal"], Quantity::Rpm),
    (&["obroty"], Quantity::Rpm),
    (&["régime"], Quantity::Rpm),
    (&["headspeed"], Quantity::Rpm),
    (&["tmot"], Quantity::MotorTemperature),
    (&["tesc"], Quantity::ControllerTemperature),
    (&["tfet"], Quantity::ControllerTemperature),
    (&["t", "motor"], Quantity::MotorTemperature),
    (&["t", "mot"], Quantity::MotorTemperature),
    (&["t", "esc"], Quantity::ControllerTemperature),
    (&["t", "fet"], Quantity::ControllerTemperature),
    (&["t", "regler"], Quantity::ControllerTemperature),
    (&["t", "akku"], Quantity::Temperature),
    (&["t", "bat"], Quantity::Temperature),
    (&["t", "bec"], Quantity::Temperature),
    (&["motor", "temp"], Quantity::MotorTemperature),
    (&["motortemp"], Quantity::MotorTemperature),
    (&["mot", "temp"], Quantity::MotorTemperature),
    (&["esc", "temp"], Quantity::ControllerTemperature),
    (&["regler", "temp"], Quantity::ControllerTemperature),
    (&["reglertemp"], Quantity::ControllerTemperature),
    (&["fet", "temp"], Quantity::ControllerTemperature),
    (&["controller", "temp"], Quantity::ControllerTemperature),
    (&["temps"], Quantity::Time),
    (&["temp"], Quantity::Temperature),
    (&["throttle"], Quantity::Throttle),
    (&["thr"], Quantity::Throttle),
    (&["duty"], Quantity::Throttle),
    (&["pwm"], Quantity::Throttle),
    (&["gas"], Quantity::Throttle),
    (&["gaz"], Quantity::Throttle),
    (&["mah"], Quantity::ChargeDrawn),
    (&["capacity"], Quantity::ChargeDrawn),
    (&["kapazität"], Quantity::ChargeDrawn),
    (&["kapazitaet"], Quantity::ChargeDrawn),
    (&["consum"], Quantity::ChargeDrawn),
    (&["verbrauch"], Quantity::ChargeDrawn),
    (&["power"], Quantity::Power),
    (&["watt"], Quantity::Power),
    (&["leistung"], Quantity::Power),
    (&["puissance"], Quantity::Power),
    (&["potenza"], Quantity::Power),
    (&["potencia"], Quantity::Power),
    (&["vermogen"], Quantity::Power),
    (&["effekt"], Quantity::Power),
    (&["moc"], Quantity::Power),
    (&["volt"], Quantity::Voltage),
    (&["spannung"], Quantity::Voltage),
    (&["spanning"], Quantity::Voltage),
    (&["spänning"], Quantity::Voltage),
    (&["tension"], Quantity::Voltage),
    (&["tensione"], Quantity::Voltage),
    (&["napięcie"], Quantity::Voltage),
    (&["vbat"], Quantity::Voltage),
    (&["ubat"], Quantity::Voltage),
    (&["vin"], Quantity::Voltage),
    (&["u", "akku"], Quantity::Voltage),
    (&["u", "bat"], Quantity::Voltage),
    (&["current"], Quantity::Current),
    (&["amp"], Quantity::Current),
    (&["strom"], Quantity::Current),
    (&["stroom"], Quantity::Current),
    (&["ström"], Quantity::Current),
    (&["courant"], Quantity::Current),
    (&["corriente"], Quantity::Current),
    (&["corrente"], Quantity::Current),
    (&["prąd"], Quantity::Current),
    (&["ibat"], Quantity::Current),
    (&["i", "akku"], Quantity::Current),
    (&["i", "bat"], Quantity::Current),
    (&["p", "akku"], Quantity::Power),
    (&["gyro", "x"], Quantity::RateX),
    (&["gyro", "y"], Quantity::RateY),
    (&["gyro", "z"], Quantity::RateZ),
    (&["roll", "rate"], Quantity::RateX),
    (&["pitch", "rate"], Quantity::RateY),
    (&["yaw", "rate"], Quantity::RateZ),
    (&["gx"], Quantity::RateX),
    (&["gy"], Quantity::RateY),
    (&["gz"], Quantity::RateZ),
    (&["acc", "x"], Quantity::AccelerationX),
    (&["acc", "y"], Quantity::AccelerationY),
    (&["acc", "z"], Quantity::AccelerationZ),
    (&["ax"], Quantity::AccelerationX),
    (&["ay"], Quantity::AccelerationY),
    (&["az"], Quantity::AccelerationZ),
    (&["pitch"], Quantity::Pitch),
    (&["trim"], Quantity::Pitch),
    (&["roll"], Quantity::Heel),
    (&["heel"], Quantity::Heel),
    (&["latitude"], Quantity::Latitude),
    (&["breitengrad"], Quantity::Latitude),
    (&["breite"], Quantity::Latitude),
    (&["lat"], Quantity::Latitude),
    (&["longitude"], Quantity::Longitude),
    (&["längengrad"], Quantity::Longitude),
    (&["laengengrad"], Quantity::Longitude),
    (&["länge"], Quantity::Longitude),
    (&["lon"], Quantity::Longitude),
    (&["lng"], Quantity::Longitude),
    (&["speed"], Quantity::Speed),
    (&["velocity"], Quantity::Speed),
    (&["geschwindigkeit"], Quantity::Speed),
    (&["snelheid"], Quantity::Speed),
    (&["hastighet"], Quantity::Speed),
    (&["vitesse"], Quantity::Speed),
    (&["velocidad"], Quantity::Speed),
    (&["velocità"], Quantity::Speed),
    (&["prędkość"], Quantity::Speed),
    (&["course"], Quantity::Course),
    (&["heading"], Quantity::Course),
    (&["kurs"], Quantity::Course),
    (&["hdop"], Quantity::Dilution),
    (&["alt"], Quantity::Altitude),
    (&["elevation"], Quantity::Altitude),
    (&["höhe"], Quantity::Altitude),
    (&["hoehe"], Quantity::Altitude),
    (&["time"], Quantity::Time),
    (&["zeit"], Quantity::Time),
    (&["tijd"], Quantity::Time),
    (&["tiempo"], Quantity::Time),
    (&["czas"], Quantity::Time),
    (&["seconds"], Quantity::Time),
    (&["sekunden"], Quantity::Time),
    (&["millis"], Quantity::Time),
    (&["t"], Quantity::Time),
    (&["u"], Quantity::Voltage),
    (&["v"], Quantity::Voltage),
    (&["i"], Quantity::Current),
    (&["p"], Quantity::Power),
    (&["n"], Quantity::Rpm),
];

const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// A unit's name, factor and offset.
type Unit = (&'static str, f64, f64);

/// Units and what they make of a value: `value = cell * factor + offset`.
const UNITS: &[(&[Quantity], &[Unit])] = &[
    (
        &[Quantity::Time],
        &[
            ("s", 1.0, 0.0),
            ("sec", 1.0, 0.0),
            ("ms", 1e-3, 0.0),
            ("us", 1e-6, 0.0),
            ("µs", 1e-6, 0.0),
            ("min", 60.0, 0.0),
        ],
    ),
    (
        &[Quantity::Rpm, Quantity::ElectricalRpm],
        &[
            ("rpm", 1.0, 0.0),
            ("1/min", 1.0, 0.0),
            ("min-1", 1.0, 0.0),
            ("u/min", 1.0, 0.0),
            // Telemetry sends hundreds of electrical turns a minute.
            ("100", 100.0, 0.0),
            ("x100", 100.0, 0.0),
            ("*100", 100.0, 0.0),
            ("rpm/100", 100.0, 0.0),
            ("100rpm", 100.0, 0.0),
            ("krpm", 1e3, 0.0),
            ("hz", 60.0, 0.0),
            ("rps", 60.0, 0.0),
            ("rad/s", 30.0 / std::f64::consts::PI, 0.0),
        ],
    ),
    (&[Quantity::Voltage], &[("v", 1.0, 0.0), ("mv", 1e-3, 0.0)]),
    (&[Quantity::Current], &[("a", 1.0, 0.0), ("ma", 1e-3, 0.0)]),
    (&[Quantity::Power], &[("w", 1.0, 0.0), ("kw", 1e3, 0.0)]),
    (
        &[Quantity::ChargeDrawn],
        &[("mah", 1e-3, 0.0), ("ah", 1.0, 0.0)],
    ),
    (
        &[
            Quantity::MotorTemperature,
            Quantity::ControllerTemperature,
            Quantity::Temperature,
        ],
        &[
            ("c", 1.0, 0.0),
            ("°c", 1.0, 0.0),
            ("degc", 1.0, 0.0),
            ("f", 5.0 / 9.0, -160.0 / 9.0),
            ("°f", 5.0 / 9.0, -160.0 / 9.0),
            ("degf", 5.0 / 9.0, -160.0 / 9.0),
            ("k", 1.0, -273.15),
        ],
    ),
    (
        &[Quantity::Throttle],
        &[("%", 0.01, 0.0), ("us", 1e-3, -1.0), ("µs", 1e-3, -1.0)],
    ),
    (
        &[
            Quantity::AccelerationX,
            Quantity::AccelerationY,
            Quantity::AccelerationZ,
        ],
        &[
            ("m/s2", 1.0, 0.0),
            ("m/s^2", 1.0, 0.0),
            ("m/s²", 1.0, 0.0),
            ("g", GRAVITY_M_S2, 0.0),
            ("mg", 1e-3 * GRAVITY_M_S2, 0.0),
        ],
    ),
    (
        &[Quantity::RateX, Quantity::RateY, Quantity::RateZ],
        &[
            ("rad/s", 1.0, 0.0),
            ("deg/s", DEGREE, 0.0),
            ("°/s", DEGREE, 0.0),
            ("dps", DEGREE, 0.0),
        ],
    ),
    (
        &[Quantity::Pitch, Quantity::Heel, Quantity::Course],
        &[("rad", 1.0, 0.0), ("deg", DEGREE, 0.0), ("°", DEGREE, 0.0)],
    ),
    (
        &[Quantity::Speed],
        &[
            ("m/s", 1.0, 0.0),
            ("km/h", 1.0 / 3.6, 0.0),
            ("kmh", 1.0 / 3.6, 0.0),
            ("kph", 1.0 / 3.6, 0.0),
            ("mph", 0.44704, 0.0),
            ("kn", 1852.0 / 3600.0, 0.0),
            ("kt", 1852.0 / 3600.0, 0.0),
            ("knots", 1852.0 / 3600.0, 0.0),
        ],
    ),
    (
        &[Quantity::Latitude, Quantity::Longitude],
        &[("deg", 1.0, 0.0), ("°", 1.0, 0.0)],
    ),
    (
        &[Quantity::Altitude],
        &[("m", 1.0, 0.0), ("ft", 0.3048, 0.0)],
    ),
];

/// Proposes what each column holds. Each quantity is proposed once, for its surest column.
pub fn propose(table: &Table) -> Mapping {
    let mut all: Vec<Proposal> = (0..table.columns.len())
        .filter_map(|i| propose_one(table, i))
        .collect();
    all.sort_by(|a, b| {
        b.confidence
            .total_cmp(&a.confidence)
            .then(a.column.cmp(&b.column))
    });
    let mut columns: Vec<Proposal> = Vec::new();
    for p in all {
        if columns.iter().all(|c| c.quantity != p.quantity) {
            columns.push(p);
        }
    }
    columns.sort_by_key(|p| p.column);
    Mapping {
        fingerprint: fingerprint(table),
        columns,
        confirmed: false,
    }
}

fn propose_one(table: &Table, i: usize) -> Option<Proposal> {
    let column = &table.columns[i];
    let words = words(&column.name);
    let (named, quantity) = WORDS
        .iter()
        .find(|(need, _)| need.iter().all(|n| words.iter().any(|w| names(w, n))))?;
    let exact = named.iter().all(|n| words.iter().any(|w| w == n));
    // A single letter names a quantity only together with its unit; time has the habit of standing as `t`.
    let letter = named.len() == 1 && named[0].len() == 1 && *quantity != Quantity::Time;
    let mut confidence = if exact { 0.95 } else { 0.75 };
    let mut reason = format!("heading says {}", named.join(" "));
    let known = units_of(*quantity);
    let written = column
        .unit
        .as_deref()
        .and_then(|u| known.iter().find(|k| k.0 == plain_unit(u)))
        .or_else(|| known.iter().find(|k| words.iter().any(|w| w == k.0)));
    if letter && written.is_none() {
        return None;
    }
    // `eRPM` holds the word rpm itself: only a unit written beside it tells more than the values do.
    let few = hundreds(*quantity, known, &column.values).filter(|_| column.unit.is_none());
    let (unit, factor, offset) = if let Some(u) = few {
        confidence *= 0.8;
        reason +=
            ", so small that it must be hundreds of electrical turns, as telemetry sends them";
        u
    } else if let Some(u) = written {
        reason += &format!(", unit {}", u.0);
        *u
    } else {
        confidence *= if column.unit.is_some() { 0.4 } else { 0.8 };
        let u = likely_unit(*quantity, known, &column.values);
        reason += &format!(
            ", no known unit: {} assumed from the size of the values",
            u.0
        );
        u
    };
    if column.unreadable > column.values.len() / 2 {
        confidence *= 0.3;
    }
    let values: Vec<f64> = column.values.iter().map(|v| v * factor + offset).collect();
    if let Some(doubt) = implausible(*quantity, &values) {
        confidence *= 0.4;
        reason += &format!("; {doubt} in {unit}");
    }
    Some(Proposal {
        column: i,
        heading: column.name.clone(),
        quantity: *quantity,
        factor,
        offset,
        confidence,
        reason,
    })
}

/// A word of a heading names a quantity when it is the name, or a longer name starts or ends it.
fn names(word: &str, name: &str) -> bool {
    word == name || (name.len() >= 3 && (word.starts_with(name) || word.ends_with(name)))
}

/// `GPS speed_kmh`, `escTemp` into lower-case words.
fn words(heading: &str) -> Vec<String> {
    let mut spaced = String::new();
    let mut before = ' ';
    for c in heading.chars() {
        if c.is_uppercase() && before.is_lowercase() {
            spaced.push(' ');
        }
        spaced.push(c);
        before = c;
    }
    let apart = |c: char| !(c.is_alphanumeric() || "/%°".contains(c));
    // The heading's own words too, or `eRPM` would be `rpm`.
    let both = spaced.split(apart).chain(heading.split(apart));
    both.filter(|w| !w.is_empty())
        .map(str::to_lowercase)
        .collect()
}

fn plain_unit(unit: &str) -> String {
    unit.trim()
        .trim_end_matches('.')
        .to_lowercase()
        .replace('μ', "µ")
        .replace(' ', "")
}

fn units_of(quantity: Quantity) -> &'static [Unit] {
    let of = |(q, _): &&(&[Quantity], _)| q.contains(&quantity);
    UNITS.iter().find(of).map_or(&[], |(_, u)| u)
}

/// Without a unit: the first whose values are plausible, else the first.
fn likely_unit(quantity: Quantity, known: &'static [Unit], values: &[f64]) -> Unit {
    let fits = |u: &&(&str, f64, f64)| {
        let turned: Vec<f64> = values.iter().map(|v| v * u.1 + u.2).collect();
        implausible(quantity, &turned).is_none()
    };
    let fallback = ("a plain number", 1.0, 0.0);
    known
        .iter()
        .find(fits)
        .or(known.first())
        .copied()
        .unwrap_or(fallback)
}

/// Electrical rpm of a driven motor is tens of thousands; a column that never reaches a few thousand counts hundreds.
fn hundreds(quantity: Quantity, known: &'static [Unit], values: &[f64]) -> Option<Unit> {
    if quantity != Quantity::ElectricalRpm {
        return None;
    }
    let most = values
        .iter()
        .copied()
        .filter(|v| v.is_finite())
        .fold(0.0, f64::max);
    let unit = known.iter().find(|u| u.0 == "100").copied();
    unit.filter(|_| most > 50.0 && most < 5000.0)
}

/// Sizes beyond which a small boat's values are doubted. Judgement, no source.
fn implausible(quantity: Quantity, values: &[f64]) -> Option<String> {
    let (low, high) = match quantity {
        Quantity::Rpm => (0.0, 80_000.0),
        Quantity::ElectricalRpm => (0.0, 1e6),
        Quantity::Voltage => (0.0, 80.0),
        Quantity::Current => (-100.0, 600.0),
        Quantity::Power => (-2000.0, 30_000.0),
        Quantity::ChargeDrawn => (0.0, 60.0),
        Quantity::MotorTemperature | Quantity::ControllerTemperature | Quantity::Temperature => {
            (-30.0, 200.0)
        }
        Quantity::Throttle => (-1.05, 1.25),
        Quantity::AccelerationX | Quantity::AccelerationY | Quantity::AccelerationZ => {
            (-2000.0, 2000.0)
        }
        Quantity::RateX | Quantity::RateY | Quantity::RateZ => (-70.0, 70.0),
        Quantity::Pitch | Quantity::Heel | Quantity::Course => (-6.3, 6.3),
        Quantity::Speed => (0.0, 90.0),
        Quantity::Latitude => (-90.0, 90.0),
        Quantity::Longitude => (-180.0, 180.0),
        Quantity::Altitude => (-450.0, 6000.0),
        Quantity::Dilution => (0.0, 100.0),
        Quantity::Time => return None,
    };
    let wild = values
        .iter()
        .filter(|v| v.is_finite() && !(low..=high).contains(*v));
    let extreme = wild.copied().max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some(format!("{extreme:.4} lies outside {low} to {high}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantities(text: &str) -> Vec<(Quantity, f64)> {
        let mapping = propose(&Table::parse(text).unwrap());
        mapping
            .columns
            .iter()
            .map(|p| (p.quantity, p.factor))
            .collect()
    }

    #[test]
    fn the_builder_has_the_last_word() {
        let t = Table::parse("time,A1 [V],temp [C]\n0,1,30\n1,2,31\n").unwrap();
        let mut m = propose(&t);
        m.assign(&t, "a1", Some((Quantity::Current, Some("mA"))))
            .unwrap();
        m.assign(&t, "temp", Some((Quantity::MotorTemperature, None)))
            .unwrap();
        assert_eq!(m.values(&t, Quantity::Current), Some(vec![1e-3, 2e-3]));
        assert_eq!(m.values(&t, Quantity::Temperature), None);
        assert_eq!(
            m.values(&t, Quantity::MotorTemperature),
            Some(vec![30.0, 31.0])
        );
        m.assign(&t, "A1", None).unwrap();
        assert_eq!(m.values(&t, Quantity::Current), None);
        assert!(matches!(
            m.assign(&t, "B", None),
            Err(AssignError::NoHeading { .. })
        ));
        let bad = m.assign(&t, "A1", Some((Quantity::Current, Some("kg"))));
        assert!(matches!(bad, Err(AssignError::NoUnit { .. })));
    }

    #[test]
    fn headings_of_several_styles_are_known() {
        let got = quantities(
            "Time (ms),eRPM,Motor Temp [°F],Batt Voltage (mV),current A\n0,67400,100,14800,3\n",
        );
        assert_eq!(
            got,
            [
                (Quantity::Time, 1e-3),
                (Quantity::ElectricalRpm, 1.0),
                (Quantity::MotorTemperature, 5.0 / 9.0),
                (Quantity::Voltage, 1e-3),
                (Quantity::Current, 1.0),
            ]
        );
        let camel = quantities("timeS;escTemp_C;speed_kmh;accZ\n0;30;50,5;0,98\n");
        assert_eq!(camel[1].0, Quantity::ControllerTemperature);
        assert_eq!(camel[2], (Quantity::Speed, 1.0 / 3.6));
    }

    /// Headings as loggers write them, in several languages; from memory, no source.
    #[test]
    fn headings_of_other_loggers_and_languages_are_known() {
        use Quantity as Q;
        let cases: &[(&str, &[(Quantity, f64)])] = &[
            (
                "Zeit (s);U_Akku (V);I_Akku (A);T_ESC (°C);Drehzahl (1/min)\n0,0;11,4;50,2;41,0;33000\n",
                &[
                    (Q::Time, 1.0),
                    (Q::Voltage, 1.0),
                    (Q::Current, 1.0),
                    (Q::ControllerTemperature, 1.0),
                    (Q::Rpm, 1.0),
                ],
            ),
            (
                "time_s,T_ESC,T_MOT,U_Akku (V)\n0,41,50,11.4\n",
                &[
                    (Q::Time, 1.0),
                    (Q::ControllerTemperature, 1.0),
                    (Q::MotorTemperature, 1.0),
                    (Q::Voltage, 1.0),
                ],
            ),
            (
                "t [ms],eRPM/100,Vbat [V]\n0,670,11.4\n100,674,11.3\n",
                &[
                    (Q::Time, 1e-3),
                    (Q::ElectricalRpm, 100.0),
                    (Q::Voltage, 1.0),
                ],
            ),
            (
                "Time [s],eRPM\n0,12\n1,674\n",
                &[(Q::Time, 1.0), (Q::ElectricalRpm, 100.0)],
            ),
            (
                "Time [s],ERPM\n0,12\n1,67400\n",
                &[(Q::Time, 1.0), (Q::ElectricalRpm, 1.0)],
            ),
            (
                "Temps (s);Tension (V);Courant (A);Vitesse (km/h)\n0;11,4;50;80\n",
                &[
                    (Q::Time, 1.0),
                    (Q::Voltage, 1.0),
                    (Q::Current, 1.0),
                    (Q::Speed, 1.0 / 3.6),
                ],
            ),
            (
                "Zeit;Motortemperatur [°C];Reglertemperatur [°C];Kapazität [mAh];Gas [%]\n0;40;41;120;100\n",
                &[
                    (Q::Time, 1.0),
                    (Q::MotorTemperature, 1.0),
                    (Q::ControllerTemperature, 1.0),
                    (Q::ChargeDrawn, 1e-3),
                    (Q::Throttle, 0.01),
                ],
            ),
            (
                "t (s);U (V);I (A);P (W);n (1/min)\n0;11;50;550;33000\n",
                &[
                    (Q::Time, 1.0),
                    (Q::Voltage, 1.0),
                    (Q::Current, 1.0),
                    (Q::Power, 1.0),
                    (Q::Rpm, 1.0),
                ],
            ),
        ];
        for (text, wanted) in cases {
            assert_eq!(quantities(text), *wanted, "{text}");
        }
        // A letter alone says nothing without its unit.
        assert_eq!(quantities("t,u,n\n0,1,2\n"), [(Q::Time, 1.0)]);
    }

    #[test]
    fn a_value_that_cannot_be_lowers_the_confidence_and_says_why() {
        let t = Table::parse("time,voltage (V)\n0,14800\n1,14700\n").unwrap();
        let p = &propose(&t).columns[1];
        assert!(p.confidence < 0.5);
        assert!(p.reason.contains("outside"), "{}", p.reason);
    }

    #[test]
    fn a_mapping_is_kept_as_text_and_gives_values() {
        let t = Table::parse("t [s],temp [F]\n0,212\n1,32\n").unwrap();
        let mapping = propose(&t);
        let text = serde_json::to_string(&mapping).unwrap();
        let back: Mapping = serde_json::from_str(&text).unwrap();
        assert_eq!(back, mapping);
        let c = back.values(&t, Quantity::Temperature).unwrap();
        assert!((c[0] - 100.0).abs() < 1e-9 && c[1].abs() < 1e-9);
    }

    #[test]
    fn a_strange_heading_is_left_alone() {
        assert!(quantities("foo,bar\n1,2\n").is_empty());
    }
}
