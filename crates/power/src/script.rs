//! Throttle against time.

use crate::PowerError;
use crate::load::Curve;

/// What the builder does with the throttle, and how the boat's speed is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Script {
    /// Name at a face.
    pub name: String,
    /// Time, s, and throttle, 0 to 1, straight between.
    pub throttle: Curve,
    /// Time, s, and speed, m/s, where it was measured; found from thrust and drag when absent.
    pub speed: Option<Curve>,
    /// Watched for this long after the last row with the boat stopped, s.
    pub soak_s: f64,
    /// Length of a lap, for energy a lap, m.
    pub lap_m: Option<f64>,
}

/// How fast a hand opens or closes the throttle in the made-up scripts, s.
const HAND_S: f64 = 1.0;

impl Script {
    /// Straights at full throttle and corners at part, as in an oval heat of some laps.
    pub fn heat(laps: u32, straight_s: f64, corner_s: f64, corner_throttle: f64) -> Self {
        let mut rows = vec![(0.0, 0.0), (2.0, 1.0)];
        let mut t = 2.0;
        let (straight, corner) = (straight_s.max(0.1), corner_s.max(0.1));
        for _ in 0..2 * laps.max(1) {
            t += straight;
            rows.push((t, 1.0));
            rows.push((t + 0.3 * HAND_S, corner_throttle.clamp(0.0, 1.0)));
            t += 0.3 * HAND_S + corner;
            rows.push((t, corner_throttle.clamp(0.0, 1.0)));
            t += 0.3 * HAND_S;
            rows.push((t, 1.0));
        }
        rows.push((t + HAND_S, 0.0));
        Self::made("heat", rows)
    }

    /// Some passes at full throttle with a rest between.
    pub fn sprint(passes: u32, full_s: f64, rest_s: f64) -> Self {
        let mut rows = vec![(0.0, 0.0)];
        let mut t = 0.0;
        for _ in 0..passes.max(1) {
            rows.push((t + HAND_S, 1.0));
            rows.push((t + HAND_S + full_s.max(0.1), 1.0));
            rows.push((t + 2.0 * HAND_S + full_s.max(0.1), 0.15));
            t += 2.0 * HAND_S + full_s.max(0.1) + rest_s.max(0.1);
            rows.push((t, 0.15));
        }
        rows.push((t + HAND_S, 0.0));
        Self::made("sprint", rows)
    }

    /// One throttle held.
    pub fn cruise(throttle: f64, time_s: f64) -> Self {
        let level = throttle.clamp(0.0, 1.0);
        let end = 2.0 + time_s.max(0.1);
        let rows = vec![(0.0, 0.0), (2.0, level), (end, level), (end + HAND_S, 0.0)];
        Self::made("cruise", rows)
    }

    /// A measured log: time and throttle, and time and speed if there is one.
    ///
    /// # Errors
    /// [`PowerError::Table`] naming the row that is out of order or no number.
    pub fn log(
        throttle: Vec<(f64, f64)>,
        speed: Option<Vec<(f64, f64)>>,
    ) -> Result<Self, PowerError> {
        let held = throttle
            .into_iter()
            .map(|(t, d)| (t, d.clamp(0.0, 1.0)))
            .collect();
        Ok(Self {
            name: "log".to_owned(),
            throttle: Curve::new("throttle log", held)?,
            speed: speed.map(|s| Curve::new("speed log", s)).transpose()?,
            soak_s: 0.0,
            lap_m: None,
        })
    }

    /// The same, watched after stopping.
    pub fn with_soak(self, soak_s: f64) -> Self {
        Self {
            soak_s: soak_s.max(0.0),
            ..self
        }
    }

    /// The same, with a lap's length.
    pub fn with_lap(self, lap_m: f64) -> Self {
        Self {
            lap_m: Some(lap_m),
            ..self
        }
    }

    fn made(name: &str, rows: Vec<(f64, f64)>) -> Self {
        let throttle = Curve::new("throttle script", rows)
            .unwrap_or_else(|_| unreachable!("rows are made in order"));
        Self {
            name: name.to_owned(),
            throttle,
            speed: None,
            soak_s: 0.0,
            lap_m: None,
        }
    }

    /// Times at which something bends, the soak's end included.
    pub fn knots(&self) -> Vec<f64> {
        let mut all: Vec<f64> = self.throttle.points().iter().map(|p| p.0).collect();
        if let Some(speed) = &self.speed {
            all.extend(speed.points().iter().map(|p| p.0));
        }
        let (start, end) = (self.start_s(), self.end_s());
        all.retain(|t| (start..=end).contains(t));
        all.push(end + self.soak_s);
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }

    /// s.
    pub fn start_s(&self) -> f64 {
        self.throttle.points()[0].0
    }

    /// When the driving ends, s.
    pub fn end_s(&self) -> f64 {
        self.throttle.last()
    }

    /// 0 before and after.
    pub fn throttle_at(&self, t: f64) -> f64 {
        if t > self.end_s() {
            0.0
        } else {
            self.throttle.at(t)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_start_and_end_shut() {
        for s in [
            Script::heat(5, 4.0, 2.5, 0.6),
            Script::sprint(4, 6.0, 20.0),
            Script::cruise(0.4, 300.0).with_soak(60.0),
        ] {
            assert_eq!(s.throttle_at(s.start_s()), 0.0);
            assert_eq!(s.throttle_at(s.end_s() + 1.0), 0.0);
            assert!(s.knots().windows(2).all(|w| w[1] > w[0]));
            assert_eq!(*s.knots().last().unwrap(), s.end_s() + s.soak_s);
        }
        let bad = Script::log(vec![(0.0, 0.1), (1.0, 0.5), (0.5, 1.0)], None).unwrap_err();
        assert!(bad.to_string().contains("row 3"));
    }
}
