//! Does it hold: the hull as a thin-walled beam, its joints, roots, panels and brackets, under what the boat
//! meets on the water, in the hand and in a crash.
//!
//! A margin is strength over stress: 1 breaks. Strength is that of the print in the direction of the stress,
//! by which way up each piece prints; loads come from the boat's own run in time. An estimate, not a
//! certificate: prints differ by the whole spread given.

pub mod crash;
pub mod details;
pub mod girder;

use boat::making::{GlueKind, JointKind, Rod, RodMaterial};
use boat::{Boat, Measure};
use craft::MassProperties;
use form::Form;
use laws::constants::GRAVITY_M_S2;
pub use laws::printed_strength::WORDS as KNOWN;
use laws::printed_strength::{Plastic, PrintedStrength, Use, find, printed_strength};
use nalgebra::Vector3;

use crate::pieces::{Layout, layout};
use girder::{Girder, Push};

/// Loads from a run in time are known to this (judgement: one run in one ripple).
const LOAD_SPREAD: f64 = 0.3;
/// Picked up with a jerk (judgement).
const JERK: f64 = 2.0;
/// Glue line of closed faces counts so far in from the wall, m (judgement: four walls of 2 mm).
const FLANGE_M: f64 = 0.008;
/// Warmest a boat gets standing in the sun, degC (judgement).
const SUN_C: f64 = 45.0;

/// What the boat's own run showed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Seen {
    /// m/s.
    pub top_m_s: f64,
    /// kg/m3.
    pub water_kg_m3: f64,
    /// Up at the balance point over the ripple as hard as it rarely is, m/s2.
    pub up_m_s2: f64,
    /// As fast as it comes down on a landing, m/s.
    pub sink_m_s: f64,
    /// Of what ripple, m.
    pub ripple_m: f64,
    /// Greatest force of each element, N.
    pub elements: Vec<(String, f64)>,
    /// Hottest motor case, degC.
    pub motor_c: Option<f64>,
}

/// What a margin is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// The hull's own wall.
    Hull,
    /// A glued joint.
    Joint,
    /// Where a sponson meets the hull.
    Root,
    /// A bottom or deck panel.
    Panel,
    /// Screws of a blade's bracket.
    Bracket,
    /// Steady load while it stands.
    Steady,
}

/// Strength over stress.
#[derive(Debug, Clone, PartialEq)]
pub struct Margin {
    /// Of what.
    pub of: Of,
    /// In words: `butt joint 155 mm ahead of the transom`.
    pub place: String,
    /// In words: `landing`.
    pub load: &'static str,
    /// m.
    pub x_m: f64,
    /// Pa.
    pub stress_pa: f64,
    /// Pa.
    pub strength_pa: f64,
    /// 95 % half-width of the margin.
    pub spread: f64,
    /// Of a joint: what it carries of what the wall beside it does.
    pub of_wall: Option<f64>,
}

impl Margin {
    /// Value and half-width as they are told: nobody needs to know how many times more than 99, nor a spread below half.
    #[must_use]
    pub fn told(&self) -> (f64, f64) {
        let half = self.spread.min(0.5 * self.value());
        (self.value().min(MOST_TOLD), half.min(50.0))
    }

    /// A crash, not use: told, but nothing that a boat must be built for.
    #[must_use]
    pub fn is_of_crash(&self) -> bool {
        self.load == crash::UNDER_WATER
    }

    /// Strength over stress.
    #[must_use]
    pub fn value(&self) -> f64 {
        (self.strength_pa / self.stress_pa.max(1.0)).min(999.0)
    }
}

/// More times than this are told as this.
pub const MOST_TOLD: f64 = 99.0;

/// Whether a piece prints standing, by its way up on the bed in the boat's axes: bending pulls its layers apart.
#[must_use]
pub fn prints_standing(up: &Vector3<f64>) -> bool {
    up.x.abs() > 0.5
}

/// Worst margin at a station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// m.
    pub x_m: f64,
    /// Strength over stress.
    pub margin: f64,
    /// Which load.
    pub load: &'static str,
}

/// What would change a margin.
#[derive(Debug, Clone, PartialEq)]
pub struct Lever {
    /// In words: `Two 4 mm carbon rods along the keel`.
    pub what: String,
    /// The worst margin of the hull's wall then.
    pub hull: f64,
    /// The worst margin of its joints then, if there are any.
    pub joints: Option<f64>,
}

/// Whether it holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Strength {
    /// Stern first.
    pub stations: Vec<Station>,
    /// Worst first.
    pub margins: Vec<Margin>,
    /// The joint that carries far less than the wall beside it where the hull bends most.
    pub weak_link: Option<Margin>,
    /// What a crash breaks.
    pub crashes: Vec<crash::Crash>,
    /// Where the plastic softens, degC, low and high, and the hottest that touches it.
    pub softens: Option<([f64; 2], f64)>,
    /// What would change it; empty where nothing is near its limit.
    pub levers: Vec<Lever>,
    /// What is left out.
    pub notes: Vec<String>,
    /// Piece by piece: stretch of x and which way up.
    pub layout: Layout,
}

impl Strength {
    /// The worst margin of a kind.
    #[must_use]
    pub fn worst(&self, of: Of) -> Option<&Margin> {
        self.margins.iter().find(|m| m.of == of)
    }
}

/// Share of the greatest bending along the hull, for choosing cuts.
#[derive(Debug, Clone)]
pub struct Bending {
    girder: Girder,
    moment: Vec<f64>,
    most: f64,
}

impl Bending {
    /// Of a boat that lands at 1 g on what carries it.
    #[must_use]
    pub fn of(boat: &Boat, form: &Form, mass: &MassProperties) -> Self {
        let girder = Girder::of(boat, form, mass, 2.5e9);
        let moment = girder.in_the_air(&carried(form, mass, 1.0, &[]));
        let most = moment.iter().fold(1e-9, |a: f64, m| a.max(m.abs()));
        Self {
            girder,
            moment,
            most,
        }
    }

    /// 0 to 1.
    #[must_use]
    pub fn share(&self, x_m: f64) -> f64 {
        self.moment[self.girder.nearest(x_m)].abs() / self.most
    }
}

/// The boat's weight times `g` on its running surfaces, as the run loaded them or evenly, and always so that it does
/// not all stand on one.
fn carried(form: &Form, mass: &MassProperties, g: f64, seen: &[(String, f64)]) -> Vec<Push> {
    let total = g * mass.mass_kg * GRAVITY_M_S2;
    let of = |name: &str| {
        seen.iter()
            .find(|(n, _)| n == name)
            .map_or(0.0, |(_, f)| *f)
    };
    let loads: Vec<(f64, f64)> = form
        .surfaces
        .iter()
        .map(|s| (s.trailing_edge_m[0] + 0.02, of(&s.name)))
        .collect();
    let sum: f64 = loads.iter().map(|l| l.1).sum();
    let even = 1.0 / loads.len().max(1) as f64;
    loads
        .iter()
        .map(|(x, f)| Push {
            x_m: *x,
            up_n: total * if sum > 0.0 { f / sum } else { even },
        })
        .collect()
}

/// What is asked.
#[derive(Clone, Copy)]
pub struct Asking<'a> {
    /// The boat.
    pub boat: &'a Boat,
    /// Its shape.
    pub form: &'a Form,
    /// Its masses.
    pub mass: &'a MassProperties,
    /// Its run, if it runs.
    pub seen: Option<&'a Seen>,
}

/// Whether it holds. `None` for a plastic whose strength is not known.
#[must_use]
pub fn strength(asking: &Asking<'_>) -> Option<Strength> {
    let plastic = find(&asking.boat.hull.print.material)?;
    let bending = Bending::of(asking.boat, asking.form, asking.mass);
    let layout = layout(asking.boat, asking.form, &|x| bending.share(x)).unwrap_or_default();
    let mut out = beam(asking, plastic, &layout);
    details::add(asking, plastic, &layout, &mut out);
    out.crashes = crash::all(asking, plastic, &layout, &out);
    out.margins.sort_by(|a, b| a.value().total_cmp(&b.value()));
    out.weak_link = weak_link(&out, &bending);
    out.softens = asking
        .seen
        .and_then(|s| s.motor_c)
        .map(|c| (plastic.softens_c, c));
    let near = |of| out.worst(of).is_some_and(|m: &Margin| m.value() < 2.5);
    if near(Of::Hull) || near(Of::Joint) || near(Of::Steady) {
        out.levers = levers(asking, plastic, &layout, &out);
    }
    out.layout = layout;
    Some(out)
}

/// The joint that carries least of what the wall beside it does, where the hull bends as much as that matters.
fn weak_link(of: &Strength, bending: &Bending) -> Option<Margin> {
    let share = |m: &Margin| m.of_wall.unwrap_or(1.0);
    of.margins
        .iter()
        .filter(|m| share(m) < LINK && bending.share(m.x_m) > BENT)
        .min_by(|a, b| share(a).total_cmp(&share(b)))
        .cloned()
}

/// A joint that carries less than this of the wall beside it is where a hull opens (judgement: a flange of 8 mm carries a
/// quarter, a butt joint a fifteenth).
pub const LINK: f64 = 1.0 / 8.0;
/// Where the hull bends by this share of its most, it matters.
const BENT: f64 = 0.5;

/// Hull and joints under bending.
fn beam(asking: &Asking<'_>, plastic: &'static Plastic, layout: &Layout) -> Strength {
    let modulus = 0.5 * (plastic.modulus_pa[0] + plastic.modulus_pa[1]);
    let girder = Girder::of(asking.boat, asking.form, asking.mass, modulus);
    let loads = loads(asking, &girder);
    let mut out = Strength::default();
    for (i, x) in girder.x_m.iter().enumerate() {
        let worst = loads
            .iter()
            .filter(|l| !l.steady)
            .map(|l| (l, strength_over(&girder, i, l, plastic, layout, false)))
            .min_by(|a, b| (a.1.0 / a.1.1).total_cmp(&(b.1.0 / b.1.1)));
        if let Some((load, (strength, stress))) = worst {
            out.stations.push(Station {
                x_m: *x,
                margin: (strength / stress.max(1.0)).min(999.0),
                load: load.name,
            });
        }
    }
    for load in &loads {
        let each = (0..girder.x_m.len()).map(|i| {
            let (strength, stress) = strength_over(&girder, i, load, plastic, layout, load.steady);
            (i, strength, stress)
        });
        let Some((i, strength, stress)) = each.min_by(|a, b| (a.1 / a.2).total_cmp(&(b.1 / b.2)))
        else {
            continue;
        };
        let mut margin = Margin {
            of: if load.steady { Of::Steady } else { Of::Hull },
            place: format!("hull {:.0} mm ahead of the transom", 1e3 * girder.x_m[i]),
            load: load.name,
            x_m: girder.x_m[i],
            stress_pa: stress,
            strength_pa: strength,
            spread: 0.0,
            of_wall: None,
        };
        margin.spread = margin.value() * spread(plastic, load.spread);
        out.margins.push(margin);
        if !load.steady {
            joints(asking, &girder, load, plastic, layout, &mut out);
        }
    }
    out
}

struct Load {
    name: &'static str,
    moment: Vec<f64>,
    spread: f64,
    steady: bool,
}

fn loads(asking: &Asking<'_>, girder: &Girder) -> Vec<Load> {
    let (first, last) = (girder.x_m[0], girder.x_m[girder.x_m.len() - 1]);
    let at = |share: f64| first + share * (last - first);
    let mut all = vec![
        Load {
            name: "carried by its ends",
            moment: girder.held([at(0.02), at(0.98)], JERK),
            spread: 0.3,
            steady: false,
        },
        Load {
            name: "standing on two stands",
            moment: girder.held([at(0.2), at(0.8)], 1.0),
            spread: 0.1,
            steady: true,
        },
    ];
    if let Some(seen) = asking.seen
        && seen.up_m_s2 > 0.0
    {
        let g = seen.up_m_s2 / GRAVITY_M_S2;
        all.push(Load {
            name: "landing",
            moment: girder.in_the_air(&carried(asking.form, asking.mass, g, &seen.elements)),
            spread: LOAD_SPREAD,
            steady: false,
        });
    }
    if let Some(seen) = asking.seen
        && let Some(push) = crash::under_load(asking, seen.top_m_s, seen.water_kg_m3)
    {
        all.push(Load {
            name: crash::UNDER_WATER,
            moment: girder.in_the_air(&[push]),
            spread: 0.5,
            steady: false,
        });
    }
    all
}

/// Of the wall at a station: strength and stress along x, Pa.
fn strength_over(
    girder: &Girder,
    i: usize,
    load: &Load,
    plastic: &'static Plastic,
    layout: &Layout,
    steady: bool,
) -> (f64, f64) {
    let strength = along(plastic, layout.up_at(girder.x_m[i]), Vector3::x(), steady);
    (
        strength.strength_pa,
        girder.sections[i].bending_pa(load.moment[i]).max(1.0),
    )
}

/// Of a print in a direction of the boat, with its layers square to `up`.
pub(crate) fn along(
    plastic: &'static Plastic,
    up: Vector3<f64>,
    pull: Vector3<f64>,
    steady: bool,
) -> PrintedStrength {
    let asked = Use {
        angle_rad: up.dot(&pull).abs().min(1.0).asin(),
        temperature_c: if steady { SUN_C } else { 23.0 },
        steady,
        wet: true,
    };
    printed_strength(plastic, &asked)
        .unwrap_or_else(|e| unreachable!("angle and temperature are within bounds: {e}"))
}

/// Of a margin, from the plastic's scatter and the load's.
fn spread(plastic: &Plastic, load: f64) -> f64 {
    let [low, high] = plastic.across_pa;
    let scatter = (high - low) / (high + low);
    scatter.hypot(load)
}

fn joints(
    asking: &Asking<'_>,
    girder: &Girder,
    load: &Load,
    plastic: &'static Plastic,
    layout: &Layout,
    out: &mut Strength,
) {
    let making = &asking.boat.making;
    let glue = making.glue.strength_pa;
    let wall = asking.boat.hull.print.wall_m.value;
    for (x, kind) in &layout.joints {
        let i = girder.nearest(*x);
        let section = &girder.sections[i];
        let flow =
            section.bending_pa(load.moment[i]) * section.area_m2 / section.outline_m.max(1e-9);
        let over = match kind {
            JointKind::Lap => making.glue.overlap_m.value,
            JointKind::Flange => FLANGE_M,
            JointKind::Butt => wall,
        };
        let mut margin = Margin {
            of: Of::Joint,
            place: format!(
                "{} joint {:.0} mm ahead of the transom",
                kind.word(),
                1e3 * x
            ),
            load: load.name,
            x_m: *x,
            stress_pa: (flow / over).max(1.0),
            strength_pa: glue.value,
            spread: 0.0,
            of_wall: None,
        };
        let (strength, stress) = strength_over(girder, i, load, plastic, layout, false);
        margin.of_wall = Some(margin.strength_pa / margin.stress_pa * stress / strength.max(1.0));
        margin.spread = margin.value() * (glue.spread / glue.value).hypot(load.spread);
        out.margins.push(margin);
    }
}

/// What a builder could do about hull and joints, best first.
fn levers(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    now: &Strength,
) -> Vec<Lever> {
    let mut all = Vec::new();
    let mut add = |what: String, boat: &Boat, layout: &Layout| {
        let mut then = beam(&Asking { boat, ..*asking }, plastic, layout);
        then.margins.sort_by(|a, b| a.value().total_cmp(&b.value()));
        all.push(Lever {
            what,
            hull: then.worst(Of::Hull).map_or(999.0, Margin::value),
            joints: then.worst(Of::Joint).map(Margin::value),
        });
    };
    let mut rods = asking.boat.clone();
    rods.making.rods.extend(keel_rods(asking.form));
    add(
        "Two 4 mm carbon rods glued in along the bottom".to_owned(),
        &rods,
        layout,
    );
    if asking.form.walls.is_none() {
        let mut thick = asking.boat.clone();
        thick.hull.print.wall_m.value += 0.0004;
        add("One more wall line, 0.4 mm".to_owned(), &thick, layout);
    }
    if let Some(joint) = now.worst(Of::Joint) {
        if asking.boat.making.glue.kind == GlueKind::Epoxy {
            let mut glue = asking.boat.clone();
            glue.making.glue.kind = GlueKind::Methacrylate;
            glue.making.glue.strength_pa = GlueKind::Methacrylate.strength_pa();
            add("Methacrylate instead of epoxy".to_owned(), &glue, layout);
        }
        let at = joint.x_m;
        let mut better = layout.clone();
        let kind = if asking.form.walls.is_some() {
            JointKind::Lap
        } else {
            JointKind::Flange
        };
        if better
            .joints
            .iter()
            .any(|(x, k)| *x == at && *k == JointKind::Butt)
        {
            for (x, k) in &mut better.joints {
                if *x == at {
                    *k = kind;
                }
            }
            add(
                format!(
                    "A {} joint at {:.0} mm instead of a butt joint",
                    kind.word(),
                    1e3 * at
                ),
                asking.boat,
                &better,
            );
        }
        let bending = Bending::of(asking.boat, asking.form, asking.mass);
        let quieter = (-8..=8)
            .map(|k| at + 0.01 * f64::from(k))
            .min_by(|a, b| bending.share(*a).total_cmp(&bending.share(*b)));
        if let Some(to) = quieter.filter(|to| bending.share(*to) < 0.8 * bending.share(at)) {
            let mut moved = layout.clone();
            for (x, _) in &mut moved.joints {
                if *x == at {
                    *x = to;
                }
            }
            add(
                format!("The cut at {:.0} mm moved to {:.0} mm", 1e3 * at, 1e3 * to),
                asking.boat,
                &moved,
            );
        }
    }
    if layout.stretches.iter().any(|s| prints_standing(&s.2)) {
        let mut flat = layout.clone();
        flat.stretches.iter_mut().for_each(|s| s.2 = Vector3::z());
        add(
            "Printed lying, layers along the hull, where the bed takes it".to_owned(),
            asking.boat,
            &flat,
        );
    }
    all
}

/// A pair of rods low in the hull, from end to end.
fn keel_rods(form: &Form) -> Vec<Rod> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Vec::new();
    };
    let place = |x: f64, y: f64, z: f64| [x, y, z].map(Measure::given);
    [-0.015, 0.015]
        .into_iter()
        .map(|y| Rod {
            name: "keel rod".to_owned(),
            diameter_m: Measure::given(0.004),
            from: place(low.x, y, low.z + 0.006),
            to: place(high.x, y, low.z + 0.006),
            material: RodMaterial::Carbon,
        })
        .collect()
}
