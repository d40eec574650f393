//! Starter hulls as the builder dimensions them: the trade's own measurements, no geometry.
//!
//! Metres and radians. `form::starter` turns one into a watertight mesh.

/// One of four hull types.
#[derive(Debug, Clone, PartialEq)]
pub enum Starter {
    /// Two sponsons ahead, propeller and transom behind.
    ThreePoint(ThreePoint),
    /// A narrow tub with sponsons on booms.
    Outrigger(Outrigger),
    /// A vee-bottomed single hull.
    Vee(Vee),
    /// Two slender hulls with a tunnel between.
    Catamaran(Catamaran),
}

/// Three-point hydroplane.
#[derive(Debug, Clone, PartialEq)]
pub struct ThreePoint {
    /// Transom to bow.
    pub length_m: f64,
    /// Over the sponsons.
    pub beam_m: f64,
    /// Hull bottom to deck.
    pub depth_m: f64,
    /// Sponson trailing edge to its nose.
    pub sponson_length_m: f64,
    /// Trailing edge of the sponsons, ahead of the transom.
    pub sponson_trailing_edge_x_m: f64,
    /// Sponson bottom below hull bottom at the trailing edge.
    pub sponson_drop_m: f64,
    /// Between the sponsons' inner edges.
    pub gap_m: f64,
    /// Each ride pad.
    pub pad_width_m: f64,
    /// Straight run of the pad ahead of its trailing edge.
    pub pad_flat_m: f64,
    /// Built angle, bow up.
    pub pad_angle_rad: f64,
    /// Deadrise of the pad, rising outward, left (port).
    pub pad_deadrise_left_rad: f64,
    /// Deadrise of the pad, rising outward, right (starboard).
    pub pad_deadrise_right_rad: f64,
    /// Anti-dive panel ahead of the pad, to horizontal.
    pub entry_angle_rad: f64,
    /// Outer bevel from horizontal.
    pub nontrip_angle_rad: f64,
    /// Width of the hull bottom at the transom.
    pub transom_width_m: f64,
}

/// Outrigger hydroplane.
#[derive(Debug, Clone, PartialEq)]
pub struct Outrigger {
    /// Tub length.
    pub length_m: f64,
    /// Over the sponsons.
    pub beam_m: f64,
    /// Tub width.
    pub tub_width_m: f64,
    /// Tub bottom to deck.
    pub tub_depth_m: f64,
    /// Sponson trailing edge to nose.
    pub sponson_length_m: f64,
    /// Each sponson, including its bevel.
    pub sponson_width_m: f64,
    /// Trailing edge ahead of the transom.
    pub sponson_trailing_edge_x_m: f64,
    /// Sponson bottom below tub bottom at the trailing edge.
    pub sponson_drop_m: f64,
    /// Each ride pad.
    pub pad_width_m: f64,
    /// Straight run of the pad.
    pub pad_flat_m: f64,
    /// Built angle, bow up.
    pub pad_angle_rad: f64,
    /// Anti-dive panel ahead of the pad.
    pub entry_angle_rad: f64,
    /// Outer bevel from horizontal.
    pub nontrip_angle_rad: f64,
    /// Boom stations ahead of the transom.
    pub boom_x_m: [f64; 2],
    /// Height of the booms.
    pub boom_z_m: f64,
    /// Boom diameter.
    pub boom_diameter_m: f64,
    /// Rear pads: width, length; zero width for none.
    pub rear_pad_m: [f64; 2],
    /// Distance of each rear pad's middle from the centreline.
    pub rear_pad_y_m: f64,
    /// Height of the rear pads' bottom (negative is below the tub bottom).
    pub rear_pad_z_m: f64,
}

/// Vee-bottomed hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Vee {
    /// Transom to stem.
    pub length_m: f64,
    /// Over the chines.
    pub beam_m: f64,
    /// Keel to deck.
    pub depth_m: f64,
    /// Aft, constant to `constant_to_x_m`.
    pub deadrise_rad: f64,
    /// How far forward the deadrise and keel line stay straight.
    pub constant_to_x_m: f64,
    /// Deadrise at `bow_x_m`.
    pub bow_deadrise_rad: f64,
    /// Where `bow_deadrise_rad` is reached.
    pub bow_x_m: f64,
    /// Width of each chine flat.
    pub chine_flat_m: f64,
    /// Width of the flat pad along the keel; 0 for none.
    pub keel_pad_m: f64,
}

/// Catamaran.
#[derive(Debug, Clone, PartialEq)]
pub struct Catamaran {
    /// Transom to bow.
    pub length_m: f64,
    /// Overall.
    pub beam_m: f64,
    /// Sponson bottom to deck.
    pub depth_m: f64,
    /// Each hull at the transom.
    pub sponson_width_m: f64,
    /// Outer faces of the bottoms.
    pub deadrise_rad: f64,
    /// Flat strip along each hull's inner edge.
    pub strip_width_m: f64,
    /// Where the bottoms begin to curve up.
    pub curve_from_x_m: f64,
    /// Tunnel roof at the transom.
    pub roof_aft_z_m: f64,
    /// Tunnel roof at `roof_forward_x_m`.
    pub roof_forward_z_m: f64,
    /// See above.
    pub roof_forward_x_m: f64,
    /// Where the tunnel opens at the bow.
    pub mouth_x_m: f64,
}
