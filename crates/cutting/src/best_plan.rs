//! The best plan of one fabric: methods chosen by what they save, then strips and their content optimised.

use std::collections::BTreeMap;
use std::sync::Arc;

use layout::Fabric;

use crate::best::{Wish, best};
use crate::bound::least_by_straight_strips;
use crate::cut_list::PlannedPiece;
use crate::error::CutError;
use crate::fabric_plan::{FabricPlan, Planner, Terms, cut_worth, from_strips, score, share};
use crate::methods::{Blank, Method, blanks_for};
use crate::piece::{CutPiece, Freedom, PieceId, PreparedPiece};
use crate::quick::quick;
use crate::rounding::RulerStep;
use crate::stock::{Stock, StockPlan};
use crate::watch::Watch;

/// The most kinds of piece for which methods are tried: each trial is a quick plan of all of them.
const MAX_KINDS_WITH_METHODS: usize = 60;

/// Of the steps of a fabric, each plan of a sheet takes one part in so many.
const SHEETS_SHARE: u64 = 16;

impl FabricPlan {
    /// The best plan for the pieces of this one, found in a counted number of steps. With `sewn`, some of the pieces
    /// are cut from those blanks, to be sewn before they are cut.
    ///
    /// # Errors
    /// [`CutError::Stopped`] when it was stopped; what keeps a blank from being cut.
    pub(crate) fn best(
        &self,
        fabric: &Fabric,
        sewn: Option<Vec<PlannedPiece>>,
        step: RulerStep,
        terms: Terms<'_>,
        watch: &Watch,
    ) -> Result<Self, CutError> {
        let search = Search { stock: &self.stock, wish: wish(terms), terms, step, watch };
        let named = |error: CutError| error.on_fabric(&fabric.name);
        // The bound is that of pieces cut one by one, whatever is sewn or cut from blanks in the end.
        let plain_bound = match &sewn {
            Some(_) => search.least_by_straight_strips(&self.pieces).map_err(named)?,
            None => None,
        };
        let is_plain = sewn.is_none();
        let plain = sewn.unwrap_or_else(|| self.pieces.clone());
        let (cut, found_bound) = search.optimised(&plain).map_err(named)?;
        let bound = if is_plain { found_bound } else { plain_bound };
        let mut kept = (plain, cut);
        if let Some(pieces) = search.with_methods(&kept.0, self.width).map_err(named)? {
            let (cut, _) = search.optimised(&pieces).map_err(named)?;
            if score(&cut, &pieces, terms.wishes) < score(&kept.1, &kept.0, terms.wishes) {
                kept = (pieces, cut);
            }
        }
        // Sheets are filled one after the other, and filling each as well as can be may need more of them than the quick
        // plan does. What that one leaves at hand is never bought.
        let quick = self.stock_plan();
        if is_plain && score(&quick, &self.pieces, terms.wishes) < score(&kept.1, &kept.0, terms.wishes) {
            kept = (self.pieces.clone(), quick);
        }
        let (pieces, cut) = kept;
        let mut made = Self::of_cut(self.fabric, fabric, Planner::Best, pieces, cut, terms).map_err(named)?;
        made.least_by_straight_strips = bound;
        Ok(made)
    }
}

fn wish(terms: Terms<'_>) -> Wish {
    Wish { cut_worth: cut_worth(terms.wishes), ..Wish::LEAST_FABRIC }
}

/// How far a method goes.
#[derive(Clone, Copy)]
enum Reach {
    /// All pieces come from blanks; the last blank may not be used up.
    All,
    /// Only whole blanks are cut; the rest is cut piece by piece.
    WholeBlanks,
}

/// What a search for the best plan of one fabric goes by.
struct Search<'a> {
    stock: &'a [Stock],
    wish: Wish,
    terms: Terms<'a>,
    step: RulerStep,
    watch: &'a Watch,
}

impl Search<'_> {
    /// The best strips for these pieces, and the bound for a fabric that is one length.
    fn optimised(&self, pieces: &[PlannedPiece]) -> Result<(StockPlan, Option<i64>), CutError> {
        let mut bound = None;
        let on_one_length = matches!(self.stock, [Stock::Roll { .. }]);
        // Sheets are filled one after the other, each a plan by itself, so each takes a share of the steps.
        let wish = if on_one_length { self.wish } else { Wish { steps: self.wish.steps / SHEETS_SHARE, ..self.wish } };
        let cut = share(pieces, self.stock, &mut |width, pieces| {
            let found = best(width, pieces, wish, self.watch)?;
            bound = on_one_length.then_some(found.least_by_straight_strips);
            Ok(found.plan)
        })?;
        Ok((cut, bound))
    }

    /// The bound for pieces cut one by one from one length; none where there are sheets as well.
    fn least_by_straight_strips(&self, pieces: &[PlannedPiece]) -> Result<Option<i64>, CutError> {
        let [Stock::Roll { width }] = self.stock else { return Ok(None) };
        least_by_straight_strips(*width, &from_strips(pieces), self.wish.steps, self.watch).map(Some)
    }

    /// The pieces with those methods that make the quick plan better; none if no method does.
    fn with_methods(&self, pieces: &[PlannedPiece], width: i64) -> Result<Option<Vec<PlannedPiece>>, CutError> {
        if pieces.len() > MAX_KINDS_WITH_METHODS {
            return Ok(None);
        }
        let mut kept = pieces.to_vec();
        let mut kept_score = self.rate(&kept)?;
        let mut changed = false;
        for index in 0..pieces.len() {
            let blanks = self.blanks_of(&kept, index, width);
            let tries = blanks.iter().flat_map(|b| [Reach::All, Reach::WholeBlanks].map(|reach| (b, reach)));
            for (blank, reach) in tries.collect::<Vec<_>>() {
                let Some(pieces) = with_blank(&kept, blank, reach, self.step)? else { continue };
                // A blank that does not fit the stock is no method for it.
                let Ok(rated) = self.rate(&pieces) else { continue };
                if rated < kept_score {
                    (kept, kept_score, changed) = (pieces, rated, true);
                    break;
                }
            }
        }
        Ok(changed.then_some(kept))
    }

    fn rate(&self, pieces: &[PlannedPiece]) -> Result<(i128, u64, u64), CutError> {
        let cut = share(pieces, self.stock, &mut |width, pieces| quick(width, pieces))?;
        Ok(score(&cut, pieces, self.terms.wishes))
    }

    /// The blanks that a piece may be cut from and that the maker does not avoid, those that hold most first.
    fn blanks_of(&self, pieces: &[PlannedPiece], index: usize, width: i64) -> Vec<Arc<Blank>> {
        let piece = &pieces[index];
        if piece.blank.is_some() || piece.is_section || piece.from_strips() == 0 {
            return Vec::new();
        }
        let mirror = piece.mirror.and_then(|id| pieces.iter().find(|p| p.prepared.id() == id && p.from_strips() > 0));
        let found = blanks_for(&piece.prepared, mirror.map(|p| p.prepared.as_ref()), width, self.step);
        let wanted = |blank: &Blank| !self.terms.wishes.avoid.contains(&blank.method.kind());
        let mut blanks: Vec<Arc<Blank>> = found.into_iter().filter(wanted).map(Arc::new).collect();
        blanks.sort_by_key(|blank| std::cmp::Reverse(blank.inner.len()));
        blanks
    }
}

/// The pieces with as many as `reach` says cut from `blank`; none when that is not one whole blank.
fn with_blank(
    pieces: &[PlannedPiece],
    blank: &Arc<Blank>,
    reach: Reach,
    step: RulerStep,
) -> Result<Option<Vec<PlannedPiece>>, CutError> {
    let each = blank.counts();
    let left = |id: &PieceId| pieces.iter().find(|p| p.prepared.id() == *id).map_or(0, PlannedPiece::from_strips);
    let blanks = match reach {
        Reach::All => each.iter().map(|(id, n)| left(id).div_ceil(*n)).max(),
        Reach::WholeBlanks => each.iter().map(|(id, n)| left(id) / n).min(),
    };
    let Some(blanks) = blanks.filter(|n| *n > 0) else { return Ok(None) };
    let mut listed = pieces.to_vec();
    add_blanks(&mut listed, blank, blanks, u64::MAX, step)?;
    Ok(Some(listed))
}

/// Lists `count` blanks and takes what they hold, at most `most` of each piece, from the pieces that are cut one by one.
pub(crate) fn add_blanks(
    listed: &mut Vec<PlannedPiece>,
    blank: &Arc<Blank>,
    count: u64,
    most: u64,
    step: RulerStep,
) -> Result<(), CutError> {
    let each: BTreeMap<PieceId, u64> = blank.counts();
    for piece in listed.iter_mut() {
        let from = each.get(&piece.prepared.id()).map_or(0, |n| n.saturating_mul(count));
        piece.from_blanks += from.min(most).min(piece.from_strips());
    }
    let first = blank.inner.first().and_then(|i| listed.iter().find(|p| p.prepared.id() == i.piece));
    let of_fabric = first.map_or(Freedom::NONE, |p| p.prepared.piece().freedom);
    // Fabric is folded selvage to selvage: a folded strip runs across and cannot be turned.
    let freedom = if matches!(blank.method, Method::Folded { .. }) { Freedom::NONE } else { of_fabric };
    let label = first.map_or_else(String::new, |p| format!("{} for {}", blank.method.blank_name(), p.label));
    let polygon = blank.outline().map_err(|_| CutError::TooLong)?;
    let id = PieceId(listed.iter().map(|p| p.prepared.id().0).max().unwrap_or(0).saturating_add(1));
    let prepared = Arc::new(PreparedPiece::new(CutPiece { id, polygon, freedom }, step)?);
    listed.push(PlannedPiece {
        has_grain: true,
        blank: Some(Arc::clone(blank)),
        ..PlannedPiece::new(label, count, prepared)
    });
    Ok(())
}
