#![allow(dead_code)] // the test takes a part of it

//! Boats swept over twelve parameters: is there an answer everywhere, does it change smoothly, does a run in time agree?

use boat::{Boat, RunningOverride};
use craft::{Craft, Factors, SpeedCurve};
use form::Form;
use motion::{InTime, TopSpeed, settled_speed, top_speed};

use super::boats::Example;

/// The demonstration boats.
pub const BOATS: [&str; 5] = [
    "practice",
    "tadpole",
    "longshank",
    "millrace",
    "twin-thistle",
];

/// One thing changed, from one value to another.
pub struct Parameter {
    pub name: &'static str,
    pub from: f64,
    pub to: f64,
    pub change: fn(&mut Boat, &mut Form, f64),
}

pub const PARAMETERS: [Parameter; 12] = [
    Parameter {
        name: "mass, times",
        from: 0.6,
        to: 2.0,
        change: |boat, _, x| heavier(boat, x),
    },
    Parameter {
        name: "first movable part, mm",
        from: -40.0,
        to: 40.0,
        change: |boat, _, x| {
            if let Some(part) = boat.parts.iter_mut().find(|p| p.movable) {
                part.at[0].value += 1e-3 * x;
            }
        },
    },
    Parameter {
        name: "propeller diameter, times",
        from: 0.75,
        to: 1.25,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.propeller.diameter_m.value *= x;
            }
        },
    },
    Parameter {
        name: "pitch ratio",
        from: 0.8,
        to: 2.0,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.propeller.pitch_ratio.value = x;
            }
        },
    },
    Parameter {
        name: "motor constant, times",
        from: 0.6,
        to: 1.4,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.motor.kv_rad_s_v.value *= x;
            }
        },
    },
    Parameter {
        name: "charge left",
        from: 0.05,
        to: 1.0,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.battery.state_of_charge.value = x;
            }
        },
    },
    Parameter {
        name: "running surfaces' beam, times",
        from: 0.5,
        to: 1.5,
        change: |_, form, x| {
            reshaped(form, |s, o| {
                o.beam_m = Some(boat::Measure::given(x * s.beam_m.value));
            });
        },
    },
    Parameter {
        name: "running surfaces' angle, deg",
        from: -1.0,
        to: 4.0,
        change: |_, form, x| {
            reshaped(form, |s, o| {
                o.angle_rad = Some(boat::Measure::given(s.angle_rad.value + x.to_radians()));
            });
        },
    },
    Parameter {
        name: "deadrise, deg",
        from: -4.0,
        to: 8.0,
        change: |_, form, x| {
            reshaped(form, |s, o| {
                let changed = s.deadrise_rad.value + x.to_radians();
                o.deadrise_rad = Some(boat::Measure::given(changed.max(0.0)));
            });
        },
    },
    Parameter {
        name: "propeller higher, mm",
        from: -8.0,
        to: 8.0,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.propeller.at[2].value += 1e-3 * x;
                if let Some(strut) = &mut drive.strut {
                    strut.at[2].value += 1e-3 * x;
                }
            }
        },
    },
    Parameter {
        name: "shaft angle, deg",
        from: -3.0,
        to: 6.0,
        change: |boat, _, x| {
            for drive in &mut boat.drives {
                drive.shaft.angle_rad.value += x.to_radians();
            }
        },
    },
    Parameter {
        name: "headwind, m/s",
        from: -3.0,
        to: 12.0,
        change: |boat, _, x| boat.air.headwind_m_s.value = x,
    },
];

/// All of it times that.
pub fn heavier(boat: &mut Boat, times: f64) {
    for part in &mut boat.parts {
        part.mass_kg.value *= times;
    }
    boat.hull.print.density_kg_m3.value *= times;
    boat.hull.print.coating_kg_m2.value *= times;
    if let Some(weighed) = &mut boat.hull.weighed {
        weighed.mass_kg.value *= times;
    }
}

/// Running surfaces as if measured otherwise.
pub fn reshaped(form: &mut Form, change: impl Fn(&form::RunningSurface, &mut RunningOverride)) {
    let overrides: Vec<RunningOverride> = form
        .surfaces
        .iter()
        .map(|s| {
            let mut changed = RunningOverride {
                surface: s.name.clone(),
                angle_rad: None,
                beam_m: None,
                deadrise_rad: None,
                strake_m: None,
                trailing_edge_x_m: None,
                trailing_edge_z_m: None,
            };
            change(s, &mut changed);
            changed
        })
        .collect();
    form::running::apply(&mut form.surfaces, &overrides).expect("names that exist");
}

impl Parameter {
    pub fn value(&self, i: usize, count: usize) -> f64 {
        self.from + (self.to - self.from) * i as f64 / (count - 1) as f64
    }

    /// The boat with it changed; `Err` says why it cannot be put together.
    pub fn craft(&self, of: &Example, x: f64) -> Result<Craft, String> {
        let (mut boat, mut form) = (of.boat.clone(), of.form.clone());
        (self.change)(&mut boat, &mut form, x);
        craft_of(&boat, &form)
    }
}

pub fn craft_of(boat: &Boat, form: &Form) -> Result<Craft, String> {
    let mass = craft::mass::mass_properties(boat, form).map_err(|e| e.to_string())?;
    Craft::new(boat, form, &mass, &Factors::default()).map_err(|e| e.to_string())
}

/// What came of one value.
#[derive(Debug, Clone)]
pub struct Row {
    pub x: f64,
    /// Where it cannot be put together.
    pub refused: Option<String>,
    pub curve: SpeedCurve,
    /// What full throttle comes to.
    pub answer: Option<TopSpeed>,
    /// Of a run in time, where asked.
    pub in_time: Option<InTime>,
}

impl Row {
    /// The speed to show, m/s.
    pub fn top(&self) -> Option<f64> {
        self.answer.as_ref()?.speed_m_s()
    }

    /// It is that of a steady state.
    pub fn steady(&self) -> bool {
        matches!(self.answer, Some(TopSpeed::Steady(_)))
    }

    /// A top speed, or a reason.
    pub fn answers(&self) -> bool {
        self.refused.is_some() || self.top().is_some() || self.curve.no_top.is_some()
    }

    fn answered(self, craft: &Craft, throw_rad: f64) -> Self {
        Self {
            answer: Some(top_speed(craft, &self.curve, throw_rad)),
            ..self
        }
    }

    /// How far the steady answer is from a run in time that settles, as a share.
    pub fn off(&self) -> Option<f64> {
        match &self.in_time {
            Some(InTime::Runs(run)) if run.is_steady() && self.steady() => {
                Some(self.top()? / run.mean_m_s - 1.0)
            }
            _ => None,
        }
    }

    /// The run settles and there is no steady answer, or nothing else is known of it.
    pub fn missing(&self) -> bool {
        let settles = matches!(&self.in_time, Some(InTime::Runs(run)) if run.is_steady());
        !self.answers() || settles && self.top().is_none()
    }

    /// What explains a jump: strokes below top speed, a faster state beside it, none that is steady.
    fn ways(&self) -> (usize, bool, bool) {
        let top = self.top().unwrap_or(f64::INFINITY);
        let strokes = self.curve.jumps_m_s.iter().filter(|v| **v <= top);
        (strokes.count(), self.curve.faster.is_some(), self.steady())
    }
}

/// One boat, one parameter.
pub fn sweep(of: &Example, parameter: &Parameter, count: usize, in_time: bool) -> Vec<Row> {
    let throws = of.boat.rudders.iter().map(|r| r.throw_rad.value);
    let throw = throws.fold(0.0, f64::max);
    (0..count)
        .map(|i| {
            let x = parameter.value(i, count);
            match parameter.craft(of, x) {
                Err(why) => Row {
                    x,
                    refused: Some(why),
                    curve: SpeedCurve::default(),
                    answer: None,
                    in_time: None,
                },
                Ok(craft) => Row {
                    x,
                    refused: None,
                    curve: craft.rough_curve(2),
                    answer: None,
                    in_time: in_time.then(|| settled_speed(&craft, throw).ok()).flatten(),
                }
                .answered(&craft, throw),
            }
        })
        .collect()
}

/// Places where top speed changes by more than its neighbours' changes explain, between which values, by how much;
/// and whether what is told of the way up (strokes, a faster state, no steady one) changes there too, which names it.
pub fn jumps(rows: &[Row]) -> Vec<(f64, f64, f64, bool)> {
    let mut found = Vec::new();
    for i in 1..rows.len() {
        let (Some(a), Some(b)) = (rows[i - 1].top(), rows[i].top()) else {
            continue;
        };
        let step = (b - a).abs();
        let before = i
            .checked_sub(2)
            .and_then(|j| rows[j].top())
            .map(|t| (a - t).abs());
        let after = rows.get(i + 1).and_then(Row::top).map(|t| (t - b).abs());
        let beside = before.into_iter().chain(after).fold(0.0, f64::max);
        if step > 0.015 * a.max(b) && step > 3.0 * beside {
            let named = rows[i - 1].ways() != rows[i].ways();
            found.push((rows[i - 1].x, rows[i].x, b / a - 1.0, named));
        }
    }
    found
}
