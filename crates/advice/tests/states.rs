//! A finding's sentence, number, limit and state say one thing, over boats spoilt in many ways.

mod starter;

use advice::{Finding, Standing, findings};
use starter::{boat, form};
use study::{Effort, study};

/// Words that no content sentence has.
const TROUBLE: [&str; 9] = [
    "flips",
    "blows over",
    "out of the hull",
    "it sinks",
    "it lacks",
    "too much",
    "too flat",
    "does not",
    "far aft",
];

/// Never printed: a number without sense, a key, a name out of the program.
const NEVER: [&str; 8] = [
    "0.000",
    "NaN",
    "inf ",
    "part.",
    "[[",
    "drive 1",
    "per hour",
    "its capacity an hour",
];

/// Ways to spoil a boat, each by a share of itself.
fn spoilt(hull: &str, way: usize) -> boat::Boat {
    let mut b = boat(hull);
    let step = [-0.3, 0.35, 0.8][way / 4 % 3];
    match way % 4 {
        0 => b
            .parts
            .iter_mut()
            .for_each(|p| p.mass_kg.value *= 1.0 + step),
        1 => b
            .parts
            .iter_mut()
            .filter(|p| p.movable)
            .for_each(|p| p.at[0].value += 0.08 * step),
        2 => b
            .drives
            .iter_mut()
            .for_each(|d| d.propeller.diameter_m.value *= 1.0 + 0.5 * step),
        _ => b
            .drives
            .iter_mut()
            .for_each(|d| d.controller.rated_current_a = Some(60.0 * (1.0 + step))),
    }
    b
}

fn agrees(finding: &Finding) -> Result<(), String> {
    let told = format!("{} {}: {}", finding.id, finding.standing, finding.sentence);
    let words = &finding.sentence;
    if let Some(bad) = NEVER.iter().find(|w| words.contains(**w)) {
        return Err(format!("says `{bad}`: {told}"));
    }
    if finding.standing == Standing::Good
        && let Some(bad) = TROUBLE.iter().find(|w| words.contains(**w))
    {
        return Err(format!("good, and says `{bad}`: {told}"));
    }
    let (Some(number), Some(limit)) = (&finding.number, &finding.limit) else {
        return Ok(());
    };
    let margin = limit.margin(number.value);
    let near = (0.0..number.spread).contains(&margin);
    match finding.standing {
        Standing::Good if margin < 0.0 => Err(format!("good outside {limit}: {told} ({number})")),
        Standing::Good if near => Err(format!("good within its spread of {limit}: {told}")),
        Standing::Watch if near && !words.contains("could be") => Err(format!(
            "watched for its spread alone and does not say so: {told}"
        )),
        _ => Ok(()),
    }
}

#[test]
fn sentence_number_limit_and_state_agree() {
    let mut wrong = Vec::new();
    for (index, hull) in boat::STARTER_TYPES.iter().enumerate() {
        // Half of the ways each, and every way twice.
        for way in (0..12).filter(|w| w % 2 == index % 2) {
            let effort = Effort {
                points: 24,
                draws: 4,
                trials: false,
                ..Effort::default()
            };
            let spoilt = spoilt(hull, way);
            let Ok(study) = study(spoilt.clone(), form(&spoilt), effort, &|_| ()) else {
                continue;
            };
            let all = findings(&study);
            assert!(!all.is_empty());
            let each = all.iter().filter_map(|f| agrees(f).err());
            wrong.extend(each.map(|w| format!("{hull} {way}: {w}")));
        }
    }
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
}
