//! Heat of a speed controller, and the ripple its leads let it make.
//!
//! - Conduction `I^2 R` through the bridge; at part throttle the current also runs through the
//!   returning path, `I^2 R` again with driven switches or `I V_diode (1 - d)` through diodes, and the
//!   bridge switches: `f I t (V + V_on) / 2` for each edge while the motor's inductance holds the
//!   current. Into a resistive load an edge costs `I t (V / 6 + V_on / 3)`.
//! - Ripple on the capacitors: `I sqrt(d (1 - d))` of current, `I d (1 - d) / (f C)` of voltage, and
//!   `I sqrt(L / C)` when the leads' current must stop; two wires have
//!   `L = (mu0 / pi) acosh(s / w)` a metre.
//! - Source: chopper with a steady load current (any power-electronics text; Rashid, Power
//!   Electronics, example 4.2 for the edges). The voltage figures are upper estimates: capacitor
//!   resistance and the pack's own damping lower the second, raise the first.
//! - Units: A, V, ohm, s, Hz, F, H, W.
//! - Valid: one-sided chopping at a fixed frequency, current that does not stop.
//! - Checks: `checks/worked_examples.csv` (`switch_loss`).

use crate::input::{InputError, not_negative, positive, require};
use std::f64::consts::PI;

/// What an edge works into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Load {
    /// Current held through the edge: a motor.
    Inductive,
    /// Current rises as voltage falls.
    Resistive,
}

/// A controller at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Controller {
    /// Bridge path, two switches in series, ohm.
    pub resistance_ohm: f64,
    /// Drop of a diode while current returns; 0 with driven switches, V.
    pub diode_v: f64,
    /// Rise and fall time together, s.
    pub edge_s: f64,
    /// Chopping frequency, Hz.
    pub frequency_hz: f64,
    /// Everything that does not depend on the motor: logic and gate drive, W.
    pub idle_w: f64,
}

/// Its heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ControllerLoss {
    /// W.
    pub conduction_w: f64,
    /// W.
    pub switching_w: f64,
    /// W.
    pub total_w: f64,
}

/// Share of a period over which switching fades in below full throttle.
const FULL: f64 = 0.98;

/// Heat at a motor current, a pack voltage and a throttle (0 to 1).
///
/// # Errors
/// [`InputError`] for a negative value or a throttle over 1.
pub fn controller_loss(
    c: &Controller,
    motor_current_a: f64,
    voltage_v: f64,
    throttle: f64,
) -> Result<ControllerLoss, InputError> {
    not_negative("resistance", c.resistance_ohm)?;
    not_negative("diode_voltage", c.diode_v)?;
    not_negative("edge_time", c.edge_s)?;
    not_negative("frequency", c.frequency_hz)?;
    not_negative("idle_power", c.idle_w)?;
    not_negative("current", motor_current_a)?;
    not_negative("voltage", voltage_v)?;
    require("throttle", throttle, "from 0 to 1", |t| {
        (0.0..=1.0).contains(&t)
    })?;
    Ok(loss(c, motor_current_a, voltage_v, throttle))
}

/// [`controller_loss`] on checked values, for many evaluations.
pub fn loss(c: &Controller, current_a: f64, voltage_v: f64, throttle: f64) -> ControllerLoss {
    let chopping = ((1.0 - throttle) / (1.0 - FULL)).clamp(0.0, 1.0);
    let returning = current_a * c.diode_v * (1.0 - throttle);
    let conduction = current_a.powi(2) * c.resistance_ohm + returning;
    let edges = edge_energy_j(voltage_v, 0.0, current_a, c.edge_s, Load::Inductive);
    let switching = chopping * c.frequency_hz * edges;
    ControllerLoss {
        conduction_w: conduction,
        switching_w: switching,
        total_w: conduction + switching + c.idle_w,
    }
}

/// Energy of one edge, J.
pub fn edge_energy_j(
    voltage_v: f64,
    on_voltage_v: f64,
    current_a: f64,
    edge_s: f64,
    load: Load,
) -> f64 {
    let mean_v = match load {
        Load::Inductive => 0.5 * (voltage_v + on_voltage_v),
        Load::Resistive => voltage_v / 6.0 + on_voltage_v / 3.0,
    };
    current_a * edge_s * mean_v
}

/// Ripple at the controller's capacitors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ripple {
    /// Through the capacitors, effective value, A.
    pub current_a: f64,
    /// Peak to peak from charging and discharging, V.
    pub voltage_v: f64,
    /// Above the pack when the leads' current is stopped at once, at most, V.
    pub kick_v: f64,
    /// Of the leads, H.
    pub lead_h: f64,
}

/// Ripple for leads of a length (one way), wire diameter and spacing between wire centres.
///
/// # Errors
/// [`InputError`] for a capacitance or frequency not above zero, or wires that overlap.
pub fn ripple(
    motor_current_a: f64,
    throttle: f64,
    frequency_hz: f64,
    capacitance_f: f64,
    leads: Leads,
) -> Result<Ripple, InputError> {
    let c = positive("capacitance", capacitance_f)?;
    let f = positive("frequency", frequency_hz)?;
    let current = not_negative("current", motor_current_a)?;
    let d = require("throttle", throttle, "from 0 to 1", |t| {
        (0.0..=1.0).contains(&t)
    })?;
    let lead = leads.inductance_h()?;
    Ok(Ripple {
        current_a: current * (d * (1.0 - d)).sqrt(),
        voltage_v: current * d * (1.0 - d) / (f * c),
        kick_v: current * d * (lead / c).sqrt(),
        lead_h: lead,
    })
}

/// Two battery wires side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leads {
    /// One way, m.
    pub length_m: f64,
    /// Of the conductor, m.
    pub wire_m: f64,
    /// Between centres, m.
    pub spacing_m: f64,
}

impl Leads {
    /// Inductance of the loop, H.
    ///
    /// # Errors
    /// [`InputError`] for wires that overlap.
    pub fn inductance_h(&self) -> Result<f64, InputError> {
        let w = positive("wire_diameter", self.wire_m)?;
        let s = require(
            "spacing",
            self.spacing_m,
            "at least the wire diameter",
            |s| s >= w,
        )?;
        Ok(4e-7 * PI / PI * (s / w).acosh() * not_negative("length", self.length_m)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    #[test]
    fn edges_agree_with_the_worked_example() {
        let t = Table::read(include_str!("../../../checks/worked_examples.csv"));
        let value = |quantity: &str| {
            (0..t.len())
                .find(|r| t.text(*r, "case") == "switch_loss" && t.text(*r, "quantity") == quantity)
                .map(|r| t.number(r, "value"))
                .unwrap()
        };
        let (v, on, i) = (value("Vcc"), value("Vce_sat"), value("Ics"));
        let f = 1e3 * value("fs");
        let rise = f * edge_energy_j(v, on, i, 1e-6 * value("tr"), Load::Resistive);
        // The rest of the printed turn-on is the delay's leakage, 3 mA at 250 V.
        assert!(relative(rise, value("P_turn_on")) < 2e-4, "{rise}");
        let stored = f * on * i * 1e-6 * value("ts");
        let fall = f * edge_energy_j(v, on, i, 1e-6 * value("tf"), Load::Resistive);
        // The book leaves the on-voltage out while current falls: 2 W of 135.
        assert!(relative(stored + fall, value("P_turn_off")) < 0.016);
        let on_time = value("duty") / f - 1e-6 * (value("td") + value("tr"));
        assert!(relative(f * on * i * on_time, value("P_conduction")) < 1e-9);
    }

    #[test]
    fn part_throttle_costs_more_than_full_at_the_same_current() {
        let c = Controller {
            resistance_ohm: 0.002,
            diode_v: 0.0,
            edge_s: 2e-7,
            frequency_hz: 16e3,
            idle_w: 0.5,
        };
        let at = |d| controller_loss(&c, 80.0, 14.8, d).unwrap();
        assert_eq!(at(1.0).switching_w, 0.0);
        assert!((at(1.0).conduction_w - 12.8).abs() < 1e-12);
        // 16 kHz * 80 A * 0.2 us * 14.8 V / 2 = 1.89 W.
        assert!((at(0.5).switching_w - 1.8944).abs() < 1e-9);
        assert!(controller_loss(&c, 80.0, 14.8, 1.2).is_err());
    }

    #[test]
    fn longer_leads_kick_harder() {
        let leads = |length_m| Leads {
            length_m,
            wire_m: 0.003,
            spacing_m: 0.005,
        };
        let at = |l| ripple(60.0, 0.5, 16e3, 660e-6, leads(l)).unwrap();
        assert!((at(0.4).kick_v / at(0.1).kick_v - 2.0).abs() < 1e-12);
        assert!((at(0.1).current_a - 30.0).abs() < 1e-12);
        // acosh(5/3) = ln 3: 0.44 uH a metre of pair.
        assert!(relative(at(1.0).lead_h, 4e-7 * 3f64.ln()) < 1e-12);
    }
}
