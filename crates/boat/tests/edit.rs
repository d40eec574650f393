//! Edits change what they are told to and nothing else.

use boat::Step::{Key, Named, Nth};
use boat::{EditError, NewValue, add, edit, load, remove, template};

const TEXT: &str = r#"# my boat
name = "Tern" # the second one

[hull]
file = "tern.stl"

# heavy things first

# the new pack
[[part]]
name = "Battery"
mass = "175 g" # weighed twice
at = ["317 mm", # tight
      "22 mm", "24 mm"]

[[part]]
name = "Motor"
mass = "118 g"
at = ["206 mm", "2 mm", "28 mm"]
"#;

/// The lines that differ, old and new.
fn changed<'a>(old: &'a str, new: &'a str) -> Vec<(&'a str, &'a str)> {
    assert_eq!(old.lines().count(), new.lines().count(), "{new}");
    old.lines()
        .zip(new.lines())
        .filter(|(a, b)| a != b)
        .collect()
}

#[test]
fn one_value_changes_and_its_comment_stays() {
    let new = edit(TEXT, &[Key("part"), Named("Battery"), Key("mass")], "181 g").unwrap();
    let expected = (
        "mass = \"175 g\" # weighed twice",
        "mass = \"181 g\" # weighed twice",
    );
    assert_eq!(changed(TEXT, &new), [expected]);
}

#[test]
fn a_place_changes_item_by_item() {
    let at = NewValue::List(vec!["307 mm".into(), "22 mm".into(), "24 mm".into()]);
    let new = edit(TEXT, &[Key("part"), Nth(0), Key("at")], at).unwrap();
    assert_eq!(
        changed(TEXT, &new),
        [("at = [\"317 mm\", # tight", "at = [\"307 mm\", # tight")]
    );
}

#[test]
fn missing_tables_are_made_where_they_belong() {
    let two = template("catamaran", "Twin").unwrap();
    let path = [Key("drive"), Named("left"), Key("shaft"), Key("toe")];
    let new = edit(&two, &path, "1 deg").unwrap();
    let (boat, _) = load(&new, "boat.toml").unwrap();
    assert!((boat.drives[0].shaft.toe_rad.value - 1f64.to_radians()).abs() < 1e-12);
    assert!(boat.drives[1].shaft.toe_rad.is_assumed());

    let plain = edit(TEXT, &[Key("hull"), Key("print"), Key("wall")], "1.6 mm").unwrap();
    let (boat, _) = load(&plain, "boat.toml").unwrap();
    assert_eq!(boat.hull.print.wall_m.value, 0.0016);
    assert!(plain.starts_with("# my boat\nname = \"Tern\" # the second one\n"));

    // A drive in the middle gets its new table before the next drive.
    let bare = two.replace(
        "[drive.strut]\nchord = \"12 mm\"\nspan = \"24 mm\"\nthickness = \"3 mm\"\n",
        "",
    );
    let new = edit(
        &bare,
        &[Key("drive"), Nth(0), Key("strut"), Key("span")],
        "30 mm",
    )
    .unwrap();
    let (boat, _) = load(&new, "boat.toml").unwrap();
    assert_eq!(boat.drives[0].strut.as_ref().unwrap().span_m.value, 0.03);
    assert!(boat.drives[1].strut.is_none());
}

#[test]
fn tables_come_and_go() {
    let new = add(TEXT, &[Key("part")], "Receiver").unwrap();
    let new = edit(&new, &[Key("part"), Named("Receiver"), Key("mass")], "8 g").unwrap();
    assert!(
        new.ends_with("[[part]]\nname = \"Receiver\"\nmass = \"8 g\"\n"),
        "{new}"
    );
    assert!(new.starts_with(TEXT));
    let back = remove(&new, &[Key("part"), Named("Receiver")]).unwrap();
    assert_eq!(back, TEXT);

    let without = remove(TEXT, &[Key("part"), Named("Battery")]).unwrap();
    assert!(without.contains("# heavy things first\n"), "{without}");
    assert!(!without.contains("new pack"), "{without}");
    let dry = remove(TEXT, &[Key("part"), Nth(1), Key("mass")]).unwrap();
    assert!(!dry.contains("118 g") && dry.contains("175 g"));

    let first = add("name = \"Tern\"\n", &[Key("opening")], "hatch").unwrap();
    assert_eq!(first, "name = \"Tern\"\n\n[[opening]]\nname = \"hatch\"\n");
}

#[test]
fn every_template_survives_an_edit_that_changes_nothing() {
    for starter in boat::STARTER_TYPES {
        let text = template(starter, "Tern").unwrap();
        assert_eq!(edit(&text, &[Key("name")], "Tern").unwrap(), text);
    }
}

#[test]
fn a_value_cannot_become_more_than_a_value() {
    let sly = "x\"\n[hull]\nfile = \"../y";
    let new = edit(TEXT, &[Key("name")], sly).unwrap();
    let error = load(&new, "boat.toml").unwrap_err();
    let messages: Vec<&str> = error.problems.iter().map(|p| p.message.as_str()).collect();
    assert_eq!(messages, ["`name` has control characters in it"]);
}

#[test]
fn wrong_paths_are_told() {
    let lost = edit(TEXT, &[Key("part"), Named("Batery"), Key("mass")], "1 g").unwrap_err();
    assert_eq!(
        lost.to_string(),
        "there is no [[part]] called `Batery`; there are: Battery, Motor"
    );
    assert!(matches!(
        edit(TEXT, &[Key("name"), Key("x")], "1"),
        Err(EditError::BadPath(_))
    ));
    assert!(matches!(
        edit(TEXT, &[Key("hull")], "1"),
        Err(EditError::BadPath(_))
    ));
    assert!(matches!(edit(TEXT, &[], "1"), Err(EditError::BadPath(_))));
    assert!(matches!(
        edit("a = ", &[Key("name")], "1"),
        Err(EditError::Syntax(_))
    ));
    assert!(matches!(
        remove(TEXT, &[Key("water")]),
        Err(EditError::Nothing(_))
    ));
    assert!(matches!(
        add(TEXT, &[Key("part")], "Motor"),
        Err(EditError::Taken { .. })
    ));
}
