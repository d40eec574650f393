//! What happened in a run, named as a builder would.

use crate::run::Sample;

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// Running surfaces carry more than half of it.
    Planes,
    /// Everything is clear of the water.
    Leaves,
    /// Back on it.
    Lands,
    /// Leaves and lands again and again.
    Hops,
    /// The propeller is out while it drives.
    Ventilates,
    /// Turns into its course at a stroke.
    Hooks,
    /// Falls over its own chine or fin while sliding sideways.
    Trips,
    /// Over on its side without sliding.
    Rolls,
    /// Bow up and over.
    Flips,
    /// Bow under.
    Dives,
}

impl What {
    /// For a sentence.
    pub fn word(self) -> &'static str {
        match self {
            Self::Planes => "planes",
            Self::Leaves => "leaves the water",
            Self::Lands => "lands",
            Self::Hops => "hops",
            Self::Ventilates => "ventilates",
            Self::Hooks => "hooks",
            Self::Trips => "trips",
            Self::Rolls => "rolls over",
            Self::Flips => "flips",
            Self::Dives => "dives",
        }
    }

    /// The run is over with it.
    pub fn ends(self) -> bool {
        matches!(self, Self::Trips | Self::Rolls | Self::Flips | Self::Dives)
    }
}

/// One of them.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Event {
    /// What.
    pub what: What,
    /// s.
    pub time_s: f64,
    /// m/s.
    pub speed_m_s: f64,
    /// In the air, or from hop to hop, s.
    pub period_s: Option<f64>,
    /// How high the centre of gravity rose, m.
    pub height_m: Option<f64>,
}

/// Shortest flight that counts, s.
const FLIGHT_S: f64 = 0.05;
/// Flights in a row that are hopping, and the longest pause between, s.
const HOPS: usize = 3;
const PAUSE_S: f64 = 1.0;
/// Propeller out for so long, s.
const OUT_S: f64 = 0.06;
/// Turning that nobody steered, rad/s.
const HOOK_RAD_S: f64 = 6.0;
/// Sliding, rad.
const SLIDE_RAD: f64 = 0.35;

/// Looks at each sample once.
#[derive(Debug, Default)]
pub struct Watch {
    planing: bool,
    left: Option<Sample>,
    highest_m: f64,
    out_since: Option<f64>,
    out_told: bool,
    hooked: bool,
    /// Time and height of each flight.
    flights: Vec<(f64, f64, f64)>,
}

impl Watch {
    /// The next moment.
    pub fn see(&mut self, s: &Sample, events: &mut Vec<Event>) {
        let event = |what, period_s, height_m| Event {
            what,
            time_s: s.time_s,
            speed_m_s: s.speed_m_s,
            period_s,
            height_m,
        };
        if s.lift_share > 0.5 && !self.planing {
            self.planing = true;
            events.push(event(What::Planes, None, None));
        }
        self.flight(s, events);
        self.propeller(s, events);
        if s.yaw_rate_rad_s.abs() > HOOK_RAD_S && !self.hooked && s.touching {
            self.hooked = true;
            events.push(event(What::Hooks, None, None));
        }
    }

    fn flight(&mut self, s: &Sample, events: &mut Vec<Event>) {
        match (self.left, s.touching) {
            (None, false) => {
                self.left = Some(*s);
                self.highest_m = s.place_m[2];
            }
            (Some(_), false) => self.highest_m = self.highest_m.max(s.place_m[2]),
            (Some(from), true) => {
                self.left = None;
                let flown = s.time_s - from.time_s;
                if flown >= FLIGHT_S {
                    let rose = (self.highest_m - from.place_m[2]).max(0.0);
                    self.flights.push((from.time_s, flown, rose));
                    events.push(Event {
                        what: What::Leaves,
                        time_s: from.time_s,
                        speed_m_s: from.speed_m_s,
                        period_s: Some(flown),
                        height_m: Some(rose),
                    });
                    events.push(Event {
                        what: What::Lands,
                        time_s: s.time_s,
                        speed_m_s: s.speed_m_s,
                        period_s: None,
                        height_m: None,
                    });
                }
            }
            (None, true) => {}
        }
    }

    fn propeller(&mut self, s: &Sample, events: &mut Vec<Event>) {
        if s.immersion > 0.05 || s.throttle < 0.05 {
            self.out_since = None;
            self.out_told = false;
            return;
        }
        let since = *self.out_since.get_or_insert(s.time_s);
        if s.time_s - since >= OUT_S && !self.out_told {
            self.out_told = true;
            events.push(Event {
                what: What::Ventilates,
                time_s: since,
                speed_m_s: s.speed_m_s,
                period_s: None,
                height_m: None,
            });
        }
    }

    /// What only the whole run shows.
    pub fn end(&self, samples: &[Sample], events: &mut Vec<Event>) {
        if let Some(last) = samples.last() {
            self.ending(last, events);
        }
        for set in self.flights.windows(HOPS) {
            let pause = |w: &[(f64, f64, f64)]| w[1].0 - w[0].0;
            if set.windows(2).all(|w| pause(w) < PAUSE_S) {
                let (first, last) = (set[0], set[HOPS - 1]);
                let speed = samples
                    .iter()
                    .find(|s| s.time_s >= first.0)
                    .map_or(0.0, |s| s.speed_m_s);
                events.push(Event {
                    what: What::Hops,
                    time_s: first.0,
                    speed_m_s: speed,
                    period_s: Some((last.0 - first.0) / (HOPS - 1) as f64),
                    height_m: Some(set.iter().map(|f| f.2).fold(0.0, f64::max)),
                });
                break;
            }
        }
        events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    }

    fn ending(&self, last: &Sample, events: &mut Vec<Event>) {
        let what = if last.trim_rad > 1.0 {
            What::Flips
        } else if last.trim_rad < -0.7 {
            What::Dives
        } else if last.heel_rad.abs() > 1.3 && last.slip_rad.abs() > SLIDE_RAD {
            What::Trips
        } else if last.heel_rad.abs() > 1.3 {
            What::Rolls
        } else {
            return;
        };
        events.push(Event {
            what,
            time_s: last.time_s,
            speed_m_s: last.speed_m_s,
            period_s: None,
            height_m: None,
        });
    }
}
