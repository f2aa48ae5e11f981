//! What is cut from each strip, in the words of the cutting table: how many of which piece, how they are cut apart, and in
//! which rows they lie.

use cutting::rounding::GRID_ALLOWANCE;
use cutting::{FabricPlan, PieceId, PlannedPiece, StripRun};
use layout::Units;

use crate::blank_words::blank_words_by;
use crate::cut_words::piece_name;
use crate::lengths::{marked, on_ruler_in};
use crate::row_words::{CutRow, is_cut_round, is_cut_square, subcut};
use crate::strip_order::{CutFrom, Found, rows_in_order};
use crate::template_letters::TemplateLetters;

/// What is cut from each strip of a run, of one kind of piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowWords {
    /// The piece.
    pub piece: PieceId,
    /// Its number in the list of pieces, from 1.
    pub number: usize,
    /// How many from each strip.
    pub count: u64,
    /// What is cut before, such as "Cut the rest of the strip, along the strip, into 3 bands 2½″ wide"; mostly nothing.
    pub first: Vec<String>,
    /// How they are cut apart, such as "every 3¼″"; empty where there is nothing to say.
    pub how: String,
    /// "12 × background square, every 3¼″": how many, of what, and how.
    pub text: String,
}

impl RowWords {
    /// What is done in the order of work: lines without a number come before the row of the number that follows.
    pub fn lines(&self) -> impl Iterator<Item = (Option<usize>, &str)> {
        self.first.iter().map(|first| (None, first.as_str())).chain([(Some(self.number), self.text.as_str())])
    }
}

/// What is cut from each strip of a run, `length` lay units long: one line a kind of piece, with how many and how they lie,
/// in the order of work.
#[must_use]
pub fn strip_lines(plan: &FabricPlan, strip: &StripRun, length: i64, units: Units) -> Vec<RowWords> {
    strip_lines_by(plan, (strip, length), units, &TemplateLetters::default())
}

/// The same with the letters of the templates that pieces are cut round.
pub(crate) fn strip_lines_by(
    plan: &FabricPlan,
    (strip, length): (&StripRun, i64),
    units: Units,
    letters: &TemplateLetters,
) -> Vec<RowWords> {
    rows_in_order(plan, (strip, length), units, letters)
        .into_iter()
        .map(|row| told(plan, strip, &row, units, letters))
        .collect()
}

fn told(plan: &FabricPlan, strip: &StripRun, row: &Found<'_>, units: Units, letters: &TemplateLetters) -> RowWords {
    let blank = blank_words_by(plan, strip, row.piece, units, letters);
    let blank = blank.map(|words| format!(", {words}")).unwrap_or_default();
    let how = match &row.from {
        CutFrom::Bands(bands) if row.is_one_a_band() => {
            format!("{}, {} from each of {bands}{blank}", row.how, row.rows[0])
        }
        CutFrom::Bands(bands) => format!("{}{}, from {bands}{blank}", row.how, rows_told(&row.rows)),
        CutFrom::Part(part) => format!("{}{}, from {part}{blank}", row.how, rows_told(&row.rows)),
        CutFrom::Strip => format!("{}{}{blank}", row.how, rows_told(&row.rows)),
    };
    let count = row.rows.iter().sum();
    let text = format!("{count} × {}{how}", piece_name(row.piece, units));
    let how = how.strip_prefix(", ").unwrap_or(&how).to_owned();
    RowWords { piece: row.piece.prepared.id(), number: row.number, count, first: row.first.clone(), how, text }
}

/// How the pieces of a row are cut off their strip, and how they stand in it where that is not told by their length.
pub(crate) fn how_cut(piece: &PlannedPiece, row: &CutRow<'_>, units: Units, letters: &TemplateLetters) -> String {
    let CutRow { pattern, count, .. } = *row;
    if piece.blank.is_some() {
        return String::new();
    }
    let Some(bounds) = pattern.polygons().first().map(geometry::lay::LayPolygon::bounds) else { return String::new() };
    // Sections have their length in their name, binding strips in the width of the fabric; but for those that stand upright.
    let is_strip = piece.is_section || piece.shape.is_none();
    let is_turned = bounds.width().abs_diff(piece.prepared.bounds().width()) > GRID_ALLOWANCE.unsigned_abs();
    let is_upright = bounds.height() > bounds.width();
    if count == 1 && is_turned && (is_strip || (is_upright && is_cut_square(pattern))) {
        let along = marked(&on_ruler_in(pattern.first_width().max(row.pitch().unwrap_or(0))), units);
        return format!(", standing upright: {along} along the strip");
    }
    if count == 1 && is_strip {
        return String::new();
    }
    let how = subcut(row, units, letters.of(piece.prepared.id()));
    let may_lie = piece.hand.is_some() || is_cut_round(pattern) || (is_turned && is_cut_square(pattern));
    let upright = if is_upright && may_lie { ", standing upright in the strip" } else { "" };
    format!("{how}{upright}")
}

/// ", in rows of 14, 6 and 8 × 10": how many are in each of several rows.
fn rows_told(rows: &[u64]) -> String {
    let mut runs: Vec<(u64, u64)> = Vec::new();
    for each in rows {
        match runs.last_mut() {
            Some((count, times)) if count == each => *times += 1,
            _ => runs.push((*each, 1)),
        }
    }
    let run = |(count, times): &(u64, u64)| if *times == 1 { count.to_string() } else { format!("{times} × {count}") };
    match &runs[..] {
        [] | [(_, 1)] => String::new(),
        [(1, times)] => format!(", in {times} rows"),
        [(count, times)] => format!(", in {times} rows of {count}"),
        [most @ .., last] => {
            let most: Vec<String> = most.iter().map(run).collect();
            format!(", in rows of {} and {}", most.join(", "), run(last))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_told_as_they_are() {
        let told = [
            (vec![7], ""),
            (vec![1, 1], ", in 2 rows"),
            (vec![7, 7], ", in 2 rows of 7"),
            (vec![14, 6], ", in rows of 14 and 6"),
            (vec![14, 6, 10, 10, 10], ", in rows of 14, 6 and 3 × 10"),
        ];
        for (rows, words) in told {
            assert_eq!(rows_told(&rows), words, "{rows:?}");
        }
    }
}
