//! Pieces that no patch is, or that are joined from several strips: long border pieces, binding, backing panels.

use geometry::cut::CutShape;
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Exact, Length, Polygon, Vector};
use layout::{Backing, Binding, BindingGrain, Design, Join, Sold};

use crate::bias::{BiasCloth, bias_binding};
use crate::error::CutError;
use crate::fabric_plan::cut_width;

/// The shortest section that a long piece is joined from, in inches: shorter ones are fiddly to sew (common
/// practice, no source).
const SHORTEST_SECTION_IN: i64 = 2;

/// Finished lengths of the sections that a strip of finished `length` inches is joined from, with straight seams
/// of allowance `seam`, on fabric of usable `width` inches: as many whole widths as go in, and the rest.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] when a section would be shorter than its seam allowances allow.
pub fn sections(length: &Exact, width: &Exact, seam: &Length) -> Result<Vec<Exact>, CutError> {
    let longest = width - &seam.inches().scale_int(2);
    let shortest = Exact::int(SHORTEST_SECTION_IN);
    if longest < shortest.scale_int(2) {
        return Err(CutError::TooNarrowToJoin { width: width.to_decimal(4) });
    }
    let mut rest = length.clone();
    let mut found = Vec::new();
    while rest > longest {
        found.push(longest.clone());
        rest -= &longest;
    }
    if rest < shortest
        && let Some(last) = found.last_mut()
    {
        *last -= &(&shortest - &rest);
        rest = shortest;
    }
    if rest.is_positive() {
        found.push(rest);
    }
    Ok(found)
}

/// The greatest multiple of `step` that is not above `inches`.
pub(crate) fn down_to(inches: &Exact, step: &Exact) -> Exact {
    &Exact::from(inches.floor_div(step).unwrap_or_default()) * step
}

/// The least multiple of `step` that is not below `inches`.
fn up_to(inches: &Exact, step: &Exact) -> Exact {
    // −floor(−x) is the ceiling.
    -&down_to(&-inches, step)
}

/// One section of a strip: finished `length` × `width` inches, lying across the fabric.
///
/// # Errors
/// [`CutError::Shape`] when it does not fit the lay grid.
pub fn section_shape(length: &Exact, width: &Exact, seam: &Length) -> Result<CutShape, CutError> {
    let polygon =
        Polygon::rectangle(length, width).map_err(|_| CutError::TooNarrowToJoin { width: width.to_decimal(4) })?;
    let allowances = vec![seam.inches().clone(); 4];
    CutShape::mitred(&polygon, &allowances, &Vector::new(Exact::ONE, Exact::ZERO))
        .map_err(CutError::from_shape("section"))
}

/// The same, cut to a whole number of steps of the ruler: what is left over lies at one end, beyond the allowance there.
///
/// # Errors
/// As [`section_shape`].
pub(crate) fn section_on_ruler(
    length: &Exact,
    width: &Exact,
    seam: &Length,
    step: &Length,
) -> Result<CutShape, CutError> {
    let cut = length + &seam.inches().scale_int(2);
    let reserve = &up_to(&cut, step.inches()) - &cut;
    if reserve.is_zero() {
        return section_shape(length, width, seam);
    }
    let polygon =
        Polygon::rectangle(length, width).map_err(|_| CutError::TooNarrowToJoin { width: width.to_decimal(4) })?;
    let mut allowances = vec![seam.inches().clone(); 4];
    // The edge from the second corner to the third is the right end.
    allowances[1] += &reserve;
    CutShape::mitred(&polygon, &allowances, &Vector::new(Exact::ONE, Exact::ZERO))
        .map_err(CutError::from_shape("section"))
}

/// How a binding is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BindingCut {
    /// How strips lie on the fabric.
    pub grain: BindingGrain,
    /// How many strips.
    pub strips: u64,
    /// Cut width of a strip in inches.
    pub strip_width: Exact,
    /// Length of a strip before it is joined, in inches: the usable width of the fabric, or on the bias from end to end
    /// along the middle.
    pub strip_length: Exact,
    /// Length needed: perimeter and extra, in inches.
    pub needed: Exact,
    /// Length that the joined strips have, in inches.
    pub joined: Exact,
    /// Length that the joins use up, in inches.
    pub join_loss: Exact,
}

/// The strips of the binding of a design.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`], or a fabric that is not there.
pub fn binding_of(design: &Design) -> Result<BindingCut, CutError> {
    let (width, height) = design.finished_size();
    let perimeter = (&width + &height).scale_int(2);
    let fabric = design.fabric(design.binding().fabric)?;
    let (binding, width, seam) = (design.binding(), cut_width(fabric).inches(), design.seam());
    match binding.grain {
        BindingGrain::Across => binding_cut(binding, &perimeter, width, seam),
        BindingGrain::Bias => {
            let longest = match &fabric.sold {
                Sold::ByLength => None,
                Sold::Precut(precut) => Some(precut.length.inches()),
            };
            let cloth = BiasCloth { width, longest, step: design.ruler_step(), units: design.units() };
            bias_binding(binding, &perimeter, &cloth, seam)
        }
    }
}

/// The strips of a binding round a quilt of `perimeter` inches, straight across fabric of usable `width` inches.
///
/// Each join costs length: one strip width on the diagonal, two seam allowances straight across. So n strips
/// give n·W − (n−1)·loss, and n is the least number for which that reaches perimeter + extra.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] when a join costs as much as a strip is long.
pub fn binding_cut(binding: &Binding, perimeter: &Exact, width: &Exact, seam: &Length) -> Result<BindingCut, CutError> {
    let loss = match binding.join {
        Join::Diagonal => binding.strip_width.inches().clone(),
        Join::Straight => seam.inches().scale_int(2),
    };
    let needed = perimeter + binding.extra.inches();
    let strips = pieces_to_join(&needed, width, &loss)?;
    let joined = join_length(strips, width, &loss);
    let join_loss = &width.scale_int(i64::try_from(strips).unwrap_or(i64::MAX)) - &joined;
    Ok(BindingCut {
        grain: BindingGrain::Across,
        strips,
        strip_width: binding.strip_width.inches().clone(),
        strip_length: width.clone(),
        needed,
        joined,
        join_loss,
    })
}

/// n·length − (n−1)·loss.
pub(crate) fn join_length(n: u64, length: &Exact, loss: &Exact) -> Exact {
    let n = i64::try_from(n).unwrap_or(i64::MAX);
    &length.scale_int(n) - &loss.scale_int(n - 1)
}

/// The least number of pieces of `length` that reach `needed` when each join costs `loss`.
pub(crate) fn pieces_to_join(needed: &Exact, length: &Exact, loss: &Exact) -> Result<u64, CutError> {
    let gain = length - loss;
    let narrow = || CutError::TooNarrowToJoin { width: length.to_decimal(4) };
    if !gain.is_positive() {
        return Err(narrow());
    }
    // n·length − (n−1)·loss ≥ needed ⇔ n ≥ (needed − loss)/gain.
    let count = (needed - loss).ceil_div(&gain).ok_or_else(narrow)?;
    Ok(u64::try_from(count).unwrap_or(1).max(1))
}

/// Which way the panels of a backing run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PanelDirection {
    /// Seams run from top to bottom of the quilt.
    Upright,
    /// Seams run from side to side.
    Level,
}

/// How a backing is pieced from widths of fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackingCut {
    /// Size of the backing in inches: the top and its overhang.
    pub width: Exact,
    /// As `width`.
    pub height: Exact,
    /// Number of panels.
    pub panels: u64,
    /// Which way they run.
    pub direction: PanelDirection,
    /// Length of each panel in inches.
    pub panel_length: Exact,
    /// Length of fabric in inches: panels × panel length.
    pub required: Exact,
}

/// Panels for a backing behind a top of `width` × `height` inches, in the direction that needs less fabric
/// (upright when both need the same). Each seam between panels costs two seam allowances.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] for fabric narrower than two seam allowances.
pub fn backing_cut(backing: &Backing, width: &Exact, height: &Exact, seam: &Length) -> Result<BackingCut, CutError> {
    let around = backing.overhang.inches().scale_int(2);
    let (width, height) = (width + &around, height + &around);
    let loss = seam.inches().scale_int(2);
    let usable = backing.usable_width.inches();
    let run = |across: &Exact, along: &Exact| -> Result<(u64, Exact, Exact), CutError> {
        let panels = pieces_to_join(across, usable, &loss)?;
        let required = along.scale_int(i64::try_from(panels).unwrap_or(i64::MAX));
        Ok((panels, along.clone(), required))
    };
    let upright = run(&width, &height)?;
    let level = run(&height, &width)?;
    let direction = if level.2 < upright.2 { PanelDirection::Level } else { PanelDirection::Upright };
    let (panels, panel_length, required) = if direction == PanelDirection::Level { level } else { upright };
    Ok(BackingCut { width, height, panels, direction, panel_length, required })
}

/// A rectangle of `width` × `height` inches on the lay grid, sides rounded up.
///
/// # Errors
/// [`CutError::TooNarrowToJoin`] for sides that the lay grid cannot hold.
pub fn rectangle_up(width: i64, height: &Exact) -> Result<LayPolygon, CutError> {
    let units = height.scale_int(UNITS_PER_INCH).ceil();
    let refuse = || CutError::TooNarrowToJoin { width: height.to_decimal(4) };
    let units = i64::try_from(units).map_err(|_| refuse())?;
    LayPolygon::rectangle(width, units).map_err(|_| refuse())
}
