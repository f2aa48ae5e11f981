//! What is looked at and done in Cut: which fabric, which piece, and which strips are cut already. Never saved.

use std::collections::{BTreeMap, BTreeSet};

use cutting::{FabricPlan, PieceId, SheetRun, StripPlan};
use layout::FabricId;

use super::wall::Camera;

/// A kind of piece that is pointed at, on the fabric or in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pointed {
    /// Which kind.
    pub piece: PieceId,
    /// Which of the pieces on the fabric, counted as they are placed; none when the list is pointed at.
    pub placement: Option<usize>,
}

/// What a view of Cut asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CutAction {
    /// Show this fabric.
    Show(FabricId),
    /// Strips of this run of a fabric's plan are cut, or are not.
    Tick {
        /// Of which fabric.
        fabric: FabricId,
        /// Which run of equal strips, counted from 0 through all cloths.
        run: usize,
        /// Whether they are cut.
        cut: bool,
    },
    /// This is pointed at now.
    Point(Option<Pointed>),
    /// Keep this kind of piece lit, or none.
    Keep(Option<PieceId>),
    /// Look here on the fabric.
    Look(Camera),
    /// Show all of the fabric.
    Fit,
    /// Work out the best plans, or stop that.
    Planning(bool),
    /// Ask where to save the drawing of the fabric that is shown.
    SaveLay,
}

/// What the user looks at in Cut, and what is done.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CutSession {
    /// The fabric that was chosen; the first one when there is none.
    pub fabric: Option<FabricId>,
    /// What is pointed at.
    pub pointed: Option<Pointed>,
    /// The kind of piece that stays lit when nothing is pointed at.
    pub kept: Option<PieceId>,
    /// What part of the fabric is in view; all of it when there is none.
    pub camera: Option<Camera>,
    ticks: BTreeMap<FabricId, Ticks>,
}

/// Runs of strips that are cut, counted through all cloths, of one plan: another plan begins with none.
#[derive(Debug, Clone, PartialEq)]
struct Ticks {
    plan: StripPlan,
    sheets: Vec<SheetRun>,
    runs: BTreeSet<usize>,
}

/// How many strips there are of each run, in the order of work through all cloths.
fn strips_of_runs(plan: &FabricPlan) -> impl Iterator<Item = u64> {
    let cloths = plan.cloths().into_iter();
    cloths.flat_map(|cloth| cloth.strips.iter().map(move |run| run.repeat.saturating_mul(cloth.repeat)))
}

impl CutSession {
    /// The kind of piece that is lit.
    #[must_use]
    pub fn lit(&self) -> Option<PieceId> {
        self.pointed.map(|pointed| pointed.piece).or(self.kept)
    }

    /// Shows another fabric from the beginning.
    pub fn show(&mut self, fabric: FabricId) {
        self.fabric = Some(fabric);
        self.pointed = None;
        self.kept = None;
        self.camera = None;
    }

    /// Whether the strips of this run are cut.
    #[must_use]
    pub fn is_cut(&self, plan: &FabricPlan, run: usize) -> bool {
        self.ticks_of(plan).is_some_and(|ticks| ticks.runs.contains(&run))
    }

    /// Notes that the strips of a run are cut, or are not.
    pub fn tick(&mut self, plan: &FabricPlan, run: usize, cut: bool) {
        if self.ticks_of(plan).is_none() {
            let none = Ticks { plan: plan.plan.clone(), sheets: plan.sheets.clone(), runs: BTreeSet::new() };
            self.ticks.insert(plan.fabric, none);
        }
        if let Some(ticks) = self.ticks.get_mut(&plan.fabric) {
            if cut {
                ticks.runs.insert(run);
            } else {
                ticks.runs.remove(&run);
            }
        }
    }

    /// How many strips of a plan are cut.
    #[must_use]
    pub fn strips_cut(&self, plan: &FabricPlan) -> u64 {
        let Some(ticks) = self.ticks_of(plan) else { return 0 };
        let cut = strips_of_runs(plan).enumerate().filter(|(run, _)| ticks.runs.contains(run));
        cut.map(|(_, strips)| strips).fold(0, u64::saturating_add)
    }

    fn ticks_of(&self, plan: &FabricPlan) -> Option<&Ticks> {
        self.ticks.get(&plan.fabric).filter(|ticks| ticks.plan == plan.plan && ticks.sheets == plan.sheets)
    }
}
