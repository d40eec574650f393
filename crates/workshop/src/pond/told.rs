//! What is told of a run: for reading, for scripts and for playing back.

use advice::Number;
use advice::number::significant;
use boat::Kind;
use motion::Run;
use motion::events::{Event, What};
use motion::flight::Odds;
use motion::many::Count;
use motion::run::{STEP_S, Sample, Stopped};
use motion::water::Surface;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::Ran;
use crate::check::Carried;
use crate::folder::Loaded;
use crate::series::settled;

/// What happens on the pond.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PondAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// What the condition is.
    pub condition: String,
    /// As the ask would say it.
    pub water: String,
    /// In words.
    pub wind: String,
    /// What the driver does.
    pub hands: String,
    /// `rest`, or a speed.
    pub start: String,
    /// Of the ripple.
    pub seed: u64,
    /// What happened, in order.
    pub events: Vec<Happened>,
    /// The most of everything.
    pub peaks: Peaks,
    /// Why it ended early.
    pub stopped: Option<String>,
    /// What to take from it.
    pub says: Vec<String>,
    /// How many runs ended.
    pub runs: Option<Counted>,
    /// How often it ends upside down, by speed and ripple.
    pub odds: Vec<OddsAt>,
    /// What all this rests on.
    pub rests_on: String,
    /// The water.
    pub surface: Water,
    /// The course of it.
    pub trace: Trace,
    /// What predictions carry from outings.
    pub learned: Option<Carried>,
}

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Happened {
    /// What.
    pub what: What,
    /// When.
    pub time: Number,
    /// How fast it ran.
    pub speed: Number,
    /// In the air, or from hop to hop.
    pub period: Option<Number>,
    /// How high the centre of gravity rose.
    pub height: Option<Number>,
}

/// The most of everything.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Peaks {
    /// Up at the balance point, g.
    pub up_g: f64,
    /// Up at the bow, g.
    pub bow_g: f64,
    /// Sideways, g.
    pub across_g: f64,
    /// Of each part.
    pub forces: Vec<Load>,
}

/// The most one part bore.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Load {
    /// Which.
    pub element: String,
    /// N.
    pub force_n: f64,
    /// When, s.
    pub time_s: f64,
}

/// How many runs ended.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Counted {
    /// Made.
    pub runs: usize,
    /// Bow up and over.
    pub flipped: usize,
    /// Bow under.
    pub dived: usize,
    /// On the side.
    pub rolled: usize,
    /// Clear of the water at least once.
    pub left_the_water: usize,
    /// That could not be followed to their end.
    pub not_finished: usize,
    /// Share upside down.
    pub lost: f64,
    /// From, by the counting alone (95 %).
    pub lost_from: f64,
    /// To.
    pub lost_to: f64,
}

/// How often it ends upside down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OddsAt {
    /// At this speed.
    pub speed: Number,
    /// Over this ripple.
    pub ripple: Number,
    /// Each run.
    pub seconds: Number,
    /// Counted, flat out whatever happens.
    pub count: Counted,
    /// The same seeds with a driver who lifts off when it must.
    pub lifting: Counted,
    /// What differs from the run that is shown, in words; empty where only the seeds do.
    pub differs: Vec<String>,
}

/// The water, so that a player can draw it anywhere and at any time: unrounded, since phases grow with distance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Water {
    /// Each sine as amplitude (m), wave number ahead and to port (rad/m), frequency (rad/s) and phase (rad):
    /// `h = sum a cos(k x + l y - w t + p)`.
    pub sines: Vec<[f64; 5]>,
    /// Of a packet: its middle along the course and half its width, m; inside it the sum is multiplied by `cos^2`
    /// of the share of a quarter turn, outside by nothing.
    pub packet_m: Option<(f64, f64)>,
    /// Where the waves grow from nothing to full along the course, m: the sum is multiplied by `cos^2` of what is
    /// left of a quarter turn.
    pub growing_m: Option<(f64, f64)>,
}

macro_rules! trace {
    ($($(#[doc = $doc:literal])* $name:ident = $of:expr;)*) => {
        /// The course of a run: one list a quantity, at even steps of time.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
        pub struct Trace {
            /// From one value to the next, s.
            pub step_s: f64,
            $($(#[doc = $doc])* pub $name: Vec<f64>,)*
        }

        impl Trace {
            fn of(run: &Run) -> Self {
                let list = |of: fn(&Sample) -> f64| {
                    run.samples.iter().map(|s| settled(of(s))).collect()
                };
                Self { step_s: STEP_S, $($name: list($of),)* }
            }
        }
    };
}

trace! {
    /// m.
    ahead_m = |s| s.place_m[0];
    /// m.
    port_m = |s| s.place_m[1];
    /// m.
    height_m = |s| s.place_m[2];
    /// Bow up positive.
    trim_deg = |s| s.trim_rad.to_degrees();
    /// Starboard down positive.
    heel_deg = |s| s.heel_rad.to_degrees();
    /// To the left positive.
    yaw_deg = |s| s.yaw_rad.to_degrees();
    /// km/h.
    speed_km_h = |s| 3.6 * s.speed_m_s;
    /// To the left positive.
    yaw_rate_deg_s = |s| s.yaw_rate_rad_s.to_degrees();
    /// At the balance point.
    up_g = |s| s.acceleration_m_s2[2] / laws::constants::GRAVITY_M_S2;
    /// At the balance point.
    across_g = |s| s.acceleration_m_s2[1] / laws::constants::GRAVITY_M_S2;
    /// 0 to 1.
    throttle = |s| s.throttle;
    /// To the left positive.
    rudder_deg = |s| s.rudder_rad.to_degrees();
    /// Of the propeller.
    shaft_rpm = |s| s.shaft_rad_s * 30.0 / std::f64::consts::PI;
    /// From the pack.
    current_a = |s| s.current_a;
    /// Of the propeller's disc, 0 to 1.
    immersion = |s| s.immersion;
    /// Height of the water under the balance point, m.
    water_m = |s| s.water_m;
    /// 1 where it touches the water.
    touching = |s| f64::from(u8::from(s.touching));
}

/// A run for playing back.
#[derive(Debug, Serialize)]
#[allow(missing_docs)]
pub struct Recording<'a> {
    pub recording: &'static str,
    pub boat: &'a str,
    pub water: &'a str,
    pub wind: &'a str,
    pub hands: &'a str,
    pub start: &'a str,
    pub seed: u64,
    pub events: &'a [Happened],
    pub peaks: &'a Peaks,
    pub stopped: &'a Option<String>,
    pub surface: &'a Water,
    pub trace: &'a Trace,
}

impl PondAnswer {
    pub(super) fn of(ran: &Ran, loaded: &Loaded) -> Self {
        let (said, run) = (&ran.said, &ran.run);
        Self {
            boat: loaded.boat.name.clone(),
            condition: said.condition.clone(),
            water: said.water.clone(),
            wind: said.wind.clone(),
            hands: said.hands.clone(),
            start: said.start.clone(),
            seed: said.seed,
            events: run.events.iter().map(Happened::of).collect(),
            peaks: Peaks::of(run),
            stopped: stopped(run),
            says: says(run),
            runs: ran.count.as_ref().map(Counted::of),
            odds: ran.odds.iter().map(OddsAt::of).collect(),
            rests_on: "theory only, unvalidated".to_owned(),
            surface: Water::of(&ran.surface),
            trace: Trace::of(run),
            learned: Carried::of(&loaded.learned),
        }
    }

    /// Whether it ends upside down.
    pub fn ends_over(&self) -> bool {
        self.events.iter().any(|e| e.what.ends())
    }

    /// For playing back.
    pub fn recording(&self) -> Recording<'_> {
        Recording {
            recording: "run",
            boat: &self.boat,
            water: &self.water,
            wind: &self.wind,
            hands: &self.hands,
            start: &self.start,
            seed: self.seed,
            events: &self.events,
            peaks: &self.peaks,
            stopped: &self.stopped,
            surface: &self.surface,
            trace: &self.trace,
        }
    }
}

impl Water {
    fn of(surface: &Surface) -> Self {
        Self {
            sines: surface.sines(),
            packet_m: surface.packet_m(),
            growing_m: surface.growing_m(),
        }
    }
}

impl Happened {
    fn of(e: &Event) -> Self {
        Self {
            what: e.what,
            time: Number::exact(Kind::Time, e.time_s),
            speed: Number::exact(Kind::Speed, e.speed_m_s),
            period: e.period_s.map(|p| Number::exact(Kind::Time, p)),
            height: e.height_m.map(|h| Number::exact(Kind::Length, h)),
        }
    }
}

impl Peaks {
    fn of(run: &Run) -> Self {
        let g = |a: f64| significant(a / laws::constants::GRAVITY_M_S2);
        let p = &run.peaks;
        let forces = p.elements.iter().map(|load| Load {
            element: load.name.clone(),
            force_n: significant(load.most_n),
            time_s: significant(load.most_at_s),
        });
        Self {
            up_g: g(p.up_m_s2),
            bow_g: g(p.bow_m_s2),
            across_g: g(p.across_m_s2),
            forces: forces.collect(),
        }
    }
}

impl Counted {
    fn of(c: &Count) -> Self {
        let (share, low, high) = c.lost_share();
        Self {
            runs: c.runs,
            flipped: c.flipped,
            dived: c.dived,
            rolled: c.rolled,
            left_the_water: c.left,
            not_finished: c.stuck,
            lost: significant(share),
            lost_from: significant(low),
            lost_to: significant(high),
        }
    }
}

impl OddsAt {
    fn of((o, differs): &(Odds, Vec<String>)) -> Self {
        Self {
            speed: Number::exact(Kind::Speed, o.speed_m_s),
            ripple: Number::exact(Kind::Length, o.ripple_m),
            seconds: Number::exact(Kind::Time, super::ODDS_SECONDS),
            count: Counted::of(&o.count),
            lifting: Counted::of(&o.lifting),
            differs: differs.clone(),
        }
    }
}

fn stopped(run: &Run) -> Option<String> {
    Some(match run.stopped.as_ref()? {
        Stopped::Asked => "stopped on request".to_owned(),
        Stopped::Over(why) | Stopped::Stuck(why) => why.clone(),
    })
}

/// What a builder should take from it.
fn says(run: &Run) -> Vec<String> {
    let has = |what| run.events.iter().any(|e| e.what == what);
    let ended = match &run.stopped {
        Some(Stopped::Stuck(why)) => Some(format!(
            "The reckoning could not go on: {why}. What came before holds."
        )),
        Some(Stopped::Over(why)) => Some(format!("The run ends: {why}.")),
        _ => None,
    };
    let advice = if has(What::Flips) {
        "It blows over: weight forward, strut deeper or less nose up, less throttle into wind; `skimwright check --why` shows the flight margin."
    } else if has(What::Dives) {
        "It dives: weight aft, more lift ahead, less throttle into waves."
    } else if has(What::Trips) || has(What::Rolls) {
        "It goes over sideways: less rudder or speed, lower weight, bevelled outer chines; look at `tightest-turn` in `skimwright check`."
    } else if has(What::Hooks) {
        "It swings round faster than it was steered: less rudder throw, a rudder that holds longer, weight aft."
    } else if has(What::Hops) {
        "It hops: what drives it is named under `hops` in `skimwright check`; common cures are a raised or levelled strut and a flatter pad."
    } else if has(What::Ventilates) {
        "The propeller comes out: deeper strut or weight aft."
    } else if has(What::Leaves) {
        "It leaves the water and comes back on its feet."
    } else if run.samples.last().is_some_and(|s| s.lift_share < 0.5) {
        "It does not plane."
    } else {
        "It stays on the water."
    };
    ended.into_iter().chain([advice.to_owned()]).collect()
}
