//! Round numbers along an axis.

/// Ticks of an axis: its ends and every tick lie on whole multiples of one step, which is 1, 2 or
/// 5 times a power of ten.
#[derive(Debug, Clone, PartialEq)]
pub struct Ticks {
    /// Distance between ticks.
    pub step: f64,
    /// In order, the first at or below the data, the last at or above.
    pub at: Vec<f64>,
    decimals: usize,
}

impl Ticks {
    /// About `wanted` ticks (at least 2) that cover `low` to `high`. Values that are not finite
    /// count as 0; a range without width is given one.
    pub fn cover(low: f64, high: f64, wanted: usize) -> Self {
        let sane = |x: f64| {
            if x.is_finite() {
                x.clamp(-1e15, 1e15)
            } else {
                0.0
            }
        };
        let (a, b) = (sane(low), sane(high));
        let (mut low, mut high) = (a.min(b), a.max(b));
        let least = 1e-9 * low.abs().max(high.abs()).max(1e-3);
        if high - low < least {
            let half = 0.5 * low.abs().max(1.0);
            (low, high) = (low - half, high + half);
        }
        let rough = (high - low) / (wanted.max(2) - 1) as f64;
        let power = rough.log10().floor() as i32;
        let scale = 10f64.powi(power);
        let times = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .find(|t| t * scale >= rough * (1.0 - 1e-9))
            .unwrap_or(10.0);
        let step = times * scale;
        // A little slack, so that a limit on a tick does not gain another.
        let first = (low / step + 1e-6).floor();
        let last = (high / step - 1e-6).ceil();
        let count = (last - first) as usize;
        let at = (0..=count).map(|i| (first + i as f64) * step).collect();
        let power = if times == 10.0 { power + 1 } else { power };
        Self {
            step,
            at,
            decimals: (-power).max(0) as usize,
        }
    }

    /// First tick.
    pub fn low(&self) -> f64 {
        self.at.first().copied().unwrap_or(0.0)
    }

    /// Last tick.
    pub fn high(&self) -> f64 {
        self.at.last().copied().unwrap_or(1.0)
    }

    /// A tick as printed.
    pub fn label(&self, value: f64) -> String {
        fixed(value, self.decimals)
    }
}

/// `value` to `places` decimals, without a negative zero.
pub fn fixed(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let text = format!("{value:.places$}");
    if text.trim_start_matches(['-', '0', '.']).is_empty() {
        return text.trim_start_matches('-').to_owned();
    }
    // A true minus sign, as wide as a plus.
    text.replacen('-', "−", 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        let ticks = Ticks::cover(0.0, 47.3, 6);
        assert_eq!(ticks.at, [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]);
        let ticks = Ticks::cover(-0.13, 0.42, 4);
        assert_eq!(ticks.step, 0.2);
        let labels: Vec<_> = ticks.at.iter().map(|t| ticks.label(*t)).collect();
        assert_eq!(labels, ["−0.2", "0.0", "0.2", "0.4", "0.6"]);
        // A limit on a tick keeps that tick as the end.
        assert_eq!(Ticks::cover(0.0, 0.3, 4).at.len(), 4);
    }

    proptest! {
        #[test]
        fn ticks_cover_the_data_with_round_steps(
            low in -1e6f64..1e6,
            width in prop_oneof![Just(0.0), 1e-6f64..1.0, 1.0f64..1e7],
            wanted in 2usize..12,
        ) {
            let high = low + width;
            let ticks = Ticks::cover(low, high, wanted);
            let slack = 2e-6 * ticks.step;
            prop_assert!(ticks.low() <= low + slack && ticks.high() >= high - slack);
            prop_assert!(ticks.at.windows(2).all(|w| w[1] > w[0]));
            prop_assert!(ticks.at.len() >= 2 && ticks.at.len() <= wanted + 2);
            let scale = 10f64.powi(ticks.step.log10().floor() as i32);
            let times = ticks.step / scale;
            let round = [1.0, 2.0, 5.0, 10.0].iter().any(|r| (times - r).abs() < 1e-6);
            prop_assert!(round, "{}", ticks.step);
            let labels: std::collections::BTreeSet<_> =
                ticks.at.iter().map(|t| ticks.label(*t)).collect();
            prop_assert_eq!(labels.len(), ticks.at.len());
        }

        #[test]
        fn nonsense_still_gives_an_axis(low in any::<f64>(), high in any::<f64>()) {
            let ticks = Ticks::cover(low, high, 5);
            prop_assert!(ticks.at.len() >= 2);
        }
    }
}
