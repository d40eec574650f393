//! What the builder measured of a propeller, put on the law.

use std::f64::consts::TAU;

use boat::{Measure, Propeller as Given, PropellerPoint};

use super::{Flow, Propeller};
use crate::motion::{Still, Surroundings};

/// Chord at 0.7 radius times blades over area ratio and diameter (B series outline, from memory).
const CHORD_AT_07: f64 = 2.144;

/// Measured over the law's thrust and torque, by advance; ones when nothing was measured.
#[derive(Debug, Clone, Default)]
pub(super) struct Correction {
    /// Advance ratio, thrust, torque; rising.
    points: Vec<[f64; 3]>,
}

impl Correction {
    /// Holds each measurement against the law with corrections at one, at the same immersion; past a
    /// factor of 5 either way one of the two is not of this propeller, and the factor stops there.
    pub fn of(propeller: &Propeller, measured: &[PropellerPoint]) -> Self {
        let plain = Propeller {
            factors: crate::Factors::default(),
            ..propeller.clone()
        };
        let mut points: Vec<[f64; 3]> = measured
            .iter()
            .map(|m| {
                let flow = Flow {
                    immersion: m.immersion,
                    advance_m_s: m.speed_m_s,
                    upward_rad: 0.0,
                    to_port_rad: 0.0,
                };
                let law = plain.load_in(&flow, &tank(), m.shaft_rad_s);
                let over = |measured: f64, law: f64| (measured / law.max(1e-9)).clamp(0.2, 5.0);
                let advance = m.speed_m_s * TAU / (m.shaft_rad_s * propeller.diameter_m);
                [
                    advance,
                    over(m.thrust_n, law.thrust_n),
                    m.torque_n_m.map_or(1.0, |q| over(q, law.torque_n_m)),
                ]
            })
            .collect();
        points.sort_by(|a, b| a[0].total_cmp(&b[0]));
        Self { points }
    }

    /// On thrust and torque, straight between measurements and held beyond them.
    pub fn at(&self, advance_m_s: f64, turned_m_s: f64) -> [f64; 2] {
        let (Some(first), Some(last)) = (self.points.first(), self.points.last()) else {
            return [1.0, 1.0];
        };
        let advance = advance_m_s / turned_m_s.max(1e-9);
        if advance <= first[0] {
            return [first[1], first[2]];
        }
        let after = self.points.partition_point(|p| p[0] <= advance);
        let (Some(a), Some(b)) = (self.points.get(after - 1), self.points.get(after)) else {
            return [last[1], last[2]];
        };
        let share = (advance - a[0]) / (b[0] - a[0]).max(1e-9);
        [1, 2].map(|i| a[i] + share * (b[i] - a[i]))
    }
}

/// Pitch ratio with the cup: it turns the line from leading to trailing edge, at 0.7 radius, by cup
/// over chord. Geometry alone and so a lower bound; half of what it adds is carried as spread.
pub(super) fn cupped(given: &Given) -> Measure {
    let pitch = given.pitch_ratio;
    if given.cup_m <= 0.0 {
        return pitch;
    }
    let chord_m = CHORD_AT_07 * given.area_ratio.value / f64::from(given.blades.max(1))
        * given.diameter_m.value;
    let around = 0.7 * TAU * 0.5;
    let angle = (pitch.value / around).atan() + (given.cup_m / chord_m.max(1e-6)).min(0.5).atan();
    let with = around * angle.tan();
    Measure::given(with).with_spread(pitch.spread.hypot(0.5 * (with - pitch.value)))
}

fn tank() -> Surroundings<'static> {
    Surroundings {
        water: &Still,
        water_density_kg_m3: 999.0,
        water_viscosity_m2_s: 1.1e-6,
        air_density_kg_m3: 1.2,
        wind_m_s: nalgebra::Vector3::zeros(),
        gravity_m_s2: crate::craft::GRAVITY_M_S2,
        found: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cup_adds_pitch_and_none_adds_nothing() {
        let mut given = crate::testing::a_propeller();
        let plain = cupped(&given).value;
        assert_eq!(plain, given.pitch_ratio.value);
        given.cup_m = 0.0005;
        let little = cupped(&given);
        given.cup_m = 0.001;
        let more = cupped(&given);
        assert!(plain < little.value && little.value < more.value);
        assert!(more.spread > little.spread);
    }

    #[test]
    fn a_measured_thrust_is_given_back() {
        let mut drive = crate::testing::a_drive();
        let point = PropellerPoint {
            speed_m_s: 12.0,
            shaft_rad_s: 1900.0,
            thrust_n: 300.0,
            torque_n_m: None,
            immersion: 1.6,
        };
        let make = |drive: &boat::Drive| {
            Propeller::new(
                drive,
                0,
                std::sync::Arc::default(),
                crate::Factors::default(),
            )
            .unwrap()
        };
        let flow = Flow {
            immersion: 1.6,
            advance_m_s: 12.0,
            upward_rad: 0.0,
            to_port_rad: 0.0,
        };
        let before = make(&drive).load_in(&flow, &tank(), 1900.0);
        drive.propeller.measured = vec![point];
        let after = make(&drive).load_in(&flow, &tank(), 1900.0);
        assert!((before.thrust_n - 300.0).abs() > 1.0);
        assert!((after.thrust_n - 300.0).abs() < 1e-9, "{}", after.thrust_n);
        assert_eq!(before.torque_n_m, after.torque_n_m);
    }
}
