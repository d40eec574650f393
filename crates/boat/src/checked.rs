//! The file against the key lists: every value read, every problem noted, nothing stopped at.

use crate::keys::{Form, Key, Need, Section};
use crate::kind::Kind;
use crate::problem::{Problem, Severity};
use crate::quantity::{self, Quantity, parse_quantity, show};
use crate::words::{nearest, one_of};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub(crate) type Span = Range<usize>;

/// Tables or files of one kind that a boat may have. What is worked out grows with the square of some of them.
pub(crate) const MOST_OF_A_KIND: usize = 200;
/// Longest text, characters.
pub(crate) const LONGEST_TEXT: usize = 1000;

/// A table whose keys are known and whose values have the right form, or are marked bad.
#[derive(Debug, Clone)]
pub(crate) struct Table {
    pub section: &'static Section,
    entries: BTreeMap<&'static str, Entry>,
    pub span: Span,
}

#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub value: Value,
    pub span: Span,
}

#[derive(Debug, Clone)]
pub(crate) enum Value {
    Quantity(Quantity),
    Count(u32),
    Text(String),
    Flag(bool),
    Lengths(Vec<Quantity>),
    Texts(Vec<String>),
    Cells(u32, u32),
    Table(Table),
    Tables(Vec<Table>),
    /// Present, and its problem is noted.
    Bad,
}

impl std::fmt::Debug for Section {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name)
    }
}

impl Table {
    pub fn entry(&self, name: &str) -> Option<&Entry> {
        debug_assert!(
            self.section.key(name).is_some(),
            "{} is not in [{}]",
            name,
            self.section.name
        );
        self.entries.get(name)
    }

    /// The table `name` as if it were there without a key.
    pub fn empty_inner(&self, name: &str) -> Table {
        let section = match self.section.key(name).map(|key| &key.form) {
            Some(Form::Table(section)) => section,
            _ => unreachable!(
                "`{name}` is a table in the key list of [{}]",
                self.section.name
            ),
        };
        Table {
            section,
            entries: BTreeMap::new(),
            span: 0..0,
        }
    }

    /// Where `name` is written, or the table's heading.
    pub fn place_of(&self, name: &str) -> Span {
        self.entry(name)
            .map_or(self.span.clone(), |entry| entry.span.clone())
    }
}

/// Reads tables, noting problems.
pub(crate) struct Checker<'t> {
    text: &'t str,
    pub problems: Vec<Problem>,
}

impl<'t> Checker<'t> {
    pub fn new(text: &'t str) -> Self {
        Self {
            text,
            problems: Vec::new(),
        }
    }

    pub fn error(&mut self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.note(Severity::Error, span, message.into(), help.into());
    }

    pub fn warn(&mut self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.note(Severity::Warning, span, message.into(), help.into());
    }

    fn note(&mut self, severity: Severity, span: Span, message: String, help: String) {
        let help = (!help.is_empty()).then_some(help);
        self.problems.push(Problem {
            message,
            help,
            span,
            severity,
        });
    }

    /// All keys of `table` by the list in `section`.
    pub fn table(&mut self, section: &'static Section, table: &DeTable<'_>, span: Span) -> Table {
        let mut entries = BTreeMap::new();
        let mut near_misses = Vec::new();
        for (name, value) in table.iter() {
            match section.key(name.get_ref()) {
                Some(key) => {
                    let entry = Entry {
                        value: self.value(section, key, value),
                        span: value.span(),
                    };
                    entries.insert(key.name, entry);
                }
                None => near_misses.extend(self.unknown_key(section, name.get_ref(), name.span())),
            }
        }
        // A misspelt key is there, and need not be missed as well.
        for (name, span) in near_misses {
            entries.entry(name).or_insert(Entry {
                value: Value::Bad,
                span,
            });
        }
        let required = section
            .keys
            .iter()
            .filter(|key| matches!(key.need, Need::Required));
        for key in required.filter(|key| !entries.contains_key(key.name)) {
            self.missing(section, key, span.clone());
        }
        Table {
            section,
            entries,
            span,
        }
    }

    /// Notes an unknown key; gives the key that was likely meant.
    fn unknown_key(
        &mut self,
        section: &'static Section,
        name: &str,
        span: Span,
    ) -> Option<(&'static str, Span)> {
        let names: Vec<&'static str> = section.keys.iter().map(|key| key.name).collect();
        let near = nearest(name, names.iter().copied());
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("accepted here: {}", names.join(", ")),
        };
        let message = if section.name.is_empty() {
            format!("unknown key `{name}`")
        } else {
            format!("unknown key `{name}` in [{}]", section.name)
        };
        self.error(span.clone(), message, help);
        near.map(|near| (near, span))
    }

    fn missing(&mut self, section: &'static Section, key: &Key, span: Span) {
        let home = if section.name.is_empty() {
            "the file"
        } else {
            section.name
        };
        let help = format!("add {}: {}", sample(section, key), first_sentence(key.doc));
        self.error(span, format!("{home} has no `{}`", key.name), help);
    }

    fn value(
        &mut self,
        section: &'static Section,
        key: &Key,
        value: &Spanned<DeValue<'_>>,
    ) -> Value {
        let span = value.span();
        let read = match (&key.form, value.get_ref()) {
            (
                Form::Quantity { kind, min, max },
                DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_),
            ) => self
                .quantity(key.name, *kind, [*min, *max], value)
                .map(Value::Quantity),
            (Form::Count { min, max }, DeValue::Integer(_)) => {
                self.count(key.name, *min, *max, value)
            }
            (Form::Text, DeValue::String(text)) => self.text(key.name, text, span),
            (Form::Flag, DeValue::Boolean(flag)) => Some(Value::Flag(*flag)),
            (Form::Choice(words), DeValue::String(text)) => {
                self.choice(key.name, words, text, span)
            }
            (Form::Path, DeValue::String(text)) => self.path(text, span).map(Value::Text),
            (Form::Paths, DeValue::Array(items)) => self.paths(items.iter(), span),
            (Form::Lengths { count, min, max }, DeValue::Array(items)) if items.len() == *count => {
                self.lengths(key.name, [*min, *max], items.iter())
            }
            (Form::Cells, DeValue::String(text)) => self.cells(text, span),
            (Form::Table(inner), DeValue::Table(table)) => {
                Some(Value::Table(self.table(inner, table, span)))
            }
            (Form::Tables(inner), DeValue::Array(items)) => self.tables(inner, items.iter()),
            (Form::Variant(choices), DeValue::Table(table)) => self.variant(choices, table, span),
            _ => {
                self.wrong_form(section, key, value);
                None
            }
        };
        read.unwrap_or(Value::Bad)
    }

    fn wrong_form(&mut self, section: &'static Section, key: &Key, value: &Spanned<DeValue<'_>>) {
        let wanted = wanted(&key.form);
        let got = match value.get_ref() {
            DeValue::Array(items) => format!("a list of {}", items.len()),
            DeValue::Table(_) => "a table".into(),
            DeValue::String(_) => "a text".into(),
            DeValue::Boolean(_) => "true or false".into(),
            DeValue::Datetime(_) => "a date".into(),
            DeValue::Integer(_) => "a whole number".into(),
            DeValue::Float(_) => "a decimal number".into(),
        };
        let message = format!("`{}` is {wanted}, not {got}", key.name);
        let help = format!("write {}", sample(section, key));
        self.error(value.span(), message, help);
    }

    fn quantity(
        &mut self,
        name: &str,
        kind: Kind,
        limits: [f64; 2],
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Quantity> {
        let span = value.span();
        let parsed = match value.get_ref() {
            DeValue::String(text) => parse_quantity(kind, text).map_err(|fault| {
                let at = self.inside(text, &span, fault.range);
                (fault.message, fault.help, at)
            }),
            _ => {
                let parsed = self.plain_number(kind, &span);
                parsed.map_err(|(message, help)| (message, help, span.clone()))
            }
        };
        match parsed {
            Ok(quantity) => {
                if quantity.taken {
                    let read = quantity::show_quantity(kind, &quantity);
                    let message = format!("`{name}` is read as {read}");
                    self.warn(
                        span.clone(),
                        message,
                        format!("write `{read}` if that is meant"),
                    );
                }
                self.in_limits(name, kind, limits, quantity, span)
            }
            Err((message, help, at)) => {
                self.error(at, message, help);
                None
            }
        }
    }

    /// A TOML number where a quantity is wanted: fine without a dimension, otherwise it lacks its
    /// unit.
    fn plain_number(&self, kind: Kind, span: &Span) -> Result<Quantity, (String, String)> {
        let written = self.text.get(span.clone()).unwrap_or_default();
        let number: Option<f64> = written.replace('_', "").parse().ok();
        match number.filter(|number| number.is_finite()) {
            Some(value) if kind.allows_bare() => Ok(Quantity {
                value,
                spread: None,
                taken: false,
            }),
            Some(value) if kind.plain_unit().is_some() => {
                let unit = kind.plain_unit();
                Ok(Quantity {
                    value: unit.map_or(value, |u| value * u.factor + u.offset),
                    spread: None,
                    taken: true,
                })
            }
            Some(_) => {
                let fault = quantity::bare(kind, written, 0..written.len());
                Err((fault.message, format!("in quotes, {}", fault.help)))
            }
            None => {
                let message = format!("`{written}` is not a finite decimal number");
                Err((message, quantity::example(kind)))
            }
        }
    }

    /// The bytes of the file that hold `range` of a string value; the whole value if it was
    /// written with escapes.
    fn inside(&self, value: &str, span: &Span, range: Range<usize>) -> Span {
        let start = span.start + 1;
        match self.text.get(start..start + value.len()) {
            Some(written) if written == value && !range.is_empty() => {
                start + range.start..start + range.end
            }
            _ => span.clone(),
        }
    }

    fn in_limits(
        &mut self,
        name: &str,
        kind: Kind,
        [min, max]: [f64; 2],
        quantity: Quantity,
        span: Span,
    ) -> Option<Quantity> {
        // Limits are round in the face's unit, so let rounding pass.
        let slack = 1e-9 * min.abs().max(max.abs());
        if quantity.value >= min - slack && quantity.value <= max + slack {
            return self.spread_fits(name, min, quantity, span);
        }
        let value = show(kind, quantity.value);
        let what = if quantity.value == 0.0 {
            format!("`{name}` is zero")
        } else if quantity.value < 0.0 && min >= 0.0 {
            format!("`{name}` is negative: {value}")
        } else {
            format!("`{name}` of {value} is not plausible")
        };
        let help = format!("accepted: {} to {}", show(kind, min), show(kind, max));
        self.error(span, what, help);
        None
    }

    /// A tolerance that makes a positive quantity possibly negative is a slip of the pen.
    fn spread_fits(
        &mut self,
        name: &str,
        min: f64,
        quantity: Quantity,
        span: Span,
    ) -> Option<Quantity> {
        if min > 0.0
            && quantity
                .spread
                .is_some_and(|spread| spread >= quantity.value)
        {
            let message = format!("the tolerance of `{name}` is as large as the value");
            self.error(
                span,
                message,
                "a tolerance is the half-width that is right 19 times in 20",
            );
            return None;
        }
        Some(quantity)
    }

    fn count(
        &mut self,
        name: &str,
        min: i64,
        max: i64,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Value> {
        let span = value.span();
        let written = self
            .text
            .get(span.clone())
            .unwrap_or_default()
            .replace('_', "");
        let number = written
            .parse::<i64>()
            .ok()
            .filter(|n| (min..=max).contains(n));
        match number.and_then(|n| u32::try_from(n).ok()) {
            Some(count) => Some(Value::Count(count)),
            None => {
                let message = format!("`{name}` of {written} is not plausible");
                self.error(span, message, format!("accepted: {min} to {max}"));
                None
            }
        }
    }

    fn text(&mut self, name: &str, text: &str, span: Span) -> Option<Value> {
        if text.trim().is_empty() {
            self.error(span, format!("`{name}` is empty"), "write a word or two");
            return None;
        }
        if text.chars().nth(LONGEST_TEXT).is_some() {
            let message = format!("`{name}` is longer than {LONGEST_TEXT} characters");
            self.error(span, message, "write a sentence or two");
            return None;
        }
        if text.chars().any(char::is_control) {
            self.error(
                span,
                format!("`{name}` has control characters in it"),
                "write it on one line",
            );
            return None;
        }
        Some(Value::Text(text.trim().to_owned()))
    }

    fn choice(&mut self, name: &str, words: &[&str], text: &str, span: Span) -> Option<Value> {
        if words.contains(&text) {
            return Some(Value::Text(text.to_owned()));
        }
        let help = match nearest(text, words.iter().copied()) {
            Some(near) => format!("did you mean `{near}`? accepted: {}", one_of(words)),
            None => format!("accepted: {}", one_of(words)),
        };
        self.error(span, format!("`{text}` is not a known `{name}`"), help);
        None
    }

    /// A path that stays inside the boat folder on any system.
    fn path(&mut self, text: &str, span: Span) -> Option<String> {
        let wrong = if text.trim().is_empty() {
            "the file name is empty"
        } else if text.len() > LONGEST_TEXT {
            "the path is too long"
        } else if text.starts_with(['/', '\\', '~']) || text.contains(':') {
            "the path is absolute"
        } else if text.contains('\\') {
            "the path has a backslash in it"
        } else if text.split('/').any(|step| step == "..") {
            "the path leads out of the boat folder"
        } else if text.chars().any(char::is_control) {
            "the path has control characters in it"
        } else {
            return Some(text.to_owned());
        };
        let help = "put the file in the boat folder and write its path from there, e.g. `hull.stl`";
        self.error(span, wrong, help);
        None
    }

    fn paths<'v>(
        &mut self,
        items: impl Iterator<Item = &'v Spanned<DeValue<'v>>>,
        span: Span,
    ) -> Option<Value> {
        let mut paths = Vec::new();
        let mut good = true;
        for (i, item) in items.enumerate() {
            if i == MOST_OF_A_KIND {
                self.too_many("file", item.span());
                return None;
            }
            let path = match item.get_ref() {
                DeValue::String(text) => self.path(text, item.span()),
                _ => {
                    self.error(
                        item.span(),
                        "this is not a file name",
                        "write `[\"bow.stl\", \"stern.stl\"]`",
                    );
                    None
                }
            };
            match path {
                Some(path) if paths.contains(&path) => {
                    let help = "each file is read once; remove this one";
                    self.error(item.span(), format!("`{path}` is listed twice"), help);
                    good = false;
                }
                Some(path) => paths.push(path),
                None => good = false,
            }
        }
        if good && paths.is_empty() {
            self.error(
                span,
                "the list of files is empty",
                "write `[\"bow.stl\", \"stern.stl\"]`",
            );
            return None;
        }
        good.then_some(Value::Texts(paths))
    }

    fn lengths<'v>(
        &mut self,
        name: &str,
        limits: [f64; 2],
        items: impl Iterator<Item = &'v Spanned<DeValue<'v>>>,
    ) -> Option<Value> {
        // Read all before judging, so that each bad coordinate is noted.
        let read: Vec<Option<Quantity>> = items
            .map(|item| self.quantity(name, Kind::Length, limits, item))
            .collect();
        read.into_iter()
            .collect::<Option<Vec<_>>>()
            .map(Value::Lengths)
    }

    fn cells(&mut self, text: &str, span: Span) -> Option<Value> {
        match parse_cells(text) {
            Some((series, parallel)) => Some(Value::Cells(series, parallel)),
            None => {
                let help = "write cells in series and parallel as on the label: `3S` or `4S2P`, up to 16 each";
                self.error(span, format!("`{text}` does not describe a pack"), help);
                None
            }
        }
    }

    fn tables<'v>(
        &mut self,
        section: &'static Section,
        items: impl Iterator<Item = &'v Spanned<DeValue<'v>>>,
    ) -> Option<Value> {
        let mut tables = Vec::new();
        for (i, item) in items.enumerate() {
            if i == MOST_OF_A_KIND {
                self.too_many(section.name, item.span());
                break;
            }
            match item.get_ref() {
                DeValue::Table(table) => tables.push(self.table(section, table, item.span())),
                _ => {
                    let help = format!("write [[{}]] tables", section.name);
                    self.error(item.span(), format!("a {} is a table", section.name), help);
                }
            }
        }
        Some(Value::Tables(tables))
    }

    fn too_many(&mut self, what: &str, span: Span) {
        let message = format!("there are more than {MOST_OF_A_KIND} of `{what}`");
        self.error(span, message, "write several small ones as one");
    }

    fn variant(
        &mut self,
        choices: &'static [(&'static str, &'static Section)],
        table: &DeTable<'_>,
        span: Span,
    ) -> Option<Value> {
        let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
        let Some(chosen) = table.get("type") else {
            let help = format!("add `type`: {}", one_of(&names));
            self.error(span, "the starter hull has no `type`", help);
            return None;
        };
        let word = chosen.get_ref().as_str();
        match choices.iter().find(|(name, _)| Some(*name) == word) {
            Some((_, section)) => Some(Value::Table(self.table(section, table, span))),
            None => {
                let text = word.unwrap_or("this");
                self.choice("type", &names, text, chosen.span())
            }
        }
    }
}

/// `3S`, `4S2P`, lower case too.
fn parse_cells(text: &str) -> Option<(u32, u32)> {
    let upper = text.trim().to_ascii_uppercase();
    let (series, rest) = upper.split_once('S')?;
    let parallel = match rest.trim() {
        "" => "1",
        rest => rest.strip_suffix('P')?,
    };
    let number = |digits: &str| digits.trim().parse().ok().filter(|n| (1..=16).contains(n));
    Some((number(series)?, number(parallel)?))
}

/// `a length`, `three lengths`, `a table`.
pub(crate) fn wanted(form: &Form) -> String {
    match form {
        Form::Quantity { kind, .. } => kind.name().into(),
        Form::Count { .. } => "a whole number".into(),
        Form::Text => "a text".into(),
        Form::Flag => "`true` or `false`".into(),
        Form::Choice(_) => "one of a few words".into(),
        Form::Path => "a file name".into(),
        Form::Paths => "a list of file names".into(),
        Form::Lengths { count, .. } => format!("a list of {count} lengths"),
        Form::Cells => "cells in series and parallel".into(),
        Form::Table(_) | Form::Variant(_) => "a table".into(),
        Form::Tables(_) => "a list of tables".into(),
    }
}

/// One way to write `key`, with its heading for a table.
pub(crate) fn sample(section: &Section, key: &Key) -> String {
    let name = key.name;
    match &key.form {
        Form::Quantity { kind, min, max } => {
            format!("`{name} = {}`", sample_quantity(*kind, [*min, *max]))
        }
        Form::Count { min, .. } => format!("`{name} = {min}`"),
        Form::Text => format!("`{name} = \"...\"`"),
        Form::Flag => format!("`{name} = true`"),
        Form::Choice(words) => format!("`{name} = \"{}\"`", words[0]),
        Form::Path => format!("`{name} = \"hull.stl\"`"),
        Form::Paths => format!("`{name} = [\"bow.stl\", \"stern.stl\"]`"),
        Form::Lengths { count: 3, .. } if name == "size" => {
            format!("`{name} = [\"100 mm\", \"35 mm\", \"25 mm\"]`")
        }
        Form::Lengths { .. } => {
            format!("`{name} = [\"210 mm\", \"0 mm\", \"28 mm\"]` (x forward, y to port, z up)")
        }
        Form::Cells => format!("`{name} = \"3S\"`"),
        Form::Table(_) | Form::Variant(_) if section.name.is_empty() => {
            format!("a table `[{name}]`")
        }
        Form::Table(_) | Form::Variant(_) => format!("a table `[{}.{name}]`", section.name),
        Form::Tables(_) if section.name.is_empty() => format!("`[[{name}]]` tables"),
        Form::Tables(_) => format!("`[[{}.{name}]]` tables", section.name),
    }
}

/// A round value inside the limits, in quotes unless it has no dimension.
fn sample_quantity(kind: Kind, [min, max]: [f64; 2]) -> String {
    let round = |x: f64| {
        let step = 10f64.powf(x.abs().log10().floor());
        (x / step).round() * step
    };
    let middle = if min > 0.0 {
        (min * max).sqrt()
    } else {
        max / 3.0
    };
    let (factor, offset) = kind
        .units()
        .first()
        .map_or((1.0, 0.0), |u| (u.factor, u.offset));
    let si = round((middle - offset) / factor) * factor + offset;
    let shown = show(kind, si).replace("°C", "degC");
    if kind == Kind::Number {
        shown
    } else {
        format!("\"{shown}\"")
    }
}

fn first_sentence(doc: &str) -> &str {
    doc.split_once(". ")
        .map_or(doc, |(first, _)| first)
        .trim_end_matches('.')
}
