//! Lines of a file kept to a length: a file without line ends would else be read as one row, whole.

use std::io::{Read, Result};

/// Longest line let through, bytes; a row of a capture has a few dozen.
const LONGEST: usize = 1 << 20;

/// Passes bytes on, without what a line has beyond the longest.
pub struct Shortened<R> {
    file: R,
    /// Of the line so far.
    length: usize,
}

impl<R> Shortened<R> {
    /// At the start of a line.
    pub fn new(file: R) -> Self {
        Self { file, length: 0 }
    }
}

fn ends_line(byte: u8) -> bool {
    byte == b'\n' || byte == b'\r'
}

impl<R: Read> Read for Shortened<R> {
    fn read(&mut self, buffer: &mut [u8]) -> Result<usize> {
        loop {
            let got = self.file.read(buffer)?;
            if got == 0 {
                return Ok(0);
            }
            let bytes = &mut buffer[..got];
            if self.length + got <= LONGEST {
                let end = bytes.iter().rposition(|b| ends_line(*b));
                self.length = end.map_or(self.length + got, |i| got - 1 - i);
                return Ok(got);
            }
            let mut kept = 0;
            for i in 0..got {
                let byte = bytes[i];
                self.length = if ends_line(byte) { 0 } else { self.length + 1 };
                if self.length <= LONGEST {
                    bytes[kept] = byte;
                    kept += 1;
                }
            }
            if kept > 0 {
                return Ok(kept);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_too_long_is_cut() {
        let long = vec![b'x'; 3 * LONGEST];
        let file = [b"1,2\n", long.as_slice(), b"\n3,4\n"].concat();
        let mut read = Vec::new();
        Shortened::new(file.as_slice())
            .read_to_end(&mut read)
            .expect("bytes");
        let wanted = [b"1,2\n", &long[..LONGEST], b"\n3,4\n"].concat();
        assert!(read == wanted);
        let plain = b"a,b\n1,2\n".repeat(1000);
        let mut read = Vec::new();
        Shortened::new(plain.as_slice())
            .read_to_end(&mut read)
            .expect("bytes");
        assert!(read == plain);
    }
}
