//! Laps: times of crossing a line drawn across the course.

use super::clean::Cleaned;

/// A line between two points of the plane, m east and north of the track's first fix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// One end.
    pub from_m: (f64, f64),
    /// The other.
    pub to_m: (f64, f64),
}

/// A crossing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// When, s, in proportion between the fixes on either side.
    pub time_s: f64,
    /// From the line's left to its right, looking from its first end to its second.
    pub left_to_right: bool,
}

/// A lap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lap {
    /// Start, s.
    pub from_s: f64,
    /// Duration, s.
    pub lap_s: f64,
}

/// Every crossing of a line.
pub fn crossings(cleaned: &Cleaned, line: &Line) -> Vec<Crossing> {
    let along = (line.to_m.0 - line.from_m.0, line.to_m.1 - line.from_m.1);
    let cross = |a: (f64, f64), b: (f64, f64)| a.0 * b.1 - a.1 * b.0;
    let mut found = Vec::new();
    for w in cleaned
        .spots
        .windows(2)
        .filter(|w| w[0].segment == w[1].segment)
    {
        let step = (w[1].east_m - w[0].east_m, w[1].north_m - w[0].north_m);
        let to_line = (line.from_m.0 - w[0].east_m, line.from_m.1 - w[0].north_m);
        let det = cross(step, along);
        if det == 0.0 {
            continue;
        }
        let on_step = cross(to_line, along) / det;
        let on_line = cross(to_line, step) / det;
        // A fix exactly on the line counts for the step that ends there only.
        if on_step > 0.0 && on_step <= 1.0 && (0.0..=1.0).contains(&on_line) {
            found.push(Crossing {
                time_s: w[0].time_s + on_step * (w[1].time_s - w[0].time_s),
                left_to_right: det > 0.0,
            });
        }
    }
    found
}

/// Laps between crossings in the direction of the first. Crossings closer than `shortest_s` to the one
/// before are the same one.
pub fn laps(cleaned: &Cleaned, line: &Line, shortest_s: f64) -> Vec<Lap> {
    let all = crossings(cleaned, line);
    let Some(first) = all.first() else {
        return Vec::new();
    };
    let mut times = vec![first.time_s];
    for c in all
        .iter()
        .filter(|c| c.left_to_right == first.left_to_right)
    {
        if c.time_s - times[times.len() - 1] >= shortest_s {
            times.push(c.time_s);
        }
    }
    times
        .windows(2)
        .map(|w| Lap {
            from_s: w[0],
            lap_s: w[1] - w[0],
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::track::clean::Spot;

    #[test]
    fn laps_of_a_circle_take_its_time() {
        // Radius 20 m at 10 m/s, counter-clockwise: 12.566 s a lap.
        let spots = (0..500)
            .map(|i| {
                let t = f64::from(i) * 0.1;
                Spot {
                    time_s: t,
                    east_m: 20.0 * (0.5 * t).cos(),
                    north_m: 20.0 * (0.5 * t).sin(),
                    speed_m_s: None,
                    segment: 0,
                }
            })
            .collect();
        let cleaned = Cleaned {
            spots,
            left_out: Vec::new(),
            origin: 0,
        };
        let line = Line {
            from_m: (-30.0, 0.0),
            to_m: (0.0, 0.0),
        };
        let found = laps(&cleaned, &line, 2.0);
        assert_eq!(found.len(), 3);
        for l in &found {
            assert!((l.lap_s - 4.0 * std::f64::consts::PI).abs() < 1e-3);
        }
        // Southward across a line that points east is from its left to its right.
        assert!(crossings(&cleaned, &line).iter().all(|c| c.left_to_right));
        let missed = Line {
            from_m: (30.0, 0.0),
            to_m: (50.0, 0.0),
        };
        assert!(laps(&cleaned, &missed, 2.0).is_empty());
    }
}
