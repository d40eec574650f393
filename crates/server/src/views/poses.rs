//! The boat at every speed of the rail in one answer, so that dragging along it asks nothing.

use craft::{RunningState, SpeedCurve};
use nalgebra::Vector3;
use serde::Serialize;
use study::spread::Spread;
use utoipa::ToSchema;

use super::wetted::patch;
use super::{finite, point};
use crate::studies::Studied;

/// m/s to km/h.
const KM_H: f64 = 3.6;
/// m to mm.
const MM: f64 = 1e3;

/// Everything along the rail.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PosesView {
    /// Of the text it was worked out from.
    pub revision: String,
    /// Whether the staves have bands.
    pub full: bool,
    /// Still in the water; nothing for a boat that sinks.
    pub rest: Option<PoseView>,
    /// The way it runs coming up from rest, by speed.
    pub running: Vec<PoseView>,
    /// Other ways it could run at the same speeds, by speed.
    pub others: Vec<PoseView>,
    /// Speeds at which it changes attitude at a stroke, km/h.
    pub jumps_km_h: Vec<f64>,
    /// Speeds at which it has no steady attitude, km/h.
    pub none_km_h: Vec<f64>,
    /// Top speed, km/h.
    pub top_km_h: Option<f64>,
    /// Narrowest place before planing, km/h.
    pub hump_km_h: Option<f64>,
    /// Where it is planing, km/h.
    pub planing_km_h: Option<f64>,
    /// Speeds of the staves, km/h: those of `running`.
    pub speeds_km_h: Vec<f64>,
    /// What is drawn over the rail.
    pub staves: Vec<StaveView>,
}

/// The boat at one speed.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PoseView {
    /// km/h.
    pub speed_km_h: f64,
    /// 0 to 1; over 1 the drive cannot hold this speed.
    pub throttle: f64,
    /// Bow up positive, degrees.
    pub trim_deg: f64,
    /// Starboard down positive, degrees.
    pub heel_deg: f64,
    /// Height of the boat's origin over still water, m.
    pub rise_m: f64,
    /// Every element's force.
    pub forces: Vec<ForceView>,
    /// Every running surface.
    pub wetted: Vec<WettedView>,
    /// Every drive.
    pub drives: Vec<DriveView>,
    /// Drag the propellers must overcome, N.
    pub thrust_needed_n: f64,
    /// At full throttle, N.
    pub thrust_available_n: f64,
    /// Whether a small push in heave or pitch dies out.
    pub steady: bool,
    /// Where laws are used outside their range.
    pub notes: Vec<String>,
}

/// One element's force.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ForceView {
    /// What a builder would call it.
    pub name: String,
    /// Where to draw it, boat axes, m.
    pub at_m: [f64; 3],
    /// Boat axes, N.
    pub force_n: [f64; 3],
    /// About the boat's origin, N m.
    pub moment_n_m: [f64; 3],
}

/// How a running surface meets the water.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WettedView {
    /// Its name.
    pub surface: String,
    /// Along the keel, mm; 0 is clear of the water.
    pub keel_mm: f64,
    /// Along the chine, mm.
    pub chine_mm: f64,
    /// At the trailing edge, mm.
    pub beam_mm: f64,
    /// N.
    pub lift_n: f64,
    /// Its own trim, degrees.
    pub trim_deg: f64,
    /// Around the wetted part, boat axes, m; empty when clear.
    pub outline_m: Vec<[f64; 3]>,
}

/// A drive at one speed.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DriveView {
    /// Its name; may be empty.
    pub drive: String,
    /// rpm of the propeller.
    pub shaft_rpm: f64,
    /// From the battery, A.
    pub current_a: f64,
    /// At the battery, V.
    pub voltage_v: f64,
    /// N.
    pub thrust_n: f64,
    /// Of the disc: 0 out, 1 covered.
    pub immersion: f64,
    /// Against pitch speed, 0 to 1.
    pub slip: f64,
}

/// One line over the rail.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StaveView {
    /// Stable name: `thrust-needed`.
    pub id: String,
    /// Lines of one stave share this: `thrust`.
    pub stave: String,
    /// What it is.
    pub label: String,
    /// Of the values.
    pub unit: String,
    /// One for each speed.
    pub values: Vec<Option<f64>>,
    /// Lower edge of the 95 % band; empty until the full study is there.
    pub low: Vec<Option<f64>>,
    /// Upper edge.
    pub high: Vec<Option<f64>>,
}

/// The rail of a study of the text `text`.
pub fn view(studied: &Studied, text: &str, full: bool) -> PosesView {
    let study = &studied.study;
    let none = SpeedCurve::default();
    let curve = study.running.as_ref().map_or(&none, |u| &u.curve);
    let pose = |state: &RunningState| pose(studied, state);
    let speeds = curve.running.iter().map(|s| s.speed_m_s);
    PosesView {
        revision: crate::revision::revision(text),
        full,
        rest: rest(studied),
        running: curve.running.iter().map(pose).collect(),
        others: curve.others.iter().map(pose).collect(),
        jumps_km_h: curve.jumps_m_s.iter().map(|v| v * KM_H).collect(),
        none_km_h: curve.missing_m_s.iter().map(|v| v * KM_H).collect(),
        top_km_h: curve.top.as_ref().map(|t| t.speed_m_s * KM_H),
        hump_km_h: curve.hump.as_ref().map(|h| h.speed_m_s * KM_H),
        planing_km_h: craft::curve::planing_speed(curve).map(|v| v * KM_H),
        speeds_km_h: speeds.map(|v| v * KM_H).collect(),
        staves: staves(curve, &study.spread),
    }
}

fn rest(studied: &Studied) -> Option<PoseView> {
    let study = &studied.study;
    let afloat = study.rest.afloat.as_ref()?;
    let weight = study.mass.mass_kg * craft::craft::GRAVITY_M_S2;
    let up = craft::attitude::up(afloat.attitude.trim_rad, afloat.attitude.heel_rad);
    let force = |name: &str, at: &Vector3<f64>, force: Vector3<f64>| ForceView {
        name: name.to_owned(),
        at_m: point(at),
        force_n: rounded(&force),
        moment_n_m: rounded(&at.cross(&force)),
    };
    Some(PoseView {
        speed_km_h: 0.0,
        throttle: 0.0,
        trim_deg: afloat.attitude.trim_rad.to_degrees(),
        heel_deg: afloat.attitude.heel_rad.to_degrees(),
        rise_m: afloat.attitude.rise_m,
        forces: vec![
            force("weight", &study.mass.cg_m, -up * weight),
            force("buoyancy", &afloat.buoyancy_m, up * weight),
        ],
        wetted: Vec::new(),
        drives: Vec::new(),
        thrust_needed_n: 0.0,
        thrust_available_n: 0.0,
        steady: afloat.gm_roll_m > 0.0,
        notes: study.rest.notes.clone(),
    })
}

fn pose(studied: &Studied, state: &RunningState) -> PoseView {
    PoseView {
        speed_km_h: state.speed_m_s * KM_H,
        throttle: state.throttle,
        trim_deg: state.attitude.trim_rad.to_degrees(),
        heel_deg: state.attitude.heel_rad.to_degrees(),
        rise_m: state.attitude.rise_m,
        forces: state
            .forces
            .iter()
            .map(|f| ForceView {
                name: f.name.clone(),
                at_m: point(&crate::forces::place(studied, f)),
                force_n: rounded(&f.force_n),
                moment_n_m: rounded(&f.moment_n_m),
            })
            .collect(),
        wetted: state.wetted.iter().map(|w| wetted(studied, w)).collect(),
        drives: state
            .drives
            .iter()
            .map(|d| DriveView {
                drive: d.name.clone(),
                shaft_rpm: d.shaft_rad_s * 60.0 / std::f64::consts::TAU,
                current_a: d.current_a,
                voltage_v: d.voltage_v,
                thrust_n: d.thrust_n,
                immersion: d.immersion,
                slip: d.slip,
            })
            .collect(),
        thrust_needed_n: state.thrust_needed_n,
        thrust_available_n: state.thrust_available_n,
        steady: state.statically_stable,
        notes: state.notes.clone(),
    }
}

fn wetted(studied: &Studied, wet: &craft::WettedSurface) -> WettedView {
    let surfaces = &studied.study.form.surfaces;
    let surface = surfaces
        .iter()
        .find(|s| s.name == wet.name)
        .filter(|_| wet.keel_length_m > 0.0);
    let outline = surface.map_or_else(Vec::new, |surface| {
        let share = (wet.beam_m / surface.beam_m.value.max(1e-9)).clamp(0.0, 1.0);
        patch(surface, wet.keel_length_m, wet.chine_length_m, share)
    });
    WettedView {
        surface: wet.name.clone(),
        keel_mm: wet.keel_length_m * MM,
        chine_mm: wet.chine_length_m * MM,
        beam_mm: wet.beam_m * MM,
        lift_n: wet.lift_n,
        trim_deg: wet.trim_rad.to_degrees(),
        outline_m: outline.iter().map(point).collect(),
    }
}

fn rounded(v: &Vector3<f64>) -> [f64; 3] {
    [v.x, v.y, v.z].map(|x| (x * 1e4).round() / 1e4)
}

/// A line by name, with how to read it off a state.
struct Line {
    id: String,
    stave: &'static str,
    label: String,
    unit: &'static str,
    of: Box<dyn Fn(&RunningState) -> f64>,
}

fn line(
    id: impl Into<String>,
    stave: &'static str,
    label: impl Into<String>,
    unit: &'static str,
    of: impl Fn(&RunningState) -> f64 + 'static,
) -> Line {
    Line {
        id: id.into(),
        stave,
        label: label.into(),
        unit,
        of: Box::new(of),
    }
}

fn staves(curve: &SpeedCurve, spread: &Spread) -> Vec<StaveView> {
    let Some(first) = curve.running.first() else {
        return Vec::new();
    };
    let mut lines = vec![
        line("thrust-needed", "thrust", "thrust needed", "N", |s| {
            s.thrust_needed_n
        }),
        line(
            "thrust-available",
            "thrust",
            "thrust at full throttle",
            "N",
            |s| s.thrust_available_n,
        ),
        line("trim", "trim", "trim", "°", |s| {
            s.attitude.trim_rad.to_degrees()
        }),
        line("heel", "trim", "heel", "°", |s| {
            s.attitude.heel_rad.to_degrees()
        }),
        line("rise", "rise", "rise", "mm", |s| s.attitude.rise_m * MM),
        line("current", "current", "battery current", "A", |s| {
            s.drives.iter().map(|d| d.current_a).sum()
        }),
        line("throttle", "throttle", "throttle", "%", |s| {
            s.throttle * 100.0
        }),
        line("lift-share", "lift", "weight carried by speed", "%", |s| {
            s.dynamic_share() * 100.0
        }),
    ];
    for (index, wet) in first.wetted.iter().enumerate() {
        let label = format!("{} wetted keel", wet.name);
        lines.push(line(
            format!("wetted-{index}"),
            "wetted",
            label,
            "mm",
            move |s| {
                s.wetted
                    .get(index)
                    .map_or(f64::NAN, |w| w.keel_length_m * MM)
            },
        ));
    }
    for (index, drive) in first.drives.iter().enumerate() {
        let label = format!("{} propeller", drive.name).trim().to_owned();
        lines.push(line(
            format!("rpm-{index}"),
            "rpm",
            label,
            "rpm",
            move |s| {
                let shaft = s.drives.get(index).map(|d| d.shaft_rad_s);
                shaft.map_or(f64::NAN, |w| w * 60.0 / std::f64::consts::TAU)
            },
        ));
    }
    lines
        .iter()
        .map(|line| drawn(line, curve, spread))
        .collect()
}

fn drawn(line: &Line, curve: &SpeedCurve, spread: &Spread) -> StaveView {
    let mut out = StaveView {
        id: line.id.clone(),
        stave: line.stave.to_owned(),
        label: line.label.clone(),
        unit: line.unit.to_owned(),
        values: curve.running.iter().map(|s| finite((line.of)(s))).collect(),
        low: Vec::new(),
        high: Vec::new(),
    };
    if !spread.draws.is_empty() {
        for state in &curve.running {
            let band = spread.band(state.speed_m_s, &line.of);
            out.low.push(band.and_then(|b| finite(b.0)));
            out.high.push(band.and_then(|b| finite(b.1)));
        }
    }
    out
}
