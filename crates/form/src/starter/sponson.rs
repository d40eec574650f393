//! A sponson: flat ride pad, entry panel, non-trip bevel, closed behind by its step.

use super::loft::{self, Ring, loft, rounded, share};
use super::{StarterError, angle, length};
use crate::Mesh;

/// One sponson on the port side; the starboard one is its mirror image.
#[derive(Clone)]
pub(super) struct Sponson {
    /// Trailing edge and nose.
    pub from_x_m: f64,
    pub to_x_m: f64,
    /// Inner edge of the pad and outside of the sponson.
    pub inner_y_m: f64,
    pub outer_y_m: f64,
    /// Height of the pad's inner edge at the trailing edge.
    pub bottom_z_m: f64,
    /// Height of the top, up to `top_to_x_m`.
    pub top_z_m: f64,
    pub top_to_x_m: f64,
    pub pad_m: f64,
    pub flat_m: f64,
    pub angle_rad: f64,
    pub deadrise_rad: f64,
    pub entry_rad: f64,
    pub nontrip_rad: f64,
    /// Whether the inner wall follows the nose's rounding (outriggers) or runs straight.
    pub rounded_inside: bool,
}

impl Sponson {
    /// Checks what the dimensions of one sponson demand of each other.
    pub(super) fn check(&self) -> Result<(), StarterError> {
        let (long, wide) = (self.to_x_m - self.from_x_m, self.outer_y_m - self.inner_y_m);
        length("pad width", self.pad_m, 0.2 * wide, wide)?;
        length("pad flat", self.flat_m, 0.03 * long, 0.7 * long)?;
        angle("pad angle", self.angle_rad, 0.0, 12.0)?;
        angle("pad deadrise", self.deadrise_rad, 0.0, 20.0)?;
        let least = self.angle_rad.to_degrees();
        angle("entry angle", self.entry_rad, least, 30.0)?;
        let bevel = wide - self.pad_m;
        // A pad over the whole width has no bevel, whatever its angle.
        if bevel > 1e-9 {
            let tall = self.top_z_m - self.bottom_z_m - self.flat_m * self.angle_rad.tan();
            let most = ((0.75 * tall - self.pad_m * self.deadrise_rad.tan()) / bevel).atan();
            let most = most.to_degrees();
            angle("non-trip angle", self.nontrip_rad, 0.0, most.min(85.0))?;
        }
        let room = self.nose_z() - self.line_end();
        if room < 0.0 {
            let run = self.panel_to() - self.from_x_m - self.flat_m;
            let most = ((self.nose_z() - self.flat_end()) / run).max(0.0).atan();
            angle("entry angle", self.entry_rad, least, most.to_degrees())?;
        }
        Ok(())
    }

    pub(super) fn mesh(&self) -> Mesh {
        let marks = [
            self.from_x_m,
            self.from_x_m + self.flat_m,
            self.panel_to(),
            self.narrows_from(),
            self.top_to_x_m.clamp(self.from_x_m, self.to_x_m),
            self.to_x_m,
        ];
        let xs = loft::stations(&marks, (self.to_x_m - self.from_x_m) / 50.0);
        let rings: Vec<Ring> = xs.iter().map(|x| self.ring(*x)).collect();
        loft(&xs, &rings)
    }

    fn ring(&self, x: f64) -> Ring {
        let k = rounded(share(x, self.narrows_from(), self.to_x_m), 2.4);
        let wide = (self.outer_y_m - self.inner_y_m) * k;
        let mut inner = self.inner_y_m;
        if self.rounded_inside {
            inner += 0.4 * (self.outer_y_m - self.inner_y_m) * (1.0 - k);
        }
        let (bottom, top) = (self.bottom(x), self.top(x));
        let tall = top - bottom;
        let pad = self.pad_m * k;
        let pad_rise = (pad * self.deadrise_rad.tan()).min(0.4 * tall);
        let bevel_rise = ((wide - pad) * self.nontrip_rad.tan()).min(0.85 * tall - pad_rise);
        let keel = [inner, bottom];
        let chine = [inner + pad, bottom + pad_rise];
        let side = [inner + wide, chine[1] + bevel_rise];
        let shoulder = [inner + wide, top - 0.12 * tall];
        let sheer = [inner + 0.85 * wide, top];
        let mut points = vec![keel];
        points.extend(loft::line(keel, chine, 4));
        points.extend(loft::line(chine, side, 3));
        points.extend(loft::line(side, shoulder, 2));
        points.extend(loft::line(shoulder, sheer, 2));
        let inside = if self.rounded_inside { 0.15 } else { 0.0 };
        let sheer_in = [inner + inside * wide, top];
        points.extend(loft::line(sheer, sheer_in, 3));
        points.extend(loft::line(sheer_in, [inner, top - 0.8 * inside * tall], 1));
        points
    }

    /// Where the entry panel ends and the nose begins to round up.
    fn panel_to(&self) -> f64 {
        let flat_to = self.from_x_m + self.flat_m;
        flat_to + 0.55 * (self.to_x_m - flat_to)
    }

    fn narrows_from(&self) -> f64 {
        let flat_to = self.from_x_m + self.flat_m;
        flat_to + 0.30 * (self.to_x_m - flat_to)
    }

    fn flat_end(&self) -> f64 {
        self.bottom_z_m + self.flat_m * self.angle_rad.tan()
    }

    fn line_end(&self) -> f64 {
        let run = self.panel_to() - self.from_x_m - self.flat_m;
        self.flat_end() + run * self.entry_rad.tan()
    }

    fn nose_z(&self) -> f64 {
        self.bottom_z_m + 0.62 * (self.top_z_m - self.bottom_z_m)
    }

    /// Pad, entry panel, then a curve up to the nose.
    fn bottom(&self, x: f64) -> f64 {
        let flat_to = self.from_x_m + self.flat_m;
        if x <= flat_to {
            return self.bottom_z_m + (x - self.from_x_m) * self.angle_rad.tan();
        }
        let straight = self.flat_end() + (x - flat_to) * self.entry_rad.tan();
        let s = share(x, self.panel_to(), self.to_x_m);
        let lift = 1.0 - rounded(s, 2.4);
        straight + (self.nose_z() - straight) * lift
    }

    fn top(&self, x: f64) -> f64 {
        let s = share(x, self.top_to_x_m, self.to_x_m);
        self.nose_z() + (self.top_z_m - self.nose_z()) * rounded(s, 2.0)
    }
}

/// The same body on the other side.
pub(super) fn mirror(mesh: &Mesh) -> Mesh {
    let mut mirrored = mesh.map(|v| nalgebra::Vector3::new(v.x, -v.y, v.z));
    mirrored.flip();
    mirrored
}
