//! Metres per file unit, from the size of the mesh when nothing better is known.

use crate::Notice;

/// A model boat's hull is this long, m.
const USUAL_M: std::ops::RangeInclusive<f64> = 0.2..=2.0;
/// Beyond this a mistake is more likely than a boat, m.
const POSSIBLE_M: std::ops::RangeInclusive<f64> = 0.05..=6.0;

/// Units CAD exports in, likeliest first, with metres per unit.
const UNITS: [(&str, f64); 4] = [("mm", 1e-3), ("m", 1.0), ("inch", 0.0254), ("cm", 1e-2)];

/// Metres per unit for a mesh `length` units long.
///
/// `declared` comes from the boat file, `in_file` from the mesh file itself; the first wins.
pub(crate) fn find(
    length: f64,
    declared: Option<f64>,
    in_file: Option<f64>,
    notices: &mut Vec<Notice>,
) -> f64 {
    if let Some(unit) = declared.or(in_file) {
        check_known(length, unit, declared.is_some(), notices);
        return unit;
    }
    guess(length, notices)
}

fn check_known(length: f64, unit: f64, declared: bool, notices: &mut Vec<Notice>) {
    let metres = length * unit;
    if POSSIBLE_M.contains(&metres) {
        return;
    }
    let who = if declared {
        "as declared"
    } else {
        "as the mesh file says"
    };
    let thousand = [
        (1e-3, "1000 times too large"),
        (1e3, "1000 times too small"),
    ]
    .into_iter()
    .find(|(factor, _)| USUAL_M.contains(&(metres * factor)));
    let hint = thousand.map_or("check the unit", |(_, what)| what);
    notices.push(Notice {
        serious: true,
        text: format!("{who}, the hull is {metres:.4} m long: {hint} for a model boat"),
    });
}

fn guess(length: f64, notices: &mut Vec<Notice>) -> f64 {
    let mut fits = UNITS
        .iter()
        .filter(|(_, unit)| USUAL_M.contains(&(length * unit)));
    match (fits.next(), fits.next()) {
        (Some((name, unit)), None) => {
            notices.push(Notice {
                // CAD rarely exports centimetres: a small boat in mm is as likely.
                serious: *unit == 1e-2,
                text: format!(
                    "the file gives no unit; {length:.2} long was read as {name} ({:.3} m)",
                    length * unit
                ),
            });
            *unit
        }
        (Some((name, unit)), Some((other, second))) => {
            notices.push(Notice {
                serious: true,
                text: format!(
                    "the file gives no unit; {length:.2} long could be {name} ({:.3} m) or {other} ({:.3} m): read as {name}, declare the unit to be sure",
                    length * unit,
                    length * second
                ),
            });
            *unit
        }
        (None, _) => odd(length, notices),
    }
}

/// No usual unit gives a usual length: look for a factor of 1000, else stay with millimetres.
fn odd(length: f64, notices: &mut Vec<Notice>) -> f64 {
    let (unit, what) = if USUAL_M.contains(&(length * 1e-6)) {
        (
            1e-6,
            "1000 times too large for mm: read as thousandths of mm",
        )
    } else if USUAL_M.contains(&(length * 1e3)) {
        (1e3, "1000 times too small for m: read as thousands of m")
    } else {
        (1e-3, "of no usual size in mm, cm, inch or m: read as mm")
    };
    notices.push(Notice {
        serious: true,
        text: format!(
            "the file gives no unit and {length:.6} long is {what} ({:.3} m); declare the unit",
            length * unit
        ),
    });
    unit
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(length: f64) -> (f64, bool) {
        let mut notices = Vec::new();
        let unit = find(length, None, None, &mut notices);
        (unit, notices.iter().any(|n| n.serious))
    }

    #[test]
    fn usual_sizes_name_their_unit() {
        assert_eq!(found(600.0), (1e-3, false));
        assert_eq!(found(0.6), (1.0, false));
        assert_eq!(found(24.0), (0.0254, true));
        assert_eq!(found(120.0), (1e-2, true));
    }

    #[test]
    fn a_factor_of_a_thousand_is_noticed() {
        assert_eq!(found(600_000.0), (1e-6, true));
        assert_eq!(found(0.0006), (1e3, true));
        let mut notices = Vec::new();
        assert_eq!(find(600.0, Some(1.0), Some(1e-3), &mut notices), 1.0);
        assert!(notices[0].text.contains("1000 times too large"));
    }
}
