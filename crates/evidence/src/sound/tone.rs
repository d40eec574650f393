//! Tones in a sound: where one is, its frequency and error, and whether there is one at all.
//!
//! The most likely course of a tone through the spectra is found by dynamic programming (Viterbi):
//! power over noise along the course, less the cost of its jumps. Whether it is a tone or only the
//! best course through noise is decided by a bound, not by taste. In noise alone, powers along one
//! fixed course of K frames sum to a gamma variable, `P(sum > S) = Q(K, S)`. Giving each course the
//! share of its jump probabilities, and each start, length and frequency an equal share, the chance
//! that *any* course does so well is below `Q(K, S) * frames^2 * bins / share`; a factor is
//! added for the noise being known to a tenth only. A tone is reported when that is below [`Search::false_alarm`]. The bound assumes noise that is random in every bin
//! and fresh in every frame; hums, birds and other boats are tones, and are reported as such.

use super::spectrum::{NOISE_ERROR, Spectra, peak_error_bins, peak_offset};
use crate::measured::Measured;

/// Furthest jump from one frame to the next, bins.
const REACH: usize = 8;
/// A power counts for at most this, so that one loud frame does not make a tone.
const CAP: f32 = 40.0;
/// Frames whose scores are made again at once.
const BLOCK: usize = 64;
/// What noise gains a frame on the best course, and a tone must beat.
const NOISE_GAIN: f32 = 4.0;
/// Fewest frames of a tone.
const FEWEST: usize = 4;
/// A frame with less power over noise than this is skipped within a tone.
const LEAST_RATIO: f32 = 4.0;
/// Tones whose ratio's logarithm is below this may be exchanged with each other.
const NEAR_RATIO: f64 = 0.12;
/// Error that remains however strong the tone, bins: window, leakage and changes within a window.
const ERROR_FLOOR_BINS: f64 = 0.02;

/// What to look for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    /// Lowest frequency, Hz.
    pub low_hz: f64,
    /// Highest frequency, Hz.
    pub high_hz: f64,
    /// Most tones to report.
    pub most: usize,
    /// Accepted chance that a reported tone is noise.
    pub false_alarm: f64,
}

impl Default for Search {
    fn default() -> Self {
        Self {
            low_hz: 60.0,
            high_hz: 6000.0,
            most: 12,
            false_alarm: 1e-6,
        }
    }
}

/// A tone at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TonePoint {
    /// Frame of the spectra.
    pub frame: usize,
    /// Time, s on the recording's clock.
    pub time_s: f64,
    /// Frequency at the microphone, Hz.
    pub frequency_hz: Measured,
    /// Power over the noise in its bin.
    pub over_noise: f64,
    /// Power, in the square of the samples' unit: to compare tones of one recording.
    pub power: f64,
}

/// One tone while it lasts.
#[derive(Debug, Clone, PartialEq)]
pub struct Tone {
    /// Its points in time.
    pub points: Vec<TonePoint>,
    /// Natural logarithm of the chance that noise does as well (an upper bound).
    pub ln_chance: f64,
}

impl Tone {
    /// Usual power: how loud it is.
    pub fn loudness(&self) -> f64 {
        let all: Vec<f64> = self.points.iter().map(|p| p.power).collect();
        crate::measured::median(&all).unwrap_or(0.0)
    }

    /// First and last time, s.
    pub fn span_s(&self) -> (f64, f64) {
        let at = |p: Option<&TonePoint>| p.map_or(0.0, |p| p.time_s);
        (at(self.points.first()), at(self.points.last()))
    }

    /// The point at a frame.
    pub fn at_frame(&self, frame: usize) -> Option<&TonePoint> {
        let i = self.points.binary_search_by_key(&frame, |p| p.frame).ok()?;
        self.points.get(i)
    }
}

/// All tones, most certain first as they were found.
pub fn tones(mut spectra: Spectra, search: &Search) -> Vec<Tone> {
    let mut found = Vec::new();
    while found.len() < search.most {
        let course = best_course(&spectra);
        let held = held_parts(&spectra, &course, search.false_alarm);
        if held.is_empty() {
            break;
        }
        for (first, last, ln_chance) in held {
            let points = refine(&spectra, &course, first, last);
            for (frame, at) in course.iter().enumerate().take(last + 1).skip(first) {
                blank(&mut spectra, frame, *at);
            }
            if points.len() >= FEWEST {
                found.push(Tone { points, ln_chance });
            }
        }
    }
    found.truncate(search.most);
    uncross(&mut found);
    found.sort_by(|a, b| a.ln_chance.total_cmp(&b.ln_chance));
    found
}

/// Swaps back the ends of tones that were exchanged. Where a boat with two motors goes by, both tones fall
/// quickly at once, and a course changes from one to the other. But both fall by the same factor, so their ratio
/// stays what it is: two tones near each other whose ratio turns within a few frames into its inverse have been
/// exchanged there.
fn uncross(tones: &mut [Tone]) {
    for i in 0..tones.len() {
        for j in i + 1..tones.len() {
            if let Some(frame) = exchanged_at(&tones[i], &tones[j]) {
                let (a, b) = tones.split_at_mut(j);
                exchange_after(&mut a[i], &mut b[0], frame);
            }
        }
    }
}

/// The frame after which two tones were exchanged, if they were.
fn exchanged_at(a: &Tone, b: &Tone) -> Option<usize> {
    let shared: Vec<(usize, f64)> = a
        .points
        .iter()
        .filter_map(|p| {
            let other = b.at_frame(p.frame)?;
            let ratio = p.frequency_hz.value / other.frequency_hz.value;
            Some((p.frame, ratio.ln()))
        })
        .collect();
    let usual = |part: &[(usize, f64)]| {
        let logs: Vec<f64> = part.iter().map(|x| x.1).collect();
        crate::measured::median(&logs).filter(|_| logs.len() >= FEWEST)
    };
    let turns = |at: &usize| shared[*at - 1].1 * shared[*at].1 < 0.0;
    (1..shared.len()).filter(turns).find_map(|at| {
        let (before, after) = (usual(&shared[..at])?, usual(&shared[at..])?);
        let mirrored = (before + after).abs() < 0.2 * before.abs() && before.abs() < NEAR_RATIO;
        // As far apart within some frames of the turn as they usually are: not two motors that drift past
        // each other.
        let far = |x: &(usize, f64)| x.1.abs() > 0.6 * before.abs();
        let near = &shared[at.saturating_sub(3)..(at + 3).min(shared.len())];
        let quick = near[..3.min(at)].iter().any(far) && near[3.min(at)..].iter().any(far);
        (mirrored && quick).then_some(shared[at].0)
    })
}

fn exchange_after(a: &mut Tone, b: &mut Tone, frame: usize) {
    let tail = |t: &mut Tone| {
        let at = t.points.partition_point(|p| p.frame < frame);
        t.points.split_off(at)
    };
    let (of_a, of_b) = (tail(a), tail(b));
    a.points.extend(of_b);
    b.points.extend(of_a);
}

/// Log probability of a jump of so many bins: two-sided geometric, half as likely each bin further.
fn jump(bins: usize) -> f32 {
    // 1 + 2 (1/2 + 1/4 + ...) = 3, a little less for the cut at the reach.
    -(3f32.ln()) - bins as f32 * std::f32::consts::LN_2
}

/// The course with the greatest sum of (capped) powers and log jump probabilities. Scores are kept at the
/// beginning of each block of frames only, and made again block by block on the way back: memory then grows with
/// the spectra alone.
fn best_course(spectra: &Spectra) -> Vec<usize> {
    let (frames, bins) = (spectra.len(), spectra.shape.bins);
    if frames == 0 {
        return Vec::new();
    }
    let mut step = Step::new(spectra);
    let mut begins: Vec<f32> = Vec::with_capacity(frames.div_ceil(BLOCK) * bins);
    let mut score = vec![0.0; bins];
    for t in 0..frames {
        step.to(t, &mut score);
        if t % BLOCK == 0 {
            begins.extend_from_slice(&score);
        }
    }
    let mut at = (0..bins)
        .max_by(|a, b| score[*a].total_cmp(&score[*b]))
        .unwrap_or(0);
    let mut course = vec![at; frames];
    let mut rows = vec![0.0; BLOCK * bins];
    for (block, begin) in begins.chunks(bins).enumerate().rev() {
        let from = block * BLOCK;
        let to = (from + BLOCK).min(frames - 1);
        rows[..bins].copy_from_slice(begin);
        for t in from + 1..to {
            let (before, row) =
                rows[(t - from - 1) * bins..(t - from + 1) * bins].split_at_mut(bins);
            row.copy_from_slice(before);
            step.to(t, row);
        }
        for t in (from..to).rev() {
            at = came_from(
                &rows[(t - from) * bins..(t - from + 1) * bins],
                &step.jumps,
                at,
            );
            course[t] = at;
        }
    }
    course
}

/// Goes from the scores of one frame to those of the next.
struct Step<'a> {
    spectra: &'a Spectra,
    jumps: [f32; REACH + 1],
    /// Work space: the row before with room at both ends, and the best way to each bin.
    before: Vec<f32>,
    best: Vec<f32>,
}

impl<'a> Step<'a> {
    fn new(spectra: &'a Spectra) -> Self {
        let bins = spectra.shape.bins;
        Self {
            spectra,
            jumps: std::array::from_fn(jump),
            before: padded(bins),
            best: vec![0.0; bins],
        }
    }

    /// `score` holds the row before frame `t`, and then that of `t`.
    fn to(&mut self, t: usize, score: &mut [f32]) {
        let bins = score.len();
        if t > 0 {
            self.before[REACH..REACH + bins].copy_from_slice(score);
            best_before(&mut self.best, &self.before, &self.jumps);
        }
        let frame = self.spectra.frame(t).iter().zip(&self.best);
        for (s, (power, best)) in score.iter_mut().zip(frame) {
            *s = power.min(CAP) + best;
        }
        // Kept near zero so that single precision suffices for hours.
        let top = score.iter().copied().fold(f32::MIN, f32::max);
        score.iter_mut().for_each(|s| *s -= top);
    }
}

/// A row of scores with room for jumps beyond both ends, from where none comes.
fn padded(bins: usize) -> Vec<f32> {
    vec![f32::MIN / 2.0; bins + 2 * REACH]
}

/// Sets `best` to the best score each bin can be reached with. Whole rows without branches, so that
/// several bins are done at once; where the best came from is looked up on the way back.
fn best_before(best: &mut [f32], before: &[f32], jumps: &[f32; REACH + 1]) {
    let greater = |a: f32, b: f32| if a > b { a } else { b };
    let stay = best.iter_mut().zip(&before[REACH..]);
    stay.for_each(|(b, s)| *b = s + jumps[0]);
    for (d, cost) in jumps.iter().enumerate().skip(1) {
        let sides = before[REACH - d..].iter().zip(&before[REACH + d..]);
        for (b, (x, y)) in best.iter_mut().zip(sides) {
            *b = greater(greater(*x, *y) + cost, *b);
        }
    }
}

/// The bin of the row before from which a bin is best reached.
fn came_from(score: &[f32], jumps: &[f32; REACH + 1], b: usize) -> usize {
    let low = b.saturating_sub(REACH);
    let high = (b + REACH).min(score.len() - 1);
    let mut best = (b, score[b] + jumps[0]);
    for from in low..=high {
        let s = score[from] + jumps[from.abs_diff(b)];
        if s > best.1 {
            best = (from, s);
        }
    }
    best.0
}

/// Parts of a course that noise cannot explain: first and last frame, log chance.
fn held_parts(spectra: &Spectra, course: &[usize], false_alarm: f64) -> Vec<(usize, usize, f64)> {
    let gain: Vec<f32> = (0..course.len())
        .map(|t| spectra.frame(t)[course[t]].min(CAP) + jump_at(course, t) - NOISE_GAIN)
        .collect();
    let mut found = Vec::new();
    let mut open = vec![(0, course.len())];
    while let Some((from, to)) = open.pop() {
        let Some((first, last)) = greatest_run(&gain[from..to]).map(|(a, b)| (a + from, b + from))
        else {
            continue;
        };
        let ln_chance = ln_chance(spectra, course, first, last);
        if last + 1 - first >= FEWEST && ln_chance < false_alarm.ln() {
            found.push((first, last, ln_chance));
            open.extend([(from, first), (last + 1, to)]);
        }
    }
    found
}

fn jump_at(course: &[usize], t: usize) -> f32 {
    t.checked_sub(1)
        .map_or(0.0, |before| jump(course[t].abs_diff(course[before])))
}

/// First and last index of the run with the greatest positive sum.
fn greatest_run(gain: &[f32]) -> Option<(usize, usize)> {
    let (mut sum, mut start, mut best) = (0.0, 0, None);
    let mut top = 0.0;
    for (i, g) in gain.iter().enumerate() {
        if sum <= 0.0 {
            (sum, start) = (0.0, i);
        }
        sum += g;
        if sum > top {
            (top, best) = (sum, Some((start, i)));
        }
    }
    best
}

/// Log of the bound on the chance that noise holds any course as well as this part.
fn ln_chance(spectra: &Spectra, course: &[usize], first: usize, last: usize) -> f64 {
    let sum: f64 = (first..=last)
        .map(|t| f64::from(spectra.frame(t)[course[t]].min(CAP)))
        .sum();
    let share: f64 = (first + 1..=last)
        .map(|t| f64::from(jump_at(course, t)))
        .sum();
    let ways = 2.0 * (spectra.len() as f64).ln() + (spectra.shape.bins as f64).ln();
    let frames = (last + 1 - first) as f64;
    let noise_known = 0.5 * frames * (NOISE_ERROR * sum / frames).powi(2);
    ln_gamma_tail(last + 1 - first, sum) + ways - share + noise_known
}

/// `ln Q(k, s)` for whole k: `exp(-s) * sum of s^i / i!` for i below k.
fn ln_gamma_tail(k: usize, s: f64) -> f64 {
    if s <= 0.0 {
        return 0.0;
    }
    let (mut term, mut total) = (0.0, 0.0f64);
    let mut scale = 0.0;
    for i in 1..k {
        // Terms are kept as logarithms; the running total is relative to the largest so far.
        term += s.ln() - (i as f64).ln();
        if term > scale {
            total = total * (scale - term).exp() + 1.0;
            if i == 1 {
                total += (-term).exp();
            }
            scale = term;
        } else {
            if i == 1 {
                total = 1.0;
            }
            total += (term - scale).exp();
        }
    }
    if k <= 1 {
        total = 1.0;
    }
    (scale + total.ln() - s).min(0.0)
}

/// Points of a part of a course, placed between bins.
fn refine(spectra: &Spectra, course: &[usize], first: usize, last: usize) -> Vec<TonePoint> {
    let places: Vec<Option<(f64, f64)>> = (first..=last)
        .map(|t| place(spectra.frame(t), course[t]))
        .collect();
    let shape = &spectra.shape;
    let kept = places
        .iter()
        .enumerate()
        .filter_map(|(i, p)| p.map(|p| (i, p)));
    kept.map(|(i, (at, ratio))| {
        let bins = (peak_error_bins(ratio - 1.0) * widening(&places, i)).hypot(ERROR_FLOOR_BINS);
        TonePoint {
            frame: first + i,
            time_s: spectra.time_s(first + i),
            frequency_hz: Measured::new(shape.frequency_hz(at), bins * shape.bin_hz()),
            over_noise: ratio,
            power: ratio * spectra.noise_near(first + i, at as usize),
        }
    })
    .collect()
}

/// How much a sweep within the window widens the peak, and so its error: `1 + (2 pi m s^2)^2` for a
/// sweep of m and a window of standard deviation s.
fn widening(places: &[Option<(f64, f64)>], i: usize) -> f64 {
    let (a, b) = (i.saturating_sub(1), (i + 1).min(places.len() - 1));
    let (Some((before, _)), Some((after, _))) = (places[a], places[b]) else {
        return 1.0;
    };
    // Bins a frame into cycles a window squared: a hop is half a window, s an eighth.
    let sweep = 2.0 * (after - before) / (b - a).max(1) as f64;
    1.0 + (2.0 * std::f64::consts::PI * sweep / 64.0).powi(2)
}

/// Place of the local peak at a bin, and its power; `None` when too weak here.
fn place(frame: &[f32], at: usize) -> Option<(f64, f64)> {
    let mut b = at;
    while b + 1 < frame.len() && frame[b + 1] > frame[b] && b - at < 2 {
        b += 1;
    }
    while b > 0 && frame[b - 1] > frame[b] && at.saturating_sub(b) < 2 {
        b -= 1;
    }
    let power = |i: usize| f64::from(frame[i]);
    if frame[b] < LEAST_RATIO || b == 0 || b + 1 == frame.len() {
        return None;
    }
    let offset = peak_offset(power(b - 1), power(b), power(b + 1));
    Some((b as f64 + offset, power(b)))
}

/// Removes a peak and its skirts from a frame.
fn blank(spectra: &mut Spectra, frame: usize, at: usize) {
    let bins = spectra.shape.bins;
    let f = &mut spectra.over_noise[frame * bins..(frame + 1) * bins];
    let mut high = at;
    while high + 1 < bins && (high - at < 5 || (high - at < 40 && f[high + 1] < f[high])) {
        high += 1;
    }
    let mut low = at;
    while low > 0 && (at - low < 5 || (at - low < 40 && f[low - 1] < f[low])) {
        low -= 1;
    }
    f[low..=high].fill(0.0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sound::spectrum::{Shape, Spectrograph};
    use crate::testing::Noise;
    use std::f64::consts::TAU;

    fn spectra(rate: f64, sound: impl Iterator<Item = f64>) -> Spectra {
        let mut s = Spectrograph::new(Shape::new(rate, 0.128, 60.0, 3500.0), 0.0);
        s.hear(&sound.map(|x| x as f32).collect::<Vec<_>>());
        s.finish()
    }

    #[test]
    fn the_gamma_tail_is_that_of_the_book() {
        // Q(1, s) = exp(-s); Q(2, s) = (1 + s) exp(-s); Q(3, 2) = 5 exp(-2).
        assert!((ln_gamma_tail(1, 3.0) + 3.0).abs() < 1e-12);
        assert!((ln_gamma_tail(2, 3.0) - (4.0f64.ln() - 3.0)).abs() < 1e-12);
        assert!((ln_gamma_tail(2, 0.5) - (1.5f64.ln() - 0.5)).abs() < 1e-12);
        assert!((ln_gamma_tail(3, 2.0) - (5.0f64.ln() - 2.0)).abs() < 1e-12);
        // Far out it does not overflow: -s + (k-1) ln s - ln (k-1)! to leading order.
        assert!(ln_gamma_tail(100, 1e4) < -9000.0);
    }

    #[test]
    fn noise_alone_has_no_tone() {
        let mut alarms = 0;
        for seed in 0..60 {
            let mut noise = Noise::new(seed);
            let mut slow = 0.0;
            let sound = (0..64_000).map(|_| {
                slow = 0.95 * slow + noise.normal();
                slow + 0.3 * noise.normal()
            });
            alarms += tones(spectra(8000.0, sound.take(64_000)), &Search::default()).len();
        }
        assert_eq!(alarms, 0);
    }

    #[test]
    fn a_wandering_tone_is_followed_and_its_error_is_honest() {
        let (mut off, mut count) = (Vec::new(), 0);
        for seed in 0..12 {
            let mut noise = Noise::new(seed);
            let f = |t: f64| 700.0 + 60.0 * (0.9 * t).sin();
            let mut turn = 0.0;
            let sound = (0..48_000).map(|i| {
                turn += f(f64::from(i) / 8000.0) / 8000.0;
                // Sine of power 1/2 in noise of power 8: 12 dB below it.
                (TAU * turn).sin() + 8f64.sqrt() * noise.normal()
            });
            let found = tones(spectra(8000.0, sound), &Search::default());
            assert_eq!(found.len(), 1, "seed {seed}");
            count += found[0].points.len();
            off.extend(
                found[0]
                    .points
                    .iter()
                    .map(|p| (p.frequency_hz.value - f(p.time_s)) / p.frequency_hz.sigma),
            );
        }
        let within = |k: f64| off.iter().filter(|x| x.abs() < k).count() as f64 / count as f64;
        // 68 % and 95 % of a normal error; 1100 points give 1.4 % and 0.7 % of counting error.
        assert!((0.62..0.80).contains(&within(1.0)), "{}", within(1.0));
        assert!(within(2.0) > 0.92, "{}", within(2.0));
        let mean = off.iter().sum::<f64>() / count as f64;
        assert!(mean.abs() < 0.12, "{mean}");
    }

    #[test]
    fn exchanged_ends_are_put_back_and_tones_that_drift_past_each_other_are_left() {
        let tone = |f: &dyn Fn(usize) -> f64| Tone {
            points: (0..30)
                .map(|frame| TonePoint {
                    frame,
                    time_s: frame as f64 * 0.1,
                    frequency_hz: Measured::new(f(frame), 0.1),
                    over_noise: 20.0,
                    power: 1.0,
                })
                .collect(),
            ln_chance: -100.0,
        };
        let (low, high) = (|_: usize| 700.0, |_: usize| 726.0);
        let mut crossed = [
            tone(&|i| if i < 14 { low(i) } else { high(i) * 0.9 }),
            tone(&|i| if i < 14 { high(i) } else { low(i) * 0.9 }),
        ];
        uncross(&mut crossed);
        let of = |t: &Tone, i: usize| t.points[i].frequency_hz.value;
        assert_eq!((of(&crossed[0], 0), of(&crossed[0], 29)), (700.0, 630.0));
        assert_eq!((of(&crossed[1], 0), of(&crossed[1], 29)), (726.0, 653.4));
        let mut passing = [tone(&|i| 700.0 + 2.0 * i as f64), tone(&|_| 729.0)];
        let before = passing.clone();
        uncross(&mut passing);
        assert_eq!(passing.as_slice(), before.as_slice());
    }

    #[test]
    fn a_tone_that_comes_and_goes_is_held_only_while_there() {
        let mut noise = Noise::new(5);
        let sound = (0..80_000).map(|i| {
            let t = f64::from(i) / 8000.0;
            let on = if (3.0..6.0).contains(&t) { 0.5 } else { 0.0 };
            on * (TAU * 900.0 * t).sin() + noise.normal()
        });
        let found = tones(spectra(8000.0, sound), &Search::default());
        assert_eq!(found.len(), 1);
        let (from, to) = found[0].span_s();
        assert!(
            (2.8..3.3).contains(&from) && (5.7..6.2).contains(&to),
            "{from} {to}"
        );
    }
}
