//! The adjustments a builder can make in an evening, each tried on the model.
//!
//! An adjustment is edits of the boat file. What is calculated is the boat that file would then declare, with what
//! of the outings' teaching carries to it: who makes the same edits gets the same numbers.

use boat::{Boat, Edit, Measure, RunningOverride};
use craft::Factors;
use form::{Form, RunningSurface};
use rayon::prelude::*;
use std::sync::Arc;

use crate::edits::Writer;
use crate::lever::Learned;
use crate::quantity::{Detail, Quantities, solve};

/// What a study is of.
#[derive(Debug, Clone)]
pub struct Subject {
    /// What was declared, its parts corrected by what was learned.
    pub boat: Boat,
    /// Its shape.
    pub form: Arc<Form>,
    /// What outings taught, as far as it carries to this boat.
    pub learned: Learned,
}

/// The file a boat comes from.
pub trait Source: Sync {
    /// As written.
    fn text(&self) -> &str;
    /// What it declares, without what was learned.
    fn declared(&self) -> &Boat;
    /// The boat it would be with `edits` made; nothing where that is no boat.
    fn edited(&self, edits: &[Edit]) -> Option<Subject>;
}

/// Which adjustment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Adjustment {
    PartForward,
    PartAft,
    StrutHigher,
    StrutLower,
    ShaftDown,
    ShaftUp,
    PropellerLarger,
    PropellerSmaller,
    PitchMore,
    PitchLess,
    CellMore,
    Lighter,
    PadAngleMore,
    PadAngleLess,
    PadsWider,
}

/// An adjusted boat and its answers.
#[derive(Debug, Clone)]
pub struct Trial {
    /// Which.
    pub adjustment: Adjustment,
    /// What was done: `Battery 10 mm forward`.
    pub what: String,
    /// Changes of the boat file that do it; none for one that is built rather than set (`pads 5 mm wider`).
    pub edits: Vec<Edit>,
    /// What came of it.
    pub quantities: Quantities,
}

struct Adjusted {
    adjustment: Adjustment,
    what: String,
    edits: Vec<Edit>,
    /// The boat, unless `edits` make it.
    built: Option<Subject>,
}

/// Tries every adjustment of `now`, the boat of `source`; those that cannot be solved are left out.
pub fn try_all(now: &Subject, source: &dyn Source, detail: Detail) -> Vec<Trial> {
    let tried: Vec<Option<Trial>> = adjustments(now, source)
        .into_par_iter()
        .map(|adjusted| {
            let subject = match adjusted.built {
                Some(built) => built,
                None => source.edited(&adjusted.edits)?,
            };
            Some(Trial {
                adjustment: adjusted.adjustment,
                what: adjusted.what,
                edits: adjusted.edits,
                quantities: quantities(&subject, detail)?,
            })
        })
        .collect();
    tried.into_iter().flatten().collect()
}

/// Quantities of a boat in rough steps; nothing where it cannot be solved.
pub fn quantities(of: &Subject, detail: Detail) -> Option<Quantities> {
    let mass = craft::mass::mass_properties(&of.boat, &of.form).ok()?;
    let factors: Factors = of.learned.factors();
    let solved = solve(&of.boat, &of.form, &mass, &factors, detail).ok()?;
    Some(solved.quantities)
}

fn adjustments(now: &Subject, source: &dyn Source) -> Vec<Adjusted> {
    let writer = Writer::new(source.text(), source.declared());
    let mut all = Vec::new();
    for part in source.declared().parts.iter().filter(|p| p.movable) {
        for (adjustment, mm, way) in [
            (Adjustment::PartForward, 10.0, "forward"),
            (Adjustment::PartAft, -10.0, "aft"),
        ] {
            let edits = writer.part_moved(part, [mm * 1e-3, 0.0, 0.0]);
            all.push(set(adjustment, format!("{} 10 mm {way}", part.name), edits));
        }
    }
    if !source.declared().drives.is_empty() {
        all.extend(drive_adjustments(&writer));
    }
    all.push(built(
        Adjustment::Lighter,
        "everything 5 % lighter".to_owned(),
        lighter(now),
    ));
    all.extend(surface_adjustments(now));
    all
}

fn set(adjustment: Adjustment, what: String, edits: Vec<Edit>) -> Adjusted {
    Adjusted {
        adjustment,
        what,
        edits,
        built: None,
    }
}

fn built(adjustment: Adjustment, what: String, subject: Subject) -> Adjusted {
    Adjusted {
        adjustment,
        what,
        edits: Vec::new(),
        built: Some(subject),
    }
}

fn drive_adjustments(writer: &Writer) -> Vec<Adjusted> {
    use Adjustment as A;
    let mut all = Vec::new();
    for (which, mm, way) in [
        (A::StrutHigher, 1.0, "higher"),
        (A::StrutLower, -1.0, "lower"),
    ] {
        let what = format!("strut and propeller 1 mm {way}");
        all.push(set(which, what, writer.propellers_raised(mm * 1e-3)));
    }
    for (which, deg, way) in [(A::ShaftDown, 0.5, "more"), (A::ShaftUp, -0.5, "less")] {
        let what = format!("shaft 0.5° {way} propeller-down");
        all.push(set(which, what, writer.shafts_tilted(f64::to_radians(deg))));
    }
    for (which, mm, way) in [
        (A::PropellerLarger, 2.0, "larger"),
        (A::PropellerSmaller, -2.0, "smaller"),
    ] {
        let what = format!("propeller 2 mm {way} at the same pitch ratio");
        all.push(set(which, what, writer.propellers_larger(mm * 1e-3)));
    }
    for (which, step, way) in [(A::PitchMore, 0.1, "more"), (A::PitchLess, -0.1, "less")] {
        let what = format!("propeller with 0.1 {way} pitch ratio");
        all.push(set(which, what, writer.pitch_changed(step)));
    }
    let what = "one cell more in series".to_owned();
    all.push(set(A::CellMore, what, writer.cells_added(1)));
    all
}

fn lighter(now: &Subject) -> Subject {
    const LEFT: f64 = 0.95;
    let mut lighter = now.clone();
    for part in &mut lighter.boat.parts {
        part.mass_kg.value *= LEFT;
    }
    let hull = &mut lighter.boat.hull;
    hull.print.density_kg_m3.value *= LEFT;
    hull.print.coating_kg_m2.value *= LEFT;
    if let Some(weighed) = &mut hull.weighed {
        weighed.mass_kg.value *= LEFT;
    }
    lighter
}

/// Running surfaces that end in a step if there are any (pads), else all of them.
fn surface_adjustments(now: &Subject) -> Vec<Adjusted> {
    let surfaces = &now.form.surfaces;
    if surfaces.is_empty() {
        return Vec::new();
    }
    let stepped = surfaces.iter().any(|s| s.step);
    let name = if stepped { "pads" } else { "running surfaces" };
    let reshape = |which, what: String, change: &dyn Fn(&RunningSurface) -> RunningOverride| {
        let chosen = surfaces.iter().filter(|s| s.step || !stepped);
        let overrides: Vec<RunningOverride> = chosen.map(change).collect();
        let mut form = Form::clone(&now.form);
        form::running::apply(&mut form.surfaces, &overrides).ok()?;
        let form = Arc::new(form);
        Some(built(
            which,
            what,
            Subject {
                form,
                ..now.clone()
            },
        ))
    };
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
        reshape(
            Adjustment::PadAngleMore,
            format!("{name} built with 0.5° more angle"),
            &tilted(0.5),
        ),
        reshape(
            Adjustment::PadAngleLess,
            format!("{name} built with 0.5° less angle"),
            &tilted(-0.5),
        ),
    ];
    if stepped {
        all.push(reshape(
            Adjustment::PadsWider,
            format!("{name} 5 mm wider"),
            &wider,
        ));
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
