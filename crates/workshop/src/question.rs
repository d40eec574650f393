//! Every question as a typed pair: what is asked, and what is answered.
//!
//! To add one: a module with `XAsk` and `XAnswer`, `impl Question for XAsk`, and a line in the list below. The
//! command line, the page's server and the child process that works aside have it then.

use serde::de::{DeserializeOwned, Error as _};
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::value::RawValue;
use std::path::Path;
use utoipa::ToSchema;

use crate::bench::{Bench, BoatAt};
use crate::fault::Fault;
use crate::watch::Watch;

/// What can be asked, with the type of its answer.
pub trait Question: Serialize + DeserializeOwned + Into<Ask> {
    /// What is answered.
    type Answer: Serialize + DeserializeOwned + Into<Answer>;

    /// Works it out. Tells `bench.watch()` how far it is, and stops where it is no longer wanted.
    ///
    /// # Errors
    /// [`Fault`] with what is wrong and what would be right.
    fn answer(&self, bench: &Bench) -> Result<Self::Answer, Fault>;

    /// Files it names beside the boat's own, which a face that serves others has to confine.
    fn files(&self) -> Vec<&Path> {
        Vec::new()
    }

    /// Whether it writes into the boat folder.
    fn writes(&self) -> bool {
        false
    }
}

macro_rules! questions {
    ($($(#[doc = $doc:literal])* $name:ident: $ask:path => $answer:path,)*) => {
        /// A question with everything it needs but the boat.
        #[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
        #[serde(tag = "ask", content = "with", rename_all = "kebab-case")]
        pub enum Ask { $($(#[doc = $doc])* $name($ask),)* }

        /// The answer to the [`Ask`] of the same name.
        #[derive(Debug, Clone, Serialize, ToSchema)]
        #[serde(tag = "answer", content = "is", rename_all = "kebab-case")]
        // One at a time is made and sent: its size does not matter.
        #[allow(clippy::large_enum_variant)]
        pub enum Answer { $($(#[doc = $doc])* $name($answer),)* }

        /// From JSON only. By derive every answer would be compiled a second time, read from what was buffered until its
        /// name is known: a fifth of this crate.
        impl<'de> Deserialize<'de> for Answer {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                #[derive(Deserialize)]
                #[serde(rename_all = "kebab-case")]
                enum Name { $($name,)* }

                #[derive(Deserialize)]
                struct Named<'a> {
                    answer: Name,
                    #[serde(borrow)]
                    is: &'a RawValue,
                }

                let Named { answer, is } = Named::deserialize(from)?;
                match answer {
                    $(Name::$name => serde_json::from_str(is.get()).map(Self::$name),)*
                }
                .map_err(D::Error::custom)
            }
        }

        impl Ask {
            /// Works it out.
            ///
            /// # Errors
            /// As [`Question::answer`].
            pub fn answer(&self, bench: &Bench) -> Result<Answer, Fault> {
                match self { $(Self::$name(ask) => Ok(Answer::$name(ask.answer(bench)?)),)* }
            }

            /// As [`Question::files`].
            pub fn files(&self) -> Vec<&Path> {
                match self { $(Self::$name(ask) => ask.files(),)* }
            }

            /// As [`Question::writes`].
            pub fn writes(&self) -> bool {
                match self { $(Self::$name(ask) => ask.writes(),)* }
            }
        }

        $(
            impl From<$ask> for Ask { fn from(ask: $ask) -> Self { Self::$name(ask) } }
            impl From<$answer> for Answer { fn from(answer: $answer) -> Self { Self::$name(answer) } }
            impl TryFrom<Answer> for $answer {
                type Error = Answer;
                fn try_from(answer: Answer) -> Result<Self, Answer> {
                    #[allow(unreachable_patterns)]
                    match answer { Answer::$name(answer) => Ok(answer), other => Err(other) }
                }
            }
        )*
    };
}

questions! {
    /// What the boat will do.
    Check: crate::check::CheckAsk => crate::check::CheckAnswer,
    /// What to change next.
    Next: crate::next::NextAsk => crate::next::NextAnswer,
    /// How a run goes.
    Stint: crate::stint::StintAsk => crate::stint::StintAnswer,
    /// Which set-up is best.
    Outfit: crate::outfit::OutfitAsk => crate::outfit::OutfitAnswer,
    /// What happens on the pond.
    Pond: crate::pond::PondAsk => crate::pond::PondAnswer,
    /// What outings teach.
    Learn: crate::learn::LearnAsk => crate::learn::LearnAnswer,
    /// What went wrong.
    Why: crate::why::WhyAsk => crate::why::WhyAnswer,
    /// What the boat will do, on a page.
    Report: crate::report::ReportAsk => crate::report::ReportAnswer,
    /// The hull's shape.
    Hull: crate::hull::HullAsk => crate::hull::HullAnswer,
    /// What a law says.
    Calc: crate::calc::CalcAsk => crate::calc::CalcAnswer,
    /// How big, and where things go.
    Size: crate::size::SizeAsk => crate::size::told::SizeAnswer,
    /// A boat folder from a starter hull or a mesh.
    New: crate::new_boat::NewAsk => crate::new_boat::NewAnswer,
    /// What a sound tells.
    Hear: crate::recordings::hear::HearAsk => crate::recordings::hear::HearAnswer,
    /// What a track tells.
    Track: crate::recordings::track::TrackAsk => crate::recordings::track::TrackAnswer,
    /// What a log tells.
    Log: crate::recordings::log::LogAsk => crate::recordings::log::LogAnswer,
    /// What servo pulses tell.
    Pulses: crate::recordings::pulses::PulsesAsk => crate::recordings::pulses::PulsesAnswer,
    /// What marks on a film tell.
    Marks: crate::recordings::marks::MarksAsk => crate::recordings::marks::MarksAnswer,
    /// How the clocks of recordings stand.
    Together: crate::recordings::together::TogetherAsk => crate::recordings::together::TogetherAnswer,
    /// An outing to begin.
    BeginOuting: crate::outing::BeginOutingAsk => crate::outing::BeginOutingAnswer,
    /// An outing to measure.
    Measure: crate::outing::MeasureAsk => crate::outing::MeasureAnswer,
    /// The outings there are.
    Outings: crate::outing::OutingsAsk => crate::outing::OutingsAnswer,
    /// A build to keep.
    Keep: crate::builds::KeepAsk => crate::builds::KeepAnswer,
    /// Builds side by side.
    Builds: crate::builds::BuildsAsk => crate::builds::BuildsAnswer,
    /// What goes where, in which order, on a page.
    Sheet: crate::sheet::SheetAsk => crate::sheet::SheetAnswer,
    /// What pieces it prints in, written as files.
    Pieces: crate::pieces::PiecesAsk => crate::pieces::PiecesAnswer,
}

/// Asks something of a boat, in this process.
///
/// # Errors
/// As [`Question::answer`].
pub fn ask<Q: Question>(
    question: &Q,
    boat: Option<&BoatAt>,
    watch: &dyn Watch,
) -> Result<Q::Answer, Fault> {
    question.answer(&Bench::new(boat, watch))
}
