//! The units that faces show: metric, or inch and pound. The program works and answers in metric; a face that is set
//! otherwise turns what it shows, all of it, in one place.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Which units everything shown is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// km/h, g, mm, °C.
    #[default]
    Metric,
    /// mph, oz, in, °F.
    Inch,
}

/// How one unit is shown as another.
struct Turn {
    from: &'static str,
    to: &'static str,
    factor: f64,
    /// In the other unit, of nought in this; not for a difference or a spread.
    offset: f64,
}

const fn turn(from: &'static str, to: &'static str, factor: f64) -> Turn {
    Turn {
        from,
        to,
        factor,
        offset: 0.0,
    }
}

// By definition: the mile per hour, the avoirdupois ounce and pound, the inch and the foot.
const INCH: [Turn; 10] = [
    turn("km/h", "mph", 1.0 / 1.609_344),
    turn("m/s", "mph", 1.0 / 0.447_04),
    turn("kg", "lb", 1.0 / 0.453_592_37),
    turn("g", "oz", 1.0 / 28.349_523_125),
    turn("mm", "in", 1.0 / 25.4),
    turn("cm2", "in2", 1.0 / 6.4516),
    turn("cm", "in", 1.0 / 2.54),
    turn("m", "ft", 1.0 / 0.3048),
    Turn {
        from: "°C",
        to: "°F",
        factor: 1.8,
        offset: 32.0,
    },
    // Of a difference: nothing is told in kelvin from nought.
    turn("K", "°F", 1.8),
];

/// An acceleration is told in g as well; these words say that it is one.
const ACCELERATIONS: [&str; 4] = ["up", "sideways", "down", "at the bow"];

/// What stands between two numbers of one unit.
const BETWEEN: [&str; 8] = [" ± ", " to ", " × ", " x ", " by ", " and ", "–", "-"];

impl Units {
    /// As the boat file and the command line say it.
    pub const WORDS: [&'static str; 2] = ["metric", "inch"];

    /// By its word.
    pub fn of_word(word: &str) -> Option<Self> {
        [Self::Metric, Self::Inch]
            .into_iter()
            .find(|units| units.word() == word)
    }

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Inch => "inch",
        }
    }

    fn turn(self, unit: &str) -> Option<&'static Turn> {
        match self {
            Self::Metric => None,
            Self::Inch => INCH.iter().find(|turn| turn.from == unit),
        }
    }

    /// What is shown for a metric unit.
    pub fn unit(self, metric: &'static str) -> &'static str {
        self.turn(metric).map_or(metric, |turn| turn.to)
    }

    /// A value of a metric unit in the unit shown for it.
    pub fn value(self, value: f64, metric: &str) -> f64 {
        self.turn(metric)
            .map_or(value, |turn| value * turn.factor + turn.offset)
    }

    /// A heading that ends in its unit, such as `speed, km/h`, with the unit shown for it; and the metric one.
    pub fn heading<'t>(self, heading: &'t str) -> (Cow<'t, str>, Option<&'static str>) {
        let last = heading.rsplit([' ', ',', '(']).next().unwrap_or_default();
        let Some(turn) = self.turn(last.trim_end_matches(')')) else {
            return (Cow::Borrowed(heading), None);
        };
        let at = heading.rfind(turn.from).unwrap_or(heading.len());
        let (before, behind) = (&heading[..at], &heading[at + turn.from.len()..]);
        (
            Cow::Owned(format!("{before}{}{behind}", turn.to)),
            Some(turn.from),
        )
    }

    /// A bare number such as stands in a table, in the unit shown for `metric`; what is no number stays.
    pub fn cell<'t>(self, cell: &'t str, metric: &str) -> Cow<'t, str> {
        let Some(turn) = self.turn(metric) else {
            return Cow::Borrowed(cell);
        };
        match numbers(cell, 0) {
            Some(found) if found.end == cell.len() => Cow::Owned(found.turned(cell, turn)),
            _ => Cow::Borrowed(cell),
        }
    }

    /// A text with every number that has a unit in the units shown.
    pub fn in_words(self, text: &str) -> Cow<'_, str> {
        if self == Self::Metric {
            return Cow::Borrowed(text);
        }
        let mut out = String::new();
        let (mut done, mut at) = (0, 0);
        while let Some(next) = text[at..].find(|c: char| c.is_ascii_digit()) {
            let digit = at + next;
            // What is to be typed stays as it is.
            if text[..digit].matches('`').count() % 2 == 1 {
                at = text[digit..]
                    .find('`')
                    .map_or(text.len(), |end| digit + end + 1);
                continue;
            }
            let start = if text[done..digit].ends_with(['-', '\u{2212}']) {
                let sign = text[..digit].chars().next_back().map_or(0, char::len_utf8);
                if begins_here(text, digit - sign) {
                    digit - sign
                } else {
                    digit
                }
            } else {
                digit
            };
            let Some(found) = numbers(text, start).filter(|_| begins_here(text, start)) else {
                at = word_end(text, digit);
                continue;
            };
            if let Some((turn, end)) = self.unit_behind(text, &found) {
                out.push_str(&text[done..start]);
                let before = out.len();
                out.push_str(&found.turned(text, turn));
                out.push_str(&text[found.end..end - turn.from.len()]);
                out.push_str(turn.to);
                let (was, is) = (
                    text[start..end].chars().count(),
                    out[before..].chars().count(),
                );
                let end = end + column(&text[end..], was, is, &mut out);
                (done, at) = (end, end);
            } else {
                // The first alone may have a unit of another kind between: look again behind it.
                at = found.first_end;
            }
        }
        if done == 0 {
            return Cow::Borrowed(text);
        }
        out.push_str(&text[done..]);
        Cow::Owned(out)
    }

    /// The unit that stands behind numbers, and where it ends.
    fn unit_behind(self, text: &str, found: &Numbers) -> Option<(&'static Turn, usize)> {
        let rest = &text[found.end..];
        let unit = rest.strip_prefix([' ', '\u{a0}']).unwrap_or(rest);
        let begins = found.end + (rest.len() - unit.len());
        let length = unit
            .find(|c: char| !(c.is_alphanumeric() || matches!(c, '/' | '°' | '²' | '³' | '·')))
            .unwrap_or(unit.len());
        let turn = self.turn(&unit[..length])?;
        let behind = unit[length..].trim_start();
        let accelerates = ACCELERATIONS.iter().any(|word| behind.starts_with(word));
        (turn.from != "g" || !accelerates).then_some((turn, begins + length))
    }
}

/// Keeps the next column of a table in its place: spaces behind a number make up for its length. Gives how many of
/// them are used up.
fn column(behind: &str, was: usize, is: usize, out: &mut String) -> usize {
    let spaces = behind.len() - behind.trim_start_matches(' ').len();
    if spaces < 2 {
        return 0;
    }
    for _ in is..was {
        out.push(' ');
    }
    is.saturating_sub(was).min(spaces - 1)
}

/// Whether a number may begin here: not within a word, a name, a date or a colour of the terminal.
fn begins_here(text: &str, start: usize) -> bool {
    let colour = text[..start].trim_end_matches(|c: char| c.is_ascii_digit() || c == ';');
    if colour.ends_with("\u{1b}[") {
        return false;
    }
    !text[..start].ends_with(|c: char| c.is_alphanumeric() || "._-/:".contains(c))
}

fn word_end(text: &str, from: usize) -> usize {
    let rest = &text[from..];
    let inside = |c: char| c.is_alphanumeric() || "._-/:".contains(c);
    from + rest.find(|c: char| !inside(c)).unwrap_or(rest.len())
}

/// One number, or several of the same unit.
struct Numbers {
    /// Each number's bytes.
    each: Vec<std::ops::Range<usize>>,
    /// Whether the second is a spread, which has no offset.
    spread: bool,
    first_end: usize,
    end: usize,
}

fn number_end(text: &str, start: usize) -> Option<usize> {
    let rest = &text[start..];
    let sign = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '-' | '\u{2212}' | '+'));
    let sign = sign.map_or(0, char::len_utf8);
    let digits = |from: usize| rest[from..].bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(sign);
    if whole == 0 {
        return None;
    }
    let mut end = sign + whole;
    if rest[end..].starts_with('.') {
        let decimals = digits(end + 1);
        if decimals > 0 {
            end += 1 + decimals;
        }
    }
    Some(start + end)
}

fn numbers(text: &str, start: usize) -> Option<Numbers> {
    let first_end = number_end(text, start)?;
    let first = start..first_end;
    let mut found = Numbers {
        each: vec![first],
        spread: false,
        first_end,
        end: first_end,
    };
    while let Some((word, next)) = BETWEEN.iter().find_map(|word| {
        let behind = text[found.end..].strip_prefix(word)?;
        Some((*word, text.len() - behind.len()))
    }) {
        let between = text[..start].ends_with("between ");
        let Some(end) = number_end(text, next).filter(|_| word != " and " || between) else {
            break;
        };
        found.spread |= word == " ± ";
        found.each.push(next..end);
        found.end = end;
    }
    Some(found)
}

impl Numbers {
    /// In another unit, as finely as they were written.
    fn turned(&self, text: &str, turn: &Turn) -> String {
        let read: Vec<(f64, usize)> = self.each.iter().map(|at| read(&text[at.clone()])).collect();
        let places = read.iter().map(|(_, places)| *places).max().unwrap_or(0);
        let offset = |i: usize| {
            if i > 0 && self.spread {
                0.0
            } else {
                turn.offset
            }
        };
        let turned: Vec<f64> = (read.iter().enumerate())
            .map(|(i, (value, _))| value * turn.factor + offset(i))
            .collect();
        let largest = turned.iter().fold(0.0, |m: f64, v| m.max(v.abs()));
        let digits = if turn.to == "in" { 3.0 } else { 2.0 };
        let places = decimals(largest, digits, places, turn.factor);
        let mut out = String::new();
        let mut at = self.each[0].start;
        for (range, value) in self.each.iter().zip(&turned) {
            out.push_str(&text[at..range.start]);
            let digits = format!("{value:.places$}");
            let nothing = digits.trim_start_matches(['-', '0', '.']).is_empty();
            out.push_str(if nothing {
                digits.trim_start_matches('-')
            } else {
                &digits
            });
            at = range.end;
        }
        out
    }
}

/// A number as written, and its decimals.
fn read(digits: &str) -> (f64, usize) {
    let plain = digits.replace('\u{2212}', "-");
    let places = plain.split_once('.').map_or(0, |(_, behind)| behind.len());
    (plain.parse().unwrap_or(f64::NAN), places)
}

/// Decimals that keep a number about as fine as it was, and at least so many digits of it.
fn decimals(value: f64, digits: f64, places: usize, factor: f64) -> usize {
    let step = 10f64.powi(-(places as i32)) * factor;
    if value == 0.0 {
        return 0;
    }
    let same = (-step.log10()).round().max(0.0);
    let least = digits - 1.0 - value.log10().floor();
    same.max(least).clamp(0.0, 3.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beside the page, which turns its sentences by the same rules.
    const SAID: &str = include_str!("../../../checks/units_in_words.csv");

    #[test]
    fn sentences_are_in_the_units_chosen() {
        let mut lines = 0;
        for line in SAID.lines().skip(2) {
            let (metric, inch) = line.split_once('|').expect("two sentences");
            assert_eq!(Units::Inch.in_words(metric.trim()), inch.trim());
            assert_eq!(Units::Metric.in_words(metric.trim()), metric.trim());
            lines += 1;
        }
        assert!(lines > 20);
    }

    #[test]
    fn headings_and_cells() {
        assert_eq!(
            Units::Inch.heading("speed, km/h"),
            ("speed, mph".into(), Some("km/h"))
        );
        assert_eq!(
            Units::Inch.heading("mass (g)"),
            ("mass (oz)".into(), Some("g"))
        );
        assert_eq!(Units::Inch.heading("trim, °").1, None);
        assert_eq!(
            Units::Metric.heading("speed, km/h"),
            ("speed, km/h".into(), None)
        );
        assert_eq!(Units::Inch.cell("88", "km/h"), "55");
        assert_eq!(Units::Inch.cell("600 ± 2", "mm"), "23.6 ± 0.1");
        assert_eq!(Units::Inch.cell("–", "mm"), "–");
        assert_eq!(Units::Inch.in_words("at least 0 g"), "at least 0 oz");
        let coloured = "\u{1b}[1m\u{1b}[36m● good\u{1b}[0m 38 mm";
        assert_eq!(
            Units::Inch.in_words(coloured),
            coloured.replace("38 mm", "1.50 in")
        );
    }

    #[test]
    fn both_words_are_known() {
        for word in Units::WORDS {
            assert_eq!(Units::of_word(word).map(Units::word), Some(word));
        }
        assert_eq!(Units::of_word("imperial"), None);
    }
}
