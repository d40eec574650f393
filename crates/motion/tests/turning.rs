//! Steady turns of the demonstration boats against kinematics and what drivers report.

mod boats;

use boats::{Example, example, of};
use craft::RunningState;
use motion::turning::{Circle, End, GivesWay, Gone, Turner, TurningError, Turns, Way};
use nalgebra::Vector3;

fn turner(example: &Example) -> Turner<'_> {
    Turner {
        craft: &example.craft,
    }
}

/// The state of the speed curve nearest to a share of top speed.
fn running(example: &Example, share: f64) -> RunningState {
    let curve = example.craft.rough_curve(24);
    let speed = share * curve.top.as_ref().expect("a top speed").speed_m_s;
    let away = |s: &&RunningState| (s.speed_m_s - speed).abs();
    let nearest = curve
        .running
        .iter()
        .min_by(|a, b| away(a).total_cmp(&away(b)));
    nearest.expect("a curve").clone()
}

fn turns(example: &Example, share: f64) -> Turns {
    let near = running(example, share);
    turner(example).turns(&near.running()).expect("turns")
}

#[test]
fn the_centre_of_gravity_goes_round_a_circle() {
    let circle = Circle {
        speed_m_s: 9.0,
        attitude: craft::Attitude {
            rise_m: -0.01,
            trim_rad: 0.06,
            heel_rad: -0.15,
        },
        drift_rad: -0.12,
        yaw_rate_rad_s: 0.9,
        shaft_rad_s: 0.0,
        rudder_rad: 0.1,
    };
    let cg = Vector3::new(0.25, 0.004, 0.03);
    let motion = circle.motion(&cg);
    // World velocity of the centre of gravity: its size and direction are those declared.
    let course = motion.attitude * motion.velocity_at(&cg);
    assert!((course.norm() - 9.0).abs() < 1e-12 && course.z.abs() < 1e-12);
    assert!((course.y.atan2(course.x) + 0.12).abs() < 1e-12);
    // The whole boat turns about the world's vertical.
    let rate = motion.attitude * motion.rate_rad_s;
    assert!((rate - Vector3::z() * 0.9).norm() < 1e-12);
    assert!((circle.radius_m() - 10.0).abs() < 1e-12);
    assert!((circle.lateral_g() - 8.1 / 9.80665).abs() < 1e-12);
}

#[test]
fn water_and_air_push_towards_the_centre_what_the_circle_asks() {
    let boat = example("longshank");
    let all = turns(&boat, 0.6);
    let cg = boat.craft.cg_m();
    for turn in all.ways.iter().flat_map(|w| &w.turns).skip(1) {
        let circle = turn.circle;
        let motion = circle.motion(&cg);
        let force = motion.attitude * turner(&boat).wrench(&circle).force_n;
        let (sin, cos) = circle.drift_rad.sin_cos();
        let to_port_of_course = force.y * cos - force.x * sin;
        let asked = boat.mass.mass_kg * circle.speed_m_s.powi(2) / circle.radius_m();
        let asked = asked * circle.yaw_rate_rad_s.signum();
        let weight = boat.craft.weight_n();
        assert!((to_port_of_course - asked).abs() < 1e-3 * weight);
        // Nothing is left along the course or upward.
        assert!((force.x * cos + force.y * sin).abs() < 1e-3 * weight);
        assert!(force.z.abs() < 1e-3 * weight);
    }
}

#[test]
fn a_boat_that_is_the_same_on_both_sides_turns_the_same_both_ways() {
    let all = turns(&example("twin-thistle"), 0.8);
    assert!(all.straight.circle.rudder_rad.abs() < 0.002);
    let (left, right) = (all.to(Way::Port), all.to(Way::Starboard));
    assert_eq!(left.turns.len(), right.turns.len());
    for (l, r) in left.turns.iter().zip(&right.turns).skip(2) {
        assert!((l.radius_m / r.radius_m - 1.0).abs() < 0.02);
        assert!((l.circle.attitude.heel_rad + r.circle.attitude.heel_rad).abs() < 0.002);
    }
}

/// Turn fin on the right sponson: "turns one way only: normal for hydros" (common practice, no
/// source), and the boat pays in speed and current.
#[test]
fn a_fin_on_the_right_turns_tighter_to_the_right_and_costs_speed() {
    for (name, share) in [("longshank", 0.8), ("tadpole", 0.6)] {
        turns_to_the_right(name, share);
    }
}

fn turns_to_the_right(name: &str, share: f64) {
    let all = turns(&example(name), share);
    let tightest = |way| all.to(way).tightest().expect("turns").clone();
    let (left, right) = (tightest(Way::Port), tightest(Way::Starboard));
    assert!(right.radius_m < 0.8 * left.radius_m);
    assert!(right.lateral_g > left.lateral_g);
    assert!(right.circle.speed_m_s < 0.9 * all.straight.circle.speed_m_s);
    assert!(right.current_a > all.straight.current_a, "{name}");
    assert!(right.circle.shaft_rad_s < all.straight.circle.shaft_rad_s);
}

#[test]
fn without_its_fin_it_slides_and_turns_wide() {
    let whole = example("longshank");
    let with = turns(&whole, 0.6);
    let mut boat = whole.boat.clone();
    boat.fins.clear();
    let bare = of(boat, whole.form.clone());
    let near = running(&bare, 0.6);
    let without = turner(&bare).turns(&near.running());
    assert!(with.lateral.by_blades > 0.9);
    match without {
        // It may not hold a course at all.
        Err(TurningError::NoCourse { .. }) => {}
        Err(other) => panic!("{other}"),
        Ok(without) => {
            assert!(without.lateral.stiffness < with.lateral.stiffness);
            let g = |t: &Turns| t.to(Way::Starboard).tightest().map_or(0.0, |t| t.lateral_g);
            assert!(g(&without) < g(&with));
        }
    }
}

#[test]
fn a_fin_further_aft_moves_the_side_resistance_aft() {
    let mut boat = example("longshank").boat;
    let form = example("longshank").form;
    let before = turns(&of(boat.clone(), form.clone()), 0.6).lateral;
    boat.fins[0].at[0].value -= 0.05;
    let after = turns(&of(boat, form), 0.6).lateral;
    let x = |l: &motion::turning::LateralBalance| l.centre_x_m.expect("resists");
    assert!(x(&after) < x(&before) - 0.01);
    assert!(after.yaw_stiffness > before.yaw_stiffness);
}

#[test]
fn past_its_angle_the_fin_lets_go_first() {
    let all = turns(&example("practice"), 0.6);
    let right = all.to(Way::Starboard);
    let End::LetsGo(GivesWay::FinVentilates(name)) = &right.end else {
        panic!("{:?}", right.end);
    };
    assert_eq!(name, "turn fin");
    let tightest = right.tightest().expect("turns");
    let beyond = right.turns.last().expect("turns");
    assert!(beyond.lateral_g < tightest.lateral_g);
}

#[test]
fn a_rudder_is_needed_and_goes_no_further_than_its_throw() {
    let whole = example("tadpole");
    let near = running(&whole, 0.6);
    let turner_of = turner(&whole);
    let straight = turner_of.straight(&near.running()).expect("a course");
    let error = turner_of.turn_at(&straight, 0.6).expect_err("25 deg throw");
    assert_eq!(
        error.to_string(),
        "rudder 34.4 deg is beyond the throw of 25.0 deg to each side"
    );
    let turn = turner_of
        .turn_at(&straight, -0.1)
        .expect("within")
        .expect("steady");
    assert!(turn.circle.yaw_rate_rad_s < 0.0 && turn.servo_torque_n_m() > 0.0);

    let mut boat = whole.boat.clone();
    boat.rudders.clear();
    let bare = of(boat, whole.form.clone());
    let none = turner(&bare).turns(&near.running());
    assert_eq!(none, Err(TurningError::NoRudder));
}

#[test]
fn a_stock_further_aft_asks_less_of_the_servo() {
    let whole = example("tadpole");
    let hinged = turns(&whole, 0.8);
    let mut boat = whole.boat.clone();
    boat.rudders[0].stock_m.value = 0.003;
    let balanced = turns(&of(boat, whole.form.clone()), 0.8);
    let most = |t: &Turns| {
        let all = t.ways.iter().flat_map(|w| &w.turns);
        all.map(|t| t.servo_torque_n_m()).fold(0.0, f64::max)
    };
    // A quarter chord of 16 mm is 4 mm: 3 of them taken away.
    assert!(most(&balanced) < 0.5 * most(&hinged));
}

/// The rudder goes over no faster than its servo (60 deg in the time its file states), the course is held until
/// then, and the path is a circle of the radius told: fitted here to the places alone.
#[test]
fn a_turn_in_time_holds_its_course_then_goes_round_at_the_servos_rate() {
    let mut boat = example("longshank").boat;
    let form = example("longshank").form;
    boat.rudders[0].servo_time_s.value = 0.3;
    let boat = of(boat, form);
    let all = turns(&boat, 0.5);
    let steered = turner(&boat).steered(&all).expect("turns");
    let kept = steered.to(Way::Starboard).tightest.expect("a turn");
    let conditions = motion::Conditions {
        water: motion::water::Water::Flat,
        wind_m_s: boat.craft.surroundings().wind_m_s,
        script: motion::script::Script::steady(steered.throttle).turning(0.2, kept.rudder_rad),
        start: motion::run::Start::Course(all.straight.circle),
        seconds: 2.6,
        seed: 0,
    };
    let throw = boat.boat.rudders[0].throw_rad.value;
    let done = motion::run(&boat.craft, throw, &conditions, &mut |_| {
        std::ops::ControlFlow::Continue(())
    });
    let samples = done.expect("runs").samples;
    let most = 60f64.to_radians() / 0.3 * 0.02 + 1e-9;
    let step = |w: &[motion::run::Sample]| (w[1].rudder_rad - w[0].rudder_rad).abs();
    assert!(samples.windows(2).all(|w| step(w) <= most));
    assert!(samples.windows(2).any(|w| step(w) > 0.9 * most));
    let before = samples.iter().take_while(|s| s.time_s < 0.2);
    assert!(before.map(|s| s.yaw_rad.abs()).fold(0.0, f64::max) < 0.01);
    // Three places of the last 0.8 s on one circle.
    let at = |back: usize| {
        let s = &samples[samples.len() - 1 - back];
        (s.place_m[0], s.place_m[1])
    };
    let ((ax, ay), (bx, by), (cx, cy)) = (at(40), at(20), at(0));
    let side = |x: f64, y: f64| x.hypot(y);
    let area = 0.5 * ((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)).abs();
    let sides = side(bx - ax, by - ay) * side(cx - bx, cy - by) * side(ax - cx, ay - cy);
    let radius = sides / (4.0 * area);
    assert!(
        (radius / kept.radius_m - 1.0).abs() < 0.1,
        "{radius} {}",
        kept.radius_m
    );
}

/// At a speed at which it does not hop.
#[test]
fn turns_in_time_are_alike_to_both_sides_and_name_what_goes() {
    let boat = example("twin-thistle");
    let all = turns(&boat, 0.2);
    let steered = turner(&boat).steered(&all).expect("turns");
    let [left, right] = Way::BOTH.map(|way| steered.to(way).tightest.expect("a turn"));
    assert!((left.radius_m / right.radius_m - 1.0).abs() < 0.1);
    for side in &steered.sides {
        // Either more rudder turns it wider, or how it goes wrong beyond the tightest turn is named.
        let kept = side.tightest.expect("a turn").rudder_rad.abs();
        if let Some(wrong) = &side.wrong {
            assert!(wrong.rudder_rad.abs() > kept && !wrong.gone.words().is_empty());
            assert!(side.first.is_some());
        }
    }
}

/// A fin that draws air lets the boat slide, and it still goes round: more rudder than that turns it no wider than the
/// turn in which the fin let go, and heavier boats turn wider all the way.
#[test]
fn the_tightest_turn_grows_with_mass_and_may_lie_beyond_what_lets_go() {
    let mut last = 0.0;
    for times in [0.8, 1.0, 1.25, 1.5] {
        let mut boat = example("practice").boat;
        for part in &mut boat.parts {
            part.mass_kg.value *= times;
        }
        let boat = of(boat, example("practice").form);
        let steered = turner(&boat).steered(&turns(&boat, 0.6)).expect("turns");
        let (way, kept) = steered.tightest().expect("a turn");
        assert_eq!(way, Way::Starboard);
        assert!(
            kept.radius_m > last && kept.radius_m < 1.5 * last.max(3.0),
            "{times}: {} after {last}",
            kept.radius_m
        );
        last = kept.radius_m;
        let first = steered.to(way).first.as_ref().expect("something lets go");
        assert!(
            matches!(&first.gone, Gone::Limit(GivesWay::FinVentilates(_))),
            "{first:?}"
        );
    }
}
