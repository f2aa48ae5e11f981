//! Where seams of neighbouring blocks meet on a quilt top: every seam that reaches the outline of its block, and every
//! seam between two blocks of a row, by the point where it ends.
//!
//! Blocks are sewn into rows from left to right, then the rows are joined (as in most patterns: common practice, no
//! source). Points are found in a table, so the work grows with the number of seams and not with its square.

use std::collections::BTreeMap;

use geometry::{Point, Polygon};
use layout::{BlockId, PlaceId, Setting, Side, Source, Top};
use rustc_hash::FxHashMap;

use crate::pressing::parity::Literal;
use crate::pressing::segments::Segments;
use crate::tree::SeamTree;

/// Where seams of one block end on its outline.
pub(crate) struct End {
    pub(crate) at: Point,
    /// The seams as they leave the point, each by whether it is pressed counter-clockwise about it.
    pub(crate) rays: Vec<Literal>,
}

/// The ends of each block.
pub(crate) type Ends = BTreeMap<BlockId, Vec<End>>;

/// What is pressed this way or that as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Turned {
    /// The block in a place: as planned, or with every seam to its other side.
    Place(usize),
    /// The seams between the blocks of a row: to the left, or reversed to the right.
    Row(u16),
}

/// Seams of one owner that end at a point.
#[derive(Debug, Clone, Copy)]
struct Ray {
    row: u16,
    /// Twice the number of the place in its row; odd for the seam after a place.
    order: u32,
    of: TopRay,
}

/// Seams of one owner that end at a point of the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TopRay {
    pub(crate) owner: Turned,
    /// Which of the ends of its block it is, for seams of a block.
    pub(crate) end: usize,
    /// Whether the block is mirrored. For the seams of a row: whether they are pressed counter-clockwise about the point
    /// when they are pressed to the left.
    pub(crate) turn: bool,
}

/// The seam on which others meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TopSeam {
    /// The seam that joins the block in this place to those before it in its row.
    InRow(PlaceId),
    /// The long seam below this row.
    BelowRow(u16),
}

/// Seams of two blocks, or of two rows, that end at one point of the seam that joins them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Meet {
    pub(crate) at: Point,
    pub(crate) seam: TopSeam,
    /// Everything whose seams end here.
    pub(crate) rays: Vec<TopRay>,
}

/// All meetings of a top, in the order of their points.
pub(crate) fn meetings(top: &Top, ends: &Ends) -> Vec<Meet> {
    let mut at: FxHashMap<Point, Vec<Ray>> = FxHashMap::default();
    for (i, placed) in top.placed.iter().enumerate() {
        let (Some((row, place)), Source::Block(block)) = (in_row(top, placed.place), placed.source) else { continue };
        for (number, end) in ends.get(&block).map_or([].as_slice(), Vec::as_slice).iter().enumerate() {
            let of = TopRay { owner: Turned::Place(i), end: number, turn: placed.motion.is_mirrored() };
            at.entry(placed.motion.point(&end.at)).or_default().push(Ray { row, order: 2 * place, of });
        }
    }
    let rows = rows(top);
    for (row, places) in &rows {
        for pair in places.windows(2) {
            let outline = |i: usize| top.placed[i].motion.polygon(top.placed[i].block.base());
            let Some((from, to)) = shared_edge(&outline(pair[0].1), &outline(pair[1].1)) else { continue };
            // The block before lies on the left of the seam from `from` to `to`; taken as pressed towards it.
            for (point, turn) in [(from, true), (to, false)] {
                let of = TopRay { owner: Turned::Row(*row), end: 0, turn };
                at.entry(point).or_default().push(Ray { row: *row, order: 2 * pair[0].0 + 1, of });
            }
        }
    }
    let mut points: Vec<(Point, Vec<Ray>)> = at.into_iter().filter(|(_, rays)| rays.len() > 1).collect();
    points.sort_by(|a, b| a.0.order(&b.0));
    points.into_iter().flat_map(|(point, rays)| meetings_at(top, &point, rays)).collect()
}

/// The row in which a place is sewn and its number in the row; none for pieces that have no seams of their own to meet.
fn in_row(top: &Top, place: PlaceId) -> Option<(u16, u32)> {
    match place {
        // Blocks of a sampler are joined unit by unit, not in rows from the left: which seams meet is not looked at.
        PlaceId::Cell { .. } if matches!(top.setting, Setting::Sampler { .. }) => None,
        PlaceId::Cell { row, column } => {
            let (row, column) = top.setting.sewn_at(row, column);
            Some((row, u32::from(column) + 1))
        }
        PlaceId::RowEnd { row, side: Side::Left } => Some((row, 0)),
        PlaceId::RowEnd { row, .. } => Some((row, u32::from(u16::MAX) + 2)),
        _ => None,
    }
}

type Rows = BTreeMap<u16, Vec<(u32, usize)>>;

/// The places of each row from left to right, as (number in the row, index in the top).
fn rows(top: &Top) -> Rows {
    let mut rows = Rows::new();
    for (i, placed) in top.placed.iter().enumerate() {
        if let Some((row, number)) = in_row(top, placed.place) {
            rows.entry(row).or_default().push((number, i));
        }
    }
    rows.values_mut().for_each(|row| row.sort_unstable());
    rows
}

/// The edge that two neighbours share, as the first one walks it.
fn shared_edge(first: &Polygon, second: &Polygon) -> Option<(Point, Point)> {
    let backwards = |from: &Point, to: &Point| second.edges().any(|(a, b)| a == to && b == from);
    first.edges().find(|(from, to)| backwards(from, to)).map(|(from, to)| (from.clone(), to.clone()))
}

/// Where seams of a block end on its outline.
pub(crate) fn ends(tree: &SeamTree, segments: &Segments) -> Vec<End> {
    let graph = tree.graph();
    let points = segments.outline_points(graph).into_iter();
    points.map(|point| End { at: graph.points()[point].clone(), rays: segments.rays(point) }).collect()
}

/// The meetings at one point, in the order in which their seams are sewn: within each row, then between the rows.
fn meetings_at(top: &Top, point: &Point, mut rays: Vec<Ray>) -> Vec<Meet> {
    rays.sort_by_key(|ray| (ray.row, ray.order));
    let mut found = Vec::new();
    let mut meet = |seam: TopSeam, rays: &mut dyn Iterator<Item = &Ray>| {
        found.push(Meet { at: point.clone(), seam, rays: rays.map(|ray| ray.of).collect() });
    };
    for row in rays.chunk_by(|a, b| a.row == b.row) {
        for (k, ray) in row.iter().enumerate() {
            let Turned::Place(place) = ray.of.owner else { continue };
            // The ray just before a place, if it is a seam of the row, is the seam that joins the place.
            let before = if k > 0 && matches!(row[k - 1].of.owner, Turned::Row(_)) { k - 1 } else { k };
            if before > 0 {
                meet(TopSeam::InRow(top.placed[place].place), &mut row[..before].iter().chain([ray]));
            }
        }
    }
    if let (Some(first), Some(last)) = (rays.first(), rays.last())
        && first.row != last.row
    {
        meet(TopSeam::BelowRow(first.row), &mut rays.iter());
    }
    found
}
