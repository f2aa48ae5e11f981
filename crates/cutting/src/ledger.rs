//! The cutting ledger of a design: what every fabric has to give, and its quick plan, kept up to date.
//!
//! Repainting one patch moves one piece from one fabric to another: two counts change and two fabrics are planned
//! again, whatever the size of the quilt.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Exact, Role};
use layout::{Design, FabricId, Move, Source, Tally, TallyChange};

use crate::class::{ClassBook, ClassId, is_strip};
use crate::cut_list::Needs;
use crate::error::CutError;
use crate::fabric_plan::{FabricPlan, Terms};
use crate::joined::{BackingCut, BindingCut, backing_cut, binding_of};

/// What stands of one fabric in the quilt.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FabricUse {
    /// Pieces of each class.
    pub classes: BTreeMap<ClassId, u64>,
    /// The same by what they are called.
    pub named: BTreeMap<(ClassId, Role), u64>,
    /// Of border sides, long sashes and fillers, which pieces each of them is.
    pub strips: BTreeMap<(ClassId, Source), u64>,
    /// Patches of each role.
    pub roles: BTreeMap<Role, u64>,
    /// Patches.
    pub patches: u64,
    /// Finished area in square inches.
    pub area: Exact,
}

/// How much work an update was; for tests and benches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LedgerWork {
    /// Fabrics that were planned.
    pub fabrics_planned: u64,
    /// Moves that were followed.
    pub moves: u64,
}

/// The cutting of one design.
#[derive(Debug, Clone)]
pub struct Ledger {
    /// What stands in the quilt, as given or mirrored; the book has the classes of just these.
    sources: Vec<(Source, bool)>,
    book: ClassBook,
    uses: BTreeMap<FabricId, FabricUse>,
    plans: BTreeMap<FabricId, Result<FabricPlan, CutError>>,
    /// The fabric of the binding.
    bound: FabricId,
    binding: Result<BindingCut, CutError>,
    backing: Result<BackingCut, CutError>,
}

impl Ledger {
    /// Plans every fabric of a design from its counts.
    ///
    /// A fabric whose pieces cannot be laid keeps its error; the others are planned all the same.
    ///
    /// # Errors
    /// A patch that has no cut shape.
    pub fn new(design: &Design, tally: &Tally) -> Result<Self, CutError> {
        let sources: Vec<_> = standing(tally).collect();
        let book = ClassBook::new(design, sources.iter().copied())?;
        Self::with_book(design, tally, sources, book)
    }

    /// The same, where the classes of the first things that stand in the quilt are known: quilts that differ in how many
    /// blocks they have, and in what stands round these, share the classes of the blocks. What `known` cannot tell is
    /// worked out anew.
    ///
    /// # Errors
    /// As [`Ledger::new`].
    pub fn with_known(design: &Design, tally: &Tally, known: &ClassBook) -> Result<Self, CutError> {
        let sources: Vec<_> = standing(tally).collect();
        let book = known.going_on(design, &sources)?;
        Self::with_book(design, tally, sources, book)
    }

    fn with_book(
        design: &Design,
        tally: &Tally,
        sources: Vec<(Source, bool)>,
        book: ClassBook,
    ) -> Result<Self, CutError> {
        let (width, height) = design.finished_size();
        let mut ledger = Self {
            book,
            sources,
            uses: BTreeMap::new(),
            plans: BTreeMap::new(),
            bound: design.binding().fabric,
            binding: binding_of(design),
            backing: backing_cut(design.backing(), &width, &height, design.seam()),
        };
        for count in tally.counts() {
            ledger.post(design, &count)?;
        }
        let mut fabrics: BTreeSet<FabricId> = ledger.uses.keys().copied().collect();
        fabrics.insert(design.binding().fabric);
        ledger.plan(design, fabrics);
        Ok(ledger)
    }

    /// Follows a change of the counts.
    ///
    /// # Errors
    /// As [`Ledger::new`]; the ledger is then to be made anew.
    pub fn follow(&mut self, design: &Design, tally: &Tally, change: &TallyChange) -> Result<LedgerWork, CutError> {
        let moves = match change {
            TallyChange::Moves(moves) => moves,
            TallyChange::Repainted if self.stands(tally) => return self.repaint(design, tally),
            TallyChange::Repainted | TallyChange::Recounted => {
                *self = Self::new(design, tally)?;
                return Ok(LedgerWork { fabrics_planned: self.plans.len() as u64, moves: 0 });
            }
        };
        if !self.stands(tally) {
            // A block, or a hand of one, that stood nowhere before, or stands nowhere now: the classes are others.
            *self = Self::new(design, tally)?;
            return Ok(LedgerWork { fabrics_planned: self.plans.len() as u64, moves: 0 });
        }
        let mut fabrics = BTreeSet::new();
        for m in moves {
            self.post(design, m)?;
            fabrics.insert(m.fabric);
        }
        let work = LedgerWork { fabrics_planned: fabrics.len() as u64, moves: moves.len() as u64 };
        self.plan(design, fabrics);
        Ok(work)
    }

    /// Whether what stands is what the book has the classes of.
    fn stands(&self, tally: &Tally) -> bool {
        standing(tally).eq(self.sources.iter().copied())
    }

    /// Enters all counts anew; a fabric of which the same pieces are cut keeps its plan.
    fn repaint(&mut self, design: &Design, tally: &Tally) -> Result<LedgerWork, CutError> {
        let before = std::mem::take(&mut self.uses);
        for count in tally.counts() {
            self.post(design, &count)?;
        }
        let bound = (self.bound, design.binding().fabric);
        let binding = std::mem::replace(&mut self.binding, binding_of(design));
        self.bound = bound.1;
        let other_binding =
            |id: &FabricId| (*id == bound.0) != (*id == bound.1) || *id == bound.1 && binding != self.binding;
        let same = |id: &FabricId| match (before.get(id), self.uses.get(id)) {
            (Some(before), Some(now)) => before.named == now.named && before.strips == now.strips,
            (before, now) => before.is_none() && now.is_none(),
        };
        let mut fabrics: BTreeSet<FabricId> = before.keys().chain(self.uses.keys()).copied().collect();
        fabrics.extend([bound.0, bound.1]);
        fabrics.retain(|id| other_binding(id) || !same(id));
        let work = LedgerWork { fabrics_planned: fabrics.len() as u64, moves: 0 };
        self.plan(design, fabrics);
        Ok(work)
    }

    /// Enters one change of a count.
    fn post(&mut self, design: &Design, m: &Move) -> Result<(), CutError> {
        let print = design.fabric(m.fabric)?.print;
        let unknown = || CutError::UnknownPatch { patch: m.patch.0, block: design.source_name(m.source) };
        let class = self.book.of_patch(m.source, m.patch, m.mirrored, print).ok_or_else(unknown)?;
        let area = self.book.area(m.source, m.patch).ok_or_else(unknown)?.scale_int(m.change);
        let role = self.book.role(m.source, m.patch).ok_or_else(unknown)?.clone();
        let used = self.uses.entry(m.fabric).or_default();
        change_count(&mut used.classes, class, m.change);
        if is_strip(m.source) {
            change_count(&mut used.strips, (class, m.source), m.change);
        }
        change_count(&mut used.named, (class, role.clone()), m.change);
        change_count(&mut used.roles, role, m.change);
        used.patches = used.patches.saturating_add_signed(m.change);
        used.area += &area;
        if used.patches == 0 {
            self.uses.remove(&m.fabric);
        }
        Ok(())
    }

    /// Plans these fabrics again; one that is no longer used loses its plan.
    fn plan(&mut self, design: &Design, fabrics: impl IntoIterator<Item = FabricId>) {
        for id in fabrics {
            let binding = self.binding.as_ref().ok().filter(|_| design.binding().fabric == id);
            let used = self.uses.get(&id);
            let classes = used.map(|used| used.classes.clone()).unwrap_or_default();
            if classes.is_empty() && design.binding().fabric != id {
                self.plans.remove(&id);
                continue;
            }
            let needs = Needs { classes, binding, used };
            let plan = match (design.fabric(id), &self.binding) {
                (Err(error), _) => Err(error.into()),
                (Ok(fabric), Err(error)) if design.binding().fabric == id => Err(error.clone().on_fabric(&fabric.name)),
                (Ok(fabric), _) => FabricPlan::new(id, fabric, &needs, &mut self.book, Terms::of(design)),
            };
            self.plans.insert(id, plan);
        }
    }

    /// What stands of each fabric.
    #[must_use]
    pub const fn uses(&self) -> &BTreeMap<FabricId, FabricUse> {
        &self.uses
    }

    /// The plan of each fabric that is used, or why there is none.
    #[must_use]
    pub const fn plans(&self) -> &BTreeMap<FabricId, Result<FabricPlan, CutError>> {
        &self.plans
    }

    /// The classes of pieces.
    #[must_use]
    pub const fn book(&self) -> &ClassBook {
        &self.book
    }

    /// The binding, or why it cannot be cut.
    ///
    /// # Errors
    /// [`CutError::TooNarrowToJoin`].
    pub fn binding(&self) -> Result<&BindingCut, CutError> {
        self.binding.as_ref().map_err(Clone::clone)
    }

    /// The backing, or why it cannot be pieced.
    ///
    /// # Errors
    /// [`CutError::TooNarrowToJoin`].
    pub fn backing(&self) -> Result<&BackingCut, CutError> {
        self.backing.as_ref().map_err(Clone::clone)
    }
}

/// What stands in the quilt, as given or mirrored, in order.
fn standing(tally: &Tally) -> impl Iterator<Item = (Source, bool)> + '_ {
    let mut before = None;
    let sources = tally.usage().map(|(source, mirrored, _, _)| (source, mirrored));
    sources.filter(move |stands| before.replace(*stands) != Some(*stands))
}

/// Adds `change` to a count and drops it at zero.
fn change_count<K: Ord>(counts: &mut BTreeMap<K, u64>, key: K, change: i64) {
    let next = counts.get(&key).copied().unwrap_or(0).saturating_add_signed(change);
    if next == 0 {
        counts.remove(&key);
    } else {
        counts.insert(key, next);
    }
}
