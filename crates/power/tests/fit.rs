//! Comparing set-ups.

use laws::driveline::Driveline;
use laws::motor_point::{Motor, speed_per_volt};
use laws::surface_propeller::{Blading, SurfacePropellerMap};
use power::fit::{Broken, Circumstances, MotorChoice, PackChoice, PropellerChoice, Wish, compare};
use power::load::{Curve, PropellerTable};

fn around() -> Circumstances {
    let rows = vec![
        (0.0, 0.0),
        (3.0, 5.5),
        (6.0, 3.5),
        (12.0, 4.5),
        (20.0, 9.0),
        (30.0, 20.0),
    ];
    Circumstances {
        drag: Curve::new("drag", rows).unwrap(),
        drives: 1.0,
        gear: 1.0,
        driveline: Driveline::passing(0.93).unwrap(),
        full_throttle_s: 90.0,
        launched: 1.0,
        usable: 0.8,
        water_k: 288.15,
        charge: 0.67,
        wished_m_s: 0.0,
    }
}

fn packs(n: usize) -> Vec<PackChoice> {
    (0..n)
        .map(|i| {
            let series = 2.0 + (i % 7) as f64;
            let ah = 2.0 + 0.5 * (i / 7) as f64;
            PackChoice {
                name: format!("{series} cells, {ah} A h"),
                series,
                capacity_c: 3600.0 * ah,
                ohm: series * 0.009 / ah,
                mass_kg: 0.022 * series * ah,
                rate_per_h: 30.0,
            }
        })
        .collect()
}

fn motors(n: usize) -> Vec<MotorChoice> {
    (0..n)
        .map(|i| {
            let kv = 1000.0 + 150.0 * i as f64;
            MotorChoice {
                name: format!("{kv} rpm/V"),
                motor: Motor {
                    speed_per_volt_rad_s_v: speed_per_volt(kv),
                    resistance_ohm: 0.01 * (2000.0 / kv).powi(2),
                    no_load_current_a: 3.0 * kv / 2000.0,
                },
                bridge_ohm: 0.002,
                motor_limit_a: 100.0,
                controller_limit_a: 120.0,
                speed_limit_rad_s: 5200.0,
                capacity_j_k: 90.0,
                to_water_w_k: 2.0,
                limit_k: 348.15,
            }
        })
        .collect()
}

fn propellers(n: usize) -> Vec<PropellerChoice> {
    let map = SurfacePropellerMap::new(&Blading::new(2.0, 1.4, 0.45)).unwrap();
    (0..n)
        .map(|i| {
            let mm = 30.0 + 1.5 * i as f64;
            PropellerChoice {
                name: format!("{mm} mm"),
                table: PropellerTable::of_map(&map, 1e-3 * mm, 998.0, 0.5),
                speed_limit_rad_s: 5000.0,
            }
        })
        .collect()
}

#[test]
fn same_answer_on_one_thread_or_many() {
    let (p, m, s, c) = (packs(14), motors(12), propellers(10), around());
    let with = |n| {
        rayon::ThreadPoolBuilder::new()
            .num_threads(n)
            .build()
            .unwrap()
            .install(|| compare(&p, &m, &s, &c, Wish::Speed))
    };
    let one = with(1);
    assert_eq!(one.len(), 14 * 12 * 10);
    assert_eq!(one, with(4));
    let sound = one.iter().take_while(|o| o.sound()).count();
    assert!(sound > 0 && one[sound..].iter().all(|o| !o.sound()));
    let speeds = &one[..sound];
    assert!(
        speeds
            .windows(2)
            .all(|w| w[0].top_speed_m_s >= w[1].top_speed_m_s)
    );
    assert!(one[sound..].iter().all(|o| o.broken().count() > 0));
}

#[test]
fn top_speed_is_where_the_drive_just_balances() {
    let (p, m, s, c) = (packs(7), motors(8), propellers(6), around());
    for o in compare(&p, &m, &s, &c, Wish::Speed) {
        let v = o.top_speed_m_s;
        if o.broken().any(|b| b == Broken::StaysOffThePlane) || v >= 29.9 {
            continue;
        }
        let table = &s[o.propeller].table;
        let (thrust, torque) = table.load(v, o.shaft_rad_s);
        // Steps of half a metre a second, straight between.
        assert!((thrust / c.drag.at(v) - 1.0).abs() < 0.03, "{o:?}");
        let motor = &m[o.motor];
        let k = motor.motor.speed_per_volt_rad_s_v;
        let current = torque / 0.93 * k + motor.motor.no_load_current_a;
        let whole = motor.motor.resistance_ohm + motor.bridge_ohm + p[o.pack].ohm;
        let open = p[o.pack].series * laws::cell::open_circuit_v(0.67);
        let left = open - o.shaft_rad_s / k - current * whole;
        assert!((left / open).abs() < 0.03, "{o:?} {left}");
        assert!((o.straight_a / current - 1.0).abs() < 0.05);
    }
}

#[test]
fn small_propeller_and_pack_do_not_plane_and_big_ones_burn() {
    let (p, m, s, c) = (packs(7), motors(8), propellers(14), around());
    let all = compare(&p, &m, &s, &c, Wish::Cool);
    let of = |pack, motor, propeller| {
        *all.iter()
            .find(|o| (o.pack, o.motor, o.propeller) == (pack, motor, propeller))
            .unwrap()
    };
    // Two cells at 1000 rpm/V turn at 15 000 rpm unloaded: a 30 mm propeller then has 8 N to give at best.
    assert!(of(0, 0, 0).broken().any(|b| b == Broken::StaysOffThePlane));
    let hot = of(6, 7, 13);
    assert!(hot.broken().any(|b| b == Broken::MotorCurrent) && hot.motor_k > 348.15);
    assert!(of(2, 4, 6).straight_a < of(3, 4, 6).straight_a);
}
