//! Strips and subcuts in the words of the cutting table, the same on screen and on paper.

use cutting::{FabricPlan, PlannedPiece, Segment, StripRun};
use layout::Units;

use crate::words::ruler;

/// The piece that a row of a strip is cut into.
pub(crate) fn piece_of<'a>(plan: &'a FabricPlan, segment: &Segment) -> Option<&'a PlannedPiece> {
    plan.pieces.iter().find(|p| p.prepared.id() == segment.piece)
}

/// What is cut from each strip of a run: one line a kind of piece, with how many and how they lie.
pub(crate) fn strip_lines(plan: &FabricPlan, strip: &StripRun, units: Units) -> Vec<String> {
    let mut found: Vec<(&str, u64, String)> = Vec::new();
    for segment in &strip.segments {
        let Some(piece) = piece_of(plan, segment) else { continue };
        let Some(pattern) = piece.prepared.patterns().get(segment.pattern) else { continue };
        let mut how = String::new();
        if pattern.alternates() && segment.count > 1 {
            how.push_str(", every other one turned");
        }
        if pattern.strip_height() < strip.height {
            how.push_str(&format!(", from the strip's end cut down to {}", ruler(pattern.strip_height(), units)));
        }
        match found.iter_mut().find(|(label, _, was)| *label == piece.label && *was == how) {
            Some(entry) => entry.1 += segment.count,
            None => found.push((&piece.label, segment.count, how)),
        }
    }
    found.into_iter().map(|(label, count, how)| format!("{count} × {label}{how}")).collect()
}
