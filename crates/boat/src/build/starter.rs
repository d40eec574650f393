//! `[hull.starter]`: dimensions that fit together.

use crate::checked::{Checker, Table};
use crate::kind::Kind;
use crate::quantity::show;
use crate::starter::{Catamaran, Outrigger, Starter, ThreePoint, Vee};

pub(super) fn starter(checker: &mut Checker<'_>, table: &Table) -> Starter {
    let mut fit = Fit { checker, table };
    match table.text("type") {
        Some("outrigger") => Starter::Outrigger(outrigger(&mut fit)),
        Some("vee") => Starter::Vee(vee(&mut fit)),
        Some("catamaran") => Starter::Catamaran(catamaran(&mut fit)),
        _ => Starter::ThreePoint(three_point(&mut fit)),
    }
}

struct Fit<'a, 't> {
    checker: &'a mut Checker<'t>,
    table: &'a Table,
}

impl Fit<'_, '_> {
    fn value(&self, name: &str) -> f64 {
        self.table.value(name)
    }

    /// Notes an error at `key` when `size` (said in words by `what`) is over `limit`.
    fn at_most(&mut self, key: &str, what: &str, size: f64, limit: f64, limit_is: &str) {
        if size > limit + 1e-9 {
            let (size, limit) = (show(Kind::Length, size), show(Kind::Length, limit));
            let message = format!("{what} is {size}, more than {limit_is} of {limit}");
            let help = format!("make `{key}` smaller, or change what it has to fit into");
            self.checker.error(self.table.place_of(key), message, help);
        }
    }
}

fn three_point(fit: &mut Fit<'_, '_>) -> ThreePoint {
    let hull = ThreePoint {
        length_m: fit.value("length"),
        beam_m: fit.value("beam"),
        depth_m: fit.value("depth"),
        sponson_length_m: fit.value("sponson_length"),
        sponson_trailing_edge_x_m: fit.value("sponson_trailing_edge"),
        sponson_drop_m: fit.value("sponson_drop"),
        gap_m: fit.value("gap"),
        pad_width_m: fit.value("pad_width"),
        pad_flat_m: fit.value("pad_flat"),
        pad_angle_rad: fit.value("pad_angle"),
        pad_deadrise_left_rad: fit.value("pad_deadrise_left"),
        pad_deadrise_right_rad: fit.value("pad_deadrise_right"),
        entry_angle_rad: fit.value("entry_angle"),
        nontrip_angle_rad: fit.value("nontrip_angle"),
        transom_width_m: fit.value("transom_width"),
    };
    let across = hull.gap_m + 2.0 * hull.pad_width_m;
    fit.at_most("gap", "gap and two pads", across, hull.beam_m, "the beam");
    let nose = hull.sponson_trailing_edge_x_m + hull.sponson_length_m;
    fit.at_most(
        "sponson_length",
        "the sponsons' nose",
        nose,
        hull.length_m,
        "the length",
    );
    fit.at_most(
        "pad_flat",
        "the pad's flat run",
        hull.pad_flat_m,
        hull.sponson_length_m,
        "the sponson length",
    );
    fit.at_most(
        "transom_width",
        "the transom",
        hull.transom_width_m,
        hull.gap_m,
        "the gap",
    );
    fit.at_most(
        "sponson_drop",
        "the sponson drop",
        hull.sponson_drop_m,
        hull.depth_m,
        "the depth",
    );
    hull
}

fn outrigger(fit: &mut Fit<'_, '_>) -> Outrigger {
    let hull = Outrigger {
        length_m: fit.value("length"),
        beam_m: fit.value("beam"),
        tub_width_m: fit.value("tub_width"),
        tub_depth_m: fit.value("tub_depth"),
        sponson_length_m: fit.value("sponson_length"),
        sponson_width_m: fit.value("sponson_width"),
        sponson_trailing_edge_x_m: fit.value("sponson_trailing_edge"),
        sponson_drop_m: fit.value("sponson_drop"),
        pad_width_m: fit.value("pad_width"),
        pad_flat_m: fit.value("pad_flat"),
        pad_angle_rad: fit.value("pad_angle"),
        entry_angle_rad: fit.value("entry_angle"),
        nontrip_angle_rad: fit.value("nontrip_angle"),
        boom_x_m: [fit.value("boom_aft"), fit.value("boom_forward")],
        boom_z_m: fit.value("boom_height"),
        boom_diameter_m: fit.value("boom_diameter"),
        rear_pad_m: [fit.value("rear_pad_width"), fit.value("rear_pad_length")],
        rear_pad_y_m: fit.value("rear_pad_offset"),
        rear_pad_z_m: fit.value("rear_pad_height"),
    };
    let across = hull.tub_width_m + 2.0 * hull.sponson_width_m;
    fit.at_most(
        "sponson_width",
        "tub and two sponsons",
        across,
        hull.beam_m,
        "the beam",
    );
    fit.at_most(
        "pad_width",
        "the pad",
        hull.pad_width_m,
        hull.sponson_width_m,
        "the sponson width",
    );
    fit.at_most(
        "pad_flat",
        "the pad's flat run",
        hull.pad_flat_m,
        hull.sponson_length_m,
        "the sponson length",
    );
    let [aft, forward] = hull.boom_x_m;
    let nose = hull.sponson_trailing_edge_x_m + hull.sponson_length_m;
    fit.at_most(
        "boom_aft",
        "the rear boom's place",
        aft,
        forward,
        "the front boom's",
    );
    fit.at_most(
        "boom_forward",
        "the front boom's place",
        forward,
        nose.min(hull.length_m),
        "the forward end",
    );
    fit.at_most(
        "sponson_trailing_edge",
        "the sponsons' trailing edge",
        hull.sponson_trailing_edge_x_m,
        aft,
        "the rear boom's place",
    );
    fit.at_most(
        "boom_height",
        "the boom height",
        hull.boom_z_m,
        hull.tub_depth_m,
        "the tub depth",
    );
    hull
}

fn vee(fit: &mut Fit<'_, '_>) -> Vee {
    let hull = Vee {
        length_m: fit.value("length"),
        beam_m: fit.value("beam"),
        depth_m: fit.value("depth"),
        deadrise_rad: fit.value("deadrise"),
        constant_to_x_m: fit.value("constant_to"),
        bow_deadrise_rad: fit.value("bow_deadrise"),
        bow_x_m: fit.value("bow_station"),
        chine_flat_m: fit.value("chine_flat"),
        keel_pad_m: fit.value("keel_pad"),
    };
    let flats = 2.0 * hull.chine_flat_m + hull.keel_pad_m;
    fit.at_most(
        "chine_flat",
        "chine flats and keel pad",
        flats,
        hull.beam_m,
        "the beam",
    );
    fit.at_most(
        "bow_station",
        "the bow station",
        hull.bow_x_m,
        hull.length_m,
        "the length",
    );
    fit.at_most(
        "constant_to",
        "the straight run",
        hull.constant_to_x_m,
        hull.bow_x_m,
        "the bow station",
    );
    let rise = (hull.beam_m - flats) / 2.0 * hull.deadrise_rad.tan();
    fit.at_most(
        "deadrise",
        "the chine's height above the keel",
        rise,
        hull.depth_m,
        "the depth",
    );
    if hull.bow_deadrise_rad < hull.deadrise_rad - 1e-9 {
        let help = "the bow is as steep as the stern or steeper";
        fit.checker.error(
            fit.table.place_of("bow_deadrise"),
            "the bow deadrise is less than the deadrise aft",
            help,
        );
    }
    hull
}

fn catamaran(fit: &mut Fit<'_, '_>) -> Catamaran {
    let hull = Catamaran {
        length_m: fit.value("length"),
        beam_m: fit.value("beam"),
        depth_m: fit.value("depth"),
        sponson_width_m: fit.value("sponson_width"),
        deadrise_rad: fit.value("deadrise"),
        strip_width_m: fit.value("strip_width"),
        curve_from_x_m: fit.value("curve_from"),
        roof_aft_z_m: fit.value("roof_aft"),
        roof_forward_z_m: fit.value("roof_forward"),
        roof_forward_x_m: fit.value("roof_forward_station"),
        mouth_x_m: fit.value("mouth"),
    };
    fit.at_most(
        "sponson_width",
        "the two hulls' width",
        2.0 * hull.sponson_width_m,
        hull.beam_m,
        "the beam",
    );
    fit.at_most(
        "strip_width",
        "the strip",
        hull.strip_width_m,
        hull.sponson_width_m,
        "the hull width",
    );
    fit.at_most(
        "roof_aft",
        "the tunnel roof aft",
        hull.roof_aft_z_m,
        hull.depth_m,
        "the depth",
    );
    fit.at_most(
        "roof_forward",
        "the tunnel roof forward",
        hull.roof_forward_z_m,
        hull.depth_m,
        "the depth",
    );
    fit.at_most(
        "mouth",
        "the tunnel's mouth",
        hull.mouth_x_m,
        hull.length_m,
        "the length",
    );
    fit.at_most(
        "roof_forward_station",
        "the forward roof station",
        hull.roof_forward_x_m,
        hull.mouth_x_m,
        "the mouth's place",
    );
    fit.at_most(
        "curve_from",
        "the start of the curve",
        hull.curve_from_x_m,
        hull.length_m,
        "the length",
    );
    let rise = (hull.sponson_width_m - hull.strip_width_m) * hull.deadrise_rad.tan();
    fit.at_most(
        "deadrise",
        "the outer chine's height",
        rise,
        hull.depth_m,
        "the depth",
    );
    hull
}
