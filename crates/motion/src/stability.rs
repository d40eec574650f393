//! Small motions about a running state: which die out, which grow, how fast, and what drives them.
//!
//! - The state's rates are differenced about the running state, shaft speeds and rudder held: nine numbers
//!   (rise, heel, trim, three speeds, three turning rates). Eigenvalues of that matrix are growth and frequency.
//! - What a mode is called goes by what moves most in it; what drives it is the element whose force, as the mode
//!   moves it, puts in most power in a period.
//! - Source: small-perturbation theory; the elements' own laws, so everything said of them holds here.
//! - Valid: about a steady state, small motions; a growing one ends in a limit cycle that only a run in time shows.
//! - Checks: `tests/small.rs`: periods at rest in closed form, eigenvalues against growth in time;
//!   `tests/prisms.rs`: Day and Haag's limit.

use craft::Craft;
use craft::attitude::rotation;
use craft::element::Element;
use craft::motion::{Controls, Motion, Surroundings};
use craft::steady::Running;
use nalgebra::{Complex, DMatrix, SMatrix, SVector, Vector3};
use std::f64::consts::TAU;

use crate::body::Body;

/// Numbers that are moved.
const N: usize = 9;
type Matrix = SMatrix<f64, N, N>;
type Vector = SVector<f64, N>;

/// Moved by so much each way for slopes: m, rad, rad, m/s, rad/s.
const NUDGE: [f64; N] = [2e-4, 1e-3, 5e-4, 0.01, 0.01, 0.01, 0.02, 0.02, 0.02];
/// Growth slower than this, 1/s, is not told from neutral.
const NEUTRAL: f64 = 0.05;
/// Frequencies below this are not oscillations, rad/s.
const SLOW: f64 = 0.5;

/// What a mode looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// Heave and pitch together.
    Porpoising,
    /// Rolling from chine to chine.
    ChineWalk,
    /// Turning off its course.
    Yaw,
    /// Running faster and slower.
    Surge,
}

impl Shape {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Porpoising => "porpoising",
            Self::ChineWalk => "chine walk",
            Self::Yaw => "yaw",
            Self::Surge => "surge",
        }
    }
}

/// One way of moving.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Mode {
    /// 1/s; above zero it grows.
    pub growth_per_s: f64,
    /// rad/s; 0 for one that does not swing.
    pub frequency_rad_s: f64,
    /// By what moves most.
    pub shape: Shape,
    /// The element that puts most power into it, of a growing one.
    pub driven_by: Option<String>,
}

impl Mode {
    /// s, of one that swings.
    pub fn period_s(&self) -> Option<f64> {
        (self.frequency_rad_s > SLOW).then(|| TAU / self.frequency_rad_s)
    }

    /// Grows.
    pub fn unstable(&self) -> bool {
        self.growth_per_s > NEUTRAL
    }
}

/// All ways of moving about one running state.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Modes {
    /// m/s.
    pub speed_m_s: f64,
    /// Fastest growing first.
    pub modes: Vec<Mode>,
}

impl Modes {
    /// The fastest growing of a shape.
    pub fn worst(&self, shape: Shape) -> Option<&Mode> {
        self.modes.iter().find(|m| m.shape == shape)
    }
}

/// About each of some running states. Yaw of a boat without a fin or rudder that works is neutral by itself: the
/// driver steers.
pub fn along(craft: &Craft, states: &[Running]) -> Vec<Modes> {
    use rayon::prelude::*;
    states.par_iter().map(|s| about(craft, s)).collect()
}

/// About one running state.
pub fn about(craft: &Craft, running: &Running) -> Modes {
    let body = Body::new(craft);
    let around = craft.surroundings();
    let controls = Controls {
        shaft_rad_s: vec![running.shaft_rad_s; craft.propellers().len()],
        rudder_rad: craft.course_rad(running),
    };
    let lines = Lines {
        body: &body,
        around: &around,
        controls: &controls,
        running,
    };
    let matrix = lines.matrix();
    let dense = DMatrix::from_fn(N, N, |i, j| matrix[(i, j)]);
    let values = dense.complex_eigenvalues();
    let mut modes: Vec<Mode> = values
        .iter()
        .filter(|v| v.im >= 0.0 && v.re.is_finite())
        .map(|v| lines.mode(&matrix, *v))
        .collect();
    modes.sort_by(|a, b| b.growth_per_s.total_cmp(&a.growth_per_s));
    Modes {
        speed_m_s: running.speed_m_s,
        modes,
    }
}

/// What fore-and-aft motion counts beside the others in a motion's name (judgement).
const LITTLE_ELSE: f64 = 0.2;

struct Lines<'a> {
    body: &'a Body<'a>,
    around: &'a Surroundings<'a>,
    controls: &'a Controls,
    running: &'a Running,
}

impl Lines<'_> {
    /// The motion with numbers moved off the running state.
    fn motion(&self, x: &Vector) -> Motion {
        let a = &self.running.attitude;
        let attitude = rotation(0.0, a.trim_rad + x[2], a.heel_rad + x[1]);
        let start = self.running.motion();
        let cg = self.body.craft.cg_m();
        // Turned about the centre of gravity, whose path is what x[0] moves.
        let place = start.place(&cg) + Vector3::new(0.0, 0.0, x[0]);
        let velocity = start.velocity_m_s + Vector3::new(x[3], x[4], x[5]);
        let rate = Vector3::new(x[6], x[7], x[8]);
        Motion {
            position_m: place - attitude * cg,
            attitude,
            velocity_m_s: velocity - rate.cross(&cg),
            rate_rad_s: rate,
            time_s: 0.0,
        }
    }

    fn rates(&self, x: &Vector) -> Vector {
        let motion = self.motion(x);
        let a = self.body.accelerations(&motion, self.around, self.controls);
        let climb = motion.attitude * motion.velocity_at(&self.body.craft.cg_m());
        // Small angles: heel and bow-up trim from the turning rates.
        Vector::from_column_slice(&[climb.z, x[6], -x[7], a[0], a[1], a[2], a[3], a[4], a[5]])
    }

    fn matrix(&self) -> Matrix {
        let mut m = Matrix::zeros();
        for (j, h) in NUDGE.into_iter().enumerate() {
            let mut up = Vector::zeros();
            up[j] = h;
            let slope = (self.rates(&up) - self.rates(&-up)) / (2.0 * h);
            m.set_column(j, &slope);
        }
        m
    }

    fn mode(&self, matrix: &Matrix, value: Complex<f64>) -> Mode {
        let shape = eigenvector(matrix, value);
        let mode = Mode {
            growth_per_s: value.re,
            frequency_rad_s: if value.im > SLOW { value.im } else { 0.0 },
            shape: self.named(&shape),
            driven_by: None,
        };
        Mode {
            driven_by: mode.unstable().then(|| self.driver(&shape)).flatten(),
            ..mode
        }
    }

    /// Speeds at the hull's ends and sides tell which part of the motion is largest.
    fn named(&self, v: &SVector<Complex<f64>, N>) -> Shape {
        let half = 0.5 * self.body.craft.length_m();
        let side = self.body.craft.half_breadth_m();
        let size = |i: usize| v[i].norm();
        let parts = [
            (Shape::Porpoising, size(5).max(half * size(7))),
            (Shape::ChineWalk, side * size(6)),
            (Shape::Yaw, size(4).max(half * size(8))),
            // Every bounce brakes a boat: surge is what is little else.
            (Shape::Surge, LITTLE_ELSE * size(3)),
        ];
        let most = parts.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        most.map_or(Shape::Surge, |p| p.0)
    }

    /// The element that does most work on the motion in a period.
    fn driver(&self, v: &SVector<Complex<f64>, N>) -> Option<String> {
        // Scaled to small: a millimetre or a hundredth of a radian.
        let largest = v.iter().zip(NUDGE).map(|(c, h)| c.norm() / h);
        let scale = 1.0 / largest.fold(1e-12, f64::max);
        let real = Vector::from_fn(|i, _| v[i].re * scale);
        let imaginary = Vector::from_fn(|i, _| v[i].im * scale);
        let elements = self.body.craft.elements();
        let works = elements.map(|e| {
            let power = self.power(e, &real) + self.power(e, &imaginary);
            (e.name().to_owned(), power)
        });
        let most = works.max_by(|a, b| a.1.total_cmp(&b.1))?;
        (most.1 > 0.0).then_some(most.0)
    }

    fn power(&self, element: &dyn Element, x: &Vector) -> f64 {
        let cg = self.body.craft.cg_m();
        let felt = |x: &Vector| {
            let w = element.wrench(&self.motion(x), self.around, self.controls);
            (w.force_n, w.moment_n_m - cg.cross(&w.force_n))
        };
        let (up, down) = (felt(x), felt(&-x));
        let force = (up.0 - down.0) * 0.5;
        let moment = (up.1 - down.1) * 0.5;
        force.dot(&Vector3::new(x[3], x[4], x[5])) + moment.dot(&Vector3::new(x[6], x[7], x[8]))
    }
}

/// By one step of inverse iteration from a little beside the eigenvalue, twice.
fn eigenvector(matrix: &Matrix, value: Complex<f64>) -> SVector<Complex<f64>, N> {
    let near = value + Complex::new(1e-6 * (1.0 + value.norm()), 1e-7);
    let shifted = SMatrix::<Complex<f64>, N, N>::from_fn(|i, j| {
        let own = if i == j { near } else { Complex::new(0.0, 0.0) };
        Complex::new(matrix[(i, j)], 0.0) - own
    });
    let lu = shifted.lu();
    let mut v = SVector::<Complex<f64>, N>::from_element(Complex::new(1.0, 0.3));
    for _ in 0..3 {
        let Some(next) = lu.solve(&v) else { break };
        let norm = next.norm();
        if !(norm.is_finite() && norm > 0.0) {
            break;
        }
        v = next / Complex::new(norm, 0.0);
    }
    v
}
