//! How the blocks of the open quilt are sewn: worked out beside the window, and kept while it stays the same.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

use cutting::{Ledger, SewnRun};
use geometry::{Block, Exact, Length, Value};
use layout::{BlockId, Design, FabricId, Place, PlaceId, SamplerPlan, Sashing, Setting, UnitKeys};
use piecing::{BlockPlan, Colouring, CuttingHand, PatchSet, PlanError, QuiltPlan, Step, colourings};
use publish::sewing::{
    BlockPages, OtherWay, StripWays, TestBlock, WANTED_PER_MILLE, block_pages, other_ways, oversize_report,
    ready_units, strip_ways, test_block, top_words,
};

use super::settings::SewingErrors;

/// The sewing of every block that stands in a quilt, and of its top.
#[derive(Debug, Clone, Default)]
pub struct SewingBook {
    blocks: Vec<SewnBlock>,
    quilt: Option<Arc<QuiltPlan>>,
    top: Vec<String>,
    cause: Option<Cause>,
    planned: bool,
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
    block: Arc<Block>,
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

/// What the plans follow from: while it is the same, they are.
#[derive(Debug, Clone, PartialEq)]
struct Cause {
    blocks: Vec<(BlockId, Arc<Block>, UnitKeys, Vec<Colouring>)>,
    places: Vec<(PlaceId, Place)>,
    values: Vec<(FabricId, Value)>,
    oversize: Option<Length>,
    seam: Length,
    setting: Setting,
    sashing: Option<Sashing>,
    sampler: Option<SamplerPlan>,
    /// What the cutting plan sews before it cuts.
    sewn: Vec<SewnRun>,
}

impl Cause {
    fn of(design: &Design, sewn: &[SewnRun]) -> Self {
        let block = |(id, def): (BlockId, &layout::BlockDef)| {
            // A block or fabric that is not there would be a fault of the design, which is checked.
            let colourings = colourings(design, id).unwrap_or_default();
            (id, Arc::clone(def.block()), def.trimmed().clone(), colourings)
        };
        Self {
            blocks: design.blocks().map(block).filter(|(.., colourings)| !colourings.is_empty()).collect(),
            places: design.places().map(|(id, place)| (id, *place)).collect(),
            values: design.fabrics().map(|(id, fabric)| (id, fabric.value)).collect(),
            oversize: design.cutting().oversize.clone(),
            seam: design.seam().clone(),
            setting: design.setting(),
            sashing: design.sashing().cloned(),
            sampler: design.sampler_plan().cloned(),
            sewn: sewn.to_vec(),
        }
    }
}

/// The plans of the blocks of a design, and that of its top unless a block has none.
type Plans = (BTreeMap<BlockId, Result<Arc<BlockPlan>, PlanError>>, Option<Arc<QuiltPlan>>);

/// Plans the blocks with their neighbours in view; when one of them has no plan, each by itself.
fn plans(design: &Design, cause: &Cause) -> Plans {
    if let Ok(quilt) = QuiltPlan::new(design, &ready_units(design, &cause.sewn)) {
        let blocks = quilt.blocks.iter().map(|plan| (plan.block, Ok(Arc::new(plan.clone())))).collect();
        return (blocks, Some(Arc::new(quilt)));
    }
    let alone = |(id, ..): &(BlockId, _, _, _)| (*id, BlockPlan::new(design, *id).map(Arc::new));
    (cause.blocks.iter().map(alone).collect(), None)
}

impl SewingBook {
    /// Works out the sewing of every block, for the hand that cuts; `sewn` is what the cutting plan sews before it cuts,
    /// and what is the same as `before` is taken from there.
    #[must_use]
    pub fn new(design: &Design, sewn: &[SewnRun], hand: CuttingHand, before: &Self) -> Self {
        let cause = Cause::of(design, sewn);
        let planned = before.cause.as_ref() != Some(&cause);
        let (mut plans, quilt) = if planned {
            plans(design, &cause)
        } else {
            (before.blocks.iter().map(|block| (block.id, block.plan.clone())).collect(), before.quilt.clone())
        };
        // Its words also tell sizes, borders and units, which no plan follows from.
        let top = quilt.as_ref().and_then(|quilt| top_words(design, quilt).ok()).unwrap_or_default();
        let mut blocks = Vec::new();
        for (id, block, _, colourings) in &cause.blocks {
            let (Ok(def), Some(plan)) = (design.block(*id), plans.remove(id)) else { continue };
            let sewn = match &plan {
                Ok(plan) => pages_of(design, plan, (sewn, hand), before.block(*id)),
                Err(error) => Err(error.to_string()),
            };
            let copies = colourings.iter().map(|colouring| colouring.places.len() as u64).sum();
            let name = def.name().to_owned();
            blocks.push(SewnBlock { id: *id, name, copies, sewn, block: Arc::clone(block), plan });
        }
        Self { blocks, quilt, top, cause: Some(cause), planned }
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

    /// How the top is put together, a sentence or two each; empty when a block has no plan.
    #[must_use]
    pub fn top(&self) -> &[String] {
        &self.top
    }

    /// Whether anything was planned anew for this book.
    #[must_use]
    pub const fn planned(&self) -> bool {
        self.planned
    }
}

/// What stands beside the steps of a block, and takes longer to work out.
#[derive(Debug, Clone)]
pub struct Aside {
    /// One block to try before all are cut.
    pub test: Option<TestBlock>,
    /// What can be sewn before it is cut.
    pub strips: StripWays,
    /// How much oversize is enough, a sentence each.
    pub oversize: Vec<String>,
    /// The least margin that is enough, in inches.
    pub margin: Option<Exact>,
    /// The ways to sew it.
    pub ways: Vec<OtherWay>,
}

impl Aside {
    /// Works it out. `ledger` knows the sizes of cut pieces, and `sewn` is what the cutting plan sews before it is cut.
    #[must_use]
    pub fn new(
        design: &Design,
        plan: &BlockPlan,
        ledger: Option<&Ledger>,
        sewn: &[SewnRun],
        errors: SewingErrors,
    ) -> Self {
        let classes = ledger.map(Ledger::book);
        let (oversize, margin) = match oversize_report(design, plan, errors.inches(), WANTED_PER_MILLE) {
            Ok(report) => (report.lines, report.recommended),
            Err(error) => (vec![error.to_string()], None),
        };
        Self {
            test: classes.and_then(|classes| test_block(design, plan, classes).ok()),
            strips: classes.map(|classes| strip_ways(design, plan, classes, sewn)).unwrap_or_default(),
            oversize,
            margin,
            ways: other_ways(design, plan.block).unwrap_or_default(),
        }
    }
}

/// The pages of a plan; those of before when they are the same, so that their pictures are kept.
fn pages_of(
    design: &Design,
    plan: &Arc<BlockPlan>,
    (sewn, hand): (&[SewnRun], CuttingHand),
    before: Option<&SewnBlock>,
) -> Result<Arc<Sewn>, String> {
    let pages = block_pages(design, plan, sewn, hand).map_err(|error| error.to_string())?;
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
        Arc::ptr_eq(&self.block, block) || self.block == *block
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

/// What a book is of: a revision of the quilt, how the user cuts and sews, and how many units
/// the cutting plan sews before it cuts.
type Stamp = (u64, Habits, u64);

/// How the user cuts and sews.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Habits {
    /// The hand that cuts.
    pub(crate) hand: CuttingHand,
    /// What cuts and seams are off by.
    pub(crate) errors: SewingErrors,
}

/// The quilt as it is now.
#[derive(Clone, Copy)]
pub(crate) struct Quilt<'a> {
    /// The design.
    pub(crate) design: &'a Design,
    /// Its quick plans, if it can be cut.
    pub(crate) ledger: Option<&'a Ledger>,
    /// What its best plan sews before it is cut, if there is one.
    pub(crate) sewn: &'a [SewnRun],
}

/// What comes back from the thread.
enum Answer {
    Book(Arc<SewingBook>),
    Aside(BlockId, Box<Aside>),
}

/// The book, what stands beside it, and the work on both.
#[derive(Debug, Default)]
pub(crate) struct Sewing {
    book: Arc<SewingBook>,
    worked: Option<Stamp>,
    asides: BTreeMap<BlockId, (Stamp, Aside)>,
    running: Option<(Stamp, Receiver<Answer>)>,
}

impl Sewing {
    /// Looks at the quilt as it is now: takes answers, begins what is due. `wake` is called from another thread when an
    /// answer is there.
    pub(crate) fn follow(&mut self, revision: u64, quilt: Quilt<'_>, habits: Habits, wake: impl Fn() + Send + 'static) {
        self.take_answers();
        let units = quilt.sewn.iter().map(|run| run.units).fold(quilt.sewn.len() as u64, u64::saturating_add);
        let stamp = (revision, habits, units);
        // What stands beside steps that are out of date is not waited for; the steps are, or a row of edits would
        // begin a row of threads.
        if self.running.as_ref().is_some_and(|(of, _)| *of != stamp && self.worked == Some(*of)) {
            self.running = None;
        }
        if self.running.is_some() || self.worked == Some(stamp) {
            return;
        }
        let (send, answer) = channel();
        self.running = Some((stamp, answer));
        let Quilt { design, ledger, sewn } = quilt;
        let (before, design, ledger, sewn) = (Arc::clone(&self.book), design.clone(), ledger.cloned(), sewn.to_vec());
        std::thread::spawn(move || {
            let quilt = Quilt { design: &design, ledger: ledger.as_ref(), sewn: &sewn };
            work(quilt, habits, &before, &send, &wake);
            drop(send);
            wake();
        });
    }

    fn take_answers(&mut self) {
        let Some((stamp, answers)) = &self.running else { return };
        let stamp = *stamp;
        loop {
            match answers.try_recv() {
                Ok(Answer::Book(book)) => {
                    self.book = book;
                    self.worked = Some(stamp);
                }
                Ok(Answer::Aside(block, aside)) => {
                    self.asides.insert(block, (stamp, *aside));
                }
                Err(TryRecvError::Empty) => return,
                Err(TryRecvError::Disconnected) => break,
            }
        }
        // Not begun again for this quilt, whatever came.
        self.worked = Some(stamp);
        self.running = None;
    }

    /// The book, perhaps of an earlier moment.
    pub(crate) const fn book(&self) -> &Arc<SewingBook> {
        &self.book
    }

    /// Whether the book is of the quilt as it is now.
    pub(crate) fn is_current(&self, revision: u64, hand: CuttingHand) -> bool {
        self.worked.is_some_and(|(of, habits, _)| of == revision && habits.hand == hand)
    }

    /// What stands beside the steps of a block, perhaps of an earlier moment; and whether it is of the quilt as it is and
    /// of these errors.
    pub(crate) fn aside(&self, block: BlockId, revision: u64, errors: SewingErrors) -> Option<(&Aside, bool)> {
        self.asides.get(&block).map(|((of, habits, _), aside)| (aside, *of == revision && habits.errors == errors))
    }
}

/// The work of the thread: the book first, since it is waited for.
fn work(quilt: Quilt<'_>, habits: Habits, before: &SewingBook, send: &Sender<Answer>, wake: &impl Fn()) {
    let Quilt { design, ledger, sewn } = quilt;
    let book = Arc::new(SewingBook::new(design, sewn, habits.hand, before));
    let plans: Vec<_> = book.blocks.iter().filter_map(|block| block.plan.clone().ok()).collect();
    // Nobody waits any more when the window is gone or the quilt has changed.
    if send.send(Answer::Book(book)).is_err() {
        return;
    }
    wake();
    for plan in plans {
        let aside = Aside::new(design, &plan, ledger, sewn, habits.errors);
        if send.send(Answer::Aside(plan.block, Box::new(aside))).is_err() {
            return;
        }
        wake();
    }
}

#[cfg(test)]
mod tests {
    use layout::{Border, Edit, Units, apply};

    use super::*;
    use crate::window::gallery::Choice;

    const HAND: CuttingHand = CuttingHand::Right;

    /// A block is planned again when something that its plan follows from has changed, and only then.
    #[test]
    fn plans_are_kept_while_nothing_changes_them() {
        let design = Choice::default().design().unwrap();
        let book = SewingBook::new(&design, &[], HAND, &SewingBook::default());
        assert_eq!((book.planned(), book.blocks().len()), (true, 1));
        let (id, patch) = (book.blocks()[0].id, design.blocks().next().unwrap().1.block().patches()[0].key);
        let mut wishes = design.cutting().clone();
        wishes.oversize = Length::inch_fraction(1, 4).ok();
        let other = design.fabrics().last().unwrap().0;
        let rows = [
            (Edit::Rename("Another name".to_owned()), false),
            (Edit::RenameBlock(id, "Another".to_owned()), false),
            (Edit::SetCutting(wishes), true),
            (Edit::PaintPatchEverywhere { block: id, patch, fabric: other }, true),
        ];
        for (edit, planned) in rows {
            let next = apply(&design, &edit).unwrap().0;
            let after = SewingBook::new(&next, &[], HAND, &book);
            assert_eq!(after.planned(), planned, "{edit:?}");
            let fresh = SewingBook::new(&next, &[], HAND, &SewingBook::default());
            assert_eq!(after.blocks()[0].steps(), fresh.blocks()[0].steps(), "{edit:?}");
        }
    }

    /// What is said of the top follows edits that leave all plans as they are.
    #[test]
    fn the_words_of_the_top_are_never_old() {
        let design = Choice::default().design().unwrap();
        let book = SewingBook::new(&design, &[], HAND, &SewingBook::default());
        let fabric = design.fabrics().next().unwrap().0;
        let mut borders = design.borders().to_vec();
        borders.push(Border::plain(Length::whole_inches(7).unwrap(), fabric));
        let edits = [Edit::SetUnits(Units::Centimetres), Edit::SetBorders(borders)];
        for edit in edits {
            let next = apply(&design, &edit).unwrap().0;
            let after = SewingBook::new(&next, &[], HAND, &book);
            let fresh = SewingBook::new(&next, &[], HAND, &SewingBook::default());
            assert!(!after.planned(), "{edit:?}");
            assert_eq!(after.top(), fresh.top(), "{edit:?}");
            assert_ne!(after.top(), book.top(), "{edit:?}");
        }
    }

    /// The units of a block that is made have all of its patches.
    #[test]
    fn the_last_step_is_the_block() {
        let design = Choice::default().design().unwrap();
        let book = SewingBook::new(&design, &[], HAND, &SewingBook::default());
        let sewn = book.blocks()[0].sewn.clone().unwrap();
        let last = sewn.plan.steps.len() - 1;
        let is_block: Vec<bool> = (0..=last).map(|step| sewn.is_block(step)).collect();
        assert_eq!(is_block.iter().filter(|is| **is).count(), 1);
        assert!(is_block[last]);
        assert_eq!(sewn.patches(last, false).len(), sewn.plan.tree.graph().block().patches().len());
    }
}
