//! Synthetic recordings with a known truth, and the smallest of WAV writers.

#![allow(dead_code)]

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::f64::consts::TAU;
use std::io::Cursor;

/// Seeded normal noise.
pub struct Noise(ChaCha8Rng);

impl Noise {
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    pub fn uniform(&mut self) -> f64 {
        self.0.random::<f64>()
    }

    pub fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.uniform(), self.uniform());
        (-2.0 * a.ln()).sqrt() * (TAU * b).cos()
    }
}

/// A boat passing a microphone, as truth.
#[derive(Clone, Copy)]
pub struct Boat {
    pub speed_m_s: f64,
    pub closest_m: f64,
    pub shaft_hz: f64,
    pub pass_s: f64,
}

pub const SOUND_SPEED: f64 = 343.0;

impl Boat {
    /// Distance from the microphone at a time, m.
    fn distance_m(&self, t: f64) -> f64 {
        (self.speed_m_s * (t - self.pass_s)).hypot(self.closest_m)
    }

    /// When what is heard at `t` left the boat: `te + r(te) / c = t`, solved by Newton's method.
    fn left_s(&self, t: f64) -> f64 {
        let mut te = t - self.closest_m / SOUND_SPEED;
        for _ in 0..8 {
            let r = self.distance_m(te);
            let closing = self.speed_m_s.powi(2) * (te - self.pass_s) / r;
            te -= (te + r / SOUND_SPEED - t) / (1.0 + closing / SOUND_SPEED);
        }
        te
    }

    /// Sound pressure at the microphone at `t`: shaft orders 1 to 6, blade rate (two blades) loudest,
    /// falling off with distance.
    pub fn heard(&self, t: f64) -> f64 {
        self.heard_drifting(t, 0.0)
    }

    /// The same while the turns drift by this part a second, right at the pass.
    pub fn heard_drifting(&self, t: f64, drift_per_s: f64) -> f64 {
        let left = self.left_s(t);
        let since = left - self.pass_s;
        let turn = self.shaft_hz * (since + 0.5 * drift_per_s * since * since);
        let orders = [(1.0, 0.25), (2.0, 1.0), (3.0, 0.15), (4.0, 0.5), (6.0, 0.3)];
        let wave: f64 = orders
            .iter()
            .map(|(k, a)| a * (TAU * (k * turn + 0.1 * k * k)).sin())
            .sum();
        wave * self.closest_m / self.distance_m(left).max(0.3)
    }
}

/// Adds noise of which the sound is `snr_db` above, in power over the whole recording and band.
pub fn in_noise(clean: &[f64], snr_db: f64, noise: &mut Noise) -> Vec<f64> {
    let power = clean.iter().map(|x| x * x).sum::<f64>() / clean.len() as f64;
    let sigma = (power / 10f64.powf(0.1 * snr_db)).sqrt();
    clean.iter().map(|x| x + sigma * noise.normal()).collect()
}

/// A recorder's automatic gain: follows the level with a quarter second's memory.
pub fn automatic_gain(sound: &[f64], rate: f64) -> Vec<f64> {
    let part = 1.0 / (0.25 * rate);
    let mut level = sound.iter().map(|x| x * x).sum::<f64>() / sound.len() as f64;
    sound
        .iter()
        .map(|x| {
            level += part * (x * x - level);
            0.15 * x / level.sqrt().max(1e-9)
        })
        .collect()
}

/// The same sound on both channels.
pub fn stereo_wav(sound: &[f64], rate: u32) -> Cursor<Vec<u8>> {
    let both: Vec<f64> = sound.iter().flat_map(|x| [*x, *x]).collect();
    let mut b = wav(&both, rate).into_inner();
    b[22] = 2;
    b[28..32].copy_from_slice(&(4 * rate).to_le_bytes());
    b[32] = 4;
    Cursor::new(b)
}

/// A mono WAV file of 16 bits.
pub fn wav(sound: &[f64], rate: u32) -> Cursor<Vec<u8>> {
    let data = 2 * sound.len() as u32;
    let mut b = b"RIFF".to_vec();
    b.extend((36 + data).to_le_bytes());
    b.extend(b"WAVEfmt ");
    b.extend(16u32.to_le_bytes());
    b.extend([1, 0, 1, 0]);
    b.extend(rate.to_le_bytes());
    b.extend((2 * rate).to_le_bytes());
    b.extend([2, 0, 16, 0]);
    b.extend(b"data");
    b.extend(data.to_le_bytes());
    for x in sound {
        b.extend(((x * 32767.0).clamp(-32767.0, 32767.0) as i16).to_le_bytes());
    }
    Cursor::new(b)
}
