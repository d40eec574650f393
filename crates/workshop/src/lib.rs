//! The workshop: a boat folder on disk, and every question about it as a typed pair.
//!
//! A face turns what it is given into an ask and what comes back into text, JSON or a page:
//!
//! ```no_run
//! use workshop::{BoatAt, Quiet, ask, check::CheckAsk};
//! let answer = ask(&CheckAsk::default(), Some(&BoatAt::saved("tern")), &Quiet)?;
//! for finding in &answer.findings {
//!     println!("{}", finding.sentence);
//! }
//! # Ok::<(), workshop::Fault>(())
//! ```
//!
//! Nothing here prints, ends the process or looks at its arguments. Files are read and written here and nowhere
//! below. Long work can be put to a [`child`] process, which can be stopped at any moment.

pub mod bench;
pub mod beneath;
pub mod builds;
pub mod calc;
pub mod check;
pub mod child;
pub mod fault;
pub mod folder;
#[doc(hidden)]
pub mod fuzzing;
pub mod hull;
pub mod learn;
pub mod made;
pub mod new_boat;
pub mod next;
pub mod notes;
pub mod outfit;
pub mod outing;
pub mod outings;
pub mod output;
pub mod pieces;
pub mod pond;
pub mod question;
pub mod recordings;
pub mod report;
mod series;
pub mod sheet;
pub mod size;
mod source;
pub mod stint;
mod text_at;
pub mod watch;
pub mod why;
pub mod writing;

pub use bench::{Bench, BoatAt};
pub use fault::{Fault, FaultKind, Refusal, as_argument, shown};
pub use question::{Answer, Ask, Question, ask};
pub use text_at::TextAt;
pub use watch::{Quiet, Remark, Watch};
