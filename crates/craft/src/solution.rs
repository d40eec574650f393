//! What the solvers give back. SI and radians; faces convert.

use std::sync::Arc;

use nalgebra::{Matrix3, Vector3};

use crate::outcome::{CannotRun, Unsteady};
use crate::way::Way;

/// Mass, balance and inertia of the whole boat.
#[derive(Debug, Clone, PartialEq)]
pub struct MassProperties {
    /// kg.
    pub mass_kg: f64,
    /// 95 % half-width, kg.
    pub mass_spread_kg: f64,
    /// Boat axes, m.
    pub cg_m: Vector3<f64>,
    /// 95 % half-width of each coordinate, m.
    pub cg_spread_m: Vector3<f64>,
    /// About the centre of gravity, boat axes, kg m2.
    pub inertia_kg_m2: Matrix3<f64>,
    /// Shell first, then the parts in file order.
    pub items: Vec<MassItem>,
}

/// One entry of the mass table.
#[derive(Debug, Clone, PartialEq)]
pub struct MassItem {
    /// `hull print`, `hull coating`, `hull` when weighed, or the part's name.
    pub name: String,
    /// kg.
    pub mass_kg: f64,
    /// 95 % half-width, kg.
    pub spread_kg: f64,
    /// Boat axes, m.
    pub at_m: Vector3<f64>,
    /// `weighed`, `predicted from the print`, `given`, `assumed`.
    pub source: &'static str,
}

/// Attitude against still water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attitude {
    /// Height of the boat's origin above the undisturbed surface, m.
    pub rise_m: f64,
    /// Bow up positive.
    pub trim_rad: f64,
    /// Starboard down positive.
    pub heel_rad: f64,
}

/// The boat at rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// Equilibrium upright, or `None` when it cannot float.
    pub afloat: Option<Afloat>,
    /// Whole envelope volume over displaced volume minus one; negative sinks.
    pub reserve_of_buoyancy: f64,
    /// GZ at heel angles 0 to 180 degrees both ways, trim and sinkage free.
    pub righting: Vec<RightingPoint>,
    /// Stable resting heels, rad, deepest well first; more than one when it can rest inverted.
    pub resting_heels_rad: Vec<f64>,
    /// Hull full of water, kept up by foam, sealed voids and the plastic itself.
    pub flooded: Flooded,
    /// For each movable part: the shift along x that brings it to level trim.
    pub levelling: Vec<Levelling>,
    /// Vertical loads with the hull level on a table: propeller and each running surface's
    /// trailing edge (common practice: weigh these).
    pub supports: Vec<SupportLoad>,
    /// Plain sentences about how it floats and where these numbers stop holding.
    pub notes: Vec<String>,
}

/// Floating upright.
#[derive(Debug, Clone, PartialEq)]
pub struct Afloat {
    /// Equilibrium.
    pub attitude: Attitude,
    /// m3.
    pub displaced_m3: f64,
    /// Centre of buoyancy, boat axes, m.
    pub buoyancy_m: Vector3<f64>,
    /// Deepest point below the surface, m.
    pub draught_m: f64,
    /// Lowest opening (or rim) above the surface: name and m.
    pub freeboard: Option<(String, f64)>,
    /// Transverse metacentric height, m.
    pub gm_roll_m: f64,
    /// Longitudinal metacentric height, m.
    pub gm_pitch_m: f64,
    /// m2.
    pub waterplane_area_m2: f64,
    /// m2.
    pub wetted_area_m2: f64,
}

/// A point of the righting curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RightingPoint {
    /// Starboard down positive.
    pub heel_rad: f64,
    /// Righting arm, m; positive turns it to port: rights it heeled to starboard, and the other
    /// way round heeled to port, so a stable rest is where the arm rises through zero.
    pub gz_m: f64,
    /// Trim it takes at this heel.
    pub trim_rad: f64,
    /// Lowest opening (or rim) above the surface, m; where negative it fills and the arm no
    /// longer holds.
    pub opening_m: Option<f64>,
}

/// The boat full of water.
#[derive(Debug, Clone, PartialEq)]
pub struct Flooded {
    /// Buoyancy of foam, voids and solid material less the dry mass, kg; negative sinks.
    pub spare_kg: f64,
    /// Whether it ends upside down (buoyancy below the centre of gravity).
    pub inverted: bool,
}

/// Move one part to float level.
#[derive(Debug, Clone, PartialEq)]
pub struct Levelling {
    /// Part name.
    pub part: String,
    /// Forward positive, m.
    pub shift_m: f64,
    /// Whether the shifted part stays inside the hull's length.
    pub fits: bool,
}

/// A load on a support with the hull level.
#[derive(Debug, Clone, PartialEq)]
pub struct SupportLoad {
    /// Propeller or surface name.
    pub name: String,
    /// N.
    pub load_n: f64,
    /// Fraction of all-up weight.
    pub fraction: f64,
}

/// One steady state of straight running.
#[derive(Debug, Clone, PartialEq)]
pub struct RunningState {
    /// m/s through the water.
    pub speed_m_s: f64,
    /// 0 to 1; above 1 means the drive cannot hold this speed.
    pub throttle: f64,
    /// Attitude against still water.
    pub attitude: Attitude,
    /// Course to port of the bow, rad: positive slides to port.
    pub drift_rad: f64,
    /// Every element's share.
    pub forces: Vec<ElementForce>,
    /// Every running surface.
    pub wetted: Vec<WettedSurface>,
    /// Per drive.
    pub drives: Vec<DriveState>,
    /// Drag the propellers must overcome, N.
    pub thrust_needed_n: f64,
    /// Forward force at full throttle at this speed and attitude, N.
    pub thrust_available_n: f64,
    /// Plain sentences about laws outside their range at this state.
    pub notes: Vec<String>,
    /// Whether small disturbances in heave and pitch die out quasi-statically.
    pub statically_stable: bool,
}

impl RunningState {
    /// Part of the running surfaces' and buoyancy's lift that comes from speed, 0 to 1.
    pub fn dynamic_share(&self) -> f64 {
        let dynamic: f64 = self.wetted.iter().map(|w| w.lift_n).sum();
        let still = self
            .forces
            .iter()
            .filter(|f| f.name == "buoyancy")
            .map(|f| f.force_n.z);
        dynamic / (dynamic + still.sum::<f64>()).max(1e-9)
    }
}

impl RunningState {
    /// What it takes in memory, bytes.
    pub fn bytes(&self) -> usize {
        let names = self.forces.iter().map(|f| f.name.len());
        let names = names.chain(self.wetted.iter().map(|w| w.name.len()));
        let names = names.chain(self.drives.iter().map(|d| d.name.len()));
        let notes = self.notes.iter().map(|n| size_of::<String>() + n.len());
        size_of::<Self>()
            + size_of_val(self.forces.as_slice())
            + size_of_val(self.wetted.as_slice())
            + size_of_val(self.drives.as_slice())
            + names.chain(notes).sum::<usize>()
    }
}

/// What one element does, boat axes.
#[derive(Debug, Clone, PartialEq)]
pub struct ElementForce {
    /// e.g. `buoyancy`, `left pad`, `propeller`, `air on hull`.
    pub name: String,
    /// N.
    pub force_n: Vector3<f64>,
    /// About the boat's origin, N m.
    pub moment_n_m: Vector3<f64>,
}

/// How a running surface meets the water.
#[derive(Debug, Clone, PartialEq)]
pub struct WettedSurface {
    /// Surface name.
    pub name: String,
    /// Along the keel from the trailing edge, m; 0 is clear of the water.
    pub keel_length_m: f64,
    /// Along the chine, m.
    pub chine_length_m: f64,
    /// Wetted beam at the trailing edge, m.
    pub beam_m: f64,
    /// Lift it gives, N.
    pub lift_n: f64,
    /// Local trim of the surface, rad.
    pub trim_rad: f64,
}

/// A drive at a state.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveState {
    /// Drive name.
    pub name: String,
    /// Propeller shaft, rad/s.
    pub shaft_rad_s: f64,
    /// Battery current, A.
    pub current_a: f64,
    /// Battery terminals, V.
    pub voltage_v: f64,
    /// Motor shaft power, W.
    pub shaft_power_w: f64,
    /// Heat in the motor, W.
    pub motor_heat_w: f64,
    /// N.
    pub thrust_n: f64,
    /// N m at the propeller.
    pub torque_n_m: f64,
    /// Depth of the disc's lowest point over its diameter: 0 out, 1 covered.
    pub immersion: f64,
    /// Slip against pitch speed, 0 to 1.
    pub slip: f64,
}

/// Straight running from rest to top speed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SpeedCurve {
    /// The branch a boat reaches by accelerating from rest, by speed.
    pub running: Vec<RunningState>,
    /// Other equilibria found at the same speeds (airborne, unstable), by speed.
    pub others: Vec<RunningState>,
    /// Speeds where no steady running state was found, m/s.
    pub missing_m_s: Vec<f64>,
    /// Speeds at which the boat changes attitude at a stroke: one steady state ends and the next
    /// is elsewhere, m/s.
    pub jumps_m_s: Vec<f64>,
    /// Where full throttle balances drag: the first such state on the way up from rest. Where none is steady (`no_top`
    /// says why), whoever runs the boat in time may put the mean of that here.
    pub top: Option<RunningState>,
    /// Where full throttle balances drag but the boat does not stay (`Unsteady::Left`); boats that are nearly this one
    /// are looked for from there.
    pub left: Option<RunningState>,
    /// Let go at its top speed it goes over.
    pub goes_over: bool,
    /// Why there is none.
    pub no_top: Option<NoTop>,
    /// A faster state at full throttle that the boat does not reach by accelerating, but would hold.
    pub faster: Option<RunningState>,
    /// Where speed-borne lift first carries half the weight on the way up, m/s.
    pub planing_m_s: Option<f64>,
    /// Narrowest place between a third of planing speed and planing speed.
    pub hump: Option<Hump>,
    /// The boat there.
    pub at_hump: Option<RunningState>,
    /// The line of states all of them lie on, for boats that are nearly this one.
    pub(crate) way: Option<Arc<Way>>,
}

impl SpeedCurve {
    /// Where full throttle balances drag, whether or not the boat stays there.
    pub fn balanced(&self) -> Option<&RunningState> {
        self.left.as_ref().or(self.top.as_ref())
    }

    /// What it takes in memory, bytes, with the line it came from.
    pub fn bytes(&self) -> usize {
        let single = [&self.top, &self.left, &self.faster, &self.at_hump];
        let states = self.running.iter().chain(&self.others);
        let states = states.chain(single.into_iter().flatten());
        size_of::<Self>()
            + states.map(RunningState::bytes).sum::<usize>()
            + size_of_val(self.missing_m_s.as_slice())
            + size_of_val(self.jumps_m_s.as_slice())
            + self.way.as_ref().map_or(0, |way| way.bytes())
    }
}

/// Why a boat has no steady top speed.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoTop {
    /// It runs, and never settles.
    #[error(transparent)]
    Unsteady(#[from] Unsteady),
    /// It does not run.
    #[error(transparent)]
    CannotRun(#[from] CannotRun),
}

/// The hump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hump {
    /// m/s.
    pub speed_m_s: f64,
    /// Thrust available over needed, minus one; negative does not get over.
    pub margin: f64,
    /// Battery current there at the throttle it takes, A.
    pub current_a: f64,
    /// Greatest trim on the way over.
    pub trim_rad: f64,
}
