//! The picture of a quilt top: every patch in its fabric's colour, seams on top.

use std::collections::BTreeMap;

use geometry::{Motion, Polygon};
use layout::{Design, FabricId};

use crate::set_text::PAPER;
use crate::{Area, Colour, Drawing, Item, Lines, Page, Point, Polyline, PublishError};

/// Width of a seam line as a share of the longer side of the quilt.
const SEAM_SHARE: f64 = 0.0006;

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
