//! Entry points for fuzzing: what lies in a boat folder beside the boat file, of any bytes. Each must return, and says
//! whether it could be read.

use std::path::Path;

use crate::child::Request;
use crate::text_at::TextAt;

fn text(bytes: &[u8]) -> TextAt {
    TextAt::Text(String::from_utf8_lossy(bytes).into_owned())
}

/// A table of throttle and rudder, for a run in time.
pub fn hands(bytes: &[u8]) -> bool {
    crate::pond::script::read(&text(bytes)).is_ok()
}

/// A table of throttle, for a stint.
pub fn throttle(bytes: &[u8]) -> bool {
    crate::stint::script::read(&text(bytes)).is_ok()
}

/// A list of parts of one's own, for a boat with a drive.
pub fn parts(bytes: &[u8], boat: &boat::Boat) -> bool {
    let Some(drive) = boat.drives.first() else {
        return false;
    };
    let none = study::outfit::Lists {
        packs: Vec::new(),
        motors: Vec::new(),
        propellers: Vec::new(),
    };
    crate::outfit::own::read(&text(bytes), drive, none).is_ok()
}

/// What a logger's columns mean, in the boat folder.
pub fn loggers(folder: &Path) -> bool {
    crate::recordings::mappings(Some(folder)).is_ok()
}

/// A question as a child is sent it.
pub fn request(bytes: &[u8]) -> bool {
    serde_json::from_slice::<Request>(bytes).is_ok()
}
