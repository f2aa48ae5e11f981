//! Blocks cut once more: patches divided along symmetry lines of the block, so that seams can be sewn straight.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use thiserror::Error;

use crate::block::{Block, Patch, PatchKey, Role};
use crate::drafting::DraftError;
use crate::point::{Point, Vector, meet};
use crate::polygon::{Place, Polygon};
use crate::recipe::RecipeError;

/// A seam that a block gets beside those of its drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ExtraSeam {
    /// The patch that is cut in two, by its index in the drawing.
    pub patch: u32,
    /// The line it is cut along: number in [`Polygon::symmetry_lines`] of the block's outline.
    pub axis: u8,
}

/// Why a block cannot be cut again.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RecutError {
    /// The same drawing without extra seams has a simpler recipe.
    #[error("a re-cut block needs at least one extra seam; use the block as it is")]
    NoSeam,
    /// A line that the outline does not have.
    #[error("the outline of this block has {has} symmetry lines, counted from 0; there is no line {axis}")]
    NoAxis {
        /// The number given.
        axis: u8,
        /// How many there are.
        has: usize,
    },
    /// A patch that the drawing does not have.
    #[error("this block has {has} patches, counted from 0; there is no patch {patch} to cut in two")]
    NoPatch {
        /// The index given.
        patch: u32,
        /// How many there are.
        has: usize,
    },
    /// A patch with two extra seams.
    #[error("patch {0} is cut in two twice; give it one extra seam")]
    Twice(u32),
    /// A line that leaves the patch whole, or cuts it into more parts.
    #[error("symmetry line {axis} does not cut patch {patch} into exactly two parts; choose another line or patch")]
    NotInTwo {
        /// The patch.
        patch: u32,
        /// The line.
        axis: u8,
    },
    /// A re-cut block inside a re-cut block.
    #[error("a re-cut block is not cut again; give all extra seams in one list")]
    Nested,
}

/// `block` with patches cut in two.
///
/// The part that holds the patch's witness (the left one along the line, if the witness lies on it) stands in the
/// patch's place; the other parts follow after all patches, in the order of `seams`. Keys count from 0 again.
pub(crate) fn recut(block: &Block, seams: &[ExtraSeam]) -> Result<Block, RecipeError> {
    if seams.is_empty() {
        return Err(RecutError::NoSeam.into());
    }
    let lines = block.base().symmetry_lines();
    let roles: BTreeSet<&Role> = block.patches().iter().map(|p| &p.role).collect();
    let mut patches = block.patches().to_vec();
    let mut cut = BTreeSet::new();
    for &ExtraSeam { patch: number, axis } in seams {
        let whole = usize::try_from(number).ok().and_then(|i| block.patches().get(i));
        let has = block.patches().len();
        let whole = whole.ok_or(RecutError::NoPatch { patch: number, has })?;
        let (point, direction) = lines.get(usize::from(axis)).ok_or(RecutError::NoAxis { axis, has: lines.len() })?;
        if !cut.insert(number) {
            return Err(RecutError::Twice(number).into());
        }
        let parts = in_two(&whole.outline, point, direction);
        let (first, second) = parts.ok_or(RecutError::NotInTwo { patch: number, axis })?;
        let role = half_role(&whole.role, &roles);
        let part = |outline| Patch { outline, role: role.clone(), ..whole.clone() };
        if let Some(slot) = usize::try_from(number).ok().and_then(|i| patches.get_mut(i)) {
            *slot = part(first);
        }
        patches.push(part(second));
    }
    for (key, patch) in (0..).zip(&mut patches) {
        patch.key = PatchKey(key);
    }
    Ok(Block::prove(block.base().clone(), patches).map_err(DraftError::from)?)
}

/// "half " and the name of the role; the role itself where that name is too long or means something else already.
fn half_role(role: &Role, taken: &BTreeSet<&Role>) -> Role {
    match Role::new(&format!("half {role}")) {
        Ok(half) if !taken.contains(&half) => half,
        _ => role.clone(),
    }
}

/// The two parts of `outline` on both sides of the line, the one with its witness first; `None` when the line does
/// not leave exactly two.
fn in_two(outline: &Polygon, point: &Point, direction: &Vector) -> Option<(Polygon, Polygon)> {
    let ring = with_crossings(outline, point, direction);
    let left = one_side(&ring, Ordering::Greater)?;
    let right = one_side(&ring, Ordering::Less)?;
    let right_first = right.place(&outline.witness()) == Place::Inside;
    Some(if right_first { (right, left) } else { (left, right) })
}

/// The corners and the points where edges cross the line, each with its side of the line.
fn with_crossings(outline: &Polygon, point: &Point, direction: &Vector) -> Vec<(Point, Ordering)> {
    let side = |p: &Point| direction.cross(&(p - point)).sign();
    let mut ring = Vec::new();
    for (a, b) in outline.edges() {
        let (at_a, at_b) = (side(a), side(b));
        ring.push((a.clone(), at_a));
        if at_a.is_ne()
            && at_a == at_b.reverse()
            && let Some(crossing) = meet(a, &(b - a), point, direction)
        {
            ring.push((crossing, Ordering::Equal));
        }
    }
    ring
}

/// The part of the ring on one side, closed along the line; `None` when there is none, or when it falls apart.
fn one_side(ring: &[(Point, Ordering)], side: Ordering) -> Option<Polygon> {
    let n = ring.len();
    let at = |i: usize| &ring[i % n];
    // The run of one side begins after a point on the line, where the point before that is of the other side; points
    // of the line within it are corners that touch, and a second run would be a second part.
    let other = side.reverse();
    let last_other = (0..n).find(|i| at(*i).1 == other && next_off_line(ring, *i) == Some(side))?;
    let first = (last_other + 1..).find(|i| at(*i).1 == side)?;
    let end = (first..).find(|i| at(*i).1 == other)?;
    if (end..last_other + n).any(|i| at(i).1 == side) {
        return None;
    }
    let last = (first..end).rfind(|i| at(*i).1 == side)?;
    Polygon::new((first - 1..=last + 1).map(|i| at(i).0.clone()).collect()).ok()
}

/// The side of the first point after `i` that is not on the line.
fn next_off_line(ring: &[(Point, Ordering)], i: usize) -> Option<Ordering> {
    let n = ring.len();
    (1..n).map(|k| ring[(i + k) % n].1).find(|side| side.is_ne())
}
