#[path = "../tests/boats/mod.rs"]
mod boats;
use craft::steady::LEFT;
use std::sync::atomic::Ordering::Relaxed;
fn main() {
    for name in std::env::args().skip(1) {
        let e = boats::example(&name);
        let l = LEFT.load(Relaxed);
        let curve = e.craft.speed_curve(48);
        let full = LEFT.load(Relaxed) - l;
        let mut n = 0;
        let mut tops = vec![];
        let l = LEFT.load(Relaxed);
        let mut worst = 0;
        for k in 0..24 {
            let g = |m: u32| ((k * m) % 13) as f64 / 6.0 - 1.0;
            let mut b = e.boat.clone();
            for (i, p) in b.parts.iter_mut().enumerate() {
                p.mass_kg.value *= 1.0 + 0.05 * g(3 + i as u32);
                p.at[0].value += 0.002 * g(5 + i as u32);
            }
            let mass = craft::mass::mass_properties(&b, &e.form).unwrap();
            let mut f = craft::Factors::default();
            f.planing_lift = 1.0 + 0.06 * g(7);
            f.friction = 0.5 * g(11);
            let c = craft::Craft::sharing(&e.craft, &b, &e.form, &mass, &f).unwrap();
            let l = LEFT.load(Relaxed);
            let k = c.rough_curve_like(12, &curve);
            n += 1;
            worst = worst.max(LEFT.load(Relaxed) - l);
            tops.push(k.top.map_or(0.0, |t| t.speed_m_s));
        }
        println!(
            "{name}: full {full}, like {} mean, worst {worst}; tops {:?}",
            (LEFT.load(Relaxed) - l) / n,
            &tops[..4]
        );
    }
}
