//! How many units of each step a quilt needs, and in which fabrics.
//!
//! A step is told by geometry alone; what is made in one go has the same fabrics too. Units of mirrored blocks are the
//! mirror images and are counted apart, unless a unit is its own mirror image.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use layout::{BlockId, Design, EditError, FabricId, PlaceId, Source};

use crate::patch_set::PatchSet;
use crate::pressing::Pressing;
use crate::tree::{Making, SeamTree, Step, UnitId};
use crate::unit_class::ClassBook;

/// Units of one step that are alike in every way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variant {
    /// Whether it is the mirror image of the units of its step.
    pub mirrored: bool,
    /// A unit of the tree from which it can be drawn, and like which it is pressed.
    pub unit: UnitId,
    /// The patches of that unit.
    pub patches: PatchSet,
    /// Whether it is drawn as the mirror image of those patches, since they are in a mirrored block.
    pub drawn_mirrored: bool,
    /// The fabric of each patch of the block; those of `patches` count.
    pub fabrics: Arc<Vec<FabricId>>,
    /// How many the quilt needs.
    pub count: u64,
    /// How many of them are pressed the other way round, every seam to its other side.
    pub reversed: u64,
    /// Which units of which colourings of the block they are.
    pub members: Vec<Member>,
}

/// A unit of a block in one of its colourings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Member {
    /// Which of the block's colourings, from 0.
    pub colouring: usize,
    /// The unit.
    pub unit: UnitId,
}

/// A block of the quilt in one set of fabrics.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colouring {
    /// Whether the block is mirrored.
    pub mirrored: bool,
    /// The fabric of each patch.
    pub fabrics: Arc<Vec<FabricId>>,
    /// The places that hold such a block, in order.
    pub places: Vec<PlaceId>,
}

/// The colourings of a block in a quilt, pieced borders included, in the order of the first place of each.
///
/// # Errors
/// A patch without a fabric; not for a checked design.
pub fn colourings(design: &Design, block: BlockId) -> Result<Vec<Colouring>, EditError> {
    let drawn = Arc::clone(design.block(block)?.block());
    let mut found: Vec<Colouring> = Vec::new();
    let mut known: BTreeMap<(bool, Vec<FabricId>), usize> = BTreeMap::new();
    for place in design.places_of(block) {
        let mirrored = design.is_mirrored(place);
        let paint = |index| design.paint(place, Source::Block(block), &drawn, index);
        let fabrics = (0..drawn.patches().len()).map(paint).collect::<Result<Vec<_>, _>>()?;
        let index = *known.entry((mirrored, fabrics)).or_insert_with_key(|(mirrored, fabrics)| {
            let fabrics = Arc::new(fabrics.clone());
            found.push(Colouring { mirrored: *mirrored, fabrics, places: Vec::new() });
            found.len() - 1
        });
        found[index].places.push(place);
    }
    Ok(found)
}

/// Finds out how often each step is made in which fabrics.
pub struct Variants<'a> {
    tree: &'a SeamTree,
    steps: Vec<Step>,
    book: ClassBook,
}

/// What is the same for all units of a variant: whether they are mirror images, the unit like which they are pressed, and
/// in the order of the class the fabric of each patch with the unit like which its part was pressed before.
type Likeness = (bool, UnitId, Vec<(FabricId, Option<UnitId>)>);

impl<'a> Variants<'a> {
    /// For the steps of `tree`.
    #[must_use]
    pub fn new(tree: &'a SeamTree) -> Self {
        let (steps, mut book) = (tree.steps(), ClassBook::new(tree.graph()));
        for step in &steps {
            // So that the book knows the classes of all steps when it is asked for mirror images.
            book.class(&tree.unit(step.units[0]).patches);
        }
        Self { tree, steps, book }
    }

    /// The variants of each step in a quilt with these colourings of its block, which is pressed the other way round in
    /// the places `reversed`; of each step the most numerous first, mirror images last.
    pub fn of_steps(
        &mut self,
        colourings: &[Colouring],
        pressing: &Pressing,
        reversed: &BTreeSet<PlaceId>,
    ) -> Vec<Vec<Variant>> {
        let mut found: Vec<BTreeMap<Likeness, Variant>> = vec![BTreeMap::new(); self.steps.len()];
        for index in 0..self.steps.len() {
            for unit in self.steps[index].units.clone() {
                let patches = self.tree.unit(unit).patches;
                let plain = self.book.orders(&patches);
                let image = self.image(&patches);
                let like = pressing.like.get(unit.0).copied().unwrap_or(unit);
                let parts = self.parts(unit, pressing);
                for (number, colouring) in colourings.iter().enumerate() {
                    let (step, mirrored, orders) = match &image {
                        Some((step, orders)) if colouring.mirrored => (*step, false, orders),
                        _ => (index, colouring.mirrored, &plain),
                    };
                    let part = |patch| parts.iter().find(|(patches, _)| patches.contains(patch)).map(|(_, like)| *like);
                    let named =
                        |order: &Vec<usize>| order.iter().map(|&p| (colouring.fabrics[p], part(p))).collect::<Vec<_>>();
                    // A unit that a turn carries to itself can be held either way, if its parts are pressed alike then.
                    let Some(fabrics) = orders.iter().map(named).min() else { continue };
                    let variant = found[step].entry((mirrored, like, fabrics)).or_insert_with(|| Variant {
                        mirrored,
                        unit,
                        patches,
                        drawn_mirrored: colouring.mirrored,
                        fabrics: Arc::clone(&colouring.fabrics),
                        count: 0,
                        reversed: 0,
                        members: Vec::new(),
                    });
                    variant.members.push(Member { colouring: number, unit });
                    variant.count += colouring.places.len() as u64;
                    variant.reversed += colouring.places.iter().filter(|place| reversed.contains(place)).count() as u64;
                }
            }
        }
        found.into_iter().map(sorted).collect()
    }

    /// The parts of a unit that are sewn themselves, each with the unit like which it is pressed.
    fn parts(&self, unit: UnitId, pressing: &Pressing) -> Vec<(PatchSet, UnitId)> {
        let Making::Sewn { parts, .. } = &self.tree.unit(unit).making else { return Vec::new() };
        let sewn = parts.iter().filter(|part| matches!(self.tree.unit(**part).making, Making::Sewn { .. }));
        sewn.map(|part| (self.tree.unit(*part).patches, pressing.like.get(part.0).copied().unwrap_or(*part))).collect()
    }

    /// The step whose units are the mirror images of this unit, if there is one, and the orders of its patches there.
    fn image(&mut self, patches: &PatchSet) -> Option<(usize, Vec<Vec<usize>>)> {
        let (class, orders) = self.book.mirror_image(patches)?;
        let is_of_class = |step: &Step| self.book.class(&self.tree.unit(step.units[0]).patches).class == class;
        let step = self.steps.clone().iter().position(is_of_class)?;
        Some((step, orders))
    }
}

fn sorted(variants: BTreeMap<Likeness, Variant>) -> Vec<Variant> {
    let mut variants: Vec<(Likeness, Variant)> = variants.into_iter().collect();
    variants.sort_by_key(|((mirrored, ..), variant)| (*mirrored, std::cmp::Reverse(variant.count)));
    variants.into_iter().map(|(_, variant)| variant).collect()
}
