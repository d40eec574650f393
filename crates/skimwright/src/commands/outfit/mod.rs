//! Set-ups compared, as text or JSON.

mod own;

use advice::Number;
use boat::Kind;
use power::fit::{Outcome as SetUp, Wish};
use power::setup::CARE;
use serde_json::{Value, json};
use std::fmt::Write as _;
use study::Detail;
use study::outfit::{Compared, Lists, outfit};
use study::stint::Stint;

use super::Outcome;
use crate::boat_folder;
use crate::cli::{Best, OutfitArgs};
use crate::failure::{Failure, shown};
use crate::output;

const POINTS: usize = 48;

pub fn run(given: &OutfitArgs) -> Result<Outcome, Failure> {
    let loaded = boat_folder::load(&given.boat)?;
    let file = loaded.folder.join("boat.toml");
    let fault = |error: &dyn std::fmt::Display, hint: &str| {
        Failure::new(format!("{}: {error}", shown(&file)), hint)
    };
    let boat = &loaded.boat;
    let mass = craft::mass::mass_properties(boat, &loaded.form).map_err(|e| {
        fault(
            &e,
            "weigh the parts, or describe the print under [hull.print]",
        )
    })?;
    let asked = study::quantity::solve(
        boat,
        &loaded.form,
        &mass,
        &loaded.learned.factors(),
        Detail::Full(POINTS),
    )
    .map_err(|e| fault(&e, ""))?;
    let stint = Stint::of(boat, &asked.craft, &asked.curve, 0)
        .map_err(|e| fault(&e, "`skimwright check` says why it does not run"))?;
    let drive = &boat.drives[0];
    let mut around = Lists::around(drive);
    if let Some((low, high)) = given.cells {
        around.packs = (low..=high)
            .map(|series| study::outfit::pack(drive, series))
            .collect();
    }
    let lists = match &given.own {
        None => around,
        Some(path) => own::read(path, drive, around)?,
    };
    let wish = match given.wish {
        Best::Speed => Wish::Speed,
        Best::RunTime => Wish::RunTime,
        Best::Cool => Wish::Cool,
    };
    let compared = outfit(boat, &asked.craft, &stint, drive, lists, wish)
        .map_err(|e| fault(&e, "check the propellers' sizes"))?;
    if given.json {
        output::print_json(&as_json(&compared, given))?;
    } else {
        output::print(&as_text(&boat.name, &compared, given))?;
    }
    Ok(Outcome::Good)
}

fn names<'a>(compared: &'a Compared, o: &SetUp) -> [&'a str; 3] {
    let lists = &compared.lists;
    [
        &lists.packs[o.pack].name,
        &lists.motors[o.motor].name,
        &lists.propellers[o.propeller].name,
    ]
}

fn broken(o: &SetUp) -> Vec<&'static str> {
    o.broken().map(power::fit::Broken::words).collect()
}

fn as_json(compared: &Compared, given: &OutfitArgs) -> Value {
    let number = |kind, value| json!(Number::exact(kind, value));
    let shown = compared.outcomes.iter().take(given.rows as usize);
    let set_ups: Vec<Value> = shown
        .map(|o| {
            let [pack, motor, propeller] = names(compared, o);
            json!({
                "pack": pack,
                "motor": motor,
                "propeller": propeller,
                "top_speed": number(Kind::Speed, o.top_speed_m_s),
                "faster_than_shown": o.faster,
                "hump_current": number(Kind::Current, o.hump_a),
                "straight_current": number(Kind::Current, o.straight_a),
                "shaft_speed": number(Kind::ShaftSpeed, o.shaft_rad_s),
                "run_time": number(Kind::Time, o.run_time_s),
                "motor_temperature": number(Kind::Temperature, o.motor_k - 273.15),
                "breaks": broken(o),
            })
        })
        .collect();
    json!({
        "compared": compared.outcomes.len(),
        "drag_known_to": number(Kind::Speed, compared.known_to_m_s),
        "sound": compared.outcomes.iter().filter(|o| o.sound()).count(),
        "set_ups": set_ups,
        "care": CARE,
    })
}

fn as_text(name: &str, compared: &Compared, given: &OutfitArgs) -> String {
    let sound = compared.outcomes.iter().filter(|o| o.sound()).count();
    let mut text = format!(
        "{name}: {} set-ups compared, {sound} of them sound, best first\n\n",
        compared.outcomes.len()
    );
    let _ = writeln!(
        text,
        "{:<14} {:<12} {:<12} {:>6} {:>6} {:>9} {:>7} {:>6} {:>6}",
        "pack", "motor", "propeller", "km/h", "hump A", "straight A", "rpm", "min", "°C"
    );
    for o in compared.outcomes.iter().take(given.rows as usize) {
        let [pack, motor, propeller] = names(compared, o);
        let _ = writeln!(
            text,
            "{pack:<14} {motor:<12} {propeller:<12} {:>6} {:>6.0} {:>10.0} {:>7.0} {:>6.1} {:>6.0}{}",
            format!(
                "{}{:.0}",
                if o.faster { ">" } else { "" },
                3.6 * o.top_speed_m_s
            ),
            o.hump_a,
            o.straight_a,
            o.shaft_rad_s * 30.0 / std::f64::consts::PI,
            o.run_time_s / 60.0,
            o.motor_k - 273.15,
            marks(o),
        );
    }
    let _ = writeln!(
        text,
        "\nBeyond {} drag is extrapolated, and nothing is said of staying on the water.",
        Number::exact(Kind::Speed, compared.known_to_m_s).plain()
    );
    text.push_str(
        "Steady at two thirds of charge, on the boat's drag as it stands: within a quarter, and a heavier pack's own\nweight is not in it. Temperatures are the motor's after the run time wished for. Ask `skimwright stint` of the one you choose.\n",
    );
    for line in CARE {
        let _ = writeln!(text, "  ! {line}");
    }
    text
}

fn marks(o: &SetUp) -> String {
    let broken = broken(o);
    if broken.is_empty() {
        String::new()
    } else {
        format!("  ■ {}", broken.join("; "))
    }
}
