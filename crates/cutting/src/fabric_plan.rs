//! The plan of one fabric: pieces with counts, strips, required length, bounds and purchase.

use geometry::Length;
use geometry::lay::UNITS_PER_INCH;
use layout::{Buying, CuttingWishes, Design, Fabric, FabricId, MethodKind};

use crate::blank_lays::cut_blanks;
use crate::bound::least_by_area;
use crate::breakdown::Breakdown;
use crate::buying::{Purchase, inches};
use crate::class::ClassBook;
use crate::cut_list::{CutList, LongStrips, Needs, PlannedPiece};
use crate::error::CutError;
use crate::lay::{Lay, lays};
use crate::piece::{CutPiece, PreparedPiece};
use crate::quick::quick;
use crate::strip_plan::StripPlan;
use crate::verify::{Problem, Verified, verify};

/// Which planner made a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Planner {
    /// The quick one, a pure function of the counts.
    Quick,
    /// The optimiser.
    Best,
}

impl Planner {
    /// Its name on screen, paper and in JSON.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quick => "quick",
            Self::Best => "best",
        }
    }
}

/// The plan of one fabric.
#[derive(Debug, Clone)]
pub struct FabricPlan {
    /// Which fabric.
    pub fabric: FabricId,
    /// Which planner made it.
    pub planner: Planner,
    /// Usable width in lay units, rounded down.
    pub width: i64,
    /// The pieces, patches first.
    pub pieces: Vec<PlannedPiece>,
    /// Strips and subcuts.
    pub plan: StripPlan,
    /// No lay of these pieces, however clever, is shorter; in lay units.
    pub least_by_any_means: i64,
    /// No plan of straight strips is shorter, in lay units; only the optimiser works it out.
    pub least_by_straight_strips: Option<i64>,
    /// Where the length goes.
    pub breakdown: Breakdown,
    /// Required length and what to buy.
    pub purchase: Purchase,
}

/// What holds for all fabrics of a quilt.
#[derive(Debug, Clone, Copy)]
pub struct Terms<'a> {
    /// Seam allowance.
    pub seam: &'a Length,
    /// How fabric is bought.
    pub buying: &'a Buying,
    /// How the user wants to cut.
    pub wishes: &'a CuttingWishes,
}

impl<'a> Terms<'a> {
    /// The terms of a design.
    #[must_use]
    pub const fn of(design: &'a Design) -> Self {
        Self { seam: design.seam(), buying: design.buying(), wishes: design.cutting() }
    }
}

impl FabricPlan {
    /// Plans a fabric with the quick planner.
    ///
    /// # Errors
    /// A piece that does not fit the fabric, named with its fabric, size and remedy.
    pub fn new(
        id: FabricId,
        fabric: &Fabric,
        needs: &Needs<'_>,
        book: &mut ClassBook,
        terms: Terms<'_>,
    ) -> Result<Self, CutError> {
        let named = |error: CutError| error.on_fabric(&fabric.name);
        let width = usable_units(fabric).map_err(named)?;
        let choice = CutList::has_choice(book, fabric, width, needs);
        let mut ways = vec![LongStrips::Joined];
        if choice && !terms.wishes.avoid.contains(&MethodKind::Lengthwise) {
            ways.push(LongStrips::Lengthwise);
        }
        let mut best: Option<(Vec<PlannedPiece>, StripPlan)> = None;
        for way in ways {
            let list = CutList::new(book, fabric, width, terms, way);
            let pieces = list.fill(needs).map_err(named)?;
            let plan = quick(width, &from_strips(&pieces)).map_err(|e| name_piece(e, &pieces)).map_err(named)?;
            if best.as_ref().is_none_or(|(kept_pieces, kept)| {
                score(&plan, &pieces, terms.wishes) < score(kept, kept_pieces, terms.wishes)
            }) {
                best = Some((pieces, plan));
            }
        }
        let Some((pieces, plan)) = best else { return Err(named(CutError::TooLong)) };
        Self::of_plan(id, fabric, Planner::Quick, pieces, plan, terms).map_err(named)
    }

    /// Everything that follows from pieces and strips.
    pub(crate) fn of_plan(
        id: FabricId,
        fabric: &Fabric,
        planner: Planner,
        pieces: Vec<PlannedPiece>,
        plan: StripPlan,
        terms: Terms<'_>,
    ) -> Result<Self, CutError> {
        let width = plan.width;
        let counted: Vec<(&CutPiece, u64)> = patches(&pieces).map(|p| (p.prepared.piece(), p.count)).collect();
        Ok(Self {
            fabric: id,
            planner,
            width,
            least_by_any_means: least_by_area(width, &counted)?,
            least_by_straight_strips: None,
            breakdown: Breakdown::new(&plan, &pieces, fabric.bolt_width.as_ref()),
            purchase: Purchase::new(inches(plan.length), terms.buying),
            pieces,
            plan,
        })
    }

    /// How many straight cuts it takes: one for each strip, each piece and each row that begins higher up in its strip,
    /// and those that take blanks apart. Cuts through folded fabric count once.
    #[must_use]
    pub fn cuts(&self) -> u64 {
        cuts(&self.plan, &self.pieces)
    }

    /// Every piece placed on the fabric.
    ///
    /// # Errors
    /// As [`lays`].
    pub fn lays(&self) -> Result<Vec<Lay>, CutError> {
        let pieces: Vec<&PreparedPiece> = self.pieces.iter().map(|p| p.prepared.as_ref()).collect();
        let mut lays = lays(&self.plan, &pieces)?;
        cut_blanks(&mut lays, &self.pieces)?;
        Ok(lays)
    }

    /// Checks lays of this plan piece by piece, trusting nothing but the pieces and their counts, and proves that
    /// each cut outline covers its exact cut shape.
    ///
    /// # Errors
    /// Every problem found.
    pub fn verify(&self, lays: &[Lay]) -> Result<Verified, Vec<Problem>> {
        let counted: Vec<(&CutPiece, u64)> = patches(&self.pieces).map(|p| (p.prepared.piece(), p.count)).collect();
        let uncovered: Vec<Problem> = self
            .pieces
            .iter()
            .filter(|p| p.shape.as_ref().is_some_and(|shape| !shape.covers_cut_shape()))
            .map(|p| Problem::CutTooSmall { piece: p.prepared.id() })
            .collect();
        if uncovered.is_empty() { verify(self.width, &counted, lays) } else { Err(uncovered) }
    }
}

/// The pieces that end up in the quilt or beside it, without the blanks they are cut from.
pub(crate) fn patches(pieces: &[PlannedPiece]) -> impl Iterator<Item = &PlannedPiece> {
    pieces.iter().filter(|p| p.blank.is_none())
}

/// What is cut from strips: pieces and blanks, with how many.
pub(crate) fn from_strips(pieces: &[PlannedPiece]) -> Vec<(&PreparedPiece, u64)> {
    pieces.iter().map(|p| (p.prepared.as_ref(), p.from_strips())).collect()
}

/// Smaller is better: fabric and what the cuts are worth, then cuts, then strip widths.
pub(crate) fn score(plan: &StripPlan, pieces: &[PlannedPiece], wishes: &CuttingWishes) -> (i128, u64, usize) {
    let cuts = cuts(plan, pieces);
    (i128::from(plan.length) + i128::from(cut_worth(wishes)) * i128::from(cuts), cuts, plan.strip_widths())
}

/// Straight cuts of a plan, those that take blanks apart included.
pub(crate) fn cuts(plan: &StripPlan, pieces: &[PlannedPiece]) -> u64 {
    let inner = pieces.iter().map(|p| p.count.saturating_mul(p.blank_cuts()));
    inner.fold(plan.cuts(), u64::saturating_add)
}

/// Lay units of fabric length that one cut saved is worth.
pub(crate) fn cut_worth(wishes: &CuttingWishes) -> i64 {
    i64::from(wishes.cut_worth) * UNITS_PER_INCH / 100
}

/// Usable width in lay units, rounded down.
fn usable_units(fabric: &Fabric) -> Result<i64, CutError> {
    let units = fabric.usable_width.inches().scale_int(UNITS_PER_INCH).floor();
    i64::try_from(units).map_err(|_| CutError::WidthOutOfRange { width: fabric.usable_width.inches().to_decimal(4) })
}

/// Puts the piece's label into an error that knows only its number.
pub(crate) fn name_piece(error: CutError, pieces: &[PlannedPiece]) -> CutError {
    match error {
        CutError::TooWide { piece, piece_width, piece_height, width } => {
            let label = pieces.iter().find(|p| p.prepared.id() == piece).map_or_else(String::new, |p| p.label.clone());
            CutError::LabelledTooWide { label, piece_width, piece_height, width }
        }
        CutError::TooLargeForSheet { piece, label: None, size, sheet } => {
            let label = pieces.iter().find(|p| p.prepared.id() == piece).map(|p| p.label.clone());
            CutError::TooLargeForSheet { piece, label, size, sheet }
        }
        other => other,
    }
}
