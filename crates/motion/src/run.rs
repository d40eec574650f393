//! Six degrees of freedom in time.
//!
//! Bogacki and Shampine's pair with error control (`laws::numerics::ode`) between samples: forces have corners, and a
//! boat on its pads rolls too quickly for long steps. The water is asked of its own sines wherever and whenever an
//! element wants it. An integration that cannot go on, or a boat that has left
//! the attitudes the elements know, stops and keeps what it has.

use craft::Craft;
use craft::element::Wrench;
use craft::elements::blade::Role;
use craft::elements::found::Found;
use craft::motion::{Motion, Surroundings, WaterSurface};
use craft::steady::Running;
use laws::numerics::ode::{Accuracy, Stuck, integrate_third};
use nalgebra::Vector3;
use std::cell::Cell;
use std::ops::ControlFlow;

use crate::body::{Body, Held, SCALE, STATES, State};
use crate::driver::{Driver, Nerves};
use crate::events::{Event, Watch};
use crate::script::{Script, ScriptError, Seen};
use crate::turning::Circle;
use crate::water::{Near, Surface, Water, WaterError};

/// Most wind, m/s: a storm.
pub const STORM_M_S: f64 = 25.0;
/// Between samples, s.
pub const STEP_S: f64 = 0.02;
/// Longest step in time, s.
const LONGEST_STEP_S: f64 = 0.01;
/// A running boat comes into waves over this long, and over no less than so many of its lengths, s.
const INTO_WAVES_S: f64 = 0.5;
const INTO_WAVES_LENGTHS: f64 = 4.0;
/// A boat that ripple throws about is followed less closely: how high and how often it is thrown stays the same. On flat
/// water twice the error would damp a hop that grows.
const IN_RIPPLE: f64 = 2.0;
/// Longest run, s.
const LONGEST_S: f64 = 600.0;

/// What the boat meets and what is done with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Conditions {
    /// Ahead.
    pub water: Water,
    /// World axes, m/s: from ahead is negative x.
    pub wind_m_s: Vector3<f64>,
    /// Hands.
    pub script: Script,
    /// Where it starts: steady at a speed of the curve, or at rest.
    pub start: Start,
    /// s.
    pub seconds: f64,
    /// Of the ripple.
    pub seed: u64,
}

/// Where a run starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Start {
    /// Afloat, everything still.
    Rest,
    /// Running steadily.
    Running(Running),
    /// The same with sway, yaw and rudder settled: the course is held from the first moment.
    Course(Circle),
}

/// Why a run cannot be begun.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RunError {
    /// See [`WaterError`].
    #[error(transparent)]
    Water(#[from] WaterError),
    /// See [`ScriptError`].
    #[error(transparent)]
    Script(#[from] ScriptError),
    /// Nobody is out.
    #[error("a wind of {0} m/s is a storm: no boat is run above 25 m/s")]
    Storm(f64),
    /// No time, or too much.
    #[error("a run lasts from 0.1 to 600 s, not {0} s")]
    Seconds(f64),
    /// Nothing to drive it.
    #[error("the boat has no drive: it can only drift")]
    NoDrive,
}

/// Why a run ended before its time.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub enum Stopped {
    /// The builder, or the program, said so.
    Asked,
    /// It lies on its side, its back or its nose: the elements know nothing of it.
    Over(String),
    /// The integrator could not keep its error, at a time and a place.
    Stuck(String),
}

/// A moment.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Sample {
    /// s.
    pub time_s: f64,
    /// Of the centre of gravity: ahead, to port, above still water, m.
    pub place_m: [f64; 3],
    /// Bow up, rad.
    pub trim_rad: f64,
    /// Starboard down, rad.
    pub heel_rad: f64,
    /// Bow to port, rad.
    pub yaw_rad: f64,
    /// Over ground, m/s.
    pub speed_m_s: f64,
    /// Between where it points and where it goes, bow to port of it, rad.
    pub slip_rad: f64,
    /// Bow to port, rad/s.
    pub yaw_rate_rad_s: f64,
    /// At the centre of gravity along the boat's own axes, gravity not in it, m/s2.
    pub acceleration_m_s2: [f64; 3],
    /// 0 to 1.
    pub throttle: f64,
    /// rad.
    pub rudder_rad: f64,
    /// First propeller, rad/s.
    pub shaft_rad_s: f64,
    /// The hardest-worked pack's, A.
    pub current_a: f64,
    /// Of the first propeller's disc.
    pub immersion: f64,
    /// Lift of running surfaces over weight.
    pub lift_share: f64,
    /// Some running surface or the hull is in the water.
    pub touching: bool,
    /// Water surface above still water at the middle of the boat, m.
    pub water_m: f64,
}

/// Pitched or heeled further than this a boat no longer runs, rad (20 and 45 degrees; judgement).
const RUNS_TRIM_RAD: f64 = 0.35;
const RUNS_HEEL_RAD: f64 = 0.79;

impl Sample {
    /// Neither standing on its tail nor lying over.
    pub fn upright(&self) -> bool {
        self.trim_rad.abs() < RUNS_TRIM_RAD && self.heel_rad.abs() < RUNS_HEEL_RAD
    }
}

/// Deviations above the mean that a blow is once in some thousand times.
pub const RARE: f64 = 4.0;

/// Largest of each, for strength: of a boat that runs, until it first pitches or heels further than one does.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Peaks {
    /// Up at the centre of gravity, m/s2.
    pub up_m_s2: f64,
    /// Up at the bow, m/s2.
    pub bow_m_s2: f64,
    /// Sideways, m/s2.
    pub across_m_s2: f64,
    /// Of each element.
    pub elements: Vec<Load>,
}

/// What an element bears in a run.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize)]
pub struct Load {
    /// The element's.
    pub name: String,
    /// Largest force at a sample, N, and when, s.
    pub most_n: f64,
    /// s.
    pub most_at_s: f64,
    /// Over the samples: how many, their sum, N, and the sum of their squares, N2.
    samples: f64,
    sum_n: f64,
    squares_n2: f64,
}

impl Load {
    /// Force as it is once in some thousand times, N: four deviations above the mean. The largest at a sample is chance
    /// where blows are short: of two runs alike one met it and the other did not.
    pub fn rare_n(&self) -> f64 {
        let mean = self.sum_n / self.samples.max(1.0);
        let variance = self.squares_n2 / self.samples.max(1.0) - mean * mean;
        mean + RARE * variance.max(0.0).sqrt()
    }

    fn add(&mut self, force_n: f64, time_s: f64) {
        self.samples += 1.0;
        self.sum_n += force_n;
        self.squares_n2 += force_n * force_n;
        if force_n > self.most_n {
            (self.most_n, self.most_at_s) = (force_n, time_s);
        }
    }
}

/// A finished run.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Run {
    /// At even steps.
    pub samples: Vec<Sample>,
    /// In order.
    pub events: Vec<Event>,
    /// For strength.
    pub peaks: Peaks,
    /// Why it ended early.
    pub stopped: Option<Stopped>,
    /// Charge drawn, C.
    pub charge_c: f64,
}

/// Runs it by its script. `progress` is told the share done and may stop it.
///
/// # Errors
/// [`RunError`] for what cannot be begun; what cannot go on is told in [`Run::stopped`].
pub fn run(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    progress: &mut dyn FnMut(f64) -> ControlFlow<()>,
) -> Result<Run, RunError> {
    run_by(craft, throw_rad, conditions, Driver::FlatOut, progress)
}

/// The same by a driver who may lift off.
///
/// # Errors
/// [`RunError`].
pub fn run_by(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    driver: Driver,
    progress: &mut dyn FnMut(f64) -> ControlFlow<()>,
) -> Result<Run, RunError> {
    run_within(craft, throw_rad, conditions, driver, 1.0, progress)
}

/// The same with another error allowed in a step: 1 is usual, 0.1 a tenth of it.
///
/// # Errors
/// [`RunError`].
pub fn run_within(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    driver: Driver,
    error: f64,
    progress: &mut dyn FnMut(f64) -> ControlFlow<()>,
) -> Result<Run, RunError> {
    let mut told = |_: &Run, done: f64| progress(done);
    Ok(Runner::of(craft, throw_rad, conditions, driver, error)?.go(&mut told))
}

/// The same on full throttle for as long as `more` wants, who sees the run as far as it is.
///
/// # Errors
/// [`RunError`].
pub fn run_while(
    craft: &Craft,
    throw_rad: f64,
    conditions: &Conditions,
    more: &mut dyn FnMut(&Run) -> bool,
) -> Result<Run, RunError> {
    let mut runner = Runner::of(craft, throw_rad, conditions, Driver::FlatOut, 1.0)?;
    Ok(runner.go(&mut |run, _| match more(run) {
        true => ControlFlow::Continue(()),
        false => ControlFlow::Break(()),
    }))
}

impl Conditions {
    /// Flat water and the boat's own declared wind.
    pub fn flat(craft: &Craft, script: Script, start: Start, seconds: f64) -> Self {
        Self {
            water: Water::Flat,
            wind_m_s: craft.surroundings().wind_m_s,
            script,
            start,
            seconds,
            seed: 0,
        }
    }

    /// The water that a boat meets: a running one comes into waves from flat water.
    ///
    /// # Errors
    /// [`WaterError`].
    pub fn surface(&self, craft: &Craft) -> Result<Surface, WaterError> {
        let surface = Surface::new(&self.water, self.seed)?;
        let speed_m_s = match &self.start {
            Start::Rest => return Ok(surface),
            Start::Running(running) => running.speed_m_s,
            Start::Course(circle) => circle.speed_m_s,
        };
        let length = craft.length_m();
        let over = (INTO_WAVES_S * speed_m_s).max(INTO_WAVES_LENGTHS * length);
        Ok(surface.growing(length, length + over))
    }
}

fn checked(craft: &Craft, throw_rad: f64, c: &Conditions) -> Result<(), RunError> {
    if craft.propellers().is_empty() {
        return Err(RunError::NoDrive);
    }
    let wind = c.wind_m_s.norm();
    if wind.is_nan() || wind > STORM_M_S {
        return Err(RunError::Storm(wind));
    }
    if !(0.1..=LONGEST_S).contains(&c.seconds) {
        return Err(RunError::Seconds(c.seconds));
    }
    Ok(c.script.check(throw_rad)?)
}

struct Runner<'a> {
    body: Body<'a>,
    surface: Surface,
    throw_rad: f64,
    conditions: &'a Conditions,
    wind_m_s: Vector3<f64>,
    servo: Servo,
    nerves: Nerves,
    /// Allowed in a step, over the usual.
    error: f64,
    /// Mean step of the last piece, s.
    stride_s: Cell<f64>,
    /// Largest accelerations between samples: up, up at the bow, sideways.
    highest: Cell<[f64; 3]>,
}

impl<'a> Runner<'a> {
    fn of(
        craft: &'a Craft,
        throw_rad: f64,
        conditions: &'a Conditions,
        driver: Driver,
        error: f64,
    ) -> Result<Self, RunError> {
        checked(craft, throw_rad, conditions)?;
        Ok(Self {
            body: Body::new(craft),
            surface: conditions.surface(craft)?,
            throw_rad,
            conditions,
            wind_m_s: conditions.wind_m_s,
            servo: Servo::of(craft, conditions, throw_rad),
            nerves: driver.nerves(),
            error,
            stride_s: Cell::new(LONGEST_STEP_S),
            highest: Cell::new([0.0; 3]),
        })
    }

    fn go(&mut self, told: &mut dyn FnMut(&Run, f64) -> ControlFlow<()>) -> Run {
        let mut y = self.start();
        let mut t = 0.0;
        let mut watch = Watch::default();
        let mut runs = true;
        let mut run = Run {
            samples: Vec::new(),
            events: Vec::new(),
            peaks: Peaks::default(),
            stopped: None,
            charge_c: 0.0,
        };
        let rippled = matches!(self.conditions.water, Water::Ripple { .. });
        let error = if rippled { IN_RIPPLE } else { 1.0 } * self.error;
        let accuracy = Accuracy {
            relative: 3e-3 * error,
            absolute: 3e-4 * error,
            longest: LONGEST_STEP_S,
            most_steps: 4000,
        };
        let steps = (self.conditions.seconds / STEP_S).round() as usize;
        for step in 0..=steps {
            self.steer(t, &y);
            let sample = self.sample(t, &y, runs.then_some(&mut run.peaks));
            runs &= sample.upright();
            self.nerves.see(&sample);
            watch.see(&sample, &mut run.events);
            run.samples.push(sample);
            if let Some(why) = over(&sample) {
                run.stopped = Some(Stopped::Over(why));
                break;
            }
            if step == steps {
                break;
            }
            if told(&run, step as f64 / steps as f64).is_break() {
                run.stopped = Some(Stopped::Asked);
                break;
            }
            let to = (step + 1) as f64 * STEP_S;
            match self.advance(t, to, &y, &accuracy) {
                Ok(next) => y = next,
                Err(stuck) => {
                    let why = format!(
                        "no step small enough at {:.3} s, {:.1} m along the course",
                        stuck.at, sample.place_m[0]
                    );
                    run.stopped = Some(Stopped::Stuck(why));
                    break;
                }
            }
            t = to;
        }
        watch.end(&run.samples, &mut run.events);
        run.charge_c = y[13];
        run
    }

    fn start(&self) -> State {
        let craft = self.body.craft;
        let running = match self.conditions.start {
            Start::Rest => craft.at_rest(),
            Start::Running(running) => running,
            Start::Course(circle) => {
                let shafts: Vec<f64> = craft
                    .shafts_rad_s(circle.shaft_rad_s, circle.speed_m_s)
                    .collect();
                return self.body.state(&circle.motion(&craft.cg_m()), &shafts);
            }
        };
        let shafts: Vec<f64> = craft
            .shafts_rad_s(running.shaft_rad_s, running.speed_m_s)
            .collect();
        self.body.state(&running.motion(), &shafts)
    }

    fn held(&self, t: f64, motion: &Motion) -> Held {
        Held {
            throttle: self.conditions.script.throttle_at(t) * self.nerves.share(t),
            rudder_rad: self.servo.at(t, self.asked(t, motion)),
        }
    }

    /// Rudder the driver asks for: while the course is held, about the rudder that holds it straight.
    fn asked(&self, t: f64, motion: &Motion) -> f64 {
        let script = &self.conditions.script;
        if let Some(rudder_rad) = script.rudder_at(t) {
            return rudder_rad;
        }
        let held = self.servo.trim_rad + self.seen(motion).rudder_rad();
        held.clamp(-self.throw_rad, self.throw_rad)
    }

    fn seen(&self, motion: &Motion) -> Seen {
        let craft = self.body.craft;
        let behind = |at: Vector3<f64>| craft.cg_m().x - at.x;
        Seen {
            yaw_rad: yaw(motion),
            rate_rad_s: motion.rate_rad_s.z,
            speed_m_s: motion.velocity_m_s.norm(),
            arm_m: craft.steered_at_m().map_or(0.5 * craft.length_m(), behind),
        }
    }

    /// At each sample the servo is looked at, and the driver trims.
    fn steer(&mut self, t: f64, y: &State) {
        let motion = self.body.motion(t, y);
        let asked = self.asked(t, &motion);
        self.servo.settle(t, asked);
        if self.conditions.script.rudder_at(t).is_none() {
            let trim_rad = self.servo.trim_rad + self.seen(&motion).trimmed_rad(STEP_S);
            self.servo.trim_rad = trim_rad.clamp(-self.throw_rad, self.throw_rad);
        }
    }

    /// The water near the boat at a moment.
    fn near(&self, t: f64, y: &State) -> Near<'_> {
        Near::new(&self.surface, [y[0], y[1]], t)
    }

    fn around<'p>(&self, near: &'p Near) -> Surroundings<'p> {
        let still = self.body.craft.surroundings();
        let wind_m_s = self.wind_m_s;
        if near.is_still() {
            return Surroundings { wind_m_s, ..still };
        }
        Surroundings {
            water: near,
            wind_m_s,
            ..still
        }
    }

    /// Over one sample, with every number in its own measure.
    fn advance(&self, from: f64, to: f64, y: &State, accuracy: &Accuracy) -> Result<State, Stuck> {
        let scaled: State = std::array::from_fn(|i| y[i] / SCALE[i]);
        let rates = |t: f64, s: &State| {
            let y: State = std::array::from_fn(|i| s[i] * SCALE[i]);
            let d = self.rates(t, &y);
            std::array::from_fn(|i| d[i] / SCALE[i])
        };
        // Begins with the steps that served a moment ago, a little longer and all alike: a first one too long is
        // three evaluations lost, and so is a crumb at the end.
        let wanted = (1.4 * self.stride_s.get()).clamp(1e-5, accuracy.longest);
        let begun = Accuracy {
            longest: (to - from) / ((to - from) / wanted).round().max(1.0) * (1.0 + 1e-9),
            ..*accuracy
        };
        let mut steps = 0;
        let end = integrate_third(rates, from, to, scaled, &begun, |t, s, slope| {
            steps += 1;
            let y: State = std::array::from_fn(|i| s[i] * SCALE[i]);
            self.feel(t, &y, &std::array::from_fn(|i| slope[7 + i] * SCALE[7 + i]));
        })?;
        self.stride_s.set((to - from) / f64::from(steps.max(1)));
        Ok(std::array::from_fn(|i| end[i] * SCALE[i]))
    }

    /// What a motion log at the centre of gravity would feel, less gravity's own, boat axes, m/s2.
    fn felt(&self, motion: &Motion, y: &State, linear: Vector3<f64>) -> Vector3<f64> {
        let gravity = self.body.craft.surroundings().gravity_m_s2;
        let velocity = Vector3::new(y[7], y[8], y[9]);
        linear + motion.rate_rad_s.cross(&velocity) + (motion.up() - Vector3::z()) * gravity
    }

    /// Keeps the largest of what is felt; `slope` has the accelerations along and about the boat's axes.
    fn feel(&self, t: f64, y: &State, slope: &[f64; 6]) {
        let craft = self.body.craft;
        let motion = self.body.motion(t, y);
        let felt = self.felt(&motion, y, Vector3::new(slope[0], slope[1], slope[2]));
        let arm = craft.length_m() - craft.cg_m().x;
        let [up, bow, across] = self.highest.get();
        // Turning about the axis to port: bow down is positive.
        self.highest.set([
            up.max(felt.z),
            bow.max(felt.z - slope[4] * arm),
            across.max(felt.y.abs()),
        ]);
    }

    fn rates(&self, t: f64, y: &State) -> [f64; STATES] {
        let held = self.held(t, &self.body.motion(t, y));
        let near = self.near(t, y);
        self.body.rates(t, y, &self.around(&near), &held)
    }

    fn sample(&self, t: f64, y: &State, peaks: Option<&mut Peaks>) -> Sample {
        let craft = self.body.craft;
        let motion = self.body.motion(t, y);
        let held = self.held(t, &motion);
        let near = self.near(t, y);
        let (around, found) = (self.around(&near), Found::default());
        let around = around.asked_together(&found);
        let controls = self.body.controls(y, &held);
        let each: Vec<Wrench> = (craft.elements())
            .map(|e| e.wrench(&motion, &around, &controls))
            .collect();
        let total = each.iter().copied().sum();
        let a = self.body.accelerations_of(total, &motion, &around);
        let velocity = Vector3::new(y[7], y[8], y[9]);
        let felt = self.felt(&motion, y, Vector3::new(a[0], a[1], a[2]));
        self.feel(t, y, &std::array::from_fn(|i| a[i]));
        let contacts = craft.elements().filter_map(|e| e.contact(&motion, &around));
        let (mut lift, mut wet) = (0.0, false);
        for contact in contacts {
            lift += contact.lift_n;
            wet |= contact.keel_length_m > 1e-3;
        }
        let sample = Sample {
            time_s: t,
            place_m: [y[0], y[1], y[2]],
            trim_rad: trim(&motion),
            heel_rad: heel(&motion),
            yaw_rad: yaw(&motion),
            speed_m_s: velocity.norm(),
            slip_rad: (-velocity.y).atan2(velocity.x.max(1e-3)),
            yaw_rate_rad_s: motion.rate_rad_s.z,
            acceleration_m_s2: [felt.x, felt.y, felt.z],
            throttle: held.throttle,
            rudder_rad: held.rudder_rad,
            shaft_rad_s: y[14],
            current_a: self.current_a(y, held.throttle),
            immersion: craft
                .propellers()
                .first()
                .map_or(0.0, |p| p.immersion(&motion, &around)),
            lift_share: lift / craft.weight_n(),
            touching: wet || buoyed(craft, &each),
            water_m: near.height_m(y[0], y[1], t),
        };
        if let Some(peaks) = peaks.filter(|_| sample.upright()) {
            self.keep_peaks(peaks, t, &each);
        }
        sample
    }

    /// Of the hardest-worked pack.
    fn current_a(&self, y: &State, throttle: f64) -> f64 {
        let each = self.body.craft.circuits().iter().zip(&y[14..]);
        each.map(|(c, shaft)| throttle * crate::body::motor_a(c, shaft * c.gear, throttle))
            .fold(0.0, f64::max)
    }

    fn keep_peaks(&self, peaks: &mut Peaks, time_s: f64, each: &[Wrench]) {
        let [up, bow, across] = self.highest.get();
        (peaks.up_m_s2, peaks.bow_m_s2, peaks.across_m_s2) = (up, bow, across);
        for (i, (element, wrench)) in self.body.craft.elements().zip(each).enumerate() {
            if i == peaks.elements.len() {
                peaks.elements.push(Load {
                    name: element.name().to_owned(),
                    ..Load::default()
                });
            }
            peaks.elements[i].add(wrench.force_n.norm(), time_s);
        }
    }
}

/// The rudder's servo: it follows what is asked as fast as it goes.
struct Servo {
    rate_rad_s: f64,
    /// At which the boat runs straight, rad.
    trim_rad: f64,
    /// When it was last looked at, and where it stood.
    stood: (f64, f64),
}

impl Servo {
    fn of(craft: &Craft, conditions: &Conditions, throw_rad: f64) -> Self {
        let rudders = craft.blades().iter().filter(|b| b.role() == Role::Rudder);
        let trim_rad = match conditions.start {
            Start::Course(circle) => circle.rudder_rad,
            Start::Running(running) => craft.course_rad(&running).clamp(-throw_rad, throw_rad),
            Start::Rest => 0.0,
        };
        Self {
            rate_rad_s: rudders.map(|b| b.servo_rad_s()).fold(f64::MAX, f64::min),
            trim_rad,
            stood: (0.0, trim_rad),
        }
    }

    fn at(&self, t: f64, asked_rad: f64) -> f64 {
        let (since, stood) = self.stood;
        let reach = self.rate_rad_s * (t - since).max(0.0);
        stood + (asked_rad - stood).clamp(-reach, reach)
    }

    fn settle(&mut self, t: f64, asked_rad: f64) {
        let now = self.at(t, asked_rad);
        self.stood = (t, now);
    }
}

/// The hull floats by something of its weight; `each` element's force.
fn buoyed(craft: &Craft, each: &[Wrench]) -> bool {
    craft
        .elements()
        .zip(each)
        .filter(|(e, _)| e.name() == "buoyancy")
        .any(|(_, w)| w.force_n.norm() > 1e-3 * craft.weight_n())
}

/// Bow up, rad.
pub fn trim(motion: &Motion) -> f64 {
    (motion.attitude * Vector3::x()).z.clamp(-1.0, 1.0).asin()
}

/// Starboard down, rad.
pub fn heel(motion: &Motion) -> f64 {
    let up = motion.up();
    up.y.atan2(up.z)
}

/// Bow to port, rad.
pub fn yaw(motion: &Motion) -> f64 {
    let ahead = motion.attitude * Vector3::x();
    ahead.y.atan2(ahead.x)
}

/// Past these it is no longer a boat that runs.
fn over(sample: &Sample) -> Option<String> {
    let words = if sample.trim_rad > 1.4 {
        "it stands on its tail and goes over backwards"
    } else if sample.trim_rad < -1.0 {
        "its bow is under and it goes over forwards"
    } else if sample.heel_rad.abs() > 1.9 {
        "it lies on its side"
    } else {
        return None;
    };
    Some(format!(
        "{words} at {:.2} s, {:.1} m along the course",
        sample.time_s, sample.place_m[0]
    ))
}
