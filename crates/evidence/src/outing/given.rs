//! Quantities as the builder writes them (`"560 mm ± 2 mm"`), read where they stand so that a
//! mistake is shown at its line and column.

use crate::measured::Measured;
use boat::{BoatFileError, Kind, Problem, Severity, parse_quantity};
use serde::de::{DeserializeOwned, Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::marker::PhantomData;

/// Half-width of a 95 % interval over the standard uncertainty of a normal distribution.
pub use laws::constants::HALF_WIDTH_95 as HALF_WIDTH;
/// Larger texts are no notes.
const MAX_BYTES: usize = 4 << 20;

/// What a quantity measures.
pub trait Dimension {
    /// The kind it is read as.
    const KIND: Kind;
}

macro_rules! dimensions {
    ($($name:ident $kind:ident $words:literal;)*) => {$(
        #[doc = $words]
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub struct $name;
        impl Dimension for $name {
            const KIND: Kind = Kind::$kind;
        }
    )*};
}
dimensions! {
    Metres Length "m.";
    Seconds Time "s.";
    MetresPerSecond Speed "m/s.";
    DegreesCelsius Temperature "degC.";
    ShaftSpeed ShaftSpeed "rad/s.";
    Part Fraction "A share, 0 to 1.";
}

/// A quantity with its standard uncertainty, SI; exact when no tolerance was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Given<D>(pub Measured, PhantomData<D>);

impl<D> Given<D> {
    /// Its value.
    pub fn value(&self) -> f64 {
        self.0.value
    }
}

impl<'de, D: Dimension> Deserialize<'de> for Given<D> {
    fn deserialize<T: Deserializer<'de>>(deserializer: T) -> Result<Self, T::Error> {
        struct Text<D>(PhantomData<D>);
        impl<D: Dimension> Visitor<'_> for Text<D> {
            type Value = Given<D>;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a quantity with its unit in quotes, such as ")?;
                f.write_str(example(D::KIND))
            }
            fn visit_str<E: Error>(self, text: &str) -> Result<Given<D>, E> {
                let q = parse_quantity(D::KIND, text)
                    .map_err(|e| E::custom(format!("{}; {}", e.message, e.help)))?;
                let sigma = q.spread.unwrap_or(0.0) / HALF_WIDTH;
                Ok(Given(Measured::new(q.value, sigma), PhantomData))
            }
        }
        deserializer.deserialize_any(Text(PhantomData))
    }
}

fn example(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "\"560 mm ± 2 mm\"",
        Kind::Time => "\"2.5 s\"",
        Kind::Speed => "\"3 m/s\"",
        Kind::Temperature => "\"14 degC\"",
        Kind::ShaftSpeed => "\"30000 rpm\"",
        _ => "\"2 %\"",
    }
}

/// Reads a TOML text into a form, with the place of what is wrong.
///
/// # Errors
/// [`BoatFileError`], drawn like a boat file's.
pub fn from_toml<T: DeserializeOwned>(text: &str, file_name: &str) -> Result<T, BoatFileError> {
    check_size(text, file_name)?;
    toml::from_str(text).map_err(|e| {
        let span = e.span().unwrap_or(0..0);
        one(text, file_name, e.message(), span)
    })
}

/// Reads a JSON text in the same way.
///
/// # Errors
/// [`BoatFileError`].
pub fn from_json<T: DeserializeOwned>(text: &str, file_name: &str) -> Result<T, BoatFileError> {
    check_size(text, file_name)?;
    serde_json::from_str(text).map_err(|e| {
        let line: usize = text
            .split_inclusive('\n')
            .take(e.line().saturating_sub(1))
            .map(str::len)
            .sum();
        let at = (line + e.column().saturating_sub(1)).min(text.len());
        let message = e.to_string();
        let plain = message.split(" at line ").next().unwrap_or(&message);
        one(text, file_name, plain, at..at)
    })
}

fn check_size(text: &str, file_name: &str) -> Result<(), BoatFileError> {
    if text.len() <= MAX_BYTES {
        return Ok(());
    }
    Err(one("", file_name, "the file is over 4 MB", 0..0))
}

fn one(text: &str, file_name: &str, message: &str, span: std::ops::Range<usize>) -> BoatFileError {
    let help = message
        .starts_with("unknown field")
        .then(|| "docs/recordings.md lists what may stand here".to_owned());
    let problem = Problem {
        message: message.trim().to_owned(),
        help,
        span,
        severity: Severity::Error,
    };
    BoatFileError::new(file_name, text, vec![problem])
}

#[cfg(test)]
mod tests {
    use super::*;
    use boat::line_and_column;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Form {
        length: Given<Metres>,
    }

    #[test]
    fn a_quantity_is_read_and_a_mistake_is_shown_in_its_place() {
        let good: Form = from_toml("length = \"560 mm ± 2 mm\"", "a.toml").unwrap();
        assert!((good.length.0.value - 0.56).abs() < 1e-12);
        assert!((good.length.0.sigma - 0.002 / 1.96).abs() < 1e-12);
        let text = "# a boat\nlength = 560\n";
        let bad = from_toml::<Form>(text, "a.toml").unwrap_err();
        assert_eq!(line_and_column(text, bad.problems[0].span.start), (2, 10));
        assert!(
            bad.problems[0].message.contains("unit in quotes"),
            "{bad:?}"
        );
        let text = "{\n \"length\": \"560 kg\"\n}";
        let bad = from_json::<Form>(text, "a.json").unwrap_err();
        assert_eq!(line_and_column(text, bad.problems[0].span.start).0, 2);
        let bad = from_toml::<Form>("lenght = \"1 m\"", "a.toml").unwrap_err();
        assert!(
            bad.problems[0].message.contains("unknown field `lenght`"),
            "{bad:?}"
        );
    }
}
