//! Blanks for units that are sewn before they are cut: one for each patch of the unit.
//!
//! Counts are true: a strip of width W and height h, cut across at angle α in steps of pitch p along the strip, gives
//! ⌊(W − h·cot α)/p⌋ segments, h and p as they are set on the ruler. Strips of a set are sewn with their ends
//! staggered along the cut, so that each loses only the lean of its own height.

use geometry::Exact;
use geometry::lay::{LayPolygon, UNITS_PER_INCH};

use super::lying::{lying_as, nearly_same};
use super::squares::{half_squares, quarter_squares};
use super::units::{SewnMethod, SewnUnit};
use super::{Across, Blank, MOST_PIECES, Method, NoBlank, placed};
use crate::piece::{CutPiece, Orientation};
use crate::rounding::{GRID_ALLOWANCE, RulerStep, ceil_div};
use crate::row::least_distance;

/// How large squares are cut for units that are sewn from them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum SquareSize {
    /// As large as the unit needs, rounded up to the ruler: at ¼ in allowances finished side + ⅞ for half-square
    /// units, + 1¼ for quarter-square units.
    #[default]
    Exact,
    /// Larger, and the sewn unit trimmed to size: four allowances more than finished for half-square units (1 in at
    /// ¼ in), six for quarter-square units (1½ in). Common practice, no source.
    ToTrim,
}

/// The blanks of a unit, one for each of [`SewnUnit::positions`], on fabric `width` lay units wide; `pieces` are the
/// pieces of those patches, in this order, on the fabrics that they are cut from.
///
/// A blank from a strip set gives one patch of each of its segments; all blanks of a unit give equally many units.
///
/// # Errors
/// [`NoBlank::PieceCount`]; [`NoBlank::OffGrain`] or [`NoBlank::Shape`] for a piece that is not the unit's patch;
/// [`NoBlank::Turned`] when a print forbids the turn; [`NoBlank::TooNarrow`] when not one unit fits.
pub fn unit_blanks(
    unit: &SewnUnit,
    pieces: &[&CutPiece],
    width: i64,
    step: RulerStep,
    size: SquareSize,
) -> Result<Vec<Blank>, NoBlank> {
    if pieces.len() != unit.positions.len() {
        return Err(NoBlank::PieceCount { wanted: unit.positions.len(), given: pieces.len() });
    }
    match unit.method {
        SewnMethod::PairedSquares | SewnMethod::QuarteredPairs => squares(unit, pieces, width, step, size),
        SewnMethod::StripSet => strip_set(unit, pieces, width, step),
        SewnMethod::OntoStrip => onto_strip(unit, pieces[0], width, step).map(|blank| vec![blank]),
    }
}

/// A square for each triangle of the unit.
fn squares(
    unit: &SewnUnit,
    pieces: &[&CutPiece],
    width: i64,
    step: RulerStep,
    size: SquareSize,
) -> Result<Vec<Blank>, NoBlank> {
    let square = |(piece, outline): (&CutPiece, &LayPolygon)| {
        if !Orientation::ALL.iter().any(|o| nearly_same(&o.of(&piece.polygon), outline)) {
            return Err(NoBlank::OffGrain { piece: piece.id });
        }
        let side = outline.bounds().width().max(outline.bounds().height());
        if unit.method == SewnMethod::PairedSquares {
            half_squares(piece, Method::PairedSquares(size), side + to_trim(&unit.seam, 1, size), step)
        } else {
            quarter_squares(piece, Method::QuarteredPairs(size), side + to_trim(&unit.seam, 2, size), step)
        }
    };
    let outlines = unit.positions.iter().map(|position| &position.outline);
    let blanks = pieces.iter().copied().zip(outlines).map(square).collect::<Result<Vec<_>, _>>()?;
    if blanks.iter().any(|blank| blank.width > width) { Err(NoBlank::TooNarrow) } else { Ok(blanks) }
}

/// What squares to trim are larger than exact ones, in lay units: exact ones are the finished side and d(2+√2) for
/// half-square units, d(2+2√2) for quarter-square units, so those to trim, with 4d and 6d, are once or twice
/// d(2−√2) larger.
fn to_trim(seam: &Exact, times: i64, size: SquareSize) -> i64 {
    if size == SquareSize::Exact {
        return 0;
    }
    let more = &(seam * &(&Exact::int(2) - &Exact::sqrt2())).scale_int(times);
    i64::try_from(more.scale_int(UNITS_PER_INCH).ceil()).unwrap_or(0)
}

/// A strip for each patch of the chain; all are cut at the same pitch.
fn strip_set(unit: &SewnUnit, pieces: &[&CutPiece], width: i64, step: RulerStep) -> Result<Vec<Blank>, NoBlank> {
    let lie = |(piece, outline): (&&CutPiece, &LayPolygon)| lying_as(piece, outline, true);
    let outlines = unit.positions.iter().map(|position| &position.outline);
    let lying = pieces.iter().zip(outlines).map(lie).collect::<Result<Vec<_>, _>>()?;
    let slots: Vec<Slot> = lying.iter().map(|polygon| Slot::parallelogram(polygon, 0, step)).collect();
    let widest = slots.iter().max_by_key(|slot| slot.across.pitch).ok_or(NoBlank::TooNarrow)?.across;
    let slots: Vec<Slot> = slots.into_iter().map(|slot| slot.cut_as(widest)).collect();
    let count = slots.iter().map(|slot| slot.capacity(width)).min().unwrap_or(0);
    if count == 0 {
        return Err(NoBlank::TooNarrow);
    }
    let strip = |((slot, piece), polygon): ((&Slot, &&CutPiece), &LayPolygon)| {
        slot.strip(piece, polygon, count, width, Method::StripSet(slot.across))
    };
    Ok(slots.iter().zip(pieces).zip(&lying).map(strip).collect())
}

/// The strip for a patch that a neighbour is sewn to.
fn onto_strip(unit: &SewnUnit, piece: &CutPiece, width: i64, step: RulerStep) -> Result<Blank, NoBlank> {
    let position = unit.positions.first().ok_or(NoBlank::PieceCount { wanted: 1, given: 0 })?;
    let lying = lying_as(piece, &position.outline, true)?;
    // Neighbours lie side by side along the strip without covering each other; none is shorter than its cut edge.
    let fed = unit.fed.as_ref().map_or(0, |fed| least_distance(fed, fed));
    let slot = if lying.corners().len() == 4 {
        Slot::parallelogram(&lying, fed, step)
    } else {
        Slot::rectangle(&lying, fed, step)
    };
    let count = slot.capacity(width);
    if count == 0 {
        return Err(NoBlank::TooNarrow);
    }
    Ok(slot.strip(piece, &lying, count, width, Method::OntoStrip(slot.across)))
}

/// The part of a strip between two cuts across it, with a patch in it.
#[derive(Debug, Clone, Copy)]
struct Slot {
    across: Across,
    /// Strip height on the ruler, and before rounding.
    height: i64,
    exact_height: i64,
    /// Width that the patch's outline takes up.
    extent: i64,
    /// Where the outline begins: a patch that leans left lies in the lower, right part of a slot that is higher.
    inset: i64,
}

impl Slot {
    /// A slot that leans like the patch, for neighbours that need `least` along the strip.
    fn parallelogram(polygon: &LayPolygon, least: i64, step: RulerStep) -> Self {
        let (bounds, base) = (polygon.bounds(), least_distance(polygon, polygon));
        let run = match bounds.width() - base {
            rounding if rounding <= GRID_ALLOWANCE => 0,
            run => run,
        };
        let height = step.round_up(bounds.height());
        let (pitch, square_to_cut) = cut_across(base.max(least), run, bounds.height(), step);
        let lean = ceil_div(i128::from(run) * i128::from(height), i128::from(bounds.height()));
        let across = Across { pitch, square_to_cut, lean: i64::try_from(lean).unwrap_or(i64::MAX) };
        let leans_left = polygon.corners().iter().all(|p| p.y > GRID_ALLOWANCE || p.x > GRID_ALLOWANCE);
        let inset = if leans_left { across.lean - run } else { 0 };
        Self { across, height, exact_height: bounds.height(), extent: bounds.width(), inset }
    }

    /// A slot cut square to the strip.
    fn rectangle(polygon: &LayPolygon, least: i64, step: RulerStep) -> Self {
        let bounds = polygon.bounds();
        let pitch = step.round_up(bounds.width().max(least));
        let across = Across { pitch, square_to_cut: pitch, lean: 0 };
        let height = step.round_up(bounds.height());
        Self { across, height, exact_height: bounds.height(), extent: bounds.width(), inset: 0 }
    }

    /// The same slot with the cuts of a wider one at the same angle.
    const fn cut_as(self, wider: Across) -> Self {
        Self { across: Across { lean: self.across.lean, ..wider }, ..self }
    }

    /// How many slots a strip holds: ⌊(W − lean)/pitch⌋, as far as the outlines fit.
    fn capacity(&self, width: i64) -> u64 {
        let room = width.saturating_sub(self.across.lean);
        let spare = width.saturating_sub(self.extent + self.inset);
        if room < self.across.pitch || spare < 0 {
            return 0;
        }
        let outlines = spare / self.across.pitch + 1;
        (room / self.across.pitch).min(outlines).unsigned_abs().min(MOST_PIECES as u64)
    }

    fn strip(&self, piece: &CutPiece, polygon: &LayPolygon, count: u64, width: i64, method: Method) -> Blank {
        let starts = (0_i64..).map(|k| k * self.across.pitch + self.inset);
        let inner = (0..count).zip(starts).map(|(_, x)| placed(piece, polygon, x, 0)).collect();
        Blank { method, width, height: self.height, exact_width: width, exact_height: self.exact_height, inner }
    }
}

/// Pitch along the strip, and square to the cuts, when the latter is rounded up to the ruler; before rounding, the
/// pitch is `pitch`, and a cut leans over by `run` on its way up by `height`.
///
/// Square to the cuts, pitch p measures p·h/√(run² + h²). The root is taken with [`ROOT_BITS`] binary digits after the
/// point, downwards on the way in and upwards on the way out, so that the result is never too short.
fn cut_across(pitch: i64, run: i64, height: i64, step: RulerStep) -> (i64, i64) {
    /// Digits after the point: the radicand, at most 2⁸³, stays below 2¹²⁷.
    const ROOT_BITS: u32 = 20;
    if run == 0 {
        let pitch = step.round_up(pitch);
        return (pitch, pitch);
    }
    let (p, h, r) = (i128::from(pitch), i128::from(height), i128::from(run));
    let root = ((h * h + r * r) << (2 * ROOT_BITS)).isqrt();
    let square = i64::try_from(ceil_div((p * h) << ROOT_BITS, root)).unwrap_or(i64::MAX);
    let rounded = step.round_up(square);
    if rounded == square {
        return (pitch, square);
    }
    let widened = ceil_div(i128::from(rounded) * (root + 1), h << ROOT_BITS);
    (i64::try_from(widened).unwrap_or(i64::MAX).max(pitch), rounded)
}
