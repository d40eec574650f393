//! The envelope as upright columns in boat axes: a fast stand-in for exact clipping.
//!
//! One attitude costs microseconds and each column can meet its own water height, so the same
//! table serves steady running and waves. Exact clipping stays the truth at rest.

/// Upright prisms that together fill the envelope. Parallel vectors, one entry a column.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Columns {
    /// Middle of the column, m.
    pub x_m: Vec<f64>,
    /// Middle of the column, m.
    pub y_m: Vec<f64>,
    /// Lower end, m.
    pub bottom_m: Vec<f64>,
    /// Upper end, m.
    pub top_m: Vec<f64>,
    /// Cross-section, m2.
    pub area_m2: Vec<f64>,
}
