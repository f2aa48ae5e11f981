//! What is cut from each strip, in the words of the cutting table: how many of which piece, how they are cut apart, and in
//! which rows they lie.

use cutting::rounding::GRID_ALLOWANCE;
use cutting::{FabricPlan, PieceId, PlannedPiece, RowPattern, Segment, StripRun};
use layout::Units;

use crate::blank_words::blank_words_by;
use crate::cut_words::{piece_name, piece_of};
use crate::lengths::{marked, on_ruler_in, ruler};
use crate::row_words::subcut;
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
    /// How they are cut apart, such as "every 3¼″"; empty where there is nothing to say.
    pub how: String,
    /// "12 × background square, every 3¼″": how many, of what, and how.
    pub text: String,
}

/// Rows of one kind of piece that are cut alike.
struct Found<'a> {
    number: usize,
    piece: &'a PlannedPiece,
    /// How many in each row.
    rows: Vec<u64>,
    how: String,
}

/// What is cut from each strip of a run: one line a kind of piece, with how many and how they lie.
#[must_use]
pub fn strip_lines(plan: &FabricPlan, strip: &StripRun, units: Units) -> Vec<RowWords> {
    strip_lines_by(plan, strip, units, &TemplateLetters::default())
}

/// The same with the letters of the templates that pieces are cut round.
pub(crate) fn strip_lines_by(
    plan: &FabricPlan,
    strip: &StripRun,
    units: Units,
    letters: &TemplateLetters,
) -> Vec<RowWords> {
    let row_height = |segment: &Segment| {
        let (_, piece) = piece_of(plan, segment)?;
        Some(piece.prepared.patterns().get(segment.pattern)?.strip_height())
    };
    // A strip as high as rows stacked in it is cut into parts first; others have lower rows at their end.
    let is_stacked = strip.segments.iter().filter_map(row_height).all(|height| height < strip.height);
    let part = if is_stacked { "a part of the strip" } else { "the strip’s end" };
    let mut found: Vec<Found<'_>> = Vec::new();
    for segment in &strip.segments {
        let Some((number, piece)) = piece_of(plan, segment) else { continue };
        let Some(pattern) = piece.prepared.patterns().get(segment.pattern) else { continue };
        let mut how = how_cut(piece, pattern, segment.count, units, letters);
        if pattern.strip_height() < strip.height {
            how.push_str(&format!(", from {part} cut down to {}", ruler(pattern.strip_height(), units)));
        }
        match found.iter_mut().find(|row| row.number == number && row.how == how) {
            Some(row) => row.rows.push(segment.count),
            None => found.push(Found { number, piece, rows: vec![segment.count], how }),
        }
    }
    let words = |row: Found<'_>| {
        let blank = blank_words_by(plan, strip, row.piece, units, letters);
        let blank = blank.map(|words| format!(", {words}")).unwrap_or_default();
        let how = format!("{}{}{blank}", row.how, rows_told(&row.rows));
        let count = row.rows.iter().sum();
        let text = format!("{count} × {}{how}", piece_name(row.piece, units));
        let how = how.strip_prefix(", ").unwrap_or(&how).to_owned();
        RowWords { piece: row.piece.prepared.id(), number: row.number, count, how, text }
    };
    found.into_iter().map(words).collect()
}

/// How the pieces of a row are cut off their strip, and how they stand in it where that is not told by their length.
fn how_cut(piece: &PlannedPiece, pattern: &RowPattern, count: u64, units: Units, letters: &TemplateLetters) -> String {
    if piece.blank.is_some() {
        return String::new();
    }
    let Some(bounds) = pattern.polygons().first().map(geometry::lay::LayPolygon::bounds) else { return String::new() };
    // Sections have their length in their name, binding strips in the width of the fabric; but for those that stand upright.
    let is_strip = piece.is_section || piece.shape.is_none();
    let is_turned = bounds.width().abs_diff(piece.prepared.bounds().width()) > GRID_ALLOWANCE.unsigned_abs();
    if count == 1 && is_strip && is_turned {
        let along = marked(&on_ruler_in(pattern.first_width()), units);
        return format!(", standing upright: {along} along the strip");
    }
    if count == 1 && is_strip {
        return String::new();
    }
    let how = subcut(pattern, count, units, letters.of(piece.prepared.id()));
    let upright =
        if piece.hand.is_some() && bounds.height() > bounds.width() { ", standing upright in the strip" } else { "" };
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
