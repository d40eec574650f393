//! Many sines at once, in single precision, side by side so that the compiler works on several.
//!
//! - `cos` and `sin` by Chebyshev expansions of our own on half a turn to each side: within 4e-5 and 5e-4.
//! - Phases are counted from a place and time near by, so that single precision does not run out with distance.
//! - Check: `super::tests`, against the same sines in double precision.

use super::Component;

/// Sines side by side.
const LANES: usize = 8;
/// Most blocks of them: as many as a ripple has components.
pub const MOST: usize = 2;

pub type Lanes = [f32; LANES];

/// One block of sines.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Block {
    /// Ahead and to port, rad/m.
    wave: [Lanes; 2],
    /// Rad/s.
    frequency: Lanes,
    /// m.
    amplitude: Lanes,
    /// Of the water ahead and to port at a crest, and up a quarter later, m/s.
    flow: [Lanes; 3],
}

/// All of a surface's.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Blocks(Vec<Block>);

/// Where phases are counted from.
pub type Phases = [Lanes; MOST];

impl Blocks {
    pub fn of(components: &[Component]) -> Self {
        let blocks = components.chunks(LANES).take(MOST).map(|chunk| {
            let mut block = Block::default();
            for (i, c) in chunk.iter().enumerate() {
                let flow = c.amplitude * c.frequency;
                block.wave[0][i] = c.wave.0 as f32;
                block.wave[1][i] = c.wave.1 as f32;
                block.frequency[i] = c.frequency as f32;
                block.amplitude[i] = c.amplitude as f32;
                block.flow[0][i] = (flow * c.wave.0 / c.number) as f32;
                block.flow[1][i] = (flow * c.wave.1 / c.number) as f32;
                block.flow[2][i] = flow as f32;
            }
            block
        });
        Self(blocks.collect())
    }

    /// Phases of all at a place and time, less whole turns.
    pub fn phases(components: &[Component], [x, y]: [f64; 2], time_s: f64) -> Phases {
        let mut phases = Phases::default();
        for (slot, c) in phases.as_flattened_mut().iter_mut().zip(components) {
            let phase = c.wave.0 * x + c.wave.1 * y - c.frequency * time_s + c.phase;
            *slot = (phase - std::f64::consts::TAU * whole(phase / std::f64::consts::TAU)) as f32;
        }
        phases
    }

    /// `sum a cos`.
    pub fn height(&self, phases: &Phases, off: [f32; 3]) -> f32 {
        let mut sum = Lanes::default();
        for (block, from) in self.0.iter().zip(phases) {
            // Several lists side by side, as the processor takes them.
            #[allow(clippy::needless_range_loop)]
            for i in 0..LANES {
                let r = block.turned(i, from, off);
                sum[i] += block.amplitude[i] * cos(r * r);
            }
        }
        sum.iter().sum()
    }

    /// Height and its rate for phases that turn as a place goes: `going` is ahead, to port, m/s.
    pub fn met(&self, phases: &Phases, off: [f32; 3], going: [f32; 2]) -> [f32; 2] {
        let mut sum = [Lanes::default(); 2];
        for (block, from) in self.0.iter().zip(phases) {
            // Several lists side by side, as the processor takes them.
            #[allow(clippy::needless_range_loop)]
            for i in 0..LANES {
                let r = block.turned(i, from, off);
                let z = r * r;
                sum[0][i] += block.amplitude[i] * cos(z);
                sum[1][i] -= block.amplitude[i] * sin(r, z) * block.turning(i, going);
            }
        }
        sum.map(|s| s.iter().sum())
    }

    /// Velocity of the water: ahead, to port, up.
    pub fn velocity(&self, phases: &Phases, off: [f32; 3]) -> [f32; 3] {
        let mut sum = [Lanes::default(); 3];
        for (block, from) in self.0.iter().zip(phases) {
            // Several lists side by side, as the processor takes them.
            #[allow(clippy::needless_range_loop)]
            for i in 0..LANES {
                let r = block.turned(i, from, off);
                let z = r * r;
                let cos = cos(z);
                sum[0][i] += block.flow[0][i] * cos;
                sum[1][i] += block.flow[1][i] * cos;
                sum[2][i] += block.flow[2][i] * sin(r, z);
            }
        }
        sum.map(|s| s.iter().sum())
    }

    /// Its rate at a place that goes.
    pub fn pull(&self, phases: &Phases, off: [f32; 3], going: [f32; 2]) -> [f32; 3] {
        let mut sum = [Lanes::default(); 3];
        for (block, from) in self.0.iter().zip(phases) {
            // Several lists side by side, as the processor takes them.
            #[allow(clippy::needless_range_loop)]
            for i in 0..LANES {
                let r = block.turned(i, from, off);
                let z = r * r;
                let turning = block.turning(i, going);
                let sin = sin(r, z) * turning;
                sum[0][i] -= block.flow[0][i] * sin;
                sum[1][i] -= block.flow[1][i] * sin;
                sum[2][i] += block.flow[2][i] * cos(z) * turning;
            }
        }
        sum.map(|s| s.iter().sum())
    }
}

impl Block {
    /// Phase of one, within half a turn to each side.
    #[inline(always)]
    fn turned(&self, i: usize, from: &Lanes, [x, y, t]: [f32; 3]) -> f32 {
        let phase = from[i] + self.wave[0][i] * x + self.wave[1][i] * y - self.frequency[i] * t;
        // Adding and taking away this rounds to a whole number; there is no faster way without a call.
        const ROUND: f32 = 12_582_912.0;
        let turns = (phase * (1.0 / std::f32::consts::TAU) + ROUND) - ROUND;
        phase - turns * std::f32::consts::TAU
    }

    /// Rate of the phase, rad/s.
    #[inline(always)]
    fn turning(&self, i: usize, [vx, vy]: [f32; 2]) -> f32 {
        self.wave[0][i] * vx + self.wave[1][i] * vy - self.frequency[i]
    }
}

/// The nearest whole number.
fn whole(turns: f64) -> f64 {
    const ROUND: f64 = 6_755_399_441_055_744.0;
    (turns + ROUND) - ROUND
}

/// Of an angle's square.
#[inline(always)]
fn cos(z: f32) -> f32 {
    0.999_959 + z * (-0.499_790_6 + z * (0.041_494_74 + z * (-0.001_339_058_5 + z * 1.878_133e-5)))
}

/// Of an angle and its square.
#[inline(always)]
fn sin(r: f32, z: f32) -> f32 {
    r * (0.999_833_2 + z * (-0.166_118_72 + z * (0.008_049_599 - z * 1.503_766_5e-4)))
}
