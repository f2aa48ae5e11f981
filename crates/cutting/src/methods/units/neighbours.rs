//! Patches and their whole shared edges.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};

use geometry::{Exact, Patch, Point, Polygon, ShapeClass, Vector};

/// An edge of a patch, both as indexes.
pub(super) type Side = (usize, usize);

/// The patches of a block, with the neighbour across each edge that both share from end to end.
pub(super) struct Neighbours<'a> {
    patches: &'a [Patch],
    /// Which edge runs from one point to another. Only asked, never walked: its order does not matter.
    by_ends: HashMap<(&'a Point, &'a Point), Side>,
    numbers: RefCell<Numbers>,
}

/// Number of a class of patches with marked edges; equal for equal classes, in the order in which they came.
pub(super) type ClassNumber = usize;

/// Classes by number. Blocks repeat few shapes, and a shape that comes again as it was drawn is found by its edges.
#[derive(Default)]
struct Numbers {
    by_class: BTreeMap<ShapeClass, ClassNumber>,
    by_edges: HashMap<Drawn, ClassNumber>,
}

/// Edges, grain and marked edges of a patch.
type Drawn = (Vec<Vector>, Option<Vector>, Vec<(usize, i64)>);

impl<'a> Neighbours<'a> {
    pub(super) fn new(patches: &'a [Patch]) -> Self {
        let sides = patches
            .iter()
            .enumerate()
            .flat_map(|(patch, p)| p.outline.edges().enumerate().map(move |(edge, ends)| (ends, (patch, edge))));
        Self { patches, by_ends: sides.collect(), numbers: RefCell::default() }
    }

    pub(super) const fn len(&self) -> usize {
        self.patches.len()
    }

    pub(super) fn outline(&self, patch: usize) -> &'a Polygon {
        &self.patches[patch].outline
    }

    /// The other patch along the whole of this edge, and which of its edges it is.
    pub(super) fn across(&self, (patch, edge): Side) -> Option<Side> {
        let outline = self.outline(patch);
        self.by_ends.get(&(outline.corner(edge + 1), outline.corner(edge))).copied()
    }

    /// Whether the direction lies on the patch's straight grain, lengthwise or crosswise; a free grain follows.
    pub(super) fn is_on_grain(&self, patch: usize, direction: &Vector) -> bool {
        let along = |grain: &Vector| grain.cross(direction).is_zero() || grain.dot(direction).is_zero();
        self.patches[patch].grain.as_ref().is_none_or(along)
    }

    pub(super) fn is_parallelogram(&self, patch: usize) -> bool {
        let outline = self.outline(patch);
        outline.corners().len() == 4 && (&outline.edge(0) + &outline.edge(2)).is_zero()
    }

    /// Shape, grain and hand of a patch, with some of its edges marked by numbers.
    pub(super) fn class(&self, patch: usize, marked: &[(usize, i64)]) -> ClassNumber {
        let (outline, grain) = (self.outline(patch), self.patches[patch].grain.as_ref());
        let corners = outline.corners().len();
        let numbers = &mut *self.numbers.borrow_mut();
        let drawn = ((0..corners).map(|i| outline.edge(i)).collect(), grain.cloned(), marked.to_vec());
        *numbers.by_edges.entry(drawn).or_insert_with(|| {
            let mut notes = vec![Exact::ZERO; corners];
            for (edge, number) in marked {
                notes[*edge] = Exact::int(*number);
            }
            let next = numbers.by_class.len();
            *numbers.by_class.entry(ShapeClass::of(outline, grain, &notes)).or_insert(next)
        })
    }
}
