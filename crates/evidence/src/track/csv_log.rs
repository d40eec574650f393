//! A track from any logger's table.

use super::{Fix, Tally, Track, TrackError, on_earth};
use crate::columns::{Mapping, Quantity};
use crate::table::Table;

/// Times above this are seconds since 1970 and not since the start (1980).
const EPOCH_TIME_S: f64 = 3.15e8;

/// A track from a table by a mapping of its columns; it needs time, latitude and longitude.
///
/// # Errors
/// [`TrackError`].
pub fn from_table(table: &Table, mapping: &Mapping) -> Result<Track, TrackError> {
    let need = |q, what| {
        mapping
            .values(table, q)
            .ok_or(TrackError::NoColumn { what })
    };
    let time = need(Quantity::Time, "time")?;
    let latitude = need(Quantity::Latitude, "latitude")?;
    let longitude = need(Quantity::Longitude, "longitude")?;
    let speed = mapping.values(table, Quantity::Speed);
    let course = mapping.values(table, Quantity::Course);
    let dilution = mapping.values(table, Quantity::Dilution);
    let mut tally = Tally::default();
    let good = |i: usize| {
        let zero = latitude[i] == 0.0 && longitude[i] == 0.0;
        time[i].is_finite() && on_earth(latitude[i], longitude[i]) && !zero
    };
    let Some(start) = (0..table.len()).find(|i| good(*i)).map(|i| time[i]) else {
        return Err(TrackError::NoFix);
    };
    let at = |v: &Option<Vec<f64>>, i: usize| v.as_ref().map(|v| v[i]).filter(|x| x.is_finite());
    let mut fixes = Vec::new();
    for i in 0..table.len() {
        if !good(i) {
            tally.add("row without a time and a place", Some(table.lines[i]));
            continue;
        }
        fixes.push(Fix {
            time_s: time[i] - start,
            latitude_rad: latitude[i].to_radians(),
            longitude_rad: longitude[i].to_radians(),
            speed_m_s: at(&speed, i).filter(|v| *v >= 0.0),
            course_rad: at(&course, i),
            dilution: at(&dilution, i).filter(|d| *d > 0.0),
            segment: 0,
        });
    }
    Ok(Track {
        start_unix_s: (start > EPOCH_TIME_S).then_some(start),
        fixes,
        skipped: tally.done(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::columns::propose;

    #[test]
    fn any_heading_and_a_decimal_comma_will_do() {
        let text = "Date time;Latitude;Lon;GPS speed (km/h)\n\
                    2026-05-17 10:00:00;51,5;-0,1;36\n\
                    2026-05-17 10:00:01;0;0;36\n\
                    2026-05-17 10:00:02;51,5001;-0,1;72\n";
        let table = Table::parse(text).unwrap();
        let track = from_table(&table, &propose(&table)).unwrap();
        assert_eq!(track.fixes.len(), 2);
        assert_eq!(track.fixes[1].time_s, 2.0);
        assert!((track.fixes[1].speed_m_s.unwrap() - 20.0).abs() < 1e-9);
        assert_eq!(track.skipped[0].first_line, Some(3));
        let bare = Table::parse("a,b\n1,2\n").unwrap();
        assert!(matches!(
            from_table(&bare, &propose(&bare)),
            Err(TrackError::NoColumn { .. })
        ));
    }
}
