//! How the hull is made: the printer, where it is cut, what is glued in.

use crate::measure::Measure;
use crate::model::{Axis, Place};

/// How the hull is made. Everything has a stated default.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Making {
    /// What prints it.
    pub printer: Printer,
    /// Cuts the builder wants or forbids.
    pub cuts: Vec<Cut>,
    /// Pieces as printed.
    pub pieces: Vec<Piece>,
    /// Rods glued into the hull.
    pub rods: Vec<Rod>,
    /// What holds the joints.
    pub glue: Glue,
    /// Between frames or bulkheads, m; none when absent.
    pub frames_m: Option<f64>,
}

/// What prints it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printer {
    /// Width, depth and height it can print, m.
    pub bed_m: [f64; 3],
    /// Whether the builder gave the bed.
    pub bed_given: bool,
    /// m.
    pub nozzle_m: Measure,
    /// m.
    pub layer_m: Measure,
    /// Plastic it lays down, m3/s.
    pub flow_m3_s: Measure,
    /// Of filament, per kg, in the builder's money.
    pub price_per_kg: Option<f64>,
}

impl Default for Printer {
    fn default() -> Self {
        Self {
            bed_m: [0.22, 0.22, 0.25],
            bed_given: false,
            nozzle_m: Measure::assumed(0.0004, 0.0, "the usual nozzle"),
            layer_m: Measure::assumed(0.0002, 0.0, "half a nozzle"),
            flow_m3_s: Measure::assumed(
                9.5e-9,
                2.5e-9,
                "a 0.4 mm nozzle (common practice, no source)",
            ),
            price_per_kg: None,
        }
    }
}

/// Which way a cut's plane stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutAcross {
    /// A plane of constant x: ahead and behind.
    X,
    /// A plane of constant y: port and starboard.
    Y,
}

/// How two pieces meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JointKind {
    /// A spigot inside the wall; needs a mesh that has its walls.
    Lap,
    /// Closed faces glued together over a few walls' width, with dowels.
    Flange,
    /// Wall end on wall end.
    Butt,
}

impl JointKind {
    /// As written in the boat file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lap => "lap",
            Self::Flange => "flange",
            Self::Butt => "butt",
        }
    }
}

/// A cut the builder wants, or a stretch without one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Which way the plane stands.
    pub across: CutAcross,
    /// Here, or between these two no cut.
    pub place: CutPlace,
    /// How the pieces meet; chosen from the mesh when absent.
    pub joint: Option<JointKind>,
}

/// See [`Cut`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CutPlace {
    /// Cut here, m.
    At(f64),
    /// Never between, m.
    KeepOff(f64, f64),
}

/// A piece as printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// As `skimwright pieces` names it.
    pub name: String,
    /// On a scale, kg.
    pub mass_kg: Option<Measure>,
    /// The boat's axis that points up while it prints.
    pub up: Option<Axis>,
}

/// A rod glued into the hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Rod {
    /// The builder's name.
    pub name: String,
    /// m.
    pub diameter_m: Measure,
    /// One end.
    pub from: Place,
    /// The other.
    pub to: Place,
    /// What it is.
    pub material: RodMaterial,
}

/// What a rod is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum RodMaterial {
    Carbon,
    Steel,
    Aluminium,
}

impl RodMaterial {
    /// As written in the boat file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Carbon => "carbon",
            Self::Steel => "steel",
            Self::Aluminium => "aluminium",
        }
    }
}

/// What holds the joints.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glue {
    /// Which.
    pub kind: GlueKind,
    /// Shear to design with, Pa.
    pub strength_pa: Measure,
    /// Left for it all round, m.
    pub gap_m: Measure,
    /// Of a lap, m.
    pub overlap_m: Measure,
}

impl Default for Glue {
    fn default() -> Self {
        Self {
            kind: GlueKind::Epoxy,
            strength_pa: GlueKind::Epoxy.strength_pa(),
            gap_m: Measure::assumed(
                0.0002,
                0.0001,
                "spigots of printed hulls (common practice, no source)",
            ),
            overlap_m: Measure::assumed(0.018, 0.0, "15 to 20 mm (common practice, no source)"),
        }
    }
}

/// Which glue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GlueKind {
    /// Slow epoxy on a sanded print.
    Epoxy,
    /// Two-part methacrylate.
    Methacrylate,
}

impl GlueKind {
    /// All, in the order of [`GlueKind::WORDS`].
    pub const ALL: [Self; 2] = [Self::Epoxy, Self::Methacrylate];
    /// As written in the boat file.
    pub const WORDS: &'static [&'static str] = &["epoxy", "methacrylate"];

    /// As written in the boat file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Epoxy => "epoxy",
            Self::Methacrylate => "methacrylate",
        }
    }

    /// Shear to design a joint with, Pa: a quarter of what lap tests give, for scatter, peaks at the
    /// ends and a builder's sanding (judgement).
    #[must_use]
    pub const fn strength_pa(self) -> Measure {
        match self {
            Self::Epoxy => Measure::assumed(
                1.25e6,
                0.25e6,
                "1 to 1.5 MPa to design with (judgement; lap tests of epoxy on sanded prints give 3 to 6)",
            ),
            Self::Methacrylate => Measure::assumed(
                2.0e6,
                0.5e6,
                "1.5 to 2.5 MPa to design with (judgement; lap tests on PETG give 6 to 10)",
            ),
        }
    }
}
