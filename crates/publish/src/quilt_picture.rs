//! The picture of a quilt top: every patch in its fabric's colour, seams on top.

use std::collections::BTreeMap;

use geometry::{Block, Motion, Polygon};
use layout::{BlockId, Design, FabricId};

use crate::set_text::{INK, PAPER};
use crate::{Area, Colour, Drawing, Item, Lines, Page, Point, Polyline, PublishError};

/// Width of a seam line as a share of the longer side of the quilt.
const SEAM_SHARE: f64 = 0.0006;
/// The longer side of the picture of a block, in inches.
const BLOCK_IN: f64 = 0.8;
/// Room round it for its outline.
const ROOM_IN: f64 = 0.02;
/// Width of its seams.
const SEAM_IN: f64 = 0.006;

/// Whether seams are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seams {
    /// Seams and the outline are drawn.
    Shown,
    /// Only fabrics.
    Hidden,
}

/// Draws the quilt top at its finished size.
///
/// # Errors
/// A design that cannot be placed, or a page that cannot be drawn.
pub fn quilt_picture(design: &Design, seams: Seams) -> Result<Drawing, PublishError> {
    let top = design.top()?;
    let (width_in, height_in) = (top.width.to_f64(), top.height.to_f64());
    let mut by_fabric: BTreeMap<FabricId, Vec<Vec<Point>>> = BTreeMap::new();
    let mut outlines = Vec::new();
    for placed in &top.placed {
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let points = on_page(&placed.motion, &patch.outline, height_in);
            if seams == Seams::Shown {
                outlines.push(Polyline { points: points.clone(), closed: true });
            }
            by_fabric.entry(fabric).or_default().push(points);
        }
    }
    let mut items = Vec::with_capacity(by_fabric.len() + 1);
    for (id, polygons) in by_fabric {
        let fabric = design.fabric(id)?;
        let fill = fabric.look.colour();
        items.push(Item::Area(Area { label: format!("{} ({})", fabric.name, fabric.value.word()), fill, polygons }));
    }
    if !outlines.is_empty() {
        let width_in = width_in.max(height_in) * SEAM_SHARE;
        items.push(Item::Lines(Lines {
            stroke: Colour::rgb(40, 40, 40),
            width_in,
            dashes: Vec::new(),
            polylines: outlines,
        }));
    }
    Drawing::new(Page { width_in, height_in, background: None }, items)
}

/// Draws the seams of the quilt top without its colours, to be coloured by hand.
///
/// # Errors
/// A design that cannot be placed, or a page that cannot be drawn.
pub(crate) fn line_art(design: &Design) -> Result<Drawing, PublishError> {
    let drawing = quilt_picture(design, Seams::Shown)?;
    let page = Page { background: Some(PAPER), ..drawing.page() };
    let seams = drawing.items().iter().filter(|item| matches!(item, Item::Lines(_)));
    Drawing::new(page, seams.cloned().collect())
}

/// A patch on the page, whose y axis points down.
fn on_page(motion: &Motion, outline: &Polygon, height_in: f64) -> Vec<Point> {
    let place = |p: &geometry::Point| {
        let [x, y] = motion.point(p).to_f64();
        [x, height_in - y]
    };
    outline.corners().iter().map(place).collect()
}

/// The picture of a block with its patches in these fabrics, its own top upward.
pub(crate) fn block_picture(
    design: &Design,
    block: BlockId,
    mirrored: bool,
    fabrics: &[FabricId],
) -> Result<Drawing, PublishError> {
    let block: &Block = design.block(block)?.block();
    let (low, high) = block.base().bounds();
    let ([left, bottom], [right, top]) = (low.to_f64(), high.to_f64());
    let scale = BLOCK_IN / (right - left).max(top - bottom);
    let place = |point: &geometry::Point| -> Point {
        let [x, y] = point.to_f64();
        let x = if mirrored { right - x } else { x - left };
        [x * scale + ROOM_IN, (top - y) * scale + ROOM_IN]
    };
    let mut items = Vec::new();
    let mut seams = Vec::new();
    for (patch, fabric) in block.patches().iter().zip(fabrics) {
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
