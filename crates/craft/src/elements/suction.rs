//! A propeller's pull on a running surface ahead of it or above it (`laws::hull_suction`).
//!
//! The disc draws water in and lowers the pressure on the bottom it draws it from, as far as that
//! bottom is wet. Under the hull it pulls the stern down; well behind the transom there is nothing to
//! pull on. Carries the spread of `Factors::suction`.

use laws::hull_suction::{HullSuction, SuctionField};
use laws::immersed_disc::immersed_disc;
use nalgebra::Vector3;
use std::f64::consts::PI;

use super::propeller::Propeller;
use crate::element::{Element, Wrench};
use crate::factors::Factors;
use crate::motion::{Controls, Motion, Surroundings};

/// Surfaces that end further ahead of the disc than this, in diameters, feel nothing.
const REACH: f64 = 4.0;
/// Bottom beyond this many diameters ahead of the disc feels nothing.
const LONGEST: f64 = 8.0;

/// One propeller and one surface.
#[derive(Debug, Clone)]
pub struct Suction {
    name: String,
    propeller: Propeller,
    /// Which of the propeller's surfaces.
    surface: usize,
    field: SuctionField,
    /// Share of the disc that is below the surface's width, times the law's correction.
    share: f64,
}

impl Suction {
    /// Every surface that a propeller pulls on.
    ///
    /// # Errors
    /// The law's refusal of a size.
    pub fn of(
        propeller: &Propeller,
        factors: &Factors,
    ) -> Result<Vec<Self>, laws::input::InputError> {
        let mut all = Vec::new();
        let (at, diameter) = (propeller.at_m(), propeller.diameter_m());
        for (index, surface) in propeller.surfaces().iter().enumerate() {
            let edge = surface.keel_m[0];
            let fore = surface.keel_m.last().map_or(edge.x, |k| k.x);
            let depth = edge.z - at.z;
            let setback = edge.x - at.x;
            let left = edge.y + surface.port[0].width_m;
            let right = edge.y - surface.starboard[0].width_m;
            let covered =
                (left.min(at.y + 0.5 * diameter) - right.max(at.y - 0.5 * diameter)) / diameter;
            let near = setback < REACH * diameter && fore > at.x;
            if !near || covered <= 0.0 || depth <= 0.0 {
                continue;
            }
            let field = SuctionField::new(&HullSuction {
                diameter_m: diameter,
                depth_m: depth,
                setback_m: setback,
                length_m: (fore - edge.x).min(LONGEST * diameter + (-setback).max(0.0)),
                width_m: surface.beam_m(),
            })?;
            all.push(Self {
                name: format!("{}'s pull on the {}", propeller.name, surface.name),
                propeller: propeller.clone(),
                surface: index,
                field,
                share: covered.min(1.0) * factors.suction,
            });
        }
        Ok(all)
    }
}

impl Element for Suction {
    fn name(&self) -> &str {
        &self.name
    }

    fn wrench(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let shaft = controls.shaft_rad_s.get(self.propeller.drive).copied();
        let surface = &self.propeller.surfaces()[self.surface];
        let Some(line) = surface.wet_line(motion, around) else {
            return Wrench::default();
        };
        let load = self
            .propeller
            .load(motion, around, shaft.unwrap_or_default());
        let radius = 0.5 * self.propeller.diameter_m();
        let immersed =
            immersed_disc(load.immersion.clamp(0.0, 1.0)).map_or(0.0, |disc| disc.area_ratio);
        let speed = around.through_water(motion, &self.propeller.at_m()).x;
        // Dry ahead of `wet_m`; what little may be dry behind its aft end is let go.
        let edge = surface.keel_m[0];
        let wet_m = line.aft_m.x - edge.x + line.keel_length_m;
        let pull = self.field.pull(
            load.thrust_n,
            speed,
            around.water_density_kg_m3,
            immersed * PI * radius * radius,
            wet_m,
        );
        let at = Vector3::new(edge.x + pull.ahead_m, edge.y, edge.z);
        Wrench::at(&at, Vector3::z() * (self.share * pull.force_n))
    }
}
