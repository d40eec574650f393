//! GPX 1.0 and 1.1 tracks, read leniently.
//!
//! What is known is kept: position, time, speed and course inside a point or in its extensions
//! under any prefix, dilution. What is not is passed over and counted. A file cut short gives the
//! points before the cut. Speeds are taken as m/s, as GPX 1.0 and the known extensions say.

use super::{Fix, Tally, Track, TrackError, on_earth};
use crate::table::date_time;
use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};
use quick_xml::reader::Reader;
use std::io::BufRead;

/// Elements deeper than this are not looked into.
const DEEPEST: usize = 64;

/// A point being read.
#[derive(Default)]
struct Point {
    place: Option<(f64, f64)>,
    time_s: Option<f64>,
    speed: Option<f64>,
    course_deg: Option<f64>,
    dilution: Option<f64>,
}

/// Reads the track points of a file.
///
/// # Errors
/// [`TrackError`].
pub fn read(file: impl BufRead) -> Result<Track, TrackError> {
    let mut xml = Reader::from_reader(file);
    xml.config_mut().check_end_names = false;
    xml.config_mut().allow_unmatched_ends = true;
    let mut state = State::default();
    let mut buffer = Vec::new();
    loop {
        match xml.read_event_into(&mut buffer) {
            Ok(Event::Eof) => break,
            Ok(event) => state.take(&event),
            Err(quick_xml::Error::Io(e)) if state.seen_gpx => {
                return Err(TrackError::Read(std::io::Error::new(
                    e.kind(),
                    e.to_string(),
                )));
            }
            Err(_) if state.seen_gpx => {
                state
                    .tally
                    .add("the rest of the file, damaged or cut short", None);
                break;
            }
            Err(_) => return Err(TrackError::NotThis { format: "GPX" }),
        }
        buffer.clear();
    }
    state.finish()
}

#[derive(Default)]
struct State {
    seen_gpx: bool,
    open: Vec<String>,
    point: Option<Point>,
    text: String,
    segment: u32,
    untimed: usize,
    points: Vec<(f64, Point, u32)>,
    tally: Tally,
}

impl State {
    fn take(&mut self, event: &Event<'_>) {
        match event {
            Event::Start(e) => self.start(e),
            Event::Empty(e) => {
                self.start(e);
                self.end();
            }
            Event::Text(t) if self.text.len() < 100 => {
                self.text += &t.xml_content(XmlVersion::Implicit1_0);
            }
            Event::End(_) => self.end(),
            _ => {}
        }
    }

    fn start(&mut self, e: &BytesStart<'_>) {
        let name = e.local_name().as_ref().to_ascii_lowercase();
        self.text.clear();
        match name.as_str() {
            "gpx" => self.seen_gpx = true,
            "trkseg" => self.segment += 1,
            "trkpt" => self.point = Some(point(e)),
            "rtept" | "wpt" => self.tally.add(format!("{name} (no track)"), None),
            _ => {}
        }
        if self.open.len() < DEEPEST {
            self.open.push(name);
        }
    }

    fn end(&mut self) {
        let name = self.open.pop().unwrap_or_default();
        if name == "trkpt" {
            self.close_point();
        } else if self.point.is_some() {
            self.value(&name);
        }
        self.text.clear();
    }

    /// Takes the text of an element inside a point.
    fn value(&mut self, name: &str) {
        let Some(point) = &mut self.point else { return };
        let text = self.text.trim();
        let number = text.parse::<f64>().ok().filter(|n| n.is_finite());
        match name {
            "time" => {
                point.time_s = date_time(text);
                if point.time_s.is_none() {
                    self.tally.add("time that cannot be read", None);
                }
            }
            "speed" => point.speed = number.filter(|v| *v >= 0.0),
            "course" => point.course_deg = number,
            "hdop" => point.dilution = number,
            _ => self.tally.add(name, None),
        }
    }

    fn close_point(&mut self) {
        let Some(point) = self.point.take() else {
            return;
        };
        match (point.place, point.time_s) {
            (Some(_), Some(t)) => self.points.push((t, point, self.segment)),
            (Some(_), None) => self.untimed += 1,
            (None, _) => self.tally.add("point without a place on Earth", None),
        }
    }

    fn finish(mut self) -> Result<Track, TrackError> {
        if !self.seen_gpx {
            return Err(TrackError::NotThis { format: "GPX" });
        }
        // A point cut off in the middle is dropped with the damage already counted.
        let Some(start) = self.points.first().map(|p| p.0) else {
            return Err(if self.untimed > 0 {
                TrackError::NoTimes {
                    points: self.untimed,
                }
            } else {
                TrackError::NoFix
            });
        };
        if self.untimed > 0 {
            self.tally
                .add(format!("{} points without a time", self.untimed), None);
        }
        let fix = |(t, p, segment): (f64, Point, u32)| {
            let (latitude, longitude) = p.place.unwrap_or_default();
            Fix {
                time_s: t - start,
                latitude_rad: latitude.to_radians(),
                longitude_rad: longitude.to_radians(),
                speed_m_s: p.speed,
                course_rad: p.course_deg.map(f64::to_radians),
                dilution: p.dilution,
                segment,
            }
        };
        Ok(Track {
            start_unix_s: Some(start),
            fixes: self.points.into_iter().map(fix).collect(),
            skipped: self.tally.done(),
        })
    }
}

fn point(e: &BytesStart<'_>) -> Point {
    let number = |name: &str| -> Option<f64> {
        let mut all = e.html_attributes();
        let mut named = all
            .with_checks(false)
            .flatten()
            .filter(|a| a.key.local_name().as_ref() == name);
        named.next()?.value.trim().parse().ok()
    };
    let place = number("lat").zip(number("lon"));
    Point {
        place: place.filter(|(lat, lon)| on_earth(*lat, *lon)),
        ..Point::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str) -> Track {
        let path = format!("{}/../../checks/tracks/{name}", env!("CARGO_MANIFEST_DIR"));
        read(std::fs::read(path).unwrap().as_slice()).unwrap()
    }

    #[test]
    fn recorded_files_are_read_in_full() {
        // Points counted in the files themselves.
        for (name, points) in [
            ("with_accuracy.gpx", 3),
            ("empty_elevation.gpx", 3),
            ("plain.gpx", 41),
            ("walk_with_extensions.gpx", 60),
            ("hike.gpx", 120),
        ] {
            assert_eq!(file(name).fixes.len(), points, "{name}");
        }
        let t = file("with_accuracy.gpx");
        assert_eq!(t.fixes[0].dilution, Some(5.0));
        assert!((t.fixes[1].longitude_rad.to_degrees() - 3.772442).abs() < 1e-9);
        assert_eq!(t.fixes[2].time_s, 2.0);
        // 2017-04-12 is day 17 268; 17:00:36 is second 61 236.
        assert_eq!(t.start_unix_s, Some(17_268.0 * 86_400.0 + 61_236.0));
    }

    #[test]
    fn speed_is_found_in_the_point_and_in_extensions() {
        let text = br#"<gpx version="1.1"><trk><trkseg>
            <trkpt lat="51" lon="0"><time>2026-05-17T10:00:00Z</time><speed>7.5</speed></trkpt>
            <trkpt lat='51' lon='0.0001'><time>2026-05-17T10:00:00.200+00:00</time><extensions>
              <a:TrackPointExtension xmlns:a="urn:a"><a:speed>8.25</a:speed><a:course>90</a:course>
              </a:TrackPointExtension></extensions></trkpt></trkseg></trk></gpx>"#;
        let t = read(&text[..]).unwrap();
        assert_eq!(t.fixes[0].speed_m_s, Some(7.5));
        assert_eq!(t.fixes[1].speed_m_s, Some(8.25));
        assert!((t.fixes[1].time_s - 0.2).abs() < 1e-6);
        assert!((t.fixes[1].course_rad.unwrap() - std::f64::consts::FRAC_PI_2).abs() < 1e-6);
    }

    #[test]
    fn damage_costs_only_what_it_hits() {
        let text =
            br#"<gpx><trk><trkseg><trkpt lat="51" lon="0"><time>2026-05-17T10:00:00Z</time></trkpt>
            <trkpt lat="91" lon="0"><time>2026-05-17T10:00:01Z</time></trkpt>
            <trkpt lat="51" lon="0.1"><time>yesterday</time></trkpt>
            <trkpt lat="51" lon="0.1"><time>2026-05-17T10:00:03Z</ti"#;
        let t = read(&text[..]).unwrap();
        assert_eq!(t.fixes.len(), 1);
        assert!(t.skipped.iter().any(|s| s.what.contains("place on Earth")));
        assert!(t.skipped.iter().any(|s| s.what.contains("cannot be read")));
    }

    #[test]
    fn says_what_is_wrong() {
        assert!(matches!(
            read(&b"hello"[..]),
            Err(TrackError::NotThis { .. })
        ));
        assert!(matches!(read(&b""[..]), Err(TrackError::NotThis { .. })));
        let route = br#"<gpx><trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk></gpx>"#;
        assert!(matches!(
            read(&route[..]),
            Err(TrackError::NoTimes { points: 1 })
        ));
    }
}
