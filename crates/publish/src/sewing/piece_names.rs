//! The names of pieces and units in the steps: what tells apart pieces that are drawn alike, and units of one step that are
//! not the same.
//!
//! A piece has the name of the cutting table. Its hand is told where its block has pieces of both hands, and its size as
//! cut where pieces that finish the same are cut to different sizes. Units of a step that come in several ways have letters:
//! unit 1a, unit 1b.

use std::collections::{BTreeMap, BTreeSet};

use cutting::{ClassBook, PieceClass};
use geometry::Exact;
use layout::{Design, FabricId, Print, Source};
use piecing::{BlockPlan, Making, UnitId, Variant};

use crate::PublishError;
use crate::cut_words::{bounds_words, strip_letter};
use crate::lengths::ruler;

/// The names of one block's pieces and units.
pub(super) struct PieceNames<'a> {
    plan: &'a BlockPlan,
    /// By patch, whether its block is mirrored, and its fabric.
    pieces: BTreeMap<(usize, bool, FabricId), String>,
    has_hands: bool,
}

/// A piece with what might tell it from others.
struct Piece {
    role: String,
    /// Its name without its hand.
    label: String,
    hand: Option<&'static str>,
    area: Option<Exact>,
    size: String,
}

impl<'a> PieceNames<'a> {
    /// The names in all colourings of a block.
    ///
    /// # Errors
    /// A fabric that is not there, or a piece that has no cut shape.
    pub(super) fn new(design: &Design, plan: &'a BlockPlan) -> Result<Self, PublishError> {
        let source = Source::Block(plan.block);
        let hands: BTreeSet<bool> = plan.colourings.iter().map(|colouring| colouring.mirrored).collect();
        let book = ClassBook::new(design, hands.into_iter().map(|mirrored| (source, mirrored)))?;
        let mut found: BTreeMap<(usize, bool, FabricId), Piece> = BTreeMap::new();
        for colouring in &plan.colourings {
            for (index, fabric) in colouring.fabrics.iter().enumerate() {
                let print = design.fabric(*fabric)?.print;
                let key = (index, colouring.mirrored, *fabric);
                found.entry(key).or_insert_with(|| piece(design, &book, (plan, index), colouring.mirrored, print));
            }
        }
        let mut hands: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        let mut sizes: BTreeMap<(&str, Option<&Exact>), BTreeSet<&str>> = BTreeMap::new();
        for piece in found.values() {
            hands.entry(&piece.role).or_default().extend(piece.hand);
            sizes.entry((&piece.role, piece.area.as_ref())).or_default().insert(&piece.size);
        }
        let named = |piece: &Piece| {
            let hand = piece.hand.filter(|_| hands[piece.role.as_str()].len() > 1);
            let size = sizes[&(piece.role.as_str(), piece.area.as_ref())].len() > 1;
            let parts = [Some(piece.label.as_str()), hand, size.then_some(piece.size.as_str())];
            parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
        };
        let pieces = found.iter().map(|(key, piece)| (*key, named(piece))).collect();
        let has_hands = hands.values().any(|hands| hands.len() > 1);
        Ok(Self { plan, pieces, has_hands })
    }

    /// Why the hands are told apart; none where no piece has two.
    pub(super) fn hands_words(&self) -> Option<String> {
        self.has_hands.then(|| {
            "Keep pieces that lean left apart from those that lean right, as they were cut: even where their shapes are \
             alike, their straight grain runs along other edges, and edges off the straight grain stretch."
                .to_owned()
        })
    }

    /// The name of a patch of a variant.
    pub(super) fn piece(&self, variant: &Variant, patch: usize) -> String {
        let role = || self.plan.tree.graph().block().patches()[patch].role.name().to_owned();
        let fabric = variant.fabrics.get(patch).copied();
        let known = fabric.and_then(|fabric| self.pieces.get(&(patch, variant.drawn_mirrored, fabric)));
        known.cloned().unwrap_or_else(role)
    }

    /// The step of a sewn part of a variant, from 0, and which of the step's variants it is.
    pub(super) fn made_in(&self, variant: &Variant, part: UnitId) -> Option<(usize, usize)> {
        let colouring = variant.members.first()?.colouring;
        let holds = |of: &Variant| of.members.iter().any(|m| m.colouring == colouring && m.unit == part);
        let steps = self.plan.variants.iter().enumerate();
        steps.filter_map(|(step, all)| Some((step, all.iter().position(holds)?))).next()
    }

    /// The name of a part of a variant: "diamond, leaning left", "unit 2", or "unit 2b" where step 2 makes several.
    pub(super) fn part(&self, variant: &Variant, part: UnitId) -> String {
        match self.plan.tree.unit(part).making {
            Making::Cut(patch) => self.piece(variant, patch),
            Making::Sewn { .. } => match self.made_in(variant, part) {
                Some((step, which)) => format!("unit {}", numbered(self.plan, step, which)),
                None => super::words::part_name(self.plan, part),
            },
        }
    }

    /// The parts of a variant that have letters, "1a", each with its unit.
    pub(super) fn lettered_parts(&self, variant: &Variant) -> Vec<(UnitId, String)> {
        let parts = super::seam_numbers::told_parts(self.plan, variant);
        let lettered = parts.into_iter().filter_map(|part| {
            let (step, which) = self.made_in(variant, part)?;
            is_lettered(self.plan, step).then(|| (part, numbered(self.plan, step, which)))
        });
        lettered.collect()
    }
}

/// Of a unit of a step, counted from 0, and which of the step's kinds it is: "2", or "2b" where step 2 makes several.
pub(super) fn numbered(plan: &BlockPlan, step: usize, which: usize) -> String {
    let letter = if is_lettered(plan, step) { strip_letter(which).to_lowercase() } else { String::new() };
    format!("{}{letter}", step + 1)
}

/// Whether a step makes several kinds of unit that later steps use.
pub(super) fn is_lettered(plan: &BlockPlan, step: usize) -> bool {
    step + 1 < plan.steps.len() && plan.variants.get(step).is_some_and(|all| all.len() > 1)
}

fn piece(design: &Design, book: &ClassBook, (plan, index): (&BlockPlan, usize), mirrored: bool, print: Print) -> Piece {
    let patch = &plan.tree.graph().block().patches()[index];
    let source = Source::Block(plan.block);
    let role = patch.role.name().to_owned();
    match book.of_patch(source, patch.key, mirrored, print).and_then(|id| book.class(id)) {
        Some(class) => Piece {
            label: class.label_of_either_hand(|of| *of == patch.role),
            hand: class.hand.filter(|_| print != Print::TwoSided),
            area: book.area(source, patch.key).cloned(),
            size: size(design, book, class),
            role,
        },
        None => Piece { label: role.clone(), role, hand: None, area: None, size: String::new() },
    }
}

/// "2¾″ × 2½″", or of what is no rectangle the strip it is cut from.
fn size(design: &Design, book: &ClassBook, class: &PieceClass) -> String {
    let outline = class.shape.outline();
    let bounds = outline.bounds();
    let whole = 2 * i128::from(bounds.width()) * i128::from(bounds.height());
    if outline.double_area() == whole {
        return bounds_words(&bounds, design.units());
    }
    format!("from a strip {} wide", ruler(book.step().round_up(bounds.height()), design.units()))
}
