//! Sines of a ripple: a spectrum of wind waves cut into parts of equal energy.

use laws::constants::GRAVITY_M_S2;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::f64::consts::{FRAC_PI_2, TAU};

use super::{Component, component};

/// Components of a ripple: enough that heights are spread as chance has it (no crest is higher than 1.4 times
/// the significant height), few enough to be asked for at every step.
const COMPONENTS: usize = 16;
/// Shorter waves are left out, crest to crest, m: see the room's first lines.
pub const SHORTEST_M: f64 = 0.02;
/// Frequencies looked at, over the peak's.
const RANGE: (f64, f64) = (0.6, 3.0);
const STEPS: u32 = 400;

/// Components of equal energy: frequencies at the middles of equal parts of the spectrum.
pub fn ripple(height_m: f64, length_m: f64, from_rad: f64, seed: u64) -> Vec<Component> {
    let peak = (GRAVITY_M_S2 * TAU / length_m).sqrt();
    let range = (RANGE.0 * peak, RANGE.1 * peak);
    let frequency = |i: f64| range.0 + (range.1 - range.0) * i / f64::from(STEPS);
    let mut sum = vec![0.0];
    for i in 0..STEPS {
        let w = frequency(f64::from(i) + 0.5);
        sum.push(sum[sum.len() - 1] + jonswap(w / peak));
    }
    let cut = (GRAVITY_M_S2 * TAU / SHORTEST_M).sqrt();
    let kept =
        (((cut - range.0) / (range.1 - range.0)).clamp(0.0, 1.0) * f64::from(STEPS)) as usize;
    let whole = sum[kept];
    if whole <= 0.0 {
        return Vec::new();
    }
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    // Variance is (Hs / 4)^2 less what is cut, shared evenly: a^2 / 2 each.
    let share = whole / sum[sum.len() - 1];
    let amplitude = 0.25 * height_m * (2.0 * share / COMPONENTS as f64).sqrt();
    (0..COMPONENTS)
        .map(|i| {
            let wanted = whole * (i as f64 + 0.5) / COMPONENTS as f64;
            let after = sum.partition_point(|s| *s < wanted).max(1);
            let share = (wanted - sum[after - 1]) / (sum[after] - sum[after - 1]).max(1e-300);
            let w = frequency((after - 1) as f64 + share);
            let length = TAU * GRAVITY_M_S2 / (w * w);
            let side = from_rad + spread(random.random::<f64>());
            component(amplitude, length, side, TAU * random.random::<f64>())
        })
        .collect()
}

/// Shape over frequency by the peak's; the scale does not matter.
fn jonswap(ratio: f64) -> f64 {
    let width = if ratio <= 1.0 { 0.07 } else { 0.09 };
    let peak = (-((ratio - 1.0) / width).powi(2) / 2.0).exp();
    ratio.powi(-5) * (-1.25 * ratio.powi(-4)).exp() * 3.3f64.powf(peak)
}

/// Angle at which a share of the cosine squared lies below.
fn spread(share: f64) -> f64 {
    let (mut low, mut high) = (-FRAC_PI_2, FRAC_PI_2);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        let below = 0.5 + (middle + middle.sin() * middle.cos()) / std::f64::consts::PI;
        if below < share {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}
