//! What a servo sees in a capture, and a verdict.

use super::capture::Capture;
use super::edges::Pulse;
use crate::measured::{Measured, median, quantile, robust_sigma};
use laws::pulse_edge::pulse_edge;

/// Travel from neutral to full: half of the usual 1000 to 2000 us (`checks/rc_protocols.csv`).
const FULL_TRAVEL_S: f64 = 500e-6;
/// Widths a servo takes for a command: a little more than the widest in `checks/rc_protocols.csv`,
/// and down to half the narrow-pulse neutral.
const SENSIBLE_S: std::ops::RangeInclusive<f64> = 0.38e-3..=2.6e-3;
/// Ordinary logic thresholds as parts of the swing: 2.0 and 0.8 V of 3.3 V (from memory).
const LOGIC: (f64, f64) = (2.0 / 3.3, 0.8 / 3.3);
/// Edges slower than this are no longer those of a healthy output. Judgement, no source.
const SLOW_EDGE_S: f64 = 5e-6;
/// Jitter a digital servo can feel. Judgement, no source.
const JITTER_S: f64 = 4e-6;

/// A stretch without pulses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Last pulse before, s.
    pub from_s: f64,
    /// First pulse after, s.
    pub to_s: f64,
    /// Frames that are missing.
    pub frames: usize,
    /// Width before, s.
    pub width_before_s: f64,
    /// Width after, s.
    pub width_after_s: f64,
}

/// A capture summed up.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Sensible pulses.
    pub pulses: usize,
    /// Pulses too narrow or wide to be commands.
    pub odd_widths: usize,
    /// Excursions that did not reach the other level.
    pub runts: usize,
    /// Usual width, s, and its standard error.
    pub width_s: Measured,
    /// Narrowest and widest sensible pulse, s.
    pub width_range_s: (f64, f64),
    /// Scatter of the width from one pulse to the next, s.
    pub width_jitter_s: f64,
    /// Usual frame period, s.
    pub frame_s: Measured,
    /// Scatter of the period, s.
    pub frame_jitter_s: f64,
    /// Stretches without pulses.
    pub losses: Vec<Loss>,
    /// Width held after a loss longer than the usual failsafe delay, s.
    pub failsafe_width_s: Option<f64>,
    /// Time constant of the edges, s; `None` when faster than the capture can tell.
    pub edge_constant_s: Option<f64>,
    /// Width a servo with ordinary thresholds reads, less that sent, s.
    pub read_shift_s: Option<f64>,
    /// Sentences for the builder, worst first.
    pub verdict: Vec<String>,
}

/// Sums up a capture; `None` when it holds fewer than three sensible pulses.
pub fn report(capture: &Capture) -> Option<Report> {
    let good: Vec<Pulse> = capture
        .pulses
        .iter()
        .filter(|p| SENSIBLE_S.contains(&p.width_s))
        .copied()
        .collect();
    if good.len() < 3 {
        return None;
    }
    let widths: Vec<f64> = good.iter().map(|p| p.width_s).collect();
    let periods: Vec<f64> = good.windows(2).map(|w| w[1].rise_s - w[0].rise_s).collect();
    let frame = median(&periods)?;
    let whole: Vec<f64> = periods
        .iter()
        .copied()
        .filter(|p| *p < 1.5 * frame)
        .collect();
    let changes: Vec<f64> = widths.windows(2).map(|w| w[1] - w[0]).collect();
    let losses = losses(&good, frame);
    let edge_constant_s = edge_constant(&good, capture.interval_s);
    let error = |v: &[f64]| robust_sigma(v).unwrap_or(0.0) / (v.len() as f64).sqrt();
    let frame_jitter_s = robust_sigma(&whole).unwrap_or(0.0);
    let mut report = Report {
        pulses: good.len(),
        odd_widths: capture.pulses.len() - good.len(),
        runts: capture.runts,
        // Samples quantise each edge; many pulses average it out, a list of changes has none.
        width_s: Measured::new(
            median(&widths)?,
            error(&widths).max(0.3 * capture.interval_s),
        ),
        width_range_s: (quantile(&widths, 0.0)?, quantile(&widths, 1.0)?),
        width_jitter_s: robust_sigma(&changes).unwrap_or(0.0) / 2f64.sqrt(),
        frame_s: Measured::new(frame, error(&whole)),
        frame_jitter_s,
        failsafe_width_s: failsafe(&good, &losses),
        losses,
        edge_constant_s,
        read_shift_s: edge_constant_s.and_then(|tau| {
            let e = pulse_edge(tau, 1.0, 1.0, LOGIC.0, LOGIC.1).ok()?;
            Some(e.width_error_s)
        }),
        verdict: Vec::new(),
    };
    report.verdict = verdict(&report, capture);
    Some(report)
}

/// Usual time constant of the edges, where the samples are close enough to see it.
fn edge_constant(pulses: &[Pulse], interval_s: f64) -> Option<f64> {
    let both: Vec<f64> = pulses
        .iter()
        .flat_map(|p| [p.rise_constant_s, p.fall_constant_s])
        .collect();
    // Between two samples an instant edge seems to take 0.6 of an interval, 0.43 as a constant.
    median(&both).filter(|tau| *tau > 1.2 * interval_s && *tau > 1e-9)
}

fn losses(pulses: &[Pulse], frame: f64) -> Vec<Loss> {
    let gaps = pulses
        .windows(2)
        .filter(|w| w[1].rise_s - w[0].rise_s > 1.5 * frame);
    gaps.map(|w| Loss {
        from_s: w[0].rise_s,
        to_s: w[1].rise_s,
        frames: ((w[1].rise_s - w[0].rise_s) / frame).round() as usize - 1,
        width_before_s: w[0].width_s,
        width_after_s: w[1].width_s,
    })
    .collect()
}

/// A width that comes back unchanged for half a second after a loss of a quarter.
fn failsafe(pulses: &[Pulse], losses: &[Loss]) -> Option<f64> {
    losses
        .iter()
        .filter(|l| l.to_s - l.from_s > 0.25)
        .find_map(|l| {
            let after: Vec<f64> = pulses
                .iter()
                .filter(|p| (l.to_s..l.to_s + 0.5).contains(&p.rise_s))
                .map(|p| p.width_s)
                .collect();
            let held = median(&after)?;
            let steady = after.len() >= 5 && after.iter().all(|w| (w - held).abs() < 8e-6);
            (steady && (held - l.width_before_s).abs() > 20e-6).then_some(held)
        })
}

fn verdict(r: &Report, capture: &Capture) -> Vec<String> {
    let mut say = Vec::new();
    if let (Some(tau), Some(shift)) = (r.edge_constant_s, r.read_shift_s)
        && tau > SLOW_EDGE_S
    {
        let percent = 100.0 * shift / FULL_TRAVEL_S;
        say.push(format!(
            "edges have a {:.0} us time constant: the output is loaded, wet or shorted; a servo with \
             ordinary thresholds reads pulses {:.0} us longer, {percent:.0} % of full travel",
            1e6 * tau,
            1e6 * shift,
        ));
    }
    let missing: usize = r.losses.iter().map(|l| l.frames).sum();
    if missing > 0 {
        let longest = r
            .losses
            .iter()
            .map(|l| l.to_s - l.from_s)
            .fold(0.0, f64::max);
        say.push(format!(
            "{missing} frames are missing in {} places, the longest for {longest:.2} s",
            r.losses.len()
        ));
    }
    if let Some(width) = r.failsafe_width_s {
        say.push(format!(
            "after a loss the output holds {:.0} us: failsafe",
            1e6 * width
        ));
    }
    if r.runts + r.odd_widths > 0 {
        say.push(format!(
            "{} pulses do not reach the other level and {} have a width no servo expects: \
             interference or a bad contact",
            r.runts, r.odd_widths
        ));
    }
    // Samples alone scatter a width by 0.41 of an interval (two edges, each evenly spread).
    let seen = (r.width_jitter_s.powi(2) - (0.41 * capture.interval_s).powi(2))
        .max(0.0)
        .sqrt();
    if seen > JITTER_S {
        say.push(format!(
            "widths jitter by {:.1} us from pulse to pulse",
            1e6 * seen
        ));
    }
    if say.is_empty() {
        let fast = r
            .edge_constant_s
            .map_or("faster than this capture can tell".to_owned(), |t| {
                format!("{:.1} us", 1e6 * t)
            });
        say.push(format!(
            "clean: {:.0} us every {:.1} ms, none missing, edges {fast}",
            1e6 * r.width_s.value,
            1e3 * r.frame_s.value
        ));
    }
    say
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pulses::edges::{Between, Detector};

    /// A capture of a first-order output driven with pulses, sampled each microsecond.
    fn capture(tau: f64, pulses: impl Fn(usize) -> Option<f64>, frames: usize) -> Capture {
        let dt = 1e-6;
        let mut d = Detector::new(0.0, 1.0, Between::Varies);
        let (mut v, mut n) = (0.0, 0u64);
        for frame in 0..frames {
            let width = pulses(frame).unwrap_or(0.0);
            for i in 0..20_000 {
                let drive = f64::from(u8::from(f64::from(i) * dt < width));
                d.take(n as f64 * dt, v);
                v += (drive - v)
                    * if tau > 0.0 {
                        1.0 - (-dt / tau).exp()
                    } else {
                        1.0
                    };
                n += 1;
            }
        }
        let (pulses, runts) = d.finish();
        Capture {
            pulses,
            runts,
            span_s: (0.0, n as f64 * dt),
            interval_s: dt,
            levels: (0.0, 1.0),
            skipped_rows: 0,
            first_skipped_row: None,
            stopped_early: false,
            inverted: false,
        }
    }

    #[test]
    fn a_loaded_output_is_told_with_its_shift() {
        let r = report(&capture(40e-6, |_| Some(1.5e-3), 10)).unwrap();
        let tau = r.edge_constant_s.unwrap();
        assert!((tau / 40e-6 - 1.0).abs() < 0.02);
        // checks/rc_edge_shift.csv: 0.4855 tau for 3.3 V with 2.0 and 0.8 V thresholds.
        assert!((r.read_shift_s.unwrap() / (0.4855 * 40e-6) - 1.0).abs() < 0.02);
        assert!((r.width_s.value - 1.5e-3).abs() < 1e-6);
        assert!(
            r.verdict[0].contains("40 us time constant") && r.verdict[0].contains("4 %"),
            "{:?}",
            r.verdict
        );
    }

    #[test]
    fn a_clean_output_is_called_clean() {
        let r = report(&capture(0.0, |_| Some(1.5195e-3), 10)).unwrap();
        assert!(
            r.verdict[0].starts_with("clean: 1520 us every 20.0 ms"),
            "{:?}",
            r.verdict
        );
        assert_eq!(r.edge_constant_s, None);
    }

    #[test]
    fn losses_and_failsafe_are_counted() {
        let lost = |i: usize| match i {
            7 => None,
            20..=39 => None,
            40.. => Some(1.0e-3),
            _ => Some(1.7e-3),
        };
        let r = report(&capture(0.0, lost, 80)).unwrap();
        let frames: Vec<usize> = r.losses.iter().map(|l| l.frames).collect();
        assert_eq!(frames, [1, 20]);
        assert!((r.failsafe_width_s.unwrap() - 1.0e-3).abs() < 2e-6);
        assert!(
            r.verdict
                .iter()
                .any(|v| v.contains("21 frames are missing in 2 places"))
        );
    }

    #[test]
    fn too_little_is_no_report() {
        assert!(report(&capture(0.0, |_| None, 3)).is_none());
    }
}
