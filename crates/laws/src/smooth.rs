//! Steps without corners, and interpolation in short tables.

/// Rises from 0 at `from` to 1 at `to` with zero slope at both ends.
pub fn step(from: f64, to: f64, x: f64) -> f64 {
    let t = ((x - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Linear between `a` and `b`.
pub fn mix(a: f64, b: f64, weight_of_b: f64) -> f64 {
    a + (b - a) * weight_of_b
}

/// Place of `x` among rising `knots`: lower index and fraction, held at the ends.
pub fn bracket(knots: &[f64], x: f64) -> (usize, f64) {
    let last = knots.len() - 2;
    let i = knots[1..=last].iter().take_while(|k| x >= **k).count();
    let t = (x - knots[i]) / (knots[i + 1] - knots[i]);
    (i, t.clamp(0.0, 1.0))
}
