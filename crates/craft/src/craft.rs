//! The boat as a list of force elements, ready for any solver.

use std::sync::Arc;

use boat::Boat;
use form::Form;
use nalgebra::{Matrix3, Vector3};

use crate::added_mass::{Added, Sections};
use crate::drive::{Circuit, Turning};
use crate::element::{Element, Wrench};
use crate::elements::blade::Blade;
use crate::elements::found::Found;
use crate::elements::propeller::Propeller;
use crate::elements::topsides::Topsides;
use crate::factors::Factors;
use crate::geometry::Geometry;
use crate::motion::{Controls, Motion, Still, Surroundings};
use crate::solution::{Attitude, MassProperties};

pub use laws::constants::GRAVITY_M_S2;

/// Why a craft cannot be put together.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CraftError {
    /// A law refused a declared number.
    #[error("{what}: {source}")]
    Law {
        /// Which part.
        what: String,
        /// Its refusal.
        source: laws::InputError,
    },
    /// It sinks: there is no state to start from.
    #[error(
        "the boat weighs {mass_kg:.3} kg and its whole hull displaces {hull_kg:.3} kg: it cannot float"
    )]
    Sinks {
        /// All-up, kg.
        mass_kg: f64,
        /// Water displaced by the whole envelope, kg.
        hull_kg: f64,
    },
}

/// Fluids as plain numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluids {
    /// kg/m3.
    pub water_density_kg_m3: f64,
    /// m2/s.
    pub water_viscosity_m2_s: f64,
    /// kg/m3.
    pub air_density_kg_m3: f64,
}

/// Every force element of one boat with its mass and drives.
pub struct Craft {
    elements: Vec<Box<dyn Element>>,
    blades: Vec<Blade>,
    propellers: Vec<Propeller>,
    circuits: Vec<Circuit>,
    turning: Turning,
    drive_names: Vec<String>,
    mass_kg: f64,
    cg_m: Vector3<f64>,
    inertia_kg_m2: Matrix3<f64>,
    sections: Arc<Sections>,
    topsides: Option<Topsides>,
    geometry: Option<Arc<Geometry>>,
    length_m: f64,
    steered_at_m: Option<Vector3<f64>>,
    fluids: Fluids,
    wind_m_s: Vector3<f64>,
    rest: Attitude,
}

impl Craft {
    /// Builds the elements.
    ///
    /// # Errors
    /// [`CraftError`] when a law refuses a number or the boat sinks.
    pub fn new(
        boat: &Boat,
        form: &Form,
        mass: &MassProperties,
        factors: &Factors,
    ) -> Result<Self, CraftError> {
        let geometry = Arc::new(Geometry::of(form));
        crate::assembly::assemble(boat, form, geometry, mass, factors)
    }

    /// The same, where the hull is often that of a known boat: what depends on it alone is not found again.
    ///
    /// # Errors
    /// As [`Craft::new`].
    pub fn sharing(
        known: &Self,
        boat: &Boat,
        form: &Form,
        mass: &MassProperties,
        factors: &Factors,
    ) -> Result<Self, CraftError> {
        match known.geometry.as_ref().filter(|g| g.is_of(form)) {
            Some(geometry) => {
                crate::assembly::assemble(boat, form, Arc::clone(geometry), mass, factors)
            }
            None => Self::new(boat, form, mass, factors),
        }
    }

    pub(crate) fn from_parts(parts: Parts) -> Self {
        Self {
            turning: Turning::of(&parts),
            elements: parts.elements,
            blades: parts.blades,
            propellers: parts.propellers,
            circuits: parts.circuits,
            drive_names: parts.drive_names,
            mass_kg: parts.mass_kg,
            cg_m: parts.cg_m,
            inertia_kg_m2: parts.inertia_kg_m2,
            sections: parts.sections,
            topsides: parts.topsides,
            geometry: parts.geometry,
            length_m: parts.length_m,
            steered_at_m: parts.steered_at_m,
            fluids: parts.fluids,
            wind_m_s: parts.wind_m_s,
            rest: parts.rest,
        }
    }

    /// The elements, weight first.
    pub fn elements(&self) -> impl Iterator<Item = &dyn Element> {
        let blades = self.blades.iter().map(|b| b as &dyn Element);
        let propellers = self.propellers.iter().map(|p| p as &dyn Element);
        let fixed = self.elements.iter().map(AsRef::as_ref);
        let topsides = self.topsides.iter().map(|t| t as &dyn Element);
        fixed.chain(topsides).chain(blades).chain(propellers)
    }

    /// Rudders, fins and struts, each kind in boat order.
    pub fn blades(&self) -> &[Blade] {
        &self.blades
    }

    /// One per drive.
    pub fn propellers(&self) -> &[Propeller] {
        &self.propellers
    }

    /// One per drive.
    pub fn circuits(&self) -> &[Circuit] {
        &self.circuits
    }

    /// Shaft speeds of all drives at one throttle and a speed of the boat (m/s), that of the first given, rad/s.
    pub fn shafts_rad_s(&self, first_rad_s: f64, speed_m_s: f64) -> impl Iterator<Item = f64> + '_ {
        self.turning.at(first_rad_s, speed_m_s)
    }

    /// In boat order.
    pub fn drive_names(&self) -> &[String] {
        &self.drive_names
    }

    /// N.
    pub fn weight_n(&self) -> f64 {
        self.mass_kg * GRAVITY_M_S2
    }

    /// Centre of gravity, boat axes, m.
    pub fn cg_m(&self) -> Vector3<f64> {
        self.cg_m
    }

    /// All-up, kg.
    pub fn mass_kg(&self) -> f64 {
        self.mass_kg
    }

    /// About the centre of gravity, boat axes, kg m2.
    pub fn inertia_kg_m2(&self) -> &Matrix3<f64> {
        &self.inertia_kg_m2
    }

    /// What the water adds to mass and force when the boat's motion changes.
    pub fn added(&self, motion: &Motion, around: &Surroundings) -> Added {
        self.sections.at(motion, around)
    }

    /// Sum of all elements, and what the water adds: sections are cut once for both.
    pub fn in_time(
        &self,
        motion: &Motion,
        around: &Surroundings,
        controls: &Controls,
    ) -> (Wrench, Added) {
        let found = Found::default();
        let around = &around.asked_together(&found);
        let wet = self.sections.wet(motion, around);
        let blades = self.blades.iter().map(|b| b as &dyn Element);
        let propellers = self.propellers.iter().map(|p| p as &dyn Element);
        let fixed = self.elements.iter().map(AsRef::as_ref);
        let others = fixed.chain(blades).chain(propellers);
        let mut total: Wrench = others.map(|e| e.wrench(motion, around, controls)).sum();
        if let Some(topsides) = &self.topsides {
            total += topsides.of(wet.shares(), motion, around);
        }
        (total, self.sections.moved(&wet, motion, around))
    }

    /// Hull length, m.
    pub fn length_m(&self) -> f64 {
        self.length_m
    }

    /// Of the hull at its widest, m.
    pub fn half_breadth_m(&self) -> f64 {
        self.sections.half_breadth_m()
    }

    /// Where the rudders push sideways, boat axes, m; `None` without one behind the centre of gravity.
    pub fn steered_at_m(&self) -> Option<Vector3<f64>> {
        self.steered_at_m
    }

    /// Afloat on its columns: where every solver starts.
    pub fn rest_attitude(&self) -> Attitude {
        self.rest
    }

    /// Unloaded shaft speed of the first drive, the scale of all shaft speeds, rad/s.
    pub fn shaft_scale_rad_s(&self) -> f64 {
        self.circuits
            .first()
            .map_or(1.0, Circuit::unloaded_rad_s)
            .max(1.0)
    }

    /// Controls of the right size, everything at rest.
    pub fn controls(&self) -> Controls {
        Controls {
            shaft_rad_s: vec![0.0; self.propellers.len()],
            rudder_rad: 0.0,
        }
    }

    /// Turns all shafts as [`Craft::shafts_rad_s`] says.
    pub fn turn(&self, controls: &mut Controls, first_rad_s: f64, speed_m_s: f64) {
        let each = controls
            .shaft_rad_s
            .iter_mut()
            .zip(self.shafts_rad_s(first_rad_s, speed_m_s));
        each.for_each(|(shaft, turns)| *shaft = turns);
    }

    /// Still water with the boat's declared headwind.
    pub fn surroundings(&self) -> Surroundings<'static> {
        Surroundings {
            water: &Still,
            water_density_kg_m3: self.fluids.water_density_kg_m3,
            water_viscosity_m2_s: self.fluids.water_viscosity_m2_s,
            air_density_kg_m3: self.fluids.air_density_kg_m3,
            wind_m_s: self.wind_m_s,
            gravity_m_s2: GRAVITY_M_S2,
            found: None,
        }
    }

    /// Sum of all elements on still water.
    pub fn total(&self, motion: &Motion, controls: &Controls) -> Wrench {
        self.total_in(motion, &self.surroundings(), controls)
    }

    /// Sum of all elements.
    pub fn total_in(&self, motion: &Motion, around: &Surroundings, controls: &Controls) -> Wrench {
        let found = Found::default();
        let around = around.asked_together(&found);
        self.elements()
            .map(|e| e.wrench(motion, &around, controls))
            .sum()
    }
}

/// What assembly hands over.
pub(crate) struct Parts {
    pub elements: Vec<Box<dyn Element>>,
    pub blades: Vec<Blade>,
    pub propellers: Vec<Propeller>,
    pub circuits: Vec<Circuit>,
    pub drive_names: Vec<String>,
    pub mass_kg: f64,
    pub cg_m: Vector3<f64>,
    pub inertia_kg_m2: Matrix3<f64>,
    pub sections: Arc<Sections>,
    pub topsides: Option<Topsides>,
    pub geometry: Option<Arc<Geometry>>,
    pub length_m: f64,
    pub steered_at_m: Option<Vector3<f64>>,
    pub fluids: Fluids,
    pub wind_m_s: Vector3<f64>,
    pub rest: Attitude,
}

/// Shared geometry of the running surfaces.
pub(crate) type SharedSurfaces = Arc<Vec<crate::elements::surface::Surface>>;
