//! What a builder could do about hull and joints.

use boat::making::{GlueKind, JointKind, Rod, RodMaterial};
use boat::{Boat, Measure};
use form::Form;
use laws::printed_strength::Plastic;
use nalgebra::Vector3;

use super::bending::beam;
use super::{Asking, Bending, By, Declared, Lever, Margin, Of, Strength, details, prints_standing};
use crate::pieces::{JointLaid, Layout};

/// One line of a usual nozzle, m.
const LINE_M: f64 = 0.0004;
/// Frames are tried this far apart, m.
const FRAMES_M: f64 = 0.06;

/// Each change alone, with the worst margins then.
pub(super) fn levers(
    asking: &Asking<'_>,
    plastic: &'static Plastic,
    layout: &Layout,
    now: &Strength,
) -> Vec<Lever> {
    let mut all = Vec::new();
    let mut add =
        |by: By, what: String, declares: Option<Declared>, boat: &Boat, layout: &Layout| {
            let changed = Asking { boat, ..*asking };
            let mut then = beam(&changed, plastic, layout);
            details::add(&changed, plastic, layout, &mut then);
            then.margins.sort_by(|a, b| a.value().total_cmp(&b.value()));
            all.push(Lever {
                by,
                what,
                declares,
                hull: then.worst(Of::Hull).map_or(999.0, Margin::value),
                joints: then.worst(Of::Joint).map(Margin::value),
                panels: then.worst(Of::Panel).map(Margin::value),
            });
        };
    let mut rods = asking.boat.clone();
    let more = keel_rods(asking.form);
    rods.making.rods.extend(more.clone());
    add(
        By::GluedIn,
        "Two 4 mm carbon rods glued in along the bottom".to_owned(),
        Some(Declared::Rods(more)),
        &rods,
        layout,
    );
    if asking.form.walls.is_none() {
        let mut thick = asking.boat.clone();
        thick.hull.print.wall_m.value += LINE_M;
        let what = "One more wall line, 0.4 mm".to_owned();
        let declares = Some(Declared::MoreWall(LINE_M));
        add(By::Reprinted, what, declares, &thick, layout);
    }
    if asking.boat.making.frames_m.is_none_or(|f| f > FRAMES_M) {
        let mut framed = asking.boat.clone();
        framed.making.frames_m = Some(FRAMES_M);
        let what = format!("Frames or bulkheads each {:.0} mm", 1e3 * FRAMES_M);
        let declares = Some(Declared::Frames(FRAMES_M));
        add(By::GluedIn, what, declares, &framed, layout);
    }
    if let Some(joint) = now.worst(Of::Joint) {
        if asking.boat.making.glue.kind == GlueKind::Epoxy {
            let mut glue = asking.boat.clone();
            glue.making.glue.kind = GlueKind::Methacrylate;
            glue.making.glue.strength_pa = GlueKind::Methacrylate.strength_pa();
            let what = "Methacrylate instead of epoxy".to_owned();
            let declares = Some(Declared::Glue(GlueKind::Methacrylate));
            add(By::Joined, what, declares, &glue, layout);
        }
        let at = joint.x_m;
        let mut better = layout.clone();
        let butt = |j: &&mut JointLaid| j.x_m == at && j.kind == JointKind::Butt;
        if let Some(laid) = better.joints.iter_mut().find(butt) {
            laid.kind = laid.strongest;
            let what = format!(
                "A {} joint at {:.0} mm instead of a butt joint",
                laid.kind.word(),
                1e3 * at
            );
            add(By::Printed, what, None, asking.boat, &better);
        }
        let bending = Bending::of(asking.boat, asking.form, asking.mass);
        let quieter = (-8..=8)
            .map(|k| at + 0.01 * f64::from(k))
            .min_by(|a, b| bending.share(*a).total_cmp(&bending.share(*b)));
        if let Some(to) = quieter.filter(|to| bending.share(*to) < 0.8 * bending.share(at)) {
            let mut moved = layout.clone();
            for joint in moved.joints.iter_mut().filter(|j| j.x_m == at) {
                joint.x_m = to;
            }
            add(
                By::Reprinted,
                format!("The cut at {:.0} mm moved to {:.0} mm", 1e3 * at, 1e3 * to),
                None,
                asking.boat,
                &moved,
            );
        }
    }
    if layout.stretches.iter().any(|s| prints_standing(&s.2)) {
        let mut flat = layout.clone();
        flat.stretches.iter_mut().for_each(|s| s.2 = Vector3::z());
        add(
            By::Reprinted,
            "Printed lying, layers along the hull, where the bed takes it".to_owned(),
            None,
            asking.boat,
            &flat,
        );
    }
    all
}

/// A pair of rods low in the hull, from end to end.
fn keel_rods(form: &Form) -> Vec<Rod> {
    let Some((low, high)) = form.envelope.bounds() else {
        return Vec::new();
    };
    let place = |x: f64, y: f64, z: f64| [x, y, z].map(Measure::given);
    [(-0.015, "right keel rod"), (0.015, "left keel rod")]
        .into_iter()
        .map(|(y, name)| Rod {
            name: name.to_owned(),
            diameter_m: Measure::given(0.004),
            from: place(low.x, y, low.z + 0.006),
            to: place(high.x, y, low.z + 0.006),
            material: RodMaterial::Carbon,
        })
        .collect()
}
