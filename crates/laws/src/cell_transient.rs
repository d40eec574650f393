//! How a lithium cell's voltage settles after a change of current.
//!
//! - `V = Voc - I R0 - v1`, `dv1/dt = (I R1 - v1) / tau`: a series resistance and one slow pair,
//!   both tabled over charge and temperature. With current held, `v1` goes to `I R1` as
//!   `1 - exp(-t / tau)`, which is used exactly.
//! - A second published cell with a fast and a slow pair is given beside it: Chen and Rincon-Mora's
//!   `y = a exp(-b s) + c`.
//! - Source: 27 Ah cell table after Huria, Ceraolo, Gazzarri, Jackey 2012 (attribution from memory);
//!   Chen and Rincon-Mora 2006, IEEE Trans. Energy Conversion 21(2), 504-511.
//! - Units: fraction, K, A, ohm, s, V.
//! - Valid: charge 0.1 to 1, 5 to 40 degC; held at the table's ends. Scaled to another cell by its
//!   resistance at 25 degC and half charge (series and slow together), its time constant kept: the
//!   two published cells' slow pairs differ twofold, so carry that.
//! - Checks: both tables; the closed form after a step.

use crate::input::{InputError, finite, not_negative, positive, require};
use crate::smooth::{bracket, mix};

/// Series resistance and one slow pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Felt at once, ohm.
    pub series_ohm: f64,
    /// Felt after some time constants, ohm.
    pub slow_ohm: f64,
    /// s.
    pub time_constant_s: f64,
}

const CHARGES: [f64; 7] = [0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0];
const TEMPERATURES_K: [f64; 3] = [278.0, 293.0, 313.0];
const SERIES: [[f64; 3]; 7] = [
    [0.0117, 0.0085, 0.0090],
    [0.0110, 0.0085, 0.0090],
    [0.0114, 0.0087, 0.0092],
    [0.0107, 0.0082, 0.0088],
    [0.0107, 0.0083, 0.0091],
    [0.0113, 0.0085, 0.0089],
    [0.0116, 0.0085, 0.0089],
];
const SLOW: [[f64; 3]; 7] = [
    [0.0109, 0.0029, 0.0013],
    [0.0069, 0.0024, 0.0012],
    [0.0047, 0.0026, 0.0013],
    [0.0034, 0.0016, 0.0010],
    [0.0033, 0.0023, 0.0014],
    [0.0033, 0.0018, 0.0011],
    [0.0028, 0.0017, 0.0011],
];
const TIME_S: [[f64; 3]; 7] = [
    [20.0, 36.0, 39.0],
    [31.0, 45.0, 39.0],
    [109.0, 105.0, 61.0],
    [36.0, 29.0, 26.0],
    [59.0, 77.0, 67.0],
    [40.0, 33.0, 29.0],
    [25.0, 39.0, 33.0],
];
const WARM_K: f64 = 298.15;

/// The pair of a cell whose whole resistance at 25 degC and half charge is given.
pub fn pair(state_of_charge: f64, temperature_k: f64, resistance_ohm: f64) -> Pair {
    let (i, s) = bracket(&CHARGES, state_of_charge);
    let (j, t) = bracket(&TEMPERATURES_K, temperature_k);
    let at = |table: &[[f64; 3]; 7]| {
        let row = |r: &[f64; 3]| mix(r[j], r[j + 1], t);
        mix(row(&table[i]), row(&table[i + 1]), s)
    };
    let scale = resistance_ohm / reference_ohm();
    Pair {
        series_ohm: scale * at(&SERIES),
        slow_ohm: scale * at(&SLOW),
        time_constant_s: at(&TIME_S),
    }
}

/// The 27 Ah cell's series and slow resistance at 25 degC and half charge.
fn reference_ohm() -> f64 {
    let t = (WARM_K - 293.0) / 20.0;
    mix(SERIES[3][1], SERIES[3][2], t) + mix(SLOW[3][1], SLOW[3][2], t)
}

/// Slow voltage after `time_s` at a steady current, from `start_v`.
pub fn relaxed_v(pair: &Pair, current_a: f64, start_v: f64, time_s: f64) -> f64 {
    let end = current_a * pair.slow_ohm;
    end + (start_v - end) * (-time_s / pair.time_constant_s).exp()
}

/// A step of current from rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settling {
    /// The pair in force.
    pub pair: Pair,
    /// Terminal voltage just after the step, V.
    pub at_once_v: f64,
    /// At the time asked, V.
    pub terminal_v: f64,
    /// In the end, charge left out of account, V.
    pub settled_v: f64,
    /// Within the table.
    pub in_range: bool,
}

/// Terminal voltage some time after a current is switched on from rest.
///
/// # Errors
/// [`InputError`] for a charge outside 0 to 1, a temperature outside 223 to 373 K, a resistance not
/// above zero or a negative time.
pub fn settling(
    state_of_charge: f64,
    temperature_k: f64,
    resistance_ohm: f64,
    current_a: f64,
    time_s: f64,
) -> Result<Settling, InputError> {
    require("state_of_charge", state_of_charge, "from 0 to 1", |s| {
        (0.0..=1.0).contains(&s)
    })?;
    require(
        "temperature",
        temperature_k,
        "from 223.15 to 373.15 K",
        |k| (223.15..=373.15).contains(&k),
    )?;
    positive("resistance", resistance_ohm)?;
    finite("current", current_a)?;
    not_negative("time", time_s)?;
    let pair = pair(state_of_charge, temperature_k, resistance_ohm);
    let at_once = crate::cell::open_circuit_v(state_of_charge) - current_a * pair.series_ohm;
    Ok(Settling {
        pair,
        at_once_v: at_once,
        terminal_v: at_once - relaxed_v(&pair, current_a, 0.0, time_s),
        settled_v: at_once - current_a * pair.slow_ohm,
        in_range: state_of_charge >= 0.1 && (278.15..=313.15).contains(&temperature_k),
    })
}

/// Chen and Rincon-Mora's 850 mAh cell at a charge: series, fast pair, slow pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoPairs {
    /// ohm.
    pub series_ohm: f64,
    /// ohm.
    pub fast_ohm: f64,
    /// F.
    pub fast_f: f64,
    /// ohm.
    pub slow_ohm: f64,
    /// F.
    pub slow_f: f64,
}

/// Their fits at a charge held to 0.02 to 1, below which a capacitance would turn negative.
pub fn two_pairs(state_of_charge: f64) -> TwoPairs {
    let s = state_of_charge.clamp(0.02, 1.0);
    let y = |a: f64, b: f64, c: f64| a * (-b * s).exp() + c;
    TwoPairs {
        series_ohm: y(0.1562, 24.37, 0.07446),
        fast_ohm: y(0.3208, 29.14, 0.04669),
        fast_f: y(-752.9, 13.51, 703.6).max(1.0),
        slow_ohm: y(6.603, 155.2, 0.04984),
        slow_f: y(-6056.0, 27.12, 4475.0).max(1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn tables_are_those_published() {
        let t = Table::read(include_str!(
            "../../../checks/battery_27Ah_soc_temperature.csv"
        ));
        for r in 0..t.len() {
            let p = pair(
                t.number(r, "SOC_fraction"),
                t.number(r, "T_K"),
                reference_ohm(),
            );
            assert!((p.series_ohm - t.number(r, "R0_ohm")).abs() < 1e-12);
            assert!((p.slow_ohm - t.number(r, "R1_ohm")).abs() < 1e-12);
            assert!((p.time_constant_s - t.number(r, "tau1_s")).abs() < 1e-9);
        }
    }

    #[test]
    fn whole_resistance_is_that_of_the_cell_law() {
        for s in [0.1, 0.3, 0.8] {
            let p = pair(s, 285.0, 0.004);
            let whole = 0.004 * crate::cell::resistance_factor(s, 285.0);
            assert!(relative(p.series_ohm + p.slow_ohm, whole) < 1e-9);
        }
    }

    #[test]
    fn the_other_cells_fits_are_those_published() {
        let t = Table::read(include_str!(
            "../../../checks/battery_chen_rinconmora_2006.csv"
        ));
        let s = 0.4;
        let p = two_pairs(s);
        let ours = [p.series_ohm, p.fast_ohm, p.fast_f, p.slow_ohm, p.slow_f];
        for (r, got) in (1..t.len()).zip(ours) {
            let y = t.number(r, "a") * (-t.number(r, "b") * s).exp() + t.number(r, "c");
            assert!(relative(got, y) < 1e-12, "{}", t.text(r, "symbol"));
        }
        // The two cells' slow time constants at mid charge: hundreds of seconds against tens.
        assert!(p.slow_ohm * p.slow_f > 100.0 && p.fast_ohm * p.fast_f < 60.0);
    }

    #[test]
    fn steps_compose() {
        let p = pair(0.5, 298.15, 0.002);
        let once = relaxed_v(&p, 80.0, 0.01, 12.0);
        let twice = relaxed_v(&p, 80.0, relaxed_v(&p, 80.0, 0.01, 5.0), 7.0);
        assert!((once - twice).abs() < 1e-15);
        let s = settling(0.5, 298.15, 0.002, 80.0, 1e6).unwrap();
        assert!((s.terminal_v - s.settled_v).abs() < 1e-12);
        assert!((s.at_once_v - s.settled_v - 80.0 * p.slow_ohm).abs() < 1e-12);
    }
}
