//! Strips and subcuts in the words of the cutting table, the same on screen and on paper.

use cutting::{FabricPlan, PieceId, PlannedPiece, RowPattern, Segment, StripRun};
use layout::Units;

use crate::lengths::{counted, ruler};

/// What is cut from each strip of a run, of one kind of piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowWords {
    /// The piece.
    pub piece: PieceId,
    /// Its number in the list of pieces, from 1.
    pub number: usize,
    /// "12 × background square, every 3¼″": how many, of what, and how they are cut apart.
    pub text: String,
}

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
    if piece.is_section {
        format!("{} {} long", piece.label, ruler(piece.prepared.bounds().width(), units))
    } else {
        piece.label.clone()
    }
}

/// "5¾″ × 2⅜″": width and height of a piece when it is cut.
#[must_use]
pub fn cut_size(piece: &PlannedPiece, units: Units) -> String {
    let bounds = piece.prepared.bounds();
    format!("{} × {}", ruler(bounds.width(), units), ruler(bounds.height(), units))
}

/// "3 strips 2½″ wide; from each", or "1 strip 2½″ wide; from it".
#[must_use]
pub fn strip_heading(strip: &StripRun, units: Units) -> String {
    let strips = counted(strip.repeat, "strip", "strips");
    let each = if strip.repeat == 1 { "it" } else { "each" };
    format!("{strips} {} wide; from {each}", ruler(strip.height, units))
}

/// What is cut from each strip of a run: one line a kind of piece, with how many and how they lie.
#[must_use]
pub fn strip_lines(plan: &FabricPlan, strip: &StripRun, units: Units) -> Vec<RowWords> {
    struct Found<'a> {
        number: usize,
        piece: &'a PlannedPiece,
        count: u64,
        rows: u64,
        how: String,
    }
    let mut found: Vec<Found<'_>> = Vec::new();
    for segment in &strip.segments {
        let Some((number, piece)) = piece_of(plan, segment) else { continue };
        let Some(pattern) = piece.prepared.patterns().get(segment.pattern) else { continue };
        let mut how = if segment.count > 1 { subcut(pattern, units) } else { String::new() };
        if pattern.strip_height() < strip.height {
            how.push_str(&format!(", from the strip's end cut down to {}", ruler(pattern.strip_height(), units)));
        }
        match found.iter_mut().find(|row| row.number == number && row.how == how) {
            Some(row) => {
                row.count += segment.count;
                row.rows += 1;
            }
            None => found.push(Found { number, piece, count: segment.count, rows: 1, how }),
        }
    }
    let words = |row: Found<'_>| {
        let rows = if row.rows > 1 { format!(", in {} rows", row.rows) } else { String::new() };
        let text = format!("{} × {}{}{rows}", row.count, piece_name(row.piece, units), row.how);
        RowWords { piece: row.piece.prepared.id(), number: row.number, text }
    };
    found.into_iter().map(words).collect()
}

/// How the pieces of a row are cut apart: turned by turns, at an angle, or square across, and how far apart.
fn subcut(pattern: &RowPattern, units: Units) -> String {
    if pattern.alternates() {
        return ", every other one turned".to_owned();
    }
    let ([polygon], [pitch]) = (pattern.polygons(), pattern.pitches()) else { return String::new() };
    let Some((run, height)) = parallel_sides(polygon) else { return String::new() };
    if run == 0 {
        return format!(", every {}", ruler(*pitch, units));
    }
    #[expect(clippy::cast_precision_loss, reason = "words for a ruler, not a decision")]
    let (run, height, pitch) = (run as f64, height as f64, *pitch as f64);
    let angle = (height.atan2(run).to_degrees() * 2.0).round() / 2.0;
    #[expect(clippy::cast_possible_truncation, reason = "shorter than the pitch")]
    let apart = (pitch * height / run.hypot(height)).floor() as i64;
    format!(", cut at {angle}°, {} apart", ruler(apart, units))
}

/// For a four-sided piece with its opposite sides parallel, lying on a side: how far the others lean over, and its height.
fn parallel_sides(polygon: &geometry::lay::LayPolygon) -> Option<(i64, i64)> {
    // Opposite sides may differ by the outward rounding of the grid.
    const SAME: u64 = 8;
    let [a, b, c, d] = polygon.corners() else { return None };
    let (along, back) = ((b.x - a.x, b.y - a.y), (c.x - d.x, c.y - d.y));
    let parallel = along.0.abs_diff(back.0) <= SAME && along.1.abs_diff(back.1) <= SAME;
    let (side, base) = ((c.x - b.x, c.y - b.y), along);
    let side = if base.1.unsigned_abs() <= SAME { side } else { base };
    let bounds = polygon.bounds();
    let stands = side.1.unsigned_abs().abs_diff(bounds.height().unsigned_abs()) <= SAME;
    let run = if side.0.unsigned_abs() <= SAME { 0 } else { side.0.abs() };
    (parallel && stands).then_some((run, bounds.height()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        for (index, letter) in [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")] {
            assert_eq!(strip_letter(index), letter);
        }
    }
}
