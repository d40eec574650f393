//! Numbers with units: `"38 mm"`, `"1.25 kg ± 4 %"`, `"38 mm ± 1 mm"`.
//!
//! A tolerance is the half-width of the 95 % interval: in the value's unit, in another unit of the
//! same kind, or in per cent of the value. For a fraction written in per cent the tolerance counts
//! in the same percentage points (`"30 % ± 5 %"` is 25 to 35 %).

use crate::kind::{Kind, Unit};
use crate::measure::Measure;
use crate::words;
use std::fmt::Write as _;
use std::ops::Range;

/// Longer texts are not quantities, characters.
pub(crate) const MAX_LENGTH: usize = 200;

/// A parsed quantity, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// Best value, SI (radians, degC).
    pub value: f64,
    /// Half-width of the 95 % interval, same unit; absent when none was written.
    pub spread: Option<f64>,
}

impl Quantity {
    /// As a given measure; no tolerance counts as exact.
    pub fn measure(self) -> Measure {
        Measure::given(self.value).with_spread(self.spread.unwrap_or(0.0))
    }
}

/// Why a text is not a quantity of the wanted kind.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct QuantityError {
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
    /// Bytes of the text that are wrong; never empty unless the text is.
    pub range: Range<usize>,
}

/// Reads `text` as a quantity of `kind`.
///
/// # Errors
/// [`QuantityError`] with the place inside `text` and what would be accepted: no number, a bare
/// number where a unit is needed, an unknown unit or one of another kind, a decimal comma, a
/// number too large, a negative tolerance, a text over 200 characters.
pub fn parse_quantity(kind: Kind, text: &str) -> Result<Quantity, QuantityError> {
    if let Some((start, _)) = text.char_indices().nth(MAX_LENGTH) {
        let message = format!("the value is longer than {MAX_LENGTH} characters");
        return Err(fault(message, example(kind), start..text.len()));
    }
    let (value_range, spread_range) = split_tolerance(text);
    let (number, written) = parse_side(kind, text, value_range)?;
    let value = to_si(number, written);
    if !value.is_finite() {
        return Err(fault(
            "the number is too large",
            "write a finite number".into(),
            0..text.len(),
        ));
    }
    let spread = match spread_range {
        Some(range) => Some(parse_spread(kind, text, range, value, written)?),
        None => None,
    };
    Ok(Quantity { value, spread })
}

fn to_si(number: f64, unit: Option<Unit>) -> f64 {
    unit.map_or(number, |u| number * u.factor + u.offset)
}

fn fault(message: impl Into<String>, help: String, range: Range<usize>) -> QuantityError {
    QuantityError {
        message: message.into(),
        help,
        range,
    }
}

/// The value's bytes and, if there is a tolerance sign, the tolerance's.
fn split_tolerance(text: &str) -> (Range<usize>, Option<Range<usize>>) {
    for sign in ["±", "+/-", "+-"] {
        if let Some(at) = text.find(sign) {
            return (0..at, Some(at + sign.len()..text.len()));
        }
    }
    (0..text.len(), None)
}

/// `range` without spaces at its ends.
fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let part = &text[range.clone()];
    let start = range.start + (part.len() - part.trim_start().len());
    start..start + part.trim().len()
}

/// A number and what follows it, both as bytes of `text`.
fn parse_number(
    kind: Kind,
    text: &str,
    range: Range<usize>,
) -> Result<(f64, Range<usize>), QuantityError> {
    let whole = trimmed(text, range.clone());
    let part = &text[whole.clone()];
    if part.is_empty() {
        let at = if whole.start < text.len() || text.is_empty() {
            whole
        } else {
            0..text.len()
        };
        return Err(fault("a number is missing", example(kind), at));
    }
    let length = number_length(part);
    let number_range = whole.start..whole.start + length;
    if part[length..].starts_with(',') {
        return Err(comma(kind, text, whole, length));
    }
    let number: Option<f64> = part[..length].replace('\u{2212}', "-").parse().ok();
    let Some(number) = number else {
        let message = format!("`{part}` does not start with a number");
        return Err(fault(message, example(kind), whole));
    };
    if !number.is_finite() {
        return Err(fault(
            "the number is too large",
            "write a finite number".into(),
            number_range,
        ));
    }
    Ok((number, trimmed(text, number_range.end..range.end)))
}

/// How many bytes at the start of `part` belong to a number: sign, digits, point, exponent.
fn number_length(part: &str) -> usize {
    let mut end = 0;
    let mut rest = part;
    if let Some(c) = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '+' | '-' | '\u{2212}'))
    {
        end += c.len_utf8();
        rest = &part[end..];
    }
    let mantissa = rest
        .bytes()
        .take_while(|b| b.is_ascii_digit() || *b == b'.')
        .count();
    end += mantissa;
    rest = &part[end..];
    let mut bytes = rest.bytes();
    if mantissa > 0 && matches!(bytes.next(), Some(b'e' | b'E')) {
        let signed = usize::from(matches!(rest.as_bytes().get(1), Some(b'+' | b'-')));
        let digits = rest
            .bytes()
            .skip(1 + signed)
            .take_while(u8::is_ascii_digit)
            .count();
        if digits > 0 {
            end += 1 + signed + digits;
        }
    }
    end
}

fn comma(kind: Kind, text: &str, whole: Range<usize>, length: usize) -> QuantityError {
    let part = &text[whole.clone()];
    let fixed = part.replacen(',', ".", 1);
    // With a second comma it would be no number either.
    let help = if !fixed.contains(',') && parse_quantity(kind, &fixed).is_ok() {
        format!("write `{fixed}`")
    } else {
        example(kind)
    };
    let at = whole.start + length;
    fault("a decimal comma is not accepted", help, at..at + 1)
}

/// Value and unit of one side of the tolerance sign.
fn parse_side(
    kind: Kind,
    text: &str,
    range: Range<usize>,
) -> Result<(f64, Option<Unit>), QuantityError> {
    let (number, unit_range) = parse_number(kind, text, range.clone())?;
    let symbol = &text[unit_range.clone()];
    if symbol.is_empty() {
        return if kind.allows_bare() {
            Ok((number, None))
        } else {
            Err(bare(
                kind,
                &text[trimmed(text, range.clone())],
                trimmed(text, range),
            ))
        };
    }
    match kind.find(symbol) {
        Some(unit) => Ok((number, Some(unit))),
        None => Err(unknown_unit(kind, symbol, unit_range)),
    }
}

fn parse_spread(
    kind: Kind,
    text: &str,
    range: Range<usize>,
    value: f64,
    written: Option<Unit>,
) -> Result<f64, QuantityError> {
    let (number, unit_range) = parse_number(kind, text, range.clone())?;
    let symbol = &text[unit_range.clone()];
    let spread = match (symbol, written) {
        ("%", Some(unit)) if kind == Kind::Fraction => number * unit.factor,
        ("%", _) if kind == Kind::Temperature => {
            let help = "write the tolerance in degC, e.g. `14 degC ± 2 degC`".into();
            return Err(fault(
                "a temperature has no tolerance in per cent",
                help,
                unit_range,
            ));
        }
        ("%", _) => value.abs() * number / 100.0,
        _ => {
            let (number, unit) = parse_side(kind, text, range.clone())?;
            number * unit.map_or(1.0, |u| u.factor)
        }
    };
    let at = trimmed(text, range);
    if !spread.is_finite() {
        return Err(fault(
            "the tolerance is too large",
            "write a finite number".into(),
            at,
        ));
    }
    if spread < 0.0 {
        let help = "a tolerance is a half-width: write it without a sign".into();
        return Err(fault("the tolerance is negative", help, at));
    }
    Ok(spread)
}

pub(crate) fn example(kind: Kind) -> String {
    match kind {
        Kind::Number => "write a number such as `1.4`".into(),
        Kind::Fraction => "write a fraction such as `0.3` or `30 %`".into(),
        _ => {
            let first = kind.units()[0].symbol;
            format!(
                "write a number and a unit, e.g. `12 {first}`; accepted: {}",
                kind.unit_list()
            )
        }
    }
}

/// The error for a number without a unit, also used for bare TOML numbers.
pub(crate) fn bare(kind: Kind, number: &str, range: Range<usize>) -> QuantityError {
    let first = kind.units()[0].symbol;
    let help = format!(
        "write `{number} {first}` if that is meant; accepted: {}",
        kind.unit_list()
    );
    fault(
        format!("`{number}` has no unit, and {} needs one", kind.name()),
        help,
        range,
    )
}

fn unknown_unit(kind: Kind, symbol: &str, range: Range<usize>) -> QuantityError {
    if kind == Kind::Number {
        let help = "write the number alone".into();
        return fault(
            format!("`{symbol}` after a number that has no unit"),
            help,
            range,
        );
    }
    let names = kind.units().iter().map(|u| u.symbol);
    let mut help = String::new();
    if let Some(near) = words::nearest(symbol, names) {
        let _ = write!(help, "did you mean `{near}`? ");
    }
    let _ = write!(help, "accepted: {}", kind.unit_list());
    let message = match Kind::ALL.iter().find(|other| other.find(symbol).is_some()) {
        Some(other) => {
            format!(
                "`{symbol}` is the unit of {}, not of {}",
                other.name(),
                kind.name()
            )
        }
        None => format!("`{symbol}` is not a known unit of {}", kind.name()),
    };
    fault(message, help, range)
}

/// An SI value in the unit of the faces, with at most four significant digits: `38 mm`.
pub fn show(kind: Kind, si: f64) -> String {
    match face_unit(kind, si) {
        Some(unit) => {
            format!(
                "{} {}",
                digits((si - unit.offset) / unit.factor),
                face_symbol(unit)
            )
        }
        None => digits(si),
    }
}

/// A measure in the unit of the faces with its spread, if it has one: `38 mm ± 1 mm`.
pub fn show_measure(kind: Kind, measure: &Measure) -> String {
    let value = show(kind, measure.value);
    if measure.spread == 0.0 {
        return value;
    }
    let spread = match face_unit(kind, measure.value) {
        Some(unit) => format!(
            "{} {}",
            digits(measure.spread / unit.factor),
            face_symbol(unit)
        ),
        None => digits(measure.spread),
    };
    format!("{value} ± {spread}")
}

fn face_symbol(unit: Unit) -> &'static str {
    if unit.symbol == "degC" {
        "°C"
    } else {
        unit.symbol
    }
}

/// The unit a value of this kind is shown in; a few change with size.
fn face_unit(kind: Kind, si: f64) -> Option<Unit> {
    let named = |symbol: &str| kind.find(symbol);
    match kind {
        Kind::Number => None,
        Kind::Resistance if si.abs() >= 1.0 => named("ohm"),
        Kind::Mass if si.abs() >= 10.0 => named("kg"),
        Kind::Length if si.abs() >= 10.0 => named("m"),
        Kind::Time if si.abs() >= 600.0 => named("min"),
        Kind::Pressure if si.abs() >= 1e6 => named("MPa"),
        Kind::Pressure if si.abs() >= 1e4 => named("kPa"),
        _ => kind.units().first().copied(),
    }
}

/// At most four significant digits, no trailing zeros, no negative zero, no exponent in the range
/// a builder meets.
fn digits(x: f64) -> String {
    if x == 0.0 {
        return "0".into();
    }
    let magnitude = x.abs().log10().floor();
    if !(-5.0..9.0).contains(&magnitude) {
        return format!("{x:.3e}");
    }
    let decimals = (3.0 - magnitude).max(0.0) as usize;
    let text = format!("{x:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').into()
    } else {
        text
    }
}
