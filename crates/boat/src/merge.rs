//! Two texts of one boat file that both grew from a third: what each changed, and both together.

use crate::edit::{EditError, NewValue, add, edit, remove};
use crate::sheet::{PathStep, steps};
use serde_json::Value;
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};

/// One difference between two texts.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// The way to the value or, for a table of a list, to the table.
    pub path: Vec<PathStep>,
    /// What the first text has there.
    pub before: Option<Value>,
    /// What the second has.
    pub after: Option<Value>,
    /// Whether a whole table of a list came or went.
    pub table: bool,
}

/// A value that both texts changed, each its own way.
#[derive(Debug, Clone, PartialEq)]
pub struct Clash {
    /// Where.
    pub path: Vec<PathStep>,
    /// What both started from.
    pub base: Option<Value>,
    /// What the one has now.
    pub mine: Option<Value>,
    /// What the other has now.
    pub theirs: Option<Value>,
}

/// Both together, and where they disagree.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged {
    /// `theirs` with every change of `mine` that does not clash.
    pub text: String,
    /// Left as `theirs` has them.
    pub clashes: Vec<Clash>,
}

type Leaves = BTreeMap<Vec<PathStep>, Option<Value>>;

/// What `after` says otherwise than `before`.
///
/// # Errors
/// [`EditError::Syntax`] when either is not TOML.
pub fn differences(before: &str, after: &str) -> Result<Vec<Difference>, EditError> {
    let (old, new) = (flat(before)?, flat(after)?);
    Ok(compared(&old, &new))
}

/// The changes from `base` to `mine`, made to `theirs`.
///
/// # Errors
/// [`EditError`] when a text is not TOML or a change cannot be made.
pub fn merge(base: &str, mine: &str, theirs: &str) -> Result<Merged, EditError> {
    let (old, new, other) = (flat(base)?, flat(mine)?, flat(theirs)?);
    let mut merged = Merged {
        text: theirs.to_owned(),
        clashes: Vec::new(),
    };
    for change in compared(&old, &new) {
        let now = other.get(&change.path).cloned().flatten();
        let clashes = if change.table && change.after.is_none() {
            // A table has no value of its own: it clashes when they changed something in it.
            other.contains_key(&change.path)
                && under(&old, &change.path) != under(&other, &change.path)
        } else {
            now != change.before && now != change.after
        };
        if clashes {
            merged.clashes.push(Clash {
                path: change.path,
                base: change.before,
                mine: change.after,
                theirs: now,
            });
        } else if now != change.after || change.table {
            merged.text = apply(&merged.text, &change)?;
        }
    }
    Ok(merged)
}

/// `text` with one difference made to it.
///
/// # Errors
/// [`EditError`] when it cannot be made there.
pub fn apply(text: &str, change: &Difference) -> Result<String, EditError> {
    let spelled = || EditError::BadPath(spell(&change.path));
    if change.table {
        let way = steps(&change.path).ok_or_else(spelled)?;
        return match (&change.after, change.path.split_last()) {
            (None, _) => match remove(text, &way) {
                Err(EditError::NotFound { .. } | EditError::Nothing(_)) => Ok(text.to_owned()),
                done => done,
            },
            (Some(_), Some((PathStep::Word(name), list))) => {
                match add(text, &steps(list).ok_or_else(spelled)?, name) {
                    Err(EditError::Taken { .. }) => Ok(text.to_owned()),
                    done => done,
                }
            }
            _ => Err(spelled()),
        };
    }
    let way = steps(&change.path).ok_or_else(spelled)?;
    match &change.after {
        Some(value) => edit(text, &way, new_value(value).ok_or_else(spelled)?),
        None => remove(text, &way),
    }
}

/// `value` as something that can be written; nothing for what a boat file has no place for.
pub fn new_value(value: &Value) -> Option<NewValue> {
    Some(match value {
        Value::String(text) => NewValue::Text(text.clone()),
        Value::Bool(flag) => NewValue::Flag(*flag),
        Value::Number(number) => match number.as_i64() {
            Some(count) => NewValue::Count(count),
            None => NewValue::Number(number.as_f64()?),
        },
        Value::Array(items) => {
            let texts = items.iter().map(|item| item.as_str().map(str::to_owned));
            NewValue::List(texts.collect::<Option<_>>()?)
        }
        Value::Null | Value::Object(_) => return None,
    })
}

/// `part "Battery" mass`.
pub fn spell(path: &[PathStep]) -> String {
    let each = path.iter().enumerate().map(|(index, step)| match step {
        PathStep::Word(word) if index == 1 && word.contains(' ') => format!("\"{word}\""),
        PathStep::Word(word) => word.clone(),
        PathStep::Nth(nth) => (nth + 1).to_string(),
    });
    each.collect::<Vec<_>>().join(" ")
}

fn compared(old: &Leaves, new: &Leaves) -> Vec<Difference> {
    let mut out: Vec<Difference> = Vec::new();
    let gone = |path: &[PathStep], out: &[Difference]| {
        let whole = |d: &Difference| d.table && d.after.is_none() && path.starts_with(&d.path);
        out.iter().any(whole)
    };
    for (path, before) in old {
        if !new.contains_key(path) && !gone(path, &out) {
            out.push(Difference {
                path: path.clone(),
                before: before.clone(),
                after: None,
                table: before.is_none(),
            });
        }
    }
    for (path, after) in new {
        let before = old.get(path);
        if before != Some(after) {
            out.push(Difference {
                path: path.clone(),
                before: before.cloned().flatten(),
                table: after.is_none(),
                after: after.clone().or(Some(Value::Null)),
            });
        }
    }
    out.retain(|change| !names_its_table(change));
    out
}

/// Adding a table writes its name already.
fn names_its_table(change: &Difference) -> bool {
    let [.., PathStep::Word(name), PathStep::Word(key)] = &change.path[..] else {
        return false;
    };
    let named = change.after == Some(Value::String(name.clone()));
    !change.table && named && (key == "name" || key == "surface")
}

fn under<'a>(leaves: &'a Leaves, path: &[PathStep]) -> Vec<(&'a Vec<PathStep>, &'a Option<Value>)> {
    let each = leaves.iter();
    each.filter(|(p, _)| p.starts_with(path)).collect()
}

/// Every value by its path; each table of a list stands before its values, without one.
fn flat(text: &str) -> Result<Leaves, EditError> {
    let (document, faults) = DeTable::parse_recoverable(text);
    if let Some(fault) = faults.first() {
        return Err(EditError::Syntax(fault.message().to_owned()));
    }
    let mut leaves = Leaves::new();
    gather(&mut leaves, &[], document.get_ref());
    Ok(leaves)
}

fn gather(leaves: &mut Leaves, path: &[PathStep], table: &DeTable<'_>) {
    for (name, value) in table {
        let mut here = path.to_vec();
        here.push(PathStep::Word(name.get_ref().as_ref().to_owned()));
        match value.get_ref() {
            DeValue::Table(inner) => gather(leaves, &here, inner),
            DeValue::Array(items) if items.iter().any(|i| i.get_ref().is_table()) => {
                for (index, item) in items.iter().enumerate() {
                    let inner = item.get_ref().as_table();
                    let mut at = here.clone();
                    at.push(crate::sheet::named(inner, name.get_ref(), index));
                    leaves.insert(at.clone(), None);
                    if let Some(inner) = inner {
                        gather(leaves, &at, inner);
                    }
                }
            }
            other => {
                leaves.insert(here, Some(crate::sheet::plain(other)));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BASE: &str = r#"name = "Tern" # mine
[water]
temperature = "15 degC"

[[part]]
name = "Battery"
mass = "200 g"

[[part]]
name = "Servo"
mass = "40 g"
"#;

    #[test]
    fn changes_to_different_keys_are_both_kept_with_comments() {
        let mine = BASE.replace("200 g", "210 g");
        let theirs = BASE
            .replace("15 degC", "18 degC")
            .replace("# mine", "# ours");
        let merged = merge(BASE, &mine, &theirs).expect("TOML");
        assert!(merged.clashes.is_empty());
        assert_eq!(merged.text, theirs.replace("200 g", "210 g"));
    }

    #[test]
    fn a_key_both_changed_is_a_clash_and_stays_theirs() {
        let mine = BASE.replace("200 g", "210 g").replace("15", "16");
        let theirs = BASE.replace("200 g", "220 g");
        let merged = merge(BASE, &mine, &theirs).expect("TOML");
        assert_eq!(merged.clashes.len(), 1);
        assert_eq!(spell(&merged.clashes[0].path), "part Battery mass");
        assert_eq!(merged.text, theirs.replace("15", "16"));
    }

    #[test]
    fn the_same_change_twice_is_no_clash() {
        let both = BASE.replace("200 g", "210 g");
        let merged = merge(BASE, &both, &both).expect("TOML");
        assert_eq!((merged.text, merged.clashes.len()), (both, 0));
    }

    #[test]
    fn tables_come_and_go() {
        let without = BASE.replace("\n[[part]]\nname = \"Servo\"\nmass = \"40 g\"\n", "");
        let gone = merge(BASE, &without, BASE).expect("TOML");
        assert_eq!(gone.text.trim_end(), without.trim_end());
        let back = merge(&without, BASE, &without).expect("TOML");
        assert!(differences(&back.text, BASE).expect("TOML").is_empty());
        let heavier = BASE.replace("40 g", "45 g");
        let kept = merge(BASE, &without, &heavier).expect("TOML");
        assert_eq!(kept.clashes.len(), 1, "theirs changed what mine removed");
        assert_eq!(kept.text, heavier);
    }
}
