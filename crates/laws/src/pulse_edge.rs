//! How slow edges change the width of a servo pulse as an input reads it.
//!
//! - A source of resistance R drives a capacitance C: `t_rise = RC ln(V/(V - V_rise))`,
//!   `t_fall = RC ln(V/V_fall)`; the width read is wrong by `t_fall - t_rise`. A leak (a wet plug)
//!   adds a divider; give the drive voltage and resistance it leaves (Thevenin).
//! - Source: the first-order RC circuit.
//! - Units: ohm, F, V, s.
//! - Valid: pulse and gap several RC long, so that each edge starts from a settled level; rising
//!   threshold below the drive. Input thresholds differ by maker: take the data sheet's.
//! - Checks: `checks/rc_edge_shift.csv` (derived from the same circuit: catches slips).

use crate::input::{InputError, not_negative, positive, require};

/// Pulse as an input reads it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PulseEdge {
    /// Width read less width sent, s.
    pub width_error_s: f64,
    /// R times C, s.
    pub time_constant_s: f64,
    /// From the driver's rise to the input's, s.
    pub rise_delay_s: f64,
    /// From the driver's fall to the input's, s.
    pub fall_delay_s: f64,
}

/// Shift of the width read, for a driver of `drive_v` through `resistance_ohm` into `capacitance_f`.
///
/// # Errors
/// [`InputError`] when a threshold is not between zero and the drive.
pub fn pulse_edge(
    resistance_ohm: f64,
    capacitance_f: f64,
    drive_v: f64,
    threshold_rise_v: f64,
    threshold_fall_v: f64,
) -> Result<PulseEdge, InputError> {
    let tau =
        not_negative("resistance", resistance_ohm)? * not_negative("capacitance", capacitance_f)?;
    let drive = positive("drive", drive_v)?;
    let inside = |name, v| require(name, v, "above 0 and below drive", |v| v > 0.0 && v < drive);
    let rise = -tau * (-inside("threshold_rise", threshold_rise_v)? / drive).ln_1p();
    let fall = tau * (drive / inside("threshold_fall", threshold_fall_v)?).ln();
    Ok(PulseEdge {
        width_error_s: fall - rise,
        time_constant_s: tau,
        rise_delay_s: rise,
        fall_delay_s: fall,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn agrees_with_the_circuit() {
        let t = Table::read(include_str!("../../../checks/rc_edge_shift.csv"));
        for r in 0..t.len() {
            let n = |c| t.number(r, c);
            let e = pulse_edge(
                n("R_ohm"),
                n("C_pF") * 1e-12,
                n("V_drive_V"),
                n("VIH_V"),
                n("VIL_V"),
            )
            .unwrap();
            assert!((1e6 * e.rise_delay_s - n("t_rise_us")).abs() < 6e-5);
            assert!((1e6 * e.fall_delay_s - n("t_fall_us")).abs() < 6e-5);
            assert!((1e6 * e.width_error_s - n("pulse_width_error_us")).abs() < 6e-5);
        }
    }

    #[test]
    fn even_thresholds_shift_nothing() {
        // ln(2) both ways.
        let e = pulse_edge(1e3, 1e-8, 3.0, 1.5, 1.5).unwrap();
        assert!(e.width_error_s.abs() < 1e-18);
        assert!((e.rise_delay_s - 1e-5 * 2f64.ln()).abs() < 1e-15);
    }

    #[test]
    fn refuses_a_threshold_never_reached() {
        assert!(pulse_edge(1e3, 1e-8, 3.0, 3.0, 1.0).is_err());
        assert!(pulse_edge(1e3, 1e-8, 3.0, 2.0, 0.0).is_err());
        assert!(pulse_edge(-1.0, 1e-8, 3.0, 2.0, 1.0).is_err());
    }
}
