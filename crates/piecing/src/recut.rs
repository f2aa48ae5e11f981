//! Re-cuts: patches cut in two along symmetry lines of the block, so that all seams can be sewn straight.
//!
//! The search is complete. A point at which every seam bends needs an extra seam that ends in it, whatever else is cut;
//! a region that no straight seam divides needs one inside it, since extra seams elsewhere leave it as it is and straight
//! joins never hinder (see the set-in seams). So it branches over the seams that can help there, with one more seam
//! allowed at a time, and the first answer has the fewest.

use std::collections::BTreeSet;
use std::sync::Arc;

use geometry::{Block, ExtraSeam, Point, Recipe};

use crate::divide::bends;
use crate::error::PiecingError;
use crate::order::order_of_sewing;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::set_in::SetIn;
use crate::tree::SeamTree;

/// Re-cut blocks that are looked at before the search ends.
const MOST_BLOCKS: u32 = 400;

/// The most extra seams.
const MOST_SEAMS: usize = 48;

/// A block with extra seams that make all its seams straight.
#[derive(Debug, Clone)]
pub struct Recut {
    /// The extra seams: no fewer along symmetry lines would do.
    pub seams: Vec<ExtraSeam>,
    /// The block with them.
    pub block: Arc<Block>,
    /// How it is sewn: without set-in seams.
    pub tree: SeamTree,
}

/// The fewest extra seams along symmetry lines of the block's outline, at most one a patch, with which all seams of
/// `block` are straight. None if they are straight already, if no such seams help, or if the search is not finished
/// within its limits.
///
/// # Errors
/// [`PiecingError`]: too many patches, or patches that touch only at points.
pub fn recut(block: &Arc<Block>) -> Result<Option<Recut>, PiecingError> {
    let graph = SeamGraph::new(Arc::clone(block))?;
    if !graph.is_connected(&graph.all()) {
        return Err(PiecingError::Apart);
    }
    if SetIn::new(&graph, &[]).stuck(&graph.all()).is_empty() {
        return Ok(None);
    }
    let mut search = Search::new(block);
    let most = search.candidates.len().min(MOST_SEAMS);
    for allowed in 1..=most {
        search.seen.clear();
        if let Some(seams) = search.extend(&graph, &[], allowed) {
            let block = Arc::new(search.cut(&seams).ok_or(PiecingError::Apart)?);
            let tree = order_of_sewing(&block)?;
            return Ok(Some(Recut { seams, block, tree }));
        }
        if search.left == 0 {
            break;
        }
    }
    Ok(None)
}

/// An extra seam, and the points where it ends.
struct Candidate {
    seam: ExtraSeam,
    ends: Vec<Point>,
}

struct Search<'a> {
    block: &'a Block,
    drawing: Recipe,
    candidates: Vec<Candidate>,
    seen: BTreeSet<Vec<ExtraSeam>>,
    left: u32,
}

impl<'a> Search<'a> {
    fn new(block: &'a Block) -> Self {
        let drawing = Recipe::Own { base: block.base().clone(), patches: block.patches().to_vec() };
        let mut search = Self { block, drawing, candidates: Vec::new(), seen: BTreeSet::new(), left: MOST_BLOCKS };
        let patches = u32::try_from(block.patches().len()).unwrap_or(u32::MAX);
        let axes = u8::try_from(block.base().symmetry_lines().len()).unwrap_or(u8::MAX);
        for seam in (0..patches).flat_map(|patch| (0..axes).map(move |axis| ExtraSeam { patch, axis })) {
            // Cut alone, it must leave two parts: a proof of the whole block is not needed to know.
            if let Some(ends) = search.ends(seam) {
                search.candidates.push(Candidate { seam, ends });
            }
        }
        search
    }

    /// The two points at which the line of `seam` meets the outline of its patch, if it parts it in two.
    fn ends(&self, seam: ExtraSeam) -> Option<Vec<Point>> {
        let outline = &self.block.patches().get(usize::try_from(seam.patch).ok()?)?.outline;
        let lines = self.block.base().symmetry_lines();
        let (point, direction) = lines.get(usize::from(seam.axis))?;
        let side = |p: &Point| direction.cross(&(p - point)).signum();
        let mut ends = Vec::new();
        for (a, b) in outline.edges() {
            if side(a) == 0 {
                ends.push(a.clone());
            } else if side(a) * side(b) < 0 {
                ends.extend(geometry::meet(a, &(b - a), point, direction));
            }
        }
        let both = [1, -1].iter().all(|sign| outline.corners().iter().any(|p| side(p) == *sign));
        (ends.len() == 2 && both).then_some(ends)
    }

    /// The block with these extra seams.
    fn cut(&self, seams: &[ExtraSeam]) -> Option<Block> {
        Recipe::Recut { of: Box::new(self.drawing.clone()), seams: seams.to_vec() }.draft().ok()
    }

    /// `chosen` and at most `allowed` more seams that make all seams straight. `graph` is that of the block with `chosen`.
    fn extend(&mut self, graph: &SeamGraph, chosen: &[ExtraSeam], allowed: usize) -> Option<Vec<ExtraSeam>> {
        let stuck = SetIn::new(graph, &[]).stuck(&graph.all());
        let Some(region) = stuck.first() else { return Some(chosen.to_vec()) };
        let single: Vec<PatchSet> = graph.all().iter().map(PatchSet::one).collect();
        let bends: Vec<&Point> = bends_at(graph, &single);
        let free = |candidate: &&Candidate| chosen.iter().all(|seam| seam.patch != candidate.seam.patch);
        let helps = |candidate: &Candidate| bends.iter().filter(|at| candidate.ends.contains(at)).count();
        let most = self.candidates.iter().filter(free).map(helps).max().unwrap_or(0);
        if bends.len() > most * allowed || allowed == 0 {
            return None;
        }
        let useful = |candidate: &&Candidate| match bends.first() {
            Some(at) => candidate.ends.contains(at),
            // The uncut patch keeps its number, and is cut only once.
            None => region.contains(usize::try_from(candidate.seam.patch).unwrap_or(usize::MAX)),
        };
        let next: Vec<ExtraSeam> = self.candidates.iter().filter(free).filter(useful).map(|c| c.seam).collect();
        for seam in next {
            let mut seams = chosen.to_vec();
            seams.push(seam);
            seams.sort_unstable();
            if self.left == 0 {
                return None;
            }
            if !self.seen.insert(seams.clone()) {
                continue;
            }
            self.left -= 1;
            let Some(graph) = self.cut(&seams).and_then(|block| SeamGraph::new(Arc::new(block)).ok()) else { continue };
            if let Some(found) = self.extend(&graph, &seams, allowed - 1) {
                return Some(found);
            }
        }
        None
    }
}

/// The points at which every seam bends.
fn bends_at<'a>(graph: &'a SeamGraph, parts: &[PatchSet]) -> Vec<&'a Point> {
    bends(graph, parts).into_iter().filter_map(|point| graph.points().get(point)).collect()
}
