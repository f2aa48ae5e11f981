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

/// The drawing of a lay for pages that say the rest in words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LayFigures {
    /// What stands over it wherever it goes on; none for a lay of nothing.
    pub(crate) head: Option<Drawing>,
    /// Its parts, which follow each other without a gap.
    pub(crate) parts: Vec<Drawing>,
}

/// Draws the fabric alone, in parts that follow each other without a gap: strips with their letters and pieces with their
/// numbers, then the measured bar, which stays with the last strip. The name of the fabric and where its selvages lie stand
/// apart, so that every page to which the drawing comes can have them.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub(crate) fn lay_figures(lay: &LayPicture) -> Result<LayFigures, PublishError> {
    let mut blocks = strip::cloths_under_head(lay);
    if blocks.is_empty() {
        return Ok(LayFigures { head: None, parts: Vec::new() });
    }
    if let Some(at) = blocks.iter().rposition(|block| !block.items.is_empty()) {
        blocks[at..].iter_mut().for_each(|block| block.with_next = true);
    }
    blocks.push(table::scale_bar(lay));
    let figure = |(items, height_in): (Vec<_>, f64)| {
        Drawing::new(Page { width_in: LAY_WIDTH_IN, height_in, background: Some(PAPER) }, items)
    };
    let (items, height_in) = stacked(&strip::head(lay));
    let head = Some(figure((items, height_in))?);
    let parts = divided(&blocks, FIGURE_IN).into_iter().map(figure).collect::<Result<_, _>>()?;
    Ok(LayFigures { head, parts })
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

#[cfg(test)]
mod tests {
    use geometry::Value;
    use geometry::lay::UNITS_PER_INCH;
    use layout::{Colour, Units};

    use super::*;

    /// A length of fabric with so many strips of 2½ in.
    fn lay(strips: usize) -> LayPicture {
        let strip = LayStrip {
            letter: "A".to_owned(),
            height: 5 * UNITS_PER_INCH / 2,
            repeat: 1,
            fold: None,
            heading: String::new(),
            words: Vec::new(),
            rows: Vec::new(),
        };
        let (width, length) = (40 * UNITS_PER_INCH, 100 * UNITS_PER_INCH);
        let strips = vec![strip; strips];
        let cloth = LayCloth { name: None, heading: None, is_sheet: false, repeat: 1, width, length, strips };
        LayPicture {
            fabric: "Plum".to_owned(),
            value: Value::Dark,
            colour: Colour::rgb(90, 30, 80),
            units: Units::Inches,
            extent: String::new(),
            buy: String::new(),
            pieces: Vec::new(),
            cloths: vec![cloth],
        }
    }

    fn texts(drawing: &Drawing) -> Vec<&str> {
        let text = |item: &'_ crate::Item| matches!(item, crate::Item::Text(_));
        let texts = drawing.items().iter().filter(|item| text(item));
        texts
            .filter_map(|item| if let crate::Item::Text(text) = item { Some(text.text.as_str()) } else { None })
            .collect()
    }

    #[test]
    fn the_scale_bar_stays_with_a_strip_and_the_head_names_fabric_and_selvages() {
        for strips in 1..30 {
            let figures = lay_figures(&lay(strips)).unwrap();
            let last = texts(figures.parts.last().unwrap());
            assert!(last.contains(&"A") && last.contains(&"0"), "{strips} strips: {last:?}");
            let head = texts(figures.head.as_ref().unwrap()).concat();
            assert!(head.contains("Plum") && head.matches("selvage").count() == 2, "{head}");
            assert!(figures.parts.iter().all(|part| !texts(part).contains(&"selvage")));
        }
    }
}
