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
