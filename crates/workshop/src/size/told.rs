//! What is told of a size.

use advice::{Finding, Give, Number, Verdict};
use boat::Kind;
use serde::{Deserialize, Serialize};
use study::size::practice;
use study::size::{CLOSER, COARSE, Found, Missed, Tried};
use study::{Quantity, Study};
use utoipa::ToSchema;

use super::kept::Kept;
use super::{SizeAsk, stops};

/// A boat folder made, and why it is as it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SizeAnswer {
    /// The boat file.
    pub made: String,
    /// The hull's mesh.
    pub mesh: String,
    /// Of the boat.
    pub name: String,
    /// Which type of hull.
    pub hull_type: String,
    /// As asked: everything but the printed hull.
    pub carry: Number,
    /// As asked.
    pub cells: u32,
    /// As asked.
    pub speed: Number,
    /// Numbers to give first, since common practice put them in.
    pub give_first: Vec<Give>,
    /// What was put in for each drive.
    pub set_up: SetUp,
    /// Lengths, shortest first; one is chosen.
    pub sizes: Vec<Size>,
    /// Why this size, a sentence each.
    pub why: Vec<String>,
    /// What stands in the way of the wish, a sentence each; empty where it is reached.
    pub in_the_way: Vec<String>,
    /// What was found in the builder's mesh and by how much it would have to change.
    pub fitted: Option<FittedMesh>,
    /// The verdict of `check` on the folder; nothing where nobody waited for it.
    pub verdict: Option<Verdict>,
    /// How many boats were tried, and what was asked of them.
    pub tried: Vec<TriedTold>,
    /// Whether it was cut short: the best until then was kept.
    pub stopped: bool,
}

/// What each drive was given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SetUp {
    /// Propellers.
    pub drives: usize,
    /// Of the propeller.
    pub diameter: Number,
    /// Pitch over diameter.
    pub pitch_ratio: f64,
    /// Of the motor.
    pub kv: Number,
    /// Of the motor's can.
    pub motor_diameter: Number,
    /// Of the motor's can.
    pub motor_length: Number,
    /// Of each pack.
    pub capacity: Number,
    /// Of the controller.
    pub rated_current: Number,
}

/// One length, with the best propeller and motor that were found for it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Size {
    /// Whether it is the one in the folder.
    pub chosen: bool,
    /// Transom to bow.
    pub length: Number,
    /// Greatest.
    pub beam: Number,
    /// All-up.
    pub mass: Number,
    /// Of the print.
    pub print_mass: Number,
    /// Of the print.
    pub print_time: Number,
    /// Lowest opening above the water at rest.
    pub freeboard: Option<Number>,
    /// Speed at which it planes; nothing where it does not.
    pub planes_from: Option<Number>,
    /// Flat out; nothing where no state is steady.
    pub top_speed: Option<Number>,
    /// Pitch to spare before it blows over; only where everything was asked.
    pub flight_margin: Option<Number>,
    /// `coarse`, `closer` or `everything`.
    pub asked: String,
    /// What it misses, in words; with everything asked, what says stop too.
    pub misses: Vec<String>,
}

/// So many boats were asked so much.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct TriedTold {
    /// `coarse`, `closer` or `everything`.
    pub asked: String,
    /// How many boats.
    pub boats: usize,
    /// What that is, in words.
    pub what: String,
}

/// A builder's mesh, judged for the load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FittedMesh {
    /// What was guessed of the file: unit, direction, origin, type.
    pub guessed: Vec<String>,
    /// How much the whole hull would be scaled for the load; 100 % where it is right as it is.
    pub scale: Number,
    /// How much higher the deck would have to be; negative could be lower.
    pub deck: Option<Number>,
    /// How wide each pad is and would have to be.
    pub pad_width: Option<[Number; 2]>,
    /// The same in words.
    pub words: Vec<String>,
}

/// One boat of which everything was asked.
pub struct Studied {
    /// Which length.
    pub index: usize,
    /// What says stop, or that it does not stay down.
    pub stops: Vec<String>,
    /// rad.
    pub flight_rad: Option<f64>,
    /// m/s; full throttle in time where no state is steady.
    pub top_m_s: Option<f64>,
    /// Freeboard as `check` has it, m.
    pub freeboard_m: Option<f64>,
}

impl Studied {
    /// From a study.
    pub fn of(index: usize, study: &Study, all: &[Finding]) -> Self {
        let number = |q| study.number(q).map(|n| n.0);
        Self {
            index,
            stops: stops(all),
            flight_rad: number(Quantity::FlightMargin),
            top_m_s: number(Quantity::TopSpeed),
            freeboard_m: number(Quantity::Freeboard),
        }
    }

    /// Nothing says stop, and it stays down.
    pub fn holds(&self) -> bool {
        self.stops.is_empty()
    }

    /// How much stands against it.
    pub fn against(&self) -> usize {
        self.stops.len()
    }
}

/// What else there is to tell.
pub struct More {
    /// A length that was asked for and does not carry the load, m.
    pub instead_of_m: Option<f64>,
    /// See [`SizeAnswer::give_first`].
    pub give_first: Vec<Give>,
    /// See [`SizeAnswer::verdict`].
    pub verdict: Option<Verdict>,
    /// Cells with which the speed would be reached.
    pub more_cells: Option<u32>,
    /// See [`SizeAnswer::fitted`].
    pub fitted: Option<FittedMesh>,
}

/// What was asked and every length that was tried.
pub fn kept(
    ask: &SizeAsk,
    found: &Found,
    chosen: usize,
    asked: &[Studied],
    instead_of_m: Option<f64>,
) -> Kept {
    let tried = found.lengths.iter().enumerate();
    let sizes: Vec<Size> = tried
        .map(|(i, t)| size(t, i == chosen, asked.iter().find(|a| a.index == i)))
        .collect();
    Kept {
        carry: Number::exact(Kind::Mass, ask.carry_kg),
        cells: ask.cells,
        speed: Number::exact(Kind::Speed, ask.speed_m_s),
        why: why(&sizes, chosen, instead_of_m, ask),
        sizes,
    }
}

/// Puts it together; the mesh is named by the caller.
pub fn answer(
    ask: &SizeAsk,
    name: &str,
    found: &Found,
    chosen: usize,
    asked: &[Studied],
    more: More,
) -> SizeAnswer {
    let best = &found.lengths[chosen];
    let fitted = &best.fitted;
    let exact = Number::exact;
    let Kept {
        carry,
        cells,
        speed,
        why,
        sizes,
    } = kept(ask, found, chosen, asked, more.instead_of_m);
    SizeAnswer {
        made: ask.dir.join("boat.toml").display().to_string(),
        mesh: String::new(),
        name: name.to_owned(),
        hull_type: fitted.hull.name().to_owned(),
        carry,
        cells,
        speed,
        give_first: more.give_first,
        set_up: SetUp {
            drives: fitted.lines.len(),
            diameter: exact(Kind::Length, fitted.set_up.propeller_m),
            pitch_ratio: fitted.set_up.pitch_ratio,
            kv: exact(
                Kind::MotorConstant,
                fitted.set_up.kv_rpm_v * std::f64::consts::PI / 30.0,
            ),
            motor_diameter: exact(Kind::Length, fitted.can_m[0]),
            motor_length: exact(Kind::Length, fitted.can_m[1]),
            capacity: exact(Kind::Charge, 3600.0 * fitted.capacity_ah),
            rated_current: exact(Kind::Current, fitted.set_up.rated_a),
        },
        why,
        in_the_way: in_the_way(
            best,
            asked.iter().find(|a| a.index == chosen),
            more.more_cells,
        ),
        sizes,
        fitted: more.fitted,
        verdict: more.verdict,
        tried: tried(found, asked.len()),
        stopped: found.stopped,
    }
}

fn tried(found: &Found, everything: usize) -> Vec<TriedTold> {
    let told = |asked: &str, boats, what: String| TriedTold {
        asked: asked.to_owned(),
        boats,
        what,
    };
    vec![
        told(
            "coarse",
            found.tried[0],
            format!(
                "weighed, afloat, flat out and at the hump, from where the same hull runs with the middle set-up ({COARSE} speeds)"
            ),
        ),
        told(
            "closer",
            found.tried[1],
            format!(
                "the best of each length, three of them at three balance points: the curve at {CLOSER} speeds"
            ),
        ),
        told(
            "everything",
            everything,
            "as `check` asks, without spread: launch, turns, flight, heat in time, strength"
                .to_owned(),
        ),
    ]
}

fn size(t: &Tried, chosen: bool, asked: Option<&Studied>) -> Size {
    let q = |quantity: Quantity| {
        t.quantities
            .get(quantity)
            .map(|v| Number::exact(quantity.kind(), v))
    };
    let length = |m| Number::exact(Kind::Length, m);
    let mut misses: Vec<String> = t.missed.iter().map(words).collect();
    misses.extend(asked.into_iter().flat_map(|a| a.stops.clone()));
    let (print_kg, print_s) = print(t);
    Size {
        chosen,
        length: length(t.hull.length_m),
        beam: length(t.hull.beam_m),
        mass: Number::exact(Kind::Mass, t.fitted.carried_kg() + t.hull.shell.mass_kg),
        print_mass: Number::new(
            Kind::Mass,
            print_kg,
            making::filament::MASS_SPREAD * print_kg,
        ),
        print_time: Number::new(Kind::Time, print_s, making::filament::TIME_SPREAD * print_s),
        freeboard: asked
            .and_then(|a| a.freeboard_m)
            .map(length)
            .or(q(Quantity::Freeboard)),
        planes_from: q(Quantity::PlaningSpeed),
        top_speed: match asked {
            Some(a) => a.top_m_s.map(|v| Number::exact(Kind::Speed, v)),
            None => q(Quantity::TopSpeed),
        },
        flight_margin: asked
            .and_then(|a| a.flight_rad)
            .map(|v| Number::exact(Kind::Angle, v)),
        asked: if asked.is_some() {
            "everything"
        } else {
            "closer"
        }
        .to_owned(),
        misses,
    }
}

/// Mass and time of the print, from the plastic of its walls; as if it stood on its transom in pieces.
fn print(t: &Tried) -> (f64, f64) {
    // PETG.
    const KG_M3: f64 = 1270.0;
    let plastic_m3 = t.hull.shell.mass_kg / KG_M3;
    let printer = boat::making::Printer::default();
    let time_s = making::filament::time_s(plastic_m3, t.hull.length_m, &printer);
    (t.hull.shell.mass_kg, time_s)
}

/// `freeboard 22 mm, wanted 29 mm`.
pub fn words(missed: &Missed) -> String {
    let show = |v: f64| Number::exact(missed.kind(), v).plain();
    let name = missed.what.name();
    match (missed.what, missed.is) {
        (Quantity::HumpMargin, None) => "does not plane".to_owned(),
        (Quantity::TopSpeed, None) => "no steady top speed".to_owned(),
        (_, None) => format!("no {name}"),
        (_, Some(is)) => format!("{name} {}, wanted {}", show(is), show(missed.wanted)),
    }
}

fn in_the_way(best: &Tried, asked: Option<&Studied>, more_cells: Option<u32>) -> Vec<String> {
    let mut all: Vec<String> = best.missed.iter().map(words).collect();
    if best.missed.iter().any(|m| m.what == Quantity::TopSpeed) {
        all.extend(too_fast(best));
        all.extend(more_cells.map(|cells| format!("{cells}S would reach that speed")));
    }
    all.extend(asked.into_iter().flat_map(|a| a.stops.clone()));
    all
}

/// What no usual propeller and motor give.
fn too_fast(best: &Tried) -> Option<String> {
    let fitted = &best.fitted;
    let [_, largest_m] = practice::propeller_m(fitted.hull, fitted.length_m);
    let pitch_m = practice::PITCH_RATIO * largest_m;
    let most = practice::SPEED_OF_PITCH * practice::NOMINAL_RPM[1] / 60.0 * pitch_m;
    (most < fitted.wish.speed_m_s).then(|| {
        format!(
            "a propeller of {} x {:.1}, the largest usual at that length, at {:.0} rpm, the most that motors turn, comes to {}",
            Number::exact(Kind::Length, largest_m).plain(),
            practice::PITCH_RATIO,
            practice::NOMINAL_RPM[1],
            Number::exact(Kind::Speed, most).plain()
        )
    })
}

fn why(sizes: &[Size], chosen: usize, instead_of_m: Option<f64>, ask: &SizeAsk) -> Vec<String> {
    let mut all = Vec::new();
    let this = &sizes[chosen];
    if let Some(asked_m) = instead_of_m {
        let floats = |s: &&Size| {
            !s.misses
                .iter()
                .any(|m| m.starts_with(Quantity::Freeboard.name()))
        };
        let from = sizes.iter().find(floats).unwrap_or(this);
        all.push(format!(
            "{} does not carry {}: the shortest that floats with it is {}.",
            Number::exact(Kind::Length, asked_m).plain(),
            Number::exact(Kind::Mass, ask.carry_kg).plain(),
            from.length.plain()
        ));
    }
    let smaller = chosen.checked_sub(1).and_then(|i| sizes.get(i));
    match smaller {
        Some(s) if !s.misses.is_empty() && this.misses.is_empty() => all.push(format!(
            "{} is the shortest that does what was asked: {} {}.",
            this.length.plain(),
            s.length.plain(),
            fails(&s.misses)
        )),
        Some(s) if s.misses.is_empty() => all.push(format!(
            "{} would do too, with {}.",
            s.length.plain(),
            beside(s, this)
        )),
        _ => {}
    }
    if let Some(l) = sizes.get(chosen + 1) {
        let lacks = if l.misses.is_empty() {
            String::new()
        } else {
            format!(" That {}.", fails(&l.misses))
        };
        all.push(format!(
            "{} gives {}.{lacks}",
            l.length.plain(),
            beside(l, this)
        ));
    }
    all
}

fn fails(misses: &[String]) -> String {
    // A finding's sentence among them goes on in this one.
    let first = misses[0].trim_end_matches('.');
    let mut letters = first.chars();
    let begins = letters
        .next()
        .map_or_else(String::new, |c| c.to_lowercase().to_string());
    let first = format!("{begins}{}", letters.as_str());
    match misses.len() {
        1 => format!("falls short ({first})"),
        n => format!("falls short ({first}, and {} more)", n - 1),
    }
}

/// `freeboard 31 mm instead of 38 mm, top speed 63 km/h instead of 61 km/h, print 60 g lighter`.
fn beside(other: &Size, this: &Size) -> String {
    let mut all = Vec::new();
    let pairs = [
        ("freeboard", other.freeboard, this.freeboard),
        ("top speed", other.top_speed, this.top_speed),
        (
            "pitch to spare in flight",
            other.flight_margin,
            this.flight_margin,
        ),
    ];
    for (name, a, b) in pairs {
        if let (Some(a), Some(b)) = (a, b) {
            all.push(format!("{name} {} instead of {}", a.plain(), b.plain()));
        }
    }
    let by = other.print_mass.value - this.print_mass.value;
    let more = if by > 0.0 { "more" } else { "less" };
    all.push(format!(
        "{} {more} to print",
        Number::exact(Kind::Mass, by.abs()).plain()
    ));
    all.join(", ")
}
