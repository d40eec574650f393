//! What a quick study tells for certain: without likely variations, runs in time and a search for other ways it could
//! run, most findings have a number but no state that would stand.

use crate::finding::Finding;

/// Told from shape, mass and rest, with a spread of their own.
const SURE: [&str; 21] = [
    "floats",
    "mass-margin",
    "stability",
    "swamped",
    "turned-over",
    "flotation",
    "balance",
    "propeller-load",
    "pad-angle",
    "pad-width",
    "mesh",
    "assumed",
    "part-outside",
    "part-sticks-out",
    "parts-overlap",
    "propeller-in-hull",
    "blade-in-hull",
    "blade-in-air",
    "no-fin",
    "foam-too-large",
    "hull-length",
];
/// Told from rest: outside of its limit stays outside, inside hangs on the spread.
const RESTING: [&str; 2] = ["freeboard", "heel"];

/// Whether the full study will say the same of it, apart from the spread.
pub fn tells(finding: &Finding) -> bool {
    let id: &str = &finding.id;
    let outside = || match (&finding.number, &finding.limit) {
        (Some(number), Some(limit)) => limit.margin(number.value) < 0.0,
        _ => false,
    };
    SURE.contains(&id) || (RESTING.contains(&id) && outside())
}
