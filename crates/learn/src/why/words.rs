//! From a builder's words to symptoms.
//!
//! Words are lowered, freed of endings and compared with a letter or two of misspelling allowed. A way
//! of saying it matches when all its words are there; `not` must stand within five words of the next
//! one in the same clause. Of two symptoms, one whose words are all part of the other's is dropped.

use super::table::{SYMPTOMS, Symptom};
use std::collections::BTreeSet;

/// Endings are taken off words longer than they by this.
const LEFT: usize = 2;
/// How far `not` reaches, words.
const REACH: usize = 5;
/// Longer texts are no description.
pub const MOST_BYTES: usize = 4000;

/// A symptom recognised in a text.
#[derive(Debug)]
pub struct Seen {
    /// Which.
    pub symptom: &'static Symptom,
    /// The words that told it, as the builder wrote them.
    pub words: Vec<String>,
}

struct Token {
    stem: String,
    word: String,
    clause: usize,
}

/// Symptoms in the order in which the text tells them.
pub fn recognise(text: &str) -> Vec<Seen> {
    let tokens = tokens(text);
    let mut found: Vec<(&'static Symptom, BTreeSet<usize>)> = Vec::new();
    for symptom in SYMPTOMS {
        let ways = symptom.said.iter().filter_map(|way| matched(way, &tokens));
        let best = ways.max_by_key(|at| (at.len(), std::cmp::Reverse(at.iter().next().copied())));
        found.extend(best.map(|at| (symptom, at)));
    }
    let part = |a: &BTreeSet<usize>, b: &BTreeSet<usize>| a.is_subset(b) && a.len() < b.len();
    let kept = found
        .iter()
        .filter(|(_, at)| !found.iter().any(|(_, other)| part(at, other)));
    let mut seen: Vec<(usize, Seen)> = kept
        .map(|(symptom, at)| {
            let words = at.iter().map(|i| tokens[*i].word.clone()).collect();
            (
                at.iter().next().copied().unwrap_or(0),
                Seen { symptom, words },
            )
        })
        .collect();
    seen.sort_by_key(|(first, _)| *first);
    seen.into_iter().map(|(_, s)| s).collect()
}

/// Symptoms that come nearest to a text in which none is recognised.
pub fn nearest(text: &str) -> Vec<&'static Symptom> {
    let tokens = tokens(text);
    let share = |symptom: &Symptom| {
        let of = |way: &&str| {
            let words: Vec<&str> = way.split(' ').collect();
            let there = words
                .iter()
                .filter(|w| tokens.iter().any(|t| any(w, t)))
                .count();
            100 * there / words.len().max(1)
        };
        symptom.said.iter().map(of).max().unwrap_or(0)
    };
    let mut near: Vec<&Symptom> = SYMPTOMS.iter().filter(|s| share(s) >= 50).collect();
    near.sort_by_key(|s| std::cmp::Reverse(share(s)));
    near.truncate(3);
    near
}

/// Places of a way's words, or `None` when one is missing.
fn matched(way: &str, tokens: &[Token]) -> Option<BTreeSet<usize>> {
    let words: Vec<&str> = way.split(' ').collect();
    let mut at = BTreeSet::new();
    for (n, word) in words.iter().enumerate() {
        let fits = |i: &usize| !at.contains(i) && any(word, &tokens[*i]);
        let near = |i: &usize| {
            let next = words.get(n + 1).filter(|_| *word == "not");
            next.is_none_or(|next| {
                let reach = (i + 1)..tokens.len().min(i + 1 + REACH);
                reach
                    .into_iter()
                    .any(|j| tokens[j].clause == tokens[*i].clause && any(next, &tokens[j]))
            })
        };
        let place = (0..tokens.len()).find(|i| fits(i) && near(i))?;
        at.insert(place);
    }
    Some(at)
}

fn any(alternatives: &str, token: &Token) -> bool {
    alternatives
        .split('|')
        .any(|word| alike(&stem(word), &token.stem))
}

/// The same but for a slip of the keyboard.
fn alike(a: &str, b: &str) -> bool {
    if a == b {
        return true;
    }
    let length = a.len().min(b.len());
    let allowed = match length {
        0..=4 => return false,
        5..=7 => 1,
        _ => 2,
    };
    a.chars().next() == b.chars().next() && strsim::damerau_levenshtein(a, b) <= allowed
}

fn tokens(text: &str) -> Vec<Token> {
    let plain = text.to_lowercase().replace(['’', '`'], "'");
    let mut all = Vec::new();
    let mut clause = 0;
    for piece in plain.split_inclusive([
        ' ', ',', ';', '.', '!', '?', ':', '\n', '\t', '/', '-', '(', ')', '"',
    ]) {
        let word = piece
            .trim_matches(|c: char| !c.is_alphanumeric() && c != '\'')
            .trim_matches('\'');
        if matches!(word, "and" | "but" | "then" | "while" | "or") {
            clause += 1;
        } else if !word.is_empty() {
            all.push(Token {
                stem: negated(word).map_or_else(|| stem(word), str::to_owned),
                word: word.to_owned(),
                clause,
            });
        }
        if piece.ends_with([',', ';', '.', '!', '?', ':', '\n']) {
            clause += 1;
        }
    }
    all
}

/// Every way of saying no.
fn negated(word: &str) -> Option<&'static str> {
    let plain = word.replace('\'', "");
    let list = [
        "not", "no", "never", "wont", "doesnt", "dont", "cant", "cannot", "couldnt", "wouldnt",
        "didnt", "isnt", "refuses", "refuse", "refused", "fails", "without", "hardly", "barely",
    ];
    list.contains(&plain.as_str()).then_some("not")
}

/// A word without its ending.
fn stem(word: &str) -> String {
    let mut s: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
    for ending in ["ing", "ed", "es", "s"] {
        let Some(short) = s.strip_suffix(ending) else {
            continue;
        };
        if short.len() >= LEFT && !(ending == "s" && short.ends_with('s')) {
            s = short.to_owned();
            break;
        }
    }
    if s.len() > 3 && s.ends_with('e') {
        s.pop();
    }
    if s.ends_with('y') {
        s.pop();
        s.push('i');
    }
    let twice = s.chars().rev().take(2).collect::<Vec<_>>();
    if s.len() > 3 && twice.len() == 2 && twice[0] == twice[1] {
        s.pop();
    }
    s
}
