//! One boat asked everything.

use boat::Boat;
use craft::mass::MassError;
use craft::rest::RestError;
use craft::{Craft, CraftError, MassProperties, Rest, SpeedCurve};
use form::Form;
use making::strength::{Asking, Shape, Strength};
use motion::TopSpeed;
use motion::launch::Launch;
use motion::turning::Steered;
use std::sync::Arc;

use crate::edits::Writer;
use crate::handling::Handling;
use crate::hull_type::HullType;
use crate::lever::Learned;
use crate::quantity::{Detail, Quantities, Quantity, Solved, solve_beside, throw_rad};
use crate::spread::{Deep, Spread};
use crate::stint::FlatOut;
use crate::trial::{Source, Subject, Trial, try_all};

/// How much work to put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Speeds of the curve.
    pub points: usize,
    /// Draws for the spread.
    pub draws: usize,
    /// Draws beyond those for the bands along the speeds: they move no number, so that every face tells the same.
    pub further: usize,
    /// Seed of the draws.
    pub seed: u64,
    /// Whether to try adjustments.
    pub trials: bool,
    /// Whether to look for other ways it could run, run its drives in time, and turn and pitch it. Without, the
    /// curve is one pass and what follows from the rest is not asked.
    pub deep: bool,
}

impl Effort {
    /// Mass, rest and one pass of the curve.
    pub const QUICK: Self = Self {
        points: 48,
        draws: 0,
        further: 0,
        seed: 1,
        trials: false,
        deep: false,
    };
}

impl Default for Effort {
    fn default() -> Self {
        Self {
            points: 48,
            draws: 32,
            further: 0,
            seed: 1,
            trials: true,
            deep: true,
        }
    }
}

/// Speeds of each draw's and adjustment's curve: what is solved for on it does not depend on how many.
const ROUGH: usize = 12;
/// The hull's resistance to sliding is known no better than by a third, whatever the likely boats do (judgement).
pub const SLIDES: f64 = 1.0 / 3.0;

/// Boat, elements, turns and launch of a study, as measured of the starter hulls.
const REST_BYTES: usize = 256 << 10;

/// Everything known about one boat.
pub struct Study {
    /// What the builder declared.
    pub boat: Boat,
    /// Its shape.
    pub form: Arc<Form>,
    /// Which kind of boat it is.
    pub hull_type: HullType,
    /// kg/m3.
    pub water_density_kg_m3: f64,
    /// Mass table.
    pub mass: MassProperties,
    /// At rest.
    pub rest: Rest,
    /// Under way; `None` for a boat that sinks.
    pub running: Option<Under>,
    /// Its likely variations.
    pub spread: Spread,
    /// Its adjustments.
    pub trials: Vec<Trial>,
    /// What measurements on the water have corrected in it.
    pub learned: Learned,
    /// Edits of the boat file for each of strength's levers; none of what the file does not declare.
    pub stronger: Vec<Vec<boat::Edit>>,
    offsets: Vec<(Quantity, f64)>,
}

/// Under way.
pub struct Under {
    /// The elements.
    pub craft: Craft,
    /// Empty for a boat without a drive.
    pub curve: SpeedCurve,
    /// Quantities.
    pub quantities: Quantities,
    /// What full throttle comes to.
    pub full_throttle: TopSpeed,
    /// Each drive run in time; empty without a top speed, or where nobody asked for depth.
    pub flat_out: Vec<FlatOut>,
    /// Turning and flying; empty where nobody asked for depth.
    pub handling: Handling,
    /// Full throttle from rest, run in time; absent where nobody asked for depth.
    pub launch: Option<Launch>,
    /// Whether it holds; absent where nobody asked for depth, or for a plastic of unknown strength.
    pub strength: Option<Strength>,
}

impl Under {
    /// What takes as long as everything else: it is asked beside that.
    fn keep(&mut self, strength: Option<Strength>, steered: Option<Steered>) {
        let kept = steered.as_ref().and_then(Steered::tightest);
        let radius_m = kept.map(|k| k.1.radius_m);
        self.quantities.set(Quantity::TightestTurn, radius_m);
        self.strength = strength;
        self.handling.steered = steered;
    }

    fn bytes(&self) -> usize {
        let runs = self.flat_out.iter().map(FlatOut::bytes);
        size_of::<Self>() + self.curve.bytes() + runs.sum::<usize>()
    }

    /// The largest mean over a second of the launch, A; none of one that goes over.
    fn hump_current_a(&self) -> Option<f64> {
        let launch = self.launch.as_ref().filter(|l| l.ended.is_none())?;
        Some(launch.hump_current_a)
    }
}

fn under(boat: &Boat, asked: Solved, launch: Option<Launch>, deep: bool) -> Under {
    let (craft, curve) = (&asked.craft, &asked.curve);
    let (flat_out, handling) = match deep {
        true => rayon::join(
            || FlatOut::all(boat, craft, curve),
            || Handling::of(craft, curve),
        ),
        false => Default::default(),
    };
    let mut quantities = asked.quantities;
    quantities.set_runs(&flat_out);
    if let Some(worst) = &handling.margins.worst {
        let highest = motion::flight::HIGHEST_RAD - worst.running_trim_rad;
        let spare = worst.in_gust_rad().unwrap_or(highest);
        quantities.set(Quantity::FlightMargin, Some(spare));
    }
    if !deep {
        // The launch tells it.
        quantities.set(Quantity::HumpCurrent, None);
    }
    Under {
        full_throttle: asked
            .full_throttle
            .unwrap_or_else(|| motion::top_speed(&asked.craft, &asked.curve, throw_rad(boat))),
        flat_out,
        handling,
        launch,
        strength: None,
        craft: asked.craft,
        curve: asked.curve,
        quantities,
    }
}

/// Full throttle from rest; nothing for a boat without a drive.
pub fn launched(boat: &Boat, craft: &Craft) -> Option<Launch> {
    motion::launch::launch(craft, throw_rad(boat)).ok()
}

/// Current at the hump, A: the largest mean over a second of a launch, or where that goes over the propeller wide open at
/// the hump's attitude.
pub fn hump_current_a(boat: &Boat, solved: &Solved) -> Option<f64> {
    let launch = launched(boat, &solved.craft).filter(|l| l.ended.is_none());
    let wide_open = || solved.quantities.get(Quantity::HumpCurrent);
    launch.map(|l| l.hump_current_a).or_else(wide_open)
}

impl Study {
    /// The one number for a quantity, as every face shows it: the boat's as declared, and the 95 % half-width
    /// over its likely variations. Absent where the boat has none or nobody asked deep enough.
    pub fn number(&self, quantity: Quantity) -> Option<(f64, f64)> {
        let quantities = &self.running.as_ref()?.quantities;
        let value = quantities.get(quantity)?;
        Some((value, self.half_width(quantity, value)))
    }

    /// What is not run in time for every variation moves with what decides it.
    fn half_width(&self, quantity: Quantity, value: f64) -> f64 {
        let share_of = |of: Quantity| {
            let quantities = self.running.as_ref().map(|r| &r.quantities);
            let at = quantities.and_then(|q| q.get(of)).unwrap_or(f64::INFINITY);
            self.spread.half_width(of) / at.abs().max(1e-9)
        };
        match quantity {
            Quantity::LateTopSpeed => value * share_of(Quantity::TopSpeed),
            Quantity::RunTime => (value * share_of(Quantity::TopCurrent)).min(value),
            Quantity::Hottest => self.warmest_half_width_k(),
            Quantity::TightestTurn => value * self.turn_share().hypot(SLIDES),
            other => self.spread.half_width(other),
        }
    }

    /// Of the steady turn's radius, its half-width over the likely variations.
    fn turn_share(&self) -> f64 {
        let steady = || {
            let (_, turns) = self.running.as_ref()?.handling.circles()?;
            Some(turns.tightest()?.0.radius_m)
        };
        steady().map_or(0.0, |radius_m| {
            self.spread.half_width_of(|d| d.turn_m) / radius_m
        })
    }

    /// Share of the way from planing to top speed at which it is nearest to flying.
    pub(crate) fn flight_at(&self) -> Option<f64> {
        let under = self.running.as_ref()?;
        deep(under, true).flight_at
    }

    /// What it takes in memory, bytes: shape, curves and runs in time; the rest is small beside them, or the same for
    /// every boat.
    pub fn bytes(&self) -> usize {
        let draws = self.spread.draws.iter().chain(&self.spread.further);
        let drawn = draws.map(|d| size_of_val(d) + d.curve.bytes());
        let trials = self.trials.iter();
        let tried = trials.map(|t| size_of_val(t) + t.what.len() + t.of.len());
        let running = self.running.as_ref().map_or(0, Under::bytes);
        REST_BYTES + self.form.bytes() + running + drawn.chain(tried).sum::<usize>()
    }

    /// For variations and adjustments of this boat.
    pub fn like(&self) -> Detail<'_> {
        like(self.running.as_ref())
    }

    /// What the clipped mesh says at rest, and the run in time of the hump, more than what variations are asked.
    pub(crate) fn rest_offsets(&self) -> Vec<(Quantity, f64)> {
        self.offsets.clone()
    }

    /// One freeboard, trim and heel at rest, and one current at the hump, for the boat, its variations and its
    /// adjustments: those of the clipped mesh and of the run in time, which are not asked of each of them.
    fn keep_to_what_is_exact(&mut self) {
        let (Some(afloat), Some(under)) = (&self.rest.afloat, &mut self.running) else {
            return;
        };
        let exact = [
            (Quantity::RestTrim, Some(afloat.attitude.trim_rad)),
            (Quantity::RestHeel, Some(afloat.attitude.heel_rad)),
            (Quantity::Freeboard, afloat.freeboard.as_ref().map(|f| f.1)),
            (Quantity::HumpCurrent, under.hump_current_a()),
        ];
        let off = |(quantity, exact): (Quantity, Option<f64>)| {
            Some((quantity, exact? - under.quantities.get(quantity)?))
        };
        self.offsets = exact.into_iter().filter_map(off).collect();
        under.quantities.moved_to(&self.offsets);
        for draw in &mut self.spread.draws {
            draw.quantities.moved_to(&self.offsets);
        }
        for trial in &mut self.trials {
            trial.quantities.moved_to(&self.offsets);
        }
    }

    fn warmest_half_width_k(&self) -> f64 {
        let runs = self.running.as_ref().map_or(&[][..], |r| &r.flat_out);
        FlatOut::warmest(runs).map_or(0.0, |w| w.half_width_k)
    }
}

/// What to write for each lever of strength.
fn stronger(
    file: &dyn Source,
    strength: Option<&making::strength::Strength>,
) -> Vec<Vec<boat::Edit>> {
    let writer = Writer::new(file.text(), file.declared());
    let levers = strength.map_or(&[][..], |s| &s.levers);
    let edits = |l: &making::strength::Lever| l.declares.as_ref().map(|d| writer.declared(d));
    levers
        .iter()
        .map(|l| edits(l).unwrap_or_default())
        .collect()
}

/// How closely to follow a boat that is nearly the one that runs so.
fn like(running: Option<&Under>) -> Detail<'_> {
    match running {
        Some(under) => Detail::Like(ROUGH, &under.craft, &under.curve),
        None => Detail::Rough(ROUGH),
    }
}

/// What is asked of each draw beside its curve: the boat's worst place for flying, and its turn.
fn deep(under: &Under, asked: bool) -> Deep<'_> {
    let flight_at = || {
        let (worst, top) = (under.handling.margins.worst?, under.curve.top.as_ref()?);
        let from = under.curve.planing_m_s?.min(top.speed_m_s);
        Some((worst.speed_m_s - from) / (top.speed_m_s - from).max(1e-6))
    };
    Deep {
        flight_at: flight_at().filter(|_| asked),
        turns_at: (under.handling.circles())
            .filter(|_| asked)
            .and_then(|(speed, turns)| Some((speed / under.curve.top.as_ref()?.speed_m_s, turns))),
    }
}

/// Why a boat cannot be studied.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StudyError {
    /// See [`MassError`].
    #[error(transparent)]
    Mass(#[from] MassError),
    /// See [`RestError`].
    #[error(transparent)]
    Rest(#[from] RestError),
    /// See [`CraftError`].
    #[error(transparent)]
    Craft(#[from] CraftError),
    /// A law refused the water.
    #[error("water temperature: {0}")]
    Water(#[from] laws::InputError),
    /// A driven boat without anything to plane on.
    #[error("no running surface was found on the underside of the hull")]
    NoRunningSurface,
}

/// Asks everything of a boat of which nothing was learned. `step` is told what is being done, for a progress display.
/// Without the file it comes from no adjustments are tried.
///
/// # Errors
/// [`StudyError`]. A boat that sinks is not an error: its findings say so.
pub fn study(
    boat: Boat,
    form: impl Into<Arc<Form>>,
    effort: Effort,
    step: &dyn Fn(&'static str),
) -> Result<Study, StudyError> {
    let subject = Subject {
        boat,
        form: form.into(),
        learned: Learned::default(),
    };
    study_with(subject, None, effort, step)
}

/// Asks everything of a boat with what was learned of it; adjustments are edits of its `file`.
///
/// # Errors
/// [`StudyError`].
pub fn study_with(
    subject: Subject,
    file: Option<&dyn Source>,
    effort: Effort,
    step: &dyn Fn(&'static str),
) -> Result<Study, StudyError> {
    asked(subject, file, None, effort, step)
}

/// Mass, rest and one pass of the curve of a boat that is nearly a `known` one: what a hand on a part waits for.
///
/// # Errors
/// [`StudyError`].
pub fn study_near(subject: Subject, known: &Study) -> Result<Study, StudyError> {
    asked(
        subject,
        None,
        known.running.as_ref(),
        Effort::QUICK,
        &|_| {},
    )
}

fn asked(
    subject: Subject,
    file: Option<&dyn Source>,
    known: Option<&Under>,
    effort: Effort,
    step: &dyn Fn(&'static str),
) -> Result<Study, StudyError> {
    let Subject {
        boat,
        form,
        learned,
    } = &subject;
    let factors = learned.factors();
    step("weighing");
    let mass = craft::mass::mass_properties(boat, form)?;
    let water = laws::fresh_water::fresh_water(boat.water.temperature_c.value + 273.15)?;
    step("floating");
    let rest = craft::rest::solve(boat, form, &mass, water.density_kg_m3)?;
    if form.surfaces.is_empty() && !boat.drives.is_empty() {
        return Err(StudyError::NoRunningSurface);
    }
    step("running from rest to top speed");
    let detail = match (effort.deep, known) {
        (true, _) => Detail::Full(effort.points),
        (false, Some(known)) => Detail::Like(effort.points, &known.craft, &known.curve),
        (false, None) => Detail::Rough(effort.points),
    };
    let shape = || Shape::of(boat, form, &mass);
    let beside = |craft: &Craft, looked_for: &dyn Fn() -> bool| {
        effort.deep.then(|| {
            let launch = launched(boat, craft);
            // Nothing else could be done meanwhile; later all hands are full.
            (launch, looked_for().then(shape))
        })
    };
    let (mut running, shaped) = match solve_beside(boat, form, &mass, &factors, detail, beside) {
        Ok((asked, beside)) => {
            step("pitching it up");
            let (launch, shaped) = beside.unzip();
            let under = under(boat, asked, launch.flatten(), effort.deep);
            (Some(under), shaped.flatten())
        }
        Err(CraftError::Sinks { .. }) => (None, None),
        Err(error) => return Err(error.into()),
    };
    let mut spread = Spread::default();
    let mut trials = Vec::new();
    if let Some(under) = &running {
        step("turning and bending it, trying likely variations and adjustments");
        let deep = deep(under, effort.deep);
        let detail = like(Some(under));
        let (draws, seed) = (effort.draws, effort.seed);
        let all = draws + effort.further;
        let sample =
            || Spread::sample_with(boat, form, all, seed, detail, learned, deep).told_by(draws);
        let file = file.filter(|_| effort.trials);
        let tried = || {
            let tried = file.map(|file| try_all(&subject, file, detail, deep.flight_at));
            let mut tried = tried.unwrap_or_default();
            if under.launch.as_ref().is_some_and(|l| l.ended.is_some()) {
                let spare = under.quantities.get(Quantity::FlightMargin);
                crate::trial::launch_some(&mut tried, spare);
            }
            crate::trial::let_go(&mut tried);
            tried
        };
        let bent = || {
            let asked = Asking {
                boat,
                form,
                mass: &mass,
                seen: None,
            };
            let (craft, curve, runs) = (&under.craft, &under.curve, &under.flat_out);
            let shape = shaped.unwrap_or_else(shape);
            crate::strength::of(asked, shape, craft, curve, runs)
        };
        let steered = || under.handling.turns.as_ref()?.steered(&under.craft);
        let held = || match effort.deep {
            true => rayon::join(steered, bent),
            false => (None, None),
        };
        let ((steered, strength), drawn) = rayon::join(held, || rayon::join(tried, sample));
        (trials, spread) = drawn;
        if let Some(under) = running.as_mut().filter(|_| effort.deep) {
            under.keep(strength, steered);
        }
    }
    let strength = running.as_ref().and_then(|r| r.strength.as_ref());
    let stronger = file.map_or_else(Vec::new, |file| stronger(file, strength));
    let mut study = Study {
        hull_type: HullType::of(boat, form),
        water_density_kg_m3: water.density_kg_m3,
        mass,
        rest,
        running,
        spread,
        trials,
        boat: subject.boat,
        form: subject.form,
        learned: subject.learned,
        stronger,
        offsets: Vec::new(),
    };
    study.keep_to_what_is_exact();
    Ok(study)
}
