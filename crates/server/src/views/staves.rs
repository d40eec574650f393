//! Lines over the rail that take longer than the speed curve: small motions, flying, heat, turning.

use motion::stability::{Modes, Shape};
use motion::turning::Way;
use power::thermal::Part;
use serde::{Deserialize, Serialize};
use study::Study;
use study::along;
use utoipa::ToSchema;

use super::finite;

/// m/s to km/h.
const KM_H: f64 = 3.6;
/// 0 degC, K.
const FREEZING_K: f64 = 273.15;
/// Shown where nothing up to here makes it fly.
const STEEPEST_DEG: f64 = 45.0;

/// Which lines.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum StaveKind {
    /// Growth of small motions: in pitch, in roll, off its course.
    #[default]
    Stability,
    /// Pitch and gust before it flies.
    Flight,
    /// Hottest motor, controller and pack when the speed is held.
    Heat,
    /// Tightest turn to each side.
    Turning,
}

/// Lines over the rail.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StavesView {
    /// Of the text they were worked out from.
    pub revision: String,
    /// Each with speeds of its own.
    pub lines: Vec<Lines>,
}

/// One line with speeds of its own.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct Lines {
    /// Stable name: `pitch-growth`.
    pub id: String,
    /// Lines of one stave share this: `stability`.
    pub stave: String,
    /// What it is.
    pub label: String,
    /// Of the values.
    pub unit: String,
    /// km/h.
    pub speeds_km_h: Vec<f64>,
    /// One for each speed; nothing where there is no answer.
    pub values: Vec<Option<f64>>,
}

/// What lines take in memory.
pub fn bytes(lines: &[Lines]) -> usize {
    let each = lines.iter().map(|line| {
        let values = size_of_val(line.values.as_slice()) + size_of_val(line.speeds_km_h.as_slice());
        size_of_val(line) + values + line.label.len()
    });
    each.sum()
}

/// Lines of one kind; none for a boat that does not run.
pub fn lines(study: &Study, kind: StaveKind) -> Vec<Lines> {
    let Some(under) = &study.running else {
        return Vec::new();
    };
    let (craft, curve) = (&under.craft, &under.curve);
    match kind {
        StaveKind::Stability => stability(&along::small_motions(craft, curve)),
        StaveKind::Flight => flight(&along::flight(craft, curve)),
        StaveKind::Heat => heat(study, &along::heat(&study.boat, craft, curve)),
        StaveKind::Turning => turning(&along::turns(craft, curve)),
    }
}

fn line<T>(
    names: [&str; 4],
    points: &[T],
    speed_m_s: impl Fn(&T) -> f64,
    value: impl Fn(&T) -> Option<f64>,
) -> Lines {
    let [id, stave, label, unit] = names.map(str::to_owned);
    Lines {
        id,
        stave,
        label,
        unit,
        speeds_km_h: points.iter().map(|p| speed_m_s(p) * KM_H).collect(),
        values: points.iter().map(|p| value(p).and_then(finite)).collect(),
    }
}

fn stability(all: &[Modes]) -> Vec<Lines> {
    let shapes = [
        ("pitch-growth", "bouncing in pitch", Shape::Porpoising),
        ("roll-growth", "rolling side to side", Shape::ChineWalk),
        ("yaw-growth", "turning off its course", Shape::Yaw),
    ];
    let each = shapes.into_iter().map(|(id, label, shape)| {
        let growth = |m: &Modes| Some(m.worst(shape)?.growth_per_s);
        line(
            [id, "stability", label, "1/s"],
            all,
            |m| m.speed_m_s,
            growth,
        )
    });
    each.filter(|l| l.values.iter().any(Option::is_some))
        .collect()
}

fn flight(all: &[motion::flight::Margin]) -> Vec<Lines> {
    if all.is_empty() {
        return Vec::new();
    }
    let speed = |m: &motion::flight::Margin| m.speed_m_s;
    vec![
        line(
            ["flight-pitch", "flight", "pitch up before it flies", "°"],
            all,
            speed,
            |m| Some(m.pitch_rad().map_or(STEEPEST_DEG, f64::to_degrees)),
        ),
        line(
            ["flight-gust", "gust", "headwind gust it stands", "m/s"],
            all,
            speed,
            |m| Some(m.gust_m_s.unwrap_or(motion::flight::STRONGEST_M_S)),
        ),
    ]
}

fn heat(study: &Study, drives: &[Vec<along::Warmth>]) -> Vec<Lines> {
    let parts = [
        ("motor", Part::Winding),
        ("controller", Part::Controller),
        ("pack", Part::Pack),
    ];
    let mut out = Vec::new();
    for (drive, points) in study.boat.drives.iter().zip(drives) {
        if points.is_empty() {
            continue;
        }
        for (word, part) in parts {
            let label = format!("{} {word} temperature", drive.name);
            let id = format!("heat-{word}-{}", drive.name);
            out.push(line(
                [&id, "heat", label.trim(), "°C"],
                points,
                |w| w.speed_m_s,
                |w| w.hottest_k.get(part as usize).map(|k| k - FREEZING_K),
            ));
        }
    }
    out
}

type Turned = (
    f64,
    Result<motion::turning::Turns, motion::turning::TurningError>,
);

fn turning(all: &[Turned]) -> Vec<Lines> {
    let each = [Way::Port, Way::Starboard].map(|way| {
        let tightest = |t: &Turned| Some(t.1.as_ref().ok()?.to(way).tightest()?.radius_m);
        let label = format!("tightest steady turn {}", way.word());
        let id = format!("turn-{}", way.word());
        line([&id, "turning", &label, "m"], all, |t| t.0, tightest)
    });
    let told = |l: &Lines| l.values.iter().any(Option::is_some);
    each.into_iter().filter(told).collect()
}
