//! Numbers of the laws and of the boat's parts that measurements on the water may correct, and what
//! has been learned of them.
//!
//! A law's factor stands for itself (1 as published, friction 0 in the middle of its band). A part's
//! number is a multiplier on what the boat file declares, the same for every drive.

use boat::{Boat, Drive, Measure, Origin};
use craft::Factors;
use craft::factors::FACTORS;
use laws::constants::HALF_WIDTH_95 as HALF_WIDTH;
use nalgebra::DMatrix;

/// Multipliers stay above this.
const LEAST: f64 = 0.1;

/// What a lever belongs to: exchanged, it takes with it what was learned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Owner {
    /// Shape, pads, rudder, fins.
    Hull,
    /// Propeller.
    Propeller,
    /// Motor.
    Motor,
    /// Battery pack.
    Pack,
    /// Controller with its leads.
    Controller,
    /// Water line.
    Cooling,
}

impl Owner {
    /// Every owner.
    pub const ALL: [Self; 6] = [
        Self::Hull,
        Self::Propeller,
        Self::Motor,
        Self::Pack,
        Self::Controller,
        Self::Cooling,
    ];

    /// What a builder calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hull => "hull",
            Self::Propeller => "propeller",
            Self::Motor => "motor",
            Self::Pack => "pack",
            Self::Controller => "controller",
            Self::Cooling => "cooling",
        }
    }
}

/// Reaches a part's number; `None` where the drive has none.
type Reach = fn(&mut Drive) -> Option<&mut Measure>;

/// Numbers of parts: name, owner, where it is, and the 95 % half-width by which the number that holds under load may
/// differ from the one on the bench, as a share (judgement). A pack sags by more than the resistance a charger reads,
/// a winding is warm and commutated against its inductance, a motor's constant shifts with timing and saturation:
/// builders see 0.80 to 0.93 of constant times nominal volts where bench numbers promise more (common practice, no
/// source).
const PARTS: [(&str, Owner, Reach, f64); 7] = [
    (
        "motor speed constant",
        Owner::Motor,
        |d| Some(&mut d.motor.kv_rad_s_v),
        0.06,
    ),
    (
        "motor resistance",
        Owner::Motor,
        |d| Some(&mut d.motor.resistance_ohm),
        1.0,
    ),
    (
        "motor no-load current",
        Owner::Motor,
        |d| Some(&mut d.motor.no_load_current_a),
        0.4,
    ),
    (
        "pack resistance",
        Owner::Pack,
        |d| Some(&mut d.battery.cell_resistance_ohm),
        0.8,
    ),
    (
        "controller and lead resistance",
        Owner::Controller,
        |d| Some(&mut d.controller.resistance_ohm),
        0.5,
    ),
    (
        "propeller pitch",
        Owner::Propeller,
        |d| Some(&mut d.propeller.pitch_ratio),
        0.0,
    ),
    (
        "cooling water's ram pressure",
        Owner::Cooling,
        |d| d.cooling.as_mut().map(|c| &mut c.recovery),
        0.0,
    ),
];

/// One number that may be corrected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lever(usize);

impl Lever {
    /// Every lever: the laws' factors first, then numbers of parts.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..FACTORS.len() + PARTS.len()).map(Self)
    }

    /// By its name.
    pub fn named(name: &str) -> Option<Self> {
        Self::all().find(|l| l.name() == name)
    }

    /// What a builder calls it.
    pub fn name(self) -> &'static str {
        match FACTORS.get(self.0) {
            Some(factor) => factor.name,
            None => PARTS[self.0 - FACTORS.len()].0,
        }
    }

    /// What it belongs to.
    pub fn owner(self) -> Owner {
        match FACTORS.get(self.0) {
            Some(factor) if factor.name.starts_with("propeller") => Owner::Propeller,
            Some(_) => Owner::Hull,
            None => PARTS[self.0 - FACTORS.len()].1,
        }
    }

    /// Whether it is a law's factor rather than a multiplier on a part's number.
    pub fn is_law(self) -> bool {
        self.0 < FACTORS.len()
    }

    /// Value and 95 % half-width before any measurement, the declared tolerance and the doubt about bench numbers
    /// together; `None` where the boat has no such number or nothing is uncertain about it.
    pub fn prior(self, boat: &Boat) -> Option<(f64, f64)> {
        if let Some(factor) = FACTORS.get(self.0) {
            return Some((
                (factor.of)(&mut Factors::default()).to_owned(),
                factor.spread,
            ));
        }
        let mut drive = boat.drives.first()?.clone();
        let (.., reach, under_load) = PARTS[self.0 - FACTORS.len()];
        let measure = reach(&mut drive)?;
        let relative = (measure.spread / measure.value.abs()).hypot(under_load);
        (relative.is_finite() && relative > 0.0).then_some((1.0, relative))
    }

    /// The same value, kept where it makes sense.
    fn kept_sane(self, value: f64) -> f64 {
        let nominal = FACTORS
            .get(self.0)
            .map_or(1.0, |f| *(f.of)(&mut Factors::default()));
        if nominal == 0.0 {
            value.clamp(-1.0, 1.0)
        } else {
            value.max(LEAST * nominal)
        }
    }

    /// Sets it in a boat as declared, or in a set of factors.
    pub fn set(self, value: f64, boat: &mut Boat, factors: &mut Factors) {
        let value = self.kept_sane(value);
        if let Some(factor) = FACTORS.get(self.0) {
            *(factor.of)(factors) = value;
            return;
        }
        for drive in &mut boat.drives {
            if let Some(measure) = (PARTS[self.0 - FACTORS.len()].2)(drive) {
                measure.value *= value;
            }
        }
    }
}

/// What is known of one lever after measuring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Knob {
    /// Which.
    pub lever: Lever,
    /// Best value.
    pub mean: f64,
    /// Standard uncertainty.
    pub sigma: f64,
    /// Before measuring: value and standard uncertainty.
    pub before: (f64, f64),
}

/// A turn that was measured: what the water did, whatever the model says.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnSeen {
    /// To the left.
    pub to_port: bool,
    /// m.
    pub radius_m: f64,
    /// In the turn, m/s.
    pub speed_m_s: Option<f64>,
    /// On which outing.
    pub on: String,
}

/// What has been learned of a boat; nothing unless the builder asked to keep it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Learned {
    knobs: Vec<Knob>,
    /// Lower triangle whose product with its transpose is the covariance.
    root: Option<DMatrix<f64>>,
    /// From which outings, for whoever reads an answer that carries it.
    pub from: Vec<String>,
    /// Why parts of it do not carry to this boat, in words.
    pub left_out: Vec<String>,
    /// The tightest turn measured to each side.
    pub turns: Vec<TurnSeen>,
}

impl Learned {
    /// From knobs and their correlation; `None` where no joint distribution has it.
    pub fn new(knobs: Vec<Knob>, correlation: &DMatrix<f64>, from: Vec<String>) -> Option<Self> {
        let n = knobs.len();
        if correlation.shape() != (n, n) {
            return None;
        }
        // Written to a few digits, a matrix may be short of positive by as much.
        let covariance = DMatrix::from_fn(n, n, |i, j| {
            let ease = if i == j { 1.0 + 1e-6 } else { 1.0 };
            let both = 0.5 * (correlation[(i, j)] + correlation[(j, i)]);
            ease * both * knobs[i].sigma * knobs[j].sigma
        });
        let root = if n == 0 {
            None
        } else {
            Some(covariance.cholesky()?.l())
        };
        Some(Self {
            knobs,
            root,
            from,
            left_out: Vec::new(),
            turns: Vec::new(),
        })
    }

    /// Nothing carries.
    pub fn is_empty(&self) -> bool {
        self.knobs.is_empty()
    }

    /// What is known of each lever.
    pub fn knobs(&self) -> &[Knob] {
        &self.knobs
    }

    /// The laws' factors, corrected.
    pub fn factors(&self) -> Factors {
        let mut factors = Factors::default();
        for knob in self.knobs.iter().filter(|k| k.lever.is_law()) {
            *(FACTORS[knob.lever.0].of)(&mut factors) = knob.lever.kept_sane(knob.mean);
        }
        factors
    }

    /// Corrects the parts' numbers of a boat as declared.
    pub fn correct(&self, boat: &mut Boat) {
        for knob in self.knobs.iter().filter(|k| !k.lever.is_law()) {
            for drive in &mut boat.drives {
                if let Some(measure) = (PARTS[knob.lever.0 - FACTORS.len()].2)(drive) {
                    measure.spread = HALF_WIDTH * knob.sigma * measure.value.abs();
                    measure.value *= knob.lever.kept_sane(knob.mean);
                    measure.origin = Origin::Learned;
                }
            }
        }
    }

    /// One draw of all of them together; `boat` is corrected, `varied` a variation of it.
    pub(crate) fn draw(
        &self,
        mut normal: impl FnMut() -> f64,
        boat: &Boat,
        varied: &mut Boat,
        factors: &mut Factors,
    ) {
        let Some(root) = &self.root else {
            return;
        };
        let deviates = nalgebra::DVector::from_fn(self.knobs.len(), |_, _| normal());
        let moved = root * deviates;
        for (knob, by) in self.knobs.iter().zip(moved.iter()) {
            let value = knob.lever.kept_sane(knob.mean + by);
            if knob.lever.is_law() {
                *(FACTORS[knob.lever.0].of)(factors) = value;
                continue;
            }
            let reach = PARTS[knob.lever.0 - FACTORS.len()].2;
            let ratio = value / knob.lever.kept_sane(knob.mean);
            for (drive, base) in varied.drives.iter_mut().zip(&boat.drives) {
                let corrected = reach(&mut base.clone()).map(|m| m.value);
                if let (Some(measure), Some(corrected)) = (reach(drive), corrected) {
                    measure.value = corrected * ratio;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn boat() -> Boat {
        let text = boat::template("three-point", "Test").expect("a starter hull");
        boat::load(&text, "boat.toml").expect("a sound template").0
    }

    fn knob(name: &str, mean: f64, sigma: f64) -> Knob {
        Knob {
            lever: Lever::named(name).expect("a lever"),
            mean,
            sigma,
            before: (1.0, 0.1),
        }
    }

    #[test]
    fn names_are_unique_and_found() {
        for lever in Lever::all() {
            assert_eq!(Lever::named(lever.name()), Some(lever));
        }
        assert_eq!(Lever::named("luck"), None);
    }

    #[test]
    fn a_corrected_boat_has_the_learned_value_and_spread() {
        let mut corrected = boat();
        let was = corrected.drives[0].motor.resistance_ohm.value;
        let learned = Learned::new(
            vec![knob("motor resistance", 1.2, 0.05)],
            &DMatrix::identity(1, 1),
            Vec::new(),
        )
        .unwrap();
        learned.correct(&mut corrected);
        let now = corrected.drives[0].motor.resistance_ohm;
        assert!((now.value - 1.2 * was).abs() < 1e-12 * was);
        assert!((now.spread - 1.96 * 0.05 * was).abs() < 1e-9 * was);
        assert_eq!(now.origin, Origin::Learned);
        assert_eq!(learned.factors(), Factors::default());
    }

    #[test]
    fn draws_keep_the_correlation() {
        // Thrust and resistance bound together: one deviate moves both.
        let correlation = DMatrix::from_row_slice(2, 2, &[1.0, 0.999, 0.999, 1.0]);
        let knobs = vec![
            knob("propeller thrust", 1.1, 0.05),
            knob("motor resistance", 0.9, 0.09),
        ];
        let learned = Learned::new(knobs, &correlation, Vec::new()).unwrap();
        let mut base = boat();
        learned.correct(&mut base);
        let (mut varied, mut factors) = (base.clone(), Factors::default());
        let mut deviates = [2.0, 0.0].into_iter();
        learned.draw(
            || deviates.next().unwrap(),
            &base,
            &mut varied,
            &mut factors,
        );
        assert!((factors.thrust - 1.2).abs() < 1e-3);
        let ratio =
            varied.drives[0].motor.resistance_ohm.value / base.drives[0].motor.resistance_ohm.value;
        assert!((ratio - 1.08 / 0.9).abs() < 1e-3, "{ratio}");
    }

    #[test]
    fn an_impossible_correlation_is_refused() {
        let knobs = vec![
            knob("propeller thrust", 1.0, 0.1),
            knob("propeller torque", 1.0, 0.1),
        ];
        let impossible = DMatrix::from_row_slice(2, 2, &[1.0, 1.5, 1.5, 1.0]);
        assert!(Learned::new(knobs, &impossible, Vec::new()).is_none());
    }
}
