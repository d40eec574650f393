//! A root of one unknown, kept between two places where the sign differs.
//!
//! - Source: Chandrupatla 1997, Adv. Eng. Software 28(3), 145-149: bisection, and inverse quadratic interpolation
//!   where the last three points allow it.
//! - Guarantees: the answer lies in the bracket given; the bracket at least halves every other time at the worst.
//! - Does not: find a root where the sign does not change, nor all roots where there are several.
//! - Checks: Alefeld, Potra, Shi 1995, ACM Trans. Math. Software 21(3), 327-344, problems 1, 2, 6, 7 and 14, whose
//!   roots have closed forms or are solved here to the last digit by their own equation.

/// Two places and what was found there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// One end: place and value.
    pub a: (f64, f64),
    /// The other.
    pub b: (f64, f64),
}

impl Bracket {
    /// Whether the sign differs, or one end is the root.
    pub fn holds(&self) -> bool {
        self.a.1 * self.b.1 <= 0.0
    }
}

/// Most evaluations; bisection alone needs about 50 for the last digit.
const MOST: usize = 100;

/// The root in a bracket, to `tolerance` in its place; `None` when the bracket holds none or a value is no number.
pub fn root(mut f: impl FnMut(f64) -> f64, bracket: Bracket, tolerance: f64) -> Option<f64> {
    if !bracket.holds() {
        return None;
    }
    // `a` is the newest, `b` the other end, `c` the one before.
    let (mut b, mut a) = (bracket.a, bracket.b);
    let mut share = 0.5_f64;
    for _ in 0..MOST {
        let best = if a.1.abs() < b.1.abs() { a } else { b };
        let width = (b.0 - a.0).abs();
        let close = 2.0 * f64::EPSILON * best.0.abs() + tolerance;
        if best.1 == 0.0 || width <= close {
            return Some(best.0);
        }
        let least = 0.5 * close / width;
        let x = a.0 + share.clamp(least, 1.0 - least) * (b.0 - a.0);
        let value = f(x);
        if !value.is_finite() {
            return None;
        }
        let c = if (value > 0.0) == (a.1 > 0.0) {
            a
        } else {
            std::mem::replace(&mut b, a)
        };
        a = (x, value);
        share = next_share(a, b, c);
    }
    None
}

/// Where between `a` and `b` to look next.
fn next_share(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> f64 {
    let xi = (a.0 - b.0) / (c.0 - b.0);
    let phi = (a.1 - b.1) / (c.1 - b.1);
    if phi * phi < xi && (1.0 - phi).powi(2) < 1.0 - xi {
        a.1 / (b.1 - a.1) * c.1 / (b.1 - c.1)
            + (c.0 - a.0) / (b.0 - a.0) * a.1 / (c.1 - a.1) * b.1 / (c.1 - b.1)
    } else {
        0.5
    }
}

/// Steps away from `start` until the sign changes, each step `growth` times the last; `None` past `furthest`.
///
/// `first` has the direction.
pub fn outward(
    mut f: impl FnMut(f64) -> f64,
    start: f64,
    first: f64,
    growth: f64,
    furthest: f64,
) -> Option<Bracket> {
    let mut a = (start, f(start));
    let (mut at, mut step) = (start, first);
    loop {
        if a.1 == 0.0 {
            return Some(Bracket { a, b: a });
        }
        at += step;
        if (at - start).abs() > furthest {
            return None;
        }
        let b = (at, f(at));
        if !b.1.is_finite() {
            return None;
        }
        let bracket = Bracket { a, b };
        if bracket.holds() {
            return Some(bracket);
        }
        a = b;
        step *= growth;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    fn between(f: impl Fn(f64) -> f64, a: f64, b: f64) -> (f64, usize) {
        let mut calls = 2;
        let bracket = Bracket {
            a: (a, f(a)),
            b: (b, f(b)),
        };
        let counted = |x| {
            calls += 1;
            f(x)
        };
        (root(counted, bracket, 1e-13).expect("a root"), calls)
    }

    #[test]
    fn finds_the_roots_of_alefeld_potra_and_shi() {
        // 1: sin x - x / 2 on [pi/2, pi].
        let (x, calls) = between(|x| x.sin() - 0.5 * x, FRAC_PI_2, PI);
        assert!(
            (x.sin() - 0.5 * x).abs() < 1e-14 && calls < 16,
            "{x} in {calls}"
        );
        // 2: a sum with poles at squares; on (1, 4), and (4, 9).
        let poles = |x: f64| -> f64 {
            let term = |i: i32| {
                let i = f64::from(i);
                (2.0 * i - 5.0).powi(2) / (x - i * i).powi(3)
            };
            -2.0 * (1..=20).map(term).sum::<f64>()
        };
        let (x, _) = between(poles, 1.0 + 1e-9, 4.0 - 1e-9);
        // Table of the paper's problem: 3.022915...
        assert!((x - 3.022_915).abs() < 1e-6, "{x}");
        // 6: x^n - a, root a^(1/n).
        let (x, _) = between(|x| x.powi(12) - 0.2, 0.0, 5.0);
        assert!((x - 0.2f64.powf(1.0 / 12.0)).abs() < 1e-12, "{x}");
        // 7: 2 x exp(-n) - 2 exp(-n x) + 1 on [0, 1].
        let seventh = |x: f64| 2.0 * x * (-20.0f64).exp() - 2.0 * (-20.0 * x).exp() + 1.0;
        let (x, calls) = between(seventh, 0.0, 1.0);
        assert!(seventh(x).abs() < 1e-12 && calls < 25, "{x} in {calls}");
        // 14: a corner at zero; n x / 1.5 + ... : flat to the left, the root where it rises.
        let corner = |x: f64| {
            if x <= 0.0 {
                -0.05
            } else {
                x / 1.5 + x.sin() - 1.0
            }
        };
        let (x, calls) = between(corner, -1e4, FRAC_PI_2);
        assert!(corner(x).abs() < 1e-12 && calls < 60, "{x} in {calls}");
    }

    #[test]
    fn says_no_without_a_change_of_sign_and_without_numbers() {
        let same = Bracket {
            a: (0.0, 1.0),
            b: (1.0, 2.0),
        };
        assert_eq!(root(|x| 1.0 + x, same, 1e-9), None);
        let differs = Bracket {
            a: (0.0, -1.0),
            b: (1.0, 2.0),
        };
        assert_eq!(root(|_| f64::NAN, differs, 1e-9), None);
    }

    #[test]
    fn walks_outward_until_the_sign_changes() {
        let f = |x: f64| x * x - 2.0;
        let found = outward(f, 0.0, 0.1, 1.6, 5.0).expect("a bracket");
        let x = root(f, found, 1e-12).expect("a root");
        assert!((x - 2.0f64.sqrt()).abs() < 1e-11);
        assert_eq!(outward(f, 2.0, 0.1, 1.6, 5.0), None);
    }
}
