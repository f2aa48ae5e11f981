//! What setting pieces are sewn to: their tips are trimmed against the blocks and sashes that lie beside them in the top.

use std::collections::HashMap;
use std::sync::Arc;

use geometry::cut::{CutShapeError, OffsetLine};
use geometry::dog_ear::trims_against;
use geometry::{Block, Exact, Motion, Point, Polygon};
use layout::{Design, EditError, PlaceId, Setting, Source};

use super::kinds::TrimMark;

/// Everything in a top but its borders, which are sewn on later.
pub(super) struct Mates {
    placed: Vec<(Source, Motion, Polygon)>,
    /// Which of them have a corner there.
    at: HashMap<Point, Vec<usize>>,
}

impl Mates {
    /// The mates in a design. Rows of hexagons are set in: what stands at their edges is sewn from mark to mark, its tips
    /// kept; of plain rows and samplers there are no setting pieces.
    ///
    /// # Errors
    /// Not for a design that was checked.
    pub(super) fn of(design: &Design) -> Result<Self, EditError> {
        let is_border = |place| {
            matches!(place, PlaceId::Border { .. } | PlaceId::BorderCorner { .. } | PlaceId::BorderBlock { .. })
        };
        let has_pieces = matches!(
            design.setting(),
            Setting::OnPoint { .. } | Setting::StarRows { .. } | Setting::TriangleRows { .. }
        );
        if !has_pieces {
            return Ok(Self { placed: Vec::new(), at: HashMap::new() });
        }
        let top = design.top()?;
        let inside = top.placed.into_iter().filter(|placed| !is_border(placed.place));
        let placed: Vec<(Source, Motion, Polygon)> = inside
            .map(|placed| {
                let outline = placed.motion.polygon(placed.block.base());
                (placed.source, placed.motion, outline)
            })
            .collect();
        let mut at: HashMap<Point, Vec<usize>> = HashMap::new();
        for (index, (_, _, outline)) in placed.iter().enumerate() {
            for corner in outline.corners() {
                at.entry(corner.clone()).or_default().push(index);
            }
        }
        Ok(Self { placed, at })
    }

    /// The trims of a setting piece of one patch, in its own frame; none at corners where not all of its copies are trimmed
    /// alike.
    ///
    /// # Errors
    /// As [`trims_against`].
    pub(super) fn trims(
        &self,
        source: Source,
        block: &Arc<Block>,
        allowances: &[Exact],
        seam: &Exact,
    ) -> Result<Option<Vec<Option<OffsetLine>>>, CutShapeError> {
        let ([patch], false) = (block.patches(), matches!(source, Source::Block(_))) else { return Ok(None) };
        let copies = self.placed.iter().enumerate().filter(|(_, (of, ..))| *of == source);
        let mut agreed: Option<Vec<Option<TrimMark>>> = None;
        for (index, (_, motion, _)) in copies {
            let own = motion.polygon(&patch.outline);
            let mut beside: Vec<usize> =
                own.corners().iter().filter_map(|p| self.at.get(p)).flatten().copied().collect();
            beside.sort_unstable();
            beside.dedup();
            let others = beside.iter().filter(|other| **other != index);
            let mates: Vec<&Polygon> = others.map(|other| &self.placed[*other].2).collect();
            let trims = trims_against(&own, allowances, &mates, seam)?;
            let mark = |corner: &Point| {
                let at = motion.point(corner);
                let k = own.corners().iter().position(|p| *p == at)?;
                Some(mark_of(trims.get(k)?.as_ref()?, &own, k, motion.is_mirrored()))
            };
            let marks: Vec<Option<TrimMark>> = patch.outline.corners().iter().map(mark).collect();
            agreed = Some(match agreed {
                None => marks,
                Some(known) => known.into_iter().zip(marks).map(|(a, b)| if a == b { a } else { None }).collect(),
            });
        }
        let line = |(i, mark): (usize, Option<TrimMark>)| mark.map(|mark| mark.line(&patch.outline, i));
        Ok(agreed.map(|marks| marks.into_iter().enumerate().map(line).collect()))
    }
}

/// The mark of corner `k` of a copy, as it is in the frame of the piece.
fn mark_of(line: &OffsetLine, own: &Polygon, k: usize, is_mirrored: bool) -> TrimMark {
    if !is_mirrored {
        return TrimMark::new(line, &own.edge(k));
    }
    // Mirrored, the edge that leaves the corner is the one that leads there, and left of it is right.
    let edge = -&own.edge(k + own.corners().len() - 1);
    let scale = &edge.dot(&line.normal).scale_int(2) * &edge.length_squared().recip().unwrap_or_default();
    let normal = &(&edge * &scale) + &-&line.normal;
    TrimMark::new(&OffsetLine { normal, ..line.clone() }, &edge)
}
