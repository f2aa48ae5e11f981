//! The plan of one fabric: pieces with counts, strips, required length, bounds and purchase.

use geometry::Length;
use geometry::lay::UNITS_PER_INCH;
use layout::{Buying, CuttingWishes, Design, Fabric, FabricId, MethodKind, Print, Sold};

use crate::blank_lays::cut_blanks;
use crate::bound::{least_by_any_means, least_by_area};
use crate::breakdown::Breakdown;
use crate::buying::{AllParts, PrecutPurchase, Purchase, inches};
use crate::class::ClassBook;
use crate::cut_list::{CutList, LongStrips, Needs, PlannedPiece};
use crate::error::CutError;
use crate::piece::{CutPiece, PreparedPiece};
use crate::problem::Problem;
use crate::quick::quick;
use crate::rounding::RulerStep;
use crate::stock::{Bought, Planner as StripPlanner, RollCut, SheetRun, Stock, StockLay, StockPlan, share_out};
use crate::strip_part::arrange;
use crate::strip_plan::{StripPlan, StripRun, cuts_of_strips};
use crate::verify::{Verified, verify_stock};

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
    /// So many different fabrics it stands for; pieces, strips and lengths below are those of one of them.
    pub parts: u16,
    /// What may be done to pieces on it.
    pub print: Print,
    /// Width in lay units of what is bought, rounded down: from selvage to selvage, or of a precut.
    pub width: i64,
    /// The pieces, patches first.
    pub pieces: Vec<PlannedPiece>,
    /// Strips cut from the length that is bought.
    pub plan: StripPlan,
    /// Strips cut from pieces at hand and from precuts.
    pub sheets: Vec<SheetRun>,
    /// What there is to cut from; sheets name it by index.
    pub stock: Vec<Stock>,
    /// What has to be bought, before shrinkage and rounding.
    pub bought: Bought,
    /// No lay of these pieces, however clever, takes less length, in lay units.
    pub least_by_any_means: i64,
    /// No plan of straight strips takes less length, in lay units; only the optimiser works it out, and only where all
    /// is cut from one length.
    pub least_by_straight_strips: Option<i64>,
    /// Where the length goes.
    pub breakdown: Breakdown,
    /// Required length and what to buy.
    pub purchase: Purchase,
    /// Precut pieces to buy, for a fabric that is sold like that.
    pub precuts: Option<PrecutPurchase>,
}

/// One length of fabric, or equal sheets of it, and the strips that are cut from each. Sizes are lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cloth<'a> {
    /// For a sheet, which of [`FabricPlan::stock`] it is, and whether strips run along its length.
    pub sheet: Option<(usize, bool)>,
    /// How many are cut like this.
    pub repeat: u64,
    /// Length of its strips.
    pub width: i64,
    /// How far strips are cut from it, or its other side.
    pub length: i64,
    /// The strips, tallest first.
    pub strips: &'a [StripRun],
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
    /// The step of the ruler.
    pub step: &'a Length,
}

impl<'a> Terms<'a> {
    /// The terms of a design.
    #[must_use]
    pub const fn of(design: &'a Design) -> Self {
        Self { seam: design.seam(), buying: design.buying(), wishes: design.cutting(), step: design.ruler_step() }
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
        let width = cut_units(fabric).map_err(named)?;
        let stock = Stock::of_fabric(fabric).map_err(named)?;
        let choice = CutList::has_choice(book, fabric, width, needs);
        let mut ways = vec![LongStrips::Joined];
        if choice && !terms.wishes.avoid.contains(&MethodKind::Lengthwise) {
            ways.push(LongStrips::Lengthwise);
        }
        let mut best: Option<(Vec<PlannedPiece>, StockPlan)> = None;
        for way in ways {
            let list = CutList::new(book, fabric, width, terms, way);
            let pieces = list.fill(needs).map_err(named)?;
            let cut = share(&pieces, &stock, &mut |width, pieces| quick(width, pieces)).map_err(named)?;
            let rated = score(&cut, &pieces, terms.wishes);
            if best.as_ref().is_none_or(|(pieces, kept)| rated < score(kept, pieces, terms.wishes)) {
                best = Some((pieces, cut));
            }
        }
        let Some((pieces, cut)) = best else { return Err(named(CutError::TooLong)) };
        Self::of_cut(id, fabric, Planner::Quick, pieces, cut, terms).map_err(named)
    }

    /// Everything that follows from pieces and strips.
    pub(crate) fn of_cut(
        id: FabricId,
        fabric: &Fabric,
        planner: Planner,
        pieces: Vec<PlannedPiece>,
        cut: StockPlan,
        terms: Terms<'_>,
    ) -> Result<Self, CutError> {
        let width = cut_units(fabric)?;
        let least = match planner {
            _ if !cut.sheets.is_empty() => 0,
            Planner::Quick => {
                let counted: Vec<(&CutPiece, u64)> = patches(&pieces).map(|p| (p.prepared.piece(), p.count)).collect();
                least_by_area(width, &counted)?
            }
            Planner::Best => {
                let counted: Vec<(&PreparedPiece, u64)> =
                    patches(&pieces).map(|p| (p.prepared.as_ref(), p.count)).collect();
                least_by_any_means(width, &counted)?
            }
        };
        let cut = in_order_of_work(cut, &pieces, planner, terms)?;
        let strips = cut.strips_cut();
        let StockPlan { stock, sheets, roll, bought } = cut;
        let plan = roll.map_or(StripPlan { width, length: 0, strips: Vec::new() }, |roll| roll.plan);
        let required = inches(plan.length);
        let precuts = match (bought, &fabric.sold) {
            (Bought::Sheets { count, .. }, _) => Some(PrecutPurchase::new(count, fabric.price)),
            (Bought::Nothing, Sold::Precut(_)) => Some(PrecutPurchase::new(0, fabric.price)),
            _ => None,
        };
        Ok(Self {
            fabric: id,
            planner,
            parts: parts(fabric),
            print: fabric.print,
            width,
            least_by_any_means: least,
            least_by_straight_strips: None,
            breakdown: Breakdown::new(&plan, &pieces, sheets.is_empty(), fabric.bolt_width.as_ref()),
            purchase: Purchase::by_length(required, strips, terms.buying, terms.wishes.squaring_every, fabric.price),
            precuts,
            pieces,
            plan,
            sheets,
            stock,
            bought,
        })
    }

    /// How many straight cuts it takes: one for each strip, each piece and each row that begins higher up in its strip,
    /// and those that take blanks apart. Cuts through folded fabric count once.
    #[must_use]
    pub fn cuts(&self) -> u64 {
        let in_cloth = |cloth: Cloth<'_>| cloth.repeat.saturating_mul(cuts_of_strips(cloth.strips));
        let outer = self.cloths().into_iter().map(in_cloth).fold(0, u64::saturating_add);
        outer.saturating_add(cuts_of_blanks(&self.pieces))
    }

    /// Strips in all, from sheets and from the length.
    #[must_use]
    pub fn strips_cut(&self) -> u64 {
        let in_cloth = |cloth: Cloth<'_>| cloth.repeat.saturating_mul(cloth.strips.iter().map(|run| run.repeat).sum());
        self.cloths().into_iter().map(in_cloth).fold(0, u64::saturating_add)
    }

    /// What is bought of all parts together.
    #[must_use]
    pub const fn all_parts(&self) -> AllParts<'_> {
        AllParts { parts: self.parts, purchase: &self.purchase, precuts: self.precuts.as_ref() }
    }

    /// What is cut, cloth by cloth in the order of work: pieces at hand, precuts, then the length.
    #[must_use]
    pub fn cloths(&self) -> Vec<Cloth<'_>> {
        let sheets = self.sheets.iter().map(|run| Cloth {
            sheet: Some((run.stock, run.turned)),
            repeat: run.repeat,
            width: run.width,
            length: run.length,
            strips: &run.strips,
        });
        let plan = &self.plan;
        let length = (!plan.strips.is_empty()).then(|| Cloth {
            sheet: None,
            repeat: 1,
            width: plan.width,
            length: plan.length,
            strips: &plan.strips,
        });
        sheets.chain(length).collect()
    }

    /// The strips as they were shared out to the stock.
    pub(crate) fn stock_plan(&self) -> StockPlan {
        let on_roll = self.stock.iter().position(|s| matches!(s, Stock::Roll { .. }));
        StockPlan {
            stock: self.stock.clone(),
            sheets: self.sheets.clone(),
            roll: on_roll.map(|stock| RollCut { stock, plan: self.plan.clone() }),
            bought: self.bought,
        }
    }

    /// Every piece placed on the fabric, sheets at hand first.
    ///
    /// # Errors
    /// As [`StockPlan::lays`].
    pub fn lays(&self) -> Result<Vec<StockLay>, CutError> {
        let pieces: Vec<&PreparedPiece> = self.pieces.iter().map(|p| p.prepared.as_ref()).collect();
        let mut lays = self.stock_plan().lays(&pieces)?;
        cut_blanks(lays.iter_mut().map(|on| &mut on.lay), &self.pieces)?;
        Ok(lays)
    }

    /// Checks lays of this plan piece by piece, trusting nothing but the pieces and their counts, and proves that
    /// each cut outline covers its exact cut shape.
    ///
    /// # Errors
    /// Every problem found.
    pub fn verify(&self, lays: &[StockLay]) -> Result<Verified, Vec<Problem>> {
        let counted: Vec<(&CutPiece, u64)> = patches(&self.pieces).map(|p| (p.prepared.piece(), p.count)).collect();
        let uncovered: Vec<Problem> = self
            .pieces
            .iter()
            .filter(|p| p.shape.as_ref().is_some_and(|shape| !shape.covers_cut_shape()))
            .map(|p| Problem::CutTooSmall { piece: p.prepared.id() })
            .collect();
        if uncovered.is_empty() { verify_stock(&self.stock, &counted, lays) } else { Err(uncovered) }
    }
}

/// The same strips, with their rows in an order in which they can be cut. The quick planner gives just those another one
/// that hold rows on one another.
fn in_order_of_work(
    mut cut: StockPlan,
    pieces: &[PlannedPiece],
    planner: Planner,
    terms: Terms<'_>,
) -> Result<StockPlan, CutError> {
    let on_sheets = cut.sheets.iter().flat_map(|run| &run.strips);
    let mut runs = on_sheets.chain(cut.roll.iter().flat_map(|roll| &roll.plan.strips));
    let is_stacked = |run: &StripRun| run.segments.iter().any(|segment| segment.start_y > 0);
    if planner == Planner::Quick && !runs.any(is_stacked) {
        return Ok(cut);
    }
    let step = RulerStep::of_length(terms.step)?;
    let pieces: Vec<&PreparedPiece> = pieces.iter().map(|piece| piece.prepared.as_ref()).collect();
    for run in &mut cut.sheets {
        run.strips = arrange(std::mem::take(&mut run.strips), (run.width, step), &pieces);
    }
    cut.roll = cut.roll.map(|roll| RollCut { plan: roll.plan.in_order_of_work(&pieces, step), ..roll });
    Ok(cut)
}

/// The pieces that end up in the quilt or beside it, without the blanks they are cut from.
pub(crate) fn patches(pieces: &[PlannedPiece]) -> impl Iterator<Item = &PlannedPiece> {
    pieces.iter().filter(|p| p.blank.is_none())
}

/// What is cut from strips: pieces and blanks, with how many.
pub(crate) fn from_strips(pieces: &[PlannedPiece]) -> Vec<(&PreparedPiece, u64)> {
    pieces.iter().map(|p| (p.prepared.as_ref(), p.from_strips())).collect()
}

/// Shares pieces out to the stock, strips planned by `planner`.
pub(crate) fn share(
    pieces: &[PlannedPiece],
    stock: &[Stock],
    planner: &mut StripPlanner<'_>,
) -> Result<StockPlan, CutError> {
    share_out(&from_strips(pieces), stock, planner).map_err(|e| name_piece(e, pieces))
}

/// Smaller is better: fabric and what the cuts are worth, then cuts, then strips.
pub(crate) fn score(cut: &StockPlan, pieces: &[PlannedPiece], wishes: &CuttingWishes) -> (i128, u64, u64) {
    let cuts = cuts(cut, pieces);
    let bought = match cut.bought {
        Bought::Nothing => 0,
        Bought::Length(length) => i128::from(length),
        // A sheet counts as the length of fabric it is: whatever fills one less, is less.
        Bought::Sheets { count, .. } => {
            let along = cut.stock.iter().rev().find_map(|s| match s {
                Stock::Sheet { length, count: None, .. } => Some(*length),
                _ => None,
            });
            i128::from(count) * i128::from(along.unwrap_or(0))
        }
    };
    (bought + i128::from(cut_worth(wishes)) * i128::from(cuts), cuts, cut.strips_cut())
}

/// Straight cuts of a plan, those that take blanks apart included.
pub(crate) fn cuts(cut: &StockPlan, pieces: &[PlannedPiece]) -> u64 {
    let on_roll = cut.roll.as_ref().map_or(0, |roll| roll.plan.cuts());
    let in_run = |run: &SheetRun| run.repeat.saturating_mul(cuts_of_strips(&run.strips));
    let outer = cut.sheets.iter().map(in_run).fold(on_roll, u64::saturating_add);
    outer.saturating_add(cuts_of_blanks(pieces))
}

/// Straight cuts that take blanks apart.
fn cuts_of_blanks(pieces: &[PlannedPiece]) -> u64 {
    pieces.iter().map(|p| p.count.saturating_mul(p.blank_cuts())).fold(0, u64::saturating_add)
}

/// Lay units of fabric length that one cut saved is worth.
pub(crate) fn cut_worth(wishes: &CuttingWishes) -> i64 {
    i64::from(wishes.cut_worth) * UNITS_PER_INCH / 100
}

/// Width of what is bought: usable width of fabric by length, or width of a precut.
pub(crate) const fn cut_width(fabric: &Fabric) -> &Length {
    match &fabric.sold {
        Sold::ByLength => &fabric.usable_width,
        Sold::Precut(precut) => &precut.width,
    }
}

/// Width of a fabric as it is cut, usable width of fabric by length or width of a precut, in lay units, rounded down.
///
/// # Errors
/// [`CutError::WidthOutOfRange`].
pub fn cut_units(fabric: &Fabric) -> Result<i64, CutError> {
    let inches = cut_width(fabric).inches();
    let units = inches.scale_int(UNITS_PER_INCH).floor();
    i64::try_from(units).map_err(|_| CutError::WidthOutOfRange { width: inches.to_decimal(4) })
}

/// So many fabrics are planned alike. Precuts and pieces at hand are different fabrics anyway and are cut as one pool.
pub(crate) fn parts(fabric: &Fabric) -> u16 {
    if fabric.in_hand.is_empty() && fabric.sold == Sold::ByLength { fabric.mixed_from.max(1) } else { 1 }
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
