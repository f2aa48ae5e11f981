//! A plan read as whoever cuts reads it: piece after piece at the marks of the ruler, the last of a row like the others.

use cutting::{PreparedPiece, RowPattern, Segment, StripPlan};

/// Whether every row ends, cut off at a mark of the ruler, before the next one on its right begins.
pub(crate) fn rows_keep_apart(plan: &StripPlan, pieces: &[&PreparedPiece]) -> Result<(), String> {
    for strip in &plan.strips {
        for a in &strip.segments {
            let row = pattern(a, pieces);
            if a.start_x + row.width_of(a.count) > plan.width {
                return Err(format!("{a:?} is longer than its strip"));
            }
            let upper = a.start_y + row.strip_height();
            let beside = |b: &&Segment| {
                b.start_x > a.start_x && b.start_y < upper && a.start_y < b.start_y + pattern(b, pieces).strip_height()
            };
            if let Some(next) =
                strip.segments.iter().filter(beside).find(|b| a.start_x + row.room_of(a.count) > b.start_x)
            {
                return Err(format!("{a:?} takes what {next:?} is cut from"));
            }
        }
    }
    Ok(())
}

fn pattern<'a>(segment: &Segment, pieces: &[&'a PreparedPiece]) -> &'a RowPattern {
    &pieces.iter().find(|p| p.id() == segment.piece).unwrap().patterns()[segment.pattern]
}
