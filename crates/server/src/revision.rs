//! A short name for a text: the same for the same text, on any machine.

use sha2::{Digest as _, Sha256};

/// The first 16 hexadecimal digits of its SHA-256.
pub fn revision(text: &str) -> String {
    let hash = Sha256::digest(text.as_bytes());
    hash.iter().take(8).map(|b| format!("{b:02x}")).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_standard_example_of_sha_256() {
        // FIPS 180-2, appendix B.1.
        assert_eq!(super::revision("abc"), "ba7816bf8f01cfea");
    }
}
