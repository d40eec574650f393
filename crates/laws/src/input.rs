//! Input checks shared by the laws.

/// An input with which a law has no meaning.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{name} is {given}, but must be {allowed}")]
pub struct InputError {
    /// Name of the input.
    pub name: &'static str,
    /// Value given, SI (angles in radians).
    pub given: f64,
    /// What would be accepted, in words and SI.
    pub allowed: &'static str,
}

/// `given` if finite and `accept` says yes.
pub(crate) fn require(
    name: &'static str,
    given: f64,
    allowed: &'static str,
    accept: impl Fn(f64) -> bool,
) -> Result<f64, InputError> {
    if given.is_finite() && accept(given) {
        return Ok(given);
    }
    Err(InputError {
        name,
        given,
        allowed,
    })
}

pub(crate) fn positive(name: &'static str, given: f64) -> Result<f64, InputError> {
    require(name, given, "above 0", |x| x > 0.0)
}

pub(crate) fn not_negative(name: &'static str, given: f64) -> Result<f64, InputError> {
    require(name, given, "0 or more", |x| x >= 0.0)
}

pub(crate) fn finite(name: &'static str, given: f64) -> Result<f64, InputError> {
    require(name, given, "a finite number", |_| true)
}
