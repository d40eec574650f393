//! One ring of blade elements: induced speed and force.

use super::{Arc, Blading, Parts};
use crate::smooth::{mix, step};
use std::f64::consts::{PI, TAU};

/// Blade outline of the B series: chord over diameter times blades over area ratio, at tenths of the
/// radius from 0.2; from memory.
const CHORD: [f64; 9] = [1.662, 1.882, 2.050, 2.152, 2.187, 2.144, 1.970, 1.582, 0.0];
/// Share of the theoretical lift slope that wide blades in a ring keep; set on the B series.
const SLOPE: f64 = 0.68;
/// Share of a section's camber that tells in a ring of wide blades; set on the B series.
const CAMBER: f64 = 0.5;
/// Share of the wetted lift that is left when blades enter and leave the water every turn: half at entry, nine
/// tenths after the five half-chords that a turn leaves (Wagner 1925), less what the free surface takes (judgement).
const CUT: f64 = 0.5;
/// Angle past which a wetted section gains no more, rad.
const STALL: f64 = 0.24;
/// Angle over which a section of a cut disc passes from wetted to ventilated, rad (7 deg): as wide as keeps
/// its lift from falling while the angle grows.
const VENTS: f64 = 0.12;
/// Friction and form drag of a section that stays wetted; with the induced part below, set on the B series.
const DRAG_WETTED: f64 = 0.012;
/// The same of a section that air reaches at every turn: ITTC 7.5-02-03-01.4 at chord Reynolds numbers of 1e5
/// to 5e5 (0.0091 to 0.0094, from memory). That its back is dry is set against its spray (judgement).
const DRAG_CUT: f64 = 0.0093;
/// Cavities of all blades never close more of the passage.
const MOST_BLOCKED: f64 = 0.6;
const COUNT: usize = 10;

/// A ring; diameter is 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ring {
    pub radius: f64,
    width: f64,
    /// Chords of all blades together.
    chords: f64,
    thickness_ratio: f64,
    sin_pitch: f64,
    cos_pitch: f64,
    tip: f64,
    pitch: f64,
}

/// Force on a ring's blades for a radian of arc, over density.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Forces {
    pub thrust: f64,
    pub turning: f64,
    /// Change with the blade's own speed.
    pub thrust_by_speed: f64,
    pub turning_by_speed: f64,
    pub ventilated: f64,
}

/// Rings at the middles of even strips in radius.
pub(super) fn rings(b: &Blading) -> Vec<Ring> {
    let root = 0.5 * b.boss_ratio;
    let width = (0.5 - root) / COUNT as f64;
    (0..COUNT)
        .map(|i| ring(b, root + (i as f64 + 0.5) * width, width))
        .collect()
}

fn ring(b: &Blading, radius: f64, width: f64) -> Ring {
    let place = (20.0 * radius - 2.0).clamp(0.0, 8.0);
    let i = (place as usize).min(7);
    let inner = mix(CHORD[i], CHORD[i + 1], place - i as f64);
    // Round near the tip, where straight lines between tenths would be too narrow.
    let tip_round = 1.582 * ((1.0 - 2.0 * radius) / 0.1).max(0.0).sqrt();
    let outline = if i == 7 { tip_round } else { inner };
    let chord = b.area_ratio / b.blades * outline;
    let x = 2.0 * radius;
    let thickness =
        b.thickness * (0.0650 - 0.062 * x - b.blades * (0.0050 - 0.0050 * x)).max(0.003);
    let (sin, cos) = (b.pitch_ratio / (TAU * radius)).atan().sin_cos();
    Ring {
        radius,
        width,
        chords: b.blades * chord,
        thickness_ratio: (thickness / chord.max(1e-6)).min(0.3),
        sin_pitch: sin,
        cos_pitch: cos,
        tip: 0.5 * b.blades * (0.5 - radius),
        pitch: b.pitch_ratio,
    }
}

impl Forces {
    /// Between two, component by component.
    pub fn mix(&self, other: &Self, share: f64) -> Self {
        Self {
            thrust: mix(self.thrust, other.thrust, share),
            turning: mix(self.turning, other.turning, share),
            thrust_by_speed: mix(self.thrust_by_speed, other.thrust_by_speed, share),
            turning_by_speed: mix(self.turning_by_speed, other.turning_by_speed, share),
            ventilated: mix(self.ventilated, other.ventilated, share),
        }
    }
}

impl Ring {
    /// In straight flow, with the induced speed that momentum asks for.
    pub fn forces(&self, v: f64, n: f64, cut: f64) -> Forces {
        let turn = TAU * n * self.radius;
        let induced = self.induced(v, turn, n, cut);
        let swirl = swirl(turn, induced * (v + induced));
        let at = |extra: f64| self.section(v + induced, turn - swirl + extra, cut);
        let (thrust, turning, ventilated) = at(0.0);
        let h = 1e-4;
        let (up, down) = (at(h), at(-h));
        Forces {
            thrust,
            turning,
            thrust_by_speed: (up.0 - down.0) / (2.0 * h),
            turning_by_speed: (up.1 - down.1) / (2.0 * h),
            ventilated,
        }
    }

    /// Adds the ring's arc integrals. Crossing water of one radian moves at `v`.
    pub fn gather(&self, f: &Forces, arc: &Arc, v: f64, bias: f64, sum: &mut Parts) {
        let w = self.width;
        let arm = self.radius;
        // A blade that never leaves the water presses down no harder than it rises.
        let bias = bias * step(0.0, 0.5, 1.0 - arc.length / TAU);
        let (t, q) = (w * f.thrust, w * f.turning);
        let (dt, dq) = (w * f.thrust_by_speed * v, w * f.turning_by_speed * v);
        sum.straight.kt += t * arc.length;
        sum.straight.kq += q * arm * arc.length;
        sum.straight.side += q * arc.cos;
        sum.straight.vertical += bias * q * arc.sin2;
        // Upward flow meets the descending side, flow to port the top.
        sum.by_upward.kt += bias * dt * arc.sin2;
        sum.by_upward.kq += bias * dq * arm * arc.sin2;
        sum.by_upward.vertical += dq * arc.sin2;
        sum.by_upward.side += bias * dq * arc.sin2_cos;
        sum.by_port.kt += dt * arc.cos;
        sum.by_port.kq += dq * arm * arc.cos;
        sum.by_port.side += dq * arc.cos2;
        sum.by_port.vertical += bias * dq * arc.sin2_cos;
    }

    /// Induced axial speed: blade force falls with it, momentum rises, so they meet once.
    fn induced(&self, v: f64, turn: f64, n: f64, cut: f64) -> f64 {
        let excess = |u: f64| {
            let turning = turn - swirl(turn, u * (v + u));
            let (thrust, _, _) = self.section(v + u, turning, cut);
            let open = 1.0 - self.blocked(v + u, turning, cut);
            let loss = self.tip_loss(v + u, turn);
            thrust - 2.0 * self.radius * (v + u).abs() * u * loss * open
        };
        let reach = (1.5 * self.pitch * n - v).max(0.02 * v + 0.02 * n);
        root(excess, -0.5 * v - 0.02 * n, reach)
    }

    fn tip_loss(&self, axial: f64, turn: f64) -> f64 {
        let sin = axial.abs() / axial.hypot(turn).max(1e-9);
        let f = (-self.tip / (self.radius * sin.max(0.02))).exp();
        (2.0 / PI * f.min(1.0).acos()).max(0.05)
    }

    /// Part of the way between neighbouring blades that the cavity behind each fills: as thick at the trailing
    /// edge as the plate stands across the stream.
    fn blocked(&self, axial: f64, turning: f64, cut: f64) -> f64 {
        let speed = axial.hypot(turning).max(1e-9);
        let sin = (self.sin_pitch * turning - self.cos_pitch * axial) / speed;
        let filled = cut * ventilates(sin) * self.chords * sin.abs();
        let passage = TAU * self.radius * self.sin_pitch;
        MOST_BLOCKED * (filled / (MOST_BLOCKED * passage)).tanh()
    }

    /// Thrust and turning force for a radian of arc and unit width, and how ventilated.
    fn section(&self, axial: f64, turning: f64, cut: f64) -> (f64, f64, f64) {
        let speed2 = axial * axial + turning * turning;
        if speed2 < 1e-16 {
            return (0.0, 0.0, 0.0);
        }
        let speed = speed2.sqrt();
        let (sin_flow, cos_flow) = (axial / speed, turning / speed);
        let sin = self.sin_pitch * cos_flow - self.cos_pitch * sin_flow;
        let cos = self.cos_pitch * cos_flow + self.sin_pitch * sin_flow;
        let ventilated = cut * ventilates(sin);
        let plate = TAU * sin / (4.0 + PI * sin.abs());
        let (full, stalled) = wetted_lift(sin, cos, self.thickness_ratio);
        let wetted = full * (1.0 - (1.0 - CUT) * cut);
        let lift = mix(wetted, plate * cos, ventilated);
        // What a stalled section no longer lifts pushes square to its face.
        // The water that a new blade sets in motion meets it from behind by the angle that it lost.
        let late = (full - wetted) / (TAU * SLOPE);
        let plain = mix(DRAG_WETTED, DRAG_CUT, cut);
        let wetted_drag = plain + 0.04 * wetted * wetted + wetted * late + stalled * sin.abs();
        let drag = mix(wetted_drag, DRAG_CUT + plate * sin, ventilated);
        let force = 0.5 * speed2 * self.chords / TAU;
        (
            force * (lift * cos_flow - drag * sin_flow),
            force * (lift * sin_flow + drag * cos_flow),
            ventilated,
        )
    }
}

fn ventilates(sin: f64) -> f64 {
    step(0.0, VENTS, sin.abs())
}

/// Lift of a wetted flat-faced section, straight at first and level past the stall, none broadside;
/// and what the stall took.
fn wetted_lift(sin: f64, cos: f64, camber: f64) -> (f64, f64) {
    let angle = sin.clamp(-1.0, 1.0) + CAMBER * camber * cos.max(0.0);
    let eased = STALL * (angle / STALL).tanh();
    let slope = TAU * SLOPE;
    (
        slope * eased * cos.abs().min(1.0),
        slope * (angle - eased).abs(),
    )
}

/// Turning speed given to the water at the disc.
fn swirl(turn: f64, product: f64) -> f64 {
    let inside = (0.25 * turn * turn - product.max(0.0)).max(0.0);
    0.5 * turn - inside.sqrt()
}

/// Zero of a falling function between two ends, by false position with halved weights.
fn root(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let (mut f_low, mut f_high) = (f(low), f(high));
    if f_low <= 0.0 {
        return low;
    }
    if f_high >= 0.0 {
        return high;
    }
    let mut side = 0;
    for _ in 0..40 {
        let middle = (low * f_high - high * f_low) / (f_high - f_low);
        let value = f(middle);
        if value.abs() < 1e-9 || high - low < 1e-9 {
            return middle;
        }
        if value > 0.0 {
            (low, f_low) = (middle, value);
            if side == 1 {
                f_high *= 0.5;
            }
            side = 1;
        } else {
            (high, f_high) = (middle, value);
            if side == -1 {
                f_low *= 0.5;
            }
            side = -1;
        }
    }
    0.5 * (low + high)
}

/// Force square to the face over dynamic pressure and chord, ventilated.
#[cfg(test)]
pub(super) fn normal_coefficient(pitch_rad: f64, flow_rad: f64) -> f64 {
    let mut ring = ring(&Blading::new(2.0, 1.0, 0.5), 0.35, 0.01);
    (ring.sin_pitch, ring.cos_pitch) = pitch_rad.sin_cos();
    let (axial, turning) = flow_rad.sin_cos();
    let (thrust, turn, _) = ring.section(axial, turning, 1.0);
    (thrust * ring.cos_pitch + turn * ring.sin_pitch) / (0.5 * ring.chords / TAU)
}
