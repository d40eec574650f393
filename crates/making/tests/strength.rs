//! Whether the demonstration boats hold, and that loads and strengths move the right way.

#![allow(missing_docs)]

mod common;

use boat::making::JointKind;
use craft::mass::mass_properties;
use laws::constants::GRAVITY_M_S2;
use making::strength::girder::{Girder, Push};
use making::strength::{Asking, Bending, Of, Seen, Strength, strength};

fn seen() -> Seen {
    Seen {
        top_m_s: 14.0,
        water_kg_m3: 999.0,
        up_m_s2: 60.0,
        sink_m_s: 1.2,
        ripple_m: 0.02,
        elements: Vec::new(),
        current_a: 90.0,
        motor_c: Some(70.0),
    }
}

fn of(boat: &boat::Boat, form: &form::Form) -> Strength {
    let mass = mass_properties(boat, form).unwrap();
    let seen = seen();
    strength(&Asking {
        boat,
        form,
        mass: &mass,
        seen: Some(&seen),
    })
    .unwrap()
}

fn told(name: &str, s: &Strength) {
    println!("{name}");
    for m in &s.margins {
        println!(
            "  {:?} {} under {}: {:.2} MPa of {:.1} MPa, margin {:.1} ± {:.1}",
            m.of,
            m.place,
            m.load,
            1e-6 * m.stress_pa,
            1e-6 * m.strength_pa,
            m.value(),
            m.spread
        );
    }
    for c in &s.crashes {
        println!("  {}: {}", c.what, c.breaks);
    }
    for l in &s.levers {
        println!("  {}: hull {:.1}, joints {:?}", l.what, l.hull, l.joints);
    }
}

#[test]
fn demonstration_boats_are_judged_in_time() {
    for name in common::DEMOS {
        let (boat, form) = common::demo(name);
        let timed = || {
            let start = std::time::Instant::now();
            (of(&boat, &form), start.elapsed())
        };
        // The quickest of three: whatever else the machine does is no part of it.
        let (s, took) = (0..3).map(|_| timed()).min_by_key(|t| t.1).unwrap();
        println!("{took:?}");
        // 0.3 s is promised; beside other tests on a busy machine five times as much is no fault of the boat's.
        assert!(took.as_secs_f64() < 1.5, "{name}: {took:?}");
        told(name, &s);
        assert!(!s.stations.is_empty() && s.worst(Of::Hull).is_some());
        assert!(
            s.margins
                .iter()
                .all(|m| m.value().is_finite() && m.value() > 0.0)
        );
    }
}

#[test]
fn in_the_air_nothing_is_left_over_at_the_ends() {
    let (boat, form) = common::demo("tadpole");
    let mass = mass_properties(&boat, &form).unwrap();
    let girder = Girder::of(&boat, &form, &mass, 2.5e9);
    let moment = girder.in_the_air(&[
        Push {
            x_m: 0.25,
            up_n: 100.0,
        },
        Push {
            x_m: 0.05,
            up_n: 10.0,
        },
    ]);
    let most = moment.iter().fold(0.0f64, |a, m| a.max(m.abs()));
    assert!(moment[0].abs() < 0.02 * most && moment[moment.len() - 1].abs() < 0.02 * most);
    // Held by its ends: about w L / 8 for an even boat.
    let total: f64 = girder.mass_kg.iter().sum::<f64>() * GRAVITY_M_S2;
    let length = girder.x_m[47] - girder.x_m[0];
    let held = girder.held([girder.x_m[0], girder.x_m[47]], 1.0);
    let middle = held.iter().fold(0.0f64, |a, m| a.max(m.abs()));
    assert!(
        (0.7..2.0).contains(&(middle / (total * length / 8.0))),
        "{middle}"
    );
}

#[test]
fn weaker_choices_have_smaller_margins() {
    let worst = |more: &str, of_what: Of| {
        let (boat, form) = common::with("tadpole", more);
        of(&boat, &form)
            .worst(of_what)
            .map(making::strength::Margin::value)
            .unwrap()
    };
    let flange = worst("[[cut]]\nat = \"200 mm\"\njoint = \"flange\"", Of::Joint);
    let butt = worst("[[cut]]\nat = \"200 mm\"\njoint = \"butt\"", Of::Joint);
    assert!(butt < 0.5 * flange, "{butt} {flange}");
    let link = |joint: &str| {
        let cut = format!("[[cut]]\nat = \"200 mm\"\njoint = \"{joint}\"");
        let (boat, form) = common::with("tadpole", &cut);
        of(&boat, &form).weak_link
    };
    let link_of_butt = link("butt").expect("a butt joint where the hull bends");
    assert!((link_of_butt.x_m - 0.2).abs() < 1e-6);
    assert!(link_of_butt.of_wall.unwrap() < making::strength::LINK);
    assert!(link("flange").is_none());
    let rods = "[[rod]]\ndiameter = \"5 mm\"\nfrom = [\"0 mm\", \"0 mm\", \"5 mm\"]\nto = [\"450 mm\", \"0 mm\", \"5 mm\"]";
    assert!(worst(rods, Of::Hull) > 1.05 * worst("", Of::Hull));
}

/// Largest loads of the sponsons and of the drive, as a run tells them.
fn driven(boat: &boat::Boat, form: &form::Form) -> Strength {
    let mass = mass_properties(boat, form).unwrap();
    let mut seen = seen();
    for (name, force_n) in [("left pad", 80.0), ("propeller", 30.0)] {
        seen.elements.push((name.to_owned(), force_n));
    }
    let asking = Asking {
        boat,
        form,
        mass: &mass,
        seen: Some(&seen),
    };
    strength(&asking).unwrap()
}

/// Thin tubes: twice the wall, half the shear stress. Torque constant is one over kv: half of it, twice the torque at the
/// motor's feet, beside its weight.
#[test]
fn twist_and_motor_feet_go_as_statics_has_them() {
    let stress = |boat: &boat::Boat, form: &form::Form, place: &str, load: &str| {
        let margins = driven(boat, form).margins;
        let found = margins
            .iter()
            .find(|m| m.place.starts_with(place) && m.load.contains(load));
        found.unwrap_or_else(|| panic!("no {place}")).stress_pa
    };
    let (boat, form) = common::demo("tadpole");
    let changed = |change: fn(&mut boat::Boat)| {
        let mut boat = boat.clone();
        change(&mut boat);
        boat
    };
    let thick = changed(|b| b.hull.print.wall_m.value *= 2.0);
    let twist = |b: &boat::Boat| stress(b, &form, "hull", "twist");
    let ratio = twist(&boat) / twist(&thick);
    assert!((1.6..2.2).contains(&ratio), "{ratio}");
    let slow = changed(|b| b.drives[0].motor.kv_rad_s_v.value *= 0.5);
    let feet = |b: &boat::Boat| stress(b, &form, "feet of the motor", "torque");
    let ratio = feet(&slow) / feet(&boat);
    assert!((1.3..2.01).contains(&ratio), "{ratio}");
    let pushed = stress(&boat, &form, "bracket of the strut", "push");
    assert!(pushed > 0.0);
}

/// By hand: each of four screws takes a quarter of the lift, sheared round a washer of 7 mm. On the hull it stands in balance
/// with what the boat's own inertia pulls.
#[test]
fn a_wing_pulls_at_its_feet_and_bends_the_hull() {
    const WING: &str = "[[wing]]\nname = \"front wing\"\nat = [\"420 mm\", \"0 mm\", \"80 mm\"]\nspan = \"200 mm\"\n\
                        chord = \"60 mm\"";
    let (boat, form) = common::with("tadpole", WING);
    let mass = mass_properties(&boat, &form).unwrap();
    let mut seen = seen();
    seen.elements.push(("front wing".to_owned(), 24.0));
    let asking = Asking {
        boat: &boat,
        form: &form,
        mass: &mass,
        seen: Some(&seen),
    };
    let s = strength(&asking).unwrap();
    let feet = s
        .margins
        .iter()
        .find(|m| m.place == "feet of the front wing");
    let by_hand = 6.0 / (std::f64::consts::PI * 0.007 * boat.hull.print.wall_m.value);
    let stress = feet.unwrap().stress_pa;
    assert!((stress / by_hand - 1.0).abs() < 0.05, "{stress} {by_hand}");
    let lift = s.acting.iter().find(|a| a.load.contains("wing")).unwrap();
    assert!((lift.presses[0].up_n - 24.0).abs() < 1e-9 && (lift.presses[0].x_m - 0.4).abs() < 1e-9);
    let bent = |m: &&making::strength::Margin| m.of == Of::Hull && m.load == lift.load;
    assert!(s.margins.iter().find(bent).unwrap().stress_pa > 1e3);
}

/// A hull whose mesh has its walls, with more in its file.
fn hollow(more: &str) -> (boat::Boat, form::Form) {
    let mesh = include_bytes!("../../form/tests/meshes/hollow_shell.stl");
    let (boat, _) = common::with("tadpole", more);
    let boat::HullSource::Mesh(files) = &boat.hull.source else {
        unreachable!("a demonstration has a mesh")
    };
    let form = form::assemble(&[("hull.stl", mesh.as_slice())], files).unwrap();
    assert!(form.walls.is_some());
    (boat, form)
}

/// The worst margin of its joints, cut in the middle.
fn walled(joint: &str) -> f64 {
    let cut = format!("[[cut]]\nat = \"300 mm\"\njoint = \"{joint}\"");
    let (boat, form) = hollow(&cut);
    let s = of(&boat, &form);
    let at = |m: &&making::strength::Margin| m.of == Of::Joint && (m.x_m - 0.3).abs() < 1e-6;
    s.margins.iter().find(at).unwrap().value()
}

#[test]
fn a_lap_carries_more_than_wall_end_on_wall_end() {
    let (lap, flange, butt) = (walled("lap"), walled("flange"), walled("butt"));
    // The shell's inside stands 4 mm in from its sides and up from its keel, less square to the bottom: its wall is 3.2
    // to 4 mm, the lap 18 mm. A mesh that has its walls has no closed faces to glue.
    assert!(
        (18.0 / 4.0..18.0 / 3.2).contains(&(lap / butt)),
        "{lap} {butt}"
    );
    assert!((flange / butt - 1.0).abs() < 1e-9);
}

fn cut(boat: &boat::Boat, form: &form::Form) -> making::Pieces {
    let mass = mass_properties(boat, form).unwrap();
    let bending = Bending::of(boat, form, &mass);
    let go = &mut |_: f64, _: &str| std::ops::ControlFlow::Continue(());
    making::pieces(boat, form, &|x| bending.share(x), go).unwrap()
}

/// The shell's inside ends 4 mm short of its bow: a cut there leaves no room for a spigot.
#[test]
fn joints_are_judged_as_the_pieces_have_them() {
    let mut seen = Vec::new();
    for (at, joint) in [(300, "lap"), (300, "butt"), (594, "lap")] {
        let (boat, form) = hollow(&format!("[[cut]]\nat = \"{at} mm\"\njoint = \"{joint}\""));
        let made = cut(&boat, &form);
        let across = made.joints.iter().filter(|j| j.cut.across == "x");
        let told: Vec<(f64, &str)> = across.map(|j| (j.cut.at_m, j.cut.joint.as_str())).collect();
        let s = of(&boat, &form);
        let judged = s.layout.joints.iter().map(|j| (j.x_m, j.kind.word()));
        assert_eq!(told, judged.collect::<Vec<_>>());
        for (x, kind) in told {
            let place = format!("{kind} joint {:.0} mm ahead of the transom", 1e3 * x);
            assert!(s.margins.iter().any(|m| m.place == place), "{place}");
            seen.push(kind.to_owned());
        }
    }
    for kind in [JointKind::Lap, JointKind::Flange, JointKind::Butt] {
        assert!(seen.iter().any(|s| s == kind.word()), "{seen:?}");
    }
}

#[test]
fn a_lap_asked_of_a_solid_outside_is_judged_as_the_flange_it_becomes() {
    let (boat, form) = common::with("tadpole", "[[cut]]\nat = \"200 mm\"\njoint = \"lap\"");
    let s = of(&boat, &form);
    let joint = s.layout.joints.iter().find(|j| (j.x_m - 0.2).abs() < 1e-6);
    assert_eq!(joint.unwrap().kind, JointKind::Flange);
    let notes = cut(&boat, &form).notes.join(" ");
    assert!(
        notes.contains("A lap joint is asked at x = 200 mm"),
        "{notes}"
    );
}

#[test]
fn what_bends_it_is_in_balance_and_the_bow_is_of_use() {
    for name in common::DEMOS {
        let (boat, form) = common::demo(name);
        let s = of(&boat, &form);
        let mass = mass_properties(&boat, &form).unwrap().mass_kg;
        for a in &s.acting {
            let up: f64 = a.presses.iter().map(|p| p.up_n).sum();
            // Picked up with a jerk; on stands; landing at the acceleration that was seen.
            let times = match a.load {
                "carried by its ends" => 2.0,
                "standing on two stands" => 1.0,
                "landing" => seen().up_m_s2 / GRAVITY_M_S2,
                _ => continue,
            };
            assert!(
                (up / (times * mass * GRAVITY_M_S2) - 1.0).abs() < 1e-6,
                "{name}"
            );
        }
        let bow = s.bow.unwrap();
        println!("{name}: {:.3} mm {}", 1e3 * bow.bow_m, bow.load);
        assert!(
            bow.bow_m > 1e-6 && bow.bow_m < 5e-3,
            "{name}: {}",
            bow.bow_m
        );
    }
}
