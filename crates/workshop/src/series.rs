//! Values over time, as they are sent.

use advice::number::significant;

/// What is left of a motion that has died away, in whatever unit it is sent: far below anything measured.
const NOTHING: f64 = 1e-9;

/// To six digits; what has died away is nothing, so that what is read back is what was sent.
pub fn settled(x: f64) -> f64 {
    match x.abs() < NOTHING {
        true => 0.0,
        false => significant(x),
    }
}

#[cfg(test)]
mod tests {
    use super::settled;

    #[test]
    fn what_is_sent_comes_back() {
        for x in [7.14519e-18, -3.88423e-19, -0.0, 1.0 / 3.0, -2e-9, 1234567.0] {
            let sent = serde_json::to_string(&settled(x)).expect("a number");
            let back: f64 = serde_json::from_str(&sent).expect("its own words");
            assert_eq!(back.to_bits(), settled(x).to_bits(), "{sent}");
        }
    }
}
