//! From a design to the file's own types.

use geometry::{Exact, Patch, Point, Recipe, Size, Tone};

use super::number::FileNumber;
use super::{places, settings, v1};
use crate::{
    BlockDef, BlockId, Border, BorderKind, CuttingWishes, Design, Fabric, FabricId, Imprint, PlaceId, Sashing, Sold,
};

/// The design as a variant of a file.
pub(super) fn variant(label: &str, design: &Design) -> v1::Variant {
    let binding = design.binding();
    v1::Variant {
        variant: label.to_owned(),
        name: design.name().to_owned(),
        units: design.units().into(),
        seam_allowance: number(design.seam().inches()),
        ruler_step: number(design.ruler_step().inches()),
        buying: v1::Buying {
            shrinkage_permille: design.buying().shrinkage_permille(),
            squaring_up: design.buying().squaring_up.as_ref().map(|l| number(l.inches())),
            step: design.buying().step.into(),
        },
        cutting: cutting_of(design.cutting()),
        fabrics: design.fabrics().map(|(id, fabric)| fabric_of(id, fabric)).collect(),
        blocks: design.blocks().map(|(id, block)| block_of(id, block)).collect(),
        setting: settings::write(design),
        sashing: design.sashing().map(sashing_of),
        places: design.places().filter_map(place_of).collect(),
        paint: paint_of(design),
        borders: design.borders().iter().map(border_of).collect(),
        binding: v1::Binding {
            strip_width: number(binding.strip_width.inches()),
            fabric: binding.fabric.0,
            extra: number(binding.extra.inches()),
            join: binding.join.into(),
            grain: binding.grain.into(),
        },
        backing: v1::Backing {
            overhang: number(design.backing().overhang.inches()),
            usable_width: number(design.backing().usable_width.inches()),
        },
        imprint: imprint_of(design.imprint()),
    }
}

fn imprint_of(imprint: &Imprint) -> v1::Imprint {
    let Imprint { author, edition, lead, notes, photo } = imprint;
    let [author, edition, lead, photo] = [author, edition, lead, photo].map(String::clone);
    v1::Imprint { author, edition, lead, notes: notes.clone(), photo }
}

fn sashing_of(sashing: &Sashing) -> v1::Sashing {
    v1::Sashing {
        width: number(sashing.width.inches()),
        fabric: sashing.fabric.0,
        cornerstones: sashing.cornerstones.map(|fabric| fabric.0),
        outer: sashing.outer,
    }
}

fn border_of(border: &Border) -> v1::Border {
    v1::Border {
        width: number(border.width.inches()),
        fabric: border.fabric.0,
        level_width: border.level_width.as_ref().map(|width| number(width.inches())),
        mitred: border.kind == BorderKind::Mitred,
        corner_squares: if let BorderKind::CornerSquares(fabric) = border.kind { Some(fabric.0) } else { None },
        pieced: border.pieced().map(|own| v1::PiecedBorder {
            block: own.block.0,
            turn: own.turn,
            mirrored: own.mirrored,
            corner: own.corner.0,
        }),
    }
}

pub(super) fn number(exact: &Exact) -> FileNumber {
    FileNumber(exact.clone())
}

fn fabric_of(id: FabricId, fabric: &Fabric) -> v1::Fabric {
    v1::Fabric {
        id: id.0,
        name: fabric.name.clone(),
        colour: fabric.look.colour().to_string(),
        value: fabric.value.into(),
        usable_width: number(fabric.usable_width.inches()),
        print: fabric.print.into(),
        precut: match &fabric.sold {
            Sold::ByLength => None,
            Sold::Precut(piece) => {
                Some(v1::Precut { width: number(piece.width.inches()), length: number(piece.length.inches()) })
            }
        },
        in_hand: fabric
            .in_hand
            .iter()
            .map(|p| v1::InHand { width: number(p.width.inches()), length: number(p.length.inches()), count: p.count })
            .collect(),
        bolt_width: fabric.bolt_width.as_ref().map(|l| number(l.inches())),
        price: fabric.price.map(crate::Price::hundredths),
        mixed_from: fabric.mixed_from,
    }
}

fn cutting_of(wishes: &CuttingWishes) -> v1::Cutting {
    let usual = CuttingWishes::default().avoid;
    v1::Cutting {
        cut_worth: wishes.cut_worth,
        oversize: wishes.oversize.as_ref().map(|l| number(l.inches())),
        spare_permille: wishes.spare_permille,
        squaring_every: wishes.squaring_every,
        ruler: wishes.ruler.into(),
        avoid: (wishes.avoid != usual).then(|| wishes.avoid.iter().map(|kind| (*kind).into()).collect()),
    }
}

fn block_of(id: BlockId, def: &BlockDef) -> v1::Block {
    let keys: Vec<u32> = def.block().patches().iter().map(|p| p.key.0).collect();
    let natural = keys.iter().enumerate().all(|(i, key)| usize::try_from(*key) == Ok(i));
    v1::Block {
        id: id.0,
        name: def.name().to_owned(),
        recipe: recipe_of(def.recipe()),
        keys: (!natural).then_some(keys),
        roles: def
            .table()
            .iter()
            .map(|((role, value), f)| v1::RolePaint {
                role: role.name().to_owned(),
                value: (*value).into(),
                fabric: f.0,
            })
            .collect(),
        painted: def.painted().iter().map(|(key, f)| v1::PatchPaint { patch: key.0, fabric: f.0 }).collect(),
        trimmed: def.trimmed().iter().map(|unit| unit.iter().map(|key| key.0).collect()).collect(),
    }
}

fn size_of(size: &Size) -> v1::Size {
    v1::Size { by: size.by.into(), length: number(size.length.inches()) }
}

fn recipe_of(recipe: &Recipe) -> v1::Recipe {
    match recipe {
        Recipe::TiltedStar(size) => v1::Recipe::TiltedStar { size: size_of(size) },
        Recipe::OnAxisStar { size, split } => v1::Recipe::OnAxisStar { size: size_of(size), split: *split },
        Recipe::DiagonalHalf { size, band } => {
            v1::Recipe::DiagonalHalf { size: size_of(size), band: band.as_ref().map(|band| number(band.inches())) }
        }
        Recipe::SixtyUnit(size) => v1::Recipe::SixtyUnit { size: size_of(size) },
        Recipe::SixtyTriangle(size) => v1::Recipe::SixtyTriangle { size: size_of(size) },
        Recipe::SixtyDiamond(size) => v1::Recipe::SixtyDiamond { size: size_of(size) },
        Recipe::Hexagon(size) => v1::Recipe::Hexagon { size: size_of(size) },
        Recipe::HalfHexagon(size) => v1::Recipe::HalfHexagon { size: size_of(size) },
        Recipe::HexagonStar { size, split } => v1::Recipe::HexagonStar { size: size_of(size), split: *split },
        Recipe::Plain { width, height } => {
            v1::Recipe::Plain { width: number(width.inches()), height: number(height.inches()) }
        }
        Recipe::FourPatch(size) => v1::Recipe::FourPatch { size: size_of(size) },
        Recipe::NinePatch(size) => v1::Recipe::NinePatch { size: size_of(size) },
        Recipe::HalfSquare(size) => v1::Recipe::HalfSquare { size: size_of(size) },
        Recipe::QuarterSquare(size) => v1::Recipe::QuarterSquare { size: size_of(size) },
        Recipe::FlyingGoose(size) => v1::Recipe::FlyingGoose { size: size_of(size) },
        Recipe::SquareInSquare(size) => v1::Recipe::SquareInSquare { size: size_of(size) },
        Recipe::Stripes { width, height, count } => {
            v1::Recipe::Stripes { width: number(width.inches()), height: number(height.inches()), count: *count }
        }
        Recipe::Own { base, patches } => v1::Recipe::Own {
            base: base.corners().iter().map(point_of).collect(),
            patches: patches.iter().map(own_patch_of).collect(),
        },
        Recipe::Recut { of, seams } => v1::Recipe::Recut {
            of: Box::new(recipe_of(of)),
            seams: seams.iter().map(|seam| v1::ExtraSeam { patch: seam.patch, axis: seam.axis }).collect(),
        },
    }
}

pub(super) fn point_of(p: &Point) -> [FileNumber; 2] {
    [number(&p.x), number(&p.y)]
}

fn own_patch_of(patch: &Patch) -> v1::OwnPatch {
    v1::OwnPatch {
        role: patch.role.name().to_owned(),
        value: if let Tone::Own(value) = patch.tone { Some(value.into()) } else { None },
        half: if let Tone::Half(half) = patch.tone { Some(half) } else { None },
        against_half: if let Tone::AgainstHalf(half) = patch.tone { Some(half) } else { None },
        grain: patch.grain.as_ref().map(|g| [number(&g.x), number(&g.y)]),
        corners: patch.outline.corners().iter().map(point_of).collect(),
    }
}

fn place_of((id, place): (PlaceId, &crate::Place)) -> Option<v1::Place> {
    let PlaceId::Cell { row, column } = id else { return None };
    Some(v1::Place {
        row,
        column,
        block: place.block.0,
        turn: place.turn,
        mirrored: place.mirrored,
        halves: place.halves.values().iter().map(|v| (*v).into()).collect(),
    })
}

fn paint_of(design: &Design) -> v1::Paint {
    v1::Paint {
        roles: design
            .place_roles()
            .map(|(place, role, f)| v1::PlaceRole {
                at: places::write(place),
                role: role.name().to_owned(),
                fabric: f.0,
            })
            .collect(),
        patches: design
            .place_patches()
            .map(|(place, key, f)| v1::PlacePatch { at: places::write(place), patch: key.0, fabric: f.0 })
            .collect(),
    }
}
