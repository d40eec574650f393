//! The flat-bottomed middle body of three-points and outriggers: bottom at z = 0, crowned deck.

use super::loft::{self, loft, mirrored, rounded, share, smooth};
use crate::Mesh;

/// A middle body between its transom at x = 0 and its bow.
pub(super) struct Body {
    pub length_m: f64,
    pub depth_m: f64,
    /// Half width of the bottom at the transom.
    pub half_aft_m: f64,
    /// Half width at `widens_to_x_m`, reached in a straight line.
    pub half_middle_m: f64,
    /// See above.
    pub widens_to_x_m: f64,
    /// Half width where it is widest, a tenth of the length farther on.
    pub half_m: f64,
    /// Where the plan begins to round off towards the bow.
    pub narrows_from_x_m: f64,
    /// Half width of the blunt bow over the full half width.
    pub bow: f64,
    /// Heights over the depth: deck edge, transom, bow.
    pub edge: f64,
    pub transom: f64,
    pub nose: f64,
}

impl Body {
    pub(super) fn mesh(&self) -> Mesh {
        let marks = [
            0.0,
            self.widens_to_x_m,
            self.widens_to_x_m + 0.1 * self.length_m,
            self.narrows_from_x_m,
            self.rises_from(),
            self.length_m,
        ];
        let xs = loft::stations(&marks, self.length_m / 100.0);
        let rings: Vec<_> = xs.iter().map(|x| mirrored(&self.half_ring(*x))).collect();
        loft(&xs, &rings)
    }

    /// Half width of the bottom.
    pub(super) fn half_width(&self, x: f64) -> f64 {
        let to = self.widens_to_x_m;
        let aft = share(x, 0.0, to);
        let fore = smooth(share(x, to, to + 0.1 * self.length_m));
        let wide = self.half_aft_m
            + (self.half_middle_m - self.half_aft_m) * aft
            + (self.half_m - self.half_middle_m) * fore;
        let s = share(x, self.narrows_from_x_m, self.length_m);
        wide * (self.bow + (1.0 - self.bow) * rounded(s, 2.2))
    }

    fn half_ring(&self, x: f64) -> Vec<[f64; 2]> {
        let (bottom, crown) = (self.bottom(x), self.crown(x));
        let (half, tall) = (self.half_width(x), crown - bottom);
        let side = [half, bottom + self.edge * tall];
        let mut points = vec![[0.0, bottom]];
        points.extend(loft::line([0.0, bottom], [half, bottom], 4));
        points.extend(loft::line([half, bottom], side, 2));
        // A quarter of a superellipse up to the crown.
        points.extend((1..=7).map(|i| {
            let a = f64::from(i) / 7.0 * std::f64::consts::FRAC_PI_2;
            let (c, s) = if i == 7 {
                (0.0, 1.0)
            } else {
                (a.cos(), a.sin())
            };
            let rise = (crown - side[1]) * s.powf(0.8);
            [half * c.powf(0.7), side[1] + rise]
        }));
        points
    }

    fn rises_from(&self) -> f64 {
        0.7 * self.length_m
    }

    fn nose_z(&self) -> f64 {
        self.nose * self.depth_m
    }

    fn bottom(&self, x: f64) -> f64 {
        let s = share(x, self.rises_from(), self.length_m);
        self.nose_z() * (1.0 - rounded(s, 2.4))
    }

    fn crown(&self, x: f64) -> f64 {
        let l = self.length_m;
        let aft = self.transom + (1.0 - self.transom) * smooth(share(x, 0.0, 0.4 * l));
        let s = share(x, 0.5 * l, l);
        let fore = self.nose + (1.0 - self.nose) * (1.0 - smooth(s)) * (1.0 - 0.15 * s);
        self.depth_m * aft.min(fore)
    }
}
