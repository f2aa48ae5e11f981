//! Strips and subcuts in the words of the cutting table, the same on screen and on paper.

use std::collections::BTreeMap;

use cutting::methods::{Method, SewnMethod};
use cutting::{
    BindingCut, Cloth, FabricPlan, PlannedPiece, PrecutPurchase, Purchase, Segment, SewnPart, SewnRun, Stock, StripRun,
};
use geometry::lay::{LayBounds, UNITS_PER_INCH};
use geometry::{Exact, inches_to_mm};
use layout::{BindingGrain, Design, EditError, Units};

use crate::blank_words::blank_size;
pub use crate::cut_shape_words::cut_size;
use crate::joined_words::where_it_goes;
use crate::lengths::{angle_of, counted, fabric_length, finished, ruler};
pub use crate::strip_words::{RowWords, strip_lines};
pub use crate::trim_words::trim_words;

/// The letter of a strip in the order of work: A to Z, then AA, AB and so on. The first is `index` 0.
#[must_use]
pub fn strip_letter(index: usize) -> String {
    let (more, last) = (index / 26, index % 26);
    let letter = u8::try_from(last).map_or('?', |last| char::from(b'A' + last));
    match more {
        0 => letter.to_string(),
        more => format!("{}{letter}", strip_letter(more - 1)),
    }
}

/// The piece that a row of a strip is cut into, with its number in the list of pieces, from 1.
#[must_use]
pub fn piece_of<'a>(plan: &'a FabricPlan, segment: &Segment) -> Option<(usize, &'a PlannedPiece)> {
    plan.pieces.iter().enumerate().find(|(_, p)| p.prepared.id() == segment.piece).map(|(index, p)| (index + 1, p))
}

/// What a piece is called: sections of a strip, which share a label, by their cut length as well.
#[must_use]
pub fn piece_name(piece: &PlannedPiece, units: Units) -> String {
    if let Some(blank) = &piece.blank {
        format!("{} {}", blank_size(blank, units), piece.label)
    } else if piece.is_section {
        format!("{} {} long", piece.label, ruler(piece.prepared.bounds().width(), units))
    } else {
        piece.label.clone()
    }
}

/// The same for a list of pieces, where borders and fillers are told with where they go: "border (sides of border 1)".
#[must_use]
pub fn listed_name(piece: &PlannedPiece, units: Units) -> String {
    format!("{}{}", piece_name(piece, units), where_it_goes(piece))
}

/// "5¾″ × 2⅜″": width and height of the rectangle round a shape on the lay grid.
#[must_use]
pub fn bounds_words(bounds: &LayBounds, units: Units) -> String {
    format!("{} × {}", ruler(bounds.width(), units), ruler(bounds.height(), units))
}

/// "3 strips 2½″ wide; from each", or "1 strip 2½″ wide; from it".
#[must_use]
pub fn strip_heading(strip: &StripRun, units: Units) -> String {
    let strips = counted(strip.repeat, "strip", "strips");
    let each = if strip.repeat == 1 { "it" } else { "each" };
    format!("{strips} {} wide; from {each}", ruler(strip.height, units))
}

/// How the strips of a binding lie and are joined, after their width; nothing where they lie straight across.
#[must_use]
pub fn binding_words(binding: &BindingCut, units: Units) -> String {
    match binding.grain {
        BindingGrain::Across => String::new(),
        BindingGrain::Bias => {
            let long = match units {
                Units::Inches => format!("{}″", binding.strip_length.to_decimal(1)),
                Units::Centimetres => finished(&binding.strip_length, units),
            };
            format!(" and {long} long, on the bias, joined at their slanted ends,")
        }
    }
}

/// How near a plan is to the least, as lines; none where nothing is known.
#[must_use]
pub fn bound_words(plan: &FabricPlan) -> Vec<String> {
    let length = plan.plan.length;
    let mut lines = Vec::new();
    if let Some(bound) = plan.least_by_straight_strips.filter(|bound| *bound > 0 && length > 0) {
        lines.push(match percent_over(length, bound) {
            Some(percent) => format!("within {percent} % of the least by straight strips"),
            None if length < bound => "shorter than straight strips alone could be".to_owned(),
            None => "as short as straight strips can be".to_owned(),
        });
    }
    let by_any_means = plan.least_by_any_means;
    if by_any_means > 0
        && let Some(percent) = percent_over(length, by_any_means)
    {
        lines.push(format!("within {percent} % of the least by any means"));
    }
    lines
}

/// What to buy, as a person asks for it: "1⅜ yd", "8 × ⅜ yd", "6 pieces 22″ × 18″", or "nothing".
#[must_use]
pub fn buy_words(plan: &FabricPlan) -> String {
    bought_words(plan, &plan.purchase, plan.precuts.as_ref())
}

/// The same where something else is bought of the plan's fabric, such as for several quilts.
pub(crate) fn bought_words(plan: &FabricPlan, purchase: &Purchase, precuts: Option<&PrecutPurchase>) -> String {
    match precuts {
        Some(precuts) if precuts.buy == 0 => "nothing".to_owned(),
        Some(precuts) => {
            let (one, many) = precut_words(plan);
            counted(precuts.buy, one, many)
        }
        None if plan.plan.length == 0 => "nothing".to_owned(),
        None if plan.parts > 1 => format!("{} × {}", plan.parts, purchase.label),
        None => purchase.label.clone(),
    }
}

/// What the strips are cut from, in short: "42″ long, 40″ wide", "6 fat quarters 22″ × 18″", or both.
#[must_use]
pub fn cloth_words(plan: &FabricPlan, units: Units) -> String {
    let length = (plan.plan.length > 0)
        .then(|| format!("{} long, {} wide", fabric_length(plan.plan.length, units), ruler(plan.width, units)));
    sheets_used(plan, units, |_| true).chain(length).collect::<Vec<_>>().join("; ")
}

/// Which of the pieces at hand are cut, in short: "2 pieces at hand 22″ × 18″"; empty for none.
#[must_use]
pub fn at_hand_words(plan: &FabricPlan, units: Units) -> String {
    let at_hand = |stock: &Stock| matches!(stock, Stock::Sheet { count: Some(_), .. });
    sheets_used(plan, units, at_hand).collect::<Vec<_>>().join("; ")
}

/// How many of each of these sheets are cut, with their size.
fn sheets_used(plan: &FabricPlan, units: Units, wanted: impl Fn(&Stock) -> bool) -> impl Iterator<Item = String> {
    let mut sheets: Vec<(usize, u64)> = Vec::new();
    for run in &plan.sheets {
        match sheets.iter_mut().find(|(stock, _)| *stock == run.stock) {
            Some((_, count)) => *count += run.repeat,
            None => sheets.push((run.stock, run.repeat)),
        }
    }
    sheets.into_iter().filter_map(move |(stock, count)| match plan.stock.get(stock) {
        Some(sheet @ Stock::Sheet { width, length, .. }) if wanted(sheet) => {
            let (one, many) = sheet_words(plan, stock);
            Some(format!("{} {} × {}", counted(count, one, many), ruler(*width, units), ruler(*length, units)))
        }
        _ => None,
    })
}

/// What one and several of the precuts are called that a fabric is bought as; sizes are common practice, no source.
fn precut_words(plan: &FabricPlan) -> (&'static str, &'static str) {
    let sheet = plan.stock.iter().find_map(|stock| match *stock {
        Stock::Sheet { width, length, count: None } => Some((width, length)),
        _ => None,
    });
    let inches = |halves: i64| halves * UNITS_PER_INCH / 2;
    match sheet {
        Some((width, length)) if (width, length) == (inches(44), inches(36)) => ("fat quarter", "fat quarters"),
        Some((width, length)) if width == length && width == inches(10) => ("5″ square", "5″ squares"),
        Some((width, length)) if width == length && width == inches(20) => ("10″ square", "10″ squares"),
        Some((_, length)) if length == inches(5) => ("2½″ strip", "2½″ strips"),
        _ => ("precut piece", "precut pieces"),
    }
}

/// What every cloth of a plan is headed with, in the order of work; none for fabric by length that is all there is.
/// Sheets of one kind are told apart by their numbers.
#[must_use]
pub fn cloth_headings(plan: &FabricPlan, units: Units) -> Vec<Option<String>> {
    let heading = |(cloth, name): (&Cloth<'_>, Option<String>)| {
        let name = name?;
        let Some((_, turned)) = cloth.sheet else { return Some(format!("From {name}")) };
        let size = format!("{} × {}", ruler(cloth.width, units), ruler(cloth.length, units));
        let lies = if turned { ", its long way turned across" } else { "" };
        let (article, comma) = match (cloth.repeat, name.contains(" of ")) {
            (1, false) => ("a ", ""),
            (1, true) => ("", ","),
            (_, false) => ("each of ", ""),
            (_, true) => ("each of ", ","),
        };
        Some(format!("From {article}{name}{comma} {size}{lies}"))
    };
    plan.cloths().iter().zip(cloth_names(plan)).map(heading).collect()
}

/// What every cloth of a plan is called, in the order of work: "fat quarter 2 of 5"; none for fabric by length that is
/// all there is.
#[must_use]
pub fn cloth_names(plan: &FabricPlan) -> Vec<Option<String>> {
    let total = |stock: usize| plan.sheets.iter().filter(|run| run.stock == stock).map(|run| run.repeat).sum::<u64>();
    let mut before = BTreeMap::new();
    let name = |cloth: &Cloth<'_>| match cloth.sheet {
        None => (!plan.sheets.is_empty()).then(|| "the length that is bought".to_owned()),
        Some((stock, _)) => {
            let first = before.entry(stock).or_insert(1_u64);
            let last = *first + cloth.repeat.saturating_sub(1);
            let which = which_sheets(sheet_words(plan, stock), (*first, last), total(stock));
            *first += cloth.repeat;
            Some(which)
        }
    };
    plan.cloths().iter().map(name).collect()
}

/// "fat quarter", "3 fat quarters", or by their numbers "fat quarter 2 of 3".
fn which_sheets((one, many): (&str, &str), (first, last): (u64, u64), total: u64) -> String {
    match (last - first + 1, total) {
        (1, 1) => one.to_owned(),
        (1, _) => format!("{one} {first} of {total}"),
        (count, _) if count == total => format!("{total} {many}"),
        _ => format!("{many} {first} to {last} of {total}"),
    }
}

/// What one and several of the sheets are called that the stock has under this number.
fn sheet_words(plan: &FabricPlan, stock: usize) -> (&'static str, &'static str) {
    match plan.stock.get(stock) {
        Some(Stock::Sheet { count: Some(_), .. }) => ("piece at hand", "pieces at hand"),
        _ => precut_words(plan),
    }
}

/// What is sewn before it is cut, as one instruction.
///
/// # Errors
/// Not for a run of this design.
pub fn sewn_line(run: &SewnRun, design: &Design) -> Result<String, EditError> {
    let units = design.units();
    let named = |part: &SewnPart| design.fabric(part.fabric).map(|fabric| fabric.name.clone());
    let size = |part: &SewnPart| ruler(part.blank.height, units);
    let parts: Vec<String> = run
        .parts
        .iter()
        .map(|part| Ok(format!("{} {}", named(part)?, size(part))))
        .collect::<Result<_, EditError>>()?;
    let Some(first) = run.parts.first() else { return Ok(String::new()) };
    let apart = match first.blank.method {
        Method::StripSet(across) | Method::OntoStrip(across) if across.lean == 0 => ruler(across.square_to_cut, units),
        Method::StripSet(across) | Method::OntoStrip(across) => {
            format!("{} at {}", ruler(across.square_to_cut, units), angle_of(&across))
        }
        _ => String::new(),
    };
    let made = counted(run.units, "unit", "units");
    Ok(match run.method {
        SewnMethod::StripSet => {
            let sets = counted(first.blanks, "strip set", "strip sets");
            format!(
                "Sew {sets} of {}; cut across every {apart} into {}",
                parts.join(" + "),
                counted(run.units, "segment", "segments")
            )
        }
        SewnMethod::OntoStrip => {
            let strips = counted(first.blanks, "strip", "strips");
            format!(
                "Sew the neighbours of the {} onto {strips} of {}, {apart} apart, then cut apart: {made}",
                first.label,
                parts.join("")
            )
        }
        SewnMethod::PairedSquares => format!(
            "Pair {} of {}: sew on both sides of a diagonal, cut on it: {made}",
            counted(first.blanks, "square each", "squares each"),
            parts.join(" and ")
        ),
        SewnMethod::QuarteredPairs => format!(
            "Pair squares of {}, sew and cut on the diagonal, pair the units across their seams, sew and cut again: {made}",
            parts.join(" and ")
        ),
    })
}

/// By how many hundredths `length` is more than `least`, rounded up to tenths; none when it is not.
#[must_use]
pub fn percent_over(length: i64, least: i64) -> Option<String> {
    let over = i128::from(length) - i128::from(least);
    let tenths = (over > 0).then(|| (over * 1000 + i128::from(least) - 1) / i128::from(least.max(1)))?;
    Some(format!("{}.{}", tenths / 10, tenths % 10))
}

/// The lines that lead to what is bought, each with its length in words: where the required length goes, then what is
/// added for buying. Lines of nothing are left out; a fabric that stands for several is told for one of them.
#[must_use]
pub fn purchase_lines(plan: &FabricPlan, units: Units) -> Vec<(&'static str, String)> {
    let cost = plan.all_parts().cost().map(|cost| ("cost", cost.to_string()));
    // Nothing is taken of a length: how many are bought is all there is to tell.
    if plan.plan.length == 0 {
        return [("to buy", buy_words(plan))].into_iter().chain(cost).collect();
    }
    let mut running = Running { units, sum: Exact::ZERO };
    let of_plan = plan.breakdown.lines().into_iter().filter_map(|line| running.line(line));
    of_plan.chain(buying_lines(&plan.purchase, units)).chain(cost).collect()
}

/// The lines from the length that is required to what is bought. Lines of nothing are left out.
pub(crate) fn buying_lines(bought: &Purchase, units: Units) -> Vec<(&'static str, String)> {
    let added = [
        ("squaring up", &bought.squaring_up),
        ("shrinkage", &bought.shrinkage),
        ("rounding to the step of sale", &bought.rounding),
    ];
    let mut running = Running { units, sum: bought.required.clone() };
    let mut lines = vec![("required", running.total())];
    lines.extend(added.into_iter().filter_map(|line| running.line(line)));
    lines.push(("to buy", running.total()));
    lines
}

/// Lines shown with two decimals that add up as they are shown: each is the difference of two rounded sums.
struct Running {
    units: Units,
    /// Of the lines so far, in inches.
    sum: Exact,
}

impl Running {
    /// A line with its length; none for nothing.
    fn line(&mut self, (name, inches): (&'static str, &Exact)) -> Option<(&'static str, String)> {
        let before = self.rounded();
        self.sum += inches;
        (!inches.is_zero()).then(|| (name, self.told(&(&self.rounded() - &before))))
    }

    fn total(&self) -> String {
        self.told(&self.rounded())
    }

    /// The sum to the nearest hundredth of an inch or centimetre, in that unit.
    fn rounded(&self) -> Exact {
        let shown = match self.units {
            Units::Inches => self.sum.clone(),
            Units::Centimetres => &inches_to_mm(&self.sum) * &Exact::ratio(1, 10).unwrap_or_default(),
        };
        let hundredths = (&shown.scale_int(100) + &Exact::ONE.half()).floor();
        &Exact::from(hundredths) * &Exact::ratio(1, 100).unwrap_or_default()
    }

    fn told(&self, shown: &Exact) -> String {
        match self.units {
            Units::Inches => format!("{}″", shown.to_decimal(2)),
            Units::Centimetres => format!("{} cm", shown.to_decimal(2)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_told_apart_by_number() {
        let rows = [
            ((1, 1), 1, "fat quarter"),
            ((1, 3), 3, "3 fat quarters"),
            ((2, 2), 3, "fat quarter 2 of 3"),
            ((2, 4), 5, "fat quarters 2 to 4 of 5"),
        ];
        for (numbers, total, told) in rows {
            assert_eq!(which_sheets(("fat quarter", "fat quarters"), numbers, total), told);
        }
    }

    #[test]
    fn letters_go_on_after_z() {
        for (index, letter) in [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")] {
            assert_eq!(strip_letter(index), letter);
        }
    }
}
