//! The way a boat takes from rest: the line of balanced states, as far as accelerating follows it.
//!
//! From the slowest state the line is walked to higher speed. Where it turns back in speed the boat cannot follow: it
//! changes attitude at a stroke to another state that pushes back. That is looked for where the same line comes
//! forward again, else by a sweep of trim at that speed; where there is none, a gap is left and the sweep repeated
//! at higher speeds. Places asked for (a speed, a throttle, half the weight carried) are solved for between two
//! neighbours of the line, so that they do not depend on where its states happen to lie.
//!
//! A boat that is nearly one whose way is known takes up that one's states, each moved to its own line across it, and
//! is walked only from where that no longer serves. Their slopes are borrowed, and what comes of it is looked at once
//! more at top speed.

use laws::numerics::roots::{Bracket, root};

use crate::branch::{Between, Point, Walk, between, curved, faster};
use crate::craft::Craft;
use crate::search::{Sweep, distinct};
use crate::steady::{AtSpeedSlopes, Condition, Place, Running, slopes_at_speed};

/// Slowest state looked for, as a share of the propeller's unloaded pitch speed; then the next ones tried.
const SLOWEST: [f64; 4] = [0.01, 0.02, 0.04, 0.07];
/// First guesses of the shaft speed there, as shares of the unloaded one.
const TURNING: [f64; 4] = [0.08, 0.03, 0.2, 0.5];
/// Most states of a way, and of a stretch that goes back in speed.
const MOST: usize = 500;
const MOST_BACK: usize = 120;
/// A line that cannot be followed is taken up again this much faster.
const HOPS: [f64; 3] = [1.002, 1.01, 1.03];
/// A step in a force is passed over with so much of the weight left over, and by so many hops: where more would be
/// needed it is no step, but the end of the line with nearly nothing left over beyond.
const STEPPED: f64 = 0.012;
const MOST_HOPS: usize = 3;
/// Changes of trim or heel at a hop that are no jump, rad (half a degree); and how much more for a longer hop, rad for
/// each doubling of speed.
const SAME_RAD: f64 = 0.009;
const SLOPE_RAD: f64 = 0.1;
/// Largest change of trim at a jump to another line, rad (10 deg).
const MOST_JUMP_RAD: f64 = 0.175;
/// Beyond the end of a line with nothing beside it, other ways to run are looked for at these shares of its speed.
const BEYOND: [f64; 9] = [1.02, 1.05, 1.1, 1.18, 1.28, 1.4, 1.7, 2.2, 3.0];
/// A boat that leans by more lies on one side, rad.
const LIES_RAD: f64 = 0.02;
/// Beside the end of a line is so much faster.
const AT_ONCE: f64 = 1e-4;
/// Trims looked at where a line ends.
const SWEPT: usize = 14;
/// Shares of its heel from which a boat that lies on one side is looked for there.
const LEANS: [f64; 5] = [1.0, -1.0, 0.0, 0.5, -1.5];
/// The way ends where the drive is this far from holding the boat; or past full throttle at half the pitch speed and
/// this share past where full throttle was reached.
const HOPELESS: f64 = 1.6;
const PAST_TOP: f64 = 1.12;
/// Trim beyond which a line is no longer followed, rad (40 deg).
const STEEPEST_RAD: f64 = 0.7;
/// States of a known way are taken up this far apart, and moved no further, in units of [`Place`].
const TAKEN_APART: f64 = 0.8;
const TAKEN_WITHIN: f64 = 1.5;
/// So many in a row may have no like before the rest is walked.
const MISSED: usize = 40;
/// Places on the line are found to this, as a share of the stretch between two states.
const CLOSE: f64 = 1e-5;

/// How far past full throttle a way is walked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Past {
    /// Not at all.
    Top,
    /// As far as a curve is shown, if its line goes on so far.
    Little,
    /// To where another state at full throttle may be.
    Far,
}

/// A stroke, or a gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Break {
    /// Index of the first state after it.
    pub after: usize,
    /// Where the line before it ends, m/s.
    pub from_m_s: f64,
    /// Where the next one is taken up, m/s.
    pub to_m_s: f64,
    /// Nothing changes but the walk, which lost the line for a moment.
    pub smooth: bool,
}

/// States by rising speed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Way {
    pub points: Vec<Point>,
    pub breaks: Vec<Break>,
}

impl Way {
    /// What it takes in memory.
    pub fn bytes(&self) -> usize {
        size_of_val(self.points.as_slice()) + size_of_val(self.breaks.as_slice())
    }
}

impl Craft {
    /// From rest up, to full throttle or some way past it; `None` where there is not even a slowest state.
    pub(crate) fn way(&self, past: Past) -> Option<Way> {
        let start = Way {
            points: vec![self.slowest()?],
            breaks: Vec::new(),
        };
        Some(self.walked_from(start, past))
    }

    /// The same of a boat that is nearly the one whose way is known.
    pub(crate) fn way_like(&self, known: &Way, past: Past) -> Option<Way> {
        match self.taken_up(known) {
            Some(begun) => {
                let way = self.walked_from(begun, past);
                match self.stands(&way) {
                    true => Some(way),
                    false => self.way(past),
                }
            }
            None => self.way(past),
        }
    }

    fn walked_from(&self, begun: Way, past: Past) -> Way {
        let over = begun.points.iter().rev().take_while(|p| p.throttle >= 1.0);
        let mut walker = Walker {
            craft: self,
            walk: Walk::new(self),
            limit_m_s: self.pitch_speed_m_s(),
            over_m_s: over.last().map(Point::speed_m_s),
            way: begun,
            past,
            hops: 0,
        };
        walker.go();
        walker.way
    }

    /// As much of a known way as has its like here.
    fn taken_up(&self, known: &Way) -> Option<Way> {
        let mut way = Way {
            points: Vec::new(),
            breaks: Vec::new(),
        };
        let mut from = known.points[0].x;
        let (mut missed, mut parted) = (0, false);
        for (i, theirs) in known.points.iter().enumerate() {
            let broken = known.breaks.iter().find(|b| b.after == i);
            if i > 0 && broken.is_none() && (theirs.x - from).norm() < TAKEN_APART {
                continue;
            }
            // Near a fold of either line a state of the one may have no like on the other.
            parted |= broken.is_some_and(|b| !b.smooth);
            let last: Option<&Point> = way.points.last();
            let passes = |p: &Point| last.is_none_or(|last| p.speed_m_s() > last.speed_m_s());
            let Some(ours) = self.across(theirs).filter(passes) else {
                missed += 1;
                if missed > MISSED {
                    break;
                }
                continue;
            };
            if let Some(last) = last {
                let turned = ours.running.attitude.trim_rad - last.running.attitude.trim_rad;
                if parted || missed > 0 && turned.abs() > SAME_RAD {
                    way.breaks.push(Break {
                        after: way.points.len(),
                        from_m_s: last.speed_m_s(),
                        to_m_s: ours.speed_m_s(),
                        smooth: false,
                    });
                }
            }
            (missed, parted) = (0, false);
            from = theirs.x;
            way.points.push(ours);
        }
        // The rest is walked from a state with slopes of its own.
        while let Some(last) = way.points.pop() {
            let own = Point::at(self, last.x, &last.tangent);
            if let Some(own) = own.filter(|p| p.speeds_up() && p.pushes_back()) {
                way.breaks.retain(|b| b.after <= way.points.len());
                way.points.push(own);
                return Some(way);
            }
        }
        None
    }

    /// This boat's state on the plane across another's line.
    fn across(&self, theirs: &Point) -> Option<Point> {
        let plane = Condition::Plane {
            normal: theirs.tangent,
            at: theirs.tangent.dot(&theirs.x),
        };
        let x = self.settle(&theirs.x, &plane, Some(&theirs.slopes), false)?;
        let near = (x - theirs.x).norm() < TAKEN_WITHIN;
        let running = self.running(&x);
        (near && self.is_in_the_water(&running)).then(|| Point {
            x,
            running,
            throttle: self.holding(&running),
            ..theirs.clone()
        })
    }

    /// Whether what was taken up stands: there is a top and it pushes back, and so does where it ends.
    fn stands(&self, way: &Way) -> bool {
        way.top(self).is_ok_and(|(_, top)| self.pushes_back(&top))
    }

    fn slowest(&self) -> Option<Point> {
        let scale = self.shaft_scale_rad_s();
        let starts = SLOWEST
            .iter()
            .flat_map(|v| TURNING.iter().map(move |w| (v, w)));
        starts
            .filter_map(|(v, w)| {
                let start = Running {
                    speed_m_s: v * self.pitch_speed_m_s(),
                    attitude: self.rest_attitude(),
                    shaft_rad_s: w * scale,
                    drift_rad: 0.0,
                };
                let found = self.balance(&start)?;
                Point::at(self, self.place(&found), &faster())
            })
            .find(|p| p.pushes_back() && self.is_in_the_water(&p.running))
    }
}

struct Walker<'a> {
    craft: &'a Craft,
    walk: Walk<'a>,
    way: Way,
    limit_m_s: f64,
    /// Where the throttle was first wide open, m/s.
    over_m_s: Option<f64>,
    past: Past,
    /// Hops since the last step along the line.
    hops: usize,
}

impl Walker<'_> {
    fn last(&self) -> &Point {
        &self.way.points[self.way.points.len() - 1]
    }

    fn go(&mut self) {
        while self.way.points.len() < MOST {
            if self.enough() {
                return;
            }
            let last = self.last().clone();
            let next = self.walk.next(&last);
            let next = next.filter(|p| p.running.attitude.trim_rad.abs() < STEEPEST_RAD);
            let on = match next {
                Some(point) if point.speeds_up() && point.speed_m_s() > last.speed_m_s() => {
                    self.way.points.push(point);
                    self.hops = 0;
                    true
                }
                _ if self.past == Past::Little && self.over_m_s.is_some() => false,
                Some(back) => self.fold(&last, back),
                None => self.hop(&last) || self.elsewhere(last.speed_m_s()),
            };
            if !on {
                return;
            }
        }
    }

    /// Far enough past top speed for all that is asked.
    fn enough(&mut self) -> bool {
        let last = self.last();
        let (speed, throttle) = (last.speed_m_s(), last.throttle);
        if throttle < 1.0 {
            self.over_m_s = None;
        } else {
            self.over_m_s.get_or_insert(speed);
        }
        let shown = self.over_m_s.is_some_and(|over| speed > PAST_TOP * over);
        let enough = match self.past {
            Past::Top => self.over_m_s.is_some(),
            Past::Little => shown,
            Past::Far => shown && speed > 0.5 * self.limit_m_s,
        };
        enough || speed > self.limit_m_s || throttle > HOPELESS
    }

    /// Where the line turns back in speed: along it until it comes forward past here, or elsewhere.
    fn fold(&mut self, last: &Point, back: Point) -> bool {
        let craft = self.craft;
        let edge = turning(craft, last, &back);
        let edge_m_s = edge.speed_m_s;
        let (mut here, mut landed) = (back, None);
        let mut walk = Walk::new(craft);
        for _ in 0..MOST_BACK {
            let sane = here.running.attitude.trim_rad.abs() < STEEPEST_RAD
                && here.speed_m_s() > 0.3 * edge_m_s
                && here.throttle < 4.0;
            if !sane {
                break;
            }
            let Some(next) = walk.next(&here) else { break };
            if next.speeds_up() && next.speed_m_s() > edge_m_s {
                landed = at_speed(craft, &here, &next, edge_m_s)
                    .and_then(|r| Point::at(craft, craft.place(&r), &faster()))
                    .filter(|p| {
                        p.pushes_back() && craft.is_in_the_water(&p.running) && p.speeds_up()
                    });
                break;
            }
            here = next;
        }
        self.push_edge(last, &edge);
        // Not where the boat would fall to one side, if it can lie there.
        let stays = |p: &Point| !lies(&last.running) || p.stays_upright();
        let beside = match landed.as_ref().is_some_and(stays) {
            true => None,
            false => self.beside(1.0 + AT_ONCE, edge_m_s),
        };
        match beside.filter(|p| landed.is_none() || stays(p)).or(landed) {
            Some(point) => {
                self.land(point, edge_m_s);
                true
            }
            None => self.beyond(edge_m_s),
        }
    }

    /// The very state at which the line turns back ends the stretch.
    fn push_edge(&mut self, last: &Point, edge: &Running) {
        if edge.speed_m_s > last.speed_m_s() * (1.0 + 1e-6) {
            let point = Point::at(self.craft, self.craft.place(edge), &last.tangent);
            self.way.points.extend(point);
        }
    }

    fn land(&mut self, point: Point, from_m_s: f64) {
        let before = self.last().running.attitude;
        let after = point.running.attitude;
        self.way.breaks.push(Break {
            after: self.way.points.len(),
            from_m_s,
            to_m_s: point.speed_m_s(),
            smooth: (before.trim_rad - after.trim_rad).abs() < SAME_RAD
                && (before.heel_rad - after.heel_rad).abs() < 2.0 * SAME_RAD
                && point.speed_m_s() < 1.01 * from_m_s,
        });
        self.way.points.push(point);
        self.walk = Walk::new(self.craft);
    }

    /// A line lost at a corner or a small gap is taken up again a little faster.
    fn hop(&mut self, last: &Point) -> bool {
        let craft = self.craft;
        self.hops += 1;
        if self.hops > MOST_HOPS {
            return false;
        }
        for hop in HOPS {
            let from = last.speed_m_s();
            let start = Running {
                speed_m_s: from * hop,
                ..last.running
            };
            let near = SAME_RAD + SLOPE_RAD * (hop - 1.0);
            let found = craft
                .balance_closest(&start, STEPPED)
                .filter(|r| (r.attitude.trim_rad - last.running.attitude.trim_rad).abs() < near);
            let point = found.and_then(|r| Point::at(craft, craft.place(&r), &faster()));
            if let Some(point) = point.filter(|p| p.speeds_up() && p.pushes_back()) {
                self.land(point, from);
                return true;
            }
        }
        false
    }

    /// Another state beside the end of the line, else beyond a gap.
    fn elsewhere(&mut self, edge_m_s: f64) -> bool {
        match self.beside(1.0 + AT_ONCE, edge_m_s) {
            Some(point) => {
                self.land(point, edge_m_s);
                true
            }
            None => self.beyond(edge_m_s),
        }
    }

    /// The next state beyond a gap.
    fn beyond(&mut self, edge_m_s: f64) -> bool {
        let beyond = BEYOND
            .into_iter()
            .take_while(|share| share * edge_m_s <= self.limit_m_s)
            .find_map(|share| self.beside(share, edge_m_s));
        let found = beyond.is_some();
        if let Some(point) = beyond {
            self.land(point, edge_m_s);
        }
        found
    }

    /// The nearest other state in the water that pushes back, at a share of the speed where the line ends.
    fn beside(&self, share: f64, edge_m_s: f64) -> Option<Point> {
        let craft = self.craft;
        let near = &Running {
            speed_m_s: share * edge_m_s,
            ..self.last().running
        };
        let trim_rad = near.attitude.trim_rad;
        let away = |r: &Running| (r.attitude.trim_rad - trim_rad).abs();
        let around = Sweep {
            from_rad: trim_rad - MOST_JUMP_RAD,
            to_rad: trim_rad + MOST_JUMP_RAD,
            count: SWEPT,
            insist: false,
        };
        let mut found = craft.balances_by_trim(near, around);
        // A boat that lies on one side of its bottom may go on lying on the other.
        let leans = if lies(near) { &LEANS[..] } else { &LEANS[..1] };
        for share in leans {
            let mut leaning = *near;
            leaning.attitude.heel_rad *= share;
            let other = craft.balance(&leaning);
            found.extend(other.filter(|b| found.iter().all(|f| distinct(f, b))));
        }
        // Of a boat that lies on one side, what lies where the line ended is its own end.
        let ended = self.last().running;
        let own = |r: &Running| {
            near.speed_m_s < (1.0 + 2.0 * AT_ONCE) * ended.speed_m_s
                && lies(&ended)
                && !distinct(r, &ended)
        };
        found.retain(|r| away(r) < MOST_JUMP_RAD && craft.is_in_the_water(r) && !own(r));
        found.sort_by(|a, b| away(a).total_cmp(&away(b)));
        let points = || {
            let each = found.iter();
            each.filter_map(|r| Point::at(craft, craft.place(r), &faster()))
                .filter(|p| p.pushes_back() && p.speeds_up())
        };
        // One that lies over may fall to its other side; the rest are not looked at for it.
        lies(near)
            .then(|| points().find(Point::stays_upright))
            .flatten()
            .or_else(|| points().next())
    }
}

/// Whether a boat lies on one side of its bottom.
fn lies(running: &Running) -> bool {
    running.attitude.heel_rad.abs() > LIES_RAD
}

/// The fastest state between two neighbours of which the line turns back.
fn turning(craft: &Craft, a: &Point, b: &Point) -> Running {
    let slope = |share: f64| {
        let h = 1e-3;
        (curved(a, b, share + h)[4] - curved(a, b, share - h)[4]) / (2.0 * h)
    };
    let bracket = Bracket {
        a: (1e-3, slope(1e-3)),
        b: (1.0 - 1e-3, slope(1.0 - 1e-3)),
    };
    root(slope, bracket, 1e-4)
        .and_then(|share| between(craft, a, b, share))
        .map(|x| craft.running(&x))
        .filter(|r| r.speed_m_s >= a.speed_m_s())
        .unwrap_or(a.running)
}

/// The state of a speed between two neighbours.
pub(crate) fn at_speed(craft: &Craft, a: &Point, b: &Point, speed_m_s: f64) -> Option<Running> {
    let wanted = speed_m_s / craft.speed_unit_m_s();
    let bracket = Bracket {
        a: (0.0, a.x[4] - wanted),
        b: (1.0, b.x[4] - wanted),
    };
    let share = root(|t| curved(a, b, t)[4] - wanted, bracket, 1e-9)?;
    let mut start = curved(a, b, share);
    start[4] = wanted;
    let mut slopes = Some(slopes_at_speed(&a.slopes));
    let guess = craft.running(&start);
    craft
        .balance_with(&guess, &mut slopes)
        .or_else(|| craft.balance_damped(&guess))
        .or_else(|| {
            let x = between(craft, a, b, share)?;
            let near = craft.running(&x);
            craft.balance(&Running { speed_m_s, ..near })
        })
        .filter(|r| {
            let off = craft.place(r) - start;
            off.norm() < 0.5 * (b.x - a.x).norm() + 0.05
        })
}

impl Way {
    /// Neighbours on one line, by index of the first.
    fn stretches(&self) -> impl Iterator<Item = usize> + '_ {
        (1..self.points.len())
            .filter(|i| self.breaks.iter().all(|b| b.after != *i || b.smooth))
            .map(|i| i - 1)
    }

    /// Speeds from and to which there are states, m/s.
    pub fn span_m_s(&self) -> (f64, f64) {
        (
            self.points[0].speed_m_s(),
            self.points[self.points.len() - 1].speed_m_s(),
        )
    }

    /// The state at a speed; `None` in a gap.
    pub fn at_speed(&self, craft: &Craft, speed_m_s: f64) -> Option<Running> {
        let i = self.stretches().find(|i| {
            let (a, b) = (&self.points[*i], &self.points[i + 1]);
            (a.speed_m_s()..=b.speed_m_s()).contains(&speed_m_s)
        })?;
        let (a, b) = (&self.points[i], &self.points[i + 1]);
        at_speed(craft, a, b, speed_m_s)
    }

    /// Slopes at a speed, those of the nearest state.
    pub fn slopes_near(&self, speed_m_s: f64) -> AtSpeedSlopes {
        let after = self.points.partition_point(|p| p.speed_m_s() < speed_m_s);
        let beside = [after.saturating_sub(1), after.min(self.points.len() - 1)];
        let away = |i: &usize| (self.points[*i].speed_m_s() - speed_m_s).abs();
        let nearest = beside
            .into_iter()
            .min_by(|a, b| away(a).total_cmp(&away(b)));
        let point = &self.points[nearest.unwrap_or_default()];
        slopes_at_speed(&point.slopes)
    }

    /// Whether the line pushes back around a speed, by the states next to it.
    pub fn pushes_back_at(&self, speed_m_s: f64) -> Option<bool> {
        let i = self.points.partition_point(|p| p.speed_m_s() < speed_m_s);
        let (a, b) = (self.points.get(i.checked_sub(1)?)?, self.points.get(i)?);
        (a.pushes_back() == b.pushes_back()).then(|| a.pushes_back())
    }

    /// The first place from index `from` on where `of` rises through zero: the state, or the break across which it
    /// does; and the index of the state before.
    pub fn rises(
        &self,
        craft: &Craft,
        from: usize,
        of: impl Fn(&Running) -> f64,
    ) -> Option<(usize, Crossing)> {
        let mut before = of(&self.points.get(from)?.running);
        for i in from..self.points.len() - 1 {
            let (a, b) = (&self.points[i], &self.points[i + 1]);
            let after = of(&b.running);
            if before < 0.0 && after >= 0.0 {
                let broken = self.breaks.iter().find(|k| k.after == i + 1 && !k.smooth);
                let crossing = match broken {
                    Some(broken) => Crossing::Broken(*broken),
                    None => Crossing::At(meets(craft, a, b, &of).unwrap_or(b.running)),
                };
                return Some((i, crossing));
            }
            before = after;
        }
        None
    }
}

/// Where something rises through zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Crossing {
    /// At this state.
    At(Running),
    /// At a stroke.
    Broken(Break),
}

/// Where something changes sign between two neighbours of a line.
pub(crate) fn meets(
    craft: &Craft,
    a: &Point,
    b: &Point,
    of: impl Fn(&Running) -> f64,
) -> Option<Running> {
    let mut states = Between::new(craft, a, b);
    let mut last = None;
    let bracket = Bracket {
        a: (0.0, of(&a.running)),
        b: (1.0, of(&b.running)),
    };
    let mut state = |share: f64| {
        let x: Place = states.at(share).unwrap_or_else(|| curved(a, b, share));
        craft.running(&x)
    };
    let share = root(
        |share| {
            let found = state(share);
            last = Some((share, found));
            of(&found)
        },
        bracket,
        CLOSE,
    )?;
    let known = last.filter(|l| l.0 == share);
    Some(known.map_or_else(|| state(share), |l| l.1))
}
