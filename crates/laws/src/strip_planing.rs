//! A planing bottom of any section, by strips: each strip of water is pushed down by the section that passes
//! over it (2D+t), and what the ends of the bottom let escape is taken from a lifting surface.
//!
//! One side of the keel at a time, over `0.5 rho V^2`, `c(x)` the half-beam wet at `x` ahead of the trailing
//! edge, `S = sin(tau) cos(tau)^2`:
//! `L = pi k [ int S c G dc + 0.5 int c^2 G dS ] + K int_held sin(tau)^2 cos(tau)^3 cos(beta) c dx`
//!
//! - `pi rho c^2 / 2` is the mass a metre of a plate of half-beam `c` on the surface (Wagner 1932); its growth
//!   aft is lift (Munk; Zarnick 1978). `k = 1 - 0.821 beta + 0.1436 beta^2` is the similarity solution of a
//!   wedge's entry over the flat plate's (Zhao and Faltinsen 1993, our fit, as in the added mass in time);
//!   `beta` is the deadrise of the wedge that the water rises on as fast. Where the bottom's angle changes
//!   along the hull (hook, rocker) momentum changes by `dS`.
//! - `T = x / sqrt(x^2 + c^2)`: what a strip entering `x` ahead of the trailing edge has given when it
//!   leaves. It joins the two-dimensional planing plate, `pi tau` a wetted length, for `x -> 0` with the
//!   slender strip for `x -> infinity` (root of the sum of squares: ours, no free number).
//! - `G = T + s (P - T)`, `s` the share of `x` over which the water is held at a chine or strake: there it
//!   goes on gaining (separated flow; Zhao, Faltinsen and Haarklau 1997 say so of sections), up to Shuford's
//!   long plate: `P = x / (c + x/2 + c x / (x + 0.8 c))`, the flat plate of
//!   [`planing_surface`](crate::planing_surface). `K = 2 pi / (4 + pi)` is the crossflow of a plate with a
//!   cavity above it (Kirchhoff).
//! - Load of a strip lies behind its entry by a quarter of a short bottom and half a half-beam of a long one,
//!   and by a quarter of the run over which the water is held, crossflow too (plates of any length: Savitsky's
//!   0.75).
//! - What is wet on both sides of the keel is one plate about its own middle: with `a` wet on the other side,
//!   `c` above is `(a + c) / 2`, and what the edge at `c` gains lies three quarters of the way from the other
//!   edge to it (the change of the plate's potential with that edge; for heeled wedges Toyama 1993 and Xu,
//!   Troesch and Vorus 1998, J. Ship Res. 42: from memory). On a bottom much shorter than wide it lies at `c`
//!   itself; in between by `T`. A level hull has `a = c`; a bottom with one side only (a pad, half a catamaran,
//!   a hull that lies on one panel) has `a = 0`, and half the lift that it would have as half of a level hull.
//! - How deep the keel is when water reaches `c`, over the depth on a level wedge ([`rise`]), and how much of
//!   an edge's gain presses on its own panel ([`own`]), are Wagner's integrals for a plate with two unlike
//!   sides.
//! - Units: SI and radians; results over dynamic pressure: m2, m3.
//! - Valid: angles 0 to 20 deg, deadrise to 40 deg; speed high enough for gravity not to matter (buoyancy is
//!   another law's). At negative angles lift fades out; no suction.
//! - Checks: Savitsky 1964, dynamic part, deadrise 0 to 30 deg, trim 2 to 12 deg, mean wetted length 0.5 to 4
//!   beams and the triangle with dry chines: 5 % less on average with a standard deviation of 5 %, centre of
//!   pressure 0.75 within 0.06; Wagner's plate, the slender triangle and a plate wet to unlike sides as limits;
//!   Wagner's integrals for two slopes. No measured data at our size, nor of heel: theory there.

use std::f64::consts::PI;

/// Crossflow drag of the bottom: a plate square to the flow with an open cavity above it.
pub const CROSSFLOW: f64 = 2.0 * PI / (4.0 + PI);
/// Angles below this fade out instead of ending in a corner, rad.
const FADE_RAD: f64 = 5e-4;
/// Abscissa of the two-point rule on 0 to 1, from aft forward.
const GAUSS: [f64; 2] = [0.788_675_134_594_812_9, 0.211_324_865_405_187_1];
/// A wedge's water rises to `2 / pi` of its depth; on a bottom with one side, where the other edge is the
/// keel's own, to 3/4 (Wagner's integral for a plate about its own middle).
pub const ONE_SIDED_RISE: f64 = 0.75 * PI / 2.0;

/// Depth of the keel at which water reaches a line of one side, over that of a wedge whose other side is alike:
/// Wagner's conditions at both edges of a plate on a wedge with two slopes (tangents of the deadrise), our fit
/// within 0.018. 1 where both are alike, [`ONE_SIDED_RISE`] where the other side is a wall. Towards a flat other
/// side it would go to nothing; beyond nine times its slope that side's chine ends it (judgement).
pub fn rise(own_slope: f64, other_slope: f64) -> f64 {
    let (own, other) = (own_slope.max(0.0), other_slope.max(0.0));
    if own + other <= 1e-9 {
        return 1.0;
    }
    let e = ((other - own) / (other + own)).max(-0.8);
    (1.0 + e).cbrt() * (1.0 + e * (-0.129 + e * (0.0807 - 0.0166 * e)))
}

/// Share of what an edge gains that presses on its own side of the keel, from the half-beams wet on both sides.
pub fn own(half_beam_m: f64, other_half_beam_m: f64) -> f64 {
    let whole = half_beam_m + other_half_beam_m;
    if whole <= 1e-9 {
        return 1.0;
    }
    let share = (half_beam_m / whole).clamp(0.0, 1.0);
    2.0 / PI * ((share * (1.0 - share)).sqrt() + share.sqrt().asin())
}

/// Where a line is met, m ahead of the trailing edge: of lines that are met at once the inner one first.
fn place(half_beam_m: f64, ahead_m: f64) -> f64 {
    ahead_m - 1e-6 * half_beam_m
}

impl Edge {
    fn place(&self) -> f64 {
        place(self.half_beam_m, self.ahead_m)
    }
}

/// Half-beam that edges are wet to, asked place by place as [`strips`] does, from aft forward.
#[derive(Debug, Clone)]
pub struct Wetted<'a> {
    edges: &'a [Edge],
    /// The place lies between the one before this and it.
    last: usize,
}

impl<'a> Wetted<'a> {
    /// From the trailing edge on.
    pub fn of(edges: &'a [Edge]) -> Self {
        let last = edges.len().saturating_sub(1);
        Self { edges, last }
    }

    /// m; 0 ahead of what is wet.
    pub fn half_beam_m(&mut self, place: f64) -> f64 {
        while self.last > 0 && self.edges[self.last - 1].place() <= place {
            self.last -= 1;
        }
        if self.last == 0 {
            return 0.0;
        }
        let (fore, aft) = (&self.edges[self.last - 1], &self.edges[self.last]);
        let f = (place - aft.place()) / (fore.place() - aft.place()).max(1e-15);
        aft.half_beam_m + (fore.half_beam_m - aft.half_beam_m) * f.clamp(0.0, 1.0)
    }
}

/// Where the water's edge passes a line along the bottom.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Edge {
    /// From the keel out to the line, m; never less than that of the edge before.
    pub half_beam_m: f64,
    /// Wetted along it ahead of the trailing edge, m; never more than that of the edge before.
    pub ahead_m: f64,
    /// Angle of the bottom to the water there, bow up, rad.
    pub angle_rad: f64,
    /// Deadrise of the wedge on which water rises as fast, rad.
    pub deadrise_rad: f64,
    /// Water is held here: to the next edge it goes no further out (a chine, a strake).
    pub held: bool,
}

/// One side's load over dynamic pressure, and what it wets.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Strips {
    /// Lift, m2.
    pub lift_m2: f64,
    /// Lift times its distance ahead of the trailing edge, m3.
    pub moment_m3: f64,
    /// Angle of attack where the lift arises, rad.
    pub angle_rad: f64,
    /// Wetted area seen from above, m2.
    pub plan_m2: f64,
    /// Wetted bottom, m2.
    pub area_m2: f64,
    /// First moment of it about the trailing edge, m3.
    pub area_moment_m3: f64,
    /// First moment across of the lift from the keel, m3.
    pub across_m3: f64,
    /// Of the lift what a long bottom gives, m2: [`own`] tells what of it presses on the other side.
    pub slender_m2: f64,
}

/// A wedge's entry over that of Wagner's flat plate.
pub fn softness(deadrise_rad: f64) -> f64 {
    let b = deadrise_rad.clamp(0.0, 1.2);
    1.0 - 0.821 * b + 0.1436 * b * b
}

/// Mass that moves down with a section wet to a half-beam on both sides, over density, m2.
pub fn carried_m2(half_beam_m: f64, deadrise_rad: f64) -> f64 {
    0.5 * PI * softness(deadrise_rad) * half_beam_m * half_beam_m
}

/// Load of one side. `edges` from the keel's entry out and aft to the trailing edge, where the last one
/// lies (`ahead_m` 0); `other` is asked, from aft forward, how far the other side of the keel is wet, m
/// ([`Wetted`]; 0 where there is none).
pub fn strips(edges: &[Edge], mut other: impl FnMut(f64) -> f64) -> Strips {
    let mut sum = Strips::default();
    let mut held_m = 0.0;
    let mut angle = 0.0;
    // Of the edge before: the one just done is the next one's aft.
    let mut to = edges.last().map_or(0.0, |e| push(e.angle_rad));
    for pair in edges.windows(2).rev() {
        let (fore, aft) = (&pair[0], &pair[1]);
        let long = fore.ahead_m - aft.ahead_m;
        let wide = aft.half_beam_m - fore.half_beam_m;
        let deadrise = 0.5 * (fore.deadrise_rad + aft.deadrise_rad);
        let level = deadrise.cos();
        let from = push(fore.angle_rad);
        if fore.held {
            held_m += long;
        }
        let scale = 0.5 * PI * softness(deadrise);
        for u in GAUSS {
            let c = fore.half_beam_m + u * wide;
            let x = fore.ahead_m - u * long;
            let beside = other(place(c, x));
            // Of the whole plate.
            let half = 0.5 * (c + beside);
            let root = (x * x + half * half).sqrt().max(1e-12);
            let entry = x / root;
            let behind = 0.5 * half * x / (root + half);
            // Growth of the section, and turning of the bottom along it.
            let gain = ((from + u * (to - from)) * wide + 0.5 * c * (to - from)) * half * scale;
            let held = (held_m / x.max(1e-12)).min(1.0);
            let (mut free, mut kept) = (gain * entry, 0.0);
            if held > 0.0 {
                let plate =
                    x / (half + 0.5 * x + half * x / (x + 0.8 * half).max(1e-12)).max(1e-12);
                free *= 1.0 - held;
                kept = gain * plate * held;
            }
            let lift = free + kept;
            sum.lift_m2 += lift;
            sum.moment_m3 += free * (x - behind) + kept * (x - 0.25 * held_m.min(x));
            // A short bottom presses where it is met, a long one as its plate does.
            sum.across_m3 += lift * (c - 0.5 * half * entry);
            sum.slender_m2 += lift * entry;
            angle += lift * (fore.angle_rad + u * (aft.angle_rad - fore.angle_rad));
        }
        if fore.held {
            let tau = 0.5 * (fore.angle_rad + aft.angle_rad).max(0.0);
            let (sin, cos) = tau.sin_cos();
            let across = CROSSFLOW * sin * sin * cos.powi(3) * level;
            let lift = across * long * 0.5 * (fore.half_beam_m + aft.half_beam_m);
            sum.lift_m2 += lift;
            sum.moment_m3 += lift * (aft.ahead_m + 0.75 * long);
            sum.across_m3 += 0.5 * lift * fore.half_beam_m;
            angle += lift * tau;
        }
        wet(&mut sum, fore, aft, level);
        to = from;
    }
    sum.angle_rad = match edges.first() {
        Some(first) if sum.lift_m2 <= 1e-15 => first.angle_rad,
        _ => angle / sum.lift_m2,
    };
    sum
}

/// Adds the bottom between two edges; `level` is the cosine of its deadrise.
fn wet(sum: &mut Strips, fore: &Edge, aft: &Edge, level: f64) {
    let wide = aft.half_beam_m - fore.half_beam_m;
    let plan = wide * 0.5 * (fore.ahead_m + aft.ahead_m);
    let (a, b) = (fore.ahead_m, aft.ahead_m);
    sum.plan_m2 += plan;
    sum.area_m2 += plan / level;
    sum.area_moment_m3 += wide * (a * a + a * b + b * b) / 6.0 / level;
}

/// `sin cos^2` of an angle, fading out below nothing.
fn push(angle_rad: f64) -> f64 {
    let angle = 0.5 * (angle_rad + (angle_rad * angle_rad + 4.0 * FADE_RAD * FADE_RAD).sqrt());
    let (sin, cos) = angle.min(1.5).sin_cos();
    sin * cos * cos
}

/// Panels that a prism's half is cut into.
const PIECES: usize = 6;

/// One side of a prism: `reach_m` is the wetted keel ahead of where water reaches the chine.
pub fn prism(
    half_beam_m: f64,
    deadrise_rad: f64,
    trim_rad: f64,
    keel_wetted_m: f64,
    reach_m: f64,
) -> Strips {
    let wet = if keel_wetted_m < reach_m {
        keel_wetted_m / reach_m
    } else {
        1.0
    };
    let chine = (keel_wetted_m - reach_m).max(0.0);
    let mut edges = [Edge::default(); PIECES + 2];
    for (i, edge) in edges.iter_mut().enumerate() {
        let u = i.min(PIECES) as f64 / PIECES as f64;
        *edge = Edge {
            half_beam_m: half_beam_m * wet * u,
            ahead_m: if i > PIECES {
                0.0
            } else {
                keel_wetted_m + (chine - keel_wetted_m) * u
            },
            angle_rad: trim_rad,
            deadrise_rad,
            held: i == PIECES,
        };
    }
    level(&edges)
}

/// One side of a hull whose other side is alike.
fn level(edges: &[Edge]) -> Strips {
    let mut same = Wetted::of(edges);
    strips(edges, |place| same.half_beam_m(place))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reach(beam: f64, beta: f64, tau: f64) -> f64 {
        beam * beta.tan() / (PI * tau.tan())
    }

    fn coefficient(beta_deg: f64, tau_deg: f64, keel: f64) -> (f64, f64) {
        let (beta, tau) = (beta_deg.to_radians(), tau_deg.to_radians());
        let found = prism(0.5, beta, tau, keel, reach(1.0, beta, tau));
        (2.0 * found.lift_m2, found.moment_m3 / found.lift_m2)
    }

    /// Savitsky 1964, equations 15 and 16 without the buoyant part.
    fn savitsky(beta_deg: f64, tau_deg: f64, lambda: f64) -> f64 {
        let flat = 0.012 * lambda.sqrt() * tau_deg.powf(1.1);
        flat - 0.0065 * beta_deg * flat.powf(0.6)
    }

    #[test]
    fn agrees_with_savitsky_where_his_fit_holds() {
        let (mut sum, mut squares, mut count, mut centres) = (0.0, 0.0, 0.0, 0.0f64);
        for beta in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0] {
            for tau in [2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0f64] {
                let to_chine = reach(1.0, f64::to_radians(beta), tau.to_radians());
                for lambda in [0.5 * to_chine, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0] {
                    let his = savitsky(beta, tau, lambda);
                    let kept = his / (0.012 * lambda.sqrt() * tau.powf(1.1));
                    // His fit: lambda to 4; a deadrise term that leaves less than 0.4 is past it.
                    let inside = (0.5..=4.0).contains(&lambda) && kept >= 0.4;
                    if !inside || lambda < 0.5 * to_chine {
                        continue;
                    }
                    let (ours, centre) = coefficient(beta, tau, lambda + 0.5 * to_chine);
                    let off = ours / his - 1.0;
                    assert!(off.abs() < 0.18, "{beta} {tau} {lambda}: {off}");
                    let c_p = centre / lambda;
                    centres = centres.max((c_p - 0.75).abs());
                    assert!((c_p - 0.75).abs() < 0.06, "{beta} {tau} {lambda}: {c_p}");
                    (sum, squares, count) = (sum + off, squares + off * off, count + 1.0);
                }
            }
        }
        let mean: f64 = sum / count;
        let deviation = (squares / count - mean * mean).sqrt();
        eprintln!(
            "strips less Savitsky: mean {mean:.3}, deviation {deviation:.3}, {count} cases, centre {centres:.3}"
        );
        // Scatter of the tank data about the fit is of the order of a tenth.
        assert!(count > 150.0 && mean.abs() < 0.06 && deviation < 0.06);
    }

    #[test]
    fn short_plates_are_wagners_and_long_triangles_slender() {
        let tau = 0.03f64;
        let plate = prism(0.5, 0.0, tau, 1e-4, 0.0);
        let across = CROSSFLOW * tau.sin().powi(2) * tau.cos().powi(3);
        let wagner = (PI * push(tau) + across) * 1e-4;
        assert!((2.0 * plate.lift_m2 / wagner - 1.0).abs() < 5e-3);
        // Three quarters of the wetted length ahead of the trailing edge, as for a half wing.
        assert!((plate.moment_m3 / plate.lift_m2 - 0.75e-4).abs() < 1e-6);
        let (beta, tau) = (0.35f64, 1e-4f64);
        let long = reach(1.0, beta, tau);
        let triangle = prism(0.5, beta, tau, long, long);
        let slender = 0.25 * PI * softness(beta) * push(tau);
        assert!((2.0 * triangle.lift_m2 / slender - 1.0).abs() < 0.01);
        assert!((triangle.moment_m3 / triangle.lift_m2 / long - 1.0 / 3.0).abs() < 0.01);
    }

    #[test]
    fn a_bottom_with_one_side_is_a_plate_about_its_own_middle() {
        let edges = |half: f64| {
            [(0.0, 0.2, false), (half, 0.2, true), (half, 0.0, true)].map(
                |(half_beam_m, ahead_m, held)| Edge {
                    half_beam_m,
                    ahead_m,
                    angle_rad: 0.05,
                    deadrise_rad: 0.0,
                    held,
                },
            )
        };
        let (alone, both) = (strips(&edges(0.04), |_| 0.0), level(&edges(0.02)));
        assert!((alone.lift_m2 / (2.0 * both.lift_m2) - 1.0).abs() < 1e-9);
        assert!((alone.moment_m3 / (2.0 * both.moment_m3) - 1.0).abs() < 1e-9);
        assert!((alone.area_m2 - 2.0 * both.area_m2).abs() < 1e-12);
    }

    /// A long bottom wet to `c` and `a`: the mass of a plate `a + c` wide, its push in the middle of that.
    #[test]
    fn unlike_sides_are_one_plate_about_its_own_middle() {
        let edges = |half_beam_m| {
            [(0.0, 50.0), (half_beam_m, 0.0)].map(|(half_beam_m, ahead_m)| Edge {
                half_beam_m,
                ahead_m,
                angle_rad: 0.01,
                deadrise_rad: 0.0,
                held: false,
            })
        };
        for (a, c) in [(0.05, 0.05), (0.02, 0.08), (0.0, 0.07)] {
            let (left, right) = (edges(a), edges(c));
            let mut beside = Wetted::of(&left);
            let right_load = strips(&right, |place| beside.half_beam_m(place));
            let mut beside = Wetted::of(&right);
            let left_load = strips(&left, |place| beside.half_beam_m(place));
            let lift = right_load.lift_m2 + left_load.lift_m2;
            let plate = PI / 4.0 * (a + c).powi(2) * push(0.01);
            assert!((lift / plate - 1.0).abs() < 1e-3, "{a} {c}");
            let across = (right_load.across_m3 - left_load.across_m3) / lift;
            assert!((across - 0.5 * (c - a)).abs() < 1e-3 * (a + c), "{across}");
        }
    }

    /// Wagner's two conditions, as integrals over the wetted plate.
    #[test]
    fn water_rises_at_unlike_sides_as_wagner_has_it() {
        const N: usize = 20_000;
        for keel in [-0.8, -0.5, -0.2, 0.0, 0.3, 0.6, 0.9] {
            // A plate from -1 to 1, the keel at `keel`; heights a side with slope 1, over sqrt(1 - s^2).
            let (mut even, mut odd) = ([0.0; 2], [0.0; 2]);
            for i in 0..N {
                let s = (PI * (i as f64 + 0.5) / N as f64).cos();
                let side = usize::from(s < keel);
                even[side] += (s - keel).abs() / N as f64;
                odd[side] += s * (s - keel).abs() / N as f64;
            }
            // The odd moment vanishes: the slopes' ratio. The even one is the keel's depth.
            let (own_slope, other_slope) = (1.0, -odd[0] / odd[1]);
            let deep = even[0] + other_slope * even[1];
            let alike = 2.0 / PI * own_slope * (1.0 - keel);
            if (other_slope - own_slope) / (other_slope + own_slope) > -0.8 {
                let fit = rise(own_slope, other_slope);
                assert!((fit - deep / alike).abs() < 0.018, "{keel}: {fit}");
            }
        }
        assert!((rise(0.3, 0.3) - 1.0).abs() < 1e-12);
        assert!((rise(0.3, 1e9) - ONE_SIDED_RISE).abs() < 2e-3);
    }

    /// Half the plate's push lies on each side of its middle, all of it on the only side there is.
    #[test]
    fn an_edge_s_push_is_shared_as_its_potential_grows() {
        const N: usize = 200_000;
        for (c, a) in [(1.0, 1.0), (1.0, 0.2), (0.2, 1.0)] {
            let (mut here, mut all) = (0.0, 0.0);
            for i in 0..N {
                // Square spacing towards the edge, where the push has no bound.
                let u = (i as f64 + 0.5) / N as f64;
                let y = c - (a + c) * u * u;
                let push = ((a + y) / (c - y)).sqrt() * u;
                all += push;
                here += if y > 0.0 { push } else { 0.0 };
            }
            assert!((own(c, a) - here / all).abs() < 1e-3, "{c} {a}");
        }
        assert_eq!(own(1.0, 0.0), 1.0);
    }

    #[test]
    fn never_gives_more_than_the_momentum_it_meets() {
        // Energy: lift times sin over cos is drag; the water's share of it must be positive and no larger than
        // the stream through a circle about the wetted beam brings.
        for tau_deg in [0.1, 0.5, 1.0, 3.0, 10.0f64] {
            for keel in [0.1, 1.0, 10.0] {
                let (lift, _) = coefficient(15.0, tau_deg, keel);
                assert!(lift >= 0.0 && 0.5 * lift < PI / 4.0 * tau_deg.to_radians().sin() * 4.0);
            }
        }
    }

    #[test]
    fn a_hook_lifts_aft_and_rocker_takes_lift_away() {
        let bottom = |aft_rad: f64| {
            let edge = |half_beam_m, ahead_m, angle_rad, held| Edge {
                half_beam_m,
                ahead_m,
                angle_rad,
                deadrise_rad: 0.2,
                held,
            };
            level(&[
                edge(0.0, 0.3, 0.05, false),
                edge(0.04, 0.15, 0.05, true),
                edge(0.04, 0.05, 0.05, true),
                edge(0.04, 0.0, aft_rad, true),
            ])
        };
        let (hook, straight, rocker) = (bottom(0.07), bottom(0.05), bottom(0.03));
        assert!(hook.lift_m2 > straight.lift_m2 && rocker.lift_m2 < straight.lift_m2);
        assert!(hook.moment_m3 / hook.lift_m2 < straight.moment_m3 / straight.lift_m2);
    }

    #[test]
    fn angles_pass_through_nothing_without_a_corner() {
        let lift = |tau: f64| prism(0.05, 0.2, tau, 0.2, 0.1).lift_m2;
        let slope = |tau: f64| (lift(tau + 1e-5) - lift(tau - 1e-5)) / 2e-5;
        let mut last = slope(-0.02);
        for i in -199..=400 {
            let here = slope(f64::from(i) * 1e-4);
            assert!((here - last).abs() < 0.12 * lift(0.1) / 0.1, "{i}");
            last = here;
        }
        assert!(lift(-0.02) < 1e-3 * lift(0.05) && lift(-0.02) >= 0.0);
    }
}
