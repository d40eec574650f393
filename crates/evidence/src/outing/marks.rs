//! Marks on the frames of a film: how they are written down, and the speeds they give.

use super::analysis::Analysis;
use super::given::{Given, Metres, Part, Seconds, from_json, from_toml};
use super::measured::{Condition, Doing, QuantityKind, RecordingKind, Statistic, Unit, Value};
use crate::clock::EventKind;
use crate::measured::Measured;
use crate::video::marks::{
    Mark, MarkError, MarkProblem, MarkedSpeed, Pixel, WaterPlane, by_boat_length, by_plane, by_trap,
};
use boat::BoatFileError;
use serde::Deserialize;

/// Marks as written in TOML or JSON.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarksFile {
    /// The film, beside this file: frame numbers turn into times by its own table.
    pub film: Option<String>,
    /// Length from the bow mark to the stern mark: the scale of a boat that runs across the view.
    pub boat_length: Option<Given<Metres>>,
    /// Error of one mark, pixels; 2 unless given.
    pub pixel_error: Option<f64>,
    /// Error of a frame's time (exposure, blur), 3 ms unless given.
    pub time_error: Option<Given<Seconds>>,
    /// Frames with the boat marked.
    #[serde(default)]
    pub mark: Vec<MarkEntry>,
    /// Four points on the water with known places.
    #[serde(default)]
    pub plane: Vec<PlanePoint>,
    /// Error of the distances between these; 1 % unless given.
    pub plane_error: Option<Given<Part>>,
    /// Distance from post to post along the course.
    pub post_spacing: Option<Given<Metres>>,
    /// When the bow passed each post, in order.
    #[serde(default)]
    pub post: Vec<Moment>,
    /// Anything else that happened, to set the film beside other recordings.
    #[serde(default)]
    pub event: Vec<EventEntry>,
}

/// A moment: the number of a frame (from 0) or a time on the film's clock.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moment {
    /// Frame, from 0.
    pub frame: Option<usize>,
    /// s.
    pub time_s: Option<f64>,
}

/// One frame.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkEntry {
    /// Frame, from 0.
    pub frame: Option<usize>,
    /// s.
    pub time_s: Option<f64>,
    /// Pixels right and down.
    pub bow: Pixel,
    /// Pixels right and down.
    pub stern: Pixel,
    /// Something that does not move, when the camera pans.
    pub fixed: Option<Pixel>,
}

/// A known point.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanePoint {
    /// Where it is in the picture.
    pub pixel: Pixel,
    /// Where it is on the water, m, in any square axes.
    pub place_m: (f64, f64),
}

/// An event seen in the film.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EventEntry {
    /// What.
    pub kind: EventKind,
    /// Frame, from 0.
    pub frame: Option<usize>,
    /// s.
    pub time_s: Option<f64>,
    /// Error of the time, s; a fifth of a second unless given.
    pub sigma_s: Option<f64>,
}

/// Why marks give no speed.
#[derive(Debug, thiserror::Error)]
pub enum MarksError {
    /// A moment without a time.
    #[error("{what} has neither a frame nor a time")]
    NoMoment {
        /// Which.
        what: String,
    },
    /// Frame numbers, but no film.
    #[error(
        "{what} is given by its frame number, and no film tells when that frame was shown; name it with film = or --video"
    )]
    NoFilm {
        /// Which.
        what: String,
    },
    /// A frame the film does not have.
    #[error("{what} is on frame {frame}, but the film has {frames} (counted from 0)")]
    NoFrame {
        /// Which.
        what: String,
        /// Asked for.
        frame: usize,
        /// There are.
        frames: usize,
    },
    /// Nothing to make a speed of.
    #[error(
        "no speed can be made of this: give marks with a boat_length or four plane points, or posts with a post_spacing"
    )]
    NoScale,
    /// Not four.
    #[error("a plane needs exactly four points, and {points} are given")]
    PlanePoints {
        /// Given.
        points: usize,
    },
}

/// Reads marks; JSON when the text begins with a brace.
///
/// # Errors
/// [`BoatFileError`] with the place.
pub fn read(text: &str, file_name: &str) -> Result<MarksFile, BoatFileError> {
    if text.trim_start().starts_with('{') {
        from_json(text, file_name)
    } else {
        from_toml(text, file_name)
    }
}

/// Speeds by every scale the marks allow. `frames_s` are the film's frame times.
///
/// # Errors
/// [`MarksError`]; a scale that fails on its own is told among what the analysis says.
pub fn marks(
    file: &str,
    given: &MarksFile,
    frames_s: Option<&[f64]>,
) -> Result<Analysis, MarksError> {
    let mut a = Analysis::of(file, RecordingKind::Marks);
    let when =
        |what: String, frame: Option<usize>, time: Option<f64>| moment(what, frame, time, frames_s);
    let mut set = Vec::new();
    for (i, m) in given.mark.iter().enumerate() {
        set.push(Mark {
            time_s: when(format!("mark {}", i + 1), m.frame, m.time_s)?,
            bow: m.bow,
            stern: m.stern,
            fixed: m.fixed,
        });
    }
    let mut posts = Vec::new();
    for (i, p) in given.post.iter().enumerate() {
        posts.push(when(format!("post {}", i + 1), p.frame, p.time_s)?);
    }
    let error = MarkError {
        pixels: given
            .pixel_error
            .filter(|p| *p > 0.0)
            .unwrap_or(MarkError::default().pixels),
        time_s: given
            .time_error
            .map_or(MarkError::default().time_s, |t| t.value()),
    };
    let before = a.says.len();
    scales(&mut a, given, &set, &posts, &error)?;
    if a.quantities.is_empty() && a.says.len() == before {
        return Err(MarksError::NoScale);
    }
    let times: Vec<f64> = set
        .iter()
        .map(|m| m.time_s)
        .chain(posts.iter().copied())
        .collect();
    a.span_s = span(&times);
    for (i, e) in given.event.iter().enumerate() {
        let t = when(format!("event {}", i + 1), e.frame, e.time_s)?;
        a.happened(
            e.kind,
            Measured::new(t, e.sigma_s.filter(|s| *s > 0.0).unwrap_or(0.2)),
        );
    }
    a.trace(
        "bow across the picture, pixels",
        Unit::One,
        bow_course(&set),
    );
    Ok(a)
}

fn scales(
    a: &mut Analysis,
    given: &MarksFile,
    set: &[Mark],
    posts: &[f64],
    error: &MarkError,
) -> Result<(), MarksError> {
    if let Some(length) = given.boat_length.filter(|_| !set.is_empty()) {
        tell(
            a,
            "marks, boat's length",
            span_of(set),
            by_boat_length(set, length.0, error),
        );
    }
    if !given.plane.is_empty() {
        let points: [PlanePoint; 4] =
            given
                .plane
                .as_slice()
                .try_into()
                .map_err(|_| MarksError::PlanePoints {
                    points: given.plane.len(),
                })?;
        let part = given.plane_error.map_or(0.01, |e| e.value());
        let speed = WaterPlane::from_points(&points.map(|p| p.pixel), &points.map(|p| p.place_m))
            .and_then(|plane| by_plane(set, &plane, part, error));
        tell(a, "marks, four known points", span_of(set), speed);
    }
    if let Some(spacing) = given.post_spacing.filter(|_| !posts.is_empty()) {
        let speed = by_trap(posts, spacing.0, error.time_s.max(1e-6));
        tell(a, "marks, posts", span(posts), speed);
    }
    Ok(())
}

fn tell(
    a: &mut Analysis,
    method: &str,
    during: Option<(f64, f64)>,
    speed: Result<MarkedSpeed, MarkProblem>,
) {
    let speed = match speed {
        Ok(speed) => speed,
        Err(why) => {
            a.says.push(format!("{method}: {why}"));
            return;
        }
    };
    let source = a.source(method);
    let mut v = Value::new(
        QuantityKind::Speed,
        speed.speed_m_s,
        Statistic::Steady,
        source,
        Condition::of(Doing::Straight),
    );
    if let Some((from, to)) = during {
        v = v.during(from, to);
    }
    if speed.scale_part > 0.5 {
        v.remark = Some(format!(
            "{:.0} % of the uncertainty is the scale's: measure that better",
            100.0 * speed.scale_part
        ));
    }
    if speed.misfit > 3.0 {
        a.remarks.push(format!(
            "{method}: the marks scatter {:.1} times their error about a straight steady run",
            speed.misfit
        ));
    }
    a.quantities.push(v);
}

fn moment(
    what: String,
    frame: Option<usize>,
    time_s: Option<f64>,
    frames_s: Option<&[f64]>,
) -> Result<f64, MarksError> {
    match (frame, time_s, frames_s) {
        (_, Some(t), _) => Ok(t),
        (None, None, _) => Err(MarksError::NoMoment { what }),
        (Some(_), None, None) => Err(MarksError::NoFilm { what }),
        (Some(frame), None, Some(all)) => all.get(frame).copied().ok_or(MarksError::NoFrame {
            what,
            frame,
            frames: all.len(),
        }),
    }
}

fn span(times: &[f64]) -> Option<(f64, f64)> {
    let low = times.iter().copied().min_by(f64::total_cmp)?;
    let high = times.iter().copied().max_by(f64::total_cmp)?;
    Some((low, high))
}

fn span_of(set: &[Mark]) -> Option<(f64, f64)> {
    span(&set.iter().map(|m| m.time_s).collect::<Vec<_>>())
}

fn bow_course(set: &[Mark]) -> Vec<(f64, f64, f64)> {
    let x = |m: &Mark| m.bow.0 - m.fixed.map_or(0.0, |f| f.0);
    set.iter().map(|m| (m.time_s, x(m), 0.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A boat of 0.5 m is 100 pixels long and moves 200 pixels in 0.1 s: 10 m/s.
    const TEXT: &str = r#"
        boat_length = "500 mm ± 5 mm"
        post_spacing = "20 m"
        mark = [
          { frame = 0, bow = [200, 300], stern = [100, 300] },
          { frame = 2, bow = [400, 300], stern = [300, 300] },
          { frame = 4, bow = [600, 300], stern = [500, 300] },
        ]
        post = [{ time_s = 1.0 }, { time_s = 3.0 }]
        event = [{ kind = "pass", frame = 2 }]
    "#;

    #[test]
    fn every_scale_the_marks_allow_gives_a_speed() {
        let given = read(TEXT, "marks.toml").unwrap();
        let frames = [0.0, 0.05, 0.1, 0.15, 0.2];
        let a = marks("marks.toml", &given, Some(&frames)).unwrap();
        let speeds: Vec<f64> = a.quantities.iter().map(|q| q.value).collect();
        assert_eq!(speeds.len(), 2);
        assert!(
            (speeds[0] - 10.0).abs() < 1e-6 && (speeds[1] - 10.0).abs() < 1e-6,
            "{speeds:?}"
        );
        assert_eq!(a.events[0].time_s.value, 0.1);
    }

    #[test]
    fn moments_without_a_film_are_refused() {
        let given = read(TEXT, "marks.toml").unwrap();
        assert!(matches!(
            marks("m", &given, None),
            Err(MarksError::NoFilm { .. })
        ));
        assert!(matches!(
            marks("m", &given, Some(&[0.0])),
            Err(MarksError::NoFrame { frame: 2, .. })
        ));
        let none = read("film = \"a.mp4\"", "m").unwrap();
        assert!(matches!(marks("m", &none, None), Err(MarksError::NoScale)));
        let json = read(
            "{\"post_spacing\": \"20 m\", \"post\": [{\"time_s\": 0}, {\"time_s\": 2}]}",
            "m",
        );
        assert_eq!(
            marks("m", &json.unwrap(), None).unwrap().quantities[0].value,
            10.0
        );
    }
}
