//! The demonstration boats against what builders report; writes its part of docs/accuracy.md.

mod folder;

use folder::{example, run};
use serde_json::Value;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

const BOATS: [&str; 5] = [
    "tadpole",
    "longshank",
    "millrace",
    "twin-thistle",
    "practice",
];

fn json(arguments: &[&str]) -> Value {
    let said = run(arguments);
    assert!(said.code < 2, "{}", said.err);
    serde_json::from_str(&said.out).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value["value"].as_f64().expect("a number")
}

/// The digits of a figure such as `65.5 A`.
fn figure(finding: &Value, label: &str) -> f64 {
    let all = finding["figures"].as_array().expect("figures");
    let one = all
        .iter()
        .find(|f| f["label"] == label)
        .expect("the figure");
    let text = one["value"].as_str().expect("text");
    text.split(' ')
        .next()
        .and_then(|t| t.parse().ok())
        .expect("a number")
}

#[test]
fn currents_turns_and_times_are_near_what_builders_report() {
    let mut table = String::from(
        "\n| boat | loaded turns | slip, % | over pitch speed | hump over straight | minutes | 48 Ah / A |\n|---|---|---|---|---|---|---|\n",
    );
    for name in BOATS {
        let boat = example(name);
        let check = json(&["check", &boat, "--json", "--variations", "0"]);
        let text = fs::read_to_string(Path::new(&boat).join("boat.toml")).expect("a boat");
        let (declared, _) = boat::load(&text, "boat.toml").expect("sound");
        let drive = &declared.drives[0];
        let curve = check["speed_curve"].as_array().expect("a curve");
        let findings = check["findings"].as_array().expect("findings");
        let found = |id: &str| findings.iter().find(|f| f["id"] == id).expect("it");
        // The state of the curve that lies nearest to top speed.
        let top_km_h = number(&found("top-speed")["number"]);
        let off = |s: &Value| (number(&s["speed"]) - top_km_h).abs();
        let nearest = curve.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        let top = nearest.expect("a state");
        let state = &top["drives"][0];
        let (rpm, amps) = (number(&state["shaft_speed"]), number(&state["current"]));
        let volts = number(&state["voltage"]);
        let loaded = rpm * std::f64::consts::PI / 30.0 * drive.gear_ratio.value
            / (drive.motor.kv_rad_s_v.value * volts);
        let over_pitch = number(&found("pitch-speed")["number"]) / 100.0;
        let wet = figure(found("controller"), "over the hump with the throttle open");
        let stint = json(&["stint", &boat, "--soak", "0", "--what-if", "air", "--json"]);
        let time = &stint["summary"]["time_on_pack"];
        assert_eq!(time["unit"], "min");
        let minutes = number(time);
        let rule = 48.0 * drive.battery.capacity_c.value / 3600.0 / amps;
        let slip = number(&found("slip")["number"]);
        let _ = writeln!(
            table,
            "| {name} | {loaded:.2} | {slip:.0} | {over_pitch:.2} | {:.1} | {minutes:.1} | {rule:.1} |",
            wet / amps,
        );
        // What no boat does: turn faster loaded than free, push without slip, draw less over the hump than on the
        // straight.
        assert!((0.6..1.0).contains(&loaded), "{name}: {loaded}");
        assert!((0.0..60.0).contains(&slip), "{name}: {slip}");
        assert!(wet > amps, "{name}: {wet} {amps}");
        // The rule is of 80 % of the charge at the current of the straight: the run sags and slows.
        assert!(
            (0.7..1.4).contains(&(minutes / rule)),
            "{name}: {minutes} against {rule}"
        );
    }
    table.push('\n');
    keep_current(&table);
}

fn keep_current(text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/accuracy.md");
    let page = fs::read_to_string(&path).expect("docs/accuracy.md");
    let begin = "<!-- power-practice: begin, written by the tests of skimwright -->\n";
    let end = "<!-- power-practice: end -->";
    let from = page.find(begin).expect("the first mark") + begin.len();
    let to = from + page[from..].find(end).expect("the last mark");
    if page[from..to] == *text {
        return;
    }
    assert!(
        std::env::var_os("UPDATE_DOCS").is_some(),
        "docs/accuracy.md is stale in `power-practice`; run with UPDATE_DOCS=1 to write:\n{text}"
    );
    fs::write(&path, format!("{}{text}{}", &page[..from], &page[to..])).expect("written");
}
