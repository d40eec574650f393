//! The top of the file and what is fitted to the hull.

use super::drive_keys::DRIVE;
use super::hull_keys::HULL;
use super::making_keys::{CUT, GLUE, PIECE, PRINTER, ROD};
use super::{Form, Key, Need, Section, angle, assumed, assumed_deg, key, length, place, quantity};
use crate::kind::Kind;

pub(crate) static ROOT: Section = Section {
    name: "",
    doc: "The boat as it is now.",
    keys: &[
        key(
            "name",
            Form::Text,
            Need::Required,
            "What you call the boat.",
        ),
        key(
            "units",
            Form::Choice(&crate::Units::WORDS),
            Need::Derived("metric"),
            "What everything told of the boat is shown in: `metric` is km/h, g, mm and °C, `inch` is mph, oz, in and °F. Numbers in this file carry their own units either way.",
        ),
        key(
            "wishes",
            Form::Table(&WISHES),
            Need::Optional,
            "What you ask of it.",
        ),
        key(
            "water",
            Form::Table(&WATER),
            Need::Optional,
            "The water it runs on.",
        ),
        key(
            "air",
            Form::Table(&AIR),
            Need::Optional,
            "The air it runs in.",
        ),
        key(
            "hull",
            Form::Table(&HULL),
            Need::Required,
            "Shape and shell.",
        ),
        key(
            "part",
            Form::Tables(&PART),
            Need::Optional,
            "Everything carried that is not the shell.",
        ),
        key(
            "drive",
            Form::Tables(&DRIVE),
            Need::Optional,
            "One for each propeller.",
        ),
        key("rudder", Form::Tables(&RUDDER), Need::Optional, "Rudders."),
        key(
            "fin",
            Form::Tables(&FIN),
            Need::Optional,
            "Turn fins and skegs.",
        ),
        key("tab", Form::Tables(&TAB), Need::Optional, "Trim tabs."),
        key(
            "wing",
            Form::Tables(&WING),
            Need::Optional,
            "Wings that carry air load.",
        ),
        key(
            "float",
            Form::Tables(&FLOAT),
            Need::Optional,
            "Foam and sealed voids.",
        ),
        key(
            "opening",
            Form::Tables(&OPENING),
            Need::Optional,
            "Where water gets in.",
        ),
        key(
            "printer",
            Form::Table(&PRINTER),
            Need::Optional,
            "What prints the hull.",
        ),
        key(
            "cut",
            Form::Tables(&CUT),
            Need::Optional,
            "Cuts between printed pieces, wanted or forbidden.",
        ),
        key(
            "piece",
            Form::Tables(&PIECE),
            Need::Optional,
            "Pieces as printed.",
        ),
        key(
            "rod",
            Form::Tables(&ROD),
            Need::Optional,
            "Rods glued into the hull.",
        ),
        key(
            "glue",
            Form::Table(&GLUE),
            Need::Optional,
            "What holds the joints.",
        ),
    ],
};

static WISHES: Section = Section {
    name: "wishes",
    doc: "What you ask of the boat; findings compare against these.",
    keys: &[
        quantity(
            "speed",
            Kind::Speed,
            [0.1, 120.0],
            Need::Optional,
            "Top speed.",
        ),
        quantity(
            "run_time",
            Kind::Time,
            [1.0, 14_400.0],
            Need::Optional,
            "Full-throttle run time.",
        ),
        length(
            "freeboard",
            [0.0, 1.0],
            Need::Optional,
            "Least freeboard at rest.",
        ),
    ],
};

static WATER: Section = Section {
    name: "water",
    doc: "Fresh water.",
    keys: &[
        quantity(
            "temperature",
            Kind::Temperature,
            [0.0, 40.0],
            assumed(15.0, 7.0, "a pond in season"),
            "Of the water.",
        ),
        length(
            "ripple",
            [0.0, 0.1],
            assumed(
                0.005,
                0.003,
                "a pond in a light breeze (common practice, no source)",
            ),
            "Height of the waves, trough to crest, mean of the highest third. 0 is a mirror.",
        ),
    ],
};

static AIR: Section = Section {
    name: "air",
    doc: "Air and wind.",
    keys: &[
        quantity(
            "temperature",
            Kind::Temperature,
            [-20.0, 50.0],
            assumed(18.0, 10.0, "a day in season"),
            "Of the air.",
        ),
        quantity(
            "headwind",
            Kind::Speed,
            [-25.0, 25.0],
            assumed(0.0, 2.0, "light air"),
            "Along the course; negative is a tailwind.",
        ),
    ],
};

/// Nobody weighed or measured it.
pub(super) const ASSUMED: Key = key(
    "assumed",
    Form::Flag,
    Need::Derived("false"),
    "Nobody weighed or measured this: it was put in by common practice, and no finding that rests on it says good. Delete the line once the numbers are your own.",
);

const PART_NAME: Key = key("name", Form::Text, Need::Required, "Unique in the boat.");
const NAME: Key = key(
    "name",
    Form::Text,
    Need::Derived("the table's name and number"),
    "Unique among its kind.",
);

static PART: Section = Section {
    name: "part",
    doc: "Something carried: mass and place. Battery, motor, controller, strut, propeller, rudder and fins are each weighed here, and only here.",
    keys: &[
        PART_NAME,
        quantity(
            "mass",
            Kind::Mass,
            [0.0001, 50.0],
            Need::Required,
            "On a scale.",
        ),
        place("at", Need::Required, "Its own centre of gravity."),
        key(
            "size",
            Form::Lengths {
                count: 3,
                min: 0.0,
                max: 3.0,
            },
            Need::Derived("a point"),
            "Length, width and height, for inertia and drawing.",
        ),
        key(
            "movable",
            Form::Flag,
            Need::Derived("false"),
            "Can be slid to trim the boat; the battery usually can.",
        ),
        ASSUMED,
    ],
};

const CHORD: Key = length(
    "chord",
    [0.001, 0.5],
    Need::Required,
    "Leading to trailing edge.",
);
const SPAN: Key = length("span", [0.001, 0.5], Need::Required, "From root to tip.");
const LEAN: Key = angle(
    "lean",
    [-90.0, 90.0],
    assumed_deg(0.0, 1.0, "upright"),
    "From vertical; positive moves the tip to port.",
);
const TOE: Key = angle(
    "toe",
    [-20.0, 20.0],
    assumed_deg(
        0.0,
        0.5,
        "parallel to the centreline (common practice, no source)",
    ),
    "Fixed angle to the flow; positive pushes to port.",
);
const AT: Key = place(
    "at",
    Need::Required,
    "Leading edge at the root (upper end).",
);

static RUDDER: Section = Section {
    name: "rudder",
    doc: "A rudder blade.",
    keys: &[
        NAME,
        AT,
        CHORD,
        SPAN,
        length(
            "thickness",
            [0.0002, 0.1],
            assumed(
                0.002,
                0.001,
                "6 degree wedge of usual chord (common practice, no source)",
            ),
            "Greatest thickness.",
        ),
        LEAN,
        TOE,
        key(
            "section",
            Form::Choice(&["plate", "wedge"]),
            Need::Derived("wedge"),
            "`wedge` is sharp ahead and square behind.",
        ),
        angle(
            "throw",
            [1.0, 60.0],
            assumed_deg(25.0, 5.0, "usual throw (common practice, no source)"),
            "Greatest deflection to each side.",
        ),
        length(
            "stock",
            [-0.1, 0.1],
            assumed(
                0.0,
                0.003,
                "hinged at its leading edge (common practice, no source)",
            ),
            "From the leading edge aft to the stock it turns on; negative is ahead of the edge.",
        ),
        quantity(
            "servo_time",
            Kind::Time,
            [0.02, 2.0],
            assumed(
                0.15,
                0.05,
                "a usual servo under load (common practice, no source)",
            ),
            "What the rudder takes for 60 degrees, as the servo's maker says.",
        ),
        quantity(
            "servo_torque",
            Kind::Torque,
            [0.001, 50.0],
            Need::Optional,
            "What the servo holds at the rudder's stock: its maker's torque times rudder arm over servo arm.",
        ),
        ASSUMED,
    ],
};

static FIN: Section = Section {
    name: "fin",
    doc: "A turn fin or skeg.",
    keys: &[
        NAME,
        AT,
        CHORD,
        SPAN,
        length(
            "thickness",
            [0.0002, 0.1],
            assumed(
                0.0016,
                0.0005,
                "1.6 mm hard aluminium (common practice, no source)",
            ),
            "Greatest thickness.",
        ),
        LEAN,
        TOE,
        key(
            "section",
            Form::Choice(&["plate", "wedge"]),
            Need::Derived("plate"),
            "`wedge` is sharp ahead and square behind.",
        ),
        ASSUMED,
    ],
};

static TAB: Section = Section {
    name: "tab",
    doc: "A trim tab: a plate behind a running surface's trailing edge that pushes the stern up and the bow down.",
    keys: &[
        NAME,
        place(
            "at",
            Need::Required,
            "Middle of the hinge line. Builders set it 1 to 2 mm above the bottom; until its trailing edge comes below the bottom's own line it does nothing.",
        ),
        length("span", [0.002, 1.0], Need::Required, "Across the boat."),
        length(
            "chord",
            [0.002, 0.2],
            Need::Required,
            "Hinge to trailing edge.",
        ),
        angle(
            "angle",
            [-45.0, 45.0],
            assumed_deg(
                0.0,
                0.5,
                "in line with the bottom, where tuning starts (common practice, no source)",
            ),
            "To the boat's x axis; positive is trailing edge down, which puts the bow down.",
        ),
    ],
};

static WING: Section = Section {
    name: "wing",
    doc: "A lifting surface in air.",
    keys: &[
        NAME,
        place("at", Need::Required, "Middle of the leading edge."),
        length("span", [0.005, 3.0], Need::Required, "Tip to tip."),
        length(
            "chord",
            [0.005, 1.0],
            Need::Required,
            "Leading to trailing edge.",
        ),
        angle(
            "incidence",
            [-30.0, 30.0],
            assumed_deg(0.0, 1.0, "parallel to the boat's x axis"),
            "To the boat's x axis; positive is nose up.",
        ),
        ASSUMED,
    ],
};

static FLOAT: Section = Section {
    name: "float",
    doc: "Foam or a sealed void: what floats the boat when its inside is full of water.",
    keys: &[
        NAME,
        quantity(
            "volume",
            Kind::Volume,
            [1e-6, 1.0],
            Need::Required,
            "Of foam or air kept dry.",
        ),
        place("at", Need::Required, "Its middle."),
        ASSUMED,
    ],
};

static OPENING: Section = Section {
    name: "opening",
    doc: "A place where water can enter: hatch rim, rudder box, cooling outlet.",
    keys: &[
        NAME,
        place("at", Need::Required, "Its lowest point."),
        key(
            "size",
            Form::Lengths {
                count: 2,
                min: 0.0,
                max: 3.0,
            },
            Need::Derived("nothing passes through it"),
            "Length and width of a hatch that parts go in by.",
        ),
        ASSUMED,
    ],
};
