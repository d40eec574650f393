//! Set-ups compared, as text or JSON.

use std::fmt::Write as _;
use workshop::TextAt;
use workshop::outfit::{OutfitAnswer, OutfitAsk, SetUp, Wish};

use super::{Outcome, ask};
use crate::cli::{Best, OutfitArgs};
use crate::failure::Failure;
use crate::output;

pub fn run(given: &OutfitArgs) -> Result<Outcome, Failure> {
    let question = OutfitAsk {
        wish: match given.wish {
            Best::Speed => Wish::Speed,
            Best::RunTime => Wish::RunTime,
            Best::Cool => Wish::Cool,
        },
        cells: given.cells,
        own: given.own.clone().map(TextAt::File),
        rows: given.rows,
    };
    let answer = ask(&question, &given.boat)?;
    if given.json {
        output::print_json(&answer)?;
    } else {
        output::print(&as_text(&answer))?;
    }
    Ok(Outcome::Good)
}

fn as_text(answer: &OutfitAnswer) -> String {
    let mut text = format!(
        "{}: {} set-ups compared, {} of them sound, best first\n\n",
        answer.boat, answer.compared, answer.sound
    );
    let _ = writeln!(
        text,
        "{:<14} {:<12} {:<12} {:>6} {:>6} {:>9} {:>7} {:>6} {:>9}",
        "pack",
        "motor",
        "propeller",
        output::units().unit("km/h"),
        "hump A",
        "straight A",
        "rpm",
        "min",
        format!("motor {}", output::units().unit("°C"))
    );
    row(&mut text, &answer.present);
    text.push_str("  (the boat as it is; below: what else would do)\n");
    for o in &answer.set_ups {
        row(&mut text, o);
    }
    let _ = writeln!(
        text,
        "\nBeyond {} drag is extrapolated, and nothing is said of staying on the water.",
        answer.drag_known_to.plain()
    );
    text.push_str(
        "Steady at the charge of the boat file, on the boat's drag as it stands: within a quarter, and a heavier pack's own\nweight is not in it. Temperatures are the motor's after the run time wished for. Ask `skimwright stint` of the one you choose.\n",
    );
    for line in &answer.care {
        let _ = writeln!(text, "  ! {line}");
    }
    text
}

fn row(text: &mut String, o: &SetUp) {
    let (pack, motor, propeller) = (&o.pack, &o.motor, &o.propeller);
    let _ = writeln!(
        text,
        "{pack:<14} {motor:<12} {propeller:<12} {:>6} {:>6.0} {:>10.0} {:>7.0} {:>6.1} {:>9.0}{}",
        format!(
            "{}{:.0}",
            if o.faster_than_shown { ">" } else { "" },
            output::units().value(3.6 * o.top_speed.value, "km/h")
        ),
        o.hump_current.value,
        o.straight_current.value,
        o.shaft_speed.value * 30.0 / std::f64::consts::PI,
        o.run_time.value / 60.0,
        output::units().value(o.motor_temperature.value, "°C"),
        marks(o),
    );
}

fn marks(o: &SetUp) -> String {
    if o.breaks.is_empty() {
        String::new()
    } else {
        format!("  ■ {}", o.breaks.join("; "))
    }
}
