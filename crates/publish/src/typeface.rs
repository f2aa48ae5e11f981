//! The type of drawings, and how much room text takes in it.
//!
//! A viewer without Lato sets another type in its place; room is left for one that runs a little wider.

use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider as _};

use crate::Weight;

/// Lato Regular.
pub(crate) const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/Lato-Regular.ttf");
/// Lato Bold.
pub(crate) const BOLD: &[u8] = include_bytes!("../../../assets/fonts/Lato-Bold.ttf");

/// Both files, for who sets whole pages.
pub(crate) const FILES: [&[u8]; 2] = [REGULAR, BOLD];

/// Height of digits and capitals as a share of the size of the type.
pub(crate) const DIGIT_HEIGHT: f64 = 0.72;

/// Width of a character that the type does not have, as a share of its size.
const UNKNOWN: f64 = 1.0;

static FACES: LazyLock<[Option<FontRef<'static>>; 2]> =
    LazyLock::new(|| [REGULAR, BOLD].map(|bytes| FontRef::new(bytes).ok()));

/// Whether a letter can be printed, in both weights; spaces and line ends can.
pub(crate) fn has_letter(letter: char) -> bool {
    letter.is_whitespace() || FACES.iter().flatten().all(|face| face.charmap().map(letter).is_some())
}

/// The width of a text in inches when its size is one inch, kerning apart.
fn width_of_one(text: &str, weight: Weight) -> f64 {
    let [regular, bold] = &*FACES;
    let face = match weight {
        Weight::Regular => regular,
        Weight::Bold => bold,
    };
    let Some(face) = face else { return text.chars().map(|_| UNKNOWN).sum() };
    let (letters, widths) = (face.charmap(), face.glyph_metrics(Size::new(1.0), LocationRef::default()));
    let width = |c: char| letters.map(c).and_then(|glyph| widths.advance_width(glyph)).map_or(UNKNOWN, f64::from);
    text.chars().map(width).sum()
}

/// The width of a text, in inches, at a size in inches.
pub(crate) fn text_width(text: &str, size_in: f64, weight: Weight) -> f64 {
    width_of_one(text, weight) * size_in
}

/// The text, or as much of its beginning as has room in `width_in`, with an ellipsis.
pub(crate) fn fitted(text: &str, size_in: f64, weight: Weight, width_in: f64) -> String {
    if text_width(text, size_in, weight) <= width_in {
        return text.to_owned();
    }
    let mut short = text.to_owned();
    while short.pop().is_some() {
        let cut = format!("{}…", short.trim_end());
        if text_width(&cut, size_in, weight) <= width_in {
            return cut;
        }
    }
    String::new()
}

/// The text in lines no wider than `width_in`, broken between words; a word too long for a line is shortened.
pub(crate) fn wrapped(text: &str, size_in: f64, weight: Weight, width_in: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (lines.last_mut(), longer) {
            (Some(line), Some(longer)) if text_width(&longer, size_in, weight) <= width_in => *line = longer,
            _ => lines.push(fitted(word, size_in, weight, width_in)),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_type_has_every_character_of_the_cutting_table() {
        for face in &*FACES {
            let letters = face.as_ref().unwrap().charmap();
            for c in "0123456789AZaz ″×·°½¼¾⅛⅜⅝⅞…’:;,.()".chars() {
                assert!(letters.map(c).is_some(), "the type has no {c:?}");
            }
        }
    }

    #[test]
    fn lines_are_broken_where_they_are_full() {
        let text = "forty background squares, every three inches and a quarter";
        let lines = wrapped(text, 0.1, Weight::Regular, 1.5);
        assert!(lines.len() > 1 && lines.iter().all(|line| text_width(line, 0.1, Weight::Regular) <= 1.5), "{lines:?}");
        assert_eq!(lines.join(" "), text);
        let short = fitted("Midsummer midnight", 0.1, Weight::Bold, 0.6);
        assert!(short.ends_with('…') && text_width(&short, 0.1, Weight::Bold) <= 0.6, "{short}");
        assert_eq!(fitted("Oat", 0.1, Weight::Bold, 0.6), "Oat");
    }
}
