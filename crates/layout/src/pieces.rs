//! Pieces that no block of the quilt is: each a block of one patch, with its role and its straight grain.

use geometry::{Block, Exact, Patch, PatchKey, Point, Polygon, PolygonError, Role, Tone, Value, Vector};

use crate::error::EditError;

/// A plain piece of `width` × `height` inches, grain along its longer side.
pub(crate) fn rectangle(role: &str, width: &Exact, height: &Exact) -> Result<Block, EditError> {
    let zero = Exact::ZERO;
    let grain = if width >= height { Vector::new(Exact::ONE, zero) } else { Vector::new(zero, Exact::ONE) };
    whole(role, Polygon::rectangle(width, height), grain)
}

/// A block of one patch.
pub(crate) fn one_patch(role: &str, corners: Vec<Point>, grain: Vector) -> Result<Block, EditError> {
    whole(role, Polygon::new(corners), grain)
}

/// A block whose one patch is its outline.
fn whole(role: &str, outline: Result<Polygon, PolygonError>, grain: Vector) -> Result<Block, EditError> {
    let outline = outline.map_err(|e| EditError::Recipe {
        name: role.to_owned(),
        source: Box::new(geometry::RecipeError::Draft(e.into())),
    })?;
    let patch = Patch {
        key: PatchKey(0),
        outline: outline.clone(),
        role: Role::new(role)?,
        tone: Tone::Own(Value::Medium),
        grain: Some(grain),
    };
    Ok(Block::prove(outline, vec![patch])?)
}
