//! Boat files read from text: complete, minimal and broken ones.

use boat::{Boat, BoatFileError, HullSource, Kind, Problem, Severity, load, template};
use proptest::prelude::*;
use std::collections::BTreeSet;

fn good(text: &str) -> (Boat, Vec<Problem>) {
    load(text, "boat.toml").unwrap_or_else(|error| panic!("{}", rendered(&error)))
}

fn rendered(error: &BoatFileError) -> String {
    let handler = miette::GraphicalReportHandler::new_themed(miette::GraphicalTheme::none());
    let mut out = String::new();
    handler
        .with_width(100)
        .render_report(&mut out, error)
        .expect("rendering into a string");
    out
}

fn refused(text: &str) -> String {
    rendered(&load(text, "boat.toml").expect_err("the text is broken"))
}

/// The one error message of a template after `old` became `new`.
fn spoiled(starter: &str, old: &str, new: &str) -> String {
    let text = template(starter, "Tern").unwrap();
    assert!(text.contains(old), "{old}");
    let error = load(&text.replacen(old, new, 1), "boat.toml").expect_err(new);
    let errors = error
        .problems
        .iter()
        .filter(|p| p.severity == Severity::Error);
    let messages: Vec<&str> = errors.map(|p| p.message.as_str()).collect();
    assert_eq!(messages.len(), 1, "{messages:?}");
    messages[0].to_owned()
}

#[test]
fn templates_load_without_problems() {
    for starter in boat::STARTER_TYPES {
        let text = template(starter, "Night \"Heron\" 2").expect("a known type");
        let (boat, problems) = good(&text);
        assert_eq!(problems, [], "{starter}");
        assert_eq!(boat.name, "Night \"Heron\" 2");
        assert!(matches!(boat.hull.source, HullSource::Starter(_)));
    }
    assert_eq!(template("hovercraft", "x"), None);
}

#[test]
fn the_first_template_means_what_it_says() {
    let (boat, _) = good(&template("three-point", "Tern").unwrap());
    let HullSource::Starter(boat::starter::Starter::ThreePoint(hull)) = &boat.hull.source else {
        panic!("another hull");
    };
    assert_eq!((hull.length_m, hull.gap_m), (0.45, 0.128));
    let battery = boat
        .parts
        .iter()
        .find(|part| part.name == "Battery")
        .unwrap();
    assert_eq!(battery.at.map(|c| c.value), [0.317, 0.022, 0.024]);
    assert_eq!(battery.size_m, [0.105, 0.034, 0.024]);
    assert!(battery.movable);
    let drive = &boat.drives[0];
    assert_eq!((drive.battery.series, drive.battery.parallel), (3, 1));
    assert!((drive.battery.capacity_c.value - 7920.0).abs() < 1e-9);
    assert!((drive.propeller.pitch_ratio.spread - 0.084).abs() < 1e-12);
    assert!(!drive.propeller.right_handed);
    assert!(boat.rudders[0].wedge && !boat.fins[0].wedge);
    assert!((boat.fins[0].lean_rad.value - 20f64.to_radians()).abs() < 1e-12);
}

#[test]
fn name_and_mesh_are_enough_and_gaps_are_said() {
    let (boat, problems) = good("name = \"Tern\"\n[hull]\nfile = \"tern.stl\"\n");
    assert!(
        problems
            .iter()
            .all(|problem| problem.severity == Severity::Warning)
    );
    assert!(boat.drives.is_empty());
    assert!(boat.hull.print.wall_m.is_assumed());
    let source = "name = \"Tern\"\n[hull]\nfile = \"tern.stl\"\n";
    insta::assert_snapshot!(rendered(&BoatFileError::new("boat.toml", source, problems)));
}

#[test]
fn type_and_length_alone_make_each_starter_hull() {
    for starter in boat::STARTER_TYPES {
        for length in ["300 mm", "600 mm", "1.2 m"] {
            let text = format!(
                "name = \"x\"\n[hull.starter]\ntype = \"{starter}\"\nlength = \"{length}\"\n"
            );
            good(&text);
        }
    }
}

#[test]
fn defaults_are_marked_and_follow_from_what_is_given() {
    let text = r#"
name = "x"
[hull]
file = "x.stl"
[[drive]]
battery = { cells = "4S2P", capacity = "5 Ah" }
motor = { kv = "2000 rpm/V", diameter = "36 mm", length = "60 mm" }
propeller = { diameter = "40 mm", pitch = "56 mm", at = ["-50 mm", "0 mm", "-19 mm"] }
strut = { span = "24 mm" }
"#;
    let (boat, problems) = good(text);
    let drive = &boat.drives[0];
    // 12 mohm Ah over the 2.5 Ah of one cell.
    let cell = drive.battery.cell_resistance_ohm;
    assert!(
        cell.is_assumed() && (cell.value - 0.0048).abs() < 1e-9,
        "{cell:?}"
    );
    // Common practice (no source): such a motor has about 12 mohm and draws about 4 A; the stated
    // spread must hold both.
    let (r, i) = (drive.motor.resistance_ohm, drive.motor.no_load_current_a);
    assert!(
        r.is_assumed() && (r.value - 0.012).abs() < r.spread,
        "{r:?}"
    );
    assert!(i.is_assumed() && (i.value - 4.0).abs() < i.spread, "{i:?}");
    let ratio = drive.propeller.pitch_ratio;
    assert!((ratio.value - 1.4).abs() < 1e-12 && (ratio.spread - 0.084).abs() < 1e-12);
    assert!(!ratio.is_assumed());
    let strut = drive.strut.as_ref().unwrap();
    assert!(strut.at[2].is_assumed() && (strut.at[2].value - 0.005).abs() < 1e-12);
    assert!(problems.iter().any(|p| p.message.contains("rotation")));
}

#[test]
fn several_problems_are_drawn_each_with_its_caret() {
    insta::assert_snapshot!(refused(
        r#"name = "Tern"
colour = "red"

[hull]
file = "../tern.stl"
units = "mm"

[hull.print]
wall = "1,2 mm"
material = "unobtainium"

[[part]]
name = "Battery"
mass = 175
at = ["317 mm", "22", "24 mm"]

[[part]]
name = "Battery"
mass = "0 g"
at = ["206 mm", "2 mm"]

[[drive]]
[drive.battery]
cells = "3P"
capacity = "2200 mA"
[drive.motor]
kv = "2600 rpm/V"
resistence = "24 mohm"
[drive.propeller]
diameter = "30 mm"
pitch_ratio = "1.4"
pitch = "42 mm"
rotation = "anticlockwise"
"#
    ));
}

#[test]
fn syntax_is_told_in_place() {
    insta::assert_snapshot!(refused("name = \"Tern\n[hull]\nfile = tern.stl\n"));
}

#[test]
fn an_empty_file_says_what_is_needed() {
    insta::assert_snapshot!(refused(""));
}

#[test]
fn slips_are_refused_one_by_one() {
    let mut lines = String::new();
    for (starter, old, new) in [
        ("three-point", "gap = \"128 mm\"", "gap = \"180 mm\""),
        (
            "three-point",
            "sponson_length = \"205 mm\"",
            "sponson_length = \"305 mm\"",
        ),
        (
            "three-point",
            "type = \"three-point\"",
            "type = \"threepoint\"",
        ),
        (
            "three-point",
            "pad_angle = \"3 deg\"",
            "pad_angle = \"30 deg\"",
        ),
        (
            "outrigger",
            "sponson_width = \"46 mm\"",
            "sponson_width = \"146 mm\"",
        ),
        (
            "vee",
            "bow_deadrise = \"38 deg\"",
            "bow_deadrise = \"18 deg\"",
        ),
        ("catamaran", "roof_aft = \"42 mm\"", "roof_aft = \"142 mm\""),
        ("vee", "mass = \"205 g\"", "mass = \"205 g ± 300 g\""),
        ("vee", "mass = \"205 g\"", "mass = \"-205 g\""),
        ("vee", "mass = \"205 g\"", "mass = nan"),
        ("vee", "mass = \"205 g\"", "mass = true"),
        ("vee", "mass = \"205 g\"", "mass = \"inf g\""),
        ("vee", "mass = \"205 g\"", "mass = \"205 kg\""),
        ("vee", "poles = 4", "poles = 5"),
        ("vee", "poles = 4", "poles = \"4\""),
        ("vee", "gear_ratio = 1", "gear_ratio = nan"),
        ("vee", "gear_ratio = 1", "gear_ratio = 0x10"),
        ("vee", "blades = 2", "blades = 2.0"),
        ("vee", "movable = true", "movable = \"yes\""),
        ("vee", "cells = \"3S\"", "cells = \"3S\"\nseries = 3"),
        ("vee", "cells = \"3S\"", "parallel = 2"),
        (
            "vee",
            "temperature = \"15 degC ± 5 degC\"",
            "temperature = \"15 degC ± 50 %\"",
        ),
        ("vee", "name = \"right fin\"", "name = \"Left Fin\""),
        ("vee", "[hull]\n", "[hull]\nunit = \"mm\"\n"),
        ("vee", "[hull]\n", "[hull]\nfile = \"a.stl\"\n"),
        ("vee", "[wishes]", "[[wishes]]"),
        ("vee", "[[opening]]", "[opening]"),
        ("vee", "[[rudder]]", "[rudder]"),
        ("vee", "mass = \"205 g\"", "mas = \"205 g\""),
    ] {
        lines.push_str(&format!("{new:?}: {}\n", spoiled(starter, old, new)));
    }
    insta::assert_snapshot!(lines);
}

#[test]
fn paths_stay_in_the_folder() {
    for path in [
        "/etc/x.stl",
        "..",
        "a/../../x.stl",
        "C:/x.stl",
        "a\\\\x.stl",
        "~/x.stl",
        "",
        "a\\u0000",
    ] {
        let text = format!("name = \"x\"\n[hull]\nfile = \"{path}\"\n");
        assert!(load(&text, "boat.toml").is_err(), "{path}");
    }
    good(
        "name = \"x\"\n[hull]\nfiles = [\"parts/bow.stl\", \"parts/stern ..stl\"]\nforward = \"-y\"\nup = \"+z\"\n",
    );
    refused("name = \"x\"\n[hull]\nfile = \"a.stl\"\nforward = \"-z\"\nup = \"+z\"\n");
    refused("name = \"x\"\n[hull]\nfiles = [\"a.stl\", \"a.stl\"]\n");
    refused("name = \"x\"\n[hull]\nfiles = []\n");
}

#[test]
fn every_measure_is_visited_once_under_its_own_path() {
    for starter in boat::STARTER_TYPES {
        let (mut boat, _) = good(&template(starter, "Tern").unwrap());
        let mut paths = BTreeSet::new();
        let mut count = 0;
        boat.visit_measures(&mut |path, measure| {
            assert!(paths.insert(path.to_owned()), "{path} twice");
            measure.value = 4321.0;
            count += 1;
        });
        // How the hull is made moves no force, so it is not among what varies.
        let making = format!("{:?}", boat.making);
        // Nothing was missed: no other number is left in what the program prints of it.
        let text = format!("{boat:?}");
        let missed =
            text.matches("Measure {").count() - text.matches("Measure { value: 4321.0").count();
        let fixed = ["throw_rad", "stock_m", "servo_time_s"];
        let still: usize = fixed
            .iter()
            .map(|key| {
                text.matches(&format!("{key}: Measure {{ value: 0.0"))
                    .count()
            })
            .sum();
        let made = making.matches("Measure {").count();
        assert_eq!(missed, still + made, "{starter}");
        assert_eq!(count, paths.len());
    }
    let (mut boat, _) = good(&template("three-point", "Tern").unwrap());
    let mut mass = None;
    boat.visit_quantities(&mut |path, kind, measure| {
        if path == "part \"Battery\" mass" {
            mass = Some(boat::show(kind, measure.value));
        }
        assert!(path != "drive propeller pitch ratio" || kind == Kind::Number);
    });
    assert_eq!(mass.as_deref(), Some("175 g"));
}

#[test]
fn places_are_counted_in_characters() {
    assert_eq!(boat::line_and_column("ä\nöü = 1", 7), (2, 3));
    assert_eq!(boat::line_and_column("ä\nöü = 1", 6), (2, 2));
    assert_eq!(boat::line_and_column("", 10), (1, 1));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_bytes_never_panic(data in proptest::collection::vec(any::<u8>(), 0..200)) {
        boat::fuzzing::fuzz_boat_file(&data);
    }
}

#[test]
fn a_mistake_far_along_a_line_is_drawn_with_what_stands_around_it() {
    let mut text = template("three-point", "Tern").unwrap();
    let far = format!("at = [{}] # µ\n", "\"0 mm\", ".repeat(12_000));
    text.push_str(&format!("[[part]]\nname = \"Far\"\nmass = \"1 g\"\n{far}"));
    let wide = format!("{}x = [{}1]\n", " ".repeat(70_000), " ".repeat(70_000));
    for bad in [
        text,
        wide.clone(),
        format!("{wide}{wide}\n= 3"),
        "\r".repeat(70_000) + "x =",
    ] {
        let drawn = refused(&bad);
        assert!(drawn.len() < 20_000, "{} bytes", drawn.len());
    }
    let drawn = refused(&format!(
        "{}nam = 1 # {}",
        " ".repeat(70_000),
        "µ".repeat(40_000)
    ));
    assert!(drawn.contains("boat.toml:1:70001"), "{drawn}");
    assert!(drawn.contains("nam = 1 # µ"), "{drawn}");
}

#[test]
fn of_many_mistakes_the_first_are_shown_and_the_rest_counted() {
    let many: String = (0..20_000).map(|i| format!("key{i} = 1\n")).collect();
    let error = load(&many, "boat.toml").unwrap_err();
    assert_eq!(error.problems.len(), 50);
    assert_eq!(
        error.to_string(),
        "boat.toml: 20002 errors; the first 50 are shown"
    );
    let broken = "= [\n".repeat(2_000);
    assert!(refused(&broken).len() < 100_000);
    let long = refused(&format!("{} = 1", "k".repeat(100_000)));
    assert!(long.len() < 20_000, "{} bytes", long.len());
}

#[test]
fn lists_and_texts_have_a_limit() {
    let starter = template("three-point", "Tern").unwrap();
    let floats = |count| {
        let one = |i| {
            format!(
                "[[float]]\nname = \"foam {i}\"\nvolume = \"1 ml\"\nat = [\"0 mm\", \"0 mm\", \"0 mm\"]\n"
            )
        };
        let all: String = (0..count).map(one).collect();
        load(&format!("{starter}{all}"), "boat.toml").map_err(|error| rendered(&error))
    };
    assert!(floats(190).is_ok());
    let refusal = floats(201).unwrap_err();
    assert!(refusal.contains("there are more than 200 of `float`"));
    let long = starter.replacen("\"Tern\"", &format!("\"{}\"", "T".repeat(1001)), 1);
    assert!(refused(&long).contains("`name` is longer than 1000 characters"));
    let files: String = (0..201).map(|i| format!("\"{i}.stl\", ")).collect();
    let mesh = format!("name = \"Tern\"\n[hull]\nfiles = [{files}]\n");
    assert!(refused(&mesh).contains("there are more than 200 of `file`"));
}
