//! Where the time of a strength goes; run with `--run-ignored all --no-capture`.
#![allow(missing_docs)]
mod common;
#[test]
#[ignore = "prints only"]
fn timing() {
    for name in common::DEMOS {
        let (boat, form) = common::demo(name);
        let mass = craft::mass::mass_properties(&boat, &form).unwrap();
        let t = std::time::Instant::now();
        let b = making::strength::Bending::of(&boat, &form, &mass);
        let a = t.elapsed();
        let _ = making::pieces::material(&form).unwrap();
        let m = t.elapsed();
        let _ = making::pieces::layout(&boat, &form, &|x| b.share(x)).unwrap();
        println!(
            "{name}: bending {a:?} material {:?} layout {:?}",
            m - a,
            t.elapsed() - m
        );
    }
}

#[test]
#[ignore = "prints only"]
fn butt_joints_along_the_hull() {
    use making::strength::{Asking, Of, Seen, strength};
    for (name, cuts) in [
        ("millrace", [150, 200, 250, 300, 350]),
        ("twin-thistle", [200, 300, 400, 500, 600]),
        ("tadpole", [120, 160, 200, 225, 280]),
    ] {
        for at in cuts {
            let (boat, form) = common::with(
                name,
                &format!("[[cut]]\nat = \"{at} mm\"\njoint = \"butt\""),
            );
            let mass = craft::mass::mass_properties(&boat, &form).unwrap();
            let seen = Seen {
                top_m_s: 16.0,
                water_kg_m3: 999.0,
                up_m_s2: 60.0,
                sink_m_s: 1.2,
                ..Seen::default()
            };
            let s = strength(&Asking {
                boat: &boat,
                form: &form,
                mass: &mass,
                seen: Some(&seen),
            })
            .unwrap();
            let j = s.worst(Of::Joint).unwrap();
            let b = making::strength::Bending::of(&boat, &form, &mass);
            println!(
                "{name} {at}: {} under {} {:.2}; bending {:.2}; hull {:.1}",
                j.place,
                j.load,
                j.value(),
                b.share(0.001 * f64::from(at)),
                s.worst(Of::Hull).unwrap().value()
            );
            for l in &s.levers {
                println!("    {}: hull {:.1} joints {:?}", l.what, l.hull, l.joints);
            }
            for c in &s.crashes {
                println!("    {}: {}", c.what, c.breaks);
            }
        }
    }
}
