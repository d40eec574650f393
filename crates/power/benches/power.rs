//! What the program promises: ten thousand set-ups compared in a second, a run in time in well under one.

use laws::controller_loss::Controller;
use laws::driveline::Driveline;
use laws::motor_heat::WarmMotor;
use laws::motor_point::{Motor, speed_per_volt};
use laws::surface_propeller::{Blading, Operating, SurfacePropellerMap};
use power::cooling::Line;
use power::fit::{Circumstances, MotorChoice, PackChoice, PropellerChoice, Wish, compare};
use power::load::{Curve, PropellerTable};
use power::run::{Hull, run};
use power::script::Script;
use power::setup::{Bulk, Pack, Setup, usual_limits};
use power::thermal::Part;

fn main() {
    divan::main();
}

fn map() -> SurfacePropellerMap {
    SurfacePropellerMap::new(&Blading::new(2.0, 1.4, 0.45)).expect("a propeller")
}

fn around() -> Circumstances {
    let rows = vec![
        (0.0, 0.0),
        (3.0, 5.5),
        (6.0, 3.5),
        (12.0, 4.5),
        (20.0, 9.0),
        (40.0, 36.0),
    ];
    Circumstances {
        drag: Curve::new("drag", rows).expect("a table"),
        drives: 1.0,
        gear: 1.0,
        driveline: Driveline::passing(0.93).expect("a driveline"),
        full_throttle_s: 90.0,
        launched: 1.0,
        usable: 0.8,
        water_k: 288.15,
        charge: 0.67,
        wished_m_s: 0.0,
    }
}

fn pack(i: usize) -> PackChoice {
    let series = 2.0 + (i % 7) as f64;
    PackChoice {
        name: format!("{series} cells"),
        series,
        capacity_c: 3600.0 * (2.0 + 0.5 * (i / 7) as f64),
        ohm: 0.002 * series,
        mass_kg: 0.1 * series,
        rate_per_h: 30.0,
    }
}

fn motor(i: usize) -> MotorChoice {
    let kv = 1000.0 + 150.0 * i as f64;
    MotorChoice {
        name: format!("{kv} rpm/V"),
        motor: Motor {
            speed_per_volt_rad_s_v: speed_per_volt(kv),
            resistance_ohm: 0.01 * (2000.0 / kv).powi(2),
            no_load_current_a: 3.0,
        },
        bridge_ohm: 0.002,
        motor_limit_a: 100.0,
        controller_limit_a: 120.0,
        speed_limit_rad_s: 5200.0,
        capacity_j_k: 90.0,
        to_water_w_k: 2.0,
        limit_k: 348.15,
    }
}

fn propeller(map: &SurfacePropellerMap, i: usize) -> PropellerChoice {
    let mm = 30.0 + i as f64;
    PropellerChoice {
        name: format!("{mm} mm"),
        table: PropellerTable::of_map(map, 1e-3 * mm, 998.0, 0.5),
        speed_limit_rad_s: 5000.0,
    }
}

/// 28 packs, 20 motors, 20 propellers: 11 200 set-ups, propeller tables included.
#[divan::bench(sample_count = 10)]
fn eleven_thousand_set_ups(bencher: divan::Bencher) {
    let (map, c) = (map(), around());
    let packs: Vec<_> = (0..28).map(pack).collect();
    let motors: Vec<_> = (0..20).map(motor).collect();
    bencher.bench(|| {
        let propellers: Vec<_> = (0..20).map(|i| propeller(&map, i)).collect();
        compare(&packs, &motors, &propellers, &c, Wish::Speed)
    });
}

/// Four cells on a boat of 1.9 kg.
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
    let cooled = [(Part::Controller, 4.0), (Part::Can, 6.0)];
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
        motor: WarmMotor::new(cold, 2400.0, 0.5).expect("a motor"),
        gear: 1.0,
        driveline: Driveline::passing(0.93).expect("a driveline"),
        thrust_per_torque: 60.0,
        network: bulk.network(293.15),
        line: Some(Line::usual(0.0028, 0.003, 0.4, &cooled)),
        water_k: 288.15,
        start_k: [293.15; 6],
        limits: usual_limits(),
        reserve: 0.2,
        assumed: vec![],
    }
}

/// Three minutes at full throttle and two of soaking, the water line worked out too.
#[divan::bench(sample_count = 20)]
fn five_minutes_in_time(bencher: divan::Bencher) {
    let setup = setup();
    let propeller = PropellerTable::of_map(&map(), 0.04, 998.0, 0.5);
    let hull = Hull {
        mass_kg: 1.9,
        drag: around().drag,
        drives: 1.0,
    };
    let script = Script::cruise(1.0, 180.0).with_soak(120.0);
    bencher.bench(|| run(&setup, &propeller, &hull, &script));
}

#[divan::bench]
fn surface_propeller_from_its_map(bencher: divan::Bencher) {
    let map = map();
    let running = Operating {
        density_kg_m3: 998.0,
        diameter_m: 0.04,
        speed_m_s: 15.0,
        shaft_rad_s: 2400.0,
        immersion: 0.5,
        upward_rad: 0.02,
        to_port_rad: 0.01,
    };
    bencher.bench(|| map.load(divan::black_box(&running)));
}
