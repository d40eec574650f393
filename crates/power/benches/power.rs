//! What the program promises: ten thousand set-ups compared in a second, a run in time in well under one.

use laws::motor_point::{Motor, speed_per_volt};
use laws::surface_propeller::{Blading, Running, SurfacePropellerMap};
use power::fit::{Circumstances, MotorChoice, PackChoice, PropellerChoice, Wish, compare};
use power::load::{Curve, PropellerTable};

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
        shaft_efficiency: 0.93,
        full_throttle_s: 90.0,
        usable: 0.8,
        water_k: 288.15,
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

#[divan::bench]
fn surface_propeller_from_its_map(bencher: divan::Bencher) {
    let map = map();
    let running = Running {
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
