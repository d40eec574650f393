//! Rotation and passes from synthetic recordings whose truth is known: exact retarded time, noise,
//! automatic gain. The noise is counted over the whole band of the recording.

#![allow(missing_docs)]

mod common;

use common::{Boat, Noise, SOUND_SPEED, automatic_gain, in_noise, wav};
use evidence::Measured;
use evidence::sound::decode::{Channel, Sound, SoundError};
use evidence::sound::listen::{Heard, Listen, listen};
use evidence::sound::shaft::{Drive, Settled};

const RATE: u32 = 16_000;

fn two_blades() -> Listen {
    Listen {
        drive: Drive {
            blades: Some(2),
            ..Drive::default()
        },
        sound_speed_m_s: Measured::new(SOUND_SPEED, 0.0),
        ..Listen::default()
    }
}

fn hear(sound: &[f64], how: &Listen) -> Heard {
    let mut s = Sound::open(wav(sound, RATE), Some("wav"), Channel::Mean).unwrap();
    listen(&mut s, how).unwrap()
}

fn record(boat: &Boat, seconds: f64, snr_db: f64, seed: u64) -> Vec<f64> {
    let n = (seconds * f64::from(RATE)) as usize;
    let clean: Vec<f64> = (0..n)
        .map(|i| boat.heard(i as f64 / f64::from(RATE)))
        .collect();
    automatic_gain(
        &in_noise(&clean, snr_db, &mut Noise::new(seed)),
        f64::from(RATE),
    )
}

#[test]
fn a_pass_at_6_db_gives_speed_within_2_percent_and_rpm_within_0_3() {
    let (mut covered, mut count) = (0, 0);
    let mut seed = 0;
    for speed_m_s in [8.0, 15.0, 25.0] {
        for closest_m in [3.0, 8.0] {
            for shaft_hz in [230.0, 410.0] {
                seed += 1;
                let boat = Boat {
                    speed_m_s,
                    closest_m,
                    shaft_hz,
                    pass_s: 4.0,
                };
                let heard = hear(&record(&boat, 8.0, 6.0, seed), &two_blades());
                let pass = heard
                    .passes
                    .iter()
                    .find_map(|p| p.pass.as_ref().ok().map(|q| (p, q)));
                let (of, pass) = pass.unwrap_or_else(|| panic!("no pass: {:?}", heard.passes));
                let rpm = of.rpm.unwrap();
                let what = format!(
                    "{speed_m_s} m/s at {closest_m} m, {shaft_hz} Hz: {pass:?}, rpm {rpm:?}, {:?}",
                    heard.rotations[of.rotation].members
                );
                assert!(
                    (pass.speed_m_s.value / speed_m_s - 1.0).abs() < 0.02,
                    "{what}"
                );
                assert!(
                    (rpm.value / (60.0 * shaft_hz) - 1.0).abs() < 0.003,
                    "{what}"
                );
                let d = pass.closest_m.expect("a distance");
                assert!((d.value - closest_m).abs() < 3.0 * d.sigma, "{what}");
                assert!((pass.time_s.value - 4.0).abs() < 0.03, "{what}");
                let off = (pass.speed_m_s.value - speed_m_s).abs() / pass.speed_m_s.sigma;
                covered += u32::from(off < 2.0);
                count += 1;
            }
        }
    }
    assert!(covered + 1 >= count, "two sigma cover {covered} of {count}");
}

#[test]
fn the_ratios_settle_the_shaft_when_its_own_tone_is_heard() {
    let still = Boat {
        speed_m_s: 0.0,
        closest_m: 2.0,
        shaft_hz: 317.0,
        pass_s: 0.0,
    };
    let heard = hear(&record(&still, 5.0, 6.0, 3), &two_blades());
    let r = &heard.rotations[0];
    assert_eq!(r.settled, Settled::ByRatios, "{:?}", r.members);
    for (_, rpm) in r.rpm() {
        assert!((rpm.value / (60.0 * 317.0) - 1.0).abs() < 0.003);
    }
    assert!(heard.passes.is_empty());
}

#[test]
fn wind_and_hiss_without_a_boat_have_no_tone() {
    for seed in 0..6 {
        let mut noise = Noise::new(seed);
        let (mut rumble, mut gust) = (0.0, 0.0);
        let sound: Vec<f64> = (0..20 * RATE)
            .map(|_| {
                gust = 0.9999 * gust + 0.01 * noise.normal();
                rumble = 0.995 * rumble + noise.normal();
                0.003 * rumble * (1.0f64 + gust).abs() + 0.01 * noise.normal()
            })
            .collect();
        assert!(hear(&sound, &two_blades()).tones.is_empty(), "seed {seed}");
    }
}

#[test]
fn two_motors_are_two_rotations() {
    let one = |shaft_hz| Boat {
        speed_m_s: 0.0,
        closest_m: 2.0,
        shaft_hz,
        pass_s: 0.0,
    };
    let (a, b) = (one(300.0), one(312.5));
    let both: Vec<f64> = (0..6 * RATE)
        .map(|i| f64::from(i) / f64::from(RATE))
        .map(|t| a.heard(t) + 0.8 * b.heard(t))
        .collect();
    let sound = automatic_gain(&in_noise(&both, 6.0, &mut Noise::new(8)), f64::from(RATE));
    let heard = hear(&sound, &two_blades());
    // Which is found first is of no matter.
    let mut turns: Vec<f64> = heard.rotations[..2]
        .iter()
        .map(|r| r.rpm()[0].1.value / 60.0)
        .collect();
    turns.sort_by(f64::total_cmp);
    assert!((turns[0] / 300.0 - 1.0).abs() < 0.003, "{turns:?}");
    assert!((turns[1] / 312.5 - 1.0).abs() < 0.003, "{turns:?}");
}

#[test]
fn faults_of_a_recording_are_told() {
    let boat = Boat {
        speed_m_s: 0.0,
        closest_m: 2.0,
        shaft_hz: 300.0,
        pass_s: 0.0,
    };
    let mut sound: Vec<f64> = record(&boat, 3.0, 20.0, 1)
        .iter()
        .map(|x| 8.0 * x)
        .collect();
    sound[20_000..21_000].fill(0.0);
    let heard = hear(&sound, &two_blades());
    assert!(heard.quality.clipped_part() > 0.01);
    assert_eq!(heard.quality.dropouts, 1);
    assert!(!heard.tones.is_empty());
}

#[test]
fn what_is_no_recording_is_refused_with_its_reason() {
    let open =
        |b: &[u8]| Sound::open(std::io::Cursor::new(b.to_vec()), Some("wav"), Channel::Mean).err();
    assert!(matches!(open(b""), Some(SoundError::Empty)));
    let hash = |i: u64| (i.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 56) as u8;
    let noise: Vec<u8> = (1..4000).map(hash).collect();
    assert!(open(&noise).is_some());
    let whole = wav(&vec![0.1; 4000], RATE).into_inner();
    for cut in [4, 20, 44, 45, 300] {
        // Short of the header it is refused; later it is heard as far as it goes.
        if let Ok(mut s) = Sound::open(
            std::io::Cursor::new(whole[..cut].to_vec()),
            None,
            Channel::Mean,
        ) {
            while !s.next_block().unwrap_or(&[]).is_empty() {}
        }
    }
    let none = Sound::open(wav(&[0.1; 400], RATE), None, Channel::Only(1));
    assert!(matches!(
        none.err(),
        Some(SoundError::NoChannel {
            asked: 1,
            channels: 1
        })
    ));
}

#[test]
fn silence_has_no_tone_and_no_numbers() {
    let heard = hear(&vec![0.0; 3 * RATE as usize], &two_blades());
    assert!(heard.tones.is_empty() && heard.rotations.is_empty());
    assert!(heard.quality.is_silent());
    // A recorder stuck at one end of its range.
    let heard = hear(&vec![-1.0; 3 * RATE as usize], &two_blades());
    assert!(heard.tones.is_empty() && heard.rotations.is_empty());
}
