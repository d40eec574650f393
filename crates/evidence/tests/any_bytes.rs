//! Every reader returns, whatever bytes it is given: the beginnings of recordings, and noise. Damaged ones are tried in
//! `crates/skimwright/tests/hard_use`.

#![allow(missing_docs)]

use evidence::fuzzing;
use proptest::prelude::*;

fn all(bytes: &[u8]) {
    fuzzing::film(bytes);
    fuzzing::gpx_track(bytes);
    fuzzing::nmea_track(bytes);
    fuzzing::table(bytes);
    fuzzing::pulses(bytes);
    fuzzing::outing(bytes);
    fuzzing::marks(bytes);
    fuzzing::measured(bytes);
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
    fn noise(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        all(&bytes);
        fuzzing::sound(&bytes);
    }
}
