//! Spectra of evenly spaced samples.
//!
//! The library's planner is generic, so each crate that makes a plan compiles every transform again: half a minute each
//! time. Plans are made here alone; what they give back is called by those who need a spectrum.

pub use realfft::RealToComplex;
pub use realfft::num_complex::Complex;

use realfft::RealFftPlanner;
use std::sync::Arc;

/// The transform of `samples` real numbers into half a spectrum, `samples / 2 + 1` bins, not scaled.
pub fn forward(samples: usize) -> Arc<dyn RealToComplex<f64>> {
    RealFftPlanner::<f64>::new().plan_fft_forward(samples)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cosine_is_one_bin() {
        let transform = forward(64);
        let (mut wave, mut bins) = (transform.make_input_vec(), transform.make_output_vec());
        for (i, x) in wave.iter_mut().enumerate() {
            *x = (std::f64::consts::TAU * 5.0 * i as f64 / 64.0).cos();
        }
        transform
            .process(&mut wave, &mut bins)
            .expect("its own buffers");
        assert_eq!(bins.len(), 33);
        for (k, bin) in bins.iter().enumerate() {
            let wanted = if k == 5 { 32.0 } else { 0.0 };
            assert!(
                (bin - Complex::new(wanted, 0.0)).norm() < 1e-12,
                "bin {k}: {bin}"
            );
        }
    }
}
