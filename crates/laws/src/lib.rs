//! The physics of small fast boats, a file a law: pure functions of plain SI values.
//!
//! Nothing here knows a boat or a mesh, and nothing reads or prints. Every law's file opens with
//! its equation, source, units, validity range and check. Functions on the hot path neither
//! allocate nor iterate. Outside a law's range a value is still given where that makes sense, with
//! `in_range` false and [`Notes`] saying why.

pub mod air;
pub mod beam;
pub mod blade_stress;
pub mod bolted_bracket;
pub mod catalogue;
pub mod cavitation;
pub mod cell;
pub mod cell_transient;
pub mod channel_flow;
pub mod closed_tube;
pub mod constants;
pub mod controller_loss;
pub mod crush;
pub mod doppler_pass;
pub mod drive_circuit;
pub mod driveline;
pub mod entry_pressure;
pub mod fresh_water;
pub mod friction_line;
pub mod heat_run;
pub mod hull_suction;
pub mod immersed_disc;
pub mod input;
pub mod insulation;
pub mod lap_joint;
pub mod motor_heat;
pub mod motor_point;
pub mod notes;
pub mod numerics;
pub mod open_strip;
pub mod open_water;
pub mod pipe_flow;
pub mod planing_surface;
pub mod plate;
pub mod porpoising_limit;
pub mod printed_strength;
pub mod prismatic_planing;
pub mod pulse_edge;
pub mod residuary;
pub mod shaft_drag;
pub mod shaft_whirl;
pub mod smooth;
pub mod soft_edge;
pub mod strip_planing;
pub mod strut_drag;
pub mod surface_blade;
pub mod surface_loss;
pub mod surface_propeller;
#[cfg(test)]
mod testing;
pub mod trim_tab;
pub mod tube_heat;
pub mod ventilated_plate;
pub mod wedge_drag;
pub mod whisker_spray;
pub mod wing;

pub use input::InputError;
pub use notes::Notes;
