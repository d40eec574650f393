//! The adjustments a builder can make in an evening, each tried on the model.

use boat::{Boat, Measure, RunningOverride};
use craft::Factors;
use form::{Form, RunningSurface};
use rayon::prelude::*;

use crate::quantity::{Detail, Quantities, solve};

/// An adjusted boat and its answers.
#[derive(Debug, Clone)]
pub struct Trial {
    /// What was done: `Battery 10 mm forward`.
    pub what: String,
    /// What came of it.
    pub quantities: Quantities,
}

struct Adjusted {
    what: String,
    boat: Boat,
    form: Option<Form>,
}

/// Tries every adjustment; those that cannot be solved are left out.
pub fn try_all(boat: &Boat, form: &Form, factors: &Factors, detail: Detail) -> Vec<Trial> {
    let tried: Vec<Option<Trial>> = adjustments(boat, form)
        .into_par_iter()
        .map(|adjusted| {
            let form = adjusted.form.as_ref().unwrap_or(form);
            let mass = craft::mass::mass_properties(&adjusted.boat, form).ok()?;
            let asked = solve(&adjusted.boat, form, &mass, factors, detail).ok()?;
            Some(Trial {
                what: adjusted.what,
                quantities: asked.quantities,
            })
        })
        .collect();
    tried.into_iter().flatten().collect()
}

fn adjustments(boat: &Boat, form: &Form) -> Vec<Adjusted> {
    let mut all = Vec::new();
    for (index, part) in boat.parts.iter().enumerate().filter(|(_, p)| p.movable) {
        for (mm, way) in [(10.0, "forward"), (-10.0, "aft")] {
            all.push(changed(boat, format!("{} 10 mm {way}", part.name), |b| {
                b.parts[index].at[0].value += mm * 1e-3;
            }));
        }
    }
    if !boat.drives.is_empty() {
        all.extend(drive_adjustments(boat));
    }
    all.push(changed(boat, "everything 5 % lighter".to_owned(), lighter));
    all.extend(surface_adjustments(boat, form));
    all
}

fn changed(boat: &Boat, what: String, change: impl FnOnce(&mut Boat)) -> Adjusted {
    let mut boat = boat.clone();
    change(&mut boat);
    Adjusted {
        what,
        boat,
        form: None,
    }
}

fn drive_adjustments(boat: &Boat) -> Vec<Adjusted> {
    let mut all = Vec::new();
    for (mm, way) in [(1.0, "higher"), (-1.0, "lower")] {
        let what = format!("strut and propeller 1 mm {way}");
        all.push(changed(boat, what, |b| raise_propellers(b, mm * 1e-3)));
    }
    for (deg, way) in [(0.5, "more"), (-0.5, "less")] {
        let what = format!("shaft 0.5° {way} propeller-down");
        all.push(changed(boat, what, |b| {
            for drive in &mut b.drives {
                drive.shaft.angle_rad.value += f64::to_radians(deg);
            }
        }));
    }
    for (mm, way) in [(2.0, "larger"), (-2.0, "smaller")] {
        let what = format!("propeller 2 mm {way} at the same pitch ratio");
        all.push(changed(boat, what, |b| {
            for drive in &mut b.drives {
                drive.propeller.diameter_m.value += mm * 1e-3;
            }
        }));
    }
    for (step, way) in [(0.1, "more"), (-0.1, "less")] {
        let what = format!("propeller with 0.1 {way} pitch ratio");
        all.push(changed(boat, what, |b| {
            for drive in &mut b.drives {
                drive.propeller.pitch_ratio.value += step;
            }
        }));
    }
    all.push(changed(boat, "one cell more in series".to_owned(), |b| {
        for drive in &mut b.drives {
            drive.battery.series += 1;
        }
    }));
    all
}

fn raise_propellers(boat: &mut Boat, by_m: f64) {
    for drive in &mut boat.drives {
        drive.propeller.at[2].value += by_m;
        if let Some(strut) = &mut drive.strut {
            strut.at[2].value += by_m;
        }
    }
}

fn lighter(boat: &mut Boat) {
    const LEFT: f64 = 0.95;
    for part in &mut boat.parts {
        part.mass_kg.value *= LEFT;
    }
    boat.hull.print.density_kg_m3.value *= LEFT;
    boat.hull.print.coating_kg_m2.value *= LEFT;
    if let Some(weighed) = &mut boat.hull.weighed {
        weighed.mass_kg.value *= LEFT;
    }
}

/// Running surfaces that end in a step if there are any (pads), else all of them.
fn surface_adjustments(boat: &Boat, form: &Form) -> Vec<Adjusted> {
    let stepped = form.surfaces.iter().any(|s| s.step);
    let name = if stepped { "pads" } else { "running surfaces" };
    let reshape = |what: String, change: &dyn Fn(&RunningSurface) -> RunningOverride| {
        let chosen = form.surfaces.iter().filter(|s| s.step || !stepped);
        let overrides: Vec<RunningOverride> = chosen.map(change).collect();
        let mut form = form.clone();
        form::running::apply(&mut form.surfaces, &overrides).ok()?;
        Some(Adjusted {
            what,
            boat: boat.clone(),
            form: Some(form),
        })
    };
    if form.surfaces.is_empty() {
        return Vec::new();
    }
    let tilted = |deg: f64| {
        move |s: &RunningSurface| RunningOverride {
            angle_rad: Some(moved(s.angle_rad, deg.to_radians())),
            ..unchanged(s)
        }
    };
    let wider = |s: &RunningSurface| RunningOverride {
        beam_m: Some(moved(s.beam_m, 5e-3)),
        ..unchanged(s)
    };
    let mut all = vec![
        reshape(format!("{name} built with 0.5° more angle"), &tilted(0.5)),
        reshape(format!("{name} built with 0.5° less angle"), &tilted(-0.5)),
    ];
    if stepped {
        all.push(reshape(format!("{name} 5 mm wider"), &wider));
    }
    all.into_iter().flatten().collect()
}

fn unchanged(surface: &RunningSurface) -> RunningOverride {
    RunningOverride {
        surface: surface.name.clone(),
        angle_rad: None,
        beam_m: None,
        deadrise_rad: None,
        strake_m: None,
        trailing_edge_x_m: None,
        trailing_edge_z_m: None,
    }
}

fn moved(measure: Measure, by: f64) -> Measure {
    Measure {
        value: measure.value + by,
        ..measure
    }
}
