//! From a builder's words to symptoms.
//!
//! Words are stemmed (Snowball English) and looked up, phrases too, in [`super::lexicon`]; a slip of the keyboard
//! is allowed for. A symptom has ways to be said: meanings that must stand together, some of them denied. Of two
//! symptoms that rest on the same words the one that uses more of them stands. What is left over is not passed in
//! silence: clauses in which nothing was recognised and words nobody knows are told.

use super::lexicon::{DENIALS, LEXICON, PLAIN};
use super::table::{SYMPTOMS, Symptom};
use rust_stemmers::{Algorithm, Stemmer};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::LazyLock;

/// How far a denial reaches, words.
const REACH: usize = 5;
/// Longer texts are no description.
pub const MOST_BYTES: usize = 4000;
/// A guess needs this share of its words' weight in one symptom, and this much weight.
const GUESS_SHARE: f64 = 0.5;
const GUESS_WEIGHT: f64 = 2.0;
/// Symptoms offered where none is recognised.
const OFFERED: usize = 3;
/// Meanings that tell when and where: alone they are no symptom, and two symptoms may share them.
const CONTEXT: &[&str] = &[
    "turn",
    "straight",
    "launch",
    "full",
    "off",
    "late",
    "before",
    "wind",
    "wave",
    "far",
    "rest",
    "after-crash",
    "boat",
    "only",
    "both",
    "good",
    "awful",
    "sits",
    "cool",
    "expected",
    NUMBER,
    "how",
];
/// Words that join clauses; a new one begins after them.
const JOINS: &[&str] = &["and", "but", "then", "while", "although", "because", "so"];
/// The meaning of anything in digits.
const NUMBER: &str = "number";
/// Circumstances a builder is told back, with their names.
const TOLD: &[(&str, &str)] = &[
    ("launch", "when it starts"),
    ("straight", "on the straight"),
    ("turn", "in turns"),
    ("full", "under power"),
    ("off", "off the throttle"),
    ("late", "after a while"),
    ("wind", "in wind"),
    ("wave", "over waves"),
    ("far", "far out"),
    ("rest", "at rest"),
    ("after-crash", "after a knock"),
];

/// A symptom recognised in a text.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// Which.
    pub symptom: &'static Symptom,
    /// The words that told it, as the builder wrote them.
    pub words: Vec<String>,
    /// When and where, in words.
    pub when: Vec<&'static str>,
    /// Not said in any way known: the nearest symptom, to be told as a guess.
    pub guessed: bool,
}

impl Seen {
    /// How it was recognised, for whoever reads the answer; a guess says that it is one.
    pub fn says(&self) -> String {
        let words = self.words.join(" ");
        let when = match self.when.as_slice() {
            [] => String::new(),
            when => format!(", {}", when.join(", ")),
        };
        if self.guessed {
            format!("a guess, nearest to `{words}`: say it in other words if it is not this")
        } else {
            format!("you said: {words}{when}")
        }
    }
}

/// Symptoms in the order in which the text tells them.
pub fn recognise(text: &str) -> Vec<Seen> {
    hear(text).seen
}

/// Symptoms that come nearest to what was not recognised.
pub fn nearest(text: &str) -> Vec<&'static Symptom> {
    hear(text).near
}

/// What was made of a text.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heard {
    /// Symptoms in the order in which the text tells them.
    pub seen: Vec<Seen>,
    /// Clauses with something in them of which nothing was recognised, as written.
    pub unheard: Vec<String>,
    /// Words nobody knows, as written.
    pub unknown: Vec<String>,
    /// Symptoms that come nearest to what was not recognised.
    pub near: Vec<&'static Symptom>,
}

/// A word of the text.
struct Token {
    word: String,
    stem: String,
    clause: usize,
    sentence: usize,
    /// Ends where a denial's reach ends.
    scope: usize,
}

/// A word or phrase with its meanings.
struct Unit {
    at: BTreeSet<usize>,
    meanings: Vec<&'static str>,
    denied: bool,
    clause: usize,
    sentence: usize,
}

/// A way of saying matched in a text.
struct Match {
    symptom: &'static Symptom,
    at: BTreeSet<usize>,
    /// Without what only tells when and where.
    key: BTreeSet<usize>,
    clauses: BTreeSet<usize>,
}

/// Stems of a phrase to the meanings it has.
struct Index {
    phrases: Vec<(Vec<String>, &'static str)>,
    words: HashMap<String, Vec<&'static str>>,
    /// In how many symptoms a meaning occurs.
    spread: BTreeMap<&'static str, f64>,
}

static STEMMER: LazyLock<Stemmer> = LazyLock::new(|| Stemmer::create(Algorithm::English));

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut phrases = Vec::new();
    let mut words: HashMap<String, Vec<&'static str>> = HashMap::new();
    for (meaning, said) in LEXICON {
        for phrase in *said {
            // Joining words are no tokens.
            let said = phrase.split(' ').filter(|w| !JOINS.contains(w));
            let stems: Vec<String> = said.map(stem).collect();
            if let [one] = stems.as_slice() {
                let known = words.entry(one.clone()).or_default();
                if !known.contains(meaning) {
                    known.push(meaning);
                }
            } else {
                phrases.push((stems, *meaning));
            }
        }
    }
    let mut spread = BTreeMap::new();
    for symptom in SYMPTOMS {
        for meaning in meanings_of(symptom) {
            *spread.entry(meaning).or_insert(0.0) += 1.0;
        }
    }
    Index {
        phrases,
        words,
        spread,
    }
});

/// Every meaning that a symptom's ways of saying use.
fn meanings_of(symptom: &'static Symptom) -> BTreeSet<&'static str> {
    let words = symptom.said.iter().flat_map(|way| way.split(' '));
    words
        .flat_map(|w| w.trim_start_matches(['=', '>', '!', '~']).split('|'))
        .collect()
}

/// What was made of a text.
pub fn hear(text: &str) -> Heard {
    let tokens = tokens(text);
    let units = units(&tokens);
    let kept = kept(matches(&units));
    let mut seen: Vec<(usize, Seen)> = kept
        .iter()
        .map(|m| (m.at.first().copied().unwrap_or(0), told(m, &tokens, &units)))
        .collect();
    let clauses: BTreeSet<usize> = tokens.iter().map(|t| t.clause).collect();
    let mut heard = Heard::default();
    for clause in clauses {
        let inside = |at: &BTreeSet<usize>| at.iter().any(|i| tokens[*i].clause == clause);
        if kept.iter().any(|m| inside(&m.at)) || !says_something(clause, &tokens, &units) {
            continue;
        }
        let own: Vec<&Unit> = units.iter().filter(|u| u.clause == clause).collect();
        match guess(&own) {
            Some(symptom) if kept.is_empty() => {
                let at: BTreeSet<usize> = own.iter().flat_map(|u| u.at.iter().copied()).collect();
                let known = seen.iter().any(|(_, s)| s.symptom.id == symptom.id);
                if !known {
                    let m = Match {
                        symptom,
                        key: at.clone(),
                        at,
                        clauses: BTreeSet::from([clause]),
                    };
                    let one = Seen {
                        guessed: true,
                        ..told(&m, &tokens, &units)
                    };
                    seen.push((m.at.first().copied().unwrap_or(0), one));
                }
            }
            _ => {
                let words = tokens.iter().filter(|t| t.clause == clause);
                let said: Vec<&str> = words.map(|t| t.word.as_str()).collect();
                heard.unheard.push(said.join(" "));
                for symptom in closest(&own) {
                    if !heard.near.contains(&symptom) && heard.near.len() < OFFERED {
                        heard.near.push(symptom);
                    }
                }
            }
        }
    }
    seen.sort_by_key(|(first, _)| *first);
    heard.seen = seen.into_iter().map(|(_, s)| s).collect();
    heard
        .near
        .retain(|n| heard.seen.iter().all(|s| s.symptom.id != n.id));
    heard.unknown = tokens
        .iter()
        .filter(|t| is_unknown(t, &units, &tokens))
        .map(|t| t.word.clone())
        .collect();
    heard
}

fn told(m: &Match, tokens: &[Token], units: &[Unit]) -> Seen {
    let sentence = m.at.first().map_or(0, |i| tokens[*i].sentence);
    let when = TOLD.iter().filter(|(meaning, _)| {
        let there = |u: &&Unit| u.sentence == sentence && !u.denied && u.meanings.contains(meaning);
        units.iter().any(|u| there(&u))
    });
    Seen {
        symptom: m.symptom,
        words: m.at.iter().map(|i| tokens[*i].word.clone()).collect(),
        when: when.map(|(_, name)| *name).collect(),
        guessed: false,
    }
}

/// Whether a clause holds more than circumstances, praise and denials of symptoms.
fn says_something(clause: usize, tokens: &[Token], units: &[Unit]) -> bool {
    let own = || units.iter().filter(move |u| u.clause == clause);
    let praised = own().any(|u| !u.denied && u.meanings.contains(&"good"));
    let telling = own().filter(|u| u.meanings.iter().any(|m| !CONTEXT.contains(m)));
    let open = telling.filter(|u| !u.denied).count();
    let strange = tokens
        .iter()
        .filter(|t| t.clause == clause && is_unknown(t, units, tokens))
        .count();
    !praised && (open > 0 || strange > 0)
}

fn is_unknown(token: &Token, units: &[Unit], tokens: &[Token]) -> bool {
    let plain = |w: &str| PLAIN.contains(&w) || DENIALS.contains(&w);
    let bare = token.word.replace('\'', "");
    let number = bare.chars().any(|c| c.is_ascii_digit());
    let meant = units
        .iter()
        .any(|u| u.at.iter().any(|i| std::ptr::eq(&tokens[*i], token)));
    bare.len() > 2 && !number && !meant && !plain(&bare)
}

/// Every way of every symptom that is said.
fn matches(units: &[Unit]) -> Vec<Match> {
    let mut all: Vec<Match> = Vec::new();
    for symptom in SYMPTOMS {
        for way in symptom.said {
            all.extend(each_match(way, units).into_iter().map(|chosen| {
                let all_of = |keep: &dyn Fn(&Unit) -> bool| {
                    let units = chosen.iter().map(|i| &units[*i]).filter(|u| keep(u));
                    units.flat_map(|u| u.at.iter().copied()).collect()
                };
                let is_key = |u: &Unit| u.meanings.iter().any(|m| !CONTEXT.contains(m));
                Match {
                    symptom,
                    at: all_of(&|_| true),
                    key: all_of(&is_key),
                    clauses: chosen.iter().map(|i| units[*i].clause).collect(),
                }
            }));
        }
    }
    all
}

/// Units that satisfy a way, one for each of its elements; every choice that stands close together.
fn each_match(way: &str, units: &[Unit]) -> Vec<Vec<usize>> {
    let tight = way.starts_with('=');
    let wide = way.starts_with('>');
    let elements: Vec<&str> = way.trim_start_matches(['=', '>']).split(' ').collect();
    let mut open: Vec<Vec<usize>> = vec![Vec::new()];
    for element in elements {
        let mut next = Vec::new();
        for chosen in &open {
            for (i, unit) in units.iter().enumerate() {
                let apart = chosen.iter().all(|c| {
                    let other = &units[*c];
                    let near = match (tight, wide) {
                        (true, _) => other.clause == unit.clause,
                        (_, true) => true,
                        _ => other.clause.abs_diff(unit.clause) <= 1,
                    };
                    near && other.sentence == unit.sentence && other.at.is_disjoint(&unit.at)
                });
                if apart && satisfies(element, unit) {
                    let mut one = chosen.clone();
                    one.push(i);
                    next.push(one);
                }
            }
        }
        // A text of many like words has many choices; a few hundred are all that can differ.
        next.truncate(400);
        open = next;
    }
    open
}

fn satisfies(element: &str, unit: &Unit) -> bool {
    let (wanted, said) = match element.as_bytes().first() {
        Some(b'!') => (Some(true), &element[1..]),
        Some(b'~') => (None, &element[1..]),
        _ => (Some(false), element),
    };
    // What only tells when and where may stand on either side of a `not`, unless the way asks for it.
    let context = said.split('|').all(|m| CONTEXT.contains(&m));
    let either = wanted.is_none() || (context && wanted == Some(false));
    let denial = either || wanted == Some(unit.denied);
    denial && said.split('|').any(|m| unit.meanings.contains(&m))
}

/// The most telling first; the next stands where it rests on a word that no symptom before it used.
fn kept(mut all: Vec<Match>) -> Vec<Match> {
    let span = |m: &Match| match (m.at.first(), m.at.last()) {
        (Some(a), Some(b)) => b - a,
        _ => 0,
    };
    all.sort_by_key(|m| (std::cmp::Reverse(m.at.len()), span(m)));
    let mut kept: Vec<Match> = Vec::new();
    for m in all {
        if kept.iter().any(|k| k.symptom.id == m.symptom.id) {
            continue;
        }
        let alike = kept.iter().any(|k| k.at == m.at);
        // One word beside a whole way of saying in the same clause belongs to it.
        let whole = |k: &&Match| k.key.len() > 1 && k.clauses == m.clauses;
        let word = m.at.len() == 1 && kept.iter().any(|k| whole(&k));
        if word {
            continue;
        }
        let used: BTreeSet<usize> = kept.iter().flat_map(|k| k.at.iter().copied()).collect();
        if alike || m.key.difference(&used).next().is_some() {
            kept.push(m);
        }
    }
    kept
}

/// Weight of a meaning: rare ones tell more.
fn weight(meaning: &str) -> f64 {
    if CONTEXT.contains(&meaning) {
        return 0.3;
    }
    let count = INDEX.spread.get(meaning).copied().unwrap_or(0.0);
    if count > 0.0 {
        1.0 + (SYMPTOMS.len() as f64 / count).ln()
    } else {
        0.0
    }
}

/// Weight of what a clause shares with a symptom, over the weight of all it says.
fn likeness(symptom: &'static Symptom, own: &[&Unit]) -> (f64, f64) {
    let meanings = meanings_of(symptom);
    let best = |u: &&Unit, keep: &dyn Fn(&str) -> bool| {
        let each = u.meanings.iter().filter(|m| keep(m)).map(|m| weight(m));
        each.fold(0.0, f64::max)
    };
    let all: f64 = own.iter().map(|u| best(u, &|_| true)).sum();
    let shared: f64 = own.iter().map(|u| best(u, &|m| meanings.contains(m))).sum();
    (shared, shared / all.max(1e-9))
}

/// The one symptom that a clause shares most with, where it shares much.
fn guess(own: &[&Unit]) -> Option<&'static Symptom> {
    let open: Vec<&Unit> = own.to_vec();
    let mut all: Vec<(f64, f64, &'static Symptom)> = SYMPTOMS
        .iter()
        .map(|s| {
            let (weight, share) = likeness(s, &open);
            (weight, share, s)
        })
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (weight, share, first) = *all.first()?;
    let second = all.get(1).map_or(0.0, |s| s.0);
    (weight >= GUESS_WEIGHT && share >= GUESS_SHARE && weight > second).then_some(first)
}

/// Symptoms that share something with a clause, the most first.
fn closest(own: &[&Unit]) -> Vec<&'static Symptom> {
    let mut all: Vec<(f64, &'static Symptom)> = SYMPTOMS
        .iter()
        .map(|s| (likeness(s, own).0, s))
        .filter(|(weight, _)| *weight >= 1.0)
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    all.into_iter().take(OFFERED).map(|(_, s)| s).collect()
}

/// Every word and phrase that means something.
fn units(tokens: &[Token]) -> Vec<Unit> {
    let mut all: BTreeMap<(usize, usize), Vec<&'static str>> = BTreeMap::new();
    let mut add = |at: (usize, usize), meaning: &'static str| {
        let known = all.entry(at).or_default();
        if !known.contains(&meaning) {
            known.push(meaning);
        }
    };
    for (i, token) in tokens.iter().enumerate() {
        for meaning in meanings(token) {
            add((i, 1), meaning);
        }
        for (stems, meaning) in &INDEX.phrases {
            let there = tokens.get(i..i + stems.len()).is_some_and(|part| {
                part.iter().zip(stems).all(|(t, s)| {
                    t.sentence == token.sentence && (t.stem == *s || slipped(&t.stem, s))
                })
            });
            if there {
                add((i, stems.len()), meaning);
            }
        }
    }
    let denied = denied(tokens);
    // `rocking horse` is no rocking: a word inside a phrase means what the phrase means.
    let phrases: Vec<(usize, usize)> = all.keys().copied().filter(|(_, n)| *n > 1).collect();
    let inside = |(from, n): (usize, usize)| {
        let within = |p: &(usize, usize)| p.1 > n && p.0 <= from && from + n <= p.0 + p.1;
        phrases.iter().any(within)
    };
    all.retain(|at, _| !inside(*at));
    all.into_iter()
        .map(|((from, count), meanings)| Unit {
            at: (from..from + count).collect(),
            meanings,
            // A phrase that itself begins with a denial is not denied by it.
            denied: denied[from],
            clause: tokens[from].clause,
            sentence: tokens[from].sentence,
        })
        .collect()
}

/// Which words a denial reaches.
fn denied(tokens: &[Token]) -> Vec<bool> {
    let mut all = vec![false; tokens.len()];
    for (i, token) in tokens.iter().enumerate() {
        let bare = token.word.replace('\'', "");
        if !DENIALS.contains(&bare.as_str()) {
            continue;
        }
        let reach = tokens.iter().enumerate().skip(i + 1).take(REACH);
        for (j, other) in reach.take_while(|(_, t)| t.scope == token.scope) {
            let _ = other;
            all[j] = true;
        }
    }
    all
}

fn meanings(token: &Token) -> Vec<&'static str> {
    if token.word.starts_with(|c: char| c.is_ascii_digit())
        && !INDEX.words.contains_key(&token.stem)
    {
        return vec![NUMBER];
    }
    if let Some(known) = INDEX.words.get(&token.stem) {
        return known.clone();
    }
    let bare = token.word.replace('\'', "");
    if PLAIN.contains(&bare.as_str()) || DENIALS.contains(&bare.as_str()) {
        return Vec::new();
    }
    // Sorted, so that a tie does not depend on the order of a hash.
    let mut near: Vec<&String> = INDEX
        .words
        .keys()
        .filter(|s| slipped(&token.stem, s))
        .collect();
    near.sort_by_key(|s| (strsim::damerau_levenshtein(&token.stem, s), (*s).clone()));
    near.first()
        .and_then(|s| INDEX.words.get(*s))
        .cloned()
        .unwrap_or_default()
}

/// The same but for a slip of the keyboard.
fn slipped(a: &str, b: &str) -> bool {
    let length = a.chars().count().min(b.chars().count());
    let allowed = match length {
        0..=4 => return false,
        5..=7 => 1,
        _ => 2,
    };
    let first = a.chars().next() == b.chars().next();
    first && strsim::damerau_levenshtein(a, b) <= allowed && !exchanged(a, b)
}

/// Short words that differ in one letter for another are two words, not a slip.
fn exchanged(a: &str, b: &str) -> bool {
    let same_length = a.chars().count() == b.chars().count();
    let apart = a.chars().zip(b.chars()).filter(|(x, y)| x != y).count();
    same_length && a.chars().count() <= 6 && apart == 1
}

/// A clause begins after a mark, and after a joining word where a new subject follows.
fn tokens(text: &str) -> Vec<Token> {
    const SUBJECTS: &[&str] = &[
        "the", "it", "i", "my", "there", "then", "boat", "she", "its", "now", "we", "won't",
        "wont", "doesn't", "doesnt", "can't", "cant", "found", "a", "no",
    ];
    const PARTS: &[&str] = &[
        "motor",
        "esc",
        "controller",
        "battery",
        "pack",
        "lipo",
        "servo",
        "rudder",
        "prop",
        "propeller",
        "water",
        "hull",
        "nose",
        "bow",
        "stern",
        "radio",
        "receiver",
        "range",
        "motors",
        "batteries",
        "steering",
        "throttle",
    ];
    let plain = text.to_lowercase().replace(['’', '`', '´'], "'");
    let pieces: Vec<&str> = plain
        .split_inclusive(|c: char| c.is_whitespace() || ",;.!?:/-()\"".contains(c))
        .collect();
    let bare = |piece: &str| {
        piece
            .trim_matches(|c: char| !c.is_alphanumeric() && c != '\'')
            .trim_matches('\'')
            .to_owned()
    };
    let (mut all, mut clause, mut sentence, mut scope) = (Vec::new(), 0, 0, 0);
    for (n, piece) in pieces.iter().enumerate() {
        let word = bare(piece);
        let next = pieces.get(n + 1).map(|p| bare(p)).unwrap_or_default();
        if JOINS.contains(&word.as_str()) {
            scope += 1;
            // `motor and controller are hot` is one clause, `it hops and motor gets hot` two.
            let before = all
                .last()
                .is_some_and(|t: &Token| PARTS.contains(&t.word.as_str()));
            let part = PARTS.contains(&next.as_str()) && !before;
            if word != "and" || part || SUBJECTS.contains(&next.as_str()) {
                clause += 1;
            }
        } else if !word.is_empty() {
            all.push(Token {
                stem: stem(&word),
                word,
                clause,
                sentence,
                scope,
            });
        }
        match piece.chars().last() {
            Some(',' | ';' | '(' | ')') => (clause, scope) = (clause + 1, scope + 1),
            // A full stop inside a number ends nothing.
            Some('.') if next.chars().next().is_some_and(|c| c.is_ascii_digit()) => {}
            Some('.' | '!' | '?' | '\n') => {
                (clause, scope, sentence) = (clause + 1, scope + 1, sentence + 1);
            }
            Some(':') => scope += 1,
            _ => {}
        }
    }
    all
}

/// A word without its ending.
fn stem(word: &str) -> String {
    let bare: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
    STEMMER.stem(&bare).into_owned()
}
