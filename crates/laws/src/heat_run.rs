//! A motor's winding and can over a run at a steady current, from the temperature of what cools it.
//!
//! - `C_w dT_w/dt = I^2 R (1 + (T_w - 20 degC) / 255) - G (T_w - T_c)`,
//!   `C_c dT_c/dt = P_i + G (T_w - T_c) - G_out (T_c - T_0)`: linear, so solved exactly by its two eigenvalues. When
//!   the larger is above zero, copper gains resistance faster than it sheds heat and the winding runs away.
//! - `C` from the motor's mass: copper 16 %, the rest iron (judgement).
//! - Source: lumped heat capacities; IEC 60034-1 for copper.
//! - Units: A, ohm, kg, W/K, W, K, s.
//! - Valid: each lump at one temperature; a winding's hot spot runs 10 to 20 K above its mean (from memory). The
//!   whole boat in time, with its pack, controller and water, is `skimwright stint`.
//! - Checks: `checks/heat_run.csv`, scipy's integrator on the same equations.

use crate::input::{InputError, not_negative, positive};
use crate::notes::Notes;

/// A motor at a steady current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatRun {
    /// A.
    pub current_a: f64,
    /// At 20 degC, ohm.
    pub resistance_ohm: f64,
    /// Iron loss, into the can, W.
    pub iron_w: f64,
    /// Whole motor, kg.
    pub motor_kg: f64,
    /// Winding to can, W/K.
    pub inner_w_k: f64,
    /// Can to what cools it, W/K.
    pub outer_w_k: f64,
    /// Of what cools it, and of the motor at the start, K.
    pub coolant_k: f64,
}

/// Where it stands after a time.
#[derive(Debug, Clone, PartialEq)]
pub struct Warmed {
    /// K.
    pub winding_k: f64,
    /// K.
    pub can_k: f64,
    /// Heat in the copper at that moment, W.
    pub copper_w: f64,
    /// When the winding reaches the limit, s; absent when it does not within [`LONGEST_S`].
    pub limit_s: Option<f64>,
    /// The winding has no steady temperature at this current.
    pub runs_away: bool,
    /// Below the temperature at which anything here is held.
    pub in_range: bool,
    /// Remarks.
    pub notes: Notes,
}

const COLD_K: f64 = 293.15;
/// 235 + 20.
const COPPER_K: f64 = 255.0;
const COPPER_J_K_KG: f64 = 0.16 * 385.0;
const IRON_J_K_KG: f64 = 0.84 * 460.0;
/// Longest time looked at, s.
pub const LONGEST_S: f64 = 36_000.0;
/// Copper melts at 1358 K: temperatures are held here, far past any use.
const HELD_K: f64 = 1358.0;

/// Temperatures after a time, and when the winding reaches a limit.
///
/// # Errors
/// [`InputError`] for a mass, conductance or temperature not above zero, or a negative current, resistance, loss
/// or time.
pub fn heat_run(run: &HeatRun, time_s: f64, limit_k: f64) -> Result<Warmed, InputError> {
    not_negative("current", run.current_a)?;
    not_negative("resistance", run.resistance_ohm)?;
    not_negative("iron_loss", run.iron_w)?;
    positive("motor_mass", run.motor_kg)?;
    positive("winding_to_can", run.inner_w_k)?;
    positive("can_to_coolant", run.outer_w_k)?;
    positive("coolant_temperature", run.coolant_k)?;
    not_negative("time", time_s)?;
    positive("limit", limit_k)?;
    let pair = Pair::of(run);
    let (winding_k, can_k) = pair.at(time_s);
    // Heated from rest nothing gets colder; rounding must not say so.
    let held = |k: f64| k.max(run.coolant_k).min(HELD_K);
    let (winding_k, can_k) = (held(winding_k), held(can_k));
    let runs_away = pair.fast >= 0.0;
    let mut notes = Notes::default();
    let out = notes.add_if(
        winding_k >= HELD_K,
        "held where copper melts: the motor was lost long before",
    ) | notes.add_if(
        winding_k > 493.15,
        "winding over 220 degC: past every class",
    );
    let limit_s = pair.reaches(limit_k);
    notes.add_if(
        limit_s.is_none(),
        "the limit is not reached within ten hours",
    );
    notes.add_if(
        runs_away,
        "no steady temperature: copper gains resistance faster than it sheds heat",
    );
    Ok(Warmed {
        winding_k,
        can_k,
        copper_w: run.copper_w(winding_k),
        limit_s,
        runs_away,
        in_range: !out,
        notes,
    })
}

impl HeatRun {
    fn copper_w(&self, winding_k: f64) -> f64 {
        let factor = 1.0 + (winding_k - COLD_K) / COPPER_K;
        self.current_a.powi(2) * self.resistance_ohm * factor.max(0.05)
    }
}

/// `x' = M x + b` for winding and can above the coolant, with its eigenvalues.
struct Pair {
    matrix: [[f64; 2]; 2],
    heat: [f64; 2],
    fast: f64,
    slow: f64,
    coolant_k: f64,
}

impl Pair {
    fn of(run: &HeatRun) -> Self {
        let winding = COPPER_J_K_KG * run.motor_kg;
        let can = IRON_J_K_KG * run.motor_kg;
        let growth = run.current_a.powi(2) * run.resistance_ohm / COPPER_K;
        let matrix = [
            [(growth - run.inner_w_k) / winding, run.inner_w_k / winding],
            [run.inner_w_k / can, -(run.inner_w_k + run.outer_w_k) / can],
        ];
        // Heat passes both ways, so the root is of something above zero and both eigenvalues are real.
        let (half, apart) = (
            0.5 * (matrix[0][0] + matrix[1][1]),
            0.5 * (matrix[0][0] - matrix[1][1]),
        );
        let root = apart.hypot((matrix[0][1] * matrix[1][0]).sqrt());
        Self {
            matrix,
            heat: [run.copper_w(run.coolant_k) / winding, run.iron_w / can],
            fast: half + root,
            slow: half - root,
            coolant_k: run.coolant_k,
        }
    }

    /// `(M - slow) f(fast) - (M - fast) f(slow)` over their difference, on the heat, with `f(l) = (exp(l t) - 1) / l`.
    fn at(&self, time_s: f64) -> (f64, f64) {
        let grown = |l: f64| {
            // Past this the answer is held anyway.
            let x = (l * time_s).min(200.0);
            if x.abs() < 1e-12 {
                time_s
            } else {
                x.exp_m1() / l
            }
        };
        let (a, b) = (grown(self.fast), grown(self.slow));
        let apart = (self.fast - self.slow).max(f64::MIN_POSITIVE);
        let times = |row: usize| {
            let plain: f64 = (0..2).map(|k| self.matrix[row][k] * self.heat[k]).sum();
            let own = self.heat[row];
            ((plain - self.slow * own) * a - (plain - self.fast * own) * b) / apart
        };
        (self.coolant_k + times(0), self.coolant_k + times(1))
    }

    /// Heated from rest both only ever warm, so the limit is passed once.
    fn reaches(&self, limit_k: f64) -> Option<f64> {
        if self.coolant_k >= limit_k {
            return Some(0.0);
        }
        let (mut low, mut high) = (0.0, LONGEST_S);
        if self.at(high).0 < limit_k {
            return None;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.at(middle).0 < limit_k {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(0.5 * (low + high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    fn motor(current_a: f64) -> HeatRun {
        HeatRun {
            current_a,
            resistance_ohm: 0.012,
            iron_w: 20.0,
            motor_kg: 0.2,
            inner_w_k: 1.5,
            outer_w_k: 3.0,
            coolant_k: 288.15,
        }
    }

    #[test]
    fn agrees_with_scipy_tame_and_running_away() {
        let t = Table::read(include_str!("../../../checks/heat_run.csv"));
        for r in 0..t.len() {
            let w = heat_run(
                &motor(t.number(r, "current_A")),
                t.number(r, "time_s"),
                403.15,
            );
            let w = w.unwrap();
            assert!(
                (w.winding_k - t.number(r, "winding_K")).abs() < 1e-6,
                "{w:?}"
            );
            assert!((w.can_k - t.number(r, "can_K")).abs() < 1e-6);
            assert_eq!(w.runs_away, t.number(r, "current_A") > 150.0);
        }
        assert!(t.len() > 8);
    }

    #[test]
    fn the_limit_is_reached_when_the_winding_says() {
        let s = heat_run(&motor(100.0), 1.0, 403.15)
            .unwrap()
            .limit_s
            .unwrap();
        let there = heat_run(&motor(100.0), s, 403.15).unwrap();
        assert!((there.winding_k - 403.15).abs() < 1e-9);
        assert_eq!(heat_run(&motor(30.0), 1.0, 403.15).unwrap().limit_s, None);
        // Steady by hand: the can sheds all heat, the winding its copper's.
        let w = heat_run(&motor(30.0), 30_000.0, 403.15).unwrap();
        let steady_can = 288.15 + (w.copper_w + 20.0) / 3.0;
        assert!((w.can_k - steady_can).abs() < 1e-6);
        assert!((w.winding_k - steady_can - w.copper_w / 1.5).abs() < 1e-6);
    }
}
