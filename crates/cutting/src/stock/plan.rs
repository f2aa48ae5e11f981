//! What is cut from which sheet, what is bought, and where every piece lies.

use crate::error::CutError;
use crate::lay::{Lay, MAX_PLACEMENTS, lays};
use crate::piece::PreparedPiece;
use crate::strip_plan::{StripPlan, StripRun};

use super::Stock;

/// Equal sheets and the strips that are cut from each.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRun {
    /// Which entry of the stock.
    pub stock: usize,
    /// Whether strips run along the length of the sheet in place of its width.
    pub turned: bool,
    /// How many sheets are cut like this.
    pub repeat: u64,
    /// Length of the strips in lay units: the sheet's width, or its length when turned.
    pub width: i64,
    /// Room for strips in lay units: the sheet's length, or its width when turned.
    pub length: i64,
    /// The strips of one sheet, tallest first.
    pub strips: Vec<StripRun>,
}

impl SheetRun {
    /// One sheet of the run as a plan of its whole length.
    fn one_sheet(&self) -> StripPlan {
        StripPlan { width: self.width, length: self.length, strips: self.strips.clone() }
    }
}

/// What is cut from a roll.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RollCut {
    /// Which entry of the stock.
    pub stock: usize,
    /// The strips.
    pub plan: StripPlan,
}

/// What is known about a number of sheets to buy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Least {
    /// It may be that fewer would do.
    NotProved,
    /// These strips fit in no fewer sheets.
    OfTheseStrips,
    /// The pieces fit in no fewer sheets, however they are cut: their area is too large.
    ByAnyMeans,
}

/// What has to be bought beyond the sheets at hand, before shrinkage and rounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bought {
    /// Nothing.
    Nothing,
    /// A length in lay units.
    Length(i64),
    /// Precut pieces.
    Sheets {
        /// How many.
        count: u64,
        /// Whether fewer would do.
        least: Least,
    },
}

/// Pieces shared out to the stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockPlan {
    /// What there was to cut from.
    pub stock: Vec<Stock>,
    /// What is cut from sheets: those at hand, larger ones first, then those that are bought.
    pub sheets: Vec<SheetRun>,
    /// What is cut from a roll.
    pub roll: Option<RollCut>,
    /// What has to be bought.
    pub bought: Bought,
}

/// A lay and the stock it lies on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockLay {
    /// Which entry of the stock.
    pub stock: usize,
    /// Whether the sheet lies turned a quarter counter-clockwise: the lay is as wide as the sheet is long.
    pub turned: bool,
    /// The pieces on it.
    pub lay: Lay,
}

impl StockPlan {
    /// Strips in all.
    #[must_use]
    pub fn strips_cut(&self) -> u64 {
        let of_run = |run: &SheetRun| run.repeat.saturating_mul(run.strips.iter().map(|s| s.repeat).sum());
        let on_roll = self.roll.as_ref().map_or(0, |cut| cut.plan.strips_cut());
        self.sheets.iter().map(of_run).fold(on_roll, u64::saturating_add)
    }

    /// Every piece placed: one lay for every sheet, and one for the roll.
    ///
    /// # Errors
    /// [`CutError::TooManyToPlace`] above [`MAX_PLACEMENTS`], [`CutError::UnknownPiece`] if the plan was made from
    /// other pieces.
    pub fn lays(&self, pieces: &[&PreparedPiece]) -> Result<Vec<StockLay>, CutError> {
        let in_sheet = |run: &SheetRun| placed(&run.strips).max(1).saturating_mul(run.repeat.into());
        let on_roll = self.roll.as_ref().map_or(0, |cut| placed(&cut.plan.strips));
        let total = self.sheets.iter().map(in_sheet).fold(on_roll, u128::saturating_add);
        if total > u128::from(MAX_PLACEMENTS) {
            return Err(CutError::TooManyToPlace { pieces: total, limit: MAX_PLACEMENTS });
        }
        let mut found = Vec::new();
        for run in &self.sheets {
            let sheet = lays(&run.one_sheet(), pieces)?;
            for _ in 0..run.repeat {
                let on = |lay: &Lay| StockLay { stock: run.stock, turned: run.turned, lay: lay.clone() };
                found.extend(sheet.iter().map(on));
            }
        }
        if let Some(cut) = &self.roll {
            found.extend(lays(&cut.plan, pieces)?.into_iter().map(|lay| StockLay {
                stock: cut.stock,
                turned: false,
                lay,
            }));
        }
        Ok(found)
    }
}

/// Pieces in strips.
fn placed(strips: &[StripRun]) -> u128 {
    let each = |run: &StripRun| run.segments.iter().map(|s| u128::from(s.count)).sum::<u128>();
    strips.iter().map(|run| each(run).saturating_mul(run.repeat.into())).fold(0, u128::saturating_add)
}
