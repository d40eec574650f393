//! Quantities against hand-worked conversions (units exact by definition: SI brochure 2019,
//! international inch and nautical mile) and against their own writing.

use boat::{Kind, parse_quantity, show};
use proptest::prelude::*;
use std::f64::consts::PI;

fn value(kind: Kind, text: &str) -> f64 {
    parse_quantity(kind, text)
        .unwrap_or_else(|e| panic!("{text}: {e}"))
        .value
}

fn spread(kind: Kind, text: &str) -> f64 {
    parse_quantity(kind, text).unwrap().spread.unwrap()
}

fn close(got: f64, wanted: f64) {
    assert!(
        (got - wanted).abs() <= 1e-12 * wanted.abs().max(1e-12),
        "{got} is not {wanted}"
    );
}

#[test]
fn units_convert_to_si() {
    for (kind, text, si) in [
        (Kind::Length, "38 mm", 0.038),
        (Kind::Length, "1.5 in", 0.0381),
        (Kind::Length, "400 µm", 4e-4),
        (Kind::Length, "-12mm", -0.012),
        (Kind::Length, "\u{2212}12 mm", -0.012),
        (Kind::Mass, "1.25 kg", 1.25),
        (Kind::Temperature, "14 degC", 14.0),
        (Kind::Temperature, "14 °C", 14.0),
        (Kind::Temperature, "287.15 K", 14.0),
        (Kind::MotorConstant, "2600 rpm/V", 2600.0 * 2.0 * PI / 60.0),
        (
            Kind::ShaftSpeed,
            "27 700 rpm".replace(' ', "").as_str(),
            27_700.0 * PI / 30.0,
        ),
        (Kind::Resistance, "24 mohm", 0.024),
        (Kind::Resistance, "24 mΩ", 0.024),
        (Kind::Charge, "2200 mAh", 7920.0),
        (Kind::Angle, "3.5 deg", 3.5 * PI / 180.0),
        (Kind::Angle, "3.5°", 3.5 * PI / 180.0),
        (Kind::Speed, "90 km/h", 25.0),
        (Kind::Speed, "10 kn", 10.0 * 1852.0 / 3600.0),
        (Kind::Fraction, "30 %", 0.3),
        (Kind::Fraction, "0.3", 0.3),
        (Kind::Number, "1e-3", 1e-3),
        (Kind::Density, "1.27 g/cm³", 1270.0),
        (Kind::ArealDensity, "150 g/m2", 0.15),
        (Kind::Volume, "350 ml", 350e-6),
        (Kind::Volume, "350 cm3", 350e-6),
        (Kind::Time, "4.5 min", 270.0),
        (Kind::KinematicViscosity, "1.14e-6 m2/s", 1.14e-6),
        (Kind::Torque, "12 N·m", 12.0),
    ] {
        close(value(kind, text), si);
    }
}

#[test]
fn tolerances_are_half_widths() {
    close(spread(Kind::Mass, "1.25 kg ± 4 %"), 0.05);
    close(spread(Kind::Length, "38 mm ± 1 mm"), 0.001);
    close(spread(Kind::Length, "0.5 m+/-5mm"), 0.005);
    close(spread(Kind::Length, "-40 mm ± 10 %"), 0.004);
    close(spread(Kind::Temperature, "287 K ± 2 K"), 2.0);
    close(spread(Kind::Temperature, "14 degC ± 2 degC"), 2.0);
    close(spread(Kind::Fraction, "30 % ± 5 %"), 0.05);
    close(spread(Kind::Fraction, "0.3 ± 0.2"), 0.2);
    close(spread(Kind::Number, "1.4 ± 6 %"), 0.084);
    assert_eq!(parse_quantity(Kind::Length, "38 mm").unwrap().spread, None);
}

#[test]
fn faults_say_where_and_what_would_be_right() {
    let mut lines = String::new();
    for (kind, text) in [
        (Kind::Length, ""),
        (Kind::Length, "38"),
        (Kind::Length, "mm"),
        (Kind::Length, "38 mn"),
        (Kind::Length, "38 kg"),
        (Kind::Mass, "1,25 kg"),
        (Kind::Length, "38 mm ±"),
        (Kind::Length, "38 mm ± 1"),
        (Kind::Length, "38 mm ± -1 mm"),
        (Kind::Length, "1e999 mm"),
        (Kind::Length, "nan mm"),
        (Kind::Length, "1.2.3 mm"),
        (Kind::Length, "1_000 mm"),
        (Kind::Number, "1.4 mm"),
        (Kind::Temperature, "14 C"),
        (Kind::Temperature, "14 degC ± 5 %"),
        (Kind::Resistance, "24 milliohm"),
        (Kind::MotorConstant, "2600 KV"),
        (Kind::Fraction, "1e308 ± 1e308 %"),
    ] {
        match parse_quantity(kind, text) {
            Ok(quantity) => lines.push_str(&format!("{text:?}: {quantity:?}\n")),
            Err(fault) => lines.push_str(&format!(
                "{text:?} at {:?} {:?}\n  {}\n  {}\n",
                fault.range,
                &text[fault.range.clone()],
                fault.message,
                fault.help
            )),
        }
    }
    insta::assert_snapshot!(lines);
}

#[test]
fn shown_in_the_units_of_the_faces() {
    for (kind, si, text) in [
        (Kind::Length, 0.038, "38 mm"),
        (Kind::Length, -0.0125, "-12.5 mm"),
        (Kind::Mass, 0.9664, "966.4 g"),
        (Kind::Speed, 25.0, "90 km/h"),
        (Kind::Temperature, 14.0, "14 °C"),
        (Kind::Voltage, 11.1, "11.1 V"),
        (Kind::Current, 20.0, "20 A"),
        (Kind::Power, 224.4, "224.4 W"),
        (Kind::ShaftSpeed, 2900.0, "27693 rpm"),
        (Kind::Angle, 0.05, "2.865 deg"),
        (Kind::Fraction, 0.3, "30 %"),
        (Kind::Number, 1.4, "1.4"),
        (Kind::Number, 0.0, "0"),
    ] {
        assert_eq!(show(kind, si), text);
    }
}

fn any_kind() -> impl Strategy<Value = Kind> {
    (0..Kind::ALL.len()).prop_map(|index| Kind::ALL[index])
}

proptest! {
    #[test]
    fn written_in_any_unit_reads_back(kind in any_kind(), pick in 0usize..8, x in -1e4f64..1e4) {
        let units = kind.units();
        if units.is_empty() { return Ok(()); }
        let unit = units[pick % units.len()];
        let read = value(kind, &format!("{x} {}", unit.symbol));
        let si = x * unit.factor + unit.offset;
        prop_assert!((read - si).abs() <= 1e-12 * si.abs());
    }

    #[test]
    fn shown_reads_back_to_four_digits(kind in any_kind(), x in 1e-3f64..1e3) {
        let read = value(kind, &show(kind, x));
        let scale = if kind == Kind::Temperature { 300.0 } else { x };
        prop_assert!((read - x).abs() <= 5.1e-4 * scale, "{} {read}", show(kind, x));
    }

    #[test]
    fn any_text_is_read_or_refused_inside_itself(kind in any_kind(), text in "\\PC{0,24}") {
        if let Err(fault) = parse_quantity(kind, &text) {
            prop_assert!(text.get(fault.range).is_some());
        }
    }

    #[test]
    fn near_quantities_never_panic(kind in any_kind(), text in "[-+0-9., eE±%/mkgs°²(){}]{0,16}") {
        if let Err(fault) = parse_quantity(kind, &text) {
            prop_assert!(text.get(fault.range).is_some());
            prop_assert!(!fault.help.is_empty());
        }
    }
}

#[test]
fn long_values_are_refused_and_many_commas_end() {
    let many = "1,".repeat(100_000);
    let fault = parse_quantity(Kind::Mass, &many).unwrap_err();
    assert_eq!(fault.message, "the value is longer than 200 characters");
    assert_eq!(fault.range, 200..many.len());
    let two = parse_quantity(Kind::Mass, "1,200,5 g").unwrap_err();
    assert_eq!(two.message, "this comma can be read in two ways");
    assert!(two.help.starts_with("write a number and a unit"), "{two:?}");
    let one = parse_quantity(Kind::Mass, "1,250 kg").unwrap_err();
    assert_eq!(one.help, "write `1.250 kg`, or `1250 kg`");
}

#[test]
fn what_is_plainly_meant_is_read_and_said() {
    for (kind, text, si, spread) in [
        (Kind::Mass, "1,25 kg", 1.25, None),
        (Kind::Mass, "0,125 kg", 0.125, None),
        (Kind::Length, "38,5 mm ± 0,5 mm", 0.0385, Some(0.0005)),
        (Kind::Length, "38 ± 1 mm", 0.038, Some(0.001)),
        (Kind::Length, "38 mm ± 1", 0.038, Some(0.001)),
        (Kind::Speed, "54", 15.0, None),
        (Kind::Speed, "54 ± 3,6", 15.0, Some(1.0)),
        (Kind::Temperature, "15", 15.0, None),
        (Kind::Charge, "5000", 18_000.0, None),
        (Kind::Voltage, "11,1", 11.1, None),
    ] {
        let read = parse_quantity(kind, text).expect(text);
        assert!((read.value - si).abs() < 1e-12, "{text}: {read:?}");
        let near = |(a, b): (f64, f64)| (a - b).abs() < 1e-12;
        assert!(read.spread.zip(spread).is_none_or(near), "{text}: {read:?}");
        assert_eq!(read.spread.is_some(), spread.is_some(), "{text}");
        assert!(read.taken, "{text}");
    }
    for (kind, text) in [
        (Kind::Length, "38"),
        (Kind::Mass, "800"),
        (Kind::Time, "3"),
        (Kind::Resistance, "13"),
    ] {
        assert!(parse_quantity(kind, text).is_err(), "{text}");
    }
    assert!(!parse_quantity(Kind::Speed, "54 km/h").unwrap().taken);
}

#[test]
fn the_same_speed_and_warmth_in_other_spellings() {
    let speed = value(Kind::Speed, "54 km/h");
    for text in ["54 kph", "54 kmh", "15 m/s", "54km/h"] {
        assert!((value(Kind::Speed, text) - speed).abs() < 1e-12, "{text}");
    }
    // Definitions: 32 degF is ice, 212 degF is steam, the pound and the foot are exact.
    assert!(value(Kind::Temperature, "32 °F").abs() < 1e-12);
    assert!((value(Kind::Temperature, "212 degF") - 100.0).abs() < 1e-12);
    assert!((spread(Kind::Temperature, "59 °F ± 9 °F") - 5.0).abs() < 1e-12);
    assert_eq!(value(Kind::Mass, "2 lbs"), 0.907_184_74);
    assert_eq!(value(Kind::Mass, "16 oz"), 0.453_592_37);
    assert_eq!(value(Kind::Length, "2 ft"), 0.6096);
}
