//! How big, and where things go: a hull sized and fitted out for what it has to carry.
//!
//! `practice` is what builders do, `frame` what a hull offers, `fitter` puts the one on the other, `text` writes the boat
//! file of it, `search` tries boats. Nothing here has physics of its own: what a boat does is asked of the model.

mod aboard;
mod balance;
mod fitted;
mod fitter;
mod frame;
mod gear;
mod inside;
pub mod practice;
mod search;
mod text;
mod wish;

pub use fitted::{Fin, Fitted, Item, Line, Sail, Shell, shell};
pub use frame::{Frame, Room};
pub use search::{
    CLOSER, COARSE, Found, Going, Hull, Missed, Tried, again, best, declared, first_length_m,
    search, set_ups,
};
pub use text::{Shape, write};
pub use wish::{SetUp, Trim, Wish};
