//! The dimensions a quantity can have, and the units each is written in.
//!
//! Every unit is a straight line to SI: `si = factor * value + offset`; only temperatures have an
//! offset. Factors are exact by definition (SI brochure, 9th edition 2019; international inch).

use std::f64::consts::PI;

/// What a number measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// No dimension: ratios, coefficients, counts.
    Number,
    /// A share of something: `0.3` or `30 %`.
    Fraction,
    /// m inside, mm at the face.
    Length,
    /// m2.
    Area,
    /// m3 inside, l at the face.
    Volume,
    /// m4: second moments of area.
    SecondMoment,
    /// kg inside, g at the face.
    Mass,
    /// kg m2.
    Inertia,
    /// s.
    Time,
    /// Hz.
    Frequency,
    /// rad inside, deg at the face.
    Angle,
    /// rad/s inside, rpm at the face.
    ShaftSpeed,
    /// m/s inside, km/h at the face.
    Speed,
    /// m/s2.
    Acceleration,
    /// N.
    Force,
    /// N m.
    Torque,
    /// Pa; also elastic moduli.
    Pressure,
    /// W.
    Power,
    /// J inside, Wh at the face.
    Energy,
    /// V.
    Voltage,
    /// A.
    Current,
    /// ohm inside, mohm at the face.
    Resistance,
    /// F.
    Capacitance,
    /// C inside, mAh at the face.
    Charge,
    /// rad/s per V inside, rpm/V at the face.
    MotorConstant,
    /// kg/m3.
    Density,
    /// kg/m2 inside, g/m2 at the face.
    ArealDensity,
    /// degC on both sides.
    Temperature,
    /// m2/s.
    KinematicViscosity,
    /// Pa s.
    DynamicViscosity,
    /// N/m.
    SurfaceTension,
    /// m3/s inside, l/min at the face.
    Flow,
    /// W/(m K).
    Conductivity,
}

/// One spelling of a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As written, e.g. `mm`.
    pub symbol: &'static str,
    /// SI per unit.
    pub factor: f64,
    /// SI value of zero.
    pub offset: f64,
}

const fn unit(symbol: &'static str, factor: f64) -> Unit {
    Unit {
        symbol,
        factor,
        offset: 0.0,
    }
}

const RPM: f64 = PI / 30.0;
const DEG: f64 = PI / 180.0;

macro_rules! units {
    ($($name:ident = [$($symbol:literal $factor:expr),+ $(,)?];)+) => {
        $(const $name: &[Unit] = &[$(unit($symbol, $factor)),+];)+
    };
}

// The first unit of each list is the one used at the faces.
units! {
    FRACTION = ["%" 0.01];
    LENGTH = ["mm" 1e-3, "cm" 1e-2, "m" 1.0, "um" 1e-6, "in" 0.0254, "inch" 0.0254, "ft" 0.3048];
    AREA = ["mm2" 1e-6, "cm2" 1e-4, "m2" 1.0];
    VOLUME = ["l" 1e-3, "L" 1e-3, "ml" 1e-6, "mL" 1e-6, "mm3" 1e-9, "cm3" 1e-6, "m3" 1.0];
    SECOND_MOMENT = ["mm4" 1e-12, "cm4" 1e-8, "m4" 1.0];
    MASS = ["g" 1e-3, "kg" 1.0, "mg" 1e-6, "oz" 0.028_349_523_125, "lb" 0.453_592_37];
    INERTIA = ["kg m2" 1.0, "g m2" 1e-3, "g cm2" 1e-7];
    TIME = ["s" 1.0, "ms" 1e-3, "us" 1e-6, "min" 60.0, "h" 3600.0];
    FREQUENCY = ["Hz" 1.0, "kHz" 1e3];
    ANGLE = ["deg" DEG, "°" DEG, "rad" 1.0, "mrad" 1e-3];
    SHAFT_SPEED = ["rpm" RPM, "rad/s" 1.0, "1/min" RPM, "1/s" 2.0 * PI];
    SPEED = ["km/h" 1.0 / 3.6, "m/s" 1.0, "kn" 1852.0 / 3600.0, "mph" 0.44704];
    ACCELERATION = ["m/s2" 1.0];
    FORCE = ["N" 1.0, "mN" 1e-3, "kN" 1e3];
    TORQUE = ["N m" 1.0, "Nm" 1.0, "mN m" 1e-3, "mNm" 1e-3, "N mm" 1e-3, "Nmm" 1e-3];
    PRESSURE = ["Pa" 1.0, "hPa" 1e2, "kPa" 1e3, "MPa" 1e6, "GPa" 1e9, "mbar" 1e2, "bar" 1e5];
    POWER = ["W" 1.0, "mW" 1e-3, "kW" 1e3];
    ENERGY = ["Wh" 3600.0, "J" 1.0, "kJ" 1e3];
    VOLTAGE = ["V" 1.0, "mV" 1e-3];
    CURRENT = ["A" 1.0, "mA" 1e-3];
    RESISTANCE = ["mohm" 1e-3, "ohm" 1.0, "kohm" 1e3, "Mohm" 1e6];
    CAPACITANCE = ["uF" 1e-6, "pF" 1e-12, "nF" 1e-9, "mF" 1e-3, "F" 1.0];
    CHARGE = ["mAh" 3.6, "Ah" 3600.0, "C" 1.0];
    MOTOR_CONSTANT = ["rpm/V" RPM, "rad/s/V" 1.0];
    DENSITY = ["kg/m3" 1.0, "g/cm3" 1e3, "kg/l" 1e3];
    AREAL_DENSITY = ["g/m2" 1e-3, "kg/m2" 1.0];
    KINEMATIC_VISCOSITY = ["m2/s" 1.0, "mm2/s" 1e-6, "cSt" 1e-6];
    DYNAMIC_VISCOSITY = ["Pa s" 1.0, "mPa s" 1e-3];
    SURFACE_TENSION = ["N/m" 1.0, "mN/m" 1e-3];
    FLOW = ["l/min" 1e-3 / 60.0, "ml/s" 1e-6, "ml/min" 1e-6 / 60.0, "l/s" 1e-3, "mm3/s" 1e-9, "m3/s" 1.0];
    CONDUCTIVITY = ["W/m/K" 1.0, "W/(m K)" 1.0];
}

const TEMPERATURE: &[Unit] = &[
    unit("degC", 1.0),
    unit("°C", 1.0),
    Unit {
        symbol: "K",
        factor: 1.0,
        offset: -273.15,
    },
    Unit {
        symbol: "degF",
        factor: 5.0 / 9.0,
        offset: -160.0 / 9.0,
    },
    Unit {
        symbol: "°F",
        factor: 5.0 / 9.0,
        offset: -160.0 / 9.0,
    },
];

impl Kind {
    /// Every kind.
    pub const ALL: &'static [Kind] = &[
        Kind::Number,
        Kind::Fraction,
        Kind::Length,
        Kind::Area,
        Kind::Volume,
        Kind::SecondMoment,
        Kind::Mass,
        Kind::Inertia,
        Kind::Time,
        Kind::Frequency,
        Kind::Angle,
        Kind::ShaftSpeed,
        Kind::Speed,
        Kind::Acceleration,
        Kind::Force,
        Kind::Torque,
        Kind::Pressure,
        Kind::Power,
        Kind::Energy,
        Kind::Voltage,
        Kind::Current,
        Kind::Resistance,
        Kind::Capacitance,
        Kind::Charge,
        Kind::MotorConstant,
        Kind::Density,
        Kind::ArealDensity,
        Kind::Temperature,
        Kind::KinematicViscosity,
        Kind::DynamicViscosity,
        Kind::SurfaceTension,
        Kind::Flow,
        Kind::Conductivity,
    ];

    /// Accepted units, the face's own first. Empty for a plain number.
    pub const fn units(self) -> &'static [Unit] {
        match self {
            Kind::Number => &[],
            Kind::Fraction => FRACTION,
            Kind::Length => LENGTH,
            Kind::Area => AREA,
            Kind::Volume => VOLUME,
            Kind::SecondMoment => SECOND_MOMENT,
            Kind::Mass => MASS,
            Kind::Inertia => INERTIA,
            Kind::Time => TIME,
            Kind::Frequency => FREQUENCY,
            Kind::Angle => ANGLE,
            Kind::ShaftSpeed => SHAFT_SPEED,
            Kind::Speed => SPEED,
            Kind::Acceleration => ACCELERATION,
            Kind::Force => FORCE,
            Kind::Torque => TORQUE,
            Kind::Pressure => PRESSURE,
            Kind::Power => POWER,
            Kind::Energy => ENERGY,
            Kind::Voltage => VOLTAGE,
            Kind::Current => CURRENT,
            Kind::Resistance => RESISTANCE,
            Kind::Capacitance => CAPACITANCE,
            Kind::Charge => CHARGE,
            Kind::MotorConstant => MOTOR_CONSTANT,
            Kind::Density => DENSITY,
            Kind::ArealDensity => AREAL_DENSITY,
            Kind::Temperature => TEMPERATURE,
            Kind::KinematicViscosity => KINEMATIC_VISCOSITY,
            Kind::DynamicViscosity => DYNAMIC_VISCOSITY,
            Kind::SurfaceTension => SURFACE_TENSION,
            Kind::Flow => FLOW,
            Kind::Conductivity => CONDUCTIVITY,
        }
    }

    /// Its name in a sentence: `a length`.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Number => "a plain number",
            Kind::Fraction => "a fraction",
            Kind::Length => "a length",
            Kind::Area => "an area",
            Kind::Volume => "a volume",
            Kind::SecondMoment => "a second moment of area",
            Kind::Mass => "a mass",
            Kind::Inertia => "a moment of inertia",
            Kind::Time => "a time",
            Kind::Frequency => "a frequency",
            Kind::Angle => "an angle",
            Kind::ShaftSpeed => "a shaft speed",
            Kind::Speed => "a speed",
            Kind::Acceleration => "an acceleration",
            Kind::Force => "a force",
            Kind::Torque => "a torque",
            Kind::Pressure => "a pressure",
            Kind::Power => "a power",
            Kind::Energy => "an energy",
            Kind::Voltage => "a voltage",
            Kind::Current => "a current",
            Kind::Resistance => "a resistance",
            Kind::Capacitance => "a capacitance",
            Kind::Charge => "a charge",
            Kind::MotorConstant => "a motor constant",
            Kind::Density => "a density",
            Kind::ArealDensity => "a mass per area",
            Kind::Temperature => "a temperature",
            Kind::KinematicViscosity => "a kinematic viscosity",
            Kind::DynamicViscosity => "a dynamic viscosity",
            Kind::SurfaceTension => "a surface tension",
            Kind::Flow => "a flow",
            Kind::Conductivity => "a thermal conductivity",
        }
    }

    /// Whether a number without a unit is accepted.
    pub const fn allows_bare(self) -> bool {
        matches!(self, Kind::Number | Kind::Fraction)
    }

    /// The unit that a number without one plainly has: where the trade writes only one.
    pub fn plain_unit(self) -> Option<Unit> {
        let plain = match self {
            Kind::Speed => "km/h",
            Kind::Angle => "deg",
            Kind::ShaftSpeed => "rpm",
            Kind::MotorConstant => "rpm/V",
            Kind::Voltage => "V",
            Kind::Current => "A",
            Kind::Charge => "mAh",
            Kind::Power => "W",
            Kind::Temperature => "degC",
            _ => return None,
        };
        self.find(plain)
    }

    /// Accepted units as a list for a sentence: `mm, cm, m, um, in`.
    pub fn unit_list(self) -> String {
        let shown = self.units().iter().map(|u| u.symbol);
        shown.collect::<Vec<_>>().join(", ")
    }

    pub(crate) fn find(self, symbol: &str) -> Option<Unit> {
        let plain = normal(symbol);
        let plain = match plain.as_str() {
            "kph" | "kmh" | "km/hr" => "km/h",
            "lbs" => "lb",
            other => other,
        };
        let exact = self.units().iter().find(|u| normal(u.symbol) == plain);
        exact.copied()
    }
}

/// One spelling for each symbol: superscripts to digits, micro and ohm signs to letters, no
/// spaces, no multiplication dots.
pub(crate) fn normal(symbol: &str) -> String {
    let mut out = String::new();
    for c in symbol.chars() {
        match c {
            '²' => out.push('2'),
            '³' => out.push('3'),
            '⁴' => out.push('4'),
            '\u{00b5}' | '\u{03bc}' => out.push('u'),
            '\u{03a9}' | '\u{2126}' => out.push_str("ohm"),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            '⁻' | '·' | '⋅' | '*' | '^' => {}
            c if c.is_whitespace() => {}
            c => out.push(c),
        }
    }
    out
}
