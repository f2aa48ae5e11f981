//! Medallions: a centre with pieced rounds, and the plain borders between them that make every round fit exactly.

use geometry::{Exact, Length};

use crate::border::{Border, BorderKind, PiecedBorder};
use crate::design::Design;
use crate::error::EditError;
use crate::ids::FabricId;

/// A round of blocks about a centre.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    /// Its blocks.
    pub blocks: PiecedBorder,
    /// Fabric of the plain border inside it.
    pub spacer: FabricId,
    /// The least width of that border; without it there is none where the blocks fit as it is, and else the narrowest
    /// with which they fit.
    pub least: Option<Length>,
}

/// The borders round the centre of `design` that make these rounds, from the inside: each round of blocks, and inside it
/// a plain border with which they fit.
///
/// # Errors
/// [`EditError::NoBlock`]; [`EditError::Length`] for a border that is no length of a quilt. Whether the blocks make a
/// border at all is told when the borders are set.
pub fn medallion(design: &Design, rounds: &[Round]) -> Result<Vec<Border>, EditError> {
    let mut borders = Vec::new();
    let (mut width, mut height) = design.size_within(0);
    for (number, round) in (0..).zip(rounds) {
        let block = design.block(round.blocks.block)?.block();
        let (along, depth) = round.blocks.extent(block);
        let fit = round.blocks.fit(number, block, &(width.clone(), height.clone()));
        if !(fit.level.fits() && fit.upright.fits() && round.least.is_none()) {
            let [across, up] = [&fit.level, &fit.upright].map(|fit| {
                let whole = if fit.fits() { Exact::ZERO } else { fit.spacer.clone() };
                widened(&whole, &along.half(), round.least.as_ref())
            });
            let spacer = spacer(&across, &up, round.spacer)?;
            (width, height) = (&width + &across.scale_int(2), &height + &up.scale_int(2));
            borders.push(spacer);
        }
        let pieced = Border {
            width: Length::new(depth.clone())?,
            level_width: None,
            fabric: round.spacer,
            kind: BorderKind::Pieced(round.blocks),
        };
        (width, height) = (&width + &depth.scale_int(2), &height + &depth.scale_int(2));
        borders.push(pieced);
    }
    Ok(borders)
}

/// The least of `width`, `width` + `step`, `width` + 2 `step` and so on that is a width of a border and not below `least`.
fn widened(width: &Exact, step: &Exact, least: Option<&Length>) -> Exact {
    let short = least.map_or(Exact::ZERO, |least| least.inches() - width);
    let steps = short.floor_div(step).and_then(|n| i64::try_from(n).ok()).unwrap_or(0).max(0);
    let mut width = width + &step.scale_int(steps);
    let serves =
        |width: &Exact| Length::new(width.clone()).is_ok() && least.is_none_or(|least| width >= least.inches());
    // Half a block is at least 1/128 in, so that a border too narrow to be one is a few steps away from one that is.
    for _ in 0..4 {
        if serves(&width) {
            break;
        }
        width = &width + step;
    }
    width
}

/// A plain border of this width at the left and right, and that at the bottom and top.
fn spacer(across: &Exact, up: &Exact, fabric: FabricId) -> Result<Border, EditError> {
    let (width, level) = (Length::new(across.clone())?, Length::new(up.clone())?);
    let level_width = (level != width).then_some(level);
    Ok(Border { width, level_width, fabric, kind: BorderKind::Butted })
}
