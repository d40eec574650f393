//! The underside of a section: what the water sees from below.

use crate::sections::Cut;

/// Points from left to right, (along, z): `along` is y on a frame and x on a buttock. Vertical
/// parts repeat `along`.
pub(super) type Chain = Vec<[f64; 2]>;

/// A piece of the outline, from left to right.
#[derive(Clone, Copy)]
struct Piece {
    from: [f64; 2],
    to: [f64; 2],
}

impl Piece {
    fn z(&self, along: f64) -> f64 {
        let t = (along - self.from[0]) / (self.to[0] - self.from[0]);
        self.from[1] + (self.to[1] - self.from[1]) * t.clamp(0.0, 1.0)
    }
}

/// Lowest points over `axis` (0 is x, 1 is y), in chains. A chain ends where there is nothing
/// above, or where the underside jumps by more than `jump` m.
pub(super) fn underside(cuts: &[Cut], axis: usize, jump: f64) -> Vec<Chain> {
    let pieces = pieces(cuts, axis);
    let mut ends: Vec<f64> = (pieces.iter()).flat_map(|p| [p.from[0], p.to[0]]).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup();
    let mut chains: Vec<Chain> = Vec::new();
    let (mut active, mut waiting) = (Vec::<Piece>::new(), pieces.iter().peekable());
    for pair in ends.windows(2) {
        active.retain(|p| p.to[0] > pair[0]);
        while let Some(piece) = waiting.next_if(|p| p.from[0] <= pair[0]) {
            active.push(*piece);
        }
        let middle = (pair[0] + pair[1]) / 2.0;
        let lowest = (active.iter()).min_by(|a, b| a.z(middle).total_cmp(&b.z(middle)));
        if let Some(piece) = lowest {
            let points = [pair[0], pair[1]].map(|along| [along, piece.z(along)]);
            extend(&mut chains, points, jump);
        }
    }
    chains
}

fn extend(chains: &mut Vec<Chain>, [a, b]: [[f64; 2]; 2], jump: f64) {
    let last = chains.last().and_then(|c| c.last()).copied();
    match (last, chains.last_mut()) {
        (Some(end), Some(chain)) if end[0] == a[0] && (a[1] - end[1]).abs() <= jump => {
            if end[1] != a[1] {
                chain.push(a);
            }
            chain.push(b);
        }
        _ => chains.push(vec![a, b]),
    }
}

/// Parts of the outline that face down, sorted by their left end.
fn pieces(cuts: &[Cut], axis: usize) -> Vec<Piece> {
    // With the solid on the left, the underside of a frame runs to port, of a buttock aft.
    let (start, end) = if axis == 1 { (0, 1) } else { (1, 0) };
    let mut pieces: Vec<Piece> = cuts
        .iter()
        .map(|cut| Piece {
            from: [cut[start][axis], cut[start].z],
            to: [cut[end][axis], cut[end].z],
        })
        .filter(|p| p.from[0] < p.to[0])
        .collect();
    pieces.sort_by(|a, b| {
        (a.from[0].total_cmp(&b.from[0]))
            .then(a.from[1].total_cmp(&b.from[1]))
            .then(a.to[0].total_cmp(&b.to[0]))
    });
    pieces
}

/// Fewest points of the chain that stay within `tolerance` m of it.
pub(super) fn simplify(chain: &[[f64; 2]], tolerance: f64) -> Chain {
    let mut keep = vec![false; chain.len()];
    let last = chain.len() - 1;
    (keep[0], keep[last]) = (true, true);
    let mut spans = vec![(0, last)];
    while let Some((from, to)) = spans.pop() {
        let off = |i: usize| distance(chain[i], chain[from], chain[to]);
        let farthest = (from + 1..to).max_by(|a, b| off(*a).total_cmp(&off(*b)));
        if let Some(i) = farthest.filter(|i| off(*i) > tolerance) {
            keep[i] = true;
            spans.extend([(from, i), (i, to)]);
        }
    }
    let kept = chain.iter().zip(keep).filter(|(_, keep)| *keep);
    kept.map(|(point, _)| *point).collect()
}

fn distance(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (d, e) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
    let length = d[0].hypot(d[1]);
    if length == 0.0 {
        return e[0].hypot(e[1]);
    }
    (d[0] * e[1] - d[1] * e[0]).abs() / length
}
