//! All steps of a block on one long sheet, as words and diagrams.

use super::sections::{Figure, Section, sections};
use super::{BlockPages, INK, PAPER, QUIET, StepPage};
use crate::lengths::counted;
use crate::typeface::wrapped;
use crate::{Anchor, Drawing, Item, Page, Point, PublishError, Text, Weight};

const WIDTH_IN: f64 = 7.5;
const MARGIN_IN: f64 = 0.5;
/// Between figures, and between paragraphs.
const GAP_IN: f64 = 0.16;
const TITLE_IN: f64 = 0.22;
const HEADING_IN: f64 = 0.17;
const TEXT_IN: f64 = 0.13;
const SMALL_IN: f64 = 0.11;
/// From line to line, for an inch of type.
const LINE: f64 = 1.35;

/// Draws all steps of a block on one sheet, as high as they need.
///
/// # Errors
/// More steps than a page can hold.
pub fn steps_sheet(pages: &BlockPages) -> Result<Drawing, PublishError> {
    let mut sheet = Sheet { items: Vec::new(), at: MARGIN_IN };
    sheet.words(&pages.name, TITLE_IN, Weight::Bold);
    let told = format!("{} in the quilt. {}", counted(pages.copies, "block", "blocks"), pages.seams);
    sheet.quietly(&told);
    for step in &pages.steps {
        sheet.step(step, pages.steps.len());
    }
    let page = Page { width_in: WIDTH_IN + 2.0 * MARGIN_IN, height_in: sheet.at + MARGIN_IN, background: Some(PAPER) };
    Drawing::new(page, sheet.items)
}

/// A sheet that is filled from the top.
struct Sheet {
    items: Vec<Item>,
    /// How far down it is filled.
    at: f64,
}

impl Sheet {
    fn step(&mut self, step: &StepPage, of: usize) {
        self.at += 2.0 * GAP_IN;
        self.words(&format!("Step {} of {of}: make {}", step.number, step.makes), HEADING_IN, Weight::Bold);
        for Section { title, lines, figures } in sections(step) {
            self.at += GAP_IN / 2.0;
            if !title.is_empty() {
                self.words(title, TEXT_IN, Weight::Bold);
            }
            for line in &lines {
                self.words(line, TEXT_IN, Weight::Regular);
            }
            self.figures(&figures);
        }
    }

    /// Figures side by side as far as they go, each with its words above it.
    fn figures(&mut self, figures: &[Figure<'_>]) {
        let mut rest = figures;
        while !rest.is_empty() {
            let mut wide = 0.0;
            let fits = |figure: &&Figure<'_>| {
                wide += width(figure) + GAP_IN;
                wide - GAP_IN <= WIDTH_IN
            };
            let row = rest.iter().take_while(fits).count().max(1);
            self.row(&rest[..row]);
            rest = &rest[row..];
        }
    }

    fn row(&mut self, figures: &[Figure<'_>]) {
        let top = self.at + GAP_IN / 2.0;
        let (mut left, mut low) = (MARGIN_IN, top);
        for figure in figures {
            let mut down = top;
            let (wide, page) = (width(figure), figure.drawing.page());
            for (text, size, weight) in
                [(&figure.caption, TEXT_IN, Weight::Bold), (&figure.fabrics, SMALL_IN, Weight::Regular)]
            {
                for line in wrapped(text, size, weight, wide) {
                    down += size * LINE;
                    self.line(line, [left, down], size, weight, INK);
                }
            }
            self.items.extend(figure.drawing.items().iter().map(|item| item.clone().moved([left, down])));
            low = low.max(down + page.height_in);
            left += wide + GAP_IN;
        }
        self.at = low;
    }

    fn quietly(&mut self, text: &str) {
        for line in wrapped(text, SMALL_IN, Weight::Regular, WIDTH_IN) {
            self.at += SMALL_IN * LINE;
            self.line(line, [MARGIN_IN, self.at], SMALL_IN, Weight::Regular, QUIET);
        }
    }

    fn words(&mut self, text: &str, size_in: f64, weight: Weight) {
        for line in wrapped(text, size_in, weight, WIDTH_IN) {
            self.at += size_in * LINE;
            self.line(line, [MARGIN_IN, self.at], size_in, weight, INK);
        }
    }

    fn line(&mut self, text: String, at: Point, size_in: f64, weight: Weight, fill: layout::Colour) {
        self.items.push(Item::Text(Text { text, at, anchor: Anchor::Start, size_in, weight, fill, turned: 0.0 }));
    }
}

/// How wide a figure stands: wide enough for its words.
fn width(figure: &Figure<'_>) -> f64 {
    const LEAST: f64 = 2.2;
    figure.drawing.page().width_in.max(LEAST).min(WIDTH_IN)
}
