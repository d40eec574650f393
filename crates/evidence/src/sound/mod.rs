//! What a microphone heard: tones, rates of rotation, and passes.

pub mod decode;
pub mod listen;
pub mod pass;
pub mod picture;
pub mod quality;
pub mod shaft;
pub mod spectrum;
pub mod tone;
