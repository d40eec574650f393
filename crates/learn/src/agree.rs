//! Whether several instruments tell the same, and which one is the odd one.
//!
//! Values agree while each lies within 2.5 of its own and the others' standard uncertainties of their
//! weighted mean. With three or more, the odd one is the one without which the rest agree best, if
//! then they do.

use evidence::Measured;
use evidence::measured::weighted_mean;

/// Further apart than this is a disagreement, in standard uncertainties.
const APART: f64 = 2.5;
/// A ratio of turns is taken for one of pole pairs within this.
const NEAR_RATIO: f64 = 0.02;
/// Pole pairs of small motors.
const MOST_PAIRS: u32 = 7;

/// One instrument's word.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Which instrument.
    pub by: String,
    /// What it says.
    pub value: Measured,
}

/// How they stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Fewer than two.
    Alone,
    /// All agree.
    Agree,
    /// The rest agree without this one, which is so many sigmas from them.
    Odd(usize, f64),
    /// They disagree, and none is the odd one; the widest gap in sigmas.
    Disagree(f64),
}

/// Instruments on one quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Agreement {
    /// What each says.
    pub told: Vec<Told>,
    /// How they stand.
    pub verdict: Verdict,
}

impl Agreement {
    /// Judges them.
    pub fn of(told: Vec<Told>) -> Self {
        let told: Vec<Told> = told.into_iter().filter(|t| t.value.sigma > 0.0).collect();
        let verdict = verdict(&told);
        Self { told, verdict }
    }

    /// Whether others bear out what instrument `i` says.
    pub fn bears_out(&self, i: usize) -> bool {
        match self.verdict {
            Verdict::Agree => true,
            Verdict::Odd(odd, _) => i != odd,
            Verdict::Alone | Verdict::Disagree(_) => false,
        }
    }

    /// The mean of those that agree.
    pub fn mean(&self) -> Option<Measured> {
        let odd = match self.verdict {
            Verdict::Odd(index, _) => Some(index),
            Verdict::Disagree(_) => return None,
            _ => None,
        };
        let each = self.told.iter().enumerate();
        let kept: Vec<Measured> = each
            .filter(|(i, _)| Some(*i) != odd)
            .map(|(_, t)| t.value)
            .collect();
        weighted_mean(&kept)
    }
}

fn verdict(told: &[Told]) -> Verdict {
    if told.len() < 2 {
        return Verdict::Alone;
    }
    let all: Vec<usize> = (0..told.len()).collect();
    let worst = worst_gap(told, &all);
    if worst <= APART {
        return Verdict::Agree;
    }
    if told.len() == 2 {
        return Verdict::Disagree(worst);
    }
    let without = |i: usize| all.iter().copied().filter(|j| *j != i).collect::<Vec<_>>();
    let best = all
        .iter()
        .min_by(|a, b| misfit(told, &without(**a)).total_cmp(&misfit(told, &without(**b))));
    match best {
        Some(&odd) if worst_gap(told, &without(odd)) <= APART => {
            Verdict::Odd(odd, gap(told, odd, &without(odd)))
        }
        _ => Verdict::Disagree(worst),
    }
}

/// Distance of one from the weighted mean of others, in sigmas of both.
fn gap(told: &[Told], one: usize, others: &[usize]) -> f64 {
    let weight = |i: &usize| told[*i].value.sigma.powi(-2);
    let total: f64 = others.iter().map(weight).sum();
    let mean = others
        .iter()
        .map(|i| weight(i) * told[*i].value.value)
        .sum::<f64>()
        / total;
    let own = told[one].value;
    (own.value - mean).abs() / own.sigma.hypot(total.sqrt().recip())
}

fn worst_gap(told: &[Told], among: &[usize]) -> f64 {
    let each = among.iter().map(|i| {
        let others: Vec<usize> = among.iter().copied().filter(|j| j != i).collect();
        if others.is_empty() {
            0.0
        } else {
            gap(told, *i, &others)
        }
    });
    each.fold(0.0, f64::max)
}

fn misfit(told: &[Told], among: &[usize]) -> f64 {
    let weight = |i: &usize| told[*i].value.sigma.powi(-2);
    let total: f64 = among.iter().map(weight).sum();
    let mean = among
        .iter()
        .map(|i| weight(i) * told[*i].value.value)
        .sum::<f64>()
        / total;
    among
        .iter()
        .map(|i| weight(i) * (told[*i].value.value - mean).powi(2))
        .sum()
}

/// Pole pairs that explain a log's turns against another instrument's: those counted, those there.
pub fn pole_pairs(logged: f64, other: f64) -> Option<(u32, u32)> {
    let ratio = logged / other;
    let mut all: Vec<(u32, u32)> = (1..=MOST_PAIRS)
        .flat_map(|a| (1..=MOST_PAIRS).map(move |b| (a, b)))
        .collect();
    all.sort_by_key(|(a, b)| a + b);
    all.into_iter()
        .filter(|(a, b)| a != b)
        .find(|(a, b)| (ratio / (f64::from(*a) / f64::from(*b)) - 1.0).abs() < NEAR_RATIO)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(values: &[(f64, f64)]) -> Vec<Told> {
        let each = values.iter().map(|(v, s)| Told {
            by: String::new(),
            value: Measured::new(*v, *s),
        });
        each.collect()
    }

    #[test]
    fn three_that_agree_are_averaged() {
        let all = Agreement::of(told(&[(20.0, 0.5), (20.4, 0.5), (19.8, 0.5)]));
        assert_eq!(all.verdict, Verdict::Agree);
        assert!((all.mean().unwrap().value - 20.0667).abs() < 1e-3);
    }

    #[test]
    fn the_odd_one_of_three_is_named_even_when_it_is_the_surest() {
        let all = Agreement::of(told(&[(20.0, 0.5), (20.4, 0.5), (26.0, 0.1)]));
        assert!(
            matches!(all.verdict, Verdict::Odd(2, gap) if gap > 10.0),
            "{all:?}"
        );
        assert!((all.mean().unwrap().value - 20.2).abs() < 1e-9);
    }

    #[test]
    fn two_that_disagree_cannot_tell_which() {
        let all = Agreement::of(told(&[(20.0, 0.5), (26.0, 0.5)]));
        assert!(matches!(all.verdict, Verdict::Disagree(_)));
        assert_eq!(all.mean(), None);
        assert_eq!(Agreement::of(told(&[(20.0, 0.5)])).verdict, Verdict::Alone);
    }

    #[test]
    fn a_wrong_pole_count_is_recognised() {
        // Seven pairs counted as one: seven times too fast; six of seven: 1/6 too slow.
        assert_eq!(pole_pairs(7000.0, 1000.0), Some((7, 1)));
        assert_eq!(pole_pairs(857.0, 1000.0), Some((6, 7)));
        assert_eq!(pole_pairs(1000.0, 1000.0), None);
    }
}
