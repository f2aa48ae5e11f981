//! Binding strips on the bias: bands across the fabric, cut apart at 45°.
//!
//! A band of height h is cut into strips that lean at 45°. Each is a parallelogram: its long sides lie on the bias, its
//! ends along the band's edges, which is the straight grain. So all strips have the same slanted ends and are joined
//! there, and the two right triangles at the ends of a band are left over. A high band gives long strips and few joins
//! but leaves large triangles.

use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use geometry::{Exact, Length};
use layout::{Binding, BindingGrain, Units};

use crate::error::CutError;
use crate::joined::{BindingCut, join_length, pieces_to_join};
use crate::rounding::RulerStep;

/// The shortest strip worth joining, in inches, where the fabric has longer ones (common practice, no source).
const SHORTEST_STRIP_IN: i64 = 12;

/// How much more fabric than the least longer strips may take, in inches: a quarter of a yard (a rule of our own).
const FOR_FEWER_JOINS_IN: i64 = 9;

/// The fabric that bias strips are cut from.
#[derive(Debug, Clone, Copy)]
pub struct BiasCloth<'a> {
    /// Usable width in inches.
    pub width: &'a Exact,
    /// The highest band it has, in inches: the length of a precut; none for fabric by length.
    pub longest: Option<&'a Exact>,
    /// Step of the ruler.
    pub step: &'a Length,
    /// Bands are whole inches or whole centimetres high.
    pub units: Units,
}

/// One way to cut the strips.
struct Bands {
    height: Exact,
    strips: u64,
    /// Fabric that all bands take, in inches.
    length: Exact,
}

/// The strips of a binding on the bias round a quilt of `perimeter` inches.
///
/// A strip from a band of height h is h·√2 long. A join takes one seam allowance s of either slanted end, 2·s·√2 along
/// the strip. So n strips give n·h·√2 − (n−1)·2·s·√2. Of all heights in whole inches or centimetres the one with the
/// fewest strips is taken that needs at most a quarter of a yard more than the least.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] when no strip fits across the fabric that is longer than a join.
pub fn bias_binding(
    binding: &Binding,
    perimeter: &Exact,
    cloth: &BiasCloth<'_>,
    seam: &Length,
) -> Result<BindingCut, CutError> {
    let needed = perimeter + binding.extra.inches();
    let loss = &seam.inches().scale_int(2) * &Exact::sqrt2();
    let spacing = spacing(binding, cloth)?;
    let all = every_height(cloth, &spacing, |height| {
        let strip = height * &Exact::sqrt2();
        pieces_to_join(&needed, &strip, &loss).ok().map(|strips| (strip, strips))
    });
    let long = |bands: &&Bands| &bands.height * &Exact::sqrt2() >= Exact::int(SHORTEST_STRIP_IN);
    let worth: Vec<&Bands> =
        if all.iter().any(|b| long(&b)) { all.iter().filter(long).collect() } else { all.iter().collect() };
    let narrow = || CutError::TooNarrowToJoin { width: cloth.width.to_decimal(4) };
    let least = worth.iter().map(|bands| &bands.length).min().ok_or_else(narrow)?;
    let most = least + &Exact::int(FOR_FEWER_JOINS_IN);
    let affordable = worth.iter().filter(|bands| bands.length <= most);
    let chosen = affordable.min_by(|a, b| (a.strips, &a.length).cmp(&(b.strips, &b.length))).ok_or_else(narrow)?;
    let strip_length = &chosen.height * &Exact::sqrt2();
    let joined = join_length(chosen.strips, &strip_length, &loss);
    let join_loss = &strip_length.scale_int(i64::try_from(chosen.strips).unwrap_or(i64::MAX)) - &joined;
    Ok(BindingCut {
        grain: BindingGrain::Bias,
        strips: chosen.strips,
        strip_width: binding.strip_width.inches().clone(),
        strip_length,
        needed,
        joined,
        join_loss,
    })
}

/// From one cut to the next along the band: the strip's width, as the ruler sets it, times √2.
fn spacing(binding: &Binding, cloth: &BiasCloth<'_>) -> Result<Exact, CutError> {
    let refuse = || CutError::TooNarrowToJoin { width: binding.strip_width.inches().to_decimal(4) };
    let units = whole_units(binding.strip_width.inches()).ok_or_else(refuse)?;
    let set = Exact::ratio(RulerStep::of_length(cloth.step)?.round_up(units), UNITS_PER_INCH).ok_or_else(refuse)?;
    Ok(&set * &Exact::sqrt2())
}

/// Every height of band that gives a strip, with what it takes to reach the length.
fn every_height(cloth: &BiasCloth<'_>, spacing: &Exact, strips: impl Fn(&Exact) -> Option<(Exact, u64)>) -> Vec<Bands> {
    let whole = match cloth.units {
        Units::Inches => Exact::ONE,
        Units::Centimetres => Exact::ratio(50, 127).unwrap_or(Exact::ONE),
    };
    let tallest = cloth.longest.unwrap_or(cloth.width);
    let heights = (1..).map(|n| whole.scale_int(n)).take_while(|height| height <= tallest);
    let bands = |height: Exact| {
        let room = &(cloth.width - &height) - spacing;
        let more = if room.is_negative() { None } else { u64::try_from(room.floor_div(spacing)?).ok() }?;
        let (_, strips) = strips(&height)?;
        let bands = strips.div_ceil(more + 1);
        let length = height.scale_int(i64::try_from(bands).ok()?);
        Some(Bands { height, strips, length })
    };
    heights.map_while(|height| (&height + spacing <= *cloth.width).then_some(height)).filter_map(bands).collect()
}

/// One bias strip on the lay grid: a parallelogram as high as its band, leaning to the right at 45°.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] for a strip that the lay grid cannot hold.
pub fn bias_strip(cut: &BindingCut) -> Result<LayPolygon, CutError> {
    let refuse = || CutError::TooNarrowToJoin { width: cut.strip_width.to_decimal(4) };
    let height = whole_units(&(&cut.strip_length * &Exact::sqrt2().half())).ok_or_else(refuse)?;
    let along = whole_units(&(&cut.strip_width * &Exact::sqrt2())).ok_or_else(refuse)?;
    let corners = [(0, 0), (along, 0), (along.saturating_add(height), height), (height, height)];
    LayPolygon::new(corners.map(|(x, y)| LayPoint::new(x, y)).to_vec()).map_err(|_| refuse())
}

/// Lay units, rounded up.
fn whole_units(inches: &Exact) -> Option<i64> {
    i64::try_from(inches.scale_int(UNITS_PER_INCH).ceil()).ok()
}

/// Length of bias strip that a square of `side` inches gives at `width` inches, by area: side² ÷ width. An upper bound:
/// the seams of a continuous strip take a little of it.
#[must_use]
pub fn bias_length(side: &Exact, width: &Exact) -> Option<Exact> {
    (side * side).checked_div(width)
}

/// The least side, in whole steps of `step`, of a square that gives `needed` inches of bias strip at `width` inches.
#[must_use]
pub fn bias_square(needed: &Exact, width: &Exact, step: &Length) -> Option<Exact> {
    let area = needed * width;
    let enough = |steps: i64| {
        let side = step.inches().scale_int(steps);
        &side * &side >= area
    };
    // Doubled until it is enough, then halved in between.
    let mut high = (0..40).map(|power| 1_i64 << power).find(|steps| enough(*steps))?;
    let mut low = high / 2;
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle }
    }
    Some(step.inches().scale_int(high))
}
