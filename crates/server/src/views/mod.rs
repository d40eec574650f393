//! What the page is sent: plain shapes with units, described in the API document.

pub mod form;
pub mod mesh;
pub mod poses;
pub mod sheet;
pub mod staves;
pub mod strength;
pub mod study;
pub mod verdict;
pub mod wetted;
pub mod worth;

use advice::Number;
use serde::Serialize;
use utoipa::ToSchema;

/// A value with its spread (95 % half-width) and unit.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
pub struct NumberView {
    /// In `unit`; nothing where it could not be worked out.
    pub value: Option<f64>,
    /// In `unit`; 0 when not estimated.
    pub spread: f64,
    /// As the trade writes it; empty for a plain number.
    pub unit: String,
    /// For reading: `38 ± 3 mm`.
    pub shown: String,
}

impl From<&Number> for NumberView {
    fn from(number: &Number) -> Self {
        let (value, spread) = number.shown();
        Self {
            value: finite(value),
            spread: finite(spread).unwrap_or(0.0),
            unit: number.unit().to_owned(),
            shown: number.to_string(),
        }
    }
}

/// Six digits; nothing for what is not a number.
pub fn finite(x: f64) -> Option<f64> {
    x.is_finite().then(|| advice::number::significant(x))
}

/// A point, m, to a hundredth of a millimetre.
pub fn point(v: &nalgebra::Vector3<f64>) -> [f64; 3] {
    [v.x, v.y, v.z].map(|x| (x * 1e5).round() / 1e5)
}
