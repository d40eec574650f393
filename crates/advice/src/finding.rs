//! One finding: a sentence a builder would say, with the number behind it.

use boat::Edit;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::fmt;
use utoipa::ToSchema;

use crate::number::Number;

/// How a finding stands, worst first.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum Standing {
    /// It would fail as it is.
    Stop,
    /// It would work, but near a limit or against common practice.
    Watch,
    /// Cannot be told from what is known.
    Unsure,
    /// As it should be.
    Good,
}

impl Standing {
    /// Every standing, worst first.
    pub const ALL: [Standing; 4] = [Self::Stop, Self::Watch, Self::Unsure, Self::Good];

    /// The word shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Watch => "watch",
            Self::Unsure => "unsure",
            Self::Good => "good",
        }
    }

    /// A shape that tells it without colour.
    pub const fn mark(self) -> &'static str {
        match self {
            Self::Stop => "■",
            Self::Watch => "▲",
            Self::Unsure => "◇",
            Self::Good => "●",
        }
    }
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// What a finding rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Weights, volumes and angles: nothing but the builder's own numbers.
    Statics,
    /// Laws held against published measurements of other hulls, motors or cells.
    MeasuredElsewhere,
    /// Laws nobody has held against measurement at this size.
    TheoryOnly,
    /// What builders do.
    RuleOfThumb,
}

impl Basis {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Statics => "weights and volumes",
            Self::MeasuredElsewhere => "laws measured elsewhere",
            Self::TheoryOnly => "theory only, unvalidated",
            Self::RuleOfThumb => "rule of thumb (common practice, no source)",
        }
    }
}

/// What the number is held against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Limit {
    /// It should be at least this.
    pub at_least: Option<Number>,
    /// It should be at most this.
    pub at_most: Option<Number>,
    /// Who says so.
    pub says: String,
}

impl Limit {
    /// A lower limit.
    pub fn at_least(limit: Number, says: impl Into<String>) -> Self {
        Self {
            at_least: Some(limit),
            at_most: None,
            says: says.into(),
        }
    }

    /// An upper limit.
    pub fn at_most(limit: Number, says: impl Into<String>) -> Self {
        Self {
            at_least: None,
            at_most: Some(limit),
            says: says.into(),
        }
    }

    /// A band.
    pub fn between(low: Number, high: Number, says: impl Into<String>) -> Self {
        Self {
            at_least: Some(low),
            at_most: Some(high),
            says: says.into(),
        }
    }

    /// By how much `value` keeps inside, SI; negative is outside.
    pub fn margin(&self, value: f64) -> f64 {
        let below = self
            .at_least
            .map_or(f64::INFINITY, |limit| value - limit.value);
        let above = self
            .at_most
            .map_or(f64::INFINITY, |limit| limit.value - value);
        if value.is_nan() {
            return f64::NAN;
        }
        below.min(above)
    }

    /// Outside is `outside`; inside but nearer to the limit than the spread is a watch.
    pub fn judge(&self, number: &Number, outside: Standing) -> Standing {
        let margin = self.margin(number.value);
        if margin.is_nan() {
            Standing::Unsure
        } else if margin < 0.0 {
            outside
        } else if margin < number.spread {
            Standing::Watch
        } else {
            Standing::Good
        }
    }
}

impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.at_least, &self.at_most) {
            (Some(low), Some(high)) => write!(f, "{} to {}", said(low), said(high)),
            (Some(low), None) => write!(f, "at least {}", said(low)),
            (None, Some(high)) => write!(f, "at most {}", said(high)),
            (None, None) => Ok(()),
        }
    }
}

/// A limit of one is no number of times.
fn said(limit: &Number) -> String {
    match limit.unit() {
        "times" => limit.digits(),
        _ => limit.plain(),
    }
}

/// An adjustment and what it does to the finding's number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Change {
    /// What to do: `Battery 10 mm forward`.
    pub what: String,
    /// What it gives: `top speed 52 km/h becomes 55 km/h`.
    pub effect: String,
    /// Whether it moves the number the right way.
    pub better: bool,
    /// Changes of the boat file that do it; none for what is built rather than set.
    pub edits: Vec<Edit>,
}

/// One line of the why: a label and a value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Figure {
    /// What it is.
    pub label: String,
    /// Its value with unit.
    pub value: String,
}

impl Figure {
    /// From anything printable.
    pub fn new(label: impl Into<String>, value: impl fmt::Display) -> Self {
        Self {
            label: label.into(),
            value: value.to_string(),
        }
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Finding {
    /// Stable name, for scripts: `floats`, `hump`, `top-speed`.
    pub id: Cow<'static, str>,
    /// How it stands.
    pub standing: Standing,
    /// One sentence a builder would say.
    pub sentence: String,
    /// The number behind it.
    pub number: Option<Number>,
    /// What the number is held against.
    pub limit: Option<Limit>,
    /// What it rests on.
    pub basis: Basis,
    /// How it comes about.
    pub why: String,
    /// The figures behind the why.
    pub figures: Vec<Figure>,
    /// The few adjustments with the greatest effect, best first.
    pub changes: Vec<Change>,
    /// A caution for whoever is about to touch the thing.
    pub caution: Option<Cow<'static, str>>,
}

impl Finding {
    /// A finding of which only the sentence is known yet.
    pub fn new(
        id: &'static str,
        standing: Standing,
        basis: Basis,
        sentence: impl Into<String>,
    ) -> Self {
        Self {
            id: id.into(),
            standing,
            sentence: sentence.into(),
            number: None,
            limit: None,
            basis,
            why: String::new(),
            figures: Vec::new(),
            changes: Vec::new(),
            caution: None,
        }
    }

    /// With its number.
    pub fn number(mut self, number: Number) -> Self {
        self.number = Some(number);
        self
    }

    /// With its limit.
    pub fn limit(mut self, limit: Limit) -> Self {
        self.limit = Some(limit);
        self
    }

    /// With how it comes about.
    pub fn why(mut self, why: impl Into<String>) -> Self {
        self.why = why.into();
        self
    }

    /// With one more figure.
    pub fn figure(mut self, label: impl Into<String>, value: impl fmt::Display) -> Self {
        self.figures.push(Figure::new(label, value));
        self
    }

    /// With what would change it.
    pub fn changes(mut self, changes: Vec<Change>) -> Self {
        self.changes = changes;
        self
    }

    /// With a caution.
    pub fn caution(mut self, caution: &'static str) -> Self {
        self.caution = Some(caution.into());
        self
    }

    /// Says how far the number could reach where only its spread meets the limit, so that *watch* never stands
    /// beside a sentence that is content.
    pub fn with_reach_told(mut self) -> Self {
        if let (Some(number), Some(limit)) = (&self.number, &self.limit) {
            let margin = limit.margin(number.value);
            if self.standing == Standing::Watch && (0.0..number.spread).contains(&margin) {
                self.sentence
                    .push_str(&format!(" It could be {}.", number.reach()));
            }
        }
        self
    }

    /// Worst first; within a standing, the one furthest outside its limit by its own spread.
    pub fn sort(findings: &mut [Finding]) {
        findings.sort_by(|a, b| {
            a.standing
                .cmp(&b.standing)
                .then(a.relative_margin().total_cmp(&b.relative_margin()))
        });
    }

    fn relative_margin(&self) -> f64 {
        match (&self.number, &self.limit) {
            (Some(number), Some(limit)) => {
                let margin = limit.margin(number.value);
                let scale = number.spread.max(0.05 * number.value.abs()).max(1e-12);
                if margin.is_finite() {
                    margin / scale
                } else {
                    f64::MAX
                }
            }
            _ => f64::MAX,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use boat::Kind;

    fn mm(value: f64, spread: f64) -> Number {
        Number::new(Kind::Length, value * 1e-3, spread * 1e-3)
    }

    #[test]
    fn a_number_near_its_limit_is_watched() {
        let limit = Limit::at_least(mm(25.0, 0.0), "the builder");
        assert_eq!(limit.judge(&mm(30.0, 2.0), Standing::Stop), Standing::Good);
        assert_eq!(limit.judge(&mm(26.0, 2.0), Standing::Stop), Standing::Watch);
        assert_eq!(limit.judge(&mm(24.0, 2.0), Standing::Stop), Standing::Stop);
        let nothing = mm(f64::NAN, 0.0);
        assert_eq!(limit.judge(&nothing, Standing::Stop), Standing::Unsure);
    }

    #[test]
    fn the_worst_comes_first() {
        let make = |id, standing, value| {
            Finding::new(id, standing, Basis::Statics, "")
                .number(mm(value, 1.0))
                .limit(Limit::at_least(mm(25.0, 0.0), ""))
        };
        let mut all = vec![
            make("fine", Standing::Good, 40.0),
            make("near", Standing::Watch, 25.5),
            make("bad", Standing::Stop, 20.0),
            make("worse", Standing::Stop, 5.0),
        ];
        Finding::sort(&mut all);
        let order: Vec<_> = all.iter().map(|f| &*f.id).collect();
        assert_eq!(order, ["worse", "bad", "near", "fine"]);
    }
}
