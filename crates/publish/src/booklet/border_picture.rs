//! The borders round the top, numbered from the inside, and where to measure before they are cut.

use std::collections::BTreeMap;

use geometry::Exact;
use layout::{Design, FabricId, PlaceId, Side};

use super::rows_picture::{centred, disc, is_of_border, middle_of};
use crate::set_text::{INK, PAPER, QUIET, SMALL_IN, tinted};
use crate::{Anchor, Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text, Weight};

/// The widest and highest that the drawing is, in inches.
const LARGEST_IN: f64 = 3.4;
/// Room round it for its outline.
const ROOM_IN: f64 = 0.06;
/// How much of a fabric's colour is drawn.
const TINT: f64 = 0.55;
const LINE_IN: f64 = 0.008;
const DASHES_IN: [f64; 2] = [0.05, 0.035];
const HEAD_IN: f64 = 0.07;

/// Draws the borders of a quilt.
pub(super) fn border_picture(design: &Design) -> Result<Drawing, PublishError> {
    let top = design.top()?;
    let (width, height) = (top.width.to_f64(), top.height.to_f64());
    let scale = LARGEST_IN / width.max(height);
    let on_page = |[x, y]: Point| [x * scale + ROOM_IN, (height - y) * scale + ROOM_IN];
    let mut areas: BTreeMap<FabricId, Vec<Vec<Point>>> = BTreeMap::new();
    let mut numbers = Vec::new();
    for placed in top.placed.iter().filter(|placed| is_of_border(placed.place)) {
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let corners = patch.outline.corners().iter();
            let points = corners.map(|corner| on_page(placed.motion.point(corner).to_f64())).collect();
            areas.entry(fabric).or_default().push(points);
        }
        let corners: Vec<Point> =
            placed.block.base().corners().iter().map(|p| on_page(placed.motion.point(p).to_f64())).collect();
        if let Some(number) = numbered(placed.place) {
            numbers.push((number, middle_of(&corners)));
        }
    }
    let mut items = Vec::new();
    let mut outlines = Vec::new();
    for (fabric, polygons) in areas {
        let fabric = design.fabric(fabric)?;
        outlines.extend(polygons.iter().map(|points| Polyline { points: points.clone(), closed: true }));
        let fill = tinted(fabric.look.colour(), TINT);
        items.push(Item::Area(Area { label: fabric.name.clone(), fill, polygons }));
    }
    items.push(Item::Lines(Lines { stroke: INK, width_in: LINE_IN / 2.0, dashes: Vec::new(), polylines: outlines }));
    if let Some(measured) = first_measured(design) {
        items.extend(middle_lines(design, &measured, &on_page));
    }
    numbers.sort_by_key(|(number, _)| *number);
    // Narrow borders lie close together: each number stands lower than the one before it.
    for ((number, [x, _]), step) in numbers.into_iter().zip(0_u8..) {
        let at = [x, on_page([0.0, height * 0.4])[1] + f64::from(step) * SMALL_IN * 1.6];
        let area = Area { label: format!("border {number}"), fill: PAPER, polygons: vec![disc(at, SMALL_IN * 0.7)] };
        items.extend([Item::Area(area), centred(number.to_string(), at, SMALL_IN)]);
    }
    let side = |length: f64| length * scale + 2.0 * ROOM_IN;
    Drawing::new(Page { width_in: side(width), height_in: side(height), background: Some(PAPER) }, items)
}

/// The number that stands in a place: on the left side, or in the first block of a left side that is pieced.
const fn numbered(place: PlaceId) -> Option<u16> {
    match place {
        PlaceId::Border { border, side: Side::Left } | PlaceId::BorderBlock { border, side: Side::Left, index: 0 } => {
            Some(border + 1)
        }
        _ => None,
    }
}

/// The finished size inside the first border that is cut to length; none where all borders are made of blocks.
fn first_measured(design: &Design) -> Option<(Exact, Exact)> {
    let (mut wide, mut high) = design.setting_extent();
    for border in design.borders() {
        if border.pieced().is_none() {
            return Some((wide, high));
        }
        wide = &wide + &border.across(false).scale_int(2);
        high = &high + &border.across(true).scale_int(2);
    }
    None
}

/// Lines through the middle of a top that is so large, with heads at both ends, and their words in the centre, where
/// nothing is drawn.
fn middle_lines(design: &Design, (wide, high): &(Exact, Exact), on_page: &impl Fn(Point) -> Point) -> Vec<Item> {
    let (width, height) = design.finished_size();
    let (inner_wide, inner_high) = design.setting_extent();
    let [width, height, wide, high] = [&width, &height, wide, high].map(Exact::to_f64);
    let quarter = on_page([(width - inner_wide.to_f64() / 2.0) / 2.0, (height + inner_high.to_f64() / 2.0) / 2.0]);
    let (left, low) = ((width - wide) / 2.0, (height - high) / 2.0);
    let (x, y) = (width / 2.0, height / 2.0);
    let across = [[left, y], [left + wide, y]].map(on_page);
    let down = [[x, low + high], [x, low]].map(on_page);
    let dashed = |ends: [Point; 2]| {
        let polylines = vec![Polyline { points: ends.to_vec(), closed: false }];
        Item::Lines(Lines { stroke: INK, width_in: LINE_IN, dashes: DASHES_IN.to_vec(), polylines })
    };
    let head = |at: Point, [dx, dy]: Point| {
        let back = [at[0] - dx * HEAD_IN, at[1] - dy * HEAD_IN];
        let (sx, sy) = (dy * HEAD_IN * 0.45, dx * HEAD_IN * 0.45);
        vec![at, [back[0] + sx, back[1] + sy], [back[0] - sx, back[1] - sy]]
    };
    let heads = vec![
        head(across[0], [-1.0, 0.0]),
        head(across[1], [1.0, 0.0]),
        head(down[0], [0.0, -1.0]),
        head(down[1], [0.0, 1.0]),
    ];
    let word = |text: &str, at: Point, turned: f64| {
        let text = text.to_owned();
        let (size_in, weight) = (SMALL_IN, Weight::Regular);
        Item::Text(Text { text, at, anchor: Anchor::Middle, size_in, weight, fill: QUIET, turned })
    };
    vec![
        dashed(across),
        dashed(down),
        Item::Area(Area { label: String::new(), fill: INK, polygons: heads }),
        word("measure here", [quarter[0], across[0][1] + 0.06 + SMALL_IN * 0.7], 0.0),
        word("and here", [down[0][0] - 0.06, quarter[1]], -90.0),
    ]
}
