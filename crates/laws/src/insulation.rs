//! Temperatures that windings and magnets may reach.
//!
//! - Winding classes A 105, E 120, B 130, F 155, H 180, N 200, R 220 degC. Neodymium: plain 80,
//!   M 100, H 120, SH 150, UH 180, EH 200 degC, weaker by about 0.11 % a kelvin on the way.
//! - Source: IEC 60085 classes and magnet suppliers' tables, both second-hand.
//! - Units: K; fraction a kelvin.
//! - Valid: the classes are for long life; a race motor's winding may pass for seconds. Past its
//!   limit in its own circuit a magnet loses strength for good: it is usually reached first.
//! - Checks: `checks/insulation_magnets.csv`.

/// A limit by name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Class or grade.
    pub name: &'static str,
    /// K.
    pub limit_k: f64,
    /// Magnet strength a kelvin; 0 for windings.
    pub per_k: f64,
}

const fn limit(name: &'static str, celsius: f64, per_k: f64) -> Limit {
    Limit {
        name,
        limit_k: celsius + 273.15,
        per_k,
    }
}

/// Winding classes.
pub const CLASSES: [Limit; 7] = [
    limit("A", 105.0, 0.0),
    limit("E", 120.0, 0.0),
    limit("B", 130.0, 0.0),
    limit("F", 155.0, 0.0),
    limit("H", 180.0, 0.0),
    limit("N", 200.0, 0.0),
    limit("R", 220.0, 0.0),
];

/// Neodymium grades; the last two coefficients are not in the source and are taken as SH's.
pub const MAGNETS: [Limit; 6] = [
    limit("plain", 80.0, -0.0012),
    limit("M", 100.0, -0.0012),
    limit("H", 120.0, -0.0011),
    limit("SH", 150.0, -0.0010),
    limit("UH", 180.0, -0.0010),
    limit("EH", 200.0, -0.0010),
];

/// Names of [`CLASSES`].
pub const CLASS_WORDS: &[&str] = &["A", "E", "B", "F", "H", "N", "R"];
/// Names of [`MAGNETS`].
pub const MAGNET_WORDS: &[&str] = &["plain", "M", "H", "SH", "UH", "EH"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn limits_are_those_published() {
        let t = Table::read(include_str!("../../../checks/insulation_magnets.csv"));
        for r in 0..t.len() {
            let class = t.text(r, "class");
            let ours = if t.text(r, "kind") == "insulation" {
                CLASSES.iter().find(|l| l.name == class)
            } else {
                let class = class.replace("(none)", "plain");
                MAGNETS.iter().find(|l| l.name == class)
            };
            let ours = ours.unwrap();
            assert_eq!(ours.limit_k - 273.15, t.number(r, "max_temperature_C"));
            if let Some(percent) = t.maybe(r, "Br_coefficient_pct_per_K") {
                assert!((100.0 * ours.per_k - percent).abs() < 1e-12);
            }
        }
        assert!(
            CLASSES
                .iter()
                .map(|l| l.name)
                .eq(CLASS_WORDS.iter().copied())
        );
        assert!(
            MAGNETS
                .iter()
                .map(|l| l.name)
                .eq(MAGNET_WORDS.iter().copied())
        );
    }
}
