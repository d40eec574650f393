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
    for name in std::env::args().skip(1) {
        let e = boats::example(&name);
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
        let t = Instant::now();
        let l = motion::launch::launch(&e.craft, throw).unwrap();
        println!(
            "{name}: launch {:.0} ms, quicker {:?} ended {:?} hump {:.1} A over {} planes {:?} trim {:.1} ends {:?}",
            t.elapsed().as_secs_f64() * 1e3,
            l.quicker,
            l.ended,
            l.hump_current_a,
            l.gets_over,
            l.planes_after_s,
            l.most_trim_rad.to_degrees(),
            l.ends.as_ref().map(|e| format!("{e:?}"))
        );
        for h in [0.0, 0.02] {
            let water = if h == 0.0 {
                Water::Flat
            } else {
                Water::Ripple {
                    height_m: h,
                    length_m: RIPPLE_LENGTH * h,
                    from_rad: 0.0,
                }
            };
            let c = Conditions {
                water,
                wind_m_s: Vector3::zeros(),
                script: Script::steady(1.0),
                start: Start::Running(running),
                seconds: 2.0,
                seed: 1,
            };
            let t = Instant::now();
            let r = run(&e.craft, throw, &c, &mut |_| ControlFlow::Continue(())).unwrap();
            if h == 0.0 {
                for q in r.samples.iter().step_by(24) {
                    println!(
                        "   {:.2} v {:.3} trim {:.3} heel {:.3} z {:.2} yaw {:.2} evals {}",
                        q.time_s,
                        q.speed_m_s,
                        q.trim_rad.to_degrees(),
                        q.heel_rad.to_degrees(),
                        q.place_m[2] * 1e3,
                        q.yaw_rad.to_degrees(),
                        0
                    );
                }
            }
            let ms = t.elapsed().as_secs_f64() * 1e3;
            let s = r.samples.last().unwrap().time_s;
            println!(
                "  ripple {h}: {:.1} s in {ms:.0} ms = {:.0} ms/s",
                s,
                ms / s
            );
        }
    }
}
