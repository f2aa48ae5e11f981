//! The steps of sewing on sheets of paper.

use layout::Design;

use super::{BlockPages, StepPage};
use crate::block::{Block, stacked};
use crate::lengths::counted;
use crate::set_text::{
    BODY_IN, PAPER, PRINTED_IN, Paper, SMALL_IN, TITLE_IN, heading, line, line_to, paragraph, sheets,
};
use crate::typeface::fitted;
use crate::{Drawing, Page, PublishError, Weight};

/// Room between diagrams, in inches.
const BETWEEN_IN: f64 = 0.2;

/// The steps of all blocks and of the top, on sheets of paper.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn sewing_sheets(
    design: &Design,
    blocks: &[BlockPages],
    top: &[String],
    paper: Paper,
) -> Result<Vec<Drawing>, PublishError> {
    let mut laid: Vec<Block> = blocks.iter().flat_map(block_words).collect();
    laid.push(heading("Putting the top together"));
    laid.extend(top.iter().map(|text| paragraph(text, 0.0, PRINTED_IN, BODY_IN)));
    laid.push(Block::space(0.1));
    laid.push(paragraph(CAUTION, 0.0, PRINTED_IN, SMALL_IN));
    sheets(&laid, paper, design.name())
}

/// The steps of one block on one sheet, as high as they need.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn steps_sheet(pages: &BlockPages) -> Result<Drawing, PublishError> {
    const MARGIN_IN: f64 = 0.5;
    let (items, height_in) = stacked(&block_words(pages));
    let items = items.into_iter().map(|item| item.moved([MARGIN_IN; 2])).collect();
    let [width_in, height_in] = [PRINTED_IN, height_in].map(|side| side + 2.0 * MARGIN_IN);
    Drawing::new(Page { width_in, height_in, background: Some(PAPER) }, items)
}

/// What holds for all sewing.
const CAUTION: &str = "Read the makers’ instructions for rotary cutter, iron and machine; keep blades, pins and small \
                       parts from children, and let the iron cool where nobody reaches it.";

fn block_words(pages: &BlockPages) -> Vec<Block> {
    let copies = counted(pages.copies, "block", "blocks");
    let name = fitted(&pages.name, TITLE_IN, Weight::Bold, PRINTED_IN - 2.0);
    let items = vec![
        line(name, [0.0, 0.24], TITLE_IN, Weight::Bold),
        line_to(copies, [PRINTED_IN, 0.24], TITLE_IN, Weight::Bold),
    ];
    let mut blocks = vec![Block { items, height_in: 0.36, with_next: true }];
    let mut seams = paragraph(&pages.seams, 0.0, PRINTED_IN, BODY_IN);
    seams.with_next = true;
    blocks.push(seams);
    for text in pages.cutting.iter().chain(&pages.reversed) {
        let mut told = paragraph(text, 0.0, PRINTED_IN, BODY_IN);
        told.with_next = true;
        blocks.push(told);
    }
    blocks.push(Block::space(0.06));
    for step in &pages.steps {
        blocks.extend(step_blocks(step, pages.steps.len()));
    }
    blocks
}

fn step_blocks(step: &StepPage, of: usize) -> Vec<Block> {
    let mut blocks = vec![heading(&format!("Step {} of {of}: make {}", step.number, step.makes))];
    let mut words: Vec<&String> = step.variants.iter().collect();
    words.extend(step.lines.iter().chain(&step.pressing));
    for text in words {
        let mut told = paragraph(text, 0.0, PRINTED_IN, BODY_IN);
        told.with_next = true;
        blocks.push(told);
    }
    blocks.extend(rows(&step.diagrams));
    blocks.extend(rows(step.hands.as_slice()));
    for (index, text) in step.trim.iter().enumerate() {
        let mut told = paragraph(text, 0.0, PRINTED_IN, BODY_IN);
        told.with_next = index + 1 < step.trim.len() || step.trim_diagram.is_some();
        blocks.push(told);
    }
    blocks.extend(rows(step.trim_diagram.as_slice()));
    if let Some((words, drawing)) = &step.stretch {
        let mut told = paragraph(words, 0.0, PRINTED_IN, BODY_IN);
        told.with_next = true;
        blocks.push(told);
        blocks.extend(rows(std::slice::from_ref(drawing)));
    }
    if let Some(measures) = &step.measures {
        blocks.push(paragraph(&format!("Measure here: {measures}."), 0.0, PRINTED_IN, BODY_IN));
    }
    blocks.push(Block::space(0.16));
    blocks
}

/// Diagrams side by side as far as there is room.
fn rows(diagrams: &[Drawing]) -> Vec<Block> {
    let mut rows: Vec<Block> = Vec::new();
    let mut right = PRINTED_IN;
    for diagram in diagrams {
        let page = diagram.page();
        if right + page.width_in > PRINTED_IN {
            rows.push(Block::default());
            right = 0.0;
        }
        if let Some(row) = rows.last_mut() {
            row.items.extend(diagram.items().iter().map(|item| item.clone().moved([right, 0.0])));
            row.height_in = row.height_in.max(page.height_in);
        }
        right += page.width_in + BETWEEN_IN;
    }
    rows
}
