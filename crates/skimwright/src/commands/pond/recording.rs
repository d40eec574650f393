//! A run as numbers for scripts and for playing back: one list a quantity, at even steps of time.

use advice::number::significant;
use boat::Kind;
use motion::Run;
use motion::flight::Odds;
use motion::many::Count;
use motion::run::{STEP_S, Sample, Stopped};
use motion::water::Surface;
use serde_json::{Map, Value, json};

use super::Answer;

/// The whole recording, as `-o` writes it.
pub fn of(answer: &Answer) -> Value {
    json!({
        "recording": "run",
        "boat": answer.name,
        "water": answer.said.water,
        "wind": answer.said.wind,
        "hands": answer.said.hands,
        "start": answer.said.start,
        "seed": answer.said.seed,
        "events": events(&answer.run),
        "peaks": peaks(&answer.run),
        "stopped": stopped(&answer.run),
        "surface": surface(&answer.surface),
        "trace": trace(&answer.run),
    })
}

/// The water, so that a player can draw it anywhere and at any time: unrounded, since phases grow with distance.
pub fn surface(surface: &Surface) -> Value {
    json!({
        "sines": surface.sines(),
        "packet_m": surface.packet_m(),
        "growing_m": surface.growing_m(),
    })
}

type Taken = (&'static str, fn(&Sample) -> f64);

/// Names end in their unit.
const TAKEN: [Taken; 17] = [
    ("ahead_m", |s| s.place_m[0]),
    ("port_m", |s| s.place_m[1]),
    ("height_m", |s| s.place_m[2]),
    ("trim_deg", |s| s.trim_rad.to_degrees()),
    ("heel_deg", |s| s.heel_rad.to_degrees()),
    ("yaw_deg", |s| s.yaw_rad.to_degrees()),
    ("speed_km_h", |s| 3.6 * s.speed_m_s),
    ("yaw_rate_deg_s", |s| s.yaw_rate_rad_s.to_degrees()),
    ("up_g", |s| {
        s.acceleration_m_s2[2] / craft::craft::GRAVITY_M_S2
    }),
    ("across_g", |s| {
        s.acceleration_m_s2[1] / craft::craft::GRAVITY_M_S2
    }),
    ("throttle", |s| s.throttle),
    ("rudder_deg", |s| s.rudder_rad.to_degrees()),
    ("shaft_rpm", |s| s.shaft_rad_s * 30.0 / std::f64::consts::PI),
    ("current_a", |s| s.current_a),
    ("immersion", |s| s.immersion),
    ("water_m", |s| s.water_m),
    ("touching", |s| f64::from(u8::from(s.touching))),
];

/// One list a quantity.
pub fn trace(run: &Run) -> Value {
    let mut lists = Map::new();
    lists.insert("step_s".to_owned(), json!(STEP_S));
    for (name, of) in TAKEN {
        let values: Vec<Value> = run
            .samples
            .iter()
            .map(|s| json!(significant(of(s))))
            .collect();
        lists.insert(name.to_owned(), Value::Array(values));
    }
    Value::Object(lists)
}

pub fn events(run: &Run) -> Value {
    let n = |kind, value| json!(advice::Number::exact(kind, value));
    run.events
        .iter()
        .map(|e| {
            json!({
                "what": e.what,
                "time": n(Kind::Time, e.time_s),
                "speed": n(Kind::Speed, e.speed_m_s),
                "period": e.period_s.map(|p| n(Kind::Time, p)),
                "height": e.height_m.map(|h| n(Kind::Length, h)),
            })
        })
        .collect()
}

pub fn peaks(run: &Run) -> Value {
    let g = |a: f64| significant(a / craft::craft::GRAVITY_M_S2);
    let p = &run.peaks;
    json!({
        "up_g": g(p.up_m_s2),
        "bow_g": g(p.bow_m_s2),
        "across_g": g(p.across_m_s2),
        "forces": p.elements.iter().map(|(name, force, time)| json!({
            "element": name, "force_n": significant(*force), "time_s": significant(*time),
        })).collect::<Vec<_>>(),
    })
}

pub fn stopped(run: &Run) -> Value {
    match &run.stopped {
        None => Value::Null,
        Some(Stopped::Asked) => "stopped on request".into(),
        Some(Stopped::Over(why) | Stopped::Stuck(why)) => why.as_str().into(),
    }
}

pub fn count(c: &Count) -> Value {
    let (share, low, high) = c.lost_share();
    json!({
        "runs": c.runs, "flipped": c.flipped, "dived": c.dived, "rolled": c.rolled,
        "left_the_water": c.left, "not_finished": c.stuck,
        "lost": significant(share), "lost_from": significant(low), "lost_to": significant(high),
    })
}

pub fn odds(o: &Odds) -> Value {
    let n = |kind, value| json!(advice::Number::exact(kind, value));
    json!({
        "speed": n(Kind::Speed, o.speed_m_s),
        "ripple": n(Kind::Length, o.ripple_m),
        "count": count(&o.count),
    })
}
