//! Pieces shared out to the stock: sheets at hand are filled first, what is left goes to what is bought.

use crate::error::CutError;
use crate::piece::PreparedPiece;
use crate::quick::refuse_repeats;
use crate::rounding::{Direction, decimal_inches};
use crate::strip_plan::{StripPlan, StripRun};

use super::bins::pack;
use super::fill::{Filled, Left, Lying, fill_sheet};
use super::plan::{Bought, Least, RollCut, SheetRun, StockPlan};
use super::{Stock, bins};

/// Plans strips for pieces on fabric of a width in lay units, as [`quick`](crate::quick()) does.
pub type Planner<'p> = dyn FnMut(i64, &[(&PreparedPiece, u64)]) -> Result<StripPlan, CutError> + 'p;

/// Shares pieces out to `stock`: sheets of which there is a count are filled first, larger ones before smaller; what
/// is left goes to the first roll or uncounted sheet.
///
/// Each sheet at hand is filled in the direction that uses more of it. On bought sheets three ways are compared: all
/// strips across, all along, and sheet by sheet; the fewest sheets win, then the fewest strips. A piece lies along a
/// turned sheet only if its fabric lets it be turned by quarters.
///
/// # Errors
/// [`CutError::ListedTwice`]; [`CutError::TooLargeForSheet`] for a piece that no bought sheet has room for;
/// [`CutError::StockUsedUp`] when nothing is bought and the sheets are too few; those of the planner.
pub fn share_out(
    pieces: &[(&PreparedPiece, u64)],
    stock: &[Stock],
    planner: &mut Planner<'_>,
) -> Result<StockPlan, CutError> {
    refuse_repeats(pieces)?;
    let mut left = Left::new(pieces);
    let mut sheets = Vec::new();
    let mut area_at_hand: i128 = 0;
    let area_of_all = left.double_area();
    for (index, width, length, count) in at_hand(stock) {
        area_at_hand = area_at_hand.saturating_add(double_area(width, length).saturating_mul(count.into()));
        fill_at_hand((index, width, length, count), &mut left, planner, &mut sheets)?;
    }
    let mut plan = StockPlan { stock: stock.to_vec(), sheets, roll: None, bought: Bought::Nothing };
    if left.is_empty() {
        return Ok(plan);
    }
    let bought = stock.iter().enumerate().find(|(_, s)| !matches!(s, Stock::Sheet { count: Some(_), .. }));
    match bought.map(|(index, stock)| (index, *stock)) {
        None => return Err(CutError::StockUsedUp { pieces: left.count() }),
        Some((index, Stock::Roll { width })) => {
            let cut = planner(width, left.pieces())?;
            plan.bought = Bought::Length(cut.length);
            plan.roll = Some(RollCut { stock: index, plan: cut });
        }
        Some((index, Stock::Sheet { width, length, .. })) => {
            let missing = area_of_all.saturating_sub(area_at_hand).max(0);
            let sheet = Buy { index, width, length, least: ceil(missing, double_area(width, length)) };
            let done = sheet.cut(&left, planner)?;
            plan.bought = Bought::Sheets { count: done.sheets(), least: sheet.known(&done) };
            plan.sheets.extend(done.runs);
        }
    }
    Ok(plan)
}

fn double_area(width: i64, length: i64) -> i128 {
    2 * i128::from(width) * i128::from(length)
}

fn ceil(number: i128, by: i128) -> u64 {
    let by = by.max(1);
    u64::try_from(number / by + i128::from(number % by > 0)).unwrap_or(u64::MAX)
}

/// The counted sheets: index, width, length, count; larger ones first, equal ones as they are listed.
fn at_hand(stock: &[Stock]) -> Vec<(usize, i64, i64, u64)> {
    let counted = stock.iter().enumerate().filter_map(|(i, s)| match *s {
        Stock::Sheet { width, length, count: Some(count) } if width > 0 && length > 0 => {
            Some((i, width, length, count))
        }
        Stock::Sheet { .. } | Stock::Roll { .. } => None,
    });
    let mut found: Vec<_> = counted.collect();
    found.sort_by_key(|&(_, width, length, _)| -double_area(width, length));
    found
}

/// Fills sheets of one size as long as there are any and something fits.
fn fill_at_hand(
    (stock, width, length, mut count): (usize, i64, i64, u64),
    left: &mut Left<'_>,
    planner: &mut Planner<'_>,
    sheets: &mut Vec<SheetRun>,
) -> Result<(), CutError> {
    while count > 0 && !left.is_empty() {
        let Some(Filled { lying, strips, times }) = fill_sheet((width, length), left, planner)? else { break };
        let repeat = times.min(count);
        left.take(&strips, repeat);
        count -= repeat;
        sheets.push(sheet_run(stock, lying, repeat, strips));
    }
    Ok(())
}

const fn sheet_run(stock: usize, lying: Lying, repeat: u64, strips: Vec<StripRun>) -> SheetRun {
    SheetRun { stock, turned: lying.turned, repeat, width: lying.width, length: lying.length, strips }
}

/// A sheet that is bought.
struct Buy {
    index: usize,
    width: i64,
    length: i64,
    /// No fewer sheets have the area that is missing.
    least: u64,
}

/// One way to cut everything that is left from bought sheets.
struct Cut {
    runs: Vec<SheetRun>,
    /// Whether these strips are known to need as many sheets.
    is_least: bool,
}

impl Cut {
    fn sheets(&self) -> u64 {
        self.runs.iter().map(|run| run.repeat).fold(0, u64::saturating_add)
    }

    fn strips(&self) -> u64 {
        let in_run = |run: &SheetRun| run.repeat.saturating_mul(run.strips.iter().map(|s| s.repeat).sum());
        self.runs.iter().map(in_run).fold(0, u64::saturating_add)
    }
}

impl Buy {
    fn known(&self, cut: &Cut) -> Least {
        if cut.sheets() <= self.least {
            Least::ByAnyMeans
        } else if cut.is_least {
            Least::OfTheseStrips
        } else {
            Least::NotProved
        }
    }

    /// The best of the ways that are tried.
    fn cut(&self, left: &Left<'_>, planner: &mut Planner<'_>) -> Result<Cut, CutError> {
        let [straight, turned] = Lying::both(self.width, self.length);
        self.refuse_too_large(left, [straight, turned])?;
        let mut best = self.packed(left, [straight, turned], planner)?;
        for way in [Some([turned, straight]), None] {
            if best.sheets() <= self.least {
                break;
            }
            let other = match way {
                Some(order) => Some(self.packed(left, order, planner)?),
                None => self.one_by_one(left, planner, best.sheets())?,
            };
            let score = |cut: &Cut| (cut.sheets(), cut.strips());
            if let Some(other) = other.filter(|other| score(other) < score(&best)) {
                best = other;
            }
        }
        Ok(best)
    }

    fn refuse_too_large(&self, left: &Left<'_>, lying: [Lying; 2]) -> Result<(), CutError> {
        let Some((piece, _)) = left.pieces().iter().find(|(p, _)| !lying.iter().any(|way| way.holds(p))) else {
            return Ok(());
        };
        let size = |width, length, direction| {
            format!("{} × {}", decimal_inches(width, direction), decimal_inches(length, direction))
        };
        Err(CutError::TooLargeForSheet {
            piece: piece.id(),
            label: None,
            size: size(piece.bounds().width(), piece.bounds().height(), Direction::Up),
            sheet: size(self.width, self.length, Direction::Down),
        })
    }

    /// All pieces that have room in the first direction in strips of that direction, the others in the other.
    fn packed(&self, left: &Left<'_>, order: [Lying; 2], planner: &mut Planner<'_>) -> Result<Cut, CutError> {
        let (first, second): (Vec<_>, Vec<_>) =
            left.pieces().iter().copied().partition(|(piece, _)| order[0].holds(piece));
        let mut cut = Cut { runs: Vec::new(), is_least: true };
        for (lying, pieces) in order.into_iter().zip([first, second]) {
            if pieces.is_empty() {
                continue;
            }
            let strips = lying.plan(&pieces, planner)?.strips;
            let heights: Vec<(i64, u64)> = strips.iter().map(|run| (run.height, run.repeat)).collect();
            let packing = pack(&heights, lying.length);
            cut.is_least &= packing.is_least;
            let of_bin = |bin: bins::Bin| {
                let run = |&(run, repeat): &(usize, u64)| StripRun { repeat, ..strips[run].clone() };
                sheet_run(self.index, lying, bin.repeat, bin.strips.iter().map(run).collect())
            };
            cut.runs.extend(packing.bins.into_iter().map(of_bin));
        }
        Ok(cut)
    }

    /// Sheet by sheet in the better direction; none as soon as that takes more than `most` sheets.
    fn one_by_one(&self, left: &Left<'_>, planner: &mut Planner<'_>, most: u64) -> Result<Option<Cut>, CutError> {
        let mut left = left.clone();
        let mut cut = Cut { runs: Vec::new(), is_least: false };
        while !left.is_empty() {
            let Some(Filled { lying, strips, times }) = fill_sheet((self.width, self.length), &left, planner)? else {
                return Ok(None);
            };
            left.take(&strips, times);
            cut.runs.push(sheet_run(self.index, lying, times, strips));
            if cut.sheets() > most {
                return Ok(None);
            }
        }
        Ok(Some(cut))
    }
}
