//! What a click with a fabric in hand does: the edit, and the sentence that says so beforehand.

use std::collections::BTreeSet;

use geometry::Value;
use geometry::cut::CutShape;
use layout::{Design, Edit, EditError, FabricId, PlaceId, Setting, Source, Units};

use super::blocks::{Symmetry, drag_says};
use super::derived::Derived;
use super::session::{Scope, Session, Spot, Tool};
use crate::words::ruler;

/// The edit that paints `spot` with `fabric` as far as `scope` reaches; none when it has that fabric already.
///
/// # Errors
/// A spot that is not there.
pub fn edit_for(design: &Design, spot: Spot, scope: Scope, fabric: FabricId) -> Result<Option<Edit>, EditError> {
    let source = design.source(spot.place)?;
    let block = design.source_block(source)?;
    let Some(patch) = block.patches().get(spot.patch) else { return Err(EditError::NoPlace(spot.place)) };
    let shown = design.paint(spot.place, source, &block, spot.patch)?;
    if shown == fabric && scope != Scope::SamePatch && scope != Scope::Role {
        return Ok(None);
    }
    let edit = match (scope, source) {
        (Scope::Fabric, _) => Edit::ReplaceFabric { from: shown, to: fabric },
        (Scope::Patch, _) => Edit::PaintPatch { place: spot.place, patch: patch.key, fabric },
        (Scope::SamePatch, Source::Block(block)) => Edit::PaintPatchEverywhere { block, patch: patch.key, fabric },
        (Scope::Role, Source::Block(block)) => {
            let value = patch.tone.table_value(design.halves(spot.place).values());
            Edit::PaintRole { block, role: patch.role.clone(), value: Some(value), fabric }
        }
        (Scope::SamePatch | Scope::Role, piece) => return Ok(design.recolour_pieces(piece, fabric)),
    };
    Ok(Some(edit))
}

/// One line that says what a click will do now.
#[must_use]
pub fn click_says(design: &Design, session: &Session) -> String {
    if !session.room.works_on_wall() {
        return "View only: arrange blocks in Set, paint in Colour".to_owned();
    }
    if let Some(told) = drag_says(design, session) {
        return told;
    }
    let Some(spot) = session.hover else {
        return match session.tool {
            Tool::Select => {
                "Point at a block to select it; drag on empty ground, or with Shift or Alt, to select several"
                    .to_owned()
            }
            Tool::Paint => format!("Point at a patch to paint it with {}", fabric_name(design, session.fabric)),
            Tool::Pick => "Point at a patch to take up its fabric".to_owned(),
        };
    };
    let told = match session.tool {
        Tool::Select => select_says(design, spot),
        Tool::Paint => paint_says(design, session, spot),
        Tool::Pick => shown_fabric(design, spot).map(|f| format!("Takes up {}", fabric_name(design, f))),
    };
    told.unwrap_or_default()
}

fn select_says(design: &Design, spot: Spot) -> Option<String> {
    match design.source(spot.place).ok()? {
        Source::Block(id) => {
            let name = design.block(id).ok()?.name();
            Some(format!("Selects {name} in {}; Shift adds it, a drag exchanges it", spot.place))
        }
        _ => Some(format!("The {} holds no block to select", spot.place)),
    }
}

fn paint_says(design: &Design, session: &Session, spot: Spot) -> Option<String> {
    let source = design.source(spot.place).ok()?;
    let block = design.source_block(source).ok()?;
    let patch = block.patches().get(spot.patch)?;
    let name = fabric_name(design, session.fabric);
    let role = &patch.role;
    let there = shown_fabric(design, spot)? == session.fabric;
    Some(match (session.scope, source) {
        (Scope::Patch, _) if there => format!("This {role} is {name} already"),
        (Scope::Fabric, _) if there => format!("All of this is {name} already"),
        (Scope::Patch, _) => format!("Paints this {role} with {name}{}", in_images(session)),
        (Scope::Fabric, _) => {
            format!("Replaces {} by {name} everywhere", fabric_name(design, shown_fabric(design, spot)?))
        }
        (Scope::SamePatch, Source::Block(id)) => {
            let places = design.places_of(id).count();
            format!("Paints this {role} with {name} in all {places} blocks of this kind")
        }
        (Scope::Role, Source::Block(id)) => {
            let value = patch.tone.table_value(design.halves(spot.place).values());
            let kind = design.block(id).ok()?.name();
            match patch.tone.half() {
                Some(_) => format!("Paints every {role} in the {} halves of {kind} with {name}", value.word()),
                None => format!("Paints every {} {role} of {kind} with {name}", value.word()),
            }
        }
        (Scope::SamePatch | Scope::Role, Source::Border { border, .. }) => {
            format!("Paints the whole of border {} with {name}", border + 1)
        }
        (Scope::SamePatch | Scope::Role, Source::RowEnd) => format!("Paints all row ends with {name}"),
        (Scope::SamePatch | Scope::Role, Source::SideTriangle { .. } | Source::CornerTriangle { .. })
            if matches!(design.setting(), Setting::HexagonRows { .. }) =>
        {
            format!("Paints all edge and corner triangles with {name}")
        }
        (Scope::SamePatch | Scope::Role, _) => format!("Paints every {role} of the setting with {name}"),
    })
}

fn in_images(session: &Session) -> &'static str {
    if session.blocks.symmetry == Symmetry::Off { "" } else { ", also in the mirror image" }
}

/// What is under the pointer: role, block and place, finished and cut size.
#[must_use]
pub fn spot_says(design: &Design, derived: &Derived, spot: Spot) -> Option<String> {
    let source = design.source(spot.place).ok()?;
    let block = design.source_block(source).ok()?;
    let patch = block.patches().get(spot.patch)?;
    let units = design.units();
    let what = match source {
        Source::Block(_) => format!("{} of {}, {}", patch.role, design.source_name(source), spot.place),
        _ => spot.place.to_string(),
    };
    let book = derived.ledger().ok()?.book();
    let print = design.fabric(shown_fabric(design, spot)?).ok()?.print;
    let class = book.class(book.of_patch(source, patch.key, design.is_mirrored(spot.place), print)?)?;
    let cut = class.shape.outline().bounds();
    let (width, height) = finished_extent(&class.shape);
    let size = |v: f64| decimal_length(v, units);
    Some(format!(
        "{what} · {} × {} finished · {} × {} cut",
        size(width),
        size(height),
        ruler(cut.width(), units),
        ruler(cut.height(), units)
    ))
}

/// Width and height of the finished patch as it lies on the fabric, in inches.
fn finished_extent(shape: &CutShape) -> (f64, f64) {
    let corners = shape.finished_in_frame();
    let extent = |k: usize| {
        let (low, high) = corners.iter().fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p[k]), high.max(p[k])));
        high - low
    };
    (extent(0), extent(1))
}

fn decimal_length(inches: f64, units: Units) -> String {
    match units {
        Units::Inches => format!("{}″", trimmed(&format!("{inches:.3}"))),
        Units::Centimetres => format!("{} cm", trimmed(&format!("{:.2}", inches * 2.54))),
    }
}

fn trimmed(text: &str) -> String {
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The fabric that shows at a spot.
#[must_use]
pub fn shown_fabric(design: &Design, spot: Spot) -> Option<FabricId> {
    let source = design.source(spot.place).ok()?;
    let block = design.source_block(source).ok()?;
    design.paint(spot.place, source, &block, spot.patch).ok()
}

fn fabric_name(design: &Design, id: FabricId) -> String {
    design.fabric(id).map_or_else(|_| "no fabric".to_owned(), |f| f.name.clone())
}

/// The edit that turns a block by one step, `steps` counter-clockwise.
#[must_use]
pub fn turn_edit(design: &Design, place: PlaceId, steps: i8) -> Option<Edit> {
    let now = i16::from(design.place(place).ok()?.turn);
    // Only some turns bring a block back into its cell: take the next one that does.
    (1..=4)
        .map(|k| (now + i16::from(steps) * k).rem_euclid(12))
        .filter_map(|turn| u8::try_from(turn).ok())
        .map(|turn| turn % turns(design))
        .find(|turn| design.cell().allows_turn(design.setting(), *turn))
        .map(|turn| Edit::Turn { place, turn })
}

const fn turns(design: &Design) -> u8 {
    match design.setting() {
        Setting::Straight { .. } | Setting::OnPoint { .. } | Setting::Sampler { .. } => 4,
        Setting::TriangleRows { .. } => 3,
        Setting::HexagonRows { .. } | Setting::StarRows { .. } => 6,
    }
}

/// The fabrics in order of value, dark to light, then by id: the order of the number keys.
#[must_use]
pub fn fabrics_by_value(design: &Design) -> Vec<FabricId> {
    let mut fabrics: BTreeSet<(std::cmp::Reverse<Value>, FabricId)> = BTreeSet::new();
    fabrics.extend(design.fabrics().map(|(id, fabric)| (std::cmp::Reverse(fabric.value), id)));
    fabrics.into_iter().map(|(_, id)| id).collect()
}
