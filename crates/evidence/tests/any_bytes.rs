//! Every reader returns, whatever bytes it is given: cut, damaged and mixed recordings.

#![allow(missing_docs)]

mod common;

use evidence::fuzzing;
use proptest::prelude::*;

fn all(bytes: &[u8]) {
    fuzzing::film(bytes);
    fuzzing::gpx_track(bytes);
    fuzzing::nmea_track(bytes);
    fuzzing::table(bytes);
    fuzzing::pulses(bytes);
    fuzzing::notes(bytes);
    for name in ["a.csv", "a.gpx", "a.nmea"] {
        fuzzing::recording(name, bytes);
    }
}

fn samples() -> Vec<Vec<u8>> {
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/../../checks/tracks");
    let mut paths: Vec<_> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    paths.sort();
    let mut all: Vec<Vec<u8>> = paths.iter().map(|p| std::fs::read(p).unwrap()).collect();
    all.iter_mut().for_each(|b| b.truncate(3000));
    all.push(
        b"time,lat,lon,speed\n0,51,0,1\n1,51.0001,0,2\n2,51.0002,0,3\n3,51.0003,0,1e308\n".to_vec(),
    );
    all.push(b"0,0\n1e-3,1\n2.5e-3,0\n2e300,1\n2.1e300,0\n".to_vec());
    all.push(
        b"boat_length = \"500 mm\"\nmark = [{ frame = 1, bow = [9, 9], stern = [1, 9] }]\n"
            .to_vec(),
    );
    all.push(b"place = \"pond\"\nwind = \"2 m/s\"\n[[recording]]\nfile = \"a.wav\"\n".to_vec());
    all.push(b"$GPRMC,123519,A,4807.038,N,01131.000,E,1e300,084.4,230394,003.1,W\n".repeat(4));
    all
}

#[test]
fn samples_and_their_beginnings() {
    for s in samples() {
        for cut in [s.len(), s.len() / 2, s.len() / 3, 17.min(s.len())] {
            all(&s[..cut]);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn damaged_samples(which in 0usize..12, edits in prop::collection::vec((any::<u16>(), any::<u8>()), 1..20)) {
        let mut samples = samples();
        let n = samples.len();
        let bytes = &mut samples[which % n];
        for (at, to) in edits {
            let i = usize::from(at) % bytes.len();
            bytes[i] = to;
        }
        all(bytes);
    }

    #[test]
    fn noise(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        all(&bytes);
        fuzzing::sound(&bytes);
    }

    #[test]
    fn damaged_recordings(which in 0usize..5, edits in prop::collection::vec((any::<u16>(), any::<u8>()), 1..6)) {
        let names = ["pass.ogg", "pass.mp3", "pass.mp4", "still.flac", "wind.ogg"];
        let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/../../checks/recordings/");
        let mut bytes = std::fs::read(format!("{dir}{}", names[which])).unwrap();
        for (at, to) in edits {
            // The ends hold the headers and indexes.
            let n = bytes.len();
            let i = usize::from(at) % 4096;
            bytes[if to % 2 == 0 { i } else { n - 1 - i }] = to;
        }
        let file = std::io::Cursor::new(bytes);
        if let Ok(mut s) = evidence::sound::decode::Sound::open(file, None, Default::default()) {
            for _ in 0..20 {
                if s.next_block().map_or(true, <[f32]>::is_empty) {
                    break;
                }
            }
        }
    }

    #[test]
    fn damaged_sound(edits in prop::collection::vec((any::<u16>(), any::<u8>()), 1..6)) {
        let mut bytes = common::wav(&vec![0.1; 3000], 8000).into_inner();
        for (at, to) in edits {
            let i = usize::from(at) % 60;
            bytes[i] = to;
        }
        fuzzing::sound(&bytes);
    }
}
