//! Air under a tunnel roof close over water: one-dimensional flow that speeds up where the tunnel narrows.
//!
//! From the trailing edge forward, `h` the roof's height over the water, `w` its width, `g` the open gap under
//! its side walls, `u` the speed over the boat's:
//! - at the trailing edge the air leaves at the boat's speed, `u = 1` (pressure there is the atmosphere's);
//! - elsewhere `C_p = 1 - u^2`, and what flows is what leaves and what room a rising roof makes:
//!   `d(u w h) = (2 g C_d sqrt(C_p) + w h') dx`, outward where pressure is above the atmosphere's and inward where
//!   it is below; `C_d = 0.6` (a sharp-edged slit); `h'` how fast the roof rises from the water over the boat's speed.
//! - Closed sides and a straight roof give `C_L = 1 - h_exit / h_inlet`, in the limit of little angle
//!   `alpha c / h_exit`: the two-dimensional wing in extreme ground effect. Sinking at `alpha` of the speed gives the
//!   same: it damps heave and pitch. What the air's own inertia adds to the boat's is left out.
//! - Source: Widnall and Barrows 1970, J. Fluid Mech. 41; Gallington, Miller and Smith 1972 (one-dimensional
//!   ram wing with leakage); from memory. `C_d`: any handbook of orifices.
//! - Units: m; coefficients on dynamic pressure.
//! - Valid: `h` much less than length and width, walls nearly down to the water, air leaving without
//!   separating. `C_p` is held at -1, where a roof that rises aft would have separated (judgement).
//! - Checks: that limit and the closed form; with open sides pressure dies within a width or two of the
//!   trailing edge (by hand). No measured tunnel hull was found: unvalidated.

/// Discharge through the gap under a wall.
const DISCHARGE: f64 = 0.6;
/// Suction never passes this.
const LOWEST: f64 = -1.0;
/// Gaps smaller than this are this, m: water is never as flat.
const LEAST_GAP_M: f64 = 5e-4;

/// Flow that is followed forward from the trailing edge, station by station.
#[derive(Debug, Clone, Copy)]
pub struct Channel {
    /// Speed over the boat's times section, m2.
    flow_m2: f64,
}

impl Channel {
    /// At a trailing edge of this width and height over the water, m.
    pub fn leaving(width_m: f64, height_m: f64) -> Self {
        Self {
            flow_m2: width_m * at_least(height_m),
        }
    }

    /// Pressure coefficient over the next stretch forward: its length, mean width, mean height, and the sum of
    /// the open gaps under both walls, m; and how fast it rises from the water over the boat's speed.
    pub fn next(
        &mut self,
        length_m: f64,
        width_m: f64,
        height_m: f64,
        gaps_m: f64,
        rising: f64,
    ) -> f64 {
        let section = width_m.max(1e-6) * at_least(height_m);
        // Half of what leaks does so before the middle of the stretch; leaking eases as pressure falls, so the
        // middle is found from where it leads.
        let leak = 0.5 * gaps_m.max(0.0) * DISCHARGE * length_m / section;
        let start = self.flow_m2 / section;
        let room = start + 0.5 * rising * length_m * width_m.max(1e-6) / section;
        // What has come in by the middle of the stretch and by its end, each from the middle's pressure.
        let middle = room + leak * signed_root(1.0 - room * room) / (1.0 + leak * leak);
        let speed = room + leak * signed_root(1.0 - middle * middle) / (1.0 + leak * leak);
        self.flow_m2 = (2.0 * speed - start).max(0.0) * section;
        held(1.0 - speed * speed)
    }
}

/// `sqrt|x|` with the sign of `x`, level at its root.
fn signed_root(x: f64) -> f64 {
    x / (x.abs() + 0.01).sqrt()
}

/// Never less than [`LOWEST`], without a corner.
fn held(pressure: f64) -> f64 {
    if pressure >= 0.0 {
        return pressure;
    }
    LOWEST * (pressure / LOWEST).tanh()
}

/// A height that never reaches nothing, without a corner.
fn at_least(height_m: f64) -> f64 {
    const FADE_M: f64 = 2.0 * LEAST_GAP_M;
    let height = 0.5 * (height_m + (height_m * height_m + FADE_M * FADE_M).sqrt());
    height + LEAST_GAP_M * LEAST_GAP_M / (height + LEAST_GAP_M)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lift over dynamic pressure and roof area, and its centre ahead of the trailing edge over length.
    fn straight(exit: f64, slope: f64, gaps: f64, pieces: usize) -> (f64, f64) {
        moving(exit, slope, gaps, pieces, 0.0)
    }

    fn moving(exit: f64, slope: f64, gaps: f64, pieces: usize, rising: f64) -> (f64, f64) {
        let (long, wide) = (0.6, 0.15);
        let step = long / pieces as f64;
        let mut channel = Channel::leaving(wide, exit);
        let (mut lift, mut moment) = (0.0, 0.0);
        for i in 0..pieces {
            let x = (i as f64 + 0.5) * step;
            let pressure = channel.next(step, wide, exit + slope * x, gaps, rising);
            lift += pressure * step / long;
            moment += pressure * step / long * x / long;
        }
        (lift, moment / lift)
    }

    #[test]
    fn a_closed_tunnel_has_the_closed_form() {
        for (exit, slope) in [(0.03, 0.03), (0.04, 0.01), (0.01, 0.05)] {
            let inlet = exit + slope * 0.6;
            let (lift, centre) = straight(exit, slope, 0.0, 60);
            assert!((lift / (1.0 - exit / inlet) - 1.0).abs() < 0.01, "{lift}");
            // By integrating C_p x: a wing of little angle has its centre at two thirds from the trailing edge.
            assert!(centre > 0.55 && centre < 0.68, "{centre}");
        }
        let (lift, centre) = straight(0.04, 1e-4, 0.0, 60);
        assert!((lift / (1e-4 * 0.6 / 0.04) - 1.0).abs() < 0.01, "{lift}");
        assert!((centre - 2.0 / 3.0).abs() < 0.01, "{centre}");
    }

    /// As a flat plate that sinks meets the air at that angle.
    #[test]
    fn sinking_lifts_as_slope_does() {
        let (sloped, centre) = straight(0.04, 1e-4, 0.0, 60);
        let (sinking, there) = moving(0.04, 0.0, 0.0, 60, -1e-4);
        assert!((sinking / sloped - 1.0).abs() < 0.01, "{sinking} {sloped}");
        assert!((there - centre).abs() < 0.01, "{there} {centre}");
        let (level, _) = straight(0.03, 0.03, 0.004, 60);
        let [sinks, rises] = [-0.005, 0.005].map(|by| moving(0.03, 0.03, 0.004, 60, by).0);
        assert!(rises < level && level < sinks, "{rises} {level} {sinks}");
    }

    #[test]
    fn open_sides_let_the_pressure_out() {
        let closed = straight(0.03, 0.03, 0.0, 60).0;
        let mut last = closed;
        for gap in [0.002, 0.005, 0.01, 0.03, 0.06] {
            let open = straight(0.03, 0.03, gap, 60).0;
            assert!(open < last && open > 0.0);
            last = open;
        }
        assert!(last < 0.4 * closed, "{last} {closed}");
    }

    #[test]
    fn a_roof_that_rises_aft_sucks_within_bounds_and_pieces_do_not_matter() {
        let (lift, _) = straight(0.05, -0.05, 0.0, 60);
        assert!((-1.0..0.0).contains(&lift));
        for gaps in [0.0, 0.004, 0.02] {
            let (coarse, fine) = (
                straight(0.03, 0.03, gaps, 15),
                straight(0.03, 0.03, gaps, 240),
            );
            assert!((coarse.0 / fine.0 - 1.0).abs() < 0.03, "{gaps}");
        }
    }

    #[test]
    fn no_corner_where_the_trailing_edge_touches() {
        let at = |exit: f64| straight(exit, 0.03, 0.003, 30).0;
        let mut last = at(0.02) - at(0.02 + 1e-5);
        for i in 0..2000 {
            let exit = 0.02 - 1e-5 * f64::from(i);
            let step = at(exit - 1e-5) - at(exit);
            assert!((step - last).abs() < 2e-5, "{exit} {step} {last}");
            last = step;
        }
    }
}
