//! Puts the force elements together from what the builder declared and what the mesh shows.

use std::sync::Arc;

use boat::Boat;
use form::Form;
use nalgebra::Vector3;

use crate::craft::{Craft, CraftError, Fluids, Parts, SharedSurfaces};
use crate::drive::Circuit;
use crate::element::Element;
use crate::elements::air::{AirOnHull, AirOnWing};
use crate::elements::barrel::Barrel;
use crate::elements::blade::{Blade, Role};
use crate::elements::buoyancy::Buoyancy;
use crate::elements::edge::Edge;
use crate::elements::planing::Planing;
use crate::elements::propeller::Propeller;
use crate::elements::sides::Sides;
use crate::elements::suction::Suction;
use crate::elements::surface::Surface;
use crate::elements::tab::Tab;
use crate::elements::topsides::Topsides;
use crate::elements::wave::Wave;
use crate::elements::weight::Weight;
use crate::factors::Factors;
use crate::floating::{Floated, float_on_columns};
use crate::geometry::Geometry;
use crate::solution::MassProperties;
use power::electrics::running_circuit;

/// Every element, in the order reports list them.
pub(crate) fn assemble(
    boat: &Boat,
    form: &Form,
    geometry: Arc<Geometry>,
    mass: &MassProperties,
    factors: &Factors,
) -> Result<Craft, CraftError> {
    let fluids = fluids(boat)?;
    let surfaces = Arc::clone(&geometry.surfaces);
    let columns = Arc::clone(&form.columns);
    let floated = float_on_columns(&columns, mass, fluids.water_density_kg_m3)?;
    let rest_draught_m = deepest_edge(&surfaces, &floated);

    let mut elements: Vec<Box<dyn Element>> = vec![
        Box::new(Weight {
            mass_kg: mass.mass_kg,
            cg_m: mass.cg_m,
        }),
        Box::new(Buoyancy::new(
            Arc::clone(&columns),
            Arc::clone(&surfaces),
            rest_draught_m,
            factors.buoyancy_share,
        )),
        Box::new(wave(form, mass, &fluids, &floated, rest_draught_m, factors)),
    ];
    elements.push(Box::new(Sides::new(Arc::clone(&surfaces))));
    for index in 0..surfaces.len() {
        let surfaces = Arc::clone(&surfaces);
        let radius_m = edge_radius_m(boat, form, index);
        elements.push(Box::new(Edge::new(
            Arc::clone(&surfaces),
            index,
            radius_m,
            factors,
        )));
        elements.push(Box::new(Planing {
            surfaces,
            index,
            roughness_m: boat.hull.roughness_m.value.max(0.0),
            factors: *factors,
        }));
    }
    elements.push(Box::new(AirOnHull::new(
        &form.outline,
        &geometry.underside,
        factors,
    )));
    for tab in &boat.tabs {
        if let Some(tab) = Tab::new(tab, &form.surfaces, &surfaces, factors) {
            elements.push(Box::new(tab));
        }
    }
    for wing in &boat.wings {
        elements.push(Box::new(AirOnWing::new(wing, factors)));
    }
    let propellers = propellers(boat, &surfaces, factors)?;
    for propeller in &propellers {
        for pull in suctions(propeller, factors)? {
            elements.push(Box::new(pull));
        }
        if let Some(given) = &boat.drives[propeller.drive].barrel {
            elements.push(Box::new(Barrel::new(given, propeller, factors)));
        }
    }
    Ok(Craft::from_parts(Parts {
        elements,
        blades: blades(boat, factors),
        propellers,
        circuits: circuits(boat, factors)?,
        drive_names: boat.drives.iter().map(|d| d.name.clone()).collect(),
        mass_kg: mass.mass_kg,
        cg_m: mass.cg_m,
        inertia_kg_m2: mass.inertia_kg_m2,
        topsides: Some(Topsides::new(
            Arc::clone(&geometry.sections),
            Arc::clone(&geometry.slices),
            Arc::clone(&surfaces),
            rest_draught_m,
        )),
        sections: Arc::clone(&geometry.sections),
        geometry: Some(geometry),
        length_m: form.outline.length_m,
        steered_at_m: steered_at(boat, mass),
        fluids,
        wind_m_s: Vector3::new(-boat.air.headwind_m_s.value, 0.0, 0.0),
        rest: floated.attitude,
    }))
}

/// As given; where it is only assumed and the mesh shows a rounder edge, the mesh's.
fn edge_radius_m(boat: &Boat, form: &Form, index: usize) -> f64 {
    let declared = boat.hull.edge_radius_m;
    if declared.is_assumed() {
        declared.value.max(form.surfaces[index].edge_radius_m)
    } else {
        declared.value
    }
}

fn circuits(boat: &Boat, factors: &Factors) -> Result<Vec<Circuit>, CraftError> {
    let each = boat.drives.iter().enumerate();
    each.map(|(index, drive)| {
        running_circuit(drive, factors.driveline.max(0.0)).map_err(|source| CraftError::Law {
            what: format!("drive {}", index + 1),
            source,
        })
    })
    .collect()
}

fn fluids(boat: &Boat) -> Result<Fluids, CraftError> {
    let law = |what: &str| {
        let what = what.to_owned();
        move |source| CraftError::Law { what, source }
    };
    let water = laws::fresh_water::fresh_water(boat.water.temperature_c.value + 273.15)
        .map_err(law("water temperature"))?;
    let air = laws::air::air(boat.air.temperature_c.value + 273.15, 101_325.0)
        .map_err(law("air temperature"))?;
    Ok(Fluids {
        water_density_kg_m3: water.density_kg_m3,
        water_viscosity_m2_s: water.kinematic_viscosity_m2_s,
        air_density_kg_m3: air.density_kg_m3,
    })
}

/// Depth of the deepest trailing edge at rest: it sets when the edges run dry. At least a tenth of
/// the mean draught, for hulls whose edges float clear.
fn deepest_edge(surfaces: &[Surface], floated: &Floated) -> f64 {
    let up = crate::attitude::up(floated.attitude.trim_rad, floated.attitude.heel_rad);
    let deepest = surfaces
        .iter()
        .map(|s| -(floated.attitude.rise_m + up.dot(&s.keel_m[0])))
        .fold(0.0, f64::max);
    deepest.max(0.1 * floated.volume_m3 / floated.waterplane_m2.max(1e-6))
}

fn wave(
    form: &Form,
    mass: &MassProperties,
    fluids: &Fluids,
    floated: &Floated,
    rest_draught_m: f64,
    factors: &Factors,
) -> Wave {
    let volume_m3 = mass.mass_kg / fluids.water_density_kg_m3;
    Wave {
        length_m: floated.waterline_m,
        volume_m3,
        // A hull with a flat floor: waterplane plus sides; within a tenth of the clipped area.
        wetted_m2: floated.waterplane_m2
            + 2.0 * floated.waterline_m * volume_m3 / floated.waterplane_m2.max(1e-6),
        rest_draught_m,
        at_m: Vector3::new(form.outline.plan_centre_x_m, 0.0, -floated.attitude.rise_m),
        factor: factors.wave_drag,
    }
}

fn blades(boat: &Boat, factors: &Factors) -> Vec<Blade> {
    let rudders = boat.rudders.iter().map(|b| (b, Role::Rudder));
    let fins = boat.fins.iter().map(|b| (b, Role::Fin));
    let struts = boat.drives.iter().filter_map(|d| d.strut.as_ref());
    rudders
        .chain(fins)
        .chain(struts.map(|b| (b, Role::Strut)))
        .map(|(given, role)| Blade::new(given, role, factors))
        .collect()
}

fn suctions(propeller: &Propeller, factors: &Factors) -> Result<Vec<Suction>, CraftError> {
    Suction::of(propeller, factors).map_err(|source| CraftError::Law {
        what: format!("bottom ahead of the {}", propeller.name()),
        source,
    })
}

/// A third of the span above the tips, where the wet part of a rudder works; the mean of several.
fn steered_at(boat: &Boat, mass: &MassProperties) -> Option<Vector3<f64>> {
    let places: Vec<Vector3<f64>> = boat
        .rudders
        .iter()
        .map(|r| {
            let root = Vector3::new(r.at[0].value, r.at[1].value, r.at[2].value);
            root - Vector3::new(0.5 * r.chord_m.value, 0.0, 2.0 / 3.0 * r.span_m.value)
        })
        .collect();
    let mean = places.iter().sum::<Vector3<f64>>() / places.len().max(1) as f64;
    (!places.is_empty() && mean.x < mass.cg_m.x - 1e-3).then_some(mean)
}

fn propellers(
    boat: &Boat,
    surfaces: &SharedSurfaces,
    factors: &Factors,
) -> Result<Vec<Propeller>, CraftError> {
    let each = boat.drives.iter().enumerate();
    each.map(|(index, drive)| {
        Propeller::new(drive, index, Arc::clone(surfaces), *factors).map_err(|source| {
            let what = format!("propeller of drive {}", index + 1);
            CraftError::Law { what, source }
        })
    })
    .collect()
}
