//! A state with all its numbers.

use crate::craft::Craft;
use crate::drive::{Demand, PropellerLoad};
use crate::elements::found::Found;
use crate::launch::Grip;
use crate::motion::Motion;
use crate::solution::{Attitude, DriveState, ElementForce, RunningState, WettedSurface};
use crate::steady::Running;

impl Craft {
    /// What each propeller asks of its drive on still water, the first turning so.
    pub fn demands(&self, motion: &Motion, shaft_rad_s: f64) -> impl Iterator<Item = Demand> {
        let around = self.surroundings();
        let each = self.propellers().iter().zip(self.circuits());
        let each = each.zip(self.shafts_rad_s(shaft_rad_s, motion.velocity_m_s.norm()));
        each.map(move |((propeller, circuit), shaft_rad_s)| {
            let load = propeller.load(motion, &around, shaft_rad_s);
            circuit.demand(shaft_rad_s, load.torque_n_m)
        })
    }

    /// The hardest-working drive's throttle; above 1 the drive cannot hold the state.
    pub fn throttle(&self, motion: &Motion, shaft_rad_s: f64) -> f64 {
        let each = self.demands(motion, shaft_rad_s);
        each.map(|d| d.throttle).fold(0.0, f64::max)
    }

    /// Throttle that holds a running state; above 1 the drive cannot.
    pub fn holding(&self, running: &Running) -> f64 {
        self.throttle(&running.motion(), running.shaft_rad_s)
    }

    pub(crate) fn loads(&self, running: &Running) -> Vec<PropellerLoad> {
        let (motion, around) = (running.motion(), self.surroundings());
        let each = self.propellers().iter();
        let each = each.zip(self.shafts_rad_s(running.shaft_rad_s, running.speed_m_s));
        each.map(|(p, shaft)| p.load(&motion, &around, shaft))
            .collect()
    }

    /// Part of the running surfaces' and buoyancy's lift that comes from speed, 0 to 1; as
    /// [`RunningState::dynamic_share`].
    pub(crate) fn dynamic_share(&self, running: &Running) -> f64 {
        let (dynamic, still) = self.carried_n(running);
        dynamic / (dynamic + still).max(1e-9)
    }

    /// Share of the weight that the water carries on hull and running surfaces.
    pub(crate) fn on_the_water(&self, running: &Running) -> f64 {
        let (dynamic, still) = self.carried_n(running);
        (dynamic + still) / self.weight_n()
    }

    /// Lift of running surfaces, and buoyancy, N.
    fn carried_n(&self, running: &Running) -> (f64, f64) {
        let (motion, still, found) = (running.motion(), self.surroundings(), Found::default());
        let around = still.asked_together(&found);
        let controls = self.controls();
        let contacts = self.elements().filter_map(|e| e.contact(&motion, &around));
        let afloat = self.elements().filter(|e| e.name() == "buoyancy");
        (
            contacts.map(|w| w.lift_n).sum(),
            afloat
                .map(|e| e.wrench(&motion, &around, &controls).force_n.z)
                .sum(),
        )
    }

    /// A state with all its numbers.
    pub(crate) fn describe(&self, running: &Running) -> RunningState {
        self.described(running, self.pushes_back(running))
    }

    /// With the throttle wide open at a speed and an attitude that nothing need hold: the mean of a run in time.
    pub fn wide_open_at(&self, speed_m_s: f64, attitude: Attitude) -> RunningState {
        let mut running = Running {
            speed_m_s,
            attitude,
            shaft_rad_s: 0.0,
            drift_rad: 0.0,
        };
        let loads = self.wide_open(&running.motion(), &self.surroundings(), Grip::Settled);
        running.shaft_rad_s = loads.first().map_or(0.0, |l| l.shaft_rad_s);
        let state = self.described(&running, false);
        RunningState {
            // It neither gains nor loses: what pushes is what is needed.
            thrust_needed_n: state.thrust_available_n,
            ..state
        }
    }

    /// The same where it is known whether it pushes back.
    pub(crate) fn described(&self, running: &Running, pushes_back: bool) -> RunningState {
        let (motion, still, found) = (running.motion(), self.surroundings(), Found::default());
        let around = still.asked_together(&found);
        let mut controls = self.controls();
        self.turn(&mut controls, running.shaft_rad_s, running.speed_m_s);
        let total = self.total_in(&motion, &around, &controls);
        self.hold_course(&motion, &around, &mut controls, &total);
        let forces: Vec<ElementForce> = self
            .elements()
            .map(|e| {
                let wrench = e.wrench(&motion, &around, &controls);
                ElementForce {
                    name: e.name().to_owned(),
                    force_n: wrench.force_n,
                    moment_n_m: wrench.moment_n_m,
                }
            })
            .collect();
        let wetted: Vec<WettedSurface> = self
            .elements()
            .filter_map(|e| e.contact(&motion, &around))
            .collect();
        let loads = self.loads(running);
        RunningState {
            speed_m_s: running.speed_m_s,
            throttle: self.holding(running),
            attitude: running.attitude,
            drift_rad: running.drift_rad,
            forces,
            wetted,
            drives: self.drive_states(&loads),
            thrust_needed_n: loads.iter().map(|l| l.thrust_n).sum(),
            thrust_available_n: self
                .wide_open(&motion, &around, Grip::Settled)
                .iter()
                .map(|l| l.thrust_n)
                .sum(),
            notes: self
                .elements()
                .flat_map(|e| e.notes(&motion, &around, &controls))
                .collect(),
            statically_stable: pushes_back,
        }
    }

    fn drive_states(&self, loads: &[PropellerLoad]) -> Vec<DriveState> {
        let each = self.circuits().iter().zip(self.drive_names()).zip(loads);
        each.map(|((circuit, name), load)| crate::drive::drive_state(circuit, name, load))
            .collect()
    }
}
