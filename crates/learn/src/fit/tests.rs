use super::*;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

const T: [f64; 7] = [0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0];

fn climb(p: &[f64]) -> Option<Vec<f64>> {
    let y = |t: &f64| p[0] * (1.0 - (-p[1] * t).exp()) - p[2] * t;
    Some(T.iter().map(y).collect())
}

fn priors() -> Vec<Measured> {
    vec![
        Measured::new(10.0, 2.0),
        Measured::new(0.6, 0.2),
        Measured::new(0.2, 0.1),
    ]
}

#[test]
fn scipy_finds_the_same_optimum() {
    let table = include_str!("../../../../checks/robust_fit.csv");
    let rows = table.lines().filter(|l| !l.starts_with('#')).skip(1);
    let mut seen = 0;
    for row in rows {
        let cells: Vec<&str> = row.split(',').collect();
        let numbers: Vec<f64> = cells[1..].iter().map(|c| c.parse().unwrap()).collect();
        let measured: Vec<Measured> = numbers[..7]
            .iter()
            .map(|y| Measured::new(*y, 0.2))
            .collect();
        let got = fit(&priors(), &measured, &[], climb).unwrap();
        for (i, prior) in priors().iter().enumerate() {
            let away = (got.mean[i] - numbers[7 + i]).abs();
            // Differenced slopes leave a thousandth of a prior sigma.
            assert!(
                away < 2e-3 * prior.sigma,
                "{row}: parameter {i} off by {away}"
            );
        }
        seen += 1;
    }
    assert_eq!(seen, 3);
}

#[test]
fn one_value_and_one_prior_average_by_their_weights() {
    // Prior 0 +- 1, value 1 +- 1: without outlier weights the mean is 1/2 and the variance 1/2;
    // with them the weight is 5 / (4 + r^2), and x = w r with r = 1 - x.
    let got = fit(
        &[Measured::new(0.0, 1.0)],
        &[Measured::new(1.0, 1.0)],
        &[],
        |p| Some(p.to_vec()),
    )
    .unwrap();
    let r = 1.0 - got.mean[0];
    assert!((got.mean[0] - 5.0 * r / (4.0 + r * r)).abs() < 1e-5);
    assert!(
        (got.sigma(0) - 0.5f64.sqrt()).abs() < 1e-9,
        "{}",
        got.sigma(0)
    );
}

/// Prior 0 +- 1, two values at 10 +- 0.1: alone each is laid aside as an outlier, borne out by the other they
/// move the model; the weighted mean of 0 with weight 1 and 10 with weight 200 is 2000 / 201. Laid aside each pulls by
/// `5 (10 - x) / (0.01 (4 + r^2))`, nearly `5 / (10 - x)`, against `x`: two of them hold it at `5 - sqrt(15)`.
#[test]
fn what_others_bear_out_moves_the_model_and_what_stands_alone_may_not() {
    let prior = [Measured::new(0.0, 1.0)];
    let seen = [Measured::new(10.0, 0.1), Measured::new(10.0, 0.1)];
    let model = |p: &[f64]| Some(vec![p[0], p[0]]);
    let agreed = fit(&prior, &seen, &[Errors::Normal; 2], model).unwrap();
    assert!(
        (agreed.mean[0] - 2000.0 / 201.0).abs() < 1e-3,
        "{}",
        agreed.mean[0]
    );
    assert_eq!(agreed.weights, [1.0, 1.0]);
    let alone = fit(&prior, &seen, &[], model).unwrap();
    let held = 5.0 - 15f64.sqrt();
    assert!((alone.mean[0] - held).abs() < 2e-3, "{}", alone.mean[0]);
}

#[test]
fn what_a_measurement_does_not_touch_keeps_its_prior() {
    let p = [Measured::new(0.0, 1.0), Measured::new(5.0, 2.0)];
    let got = fit(&p, &[Measured::new(1.0, 0.1)], &[], |p| Some(vec![p[0]])).unwrap();
    assert_eq!(got.mean[1], 5.0);
    assert!((got.sigma(1) - 2.0).abs() < 1e-12);
}

#[test]
fn two_that_act_alike_are_told_to_be_inseparable() {
    let p = [Measured::new(1.0, 0.3), Measured::new(1.0, 0.3)];
    let got = fit(&p, &[Measured::new(1.2, 0.01)], &[], |p| {
        Some(vec![p[0] * p[1]])
    })
    .unwrap();
    assert!(got.correlation(0, 1) < -0.95);
    assert!(got.sigma(0) > 0.6 * 0.3);
}

#[test]
fn refuses_what_has_no_spread_or_no_answer() {
    let one = [Measured::new(1.0, 0.1)];
    let same = |p: &[f64]| Some(p.to_vec());
    assert_eq!(fit(&one, &[], &[], same), Err(FitError::NoMeasurement));
    assert_eq!(
        fit(&one, &[Measured::new(1.0, 0.0)], &[], same),
        Err(FitError::NoSpread)
    );
    assert_eq!(fit(&one, &one, &[], |_| None), Err(FitError::NoModel));
}

/// Truth drawn from the priors, values with normal errors: how often the 95 % interval holds it.
#[test]
fn the_stated_interval_holds_the_truth_as_often_as_stated() {
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    let priors = priors();
    let (mut held, mut all) = (0, 0);
    for _ in 0..600 {
        let truth: Vec<f64> = priors
            .iter()
            .map(|p| p.value + p.sigma * normal(&mut rng))
            .collect();
        let exact = climb(&truth).unwrap();
        let measured: Vec<Measured> = exact
            .iter()
            .map(|y| Measured::new(y + 0.2 * normal(&mut rng), 0.2))
            .collect();
        let got = fit(&priors, &measured, &[], climb).unwrap();
        for (i, t) in truth.iter().enumerate() {
            all += 1;
            held += usize::from((t - got.mean[i]).abs() < 1.96 * got.sigma(i));
        }
    }
    let rate = f64::from(held as u32) / f64::from(all);
    // 1800 intervals, three by three alike: standard error about 0.7 %.
    assert!(
        (0.925..0.975).contains(&rate),
        "95 % intervals hold the truth {:.1} % of the time",
        100.0 * rate
    );
}

fn normal(rng: &mut ChaCha8Rng) -> f64 {
    let (u, v): (f64, f64) = (rng.random(), rng.random());
    (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}
