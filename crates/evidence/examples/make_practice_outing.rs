//! Makes the invented recordings of the demonstration outing, from one invented run.
//!
//! `cargo run -p evidence --example make_practice_outing` writes `examples/practice/outings/2026-05-17`.
//! The run: at rest, launch, laps of two 160 m straights and two half circles, throttle cut. A phone on
//! the bank hears it, a receiver and the controller log it, the servo lead was captured before.

#![allow(missing_docs)]

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::f64::consts::{PI, TAU};
use std::fmt::Write as _;
use std::fs;

const DT: f64 = 0.001;
const STRAIGHT_M: f64 = 160.0;
const RADIUS_M: f64 = 14.0;
const TOP_M_S: f64 = 23.8;
const TURN_M_S: f64 = 18.0;
const LAUNCH_S: f64 = 4.0;
const CUT_S: f64 = 60.0;
const END_S: f64 = 68.0;
/// Shaft rpm a m/s: 11 % of slip on a pitch of 47.6 mm.
const RPM_PER_M_S: f64 = 60.0 / (0.0476 * 0.89);
const SOUND_M_S: f64 = 341.0;
/// The phone: 7 m north of the near straight, past its middle.
const PHONE_M: (f64, f64) = (90.0, 7.0);
/// The pack: V at rest as the run begins, V lost for each mAh drawn (a full three-cell pack falls by some 2.4 V over
/// its 5000 mAh), ohm of cells, leads and plugs together.
const PACK: (f64, f64, f64) = (12.3, 0.00048, 0.014);
const PHONE_STARTS_S: f64 = 21.0;
const PHONE_RATE: u32 = 11_025;
const PHONE_SECONDS: f64 = 12.0;
/// 2026-05-17 10:30:00 UTC.
const START: (u32, u32) = (10, 30);
const ORIGIN_DEG: (f64, f64) = (51.2, -1.3);

struct State {
    t: f64,
    east: f64,
    north: f64,
    speed: f64,
    throttle: f64,
    turn: f64,
}

struct Noise(ChaCha8Rng);

impl Noise {
    fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.0.random::<f64>(), self.0.random::<f64>());
        (-2.0 * a.ln()).sqrt() * (TAU * b).cos()
    }
}

/// Where a lap is after a way: place and whether it turns. The near straight runs east, and the lap clockwise: the way
/// a boat with its fin on the right turns.
fn course(way: f64) -> (f64, f64, bool) {
    let lap = 2.0 * STRAIGHT_M + TAU * RADIUS_M;
    let s = way.rem_euclid(lap);
    let arc = PI * RADIUS_M;
    if s < STRAIGHT_M {
        (s, 0.0, false)
    } else if s < STRAIGHT_M + arc {
        let a = (s - STRAIGHT_M) / RADIUS_M;
        (
            STRAIGHT_M + RADIUS_M * a.sin(),
            -RADIUS_M * (1.0 - a.cos()),
            true,
        )
    } else if s < 2.0 * STRAIGHT_M + arc {
        (2.0 * STRAIGHT_M + arc - s, -2.0 * RADIUS_M, false)
    } else {
        let a = (s - 2.0 * STRAIGHT_M - arc) / RADIUS_M;
        (-RADIUS_M * a.sin(), -RADIUS_M * (1.0 + a.cos()), true)
    }
}

fn run() -> Vec<State> {
    let (mut way, mut speed) = (0.0, 0.0f64);
    let steps = (END_S / DT) as usize;
    (0..steps)
        .map(|i| {
            let t = i as f64 * DT;
            let (east, north, turning) = course(way);
            let throttle = if (LAUNCH_S..CUT_S).contains(&t) {
                1.0
            } else {
                0.0
            };
            let (aim, lag) = match (throttle > 0.0, turning) {
                (false, _) => (0.0, 0.9),
                (true, true) => (TURN_M_S, 0.35),
                (true, false) => (TOP_M_S, 0.25),
            };
            speed += DT * (aim - speed) / lag;
            way += DT * speed;
            let turn = if turning { speed / RADIUS_M } else { 0.0 };
            State {
                t,
                east,
                north,
                speed,
                throttle,
                turn,
            }
        })
        .collect()
}

/// At the moment the sound left, by fixed-point steps on the retarded time.
fn sound(states: &[State], noise: &mut Noise) -> Vec<u8> {
    let mut phase = vec![0.0];
    for s in states {
        let hz = rpm(s) / 60.0;
        phase.push(phase[phase.len() - 1] + TAU * hz * DT);
    }
    let at = |t: f64| (t / DT).clamp(0.0, (states.len() - 2) as f64);
    let count = (PHONE_SECONDS * f64::from(PHONE_RATE)) as usize;
    let samples = (0..count).map(|i| {
        let heard = PHONE_STARTS_S + i as f64 / f64::from(PHONE_RATE);
        let (mut left, mut distance) = (heard, 0.0);
        for _ in 0..30 {
            let i = at(left);
            let (a, b) = (&states[i as usize], &states[i as usize + 1]);
            let part = i.fract();
            let east = a.east + part * (b.east - a.east);
            let north = a.north + part * (b.north - a.north);
            distance = (east - PHONE_M.0).hypot(north - PHONE_M.1);
            left = heard - distance / SOUND_M_S;
        }
        let i = at(left);
        let turn = phase[i as usize] + i.fract() * (phase[i as usize + 1] - phase[i as usize]);
        let tone = (2.0 * turn).sin() + 0.3 * (turn + 0.4).sin() + 0.45 * (4.0 * turn + 1.0).sin();
        let level = 0.45 * (7.0 / distance.max(3.0)) * tone + 0.035 * noise.normal();
        (128.0 + 100.0 * level).round().clamp(0.0, 255.0) as u8
    });
    wav(&samples.collect::<Vec<u8>>())
}

fn rpm(s: &State) -> f64 {
    if s.throttle > 0.0 {
        RPM_PER_M_S * s.speed.max(0.35 * TOP_M_S)
    } else {
        0.0
    }
}

/// A mono WAV file of 8 bits.
fn wav(samples: &[u8]) -> Vec<u8> {
    let data = samples.len() as u32;
    let padded = data + data % 2;
    let mut b = b"RIFF".to_vec();
    b.extend((36 + padded).to_le_bytes());
    b.extend(b"WAVEfmt ");
    b.extend(16u32.to_le_bytes());
    b.extend([1, 0, 1, 0]);
    b.extend(PHONE_RATE.to_le_bytes());
    b.extend(PHONE_RATE.to_le_bytes());
    b.extend([1, 0, 8, 0]);
    b.extend(b"data");
    b.extend(data.to_le_bytes());
    b.extend(samples);
    b.extend(std::iter::repeat_n(128, (padded - data) as usize));
    b
}

fn gpx(states: &[State], noise: &mut Noise) -> String {
    let mut text = String::from(
        "<?xml version=\"1.0\"?>\n<!-- invented -->\n<gpx version=\"1.0\" creator=\"invented\">\n<trk><trkseg>\n",
    );
    let metres = 111_250.0;
    for s in states.iter().step_by(200) {
        let (e, n) = (
            s.east + 0.15 * noise.normal(),
            s.north - 0.15 * noise.normal(),
        );
        let lat = ORIGIN_DEG.0 + n / metres;
        let lon = ORIGIN_DEG.1 + e / (metres * ORIGIN_DEG.0.to_radians().cos() * 1.0027);
        let speed = (s.speed + 0.06 * noise.normal()).max(0.0);
        // A dip of the receiver: one wild speed, as after spray.
        let speed = if (s.t - 30.0).abs() < 1e-6 {
            41.0
        } else {
            speed
        };
        let (m, sec) = (START.1 + (s.t / 60.0) as u32, s.t % 60.0);
        writeln!(
            text,
            "<trkpt lat=\"{lat:.7}\" lon=\"{lon:.7}\"><time>2026-05-17T{:02}:{m:02}:{sec:04.1}Z</time><speed>{speed:.2}</speed></trkpt>",
            START.0
        )
        .expect("text");
    }
    text + "</trkseg></trk></gpx>\n"
}

fn controller(states: &[State], noise: &mut Noise) -> String {
    let mut text = String::from(
        "Time [s],Throttle [%],RPM,Voltage [V],Current [A],Motor temp [degC],Consumption [mAh]\n",
    );
    let (mut mah, mut temp) = (0.0, 19.0);
    for s in states.iter().step_by(100) {
        let r = rpm(s);
        // Power falls with rpm: a motor on a rising load.
        let accelerating = (TOP_M_S - s.speed).max(0.0) / TOP_M_S;
        let amps = if r > 0.0 {
            54.0 + 60.0 * accelerating + 8.0 * f64::from(u8::from(s.turn > 0.0))
        } else {
            0.3
        };
        let amps = (amps + 0.6 * noise.normal()).max(0.0);
        let (rest, a_mah, ohm) = PACK;
        let volts = rest - a_mah * mah - ohm * amps + 0.01 * noise.normal();
        mah += amps * 0.1 / 3.6;
        temp += 0.1 * (0.00045 * amps * amps - 0.02 * (temp - 19.0));
        writeln!(
            text,
            "{:.1},{:.0},{:.0},{volts:.2},{amps:.1},{temp:.1},{mah:.0}",
            s.t - 1.5,
            100.0 * s.throttle,
            (r * (1.0 + 0.001 * noise.normal())).round(),
        )
        .expect("text");
    }
    text
}

/// Samples of a loaded output each 10 us for four frames.
fn servo() -> String {
    let mut text = String::from("# invented\ntime [ms],rudder [V]\n");
    let (tau, dt) = (38e-6, 1e-5);
    let mut v = 0.0;
    for i in 0..7000 {
        let t = f64::from(i) * dt;
        let high = (0.002..0.002 + 1.52e-3).contains(&(t % 0.0167));
        let drive = if high { 3.3 } else { 0.0 };
        v += (drive - v) * (1.0 - (-dt / tau).exp());
        writeln!(text, "{:.2},{v:.2}", 1e3 * t).expect("text");
    }
    text
}

const MARKS: &str = r#"# Invented. Times from the film's table; the film itself is too large to keep here.
boat_length = "560 mm ± 3 mm"
mark = [
  { time_s = 3.000, bow = [310, 412], stern = [210, 413] },
  { time_s = 3.033, bow = [451, 413], stern = [351, 412] },
  { time_s = 3.067, bow = [594, 412], stern = [493, 413] },
  { time_s = 3.100, bow = [734, 411], stern = [635, 412] },
  { time_s = 3.133, bow = [876, 413], stern = [776, 412] },
]
"#;

const NOTES: &str = r#"# Invented, like its recordings: `cargo run -p evidence --example make_practice_outing`.

place = "Quillmere Long Water"
water = "calm"
water_temperature = "14 degC"
air_temperature = "16 degC ± 2 degC"
wind = "1 m/s"
invented = true

what_happened = """
Four laps. Planed at once and ran true on the straights; scrubbed off a lot in the turns.
Motor warm to the hand after, pack cool. Rudder sat a little off centre until the lead was dried.
"""

# Across the near straight, through the phone.
[lap_line]
from_deg = [51.19994, -1.29871]
to_deg = [51.20005, -1.29871]

[[recording]]
file = "bank.wav"
closest = "7 m ± 0.5 m"

[[recording]]
file = "rudder.csv"
kind = "pulses"
"#;

fn main() {
    let folder = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/practice/outings/2026-05-17"
    );
    let mut noise = Noise(ChaCha8Rng::seed_from_u64(517));
    let states = run();
    fs::create_dir_all(folder).expect("a folder");
    let put = |name: &str, bytes: &[u8]| {
        fs::write(format!("{folder}/{name}"), bytes).expect("a file");
        println!("{name}: {} bytes", bytes.len());
    };
    put("bank.wav", &sound(&states, &mut noise));
    put("track.gpx", gpx(&states, &mut noise).as_bytes());
    put("controller.csv", controller(&states, &mut noise).as_bytes());
    put("rudder.csv", servo().as_bytes());
    put("marks.toml", MARKS.as_bytes());
    put("outing.toml", NOTES.as_bytes());
    // The truth, for the test beside this.
    let near = |t: f64| &states[(t / DT) as usize];
    let pass = states
        .iter()
        .filter(|s| s.north.abs() < 1e-9 && (s.east - PHONE_M.0).abs() < 0.02);
    for s in pass {
        println!(
            "near the phone at {:.2} s, {:.2} m/s, {:.0} rpm",
            s.t,
            s.speed,
            rpm(s)
        );
    }
    let best = states.iter().map(|s| s.speed).fold(0.0, f64::max);
    println!("top {best:.2} m/s; at 20 s {:.2} m/s", near(20.0).speed);
}
