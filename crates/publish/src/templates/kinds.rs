//! Which templates a quilt needs: patches that are cut alike, dog ears and all, counted by fabric.
//!
//! The cutting plan tells pieces apart by their mitred cut shape. A template also shows where tips are trimmed, and that
//! depends on the patch that is sewn there first, so one class of pieces may need two templates. Mirror images share one:
//! the other hand is cut with the template turned over.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use cutting::{ClassBook, ClassId, PieceClass, as_it_stands, patch_allowances};
use geometry::cut::{CutShape, OffsetLine};
use geometry::dog_ear::{corner_trims, with_corner_trims};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Block, Exact, Motion, PatchKey, Point as Place, Polygon, ShapeClass, Vector};
use layout::{Design, FabricId, Move, Print, Source, Tally};
use piecing::{Making, QuiltPlan, SeamTree, Unit};

use super::mates::Mates;
use crate::PublishError;

/// How many of a kind are cut of one fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TemplateCount {
    /// With the template as it is drawn.
    pub as_drawn: u64,
    /// With the template turned over: the other hand.
    pub turned_over: u64,
}

/// One kind of template.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// Its class of pieces, as drawn.
    pub(super) class: ClassId,
    /// The class of its mirror image, if the quilt has both hands.
    pub(super) mirror: Option<ClassId>,
    /// Finished and mitred cut shape.
    pub(super) shape: Arc<CutShape>,
    /// The cut shape with its dog ears trimmed, in the same frame.
    pub(super) trimmed: LayPolygon,
    /// How many to cut of each fabric.
    pub(super) counts: BTreeMap<FabricId, TemplateCount>,
    /// Blocks and pieces of the setting that it belongs to.
    pub(super) sources: BTreeSet<Source>,
    marks: Vec<Option<TrimMark>>,
}

/// What a quilt is cut with.
#[derive(Debug, Clone, Default)]
pub(super) struct Kinds {
    /// Templates, pieces of the cutting plan in their order.
    pub(super) kinds: Vec<Kind>,
    /// Rectangles of the setting, which are cut with the ruler: their class, and how many of each fabric.
    pub(super) strips: BTreeMap<ClassId, BTreeMap<FabricId, u64>>,
}

/// The line along which one corner is trimmed, told from the edge that leaves the corner, so that no motion changes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TrimMark {
    along: Exact,
    across: Exact,
    distance: Exact,
}

impl TrimMark {
    /// Only the direction of the normal counts, so that |along| + |across| is made 1.
    pub(super) fn new(line: &OffsetLine, edge: &Vector) -> Self {
        let (along, across) = (line.normal.dot(edge), edge.cross(&line.normal));
        let size = |value: &Exact| if value.is_negative() { -value } else { value.clone() };
        let scale = (&size(&along) + &size(&across)).recip().unwrap_or_default();
        Self { along: &along * &scale, across: &across * &scale, distance: line.distance.clone() }
    }

    /// The line at corner `corner` of a congruent shape.
    pub(super) fn line(&self, finished: &Polygon, corner: usize) -> OffsetLine {
        let edge = finished.edge(corner);
        let normal = &(&edge * &self.along) + &(&edge.left() * &self.across);
        OffsetLine { through: finished.corner(corner) - finished.corner(0), normal, distance: self.distance.clone() }
    }
}

/// One patch of a block: its shape, and what is trimmed at its corners.
#[derive(Clone)]
pub(super) struct Shape {
    pub(super) outline: Polygon,
    pub(super) grain: Option<Vector>,
    pub(super) allowances: Vec<Exact>,
    pub(super) trims: Vec<Option<OffsetLine>>,
}

impl Shape {
    /// The mirror image.
    pub(super) fn mirrored(&self, patch: &geometry::Patch) -> Self {
        let (outline, grain, allowances) = as_it_stands(patch, self.allowances.clone(), true);
        let motion = Motion::mirror(&Place::origin());
        // Lines are measured from the first corner, and the mirrored outline begins at the image of the last one.
        let last = patch.outline.corner(patch.outline.corners().len() - 1) - patch.outline.corner(0);
        let image = |line: &OffsetLine| OffsetLine {
            through: motion.vector(&(&line.through + &-&last)),
            normal: motion.vector(&line.normal),
            distance: line.distance.clone(),
        };
        // A mirrored outline is told the other way round.
        let trims = self.trims.iter().rev().map(|trim| trim.as_ref().map(image)).collect();
        Self { outline, grain, allowances, trims }
    }

    /// The marks of its corners, from each of the corners at which its class may begin.
    fn marks(&self) -> Vec<Vec<Option<TrimMark>>> {
        let mark = |(corner, trim): (usize, &Option<OffsetLine>)| {
            trim.as_ref().map(|line| TrimMark::new(line, &self.outline.edge(corner)))
        };
        let marks: Vec<Option<TrimMark>> = self.trims.iter().enumerate().map(mark).collect();
        let starts = ShapeClass::starts_of(&self.outline, self.grain.as_ref(), &self.allowances);
        let from = |start: usize| [&marks[start..], &marks[..start]].concat();
        starts.into_iter().map(from).collect()
    }
}

/// The kinds of templates of a design.
///
/// # Errors
/// A block or patch that is not there, or a shape that cannot be cut; not for a design with a cutting plan.
pub(super) fn kinds(
    design: &Design,
    tally: &Tally,
    book: &ClassBook,
    sewing: Option<&QuiltPlan>,
) -> Result<Kinds, PublishError> {
    let mut found = Kinds::default();
    let mut blocks: BTreeMap<Source, (Arc<Block>, Vec<Shape>)> = BTreeMap::new();
    let mates = Mates::of(design)?;
    for count in tally.counts().filter(|count| count.change > 0) {
        let (source, patch) = (count.source, count.patch);
        let Some(class) = book.of_patch(source, patch, count.mirrored, Print::Tossed) else { continue };
        if is_strip(source) {
            let strips = found.strips.entry(class).or_default();
            *strips.entry(count.fabric).or_default() += count.change.unsigned_abs();
            continue;
        }
        if let std::collections::btree_map::Entry::Vacant(entry) = blocks.entry(source) {
            let block = design.cut_block(source)?;
            let plan = if let Source::Block(id) = source { sewing.and_then(|plan| plan.block(id)) } else { None };
            let shapes = shapes(design, source, &block, (plan.map(|plan| &plan.tree), &mates))?;
            entry.insert((block, shapes));
        }
        if let Some((block, shapes)) = blocks.get(&source) {
            found.add(design, book, class, &count, (block, shapes))?;
        }
    }
    found.kinds.sort_by_key(|kind| kind.class);
    Ok(found)
}

/// Borders, sashes and fillers are rectangles that a ruler cuts better than a template does.
const fn is_strip(source: Source) -> bool {
    matches!(source, Source::Border { .. } | Source::Sash { .. } | Source::LongSash { .. } | Source::Filler(_))
}

/// The patches of a block that is sewn like this, or of a setting piece that lies beside these.
pub(super) fn shapes(
    design: &Design,
    source: Source,
    block: &Arc<Block>,
    (tree, mates): (Option<&SeamTree>, &Mates),
) -> Result<Vec<Shape>, PublishError> {
    let count = block.patches().len();
    let allowances: Vec<Vec<Exact>> = (0..count).map(|i| patch_allowances(design, source, block, i)).collect();
    let shape = |(index, patch): (usize, &geometry::Patch)| {
        let sewn = |other: usize| tree.map_or(0, |tree| sewn_at(tree, [index, other]));
        let of_setting = mates.trims(source, block, &allowances[index], design.seam().inches());
        let trims = match of_setting.map_err(|fault| uncut(design, source, patch, fault))? {
            Some(trims) => trims,
            None => corner_trims(block, index, &|other| allowances[other].clone(), &sewn)
                .map_err(|fault| uncut(design, source, patch, fault))?,
        };
        let (outline, grain) = (patch.outline.clone(), patch.grain.clone());
        Ok(Shape { outline, grain, allowances: allowances[index].clone(), trims })
    };
    block.patches().iter().enumerate().map(shape).collect()
}

/// When two patches come into one unit: the lower the number, the earlier.
pub(super) fn sewn_at(tree: &SeamTree, patches: [usize; 2]) -> usize {
    let holds = |unit: &Unit, patch: &usize| unit.patches.contains(*patch);
    let found = tree.units().iter().enumerate().find(|(_, unit)| patches.iter().all(|patch| holds(unit, patch)));
    let Some((number, unit)) = found else { return usize::MAX };
    let Making::Sewn { parts, .. } = &unit.making else { return usize::MAX };
    // Parts of one unit are sewn on one after the other.
    let part = |patch: &usize| parts.iter().position(|part| holds(tree.unit(*part), patch)).unwrap_or(parts.len());
    number * (piecing::MAX_PIECED + 1) + patches.iter().map(part).max().unwrap_or(0)
}

fn uncut(
    design: &Design,
    source: Source,
    patch: &geometry::Patch,
    fault: geometry::cut::CutShapeError,
) -> PublishError {
    let (block, role) = (design.source_name(source), patch.role.clone());
    cutting::CutError::Shape { block, role, source: Box::new(fault) }.into()
}

impl Kinds {
    /// Counts patches of one block, patch and fabric to the kind they are.
    fn add(
        &mut self,
        design: &Design,
        book: &ClassBook,
        class: ClassId,
        count: &Move,
        (block, shapes): (&Block, &[Shape]),
    ) -> Result<(), PublishError> {
        let Some((patch, shape)) = patch_of(block, shapes, count.patch) else { return Ok(()) };
        let mirror = book.mirror_of(class);
        let Some(known) = book.class(class) else { return Ok(()) };
        let of_hand = |mirrored: bool| if mirrored { shape.mirrored(patch).marks() } else { shape.marks() };
        let (as_it_stands, over) = (of_hand(count.mirrored), of_hand(!count.mirrored));
        let hand = |kind: &Kind| {
            if kind.class == class && as_it_stands.contains(&kind.marks) {
                return Some(false);
            }
            // A class that is its own mirror image may still have its tips trimmed on one side only.
            let is_image = if known.symmetric { kind.class == class } else { Some(kind.class) == mirror };
            (is_image && over.contains(&kind.marks)).then_some(true)
        };
        let found = self.kinds.iter().enumerate().find_map(|(i, kind)| Some((i, hand(kind)?)));
        let (index, over) = match found {
            Some(found) => found,
            None => {
                let marks = as_it_stands.into_iter().next().unwrap_or_default();
                self.kinds.push(Kind::new(class, mirror, known, marks));
                (self.kinds.len() - 1, false)
            }
        };
        let either = design.fabric(count.fabric)?.print == Print::TwoSided;
        let kind = &mut self.kinds[index];
        kind.sources.insert(count.source);
        let counted = kind.counts.entry(count.fabric).or_default();
        // Fabric without a right side is turned over instead of the template.
        let hand = if over && !either { &mut counted.turned_over } else { &mut counted.as_drawn };
        *hand += count.change.unsigned_abs();
        Ok(())
    }
}

fn patch_of<'a>(block: &'a Block, shapes: &'a [Shape], key: PatchKey) -> Option<(&'a geometry::Patch, &'a Shape)> {
    let index = block.index_of(key)?;
    block.patches().get(index).zip(shapes.get(index))
}

impl Kind {
    /// A kind without patches yet; `marks` begin where the class does.
    fn new(class: ClassId, mirror: Option<ClassId>, known: &PieceClass, marks: Vec<Option<TrimMark>>) -> Self {
        let shape = Arc::clone(&known.shape);
        let trimmed = trimmed(known, &marks).unwrap_or_else(|| shape.outline().clone());
        let (counts, sources) = (BTreeMap::new(), BTreeSet::new());
        Self { class, mirror, shape, trimmed, counts, sources, marks }
    }
}

/// The cut shape of a class with these corners trimmed, in the frame of the mitred one. None where nothing is trimmed, or
/// where trims would meet each other, as on patches hardly larger than their allowances.
fn trimmed(class: &PieceClass, marks: &[Option<TrimMark>]) -> Option<LayPolygon> {
    let (shape, finished) = (&class.shape, class.shape.finished());
    let n = finished.corners().len();
    let allowances: Vec<Exact> = (0..n).map(|i| shape.allowance_of_edge(i)).collect();
    let grain = class.has_grain.then(|| shape.grain());
    let start = *ShapeClass::starts_of(finished, grain, &allowances).first()?;
    let mut trims: Vec<Option<OffsetLine>> = vec![None; n];
    for (i, mark) in marks.iter().enumerate() {
        let corner = (start + i) % n;
        trims[corner] = mark.as_ref().map(|mark| mark.line(finished, corner));
    }
    if trims.iter().all(Option::is_none) {
        return None;
    }
    let outline = with_corner_trims(finished, &allowances, &trims).ok()?;
    let cut = CutShape::new(finished, outline, shape.grain()).ok()?;
    // Both put the first finished corner on a grid point.
    let (whole, less) = (shape.finished_in_frame(), cut.finished_in_frame());
    let (a, b) = (whole.first()?, less.first()?);
    Some(cut.outline().moved(units(a[0] - b[0]), units(a[1] - b[1])))
}

/// Inches that are a whole number of lay units.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "whole numbers far below 2⁵³")]
fn units(inches: f64) -> i64 {
    (inches * UNITS_PER_INCH as f64).round() as i64
}
