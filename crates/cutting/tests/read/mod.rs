//! A plan read as whoever cuts reads it: piece after piece at the marks of the ruler, the last of a row like the others.

use cutting::{PartContent, PreparedPiece, RowPattern, Segment, StripPart, StripPlan};

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

/// Whether cuts from edge to edge give the rows of every strip in their order, and what is cut into bands comes after
/// what is not wherever a strip has the room for that.
pub(crate) fn is_cut_in_order(plan: &StripPlan, pieces: &[&PreparedPiece]) -> Result<(), String> {
    for strip in &plan.strips {
        let part = StripPart::of(strip, pieces).ok_or_else(|| format!("{strip:?} cannot be cut"))?;
        let mut rows = Vec::new();
        in_order(&part, part.room <= plan.width, &mut rows)?;
        if rows != (0..strip.segments.len()).collect::<Vec<_>>() {
            return Err(format!("{strip:?} is cut in another order: {rows:?}"));
        }
        if part.height > strip.height || (part.room <= plan.width && matches!(part.content, PartContent::Bands(_))) {
            return Err(format!("{strip:?} is no strip of its own"));
        }
    }
    Ok(())
}

/// The rows of a part in the order in which they are cut, parts to be taken apart after those that are not.
fn in_order(part: &StripPart, has_room: bool, rows: &mut Vec<usize>) -> Result<(), String> {
    match &part.content {
        PartContent::Row(row) => rows.push(*row),
        PartContent::Bands(bands) => bands.iter().try_for_each(|band| in_order(band, has_room, rows))?,
        PartContent::Beside(parts) => {
            let is_row = |part: &StripPart| matches!(part.content, PartContent::Row(_));
            if has_room && !parts.is_sorted_by_key(|part| !is_row(part)) {
                return Err(format!("{part:?} has a row behind bands"));
            }
            parts.iter().try_for_each(|part| in_order(part, has_room, rows))?;
        }
    }
    Ok(())
}

fn pattern<'a>(segment: &Segment, pieces: &[&'a PreparedPiece]) -> &'a RowPattern {
    &pieces.iter().find(|p| p.id() == segment.piece).unwrap().patterns()[segment.pattern]
}
