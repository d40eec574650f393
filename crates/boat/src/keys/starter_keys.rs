//! `[hull.starter]`: four hull types in the trade's own dimensions.
//!
//! `type` and `length` alone make a hull; the rest follows from proportions that are common
//! practice (no source).

use super::{Form, Key, Need, Section, angle, assumed_deg, key, length, share};

pub(super) const STARTERS: &[(&str, &Section)] = &[
    ("three-point", &THREE_POINT),
    ("outrigger", &OUTRIGGER),
    ("vee", &VEE),
    ("catamaran", &CATAMARAN),
];

const TYPE: Key = key(
    "type",
    Form::Choice(&["three-point", "outrigger", "vee", "catamaran"]),
    Need::Required,
    "Which hull.",
);
const WHY: &str = "first-sketch value (common practice, no source)";
const SIZE: [f64; 2] = [0.0, 3.0];
const SOME: [f64; 2] = [0.001, 3.0];
const LENGTH: [f64; 2] = [0.1, 3.0];

static THREE_POINT: Section = Section {
    name: "hull.starter",
    doc: "Three-point hydroplane: two sponsons ahead, propeller and transom behind.",
    keys: &[
        TYPE,
        length(
            "length",
            LENGTH,
            Need::Required,
            "Transom to bow, hardware excluded.",
        ),
        length("beam", SOME, share("length", 0.5), "Over the sponsons."),
        length("depth", SOME, share("length", 0.14), "Hull bottom to deck."),
        length(
            "sponson_length",
            SOME,
            share("length", 0.455),
            "Sponson trailing edge to its nose.",
        ),
        length(
            "sponson_trailing_edge",
            SOME,
            share("length", 0.54),
            "Sponson trailing edge ahead of the transom.",
        ),
        length(
            "sponson_drop",
            SIZE,
            share("length", 0.036),
            "Sponson bottom below the hull bottom at the trailing edge.",
        ),
        length(
            "gap",
            SOME,
            share("beam", 0.57),
            "Between the sponsons' inner edges.",
        ),
        length("pad_width", SOME, share("beam", 0.13), "Each ride pad."),
        length(
            "pad_flat",
            SOME,
            share("length", 0.18),
            "Straight run of the pad ahead of its trailing edge.",
        ),
        angle(
            "pad_angle",
            [0.0, 12.0],
            assumed_deg(3.0, 0.0, WHY),
            "Built angle of the pad, bow up.",
        ),
        angle(
            "pad_deadrise_left",
            [0.0, 30.0],
            assumed_deg(1.0, 0.0, WHY),
            "Deadrise of the left pad, rising outward.",
        ),
        angle(
            "pad_deadrise_right",
            [0.0, 30.0],
            assumed_deg(0.0, 0.0, WHY),
            "Deadrise of the right pad, rising outward.",
        ),
        angle(
            "entry_angle",
            [1.0, 60.0],
            assumed_deg(12.0, 0.0, WHY),
            "Anti-dive panel ahead of the pad, to horizontal.",
        ),
        angle(
            "nontrip_angle",
            [5.0, 90.0],
            assumed_deg(35.0, 0.0, WHY),
            "Outer bevel, from horizontal.",
        ),
        length(
            "transom_width",
            SOME,
            share("gap", 0.72),
            "Width of the hull bottom at the transom.",
        ),
    ],
};

static OUTRIGGER: Section = Section {
    name: "hull.starter",
    doc: "Outrigger hydroplane: a narrow tub with sponsons on booms.",
    keys: &[
        TYPE,
        length(
            "length",
            LENGTH,
            Need::Required,
            "Of the tub, hardware excluded.",
        ),
        length("beam", SOME, share("length", 0.52), "Over the sponsons."),
        length("tub_width", SOME, share("length", 0.145), "Tub width."),
        length(
            "tub_depth",
            SOME,
            share("length", 0.09),
            "Tub bottom to deck.",
        ),
        length(
            "sponson_length",
            SOME,
            share("length", 0.35),
            "Sponson trailing edge to its nose.",
        ),
        length(
            "sponson_width",
            SOME,
            share("beam", 0.14),
            "Each sponson, its bevel included.",
        ),
        length(
            "sponson_trailing_edge",
            SOME,
            share("length", 0.47),
            "Sponson trailing edge ahead of the transom.",
        ),
        length(
            "sponson_drop",
            SIZE,
            share("length", 0.031),
            "Sponson bottom below the tub bottom at the trailing edge.",
        ),
        length("pad_width", SOME, share("beam", 0.11), "Each ride pad."),
        length(
            "pad_flat",
            SOME,
            share("length", 0.094),
            "Straight run of the pad ahead of its trailing edge.",
        ),
        angle(
            "pad_angle",
            [0.0, 12.0],
            assumed_deg(3.5, 0.0, WHY),
            "Built angle of the pad, bow up.",
        ),
        angle(
            "entry_angle",
            [1.0, 60.0],
            assumed_deg(12.0, 0.0, WHY),
            "Anti-dive panel ahead of the pad, to horizontal.",
        ),
        angle(
            "nontrip_angle",
            [5.0, 90.0],
            assumed_deg(35.0, 0.0, WHY),
            "Outer bevel, from horizontal.",
        ),
        length(
            "boom_aft",
            SOME,
            share("length", 0.515),
            "Rear boom ahead of the transom.",
        ),
        length(
            "boom_forward",
            SOME,
            share("length", 0.69),
            "Front boom ahead of the transom.",
        ),
        length(
            "boom_height",
            SIZE,
            share("length", 0.072),
            "Boom centres above the tub bottom.",
        ),
        length(
            "boom_diameter",
            SOME,
            share("length", 0.019),
            "Outside diameter of the booms.",
        ),
        length(
            "rear_pad_width",
            SIZE,
            share("length", 0.028),
            "Each rear pad; 0 for none.",
        ),
        length(
            "rear_pad_length",
            SIZE,
            share("length", 0.0625),
            "Each rear pad, from the transom forward.",
        ),
        length(
            "rear_pad_offset",
            SIZE,
            share("length", 0.053),
            "Middle of each rear pad from the centreline.",
        ),
        length(
            "rear_pad_height",
            [-0.5, 0.5],
            share("length", -0.022),
            "Bottom of the rear pads; negative is below the tub bottom.",
        ),
    ],
};

static VEE: Section = Section {
    name: "hull.starter",
    doc: "Vee-bottomed single hull.",
    keys: &[
        TYPE,
        length(
            "length",
            LENGTH,
            Need::Required,
            "Transom to stem, hardware excluded.",
        ),
        length("beam", SOME, share("length", 0.275), "Over the chines."),
        length("depth", SOME, share("length", 0.147), "Keel to deck."),
        angle(
            "deadrise",
            [0.0, 45.0],
            assumed_deg(22.0, 0.0, WHY),
            "Aft, constant up to `constant_to`.",
        ),
        length(
            "constant_to",
            SOME,
            share("length", 0.5),
            "How far forward deadrise and keel line stay straight.",
        ),
        angle(
            "bow_deadrise",
            [0.0, 75.0],
            assumed_deg(38.0, 0.0, WHY),
            "Deadrise at `bow_station`.",
        ),
        length(
            "bow_station",
            SOME,
            share("length", 0.8),
            "Where `bow_deadrise` is reached.",
        ),
        length(
            "chine_flat",
            SIZE,
            share("beam", 0.03),
            "Width of each chine flat.",
        ),
        length(
            "keel_pad",
            SIZE,
            share("beam", 0.0),
            "Width of the flat pad along the keel; 0 for none.",
        ),
    ],
};

static CATAMARAN: Section = Section {
    name: "hull.starter",
    doc: "Catamaran: two slender hulls with a tunnel between.",
    keys: &[
        TYPE,
        length(
            "length",
            LENGTH,
            Need::Required,
            "Transom to bow, hardware excluded.",
        ),
        length("beam", SOME, share("length", 0.375), "Overall."),
        length(
            "depth",
            SOME,
            share("length", 0.1225),
            "Sponson bottom to deck.",
        ),
        length(
            "sponson_width",
            SOME,
            share("beam", 0.24),
            "Each hull at the transom.",
        ),
        angle(
            "deadrise",
            [0.0, 45.0],
            assumed_deg(16.0, 0.0, WHY),
            "Outer faces of the bottoms.",
        ),
        length(
            "strip_width",
            SIZE,
            share("beam", 0.073),
            "Flat strip along each hull's inner edge.",
        ),
        length(
            "curve_from",
            SOME,
            share("length", 0.525),
            "Where the bottoms begin to curve up.",
        ),
        length(
            "roof_aft",
            SOME,
            share("beam", 0.14),
            "Tunnel roof above the sponson bottoms at the transom.",
        ),
        length(
            "roof_forward",
            SOME,
            share("beam", 0.2),
            "Tunnel roof above the sponson bottoms at `roof_forward_station`.",
        ),
        length(
            "roof_forward_station",
            SOME,
            share("length", 0.7),
            "Where `roof_forward` is measured.",
        ),
        length(
            "mouth",
            SOME,
            share("length", 0.9),
            "Where the tunnel opens at the bow.",
        ),
    ],
};
