//! Which units are sewn alike: congruent as a whole, patch by patch, without being turned over.
//!
//! A unit is described from one corner of one of its patches, in numbers that no motion changes: lengths squared and
//! scalar and vector products with the edge that leaves that corner. All of them are exact. Of all corners from which
//! it could be described, those of the rarest kind of patch are tried and the least description counts.

use std::cmp::Ordering;

use geometry::{Exact, Motion, Point, Polygon, ShapeClass, Vector};
use rustc_hash::FxHashMap;

use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// One kind of unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ClassId(pub usize);

/// Where one patch lies in its unit: its shape, and its first corner and first edge seen from the unit's own corner.
type PatchMark = (usize, [Exact; 4]);

/// The description of a unit: the length of the edge it is measured by, squared, and its patches.
type Description = (Exact, Vec<PatchMark>);

/// A unit's class, and its patches in the order in which its description names them: congruent units name
/// corresponding patches in the same place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Classed {
    /// The class.
    pub class: ClassId,
    /// Patches in the order of the description.
    pub order: Vec<usize>,
}

/// Where the description of a patch can begin: a corner and the edge that leaves it.
struct Start {
    at: Point,
    edge: Vector,
}

/// The patches of a block as they are, or as their mirror images are.
struct Hand {
    /// Number of each patch's shape.
    shapes: Vec<usize>,
    starts: Vec<Vec<Start>>,
}

/// Tells the classes of the units of one block. Classes are numbered in the order in which they are asked for.
pub struct ClassBook {
    plain: Hand,
    mirrored: Hand,
    known: FxHashMap<Description, ClassId>,
    /// For each class its description, by which classes are compared.
    descriptions: Vec<Description>,
    of_region: FxHashMap<PatchSet, Classed>,
    work: u64,
}

impl ClassBook {
    /// An empty book for the block of `graph`.
    #[must_use]
    pub fn new(graph: &SeamGraph) -> Self {
        let outlines: Vec<Polygon> = graph.block().patches().iter().map(|p| p.outline.clone()).collect();
        let mirror = Motion::mirror(&Point::origin());
        let images: Vec<Polygon> = outlines.iter().map(|o| mirror.polygon(o)).collect();
        let class = |o: &Polygon| ShapeClass::of(o, None, &[]);
        // Numbered in their own order, so that a block drawn in another order has the same descriptions.
        let mut sorted: Vec<ShapeClass> = outlines.iter().chain(&images).map(class).collect();
        sorted.sort_unstable();
        sorted.dedup();
        let hand = |outlines: &[Polygon]| Hand {
            shapes: outlines.iter().map(|o| sorted.partition_point(|other| *other < class(o))).collect(),
            starts: outlines.iter().map(starts).collect(),
        };
        let (mut plain, mut mirrored) = (hand(&outlines), hand(&images));
        // A block and its mirror image are described from the same hand, so that one is planned as the other.
        let (all, mut work) = (graph.all(), 0);
        if mirrored.describe(&all, &mut work).0 < plain.describe(&all, &mut work).0 {
            std::mem::swap(&mut plain, &mut mirrored);
        }
        let (known, of_region) = (FxHashMap::default(), FxHashMap::default());
        Self { plain, mirrored, known, descriptions: Vec::new(), of_region, work }
    }

    /// The class of a unit.
    pub fn class(&mut self, region: &PatchSet) -> Classed {
        if let Some(known) = self.of_region.get(region) {
            return known.clone();
        }
        let (description, order) = self.plain.describe(region, &mut self.work);
        let next = ClassId(self.known.len());
        let class = *self.known.entry(description).or_insert_with_key(|description| {
            self.descriptions.push(description.clone());
            next
        });
        let classed = Classed { class, order };
        self.of_region.insert(*region, classed.clone());
        classed
    }

    /// Every order of a unit's patches that its description allows: more than one if a turn carries the unit into itself.
    pub fn orders(&mut self, region: &PatchSet) -> Vec<Vec<usize>> {
        self.plain.descriptions(region, &mut self.work).1
    }

    /// The class of a unit's mirror image, if a unit of that class was asked for before; a unit that is its own mirror
    /// image has its own class.
    pub fn mirror_class(&mut self, region: &PatchSet) -> Option<ClassId> {
        let (description, _) = self.mirrored.describe(region, &mut self.work);
        self.known.get(&description).copied()
    }

    /// The order of two classes by their shapes: the same whatever the order in which they were asked for, and in copies
    /// of the block that are turned, mirrored or drawn in another order.
    #[must_use]
    pub fn compare(&self, a: ClassId, b: ClassId) -> Ordering {
        let of = |class: ClassId| self.descriptions.get(class.0);
        if a == b { Ordering::Equal } else { of(a).cmp(&of(b)) }
    }

    /// The number of a patch's shape: equal for congruent patches.
    #[must_use]
    pub fn shape(&self, patch: usize) -> usize {
        self.plain.shapes[patch]
    }

    /// The orders in which the mirror image of a unit matches the unit itself: one for each mirror line.
    pub fn mirrored_orders(&mut self, region: &PatchSet) -> Vec<Vec<usize>> {
        let least = self.plain.describe(region, &mut self.work).0;
        let (image, orders) = self.mirrored.descriptions(region, &mut self.work);
        if image == least { orders } else { Vec::new() }
    }

    /// The class of a unit's mirror image, as [`ClassBook::mirror_class`], and the orders in which that class names the
    /// patches of the unit.
    pub fn mirror_image(&mut self, region: &PatchSet) -> Option<(ClassId, Vec<Vec<usize>>)> {
        let (description, orders) = self.mirrored.descriptions(region, &mut self.work);
        Some((*self.known.get(&description)?, orders))
    }

    /// How many patches were looked at so far: a measure of effort that does not depend on the clock.
    #[must_use]
    pub const fn work(&self) -> u64 {
        self.work
    }
}

/// Where the description of a patch can begin.
fn starts(outline: &Polygon) -> Vec<Start> {
    let start = |i: usize| Start { at: outline.corner(i).clone(), edge: outline.edge(i) };
    ShapeClass::starts(outline).into_iter().map(start).collect()
}

impl Hand {
    /// The least description of a unit.
    fn describe(&self, region: &PatchSet, work: &mut u64) -> (Description, Vec<usize>) {
        let (description, orders) = self.descriptions(region, work);
        (description, orders.into_iter().next().unwrap_or_default())
    }

    /// The least description of a unit, and all orders of its patches that give it.
    fn descriptions(&self, region: &PatchSet, work: &mut u64) -> (Description, Vec<Vec<usize>>) {
        let mut count: FxHashMap<usize, usize> = FxHashMap::default();
        for patch in region.iter() {
            *count.entry(self.shapes[patch]).or_insert(0) += self.starts[patch].len();
        }
        let rarest = region.iter().map(|p| (count[&self.shapes[p]], self.shapes[p])).min();
        let anchors = region.iter().filter(|&p| rarest.is_some_and(|r| r.1 == self.shapes[p]));
        let mut least: (Description, Vec<Vec<usize>>) = Default::default();
        for start in anchors.flat_map(|p| &self.starts[p]) {
            *work += region.len() as u64;
            let (description, order) = self.seen_from(region, start);
            if least.1.is_empty() || description < least.0 {
                least = (description, vec![order]);
            } else if description == least.0 {
                least.1.push(order);
            }
        }
        least
    }

    /// The description of a unit as seen from one corner.
    fn seen_from(&self, region: &PatchSet, from: &Start) -> (Description, Vec<usize>) {
        let mark = |patch: usize| {
            let seen = |start: &Start| {
                let to = &start.at - &from.at;
                let edge = &start.edge;
                [from.edge.dot(&to), from.edge.cross(&to), from.edge.dot(edge), from.edge.cross(edge)]
            };
            let least = self.starts[patch].iter().map(seen).min().unwrap_or_default();
            ((self.shapes[patch], least), patch)
        };
        let mut marks: Vec<(PatchMark, usize)> = region.iter().map(mark).collect();
        marks.sort_unstable();
        let (marks, order) = marks.into_iter().unzip();
        ((from.edge.length_squared(), marks), order)
    }
}
