//! The adjustments a builder can make in an evening, each tried on the model.
//!
//! An adjustment is edits of the boat file. What is calculated is the boat that file would then declare, with what
//! of the outings' teaching carries to it: who makes the same edits gets the same numbers.

use boat::{Boat, Edit, Measure, RunningOverride};
use craft::{Craft, Factors};
use form::{Form, RunningSurface};
use motion::launch::Launch;
use rayon::prelude::*;
use std::sync::Arc;

use crate::edits::Writer;
use crate::lever::Learned;
use crate::quantity::{Detail, Quantities, Quantity, solve, throw_rad};
use crate::spread::flight_rad;

/// Steps by which things are moved, mm: what a builder can set.
const ALONG_MM: [f64; 3] = [5.0, 10.0, 20.0];
const ACROSS_MM: [f64; 2] = [5.0, 10.0];
const STRUT_MM: [f64; 2] = [1.0, 2.0];
const PROPELLER_MM: [f64; 2] = [1.0, 2.0];
const RAISED_MM: f64 = 5.0;
/// 2 to 4 degrees of tab is already a lot (common practice, no source).
const TABS_DEG: [f64; 2] = [2.0, 4.0];
/// Angle of running surfaces, degrees.
const TILTED_DEG: [f64; 3] = [0.5, 1.0, 1.5];

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
    PartLeft,
    PartRight,
    OpeningHigher,
    StrutHigher,
    StrutLower,
    ShaftDown,
    ShaftUp,
    TabsDown,
    TabsUp,
    PropellerLarger,
    PropellerSmaller,
    PitchMore,
    PitchLess,
    CellMore,
    CellLess,
    Lighter,
    PadAngleMore,
    PadAngleLess,
    PadsWider,
}

/// How much work a change is, least first.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
    utoipa::ToSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum Work {
    /// At the pond, with what is on board.
    Minutes,
    /// A part exchanged or reworked, perhaps bought.
    Evening,
    /// A printed part made again.
    Days,
    /// A hull.
    Week,
}

impl Work {
    /// What a builder calls it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Minutes => "minutes",
            Self::Evening => "an evening",
            Self::Days => "days",
            Self::Week => "a week",
        }
    }

    /// How much gain an evening must bring to be done before something of minutes.
    pub const fn effort(self) -> f32 {
        match self {
            Self::Minutes => 1.0,
            Self::Evening => 2.0,
            Self::Days => 5.0,
            Self::Week => 10.0,
        }
    }
}

impl Adjustment {
    /// What it takes.
    pub const fn work(self) -> Work {
        match self {
            Self::PartForward
            | Self::PartAft
            | Self::PartLeft
            | Self::PartRight
            | Self::StrutHigher
            | Self::StrutLower
            | Self::ShaftDown
            | Self::ShaftUp
            | Self::TabsDown
            | Self::TabsUp => Work::Minutes,
            Self::OpeningHigher
            | Self::PropellerLarger
            | Self::PropellerSmaller
            | Self::PitchMore
            | Self::PitchLess
            | Self::CellMore
            | Self::CellLess => Work::Evening,
            Self::PadAngleMore | Self::PadAngleLess | Self::PadsWider => Work::Days,
            Self::Lighter => Work::Week,
        }
    }
}

/// An adjusted boat and its answers.
#[derive(Debug, Clone)]
pub struct Trial {
    /// Which.
    pub adjustment: Adjustment,
    /// What is adjusted: a part's or an opening's name, or nothing. Trials of one adjustment of one thing differ by
    /// how much.
    pub of: String,
    /// What was done: `Battery 10 mm forward`.
    pub what: String,
    /// Changes of the boat file that do it; none for one that is built rather than set (`pads 5 mm wider`).
    pub edits: Vec<Edit>,
    /// What came of it.
    pub quantities: Quantities,
    /// Full throttle from rest, run in time; asked of a few where the boat itself does not get away.
    pub launch: Option<Launch>,
    /// The boat itself, as long as more is asked of it.
    subject: Option<Box<Subject>>,
}

struct Adjusted {
    adjustment: Adjustment,
    of: String,
    what: String,
    edits: Vec<Edit>,
    /// The boat, unless `edits` make it.
    built: Option<Subject>,
}

/// Tries every adjustment of `now`, the boat of `source`; those that cannot be solved are left out.
pub fn try_all(
    now: &Subject,
    source: &dyn Source,
    detail: Detail<'_>,
    flight_at: Option<f64>,
) -> Vec<Trial> {
    let tried: Vec<Option<Trial>> = adjustments(now, source)
        .into_par_iter()
        .map(|adjusted| {
            let subject = match adjusted.built {
                Some(built) => built,
                None => source.edited(&adjusted.edits)?,
            };
            Some(Trial {
                adjustment: adjusted.adjustment,
                of: adjusted.of,
                what: adjusted.what,
                edits: adjusted.edits,
                quantities: quantities(&subject, detail, flight_at)?,
                launch: None,
                subject: Some(Box::new(subject)),
            })
        })
        .collect();
    tried.into_iter().flatten().collect()
}

/// Runs the most promising from rest, for a boat that goes over at full throttle: of each kind of work the one that
/// gives most pitch to spare.
pub(crate) fn launch_some(trials: &mut [Trial], pitch_to_spare: Option<f64>) {
    let Some(now) = pitch_to_spare else {
        return;
    };
    let gain = |t: &Trial| Some(t.quantities.get(Quantity::FlightMargin)? - now);
    let gains = |t: &&mut Trial| gain(t).is_some_and(|g| g > 0.0);
    let mut some: Vec<&mut Trial> = trials.iter_mut().filter(gains).collect();
    some.sort_by(|a, b| {
        let work = |t: &Trial| t.adjustment.work();
        let more = gain(b).unwrap_or(0.0).total_cmp(&gain(a).unwrap_or(0.0));
        work(a).cmp(&work(b)).then(more)
    });
    some.dedup_by_key(|t| t.adjustment.work());
    some.into_par_iter()
        .for_each(|trial| trial.launch = trial.subject.as_deref().and_then(launch));
}

/// Nothing more will be asked of them.
pub(crate) fn let_go(trials: &mut [Trial]) {
    for trial in trials {
        trial.subject = None;
    }
}

fn launch(of: &Subject) -> Option<Launch> {
    let mass = craft::mass::mass_properties(&of.boat, &of.form).ok()?;
    let craft = Craft::new(&of.boat, &of.form, &mass, &of.learned.factors()).ok()?;
    motion::launch::gently(&craft, throw_rad(&of.boat)).ok()
}

/// Quantities of a boat in rough steps; nothing where it cannot be solved. Pitch to spare is asked at a share of the
/// way from planing to top speed.
pub fn quantities(of: &Subject, detail: Detail<'_>, flight_at: Option<f64>) -> Option<Quantities> {
    let mass = craft::mass::mass_properties(&of.boat, &of.form).ok()?;
    let factors: Factors = of.learned.factors();
    let solved = solve(&of.boat, &of.form, &mass, &factors, detail.tried()).ok()?;
    let flight = flight_at.and_then(|share| flight_rad(&solved, share));
    let mut quantities = solved.quantities;
    quantities.set(Quantity::FlightMargin, flight);
    Some(quantities)
}

fn adjustments(now: &Subject, source: &dyn Source) -> Vec<Adjusted> {
    let writer = Writer::new(source.text(), source.declared());
    let mut all = Vec::new();
    for part in source.declared().parts.iter().filter(|p| p.movable) {
        all.extend(part_adjustments(&writer, part, now));
    }
    for opening in &source.declared().openings {
        let what = format!("{} {RAISED_MM} mm higher", opening.name);
        let edits = writer.opening_raised(opening, 1e-3 * RAISED_MM);
        all.push(Adjusted {
            of: opening.name.clone(),
            ..set(Adjustment::OpeningHigher, what, edits)
        });
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

/// A part moved along and across, where it stays within the hull's outline.
fn part_adjustments(writer: &Writer, part: &boat::Part, now: &Subject) -> Vec<Adjusted> {
    use Adjustment as A;
    let outline = &now.form.outline;
    let ends = [
        outline.plan_centre_x_m - 0.5 * outline.length_m,
        outline.plan_centre_x_m + 0.5 * outline.length_m,
    ];
    let mut all = Vec::new();
    for (adjustment, axis, sign, way, steps) in [
        (A::PartForward, 0, 1.0, "forward", &ALONG_MM[..]),
        (A::PartAft, 0, -1.0, "aft", &ALONG_MM[..]),
        (A::PartLeft, 1, 1.0, "to the left", &ACROSS_MM[..]),
        (A::PartRight, 1, -1.0, "to the right", &ACROSS_MM[..]),
    ] {
        for mm in steps {
            let mut by = [0.0; 3];
            by[axis] = sign * 1e-3 * mm;
            let to = [part.at[0].value + by[0], part.at[1].value + by[1]];
            let inside = (ends[0]..=ends[1]).contains(&to[0]) && to[1].abs() < 0.5 * outline.beam_m;
            if !inside {
                continue;
            }
            all.push(Adjusted {
                of: part.name.clone(),
                ..set(
                    adjustment,
                    format!("{} {mm} mm {way}", part.name),
                    writer.part_moved(part, by),
                )
            });
        }
    }
    all
}

fn set(adjustment: Adjustment, what: String, edits: Vec<Edit>) -> Adjusted {
    Adjusted {
        adjustment,
        of: String::new(),
        what,
        edits,
        built: None,
    }
}

fn built(adjustment: Adjustment, what: String, subject: Subject) -> Adjusted {
    Adjusted {
        adjustment,
        of: String::new(),
        what,
        edits: Vec::new(),
        built: Some(subject),
    }
}

fn drive_adjustments(writer: &Writer) -> Vec<Adjusted> {
    use Adjustment as A;
    let mut all = Vec::new();
    for (which, sign, way) in [
        (A::StrutHigher, 1.0, "higher"),
        (A::StrutLower, -1.0, "lower"),
    ] {
        for mm in STRUT_MM {
            let what = format!("strut and propeller {mm} mm {way}");
            all.push(set(which, what, writer.propellers_raised(sign * mm * 1e-3)));
        }
    }
    for (which, deg, way) in [(A::ShaftDown, 0.5, "more"), (A::ShaftUp, -0.5, "less")] {
        let what = format!("shaft 0.5° {way} propeller-down");
        all.push(set(which, what, writer.shafts_tilted(f64::to_radians(deg))));
    }
    if writer.has_tabs() {
        for (which, sign, way) in [(A::TabsDown, 1.0, "down"), (A::TabsUp, -1.0, "up")] {
            for deg in TABS_DEG {
                let what = format!("trim tabs {deg}° {way}");
                all.push(set(
                    which,
                    what,
                    writer.tabs_turned(sign * f64::to_radians(deg)),
                ));
            }
        }
    }
    for (which, sign, way) in [
        (A::PropellerLarger, 1.0, "larger"),
        (A::PropellerSmaller, -1.0, "smaller"),
    ] {
        for mm in PROPELLER_MM {
            let what = format!("propeller {mm} mm {way} at the same pitch ratio");
            all.push(set(which, what, writer.propellers_larger(sign * mm * 1e-3)));
        }
    }
    for (which, step, way) in [(A::PitchMore, 0.1, "more"), (A::PitchLess, -0.1, "less")] {
        let what = format!("propeller with 0.1 {way} pitch ratio");
        all.push(set(which, what, writer.pitch_changed(step)));
    }
    for (which, count, what) in [
        (A::CellMore, 1, "one cell more in series"),
        (A::CellLess, -1, "one cell less in series"),
    ] {
        all.push(set(which, what.to_owned(), writer.cells_added(count)));
    }
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
    let mut all = Vec::new();
    for (which, sign, way) in [
        (Adjustment::PadAngleMore, 1.0, "more"),
        (Adjustment::PadAngleLess, -1.0, "less"),
    ] {
        for deg in TILTED_DEG {
            let what = format!("{name} built with {deg}° {way} angle");
            all.push(reshape(which, what, &tilted(sign * deg)));
        }
    }
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
