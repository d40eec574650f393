//! Comparing set-ups.

mod folder;

use folder::{Folder, example, run};
use serde_json::Value;
use std::process::Command;

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn sound_ones_come_first_in_the_order_of_the_wish() {
    for (wish, key, sign) in [
        ("speed", "top_speed", 1.0),
        ("run-time", "run_time", 1.0),
        ("cool", "motor_temperature", -1.0),
    ] {
        let arguments = [
            "outfit",
            &example("tadpole"),
            "--wish",
            wish,
            "--json",
            "--rows",
            "99999",
        ];
        let said = run(&arguments);
        assert_eq!(said.code, 0, "{}", said.err);
        let answer = json(&said.out);
        let all = answer["set_ups"].as_array().expect("a list");
        assert_eq!(answer["compared"].as_u64(), Some(all.len() as u64));
        let sound = answer["sound"].as_u64().expect("a count") as usize;
        assert!(sound > 0 && sound < all.len(), "{sound} of {}", all.len());
        for (i, one) in all.iter().enumerate() {
            let breaks = one["breaks"].as_array().expect("a list").len();
            assert_eq!(breaks == 0, i < sound, "{one}");
        }
        let value = |v: &Value| sign * v[key]["value"].as_f64().expect("a number");
        assert!(
            all[..sound]
                .windows(2)
                .all(|p| value(&p[0]) >= value(&p[1]))
        );
    }
}

#[test]
fn the_same_on_one_thread_and_on_four() {
    let on = |threads: &str| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_skimwright"));
        command.args(["outfit", &example("tadpole"), "--json", "--rows", "99999"]);
        command
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .expect("runs")
            .stdout
    };
    assert!(on("1") == on("4"));
}

#[test]
fn only_the_cells_asked_for_are_tried() {
    let with = |cells| {
        run(&[
            "outfit",
            &example("tadpole"),
            "--cells",
            cells,
            "--rows",
            "99999",
            "--json",
        ])
    };
    let said = with("2-3");
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    let all = answer["set_ups"].as_array().expect("a list");
    let tried: std::collections::BTreeSet<&str> = all
        .iter()
        .filter_map(|s| s["pack"].as_str()?.split(' ').next())
        .collect();
    assert_eq!(tried.into_iter().collect::<Vec<_>>(), ["2S", "3S"]);
    for wrong in ["0", "6-2", "many", "2-40"] {
        let said = with(wrong);
        assert_eq!(said.code, 2);
        assert!(said.err.contains("1 to 16 cells"), "{}", said.err);
    }
}

const SHELF: &str = r#"[[pack]]
name = "red"
series = 3
capacity = "2200 mAh"
cell_resistance = "5.5 mohm"

[[propeller]]
name = "thirty"
diameter = "30 mm"
pitch_ratio = 1.4
"#;

#[test]
fn what_is_on_the_shelf_is_compared() {
    let folder = Folder::plain("three-point");
    folder.write("shelf.toml", SHELF.as_bytes());
    let said = folder.run(&["outfit", "@", "--own", "@/shelf.toml", "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer = json(&said.out);
    assert_eq!(answer["compared"], 9);
    assert_eq!(answer["set_ups"][0]["pack"], "red");
    assert_eq!(answer["set_ups"][0]["propeller"], "thirty");
}

#[test]
fn a_shelf_at_fault_is_refused_with_its_place() {
    let cases = [
        ("series = 3", "series = 0", "shelf.toml:3"),
        ("\"30 mm\"", "\"30\"", "shelf.toml:9"),
        ("\"30 mm\"", "\"30 A\"", "shelf.toml:9"),
        ("pitch_ratio = 1.4", "pitch_ratio = 14", "shelf.toml:10"),
        ("name = \"red\"", "colour = \"red\"", "shelf.toml:2"),
    ];
    for (from, to, place) in cases {
        let folder = Folder::plain("three-point");
        folder.write("shelf.toml", SHELF.replacen(from, to, 1).as_bytes());
        let said = folder.run(&["outfit", "@", "--own", "@/shelf.toml"]);
        assert_eq!(said.code, 2, "{to}: {}", said.out);
        assert!(said.out.is_empty());
        assert!(said.err.contains(place), "{place}: {}", said.err);
    }
}
