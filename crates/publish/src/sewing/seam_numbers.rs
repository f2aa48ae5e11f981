//! In which order the parts of a unit are told, and the numbers of its seams in the diagram: from left to right as they are
//! drawn, or from the top, so that whoever reads the words finds the same seam first.

use piecing::{BlockPlan, Making, PatchSet, UnitId, Variant};

use super::diagram::Scale;
use super::trim_diagram::bounds;
use crate::set_text::{INK, PAPER};
use crate::typeface::text_width;
use crate::{Anchor, Area, Item, Point, Text, Weight};

/// Size of a number, and half the side of its ground.
const NUMBER_IN: f64 = 0.115;
const GROUND_IN: f64 = 0.07;
/// A number stands so far from the middle of its seam, where the pressing arrow lies: at least, and as a share of half of
/// the seam.
const BESIDE_ARROW_IN: f64 = 0.135;
const BESIDE_ARROW: f64 = 0.55;

/// The number of a seam of the variant's unit, from 1.
pub(super) fn number_of(plan: &BlockPlan, variant: &Variant, seam: usize) -> usize {
    let Making::Sewn { seams, .. } = &plan.tree.unit(variant.unit).making else { return 1 };
    if is_backward(plan, variant) { seams.len() - seam } else { seam + 1 }
}

/// The parts of the variant's unit in the order in which they are told.
pub(super) fn told_parts(plan: &BlockPlan, variant: &Variant) -> Vec<UnitId> {
    let Making::Sewn { parts, .. } = &plan.tree.unit(variant.unit).making else { return Vec::new() };
    let mut parts = parts.clone();
    if is_backward(plan, variant) {
        parts.reverse();
    }
    parts
}

/// Whether the first part of a row lies right of its last one in the diagram, or below it.
fn is_backward(plan: &BlockPlan, variant: &Variant) -> bool {
    let Making::Sewn { parts, .. } = &plan.tree.unit(variant.unit).making else { return false };
    let [first, .., last] = parts.as_slice() else { return false };
    if parts.len() < 3 || !is_row(plan, variant.unit, parts) {
        return false;
    }
    let ([from_x, from_y], [to_x, to_y]) = (middle(plan, *first), middle(plan, *last));
    let right = if variant.drawn_mirrored { from_x - to_x } else { to_x - from_x };
    let down = from_y - to_y;
    if 2.0 * right.abs() >= down.abs() { right < 0.0 } else { down < 0.0 }
}

/// Whether every part is sewn to the one before it and to no other, so that the row can be told from either end.
fn is_row(plan: &BlockPlan, unit: UnitId, parts: &[UnitId]) -> bool {
    (1..parts.len()).all(|next| {
        let neighbours = [parts[next - 1], parts[next]].map(|part| plan.tree.unit(part).patches);
        let joins = |side: &PatchSet| neighbours.iter().any(|part| side.is_within(part));
        plan.pressing.seam(unit, next - 1).all(|(stretch, _)| joins(&stretch.left) && joins(&stretch.right))
    })
}

fn middle(plan: &BlockPlan, unit: UnitId) -> Point {
    let all = plan.tree.graph().block().patches();
    let patches = plan.tree.unit(unit).patches;
    let corners = patches.iter().flat_map(|patch| all[patch].outline.corners()).map(geometry::Point::to_f64);
    let (low, high) = bounds(&corners.collect::<Vec<_>>());
    halfway(low, high)
}

/// The numbers of all seams of the variant's unit, each on its seam beside the pressing arrow, away from the other seams.
pub(super) fn seam_numbers(plan: &BlockPlan, variant: &Variant, scale: Scale) -> Vec<Item> {
    let Making::Sewn { seams, .. } = &plan.tree.unit(variant.unit).making else { return Vec::new() };
    let at = |point: usize| scale.at(plan.tree.graph().points()[point].to_f64(), [0.0; 2]);
    let ends: Vec<Option<[Point; 2]>> = (0..seams.len())
        .map(|seam| {
            let stretches = plan.pressing.seam(variant.unit, seam).map(|(s, _)| [at(s.from), at(s.to)]);
            stretches.max_by(|a, b| between(a[0], a[1]).total_cmp(&between(b[0], b[1])))
        })
        .collect();
    let centres: Vec<Option<Point>> = ends.iter().map(|ends| ends.map(|[a, b]| halfway(a, b))).collect();
    let placed = ends.iter().enumerate().filter_map(|(seam, ends)| {
        let [a, b] = (*ends)?;
        let (centre, length) = (halfway(a, b), between(a, b).max(f64::MIN_POSITIVE));
        let far = BESIDE_ARROW_IN.max(BESIDE_ARROW * length / 2.0);
        let toward = |end: Point| [0, 1].map(|k| centre[k] + (end[k] - centre[k]) * far / (length / 2.0));
        let nearest = |place: Point| {
            let others = centres.iter().enumerate().filter(|(other, _)| *other != seam);
            others.filter_map(|(_, other)| Some(between(place, (*other)?))).fold(f64::INFINITY, f64::min)
        };
        let (one, other) = (toward(a), toward(b));
        let place = if nearest(one) >= nearest(other) { one } else { other };
        Some((number_of(plan, variant, seam), place))
    });
    placed.flat_map(|(number, place)| tag(&number.to_string(), place)).collect()
}

/// A few letters about a point, on a light ground so that they show on every fabric.
pub(super) fn tag(text: &str, at: Point) -> [Item; 2] {
    let half = (text_width(text, NUMBER_IN, Weight::Bold) / 2.0 + 0.025).max(GROUND_IN);
    let corner = |x: f64, y: f64| [at[0] + x * half, at[1] + y * GROUND_IN];
    let ground = vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    [
        Item::Area(Area { label: String::new(), fill: PAPER, polygons: vec![ground] }),
        Item::Text(Text {
            text: text.to_owned(),
            at: [at[0], at[1] + NUMBER_IN * 0.36],
            anchor: Anchor::Middle,
            size_in: NUMBER_IN,
            weight: Weight::Bold,
            fill: INK,
            turned: 0.0,
        }),
    ]
}

fn between(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn halfway(a: Point, b: Point) -> Point {
    [0, 1].map(|k| (a[k] + b[k]) / 2.0)
}
