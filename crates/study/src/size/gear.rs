//! What is in the water or in the wind: drive lines, rudder, fins, a wing.

use super::fitted::{Fin, Line, Sail};
use super::fitter::Fitter;
use super::practice::{self, Fins};

impl Fitter<'_> {
    pub(super) fn lines(&self) -> Vec<Line> {
        let shaft_z = self.shaft_z();
        let sides = self.sides();
        let several = sides.len() > 1;
        let line = |y: f64| Line {
            name: match several {
                true if y > 0.0 => "left",
                true => "right",
                false => "",
            },
            propeller_at_m: [-self.l(self.practice.set_back), y, shaft_z],
            strut_span_m: self.l(0.022),
            right_handed: several && y < 0.0,
            outlet_m: self.outlet(y),
        };
        sides.into_iter().map(line).collect()
    }

    /// In the side of the hull, well up, on the side the driver sees.
    pub(super) fn outlet(&self, y: f64) -> [f64; 3] {
        let f = self.frame;
        let x = self.l(self.practice.controller_x);
        let side = if y < 0.0 { -1.0 } else { 1.0 };
        let out = if y == 0.0 {
            f.half_width_m(x)
        } else {
            0.5 * f.beam_m - self.l(0.012)
        };
        let z = f
            .room(x, side * out * 0.8)
            .map_or(self.l(0.06), |r| r.at(0.85));
        [x, side * out, z]
    }

    pub(super) fn rudder(&self) -> Fin {
        let p = &self.practice;
        let lowest = self.frame.trailing_edge_m()[1].min(self.keel_m());
        let tip = lowest - self.l(p.rudder_below);
        let root = lowest + self.l(p.rudder_above);
        Fin {
            name: "rudder",
            at_m: [-self.l(p.rudder[0]), -self.l(p.rudder[1]), root],
            chord_m: self.l(0.0325),
            span_m: root - tip,
            lean_deg: 0.0,
        }
    }

    pub(super) fn fins(&self) -> Vec<Fin> {
        let f = self.frame;
        match self.practice.fins {
            Fins::None => Vec::new(),
            Fins::RightSponson => {
                let area = practice::fin_area_m2(f.length_m);
                let chord_m = (1.06 * area).sqrt();
                let [edge, pad_z] = f.trailing_edge_m();
                // The balance point lies between its edges.
                let x = edge - self.l(0.02) + 0.1 * chord_m;
                let y = -(0.5 * f.beam_m - self.l(0.008));
                vec![Fin {
                    name: "turn fin",
                    at_m: [x, y, pad_z],
                    chord_m,
                    span_m: area / chord_m,
                    lean_deg: 15.0,
                }]
            }
            Fins::Pair => {
                let y = 0.42 * f.beam_m;
                let chine = f.room(self.l(0.02), y).map_or(0.25 * y, |r| r.floor_m);
                let fin = |name, side: f64| Fin {
                    name,
                    at_m: [0.0, side * y, chine],
                    chord_m: self.l(0.067),
                    span_m: self.l(0.027),
                    lean_deg: 0.0,
                };
                vec![fin("left fin", 1.0), fin("right fin", -1.0)]
            }
        }
    }

    pub(super) fn wing(&self) -> Option<Sail> {
        let f = self.frame;
        let top = f.room(self.l(0.1), 0.0).map_or(self.l(0.12), |r| r.deck_m);
        (self.wish.speed_m_s > practice::WING_FROM_M_S).then_some(Sail {
            at_m: [self.l(0.08), 0.0, top + self.l(0.06)],
            span_m: 0.7 * f.beam_m,
            chord_m: self.l(0.09),
        })
    }
}
