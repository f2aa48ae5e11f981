//! What follows from the design: counts, plans, and the top as floats. Recomputed, never saved.

use std::sync::Arc;

use cutting::{CutError, Ledger, LedgerWork};
use layout::{Delta, Design, EditError, Tally, TallyWork, Touched};
use thiserror::Error;

use super::wall::Scene;

/// Why figures could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum DerivedError {
    /// The design could not be counted.
    #[error(transparent)]
    Design(#[from] EditError),
    /// A patch cannot be cut.
    #[error(transparent)]
    Cut(#[from] CutError),
}

/// Everything that is worked out from one design.
#[derive(Debug, Clone)]
pub struct Derived {
    tally: Tally,
    ledger: Result<Ledger, DerivedError>,
    scene: Arc<Scene>,
    work: DerivedWork,
}

/// How much work updates were; for tests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DerivedWork {
    /// Patches whose paint was looked up by the last update.
    pub tally: TallyWork,
    /// Fabrics planned by the last update.
    pub ledger: LedgerWork,
    /// Times that everything was worked out anew.
    pub rebuilds: u64,
}

impl Derived {
    /// Works everything out.
    ///
    /// # Errors
    /// Not for a checked design. A patch that cannot be cut leaves the counts and the scene good.
    pub fn new(design: &Design) -> Result<Self, DerivedError> {
        let tally = Tally::count(design)?;
        let ledger = Ledger::new(design, &tally).map_err(DerivedError::from);
        Ok(Self {
            scene: Arc::new(Scene::new(design)?),
            tally,
            ledger,
            work: DerivedWork { rebuilds: 1, ..DerivedWork::default() },
        })
    }

    /// Follows one edit.
    ///
    /// # Errors
    /// As [`Derived::new`].
    pub fn follow(&mut self, before: &Design, after: &Design, delta: &Delta) -> Result<(), DerivedError> {
        if matches!(delta.touched, Touched::Everything) || self.ledger.is_err() {
            return self.rebuild(after);
        }
        let (change, tally_work) = self.tally.follow(before, after, &delta.touched)?;
        let ledger_work = match &mut self.ledger {
            Ok(ledger) => ledger.follow(after, &self.tally, &change)?,
            Err(_) => LedgerWork::default(),
        };
        Arc::make_mut(&mut self.scene).follow(after, &delta.touched)?;
        self.work = DerivedWork { tally: tally_work, ledger: ledger_work, ..self.work };
        Ok(())
    }

    /// Works everything out anew, as after undo.
    ///
    /// # Errors
    /// As [`Derived::new`].
    pub fn rebuild(&mut self, design: &Design) -> Result<(), DerivedError> {
        let Self { tally, ledger, scene, .. } = Self::new(design)?;
        // The pictures of the top need not be drawn anew for what is still the same.
        let scene = Arc::new(Arc::unwrap_or_clone(scene).after(&self.scene));
        let work = DerivedWork { rebuilds: self.work.rebuilds + 1, ..DerivedWork::default() };
        *self = Self { tally, ledger, scene, work };
        Ok(())
    }

    /// The counts.
    #[must_use]
    pub const fn tally(&self) -> &Tally {
        &self.tally
    }

    /// The plans, or why there are none.
    ///
    /// # Errors
    /// A patch that cannot be cut.
    pub fn ledger(&self) -> Result<&Ledger, &DerivedError> {
        self.ledger.as_ref()
    }

    /// The top as floats, ready to be drawn and pointed at; shared with the threads that draw it.
    #[must_use]
    pub const fn scene(&self) -> &Arc<Scene> {
        &self.scene
    }

    /// How much work the last update was.
    #[must_use]
    pub const fn work(&self) -> DerivedWork {
        self.work
    }
}
