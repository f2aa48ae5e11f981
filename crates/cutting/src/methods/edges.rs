//! Which edges of a block are on the straight grain.
//!
//! Edges on the outline of a block are handled most and stretch first; those on the bias are told, so that a design
//! or a method that puts them there says what it costs.

use std::collections::BTreeMap;

use geometry::{Block, Crossing, Patch, PatchKey, Point, Role, Vector, crossing};

/// How an edge lies on the grain of its patch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeGrain {
    /// Along the grain or square to it.
    Straight,
    /// Askew: it stretches.
    Bias,
    /// The patch leaves its grain free.
    Free,
}

/// An edge of a patch that lies, whole or in part, on the outline of its block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutsideEdge {
    /// The patch.
    pub patch: PatchKey,
    /// What it is.
    pub role: Role,
    /// Which of its edges, counted from its first corner.
    pub edge: usize,
    /// How the edge lies on the grain.
    pub grain: EdgeGrain,
}

/// The edges on the outline of the block, in the order of the patches.
#[must_use]
pub fn outside_grain(block: &Block) -> Vec<OutsideEdge> {
    outside_grain_with(block, |patch| patch.grain.clone())
}

/// As [`outside_grain`], with the grain that a method gives a patch instead of its own.
pub fn outside_grain_with(block: &Block, grain: impl Fn(&Patch) -> Option<Vector>) -> Vec<OutsideEdge> {
    let mut found = Vec::new();
    for patch in block.patches() {
        let grain = grain(patch);
        for (edge, ends) in patch.outline.edges().enumerate() {
            if block.base().edges().any(|base| overlap(ends, base)) {
                let grain = edge_grain(grain.as_ref(), &patch.outline.edge(edge));
                found.push(OutsideEdge { patch: patch.key, role: patch.role.clone(), edge, grain });
            }
        }
    }
    found
}

/// How many bias edges lie on the outline, by role; roles without are left out.
#[must_use]
pub fn bias_by_role(edges: &[OutsideEdge]) -> BTreeMap<Role, usize> {
    let mut counts = BTreeMap::new();
    for edge in edges.iter().filter(|edge| edge.grain == EdgeGrain::Bias) {
        *counts.entry(edge.role.clone()).or_insert(0) += 1;
    }
    counts
}

/// Whether two segments share a stretch.
fn overlap(a: (&Point, &Point), b: (&Point, &Point)) -> bool {
    matches!(crossing(a.0, a.1, b.0, b.1), Crossing::Along(..))
}

fn edge_grain(grain: Option<&Vector>, edge: &Vector) -> EdgeGrain {
    match grain {
        None => EdgeGrain::Free,
        Some(grain) if grain.cross(edge).is_zero() || grain.dot(edge).is_zero() => EdgeGrain::Straight,
        Some(_) => EdgeGrain::Bias,
    }
}
