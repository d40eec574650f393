//! Fixes that cannot be, taken out with the reason: spikes after a flip, jumps, doubles.
//!
//! A boat that flips dips its receiver; the first fixes after are often wild. A fix is a spike when
//! reaching it and leaving it both need more than the boat can do, while its neighbours alone do
//! not. Nothing is moved or filled in.

use super::plane::Plane;
use super::speeds::wrapped;
use super::{Fix, Track, TrackError};
use crate::measured::median;

/// Fixes further than this from the middle of all are not on this water, m. Judgement, no source.
const FAR_M: f64 = 50_000.0;
/// The Earth's radius, for that alone.
const EARTH_M: f64 = 6.37e6;

/// What a boat can do at most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Fastest speed, m/s.
    pub speed_m_s: f64,
    /// Hardest speeding up or slowing down, m/s2.
    pub acceleration_m_s2: f64,
    /// Worst dilution of precision used.
    pub dilution: f64,
}

impl Default for Limits {
    /// 60 m/s is above any electric boat of this size; 40 m/s2 is a nose dive. Judgement, no source.
    fn default() -> Self {
        Self {
            speed_m_s: 60.0,
            acceleration_m_s2: 40.0,
            dilution: 8.0,
        }
    }
}

/// Why a fix is left out.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Reason {
    /// Not after the one before.
    #[error("its time is not after that of the fix before")]
    TimeOrder,
    /// Poor satellites.
    #[error("dilution of precision {dilution:.1}")]
    Dilution {
        /// As given.
        dilution: f64,
    },
    /// Nowhere near the rest of the track.
    #[error(
        "it lies {kilometres:.0} km from the rest of the track: a sign or hemisphere is wrong, or the receiver had no fix yet"
    )]
    FarAway {
        /// From the middle of all.
        kilometres: f64,
    },
    /// The place jumps there and back.
    #[error("reaching it takes {speed_m_s:.0} m/s and leaving it as much: the place is a spike")]
    PlaceSpike {
        /// Speed needed.
        speed_m_s: f64,
    },
    /// The place jumps, and speeds before and after do not explain it.
    #[error("reaching it takes {speed_m_s:.0} m/s: the place jumps")]
    Jump {
        /// Speed needed.
        speed_m_s: f64,
    },
    /// The receiver's own speed jumps there and back.
    #[error(
        "the receiver's speed of {speed_m_s:.1} m/s needs {acceleration_m_s2:.0} m/s2 both ways: a spike"
    )]
    SpeedSpike {
        /// As given.
        speed_m_s: f64,
        /// Needed.
        acceleration_m_s2: f64,
    },
}

/// A fix on the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// s after the track's start.
    pub time_s: f64,
    /// East of the first fix, m.
    pub east_m: f64,
    /// North of the first fix, m.
    pub north_m: f64,
    /// Speed as the receiver gave it.
    pub speed_m_s: Option<f64>,
    /// Counts up at breaks.
    pub segment: u32,
}

/// A track without what cannot be.
#[derive(Debug, Clone, PartialEq)]
pub struct Cleaned {
    /// Fixes kept, on the plane.
    pub spots: Vec<Spot>,
    /// Fixes left out: index in the track, time, reason.
    pub left_out: Vec<(usize, f64, Reason)>,
    /// Index of the fix in which the plane touches the Earth.
    pub origin: usize,
}

/// Takes out what cannot be.
///
/// # Errors
/// [`TrackError::TooFew`] when fewer than three fixes are left.
pub fn clean(track: &Track, limits: &Limits) -> Result<Cleaned, TrackError> {
    let middle = middle(track).ok_or(TrackError::NoFix)?;
    let far = |fix: &Fix| Some(far_m(middle, fix)).filter(|d| d.is_nan() || *d > FAR_M);
    let origin = track.fixes.iter().position(|f| far(f).is_none());
    let origin = origin.ok_or(TrackError::NoFix)?;
    let plane = Plane::at(&track.fixes[origin]);
    let mut left_out = Vec::new();
    let mut kept: Vec<(usize, Spot)> = Vec::new();
    for (i, fix) in track.fixes.iter().enumerate() {
        let away = far(fix).map(|m| Reason::FarAway {
            kilometres: 1e-3 * m,
        });
        match away.or_else(|| unusable(fix, kept.last().map(|k| &k.1), limits)) {
            Some(reason) => left_out.push((i, fix.time_s, reason)),
            None => kept.push((i, spot(&plane, fix))),
        }
    }
    // A spike can hide another: twice is enough for two in a row.
    for _ in 0..2 {
        let found = spikes(&kept, limits);
        for (at, reason) in found.into_iter().rev() {
            let (i, s) = kept.remove(at);
            left_out.push((i, s.time_s, reason));
        }
    }
    left_out.sort_by_key(|(i, ..)| *i);
    let spots: Vec<Spot> = kept.into_iter().map(|(_, s)| s).collect();
    if spots.len() < 3 {
        return Err(TrackError::TooFew {
            fixes: spots.len(),
            needed: 3,
        });
    }
    Ok(Cleaned {
        spots,
        left_out,
        origin,
    })
}

/// Median latitude and longitude; a track may begin with a wild fix, so the first is not trusted.
fn middle(track: &Track) -> Option<(f64, f64)> {
    let first = track.fixes.first()?.longitude_rad;
    let latitudes: Vec<f64> = track.fixes.iter().map(|f| f.latitude_rad).collect();
    let longitudes: Vec<f64> = track
        .fixes
        .iter()
        .map(|f| wrapped(f.longitude_rad - first))
        .collect();
    Some((median(&latitudes)?, first + median(&longitudes)?))
}

/// Roughly how far a fix is from a place, m.
fn far_m((latitude, longitude): (f64, f64), fix: &Fix) -> f64 {
    let north = fix.latitude_rad - latitude;
    let east = wrapped(fix.longitude_rad - longitude) * latitude.cos();
    EARTH_M * north.hypot(east)
}

fn spot(plane: &Plane, fix: &Fix) -> Spot {
    let (east_m, north_m) = plane.place(fix);
    Spot {
        time_s: fix.time_s,
        east_m,
        north_m,
        speed_m_s: fix.speed_m_s,
        segment: fix.segment,
    }
}

fn unusable(fix: &Fix, before: Option<&Spot>, limits: &Limits) -> Option<Reason> {
    if before.is_some_and(|b| fix.time_s <= b.time_s) {
        return Some(Reason::TimeOrder);
    }
    let dilution = fix.dilution.filter(|d| *d > limits.dilution)?;
    Some(Reason::Dilution { dilution })
}

fn needed(a: &Spot, b: &Spot) -> f64 {
    (b.east_m - a.east_m).hypot(b.north_m - a.north_m) / (b.time_s - a.time_s).max(1e-3)
}

/// Places in the list of spikes, none next to another.
fn spikes(kept: &[(usize, Spot)], limits: &Limits) -> Vec<(usize, Reason)> {
    let mut found: Vec<(usize, Reason)> = Vec::new();
    for i in 0..kept.len() {
        if found.last().is_some_and(|(last, _)| last + 1 == i) {
            continue;
        }
        let before = i.checked_sub(1).map(|b| &kept[b].1);
        let after = kept.get(i + 1).map(|k| &k.1);
        let reason = place_spike(before, &kept[i].1, after, limits)
            .or_else(|| speed_spike(before?, &kept[i].1, after?, limits));
        found.extend(reason.map(|r| (i, r)));
    }
    found
}

fn place_spike(
    before: Option<&Spot>,
    here: &Spot,
    after: Option<&Spot>,
    limits: &Limits,
) -> Option<Reason> {
    let too_fast = |a: &Spot, b: &Spot| (needed(a, b) > limits.speed_m_s).then(|| needed(a, b));
    match (before, after) {
        (Some(b), Some(a)) => {
            let speed_m_s = too_fast(b, here)?;
            too_fast(here, a)?;
            Some(Reason::PlaceSpike { speed_m_s })
        }
        // The last or first fix has one neighbour only.
        (Some(b), None) => too_fast(b, here).map(|speed_m_s| Reason::Jump { speed_m_s }),
        _ => None,
    }
}

fn speed_spike(before: &Spot, here: &Spot, after: &Spot, limits: &Limits) -> Option<Reason> {
    let (v0, v1, v2) = (before.speed_m_s?, here.speed_m_s?, after.speed_m_s?);
    let rise = (v1 - v0) / (here.time_s - before.time_s);
    let fall = (v1 - v2) / (after.time_s - here.time_s);
    let least = rise.abs().min(fall.abs());
    let impossible = v1 > limits.speed_m_s;
    let spike = rise.signum() == fall.signum() && least > limits.acceleration_m_s2;
    // At one fix a second any spike is slow enough for the limit: compare with the way made good.
    let made_good = needed(before, here).max(needed(here, after));
    let false_speed = v1 > 2.0 * made_good + 3.0 && v1 > 1.5 * v0.max(v2) + 3.0;
    (impossible || spike || false_speed).then_some(Reason::SpeedSpike {
        speed_m_s: v1,
        acceleration_m_s2: least,
    })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// A track of places on the plane near 51 N, with the receiver's speed.
    pub(crate) fn track_of(points: &[(f64, f64, f64, Option<f64>)]) -> Track {
        let origin = Fix {
            time_s: 0.0,
            latitude_rad: 51f64.to_radians(),
            longitude_rad: 0.0,
            speed_m_s: None,
            course_rad: None,
            dilution: None,
            segment: 0,
        };
        // Radians for a metre, from the plane itself.
        let plane = Plane::at(&origin);
        let step = |lat: f64, lon: f64| {
            plane.place(&Fix {
                latitude_rad: origin.latitude_rad + lat,
                longitude_rad: lon,
                ..origin
            })
        };
        let (east, north) = (step(0.0, 1e-6).0 / 1e-6, step(1e-6, 0.0).1 / 1e-6);
        let fix = |p: &(f64, f64, f64, Option<f64>)| Fix {
            time_s: p.0,
            latitude_rad: origin.latitude_rad + p.2 / north,
            longitude_rad: p.1 / east,
            speed_m_s: p.3,
            ..origin
        };
        Track {
            start_unix_s: None,
            fixes: points.iter().map(fix).collect(),
            skipped: Vec::new(),
        }
    }

    #[test]
    fn spikes_go_and_say_why() {
        let mut points: Vec<_> = (0..20)
            .map(|i| (f64::from(i) * 0.2, f64::from(i) * 2.0, 0.0, Some(10.0)))
            .collect();
        points[7].2 = 300.0;
        points[12].3 = Some(38.0);
        points[15].0 = points[14].0;
        let c = clean(&track_of(&points), &Limits::default()).unwrap();
        let reasons: Vec<_> = c.left_out.iter().map(|(i, _, r)| (*i, *r)).collect();
        assert_eq!(reasons.len(), 3, "{reasons:?}");
        assert!(matches!(reasons[0], (7, Reason::PlaceSpike { .. })));
        assert!(matches!(reasons[1], (12, Reason::SpeedSpike { .. })));
        assert!(matches!(reasons[2], (15, Reason::TimeOrder)));
    }

    #[test]
    fn a_spike_at_one_fix_a_second_is_seen_by_the_way_made_good() {
        let mut points: Vec<_> = (0..10)
            .map(|i| (f64::from(i), f64::from(i) * 10.0, 0.0, Some(10.0)))
            .collect();
        points[5].3 = Some(31.0);
        let c = clean(&track_of(&points), &Limits::default()).unwrap();
        assert!(matches!(
            c.left_out[..],
            [(5, _, Reason::SpeedSpike { .. })]
        ));
    }

    #[test]
    fn a_jump_to_the_other_hemisphere_is_left_out_even_as_the_first_fix() {
        let points: Vec<_> = (0..20)
            .map(|i| (f64::from(i) * 0.2, f64::from(i) * 2.0, 0.0, Some(10.0)))
            .collect();
        let mut track = track_of(&points);
        for wild in [0, 1, 12] {
            track.fixes[wild].latitude_rad *= -1.0;
        }
        let c = clean(&track, &Limits::default()).unwrap();
        assert_eq!((c.spots.len(), c.origin), (17, 2));
        let far =
            |r: &Reason| matches!(r, Reason::FarAway { kilometres } if *kilometres > 10_000.0);
        assert!(c.left_out.iter().all(|(.., r)| far(r)), "{:?}", c.left_out);
    }

    #[test]
    fn hard_but_possible_driving_is_kept() {
        let points: Vec<_> = (0..40)
            .map(|i| {
                let t = f64::from(i) * 0.1;
                let v = 12.0 + 8.0 * (2.0 * t).sin();
                (t, 12.0 * t - 4.0 * (2.0 * t).cos(), 0.0, Some(v))
            })
            .collect();
        assert!(
            clean(&track_of(&points), &Limits::default())
                .unwrap()
                .left_out
                .is_empty()
        );
    }
}
