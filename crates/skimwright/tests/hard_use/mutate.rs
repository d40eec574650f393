//! Files damaged in the ways files are: each by a number, so that any of them can be made again.

use rand::seq::IndexedRandom as _;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

/// Longer ones are cut: what grows with the length is tried elsewhere.
const LONGEST: usize = 64 << 10;

/// Numbers and words where readers stumble.
const ODD: [&str; 24] = [
    "nan",
    "inf",
    "-inf",
    "1e308",
    "-1e308",
    "1e-320",
    "-0",
    "0",
    "",
    "1,5",
    "1,,,,,5",
    "99999999999999999999",
    "0x10",
    "٣",
    "\u{202e}",
    "\u{0}",
    "\u{1b}[31m",
    "\"",
    "'''",
    "[[",
    "]]",
    "{}",
    "null",
    "µ ± 4 %",
];
/// Counts and lengths that lie.
const WORDS: [u32; 8] = [
    0,
    1,
    2,
    0x7fff_ffff,
    0x8000_0000,
    0xffff_ffff,
    0x0098_9680,
    0x0001_0000,
];

/// The damaged file of that number.
pub fn mutated(seeds: &[Vec<u8>], number: u64) -> Vec<u8> {
    let mut rng = ChaCha8Rng::seed_from_u64(number);
    let mut bytes = seeds.choose(&mut rng).cloned().unwrap_or_default();
    for _ in 0..1 << rng.random_range(0..4) {
        damage(&mut bytes, seeds, &mut rng);
        bytes.truncate(LONGEST);
    }
    bytes
}

fn damage(bytes: &mut Vec<u8>, seeds: &[Vec<u8>], rng: &mut ChaCha8Rng) {
    if bytes.is_empty() {
        bytes.push(rng.random());
    }
    let length = bytes.len();
    // Headers and indexes lie at the ends.
    let at = match rng.random_range(0..4) {
        0 => rng.random_range(0..length.min(128)),
        1 => length - 1 - rng.random_range(0..length.min(128)),
        _ => rng.random_range(0..length),
    };
    let end = (at + 1 + rng.random_range(0..64)).min(length);
    match rng.random_range(0..14) {
        0 | 1 => bytes[at] = rng.random(),
        2 | 3 => bytes[at] ^= 1 << rng.random_range(0..8),
        4 => drop(bytes.drain(at..end)),
        5 => {
            let times = [1, 2, 50, 2000].choose(rng).copied().unwrap_or(1);
            let again = bytes[at..end].repeat(times);
            bytes.splice(at..at, again);
        }
        6 => bytes.truncate(at),
        7 => {
            let noise: Vec<u8> = (at..end).map(|_| rng.random()).collect();
            bytes.splice(at..at, noise);
        }
        8 => {
            let other = seeds.choose(rng).cloned().unwrap_or_default();
            let from = rng.random_range(0..=other.len());
            bytes.truncate(at);
            bytes.extend_from_slice(&other[from..]);
        }
        9 | 10 => odd_value(bytes, at, rng),
        11 => {
            let word = WORDS.choose(rng).copied().unwrap_or(0);
            let word = if rng.random() {
                word.to_le_bytes()
            } else {
                word.to_be_bytes()
            };
            bytes.splice(at..(at + 4).min(length), word);
        }
        12 => line_ends(bytes, rng),
        _ => odd_line(bytes, at, rng),
    }
}

/// Another value in place of the number or word that is there.
fn odd_value(bytes: &mut Vec<u8>, at: usize, rng: &mut ChaCha8Rng) {
    let inside = |b: &u8| b.is_ascii_alphanumeric() || b"+-._".contains(b);
    let from = bytes[..at]
        .iter()
        .rposition(|b| !inside(b))
        .map_or(0, |i| i + 1);
    let to = bytes[at..]
        .iter()
        .position(|b| !inside(b))
        .map_or(bytes.len(), |i| at + i);
    let odd = ODD.choose(rng).copied().unwrap_or_default();
    bytes.splice(from..to.max(from), odd.bytes());
}

fn line_ends(bytes: &mut Vec<u8>, rng: &mut ChaCha8Rng) {
    let end: &[u8] = [&b"\r"[..], b"\r\n", b"\n\r", b"", b";"]
        .choose(rng)
        .copied()
        .unwrap_or(b"\r");
    let lines: Vec<&[u8]> = bytes.split(|b| *b == b'\n').collect();
    *bytes = lines.join(end);
}

/// A line twice, a thousand times, or not at all.
fn odd_line(bytes: &mut Vec<u8>, at: usize, rng: &mut ChaCha8Rng) {
    let from = bytes[..at]
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |i| i + 1);
    let to = bytes[at..]
        .iter()
        .position(|b| *b == b'\n')
        .map_or(bytes.len(), |i| at + i + 1);
    let times = [0, 0, 2, 1000].choose(rng).copied().unwrap_or(0);
    let line = &bytes[from..to];
    let lines = line.repeat(times.min(LONGEST / line.len().max(1)));
    bytes.splice(from..to, lines);
}
