//! From the file's own types to a checked design; every refusal names the field.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{ExtraSeam, Length, Patch, PatchKey, Point, Polygon, Recipe, RecutError, Role, Size, Tone, Vector};

use super::number::FileNumber;
use super::settings::{self, ReadSetting};
use super::{FileError, buying, places, references, v1};
use crate::{
    Backing, Binding, BlockDef, BlockId, Border, BorderKind, Design, DesignParts, FabricId, Halves, Imprint,
    PiecedBorder, Place, PlaceId, Sashing, UnitKeys,
};

/// Reads one variant; `path` is its place in the file.
pub(super) fn variant(path: &str, file: &v1::Variant) -> Result<Design, FileError> {
    let field = |name: &str| format!("{path}.{name}");
    references::check(path, file)?;
    let ReadSetting { setting, float, sampler } = settings::read(&field("setting"), &file.setting)?;
    let parts = DesignParts {
        name: file.name.clone(),
        units: file.units.into(),
        seam: length(&field("seam_allowance"), &file.seam_allowance)?,
        ruler_step: length(&field("ruler_step"), &file.ruler_step)?,
        buying: buying::buying(&field("buying"), &file.buying)?,
        cutting: buying::cutting(&field("cutting"), &file.cutting)?,
        fabrics: listed(&field("fabrics"), &file.fabrics, buying::fabric)?,
        blocks: listed(&field("blocks"), &file.blocks, block)?,
        setting,
        float,
        sampler,
        sashing: file.sashing.as_ref().map(|file| sashing(&field("sashing"), file)).transpose()?,
        places: listed(&field("places"), &file.places, place)?,
        place_roles: listed(&field("paint.roles"), &file.paint.roles, |path, entry| {
            let role = Role::new(&entry.role).map_err(|e| content(path, e))?;
            Ok(((places::read(path, &entry.at)?, role), FabricId(entry.fabric)))
        })?,
        place_patches: listed(&field("paint.patches"), &file.paint.patches, |path, entry| {
            Ok(((places::read(path, &entry.at)?, PatchKey(entry.patch)), FabricId(entry.fabric)))
        })?,
        borders: (0..)
            .zip(&file.borders)
            .map(|(i, file): (usize, _)| border(&format!("{path}.borders[{i}]"), file))
            .collect::<Result<_, _>>()?,
        binding: Binding {
            strip_width: length(&field("binding.strip_width"), &file.binding.strip_width)?,
            fabric: FabricId(file.binding.fabric),
            extra: length(&field("binding.extra"), &file.binding.extra)?,
            join: file.binding.join.into(),
            grain: file.binding.grain.into(),
        },
        backing: Backing {
            overhang: length(&field("backing.overhang"), &file.backing.overhang)?,
            usable_width: length(&field("backing.usable_width"), &file.backing.usable_width)?,
        },
        imprint: imprint(&field("imprint"), &file.imprint)?,
    };
    Design::assemble(parts).map_err(|e| content(path, e))
}

fn imprint(path: &str, file: &v1::Imprint) -> Result<Imprint, FileError> {
    let v1::Imprint { author, edition, lead, notes, photo } = file;
    let [author, edition, lead, photo] = [author, edition, lead, photo].map(String::clone);
    Imprint { author, edition, lead, notes: notes.clone(), photo }.checked().map_err(|e| content(path, e))
}

pub(super) fn content(path: &str, error: impl std::fmt::Display) -> FileError {
    FileError::Content { field: path.to_owned(), why: super::fit_to_show(&error.to_string()) }
}

pub(super) fn length(path: &str, file: &FileNumber) -> Result<Length, FileError> {
    Length::new(file.0.clone()).map_err(|e| content(path, e))
}

/// Reads a list into a map; two entries with one key are refused.
fn listed<T, K: Ord, V>(
    path: &str,
    list: &[T],
    read: impl Fn(&str, &T) -> Result<(K, V), FileError>,
) -> Result<BTreeMap<K, V>, FileError> {
    let mut map = BTreeMap::new();
    for (i, entry) in list.iter().enumerate() {
        let path = format!("{path}[{i}]");
        let (key, value) = read(&path, entry)?;
        if map.insert(key, value).is_some() {
            return Err(content(&path, "this stands twice; leave one of them out"));
        }
    }
    Ok(map)
}

fn block(path: &str, file: &v1::Block) -> Result<(BlockId, BlockDef), FileError> {
    let recipe = recipe(&format!("{path}.recipe"), &file.recipe)?;
    let table = listed(&format!("{path}.roles"), &file.roles, |path, entry| {
        let role = Role::new(&entry.role).map_err(|e| content(path, e))?;
        Ok(((role, entry.value.into()), FabricId(entry.fabric)))
    })?;
    let keys = file.keys.as_ref().map(|keys| keys.iter().map(|key| PatchKey(*key)).collect::<Vec<_>>());
    let def = match keys {
        Some(keys) => BlockDef::with_keys(&file.name, recipe, table, &keys),
        None => BlockDef::new(&file.name, recipe, table),
    };
    let mut def = def.map_err(|e| content(path, e))?;
    let known: BTreeSet<PatchKey> = def.block().patches().iter().map(|p| p.key).collect();
    def.painted = listed(&format!("{path}.painted"), &file.painted, |path, entry| {
        let key = PatchKey(entry.patch);
        if !known.contains(&key) {
            return Err(content(path, format!("there is no patch {} in this block", key.0)));
        }
        Ok((key, FabricId(entry.fabric)))
    })?;
    let trimmed = trimmed_units(&format!("{path}.trimmed"), &file.trimmed)?;
    let def = def.with_trimmed(trimmed).map_err(|e| content(&format!("{path}.trimmed"), e))?;
    Ok((BlockId(file.id), def))
}

fn trimmed_units(path: &str, list: &[Vec<u32>]) -> Result<UnitKeys, FileError> {
    let unit = |path: &str, keys: &Vec<u32>| {
        let read = listed(path, keys, |_, key| Ok((PatchKey(*key), ())))?;
        Ok((read.into_keys().collect::<BTreeSet<_>>(), ()))
    };
    Ok(listed(path, list, unit)?.into_keys().collect())
}

fn size(path: &str, file: &v1::Size) -> Result<Size, FileError> {
    Ok(Size { by: file.by.into(), length: length(&format!("{path}.size.length"), &file.length)? })
}

fn recipe(path: &str, file: &v1::Recipe) -> Result<Recipe, FileError> {
    let named = |name: &str, number: &FileNumber| length(&format!("{path}.{name}"), number);
    Ok(match file {
        v1::Recipe::TiltedStar { size: s } => Recipe::TiltedStar(size(path, s)?),
        v1::Recipe::OnAxisStar { size: s, split } => Recipe::OnAxisStar { size: size(path, s)?, split: *split },
        v1::Recipe::DiagonalHalf { size: s, band } => Recipe::DiagonalHalf {
            size: size(path, s)?,
            band: band.as_ref().map(|band| named("band", band)).transpose()?,
        },
        v1::Recipe::SixtyUnit { size: s } => Recipe::SixtyUnit(size(path, s)?),
        v1::Recipe::SixtyTriangle { size: s } => Recipe::SixtyTriangle(size(path, s)?),
        v1::Recipe::SixtyDiamond { size: s } => Recipe::SixtyDiamond(size(path, s)?),
        v1::Recipe::Hexagon { size: s } => Recipe::Hexagon(size(path, s)?),
        v1::Recipe::HalfHexagon { size: s } => Recipe::HalfHexagon(size(path, s)?),
        v1::Recipe::HexagonStar { size: s, split } => Recipe::HexagonStar { size: size(path, s)?, split: *split },
        v1::Recipe::Plain { width, height } => {
            Recipe::Plain { width: named("width", width)?, height: named("height", height)? }
        }
        v1::Recipe::FourPatch { size: s } => Recipe::FourPatch(size(path, s)?),
        v1::Recipe::NinePatch { size: s } => Recipe::NinePatch(size(path, s)?),
        v1::Recipe::HalfSquare { size: s } => Recipe::HalfSquare(size(path, s)?),
        v1::Recipe::QuarterSquare { size: s } => Recipe::QuarterSquare(size(path, s)?),
        v1::Recipe::FlyingGoose { size: s } => Recipe::FlyingGoose(size(path, s)?),
        v1::Recipe::SquareInSquare { size: s } => Recipe::SquareInSquare(size(path, s)?),
        v1::Recipe::Stripes { width, height, count } => {
            Recipe::Stripes { width: named("width", width)?, height: named("height", height)?, count: *count }
        }
        v1::Recipe::Own { base, patches } => Recipe::Own {
            base: outline(&format!("{path}.base"), base)?,
            patches: patches
                .iter()
                .enumerate()
                .map(|(i, patch)| own_patch(&format!("{path}.patches[{i}]"), i, patch))
                .collect::<Result<_, _>>()?,
        },
        v1::Recipe::Recut { of, .. } if matches!(**of, v1::Recipe::Recut { .. }) => {
            return Err(content(path, RecutError::Nested));
        }
        v1::Recipe::Recut { of, seams } => Recipe::Recut {
            of: Box::new(recipe(&format!("{path}.of"), of)?),
            seams: seams.iter().map(|seam| ExtraSeam { patch: seam.patch, axis: seam.axis }).collect(),
        },
    })
}

fn outline(path: &str, corners: &[[FileNumber; 2]]) -> Result<Polygon, FileError> {
    let limit = geometry::Exact::LIMIT_BITS;
    if corners.iter().flatten().any(|n| n.0.bits() > limit) {
        return Err(content(path, format!("a coordinate may need at most {limit} bits; use simpler points")));
    }
    let points = corners.iter().map(|[x, y]| Point::new(x.0.clone(), y.0.clone())).collect();
    Polygon::new(points).map_err(|e| content(path, e))
}

fn own_patch(path: &str, index: usize, file: &v1::OwnPatch) -> Result<Patch, FileError> {
    let tone = match (file.value, file.half, file.against_half) {
        (Some(value), None, None) => Tone::Own(value.into()),
        (None, Some(half), None) => Tone::Half(half),
        (None, None, Some(half)) => Tone::AgainstHalf(half),
        _ => return Err(content(path, "give exactly one of value, half and against_half")),
    };
    Ok(Patch {
        key: PatchKey(u32::try_from(index).unwrap_or(u32::MAX)),
        outline: outline(&format!("{path}.corners"), &file.corners)?,
        role: Role::new(&file.role).map_err(|e| content(&format!("{path}.role"), e))?,
        tone,
        grain: file.grain.as_ref().map(|[x, y]| Vector::new(x.0.clone(), y.0.clone())),
    })
}

fn place(path: &str, file: &v1::Place) -> Result<(PlaceId, Place), FileError> {
    let values: Vec<_> = file.halves.iter().map(|v| (*v).into()).collect();
    if values.len() > usize::from(geometry::MAX_HALVES) {
        return Err(content(&format!("{path}.halves"), format!("at most {} halves", geometry::MAX_HALVES)));
    }
    let place =
        Place { block: BlockId(file.block), turn: file.turn, mirrored: file.mirrored, halves: Halves::new(&values) };
    Ok((PlaceId::Cell { row: file.row, column: file.column }, place))
}

fn sashing(path: &str, file: &v1::Sashing) -> Result<Sashing, FileError> {
    Ok(Sashing {
        width: length(&format!("{path}.width"), &file.width)?,
        fabric: FabricId(file.fabric),
        cornerstones: file.cornerstones.map(FabricId),
        outer: file.outer,
    })
}

fn border(path: &str, file: &v1::Border) -> Result<Border, FileError> {
    let kind = match (file.mitred, file.corner_squares, &file.pieced) {
        (false, None, None) => BorderKind::Butted,
        (true, None, None) => BorderKind::Mitred,
        (false, Some(fabric), None) => BorderKind::CornerSquares(FabricId(fabric)),
        (false, None, Some(own)) if own.turn > 3 => {
            return Err(content(&format!("{path}.pieced.turn"), "a block has 0 to 3 quarter turns"));
        }
        (false, None, Some(own)) => BorderKind::Pieced(PiecedBorder {
            block: BlockId(own.block),
            turn: own.turn,
            mirrored: own.mirrored,
            corner: BlockId(own.corner),
        }),
        _ => return Err(content(path, "give at most one of mitred, corner_squares and pieced")),
    };
    let level_width =
        file.level_width.as_ref().map(|width| length(&format!("{path}.level_width"), width)).transpose()?;
    Ok(Border {
        width: length(&format!("{path}.width"), &file.width)?,
        level_width,
        fabric: FabricId(file.fabric),
        kind,
    })
}
