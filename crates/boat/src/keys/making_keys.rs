//! `[printer]`, `[[cut]]`, `[[piece]]`, `[[rod]]` and `[glue]`: how the hull is made.

use super::{Form, Need, Section, assumed, key, length, place, quantity};
use crate::kind::Kind;
use crate::making::GlueKind;

const UP: &[&str] = &["+x", "-x", "+y", "-y", "+z", "-z"];

pub(super) static PRINTER: Section = Section {
    name: "printer",
    doc: "What prints the hull. `skimwright pieces` cuts for it.",
    keys: &[
        key(
            "bed",
            Form::Lengths {
                count: 3,
                min: 0.02,
                max: 2.0,
            },
            Need::Derived("220 × 220 × 250 mm"),
            "Width, depth and height it can print.",
        ),
        length(
            "nozzle",
            [0.0001, 0.002],
            assumed(0.0004, 0.0, "the usual nozzle"),
            "Diameter of its hole.",
        ),
        length(
            "layer",
            [0.00004, 0.0015],
            assumed(0.0002, 0.0, "half a nozzle"),
            "Height of a layer.",
        ),
        quantity(
            "flow",
            Kind::Flow,
            [1e-10, 1e-6],
            assumed(
                9.5e-9,
                2.5e-9,
                "7 to 12 mm3/s through 0.4 mm (common practice, no source)",
            ),
            "Most plastic it lays down.",
        ),
        quantity(
            "price",
            Kind::Number,
            [0.0, 10_000.0],
            Need::Optional,
            "Of a kilogram of filament, in your money.",
        ),
    ],
};

pub(super) static CUT: Section = Section {
    name: "cut",
    doc: "A cut you want at `at`, or a stretch from `from` to `to` that no cut may pass.",
    keys: &[
        key(
            "across",
            Form::Choice(&["x", "y"]),
            Need::Derived("x"),
            "The axis the cut's plane stands square to: `x` parts bow from stern, `y` port from starboard.",
        ),
        length(
            "at",
            [-2.0, 5.0],
            Need::Optional,
            "Where to cut, along that axis.",
        ),
        length(
            "from",
            [-2.0, 5.0],
            Need::Optional,
            "Start of a stretch without a cut.",
        ),
        length("to", [-2.0, 5.0], Need::Optional, "Its end."),
        key(
            "joint",
            Form::Choice(&["lap", "flange", "butt"]),
            Need::Derived("lap for a mesh with walls, flange otherwise"),
            "How the pieces meet: a spigot inside the wall, closed faces with dowels, or wall end on wall end.",
        ),
    ],
};

pub(super) static PIECE: Section = Section {
    name: "piece",
    doc: "A piece of the hull, named as `skimwright pieces` names it.",
    keys: &[
        key(
            "name",
            Form::Text,
            Need::Required,
            "As `skimwright pieces` names it, e.g. `hull 2`.",
        ),
        quantity(
            "mass",
            Kind::Mass,
            [0.0005, 20.0],
            Need::Optional,
            "The printed piece on a scale; replaces its prediction.",
        ),
        key(
            "up",
            Form::Choice(UP),
            Need::Derived("the best of six"),
            "The boat's axis that points up while it prints.",
        ),
    ],
};

pub(super) static ROD: Section = Section {
    name: "rod",
    doc: "A rod glued into the hull along its length.",
    keys: &[
        key(
            "name",
            Form::Text,
            Need::Derived("rod, numbered"),
            "What you call it.",
        ),
        length("diameter", [0.0005, 0.05], Need::Required, "Of the rod."),
        place("from", Need::Required, "One end."),
        place("to", Need::Required, "The other end."),
        key(
            "material",
            Form::Choice(&["carbon", "steel", "aluminium"]),
            Need::Derived("carbon"),
            "What it is.",
        ),
    ],
};

pub(super) static GLUE: Section = Section {
    name: "glue",
    doc: "What holds the joints.",
    keys: &[
        key(
            "kind",
            Form::Choice(GlueKind::WORDS),
            Need::Derived("epoxy"),
            "Which glue, on a sanded print.",
        ),
        quantity(
            "strength",
            Kind::Pressure,
            [1e4, 5e7],
            Need::Derived("1.25 MPa ± 20 % for epoxy, 2 MPa ± 25 % for methacrylate"),
            "Shear to design with: well below what a lap test gives.",
        ),
        length(
            "gap",
            [0.0, 0.002],
            assumed(
                0.0002,
                0.0001,
                "spigots of printed hulls (common practice, no source)",
            ),
            "Left for the glue all round a spigot or dowel.",
        ),
        length(
            "overlap",
            [0.002, 0.2],
            assumed(0.018, 0.0, "15 to 20 mm (common practice, no source)"),
            "How far a spigot reaches into the next piece.",
        ),
        length(
            "frames",
            [0.005, 2.0],
            Need::Optional,
            "Between frames or bulkheads glued into the hull; none when absent.",
        ),
    ],
};
