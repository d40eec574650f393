//! From checked tables to a [`Boat`]: defaults filled in, and what no single key can tell checked.

mod drive;
mod hull;
mod making;
mod starter;

use crate::checked::{Checker, Table};
use crate::keys::ROOT;
use crate::measure::Measure;
use crate::model::{Air, Blade, Boat, FloatAid, Opening, Part, Tab, Water, Wing, Wishes};
use crate::problem::Severity;
use std::collections::BTreeMap;
use toml::de::DeTable;

/// The boat in a parsed document. Sound only when `checker` has noted no error.
pub(crate) fn boat(checker: &mut Checker<'_>, document: &DeTable<'_>) -> Boat {
    let root = checker.table(&ROOT, document, 0..0);
    for kind in [
        "part", "drive", "rudder", "fin", "tab", "wing", "float", "opening", "piece", "rod",
    ] {
        unique_names(checker, root.tables(kind), "name");
    }
    let mut boat = Boat {
        name: root.text("name").unwrap_or_default().to_owned(),
        units: (root.text("units").and_then(crate::Units::of_word)).unwrap_or_default(),
        wishes: wishes(&root),
        water: Water {
            temperature_c: section(&root, "water").filled("temperature"),
            ripple_m: section(&root, "water").filled("ripple"),
        },
        air: air(&root),
        hull: hull::hull(checker, &section(&root, "hull")),
        parts: root.tables("part").iter().map(part).collect(),
        drives: drive::drives(checker, root.tables("drive")),
        rudders: each(&root, "rudder", |table, name| blade(table, name, true)),
        fins: each(&root, "fin", |table, name| blade(table, name, false)),
        tabs: each(&root, "tab", tab),
        wings: each(&root, "wing", wing),
        floats: each(&root, "float", float),
        openings: each(&root, "opening", opening),
        making: making::making(checker, &root),
    };
    crate::put_in::mark(&mut boat, &root);
    if checker
        .problems
        .iter()
        .all(|problem| problem.severity == Severity::Warning)
    {
        warn_of_gaps(checker, &root);
    }
    boat
}

/// A table inside `parent`, or an empty one of the same section that gives its defaults.
fn section<'t>(parent: &'t Table, name: &str) -> std::borrow::Cow<'t, Table> {
    match parent.table(name) {
        Some(table) => std::borrow::Cow::Borrowed(table),
        None => std::borrow::Cow::Owned(parent.empty_inner(name)),
    }
}

fn each<T>(root: &Table, kind: &str, make: impl Fn(&Table, String) -> T) -> Vec<T> {
    let tables = root.tables(kind);
    let numbered = |index: usize| match tables.len() {
        1 => kind.to_owned(),
        _ => format!("{kind} {}", index + 1),
    };
    let name = |index, table: &Table| {
        table
            .text("name")
            .map_or_else(|| numbered(index), Into::into)
    };
    tables
        .iter()
        .enumerate()
        .map(|(index, table)| make(table, name(index, table)))
        .collect()
}

/// Names are how findings, overrides and edits address a table, so they must not repeat.
fn unique_names(checker: &mut Checker<'_>, tables: &[Table], key: &str) {
    let mut seen = BTreeMap::new();
    for table in tables {
        let Some(name) = table.text(key) else {
            continue;
        };
        if seen.insert(name.to_lowercase(), ()).is_some() {
            let message = format!(
                "two of the [[{}]] tables are called `{name}`",
                table.section.name
            );
            checker.error(table.place_of(key), message, "give each its own name");
        }
    }
}

/// What the file leaves out that a builder would want answered.
fn warn_of_gaps(checker: &mut Checker<'_>, root: &Table) {
    let top = root.place_of("name");
    let shell_known = root
        .table("hull")
        .is_some_and(|hull| hull.has("print") || hull.has("weighed"));
    if root.has("hull") && !shell_known {
        let message = "the shell is neither described nor weighed: a hollow PETG print with 1.2 mm walls is assumed";
        checker.warn(
            root.place_of("hull"),
            message,
            "add [hull.print], or [hull.weighed] once it is printed",
        );
    }
    let gaps = [
        (
            "part",
            "nothing is carried: mass and balance are the bare shell's",
            "add a [[part]] for each thing fitted, with mass and place",
        ),
        (
            "drive",
            "no propeller: only floating can be answered",
            "add a [[drive]] with battery, motor and propeller",
        ),
        (
            "opening",
            "no opening: nothing says where water would get in first",
            "add an [[opening]] for each hatch rim and outlet",
        ),
        (
            "float",
            "no foam or sealed void: full of water the boat floats by its materials alone",
            "add a [[float]] with volume and place",
        ),
    ];
    for (kind, message, help) in gaps {
        if !root.has(kind) {
            checker.warn(top.clone(), message, help);
        }
    }
}

fn wishes(root: &Table) -> Wishes {
    let table = section(root, "wishes");
    Wishes {
        speed_m_s: table.number("speed"),
        run_time_s: table.number("run_time"),
        freeboard_m: table.number("freeboard"),
    }
}

fn air(root: &Table) -> Air {
    let table = section(root, "air");
    Air {
        temperature_c: table.filled("temperature"),
        headwind_m_s: table.filled("headwind"),
    }
}

fn part(table: &Table) -> Part {
    let size = table.lengths("size").unwrap_or_default();
    Part {
        name: table.text("name").unwrap_or_default().to_owned(),
        mass_kg: table.filled("mass"),
        at: table.required_place("at"),
        size_m: std::array::from_fn(|axis| size.get(axis).map_or(0.0, |measure| measure.value)),
        movable: table.flag("movable").unwrap_or(false),
    }
}

fn blade(table: &Table, name: String, turns: bool) -> Blade {
    let still = Measure::given(0.0);
    Blade {
        name,
        at: table.required_place("at"),
        chord_m: table.filled("chord"),
        span_m: table.filled("span"),
        thickness_m: table.filled("thickness"),
        lean_rad: table.filled("lean"),
        toe_rad: table.filled("toe"),
        wedge: table
            .text("section")
            .map_or(turns, |section| section == "wedge"),
        throw_rad: if turns { table.filled("throw") } else { still },
        stock_m: if turns { table.filled("stock") } else { still },
        servo_time_s: if turns {
            table.filled("servo_time")
        } else {
            still
        },
        servo_torque_n_m: turns.then(|| table.number("servo_torque")).flatten(),
    }
}

fn tab(table: &Table, name: String) -> Tab {
    Tab {
        name,
        at: table.required_place("at"),
        span_m: table.filled("span"),
        chord_m: table.filled("chord"),
        angle_rad: table.filled("angle"),
    }
}

fn wing(table: &Table, name: String) -> Wing {
    Wing {
        name,
        at: table.required_place("at"),
        span_m: table.filled("span"),
        chord_m: table.filled("chord"),
        incidence_rad: table.filled("incidence"),
    }
}

fn float(table: &Table, name: String) -> FloatAid {
    FloatAid {
        name,
        volume_m3: table.filled("volume"),
        at: table.required_place("at"),
    }
}

fn opening(table: &Table, name: String) -> Opening {
    let size = table.lengths("size").unwrap_or_default();
    let side = |axis: usize| size.get(axis).map(|measure| measure.value);
    Opening {
        name,
        at: table.required_place("at"),
        hatch_m: side(0).zip(side(1)).map(<[f64; 2]>::from),
    }
}
