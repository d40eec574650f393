//! Several unknowns at once: Newton with differenced slopes, and a damped way for where it bounces.
//!
//! - Sources: Newton with slopes kept while they serve and renewed by Broyden's rank-one update (Broyden 1965, Math.
//!   Comp. 19, 577-593); damped least squares (Levenberg 1944, Quart. Appl. Math. 2, 164-168; Marquardt 1963, J. SIAM
//!   11, 431-441).
//! - Steps are held to a reach in each unknown and halved while they make things much worse.
//! - Guarantees: what is returned leaves no more than the tolerance in any equation. Does not: find an answer far
//!   from the start, nor say that there is none.
//! - Checks: problems 1, 2 and 13 of More, Garbow, Hillstrom 1981, ACM Trans. Math. Software 7(1), 17-41 (Rosenbrock,
//!   Freudenstein and Roth, Powell singular) whose answers are known.

use nalgebra::{Const, DimMin, SMatrix, SVector};

/// How to look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Newton<const N: usize> {
    /// Moved by so much for slopes.
    pub nudge: [f64; N],
    /// Longest step in each unknown.
    pub reach: [f64; N],
    /// What may be left in any equation.
    pub tolerance: f64,
    /// Most steps.
    pub iterations: usize,
    /// A step that leaves more than this share asks for fresh slopes, which are as dear as several steps with the old.
    pub slow: f64,
}

/// An answer and what is left there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found<const N: usize> {
    /// Unknowns.
    pub x: SVector<f64, N>,
    /// Left over.
    pub residual: SVector<f64, N>,
    /// Steps it took.
    pub steps: usize,
}

/// Made worse by more than this, a step is halved.
const WORSE: f64 = 1.2;
/// Shortest share of a step.
const SHORTEST: f64 = 0.05;

impl<const N: usize> Newton<N>
where
    Const<N>: DimMin<Const<N>, Output = Const<N>>,
{
    /// The slopes of `f` at a place where it is `residual`, by differences forward.
    pub fn slopes(
        &self,
        f: &mut impl FnMut(&SVector<f64, N>) -> SVector<f64, N>,
        x: &SVector<f64, N>,
        residual: &SVector<f64, N>,
    ) -> SMatrix<f64, N, N> {
        let mut slopes = SMatrix::<f64, N, N>::zeros();
        for (column, h) in self.nudge.into_iter().enumerate() {
            let mut moved = *x;
            moved[column] += h;
            slopes.set_column(column, &((f(&moved) - residual) / h));
        }
        slopes
    }

    /// From `start`, with slopes of a neighbour if there are some; leaves the last ones used behind. Where `f` is no
    /// number the step is shortened.
    pub fn solve(
        &self,
        f: &mut impl FnMut(&SVector<f64, N>) -> SVector<f64, N>,
        start: SVector<f64, N>,
        known: &mut Option<SMatrix<f64, N, N>>,
    ) -> Option<Found<N>> {
        let mut x = start;
        let mut residual = f(&x);
        let mut borrowed = known.is_some();
        for steps in 0..=self.iterations {
            // First of all: the largest of what is no number may be none.
            if !residual.iter().all(|r| r.is_finite()) {
                return None;
            }
            if residual.amax() < self.tolerance {
                return Some(Found { x, residual, steps });
            }
            let slopes = *known.get_or_insert_with(|| self.slopes(f, &x, &residual));
            let step = slopes.lu().solve(&-residual).map(|s| self.limited(s));
            let taken = step.and_then(|step| shortened(f, &x, &step, &residual));
            let slow = taken
                .as_ref()
                .is_none_or(|(_, left)| left.norm() > self.slow * residual.norm());
            if slow && borrowed {
                // They did not serve: take our own from where we are.
                *known = None;
                borrowed = false;
                continue;
            }
            let (next, left) = taken?;
            let moved = next - x;
            *known = if slow {
                None
            } else {
                // Broyden: the slopes now explain the last step.
                let miss = left - residual - slopes * moved;
                Some(slopes + miss * moved.transpose() / moved.norm_squared().max(1e-300))
            };
            (x, residual) = (next, left);
        }
        None
    }

    /// Damped least squares: slower, and does not bounce where a slope changes within a short way.
    pub fn solve_damped(
        &self,
        f: &mut impl FnMut(&SVector<f64, N>) -> SVector<f64, N>,
        start: SVector<f64, N>,
    ) -> Option<Found<N>> {
        let found = self.closest_damped(f, start)?;
        (found.residual.amax() < self.tolerance).then_some(found)
    }

    /// The same, and what comes closest where it does not settle: where a force steps, nothing balances quite.
    pub fn closest_damped(
        &self,
        f: &mut impl FnMut(&SVector<f64, N>) -> SVector<f64, N>,
        start: SVector<f64, N>,
    ) -> Option<Found<N>> {
        let mut x = start;
        let mut residual = f(&x);
        let mut damping = 1e-2;
        for steps in 0..=self.iterations {
            // First of all: the largest of what is no number may be none.
            if !residual.iter().all(|r| r.is_finite()) {
                return None;
            }
            if residual.amax() < self.tolerance {
                return Some(Found { x, residual, steps });
            }
            let slopes = self.slopes(f, &x, &residual);
            let normal = slopes.transpose() * slopes;
            let right = slopes.transpose() * residual;
            let mut better = None;
            for _ in 0..8 {
                let damped = normal + SMatrix::from_diagonal(&(normal.diagonal() * damping));
                let step = self.limited(-damped.lu().solve(&right)?);
                let there = f(&(x + step));
                if there.norm() < residual.norm() {
                    damping = f64::max(0.2 * damping, 1e-8);
                    better = Some((x + step, there));
                    break;
                }
                damping *= 6.0;
            }
            let Some(next) = better else {
                return Some(Found { x, residual, steps });
            };
            (x, residual) = next;
        }
        let steps = self.iterations;
        Some(Found { x, residual, steps })
    }

    fn limited(&self, step: SVector<f64, N>) -> SVector<f64, N> {
        let shares = step.iter().zip(self.reach).map(|(s, r)| s.abs() / r);
        step / shares.fold(1.0, f64::max)
    }
}

/// Takes the step, halved while it makes things much worse.
fn shortened<const N: usize>(
    f: &mut impl FnMut(&SVector<f64, N>) -> SVector<f64, N>,
    x: &SVector<f64, N>,
    step: &SVector<f64, N>,
    before: &SVector<f64, N>,
) -> Option<(SVector<f64, N>, SVector<f64, N>)> {
    let mut share = 1.0;
    loop {
        let tried = x + step * share;
        let left = f(&tried);
        if left.norm() < WORSE * before.norm() {
            return Some((tried, left));
        }
        if share < SHORTEST {
            return left.iter().all(|r| r.is_finite()).then_some((tried, left));
        }
        share *= 0.5;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Vector2, Vector4};

    fn plain<const N: usize>(iterations: usize) -> Newton<N> {
        Newton {
            nudge: [1e-7; N],
            reach: [5.0; N],
            tolerance: 1e-10,
            iterations,
            slow: 0.3,
        }
    }

    fn rosenbrock(x: &Vector2<f64>) -> Vector2<f64> {
        Vector2::new(10.0 * (x[1] - x[0] * x[0]), 1.0 - x[0])
    }

    fn freudenstein_roth(x: &Vector2<f64>) -> Vector2<f64> {
        Vector2::new(
            -13.0 + x[0] + ((5.0 - x[1]) * x[1] - 2.0) * x[1],
            -29.0 + x[0] + ((x[1] + 1.0) * x[1] - 14.0) * x[1],
        )
    }

    /// Its slopes are singular at the answer: both ways slow down and still get there.
    fn powell_singular(x: &Vector4<f64>) -> Vector4<f64> {
        Vector4::new(
            x[0] + 10.0 * x[1],
            5.0f64.sqrt() * (x[2] - x[3]),
            (x[1] - 2.0 * x[2]).powi(2),
            10.0f64.sqrt() * (x[0] - x[3]).powi(2),
        )
    }

    #[test]
    fn solves_the_problems_of_more_garbow_and_hillstrom() {
        let start = Vector2::new(-1.2, 1.0);
        let found = plain(60).solve(&mut rosenbrock, start, &mut None);
        assert!((found.expect("found").x - Vector2::new(1.0, 1.0)).amax() < 1e-8);
        let damped = plain(60).solve_damped(&mut rosenbrock, start);
        assert!((damped.expect("found").x - Vector2::new(1.0, 1.0)).amax() < 1e-8);
        let start = Vector2::new(6.0, 3.0);
        let found = plain(60).solve(&mut freudenstein_roth, start, &mut None);
        assert!((found.expect("found").x - Vector2::new(5.0, 4.0)).amax() < 1e-8);
        let loose = Newton {
            tolerance: 1e-8,
            ..plain(100)
        };
        let start = Vector4::new(3.0, -1.0, 0.0, 1.0);
        let found = loose.solve_damped(&mut powell_singular, start);
        assert!(found.expect("found").x.amax() < 1e-3);
    }

    #[test]
    fn what_has_no_answer_gives_none() {
        let mut never = |x: &Vector2<f64>| Vector2::new(1.0 + x[0] * x[0], x[1]);
        let start = Vector2::new(0.3, 0.2);
        assert!(plain(40).solve(&mut never, start, &mut None).is_none());
        assert!(plain(40).solve_damped(&mut never, start).is_none());
        let mut hollow = |_: &Vector2<f64>| Vector2::new(f64::NAN, 0.0);
        assert!(plain(40).solve(&mut hollow, start, &mut None).is_none());
    }
}
