//! Which patches of the quilt a kind of piece is cut for, looked up once for each plan.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use cutting::{ClassBook, ClassId, FabricPlan, PieceId, SheetRun, StripPlan};
use layout::{Design, FabricId, Source};

use crate::window::panels::lit_quilt::{Lit, StandingPatch};
use crate::window::wall::Scene;

/// The patches of one fabric by the pieces they are cut from.
#[derive(Debug, Clone)]
pub(super) struct Patches {
    stamp: u64,
    fabric: FabricId,
    plan: StripPlan,
    sheets: Vec<SheetRun>,
    by_piece: BTreeMap<PieceId, Lit>,
}

impl Patches {
    /// Looks up every patch of the plan's fabric.
    ///
    /// A patch that is a kind of piece of its own has that number; what is joined from sections stands under each of
    /// them, and what comes out of a blank under the blank as well.
    pub(super) fn new(design: &Design, book: &ClassBook, scene: &Scene, plan: &FabricPlan) -> Self {
        let sections: Vec<PieceId> =
            plan.pieces.iter().filter(|piece| piece.is_section).map(|piece| piece.prepared.id()).collect();
        let is_piece = |id: PieceId| plan.pieces.iter().any(|piece| piece.prepared.id() == id);
        let mut by_piece: BTreeMap<PieceId, Vec<StandingPatch>> = BTreeMap::new();
        let mut classes: BTreeMap<(Source, bool), Vec<Option<ClassId>>> = BTreeMap::new();
        for (number, stands) in scene.standing().iter().enumerate() {
            let source = (stands.source, design.is_mirrored(stands.place));
            let classes = classes.entry(source).or_insert_with(|| classes_of(design, book, source, plan.fabric));
            let of_patches = stands.fabrics.iter().zip(classes.iter()).enumerate();
            for (patch, (_, class)) in of_patches.filter(|(_, (fabric, _))| **fabric == plan.fabric) {
                match class.map(|class| PieceId(class.0)) {
                    Some(id) if is_piece(id) => by_piece.entry(id).or_default().push((number, patch)),
                    Some(_) => {
                        sections.iter().for_each(|id| by_piece.entry(*id).or_default().push((number, patch)));
                    }
                    None => {}
                }
            }
        }
        for (blank, inner) in blanks(plan) {
            let mut out: Vec<StandingPatch> =
                inner.iter().filter_map(|id| by_piece.get(id)).flatten().copied().collect();
            out.sort_unstable();
            by_piece.insert(blank, out);
        }
        let by_piece = by_piece.into_iter().map(|(piece, patches)| (piece, Arc::new(patches))).collect();
        let (plan, sheets, fabric) = (plan.plan.clone(), plan.sheets.clone(), plan.fabric);
        Self { stamp: scene.stamp(), fabric, plan, sheets, by_piece }
    }

    /// Whether these are the patches of this plan in this scene.
    pub(super) fn is_of(&self, scene: &Scene, plan: &FabricPlan) -> bool {
        self.stamp == scene.stamp()
            && self.fabric == plan.fabric
            && self.plan == plan.plan
            && self.sheets == plan.sheets
    }

    /// The patches that a piece is cut for; none for binding, which is no patch.
    pub(super) fn of(&self, piece: PieceId) -> &[StandingPatch] {
        self.by_piece.get(&piece).map_or(&[], |patches| patches.as_slice())
    }

    /// The same as a list to be lit.
    pub(super) fn lit(&self, piece: PieceId) -> Option<&Lit> {
        self.by_piece.get(&piece)
    }
}

/// The blanks of a plan with the kinds of pieces that come out of each.
fn blanks(plan: &FabricPlan) -> impl Iterator<Item = (PieceId, BTreeSet<PieceId>)> {
    plan.pieces.iter().filter_map(|piece| {
        let inner = piece.blank.as_ref()?.inner.iter().map(|placement| placement.piece);
        Some((piece.prepared.id(), inner.collect()))
    })
}

/// What each patch of a source is cut as in a fabric.
fn classes_of(design: &Design, book: &ClassBook, source: (Source, bool), fabric: FabricId) -> Vec<Option<ClassId>> {
    let (Ok(block), Ok(fabric)) = (design.source_block(source.0), design.fabric(fabric)) else { return Vec::new() };
    block.patches().iter().map(|patch| book.of_patch(source.0, patch.key, source.1, fabric.print)).collect()
}
