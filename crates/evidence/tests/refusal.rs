//! Below what can be known a recording is refused, or answered with an uncertainty that holds.

#![allow(missing_docs)]

mod common;

use common::{Boat, Noise, automatic_gain, in_noise, wav};
use evidence::Measured;
use evidence::sound::decode::{Channel, Sound};
use evidence::sound::listen::{Listen, listen};
use evidence::sound::shaft::Drive;

const RATE: u32 = 24_000;

fn how(closest_m: Option<Measured>) -> Listen {
    Listen {
        drive: Drive {
            blades: Some(2),
            ..Drive::default()
        },
        sound_speed_m_s: Measured::new(common::SOUND_SPEED, 0.0),
        closest_m,
        ..Listen::default()
    }
}

fn record(boat: &Boat, snr_db: f64, seed: u64) -> Vec<f64> {
    let n = 8 * RATE;
    let clean: Vec<f64> = (0..n)
        .map(|i| boat.heard(f64::from(i) / f64::from(RATE)))
        .collect();
    automatic_gain(
        &in_noise(&clean, snr_db, &mut Noise::new(seed)),
        f64::from(RATE),
    )
}

fn speed(sound: &[f64], closest_m: Option<Measured>) -> Option<Measured> {
    let mut s = Sound::open(wav(sound, RATE), Some("wav"), Channel::Mean).unwrap();
    let heard = listen(&mut s, &how(closest_m)).unwrap();
    let found = heard.passes.iter().find_map(|p| p.pass.as_ref().ok());
    found.map(|p| p.speed_m_s)
}

const BOAT: Boat = Boat {
    speed_m_s: 18.0,
    closest_m: 6.0,
    shaft_hz: 350.0,
    pass_s: 4.0,
};

#[test]
fn far_below_the_noise_a_pass_is_refused() {
    for seed in 0..4 {
        assert_eq!(
            speed(&record(&BOAT, -35.0, seed), None),
            None,
            "seed {seed}"
        );
    }
}

#[test]
fn where_an_answer_is_given_in_deep_noise_its_uncertainty_holds() {
    let (mut within, mut given) = (0, 0);
    for (seed, snr_db) in [-8.0, -12.0, -16.0, -20.0].into_iter().enumerate() {
        for again in 0..3 {
            let sound = record(&BOAT, snr_db, 100 + 10 * seed as u64 + again);
            if let Some(m) = speed(&sound, None) {
                given += 1;
                within += u32::from((m.value - BOAT.speed_m_s).abs() < 2.5 * m.sigma);
            }
        }
    }
    // 2.5 sigma hold 98.8 % of normal errors: one miss in a dozen is chance, two are not.
    assert!(given >= 3 && within + 1 >= given, "{within} of {given}");
}

#[test]
fn a_known_distance_narrows_the_speed_and_keeps_it_true() {
    let sound = record(&BOAT, -6.0, 7);
    let alone = speed(&sound, None).unwrap();
    let known = speed(&sound, Some(Measured::new(6.0, 0.1))).unwrap();
    assert!(known.sigma <= alone.sigma, "{known:?} {alone:?}");
    assert!(
        (known.value - BOAT.speed_m_s).abs() < 3.0 * known.sigma,
        "{known:?}"
    );
}
