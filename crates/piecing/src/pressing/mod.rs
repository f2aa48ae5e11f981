//! Pressing: to which side each seam of a block is pressed, so that seams nest where units meet.
//!
//! Seams *nest* where a seam joins two units and seams of both end on it at one point: those of one unit are pressed to
//! one side along the seam, those of the other unit to the other. Seen from the point, all of them are then pressed one
//! way round. At such a crossing a seam may itself change sides when its stitches in the allowance are released there;
//! at a bend it may do so freely, since its stitches stop there (common practice, no source).
//!
//! Each straight part of a seam between ends, bends and crossings is a [`Segment`] with one direction. What is wished
//! of directions is a matter of parity (`parity`); of the wishes that exclude each other the least are given up, in this
//! order (`least`):
//!
//! 1. seams that do not nest,
//! 2. crossings where many patches meet that are not pressed all one way round,
//! 3. releases,
//! 4. points on the outline of the block where seams are pressed both ways round, so that no neighbour can nest there,
//! 5. copies of a unit pressed differently (taken in order, each like the first that it can be like: not proved least),
//! 6. seams pressed to the lighter side, then to the side with more seams.
//!
//! [`top_plan`] presses each kind of block with its neighbours on the quilt top in view; [`top`] tells what nests on a top
//! of blocks that have been pressed, and which places to reverse.
//!
//! A bend of a set-in seam, and a point where seams end from one side only, ask for nothing.

mod alike;
mod bulk;
mod least;
mod parity;
mod plan;
mod prefer;
mod segments;
pub mod top;
pub mod top_plan;
mod top_points;

use geometry::Value;

use crate::tree::{SeamTree, UnitId};

pub use segments::Segment;

/// What is wished beside nesting.
#[derive(Clone, Copy)]
pub struct PressingWishes<'a> {
    /// The value of a patch, if it is known: seams are pressed to the darker side where nothing else decides.
    pub value: &'a dyn Fn(usize) -> Option<Value>,
    /// From this many patches round a crossing, all seams there are pressed one way round and the last one is released,
    /// so that no two thick seams lie on each other (common practice, no source).
    pub spin_from: usize,
    /// Whether seams that end at one point of the outline are pressed one way round, so that a neighbour can nest there.
    pub ready_at_outline: bool,
    /// How many steps the search for the least may take before bounds are the answer.
    pub most_steps: u64,
}

impl Default for PressingWishes<'_> {
    fn default() -> Self {
        Self { value: &|_| None, spin_from: 6, ready_at_outline: true, most_steps: 2_000_000 }
    }
}

/// To which side a segment is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Toward {
    /// Towards the patches on its left.
    Left,
    /// Towards the patches on its right.
    Right,
    /// Open: one allowance to either side.
    Open,
}

impl Toward {
    /// The other side; open stays open.
    #[must_use]
    pub const fn reversed(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Open => Self::Open,
        }
    }
}

/// What is proved about a number that should be small.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// It cannot be less.
    pub at_least: usize,
    /// What the answer has.
    pub found: usize,
}

impl Count {
    /// Whether the answer is proved to have the least.
    #[must_use]
    pub const fn is_least(&self) -> bool {
        self.at_least == self.found
    }
}

/// Seams that meet on a seam from both sides.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meeting {
    /// The unit that the seam makes.
    pub unit: UnitId,
    /// Which of the unit's seams.
    pub seam: usize,
    /// Where: index of a point of the graph.
    pub point: usize,
    /// The segments that end there, each once.
    pub segments: Vec<usize>,
    /// Whether they nest.
    pub nested: bool,
    /// Whether they and the seam itself, on both sides of the point, are pressed one way round.
    pub spins: bool,
    /// Whether the seam changes sides here, its stitches in the allowance released.
    pub released: bool,
}

/// What one link of a conflict asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Demand {
    /// That seams nest: number of the meeting.
    Nest(usize),
    /// That all seams are pressed one way round: number of the meeting.
    Spin(usize),
    /// That the seam does not change sides: number of the meeting.
    NoRelease(usize),
    /// That seams ending on the outline are pressed one way round: index of a point of the graph.
    Outline(usize),
}

/// An odd cycle: going round, each demand fixes the next segment by the one before, and the last one contradicts the
/// first. One of the demands has to be given up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// Segments, each with the demand that binds it to the next.
    pub links: Vec<(usize, Demand)>,
}

impl Conflict {
    /// Whether it proves that somewhere seams do not nest: each of its demands is one for nesting.
    #[must_use]
    pub fn is_about_nesting(&self) -> bool {
        self.links.iter().all(|(_, demand)| matches!(demand, Demand::Nest(_)))
    }
}

/// How a block is pressed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pressing {
    /// All segments, in the order of units and seams and along each seam.
    pub segments: Vec<Segment>,
    /// The direction of each segment.
    pub toward: Vec<Toward>,
    /// Where seams meet on a seam from both sides.
    pub meetings: Vec<Meeting>,
    /// The most layers of fabric at each point of the graph.
    pub layers: Vec<usize>,
    /// For each unit, the unit like which it is pressed: itself for the first of each way.
    pub like: Vec<UnitId>,
    /// Meetings that do not nest.
    pub unnested: Count,
    /// Crossings with many patches that are not pressed one way round.
    pub unspun: Count,
    /// Releases.
    pub releases: Count,
    /// What proves that not every demand can be met. Those about nesting come first.
    pub conflicts: Vec<Conflict>,
    /// Effort: how many edges of the graph of demands were looked at.
    pub steps: u64,
}

impl Pressing {
    /// The segments of one seam of a unit with their directions, along the seam.
    pub fn seam(&self, unit: UnitId, seam: usize) -> impl Iterator<Item = (&Segment, Toward)> {
        let all = self.segments.iter().zip(self.toward.iter().copied());
        all.filter(move |(segment, _)| segment.unit == unit && segment.seam == seam)
    }

    /// The meetings on one seam of a unit, along the seam.
    pub fn meetings_on(&self, unit: UnitId, seam: usize) -> impl Iterator<Item = &Meeting> {
        self.meetings.iter().filter(move |meeting| meeting.unit == unit && meeting.seam == seam)
    }

    /// The point with the most layers, and how many; none for a block without seams.
    #[must_use]
    pub fn thickest(&self) -> Option<(usize, usize)> {
        self.layers.iter().copied().enumerate().max_by_key(|&(point, layers)| (layers, std::cmp::Reverse(point)))
    }

    /// The same with every seam pressed to its other side: what nests still nests.
    #[must_use]
    pub fn reversed(mut self, tree: &SeamTree) -> Self {
        self.toward.iter_mut().for_each(|toward| *toward = toward.reversed());
        self.layers = plan::layers(tree, &segments::Segments::of(tree), &self.toward);
        self
    }
}

/// How the block of `tree` is pressed.
#[must_use]
pub fn press_block(tree: &SeamTree, wishes: &PressingWishes<'_>) -> Pressing {
    plan::press(tree, wishes)
}
