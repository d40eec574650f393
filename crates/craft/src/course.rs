//! The rudder that holds a course: what a propeller that walks the stern sideways, a fin on one side or a leaning hull
//! turns, the driver's rudder undoes, and that rudder drags.
//!
//! Sway settles by drifting (`steady`). Yaw from the rudders is nearly straight in their angle at the few degrees that
//! holding takes: two looks give the angle, a third what they do there.

use crate::craft::Craft;
use crate::element::{Element as _, Wrench};
use crate::elements::blade::{Blade, Role};
use crate::motion::{Controls, Motion, Surroundings};
use crate::steady::Running;

/// First looked at, rad.
const LOOK_RAD: f64 = 0.02;
/// No driver holds more for long, rad (judgement).
const MOST_RAD: f64 = 0.35;

impl Craft {
    fn rudders(&self) -> impl Iterator<Item = &Blade> {
        self.blades().iter().filter(|b| b.role() == Role::Rudder)
    }

    /// Where the rudders hold a running state on its course, rad; amidships where there are none.
    pub fn course_rad(&self, running: &Running) -> f64 {
        let (motion, around) = (running.motion(), self.surroundings());
        let mut controls = self.controls();
        self.turn(&mut controls, running.shaft_rad_s, running.speed_m_s);
        let total = self.total_in(&motion, &around, &controls);
        self.hold_course(&motion, &around, &mut controls, &total);
        controls.rudder_rad
    }

    fn yaw_n_m(&self, wrench: &Wrench) -> f64 {
        (wrench.moment_n_m - self.cg_m().cross(&wrench.force_n)).z
    }

    /// Puts the rudders where they undo the yaw of `total`, which has them amidships, and gives the total with that.
    /// Without a rudder behind the balance point nothing changes.
    pub fn hold_course(
        &self,
        motion: &Motion,
        around: &Surroundings,
        controls: &mut Controls,
        total: &Wrench,
    ) -> Wrench {
        controls.rudder_rad = 0.0;
        if self.steered_at_m().is_none() {
            return *total;
        }
        let turned = self.yaw_n_m(total);
        let mut at = |rudder_rad: f64| -> Wrench {
            controls.rudder_rad = rudder_rad;
            self.rudders()
                .map(|r| r.wrench(motion, around, controls))
                .sum()
        };
        let amidships = at(0.0);
        let look_rad = LOOK_RAD.copysign(turned);
        let per_rad = (self.yaw_n_m(&at(look_rad)) - self.yaw_n_m(&amidships)) / look_rad;
        let wanted_rad = -turned / per_rad;
        if !wanted_rad.is_finite() {
            at(0.0);
            return *total;
        }
        // Bent, not broken off, so that solvers find their way.
        let held = at(wanted_rad / (1.0 + (wanted_rad / MOST_RAD).powi(2)).sqrt());
        *total + held - amidships
    }
}
