//! Starter hulls with the dimensions of the demonstration boats.
#![allow(dead_code)]

use boat::starter::{Catamaran, Outrigger, Starter, ThreePoint, Vee};

pub const MM: f64 = 1e-3;

pub fn deg(x: f64) -> f64 {
    x.to_radians()
}

pub fn three_point() -> ThreePoint {
    ThreePoint {
        length_m: 450.0 * MM,
        beam_m: 225.0 * MM,
        depth_m: 62.0 * MM,
        sponson_length_m: 205.0 * MM,
        sponson_trailing_edge_x_m: 245.0 * MM,
        sponson_drop_m: 16.0 * MM,
        gap_m: 128.0 * MM,
        pad_width_m: 30.0 * MM,
        pad_flat_m: 80.0 * MM,
        pad_angle_rad: deg(3.0),
        pad_deadrise_left_rad: deg(1.0),
        pad_deadrise_right_rad: 0.0,
        entry_angle_rad: deg(12.0),
        nontrip_angle_rad: deg(40.0),
        transom_width_m: 92.0 * MM,
    }
}

pub fn outrigger() -> Outrigger {
    Outrigger {
        length_m: 640.0 * MM,
        beam_m: 332.0 * MM,
        tub_width_m: 92.0 * MM,
        tub_depth_m: 58.0 * MM,
        sponson_length_m: 225.0 * MM,
        sponson_width_m: 46.0 * MM,
        sponson_trailing_edge_x_m: 300.0 * MM,
        sponson_drop_m: 20.0 * MM,
        pad_width_m: 36.0 * MM,
        pad_flat_m: 60.0 * MM,
        pad_angle_rad: deg(3.5),
        entry_angle_rad: deg(12.0),
        nontrip_angle_rad: deg(35.0),
        boom_x_m: [330.0 * MM, 440.0 * MM],
        boom_z_m: 46.0 * MM,
        boom_diameter_m: 12.0 * MM,
        rear_pad_m: [18.0 * MM, 40.0 * MM],
        rear_pad_y_m: 34.0 * MM,
        rear_pad_z_m: -14.0 * MM,
    }
}

pub fn vee() -> Vee {
    Vee {
        length_m: 600.0 * MM,
        beam_m: 165.0 * MM,
        depth_m: 88.0 * MM,
        deadrise_rad: deg(21.0),
        constant_to_x_m: 300.0 * MM,
        bow_deadrise_rad: deg(38.0),
        bow_x_m: 480.0 * MM,
        chine_flat_m: 5.0 * MM,
        keel_pad_m: 12.0 * MM,
    }
}

pub fn catamaran() -> Catamaran {
    Catamaran {
        length_m: 800.0 * MM,
        beam_m: 300.0 * MM,
        depth_m: 98.0 * MM,
        sponson_width_m: 72.0 * MM,
        deadrise_rad: deg(16.0),
        strip_width_m: 22.0 * MM,
        curve_from_x_m: 420.0 * MM,
        roof_aft_z_m: 42.0 * MM,
        roof_forward_z_m: 60.0 * MM,
        roof_forward_x_m: 560.0 * MM,
        mouth_x_m: 720.0 * MM,
    }
}

/// Every demonstration boat's folder and hull, in `examples/`. The mesh is named by the folder's
/// last part.
pub fn demonstration() -> Vec<(&'static str, Starter)> {
    vec![
        ("tadpole", Starter::ThreePoint(three_point())),
        ("longshank", Starter::Outrigger(outrigger())),
        ("millrace", Starter::Vee(vee())),
        ("twin-thistle", Starter::Catamaran(catamaran())),
        ("practice", Starter::ThreePoint(practice())),
        (
            "faults/tadpole-pack-aft",
            Starter::ThreePoint(three_point()),
        ),
        (
            "faults/tadpole-narrow-pads",
            Starter::ThreePoint(narrow_pads()),
        ),
        ("faults/millrace-no-foam", Starter::Vee(vee())),
    ]
}

/// A quicker three-point, for what common practice says of such boats.
pub fn practice() -> ThreePoint {
    ThreePoint {
        length_m: 560.0 * MM,
        beam_m: 272.0 * MM,
        depth_m: 74.0 * MM,
        sponson_length_m: 250.0 * MM,
        sponson_trailing_edge_x_m: 310.0 * MM,
        sponson_drop_m: 20.0 * MM,
        gap_m: 154.0 * MM,
        pad_width_m: 38.0 * MM,
        pad_flat_m: 90.0 * MM,
        pad_angle_rad: deg(3.0),
        pad_deadrise_left_rad: deg(1.0),
        pad_deadrise_right_rad: 0.0,
        entry_angle_rad: deg(12.0),
        nontrip_angle_rad: deg(38.0),
        transom_width_m: 112.0 * MM,
    }
}

/// The three-point with pads that are too narrow and nearly level.
pub fn narrow_pads() -> ThreePoint {
    ThreePoint {
        pad_width_m: 10.0 * MM,
        pad_angle_rad: deg(0.5),
        ..three_point()
    }
}
