//! What one part of a variant says about another, checked before anything is drafted: counts within their
//! limits, and no fabric or block that is not there. Each refusal names the field that refers to it.

use std::collections::BTreeSet;

use super::read::content;
use super::{FileError, v1};
use crate::{
    BlockId, EditError, FabricId, MAX_BLOCKS, MAX_BORDERS, MAX_CELLS, MAX_FABRICS, MAX_ROWS, MAX_SAMPLER_BLOCKS,
};

/// Checks the variant at `path`.
pub(super) fn check(path: &str, file: &v1::Variant) -> Result<(), FileError> {
    counts(path, file)?;
    let fabrics: BTreeSet<u32> = file.fabrics.iter().map(|fabric| fabric.id).collect();
    let fabric = |field: String, id: u32| {
        if fabrics.contains(&id) { Ok(()) } else { Err(content(&field, EditError::NoFabric(FabricId(id)))) }
    };
    for (i, block) in file.blocks.iter().enumerate() {
        for (k, role) in block.roles.iter().enumerate() {
            fabric(format!("{path}.blocks[{i}].roles[{k}].fabric"), role.fabric)?;
        }
        for (k, painted) in block.painted.iter().enumerate() {
            fabric(format!("{path}.blocks[{i}].painted[{k}].fabric"), painted.fabric)?;
        }
    }
    for (name, id) in setting_fabrics(&file.setting) {
        fabric(format!("{path}.setting.{name}"), id)?;
    }
    if let Some(sashing) = &file.sashing {
        fabric(format!("{path}.sashing.fabric"), sashing.fabric)?;
        sashing.cornerstones.map_or(Ok(()), |id| fabric(format!("{path}.sashing.cornerstones"), id))?;
    }
    for (i, role) in file.paint.roles.iter().enumerate() {
        fabric(format!("{path}.paint.roles[{i}].fabric"), role.fabric)?;
    }
    for (i, patch) in file.paint.patches.iter().enumerate() {
        fabric(format!("{path}.paint.patches[{i}].fabric"), patch.fabric)?;
    }
    for (i, border) in file.borders.iter().enumerate() {
        fabric(format!("{path}.borders[{i}].fabric"), border.fabric)?;
        border.corner_squares.map_or(Ok(()), |id| fabric(format!("{path}.borders[{i}].corner_squares"), id))?;
    }
    fabric(format!("{path}.binding.fabric"), file.binding.fabric)?;
    let blocks: BTreeSet<u32> = file.blocks.iter().map(|block| block.id).collect();
    for (i, pieced) in file.borders.iter().enumerate().filter_map(|(i, border)| Some((i, border.pieced.as_ref()?))) {
        for (name, id) in [("block", pieced.block), ("corner", pieced.corner)] {
            if !blocks.contains(&id) {
                return Err(content(&format!("{path}.borders[{i}].pieced.{name}"), EditError::NoBlock(BlockId(id))));
            }
        }
    }
    match file.places.iter().enumerate().find(|(_, place)| !blocks.contains(&place.block)) {
        Some((i, place)) => {
            Err(content(&format!("{path}.places[{i}].block"), EditError::NoBlock(BlockId(place.block))))
        }
        None => Ok(()),
    }
}

/// The fabrics that a setting names, with the names of their fields.
fn setting_fabrics(setting: &v1::Setting) -> Vec<(&'static str, u32)> {
    match *setting {
        v1::Setting::Straight { .. } => Vec::new(),
        v1::Setting::Sampler { filler, .. } | v1::Setting::FreeSampler { filler, .. } => vec![("filler", filler)],
        v1::Setting::TriangleRows { ends, .. } => vec![("ends", ends)],
        v1::Setting::OnPoint { sides, corners, .. } => vec![("sides", sides), ("corners", corners)],
        v1::Setting::HexagonRows { halves, edges, .. } => vec![("halves", halves), ("edges", edges)],
        v1::Setting::StarRows { between, ends, .. } => vec![("between", between), ("ends", ends)],
    }
}

fn counts(path: &str, file: &v1::Variant) -> Result<(), FileError> {
    let lists = [
        ("fabrics", file.fabrics.len(), MAX_FABRICS),
        ("blocks", file.blocks.len(), MAX_BLOCKS),
        ("borders", file.borders.len(), MAX_BORDERS),
        ("places", file.places.len(), MAX_CELLS),
        (
            "setting.rows",
            if let v1::Setting::Sampler { rows, .. } = &file.setting { rows.len() } else { 0 },
            MAX_ROWS.into(),
        ),
        (
            "setting.stand",
            if let v1::Setting::FreeSampler { stand, .. } = &file.setting { stand.len() } else { 0 },
            MAX_SAMPLER_BLOCKS,
        ),
    ];
    match lists.into_iter().find(|(_, given, most)| given > most) {
        Some((what, given, most)) => Err(content(&format!("{path}.{what}"), EditError::TooMany { what, most, given })),
        None => Ok(()),
    }
}
