//! What is changed, and which way builders say each number goes (common practice, no source).

use boat::{Boat, Measure};
use form::Form;

use super::sweep::{heavier, reshaped};
use super::{Sign, What};
use Sign::{Less, More, NotMore, Same};
use What::{Current, Flight, Planing, RunTime, Slip, Top, Trim, Turn};

/// Something a builder changes.
pub struct Cause {
    pub name: &'static str,
    pub change: fn(&mut Boat, &mut Form),
    /// The boat has it at all.
    pub applies: fn(&Boat) -> bool,
    /// What builders say of it.
    pub expects: &'static [(What, Sign)],
    /// Boats on which ours differs, in what, and why.
    pub differs: &'static [(What, &'static [&'static str], &'static str)],
}

const SINKS: &str = "the propeller carries the stern: weight sinks it deeper, and it slips less";
const LONG: &str =
    "long bottoms with dry chines keep their trim: how much of them is wet moves instead";
const FLIES: &str = "it takes off: the air and the propellers carry it before full throttle";
const LEANS: &str = "the propeller pushes its stern aside, and without a deep rudder's push against that the vee leans by 9 deg";
const TRIMS: &str = "at that speed the whole hull carries, and the boat trims to make up for it";

pub const CAUSES: &[Cause] = &[
    Cause {
        name: "all of it a fifth heavier, strut left alone",
        applies: |_| true,
        change: |boat, _| heavier(boat, 1.2),
        expects: &[
            (Top, Less),
            (Current, More),
            (Planing, More),
            (Flight, More),
        ],
        differs: &[(Top, &["practice", "longshank"], SINKS)],
    },
    Cause {
        name: "twice as heavy, strut left alone",
        applies: |_| true,
        change: |boat, _| heavier(boat, 2.0),
        expects: &[(Top, NotMore), (Current, More), (Planing, More)],
        differs: &[
            (
                Top,
                &["practice", "tadpole", "longshank"],
                "the propeller carries the stern: weight sinks it deeper, and it slips less; longshank sinks",
            ),
            (Current, &["longshank"], "it sinks"),
            (
                Planing,
                &["longshank", "millrace"],
                "it sinks, or starts from full throttle",
            ),
        ],
    },
    Cause {
        name: "a fifth heavier, strut 1.5 mm higher for it",
        applies: |_| true,
        change: |boat, _| {
            heavier(boat, 1.2);
            strut(boat, 1.5);
        },
        expects: &[(Top, Less), (Planing, More)],
        differs: &[(
            Top,
            &["practice", "longshank"],
            "the propeller carries the stern: how deep it runs follows from the weight on it, not from the strut",
        )],
    },
    Cause {
        name: "trim tabs 3° down",
        applies: |boat| !boat.tabs.is_empty(),
        change: |boat, _| {
            for tab in &mut boat.tabs {
                tab.angle_rad.value += 3f64.to_radians();
            }
        },
        expects: &[(Trim, Less), (Flight, More)],
        differs: &[],
    },
    Cause {
        name: "first pack 20 mm forward",
        applies: |_| true,
        change: |boat, _| pack(boat, 20.0),
        expects: &[(Trim, Less), (Flight, More)],
        differs: &[(Trim, &["twin-thistle"], LONG)],
    },
    Cause {
        name: "first pack 20 mm aft",
        applies: |_| true,
        change: |boat, _| pack(boat, -20.0),
        expects: &[(Trim, More), (Flight, Less)],
        differs: &[(Trim, &["twin-thistle"], LONG)],
    },
    Cause {
        name: "propeller a twentieth larger",
        applies: |_| true,
        change: |boat, _| propellers(boat, |p| p.diameter_m.value *= 1.05),
        expects: &[(Top, More), (Current, More), (RunTime, Less)],
        differs: &[
            (Top, &["twin-thistle"], FLIES),
            (Current, &["twin-thistle"], FLIES),
            (RunTime, &["twin-thistle"], FLIES),
        ],
    },
    Cause {
        name: "propeller a twentieth smaller",
        applies: |_| true,
        change: |boat, _| propellers(boat, |p| p.diameter_m.value *= 0.95),
        expects: &[(Top, Less), (Current, Less), (RunTime, More)],
        differs: &[],
    },
    Cause {
        name: "pitch ratio 0.2 more",
        applies: |_| true,
        change: |boat, _| propellers(boat, |p| p.pitch_ratio.value += 0.2),
        expects: &[(Top, More), (Current, More), (Slip, More)],
        differs: &[
            (Top, &["twin-thistle"], FLIES),
            (Current, &["twin-thistle"], FLIES),
            (Slip, &["twin-thistle"], FLIES),
        ],
    },
    Cause {
        name: "pitch ratio 0.2 less",
        applies: |_| true,
        change: |boat, _| propellers(boat, |p| p.pitch_ratio.value -= 0.2),
        expects: &[(Top, Less), (Current, Less), (Slip, Less), (Flight, More)],
        differs: &[(
            Slip,
            &["twin-thistle"],
            "slower, the air lifts less and the hulls drag as much",
        )],
    },
    Cause {
        name: "three blades",
        applies: |_| true,
        change: |boat, _| {
            propellers(boat, |p| {
                p.blades = 3;
                p.area_ratio.value *= 1.5;
            });
        },
        expects: &[(Current, More), (Slip, Less)],
        differs: &[],
    },
    Cause {
        name: "one cell more",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.battery.series += 1),
        expects: &[
            (Top, More),
            (Current, More),
            (RunTime, Less),
            (Flight, Less),
        ],
        differs: &[
            (Top, &["twin-thistle"], FLIES),
            (Current, &["twin-thistle"], FLIES),
            (RunTime, &["twin-thistle"], FLIES),
            (Flight, &["twin-thistle"], FLIES),
        ],
    },
    Cause {
        name: "one cell less",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.battery.series -= 1),
        expects: &[
            (Top, Less),
            (Current, Less),
            (RunTime, More),
            (Flight, More),
        ],
        differs: &[],
    },
    Cause {
        name: "motor constant a tenth more",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.motor.kv_rad_s_v.value *= 1.1),
        expects: &[(Top, More), (Current, More), (RunTime, Less)],
        differs: &[
            (Top, &["twin-thistle"], FLIES),
            (Current, &["twin-thistle"], FLIES),
            (RunTime, &["twin-thistle"], FLIES),
        ],
    },
    Cause {
        name: "motor constant a tenth less",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.motor.kv_rad_s_v.value *= 0.9),
        expects: &[(Top, Less), (Current, Less), (RunTime, More)],
        differs: &[],
    },
    Cause {
        name: "cells of twice the resistance",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.battery.cell_resistance_ohm.value *= 2.0),
        expects: &[(Top, Less), (Current, Less)],
        differs: &[],
    },
    Cause {
        name: "packs at 5 °C",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.battery.temperature_c.value = 5.0),
        expects: &[(Top, Less)],
        differs: &[],
    },
    Cause {
        name: "a third of the charge left",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.battery.state_of_charge.value = 0.33),
        expects: &[(Top, Less), (Current, Less)],
        differs: &[],
    },
    Cause {
        name: "motor of twice the resistance",
        applies: |_| true,
        change: |boat, _| drives(boat, |d| d.motor.resistance_ohm.value *= 2.0),
        expects: &[(Top, Less)],
        differs: &[],
    },
    Cause {
        name: "a rigid shaft in the place of a cable",
        applies: |_| true,
        change: |boat, _| {
            drives(boat, |d| {
                d.shaft.kind = boat::ShaftKind::Solid;
                d.shaft.bend_rad = Measure::given(0.0);
            });
        },
        expects: &[(Top, More)],
        differs: &[(
            Top,
            &["longshank"],
            "it has a wire, which loses next to nothing",
        )],
    },
    Cause {
        name: "running surfaces a quarter wider",
        applies: |_| true,
        change: |_, form| beam(form, 1.25),
        expects: &[(Planing, Less)],
        differs: &[],
    },
    Cause {
        name: "running surfaces a quarter narrower",
        applies: |_| true,
        change: |_, form| beam(form, 0.75),
        expects: &[(Planing, More)],
        differs: &[],
    },
    Cause {
        name: "running surfaces built 1° steeper",
        applies: |_| true,
        change: |_, form| angle(form, 1.0),
        expects: &[(Trim, Less), (Planing, Less)],
        differs: &[(Planing, &["millrace", "twin-thistle"], TRIMS)],
    },
    Cause {
        name: "running surfaces built 1° flatter",
        applies: |_| true,
        change: |_, form| angle(form, -1.0),
        expects: &[(Trim, More), (Planing, More)],
        differs: &[(
            Planing,
            &[
                "practice",
                "tadpole",
                "longshank",
                "millrace",
                "twin-thistle",
            ],
            TRIMS,
        )],
    },
    Cause {
        name: "6° more deadrise",
        applies: |_| true,
        change: |_, form| {
            reshaped(form, |s, o| {
                let more = s.deadrise_rad.value + 6f64.to_radians();
                o.deadrise_rad = Some(Measure::given(more));
            });
        },
        expects: &[(Planing, More)],
        differs: &[],
    },
    Cause {
        name: "hull left as printed, layers across the flow",
        applies: |_| true,
        change: |boat, _| boat.hull.roughness_m = Measure::given(2e-4),
        expects: &[(Top, Less)],
        differs: &[],
    },
    Cause {
        name: "hull polished",
        applies: |_| true,
        change: |boat, _| boat.hull.roughness_m = Measure::given(1e-6),
        expects: &[(Top, More)],
        differs: &[],
    },
    Cause {
        name: "trailing edges rounded to 2 mm",
        applies: |_| true,
        change: |boat, _| boat.hull.edge_radius_m = Measure::given(2e-3),
        expects: &[(Top, Less)],
        differs: &[(
            Top,
            &["millrace", "twin-thistle"],
            "it runs flat and wet: the edge pulls the stern down, the bow comes up, and less is wet",
        )],
    },
    Cause {
        name: "strut and propeller 2 mm lower",
        applies: |_| true,
        change: |boat, _| strut(boat, -2.0),
        expects: &[(Trim, Less)],
        differs: &[(Trim, &["twin-thistle"], LONG)],
    },
    Cause {
        name: "strut and propeller 2 mm higher",
        applies: |_| true,
        change: |boat, _| strut(boat, 2.0),
        expects: &[(Trim, More)],
        differs: &[],
    },
    Cause {
        name: "headwind of 4 m/s",
        applies: |_| true,
        change: |boat, _| boat.air.headwind_m_s.value = 4.0,
        expects: &[(Top, Less), (Flight, Less)],
        differs: &[
            (
                Top,
                &["millrace", "twin-thistle"],
                "wind lifts a hull that runs wet by more than it holds it back; twin-thistle takes off",
            ),
            (Flight, &["twin-thistle"], FLIES),
        ],
    },
    Cause {
        name: "tailwind of 3 m/s",
        applies: |_| true,
        change: |boat, _| boat.air.headwind_m_s.value = -3.0,
        expects: &[(Top, More), (Flight, More)],
        differs: &[(
            Top,
            &["twin-thistle"],
            "the air carries less of a hull that runs wet",
        )],
    },
    Cause {
        name: "fins off",
        applies: |boat| !boat.fins.is_empty(),
        change: |boat, _| boat.fins.clear(),
        expects: &[(Top, More), (Turn, More)],
        differs: &[],
    },
    Cause {
        name: "fins of half the span",
        applies: |boat| !boat.fins.is_empty(),
        change: |boat, _| boat.fins.iter_mut().for_each(|f| f.span_m.value *= 0.5),
        expects: &[(Turn, More)],
        differs: &[],
    },
    Cause {
        name: "rudder of half the span",
        applies: |_| true,
        change: |boat, _| boat.rudders.iter_mut().for_each(|r| r.span_m.value *= 0.5),
        expects: &[(Top, More), (Turn, More)],
        differs: &[(Top, &["millrace"], LEANS), (Turn, &["millrace"], LEANS)],
    },
    Cause {
        name: "half the rudder's throw",
        applies: |_| true,
        change: |boat, _| {
            boat.rudders
                .iter_mut()
                .for_each(|r| r.throw_rad.value *= 0.5)
        },
        expects: &[(Top, Same), (Turn, More)],
        differs: &[],
    },
    Cause {
        name: "a pack of half as much again, no heavier",
        applies: |_| true,
        change: |boat, _| {
            drives(boat, |d| {
                d.battery.capacity_c.value *= 1.5;
            });
        },
        expects: &[(Top, Same), (RunTime, More)],
        differs: &[],
    },
];

fn strut(boat: &mut Boat, higher_mm: f64) {
    drives(boat, |d| {
        d.propeller.at[2].value += 1e-3 * higher_mm;
        if let Some(strut) = &mut d.strut {
            strut.at[2].value += 1e-3 * higher_mm;
        }
    });
}

fn pack(boat: &mut Boat, forward_mm: f64) {
    if let Some(part) = boat.parts.iter_mut().find(|p| p.movable) {
        part.at[0].value += 1e-3 * forward_mm;
    }
}

fn drives(boat: &mut Boat, change: impl Fn(&mut boat::Drive)) {
    boat.drives.iter_mut().for_each(change);
}

fn propellers(boat: &mut Boat, change: impl Fn(&mut boat::Propeller)) {
    drives(boat, |d| change(&mut d.propeller));
}

fn beam(form: &mut Form, times: f64) {
    reshaped(form, |s, o| {
        o.beam_m = Some(Measure::given(times * s.beam_m.value));
    });
}

fn angle(form: &mut Form, deg: f64) {
    reshaped(form, |s, o| {
        o.angle_rad = Some(Measure::given(s.angle_rad.value + deg.to_radians()));
    });
}
