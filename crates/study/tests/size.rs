//! Sizes for a load: they float, plane, and have the proportions that builders use.
//!
//! The ranges are those of the trade for the four hull types (common practice, no source), written down here by
//! themselves and not read from the code that sizes.

use study::Quantity;
use study::hull_type::HullType;
use study::size::{Going, Wish, search};

/// What builders do on one type of hull.
struct Usual {
    hull: HullType,
    speed_km_h: f64,
    beam: [f64; 2],
    freeboard_mm: [f64; 2],
}

const USUAL: [Usual; 4] = [
    Usual {
        hull: HullType::ThreePoint,
        speed_km_h: 60.0,
        beam: [0.42, 0.52],
        freeboard_mm: [25.0, 50.0],
    },
    Usual {
        hull: HullType::Outrigger,
        speed_km_h: 75.0,
        beam: [0.45, 0.55],
        // Its tub is just wet at rest.
        freeboard_mm: [15.0, 50.0],
    },
    Usual {
        hull: HullType::Vee,
        speed_km_h: 45.0,
        beam: [0.25, 0.32],
        freeboard_mm: [35.0, 60.0],
    },
    Usual {
        hull: HullType::Catamaran,
        speed_km_h: 65.0,
        beam: [0.30, 0.42],
        freeboard_mm: [35.0, 60.0],
    },
];

/// By length; a catamaran's two are smaller.
fn propeller_mm(hull: HullType, length_m: f64) -> [f64; 2] {
    let usual = [
        (0.4, 0.5, 28.0, 32.0),
        (0.5, 0.65, 34.0, 38.0),
        (0.65, 0.85, 38.0, 45.0),
        (0.85, 1.0, 45.0, 52.0),
    ];
    let row = usual.iter().find(|u| (u.0..u.1).contains(&length_m));
    let row = row.expect("a length that 1.6 kg needs");
    match hull {
        HullType::Catamaran => [0.8 * row.2, row.3],
        _ => [row.2, row.3],
    }
}

#[test]
fn sizes_float_plane_and_look_like_boats() {
    let going = Going {
        part: &|_| (),
        wanted: &|| true,
    };
    for usual in USUAL {
        let wish = Wish {
            carry_kg: 1.6,
            series: 4,
            speed_m_s: usual.speed_km_h / 3.6,
        };
        let found = search(usual.hull, wish, None, &going).expect("one of them floats");
        let best = &found.lengths[found.chosen];
        let name = usual.hull.name();
        let within = |what: &str, value: f64, [low, high]: [f64; 2]| {
            assert!((low..=high).contains(&value), "{name}: {what} is {value}");
        };
        assert!(best.missed.is_empty(), "{name} misses {:?}", best.missed);
        assert!(found.tried[0] >= 400, "{name}: {:?} boats", found.tried);
        let (fitted, q) = (&best.fitted, |quantity| best.quantities.get(quantity));
        within(
            "beam over length",
            fitted.beam_m / fitted.length_m,
            usual.beam,
        );
        let set_back = -fitted.lines[0].propeller_at_m[0] / fitted.length_m;
        within("set-back over length", set_back, [0.05, 0.08]);
        within(
            "propeller, mm",
            1e3 * fitted.set_up.propeller_m,
            propeller_mm(usual.hull, fitted.length_m),
        );
        let freeboard = q(Quantity::Freeboard).expect("it floats");
        within("freeboard", 1e3 * freeboard, usual.freeboard_mm);
        assert!(q(Quantity::PlaningSpeed).is_some(), "{name} planes");
        // Nominal rpm of motors: small racing riggers go to 45 000.
        let rpm = fitted.set_up.kv_rpm_v * 3.7 * 4.0;
        within("nominal rpm", rpm, [15_000.0, 45_000.0]);
        within("carried, kg", fitted.carried_kg(), [1.59, 1.61]);
        // Where it was to balance is where it does, to a few millimetres.
        let off = q(Quantity::BalanceX).expect("it has mass") - fitted.balance_m;
        assert!(off.abs() < 6e-3, "{name} balances {off} m off");
    }
}

#[test]
fn a_search_that_nobody_waits_for_ends() {
    let wish = Wish {
        carry_kg: 1.0,
        series: 3,
        speed_m_s: 15.0,
    };
    let going = Going {
        part: &|_| (),
        wanted: &|| false,
    };
    assert!(search(HullType::Vee, wish, None, &going).is_none());
}
