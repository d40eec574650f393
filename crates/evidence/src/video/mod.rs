//! Marks on the frames of a film, and the times of the frames.

pub mod mp4;
