//! How every block is sewn, step by step, with its diagrams.

use std::collections::BTreeSet;

use cutting::SewnRun;
use layout::{Design, FabricId};
use piecing::{BlockPlan, CuttingHand, QuiltPlan};
use serde::Serialize;

use super::kinds::{Standing, kinds_of};
use super::{Picture, picture};
use crate::names::listed;
use crate::sewing::{Section, StepPage, block_pages, sections, test_block};
use crate::{Figures, Offered, PublishError};

/// The sewing of one kind of block.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SewnBlock {
    /// Its name.
    pub name: String,
    /// How many the quilt has.
    pub copies: u64,
    /// The name of an earlier block that is drawn, coloured and pressed the same, so that its steps tell it all; else empty.
    pub like: String,
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
    let kinds = kinds_of(quilt.design, plan)?;
    let mut sewn = Vec::new();
    for (index, block) in plan.blocks.iter().enumerate() {
        let mut told = sewn_block(quilt, (block, &kinds), hand, figures)?;
        for earlier in &plan.blocks[..index] {
            if is_alike(quilt.design, earlier, block)? {
                quilt.design.block(earlier.block)?.name().clone_into(&mut told.like);
                break;
            }
        }
        sewn.push(told);
    }
    Ok(sewn)
}

fn sewn_block(
    quilt: &Offered<'_>,
    (plan, kinds): (&BlockPlan, &[Standing]),
    hand: CuttingHand,
    figures: &mut Figures,
) -> Result<SewnBlock, PublishError> {
    let (design, sewn): (&Design, &[SewnRun]) = (quilt.design, quilt.sewn);
    let pages = block_pages(design, plan, sewn, hand)?;
    let letters: Vec<&str> =
        kinds.iter().filter(|kind| kind.block == plan.block).map(|kind| kind.letter.as_str()).collect();
    let mut notes = vec![pages.seams];
    notes.extend(pages.cutting);
    if let Some(reversed) = pages.reversed {
        notes.push(format!("{reversed} {}", reversed_kinds(plan, kinds)));
    }
    Ok(SewnBlock {
        name: pages.name,
        like: String::new(),
        copies: pages.copies,
        notes,
        test: test_block(design, plan, quilt.ledger.book())?.pieces,
        steps: pages.steps.iter().map(|page| sewn_step(page, &letters, figures)).collect(),
    })
}

/// Whether two blocks of the quilt are sewn in the very same way from the same fabrics.
fn is_alike(design: &Design, a: &BlockPlan, b: &BlockPlan) -> Result<bool, PublishError> {
    let [one, other] = [a, b].map(|plan| design.block(plan.block));
    let (one, other) = (one?, other?);
    let looks = |plan: &BlockPlan| -> BTreeSet<(bool, Vec<FabricId>)> {
        plan.colourings.iter().map(|colouring| (colouring.mirrored, colouring.fabrics.to_vec())).collect()
    };
    Ok(one.block() == other.block()
        && a.pressing.toward == b.pressing.toward
        && a.reversed.is_empty()
        && b.reversed.is_empty()
        && a.to_trim == b.to_trim
        && looks(a) == looks(b))
}

/// Of which kinds the blocks are that are pressed the other way round.
fn reversed_kinds(plan: &BlockPlan, kinds: &[Standing]) -> String {
    let told = kinds.iter().filter(|kind| kind.block == plan.block).filter_map(|kind| {
        let count = kind.places.iter().filter(|place| plan.reversed.contains(place)).count();
        (count > 0).then(|| format!("{count} of kind {}", kind.letter))
    });
    format!("In the table of kinds of the quilt top these are {}.", listed(&told.collect::<Vec<_>>()))
}

/// "For kinds A and C.": for which kinds of block one of the variants of a step is.
fn kinds_words(page: &StepPage, variant: usize, letters: &[&str]) -> Option<String> {
    let of: Vec<String> =
        page.kinds.get(variant)?.iter().filter_map(|i| Some((*letters.get(*i)?).to_owned())).collect();
    let name = if of.len() == 1 { "kind" } else { "kinds" };
    (!of.is_empty() && of.len() < letters.len()).then(|| format!("For {name} {}.", listed(&of)))
}

fn sewn_step(page: &StepPage, letters: &[&str], figures: &mut Figures) -> SewnStep {
    let fabrics = |fabrics: String, title: &str, index: usize| match kinds_words(page, index, letters) {
        Some(kinds) if title.is_empty() => format!("{}. {kinds}", fabrics.trim_end_matches('.')),
        _ => fabrics,
    };
    let section = |section: Section<'_>| SewnSection {
        title: section.title.to_owned(),
        lines: section.lines,
        figures: section
            .figures
            .into_iter()
            .enumerate()
            .map(|(index, figure)| SewnFigure {
                caption: figure.caption,
                fabrics: fabrics(figure.fabrics, section.title, index),
                picture: picture(figures, figure.drawing, figure.label),
            })
            .collect(),
    };
    SewnStep { number: page.number, makes: page.makes, sections: sections(page).into_iter().map(section).collect() }
}
