//! A line of balanced states followed through its folds.
//!
//! Pseudo-arclength continuation: from a state a step is taken along the line's tangent, and Newton goes back to the
//! line on the plane square to it; speed is an unknown like the others, so that nothing ends where the line turns back
//! in speed. The tangent is what the slopes leave free; the step grows where the line is straight and shrinks at bends.
//!
//! - Source: Keller 1977, Numerical solution of bifurcation and nonlinear eigenvalue problems, in Applications of
//!   Bifurcation Theory (Rabinowitz, ed.), 359-384.
//! - Valid: where the elements are continuous. At a corner (a surface that leaves the water) the step shrinks until it
//!   is past; at a gap the walk ends and says so.

use crate::craft::Craft;
use crate::steady::{Bordered, Condition, Place, Running, Slopes, bordered, heave_pitch_stable};

/// First, longest and shortest step, in units of [`Place`].
const FIRST: f64 = 0.15;
const LONGEST: f64 = 1.0;
const SHORTEST: f64 = 4e-3;
/// Neighbouring tangents turn by no more than this (cosine)...
const BEND: f64 = 0.85;
/// ...but at corners, which a step this short does not mistake for another line.
const CORNER: f64 = 0.03;
/// Above these the step grows by so much.
const STRAIGHT: [(f64, f64); 2] = [(0.998, 3.0), (0.98, 1.6)];
/// A correction longer than this share of the step landed elsewhere.
const ASTRAY: f64 = 0.6;

/// A state of the line with what continuing needs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Point {
    pub x: Place,
    pub running: Running,
    pub slopes: Slopes,
    /// Unit, in the direction walked.
    pub tangent: Place,
    /// The hardest-working drive's.
    pub throttle: f64,
}

impl Point {
    /// A balanced state looked at in the direction of `ahead`.
    pub fn at(craft: &Craft, x: Place, ahead: &Place) -> Option<Self> {
        let slopes = craft.slopes(&x);
        let mut one = Place::zeros();
        one[5] = 1.0;
        let along = bordered(&slopes, ahead).lu().solve(&one)?;
        let running = craft.running(&x);
        let tangent = along.try_normalize(1e-12)?;
        tangent.iter().all(|t| t.is_finite()).then(|| Self {
            x,
            running,
            slopes,
            tangent,
            throttle: craft.holding(&running),
        })
    }

    /// Pushes back small changes of heave and pitch.
    pub fn pushes_back(&self) -> bool {
        heave_pitch_stable(&self.slopes.column(0).into(), &self.slopes.column(1).into())
    }

    /// Pushes back a small change of heel as well, heave and pitch settling with it: a boat does not stay where it falls
    /// to one side.
    pub fn stays_upright(&self) -> bool {
        self.slopes.fixed_view::<3, 3>(0, 0).determinant() < 0.0
    }

    /// The line goes on to higher speed from here.
    pub fn speeds_up(&self) -> bool {
        self.tangent[4] > 0.0
    }

    pub fn speed_m_s(&self) -> f64 {
        self.running.speed_m_s
    }
}

/// Which way more speed is.
pub(crate) fn faster() -> Place {
    Place::new(0.0, 0.0, 0.0, 0.0, 1.0, 0.0)
}

/// Walks a line.
pub(crate) struct Walk<'a> {
    pub craft: &'a Craft,
    /// Next step.
    pub step: f64,
}

impl<'a> Walk<'a> {
    pub fn new(craft: &'a Craft) -> Self {
        Self { craft, step: FIRST }
    }

    /// The next state; `None` where the line cannot be followed.
    pub fn next(&mut self, from: &Point) -> Option<Point> {
        loop {
            let found = self.tried(from, self.step);
            let bend = found.as_ref().map(|p| p.tangent.dot(&from.tangent));
            if bend.is_some_and(|b| b > BEND || b > 0.0 && self.step <= CORNER) {
                let grown = STRAIGHT.iter().find(|s| bend > Some(s.0));
                self.step = (self.step * grown.map_or(1.0, |s| s.1)).min(LONGEST);
                return found;
            }
            if self.step <= SHORTEST {
                return found;
            }
            let corner = bend.is_some() && self.step > CORNER;
            let shorter = if corner { CORNER } else { SHORTEST };
            self.step = (0.4 * self.step).max(shorter);
        }
    }

    fn tried(&self, from: &Point, step: f64) -> Option<Point> {
        let ahead = from.x + from.tangent * step;
        let plane = Condition::Plane {
            normal: from.tangent,
            at: from.tangent.dot(&ahead),
        };
        let x = self
            .craft
            .settle(&ahead, &plane, Some(&from.slopes), false)?;
        ((x - ahead).norm() < ASTRAY * step.max(0.01))
            .then(|| Point::at(self.craft, x, &from.tangent))?
    }
}

/// The state a share of the way between two neighbours of a line.
pub(crate) fn between(craft: &Craft, a: &Point, b: &Point, share: f64) -> Option<Place> {
    Between::new(craft, a, b).at(share)
}

/// States between two neighbours of a line, each found with the slopes that served the last one.
pub(crate) struct Between<'a> {
    craft: &'a Craft,
    ends: (&'a Point, &'a Point),
    normal: Place,
    length: f64,
    slopes: Option<Bordered>,
}

impl<'a> Between<'a> {
    pub fn new(craft: &'a Craft, a: &'a Point, b: &'a Point) -> Self {
        let chord = b.x - a.x;
        let length = chord.norm();
        let normal = chord / length.max(1e-12);
        Self {
            craft,
            ends: (a, b),
            normal,
            length,
            slopes: Some(bordered(&a.slopes, &normal)),
        }
    }

    pub fn at(&mut self, share: f64) -> Option<Place> {
        let (a, b) = self.ends;
        if self.length < 1e-12 {
            return Some(a.x);
        }
        let start = curved(a, b, share);
        let plane = Condition::Plane {
            normal: self.normal,
            at: self.normal.dot(&a.x) + share * self.length,
        };
        self.craft
            .settle_with(&start, &plane, &mut self.slopes, true)
            .filter(|x| (x - start).norm() < 0.5 * self.length + 0.02)
    }
}

/// Hermite's cubic through two neighbours and their tangents.
pub(crate) fn curved(a: &Point, b: &Point, t: f64) -> Place {
    let length = (b.x - a.x).norm();
    let (t2, t3) = (t * t, t * t * t);
    a.x * (2.0 * t3 - 3.0 * t2 + 1.0)
        + b.x * (3.0 * t2 - 2.0 * t3)
        + (a.tangent * (t3 - 2.0 * t2 + t) + b.tangent * (t3 - t2)) * length
}
