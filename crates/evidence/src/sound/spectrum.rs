//! Short spectra of a sound, each against its own noise.
//!
//! A Gaussian window (standard deviation an eighth of its length) is used for two reasons. The
//! logarithm of its peak is a parabola, so three bins give the frequency almost exactly
//! (`checks/peak_interpolation.csv`: worst 0.0001 bin, where a Hann window is wrong by 0.016). And
//! windows half a length apart hardly share a sample, so their noise is independent, which the
//! decision between tone and no tone rests on.
//!
//! Each bin's power is divided by the mean noise around it (a sliding median in frequency), so
//! automatic gain, wind's low rumble and the microphone's colour drop out. Noise alone then has the
//! exponential distribution with mean one.

use fourier::{Complex, RealToComplex};
use std::sync::Arc;

/// Bins each side from which a bin's noise is taken.
const NOISE_REACH: usize = 96;
/// Standard error of the noise so found, as a part: a median of 193 exponential values.
pub(crate) const NOISE_ERROR: f64 = 0.104;
/// Noise is looked at every so many bins.
const NOISE_STRIDE: usize = 8;
/// The lowest bins hold the mean and what leaks from it.
const FIRST_BAND: usize = 3;
/// Noise in a bin is taken as at least this part of the band's loudest: codecs leave empty bins.
const NOISE_FLOOR: f64 = 1e-9;

/// Length and band of the spectra.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shape {
    /// Samples in a window; a power of two.
    pub window: usize,
    /// Samples a second.
    pub rate_hz: f64,
    /// First bin kept.
    pub first: usize,
    /// Bins kept.
    pub bins: usize,
}

impl Shape {
    /// The window nearest to `window_s`, and the bins from `low_hz` to `high_hz`, as far as the
    /// rate allows.
    pub fn new(rate_hz: f64, window_s: f64, low_hz: f64, high_hz: f64) -> Self {
        let power = (rate_hz * window_s).log2().round().clamp(7.0, 17.0);
        let window = 1usize << power as u32;
        let bin = rate_hz / window as f64;
        // One bin is left at each end for the interpolation.
        let first = ((low_hz / bin).floor() as usize).clamp(6, window / 2 - 3);
        let last = ((high_hz / bin).ceil() as usize).clamp(first + 1, window / 2 - 2);
        Self {
            window,
            rate_hz,
            first,
            bins: last - first + 1,
        }
    }

    /// Width of a bin, Hz.
    pub fn bin_hz(&self) -> f64 {
        self.rate_hz / self.window as f64
    }

    /// From one spectrum to the next, s.
    pub fn hop_s(&self) -> f64 {
        (self.window / 2) as f64 / self.rate_hz
    }

    /// Frequency at a place among the kept bins.
    pub fn frequency_hz(&self, place: f64) -> f64 {
        (self.first as f64 + place) * self.bin_hz()
    }
}

/// Spectra of a whole recording: powers over noise, frame after frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Spectra {
    /// Length and band.
    pub shape: Shape,
    /// Time of the middle of the first window, s.
    pub start_s: f64,
    /// `shape.bins` powers a frame, each over the mean noise.
    pub over_noise: Vec<f32>,
    /// That noise, at every eighth bin of each frame, in the square of the samples' unit.
    noise: Vec<f32>,
}

impl Spectra {
    /// Number of frames.
    pub fn len(&self) -> usize {
        self.over_noise.len() / self.shape.bins
    }

    /// True when the recording is shorter than one window.
    pub fn is_empty(&self) -> bool {
        self.over_noise.is_empty()
    }

    /// One frame.
    pub fn frame(&self, i: usize) -> &[f32] {
        &self.over_noise[i * self.shape.bins..(i + 1) * self.shape.bins]
    }

    /// Mean noise power near a bin of a frame.
    pub fn noise_near(&self, frame: usize, bin: usize) -> f64 {
        let each = self.shape.bins.div_ceil(NOISE_STRIDE);
        f64::from(self.noise[frame * each + bin / NOISE_STRIDE])
    }

    /// Time of the middle of a frame, s.
    pub fn time_s(&self, i: usize) -> f64 {
        self.start_s + i as f64 * self.shape.hop_s()
    }
}

/// Makes spectra of samples as they come.
pub struct Spectrograph {
    transform: Arc<dyn RealToComplex<f64>>,
    taper: Vec<f64>,
    waiting: Vec<f32>,
    input: Vec<f64>,
    output: Vec<Complex<f64>>,
    scratch: Vec<Complex<f64>>,
    power: Vec<f64>,
    floor: Floor,
    done: Spectra,
}

impl Spectrograph {
    /// For samples whose first is at `start_s`.
    pub fn new(shape: Shape, start_s: f64) -> Self {
        let transform = fourier::forward(shape.window);
        let half_s = 0.5 * shape.window as f64 / shape.rate_hz;
        Self {
            taper: gaussian(shape.window),
            waiting: Vec::with_capacity(2 * shape.window),
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            scratch: transform.make_scratch_vec(),
            power: Vec::new(),
            floor: Floor::new(&shape),
            done: Spectra {
                shape,
                start_s: start_s + half_s,
                over_noise: Vec::new(),
                noise: Vec::new(),
            },
            transform,
        }
    }

    /// Takes more samples.
    pub fn hear(&mut self, samples: &[f32]) {
        self.waiting.extend_from_slice(samples);
        let window = self.done.shape.window;
        let mut from = 0;
        while self.waiting.len() - from >= window {
            self.one(from);
            from += window / 2;
        }
        self.waiting.drain(..from);
    }

    /// All spectra made.
    pub fn finish(self) -> Spectra {
        self.done
    }

    /// The spectrum of the window at `from` among the samples waiting.
    fn one(&mut self, from: usize) {
        let shape = self.done.shape;
        for ((x, s), w) in self
            .input
            .iter_mut()
            .zip(&self.waiting[from..])
            .zip(&self.taper)
        {
            *x = f64::from(*s) * w;
        }
        self.transform
            .process_with_scratch(&mut self.input, &mut self.output, &mut self.scratch)
            .expect("buffers made by the transform itself fit it");
        self.power.clear();
        self.power.extend(self.output.iter().map(Complex::norm_sqr));
        let noise = self.floor.of(&self.power);
        let kept = &self.power[shape.first..shape.first + shape.bins];
        let sparse = noise.iter().step_by(NOISE_STRIDE);
        self.done.noise.extend(sparse.map(|n| *n as f32));
        self.done
            .over_noise
            .extend(kept.iter().zip(noise).map(|(p, n)| (p / n) as f32));
    }
}

fn gaussian(window: usize) -> Vec<f64> {
    let (centre, sigma) = (0.5 * window as f64, window as f64 / 8.0);
    (0..window)
        .map(|i| (-0.5 * ((i as f64 - centre) / sigma).powi(2)).exp())
        .collect()
}

/// Mean noise power in every kept bin: sliding median over ln 2, the median of an exponential of mean
/// one. A coarse envelope is divided out first, since rumble falls too steeply for a median to follow.
/// Bins further than the median reaches from the kept ones are left alone: that is most of the work.
struct Floor {
    /// First kept bin and their number.
    first: usize,
    bins: usize,
    /// Bins the medians reach, from and to.
    near: std::ops::Range<usize>,
    /// Logarithm of each bin's number.
    ln_bin: Vec<f64>,
    /// Work space: the envelope and the power over it near the kept bins, medians, their window.
    envelope: Vec<f64>,
    flat: Vec<f32>,
    knots: Vec<f64>,
    part: Vec<u32>,
    band: Vec<f64>,
    noise: Vec<f64>,
}

impl Floor {
    fn new(shape: &Shape) -> Self {
        let all = shape.window / 2 + 1;
        let low = (shape.first / NOISE_STRIDE * NOISE_STRIDE).saturating_sub(NOISE_REACH);
        let high = (shape.first + shape.bins + NOISE_STRIDE + NOISE_REACH + 1).min(all);
        Self {
            first: shape.first,
            bins: shape.bins,
            near: low.max(FIRST_BAND)..high,
            ln_bin: (0..all).map(|i| (i.max(1) as f64).ln()).collect(),
            envelope: Vec::new(),
            flat: Vec::new(),
            knots: Vec::new(),
            part: Vec::with_capacity(2 * NOISE_REACH + 1),
            band: Vec::new(),
            noise: Vec::new(),
        }
    }

    fn of(&mut self, power: &[f64]) -> &[f64] {
        self.find_envelope(power);
        self.flat.clear();
        let over = power[self.near.clone()].iter().zip(&self.envelope);
        self.flat.extend(over.map(|(p, e)| (p / e) as f32));
        let first_knot = self.first / NOISE_STRIDE;
        let last_knot = (self.first + self.bins - 1) / NOISE_STRIDE + 1;
        self.knots.clear();
        for k in first_knot..=last_knot {
            let centre = (k * NOISE_STRIDE).min(power.len() - 1);
            let high = (centre + NOISE_REACH + 1).min(power.len()) - self.near.start;
            let low = centre.saturating_sub(NOISE_REACH).max(FIRST_BAND) - self.near.start;
            self.part.clear();
            // Bits of numbers not below zero are ordered as the numbers are, and compare faster.
            self.part
                .extend(self.flat[low..high].iter().map(|x| x.to_bits()));
            let i = self.part.len() / 2;
            let (_, m, _) = self.part.select_nth_unstable(i);
            let middle = f64::from(f32::from_bits(*m));
            self.knots.push(middle / std::f64::consts::LN_2);
        }
        self.noise.clear();
        for i in self.first..self.first + self.bins {
            let k = i / NOISE_STRIDE - first_knot;
            let part = (i % NOISE_STRIDE) as f64 / NOISE_STRIDE as f64;
            let level = self.knots[k] + part * (self.knots[k + 1] - self.knots[k]);
            self.noise
                .push(self.envelope[i - self.near.start] * level.max(1e-3));
        }
        &self.noise
    }

    /// Medians of bands that double in width, joined by straight lines in logarithms.
    fn find_envelope(&mut self, power: &[f64]) {
        let loudest = power.iter().copied().fold(0.0, f64::max);
        let least = (NOISE_FLOOR * loudest).max(f64::MIN_POSITIVE);
        let mut knots: Vec<(f64, f64)> = Vec::new();
        let (mut low, mut width) = (FIRST_BAND, 8);
        while low < power.len() {
            let mut high = low + width;
            if high + width > power.len() {
                high = power.len();
            }
            self.band.clear();
            self.band.extend_from_slice(&power[low..high]);
            let centre = ((low as f64) * (high as f64 - 1.0).max(1.0)).sqrt();
            knots.push((centre.ln(), middle(&mut self.band).max(least).ln()));
            (low, width) = (high, 2 * width);
        }
        let last = knots[knots.len() - 1].0;
        let mut k = 0;
        self.envelope.clear();
        for i in self.near.clone() {
            let x = self.ln_bin[i];
            while k + 2 < knots.len() && x > knots[k + 1].0 {
                k += 1;
            }
            let (a, b) = (knots[k], knots[(k + 1).min(knots.len() - 1)]);
            let slope = if b.0 > a.0 {
                (b.1 - a.1) / (b.0 - a.0)
            } else {
                0.0
            };
            // Held beyond the last band; followed below the first.
            self.envelope
                .push((a.1 + slope * (x.min(last) - a.0)).exp());
        }
    }
}

/// Median; reorders.
fn middle(part: &mut [f64]) -> f64 {
    let i = part.len() / 2;
    let (_, m, _) = part.select_nth_unstable_by(i, f64::total_cmp);
    *m
}

/// Offset of a peak from its middle bin, from the logarithms of three powers.
///
/// Quadratic interpolation of spectral peaks (J. O. Smith, Spectral Audio Signal Processing):
/// `p = (alpha - gamma) / (2 (alpha - 2 beta + gamma))`. Held to half a bin.
pub fn peak_offset(below: f64, middle: f64, above: f64) -> f64 {
    let [alpha, beta, gamma] = [below, middle, above].map(|p| p.max(1e-30).ln());
    let bend = alpha - 2.0 * beta + gamma;
    if bend >= 0.0 {
        return 0.0;
    }
    (0.5 * (alpha - gamma) / bend).clamp(-0.5, 0.5)
}

/// Standard error of a peak's frequency, in bins, for a power over noise `ratio`.
///
/// First-order perturbation of the peak of a Gaussian-windowed spectrum in white noise:
/// `1 / (4 pi s sqrt(ratio))` with `s` the window's standard deviation, an eighth of its length.
pub fn peak_error_bins(ratio: f64) -> f64 {
    2.0 / (std::f64::consts::PI * ratio.max(1e-9).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Noise, Table};

    #[test]
    fn peaks_are_placed_as_published() {
        let t = Table::read(include_str!("../../../../checks/peak_interpolation.csv"));
        for r in 0..t.len() {
            let power = |c| 10f64.powf(0.1 * t.number(r, c));
            let p = peak_offset(power("alpha_dB"), power("beta_dB"), power("gamma_dB"));
            assert!((p - t.number(r, "p_bins")).abs() < 2e-5);
        }
    }

    #[test]
    fn a_pure_tone_is_placed_to_a_few_ten_thousandths_of_a_bin() {
        let shape = Shape::new(8000.0, 0.128, 60.0, 3500.0);
        for part in [0.0, 0.1, 0.25, 0.4, 0.49] {
            let f = (200.0 + part) * shape.bin_hz();
            let mut s = Spectrograph::new(shape, 0.0);
            let tone = |i: usize| (std::f64::consts::TAU * f * i as f64 / 8000.0).sin() as f32;
            s.hear(&(0..1024).map(tone).collect::<Vec<_>>());
            let frame = s.finish().over_noise;
            let at = 200 - shape.first;
            let p = peak_offset(frame[at - 1].into(), frame[at].into(), frame[at + 1].into());
            assert!((p - part).abs() < 4e-4, "{part} {p}");
        }
    }

    #[test]
    fn powers_are_those_of_scipy() {
        let t = Table::read(include_str!("../../../../checks/evidence_spectra.csv"));
        let mut s = Spectrograph::new(Shape::new(8000.0, 0.128, 60.0, 3500.0), 0.0);
        let signal = |n: usize| (0.37 * n as f64).sin() + 0.5 * (1.1 * n as f64 + 1.0).cos();
        s.hear(&(0..1024).map(|n| signal(n) as f32).collect::<Vec<_>>());
        for r in (0..t.len()).filter(|r| t.text(*r, "what") == "window") {
            let (bin, power) = (t.number(r, "index") as usize, t.number(r, "value"));
            // Samples of single precision: 1e-7 of the largest amplitude, whose power is 24 339.
            let allowed = 1e-5 * power + 1e-7 * 24_339.0;
            assert!(
                (s.power[bin] - power).abs() < allowed,
                "{bin}: {}",
                s.power[bin]
            );
        }
    }

    #[test]
    fn noise_alone_is_exponential_whatever_its_colour_and_loudness() {
        let shape = Shape::new(16000.0, 0.128, 100.0, 5000.0);
        let mut noise = Noise::new(3);
        let mut s = Spectrograph::new(shape, 0.0);
        let mut slow = 0.0;
        for second in 0..20 {
            let gain = 1.0 + f64::from(second % 5) * 3.0;
            let samples = (0..16000).map(|_| {
                slow = 0.9 * slow + noise.normal();
                (1e-3 * gain * (slow + 0.2 * noise.normal())) as f32
            });
            s.hear(&samples.collect::<Vec<_>>());
        }
        let all = s.finish().over_noise;
        let n = all.len() as f64;
        let mean = all.iter().map(|p| f64::from(*p)).sum::<f64>() / n;
        let above = |x: f32| all.iter().filter(|p| **p > x).count() as f64 / n;
        assert!((mean - 1.0).abs() < 0.05, "{mean}");
        // exp(-x), raised by exp((0.104 x)^2 / 2) since the noise is known to 10 % only:
        // 0.0523 at 3 and 0.0030 at 6.
        assert!((above(3.0) - 0.0523).abs() < 0.006, "{}", above(3.0));
        assert!((above(6.0) - 0.0030).abs() < 0.0008, "{}", above(6.0));
    }

    #[test]
    fn a_short_or_silent_sound_gives_no_nonsense() {
        let shape = Shape::new(48000.0, 0.17, 60.0, 5000.0);
        let mut s = Spectrograph::new(shape, 0.0);
        s.hear(&[0.0; 100]);
        assert!(s.finish().is_empty());
        let mut s = Spectrograph::new(shape, 0.0);
        s.hear(&vec![0.0; 20000]);
        assert!(s.finish().over_noise.iter().all(|p| *p == 0.0));
        let tiny = Shape::new(8.0, 0.1, 60.0, 5000.0);
        assert!(tiny.first + tiny.bins < tiny.window / 2);
    }
}
