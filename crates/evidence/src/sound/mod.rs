//! What a microphone heard: tones, rates of rotation, and passes.

pub mod decode;
pub mod quality;
pub mod spectrum;
pub mod tone;
