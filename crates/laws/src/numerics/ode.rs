//! Runge and Kutta's fourth-order step, and two pairs with error control: Dormand and Prince's of fifth order for what
//! is smooth, Bogacki and Shampine's of third order for what has corners or swings quickly.
//!
//! A step of the fifth order costs six evaluations and is stable on an undamped swing up to one radian, one of the third
//! order costs three and is stable up to 1.73: where the swing and not the error limits the step, the third is faster.
//!
//! - Source: Dormand, Prince 1980, J. Comp. Appl. Math. 6(1), 19-26; Bogacki, Shampine 1989, Appl. Math. Letters 2(4),
//!   321-325; step control as in Hairer, Norsett, Wanner, Solving Ordinary Differential Equations I, II.4.
//! - Guarantees: a sum of states whose derivatives sum to zero stays constant to rounding, which the
//!   energy balance of a run rests on. Does not: steps across a jump in the right-hand side are not
//!   exact; start anew at each.
//! - Checks: another crate's integrator and `scipy`'s on the same equations; order of convergence.

/// A state of `N` numbers.
pub type State<const N: usize> = [f64; N];

fn plus<const N: usize>(y: &State<N>, terms: &[(f64, &State<N>)]) -> State<N> {
    std::array::from_fn(|i| y[i] + terms.iter().map(|(w, k)| w * k[i]).sum::<f64>())
}

/// One classical step of length `h`.
pub fn rk4<const N: usize>(
    f: &mut impl FnMut(f64, &State<N>) -> State<N>,
    t: f64,
    y: &State<N>,
    h: f64,
) -> State<N> {
    let k1 = f(t, y);
    let k2 = f(t + 0.5 * h, &plus(y, &[(0.5 * h, &k1)]));
    let k3 = f(t + 0.5 * h, &plus(y, &[(0.5 * h, &k2)]));
    let k4 = f(t + h, &plus(y, &[(h, &k3)]));
    let w = h / 6.0;
    plus(y, &[(w, &k1), (2.0 * w, &k2), (2.0 * w, &k3), (w, &k4)])
}

/// Accuracy asked for, and bounds on the step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Of each state.
    pub relative: f64,
    /// Of each state, in its unit.
    pub absolute: f64,
    /// Longest step.
    pub longest: f64,
    /// Most steps, taken or rejected, before giving up.
    pub most_steps: usize,
}

/// The integrator gave up.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("no step small enough at {at}")]
pub struct Stuck {
    /// Where.
    pub at: f64,
}

/// Steps from `from` to `to` by the pair of fifth order and calls `seen` after each step taken, with time, state and
/// its derivative.
///
/// # Errors
/// [`Stuck`] when the error cannot be kept or a derivative is not finite.
pub fn integrate<const N: usize>(
    f: impl FnMut(f64, &State<N>) -> State<N>,
    from: f64,
    to: f64,
    start: State<N>,
    accuracy: &Accuracy,
    seen: impl FnMut(f64, &State<N>, &State<N>),
) -> Result<State<N>, Stuck> {
    stepped(f, (from, to), start, accuracy, seen, (pair, 5.0))
}

/// The same by the pair of third order.
///
/// # Errors
/// As [`integrate`].
pub fn integrate_third<const N: usize>(
    f: impl FnMut(f64, &State<N>) -> State<N>,
    from: f64,
    to: f64,
    start: State<N>,
    accuracy: &Accuracy,
    seen: impl FnMut(f64, &State<N>, &State<N>),
) -> Result<State<N>, Stuck> {
    stepped(f, (from, to), start, accuracy, seen, (pair_third, 3.0))
}

/// A pair: from `f`, time, state, its slope, step and accuracy to the state and slope after the step, and its error over
/// what is allowed.
type Pair<F, const N: usize> =
    fn(&mut F, f64, &State<N>, &State<N>, f64, &Accuracy) -> (State<N>, State<N>, f64);

/// By a pair of some order.
fn stepped<F: FnMut(f64, &State<N>) -> State<N>, const N: usize>(
    mut f: F,
    (from, to): (f64, f64),
    start: State<N>,
    accuracy: &Accuracy,
    mut seen: impl FnMut(f64, &State<N>, &State<N>),
    (pair, order): (Pair<F, N>, f64),
) -> Result<State<N>, Stuck> {
    let (mut t, mut y) = (from, start);
    let mut h = accuracy.longest.min(to - from);
    let mut left = accuracy.most_steps;
    let mut slope = f(t, &y);
    while t < to {
        let last = t + h >= to - 1e-12 * (to - from).abs();
        let step = if last { to - t } else { h };
        let (next, after, error) = pair(&mut f, t, &y, &slope, step, accuracy);
        if left == 0 || !error.is_finite() && step < 1e-9 {
            return Err(Stuck { at: t });
        }
        left -= 1;
        if error <= 1.0 {
            t = if last { to } else { t + step };
            (y, slope) = (next, after);
            seen(t, &y, &slope);
        }
        let factor = if error.is_finite() {
            (0.9 * error.max(1e-10).powf(-1.0 / order)).clamp(0.2, 5.0)
        } else {
            0.2
        };
        h = (step * factor).min(accuracy.longest);
    }
    Ok(y)
}

/// Dormand and Prince's.
fn pair<F: FnMut(f64, &State<N>) -> State<N>, const N: usize>(
    f: &mut F,
    t: f64,
    y: &State<N>,
    k1: &State<N>,
    h: f64,
    accuracy: &Accuracy,
) -> (State<N>, State<N>, f64) {
    let k2 = f(t + h / 5.0, &plus(y, &[(h / 5.0, k1)]));
    let k3 = f(
        t + 0.3 * h,
        &plus(y, &[(3.0 / 40.0 * h, k1), (9.0 / 40.0 * h, &k2)]),
    );
    let to4 = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
    let k4 = f(
        t + 0.8 * h,
        &plus(y, &[(to4[0] * h, k1), (to4[1] * h, &k2), (to4[2] * h, &k3)]),
    );
    let to5 = [
        19_372.0 / 6561.0,
        -25_360.0 / 2187.0,
        64_448.0 / 6561.0,
        -212.0 / 729.0,
    ];
    let four = [
        (to5[0] * h, k1),
        (to5[1] * h, &k2),
        (to5[2] * h, &k3),
        (to5[3] * h, &k4),
    ];
    let k5 = f(t + 8.0 / 9.0 * h, &plus(y, &four));
    let to6 = [
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46_732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18_656.0,
    ];
    let five = [
        (to6[0] * h, k1),
        (to6[1] * h, &k2),
        (to6[2] * h, &k3),
        (to6[3] * h, &k4),
        (to6[4] * h, &k5),
    ];
    let k6 = f(t + h, &plus(y, &five));
    let b = [
        35.0 / 384.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ];
    let next = plus(
        y,
        &[
            (b[0] * h, k1),
            (b[1] * h, &k3),
            (b[2] * h, &k4),
            (b[3] * h, &k5),
            (b[4] * h, &k6),
        ],
    );
    let k7 = f(t + h, &next);
    let e = [
        71.0 / 57_600.0,
        -71.0 / 16_695.0,
        71.0 / 1920.0,
        -17_253.0 / 339_200.0,
        22.0 / 525.0,
        -1.0 / 40.0,
    ];
    let ks = [k1, &k3, &k4, &k5, &k6, &k7];
    let error = share(y, &next, accuracy, |i| {
        h * e.iter().zip(ks).map(|(e, k)| e * k[i]).sum::<f64>()
    });
    (next, k7, error)
}

/// Bogacki and Shampine's.
fn pair_third<F: FnMut(f64, &State<N>) -> State<N>, const N: usize>(
    f: &mut F,
    t: f64,
    y: &State<N>,
    k1: &State<N>,
    h: f64,
    accuracy: &Accuracy,
) -> (State<N>, State<N>, f64) {
    let k2 = f(t + 0.5 * h, &plus(y, &[(0.5 * h, k1)]));
    let k3 = f(t + 0.75 * h, &plus(y, &[(0.75 * h, &k2)]));
    let b = [2.0 / 9.0, 1.0 / 3.0, 4.0 / 9.0];
    let next = plus(y, &[(b[0] * h, k1), (b[1] * h, &k2), (b[2] * h, &k3)]);
    let k4 = f(t + h, &next);
    let e = [-5.0 / 72.0, 1.0 / 12.0, 1.0 / 9.0, -1.0 / 8.0];
    let ks = [k1, &k2, &k3, &k4];
    let error = share(y, &next, accuracy, |i| {
        h * e.iter().zip(ks).map(|(e, k)| e * k[i]).sum::<f64>()
    });
    (next, k4, error)
}

/// Largest of the errors over what is allowed of each state; no number where one is none.
fn share<const N: usize>(
    y: &State<N>,
    next: &State<N>,
    accuracy: &Accuracy,
    error: impl Fn(usize) -> f64,
) -> f64 {
    let mut worst = 0.0f64;
    for i in 0..N {
        let allowed = accuracy.absolute + accuracy.relative * y[i].abs().max(next[i].abs());
        let share = (error(i) / allowed).abs();
        // Not `max` alone, which would pass a NaN over.
        if share.is_nan() {
            return f64::NAN;
        }
        worst = worst.max(share);
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tight() -> Accuracy {
        Accuracy {
            relative: 1e-10,
            absolute: 1e-12,
            longest: 1.0,
            most_steps: 100_000,
        }
    }

    /// Undamped swing, whose answer is a cosine.
    fn swing(_: f64, y: &State<2>) -> State<2> {
        [y[1], -y[0]]
    }

    #[test]
    fn swing_comes_back_and_orders_are_four_five_and_three() {
        let end = integrate(
            swing,
            0.0,
            std::f64::consts::TAU,
            [1.0, 0.0],
            &tight(),
            |_, _, _| {},
        );
        let end = end.unwrap();
        assert!((end[0] - 1.0).abs() < 1e-9 && end[1].abs() < 1e-9);
        let rk = |n: u32| {
            let h = 1.0 / f64::from(n);
            let y = (0..n).fold([1.0, 0.0], |y, i| rk4(&mut swing, f64::from(i) * h, &y, h));
            (y[0] - 1f64.cos()).abs()
        };
        let order = (rk(20) / rk(40)).log2();
        assert!((order - 4.0).abs() < 0.2, "{order}");
        let dp = |n: u32| {
            let h = 1.0 / f64::from(n);
            let y = (0..n).fold([1.0, 0.0], |y, i| {
                let t = f64::from(i) * h;
                pair(&mut swing, t, &y, &swing(t, &y), h, &tight()).0
            });
            (y[0] - 1f64.cos()).abs()
        };
        let order = (dp(8) / dp(16)).log2();
        assert!((order - 5.0).abs() < 0.5, "{order}");
        let bs = |n: u32| {
            let h = 1.0 / f64::from(n);
            let y = (0..n).fold([1.0, 0.0], |y, i| {
                let t = f64::from(i) * h;
                pair_third(&mut swing, t, &y, &swing(t, &y), h, &tight()).0
            });
            (y[0] - 1f64.cos()).abs()
        };
        let order = (bs(20) / bs(40)).log2();
        assert!((order - 3.0).abs() < 0.3, "{order}");
    }

    #[test]
    fn agrees_with_another_integrator_on_a_stiff_swing() {
        use ode_solvers::{Dopri5, System, Vector2};
        struct Pol;
        impl System<f64, Vector2<f64>> for Pol {
            fn system(&self, _: f64, y: &Vector2<f64>, dy: &mut Vector2<f64>) {
                dy[0] = y[1];
                dy[1] = 5.0 * (1.0 - y[0] * y[0]) * y[1] - y[0];
            }
        }
        let mut other = Dopri5::new(Pol, 0.0, 20.0, 0.01, Vector2::new(2.0, 0.0), 1e-10, 1e-12);
        other.integrate().unwrap();
        let theirs = *other.y_out().last().unwrap();
        let f = |_: f64, y: &State<2>| [y[1], 5.0 * (1.0 - y[0] * y[0]) * y[1] - y[0]];
        let ours = integrate(f, 0.0, 20.0, [2.0, 0.0], &tight(), |_, _, _| {}).unwrap();
        // scipy's DOP853 at 1e-13.
        assert!((ours[0] + 1.601_296_88).abs() < 1e-8 && (ours[1] - 0.198_326_68).abs() < 1e-8);
        assert!((ours[0] - theirs[0]).abs() < 1e-7 && (ours[1] - theirs[1]).abs() < 1e-7);
        let less = Accuracy {
            relative: 1e-8,
            absolute: 1e-10,
            ..tight()
        };
        let third = integrate_third(f, 0.0, 20.0, [2.0, 0.0], &less, |_, _, _| {}).unwrap();
        assert!((third[0] - theirs[0]).abs() < 1e-5 && (third[1] - theirs[1]).abs() < 1e-5);
    }

    #[test]
    fn a_sum_that_should_stay_stays() {
        let f = |_: f64, y: &State<3>| {
            let (a, b) = (0.7 * y[0] * y[1], 0.3 * y[1]);
            [-a, a - b, b]
        };
        let end = integrate(f, 0.0, 30.0, [0.99, 0.01, 0.0], &tight(), |_, _, _| {}).unwrap();
        assert!((end.iter().sum::<f64>() - 1.0).abs() < 1e-13);
    }

    #[test]
    fn gives_up_where_there_is_no_answer() {
        // y' = y^2 from 1 runs away at t = 1.
        let f = |_: f64, y: &State<1>| [y[0] * y[0]];
        let e = integrate(f, 0.0, 2.0, [1.0], &tight(), |_, _, _| {}).unwrap_err();
        assert!(e.at <= 1.0 && e.at > 0.9);
    }
}
