//! A change of the boat file as a value: what to write where, so that whoever worked out what it does and whoever
//! makes it mean the same.

use crate::edit::{EditError, NewValue, add, edit, remove};
use crate::merge::spell;
use crate::sheet::{PathStep, steps};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One change of a boat file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "action", rename_all = "lowercase")]
pub enum Edit {
    /// Writes a value.
    Set {
        /// The way to it.
        path: Vec<PathStep>,
        /// What to write.
        value: NewValue,
    },
    /// Takes a value, or a table of a list, away.
    Remove {
        /// The way to it.
        path: Vec<PathStep>,
    },
    /// Adds a table to a list.
    Add {
        /// The way to the list.
        path: Vec<PathStep>,
        /// The new table's name.
        name: String,
    },
}

impl Edit {
    /// Writes `value` at `path`.
    pub fn set(path: Vec<PathStep>, value: impl Into<NewValue>) -> Self {
        let value = value.into();
        Self::Set { path, value }
    }

    /// The way to what it changes.
    pub fn path(&self) -> &[PathStep] {
        match self {
            Self::Set { path, .. } | Self::Remove { path } | Self::Add { path, .. } => path,
        }
    }

    /// In words: `part "Battery" at`.
    pub fn label(&self) -> String {
        match self {
            Self::Set { path, .. } => spell(path),
            Self::Remove { path } => format!("remove {}", spell(path)),
            Self::Add { path, name } => format!("add {} \"{name}\"", spell(path)),
        }
    }

    /// `text` with the change made, comments and order kept.
    ///
    /// # Errors
    /// [`EditError`] when the text is not TOML or the path leads nowhere.
    pub fn apply(&self, text: &str) -> Result<String, EditError> {
        let way = steps(self.path()).ok_or_else(|| EditError::BadPath(spell(self.path())))?;
        match self {
            Self::Set { value, .. } => edit(text, &way, value.clone()),
            Self::Remove { .. } => remove(text, &way),
            Self::Add { name, .. } => add(text, &way, name),
        }
    }

    /// `text` with all of them made, in order.
    ///
    /// # Errors
    /// [`EditError`] of the first that cannot be made.
    pub fn apply_all(edits: &[Self], text: &str) -> Result<String, EditError> {
        let mut out = text.to_owned();
        for edit in edits {
            out = edit.apply(&out)?;
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(text: &str) -> PathStep {
        PathStep::Word(text.to_owned())
    }

    #[test]
    fn changes_are_made_in_order_and_read_back_as_json() {
        let edits = [
            Edit::Add {
                path: vec![word("part")],
                name: "Ballast".to_owned(),
            },
            Edit::set(vec![word("part"), word("Ballast"), word("mass")], "40 g"),
            Edit::set(
                vec![word("part"), word("Ballast"), word("at")],
                NewValue::List(vec!["10 mm".into(), "0 mm".into(), "5 mm".into()]),
            ),
            Edit::set(
                vec![word("part"), word("Ballast"), word("movable")],
                NewValue::Flag(true),
            ),
        ];
        let json = serde_json::to_string(&edits).unwrap();
        let back: Vec<Edit> = serde_json::from_str(&json).unwrap();
        assert_eq!(back, edits);
        let text = crate::template("vee", "Tern").unwrap();
        let changed = Edit::apply_all(&back, &text).unwrap();
        let (boat, _) = crate::load(&changed, "boat.toml").unwrap();
        let ballast = boat.parts.iter().find(|p| p.name == "Ballast").unwrap();
        assert!((ballast.mass_kg.value - 0.040).abs() < 1e-12 && ballast.movable);
        let gone = Edit::Remove {
            path: vec![word("part"), word("Ballast")],
        };
        let there_and_back = gone.apply(&changed).unwrap();
        assert_eq!(
            crate::load(&there_and_back, "boat.toml").unwrap().0,
            crate::load(&text, "boat.toml").unwrap().0
        );
    }

    #[test]
    fn a_way_that_leads_nowhere_is_refused() {
        let edit = Edit::set(vec![word("parts"), word("Battery")], "40 g");
        assert!(edit.apply("").is_err());
    }
}
