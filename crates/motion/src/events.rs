//! What happened in a run, named as a builder would.

use crate::run::Sample;

/// What happened.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, utoipa::ToSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// Running surfaces carry more than half of it.
    Planes,
    /// Everything is clear of the water.
    Leaves,
    /// Back on it.
    Lands,
    /// Rises and falls again and again.
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

/// Carried by running surfaces for so long before it is said to plane, s.
const PLANES_S: f64 = 0.2;
/// Shortest flight that counts, s.
const FLIGHT_S: f64 = 0.05;
/// Crests in a row that are hopping, the longest pause between them, s, and how high the centre of gravity
/// rises from trough to crest, m.
const HOPS: usize = 4;
const PAUSE_S: f64 = 1.0;
const HOP_M: f64 = 0.005;
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
    /// Carried since when and at which speed.
    carried: Option<(f64, f64)>,
    left: Option<Sample>,
    highest_m: f64,
    out_since: Option<f64>,
    out_told: bool,
    hooked: bool,
    swing: Swing,
}

/// The centre of gravity's rising and falling, small wavering left out.
#[derive(Debug, Default)]
struct Swing {
    /// Lowest and highest since the last turn.
    trough_m: Option<f64>,
    crest: (f64, f64),
    falling: bool,
    /// Time of each crest and its height over the trough before, while it planes.
    crests: Vec<(f64, f64)>,
}

impl Swing {
    fn see(&mut self, time_s: f64, height_m: f64) {
        let trough = *self.trough_m.get_or_insert(height_m);
        if self.falling {
            self.trough_m = Some(trough.min(height_m));
            if height_m > trough + HOP_M {
                (self.falling, self.crest) = (false, (time_s, height_m));
            }
        } else if height_m > self.crest.1 || self.crest.0 == 0.0 {
            self.crest = (time_s, height_m);
        } else if height_m < self.crest.1 - HOP_M {
            self.falling = true;
            let rose = self.crest.1 - trough;
            if rose >= HOP_M {
                self.crests.push((self.crest.0, rose));
            }
            self.trough_m = Some(height_m);
        }
    }
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
        if s.lift_share <= 0.5 {
            self.carried = None;
        } else if !self.planing {
            let (since, speed_m_s) = *self.carried.get_or_insert((s.time_s, s.speed_m_s));
            if s.time_s - since >= PLANES_S {
                self.planing = true;
                events.push(Event {
                    time_s: since,
                    speed_m_s,
                    ..event(What::Planes, None, None)
                });
            }
        }
        if self.planing {
            self.swing.see(s.time_s, s.place_m[2]);
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
        self.hops(samples, events);
        events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    }

    /// The first stretch of them.
    fn hops(&self, samples: &[Sample], events: &mut Vec<Event>) {
        let mut stretches = self.swing.crests.chunk_by(|a, b| b.0 - a.0 < PAUSE_S);
        let Some(set) = stretches.find(|s| s.len() >= HOPS) else {
            return;
        };
        let (first, last) = (set[0].0, set[set.len() - 1].0);
        let began = samples.iter().find(|s| s.time_s >= first);
        let height = set.iter().map(|c| c.1).sum::<f64>() / set.len() as f64;
        events.push(Event {
            what: What::Hops,
            time_s: first,
            speed_m_s: began.map_or(0.0, |s| s.speed_m_s),
            period_s: Some((last - first) / (set.len() - 1) as f64),
            height_m: Some(height),
        });
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

#[cfg(test)]
mod tests {
    use super::*;

    fn crests(height: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
        let mut swing = Swing::default();
        (0..150).for_each(|i| swing.see(0.02 * f64::from(i), height(0.02 * f64::from(i))));
        swing.crests
    }

    #[test]
    fn a_swing_of_ten_millimetres_is_told_with_its_period_and_a_tremble_is_not() {
        let wave = |t: f64| 0.05 + 0.005 * (10.0 * t).sin();
        let found = crests(wave);
        assert_eq!(found.len(), 4); // the first rises from the middle, half as far
        for pair in found.windows(2) {
            // Sampled every 0.02 s.
            assert!((pair[1].0 - pair[0].0 - 0.2 * std::f64::consts::PI).abs() < 0.021);
            assert!((pair[1].1 - 0.01).abs() < 2e-4);
        }
        assert!(crests(|t| 0.05 + 0.002 * (40.0 * t).sin()).is_empty());
        assert!(crests(|t| 0.05 + 0.02 * t).is_empty());
    }

    /// Two seconds of a boat running level at 10 m/s with its propeller half in, changed at each moment.
    fn told(change: impl Fn(&mut Sample)) -> Vec<Event> {
        let still = Sample {
            time_s: 0.0,
            place_m: [0.0, 0.0, 0.03],
            trim_rad: 0.05,
            heel_rad: 0.0,
            yaw_rad: 0.0,
            speed_m_s: 10.0,
            slip_rad: 0.0,
            yaw_rate_rad_s: 0.0,
            acceleration_m_s2: [0.0; 3],
            throttle: 1.0,
            rudder_rad: 0.0,
            shaft_rad_s: 2000.0,
            current_a: 40.0,
            immersion: 0.5,
            lift_share: 0.9,
            touching: true,
            water_m: 0.0,
        };
        let (mut watch, mut events) = (Watch::default(), Vec::new());
        let samples: Vec<Sample> = (0..=100)
            .map(|i| {
                let mut s = Sample {
                    time_s: 0.02 * f64::from(i),
                    ..still
                };
                change(&mut s);
                s
            })
            .collect();
        samples.iter().for_each(|s| watch.see(s, &mut events));
        watch.end(&samples, &mut events);
        events.retain(|e| e.what != What::Planes);
        events
    }

    fn words(events: &[Event]) -> Vec<What> {
        events.iter().map(|e| e.what).collect()
    }

    /// Thrown up, it is away for `T` and rises by `g T^2 / 8`.
    #[test]
    fn a_flight_is_told_with_its_length_and_height() {
        let (from, away) = (0.5, 0.24);
        let events = told(|s| {
            let t = s.time_s - from;
            if t > 0.0 && t < away {
                s.touching = false;
                s.place_m[2] += 0.5 * 9.81 * t * (away - t);
            }
        });
        assert_eq!(words(&events), [What::Leaves, What::Lands]);
        assert!((events[0].period_s.unwrap() - away).abs() < 0.021);
        let rise = 9.81 * away * away / 8.0;
        assert!(
            (events[0].height_m.unwrap() / rise - 1.0).abs() < 0.4,
            "first sample is in the air"
        );
        assert!(
            told(|s| s.touching = s.time_s != 0.5).is_empty(),
            "a skip is none"
        );
    }

    #[test]
    fn a_propeller_in_the_air_is_told_once_and_only_under_throttle() {
        let out = |s: &mut Sample| {
            if s.time_s > 0.5 {
                s.immersion = 0.0;
            }
        };
        assert_eq!(words(&told(out)), [What::Ventilates]);
        let coasting = told(|s| {
            out(s);
            s.throttle = 0.0;
        });
        assert!(coasting.is_empty());
    }

    /// However it ends, it is called by what it did.
    #[test]
    fn an_end_is_called_by_what_it_was() {
        let late = |s: &Sample| s.time_s > 1.5;
        let end = |of: fn(&mut Sample)| {
            words(&told(|s| {
                if late(s) {
                    of(s);
                }
            }))
        };
        assert_eq!(end(|s| s.trim_rad = 1.45), [What::Flips]);
        assert_eq!(end(|s| s.trim_rad = -1.05), [What::Dives]);
        assert_eq!(end(|s| s.heel_rad = -1.95), [What::Rolls]);
        let sliding: fn(&mut Sample) = |s| (s.heel_rad, s.slip_rad) = (1.95, 0.5);
        assert_eq!(end(sliding), [What::Trips]);
        assert_eq!(end(|s| s.yaw_rate_rad_s = 7.0), [What::Hooks]);
        assert!(end(|s| s.heel_rad = 0.6).is_empty());
    }
}
