#[path = "../tests/boats/mod.rs"]
mod boats;
fn main() {
    for name in std::env::args().skip(1) {
        let e = boats::example(&name);
        let t = std::time::Instant::now();
        let curve = e.craft.speed_curve(48);
        println!("{name} full {:?}", t.elapsed());
        for k in 0..60u32 {
            let g = |m: u32| ((k * m + m) % 31) as f64 / 15.0 - 1.0;
            let mut b = e.boat.clone();
            for (i, p) in b.parts.iter_mut().enumerate() {
                p.mass_kg.value *= 1.0 + 0.1 * g(3 + 2 * i as u32);
                p.at[0].value += 0.003 * g(5 + 2 * i as u32);
            }
            let mass = craft::mass::mass_properties(&b, &e.form).unwrap();
            let mut f = craft::Factors::default();
            f.planing_lift = 1.0 + 0.15 * g(7);
            f.friction = 1.0 * g(11);
            let c = craft::Craft::sharing(&e.craft, &b, &e.form, &mass, &f).unwrap();
            let t = std::time::Instant::now();
            let q = c.rough_curve_like(12, &curve);
            let el = t.elapsed().as_secs_f64() * 1e3;
            if el > 25.0 {
                println!("  {k}: {el:.0} ms top {:?}", q.top.map(|t| t.speed_m_s));
            }
        }
    }
}
