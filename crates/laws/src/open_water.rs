//! Open-water thrust and torque of a submerged propeller, Wageningen B series.
//!
//! `K_T = T / (rho n^2 D^4)` and `K_Q = Q / (rho n^2 D^5)` as polynomials in advance ratio
//! `J = V / (n D)`, pitch ratio P/D, blade area ratio A_E/A_0 and blade count Z; efficiency
//! `J K_T / (2 pi K_Q)`.
//!
//! - Source: Oosterveld and van Oossanen 1975, Int. Shipbuilding Progress 22(251); Bernitsas, Ray,
//!   Kinley 1981, Univ. of Michigan NAME report 237. The torque term C J^3 (P/D)^3 Z is printed as
//!   0.00110903 and 0.0010903; the first is used, the difference is under 0.5 % of K_Q.
//! - Units: dimensionless, n in turns per second.
//! - Valid: Z 2 to 7, A_E/A_0 0.30 to 1.05, P/D 0.5 to 1.4, 0 <= J up to where K_T falls to zero;
//!   Reynolds number 2e6 at 0.7 radius (a correction above). Our propellers run at 1e5 to 5e5: thrust
//!   is a little lower and torque higher than here, so carry a spread of at least 5 %.
//! - Beyond: negative J is held at J = 0. Past zero thrust both curves go on along their slope there,
//!   where the polynomials would turn up again; torque stays as it falls. Where the torque polynomial
//!   falls below what momentum theory needs for the thrust, that is used. No value is ever NaN.
//! - Checks: `checks/wageningen_b_check_values.csv` (evaluated independently: a transcription check).
//!   The series itself was measured; at our size unvalidated.

use crate::input::{InputError, finite, positive, require};
use crate::notes::Notes;
use std::f64::consts::TAU;

/// A propeller of the series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Propeller {
    /// Number of blades.
    pub blades: f64,
    /// Expanded blade area over disc area.
    pub area_ratio: f64,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
}

/// Open-water coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenWater {
    /// Thrust coefficient.
    pub kt: f64,
    /// Torque coefficient.
    pub kq: f64,
    /// Open-water efficiency; 0 where thrust or torque is not positive.
    pub efficiency: f64,
    /// Within the series.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Coefficients at an advance ratio, at the series' Reynolds number 2e6.
///
/// # Errors
/// [`InputError`] for blades outside 1 to 12, a ratio not above zero, or a value not finite.
pub fn open_water(propeller: &Propeller, advance: f64) -> Result<OpenWater, InputError> {
    require("blades", propeller.blades, "from 1 to 12", |z| {
        (1.0..=12.0).contains(&z)
    })?;
    positive("area_ratio", propeller.area_ratio)?;
    positive("pitch_ratio", propeller.pitch_ratio)?;
    finite("advance", advance)?;
    Ok(Curves::new(propeller).at(advance))
}

/// Added to K_T and K_Q at a Reynolds number above 2e6 (chord at 0.75 radius); zero below.
pub fn reynolds_correction(propeller: &Propeller, advance: f64, reynolds: f64) -> (f64, f64) {
    let c = reynolds.max(2e6).log10() - 0.301;
    let above = reynolds > 2e6;
    let sum = |terms: &[(f64, [u8; 5])]| {
        let bases = [
            c,
            advance,
            propeller.pitch_ratio,
            propeller.area_ratio,
            propeller.blades,
        ];
        terms
            .iter()
            .map(|(k, e)| k * product(&bases, e))
            .sum::<f64>()
    };
    if above {
        (sum(&REYNOLDS_KT), sum(&REYNOLDS_KQ))
    } else {
        (0.0, 0.0)
    }
}

fn product(bases: &[f64], exponents: &[u8]) -> f64 {
    bases
        .iter()
        .zip(exponents)
        .map(|(b, e)| b.powi(i32::from(*e)))
        .product()
}

/// One propeller's curves as cubics in J, for many evaluations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Curves {
    kt: [f64; 4],
    kq: [f64; 4],
    zero_thrust: f64,
    in_series: bool,
}

impl Curves {
    /// Reduces the polynomials to cubics in J.
    pub fn new(p: &Propeller) -> Self {
        let kt = cubic(&KT, p);
        Self {
            kt,
            kq: cubic(&KQ, p),
            zero_thrust: first_zero(&kt),
            in_series: in_series(p),
        }
    }

    /// Advance ratio at which thrust is zero.
    pub fn zero_thrust_advance(&self) -> f64 {
        self.zero_thrust
    }

    /// Coefficients at `advance`.
    pub fn at(&self, advance: f64) -> OpenWater {
        let kt = extended(&self.kt, advance, self.zero_thrust);
        let polynomial = extended(&self.kq, advance, self.zero_thrust);
        let kq = polynomial.max(least_torque(kt, advance));
        let mut notes = Notes::default();
        let out = notes.add_if(
            !self.in_series,
            "outside the series: 2 to 7 blades, area ratio 0.30 to 1.05, pitch ratio 0.5 to 1.4",
        ) | notes.add_if(advance < 0.0, "negative advance: held at zero")
            | notes.add_if(
                advance > self.zero_thrust,
                "past zero thrust: extended along its slope",
            );
        let out = out
            | notes.add_if(
                kq > polynomial,
                "torque raised to what momentum theory needs for the thrust",
            );
        let drives = kt > 0.0 && kq > 0.0 && advance > 0.0;
        let efficiency = if drives {
            advance * kt / (TAU * kq)
        } else {
            0.0
        };
        OpenWater {
            kt,
            kq,
            efficiency,
            in_range: !out,
            notes,
        }
    }
}

/// Torque an ideal disc needs for its thrust (Rankine, Froude): no propeller can do with less.
fn least_torque(kt: f64, advance: f64) -> f64 {
    if kt <= 0.0 || advance <= 0.0 {
        return f64::NEG_INFINITY;
    }
    let loading = 8.0 * kt / (std::f64::consts::PI * advance * advance);
    advance * kt / TAU * 0.5 * (1.0 + (1.0 + loading).sqrt())
}

fn in_series(p: &Propeller) -> bool {
    (2.0..=7.0).contains(&p.blades)
        && (0.3..=1.05).contains(&p.area_ratio)
        && (0.5..=1.4).contains(&p.pitch_ratio)
}

fn cubic(terms: &[(f64, [u8; 4])], p: &Propeller) -> [f64; 4] {
    let mut c = [0.0; 4];
    for (k, e) in terms {
        let rest = product(&[p.pitch_ratio, p.area_ratio, p.blades], &e[1..]);
        c[usize::from(e[0])] += k * rest;
    }
    c
}

fn value(c: &[f64; 4], j: f64) -> f64 {
    ((c[3] * j + c[2]) * j + c[1]) * j + c[0]
}

fn slope(c: &[f64; 4], j: f64) -> f64 {
    (3.0 * c[3] * j + 2.0 * c[2]) * j + c[1]
}

/// The polynomial within 0 to `limit`; a falling line past it.
fn extended(c: &[f64; 4], j: f64, limit: f64) -> f64 {
    let held = j.clamp(0.0, limit);
    value(c, held) + slope(c, limit).min(-1e-6) * (j - limit).max(0.0)
}

/// First advance ratio at which a falling curve reaches zero, or turns up before it does.
fn first_zero(c: &[f64; 4]) -> f64 {
    const STEP: f64 = 0.02;
    let mut j = 0.0;
    while j < 3.0 && value(c, j + STEP) > 0.0 && slope(c, j + STEP) < 0.0 {
        j += STEP;
    }
    bisect_zero(c, j, j + STEP)
}

fn bisect_zero(c: &[f64; 4], mut low: f64, mut high: f64) -> f64 {
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if value(c, middle) > 0.0 && slope(c, middle) < 0.0 {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}

/// Thrust terms: coefficient, and exponents of J, P/D, A_E/A_0, Z.
const KT: [(f64, [u8; 4]); 39] = [
    (0.00880496, [0, 0, 0, 0]),
    (-0.204554, [1, 0, 0, 0]),
    (0.166351, [0, 1, 0, 0]),
    (0.158114, [0, 2, 0, 0]),
    (-0.147581, [2, 0, 1, 0]),
    (-0.481497, [1, 1, 1, 0]),
    (0.415437, [0, 2, 1, 0]),
    (0.0144043, [0, 0, 0, 1]),
    (-0.0530054, [2, 0, 0, 1]),
    (0.0143481, [0, 1, 0, 1]),
    (0.0606826, [1, 1, 0, 1]),
    (-0.0125894, [0, 0, 1, 1]),
    (0.0109689, [1, 0, 1, 1]),
    (-0.133698, [0, 3, 0, 0]),
    (0.00638407, [0, 6, 0, 0]),
    (-0.00132718, [2, 6, 0, 0]),
    (0.168496, [3, 0, 1, 0]),
    (-0.0507214, [0, 0, 2, 0]),
    (0.0854559, [2, 0, 2, 0]),
    (-0.0504475, [3, 0, 2, 0]),
    (0.010465, [1, 6, 2, 0]),
    (-0.00648272, [2, 6, 2, 0]),
    (-0.00841728, [0, 3, 0, 1]),
    (0.0168424, [1, 3, 0, 1]),
    (-0.00102296, [3, 3, 0, 1]),
    (-0.0317791, [0, 3, 1, 1]),
    (0.018604, [1, 0, 2, 1]),
    (-0.00410798, [0, 2, 2, 1]),
    (-0.000606848, [0, 0, 0, 2]),
    (-0.0049819, [1, 0, 0, 2]),
    (0.0025983, [2, 0, 0, 2]),
    (-0.000560528, [3, 0, 0, 2]),
    (-0.00163652, [1, 2, 0, 2]),
    (-0.000328787, [1, 6, 0, 2]),
    (0.000116502, [2, 6, 0, 2]),
    (0.000690904, [0, 0, 1, 2]),
    (0.00421749, [0, 3, 1, 2]),
    (5.65229e-05, [3, 6, 1, 2]),
    (-0.00146564, [0, 3, 2, 2]),
];

/// Torque terms, as [`KT`].
const KQ: [(f64, [u8; 4]); 47] = [
    (0.00379368, [0, 0, 0, 0]),
    (0.00886523, [2, 0, 0, 0]),
    (-0.032241, [1, 1, 0, 0]),
    (0.00344778, [0, 2, 0, 0]),
    (-0.0408811, [0, 1, 1, 0]),
    (-0.108009, [1, 1, 1, 0]),
    (-0.0885381, [2, 1, 1, 0]),
    (0.188561, [0, 2, 1, 0]),
    (-0.00370871, [1, 0, 0, 1]),
    (0.00513696, [0, 1, 0, 1]),
    (0.0209449, [1, 1, 0, 1]),
    (0.00474319, [2, 1, 0, 1]),
    (-0.00723408, [2, 0, 1, 1]),
    (0.00438388, [1, 1, 1, 1]),
    (-0.0269403, [0, 2, 1, 1]),
    (0.0558082, [3, 0, 1, 0]),
    (0.0161886, [0, 3, 1, 0]),
    (0.00318086, [1, 3, 1, 0]),
    (0.015896, [0, 0, 2, 0]),
    (0.0471729, [1, 0, 2, 0]),
    (0.0196283, [3, 0, 2, 0]),
    (-0.0502782, [0, 1, 2, 0]),
    (-0.030055, [3, 1, 2, 0]),
    (0.0417122, [2, 2, 2, 0]),
    (-0.0397722, [0, 3, 2, 0]),
    (-0.00350024, [0, 6, 2, 0]),
    (-0.0106854, [3, 0, 0, 1]),
    (0.00110903, [3, 3, 0, 1]),
    (-0.000313912, [0, 6, 0, 1]),
    (0.0035985, [3, 0, 1, 1]),
    (-0.00142121, [0, 6, 1, 1]),
    (-0.00383637, [1, 0, 2, 1]),
    (0.0126803, [0, 2, 2, 1]),
    (-0.00318278, [2, 3, 2, 1]),
    (0.00334268, [0, 6, 2, 1]),
    (-0.00183491, [1, 1, 0, 2]),
    (0.000112451, [3, 2, 0, 2]),
    (-2.97228e-05, [3, 6, 0, 2]),
    (0.000269551, [1, 0, 1, 2]),
    (0.00083265, [2, 0, 1, 2]),
    (0.00155334, [0, 2, 1, 2]),
    (0.000302683, [0, 6, 1, 2]),
    (-0.0001843, [0, 0, 2, 2]),
    (-0.000425399, [0, 3, 2, 2]),
    (8.69243e-05, [3, 3, 2, 2]),
    (-0.0004659, [0, 6, 2, 2]),
    (5.54194e-05, [1, 6, 2, 2]),
];

/// Reynolds terms of thrust: coefficient, and exponents of log10 Rn - 0.301, J, P/D, A_E/A_0, Z.
const REYNOLDS_KT: [(f64, [u8; 5]); 9] = [
    (0.000353485, [0, 0, 0, 0, 0]),
    (-0.00333758, [0, 2, 0, 1, 0]),
    (-0.00478125, [0, 1, 1, 1, 0]),
    (0.000257792, [2, 2, 0, 1, 0]),
    (6.43192e-05, [1, 2, 6, 0, 0]),
    (-1.10636e-05, [2, 2, 6, 0, 0]),
    (-2.76305e-05, [2, 2, 0, 1, 1]),
    (9.54e-05, [1, 1, 1, 1, 1]),
    (3.2049e-06, [1, 1, 3, 1, 2]),
];

/// Reynolds terms of torque, as [`REYNOLDS_KT`].
const REYNOLDS_KQ: [(f64, [u8; 5]); 13] = [
    (-0.000591412, [0, 0, 0, 0, 0]),
    (0.00696898, [0, 0, 1, 0, 0]),
    (-6.66654e-05, [0, 0, 6, 0, 1]),
    (0.0160818, [0, 0, 0, 2, 0]),
    (-0.000938091, [1, 0, 1, 0, 0]),
    (-0.00059593, [1, 0, 2, 0, 0]),
    (7.82099e-05, [2, 0, 2, 0, 0]),
    (5.2199e-06, [1, 2, 0, 1, 1]),
    (-8.8528e-07, [2, 1, 1, 1, 1]),
    (2.30171e-05, [1, 0, 6, 0, 1]),
    (-1.84341e-06, [2, 0, 6, 0, 1]),
    (-0.00400252, [1, 0, 0, 2, 0]),
    (0.000220915, [2, 0, 0, 2, 0]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    fn row(t: &Table, r: usize) -> Propeller {
        Propeller {
            blades: t.number(r, "Z"),
            area_ratio: t.number(r, "AE_over_A0"),
            pitch_ratio: t.number(r, "P_over_D"),
        }
    }

    #[test]
    fn agrees_with_independent_evaluation() {
        let t = Table::read(include_str!(
            "../../../checks/wageningen_b_check_values.csv"
        ));
        for r in 0..t.len() {
            let (p, j) = (row(&t, r), t.number(r, "J"));
            let w = open_water(&p, j).unwrap();
            assert!((w.kt - t.number(r, "KT_Rn2e6")).abs() < 6e-7, "row {r}");
            assert!((w.kq - t.number(r, "KQ_Rn2e6")).abs() < 6e-8, "row {r}");
            assert!(
                (w.efficiency - t.number(r, "eta_o")).abs() < 6e-6,
                "row {r}"
            );
            let (dkt, dkq) = reynolds_correction(&p, j, 2e7);
            assert!((dkt - t.number(r, "dKT_at_Rn2e7")).abs() < 6e-8, "row {r}");
            assert!((dkq - t.number(r, "dKQ_at_Rn2e7")).abs() < 6e-8, "row {r}");
        }
    }

    #[test]
    fn terms_are_those_published() {
        for (text, terms) in [
            (include_str!("../../../checks/wageningen_b_kt.csv"), &KT[..]),
            (include_str!("../../../checks/wageningen_b_kq.csv"), &KQ[..]),
        ] {
            let t = Table::read(text);
            assert_eq!(t.len(), terms.len());
            for (r, (c, e)) in terms.iter().enumerate() {
                assert_eq!(*c, t.number(r, "C_dimensionless"));
                let columns = ["s_exp_J", "t_exp_P_over_D", "u_exp_AE_over_A0", "v_exp_Z"];
                assert_eq!(e.map(f64::from), columns.map(|k| t.number(r, k)));
            }
        }
    }

    #[test]
    fn thrust_never_rises_and_is_finite_at_any_advance() {
        for (z, a, p) in [
            (2.0, 0.3, 1.4),
            (3.0, 0.5, 1.0),
            (2.0, 0.38, 2.0),
            (4.0, 1.05, 0.5),
        ] {
            let c = Curves::new(&Propeller {
                blades: z,
                area_ratio: a,
                pitch_ratio: p,
            });
            let mut last = f64::INFINITY;
            for i in -100..500 {
                let w = c.at(f64::from(i) / 100.0);
                assert!(w.kt.is_finite() && w.kq.is_finite() && w.kt <= last + 1e-12);
                assert!((0.0..1.0).contains(&w.efficiency));
                last = w.kt;
            }
        }
    }
}
