//! From cell to propeller over a whole run: current, charge and heat in time.
//!
//! - [`setup`]: what is in the boat, as plain numbers, from a checked boat or from a list.
//! - [`script`]: throttle against time: a race heat, a sprint, a cruise, a measured log.
//! - [`load`]: what propeller and hull ask, as tables made elsewhere.
//! - [`electrics`]: a declared drive as the circuit of `laws`.
//! - [`cooling`]: water through pickup, tube, fittings and jackets at each speed.
//! - [`thermal`]: lumps of heat and what joins them.
//! - [`run`]: all of it in time, with what reaches its limit first.
//! - [`fit`]: many set-ups at once, ranked.
//!
//! Nothing here knows a mesh, reads a file or a clock; the same input gives the same numbers on any
//! number of threads.

pub mod cooling;
pub mod electrics;
pub mod fit;
pub mod load;
pub mod run;
pub mod script;
pub mod setup;
pub mod thermal;

/// Why a run or a comparison was not made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PowerError {
    /// A law refused a number.
    #[error(transparent)]
    Input(#[from] laws::InputError),
    /// A table that does not rise, is too short or holds a value that is not a number.
    #[error(
        "{table} must have at least two rows of finite numbers, rising in its first column; row {row} does not"
    )]
    Table {
        /// Which table.
        table: &'static str,
        /// First bad row, from 1.
        row: usize,
    },
    /// The integrator could not go on.
    #[error("the run cannot go on past {time_s} s: {why}")]
    Stuck {
        /// How far it came.
        time_s: f64,
        /// Why.
        why: &'static str,
    },
}
