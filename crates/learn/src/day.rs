//! The day in the model: water, air, charge and wind as they were, not as the boat file assumes them.
//!
//! - Temperatures: the mean of what the outings say.
//! - Charge: where a log counted what was drawn, the pack is taken half as empty as at its end, having
//!   started full.
//! - Wind: a speed without a direction, so an unknown headwind of either sign whose standard uncertainty is
//!   that of a wind from anywhere, `wind / sqrt 2`. Means of both ways are taken to be free of it.

use boat::{Boat, Measure};
use evidence::Measured;
use evidence::outing::{Doing, Outing, OutingFile, QuantityKind, Statistic};
use laws::constants::HALF_WIDTH_95;

/// Of the mean charge: when in the run a value was measured is not told. A share of what was drawn.
const CHARGE_DOUBT: f64 = 0.25;

/// What was put into the boat, and what remains open.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Day {
    /// In words, for whoever reads the answer.
    pub says: Vec<String>,
    /// Standard uncertainty of the headwind, m/s; nothing was said of wind when `None`.
    pub headwind_m_s: Option<f64>,
}

impl Day {
    /// Puts the conditions of outings into the boat that was run.
    pub fn apply(boat: &mut Boat, outings: &[(&Outing, Option<&OutingFile>)]) -> Self {
        let said: Vec<&OutingFile> = outings.iter().filter_map(|(_, s)| *s).collect();
        let mut day = Self::default();
        let water = said.iter().filter_map(|s| s.water_temperature);
        if let Some(m) = mean(water.map(|g| g.0)) {
            set(&mut boat.water.temperature_c, m);
            day.says.push(format!("water at {:.0} °C", m.value));
        }
        let air = said.iter().filter_map(|s| s.air_temperature);
        if let Some(m) = mean(air.map(|g| g.0)) {
            set(&mut boat.air.temperature_c, m);
            day.says.push(format!("air at {:.0} °C", m.value));
        }
        day.charge(boat, outings);
        if boat.drives.len() > 1 {
            day.says.push(
                "all drives share their factors: a difference between sides shows as readings that disagree, and is not learned"
                    .to_owned(),
            );
        }
        let wind = said.iter().filter_map(|s| s.wind.map(|w| w.value().abs()));
        if let Some(wind) = wind.reduce(f64::max).filter(|w| *w > 0.0) {
            day.headwind_m_s = Some(wind / std::f64::consts::SQRT_2);
            day.says.push(format!(
                "wind of {wind:.1} m/s from an unknown side, an unknown headwind in whatever is no mean of both ways"
            ));
        }
        day
    }

    /// The first pack's: further drives are taken to be drained alike.
    fn charge(&mut self, boat: &mut Boat, outings: &[(&Outing, Option<&OutingFile>)]) {
        let Some(first) = boat.drives.first() else {
            return;
        };
        let capacity = first.battery.capacity_c.value;
        let drawn: Vec<Measured> = outings
            .iter()
            .flat_map(|(o, _)| &o.quantities)
            .filter(|v| {
                v.kind == QuantityKind::Charge
                    && v.statistic == Statistic::Total
                    && v.condition.motion == Doing::Whole
                    && v.value > 0.0
            })
            .map(|v| v.measured())
            .collect();
        let Some(drawn) = mean(drawn.into_iter()) else {
            return;
        };
        let share = drawn.value / capacity;
        if share > 1.0 {
            self.says.push(format!(
                "the log counted {:.0} % of the pack's charge: it is not used, doubt the capacity or the sensor",
                100.0 * share
            ));
            return;
        }
        let charge = Measured::new(1.0 - 0.5 * share, CHARGE_DOUBT * share);
        for drive in &mut boat.drives {
            set(&mut drive.battery.state_of_charge, charge);
        }
        self.says.push(format!(
            "pack {:.0} % full in the middle of the run, having started full ({:.0} mAh drawn)",
            100.0 * charge.value,
            drawn.value / 3.6
        ));
    }
}

fn set(measure: &mut Measure, to: Measured) {
    measure.value = to.value;
    measure.spread = HALF_WIDTH_95 * to.sigma;
}

fn mean(all: impl Iterator<Item = Measured>) -> Option<Measured> {
    let all: Vec<Measured> = all.collect();
    let n = all.len() as f64;
    let sum = |f: fn(&Measured) -> f64| all.iter().map(f).sum::<f64>() / n;
    (!all.is_empty()).then(|| Measured::new(sum(|m| m.value), sum(|m| m.sigma)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use evidence::outing::{Condition, Source, Value};

    fn outing(charge_c: f64) -> Outing {
        let from = Source {
            recording: "esc.csv".to_owned(),
            method: "log, charge counted".to_owned(),
            which: None,
        };
        Outing {
            format: 1,
            date: "2026-05-17".to_owned(),
            build: None,
            invented: true,
            recordings: Vec::new(),
            quantities: vec![Value::new(
                QuantityKind::Charge,
                Measured::new(charge_c, 0.03 * charge_c),
                Statistic::Total,
                from,
                Condition::of(Doing::Whole),
            )],
            events: Vec::new(),
            clocks: Vec::new(),
        }
    }

    fn boat() -> Boat {
        let text = boat::template("vee", "Test").expect("a starter hull");
        boat::load(&text, "boat.toml").expect("a sound template").0
    }

    #[test]
    fn water_air_charge_and_wind_are_those_of_the_day() {
        let text =
            "water_temperature = \"9 degC\"\nair_temperature = \"4 degC\"\nwind = \"3 m/s\"\n";
        let said = OutingFile::read(text, "outing.toml").expect("a sound file");
        let mut ran = boat();
        let capacity = ran.drives[0].battery.capacity_c.value;
        let day = Day::apply(&mut ran, &[(&outing(0.6 * capacity), Some(&said))]);
        assert_eq!(ran.water.temperature_c.value, 9.0);
        assert_eq!(ran.air.temperature_c.value, 4.0);
        // 60 % drawn from full: 70 % left in the middle.
        assert!((ran.drives[0].battery.state_of_charge.value - 0.7).abs() < 1e-12);
        assert!((day.headwind_m_s.unwrap() - 2.1213).abs() < 1e-3);
        assert_eq!(day.says.len(), 4, "{:?}", day.says);
    }

    #[test]
    fn more_charge_than_the_pack_holds_is_doubted_and_nothing_said_changes_nothing() {
        let mut ran = boat();
        let before = ran.clone();
        let capacity = ran.drives[0].battery.capacity_c.value;
        let day = Day::apply(&mut ran, &[(&outing(1.2 * capacity), None)]);
        assert_eq!(ran, before);
        assert!(day.says[0].contains("120 %"), "{:?}", day.says);
        assert_eq!(Day::apply(&mut ran, &[]), Day::default());
    }
}
