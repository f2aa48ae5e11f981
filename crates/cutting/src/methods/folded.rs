//! Folded cutting: fabric lies folded selvage to selvage, so that one cut through both layers gives a piece of
//! either hand.

use geometry::lay::LayPolygon;

use super::lying::lying_as;
use super::{Blank, MOST_PIECES, Method, NoBlank, placed};
use crate::lay::Placement;
use crate::piece::{CutPiece, PreparedPiece};
use crate::rounding::RulerStep;
use crate::row::{RowPattern, least_distance};

/// Strips across the folded fabric, one for each way to cut the piece in a row: pieces in the left half, their mirror
/// images in the right half, cut in pairs. Each half has fabric for as many as fit in half of the usable width.
///
/// # Errors
/// [`NoBlank::OffGrain`] when `mirror` is not the mirror image, [`NoBlank::Turned`] when its print forbids the way it
/// would lie, [`NoBlank::TooNarrow`] when not one piece fits in half of the width, [`NoBlank::NothingSaved`] for a piece
/// that is its own mirror image.
pub fn folded(
    piece: &PreparedPiece,
    mirror: &PreparedPiece,
    width: i64,
    step: RulerStep,
) -> Result<Vec<Blank>, NoBlank> {
    if piece.id() == mirror.id() {
        return Err(NoBlank::NothingSaved);
    }
    let strips: Vec<Result<Blank, NoBlank>> =
        piece.patterns().iter().map(|row| strip(piece.piece(), mirror.piece(), row, width, step)).collect();
    let mut blanks: Vec<Blank> = Vec::new();
    let mut refusal = NoBlank::TooNarrow;
    for strip in strips {
        match strip {
            Ok(blank) => blanks.push(blank),
            Err(error) => refusal = error,
        }
    }
    if blanks.is_empty() { Err(refusal) } else { Ok(blanks) }
}

/// A row as both layers have it: pieces from the left selvage, mirror images from the right one.
struct Layers {
    left: Vec<LayPolygon>,
    right: Vec<LayPolygon>,
    pitches: Vec<i64>,
}

impl Layers {
    fn new(mirror: &CutPiece, row: &RowPattern) -> Result<Self, NoBlank> {
        let left = row.polygons().to_vec();
        // The lower layer lies wrong side up: seen from its right side, it is the row seen in a mirror.
        let right = left.iter().map(|p| lying_as(mirror, &p.turned_over(), false)).collect::<Result<Vec<_>, _>>()?;
        let n = left.len();
        let pitches = row
            .pitches()
            .iter()
            .enumerate()
            .map(|(i, pitch)| {
                // Walking in from the right selvage, the distance is measured between right ends.
                let (near, far) = (&right[i], &right[(i + 1) % n]);
                (*pitch).max(least_distance(far, near) + near.bounds().width() - far.bounds().width())
            })
            .collect();
        Ok(Self { left, right, pitches })
    }

    /// The pieces of the left half and of the right half that fit in `half` lay units, in pairs.
    fn fill(&self, half: i64) -> Vec<(&LayPolygon, &LayPolygon, i64)> {
        let mut start = 0_i64;
        let mut pairs = Vec::new();
        for i in (0..self.left.len()).cycle() {
            let (left, right) = (&self.left[i], &self.right[i]);
            if start.saturating_add(left.bounds().width().max(right.bounds().width())) > half
                || pairs.len() >= MOST_PIECES / 2
            {
                break;
            }
            pairs.push((left, right, start));
            start = start.saturating_add(self.pitches[i]);
        }
        pairs
    }
}

fn strip(piece: &CutPiece, mirror: &CutPiece, row: &RowPattern, width: i64, step: RulerStep) -> Result<Blank, NoBlank> {
    let layers = Layers::new(mirror, row)?;
    let pairs = layers.fill(width / 2);
    if pairs.is_empty() {
        return Err(NoBlank::TooNarrow);
    }
    let lower = pairs.iter().map(|(left, _, start)| placed(piece, left, *start, 0));
    let upper = pairs.iter().map(|(_, right, start)| placed(mirror, right, width - start - right.bounds().width(), 0));
    let inner: Vec<Placement> = lower.chain(upper).collect();
    let exact_height = layers.left.iter().chain(&layers.right).map(|p| p.bounds().height()).max().unwrap_or(0);
    let height = step.round_up(exact_height).max(row.strip_height());
    let pairs = u64::try_from(pairs.len()).unwrap_or(u64::MAX);
    Ok(Blank { method: Method::Folded { pairs }, width, height, exact_width: width, exact_height, inner })
}
