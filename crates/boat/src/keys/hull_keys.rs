//! `[hull]` and the tables inside it.

use super::starter_keys::STARTERS;
use super::{Form, Key, Need, Section, angle, assumed, key, length, place, quantity};
use crate::kind::Kind;

/// Density of solid printed plastic, kg/m3. Makers' data sheets give these within about 2 %; the
/// values for ABS, PETG and carbon-filled PA12 were seen in Processes 13 (2025) 2733 and an open
/// data page, the rest are usual maker values (from memory).
const PLASTICS: &[(&str, f64)] = &[
    ("PLA", 1240.0),
    ("PETG", 1270.0),
    ("ABS", 1040.0),
    ("ASA", 1070.0),
    ("PC", 1200.0),
    ("PA12", 1010.0),
    ("PA6", 1140.0),
    ("PA12-CF", 1100.0),
];

/// Density of a plastic we know, kg/m3.
pub(crate) fn plastic_density(material: &str) -> Option<f64> {
    let known = PLASTICS
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(material));
    known.map(|(_, density)| *density)
}

const AXES: &[&str] = &["+x", "-x", "+y", "-y", "+z", "-z"];

pub(super) static HULL: Section = Section {
    name: "hull",
    doc: "The shape and its shell. Give `file`, `files` or a `[hull.starter]`.",
    keys: &[
        key(
            "file",
            Form::Path,
            Need::Optional,
            "Mesh of the hull: STL, 3MF or OBJ, in the boat folder.",
        ),
        key(
            "files",
            Form::Paths,
            Need::Optional,
            "Several mesh files in one common frame, read as one hull.",
        ),
        key(
            "unit",
            Form::Choice(&["mm", "cm", "m", "in"]),
            Need::Derived("found from the size"),
            "Unit of the mesh files.",
        ),
        key(
            "forward",
            Form::Choice(AXES),
            Need::Derived("found from the shape"),
            "The axis of the mesh files that points to the bow.",
        ),
        key(
            "up",
            Form::Choice(AXES),
            Need::Derived("found from the shape"),
            "The axis of the mesh files that points up.",
        ),
        length(
            "edge_radius",
            [0.0, 0.02],
            assumed(
                0.0003,
                0.0003,
                "trailing edges as printed with a 0.4 mm nozzle (common practice, no source)",
            ),
            "Radius of the running surfaces' trailing edges; 0 is knife-sharp.",
        ),
        key(
            "finish",
            Form::Choice(&["printed", "sanded", "painted", "polished"]),
            Need::Derived("printed"),
            "What was done to the bottom's outside: `printed` as it left the printer, `sanded` until no layer line is felt, `painted` sanded and painted or resin-coated, `polished` wet-sanded fine and polished.",
        ),
        key(
            "layer_lines",
            Form::Choice(&["across", "along"]),
            Need::Derived("across"),
            "Which way the layer lines of a printed bottom run: `across` the flow when it was printed standing on end, `along` it when printed lying.",
        ),
        length(
            "roughness",
            [0.0, 0.002],
            Need::Derived(
                "from the finish: 0.06 ± 0.04 mm printed across, 0.02 ± 0.015 mm printed along, 0.035 ± 0.015 mm sanded, 0.018 ± 0.012 mm painted, 0.005 ± 0.004 mm polished",
            ),
            "Equivalent sand roughness of the bottom, about 5 times the mean roughness Ra across it.",
        ),
        key(
            "starter",
            Form::Variant(STARTERS),
            Need::Optional,
            "A parametric hull instead of mesh files.",
        ),
        key(
            "print",
            Form::Table(&PRINT),
            Need::Optional,
            "How the shell is printed; predicts its mass.",
        ),
        key(
            "weighed",
            Form::Table(&WEIGHED),
            Need::Optional,
            "The shell on a scale; replaces the prediction.",
        ),
        key(
            "running",
            Form::Tables(&RUNNING),
            Need::Optional,
            "Running surfaces as measured on the printed hull.",
        ),
    ],
};

pub(super) static PRINT: Section = Section {
    name: "hull.print",
    doc: "How the shell is printed. Predicts mass and centre of gravity until the shell is weighed.",
    keys: &[
        key(
            "material",
            Form::Text,
            Need::Derived("PETG"),
            "The plastic. Density is known for PLA, PETG, ABS, ASA, PC, PA12, PA6 and PA12-CF.",
        ),
        quantity(
            "density",
            Kind::Density,
            [100.0, 3000.0],
            Need::Derived("from the material, ± 3 %"),
            "Of the solid plastic. Needed for a plastic not listed above.",
        ),
        length(
            "wall",
            [0.0002, 0.02],
            assumed(
                0.0012,
                0.0004,
                "three perimeters of 0.4 mm (common practice, no source)",
            ),
            "All perimeters of a wall together.",
        ),
        length(
            "top_bottom",
            [0.0, 0.02],
            assumed(
                0.001,
                0.0004,
                "five layers of 0.2 mm (common practice, no source)",
            ),
            "Solid top and bottom layers.",
        ),
        quantity(
            "infill",
            Kind::Fraction,
            [0.0, 1.0],
            assumed(0.15, 0.1, "usual infill (common practice, no source)"),
            "Share of the space between the walls that is filled. Counts only if not hollow.",
        ),
        key(
            "hollow",
            Form::Flag,
            Need::Derived("true"),
            "Empty behind its walls; `false` when the print is filled with `infill`.",
        ),
        quantity(
            "coating",
            Kind::ArealDensity,
            [0.0, 3.0],
            assumed(
                0.2,
                0.1,
                "an inner resin wash of 80 to 150 g/m2 and paint (common practice, no source)",
            ),
            "Resin, primer and paint per area of outside.",
        ),
        quantity(
            "extra",
            Kind::Fraction,
            [0.0, 2.0],
            assumed(
                0.1,
                0.1,
                "frames, spigots and bulkheads (common practice, no source)",
            ),
            "Frames, spigots and bulkheads as a share of the shell's mass.",
        ),
    ],
};

const ON_A_SCALE: Key = quantity(
    "mass",
    Kind::Mass,
    [0.005, 50.0],
    Need::Required,
    "Shell with coating, without the listed parts.",
);

pub(super) static WEIGHED: Section = Section {
    name: "hull.weighed",
    doc: "The shell on a scale.",
    keys: &[
        ON_A_SCALE,
        place(
            "at",
            Need::Derived("where the prediction has it"),
            "Where the bare shell balances.",
        ),
    ],
};

pub(super) static RUNNING: Section = Section {
    name: "hull.running",
    doc: "One running surface as measured on the printed hull. Each value replaces what was found on the mesh.",
    keys: &[
        key(
            "surface",
            Form::Text,
            Need::Required,
            "Name of the surface as `skimwright check` prints it, e.g. `left pad`.",
        ),
        angle(
            "angle",
            [-20.0, 30.0],
            Need::Optional,
            "Keel line near the trailing edge to the boat's x axis; positive is bow up.",
        ),
        length("beam", [0.001, 2.0], Need::Optional, "Chine to chine."),
        angle(
            "deadrise",
            [0.0, 60.0],
            Need::Optional,
            "Mean of the two sides, from horizontal.",
        ),
        length(
            "strake",
            [0.002, 1.0],
            Need::Optional,
            "From the keel out to the edge of the inner spray strake, alike on both sides. At speed it throws the water off as a chine does; meshes are not searched for strakes.",
        ),
        length(
            "trailing_edge_x",
            [-1.0, 5.0],
            Need::Optional,
            "Trailing edge ahead of the transom.",
        ),
        length(
            "trailing_edge_z",
            [-1.0, 1.0],
            Need::Optional,
            "Trailing edge above the origin; negative is below.",
        ),
    ],
};
