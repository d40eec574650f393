//! How big, and where things go: a hull sized and fitted out for what it has to carry.
//!
//! `practice` is what builders do, `frame` what a hull offers, `fitted` the one put on the other, `text` the boat file of
//! it, `search` the boats tried. Nothing here has physics of its own: what a boat does is asked of the model.

mod fitted;
mod frame;
pub mod practice;
mod search;
mod text;

pub use fitted::{Fin, Fitted, Item, Line, Sail, SetUp, Shell, Trim, Wish, shell};
pub use frame::{Frame, Room};
pub use search::{
    CLOSER, COARSE, Found, Going, Hull, Missed, Tried, again, best, declared, first_length_m,
    search, set_ups,
};
pub use text::{Shape, write};
