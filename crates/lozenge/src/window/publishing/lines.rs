//! How true-size drawings are drawn: in whole small steps, so that equal choices are equal documents.

use publish::templates::{MAX_LINE_IN, SheetOptions};

/// Widths in micrometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lines {
    /// Of the cut lines.
    pub width: u16,
    /// What the beam or blade of a cutting machine takes away.
    pub kerf: u16,
}

impl Lines {
    /// Micrometres in an inch.
    pub const PER_INCH: f64 = 25_400.0;

    /// The thinnest and the widest line.
    pub const WIDTHS: std::ops::RangeInclusive<u16> = 60..=Self::most();

    /// The least and the most that a machine takes away.
    pub const KERFS: std::ops::RangeInclusive<u16> = 0..=Self::most();

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a quarter of an inch")]
    const fn most() -> u16 {
        (MAX_LINE_IN * Self::PER_INCH) as u16
    }

    /// As the drawings take them.
    pub(crate) fn options(self) -> SheetOptions {
        let [line_in, kerf_in] = [self.width, self.kerf].map(|width| f64::from(width) / Self::PER_INCH);
        SheetOptions { line_in, kerf_in, ..SheetOptions::default() }
    }
}

/// Half a point, for paper.
impl Default for Lines {
    fn default() -> Self {
        Self { width: 176, kerf: 0 }
    }
}
