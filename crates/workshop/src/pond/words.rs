//! Water, wind, rudder and ready conditions, as a builder says them.

use boat::{Kind, parse_quantity};
use motion::water::{RIPPLE_LENGTH, Water};
use nalgebra::Vector3;

use crate::fault::Fault;

/// A day at the pond, ready made.
pub struct Ready {
    /// As said.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// As the options would say it.
    pub water: &'static str,
    pub wind: &'static str,
    pub rudder: &'static str,
    pub start: &'static str,
}

/// Every ready condition.
pub const READY: [Ready; 7] = [
    ready(
        "launch",
        "from rest on flat water, throttle squeezed open",
        "flat",
        "",
        "",
        "rest",
    ),
    ready("straight", "top speed on flat water", "flat", "", "", "top"),
    ready(
        "ripple",
        "top speed over a 10 mm ripple",
        "ripple=10mm",
        "3m/s,from=ahead",
        "",
        "top",
    ),
    ready(
        "gusty",
        "top speed into 8 m/s of wind over a 15 mm ripple",
        "ripple=15mm",
        "8m/s,from=ahead",
        "",
        "top",
    ),
    ready(
        "wake",
        "top speed across another boat's wake",
        "wake=40mm,0.8m",
        "",
        "",
        "top",
    ),
    ready(
        "turn-left",
        "from top speed, half the rudder to the left",
        "flat",
        "",
        "left=half",
        "top",
    ),
    ready(
        "turn-right",
        "from top speed, half the rudder to the right",
        "flat",
        "",
        "right=half",
        "top",
    ),
];

const fn ready(
    name: &'static str,
    what: &'static str,
    water: &'static str,
    wind: &'static str,
    rudder: &'static str,
    start: &'static str,
) -> Ready {
    Ready {
        name,
        what,
        water,
        wind,
        rudder,
        start,
    }
}

const WATER_HELP: &str = "flat, ripple=HEIGHT[,LENGTH], waves=HEIGHT,LENGTH or wake=HEIGHT,LENGTH, each with ,from=SIDE if not from ahead: ripple=20mm, waves=40mm,1.5m,from=left";
const WIND_HELP: &str = "a speed and the side it comes from: \"5m/s\" or \"18km/h,from=left\"";
const SIDES: &str = "ahead, astern, left, right, or an angle to the left of ahead such as 30deg";
const RUDDER_HELP: &str = "left=ANGLE or right=ANGLE (or =half, =full), and when: right=12deg,at=2s; without it the driver holds the course";

/// A condition by name.
pub fn condition(name: &str) -> Result<&'static Ready, Fault> {
    READY.iter().find(|r| r.name == name).ok_or_else(|| {
        let all: Vec<&str> = READY.iter().map(|r| r.name).collect();
        Fault::new(
            format!("there is no condition called `{name}`"),
            format!("conditions: {}", all.join(", ")),
        )
    })
}

fn quantity(kind: Kind, option: &str, text: &str, help: &str) -> Result<f64, Fault> {
    let read = parse_quantity(kind, text)
        .map_err(|e| Fault::new(format!("--{option}: `{text}`: {e}"), help))?;
    // Wind is told in m/s by some and in km/h by others: here nothing is plainly meant.
    if read.taken && kind == Kind::Speed {
        return Err(Fault::new(
            format!("--{option}: `{text}` has no unit"),
            help,
        ));
    }
    Ok(read.value)
}

/// What follows `name=` up to each comma.
fn parts(text: &str) -> (&str, Vec<&str>) {
    let (name, rest) = text.split_once('=').unwrap_or((text, ""));
    let parts = rest.split(',').map(str::trim).filter(|p| !p.is_empty());
    (name.trim(), parts.collect())
}

/// Takes `key=...` out of the parts.
fn take<'a>(parts: &mut Vec<&'a str>, key: &str) -> Option<&'a str> {
    let at = parts.iter().position(|p| {
        p.split_once('=')
            .is_some_and(|(name, _)| name.trim() == key)
    })?;
    parts
        .remove(at)
        .split_once('=')
        .map(|(_, value)| value.trim())
}

/// Where from, to the left of ahead, rad.
fn side(option: &str, text: Option<&str>) -> Result<f64, Fault> {
    use std::f64::consts::{FRAC_PI_2, PI};
    match text {
        None | Some("ahead") => Ok(0.0),
        Some("left") => Ok(FRAC_PI_2),
        Some("right") => Ok(-FRAC_PI_2),
        Some("astern") => Ok(PI),
        Some(angle) => quantity(Kind::Angle, option, angle, SIDES),
    }
}

/// `ripple=20mm`, `waves=40mm,1.5m`.
pub fn water(text: &str) -> Result<Water, Fault> {
    let (name, mut parts) = parts(text);
    let from_rad = side("water", take(&mut parts, "from"))?;
    let length = |i: usize| -> Result<Option<f64>, Fault> {
        let part = parts.get(i);
        part.map(|p| quantity(Kind::Length, "water", p, WATER_HELP))
            .transpose()
    };
    let (first, second) = (length(0)?, length(1)?);
    let unknown = || {
        Fault::new(
            format!("--water: `{text}` is not a kind of water"),
            WATER_HELP,
        )
    };
    if parts.len() > 2 {
        return Err(unknown());
    }
    match (name, first, second) {
        ("flat", None, None) => Ok(Water::Flat),
        ("ripple", Some(height_m), length) => Ok(Water::Ripple {
            height_m,
            length_m: length.unwrap_or(RIPPLE_LENGTH * height_m),
            from_rad,
        }),
        ("waves", Some(height_m), Some(length_m)) => Ok(Water::Waves {
            height_m,
            length_m,
            from_rad,
        }),
        ("wake", Some(height_m), Some(length_m)) => Ok(Water::Wake {
            height_m,
            length_m,
            after_m: 5.0,
        }),
        _ => Err(unknown()),
    }
}

/// `5m/s,from=left` as the air's velocity, world axes.
pub fn wind(text: &str) -> Result<Vector3<f64>, Fault> {
    let mut parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let from = side("wind", take(&mut parts, "from"))?;
    let [speed] = parts.as_slice() else {
        return Err(Fault::new(
            format!("--wind: `{text}` is not a wind"),
            WIND_HELP,
        ));
    };
    let speed = quantity(Kind::Speed, "wind", speed, WIND_HELP)?;
    if speed < 0.0 {
        return Err(Fault::new(
            format!("--wind: `{text}`: a wind has no negative speed"),
            "say the side it comes from: from=astern",
        ));
    }
    let (sin, cos) = from.sin_cos();
    Ok(Vector3::new(-cos, -sin, 0.0) * speed)
}

/// `right=12deg,at=2s` as time and angle, left positive, rad.
pub fn rudder(text: &str, throw_rad: f64) -> Result<(f64, f64), Fault> {
    let mut parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let at_s = match take(&mut parts, "at") {
        Some(time) => quantity(Kind::Time, "rudder", time, RUDDER_HELP)?,
        None => 2.0,
    };
    let wrong = || {
        Fault::new(
            format!("--rudder: `{text}` is not a rudder order"),
            RUDDER_HELP,
        )
    };
    let [order] = parts.as_slice() else {
        return Err(wrong());
    };
    let (way, angle) = order.split_once('=').ok_or_else(wrong)?;
    let sign = match way.trim() {
        "left" => 1.0,
        "right" => -1.0,
        _ => return Err(wrong()),
    };
    let angle_rad = match angle.trim() {
        "half" => 0.5 * throw_rad,
        "full" => throw_rad,
        angle => quantity(Kind::Angle, "rudder", angle, RUDDER_HELP)?,
    };
    if angle_rad.abs() > throw_rad + 1e-9 {
        let (asked, most) = (angle_rad.abs().to_degrees(), throw_rad.to_degrees());
        return Err(Fault::new(
            format!(
                "--rudder: `{text}`: the rudder moves {most:.0}° to each side, not {asked:.0}°"
            ),
            "ask for less, or give the rudder more `throw` in boat.toml",
        ));
    }
    if at_s < 0.05 {
        return Err(Fault::new(
            format!("--rudder: `{text}`: the order comes before the run"),
            "at least 0.05 s after the start",
        ));
    }
    Ok((at_s, sign * angle_rad))
}

/// `80%` or `0.8`.
pub fn throttle(text: &str) -> Result<f64, Fault> {
    let help = "a share between 0 and 1: 0.8 or 80%";
    let value = quantity(Kind::Fraction, "throttle", text, help)?;
    if (0.0..=1.0).contains(&value) {
        Ok(value)
    } else {
        Err(Fault::new(
            format!("--throttle: `{text}` is not between 0 and 1"),
            help,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ready_condition_can_be_read() {
        for ready in &READY {
            assert!(water(ready.water).is_ok(), "{}", ready.name);
            assert!(ready.wind.is_empty() || wind(ready.wind).is_ok());
            assert!(ready.rudder.is_empty() || rudder(ready.rudder, 0.4).is_ok());
        }
    }

    #[test]
    fn sides_are_as_a_driver_sees_them() {
        // From the left it blows to the right, which is negative y.
        let from_left = wind("4 m/s,from=left").ok().unwrap();
        assert!((from_left - Vector3::new(0.0, -4.0, 0.0)).norm() < 1e-12);
        let ahead = wind("18km/h").ok().unwrap();
        assert!((ahead - Vector3::new(-5.0, 0.0, 0.0)).norm() < 1e-12);
        assert_eq!(rudder("right=half,at=1s", 0.4).ok(), Some((1.0, -0.2)));
    }

    #[test]
    fn what_is_no_water_wind_or_order_is_refused() {
        for bad in [
            "",
            "ripple",
            "ripple=20",
            "ripple=20mm,1m,2m",
            "flat=1mm",
            "lumpy",
            "waves=40mm",
        ] {
            assert!(water(bad).is_err(), "{bad}");
        }
        for bad in ["", "5", "-3m/s", "5m/s,from=under", "5m/s,6m/s"] {
            assert!(wind(bad).is_err(), "{bad}");
        }
        for bad in ["", "12deg", "up=3deg", "right=40deg", "left=3deg,at=0s"] {
            assert!(rudder(bad, 0.4).is_err(), "{bad}");
        }
        assert!(throttle("120%").is_err() && throttle("much").is_err());
    }
}
