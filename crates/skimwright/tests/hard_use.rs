//! Hard use: nothing lost, nothing hung, nobody in. Each row of `docs/hard-use.md` is counted here.
//!
//! The ordinary run tries a little of everything. `bash tests/run hard` tries a thousand kills and 100 000 damaged
//! files of each kind, in release; what fails is kept in `target/hard-use`, and becomes a test beside its reader.

#![cfg(target_os = "linux")]

mod folder;
#[path = "hard_use/kills.rs"]
mod kills;
#[path = "hard_use/live.rs"]
mod live;
#[path = "hard_use/mutate.rs"]
mod mutate;
#[path = "hard_use/readers.rs"]
mod readers;
#[path = "hard_use/requests.rs"]
mod requests;
#[path = "hard_use/soak.rs"]
mod soak;
#[path = "hard_use/stranger.rs"]
mod stranger;
#[path = "hard_use/table.rs"]
mod table;
#[path = "hard_use/writers.rs"]
mod writers;
