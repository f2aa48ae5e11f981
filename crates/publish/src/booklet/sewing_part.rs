//! How every block is sewn, step by step, with its diagrams.

use cutting::SewnRun;
use layout::Design;
use piecing::{BlockPlan, CuttingHand, QuiltPlan};
use serde::Serialize;

use super::{Picture, picture};
use crate::sewing::{Section, StepPage, block_pages, sections, test_block};
use crate::{Figures, Offered, PublishError};

/// The sewing of one kind of block.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnBlock {
    /// Its name.
    pub name: String,
    /// How many the quilt has.
    pub copies: u64,
    /// What holds for all its steps.
    pub notes: Vec<String>,
    /// What to cut for a test block.
    pub test: Vec<String>,
    /// The steps, in order.
    pub steps: Vec<SewnStep>,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnStep {
    /// Its number, from 1.
    pub number: usize,
    /// How many units it makes for the whole quilt.
    pub makes: u64,
    /// Its paragraphs with their figures.
    pub sections: Vec<SewnSection>,
}

/// A paragraph of a step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnSection {
    /// Its title; the first has none.
    pub title: String,
    /// What is said.
    pub lines: Vec<String>,
    /// What is drawn.
    pub figures: Vec<SewnFigure>,
}

/// A diagram with its words.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnFigure {
    /// What is to be done with it; may be empty.
    pub caption: String,
    /// The fabrics; may be empty.
    pub fabrics: String,
    /// The diagram.
    pub picture: Picture,
}

/// The sewing of all blocks.
pub(super) fn sewing(
    quilt: &Offered<'_>,
    plan: &QuiltPlan,
    hand: CuttingHand,
    figures: &mut Figures,
) -> Result<Vec<SewnBlock>, PublishError> {
    plan.blocks.iter().map(|block| sewn_block(quilt, block, hand, figures)).collect()
}

fn sewn_block(
    quilt: &Offered<'_>,
    plan: &BlockPlan,
    hand: CuttingHand,
    figures: &mut Figures,
) -> Result<SewnBlock, PublishError> {
    let (design, sewn): (&Design, &[SewnRun]) = (quilt.design, quilt.sewn);
    let pages = block_pages(design, plan, sewn, hand)?;
    let mut notes = vec![pages.seams];
    notes.extend(pages.cutting);
    Ok(SewnBlock {
        name: pages.name,
        copies: pages.copies,
        notes,
        test: test_block(design, plan, quilt.ledger.book())?.pieces,
        steps: pages.steps.iter().map(|page| sewn_step(page, figures)).collect(),
    })
}

fn sewn_step(page: &StepPage, figures: &mut Figures) -> SewnStep {
    let section = |section: Section<'_>| SewnSection {
        title: section.title.to_owned(),
        lines: section.lines,
        figures: section
            .figures
            .into_iter()
            .map(|figure| SewnFigure {
                caption: figure.caption,
                fabrics: figure.fabrics,
                picture: picture(figures, figure.drawing, figure.label),
            })
            .collect(),
    };
    SewnStep { number: page.number, makes: page.makes, sections: sections(page).into_iter().map(section).collect() }
}
