//! Which size: some five hundred boats tried, most of them coarsely.
//!
//! Every boat tried is a whole one: hull built, shell weighed, fitted out and balanced, written as a boat file, read back
//! and put to the model. Two questions are asked, both of the same forces:
//!
//! - *coarse*, of each length, beam, propeller and motor: each hull afloat on its columns and once along the speed curve
//!   at [`COARSE`] speeds with the middle set-up; with every other one flat out and at the hump, from where that one runs;
//! - *closer*, of the best of each length, and of the best three at other balance points and shaft angles: the whole curve at [`CLOSER`]
//!   speeds.
//!
//! What takes longer (spreads, launch, turns, flight, heat in time) is asked by `check` of the last few.

use boat::starter::Starter;
use boat::{Boat, Kind};
use craft::launch::Grip;
use craft::{Craft, SpeedCurve};
use form::Form;
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::fitted::{Fitted, Shell, shell};
use super::frame::Frame;
use super::practice::{self, Practice};
use super::text::{self, Shape};
use super::wish::{SetUp, Trim, Wish};
use crate::hull_type::HullType;
use crate::quantity::{Detail, Quantities, Quantity, lowest_opening_m, solve};

/// Speeds of the coarse question's curve.
pub const COARSE: usize = 6;
/// Speeds of the closer question's curve.
pub const CLOSER: usize = 12;

/// Lengths tried, over the one at which practice loads a hull so.
const LENGTHS: [f64; 10] = [0.84, 0.88, 0.92, 0.97, 1.02, 1.08, 1.14, 1.21, 1.28, 1.36];
/// Beams tried, of the way from the narrowest to the widest that is built.
const BEAMS: [f64; 2] = [0.4, 0.85];
/// Propellers tried, of the way from the smallest to the largest usual.
const PROPELLERS: usize = 5;
/// Motors tried: speed over the one that should just reach the wish.
const MOTORS: [f64; 5] = [0.85, 0.95, 1.05, 1.15, 1.3];
/// A hull of this share of what is carried to begin with.
const HULL_SHARE: f64 = 0.45;

/// A hull that can be fitted out.
#[derive(Clone)]
pub struct Hull {
    /// Which practice it follows.
    pub hull: HullType,
    /// m.
    pub length_m: f64,
    /// m.
    pub beam_m: f64,
    /// Depth of a starter hull, m; nothing for a mesh.
    pub depth_m: Option<f64>,
    /// Its shape.
    pub form: Arc<Form>,
    /// Its shell.
    pub shell: Shell,
}

/// A boat that was tried.
#[derive(Clone)]
pub struct Tried {
    /// What it is made of.
    pub fitted: Fitted,
    /// Its hull.
    pub hull: Hull,
    /// Its answers.
    pub quantities: Quantities,
    /// How far it is from what is wanted; less is better.
    pub cost: f64,
    /// What stands in the way of the wish.
    pub missed: Vec<Missed>,
}

/// Something a boat does not reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Missed {
    /// What.
    pub what: Quantity,
    /// Reached, SI; absent where it does not come to that.
    pub is: Option<f64>,
    /// Wanted, SI.
    pub wanted: f64,
}

/// What was found.
pub struct Found {
    /// The best of each length, shortest first.
    pub lengths: Vec<Tried>,
    /// Index of the one that is proposed.
    pub chosen: usize,
    /// Boats that differ from the best of their length in balance or shaft, each with the index of that length.
    pub others: Vec<(usize, Tried)>,
    /// Boats asked coarsely and closer.
    pub tried: [usize; 2],
    /// Whether it was cut short.
    pub stopped: bool,
}

/// Told how far the search is, 0 to 1, and asked whether to go on.
pub struct Going<'a> {
    /// Share done.
    pub part: &'a (dyn Fn(f64) + Sync),
    /// Whether anybody waits.
    pub wanted: &'a (dyn Fn() -> bool + Sync),
}

impl Hull {
    /// The starter hull of this length and beam, as deep as its type is unless said.
    pub fn starter(
        hull: HullType,
        length_m: f64,
        beam_m: f64,
        depth_m: Option<f64>,
    ) -> Option<Self> {
        // Read back from a boat file, so that what is not said has one proportion everywhere.
        let deep = depth_m.map_or_else(String::new, |d| {
            format!("{} = \"{:.1} mm\"\n", text::depth_key(hull), 1e3 * d)
        });
        let file = format!(
            "name = \"hull\"\n[hull.starter]\ntype = \"{}\"\nlength = \"{:.1} mm\"\nbeam = \"{:.1} mm\"\n{deep}{}{}",
            hull.name(),
            1e3 * length_m,
            1e3 * beam_m,
            text::running(hull, beam_m),
            text::print(length_m)
        );
        let (boat, _) = boat::load(&file, "boat.toml").ok()?;
        let boat::HullSource::Starter(starter) = &boat.hull.source else {
            return None;
        };
        let mut form = Form::from_mesh(form::starter::build(starter).ok()?);
        form::running::apply(&mut form.surfaces, &boat.hull.running).ok()?;
        let shell = shell(&boat, &form).ok()?;
        Some(Self {
            hull,
            length_m,
            beam_m,
            depth_m: Some(match starter {
                Starter::ThreePoint(s) => s.depth_m,
                Starter::Outrigger(s) => s.tub_depth_m,
                Starter::Vee(s) => s.depth_m,
                Starter::Catamaran(s) => s.depth_m,
            }),
            form: form.into(),
            shell,
        })
    }

    /// Made deeper until it floats as high as it should with what it carries, as far as [`DEEPER`].
    fn deep_enough(self, wish: Wish) -> Self {
        let Some(usual) = self.depth_m else {
            return self;
        };
        let mut hull = self;
        for _ in 0..DEEPENED {
            let Some(is) = hull.freeboard_m(wish) else {
                break;
            };
            let short = least_freeboard_m(hull.hull) - is;
            let depth = hull.depth_m.unwrap_or(usual);
            let wanted = (depth + short + 1e-3).min(DEEPER * usual);
            if short <= 0.0 || wanted < depth + 5e-4 {
                break;
            }
            let deeper = Self::starter(hull.hull, hull.length_m, hull.beam_m, Some(wanted));
            let Some(deeper) = deeper else { break };
            hull = deeper;
        }
        hull
    }

    /// Fitted out with the middle of what goes on it.
    fn freeboard_m(&self, wish: Wish) -> Option<f64> {
        let set_ups = set_ups(self.hull, self.length_m, &wish);
        let set_up = *set_ups.get(set_ups.len() / 2)?;
        let fitted = self.fitted(wish, set_up, Trim::first(self.hull));
        let shape = if self.depth_m.is_some() {
            Shape::Starter
        } else {
            Shape::Mesh("hull.stl")
        };
        let boat = declared(&fitted, shape)?;
        let mass = craft::mass::mass_properties(&boat, &self.form).ok()?;
        let craft = Craft::new(&boat, &self.form, &mass, &craft::Factors::default()).ok()?;
        lowest_opening_m(&boat, &self.form, &craft)
    }

    /// A builder's own hull, printed as practice has it, or where nothing is to be said of that as the boat file
    /// assumes; nothing where it weighs nothing.
    pub fn of(form: Form, hull: HullType, printed: bool) -> Option<Self> {
        let length_m = Frame::new(&form, hull).length_m;
        let print = if printed {
            text::print(length_m)
        } else {
            String::new()
        };
        let file = format!("name = \"hull\"\n[hull]\nfile = \"hull.stl\"\n{print}");
        let (boat, _) = boat::load(&file, "boat.toml").ok()?;
        let shell = shell(&boat, &form).ok()?;
        Some(Self {
            hull,
            length_m,
            beam_m: form.outline.beam_m,
            depth_m: None,
            form: form.into(),
            shell,
        })
    }

    /// Fitted out.
    pub fn fitted(&self, wish: Wish, set_up: SetUp, trim: Trim) -> Fitted {
        let frame = Frame::new(&self.form, self.hull);
        Fitted {
            depth_m: self.depth_m,
            ..Fitted::out(&frame, wish, set_up, self.shell, trim)
        }
    }
}

/// The boat a fitted hull is, as its boat file would be read.
pub fn declared(fitted: &Fitted, shape: Shape<'_>) -> Option<Boat> {
    let text = text::write("boat", shape, fitted, true);
    boat::load(&text, "boat.toml").ok().map(|(boat, _)| boat)
}

/// A boat solved, so that boats like it can be asked from where it runs.
struct Known {
    tried: Tried,
    curve: SpeedCurve,
}

fn known(hull: &Hull, fitted: Fitted, shape: Shape<'_>, points: usize) -> Option<Known> {
    let boat = declared(&fitted, shape)?;
    let mass = craft::mass::mass_properties(&boat, &hull.form).ok()?;
    let factors = craft::Factors::default();
    let solved = solve(&boat, &hull.form, &mass, &factors, Detail::Rough(points)).ok()?;
    Some(Known {
        tried: Tried::of(hull, fitted, solved.quantities),
        curve: solved.curve,
    })
}

/// The same hull with another propeller and motor, asked where the known one runs: afloat and planing as that one,
/// flat out from that one's state, at the hump with its own thrust.
fn like(known: &Known, set_up: SetUp, trim: Trim, shape: Shape<'_>) -> Option<Tried> {
    let hull = &known.tried.hull;
    let fitted = hull.fitted(known.tried.fitted.wish, set_up, trim);
    let boat = declared(&fitted, shape)?;
    let mass = craft::mass::mass_properties(&boat, &hull.form).ok()?;
    let craft = Craft::new(&boat, &hull.form, &mass, &craft::Factors::default()).ok()?;
    let top = known.curve.top.as_ref()?;
    let top = craft.at_throttle_near(&top.running(), 1.0);
    let mut quantities = known.tried.quantities.clone();
    quantities.set_top_of(top.as_ref());
    let hump = known.curve.at_hump.as_ref().map(|state| {
        let loads = craft.at_full_throttle(state, Grip::Settled);
        let thrust: f64 = loads.iter().map(|l| l.thrust_n).sum();
        let currents = craft.full_throttle_currents_a(state, Grip::Settled);
        let most = currents.into_iter().max_by(f64::total_cmp);
        (thrust / state.thrust_needed_n.max(1e-6) - 1.0, most)
    });
    quantities.set(Quantity::HumpMargin, hump.map(|h| h.0));
    quantities.set(Quantity::HumpCurrent, hump.and_then(|h| h.1));
    Some(Tried::of(hull, fitted, quantities))
}

impl Tried {
    fn of(hull: &Hull, fitted: Fitted, quantities: Quantities) -> Self {
        let missed = missed(&fitted, &quantities);
        let cost = cost(&fitted, &quantities);
        rated(Self {
            fitted,
            hull: hull.clone(),
            quantities,
            cost,
            missed,
        })
    }
}

/// Beyond the least usual freeboard, m: what it may be off (judgement).
const FREEBOARD_SPARE_M: f64 = 4e-3;
/// Thrust to spare at the hump (judgement).
const HUMP_SPARE: f64 = 0.10;
/// Full throttle should last so long, s: a race heat takes 60 to 90 s (common practice, no source).
const LASTS_S: f64 = 90.0;
/// Share of a pack's charge that is used (common practice, no source).
const USED: f64 = 0.8;

fn lasts_s(fitted: &Fitted, quantities: &Quantities) -> Option<f64> {
    let straight_a = quantities.get(Quantity::TopCurrent)?;
    Some(USED * 3600.0 * fitted.capacity_ah / straight_a.max(1e-3))
}

/// Something wanted of a boat.
struct Want {
    what: Quantity,
    is: Option<f64>,
    least: f64,
    /// What falls short by so much counts once.
    scale: f64,
}

fn least_freeboard_m(hull: HullType) -> f64 {
    hull.freeboard_m() + FREEBOARD_SPARE_M
}

/// What is wanted, and what counts how much (judgement).
fn wants(fitted: &Fitted, q: &Quantities) -> Vec<Want> {
    let want = |what, is, least, scale| Want {
        what,
        is,
        least,
        scale,
    };
    let wished = fitted.wish.speed_m_s;
    let mut all = vec![
        want(
            Quantity::Freeboard,
            q.get(Quantity::Freeboard),
            least_freeboard_m(fitted.hull),
            5e-3,
        ),
        want(Quantity::HumpMargin, hump(q), HUMP_SPARE, 0.1),
        want(
            Quantity::TopSpeed,
            q.get(Quantity::TopSpeed),
            wished,
            0.05 * wished,
        ),
        want(Quantity::RunTime, lasts_s(fitted, q), LASTS_S, 30.0),
    ];
    let porpoising = q.get(Quantity::PorpoisingMargin);
    if fitted.hull == HullType::Vee && porpoising.is_some() {
        all.push(want(Quantity::PorpoisingMargin, porpoising, 0.0, 0.005));
    }
    all
}

/// Only of a boat that planes.
fn hump(q: &Quantities) -> Option<f64> {
    q.get(Quantity::PlaningSpeed)
        .and(q.get(Quantity::HumpMargin))
}

fn missed(fitted: &Fitted, q: &Quantities) -> Vec<Missed> {
    let each = wants(fitted, q).into_iter();
    each.filter(|w| w.is.is_none_or(|is| is < w.least - SLACK * w.scale))
        .map(|w| Missed {
            what: w.what,
            is: w.is,
            wanted: w.least,
        })
        .collect()
}

/// What a motor of 1 kg gives for minutes (judgement: 36 x 60 mm motors give 1.2 kW in short races).
const WORKED_W_KG: f64 = 2500.0;
/// Short by this share of what counts once is not short (judgement).
const SLACK: f64 = 0.2;
/// What a missing answer counts (judgement).
const NONE: f64 = 20.0;

/// Shortfalls first, then a small hull and little current (judgement).
fn cost(fitted: &Fitted, q: &Quantities) -> f64 {
    let short = wants(fitted, q).into_iter().map(|w| {
        let by = w.is.map_or(NONE, |is| (w.least - is) / w.scale);
        by.max(0.0)
    });
    let watts = q.get(Quantity::TopPower).unwrap_or(0.0);
    let all_kg = q.get(Quantity::Mass).unwrap_or(1.0);
    let motors_kg = practice::share::MOTOR * fitted.wish.carry_kg;
    let worked = (watts / motors_kg / WORKED_W_KG - 1.0).clamp(0.0, 2.0);
    let speed = q.get(Quantity::TopSpeed).unwrap_or(0.0) / fitted.wish.speed_m_s;
    short.sum::<f64>()
        + fitted.length_m
        + 2e-3 * watts / all_kg
        + 2.0 * worked
        + 2.0 * (speed - 1.05).max(0.0)
}

/// The controller's rating that goes with what it draws.
fn rated(mut tried: Tried) -> Tried {
    let straight = tried.quantities.get(Quantity::TopCurrent).unwrap_or(30.0);
    let hump = tried.quantities.get(Quantity::HumpCurrent).unwrap_or(0.0);
    let least = (practice::RATING_OVER_STRAIGHT * straight).max(hump);
    let ratings = practice::RATINGS_A.into_iter();
    let first = ratings.clone().find(|r| *r >= least);
    tried.fitted.set_up.rated_a = first.unwrap_or(practice::RATINGS_A[11]);
    tried
}

/// A length to begin with, m.
pub fn first_length_m(hull: HullType, carry_kg: f64) -> f64 {
    let all_kg = (1.0 + HULL_SHARE) * carry_kg;
    (all_kg / Practice::of(hull).loading_kg_m3).cbrt()
}

/// Whole centimetres.
fn rounded(length_m: f64) -> f64 {
    (100.0 * length_m).round() / 100.0
}

/// Lengths that hulls are made for, m.
const MADE: [f64; 2] = [0.25, 2.0];

/// Propellers and motors for a hull and a wish.
pub fn set_ups(hull: HullType, length_m: f64, wish: &Wish) -> Vec<SetUp> {
    let [least, most] = practice::propeller_m(hull, length_m);
    let mut all = Vec::new();
    for n in 0..PROPELLERS {
        let share = n as f64 / (PROPELLERS - 1) as f64;
        let propeller_m = (1e3 * (least + share * (most - least))).round() * 1e-3;
        let just = SetUp::for_speed(wish, propeller_m);
        let volts = practice::NOMINAL_V * f64::from(wish.series);
        all.extend(MOTORS.map(|m| SetUp::at_nominal(wish, propeller_m, m * just.kv_rpm_v * volts)));
    }
    all.dedup_by(|a, b| a == b);
    all
}

/// Searches for a starter hull of a type; nothing where no length gives a boat that floats.
pub fn search(
    hull: HullType,
    wish: Wish,
    lengths_m: Option<[f64; 2]>,
    going: &Going<'_>,
) -> Option<Found> {
    let first = first_length_m(hull, wish.carry_kg);
    let within = lengths_m.unwrap_or(MADE);
    let mut lengths: Vec<f64> = LENGTHS
        .iter()
        .map(|s| rounded(s * first).clamp(within[0], within[1]))
        .collect();
    lengths.dedup();
    let [narrow, wide] = Practice::of(hull).beams;
    let sizes: Vec<(f64, f64)> = lengths
        .iter()
        .flat_map(|l| BEAMS.map(|b| (*l, l * (narrow + b * (wide - narrow)))))
        .collect();
    let hulls: Vec<Hull> = sizes
        .par_iter()
        .filter_map(|(l, b)| {
            let beam_m = (1e3 * b).round() * 1e-3;
            // A wide vee needs its chines under its deck: deeper, where it cannot be made as it usually is.
            let deeper = [0.16, 0.18].map(|share| Some(share * l));
            let mut depths = std::iter::once(None).chain(deeper);
            let made = depths.find_map(|d| Hull::starter(hull, *l, beam_m, d));
            made.map(|h| h.deep_enough(wish))
        })
        .collect();
    best(&hulls, wish, Shape::Starter, None, going)
}

/// The best of each length among hulls, with every propeller and motor that goes with them. Beside the best few the one
/// of length `own_m` is tried at other settings.
pub fn best(
    hulls: &[Hull],
    wish: Wish,
    shape: Shape<'_>,
    own_m: Option<f64>,
    going: &Going<'_>,
) -> Option<Found> {
    let balances = Practice::of(hulls.first()?.hull).balance;
    let first_trim = Trim::first(hulls.first()?.hull);
    let done = AtomicUsize::new(0);
    let all = (hulls.len() * PROPELLERS * MOTORS.len()) as f64;
    let count = || {
        let done = done.fetch_add(1, Ordering::Relaxed) + 1;
        (going.part)((SHARE_COARSE * done as f64 / all).min(1.0));
    };
    let coarse = |hull: &Hull| {
        let mut found: Vec<Tried> = Vec::new();
        let mut asked = 0;
        let set_ups = set_ups(hull.hull, hull.length_m, &wish);
        // The middle one runs; the others are asked from where it does.
        let first = hull.fitted(wish, set_ups[set_ups.len() / 2], first_trim);
        if !(going.wanted)() {
            return (0, found);
        }
        let Some(first) = known(hull, first, shape, COARSE) else {
            return (1, found);
        };
        for set_up in set_ups {
            if !(going.wanted)() {
                break;
            }
            found.extend(like(&first, set_up, first_trim, shape));
            asked += 1;
            count();
        }
        if found.is_empty() {
            found.push(first.tried);
        }
        (asked.max(1), found)
    };
    let each: Vec<(usize, Vec<Tried>)> = hulls.par_iter().map(coarse).collect();
    let coarsely = each.iter().map(|e| e.0).sum();
    let mut lengths = best_of_each(each.into_iter().flat_map(|e| e.1));
    let mut order: Vec<usize> = (0..lengths.len()).collect();
    order.sort_by(|a, b| lengths[*a].cost.total_cmp(&lengths[*b].cost));
    // The builder's own is looked at as closely, wherever it stands.
    let is_own =
        |i: &usize| own_m.is_some_and(|m| (lengths[*i].hull.length_m / m - 1.0).abs() < 1e-3);
    order.sort_by_key(|i| !is_own(i));
    let mut again: Vec<(usize, Trim)> = order.iter().map(|i| (*i, first_trim)).collect();
    let other = |balance: f64, shaft_deg: f64| Trim { balance, shaft_deg };
    let others = [
        other(balances[0], 0.0),
        other(balances[2], 0.0),
        other(balances[1], SHAFT_DEG),
        other(balances[1], -SHAFT_DEG),
        other(balances[0], SHAFT_DEG),
        other(balances[2], SHAFT_DEG),
        other(balances[2], 2.0 * SHAFT_DEG),
    ];
    let few = order.iter().take(BALANCED);
    again.extend(few.flat_map(|i| others.map(|t| (*i, t))));
    let closer: Vec<(usize, Option<Tried>)> = again
        .par_iter()
        .filter_map(|(i, trim)| {
            let hull = &lengths[*i].hull;
            let fitted = hull.fitted(wish, lengths[*i].fitted.set_up, *trim);
            (going.wanted)().then(|| (*i, known(hull, fitted, shape, CLOSER).map(|k| k.tried)))
        })
        .collect();
    let asked_closer = closer.len();
    let mut better: Vec<Option<Tried>> = vec![None; lengths.len()];
    let mut others = Vec::new();
    for (i, one) in closer {
        let Some(one) = one else { continue };
        match &mut better[i] {
            Some(best) if best.cost <= one.cost => others.push((i, one)),
            Some(best) => others.push((i, std::mem::replace(best, one))),
            none => *none = Some(one),
        }
    }
    for (was, is) in lengths.iter_mut().zip(better) {
        if let Some(is) = is {
            *was = is;
        }
    }
    others.sort_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
    (going.part)(1.0);
    let costs = lengths.iter().map(|t| t.cost).enumerate();
    let chosen = costs.min_by(|a, b| a.1.total_cmp(&b.1))?.0;
    Some(Found {
        lengths,
        chosen,
        others,
        tried: [coarsely, asked_closer],
        stopped: !(going.wanted)(),
    })
}

/// Of the search's work, what the coarse question takes.
const SHARE_COARSE: f64 = 0.75;
/// More or less propeller end down, degrees.
const SHAFT_DEG: f64 = 1.0;
/// Deeper than its type usually is.
const DEEPER: f64 = 1.35;
/// So often a hull is made deeper.
const DEEPENED: usize = 2;
/// So many lengths are tried at other balance points and shaft angles.
const BALANCED: usize = 3;

/// Shortest first.
fn best_of_each(all: impl Iterator<Item = Tried>) -> Vec<Tried> {
    let mut lengths: Vec<Tried> = Vec::new();
    for one in all {
        let same = |t: &&mut Tried| (t.hull.length_m - one.hull.length_m).abs() < 1e-6;
        match lengths.iter_mut().find(same) {
            Some(there) if there.cost <= one.cost => {}
            Some(there) => *there = one,
            None => lengths.push(one),
        }
    }
    lengths.sort_by(|a, b| a.hull.length_m.total_cmp(&b.hull.length_m));
    lengths
}

/// A fitted boat asked closer on a hull that was changed.
pub fn again(fitted: &Fitted, hull: &Hull) -> Option<Tried> {
    known(hull, fitted.clone(), Shape::Mesh("hull.stl"), CLOSER).map(|k| k.tried)
}

impl Found {
    /// Whether the chosen one floats as high as it should.
    pub fn floats(&self) -> bool {
        let missed = &self.lengths[self.chosen].missed;
        missed.iter().all(|m| m.what != Quantity::Freeboard)
    }
}

impl Missed {
    /// Of what kind its numbers are.
    pub const fn kind(&self) -> Kind {
        self.what.kind()
    }
}
