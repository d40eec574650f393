//! An address as a picture that a phone's camera reads, drawn with half blocks.

use qrcode::render::unicode::Dense1x2;
use qrcode::{EcLevel, QrCode};

/// Black on white, whatever the terminal's own colours are.
const PAPER: &str = "\x1b[30;107m";
const PLAIN: &str = "\x1b[0m";

/// The picture, four modules of quiet around it as the standard asks (ISO/IEC 18004); nothing for a text that is too
/// long. Without colours the light modules are the ones drawn, as on a dark terminal.
pub fn picture(address: &str, colours: bool) -> Option<String> {
    let code = QrCode::with_error_correction_level(address, EcLevel::M).ok()?;
    let mut drawn = code.render::<Dense1x2>();
    drawn.quiet_zone(true);
    if !colours {
        drawn
            .dark_color(Dense1x2::Light)
            .light_color(Dense1x2::Dark);
    }
    let drawn = drawn.build();
    let line = |text: &str| match colours {
        true => format!("{PAPER}{text}{PLAIN}\n"),
        false => format!("{text}\n"),
    };
    Some(drawn.lines().map(line).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    const ADDRESS: &str = "http://192.168.1.23:4173/#code=12345678";

    /// Drawn light and dark, one is the other's negative, and each has the corners that a camera looks for.
    #[test]
    fn the_finders_are_in_three_corners_inside_a_quiet_zone() {
        let text = picture(ADDRESS, false).expect("short enough");
        let upper = |c: char| matches!(c, '\u{2588}' | '\u{2580}');
        let lower = |c: char| matches!(c, '\u{2588}' | '\u{2584}');
        // Light modules are drawn: a dark one is where nothing is.
        let rows: Vec<Vec<bool>> = text
            .lines()
            .flat_map(|l| {
                [
                    l.chars().map(|c| !upper(c)).collect(),
                    l.chars().map(|c| !lower(c)).collect::<Vec<bool>>(),
                ]
            })
            .collect();
        let wide = rows[0].len();
        assert!(wide >= 8 + 21 && text.lines().all(|l| l.chars().count() == wide));
        let size = wide - 8;
        assert!(
            (0..4).all(|y| rows[y].iter().all(|dark| !dark)),
            "quiet above"
        );
        assert!(
            rows.iter()
                .take(size + 4)
                .all(|r| r[..4].iter().all(|dark| !dark))
        );
        let finder = |x0: usize, y0: usize| {
            (0..7).all(|y| {
                (0..7).all(|x| {
                    let ring = x.min(6 - x).min(y.min(6 - y));
                    rows[y0 + y][x0 + x] == (ring != 1)
                })
            })
        };
        assert!(finder(4, 4) && finder(4 + size - 7, 4) && finder(4, 4 + size - 7));
    }

    #[test]
    fn with_colours_each_line_begins_and_ends_its_own() {
        let text = picture(ADDRESS, true).expect("short enough");
        assert!(
            text.lines()
                .all(|l| l.starts_with(PAPER) && l.ends_with(PLAIN))
        );
    }
}
