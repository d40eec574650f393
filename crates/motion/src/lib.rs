//! The boat in motion: stability about a running state, and a run in time over waves.
//!
//! Nothing here has physics of its own: forces come from the same elements of `craft` that the
//! steady solver asks.
