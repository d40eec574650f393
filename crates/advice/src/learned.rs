//! What a prediction rests on besides the boat file, in words.

use jiff::civil::Date;
use study::Learned;

/// `from what was measured on 17 May 2026`; nothing where nothing was learned that carries.
pub fn rests_on(learned: &Learned) -> Option<String> {
    if learned.is_empty() {
        return None;
    }
    let days: Vec<String> = learned.from.iter().map(|name| day(name)).collect();
    let days = match days.as_slice() {
        [] => return Some("from what was measured on the water".to_owned()),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    };
    Some(format!("from what was measured on {days}"))
}

/// `17 May 2026` of `2026-05-17`, with what tells two outings of a day apart; a build as it is.
fn day(outing: &str) -> String {
    let (date, rest) = outing.split_at_checked(10).unwrap_or((outing, ""));
    match date.parse::<Date>() {
        Ok(date) => {
            let more = match rest.trim_start_matches('-') {
                "" => String::new(),
                more => format!(" ({more})"),
            };
            format!("{}{more}", date.strftime("%-d %B %Y"))
        }
        Err(_) => outing.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::DMatrix;
    use study::lever::{Knob, Lever};

    fn learned(from: &[&str]) -> Learned {
        let knob = Knob {
            lever: Lever::named("propeller thrust").expect("a lever"),
            mean: 1.1,
            sigma: 0.02,
            before: (1.0, 0.1),
        };
        let from = from.iter().map(|f| (*f).to_owned()).collect();
        Learned::new(vec![knob], &DMatrix::identity(1, 1), from).expect("sound")
    }

    #[test]
    fn days_are_said_as_people_say_them() {
        let says = |from: &[&str]| rests_on(&learned(from)).expect("something was learned");
        assert_eq!(
            says(&["2026-05-17"]),
            "from what was measured on 17 May 2026"
        );
        assert_eq!(
            says(&["2026-05-17", "2026-06-02-evening"]),
            "from what was measured on 17 May 2026 and 2 June 2026 (evening)"
        );
        assert_eq!(rests_on(&Learned::default()), None);
    }
}
