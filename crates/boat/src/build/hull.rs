//! `[hull]`: where the shape comes from and what the shell weighs.

use super::{section, starter, unique_names};
use crate::checked::{Checker, Table};
use crate::keys::plastic_density;
use crate::measure::Measure;
use crate::model::{Axis, Finish, Hull, HullSource, MeshFile, Print, RunningOverride, Weighed};

pub(super) fn hull(checker: &mut Checker<'_>, table: &Table) -> Hull {
    let running = table.tables("running");
    unique_names(checker, running, "surface");
    Hull {
        source: source(checker, table),
        print: print(checker, &section(table, "print")),
        weighed: table.table("weighed").map(weighed),
        running: running
            .iter()
            .map(|table| running_override(checker, table))
            .collect(),
        edge_radius_m: table.filled("edge_radius"),
        finish: finish(checker, table),
        roughness_m: table
            .given("roughness")
            .unwrap_or_else(|| roughness(finish_of(table), table.has("finish"))),
    }
}

fn finish(checker: &mut Checker<'_>, table: &Table) -> Finish {
    let found = finish_of(table);
    let printed = matches!(found, Finish::PrintedAcross | Finish::PrintedAlong);
    if table.has("layer_lines") && !printed {
        checker.warn(
            table.place_of("layer_lines"),
            "`layer_lines` counts only on a bottom left as printed",
            "remove it, or set `finish = \"printed\"`",
        );
    }
    found
}

fn finish_of(table: &Table) -> Finish {
    match (table.text("finish"), table.text("layer_lines")) {
        (Some("sanded"), _) => Finish::Sanded,
        (Some("painted"), _) => Finish::Painted,
        (Some("polished"), _) => Finish::Polished,
        (_, Some("along")) => Finish::PrintedAlong,
        _ => Finish::PrintedAcross,
    }
}

/// Equivalent sand roughness of a finish, m.
///
/// Printed PETG has Ra 7 to 18 um (reviews of printed surfaces, 2025), and across its lines sand of about
/// 5 Ra (after Flack and Schultz 2010, from memory); ships' sides, painted or sanded and coated, 20 to 50 um (Molland,
/// Turnock, Hudson 2011, table 3.8). Small things are painted finer: paint as sprayed cost a plate no more than 7.3 % of
/// a polished one's friction at our Reynolds numbers (Schultz 2002, in our line 22 um), and aircraft paint is 6 um
/// carefully applied, 10 on average, 30 in mass production (USAF Datcom, as reprinted). Along the lines a third, and
/// polished at the limit of what water feels at 20 m/s: judgement.
fn roughness(finish: Finish, said: bool) -> Measure {
    let (value, spread) = match finish {
        Finish::PrintedAcross => (60e-6, 40e-6),
        Finish::PrintedAlong => (20e-6, 15e-6),
        Finish::Sanded => (35e-6, 15e-6),
        Finish::Painted => (18e-6, 12e-6),
        Finish::Polished => (5e-6, 4e-6),
    };
    let why = match (finish, said) {
        (_, false) => "a bottom as it left the printer; say `finish` if it is better",
        (Finish::PrintedAcross, _) => "printed, layer lines across the flow",
        (Finish::PrintedAlong, _) => "printed, layer lines along the flow",
        (Finish::Sanded, _) => "sanded",
        (Finish::Painted, _) => "painted",
        (Finish::Polished, _) => "polished",
    };
    Measure::assumed(value, spread, why)
}

fn source(checker: &mut Checker<'_>, table: &Table) -> HullSource {
    let sources = ["file", "files", "starter"];
    let given: Vec<&str> = sources.into_iter().filter(|name| table.has(name)).collect();
    let help = "give one of `file = \"hull.stl\"`, `files = [...]` or a [hull.starter]";
    match given.as_slice() {
        [] if table.span.is_empty() => {} // the missing [hull] is noted already
        [] => checker.error(table.span.clone(), "the hull has no shape", help),
        [_] => {}
        [first, others @ ..] => {
            for other in others {
                let message = format!("the hull has both `{first}` and `{other}`");
                checker.error(table.place_of(other), message, help);
            }
        }
    }
    match table.table("starter") {
        Some(dimensions) => {
            reject_mesh_hints(checker, table);
            HullSource::Starter(starter::starter(checker, dimensions))
        }
        None => HullSource::Mesh(mesh_files(checker, table)),
    }
}

fn reject_mesh_hints(checker: &mut Checker<'_>, table: &Table) {
    for hint in ["unit", "forward", "up"]
        .into_iter()
        .filter(|hint| table.has(hint))
    {
        let message = format!("`{hint}` describes mesh files, and this hull is a starter hull");
        checker.error(table.place_of(hint), message, "remove it");
    }
}

fn mesh_files(checker: &mut Checker<'_>, table: &Table) -> Vec<MeshFile> {
    let unit_m = table
        .text("unit")
        .and_then(|symbol| crate::Kind::Length.find(symbol))
        .map(|u| u.factor);
    let (forward, up) = (table.text("forward"), table.text("up"));
    if let (Some(a), Some(b)) = (forward, up)
        && a[1..] == b[1..]
    {
        let message = format!("`up` and `forward` are both along {}", &a[1..]);
        checker.error(
            table.place_of("up"),
            message,
            "give two different axes of the mesh file",
        );
    }
    let one = table.text("file").map(str::to_owned);
    let several = table.texts("files").unwrap_or_default().iter().cloned();
    let file = |path| MeshFile {
        path,
        unit_m,
        forward: forward.and_then(Axis::of_word),
        up: up.and_then(Axis::of_word),
    };
    one.into_iter().chain(several).map(file).collect()
}

fn print(checker: &mut Checker<'_>, table: &Table) -> Print {
    let material = table.text("material").unwrap_or("PETG");
    Print {
        material: material.to_owned(),
        density_kg_m3: density(checker, table, material),
        wall_m: table.filled("wall"),
        top_bottom_m: table.filled("top_bottom"),
        infill: table.filled("infill"),
        hollow: table.flag("hollow").unwrap_or(true),
        coating_kg_m2: table.filled("coating"),
        extra_fraction: table.filled("extra"),
    }
}

fn density(checker: &mut Checker<'_>, table: &Table, material: &str) -> Measure {
    if let Some(given) = table.given("density") {
        return given;
    }
    match plastic_density(material) {
        Some(density) => Measure::assumed(
            density,
            0.03 * density,
            "the material's usual density (makers' data)",
        ),
        None => {
            let message = format!("the density of `{material}` is not known");
            let help = "add `density = \"1.25 g/cm3\"` from the filament's data sheet";
            checker.error(table.place_of("material"), message, help);
            Measure::given(f64::NAN)
        }
    }
}

fn weighed(table: &Table) -> Weighed {
    Weighed {
        mass_kg: table.filled("mass"),
        at: table.place("at"),
    }
}

fn running_override(checker: &mut Checker<'_>, table: &Table) -> RunningOverride {
    let keys = [
        "angle",
        "beam",
        "deadrise",
        "strake",
        "trailing_edge_x",
        "trailing_edge_z",
    ];
    if !keys.iter().any(|key| table.has(key)) {
        let help = format!("give one or more of {}", keys.join(", "));
        checker.warn(table.span.clone(), "this override changes nothing", help);
    }
    RunningOverride {
        surface: table.text("surface").unwrap_or_default().to_owned(),
        angle_rad: table.given("angle"),
        beam_m: table.given("beam"),
        deadrise_rad: table.given("deadrise"),
        strake_m: table.given("strake"),
        trailing_edge_x_m: table.given("trailing_edge_x"),
        trailing_edge_z_m: table.given("trailing_edge_z"),
    }
}
