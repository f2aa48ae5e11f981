//! The order of sewing as a tree: patches at the leaves, units where parts are joined, the block at the root.

use crate::joins::Join;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::unit_class::ClassId;

/// A unit of a [`SeamTree`], by its place in the tree's list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct UnitId(pub usize);

/// One unit on the way to the block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// Its patches.
    pub patches: PatchSet,
    /// Its class: equal for units that are congruent patch by patch, not turned over.
    pub class: ClassId,
    /// Its patches in the order of its class: in congruent units, corresponding patches stand in the same place.
    pub order: Vec<usize>,
    /// How it comes to be.
    pub making: Making,
}

/// How a unit comes to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Making {
    /// It is cut: one patch.
    Cut(usize),
    /// Parts sewn together.
    Sewn {
        /// The parts, in the order in which they are sewn: each one to all those before it, which are one unit by then.
        /// In a row that is its neighbour; parts that are sewn on all round, or set in, come after the part they go on.
        parts: Vec<UnitId>,
        /// The seams, one fewer than parts: seam `i` joins part `i + 1` (on its right) to the union of the parts before
        /// it (on its left).
        seams: Vec<Join>,
    },
}

/// One step: a kind of unit that is sewn, and all units of the block that are made that way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The kind.
    pub class: ClassId,
    /// The kind of the mirror image, when the block needs units of both hands.
    pub mirror: Option<ClassId>,
    /// The units of this kind; the first one is the one to draw.
    pub units: Vec<UnitId>,
}

/// What is proved about the fewest set-in seams.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pivots {
    /// No order of sewing has fewer pivots.
    pub at_least: usize,
    /// Pivots of the order found.
    pub found: usize,
}

impl Pivots {
    /// Whether the order found is proved to have the fewest pivots.
    #[must_use]
    pub const fn is_least(&self) -> bool {
        self.at_least == self.found
    }
}

/// How much was tried, in numbers that do not depend on the clock.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Effort {
    /// Ways to make a unit that were tried.
    pub ways: u32,
    /// Patches that were looked at to tell kinds of unit apart.
    pub patches: u64,
    /// Divisions of stuck regions that were looked at.
    pub divisions: u64,
}

/// The order of sewing of one block.
#[derive(Debug, Clone)]
pub struct SeamTree {
    pub(crate) graph: SeamGraph,
    /// Parts before the units sewn from them; the block comes last.
    pub(crate) units: Vec<Unit>,
    pub(crate) mirrors: Vec<Option<ClassId>>,
    pub(crate) pivots: Pivots,
    pub(crate) stuck: Vec<PatchSet>,
    pub(crate) effort: Effort,
}

impl SeamTree {
    /// The seams of the block.
    #[must_use]
    pub const fn graph(&self) -> &SeamGraph {
        &self.graph
    }

    /// All units, parts before the units sewn from them; the block comes last.
    #[must_use]
    pub fn units(&self) -> &[Unit] {
        &self.units
    }

    /// One unit.
    #[must_use]
    pub fn unit(&self, id: UnitId) -> &Unit {
        &self.units[id.0]
    }

    /// The block.
    #[must_use]
    pub fn root(&self) -> UnitId {
        UnitId(self.units.len() - 1)
    }

    /// What is known about pivots: 0 and 0 for a block whose seams are all straight.
    #[must_use]
    pub const fn pivots(&self) -> Pivots {
        self.pivots
    }

    /// How much was tried to find it.
    #[must_use]
    pub const fn effort(&self) -> Effort {
        self.effort
    }

    /// Regions that no straight seam divides: the proof that the block has set-in seams. Empty for straight seams only.
    #[must_use]
    pub fn stuck(&self) -> &[PatchSet] {
        &self.stuck
    }

    /// The steps, each kind of unit once, parts before what is sewn from them, the block last.
    #[must_use]
    pub fn steps(&self) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        for (index, unit) in self.units.iter().enumerate() {
            if matches!(unit.making, Making::Cut(_)) {
                continue;
            }
            match steps.iter_mut().find(|step| step.class == unit.class) {
                Some(step) => step.units.push(UnitId(index)),
                None => steps.push(Step {
                    class: unit.class,
                    mirror: self.mirrors[index].filter(|m| *m != unit.class),
                    units: vec![UnitId(index)],
                }),
            }
        }
        steps
    }

    /// The unit that `part` is sewn into; none for the block.
    #[must_use]
    pub fn sewn_into(&self, part: UnitId) -> Option<UnitId> {
        let holds = |unit: &Unit| matches!(&unit.making, Making::Sewn { parts, .. } if parts.contains(&part));
        self.units.iter().position(holds).map(UnitId)
    }
}
