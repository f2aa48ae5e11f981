//! The best plans of a design, fabric by fabric; what has not changed is not planned again.

use std::collections::BTreeMap;

use layout::{Buying, Colour, CuttingWishes, Design, Fabric, FabricId, Look};
use rayon::prelude::*;

use crate::audit::audit;
use crate::cut_list::PlannedPiece;
use crate::error::CutError;
use crate::fabric_plan::{FabricPlan, Terms};
use crate::ledger::Ledger;
use crate::sewn_plan::{SewnPlan, SewnRun};
use crate::watch::Watch;

/// Everything that a best plan follows from: equal keys have equal plans.
#[derive(Debug, Clone, PartialEq)]
struct Key {
    fabric: Fabric,
    pieces: Vec<PlannedPiece>,
    sewn: Option<Vec<PlannedPiece>>,
    wishes: CuttingWishes,
    buying: Buying,
}

impl Key {
    fn new(fabric: &Fabric, plan: &FabricPlan, sewn: Option<&Vec<PlannedPiece>>, terms: Terms<'_>) -> Self {
        // Its colour does not matter to how a fabric is cut.
        let look = Look::Plain(Colour::rgb(0, 0, 0));
        Self {
            fabric: Fabric { look, ..fabric.clone() },
            pieces: plan.pieces.clone(),
            sewn: sewn.cloned(),
            wishes: terms.wishes.clone(),
            buying: terms.buying.clone(),
        }
    }
}

/// The best plans of one design.
#[derive(Debug, Clone, Default)]
pub struct BestBook {
    keys: BTreeMap<FabricId, Key>,
    plans: BTreeMap<FabricId, Result<FabricPlan, CutError>>,
    sewn: Vec<SewnRun>,
    planned: usize,
}

impl BestBook {
    /// Plans every fabric of a design with this ledger; plans of `before` that are still true are kept.
    ///
    /// Fabrics are planned side by side; what comes out does not depend on how many at a time.
    ///
    /// # Errors
    /// [`CutError::Stopped`] when it was stopped. A fabric that cannot be cut keeps its own error among the plans.
    pub fn new(design: &Design, ledger: &Ledger, before: &Self, watch: &Watch) -> Result<Self, CutError> {
        let terms = Terms::of(design);
        let step = ledger.book().step();
        let SewnPlan { runs, mut lists } = SewnPlan::new(design, ledger, watch)?;
        let mut book = Self { sewn: runs, ..Self::default() };
        let mut open = Vec::new();
        for (id, quick) in ledger.plans() {
            let (Ok(quick), Ok(fabric)) = (quick, design.fabric(*id)) else {
                book.plans.insert(*id, quick.clone());
                continue;
            };
            let sewn = lists.remove(id);
            let key = Key::new(fabric, quick, sewn.as_ref(), terms);
            if before.keys.get(id) == Some(&key)
                && let Some(plan) = before.plans.get(id)
            {
                book.plans.insert(*id, plan.clone());
            } else {
                open.push((*id, fabric, quick, sewn));
            }
            book.keys.insert(*id, key);
        }
        let plan = |(id, fabric, quick, sewn): (FabricId, &Fabric, &FabricPlan, Option<Vec<PlannedPiece>>)| {
            (id, quick.best(fabric, sewn, step, terms, watch))
        };
        book.planned = open.len();
        let made: Vec<_> = open.into_par_iter().map(plan).collect();
        if watch.is_stopped() {
            return Err(CutError::Stopped);
        }
        book.plans.extend(made);
        book.check(design, watch)?;
        Ok(book)
    }

    /// Takes a plan away that does not survive the audit: what is shown has been laid again piece by piece.
    fn check(&mut self, design: &Design, watch: &Watch) -> Result<(), CutError> {
        if watch.is_stopped() {
            return Err(CutError::Stopped);
        }
        for (id, problem) in audit(design, &self.plans).err().unwrap_or_default() {
            self.plans.insert(id, Err(CutError::Unsound { problem: Box::new(problem) }));
        }
        Ok(())
    }

    /// The plan of each fabric that is used, or why there is none.
    #[must_use]
    pub const fn plans(&self) -> &BTreeMap<FabricId, Result<FabricPlan, CutError>> {
        &self.plans
    }

    /// Units that are sewn before they are cut.
    #[must_use]
    pub fn sewn(&self) -> &[SewnRun] {
        &self.sewn
    }

    /// How many fabrics were planned; the others were kept. For tests.
    #[must_use]
    pub const fn planned(&self) -> usize {
        self.planned
    }
}
