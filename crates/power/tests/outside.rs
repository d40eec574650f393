//! The run in time and the water line against scipy's integrators and root finders on the same equations, written
//! apart in `checks/python/make_power_checks.py`.

#[path = "../../craft/tests/docs/mod.rs"]
mod docs;

use laws::controller_loss::Controller;
use laws::driveline::Driveline;
use laws::motor_heat::WarmMotor;
use laws::motor_point::{Motor, speed_per_volt};
use power::cooling::{Cooling, Line};
use power::load::{Curve, PropellerTable};
use power::run::{Discharge, Hull, run};
use power::script::Script;
use power::setup::{Pack, Setup, usual_limits};
use power::thermal::{Network, Part};
use std::fmt::Write as _;
use std::path::Path;

/// Rows of a table in `checks`, its comments and heading left out.
fn rows(name: &str) -> Vec<Vec<f64>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../checks")
        .join(name);
    let text = std::fs::read_to_string(path).expect("a table");
    let data = text.lines().filter(|l| !l.starts_with('#')).skip(1);
    data.map(|l| l.split(',').map(|c| c.parse().expect("a number")).collect())
        .collect()
}

/// The same numbers as in the script.
fn setup() -> Setup {
    let cold = Motor {
        speed_per_volt_rad_s_v: speed_per_volt(2600.0),
        resistance_ohm: 0.018,
        no_load_current_a: 2.2,
    };
    Setup {
        pack: Pack {
            series: 3.0,
            parallel: 1.0,
            capacity_c: 2.2 * 3600.0,
            cell_ohm: 0.0055,
            state_of_charge: 1.0,
        },
        lead_ohm: 0.001,
        controller: Controller {
            resistance_ohm: 0.0015,
            diode_v: 0.0,
            edge_s: 2e-7,
            frequency_hz: 16e3,
            idle_w: 0.5,
        },
        limit_a: f64::INFINITY,
        motor: WarmMotor::new(cold, 2400.0, 0.5).expect("a motor"),
        gear: 1.0,
        driveline: Driveline::passing(0.93).unwrap(),
        thrust_per_torque: 60.0,
        network: Network {
            capacity_j_k: [15.4, 84.0, 12.7, 63.0, 450.0, 2.412],
            links: vec![
                (Part::Winding, Part::Can, 1.5),
                (Part::Can, Part::Magnets, 0.4),
                (Part::Can, Part::Air, 0.09),
                (Part::Controller, Part::Air, 0.1),
                (Part::Pack, Part::Air, 0.5),
            ],
            to_outside: [0.0, 0.0, 0.0, 0.0, 0.0, 1.0],
            outside_k: 293.15,
        },
        line: None,
        water_k: 288.15,
        start_k: [293.15; 6],
        limits: usual_limits(),
        reserve: 0.2,
        assumed: vec![],
    }
}

fn minute() -> Discharge {
    let drag = vec![
        (0.0, 0.0),
        (3.0, 4.0),
        (6.0, 2.6),
        (12.0, 3.4),
        (20.0, 7.0),
        (30.0, 15.0),
    ];
    let hull = Hull {
        mass_kg: 1.3,
        drag: Curve::new("drag", drag).expect("a curve"),
        drives: 1.0,
    };
    let propeller = PropellerTable::new(0.034, 998.0, |j| (0.30 - 0.20 * j, 0.055 - 0.030 * j));
    // Level rows only make the run step to the times of the table.
    let throttle = [
        (0.0, 0.0),
        (2.0, 1.0),
        (10.0, 1.0),
        (30.0, 1.0),
        (62.0, 1.0),
        (63.0, 0.0),
    ];
    let script = Script::log(throttle.to_vec(), None)
        .expect("a script")
        .with_soak(120.0);
    run(&setup(), &propeller, &hull, &script).expect("a run")
}

/// Worst difference of a column of the run from scipy's, each beside its name and unit.
fn worst(run: &Discharge, table: &[Vec<f64>]) -> Vec<(&'static str, &'static str, f64)> {
    let names = ["winding", "can", "magnets", "controller", "pack", "air"];
    let mut all: Vec<_> = names.map(|n| (n, "K", 0.0)).to_vec();
    all.push(("charge used", "C", 0.0));
    all.push(("speed", "m/s", 0.0));
    for row in table {
        let near = |s: &&power::run::Sample| (s.time_s - row[0]).abs() < 1e-6;
        let sample = run.samples.iter().find(near).expect("a step ends there");
        for (k, kelvin) in sample.temperature_k.iter().enumerate() {
            all[k].2 = f64::max(all[k].2, (kelvin - row[1 + k]).abs());
        }
        let used = (1.0 - sample.charge) * 2.2 * 3600.0;
        all[6].2 = f64::max(all[6].2, (used - row[7]).abs());
        all[7].2 = f64::max(all[7].2, (sample.speed_m_s - row[9]).abs());
    }
    all
}

#[test]
fn a_whole_drive_agrees_with_scipy_and_the_manual_says_how_well() {
    let run = minute();
    let table = rows("power_run.csv");
    assert_eq!(table.len(), 6);
    let found = worst(&run, &table);
    let mut text = String::from("\n| what | worst difference |\n|---|---|\n");
    for (name, unit, off) in &found {
        // The run asks its integrator for 1e-6 of each state.
        let allowed = match *unit {
            "K" => 2e-3,
            "C" => 2e-2,
            _ => 1e-3,
        };
        assert!(off < &allowed, "{name}: {off} {unit}");
        let shown = if *off < 1e-3 {
            format!("< 0.001 {unit}")
        } else {
            format!("{off:.3} {unit}")
        };
        let _ = writeln!(text, "| {name} | {shown} |");
    }
    let way = table.last().expect("rows")[10];
    assert!(
        (run.distance_m - way).abs() < 0.05,
        "{} {way}",
        run.distance_m
    );
    let _ = writeln!(
        text,
        "| energy not accounted for | < 1e-6 of that drawn |\n"
    );
    assert!(run.imbalance < 1e-6);
    docs::keep_current("run-in-time", &text);
}

#[test]
fn a_water_line_agrees_with_colebrook_solved_apart() {
    let table = rows("water_line.csv");
    assert_eq!(table.len(), 12);
    for row in table {
        let line = Line {
            recovery: 0.6,
            rise_m: row[1],
            ..Line::usual(
                0.0028,
                0.003,
                0.4,
                &[(Part::Controller, 4.0), (Part::Can, 6.0)],
            )
        };
        let flow = Cooling::new(&line, 288.15, row[0])
            .expect("a line")
            .flow_kg_s(row[0]);
        // Two formulas of water's viscosity differ by 0.02 %, friction then by less.
        assert!((flow / row[2] - 1.0).abs() < 1e-4, "{row:?} {flow}");
    }
}
