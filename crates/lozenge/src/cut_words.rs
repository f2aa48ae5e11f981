//! Strips and subcuts in the words of the cutting table, the same on screen and on paper.

use cutting::{FabricPlan, PlannedPiece, RowPattern, Segment, StripRun};
use layout::Units;

use crate::words::{counted, ruler};

/// The piece that a row of a strip is cut into.
pub(crate) fn piece_of<'a>(plan: &'a FabricPlan, segment: &Segment) -> Option<&'a PlannedPiece> {
    plan.pieces.iter().find(|p| p.prepared.id() == segment.piece)
}

/// What a piece is called: sections of a strip, which share a label, by their cut length as well.
pub(crate) fn piece_name(piece: &PlannedPiece, units: Units) -> String {
    if piece.is_section {
        format!("{} {} long", piece.label, ruler(piece.prepared.bounds().width(), units))
    } else {
        piece.label.clone()
    }
}

/// "3 strips 2½″ wide; from each", or "1 strip 2½″ wide; from it".
pub(crate) fn strip_heading(strip: &StripRun, units: Units) -> String {
    let strips = counted(strip.repeat, "strip", "strips");
    let each = if strip.repeat == 1 { "it" } else { "each" };
    format!("{strips} {} wide; from {each}", ruler(strip.height, units))
}

/// What is cut from each strip of a run: one line a kind of piece, with how many and how they lie.
pub(crate) fn strip_lines(plan: &FabricPlan, strip: &StripRun, units: Units) -> Vec<String> {
    let mut found: Vec<(String, u64, u64, String)> = Vec::new();
    for segment in &strip.segments {
        let Some(piece) = piece_of(plan, segment) else { continue };
        let Some(pattern) = piece.prepared.patterns().get(segment.pattern) else { continue };
        let mut how = if segment.count > 1 { subcut(pattern, units) } else { String::new() };
        if pattern.strip_height() < strip.height {
            how.push_str(&format!(", from the strip's end cut down to {}", ruler(pattern.strip_height(), units)));
        }
        let name = piece_name(piece, units);
        match found.iter_mut().find(|(label, _, _, was)| *label == name && *was == how) {
            Some(entry) => {
                entry.1 += segment.count;
                entry.2 += 1;
            }
            None => found.push((name, segment.count, 1, how)),
        }
    }
    let rows = |rows: u64| if rows > 1 { format!(", in {rows} rows") } else { String::new() };
    found.into_iter().map(|(name, count, n, how)| format!("{count} × {name}{how}{}", rows(n))).collect()
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
