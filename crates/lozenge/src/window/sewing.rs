//! How the blocks of the open quilt are sewn: worked out beside the window, kept block by block.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use geometry::{Block, Length};
use layout::{BlockId, Design, Setting, UnitKeys};
use piecing::{BlockPlan, CuttingHand, PatchSet, PlanError, Step, colourings};
use publish::sewing::{BlockPages, block_pages};

/// The sewing of every block that stands in a quilt.
#[derive(Debug, Clone, Default)]
pub struct SewingBook {
    blocks: Vec<SewnBlock>,
    planned: usize,
}

/// The sewing of one block.
#[derive(Debug, Clone)]
pub struct SewnBlock {
    /// The block.
    pub id: BlockId,
    /// Its name.
    pub name: String,
    /// How many stand in the quilt.
    pub copies: u64,
    /// Its steps, or why there are none.
    pub sewn: Result<Arc<Sewn>, String>,
    cause: Cause,
    plan: Result<Arc<BlockPlan>, PlanError>,
}

/// The steps of a block.
#[derive(Debug, Clone)]
pub struct Sewn {
    /// The order of its seams.
    pub plan: Arc<BlockPlan>,
    /// Its steps in words and drawings.
    pub pages: BlockPages,
}

/// What a plan follows from: while it is the same, the plan is.
#[derive(Debug, Clone, PartialEq)]
struct Cause {
    block: Arc<Block>,
    trimmed: UnitKeys,
    oversize: Option<Length>,
    seam: Length,
    setting: Setting,
    colourings: Vec<piecing::Colouring>,
}

impl SewingBook {
    /// Works out the sewing of every block, for the hand that cuts; what is the same as `before` is taken from there.
    #[must_use]
    pub fn new(design: &Design, hand: CuttingHand, before: &Self) -> Self {
        let mut book = Self::default();
        for (id, def) in design.blocks() {
            // A block or fabric that is not there would be a fault of the design, which is checked.
            let Ok(colourings) = colourings(design, id) else { continue };
            let copies = colourings.iter().map(|colouring| colouring.places.len() as u64).sum();
            if copies == 0 {
                continue;
            }
            let cause = Cause {
                block: Arc::clone(def.block()),
                trimmed: def.trimmed().clone(),
                oversize: design.cutting().oversize.clone(),
                seam: design.seam().clone(),
                setting: design.setting(),
                colourings,
            };
            let old = before.block(id);
            let plan = match old.filter(|old| old.cause == cause) {
                Some(old) => old.plan.clone(),
                None => {
                    book.planned += 1;
                    BlockPlan::new(design, id).map(Arc::new)
                }
            };
            let sewn = match &plan {
                Ok(plan) => pages_of(design, plan, hand, old),
                Err(error) => Err(error.to_string()),
            };
            book.blocks.push(SewnBlock { id, name: def.name().to_owned(), copies, sewn, cause, plan });
        }
        book
    }

    /// The blocks, in the order of the design.
    #[must_use]
    pub fn blocks(&self) -> &[SewnBlock] {
        &self.blocks
    }

    /// One block.
    #[must_use]
    pub fn block(&self, id: BlockId) -> Option<&SewnBlock> {
        self.blocks.iter().find(|block| block.id == id)
    }

    /// How many blocks were planned anew for this book.
    #[must_use]
    pub const fn planned(&self) -> usize {
        self.planned
    }
}

/// The pages of a plan; those of before when they are the same, so that their pictures are kept.
fn pages_of(
    design: &Design,
    plan: &Arc<BlockPlan>,
    hand: CuttingHand,
    before: Option<&SewnBlock>,
) -> Result<Arc<Sewn>, String> {
    let pages = block_pages(design, plan, hand).map_err(|error| error.to_string())?;
    let same = |old: &&Arc<Sewn>| Arc::ptr_eq(&old.plan, plan) && old.pages == pages;
    if let Some(old) = before.and_then(|old| old.sewn.as_ref().ok()).filter(same) {
        return Ok(Arc::clone(old));
    }
    Ok(Arc::new(Sewn { plan: Arc::clone(plan), pages }))
}

impl SewnBlock {
    /// Its steps; none when it cannot be planned.
    #[must_use]
    pub fn steps(&self) -> &[publish::sewing::StepPage] {
        self.sewn.as_ref().map_or(&[], |sewn| &sewn.pages.steps)
    }

    /// Whether this is the sewing of a block that is drawn like that.
    #[must_use]
    pub fn is_of(&self, block: &Arc<Block>) -> bool {
        Arc::ptr_eq(&self.cause.block, block) || self.cause.block == *block
    }
}

impl Sewn {
    /// The patches of all units of a step, in a block that is mirrored or is not.
    #[must_use]
    pub fn patches(&self, step: usize, mirrored: bool) -> PatchSet {
        let Some(own) = self.plan.steps.get(step) else { return PatchSet::EMPTY };
        // In a mirrored block the units of this step lie where the others have the units of the other hand.
        let is_image = |other: &&Step| Some(other.class) == own.mirror;
        let step = if mirrored { self.plan.steps.iter().find(is_image).unwrap_or(own) } else { own };
        let units = step.units.iter().map(|id| self.plan.tree.unit(*id).patches);
        units.fold(PatchSet::EMPTY, |all, unit| all.union(&unit))
    }

    /// Whether a step makes the block itself.
    #[must_use]
    pub fn is_block(&self, step: usize) -> bool {
        self.plan.steps.get(step).is_some_and(|step| step.units.contains(&self.plan.tree.root()))
    }

    /// The units of a step as the keys of their patches.
    #[must_use]
    pub fn unit_keys(&self, step: usize) -> UnitKeys {
        let Some(step) = self.plan.steps.get(step) else { return UnitKeys::new() };
        let patches = self.plan.tree.graph().block().patches();
        let keys = |unit: &PatchSet| unit.iter().map(|patch| patches[patch].key).collect();
        step.units.iter().map(|id| keys(&self.plan.tree.unit(*id).patches)).collect()
    }
}

/// What a book is of: a revision of the quilt, and the hand that cuts.
type Stamp = (u64, CuttingHand);

/// The book and the work on it.
#[derive(Debug, Default)]
pub(crate) struct Sewing {
    book: Arc<SewingBook>,
    worked: Option<Stamp>,
    running: Option<(Stamp, Receiver<SewingBook>)>,
}

impl Sewing {
    /// Looks at the quilt as it is now: takes an answer, begins what is due. `wake` is called from another thread when
    /// an answer is there.
    pub(crate) fn follow(
        &mut self,
        revision: u64,
        design: &Design,
        hand: CuttingHand,
        wake: impl Fn() + Send + 'static,
    ) {
        self.take_answer();
        let stamp = (revision, hand);
        if self.running.is_some() || self.worked == Some(stamp) {
            return;
        }
        let (send, answer) = channel();
        self.running = Some((stamp, answer));
        let (before, design) = (Arc::clone(&self.book), design.clone());
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(SewingBook::new(&design, hand, &before));
            wake();
        });
    }

    fn take_answer(&mut self) {
        let Some((stamp, answer)) = &self.running else { return };
        let stamp = *stamp;
        match answer.try_recv() {
            Ok(book) => {
                self.book = Arc::new(book);
                self.worked = Some(stamp);
                self.running = None;
            }
            Err(TryRecvError::Disconnected) => {
                // Not begun again for this quilt.
                self.worked = Some(stamp);
                self.running = None;
            }
            Err(TryRecvError::Empty) => {}
        }
    }

    /// The book, perhaps of an earlier moment.
    pub(crate) const fn book(&self) -> &Arc<SewingBook> {
        &self.book
    }

    /// Whether the book is of the quilt as it is now.
    pub(crate) fn is_current(&self, revision: u64, hand: CuttingHand) -> bool {
        self.worked == Some((revision, hand))
    }
}

#[cfg(test)]
mod tests {
    use layout::{Edit, apply};

    use super::*;
    use crate::window::gallery::Choice;

    const HAND: CuttingHand = CuttingHand::Right;

    /// A block is planned again when something that its plan follows from has changed, and only then.
    #[test]
    fn plans_are_kept_while_nothing_changes_them() {
        let design = Choice::default().design().unwrap();
        let book = SewingBook::new(&design, HAND, &SewingBook::default());
        assert_eq!((book.planned(), book.blocks().len()), (1, 1));
        let (id, patch) = (book.blocks()[0].id, design.blocks().next().unwrap().1.block().patches()[0].key);
        let mut wishes = design.cutting().clone();
        wishes.oversize = Length::inch_fraction(1, 4).ok();
        let other = design.fabrics().last().unwrap().0;
        let rows = [
            (Edit::Rename("Another name".to_owned()), 0),
            (Edit::RenameBlock(id, "Another".to_owned()), 0),
            (Edit::SetCutting(wishes), 1),
            (Edit::PaintPatchEverywhere { block: id, patch, fabric: other }, 1),
        ];
        for (edit, planned) in rows {
            let next = apply(&design, &edit).unwrap().0;
            let after = SewingBook::new(&next, HAND, &book);
            assert_eq!(after.planned(), planned, "{edit:?}");
            let fresh = SewingBook::new(&next, HAND, &SewingBook::default());
            assert_eq!(after.blocks()[0].steps(), fresh.blocks()[0].steps(), "{edit:?}");
        }
    }

    /// The units of a block that is made have all of its patches.
    #[test]
    fn the_last_step_is_the_block() {
        let design = Choice::default().design().unwrap();
        let book = SewingBook::new(&design, HAND, &SewingBook::default());
        let sewn = book.blocks()[0].sewn.clone().unwrap();
        let last = sewn.plan.steps.len() - 1;
        let is_block: Vec<bool> = (0..=last).map(|step| sewn.is_block(step)).collect();
        assert_eq!(is_block.iter().filter(|is| **is).count(), 1);
        assert!(is_block[last]);
        assert_eq!(sewn.patches(last, false).len(), sewn.plan.tree.graph().block().patches().len());
    }
}
