//! Lay drawings: what is cut of a fabric, to scale, with every piece on it, lettered and numbered as in the cutting list.
//!
//! Pieces at hand and precuts come first, then the length that is bought; strips run across the page, the first to be
//! cut on top. Equal sheets and equal strips are drawn once and counted ("6 like this"), so that a lay of several yards
//! is read on one page. A blank shows what comes out of it. Nothing is told by colour alone: pieces have numbers, strips
//! have letters, and what is left over is hatched, so a drawing says the same in black and white.

mod contents;
mod numbers;
mod strip;
mod table;

use layout::{Colour, Units};

pub use self::contents::{LayCloth, LayCut, LayPicture, LayPiece, LayRow, LayStrip};
use crate::block::{Block, stacked};
use crate::{Drawing, Page, PublishError};

/// Width of a lay drawing in inches: what is printed on a page of letter size or A4.
pub const LAY_WIDTH_IN: f64 = 7.5;

/// Draws the lay: the fabric to scale, a measured bar, and the list of its pieces.
///
/// The drawing is [`LAY_WIDTH_IN`] wide with a margin round it, and as long as it needs to be; type has the size that is
/// read on paper.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn lay_picture(lay: &LayPicture) -> Result<Drawing, PublishError> {
    let blocks = [table::title(lay), strip::cloths(lay), vec![table::scale_bar(lay)], table::pieces(lay)].concat();
    let (items, height_in) = stacked(&blocks);
    let page = Page {
        width_in: LAY_WIDTH_IN + 2.0 * MARGIN_IN,
        height_in: height_in + 2.0 * MARGIN_IN,
        background: Some(PAPER),
    };
    Drawing::new(page, items.into_iter().map(|item| item.moved([MARGIN_IN; 2])).collect())
}

/// Margin round a drawing, in inches.
const MARGIN_IN: f64 = 0.25;

/// A sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 8½ by 11 inches.
    Letter,
    /// 210 by 297 mm (ISO 216).
    A4,
}

impl Paper {
    /// The paper that goes with units.
    #[must_use]
    pub const fn of(units: Units) -> Self {
        match units {
            Units::Inches => Self::Letter,
            Units::Centimetres => Self::A4,
        }
    }

    /// Width and height in inches.
    const fn size_in(self) -> [f64; 2] {
        match self {
            Self::Letter => [8.5, 11.0],
            Self::A4 => [210.0 / 25.4, 297.0 / 25.4],
        }
    }
}

/// Room left at the head and the foot of a sheet, in inches.
const HEAD_IN: f64 = 0.5;

/// Draws the lay on sheets of paper, with its pieces and the cutting list in words; one sheet where it has room.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn lay_sheets(lay: &LayPicture, paper: Paper) -> Result<Vec<Drawing>, PublishError> {
    let blocks: Vec<Block> = [
        table::title(lay),
        strip::cloths(lay),
        vec![table::scale_bar(lay)],
        table::pieces(lay),
        table::cutting_list(lay),
        table::cautions(),
    ]
    .concat();
    let [width_in, height_in] = paper.size_in();
    let page = Page { width_in, height_in, background: Some(PAPER) };
    let left = (width_in - LAY_WIDTH_IN) / 2.0;
    let sheets = crate::block::paged(&blocks, height_in - 2.0 * HEAD_IN - table::RUNNING_FOOT_IN);
    let count = sheets.len();
    let sheet = |(index, items): (usize, Vec<crate::Item>)| {
        let foot = table::running_foot(lay, index + 1, count).at(height_in - HEAD_IN);
        let items = items.into_iter().map(|item| item.moved([left, HEAD_IN]));
        Drawing::new(page, items.chain(foot.into_iter().map(|item| item.moved([left, 0.0]))).collect())
    };
    sheets.into_iter().enumerate().map(sheet).collect()
}

/// Paper.
const PAPER: Colour = Colour::rgb(255, 255, 255);
/// Text and outlines.
const INK: Colour = Colour::rgb(26, 28, 32);
/// Quieter text.
const QUIET: Colour = Colour::rgb(88, 92, 100);
