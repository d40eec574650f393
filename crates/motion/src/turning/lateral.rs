//! Side resistance on the straight: where it acts and how stiff it is.
//!
//! A small drift gives a side force and a yaw moment; their ratio is the place the force acts, the
//! centre of lateral resistance. Behind the centre of gravity the boat turns back into its course like
//! an arrow; ahead of it the boat turns further away and wants to go sideways.

use super::circle::{Circle, Turner};

/// Drift tried, rad.
const NUDGE: f64 = 2e-3;

/// On the straight, rudder held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LateralBalance {
    /// Centre of lateral resistance ahead of the transom, m; `None` when nothing resists.
    pub centre_x_m: Option<f64>,
    /// The same ahead of the centre of gravity; negative steers itself straight, m.
    pub ahead_of_cg_m: Option<f64>,
    /// Side force for each radian of drift over the boat's weight.
    pub stiffness: f64,
    /// Part of it that blades give, 0 to 1.
    pub by_blades: f64,
    /// Yaw moment for each radian of drift over weight times length; positive turns back.
    pub yaw_stiffness: f64,
}

impl Turner<'_> {
    /// From differences about a straight run.
    pub fn lateral_balance(&self, straight: &Circle) -> LateralBalance {
        let at = |drift: f64| {
            let circle = Circle {
                drift_rad: straight.drift_rad + drift,
                ..*straight
            };
            self.sideways(&circle)
        };
        let (more, less) = (at(NUDGE), at(-NUDGE));
        let slope = |of: fn(&Sideways) -> f64| (of(&more) - of(&less)) / (2.0 * NUDGE);
        let (force, moment) = (slope(|s| s.force_n), slope(|s| s.moment_n_m));
        let weight = self.craft.weight_n();
        // Drift to port is pushed back to starboard: the slope of the force is negative.
        let resists = force < -1e-3 * weight;
        let ahead_of_cg_m = resists.then(|| moment / force);
        LateralBalance {
            centre_x_m: ahead_of_cg_m.map(|ahead| self.craft.cg_m().x + ahead),
            ahead_of_cg_m,
            stiffness: -force / weight,
            by_blades: if resists {
                (slope(|s| s.by_blades_n) / force).clamp(0.0, 1.0)
            } else {
                0.0
            },
            yaw_stiffness: moment / (weight * self.craft.length_m()),
        }
    }

    fn sideways(&self, circle: &Circle) -> Sideways {
        let cg = self.craft.cg_m();
        let (motion, around) = (circle.motion(&cg), self.craft.surroundings());
        let controls = self.controls(circle);
        let port = motion.level_port();
        let blades = self.craft.blades().iter();
        let by_blades = blades.filter_map(|b| b.load(&motion, &around, &controls));
        let total = self.craft.total(&motion, &controls);
        let moment = total.moment_n_m - cg.cross(&total.force_n);
        Sideways {
            force_n: total.force_n.dot(&port),
            moment_n_m: moment.dot(&motion.up()),
            by_blades_n: by_blades.map(|load| load.wrench.force_n.dot(&port)).sum(),
        }
    }
}

struct Sideways {
    force_n: f64,
    moment_n_m: f64,
    by_blades_n: f64,
}
