//! What the builder owns or could buy, from a file of packs, motors and propellers.

use boat::{BoatFileError, Drive, Kind, Problem, Severity, parse_quantity};
use laws::motor_point::Motor;
use power::fit::{MotorChoice, PackChoice};
use serde::Deserialize;
use std::path::Path;
use study::outfit::{Blade, Lists, choice};
use toml::Spanned;

use crate::fault::{Fault, shown};
use crate::text_at::TextAt;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    pack: Vec<Pack>,
    #[serde(default)]
    motor: Vec<MotorRow>,
    #[serde(default)]
    propeller: Vec<Propeller>,
}

type Text = Spanned<String>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pack {
    name: String,
    series: Spanned<u32>,
    capacity: Text,
    cell_resistance: Text,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MotorRow {
    name: String,
    kv: Text,
    resistance: Text,
    no_load_current: Text,
    max_current: Option<Text>,
    mass: Option<Text>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Propeller {
    name: String,
    diameter: Text,
    pitch_ratio: Spanned<f64>,
}

/// Larger files are no lists of parts, bytes.
const LARGEST: u64 = 4 << 20;

/// Reads the lists; one that is not in the file stays as `around` has it.
pub fn read(own: &TextAt, drive: &Drive, around: Lists) -> Result<Lists, Fault> {
    let text = own.text_within(LARGEST, "a list of parts is a page or two")?;
    let path = own.place();
    let file: File = toml::from_str(&text).map_err(|e| {
        let span = e.span().unwrap_or(0..0);
        let help = "tables: [[pack]] name series capacity cell_resistance; [[motor]] name kv resistance no_load_current max_current mass; [[propeller]] name diameter pitch_ratio";
        at(path, &text, span, e.message(), help)
    })?;
    let reader = Reader { path, text: &text };
    let mut lists = around;
    if !file.pack.is_empty() {
        let packs = file.pack.iter().map(|p| reader.pack(p, drive));
        lists.packs = packs.collect::<Result<_, _>>()?;
    }
    if !file.motor.is_empty() {
        let motors = file.motor.iter().map(|m| reader.motor(m, drive));
        lists.motors = motors.collect::<Result<_, _>>()?;
    }
    if !file.propeller.is_empty() {
        let propellers = file.propeller.iter().map(|p| reader.propeller(p));
        lists.propellers = propellers.collect::<Result<_, _>>()?;
    }
    Ok(lists)
}

struct Reader<'a> {
    path: &'a Path,
    text: &'a str,
}

impl Reader<'_> {
    fn number(&self, given: &Text, kind: Kind, low: f64, high: f64) -> Result<f64, Fault> {
        let refuse = |what: &str, help: &str| at(self.path, self.text, given.span(), what, help);
        let value = parse_quantity(kind, given.get_ref())
            .map_err(|e| refuse(&e.to_string(), "write a number with its unit"))?
            .value;
        if (low..=high).contains(&value) {
            return Ok(value);
        }
        let what = format!("{} is not plausible here", given.get_ref());
        let show = |x| boat::show(kind, x);
        Err(refuse(
            &what,
            &format!("between {} and {}", show(low), show(high)),
        ))
    }

    fn pack(&self, row: &Pack, drive: &Drive) -> Result<PackChoice, Fault> {
        let series = *row.series.get_ref();
        if !(1..=16).contains(&series) {
            let what = format!("a pack of {series} cells in series");
            return Err(at(
                self.path,
                self.text,
                row.series.span(),
                &what,
                "1 to 16",
            ));
        }
        let capacity_c = self.number(&row.capacity, Kind::Charge, 180.0, 360_000.0)?;
        let cell = self.number(&row.cell_resistance, Kind::Resistance, 1e-4, 0.5)?;
        Ok(PackChoice {
            name: row.name.clone(),
            series: f64::from(series),
            capacity_c,
            ohm: f64::from(series) * cell + 0.5 * drive.controller.resistance_ohm.value,
            ..study::outfit::pack(drive, series)
        })
    }

    fn motor(&self, row: &MotorRow, drive: &Drive) -> Result<MotorChoice, Fault> {
        let optional = |text: &Option<Text>, kind, low, high| {
            text.as_ref()
                .map(|t| self.number(t, kind, low, high))
                .transpose()
        };
        let cold = Motor {
            speed_per_volt_rad_s_v: self.number(&row.kv, Kind::MotorConstant, 5.0, 3200.0)?,
            resistance_ohm: self.number(&row.resistance, Kind::Resistance, 5e-4, 5.0)?,
            no_load_current_a: self.number(&row.no_load_current, Kind::Current, 0.02, 50.0)?,
        };
        let most = optional(&row.max_current, Kind::Current, 0.5, 2000.0)?;
        if most.is_some_and(|a| a <= cold.no_load_current_a) {
            let what = "no-load current is not below the motor's limit";
            let help = "no-load current is what it takes with nothing on the shaft";
            return Err(at(
                self.path,
                self.text,
                row.no_load_current.span(),
                what,
                help,
            ));
        }
        let mass = optional(&row.mass, Kind::Mass, 0.002, 20.0)?;
        Ok(MotorChoice {
            name: row.name.clone(),
            ..choice(drive, cold, most, mass)
        })
    }

    fn propeller(&self, row: &Propeller) -> Result<Blade, Fault> {
        let pitch_ratio = *row.pitch_ratio.get_ref();
        if !(0.3..=3.0).contains(&pitch_ratio) {
            let what = format!("a pitch of {pitch_ratio} diameters is not plausible");
            let help = "usual are 1.2 to 1.8 diameters";
            return Err(at(
                self.path,
                self.text,
                row.pitch_ratio.span(),
                &what,
                help,
            ));
        }
        Ok(Blade {
            name: row.name.clone(),
            diameter_m: self.number(&row.diameter, Kind::Length, 0.008, 0.5)?,
            pitch_ratio,
        })
    }
}

fn at(path: &Path, text: &str, span: std::ops::Range<usize>, what: &str, help: &str) -> Fault {
    let problem = Problem {
        message: what.to_owned(),
        help: Some(help.to_owned()),
        span,
        severity: Severity::Error,
    };
    BoatFileError::new(&shown(path), text, vec![problem]).into()
}
