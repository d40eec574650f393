//! The boat in motion, by the same force elements that steady running asks.
//!
//! - [`stability`]: small motions about a running state: which grow, how fast, and what drives them.
//! - [`mod@run`]: six degrees of freedom in time, over [`water`] and under a [`script`].
//! - [`events`]: what happened, named.
//! - [`driver`]: flat out, or lifting off when it must.
//! - [`many`]: many seeded runs, counted.
//! - [`launch`]: full throttle from rest: the hump, its current, and whether it gets over.
//! - [`over`]: speed kept over ripple.
//! - [`flight`]: pitch and gust to lift-off, and the odds over ripple.
//! - [`settled`]: what full throttle comes to where no state is steady.
//! - [`turning`]: steady turns: how tight, what they cost, what lets go first.
//!
//! No file here has a force of its own; [`body`] has only Newton and Euler with the water's added mass.

pub mod body;
pub mod driver;
pub mod events;
pub mod flight;
pub mod launch;
pub mod many;
pub mod over;
pub mod run;
pub mod script;
pub mod settled;
pub mod stability;
pub mod turning;
pub mod water;

pub use run::{Conditions, Run, Stopped, run, run_by};
pub use settled::{InTime, LetGo, Settled, TopSpeed, let_go, settled_speed, top_speed};
