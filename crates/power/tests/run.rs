//! A whole drive over a whole run.

use laws::controller_loss::Controller;
use laws::driveline::Driveline;
use laws::motor_heat::WarmMotor;
use laws::motor_point::{Motor, speed_per_volt};
use laws::surface_propeller::{Blading, SurfacePropellerMap};
use power::cooling::Line;
use power::load::{Curve, PropellerTable};
use power::run::{Hull, WhatIf, run};
use power::script::Script;
use power::setup::{Bulk, Pack, Setup, usual_limits};
use power::thermal::Part;

/// Four cells, 2000 rpm/V, 40 mm propeller: an invented boat of 1.8 kg.
fn setup() -> Setup {
    let cold = Motor {
        speed_per_volt_rad_s_v: speed_per_volt(2000.0),
        resistance_ohm: 0.009,
        no_load_current_a: 3.0,
    };
    let bulk = Bulk {
        motor_kg: 0.25,
        controller_kg: 0.09,
        pack_kg: 0.45,
        air_m3: 0.002,
        vent_w_k: 0.5,
    };
    Setup {
        pack: Pack {
            series: 4.0,
            parallel: 1.0,
            capacity_c: 5.0 * 3600.0,
            cell_ohm: 0.002,
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
        motor: WarmMotor::new(cold, 2400.0, 0.5).unwrap(),
        gear: 1.0,
        driveline: Driveline::passing(0.93).unwrap(),
        thrust_per_torque: 60.0,
        network: bulk.network(293.15),
        line: Some(Line::usual(
            0.0028,
            0.003,
            0.4,
            &[(Part::Controller, 4.0), (Part::Can, 6.0)],
        )),
        water_k: 288.15,
        start_k: [293.15; 6],
        limits: usual_limits(),
        reserve: 0.2,
        assumed: vec![],
    }
}

fn propeller() -> PropellerTable {
    let map = SurfacePropellerMap::new(&Blading::new(2.0, 1.4, 0.45)).unwrap();
    PropellerTable::of_map(&map, 0.04, 998.0, 0.5)
}

fn hull() -> Hull {
    // A hump of a third of the weight at 3 m/s, then rising again.
    let rows = vec![
        (0.0, 0.0),
        (3.0, 5.5),
        (6.0, 3.5),
        (12.0, 4.5),
        (20.0, 9.0),
        (30.0, 20.0),
    ];
    Hull {
        mass_kg: 1.9,
        drag: Curve::new("drag", rows).unwrap(),
        drives: 1.0,
    }
}

#[test]
fn a_heat_keeps_its_energy_and_makes_sense() {
    let script = Script::heat(6, 5.0, 3.0, 0.6)
        .with_soak(120.0)
        .with_lap(200.0);
    let r = run(&setup(), &propeller(), &hull(), &script).unwrap();
    assert!(r.imbalance < 1e-6, "{}", r.imbalance);
    let top = r.samples.iter().map(|s| s.speed_m_s).fold(0.0, f64::max);
    assert!((10.0..30.0).contains(&top), "{top}");
    let last = r.samples.last().unwrap();
    assert!(last.charge < 1.0 && last.speed_m_s < 0.1 && last.instant.pack_a == 0.0);
    assert!(r.energy_per_lap_j.unwrap() > 0.0);
    // Soak: winding falls, and the can it heats falls behind it.
    let hot = |p: Part| r.hottest_k[p as usize];
    assert!(hot(Part::Winding) > hot(Part::Can));
    assert!(last.temperature_k[Part::Winding as usize] < hot(Part::Winding));
    assert!(
        r.samples
            .windows(2)
            .all(|w| w[1].time_s > w[0].time_s && w[1].charge <= w[0].charge)
    );
}

#[test]
fn every_what_if_runs_hotter_or_no_cooler_and_closes() {
    let script = Script::cruise(1.0, 150.0);
    let base = setup();
    let (p, h) = (propeller(), hull());
    let good = run(&base, &p, &h, &script).unwrap();
    let can = |r: &power::run::Discharge| r.hottest_k[Part::Can as usize];
    for what in [
        WhatIf::PickupBlocked,
        WhatIf::Kinked {
            piece: 1,
            area_left: 0.1,
        },
        WhatIf::Air(0.5),
        WhatIf::Water(298.15),
        WhatIf::LidSealed,
    ] {
        let r = run(&base.with(what), &p, &h, &script).unwrap();
        assert!(r.imbalance < 1e-6, "{what:?} {}", r.imbalance);
        assert!(can(&r) >= can(&good) - 1e-6, "{what:?}");
    }
    let blocked = run(&base.with(WhatIf::PickupBlocked), &p, &h, &script).unwrap();
    assert!(can(&blocked) > can(&good) + 5.0);
    let first = blocked.first().expect("something reaches its limit");
    assert!(first.time_s > 1.0 && first.time_s < 150.0);
    let not_later = |part| {
        let find =
            |r: &power::run::Discharge| r.reached.iter().find(|x| x.part == part).map(|x| x.time_s);
        match (find(&blocked), find(&good)) {
            (Some(b), Some(g)) => b <= g,
            (None, Some(_)) => false,
            _ => true,
        }
    };
    assert!(Part::ALL.into_iter().all(not_later));
}

#[test]
fn an_empty_pack_stops_and_the_reserve_is_told() {
    let mut s = setup();
    s.pack.capacity_c = 0.5 * 3600.0;
    let r = run(&s, &propeller(), &hull(), &Script::cruise(1.0, 120.0)).unwrap();
    let reserve = r.reserve_s.unwrap();
    assert!(reserve > 5.0 && reserve < 100.0);
    assert!(r.samples.iter().all(|x| (0.0..=1.0).contains(&x.charge)));
    assert!(r.imbalance < 1e-6, "{}", r.imbalance);
}

#[test]
fn a_measured_log_is_followed() {
    let throttle = vec![(0.0, 0.0), (1.0, 0.8), (20.0, 0.8), (21.0, 0.0)];
    let speed = vec![(0.0, 0.0), (5.0, 15.0), (20.0, 15.0), (21.0, 10.0)];
    let script = Script::log(throttle, Some(speed)).unwrap();
    let r = run(&setup(), &propeller(), &hull(), &script).unwrap();
    let mid = r.samples.iter().find(|s| s.time_s > 10.0).unwrap();
    assert!((mid.speed_m_s - 15.0).abs() < 1e-9);
    assert!(
        (r.distance_m - (37.5 + 225.0 + 12.5)).abs() < 0.1,
        "{}",
        r.distance_m
    );
}

#[test]
fn numbers_with_no_meaning_are_refused_not_run() {
    let script = Script::cruise(1.0, 5.0);
    let (p, h) = (propeller(), hull());
    let mut hot = setup();
    hot.start_k = [f64::NAN; 6];
    assert!(run(&hot, &p, &h, &script).is_err());
    let mut cells = setup();
    cells.pack.cell_ohm = f64::NAN;
    assert!(run(&cells, &p, &h, &script).is_err());
    let mut line = setup();
    line.line = Some(Line::usual(0.0, 0.003, 0.4, &[]));
    let said = run(&line, &p, &h, &script).unwrap_err().to_string();
    assert!(said.contains("diameter is 0"), "{said}");
    let mut frozen = setup();
    frozen.water_k = 100.0;
    assert!(run(&frozen, &p, &h, &script).is_err());
}

#[test]
fn energy_balances_over_every_script_and_what_if() {
    let scripts = [
        Script::heat(3, 5.0, 3.0, 0.6).with_soak(60.0),
        Script::sprint(2, 6.0, 10.0).with_soak(60.0),
        Script::cruise(0.4, 60.0),
        Script::log(vec![(0.0, 1.0), (9.0, 0.0), (12.0, 0.7), (20.0, 0.3)], None).unwrap(),
    ];
    let changes = [
        None,
        Some(WhatIf::PickupBlocked),
        Some(WhatIf::Kinked {
            piece: 1,
            area_left: 0.1,
        }),
        Some(WhatIf::Air(0.5)),
        Some(WhatIf::Water(298.15)),
        Some(WhatIf::LidSealed),
    ];
    let (p, h) = (propeller(), hull());
    for script in &scripts {
        for change in changes {
            let s = change.map_or_else(setup, |c| setup().with(c));
            let r = run(&s, &p, &h, script).unwrap();
            assert!(
                r.imbalance < 1e-6,
                "{} {change:?}: {}",
                script.name,
                r.imbalance
            );
            let out = r.samples.last().unwrap().charge;
            assert!(r.energy_j > 0.0 && out < 1.0);
        }
    }
}
