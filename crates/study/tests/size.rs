//! Sizes for a load: floats, planes, and proportions that builders use.

use std::time::Instant;
use study::Quantity;
use study::hull_type::HullType;
use study::size::{Going, Wish, search};

const ALL: [HullType; 4] = [
    HullType::ThreePoint,
    HullType::Outrigger,
    HullType::Vee,
    HullType::Catamaran,
];

#[test]
fn sizes() {
    for hull in ALL {
        for carry_kg in [0.8, 1.6, 3.0] {
            let wish = Wish {
                carry_kg,
                series: if carry_kg > 2.0 { 4 } else { 3 },
                speed_m_s: 60.0 / 3.6,
            };
            let start = Instant::now();
            let going = Going {
                part: &|_| (),
                wanted: &|| true,
            };
            let found = search(hull, wish, None, &going).expect("some boat floats");
            println!(
                "{} {carry_kg} kg: {:?} boats, {:.1} s",
                hull.name(),
                found.tried,
                start.elapsed().as_secs_f64()
            );
            for (i, t) in found.lengths.iter().enumerate() {
                let q = |k| t.quantities.get(k).unwrap_or(f64::NAN);
                println!(
                    "{} {:.0} x {:.0} mm, {:.2} kg, prop {:.0}, kv {:.0}, cost {:.2}: freeboard {:.1}, planes {:.0}, hump {:.2}, top {:.1} km/h, {:.0} A, slip {:.2}, trim {:.1}, missed {:?}",
                    if i == found.chosen { ">" } else { " " },
                    1e3 * t.hull.length_m,
                    1e3 * t.hull.beam_m,
                    q(Quantity::Mass),
                    1e3 * t.fitted.set_up.propeller_m,
                    t.fitted.set_up.kv_rpm_v,
                    t.cost,
                    1e3 * q(Quantity::Freeboard),
                    3.6 * q(Quantity::PlaningSpeed),
                    q(Quantity::HumpMargin),
                    3.6 * q(Quantity::TopSpeed),
                    q(Quantity::TopCurrent),
                    q(Quantity::Slip),
                    q(Quantity::TopTrim).to_degrees(),
                    t.missed.iter().map(|m| m.what.name()).collect::<Vec<_>>()
                );
            }
        }
    }
}
