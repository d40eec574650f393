//! Does it hold: the hull as a thin-walled beam, its joints, roots, panels and brackets, under what the boat
//! meets on the water, in the hand and in a crash.
//!
//! A margin is strength over stress: 1 breaks. Strength is that of the print in the direction of the stress,
//! by which way up each piece prints; loads come from the boat's own run in time. An estimate, not a
//! certificate: prints differ by the whole spread given.

mod bending;
mod brackets;
pub mod crash;
pub mod details;
pub mod girder;
mod levers;
mod twist;

use boat::Boat;
use boat::making::{GlueKind, Rod};
use craft::MassProperties;
use form::Form;
pub use laws::printed_strength::WORDS as KNOWN;
use laws::printed_strength::{Plastic, PrintedStrength, Use, find, printed_strength};
use nalgebra::Vector3;

use crate::pieces::{Layout, layout};
use bending::{beam, carried};
use girder::Girder;

/// Loads from a run in time are known to this (judgement: one run in one ripple).
const LOAD_SPREAD: f64 = 0.3;
/// Pushes as near as this are drawn as one, m.
const BESIDE_M: f64 = 0.005;
/// Shear strength of a print over its tensile strength (judgement).
const SHEAR: f64 = 0.6;
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
    /// Largest current of a motor, A.
    pub current_a: f64,
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
    /// Screws of a blade's bracket or a motor's feet.
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
    /// What has to be done.
    pub by: By,
    /// In words: `Two 4 mm carbon rods along the keel`.
    pub what: String,
    /// What the boat file would then declare; none of what it leaves to the printer.
    pub declares: Option<Declared>,
    /// The worst margin of the hull's wall then.
    pub hull: f64,
    /// The worst margin of its joints then, if there are any.
    pub joints: Option<f64>,
    /// The worst margin of its panels then, if it runs.
    pub panels: Option<f64>,
}

/// What a boat file declares of a stronger hull.
#[derive(Debug, Clone, PartialEq)]
pub enum Declared {
    /// Rods more.
    Rods(Vec<Rod>),
    /// So much more wall, m.
    MoreWall(f64),
    /// Frames so far apart, m.
    Frames(f64),
    /// Another glue, with its usual strength.
    Glue(GlueKind),
}

/// How a hull is made stronger.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Something is glued in.
    GluedIn,
    /// Its pieces are joined otherwise.
    Joined,
    /// Pieces are printed again.
    Printed,
    /// The whole hull is printed again.
    Reprinted,
}

/// A load that bends the hull, as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Acting {
    /// As margins name it.
    pub load: &'static str,
    /// What the hull's own weight or inertia stands against.
    pub presses: Vec<Press>,
}

/// A force where it meets the hull: its underside, or its top where it presses down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Press {
    /// m.
    pub x_m: f64,
    /// m.
    pub z_m: f64,
    /// N.
    pub up_n: f64,
}

/// How far the hull bends between its ends, its frames keeping their shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bow {
    /// m.
    pub bow_m: f64,
    /// 95 % half-width, m.
    pub spread_m: f64,
    /// Which load.
    pub load: &'static str,
    /// Whether bulkheads keep the frames' shape, as a beam's do.
    pub framed: bool,
}

/// So much further than a beam the sides of a hull with nothing inside give way toward its ends, and its flat panels in
/// their middle, against finite elements (`checks/shell_bending.csv`). At the load its sides give way as the beam does.
pub const OPEN: [f64; 2] = [1.7, 3.0];

impl Bow {
    /// What gives way further, as the end of a sentence.
    #[must_use]
    pub fn beyond(&self) -> String {
        if self.framed {
            return "flat panels give way more".to_owned();
        }
        let [sides, panels] = OPEN;
        format!(
            "without bulkheads its sides give way up to {sides:.1} times what a beam does toward the ends, flat panels \
             up to {panels:.0} times"
        )
    }
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
    /// What bends it, in no order.
    pub acting: Vec<Acting>,
    /// The most it bends in use, where that can be seen.
    pub bow: Option<Bow>,
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
    /// What bends the hull where it is weakest, side by side as one, stern first; nothing where that is no load on the
    /// whole of it.
    #[must_use]
    pub fn worst_acting(&self) -> Vec<Press> {
        let worst = self.margins.first().map(|m| m.load);
        let found = self.acting.iter().find(|a| Some(a.load) == worst);
        let mut all = found.map_or_else(Vec::new, |a| a.presses.clone());
        all.sort_by(|a, b| a.x_m.total_cmp(&b.x_m));
        all.dedup_by(|next, kept| {
            let beside = (next.x_m - kept.x_m).abs() < BESIDE_M;
            if beside {
                kept.up_n += next.up_n;
            }
            beside
        });
        all
    }

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

/// What of a boat's strength hangs on its shape alone: no run need be known for it.
#[derive(Debug, Clone)]
pub struct Shape {
    bending: Bending,
    layout: Layout,
}

impl Shape {
    /// Of a boat as it would be printed.
    #[must_use]
    pub fn of(boat: &Boat, form: &Form, mass: &MassProperties) -> Self {
        let bending = Bending::of(boat, form, mass);
        let layout = layout(boat, form, &|x| bending.share(x)).unwrap_or_default();
        Self { bending, layout }
    }
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
    strength_of(asking, Shape::of(asking.boat, asking.form, asking.mass))
}

/// The same of a boat whose shape was looked at before.
#[must_use]
pub fn strength_of(asking: &Asking<'_>, shape: Shape) -> Option<Strength> {
    let plastic = find(&asking.boat.hull.print.material)?;
    let Shape { bending, layout } = shape;
    let mut out = beam(asking, plastic, &layout);
    details::add(asking, plastic, &layout, &mut out);
    if let Some(seen) = asking.seen {
        brackets::add(asking, plastic, seen, &mut out);
        twist::add(asking, plastic, &bending.girder, seen, &mut out);
    }
    out.crashes = crash::all(asking, plastic, &layout, &out);
    out.margins.sort_by(|a, b| a.value().total_cmp(&b.value()));
    out.weak_link = weak_link(&out, &bending);
    out.softens = asking
        .seen
        .and_then(|s| s.motor_c)
        .map(|c| (plastic.softens_c, c));
    let near = |of| out.worst(of).is_some_and(|m: &Margin| m.value() < 2.5);
    if [Of::Hull, Of::Joint, Of::Steady, Of::Panel]
        .into_iter()
        .any(near)
    {
        out.levers = levers::levers(asking, plastic, &layout, &out);
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

/// Of a print across its layers in shear, Pa: which way the wall is torn is not known.
fn shear_pa(plastic: &Plastic) -> f64 {
    SHEAR * 0.5 * (plastic.across_pa[0] + plastic.across_pa[1])
}

/// Of a margin, from the plastic's scatter and the load's.
fn spread(plastic: &Plastic, load: f64) -> f64 {
    let [low, high] = plastic.across_pa;
    let scatter = (high - low) / (high + low);
    scatter.hypot(load)
}
