#[path = "../tests/boats/mod.rs"]
mod boats;
use craft::steady::Running;
use motion::run::*;
use motion::script::Script;
use motion::water::{RIPPLE_LENGTH, Water};
use nalgebra::Vector3;
use std::ops::ControlFlow;
use std::time::Instant;
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let h: f64 = a[1].parse().unwrap();
    for name in &a[2..] {
        let e = boats::example(name);
        let throw = e.boat.rudders.first().map_or(0.4, |r| r.throw_rad.value);
        let curve = e.craft.speed_curve(48);
        let Some(top) = curve.top.clone() else {
            println!("{name} no top");
            continue;
        };
        let running = Running {
            speed_m_s: top.speed_m_s,
            attitude: top.attitude,
            shaft_rad_s: top.drives[0].shaft_rad_s,
        };
        let water = if h == 0.0 {
            Water::Flat
        } else {
            Water::Ripple {
                height_m: h,
                length_m: RIPPLE_LENGTH * h,
                from_rad: 0.0,
            }
        };
        for err in [1.0, 2.0, 4.0, 0.1] {
            let mut z = 0.0;
            let mut n = 0.0;
            let mut s2 = 0.0;
            let mut el = 0.0;
            let mut boat_s = 0.0;
            let mut v = 0.0;
            let mut last = (0.0, 0.0);
            for seed in 1..=6 {
                let c = Conditions {
                    water: water.clone(),
                    wind_m_s: Vector3::zeros(),
                    script: Script::steady(1.0),
                    start: Start::Running(running),
                    seconds: 2.5,
                    seed,
                };
                let t = Instant::now();
                let r = run_within(
                    &e.craft,
                    throw,
                    &c,
                    motion::driver::Driver::FlatOut,
                    err,
                    &mut |_| ControlFlow::Continue(()),
                )
                .unwrap();
                el += t.elapsed().as_secs_f64();
                boat_s += r.samples.last().unwrap().time_s;
                v += r.samples.iter().map(|s| s.speed_m_s).sum::<f64>()
                    / r.samples.len() as f64
                    / 6.0;
                for s in r.samples.iter().take_while(|s| s.upright()) {
                    z += s.acceleration_m_s2[2].powi(2);
                    n += 1.0;
                    s2 += s.trim_rad.powi(2);
                }
                last = (r.peaks.up_m_s2, r.peaks.bow_m_s2);
            }
            println!(
                "{name} err {err}: {:.0} ms/s, boat s {boat_s:.1}, rms az {:.2} trim {:.3} v {v:.2} peaks {last:?}",
                1e3 * el / boat_s,
                (z / n as f64).sqrt(),
                (s2 / n as f64).sqrt().to_degrees()
            );
        }
    }
}
