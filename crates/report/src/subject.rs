//! What a report is about.

use advice::{Finding, Number};
use boat::{Boat, Units};
use craft::{MassProperties, Rest, SpeedCurve};
use form::Form;
use learn::reconcile::Reconciled;
use learn::why::Explained;
use motion::turning::Steered;
use study::handling::Handling;
use study::hull_type::HullType;
use study::spread::Spread;
use study::stint::FlatOut;
use study::{Learned, Study};

/// What an outing showed.
#[derive(Clone, Copy)]
pub struct Water<'a> {
    /// Names of the outings.
    pub outings: &'a [String],
    /// Measured beside predicted.
    pub found: Option<&'a Reconciled>,
    /// What went wrong.
    pub explained: &'a [Explained],
}

/// A run in time from rest.
#[derive(Debug, Clone)]
pub struct Launch {
    /// Mean of the highest third, m.
    pub ripple_m: f64,
    /// Of the ripple.
    pub seed: u64,
    /// What happened.
    pub run: motion::Run,
}

/// How the boat was sized.
#[derive(Debug, Clone)]
pub struct Sizes {
    /// Everything but the printed hull.
    pub carry: Number,
    /// In series of each pack.
    pub cells: u32,
    /// Wanted.
    pub speed: Number,
    /// Why this one, a sentence each.
    pub why: Vec<String>,
    /// Shortest first.
    pub lengths: Vec<Length>,
}

/// A length that was tried, with the best propeller and motor found for it.
#[derive(Debug, Clone)]
pub struct Length {
    /// Whether it is this boat's.
    pub chosen: bool,
    /// Transom to bow.
    pub length: Number,
    /// All-up.
    pub mass: Number,
    /// Of the print.
    pub print_mass: Number,
    /// Lowest opening above the water at rest.
    pub freeboard: Option<Number>,
    /// Nothing where it does not plane.
    pub planes_from: Option<Number>,
    /// Nothing where no state is steady.
    pub top_speed: Option<Number>,
    /// In words.
    pub misses: Vec<String>,
}

/// Everything a report shows, already computed.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    /// All that was asked of it.
    pub study: &'a Study,
    /// What the builder declared.
    pub boat: &'a Boat,
    /// What everything is shown in.
    pub units: Units,
    /// Its shape.
    pub form: &'a Form,
    /// Which kind of boat it is.
    pub hull_type: HullType,
    /// kg/m3.
    pub water_density_kg_m3: f64,
    /// Mass table.
    pub mass: &'a MassProperties,
    /// At rest.
    pub rest: &'a Rest,
    /// Under way; `None` for a boat that sinks or has no drive.
    pub curve: Option<&'a SpeedCurve>,
    /// Each drive run in time.
    pub flat_out: &'a [FlatOut],
    /// Turning and flying; `None` for a boat that sinks.
    pub handling: Option<&'a Handling>,
    /// Turns in time; `None` where there is no straight to turn from.
    pub steered: Option<&'a Steered>,
    /// A run in time; `None` for a boat that cannot start.
    pub launch: Option<&'a Launch>,
    /// Worst first.
    pub findings: &'a [Finding],
    /// Likely variations of the boat, for the bands.
    pub spread: Option<&'a Spread>,
    /// What predictions carry from outings.
    pub learned: &'a Learned,
    /// The outing shown with them.
    pub water: Option<Water<'a>>,
    /// How it was sized; `None` where the builder chose.
    pub sizes: Option<&'a Sizes>,
}

impl<'a> Subject<'a> {
    /// A study with its findings.
    pub fn of(study: &'a Study, findings: &'a [Finding]) -> Self {
        let curve = study.running.as_ref().map(|r| &r.curve);
        Self {
            study,
            boat: &study.boat,
            units: study.boat.units,
            form: &study.form,
            hull_type: study.hull_type,
            water_density_kg_m3: study.water_density_kg_m3,
            mass: &study.mass,
            rest: &study.rest,
            curve: curve.filter(|c| !c.running.is_empty()),
            flat_out: study.running.as_ref().map_or(&[], |r| &r.flat_out),
            handling: study.running.as_ref().map(|r| &r.handling),
            steered: (study.running.as_ref()).and_then(|r| r.handling.steered.as_ref()),
            launch: None,
            findings,
            spread: Some(&study.spread).filter(|s| !s.draws.is_empty()),
            learned: &study.learned,
            water: None,
            sizes: None,
        }
    }

    /// In other units than the boat file says.
    #[must_use]
    pub fn shown_in(self, units: Option<Units>) -> Self {
        Self {
            units: units.unwrap_or(self.units),
            ..self
        }
    }

    /// With a run in time.
    #[must_use]
    pub fn with_launch(self, launch: Option<&'a Launch>) -> Self {
        Self { launch, ..self }
    }

    /// With how it was sized.
    #[must_use]
    pub fn with_sizes(self, sizes: Option<&'a Sizes>) -> Self {
        Self { sizes, ..self }
    }

    /// With an outing.
    #[must_use]
    pub fn with_water(self, water: Water<'a>) -> Self {
        Self {
            water: Some(water),
            ..self
        }
    }
}
