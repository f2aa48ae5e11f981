//! Small helpers that the built-in recipes share: corners in, patches with running keys out.

use crate::block::{Block, BlockError, Patch, PatchKey, Role, Tone, Value};
use crate::exact::Exact;
use crate::point::{Point, Vector};
use crate::polygon::{Polygon, PolygonError};

/// Collects the patches of a block; keys are given in the order of drawing, so a recipe keeps its order for ever.
#[derive(Debug, Default)]
pub(crate) struct Sheet {
    patches: Vec<Patch>,
    fault: Option<PolygonError>,
}

impl Sheet {
    /// Adds a patch; a fault in its outline is kept until [`Sheet::prove`].
    pub(crate) fn patch(&mut self, role: &'static str, tone: Tone, grain: Option<Vector>, corners: Vec<Point>) {
        match Polygon::new(corners) {
            Ok(outline) => {
                let key = PatchKey(u32::try_from(self.patches.len()).unwrap_or(u32::MAX));
                self.patches.push(Patch { key, outline, role: Role::known(role), tone, grain });
            }
            Err(fault) => self.fault = self.fault.take().or(Some(fault)),
        }
    }

    /// Proves the sheet over the base with these corners.
    pub(crate) fn prove(self, base: Vec<Point>) -> Result<Block, DraftError> {
        if let Some(fault) = self.fault {
            return Err(fault.into());
        }
        Ok(Block::prove(Polygon::new(base)?, self.patches)?)
    }
}

/// Why a drawing is not a block.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DraftError {
    /// An outline is not a polygon.
    #[error(transparent)]
    Polygon(#[from] PolygonError),
    /// The patches are not a block.
    #[error(transparent)]
    Block(#[from] BlockError),
}

/// The point (`x`, `y`).
pub(crate) fn at(x: &Exact, y: &Exact) -> Point {
    Point::new(x.clone(), y.clone())
}

/// Corners of the upright rectangle from the origin to (`width`, `height`).
pub(crate) fn rectangle(width: &Exact, height: &Exact) -> Vec<Point> {
    let zero = Exact::ZERO;
    vec![at(&zero, &zero), at(width, &zero), at(width, height), at(&zero, height)]
}

/// The direction along the x axis.
pub(crate) fn across() -> Vector {
    Vector::new(Exact::ONE, Exact::ZERO)
}

/// Dark for even, `other` for odd: neighbours in a ring differ.
pub(crate) const fn alternate(index: usize, other: Value) -> Tone {
    Tone::Own(if index.is_multiple_of(2) { Value::Dark } else { other })
}
