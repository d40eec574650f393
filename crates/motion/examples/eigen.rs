#[path = "../tests/boats/mod.rs"]
mod boats;
use craft::steady::Running;
use motion::body::*;
use nalgebra::DMatrix;
fn main() {
    for name in std::env::args().skip(1) {
        let e = boats::example(&name);
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
        let body = Body::new(&e.craft);
        let y = body.state(
            &running.motion(),
            &vec![running.shaft_rad_s; e.craft.propellers().len()],
        );
        let n = 14 + e.craft.propellers().len().min(4);
        let idx: Vec<usize> = (0..n)
            .filter(|i| *i != 0 && *i != 1 && *i != 3 && *i != 6 && *i != 13)
            .collect();
        let around = e.craft.surroundings();
        let held = Held {
            throttle: 1.0,
            rudder_rad: 0.0,
        };
        let f = |y: &State| body.rates(0.0, y, &around, &held);
        let mut ws = vec![];
        // follow in time with a small rk4 and look at the slopes on the way
        let mut state = y;
        for k in 0..400 {
            for _ in 0..5 {
                let g = |_t: f64, y: &State| f(y);
                let mut g = g;
                state = laws::numerics::ode::rk4(&mut g, 0.0, &state, 0.0004);
            }
            if k % 40 == 0 {
                for nud in [1e-6, 1e-5, 1e-4, 1e-3] {
                    let mut j = DMatrix::zeros(idx.len(), idx.len());
                    for (c, &i) in idx.iter().enumerate() {
                        let h = SCALE[i] * nud;
                        let mut a = state;
                        a[i] += h;
                        let mut b = state;
                        b[i] -= h;
                        let (fa, fb) = (f(&a), f(&b));
                        for (r, &k) in idx.iter().enumerate() {
                            j[(r, c)] = (fa[k] - fb[k]) / (2.0 * h) * SCALE[i] / SCALE[k];
                        }
                    }
                    let e = j.complex_eigenvalues();
                    let m = e.iter().map(|v| v.norm()).fold(0.0, f64::max);
                    let which = e.iter().find(|v| v.norm() == m).unwrap();
                    print!("  {nud:.0e}: {:.0}{:+.0}i", which.re, which.im);
                    ws.push(j);
                }
                println!(
                    "  t {:.2} v {:.3} w {:.4} p {:.4} q {:.4}",
                    k as f64 * 0.002,
                    state[7],
                    state[9],
                    state[10],
                    state[11]
                );
            }
        }
        let j = ws.pop().unwrap();
        let names = [
            "x", "y", "z", "q0", "q1 roll", "q2 pitch", "q3 yaw", "u", "v", "w", "p", "q", "r",
            "chg", "shaft", "shaft2", "s3", "s4",
        ];
        println!("{name} {:.1} m/s, eigenvalues:", top.speed_m_s);
        for v in j.complex_eigenvalues().iter() {
            println!("   {:.0} {:+.0}i", v.re, v.im);
        }
        for (r, &k) in idx.iter().enumerate() {
            println!(
                "  {:9} {}",
                names[k],
                (0..idx.len())
                    .map(|c| format!("{:8.1}", j[(r, c)]))
                    .collect::<String>()
            );
        }
    }
}
