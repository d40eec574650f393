//! Runs of successive frames joined into surfaces along the hull.

use super::Scale;
use super::runs::{Run, runs};
use super::underside::Chain;

/// A frame with its runs.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub x: f64,
    pub runs: Vec<Run>,
    /// Lowest point of the whole frame.
    pub floor: f64,
    /// Stretches of y where the frame has an underside at all.
    pub covered: Vec<[f64; 2]>,
}

impl Frame {
    pub(super) fn of(x: f64, chains: &[Chain], scale: &Scale) -> Frame {
        let points = chains.iter().flatten();
        Frame {
            x,
            floor: points.map(|p| p[1]).fold(f64::INFINITY, f64::min),
            covered: (chains.iter())
                .map(|c| [c[0][0], c[c.len() - 1][0]])
                .collect(),
            runs: runs(chains, scale),
        }
    }

    /// Whether the underside reaches from one y to the other without a gap, m.
    pub(super) fn covers(&self, from: f64, to: f64) -> bool {
        let mut reached = from;
        for [low, high] in &self.covered {
            if *low <= reached + 1e-6 {
                reached = reached.max(*high);
            }
        }
        reached >= to
    }
}

/// One bottom followed from aft to forward.
#[derive(Debug, Clone, Default)]
pub(super) struct Track {
    /// (x, run), x strictly increasing.
    pub at: Vec<(f64, Run)>,
}

impl Track {
    pub(super) fn last(&self) -> &(f64, Run) {
        &self.at[self.at.len() - 1]
    }
}

/// Joins the runs of frames (x increasing) that continue each other.
pub(super) fn follow(frames: &[Frame], scale: &Scale) -> Vec<Track> {
    let mut tracks: Vec<Track> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    for frame in frames {
        let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
        for (o, track) in open.iter().enumerate() {
            for (r, run) in frame.runs.iter().enumerate() {
                let (x, aft) = tracks[*track].last();
                pairs.extend(mismatch(aft, run, frame.x - x, scale).map(|m| (m, o, r)));
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let mut continued = vec![None; frame.runs.len()];
        let mut taken = vec![false; open.len()];
        for (_, o, r) in pairs {
            if !taken[o] && continued[r].is_none() {
                taken[o] = true;
                continued[r] = Some(open[o]);
            }
        }
        open = Vec::new();
        for (run, track) in frame.runs.iter().zip(continued) {
            let track = track.unwrap_or_else(|| {
                tracks.push(Track::default());
                tracks.len() - 1
            });
            tracks[track].at.push((frame.x, run.clone()));
            open.push(track);
        }
    }
    tracks
}

/// How badly `fore` continues `aft`, or `None` when it does not.
fn mismatch(aft: &Run, fore: &Run, dx: f64, scale: &Scale) -> Option<f64> {
    let low = aft.low()[0].max(fore.low()[0]);
    let high = aft.high()[0].min(fore.high()[0]);
    let overlap = high - low;
    if overlap < 0.5 * aft.width().min(fore.width()) {
        return None;
    }
    let middle = (low + high) / 2.0;
    let drop = (aft.z(middle) - fore.z(middle)).abs();
    let allowed = 1.2 * dx + scale.strake_m;
    let widths = aft.width().max(fore.width());
    (drop <= allowed).then(|| drop / allowed + (1.0 - overlap / widths))
}
