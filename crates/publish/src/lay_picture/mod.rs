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

pub use self::contents::{LayCloth, LayCut, LayPicture, LayPiece, LayRow, LayStrip};
use crate::block::{Block, divided, stacked};
use crate::set_text::{PAPER, PRINTED_IN, Paper, sheets};
use crate::{Drawing, Page, PublishError};

/// Width of a lay drawing in inches: what is printed on a page of letter size or A4.
pub const LAY_WIDTH_IN: f64 = PRINTED_IN;

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

/// The most that one of [`lay_figures`] is high, if a strip is not higher: little enough to leave no large gap at the
/// foot of a page.
const FIGURE_IN: f64 = 1.8;

/// Draws the fabric alone, in parts that follow each other without a gap: strips with their letters and pieces with their
/// numbers, then the measured bar. For pages that say the rest in words.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub(crate) fn lay_figures(lay: &LayPicture) -> Result<Vec<Drawing>, PublishError> {
    let mut blocks = strip::cloths(lay);
    if blocks.is_empty() {
        return Ok(Vec::new());
    }
    blocks.push(table::scale_bar(lay));
    let figure = |(items, height_in): (Vec<_>, f64)| {
        Drawing::new(Page { width_in: LAY_WIDTH_IN, height_in, background: Some(PAPER) }, items)
    };
    divided(&blocks, FIGURE_IN).into_iter().map(figure).collect()
}

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
    sheets(&blocks, paper, &lay.fabric)
}
