//! A sound as a picture for the eye: tones against time, wind and automatic gain taken out.
//!
//! Columns are stretches of time, rows are bands of frequency. A place holds the loudest spectrum of
//! its stretch and band, over the median of the bands around it in the same column: a held tone stands
//! out of wind and of a recorder that turns itself up and down. Memory does not grow with the length of
//! the recording: when there are twice as many columns as asked for, neighbours are joined.
//! For measuring, [`super::listen`] works on the spectra themselves.

use super::decode::{Sound, SoundError};
use fourier::{Complex, RealToComplex};
use std::sync::Arc;

/// Decibels over the bands around that are drawn full.
pub const FULL_DB: f32 = 36.0;
/// Bands on each side that a band is held against.
const AROUND: usize = 12;
/// Longest window, samples.
const LONGEST_WINDOW: usize = 1 << 14;
/// A recording that breaks off after this much is worth what it holds, s.
const LEAST_S: f64 = 0.5;

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// First moment, s on the recording's clock.
    pub from_s: f64,
    /// Last moment, s.
    pub to_s: f64,
    /// Bottom, Hz.
    pub low_hz: f64,
    /// Top, Hz.
    pub high_hz: f64,
    /// Stretches of time wanted; up to twice as many come.
    pub columns: usize,
    /// Bands of frequency.
    pub rows: usize,
}

/// The picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Beginning of the first column, s.
    pub from_s: f64,
    /// Width of a column, s.
    pub column_s: f64,
    /// Bottom of the lowest row, Hz.
    pub low_hz: f64,
    /// Height of a row, Hz.
    pub row_hz: f64,
    /// How many rows.
    pub rows: usize,
    /// 0 to 255 for 0 to [`FULL_DB`]; column after column, the lowest row first.
    pub levels: Vec<u8>,
}

/// Hears a recording for its picture. One that breaks off is drawn as far as it goes.
///
/// # Errors
/// [`SoundError`] when nothing of it can be heard.
pub fn picture(sound: &mut Sound, frame: &Frame) -> Result<Picture, SoundError> {
    let rate = f64::from(sound.info().rate_hz);
    let mut brush = Brush::new(rate, frame, frame.from_s.max(sound.position_s()));
    loop {
        let at = sound.position_s();
        if at >= frame.to_s {
            break;
        }
        match sound.next_block() {
            Ok([]) => break,
            Ok(samples) => brush.hear(at, samples),
            Err(_) if at - brush.from_s > LEAST_S => break,
            Err(e) => return Err(e),
        }
    }
    Ok(brush.done())
}

struct Brush {
    rate: f64,
    from_s: f64,
    low_hz: f64,
    row_hz: f64,
    rows: usize,
    most_columns: usize,
    /// Steps of the window in a column.
    joined: usize,
    /// Steps in the last column.
    filled: usize,
    hop: usize,
    waiting: Vec<f32>,
    /// Loudest power of each column and row.
    power: Vec<f32>,
    transform: Arc<dyn RealToComplex<f64>>,
    taper: Vec<f64>,
    input: Vec<f64>,
    output: Vec<Complex<f64>>,
}

impl Brush {
    fn new(rate: f64, frame: &Frame, from_s: f64) -> Self {
        let high_hz = frame.high_hz.min(0.5 * rate);
        let low_hz = frame.low_hz.clamp(0.0, high_hz);
        let rows = frame.rows.max(1);
        let row_hz = ((high_hz - low_hz) / rows as f64).max(1e-3);
        // Fine enough that a row has about one bin, short enough to follow a pass.
        let fine = (rate / row_hz).min(0.1 * rate);
        let window = (fine as usize)
            .next_power_of_two()
            .clamp(64, LONGEST_WINDOW);
        let transform = fourier::forward(window);
        let turn = std::f64::consts::TAU / window as f64;
        Self {
            rate,
            from_s,
            low_hz,
            row_hz,
            rows,
            most_columns: 2 * frame.columns.max(1),
            joined: 1,
            filled: 0,
            hop: window / 4,
            waiting: Vec::new(),
            power: Vec::new(),
            taper: (0..window)
                .map(|i| 0.5 - 0.5 * (turn * i as f64).cos())
                .collect(),
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            transform,
        }
    }

    fn hear(&mut self, at_s: f64, samples: &[f32]) {
        // A window of silence in front, so that the first column is about its own time.
        if self.waiting.is_empty() && self.power.is_empty() {
            self.waiting.resize(self.input.len() / 2, 0.0);
        }
        let early = ((self.from_s - at_s) * self.rate).ceil().max(0.0) as usize;
        self.waiting.extend(samples.iter().skip(early));
        let mut start = 0;
        while start + self.input.len() <= self.waiting.len() {
            self.step(start);
            start += self.hop;
        }
        self.waiting.drain(..start);
    }

    fn step(&mut self, start: usize) {
        let part = &self.waiting[start..start + self.taper.len()];
        for ((into, sample), taper) in self.input.iter_mut().zip(part).zip(&self.taper) {
            *into = f64::from(*sample) * taper;
        }
        // Lengths are those of the plan, so it cannot fail.
        let _ = self.transform.process(&mut self.input, &mut self.output);
        self.room();
        let bin_hz = self.rate / self.taper.len() as f64;
        let last = self.output.len() - 1;
        let column = self.power.len() - self.rows;
        for row in 0..self.rows {
            let bottom = self.low_hz + row as f64 * self.row_hz;
            let first = ((bottom / bin_hz).round() as usize).min(last);
            let end =
                (((bottom + self.row_hz) / bin_hz).round() as usize).clamp(first + 1, last + 1);
            let loudest = self.output[first..end]
                .iter()
                .map(Complex::norm_sqr)
                .fold(0.0, f64::max) as f32;
            let place = &mut self.power[column + row];
            *place = place.max(loudest);
        }
    }

    /// Opens a column when the last is full, and joins neighbours when there are too many.
    fn room(&mut self) {
        if self.filled < self.joined && !self.power.is_empty() {
            self.filled += 1;
            return;
        }
        if self.power.len() == self.rows * self.most_columns {
            let joined = self.power.chunks(2 * self.rows).flat_map(|pair| {
                let (a, b) = pair.split_at(self.rows);
                a.iter().zip(b).map(|(x, y)| x.max(*y))
            });
            self.power = joined.collect();
            self.joined *= 2;
        }
        self.power.resize(self.power.len() + self.rows, 0.0);
        self.filled = 1;
    }

    fn done(self) -> Picture {
        let columns = self.power.chunks(self.rows);
        Picture {
            from_s: self.from_s,
            column_s: (self.hop * self.joined) as f64 / self.rate,
            low_hz: self.low_hz,
            row_hz: self.row_hz,
            rows: self.rows,
            levels: columns.flat_map(over_around).collect(),
        }
    }
}

/// Each band over the median of those around it.
fn over_around(column: &[f32]) -> Vec<u8> {
    let mut around = Vec::with_capacity(2 * AROUND + 1);
    let each = column.iter().enumerate().map(|(row, power)| {
        around.clear();
        let end = (row + AROUND + 1).min(column.len());
        around.extend_from_slice(&column[row.saturating_sub(AROUND)..end]);
        let middle = around.len() / 2;
        let (_, median, _) = around.select_nth_unstable_by(middle, f32::total_cmp);
        if *power <= 0.0 {
            return 0;
        }
        let db = 10.0 * (power / median.max(1e-20)).log10();
        (255.0 * (db / FULL_DB).clamp(0.0, 1.0)) as u8
    });
    each.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sound::decode::Channel;
    use crate::testing::Noise;

    /// A WAV of 16 bit samples: RIFF, WAVE, fmt (PCM, one channel), data.
    fn wav(rate: u32, samples: &[f32]) -> Vec<u8> {
        let data: Vec<u8> = samples
            .iter()
            .flat_map(|s| ((s.clamp(-1.0, 1.0) * 32767.0) as i16).to_le_bytes())
            .collect();
        let mut out = b"RIFF".to_vec();
        out.extend((36 + data.len() as u32).to_le_bytes());
        out.extend(b"WAVEfmt ");
        out.extend(16u32.to_le_bytes());
        out.extend([1, 0, 1, 0]);
        out.extend(rate.to_le_bytes());
        out.extend((2 * rate).to_le_bytes());
        out.extend([2, 0, 16, 0]);
        out.extend(b"data");
        out.extend((data.len() as u32).to_le_bytes());
        out.extend(data);
        out
    }

    fn drawn(rate: u32, samples: &[f32], columns: usize) -> Picture {
        let file = std::io::Cursor::new(wav(rate, samples));
        let mut sound = Sound::open(file, Some("wav"), Channel::Mean).unwrap();
        let frame = Frame {
            from_s: f64::NEG_INFINITY,
            to_s: f64::INFINITY,
            low_hz: 0.0,
            high_hz: 4000.0,
            columns,
            rows: 160,
        };
        picture(&mut sound, &frame).unwrap()
    }

    #[test]
    fn a_tone_in_noise_is_the_brightest_row_whatever_the_gain() {
        let mut noise = Noise::new(5);
        let tone: Vec<f32> = (0..16000 * 8)
            .map(|i| {
                let t = f64::from(i) / 16000.0;
                let gain = if (t as u32).is_multiple_of(2) {
                    1.0
                } else {
                    0.1
                };
                let wave = 0.1 * (std::f64::consts::TAU * 1012.0 * t).sin();
                (gain * (wave + 0.03 * noise.normal())) as f32
            })
            .collect();
        let p = drawn(16000, &tone, 100);
        let columns = p.levels.len() / p.rows;
        assert!((100..=200).contains(&columns), "{columns}");
        assert!((p.column_s * columns as f64 - 8.0).abs() < 0.3);
        // 1012 Hz lies in the row from 1000 to 1025 Hz; edges of gain and of the file apart.
        let bright = p.levels.chunks(p.rows).filter(|c| {
            let most = c.iter().max().unwrap();
            c[40] == *most && *most > 100
        });
        assert!(bright.count() > columns * 9 / 10);
    }

    #[test]
    fn time_runs_true_when_columns_are_joined() {
        let rate = 8000;
        let click: Vec<f32> = (0..rate * 60)
            .map(|i| {
                let t = f64::from(i) / f64::from(rate);
                let on = (30.0..31.0).contains(&t);
                let wave = 0.3 * (std::f64::consts::TAU * 700.0 * t).sin();
                if on { wave as f32 } else { 0.0 }
            })
            .collect();
        let p = drawn(rate as u32, &click, 40);
        let row = (700.0 / p.row_hz) as usize;
        let lit: Vec<f64> = p
            .levels
            .chunks(p.rows)
            .enumerate()
            .filter(|(_, c)| c[row] > 200)
            .map(|(i, _)| p.from_s + (i as f64 + 0.5) * p.column_s)
            .collect();
        assert!(!lit.is_empty());
        for t in lit {
            assert!((t - 30.5).abs() < 0.5 + p.column_s + 0.1, "{t}");
        }
    }

    #[test]
    fn silence_and_a_few_samples_are_dark() {
        assert!(drawn(8000, &[0.0; 8000], 10).levels.iter().all(|l| *l == 0));
        let few = drawn(8000, &[0.1; 3], 10);
        assert!(few.levels.len() <= few.rows);
    }
}
