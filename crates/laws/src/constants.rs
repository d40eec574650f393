//! Constants and conversions that every room shares.

/// Standard acceleration of free fall, m/s2: exact by definition (3rd CGPM 1901).
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// 0 degC in K: exact by the definition of the degree Celsius (SI Brochure, 9th edition, 2.3.1).
pub const ZERO_C_K: f64 = 273.15;

/// Half-width of a 95 % interval over the standard deviation of a normal distribution, 1.959 964, as a tolerance is
/// read and written everywhere: two digits behind the point.
pub const HALF_WIDTH_95: f64 = 1.96;

/// rpm for one rad/s.
pub const RPM: f64 = 30.0 / std::f64::consts::PI;

#[cfg(test)]
mod tests {
    use super::*;

    /// The normal distribution holds 0.95 within 1.959 964 standard deviations (any table of it); its density there
    /// is 0.0584, so two digits are 0.95 to 1e-5.
    #[test]
    fn the_half_width_is_the_tables_to_two_digits() {
        assert!((HALF_WIDTH_95 - 1.959_964f64).abs() < 0.005);
    }
}
