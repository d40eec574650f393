//! Marks on the frames of a film, and the times of the frames.

pub mod marks;
pub mod mp4;
