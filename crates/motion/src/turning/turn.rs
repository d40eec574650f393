//! A steady circle with all its numbers, and how near each part is to letting go.

use craft::Attitude;
use craft::elements::blade::Role;
use craft::elements::found::Found;
use craft::motion::{Motion, Surroundings};
use craft::solution::WettedSurface;
use laws::surface_blade::INCEPTION_RAD;

use super::circle::{Circle, Turner};

/// Heel at which a boat is taken to roll over in a turn, rad (30 deg; judgement).
const ROLLS_RAD: f64 = 30.0 * std::f64::consts::PI / 180.0;
/// Outward heel at which a hull held by its sides is taken to trip, rad (10 deg; judgement).
const TRIPS_RAD: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// A surface carrying less than this share of the weight in the straight is not missed.
const CARRIES: f64 = 0.08;

/// One way a turn ends.
#[derive(Debug, Clone, PartialEq)]
pub enum GivesWay {
    /// Air reaches a fin and it loses most of its hold: the stern or the whole boat slides out.
    FinVentilates(String),
    /// The same for a rudder: the boat runs wide.
    RudderVentilates(String),
    /// A running surface leaves the water.
    Lifts {
        /// Its name.
        surface: String,
        /// On the inside of the turn.
        inner: bool,
    },
    /// The hull's outer side digs in while it leans outward.
    Trips,
    /// Heel beyond recovery.
    Rolls,
}

impl GivesWay {
    /// A running surface leaves the water.
    pub(super) fn lifts(&self) -> bool {
        matches!(self, Self::Lifts { .. })
    }

    /// It is on its way to its side or its back.
    pub fn turns_over(&self) -> bool {
        matches!(self, Self::Rolls | Self::Trips)
    }

    /// As a builder says it.
    pub fn words(&self) -> String {
        match self {
            Self::FinVentilates(name) => format!("the {name} ventilates and lets go"),
            Self::RudderVentilates(name) => format!("the {name} ventilates and stalls"),
            Self::Lifts { surface, inner } => {
                let side = if *inner { "inner" } else { "outer" };
                format!("the {surface}, on the {side} side, leaves the water")
            }
            Self::Trips => "the outer side digs in and trips the hull".to_owned(),
            Self::Rolls => "it rolls over".to_owned(),
        }
    }
}

/// How much of a limit is used: 1 is letting go.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// Which.
    pub way: GivesWay,
    /// 0 to 1 and beyond.
    pub share: f64,
}

/// A rudder, fin or strut in the turn.
#[derive(Debug, Clone, PartialEq)]
pub struct BladeInTurn {
    /// Its name.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// m.
    pub wetted_m: f64,
    /// rad.
    pub angle_rad: f64,
    /// 0 to 1.
    pub ventilated: f64,
    /// Square to its span, positive to port, N.
    pub side_n: f64,
    /// At its root, on the bracket, N m.
    pub root_moment_n_m: f64,
    /// About a rudder's stock, N m.
    pub stock_torque_n_m: Option<f64>,
}

/// A steady turn described.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// The state.
    pub circle: Circle,
    /// Infinite when straight, m.
    pub radius_m: f64,
    /// Towards the centre, in g.
    pub lateral_g: f64,
    /// The hardest-working drive's, 0 to 1.
    pub throttle: f64,
    /// Of all drives, A.
    pub current_a: f64,
    /// Rudders, fins, struts.
    pub blades: Vec<BladeInTurn>,
    /// Share of weight carried by each running surface, in order.
    pub carried: Vec<f64>,
    /// Every limit, the most used first.
    pub used: Vec<Used>,
}

impl Turn {
    /// Bow up, heel starboard down.
    pub fn attitude(&self) -> &Attitude {
        &self.circle.attitude
    }

    /// The limit most used.
    pub fn weakest(&self) -> Option<&Used> {
        self.used.first()
    }

    /// Greatest servo torque of the rudders, N m.
    pub fn servo_torque_n_m(&self) -> f64 {
        let each = self.blades.iter().filter_map(|b| b.stock_torque_n_m);
        each.map(f64::abs).fold(0.0, f64::max)
    }
}

impl Turner<'_> {
    /// With all its numbers. `straight` is what each running surface carries on the straight.
    pub fn describe(&self, circle: &Circle, straight: &[f64]) -> Turn {
        let craft = self.craft;
        let (motion, still) = (circle.motion(&craft.cg_m()), craft.surroundings());
        let found = Found::default();
        let around = still.asked_together(&found);
        let controls = self.controls(circle);
        let blades: Vec<BladeInTurn> = craft
            .blades()
            .iter()
            .filter_map(|blade| {
                let load = blade.load(&motion, &around, &controls)?;
                let turns = blade.role() == Role::Rudder;
                Some(BladeInTurn {
                    name: craft::element::Element::name(blade).to_owned(),
                    role: blade.role(),
                    wetted_m: load.wetted_m,
                    angle_rad: load.angle_rad,
                    ventilated: load.ventilated,
                    side_n: load.side_n,
                    root_moment_n_m: load.root_moment_n_m,
                    stock_torque_n_m: turns.then(|| load.stock_torque_n_m(blade.stock_m())),
                })
            })
            .collect();
        let demands = craft.demands(&motion, circle.shaft_rad_s);
        let wet = (craft.elements()).filter_map(|e| e.contact(&motion, &around));
        let wet: Vec<WettedSurface> = wet.collect();
        let carried = self.shares(&wet);
        let held_by_sides = self.side_share(circle, &motion, &around, &wet);
        let mut used = blades_used(&blades);
        used.extend(self.heeled(circle, held_by_sides));
        used.extend(self.lifted(circle, wet, &carried, straight));
        used.sort_by(|a, b| b.share.total_cmp(&a.share));
        Turn {
            circle: *circle,
            radius_m: circle.radius_m(),
            lateral_g: circle.lateral_g(),
            throttle: self.throttle(circle),
            current_a: demands.map(|d| d.pack_a).sum(),
            blades,
            carried,
            used,
        }
    }

    /// Lift of each running surface over the boat's weight.
    pub fn carried(&self, circle: &Circle) -> Vec<f64> {
        let (motion, around) = (circle.motion(&self.craft.cg_m()), self.craft.surroundings());
        let each = self.craft.elements();
        let wet: Vec<WettedSurface> = (each.filter_map(|e| e.contact(&motion, &around))).collect();
        self.shares(&wet)
    }

    fn shares(&self, wet: &[WettedSurface]) -> Vec<f64> {
        let weight = self.craft.weight_n();
        wet.iter().map(|wet| wet.lift_n / weight).collect()
    }

    fn lifted(
        &self,
        circle: &Circle,
        wet: Vec<WettedSurface>,
        now: &[f64],
        straight: &[f64],
    ) -> Vec<Used> {
        wet.into_iter()
            .zip(now)
            .zip(straight)
            .filter(|(_, before)| **before > CARRIES)
            .map(|((wet, now), before)| Used {
                way: GivesWay::Lifts {
                    inner: self.is_inner(&wet.name, circle),
                    surface: wet.name,
                },
                share: if *now <= 0.0 {
                    1.0
                } else {
                    (1.0 - now / before).max(0.0)
                },
            })
            .collect()
    }

    /// Whether a surface lies towards the centre of the turn.
    fn is_inner(&self, name: &str, circle: &Circle) -> bool {
        let surfaces = self.craft.propellers().first().map(|p| p.surfaces());
        let y = surfaces
            .unwrap_or_default()
            .iter()
            .find(|s| s.name == name)
            .map_or(0.0, |s| s.keel_m[0].y);
        (y - self.craft.cg_m().y) * circle.yaw_rate_rad_s > 0.0
    }

    fn heeled(&self, circle: &Circle, held_by_sides: f64) -> Vec<Used> {
        let heel = circle.attitude.heel_rad;
        // Turning to port, starboard is outside: starboard down is outward.
        let outward = heel * circle.yaw_rate_rad_s.signum();
        vec![
            Used {
                way: GivesWay::Rolls,
                share: heel.abs() / ROLLS_RAD,
            },
            Used {
                way: GivesWay::Trips,
                share: (held_by_sides * outward / TRIPS_RAD).max(0.0),
            },
        ]
    }

    /// Part of the force towards the centre that the hull's own sides and panels give, 0 to 1.
    fn side_share(
        &self,
        circle: &Circle,
        motion: &Motion,
        around: &Surroundings,
        wet: &[WettedSurface],
    ) -> f64 {
        let controls = self.controls(circle);
        let inward = motion.level_port() * circle.yaw_rate_rad_s.signum();
        let (mut hull, mut all) = (0.0, 0.0);
        for element in self.craft.elements() {
            let push = element
                .wrench(motion, around, &controls)
                .force_n
                .dot(&inward);
            let named = |wet: &WettedSurface| wet.name == element.name();
            let is_hull = element.name() == "hull sides" || wet.iter().any(named);
            if is_hull {
                hull += push;
            }
            all += push;
        }
        if all > 0.0 {
            (hull / all).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }
}

fn blades_used(blades: &[BladeInTurn]) -> Vec<Used> {
    let each = blades.iter().filter(|b| b.role != Role::Strut);
    each.map(|blade| Used {
        way: if blade.role == Role::Fin {
            GivesWay::FinVentilates(blade.name.clone())
        } else {
            GivesWay::RudderVentilates(blade.name.clone())
        },
        share: blade.angle_rad.abs() / INCEPTION_RAD,
    })
    .collect()
}
