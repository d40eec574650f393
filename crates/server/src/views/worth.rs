//! Which numbers nobody gave are worth measuring first.

use serde::Serialize;
use study::worth::{Worth, worth};
use utoipa::ToSchema;

use super::finite;
use crate::studies::Studied;

/// What is worth measuring first.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WorthView {
    /// Of the text it was worked out from.
    pub revision: String,
    /// Worth most first; empty where no number that nobody gave moves an answer much.
    pub first: Vec<WorthOne>,
}

/// A number nobody gave that moves an answer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WorthOne {
    /// Which, as among the assumptions: `drive shaft efficiency`.
    pub what: String,
    /// The answer it moves most: `top speed`.
    pub moves: String,
    /// How far it alone moves that answer, over how far all together may, 0 to 1.
    pub share: Option<f64>,
}

/// Of a full study of the text `text`.
pub fn view(studied: &Studied, text: &str) -> WorthView {
    WorthView {
        revision: crate::revision::revision(text),
        first: worth(&studied.study).iter().map(one).collect(),
    }
}

fn one(of: &Worth) -> WorthOne {
    WorthOne {
        what: of.what.clone(),
        moves: of.moves.name().to_owned(),
        share: finite(of.share.min(1.0)),
    }
}
