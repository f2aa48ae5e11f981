//! Kinds of block as they are laid out: blocks of one draft, one hand and the same fabrics, each with a letter.

use std::collections::BTreeSet;
use std::sync::Arc;

use geometry::Block;
use layout::{BlockId, Design, FabricId, PlaceId};
use piecing::QuiltPlan;

use crate::cut_words::strip_letter;
use crate::set_text::{INK, PAPER};
use crate::{Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError};

/// The longer side of a kind's picture, in inches.
const KIND_IN: f64 = 0.8;
/// Room round it for its outline.
const ROOM_IN: f64 = 0.02;
/// Width of its seams.
const SEAM_IN: f64 = 0.006;

/// A kind of block and where it stands.
pub(super) struct Standing {
    /// Its letter, A for the first kind.
    pub(super) letter: String,
    /// Which block.
    pub(super) block: BlockId,
    /// Its name, and whether it is mirrored.
    pub(super) name: String,
    /// Whether it is the mirror image of its draft.
    pub(super) mirrored: bool,
    /// The fabric of each patch.
    pub(super) fabrics: Arc<Vec<FabricId>>,
    /// Where it stands.
    pub(super) places: Vec<PlaceId>,
}

impl Standing {
    /// The names of its fabrics, each once, in the order of the fabrics.
    pub(super) fn fabric_names(&self, design: &Design) -> Result<String, PublishError> {
        let used: BTreeSet<FabricId> = self.fabrics.iter().copied().collect();
        let names = used.into_iter().map(|id| Ok(design.fabric(id)?.name.as_str()));
        Ok(names.collect::<Result<Vec<_>, PublishError>>()?.join(", "))
    }
}

/// The kinds of block of a quilt, in the order of its blocks, of each in the order of their first places.
pub(super) fn kinds_of(design: &Design, sewing: &QuiltPlan) -> Result<Vec<Standing>, PublishError> {
    let mut found = Vec::new();
    for plan in &sewing.blocks {
        let name = design.block(plan.block)?.name();
        for colouring in &plan.colourings {
            found.push(Standing {
                letter: strip_letter(found.len()),
                block: plan.block,
                name: if colouring.mirrored { format!("{name}, mirrored") } else { name.to_owned() },
                mirrored: colouring.mirrored,
                fabrics: Arc::clone(&colouring.fabrics),
                places: colouring.places.clone(),
            });
        }
    }
    Ok(found)
}

/// The picture of a kind, its own top upward.
pub(super) fn kind_picture(design: &Design, kind: &Standing) -> Result<Drawing, PublishError> {
    let block: &Block = design.block(kind.block)?.block();
    let (low, high) = block.base().bounds();
    let ([left, bottom], [right, top]) = (low.to_f64(), high.to_f64());
    let scale = KIND_IN / (right - left).max(top - bottom);
    let place = |point: &geometry::Point| -> Point {
        let [x, y] = point.to_f64();
        let x = if kind.mirrored { right - x } else { x - left };
        [x * scale + ROOM_IN, (top - y) * scale + ROOM_IN]
    };
    let mut items = Vec::new();
    let mut seams = Vec::new();
    for (patch, fabric) in block.patches().iter().zip(kind.fabrics.iter()) {
        let points: Vec<Point> = patch.outline.corners().iter().map(place).collect();
        let fabric = design.fabric(*fabric)?;
        let area = Area { label: fabric.name.clone(), fill: fabric.look.colour(), polygons: vec![points.clone()] };
        items.push(Item::Area(area));
        seams.push(Polyline { points, closed: true });
    }
    items.push(Item::Lines(Lines { stroke: INK, width_in: SEAM_IN, dashes: Vec::new(), polylines: seams }));
    let side = |length: f64| length * scale + 2.0 * ROOM_IN;
    let page = Page { width_in: side(right - left), height_in: side(top - bottom), background: Some(PAPER) };
    Drawing::new(page, items)
}
