//! Pieces that no block of the quilt is: each a block of one patch, with its role and its straight grain.

use geometry::{Block, Exact, Patch, PatchKey, Point, Polygon, Role, Tone, Value, Vector};

use crate::error::EditError;

/// A plain piece of `width` × `height` inches, grain along its longer side.
pub(crate) fn rectangle(role: &str, width: &Exact, height: &Exact) -> Result<Block, EditError> {
    let zero = Exact::ZERO;
    let corners = vec![
        Point::origin(),
        Point::new(width.clone(), zero.clone()),
        Point::new(width.clone(), height.clone()),
        Point::new(zero.clone(), height.clone()),
    ];
    let grain = if width >= height { Vector::new(Exact::ONE, zero) } else { Vector::new(zero, Exact::ONE) };
    one_patch(role, corners, grain)
}

/// A block of one patch.
pub(crate) fn one_patch(role: &str, corners: Vec<Point>, grain: Vector) -> Result<Block, EditError> {
    let outline = Polygon::new(corners).map_err(|e| EditError::Recipe {
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
