//! The first minute: what to do, a boat to try it on, help, and the units that everything is shown in.

mod folder;

use folder::{Folder, PROGRAM, example, run, said};
use std::fs;
use std::process::Command;

#[test]
fn the_name_alone_says_what_to_do_first() {
    let first = run(&[]);
    assert_eq!((first.code, first.err.as_str()), (0, ""));
    let lines = first.out.lines().filter(|l| !l.is_empty()).count();
    assert!(lines <= 10, "{lines}");
    for command in [
        "demo",
        "check practice",
        "open practice",
        "new tern",
        "--help",
    ] {
        assert!(
            first.out.contains(&format!("skimwright {command}")),
            "{command}"
        );
    }
}

#[test]
fn help_lists_the_commands_by_the_builders_day() {
    let help = run(&["--help"]);
    assert_eq!(help.code, 0);
    let at = |word: &str| {
        help.out
            .find(word)
            .unwrap_or_else(|| panic!("{word}: {}", help.out))
    };
    let day = [
        "Before printing:",
        "Power:",
        "On the pond:",
        "Afterwards:",
        "Tools:",
        "Options:",
        "Examples:",
    ];
    let places: Vec<usize> = day.iter().map(|word| at(word)).collect();
    assert!(places.is_sorted(), "{}", help.out);
    assert!(at("  check ") < at("Power:") && at("  learn ") > at("Afterwards:"));
}

/// The program, run in a folder of its own.
fn inside(folder: &Folder, arguments: &[&str]) -> folder::Said {
    let output = Command::new(PROGRAM)
        .args(arguments)
        .current_dir(folder.path())
        .output();
    said(&output.expect("it runs"))
}

#[test]
fn a_demonstration_boat_is_copied_once() {
    let folder = Folder::new();
    let made = inside(&folder, &["demo"]);
    assert_eq!(made.code, 0, "{}", made.err);
    assert!(
        made.out.contains("skimwright check practice"),
        "{}",
        made.out
    );
    for name in ["boat.toml", "practice.stl", "outings/2026-05-17/bank.wav"] {
        let copied = fs::read(folder.path().join("practice").join(name)).expect(name);
        assert!(
            copied == fs::read(example(&format!("practice/{name}"))).expect(name),
            "{name}"
        );
    }
    inside(&folder, &["demo"]).is_refusal(&["practice is not empty", "nothing was changed"]);
    let other = inside(
        &folder,
        &["demo", "faults/tadpole-pack-aft", "hinten schwer"],
    );
    assert!(
        other.out.contains("skimwright check 'hinten schwer'"),
        "{}",
        other.out
    );
    inside(&folder, &["demo", "queen"]).is_refusal(&["no demonstration boat queen", "tadpole"]);
    let listed = inside(&folder, &["demo", "--list"]);
    assert!(listed.out.contains("longshank\n"), "{}", listed.out);
}

#[test]
fn man_pages_and_completions_are_written() {
    let folder = Folder::new();
    let made = inside(&folder, &["manuals", "all"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let read = |name: &str| fs::read_to_string(folder.path().join("all").join(name)).expect(name);
    assert!(read("man/skimwright.1").contains("skimwright\\-check"));
    assert!(read("man/skimwright-check.1").contains("\\-\\-variations"));
    for name in [
        "skimwright.bash",
        "_skimwright",
        "skimwright.fish",
        "_skimwright.ps1",
        "skimwright.elv",
    ] {
        assert!(
            read(&format!("completions/{name}")).contains("outfit"),
            "{name}"
        );
    }
    inside(&folder, &["manuals", "all"]).is_refusal(&["is not empty"]);
}

/// Numbers with units of one system, and what of another is among them.
fn metric(text: &str) -> Vec<&str> {
    let units = ["mm", "km/h", "°C", "kg", "cm2", "m/s", "K"];
    let words: Vec<&str> = text.split_whitespace().collect();
    let told = words.windows(2).filter(|w| {
        let unit = w[1].trim_end_matches(['.', ',', ';', ':', ')']);
        w[0].ends_with(|c: char| c.is_ascii_digit()) && units.contains(&unit)
    });
    told.map(|w| w[1]).collect()
}

#[test]
fn every_answer_is_in_the_units_asked_for() {
    let boat = example("practice");
    for command in [
        vec!["check", &boat, "--why", "--variations", "4"],
        vec!["next", &boat, "--variations", "4"],
        vec!["stint", &boat],
        vec!["outfit", &boat, "--rows", "3"],
        vec!["hull", &boat, "--stations", "4"],
        vec!["learn", &boat],
        vec!["pieces", &boat, "--list"],
    ] {
        let told = run(&[command.as_slice(), &["--units", "inch"]].concat());
        assert!(told.code < 2, "{command:?}: {}", told.err);
        assert_eq!(
            metric(&told.out),
            Vec::<&str>::new(),
            "{command:?}:\n{}",
            told.out
        );
        assert!(
            [" in", " mph", "°F"].iter().any(|u| told.out.contains(u)),
            "{command:?}"
        );
    }
}

#[test]
fn the_boat_file_says_the_units_and_the_option_is_stronger() {
    let folder = Folder::starter("vee", "name = ", "units = \"inch\"\nname = ");
    let ask = |more: &[&str]| {
        folder
            .run(&[&["check", "@", "--variations", "0"], more].concat())
            .out
    };
    assert!(ask(&[]).contains(" mph") && !ask(&[]).contains("km/h"));
    assert!(ask(&["--units", "metric"]).contains("km/h"));
    // Scripts read one system.
    assert!(ask(&["--json"]).contains("\"km/h\"") && !ask(&["--json"]).contains("mph"));
}

#[test]
fn the_report_is_in_one_system_of_units() {
    let folder = Folder::starter("three-point", "name = ", "units = \"inch\"\nname = ");
    let said = folder.run(&["report", "@", "--variations", "2"]);
    assert!(said.code < 2, "{}", said.err);
    let page = fs::read_to_string(folder.path().join("report.html")).expect("a page");
    let words = page.replace(['<', '>', '"'], " ");
    assert_eq!(metric(&words), Vec::<&str>::new());
    for heading in ["speed, mph", "mass, oz"] {
        assert!(page.contains(heading), "{heading}");
    }
    for heading in ["km/h", "mass, g", ">mm<", "°C"] {
        assert!(!page.contains(heading), "{heading}");
    }
}

#[test]
fn the_pages_are_in_the_units_asked_for() {
    let folder = Folder::starter("vee", "name = ", "name = ");
    for (command, file) in [("report", "report.html"), ("sheet", "build-sheet.html")] {
        let page = |more: &[&str]| {
            let said =
                folder.run(&[&[command, "@", "--variations", "2", "--force"], more].concat());
            assert!(said.code < 2, "{command}: {}", said.err);
            let page = fs::read_to_string(folder.path().join(file)).expect("a page");
            page.replace(['<', '>', '"'], " ")
        };
        assert!(!metric(&page(&[])).is_empty(), "{command}");
        let asked = page(&["--units", "inch"]);
        assert_eq!(metric(&asked), Vec::<&str>::new(), "{command}");
        assert!(asked.contains(" oz") && asked.contains(" in "), "{command}");
    }
}

#[test]
fn what_a_bare_number_was_read_as_is_shown() {
    let said = run(&[
        "hear",
        "none.wav",
        "--air-temperature",
        "15",
        "--closest",
        "8,5 m",
    ]);
    assert!(said.err.contains("`15` is read as 15 °C"), "{}", said.err);
    assert!(
        said.err.contains("`8,5 m` is read as 8500 mm"),
        "{}",
        said.err
    );
    let folder = Folder::starter("vee", "speed = \"55 km/h\"", "speed = 55");
    let said = folder.run(&["check", "@", "--variations", "0"]);
    assert!(
        said.err.contains("`speed` is read as 55 km/h"),
        "{}",
        said.err
    );
}
