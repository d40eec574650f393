//! One lithium-ion polymer cell under load.
//!
//! - Open circuit: a 27 Ah cell's table at 20 degC, linear between its charges (3.50 V empty, 3.71 V
//!   at half, 4.19 V full). Terminal: `V - I R`; positive current discharges.
//! - Resistance: the one given (a warm cell's, 25 degC at half charge) scaled by the shape of a
//!   27 Ah cell's table against charge and temperature, its series and its slow part together: what
//!   a current held for tens of seconds sees.
//! - Source: 27 Ah cell table after Huria, Ceraolo, Gazzarri, Jackey 2012 (attribution from memory).
//! - Units: fraction, A, K, ohm, V, A h.
//! - Valid: charge 0.1 to 1 (below, voltage falls off far faster than here), 5 to 40 degC (resistance
//!   held at the ends), terminal voltage 3.0 to 4.25 V.
//! - Checks: the table; and open circuit against another cell's curve, Chen and Rincon-Mora 2006,
//!   IEEE Trans. Energy Conversion 21(2), 504-511: within 0.12 V from a tenth of charge up, which is
//!   how far cells differ. No data on hobby packs: measure the resistance.

use crate::input::{InputError, finite, positive, require};
use crate::notes::Notes;
use crate::smooth::{bracket, mix};

/// A cell and how it is used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Charge left over full charge.
    pub state_of_charge: f64,
    /// Current, positive discharging, A.
    pub current_a: f64,
    /// Cell temperature, K.
    pub temperature_k: f64,
    /// Capacity, A h.
    pub capacity_ah: f64,
    /// Resistance at 25 degC and half charge, ohm.
    pub resistance_ohm: f64,
}

/// A cell's voltages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellVoltage {
    /// Voltage at rest, V.
    pub open_circuit_v: f64,
    /// Voltage under load, V; not below zero.
    pub terminal_v: f64,
    /// Resistance at this charge and temperature, ohm.
    pub resistance_ohm: f64,
    /// Current over capacity, 1/h.
    pub discharge_rate_per_h: f64,
    /// Heat in the cell, W.
    pub heat_w: f64,
    /// Within the range above.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

const CHARGES: [f64; 7] = [0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0];
const TEMPERATURES_K: [f64; 3] = [278.0, 293.0, 313.0];
/// Open circuit at 20 degC, V, at each charge.
const OPEN_CIRCUIT_V: [f64; 7] = [3.50, 3.57, 3.63, 3.71, 3.93, 4.08, 4.19];
/// Series and slow resistance of the 27 Ah cell, ohm: a row a charge, a column a temperature.
const RESISTANCES: [[f64; 3]; 7] = [
    [0.0226, 0.0114, 0.0103],
    [0.0179, 0.0109, 0.0102],
    [0.0161, 0.0113, 0.0105],
    [0.0141, 0.0098, 0.0098],
    [0.0140, 0.0106, 0.0105],
    [0.0146, 0.0103, 0.0100],
    [0.0144, 0.0102, 0.0100],
];
const WARM_K: f64 = 298.15;

/// Voltages of a cell.
///
/// # Errors
/// [`InputError`] for a charge outside 0 to 1, a temperature outside 223 to 373 K, or a capacity or
/// resistance not above zero.
pub fn cell(c: &Cell) -> Result<CellVoltage, InputError> {
    require("state_of_charge", c.state_of_charge, "from 0 to 1", |s| {
        (0.0..=1.0).contains(&s)
    })?;
    require(
        "temperature",
        c.temperature_k,
        "from 223.15 to 373.15 K",
        |k| (223.15..=373.15).contains(&k),
    )?;
    finite("current", c.current_a)?;
    positive("capacity", c.capacity_ah)?;
    positive("resistance", c.resistance_ohm)?;
    Ok(voltage(c))
}

fn voltage(c: &Cell) -> CellVoltage {
    let open = open_circuit_v(c.state_of_charge);
    let resistance = c.resistance_ohm * resistance_factor(c.state_of_charge, c.temperature_k);
    let terminal = open - c.current_a * resistance;
    let mut notes = Notes::default();
    let out = notes.add_if(
        c.state_of_charge < 0.1,
        "under a tenth of charge: voltage falls off faster than this",
    ) | notes.add_if(
        !(278.15..=313.15).contains(&c.temperature_k),
        "temperature outside 5 to 40 degC: resistance held at the end",
    ) | notes.add_if(terminal < 3.0, "terminal voltage under 3.0 V")
        | notes.add_if(terminal > 4.25, "terminal voltage over 4.25 V");
    CellVoltage {
        open_circuit_v: open,
        terminal_v: terminal.max(0.0),
        resistance_ohm: resistance,
        discharge_rate_per_h: c.current_a / c.capacity_ah,
        heat_w: c.current_a.powi(2) * resistance,
        in_range: !out,
        notes,
    }
}

/// Voltage at rest, for a state of charge held to 0 to 1, V.
pub fn open_circuit_v(state_of_charge: f64) -> f64 {
    let (i, t) = bracket(&CHARGES, state_of_charge);
    mix(OPEN_CIRCUIT_V[i], OPEN_CIRCUIT_V[i + 1], t)
}

/// Resistance over that at 25 degC and half charge; held at the table's ends.
pub fn resistance_factor(state_of_charge: f64, temperature_k: f64) -> f64 {
    table(state_of_charge, temperature_k) / table(0.5, WARM_K)
}

fn table(charge: f64, temperature_k: f64) -> f64 {
    let (i, s) = bracket(&CHARGES, charge);
    let (j, t) = bracket(&TEMPERATURES_K, temperature_k);
    let row = |r: [f64; 3]| mix(r[j], r[j + 1], t);
    mix(row(RESISTANCES[i]), row(RESISTANCES[i + 1]), s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    fn warm() -> Cell {
        Cell {
            state_of_charge: 0.5,
            current_a: 50.0,
            temperature_k: 298.15,
            capacity_ah: 5.0,
            resistance_ohm: 0.002,
        }
    }

    #[test]
    fn tables_are_those_published() {
        let t = Table::read(include_str!(
            "../../../checks/battery_27Ah_soc_temperature.csv"
        ));
        for r in 0..t.len() {
            let (s, k) = (t.number(r, "SOC_fraction"), t.number(r, "T_K"));
            let total = t.number(r, "R0_ohm") + t.number(r, "R1_ohm");
            assert!((table(s, k) - total).abs() < 1e-12);
            let volts = t.number(r, "V_oc_V");
            // Open circuit is taken at 293 K; the other columns lie within 20 mV of it.
            let allowed = if k == 293.0 { 1e-12 } else { 0.0201 };
            assert!((open_circuit_v(s) - volts).abs() < allowed);
        }
    }

    #[test]
    fn another_published_cell_is_not_far() {
        let t = Table::read(include_str!(
            "../../../checks/battery_chen_rinconmora_2006.csv"
        ));
        let k = |c: &str| t.number(0, c);
        for i in 1..=10 {
            let s = f64::from(i) / 10.0;
            let v = k("a") * (-k("b") * s).exp()
                + k("c")
                + k("d") * s
                + k("e") * s * s
                + k("f") * s.powi(3);
            assert!((open_circuit_v(s) - v).abs() < 0.12, "{s}");
        }
    }

    #[test]
    fn sags_by_its_resistance() {
        let v = cell(&warm()).unwrap();
        assert!((v.open_circuit_v - v.terminal_v - 0.1).abs() < 1e-12);
        assert!(v.in_range);
        let cold = cell(&Cell {
            temperature_k: 278.15,
            ..warm()
        })
        .unwrap();
        assert!(cold.terminal_v < v.terminal_v);
        assert!(
            !cell(&Cell {
                current_a: 500.0,
                ..warm()
            })
            .unwrap()
            .in_range
        );
    }

    #[test]
    fn open_circuit_rises_with_charge() {
        assert!(
            (1..=1000).all(
                |i| open_circuit_v(f64::from(i) / 1e3) > open_circuit_v(f64::from(i - 1) / 1e3)
            )
        );
        assert!(
            cell(&Cell {
                state_of_charge: 1.2,
                ..warm()
            })
            .is_err()
        );
    }
}
