//! The diagram of a step: its parts apart on the left, sewn on the right, with arrows that show where seams are pressed.

use std::sync::Arc;

use geometry::{Point as Place, Polygon};
use layout::{Design, EditError, FabricId};
use piecing::pressing::{Segment, Toward};
use piecing::{BlockPlan, Making, PatchSet, SeamTree, Unit, UnitId, Variant};

use super::ACCENT;
use super::grain_mark::grain_mark;
use super::press_words::are_seams_numbered;
use super::seam_numbers::{seam_numbers, tag};
use crate::set_text::{INK, PAPER, QUIET, line};
use crate::{Area, Item, Lines, Point, Polyline, Weight};

/// How far parts are drawn from each other, as a share of their distance from the middle of the unit: few parts, and
/// more than few, which lie closer together.
const APART: [f64; 2] = [0.24, 0.42];
const FEW: usize = 4;
/// The cosine of the widest angle between directions that are one.
const SAME_WAY: f64 = 0.98;
/// The widest and highest that a unit is drawn, in inches, and the room between two of them.
const CELL_IN: [f64; 2] = [1.65, 1.45];
const BETWEEN_IN: f64 = 0.5;
/// The largest that an inch of the quilt is drawn.
const LARGEST_SCALE: f64 = 0.5;
const SEAM_IN: f64 = 0.009;
const ARROW_IN: f64 = 0.014;
/// Where on its seam an arrow may lie, the best place first.
const ARROW_SHARES: [f64; 5] = [0.5, 0.35, 0.65, 0.22, 0.78];
/// Size of the words over a unit.
const HEADING_IN: f64 = 0.125;
/// Length of a pressing arrow and of its head.
const ARROW_LENGTH_IN: f64 = 0.26;
const HEAD_IN: f64 = 0.075;

/// One patch on its way to the page.
pub(super) struct Shape {
    pub(super) corners: Vec<Point>,
    pub(super) fabric: FabricId,
}

/// From the block's frame, whose y axis points up, to the page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    /// Inches on the page for an inch of the quilt.
    by: f64,
    /// Where the block's origin lies on the page.
    origin: Point,
    mirrored: bool,
}

impl Scale {
    /// The scale by which what lies within `low` and `high` is drawn with its upper left corner at `corner`.
    pub(crate) fn new(by: f64, [low, high]: [Point; 2], corner: Point, mirrored: bool) -> Self {
        let x = if mirrored { corner[0] + high[0] * by } else { corner[0] - low[0] * by };
        Self { by, origin: [x, corner[1] + high[1] * by], mirrored }
    }

    /// A point of the block, moved by some inches of the quilt.
    pub(crate) fn at(&self, [x, y]: Point, [dx, dy]: Point) -> Point {
        let x = if self.mirrored { -(x + dx) } else { x + dx };
        [self.origin[0] + x * self.by, self.origin[1] - (y + dy) * self.by]
    }

    /// A direction of the block on the page, of length 1.
    fn direction(&self, [x, y]: Point) -> Point {
        let length = x.hypot(y).max(f64::MIN_POSITIVE);
        [if self.mirrored { -x } else { x } / length, -y / length]
    }
}

/// A diagram and the room it takes.
pub(super) struct Diagram {
    pub(super) items: Vec<Item>,
    pub(super) width_in: f64,
    pub(super) height_in: f64,
}

/// Bounds of points: least and greatest.
fn bounds(points: impl IntoIterator<Item = Point>) -> [Point; 2] {
    points.into_iter().fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}

fn middle(points: impl IntoIterator<Item = Point>) -> Point {
    let [low, high] = bounds(points);
    [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0]
}

/// The mean of some corners, which lies inside of every shape without a hollow.
#[expect(clippy::cast_precision_loss, reason = "a unit has far fewer corners than 2⁵³")]
pub(super) fn mean(corners: &[Point]) -> Point {
    let count = corners.len().max(1) as f64;
    [0, 1].map(|k| corners.iter().map(|corner| corner[k]).sum::<f64>() / count)
}

/// The patches of a set with their fabrics.
fn outlines<'a>(tree: &'a SeamTree, patches: &PatchSet, fabrics: &Arc<Vec<FabricId>>) -> Vec<(&'a Polygon, FabricId)> {
    let all = tree.graph().block().patches();
    patches.iter().filter_map(|i| Some((&all.get(i)?.outline, *fabrics.get(i)?))).collect()
}

fn points(outlines: &[(&Polygon, FabricId)]) -> Vec<Point> {
    outlines.iter().flat_map(|(outline, _)| outline.corners()).map(Place::to_f64).collect()
}

/// How far each part is moved, in inches of the quilt.
fn shifts(tree: &SeamTree, unit: &Unit) -> Vec<(PatchSet, Point)> {
    let Making::Sewn { parts, .. } = &unit.making else { return vec![(unit.patches, [0.0; 2])] };
    let corners = |patches: &PatchSet| -> Vec<Point> {
        let all = tree.graph().block().patches();
        patches.iter().flat_map(|i| all[i].outline.corners()).map(Place::to_f64).collect()
    };
    let [low, high] = bounds(corners(&unit.patches));
    let whole = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let least = 0.12 * (high[0] - low[0]).max(high[1] - low[1]);
    let share = APART[usize::from(parts.len() > FEW)];
    let shift = |patches: PatchSet| {
        let from = |own: Point| [own[0] - whole[0], own[1] - whole[1]];
        let by_bounds = from(middle(corners(&patches)));
        // Two bands along a diagonal have the middle of the unit for the middle of their bounds; their corners tell them apart.
        let away = if by_bounds[0].hypot(by_bounds[1]) < 1e-9 { from(mean(&corners(&patches))) } else { by_bounds };
        let far = away[0].hypot(away[1]);
        let scale = if far < 1e-9 { 0.0 } else { share.max(least / far) };
        (patches, [away[0] * scale, away[1] * scale])
    };
    let shifted = parts.iter().map(|id| shift(tree.unit(*id).patches));
    let far = |patches: &PatchSet| {
        let [x, y] = mean(&corners(patches));
        (x - whole[0]).hypot(y - whole[1])
    };
    kept_apart(shifted.map(|(patches, shift)| (far(&patches), (patches, shift))).collect(), least / 2.0)
}

/// Moves parts that are moved in one direction so that each is moved `gap` farther than the one before it, counted from the
/// middle; the first number is how far a part lies from there.
fn kept_apart(mut parts: Vec<(f64, (PatchSet, Point))>, gap: f64) -> Vec<(PatchSet, Point)> {
    parts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut kept: Vec<(PatchSet, Point)> = Vec::with_capacity(parts.len());
    for (_, (patches, [x, y])) in parts {
        let long = x.hypot(y);
        let before = kept.iter().map(|(_, [u, v])| (u.hypot(*v), (x * u + y * v) / (long * u.hypot(*v))));
        let nearer =
            before.filter(|(_, cosine)| *cosine > SAME_WAY).map(|(by, _)| by).fold(f64::NEG_INFINITY, f64::max);
        let by = if long < 1e-9 { 1.0 } else { ((nearer + gap) / long).max(1.0) };
        kept.push((patches, [x * by, y * by]));
    }
    kept
}

/// The diagram of the step that makes `variant`; parts that have a label show it.
pub(super) fn step_diagram(
    plan: &BlockPlan,
    variant: &Variant,
    labels: &[(UnitId, String)],
    design: &Design,
) -> Result<Diagram, EditError> {
    let (tree, id) = (&plan.tree, variant.unit);
    let unit = tree.unit(id);
    let apart = shifts(tree, unit);
    let spread: Vec<Point> = apart
        .iter()
        .flat_map(|(patches, [dx, dy])| {
            let part = points(&outlines(tree, patches, &variant.fabrics));
            part.into_iter().map(move |[x, y]| [x + dx, y + dy])
        })
        .collect();
    let whole = points(&outlines(tree, &unit.patches, &variant.fabrics));
    let (before, after) = (bounds(spread), bounds(whole));
    let size = |[low, high]: [Point; 2]| [high[0] - low[0], high[1] - low[1]];
    let (before_size, after_size) = (size(before), size(after));
    let fit = |k: usize| CELL_IN[k] / before_size[k].max(after_size[k]).max(f64::MIN_POSITIVE);
    let by = fit(0).min(fit(1)).min(LARGEST_SCALE);
    let height_in = before_size[1].max(after_size[1]) * by;
    let scale = |within: [Point; 2], left: f64| {
        let top = (height_in - (within[1][1] - within[0][1]) * by) / 2.0;
        Scale::new(by, within, [left, top], variant.drawn_mirrored)
    };
    let first = scale(before, 0.0);
    let second = scale(after, before_size[0] * by + BETWEEN_IN);
    let mut items = Vec::new();
    for (patches, shift) in &apart {
        items.extend(filled(&placed(&outlines(tree, patches, &variant.fabrics), first, *shift), design)?);
        // What is sewn already cannot be turned any more.
        let mut alone = patches.iter().filter_map(|i| tree.graph().block().patches().get(i));
        if let (Some(patch), None) = (alone.next(), alone.next()) {
            items.extend(grain_mark(patch, first, *shift));
        }
    }
    for (part, label) in labels {
        let patches = tree.unit(*part).patches;
        let shift = apart.iter().find(|(of, _)| *of == patches).map_or([0.0; 2], |(_, shift)| *shift);
        items.extend(tag(label, first.at(mean(&points(&outlines(tree, &patches, &variant.fabrics))), shift)));
    }
    items.extend(filled(&placed_patches(tree, &unit.patches, &variant.fabrics, second), design)?);
    let between = before_size[0] * by;
    items.extend(arrow([between + 0.14, height_in / 2.0], [between + BETWEEN_IN - 0.14, height_in / 2.0], QUIET));
    let segments = plan.pressing.segments.iter().zip(&plan.pressing.toward);
    let mut taken: Vec<Point> = Vec::new();
    for (segment, toward) in segments.filter(|(segment, _)| segment.unit == id) {
        let at = arrow_place(tree, segment, second, &taken);
        taken.push(at);
        items.extend(pressing(tree, segment, (*toward, at), second));
    }
    if are_seams_numbered(plan, variant, design)? {
        items.extend(seam_numbers(plan, variant, second));
    }
    Ok(Diagram { items, width_in: between + BETWEEN_IN + after_size[0] * by, height_in })
}

fn placed(outlines: &[(&Polygon, FabricId)], scale: Scale, shift: Point) -> Vec<Shape> {
    let shape = |(outline, fabric): &(&Polygon, FabricId)| Shape {
        corners: outline.corners().iter().map(|p| scale.at(p.to_f64(), shift)).collect(),
        fabric: *fabric,
    };
    outlines.iter().map(shape).collect()
}

/// Two units that are mirror images, side by side, each under the number of its step.
pub(super) fn both_hands(
    tree: &SeamTree,
    variants: [&Variant; 2],
    numbers: [usize; 2],
    design: &Design,
) -> Result<Diagram, EditError> {
    let corners = variants.map(|v| bounds(points(&outlines(tree, &v.patches, &v.fabrics))));
    let size = corners.map(|[low, high]| [high[0] - low[0], high[1] - low[1]]);
    let most = |k: usize| size[0][k].max(size[1][k]).max(f64::MIN_POSITIVE);
    let by = (CELL_IN[0] / most(0)).min(CELL_IN[1] / most(1)).min(LARGEST_SCALE);
    let mut items = Vec::new();
    let mut left = 0.0;
    for ((variant, within), number) in variants.into_iter().zip(corners).zip(numbers) {
        let scale = Scale::new(by, within, [left, HEADING_IN * 1.6], variant.drawn_mirrored);
        items.extend(filled(&placed_patches(tree, &variant.patches, &variant.fabrics, scale), design)?);
        items.push(line(format!("unit {number}"), [left, HEADING_IN], HEADING_IN, Weight::Bold));
        left += (within[1][0] - within[0][0]) * by + BETWEEN_IN;
    }
    Ok(Diagram { items, width_in: left - BETWEEN_IN, height_in: most(1) * by + HEADING_IN * 1.6 })
}

/// The block with its outside edges on the bias drawn heavily.
pub(super) fn bias_diagram(
    tree: &SeamTree,
    fabrics: &Arc<Vec<FabricId>>,
    edges: &[(Place, Place)],
    design: &Design,
) -> Result<Diagram, EditError> {
    let all = tree.graph().all();
    let within = bounds(points(&outlines(tree, &all, fabrics)));
    let size = [within[1][0] - within[0][0], within[1][1] - within[0][1]];
    let by = (CELL_IN[0] / size[0]).min(CELL_IN[1] / size[1]).min(LARGEST_SCALE);
    let scale = Scale::new(by, within, [0.0; 2], false);
    let mut items = filled(&placed_patches(tree, &all, fabrics, scale), design)?;
    let ends = |(a, b): &(Place, Place)| [a, b].map(|p| scale.at(p.to_f64(), [0.0; 2]));
    let polylines = edges.iter().map(|edge| Polyline { points: ends(edge).to_vec(), closed: false }).collect();
    let (stroke, width_in, dashes) = (ACCENT, 0.045, vec![0.1, 0.05]);
    items.push(Item::Lines(Lines { stroke, width_in, dashes, polylines }));
    Ok(Diagram { items, width_in: size[0] * by, height_in: size[1] * by })
}

/// The patches of a set where they lie in their block.
pub(super) fn placed_patches(
    tree: &SeamTree,
    patches: &PatchSet,
    fabrics: &Arc<Vec<FabricId>>,
    scale: Scale,
) -> Vec<Shape> {
    placed(&outlines(tree, patches, fabrics), scale, [0.0; 2])
}

/// Patches in the colours of their fabrics, outlined.
pub(super) fn filled(shapes: &[Shape], design: &Design) -> Result<Vec<Item>, EditError> {
    let mut items = Vec::new();
    for shape in shapes {
        let fabric = design.fabric(shape.fabric)?;
        let polygons = vec![shape.corners.clone()];
        items.push(Item::Area(Area { label: fabric.name.clone(), fill: fabric.look.colour(), polygons }));
    }
    let outline = |shape: &Shape| Polyline { points: shape.corners.clone(), closed: true };
    let polylines = shapes.iter().map(outline).collect();
    items.push(Item::Lines(Lines { stroke: INK, width_in: SEAM_IN, dashes: Vec::new(), polylines }));
    Ok(items)
}

/// An arrow from point to point.
pub(super) fn arrow(from: Point, to: Point, stroke: layout::Colour) -> Vec<Item> {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let (ux, uy) = (dx / length, dy / length);
    let head = HEAD_IN.min(length);
    let back = [to[0] - ux * head, to[1] - uy * head];
    let wing = |s: f64| [back[0] - uy * s * head * 0.5, back[1] + ux * s * head * 0.5];
    let shaft = Polyline { points: vec![from, back], closed: false };
    vec![
        Item::Lines(Lines { stroke, width_in: ARROW_IN, dashes: Vec::new(), polylines: vec![shaft] }),
        Item::Area(Area { label: String::new(), fill: stroke, polygons: vec![vec![to, wing(1.0), wing(-1.0)]] }),
    ]
}

/// Where the arrow of a seam lies: in its middle, or as near to it as keeps clear of the arrows before.
fn arrow_place(tree: &SeamTree, segment: &Segment, scale: Scale, taken: &[Point]) -> Point {
    let [from, to] = [segment.from, segment.to].map(|i| tree.graph().points()[i].to_f64());
    let along = |share: f64| scale.at([0, 1].map(|k| from[k] + (to[k] - from[k]) * share), [0.0; 2]);
    let clear =
        |at: &Point| taken.iter().map(|other| (other[0] - at[0]).hypot(other[1] - at[1])).fold(f64::INFINITY, f64::min);
    let places = ARROW_SHARES.map(along);
    let free = places.iter().find(|at| clear(at) > ARROW_LENGTH_IN);
    *free.unwrap_or(&places[0])
}

/// The arrow of a pressed seam across it, on a light ground so that it shows on every fabric; two for a seam
/// pressed open.
fn pressing(tree: &SeamTree, segment: &Segment, (toward, at): (Toward, Point), scale: Scale) -> Vec<Item> {
    let [from, to] = [segment.from, segment.to].map(|i| tree.graph().points()[i].to_f64());
    // Left of the seam, in the block's frame.
    let left = scale.direction([-(to[1] - from[1]), to[0] - from[0]]);
    let half = ARROW_LENGTH_IN / 2.0;
    let tip = |s: f64| [at[0] + left[0] * half * s, at[1] + left[1] * half * s];
    let stroke = |from: Point, to: Point| {
        let ground = Polyline { points: vec![from, to], closed: false };
        let ground = Lines { stroke: PAPER, width_in: ARROW_IN * 3.2, dashes: Vec::new(), polylines: vec![ground] };
        let arrow = arrow(from, to, ACCENT);
        // The head, too, stands out from a fabric of its own colour.
        let head = arrow.iter().find_map(|item| if let Item::Area(head) = item { head.polygons.first() } else { None });
        let round = head.map(|corners| Polyline { points: corners.clone(), closed: true });
        let round = Lines {
            stroke: PAPER,
            width_in: ARROW_IN * 2.2,
            dashes: Vec::new(),
            polylines: round.into_iter().collect(),
        };
        [Item::Lines(ground), Item::Lines(round)].into_iter().chain(arrow).collect::<Vec<_>>()
    };
    match toward {
        Toward::Left => stroke(tip(-1.0), tip(1.0)),
        Toward::Right => stroke(tip(1.0), tip(-1.0)),
        Toward::Open => [stroke(at, tip(1.0)), stroke(at, tip(-1.0))].concat(),
    }
}
