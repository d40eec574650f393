//! Getting away: a covered propeller at full throttle may draw air down and lose its grip.
//!
//! Whether it does is not decided by any law here: a disc covered by less than half a diameter, opened at
//! a stroke, is taken as able to. What is left is then `Propeller::drawing_air`, held against the thrust
//! the hull needs at the same speed and attitude.

use crate::craft::Craft;
use crate::curve::planing_speed;
use crate::drive::PropellerLoad;
use crate::elements::propeller::Flow;
use crate::motion::{Motion, Surroundings};
use crate::solution::{RunningState, SpeedCurve};

/// How the propellers are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// As their immersion has it.
    Settled,
    /// Drawing air from above.
    DrawingAir,
}

/// Getting away from rest with the propellers drawing air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Launch {
    /// Shallowest propeller at rest: depth of the lowest tip over diameter.
    pub immersion: f64,
    /// Least thrust over need, minus one, from rest to planing.
    pub margin: f64,
    /// Where that is, m/s.
    pub speed_m_s: f64,
    /// From this speed on it drives the boat even drawing air, m/s; `None` when never below planing.
    pub clear_m_s: Option<f64>,
}

impl Launch {
    /// Covered by so little, or not at all, that a full throttle can draw air.
    pub fn may_draw_air(&self) -> bool {
        self.immersion < 1.5
    }
}

impl Craft {
    /// From the states of a speed curve; `None` for a boat that never planes or has no drive.
    pub fn launch(&self, curve: &SpeedCurve) -> Option<Launch> {
        let planing = planing_speed(curve)?;
        let before = || curve.running.iter().filter(|s| s.speed_m_s <= planing);
        let margin = |s: &RunningState| {
            let thrust: f64 = self
                .at_full_throttle(s, Grip::DrawingAir)
                .iter()
                .map(|f| f.thrust_n)
                .sum();
            thrust / s.thrust_needed_n.max(1e-9) - 1.0
        };
        let worst = before().min_by(|a, b| margin(a).total_cmp(&margin(b)))?;
        let clear = match before().rev().find(|s| margin(s) <= 0.0) {
            None => Some(0.0),
            Some(last) => before()
                .find(|s| s.speed_m_s > last.speed_m_s)
                .map(|s| s.speed_m_s),
        };
        let rest = self.at_rest();
        let (motion, around) = (rest.motion(), self.surroundings());
        let immersions = self
            .propellers()
            .iter()
            .map(|p| p.immersion(&motion, &around));
        Some(Launch {
            immersion: immersions.fold(f64::INFINITY, f64::min),
            margin: margin(worst),
            speed_m_s: worst.speed_m_s,
            clear_m_s: clear,
        })
    }

    /// Pack current of each drive with the throttle wide open at a state, A.
    pub fn full_throttle_currents_a(&self, state: &RunningState, grip: Grip) -> Vec<f64> {
        let loads = self.at_full_throttle(state, grip);
        let each = self.circuits().iter().zip(loads);
        each.map(|(c, load)| c.demand(load.shaft_rad_s, load.torque_n_m).pack_a)
            .collect()
    }

    /// What each propeller gives and takes with the throttle wide open at a state.
    pub fn at_full_throttle(&self, state: &RunningState, grip: Grip) -> Vec<PropellerLoad> {
        let (motion, around) = (state.running().motion(), self.surroundings());
        self.wide_open(&motion, &around, grip)
    }

    /// The same for a motion.
    pub(crate) fn wide_open(
        &self,
        motion: &Motion,
        around: &Surroundings,
        grip: Grip,
    ) -> Vec<PropellerLoad> {
        let each = self.propellers().iter().zip(self.circuits());
        each.map(|(propeller, circuit)| {
            let flow: Flow = propeller.flow(motion, around);
            let load = |shaft| match grip {
                Grip::Settled => propeller.load_in(&flow, around, shaft),
                Grip::DrawingAir => propeller.drawing_air(&flow, around, shaft),
            };
            load(circuit.full_throttle_rad_s(|shaft| load(shaft).torque_n_m))
        })
        .collect()
    }
}
