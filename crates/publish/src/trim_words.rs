//! What is done with pieces whose strips or cuts are set wider on the ruler than the pieces are: they are trimmed before
//! they are sewn, or later with their unit where they have a margin for it.

use cutting::methods::{Blank, Method};
use cutting::rounding::GRID_ALLOWANCE;
use cutting::{FabricPlan, PlannedPiece, RowPattern};
use geometry::lay::UNITS_PER_INCH;
use layout::{Source, Units};

use crate::lengths::ruler;
use crate::row_words::{CutRow, float, is_cut_round};

/// So much too wide, in lay units, nobody trims off: about half of the finest mark that rulers for fabric have, which is
/// 1/16 in or 1 mm (common practice, no source).
pub(crate) const fn hair_of(units: Units) -> i64 {
    match units {
        Units::Inches => UNITS_PER_INCH / 32,
        // A little more, since strips are set in whole halves of a millimetre.
        Units::Centimetres => UNITS_PER_INCH * 6 / 254,
    }
}

/// What is trimmed of a piece because the ruler set it wider, after its exact size; none where it is cut exactly.
#[must_use]
pub fn trim_words(plan: &FabricPlan, piece: &PlannedPiece, units: Units) -> Option<String> {
    if let Some(blank) = &piece.blank {
        return blank_trim(blank, units);
    }
    piece.shape.as_ref()?;
    let over = set_wider_by(plan, piece);
    if over <= GRID_ALLOWANCE {
        return None;
    }
    Some(match (piece.oversize_area2 > 0, is_cut_to_length(piece)) {
        (true, _) => "trimmed later with its unit".to_owned(),
        (false, _) if over < hair_of(units) => hair(units),
        (false, true) => "trim to this width before sewing".to_owned(),
        (false, false) => "trim to this size before sewing".to_owned(),
    })
}

/// What is said where the ruler sets a piece wider by less than a blade can trim off.
fn hair(units: Units) -> String {
    let less = match units {
        Units::Inches => "1/32″",
        Units::Centimetres => "0.06 cm",
    };
    format!("sew as cut: less than {less} over")
}

/// What is cut out of other blanks is trimmed piece by piece; these are sewn as they are.
fn blank_trim(blank: &Blank, units: Units) -> Option<String> {
    let exact = ruler(blank.exact_height, units);
    let over = blank_over(blank);
    match blank.method {
        _ if over <= GRID_ALLOWANCE => None,
        Method::SquareOnce | Method::SquareTwice | Method::Folded { .. } | Method::Nested { .. } => None,
        _ if over < hair_of(units) => Some(hair(units)),
        Method::StripSet(_) | Method::OntoStrip(_) => Some(format!("trim to {exact} wide before sewing")),
        Method::PairedSquares(_) | Method::QuarteredPairs(_) => {
            Some(format!("exactly {exact} square: trim the units after sewing"))
        }
    }
}

/// By how many lay units at most the strips and cuts that a piece comes from are set wider than the piece is.
fn set_wider_by(plan: &FabricPlan, piece: &PlannedPiece) -> i64 {
    let id = piece.prepared.id();
    let cloths = plan.cloths();
    let rows = cloths.iter().flat_map(|cloth| {
        let strips = cloth.strips.iter().map(|strip| (strip, cloth.width));
        strips.flat_map(|strip| strip.0.segments.iter().map(move |segment| (segment, strip)))
    });
    let own = rows.filter(|(segment, _)| segment.piece == id).filter_map(|(segment, strip)| {
        let row = piece.prepared.patterns().get(segment.pattern)?;
        // What is cut round a template is cut exactly, whatever the strip is set to.
        if is_cut_round(row) {
            return None;
        }
        // Only the width counts here of what is cut to its length later.
        let is_set = segment.count > 1 || CutRow::new(row, segment, strip).pitch().is_some();
        let long = if is_set && !is_cut_to_length(piece) { longer_by(row) } else { 0 };
        Some(higher_by(row).max(long))
    });
    let of_piece = |blank: &&Blank| blank.counts().contains_key(&id);
    let blanks = plan.pieces.iter().filter_map(|other| other.blank.as_deref()).filter(of_piece).map(blank_over);
    own.chain(blanks).max().unwrap_or(0)
}

/// Whether a piece gets its length when the top is measured, or after sections are joined.
fn is_cut_to_length(piece: &PlannedPiece) -> bool {
    piece.is_section || piece.strips.keys().any(|source| matches!(source, Source::Border { .. }))
}

/// How much wider the strip is set than the piece is high; of a triangle, how much its greatest height becomes larger, since
/// all of it grows with the strip.
fn higher_by(row: &RowPattern) -> i64 {
    let Some(polygon) = row.polygons().first() else { return 0 };
    let over = row.strip_height() - polygon.bounds().height();
    let sides: Vec<f64> = polygon.edges().map(|(a, b)| float(b.x - a.x).hypot(float(b.y - a.y))).collect();
    let base = polygon.edges().zip(&sides).filter(|((a, b), _)| a.y == b.y).map(|(_, side)| *side).fold(0.0, f64::max);
    let least = sides.iter().copied().fold(f64::INFINITY, f64::min);
    if sides.len() == 3 && base > least { scaled(over, base / least) } else { over }
}

/// A small length times a ratio of two sides.
#[expect(clippy::cast_possible_truncation, reason = "words about a hair, not a decision")]
fn scaled(over: i64, by: f64) -> i64 {
    (float(over) * by).round() as i64
}

/// How much farther apart cuts along the strip are set than the piece is long. Cuts between triangles follow from the strip,
/// since each begins where the last one ended.
fn longer_by(row: &RowPattern) -> i64 {
    let polygons = row.polygons();
    if polygons.iter().any(|polygon| polygon.corners().len() == 3) {
        return 0;
    }
    row.pitches().iter().zip(row.least_pitches()).map(|(pitch, least)| pitch - least).max().unwrap_or(0)
}

/// How much wider a blank is set than it needs to be, measured as in strips. What is cut round a template is cut exactly;
/// the legs of triangles of a square that is cut twice are its side over √2.
fn blank_over(blank: &Blank) -> i64 {
    let over = (blank.width - blank.exact_width).max(blank.height - blank.exact_height);
    match blank.method {
        Method::Nested { .. } => 0,
        Method::SquareTwice => scaled(over, std::f64::consts::FRAC_1_SQRT_2),
        _ => over,
    }
}
