//! The boat at rest on still water: equilibrium, stability, flooding, supports.
//!
//! Hydrostatics on the exact envelope (no series fits). The envelope is taken as watertight at
//! every heel: beyond the point where an opening or rim dips under, the righting curve no
//! longer holds, and each point says how high the lowest opening then is. An open shell's rim
//! is judged at the attitude it takes, by the corners of the lid that closes it in the envelope.

mod balance;
mod flooded;
mod levelling;
mod righting;
mod supports;

use boat::Boat;
use form::{Form, WaterPlane};
use nalgebra::Vector3;

use crate::mass::{shell, solid_volume};
use crate::{Afloat, MassProperties, Rest, attitude};
use balance::{Body, Cut, Free};

/// Moment arm over length to which the resting attitude is solved.
const TOLERANCE: f64 = 1e-11;

/// Why rest could not be found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RestError {
    /// The water's density makes no sense.
    #[error("water density {density_kg_m3} kg/m3 must be a number above 0")]
    Density {
        /// kg/m3.
        density_kg_m3: f64,
    },
    /// The envelope encloses nothing.
    #[error("the hull's outer surface encloses {volume_m3} m3; it must enclose more than 0")]
    NoVolume {
        /// m3.
        volume_m3: f64,
    },
    /// The mass or centre of gravity makes no sense.
    #[error("mass {mass_kg} kg must be above 0 and the centre of gravity finite")]
    Mass {
        /// kg.
        mass_kg: f64,
    },
    /// The hull has buoyancy enough but no equilibrium was found.
    #[error("no resting attitude was found for {displaced_m3} m3 displaced")]
    Unsettled {
        /// m3.
        displaced_m3: f64,
    },
}

/// A place where water gets in.
struct Mouth {
    name: String,
    at_m: Vector3<f64>,
}

/// Settles the boat and asks everything a builder asks of it at rest.
///
/// # Errors
/// Input that is not a body: see [`RestError`]. A boat too heavy to float is not an error.
pub fn solve(
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
    density_kg_m3: f64,
) -> Result<Rest, RestError> {
    let volume_m3 = checked_volume(form, mass, density_kg_m3)?;
    let displaced_m3 = mass.mass_kg / density_kg_m3;
    let (supports, notes) = supports::supports(boat, form, mass);
    let mut rest = Rest {
        afloat: None,
        reserve_of_buoyancy: volume_m3 / displaced_m3 - 1.0,
        righting: Vec::new(),
        resting_heels_rad: Vec::new(),
        flooded: flooded::flooded(boat, mass, density_kg_m3),
        levelling: Vec::new(),
        supports,
        notes,
    };
    if rest.reserve_of_buoyancy <= 0.0 {
        rest.notes.push(format!(
            "sinks: {:.0} g afloat needs {:.0} cm3, the hull encloses {:.0} cm3",
            mass.mass_kg * 1e3,
            displaced_m3 * 1e6,
            volume_m3 * 1e6
        ));
        return Ok(rest);
    }
    let body = Body {
        mesh: &form.envelope,
        volume_m3: displaced_m3,
        cg_m: mass.cg_m,
        length_m: volume_m3.cbrt(),
    };
    fill_in(&mut rest, boat, form, mass, &body)?;
    Ok(rest)
}

/// Everything that needs the boat afloat.
fn fill_in(
    rest: &mut Rest,
    boat: &Boat,
    form: &Form,
    mass: &MassProperties,
    body: &Body,
) -> Result<(), RestError> {
    let mouths = mouths(boat, form);
    let upright = settle(body).ok_or(RestError::Unsettled {
        displaced_m3: body.volume_m3,
    })?;
    let curve = righting::curve(body, &upright);
    rest.righting = righting::points(body, &curve, &mouths);
    rest.resting_heels_rad = righting::resting(body, &curve, &upright)
        .iter()
        .map(|cut| attitude::from_water_plane(&cut.water).heel_rad)
        .collect();
    rest.levelling = levelling::levelling(boat, mass, body, &upright);
    let afloat = afloat(body, &upright, &mouths);
    rest.notes.extend(remarks(&afloat, &curve));
    rest.afloat = Some(afloat);
    Ok(())
}

/// The stable attitude reached from upright, or failing that from bow up or bow down.
fn settle(body: &Body) -> Option<Cut> {
    [0.0, 0.5, -0.5].into_iter().find_map(|trim| {
        let start = body.sink(attitude::up(trim, 0.0), 1e-3);
        body.settle(start, Free::All, TOLERANCE)
    })
}

fn checked_volume(form: &Form, mass: &MassProperties, density: f64) -> Result<f64, RestError> {
    if !(density.is_finite() && density > 0.0) {
        return Err(RestError::Density {
            density_kg_m3: density,
        });
    }
    let finite = mass.mass_kg.is_finite() && mass.cg_m.iter().all(|value| value.is_finite());
    if !(finite && mass.mass_kg > 0.0) {
        return Err(RestError::Mass {
            mass_kg: mass.mass_kg,
        });
    }
    let volume_m3 = solid_volume(&form.envelope);
    if !(volume_m3.is_finite() && volume_m3 > 0.0) {
        return Err(RestError::NoVolume { volume_m3 });
    }
    Ok(volume_m3)
}

fn mouths(boat: &Boat, form: &Form) -> Vec<Mouth> {
    let openings = boat.openings.iter().map(|opening| Mouth {
        name: opening.name.clone(),
        at_m: Vector3::from_fn(|axis, _| opening.at[axis].value),
    });
    let lid = shell::lid(form).flatten();
    let rim = form.rim_m.map(Vector3::from).into_iter().chain(lid);
    let rim = rim.map(|at_m| Mouth {
        name: "rim".to_owned(),
        at_m,
    });
    openings.chain(rim).collect()
}

/// The opening nearest to the water, or furthest under it.
fn lowest_opening<'a>(mouths: &'a [Mouth], water: &WaterPlane) -> Option<(&'a str, f64)> {
    mouths
        .iter()
        .map(|mouth| {
            (
                mouth.name.as_str(),
                attitude::height_above_water(water, &mouth.at_m),
            )
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

fn afloat(body: &Body, cut: &Cut, mouths: &[Mouth]) -> Afloat {
    let under = &cut.immersed;
    let lift_over_weight = cut.water.up.dot(&(under.centroid_m - body.cg_m));
    let gm = |second_moment: f64| second_moment / under.volume_m3 + lift_over_weight;
    let (lowest, _) = balance::extent(body.mesh, &cut.water.up);
    Afloat {
        attitude: attitude::from_water_plane(&cut.water),
        displaced_m3: under.volume_m3,
        buoyancy_m: under.centroid_m,
        draught_m: cut.water.height_m - lowest,
        freeboard: lowest_opening(mouths, &cut.water)
            .map(|(name, height)| (name.to_owned(), height)),
        gm_roll_m: gm(under.second_moment_roll_m4),
        gm_pitch_m: gm(under.second_moment_pitch_m4),
        waterplane_area_m2: under.waterplane_area_m2,
        wetted_area_m2: under.wetted_area_m2,
    }
}

/// What a builder must be told about how it floats and how far the curve holds.
fn remarks(afloat: &Afloat, curve: &[righting::Heeled]) -> Vec<String> {
    let mut notes = Vec::new();
    let heel_deg = afloat.attitude.heel_rad.to_degrees();
    if heel_deg.abs() > 90.0 {
        notes.push(format!(
            "does not stay upright: it comes to rest at {heel_deg:.0} deg of heel"
        ));
    } else if heel_deg.abs() > 5.0 {
        notes.push(format!("lies over at {heel_deg:.1} deg of heel"));
    }
    if let Some((name, height)) = afloat
        .freeboard
        .as_ref()
        .filter(|(_, height)| *height < 0.0)
    {
        notes.push(format!(
            "{name} is {:.1} mm under water at rest: it fills",
            -height * 1e3
        ));
    }
    if curve.len() < righting::POINTS {
        notes.push(format!(
            "the righting curve lacks {} of {} heels, where no trim balanced",
            righting::POINTS - curve.len(),
            righting::POINTS
        ));
    }
    notes
}
