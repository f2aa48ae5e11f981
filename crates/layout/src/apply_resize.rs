//! Another size of the whole quilt: blocks, their number and borders change together, so that nothing on the way has to
//! fit by itself.

use crate::apply_redraft::{deepen_pieced, redraft_parts};
use crate::apply_structure::resettle;
use crate::design::Design;
use crate::edit::{Delta, Resize};
use crate::error::EditError;
use crate::ids::PlaceId;
use crate::motif::Motif;

/// Makes the quilt larger or smaller.
pub(crate) fn resize(design: &Design, resize: &Resize) -> Result<(Design, Delta), EditError> {
    let setting = design.setting.with_size(resize.rows, resize.columns);
    setting.check()?;
    let mut parts = design.parts();
    let mut lost = redraft_parts(design, &mut parts, &resize.recipes)?;
    // Rows of a sampler may end before its last column: as many as they are, its cells stay as they are.
    if setting != design.setting {
        let motif = Motif::of(design);
        let first = PlaceId::Cell { row: 0, column: 0 };
        let there = |id: PlaceId| parts.places.get(&id).copied();
        // On point, and where nothing repeats, the first motif may have a cell less.
        let filled = |id| there(id).or_else(|| there(motif.like(id))).or_else(|| there(first)).map(|place| (id, place));
        parts.places =
            setting.cells().map(|id| filled(id).ok_or(EditError::EmptyCell(id))).collect::<Result<_, _>>()?;
    }
    parts.setting = setting;
    parts.borders.clone_from(&resize.borders);
    deepen_pieced(&mut parts)?;
    let (next, mut delta) = resettle(design, parts)?;
    lost.append(&mut delta.lost);
    Ok((next, Delta { lost, ..delta }))
}
