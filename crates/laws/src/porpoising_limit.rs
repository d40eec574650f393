//! Trim above which a prismatic planing hull porpoises.
//!
//! - Trim against `sqrt(C_L / 2)` for deadrise 0, 10 and 20 deg, interpolated linearly in both;
//!   `C_L = load / (0.5 rho V^2 b^2)`.
//! - Source: Day and Haag 1952 as in Savitsky 1964, Marine Technology 1(1), fig. 18, curve values
//!   read from the figure to about 0.2 deg.
//! - Units: dimensionless and radians.
//! - Valid: `sqrt(C_L / 2)` from 0.13 to 0.30, deadrise 0 to 20 deg; held at the ends beyond.
//! - Checks: worked example of the same paper, 4.5 deg at 0.186 and 10 deg.

use crate::input::{InputError, positive, require};
use crate::planing_surface::MAX_DEADRISE;
use crate::smooth::{bracket, mix};

/// The limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PorpoisingLimit {
    /// Highest trim without porpoising, rad.
    pub trim_limit_rad: f64,
    /// Within the figure.
    pub in_range: bool,
}

const ROOTS: [f64; 5] = [0.13, 0.15, 0.2, 0.25, 0.3];
const DEADRISES_DEG: [f64; 3] = [0.0, 10.0, 20.0];
const TRIMS_DEG: [[f64; 3]; 5] = [
    [1.1, 2.7, 3.4],
    [1.8, 3.3, 4.0],
    [3.8, 4.9, 5.7],
    [6.2, 7.0, 7.9],
    [9.1, 9.5, 10.3],
];

/// The limit at a lift coefficient.
///
/// # Errors
/// [`InputError`] for a lift coefficient not above zero or deadrise outside 0 to 60 deg.
pub fn porpoising_limit(
    lift_coefficient: f64,
    deadrise_rad: f64,
) -> Result<PorpoisingLimit, InputError> {
    let root = (positive("lift_coefficient", lift_coefficient)? / 2.0).sqrt();
    let beta = require("deadrise", deadrise_rad, "from 0 to 60 deg", |b| {
        (0.0..=MAX_DEADRISE).contains(&b)
    })?;
    let (i, s) = bracket(&ROOTS, root);
    let (j, t) = bracket(&DEADRISES_DEG, beta.to_degrees());
    let row = |r: [f64; 3]| mix(r[j], r[j + 1], t);
    let trim = mix(row(TRIMS_DEG[i]), row(TRIMS_DEG[i + 1]), s);
    Ok(PorpoisingLimit {
        trim_limit_rad: trim.to_radians(),
        in_range: (0.13..=0.3).contains(&root) && beta.to_degrees() <= 20.0 + 1e-9,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    #[test]
    fn agrees_with_the_figure_and_the_worked_example() {
        let t = Table::read(include_str!(
            "../../../checks/savitsky1964_fig18_porpoising_limit.csv"
        ));
        for r in 0..t.len() {
            for beta in [0, 10, 20] {
                let cl = 2.0 * t.number(r, "sqrt_CL_over_2").powi(2);
                let limit = porpoising_limit(cl, f64::from(beta).to_radians())
                    .unwrap()
                    .trim_limit_rad
                    .to_degrees();
                assert!(
                    (limit - t.number(r, &format!("tau_limit_deadrise{beta}_deg"))).abs() < 1e-9
                );
            }
        }
        let printed = porpoising_limit(2.0 * 0.186f64.powi(2), 10f64.to_radians()).unwrap();
        assert!(printed.in_range && (printed.trim_limit_rad.to_degrees() - 4.5).abs() < 0.2);
    }

    #[test]
    fn marks_what_the_figure_does_not_show() {
        assert!(!porpoising_limit(0.01, 0.0).unwrap().in_range);
        assert!(!porpoising_limit(0.08, 0.6).unwrap().in_range);
        assert!(porpoising_limit(0.0, 0.0).is_err());
    }
}
