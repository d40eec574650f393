//! Rudder, fin or strut: a blade standing in the water.
//!
//! Straight-running drag from `laws::strut_drag` on the wetted span, and for a wedge that of its dry
//! base (`laws::wedge_drag`); side force and the drag that comes with it from `laws::surface_blade` at
//! the angle between blade and water, square to the leaning span.
//!
//! The side force acts a quarter chord behind the leading edge while wetted and moves aft to the
//! pressure centre of the open-cavity plate (`laws::ventilated_plate`) as it ventilates: that is what
//! turns the stock and loads the servo.

use boat::Blade as Given;
use laws::smooth::{mix, step};
use laws::strut_drag::{Stream, Strut, strut_drag};
use laws::surface_blade::surface_blade;
use laws::ventilated_plate::ventilated_plate;
use laws::wedge_drag::wedge_drag;
use nalgebra::Vector3;

use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// Chords behind the leading edge at which a wetted blade's side force acts.
const WETTED_CENTRE: f64 = 0.25;
/// Makers give the time their servos take for this, rad.
const SERVO_SPAN_RAD: f64 = std::f64::consts::FRAC_PI_3;

/// Drag of a blade in air on its frontal area: a square-edged plate seen edge on (judgement).
const DRY_DRAG: f64 = 1.0;

/// What a blade is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Turned by the rudder control.
    Rudder,
    /// Turn fin or skeg.
    Fin,
    /// Holds the shaft's end.
    Strut,
}

/// One blade.
#[derive(Debug, Clone)]
pub struct Blade {
    name: String,
    role: Role,
    root_m: Vector3<f64>,
    /// Root to tip, boat axes, unit.
    down: Vector3<f64>,
    span_m: f64,
    chord_m: f64,
    thickness_m: f64,
    toe_rad: f64,
    wedge: bool,
    throw_rad: f64,
    servo_rad_s: f64,
    stock_m: f64,
    factor: f64,
}

/// What the water does to a blade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BladeLoad {
    /// From the tip up, m.
    pub wetted_m: f64,
    /// Of the blade to the water; positive pushes it to port, rad.
    pub angle_rad: f64,
    /// 0 wetted, 1 with air over its low-pressure side.
    pub ventilated: f64,
    /// Square to the span, positive to port, N.
    pub side_n: f64,
    /// Along the flow, N.
    pub drag_n: f64,
    /// Square to the blade's own face, with the side force's sign, N.
    pub normal_n: f64,
    /// Where the side force acts behind the leading edge, m.
    pub centre_m: f64,
    /// Where it acts, boat axes, m.
    pub at_m: Vector3<f64>,
    /// Bending moment at the root, N m.
    pub root_moment_n_m: f64,
    /// On the boat.
    pub wrench: Wrench,
}

impl BladeLoad {
    /// Moment about a stock this far behind the leading edge, N m; positive turns the trailing edge
    /// the way the side force pushes.
    pub fn stock_torque_n_m(&self, stock_m: f64) -> f64 {
        self.normal_n * (self.centre_m - stock_m)
    }
}

impl Blade {
    /// From what the builder gave.
    pub fn new(given: &Given, role: Role, factors: &Factors) -> Self {
        let lean = given.lean_rad.value;
        Self {
            name: given.name.clone(),
            role,
            root_m: Vector3::new(given.at[0].value, given.at[1].value, given.at[2].value),
            down: Vector3::new(0.0, lean.sin(), -lean.cos()),
            span_m: given.span_m.value,
            chord_m: given.chord_m.value,
            thickness_m: given.thickness_m.value,
            toe_rad: given.toe_rad.value,
            wedge: given.wedge,
            throw_rad: given.throw_rad.value,
            servo_rad_s: SERVO_SPAN_RAD / given.servo_time_s.value.max(1e-3),
            stock_m: given.stock_m.value,
            factor: factors.appendage_drag,
        }
    }

    /// What it is for.
    pub fn role(&self) -> Role {
        self.role
    }

    /// How fast its servo puts it over, rad/s.
    pub fn servo_rad_s(&self) -> f64 {
        self.servo_rad_s
    }

    /// Greatest deflection, rad; 0 unless it is a rudder.
    pub fn throw_rad(&self) -> f64 {
        self.throw_rad
    }

    /// From the leading edge aft to a rudder's stock, m.
    pub fn stock_m(&self) -> f64 {
        self.stock_m
    }

    /// Root to tip, m.
    pub fn span_m(&self) -> f64 {
        self.span_m
    }

    /// m.
    pub fn chord_m(&self) -> f64 {
        self.chord_m
    }

    /// Greatest thickness, m.
    pub fn thickness_m(&self) -> f64 {
        self.thickness_m
    }

    /// Wetted span from the tip up, m.
    fn wetted_m(&self, motion: &Motion, around: &Surroundings) -> f64 {
        let root = around.depth_m(motion, &self.root_m);
        let tip = around.depth_m(motion, &(self.root_m + self.down * self.span_m));
        if tip <= 0.0 {
            0.0
        } else if root >= 0.0 {
            self.span_m
        } else {
            self.span_m * tip / (tip - root)
        }
    }

    /// To port, square to the span.
    fn across(&self) -> Vector3<f64> {
        // `down` leads from root to tip, so x cross down points to port.
        Vector3::x().cross(&self.down).normalize()
    }

    /// Blade's angle to the water; positive pushes it to port.
    fn angle(&self, flow: &Vector3<f64>, controls: &Controls) -> f64 {
        let turned = if self.role == Role::Rudder {
            controls.rudder_rad.clamp(-self.throw_rad, self.throw_rad)
        } else {
            0.0
        };
        self.toe_rad - turned - flow.dot(&self.across()).atan2(flow.x)
    }

    /// What the water does to it, or `None` when it is clear or at rest.
    pub fn load(
        &self,
        motion: &Motion,
        around: &Surroundings,
        controls: &Controls,
    ) -> Option<BladeLoad> {
        let wetted_m = self.wetted_m(motion, around);
        if wetted_m <= 1e-6 {
            return None;
        }
        let middle = self.root_m + self.down * (self.span_m - 0.5 * wetted_m);
        let flow = around.through_water(
            motion,
            &(middle - Vector3::x() * (WETTED_CENTRE * self.chord_m)),
        );
        let speed_m_s = flow.norm();
        if speed_m_s < 1e-6 {
            return None;
        }
        let angle_rad = self.angle(&flow, controls);
        let turned = surface_blade(wetted_m / self.chord_m, angle_rad).ok()?;
        let cavity = ventilated_plate(angle_rad).ok()?;
        let pressure_n =
            0.5 * around.water_density_kg_m3 * speed_m_s * speed_m_s * wetted_m * self.chord_m;
        let side_n = pressure_n * turned.side_coefficient;
        let drag_n = self.straight_n(wetted_m, speed_m_s, pressure_n, around)? * self.factor
            + pressure_n * turned.induced_drag_coefficient;
        let aft = 0.5 - cavity.centre_of_pressure;
        let centre_m = self.chord_m * mix(WETTED_CENTRE, aft, turned.ventilated);
        let at_m = middle - Vector3::x() * centre_m;
        let (sin, cos) = angle_rad.sin_cos();
        let normal_n = side_n * cos + pressure_n * turned.induced_drag_coefficient * sin;
        Some(BladeLoad {
            wetted_m,
            angle_rad,
            ventilated: turned.ventilated,
            side_n,
            drag_n,
            normal_n,
            centre_m,
            at_m,
            root_moment_n_m: normal_n.abs() * (self.span_m - 0.5 * wetted_m),
            wrench: Wrench::at(&at_m, self.across() * side_n - flow / speed_m_s * drag_n),
        })
    }

    /// Air on what stands out of the water.
    fn in_air(&self, motion: &Motion, around: &Surroundings) -> Wrench {
        let dry_m = self.span_m - self.wetted_m(motion, around);
        let middle = self.root_m + self.down * (0.5 * dry_m);
        let wind = around.through_air(motion, &middle);
        let area = dry_m * self.thickness_m;
        let drag = 0.5 * around.air_density_kg_m3 * DRY_DRAG * area * self.factor * wind.norm();
        Wrench::at(&middle, -wind * drag)
    }

    /// Drag without an angle, N.
    fn straight_n(
        &self,
        span_m: f64,
        speed_m_s: f64,
        pressure_n: f64,
        around: &Surroundings,
    ) -> Option<f64> {
        let strut = Strut {
            chord_m: self.chord_m,
            thickness_m: self.thickness_m,
            span_m,
            surface_piercing: step(0.0, self.thickness_m, self.span_m - span_m),
            junctions: 0,
        };
        let stream = Stream {
            speed_m_s,
            density_kg_m3: around.water_density_kg_m3,
            kinematic_viscosity_m2_s: around.water_viscosity_m2_s,
        };
        let base = if self.wedge {
            wedge_drag(self.thickness_m / self.chord_m, span_m / self.chord_m)
                .ok()?
                .coefficient
        } else {
            0.0
        };
        Some(strut_drag(&strut, &stream).ok()?.drag_n + pressure_n * base)
    }
}

impl Element for Blade {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let wet = self
            .load(motion, around, controls)
            .map_or_else(Wrench::default, |load| load.wrench);
        wet + self.in_air(motion, around)
    }

    fn notes(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Vec<String> {
        let Some(load) = self.load(motion, around, controls) else {
            return Vec::new();
        };
        if load.ventilated > 0.5 {
            vec![format!(
                "{}: ventilated at {:.0} degrees",
                self.name,
                load.angle_rad.abs().to_degrees()
            )]
        } else {
            Vec::new()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attitude::rotation;
    use crate::craft::GRAVITY_M_S2;
    use crate::motion::Still;
    use boat::Measure;

    fn blade(role: Role, wedge: bool, lean_deg: f64) -> Blade {
        let g = Measure::given;
        let given = Given {
            name: "fin".into(),
            at: [g(0.0), g(0.0), g(0.0)],
            chord_m: g(0.04),
            span_m: g(0.05),
            thickness_m: g(0.002),
            lean_rad: g(f64::to_radians(lean_deg)),
            toe_rad: g(0.0),
            wedge,
            throw_rad: g(0.6),
            stock_m: g(0.0),
            servo_time_s: g(0.0),
            servo_torque_n_m: None,
        };
        Blade::new(&given, role, &Factors::default())
    }

    fn around() -> Surroundings<'static> {
        Surroundings {
            water: &Still,
            water_density_kg_m3: 1000.0,
            water_viscosity_m2_s: 1e-6,
            air_density_kg_m3: 1.2,
            wind_m_s: Vector3::zeros(),
            gravity_m_s2: GRAVITY_M_S2,
            found: None,
        }
    }

    /// Moving at a drift angle (to port positive), root 10 mm above the water.
    fn at(blade: &Blade, drift_deg: f64, rudder_deg: f64) -> BladeLoad {
        let drift = f64::to_radians(drift_deg);
        let motion = Motion {
            position_m: Vector3::new(0.0, 0.0, 0.01),
            attitude: rotation(0.0, 0.0, 0.0),
            velocity_m_s: Vector3::new(drift.cos(), drift.sin(), 0.0) * 10.0,
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        };
        let controls = Controls {
            shaft_rad_s: Vec::new(),
            rudder_rad: f64::to_radians(rudder_deg),
        };
        blade.load(&motion, &around(), &controls).expect("wet")
    }

    #[test]
    fn pushes_against_drift_and_lets_go_where_air_reaches_it() {
        let fin = blade(Role::Fin, false, 0.0);
        let (five, ten, twenty) = (at(&fin, 5.0, 0.0), at(&fin, 10.0, 0.0), at(&fin, 20.0, 0.0));
        assert!(five.side_n < 0.0 && ten.side_n < five.side_n);
        // Ventilated at 20 degrees it holds less than wetted at 10: why a fin lets go at a stroke.
        assert_eq!(twenty.ventilated, 1.0);
        assert!(twenty.side_n.abs() < ten.side_n.abs());
        assert!((five.wetted_m - 0.04).abs() < 1e-12);
    }

    #[test]
    fn rudder_to_port_pushes_the_stern_to_starboard() {
        let rudder = blade(Role::Rudder, true, 0.0);
        assert!(at(&rudder, 0.0, 8.0).side_n < 0.0);
        // Beyond its throw nothing more happens.
        assert_eq!(at(&rudder, 0.0, 40.0), at(&rudder, 0.0, 50.0));
        // Not a rudder: the control moves nothing.
        assert_eq!(at(&blade(Role::Fin, true, 0.0), 0.0, 8.0).side_n, 0.0);
    }

    #[test]
    fn a_stock_at_the_leading_edge_carries_the_side_force_on_a_quarter_chord() {
        let rudder = blade(Role::Rudder, true, 0.0);
        let load = at(&rudder, 0.0, 8.0);
        let torque = load.stock_torque_n_m(0.0);
        assert!((torque / load.normal_n - 0.01).abs() < 1e-12);
        assert!(load.stock_torque_n_m(0.01).abs() < 1e-12);
        // The cavity's centre lies further aft, between a quarter and half the chord.
        let air = at(&rudder, 0.0, 25.0);
        assert!((0.25..0.5).contains(&(air.centre_m / 0.04)));
    }

    #[test]
    fn a_leaning_fin_feels_the_water_rise_through_trim() {
        // Bow up the water comes from below: a fin whose tip leans to port is pushed to port and up.
        let fin = blade(Role::Fin, false, 20.0);
        let attitude = rotation(0.0, 0.05, 0.0);
        let motion = Motion {
            position_m: Vector3::new(0.0, 0.0, 0.01),
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&(Vector3::x() * 10.0)),
            rate_rad_s: Vector3::zeros(),
            time_s: 0.0,
        };
        let none = Controls::default();
        let load = fin.load(&motion, &around(), &none).expect("wet");
        let expected = (0.05_f64.sin() * 20f64.to_radians().sin()).atan2(0.05_f64.cos());
        assert!((load.angle_rad.abs() - expected).abs() < 1e-9);
        assert!(load.wrench.force_n.z > 0.0);
    }

    #[test]
    fn a_wedge_drags_its_dry_base() {
        let plate = at(&blade(Role::Fin, false, 0.0), 0.0, 0.0).drag_n;
        let wedge = at(&blade(Role::Fin, true, 0.0), 0.0, 0.0).drag_n;
        // 2/pi (t/c)^2, halved at aspect ratio 1, on 50 kPa and 40 x 40 mm.
        let base = 1.0 / std::f64::consts::PI * 0.05 * 0.05 * 50_000.0 * 0.04 * 0.04;
        assert!((wedge - plate - base).abs() < 1e-9);
    }
}
