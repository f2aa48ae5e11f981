//! Every piece of a plan placed on the fabric.

use std::collections::BTreeMap;

use geometry::lay::LayPolygon;

use crate::error::CutError;
use crate::piece::{PieceId, PreparedPiece};
use crate::strip_plan::{Segment, StripPlan, StripRun};

/// The most pieces that are placed one by one; a plan of more is still a plan, but no drawing shows it.
pub const MAX_PLACEMENTS: u64 = 1_000_000;

/// A length of fabric with pieces on it, from (0, 0) to (`width`, `length`) in lay units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lay {
    /// Usable width of the fabric.
    pub width: i64,
    /// Length of fabric.
    pub length: i64,
    /// The pieces.
    pub placements: Vec<Placement>,
}

/// One piece where it is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placement {
    /// The kind of piece.
    pub piece: PieceId,
    /// Its outline on the fabric.
    pub polygon: LayPolygon,
}

/// Places every piece of `plan`, strip on strip along one length of fabric; an empty plan gives no lay.
///
/// # Errors
/// [`CutError::TooManyToPlace`] above [`MAX_PLACEMENTS`], [`CutError::UnknownPiece`] if the plan was made from other
/// pieces.
pub fn lays(plan: &StripPlan, pieces: &[&PreparedPiece]) -> Result<Vec<Lay>, CutError> {
    let by_id: BTreeMap<PieceId, &PreparedPiece> = pieces.iter().map(|p| (p.id(), *p)).collect();
    // A strip counts as one piece at least, so that a run of empty strips is bounded too.
    let in_run = |run: &StripRun| {
        let each: u128 = run.segments.iter().map(|s| u128::from(s.count)).sum();
        each.max(1).saturating_mul(u128::from(run.repeat))
    };
    let total = plan.strips.iter().map(in_run).fold(0_u128, u128::saturating_add);
    if total > u128::from(MAX_PLACEMENTS) {
        return Err(CutError::TooManyToPlace { pieces: total, limit: MAX_PLACEMENTS });
    }
    let mut placements = Vec::with_capacity(usize::try_from(total).unwrap_or(0));
    let mut y: i64 = 0;
    for run in &plan.strips {
        for _ in 0..run.repeat {
            for segment in &run.segments {
                place(segment, y, &by_id, &mut placements)?;
            }
            y = y.saturating_add(run.height);
        }
    }
    if placements.is_empty() {
        return Ok(Vec::new());
    }
    Ok(vec![Lay { width: plan.width, length: plan.length, placements }])
}

fn place(
    segment: &Segment,
    strip_y: i64,
    by_id: &BTreeMap<PieceId, &PreparedPiece>,
    placements: &mut Vec<Placement>,
) -> Result<(), CutError> {
    let piece = segment.piece;
    let prepared = by_id.get(&piece).ok_or(CutError::UnknownPiece { piece })?;
    let row = prepared.patterns().get(segment.pattern).ok_or(CutError::UnknownPiece { piece })?;
    let polygons = row.polygons().iter().cycle();
    for (index, polygon) in (0..segment.count).zip(polygons) {
        let polygon = polygon.moved(segment.start_x + row.start_of(index), strip_y + segment.start_y);
        placements.push(Placement { piece, polygon });
    }
    Ok(())
}
