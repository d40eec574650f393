//! A number the builder gave, with how sure they are of it and where it came from.

/// One SI value with the half-width of its 95 % interval.
///
/// Angles are in radians, temperatures in degrees Celsius, everything else in plain SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// Best value.
    pub value: f64,
    /// Half-width of the 95 % interval, same unit, never negative; 0 when none was given.
    pub spread: f64,
    /// Who said so.
    pub origin: Origin,
}

/// Where a [`Measure`] came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Written in the boat file.
    Given,
    /// Nobody supplied it: our stated default, with the reason a builder is shown.
    Assumed(&'static str),
    /// Corrected from recordings.
    Learned,
}

impl Measure {
    /// A value from the boat file without a tolerance.
    pub const fn given(value: f64) -> Self {
        Self {
            value,
            spread: 0.0,
            origin: Origin::Given,
        }
    }

    /// A stated default with its spread and the reason shown to the builder.
    pub const fn assumed(value: f64, spread: f64, why: &'static str) -> Self {
        Self {
            value,
            spread,
            origin: Origin::Assumed(why),
        }
    }

    /// The same with a spread of `half_width` (95 %).
    pub const fn with_spread(self, half_width: f64) -> Self {
        Self {
            value: self.value,
            spread: half_width,
            origin: self.origin,
        }
    }

    /// Whether nobody supplied this number.
    pub const fn is_assumed(&self) -> bool {
        matches!(self.origin, Origin::Assumed(_))
    }
}
