//! Numbers with units: `"38 mm"`, `"1.25 kg ± 4 %"`, `"38 mm ± 1 mm"`.
//!
//! A tolerance is the half-width of the 95 % interval: in the value's unit, in another unit of the
//! same kind, or in per cent of the value. For a fraction written in per cent the tolerance counts
//! in the same percentage points (`"30 % ± 5 %"` is 25 to 35 %).
//!
//! A decimal comma and a missing unit are read where only one reading is plain: `"1,25 kg"`, `"38 ± 1 mm"`, and
//! `"60"` where a speed is wanted. [`Quantity::taken`] then says that the reading should be shown.

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
    /// Whether a unit or a decimal comma had to be taken for what is plainly meant.
    pub taken: bool,
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
/// number where the unit is not plain, an unknown unit or one of another kind, a comma that may
/// stand for thousands, a number too large, a negative tolerance, a text over 200 characters.
pub fn parse_quantity(kind: Kind, text: &str) -> Result<Quantity, QuantityError> {
    if let Some((start, _)) = text.char_indices().nth(MAX_LENGTH) {
        let message = format!("the value is longer than {MAX_LENGTH} characters");
        return Err(fault(message, example(kind), start..text.len()));
    }
    let (value_range, spread_range) = split_tolerance(text);
    let beside = spread_range.clone().and_then(|r| unit_of(kind, text, r));
    let first = parse_side(kind, text, value_range, beside)?;
    let (number, written) = (first.number, first.unit);
    let value = to_si(number, written);
    if !value.is_finite() {
        return Err(fault(
            "the number is too large",
            "write a finite number".into(),
            0..text.len(),
        ));
    }
    let (spread, taken) = match spread_range {
        Some(range) => {
            let (spread, taken) = parse_spread(kind, text, range, value, written)?;
            (Some(spread), taken)
        }
        None => (None, false),
    };
    Ok(Quantity {
        value,
        spread,
        taken: taken || first.taken,
    })
}

/// What a quantity was read as: `1.25 kg ± 50 g`.
pub fn show_quantity(kind: Kind, quantity: &Quantity) -> String {
    show_measure(kind, &quantity.measure())
}

/// The unit written behind a number, if it is one.
fn unit_of(kind: Kind, text: &str, range: Range<usize>) -> Option<Unit> {
    let number = parse_number(kind, text, range).ok()?;
    kind.find(&text[number.unit])
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

/// A number and what follows it.
struct Number {
    value: f64,
    /// Bytes of the text where the unit stands; empty without one.
    unit: Range<usize>,
    /// Whether it has a decimal comma.
    comma: bool,
}

/// One side of the tolerance sign.
struct Side {
    number: f64,
    unit: Option<Unit>,
    /// Whether unit or comma had to be taken for what is meant.
    taken: bool,
}

fn parse_number(kind: Kind, text: &str, range: Range<usize>) -> Result<Number, QuantityError> {
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
    let mut length = number_length(part);
    let decimals = decimals_after_comma(&part[length..]);
    let comma = decimals.is_some();
    if part[length..].starts_with(',') {
        let whole_part = part[..length].trim_start_matches(['+', '-', '\u{2212}']);
        match decimals {
            // Three digits may be thousands, but not behind a lone nought.
            Some(n) if (n != 3 || whole_part == "0") && !whole_part.contains(['.', 'e', 'E']) => {
                length += 1 + n;
            }
            _ => return Err(two_ways(kind, text, whole, length)),
        }
    }
    let number_range = whole.start..whole.start + length;
    let plain = part[..length].replace('\u{2212}', "-").replace(',', ".");
    let number: Option<f64> = plain.parse().ok();
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
    Ok(Number {
        value: number,
        unit: trimmed(text, number_range.end..range.end),
        comma,
    })
}

/// How many digits follow a comma that ends a number's whole part; none where it is no decimal comma.
fn decimals_after_comma(rest: &str) -> Option<usize> {
    let behind = rest.strip_prefix(',')?;
    let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
    let ends = !behind[digits..].starts_with(['.', ',']);
    (digits > 0 && ends).then_some(digits)
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

fn two_ways(kind: Kind, text: &str, whole: Range<usize>, length: usize) -> QuantityError {
    let part = &text[whole.clone()];
    let (small, large) = (part.replacen(',', ".", 1), part.replacen(',', "", 1));
    // With a second comma it would be no number either.
    let help = if !small.contains(',') && parse_quantity(kind, &small).is_ok() {
        format!("write `{small}`, or `{large}`")
    } else {
        example(kind)
    };
    let at = whole.start + length;
    fault("this comma can be read in two ways", help, at..at + 1)
}

/// Value and unit of one side of the tolerance sign; without a unit that of the other side, else the plain one.
fn parse_side(
    kind: Kind,
    text: &str,
    range: Range<usize>,
    beside: Option<Unit>,
) -> Result<Side, QuantityError> {
    let number = parse_number(kind, text, range.clone())?;
    let symbol = &text[number.unit.clone()];
    let side = |unit, taken| Side {
        number: number.value,
        unit,
        taken: taken || number.comma,
    };
    if !symbol.is_empty() {
        return match kind.find(symbol) {
            Some(unit) => Ok(side(Some(unit), false)),
            None => Err(unknown_unit(kind, symbol, number.unit)),
        };
    }
    if kind.allows_bare() {
        return Ok(side(None, false));
    }
    match beside.or(kind.plain_unit()) {
        Some(unit) => Ok(side(Some(unit), true)),
        None => {
            let whole = trimmed(text, range);
            Err(bare(kind, &text[whole.clone()], whole))
        }
    }
}

fn parse_spread(
    kind: Kind,
    text: &str,
    range: Range<usize>,
    value: f64,
    written: Option<Unit>,
) -> Result<(f64, bool), QuantityError> {
    let first = parse_number(kind, text, range.clone())?;
    let (number, unit_range) = (first.value, first.unit);
    let symbol = &text[unit_range.clone()];
    let mut taken = first.comma;
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
            let side = parse_side(kind, text, range.clone(), written)?;
            taken = side.taken;
            side.number * side.unit.map_or(1.0, |u| u.factor)
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
    Ok((spread, taken))
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
