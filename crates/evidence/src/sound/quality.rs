//! What is wrong with a recording before anything is measured on it.

/// Samples at full scale in a row that count as clipped.
const CLIPPED_RUN: u32 = 3;
/// Exact silence shorter than this is a quiet moment of a coarse recorder, s.
const DROPOUT_S: f64 = 0.005;
const FULL_SCALE: f32 = 0.999;

/// Clipping, dropouts and damage of a recording.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Quality {
    /// Samples heard.
    pub samples: u64,
    /// Samples within runs at full scale.
    pub clipped: u64,
    /// Exact silences of 5 ms and more between sound: packets lost by the recorder.
    pub dropouts: u64,
    /// Packets that could not be decoded.
    pub damaged_packets: u64,
    /// Samples that were no numbers, heard as silence.
    pub not_numbers: u64,
    /// The file ended in the middle of its data.
    pub cut_short: bool,
    full: u32,
    silent: u64,
    heard: bool,
    first: Option<f32>,
    changed: bool,
}

impl Quality {
    /// Part of the samples that are clipped, 0 to 1.
    pub fn clipped_part(&self) -> f64 {
        self.clipped as f64 / self.samples.max(1) as f64
    }

    /// Nothing but exact silence was heard, or one level that never changed: a recorder that was stuck.
    pub fn is_silent(&self) -> bool {
        !self.changed
    }

    pub(crate) fn hear(&mut self, block: &[f32], rate_hz: u32) {
        let dropout = (DROPOUT_S * f64::from(rate_hz)) as u64;
        for x in block {
            self.samples += 1;
            self.changed |= *x != *self.first.get_or_insert(*x);
            self.full = if x.abs() >= FULL_SCALE {
                self.full + 1
            } else {
                0
            };
            match self.full {
                CLIPPED_RUN => self.clipped += u64::from(CLIPPED_RUN),
                n if n > CLIPPED_RUN => self.clipped += 1,
                _ => {}
            }
            if *x == 0.0 {
                self.silent += 1;
                continue;
            }
            if self.heard && self.silent > dropout {
                self.dropouts += 1;
            }
            self.silent = 0;
            self.heard = true;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_clipping_and_dropouts() {
        let mut sound = vec![0.0; 100];
        sound.extend([0.5; 100]);
        sound.extend([1.0, 1.0, 1.0, 1.0, 0.2, 1.0, 0.1]);
        sound.extend([0.0; 20]);
        sound.extend([0.3; 10]);
        let mut q = Quality::default();
        q.hear(&sound, 1000);
        assert_eq!((q.clipped, q.dropouts), (4, 1));
        assert_eq!(q.samples, sound.len() as u64);
        assert!(!q.is_silent());
    }

    #[test]
    fn one_level_that_never_changes_is_silence() {
        for level in [0.0, -1.0] {
            let mut q = Quality::default();
            q.hear(&[level; 100], 1000);
            assert!(q.is_silent());
            q.hear(&[0.1], 1000);
            assert!(!q.is_silent());
        }
    }
}
