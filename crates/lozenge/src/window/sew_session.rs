//! What is looked at and done in Sew: which block, which step, and which steps are done already. Never saved.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use layout::BlockId;
use piecing::{BlockPlan, CuttingHand};

use super::settings::SewingErrors;
use super::sewing::{SewingBook, Sewn, SewnBlock};

/// A way through steps, or through pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Move {
    /// To the one before; from the first step to the last one of the block before.
    Back,
    /// To the next one; from the last step to the first one of the next block.
    On,
    /// To the first one.
    First,
    /// To the last one.
    Last,
}

/// A figure of a block's steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FigureId {
    /// Which step, from 0.
    pub step: usize,
    /// Which of its paragraphs, from 0.
    pub section: usize,
    /// Which figure of it, from 0.
    pub figure: usize,
}

/// What can be saved of a block's steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SewingDrawing {
    /// All of them, on one sheet.
    Steps,
    /// One figure.
    Figure(FigureId),
}

/// What a view of Sew asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SewAction {
    /// Show this block from its first step.
    Show(BlockId),
    /// Show this step of the block that is shown.
    Go(usize),
    /// Go through the steps.
    Move(Move),
    /// A step of the block that is shown is done, or is not.
    Tick(usize, bool),
    /// The step that is shown is done, or is not: whatever it was not.
    Toggle,
    /// The units of a step are trimmed when they are sewn, or are not.
    Trim(usize, bool),
    /// The cutter is in this hand.
    Hand(CuttingHand),
    /// The user's cutting and sewing is off by this.
    Errors(SewingErrors),
    /// Ask where to save this of the block that is shown.
    Save(SewingDrawing),
}

/// What the user looks at in Sew, and what is done.
#[derive(Debug, Clone, Default)]
pub struct SewSession {
    block: Option<BlockId>,
    step: usize,
    ticks: BTreeMap<BlockId, Ticks>,
}

/// Steps of one plan that are done: another plan begins with none.
#[derive(Debug, Clone)]
struct Ticks {
    plan: Arc<BlockPlan>,
    done: BTreeSet<usize>,
}

/// Whether two plans are the same work.
fn same(a: &Arc<BlockPlan>, b: &Arc<BlockPlan>) -> bool {
    Arc::ptr_eq(a, b)
        || (a.tree.graph().block() == b.tree.graph().block()
            && a.tree.units() == b.tree.units()
            && a.variants == b.variants
            && a.trims == b.trims)
}

impl SewSession {
    /// The block that is shown, with the number of its step: the chosen one while it is there, else the first.
    #[must_use]
    pub fn shown<'a>(&self, book: &'a SewingBook) -> Option<(&'a SewnBlock, usize)> {
        let chosen = self.block.and_then(|id| book.block(id));
        let block = chosen.or_else(|| book.blocks().first())?;
        let step = if chosen.is_some() { self.step } else { 0 };
        Some((block, step.min(block.steps().len().saturating_sub(1))))
    }

    /// Shows a block from its first step.
    pub const fn show(&mut self, block: BlockId) {
        (self.block, self.step) = (Some(block), 0);
    }

    /// Shows a step of the block that is shown.
    pub fn go(&mut self, book: &SewingBook, step: usize) {
        if let Some((block, _)) = self.shown(book) {
            (self.block, self.step) = (Some(block.id), step);
        }
    }

    /// Goes through the steps, passing over blocks that have none.
    pub fn travel(&mut self, book: &SewingBook, way: Move) {
        let Some((block, step)) = self.shown(book) else { return };
        let (count, id) = (block.steps().len(), block.id);
        let all: Vec<(BlockId, usize)> = book.blocks().iter().map(|block| (block.id, block.steps().len())).collect();
        let here = all.iter().position(|(other, _)| *other == id).unwrap_or(0);
        let has_steps = |(_, steps): &&(BlockId, usize)| *steps > 0;
        let to = match way {
            Move::First => Some((id, 0)),
            Move::Last => Some((id, count.saturating_sub(1))),
            Move::On if step + 1 < count => Some((id, step + 1)),
            Move::On => all[here + 1..].iter().find(has_steps).map(|(next, _)| (*next, 0)),
            Move::Back if step > 0 => Some((id, step - 1)),
            Move::Back => all[..here].iter().rev().find(has_steps).map(|(last, steps)| (*last, steps - 1)),
        };
        if let Some((block, step)) = to {
            (self.block, self.step) = (Some(block), step);
        }
    }

    /// Whether a step is done.
    #[must_use]
    pub fn is_done(&self, sewn: &Sewn, step: usize) -> bool {
        self.ticks_of(&sewn.plan).is_some_and(|ticks| ticks.done.contains(&step))
    }

    /// Notes that a step is done, or is not.
    pub fn tick(&mut self, sewn: &Sewn, step: usize, done: bool) {
        if self.ticks_of(&sewn.plan).is_none() {
            let none = Ticks { plan: Arc::clone(&sewn.plan), done: BTreeSet::new() };
            self.ticks.insert(sewn.plan.block, none);
        }
        if let Some(ticks) = self.ticks.get_mut(&sewn.plan.block) {
            if done {
                ticks.done.insert(step);
            } else {
                ticks.done.remove(&step);
            }
        }
    }

    /// How many steps of a block are done.
    #[must_use]
    pub fn steps_done(&self, sewn: &Sewn) -> usize {
        self.ticks_of(&sewn.plan).map_or(0, |ticks| ticks.done.len())
    }

    fn ticks_of(&self, plan: &Arc<BlockPlan>) -> Option<&Ticks> {
        self.ticks.get(&plan.block).filter(|ticks| same(&ticks.plan, plan))
    }
}
