//! Pressing of a whole quilt top: whether the seams of neighbouring blocks nest.
//!
//! The blocks have been pressed; what is left to choose is to press a block with every seam to its other side, which
//! keeps all that nests inside it, and for each row to which side the seams between its blocks are pressed. Two
//! questions are answered apart: with all copies of a block pressed alike, and with each place by itself.
//!
//! A sampler is joined unit by unit in an order of its own: where its blocks meet is not looked at, and no demand is made.
//!
//! Long seams between rows and the seams of borders are bound by nothing, since no seam ends on them from both sides
//! that is sewn later; they are pressed down, and towards the border (common practice, no source).

use std::collections::{BTreeMap, BTreeSet};

use geometry::Point;
use layout::{BlockId, Design, EditError, PlaceId, Side, Source, Top};

use crate::pressing::least::least;
use crate::pressing::parity::{Group, Literal, Parity};
use crate::pressing::segments::Segments;
use crate::pressing::top_points::{End, Ends, Meet, TopRay, Turned, ends, meetings};
use crate::pressing::{Count, Pressing, Toward};
use crate::tree::SeamTree;

pub use crate::pressing::top_points::TopSeam;

/// Why seams do not nest at a point of the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// Seams of one block are pressed both ways round there, or open: no neighbour can nest with it.
    Mixed(PlaceId),
    /// Given up for others.
    GivenUp,
}

/// A point of the top where seams end on a seam from both sides and do not nest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TopMeeting {
    /// Where, in the frame of the top.
    pub at: Point,
    /// The seam on which they meet.
    pub seam: TopSeam,
    /// The places whose seams end there.
    pub places: Vec<PlaceId>,
    /// Why they do not nest.
    pub why: Why,
}

/// What takes part in a conflict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Party<K> {
    /// A block, or the block in a place.
    Pressed(K),
    /// The seams between the blocks of a row.
    RowSeams(u16),
}

/// An odd cycle: each party meets the next one at the point and seam beside it, which fixes how the next is pressed; the
/// last one contradicts the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TopConflict<K> {
    /// Parties with the meeting that binds each to the next.
    pub links: Vec<(Party<K>, Point, TopSeam)>,
}

/// The answer to one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TopAnswer<K> {
    /// What is pressed with every seam to its other side, compared with the plan of its block.
    pub reversed: BTreeSet<K>,
    /// For each row from the top, to which side the seams between its blocks are pressed: left or right.
    pub rows: Vec<Side>,
    /// Meetings that do not nest, in the order of their points.
    pub unnested: Vec<TopMeeting>,
    /// How many they are, and how many at least.
    pub count: Count,
    /// Odd cycles that prove that not all can nest.
    pub conflicts: Vec<TopConflict<K>>,
    /// Effort: how many edges of the graph of demands were looked at.
    pub steps: u64,
}

/// How the blocks of a top are pressed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TopPressing {
    /// With all copies of a block pressed alike.
    pub same_for_all: TopAnswer<BlockId>,
    /// With each place by itself.
    pub per_place: TopAnswer<PlaceId>,
    /// Meetings in all.
    pub meetings: usize,
    /// Blocks of the top without a plan: their seams are not known and left out.
    pub unplanned: BTreeSet<BlockId>,
}

/// How the top of `design` is pressed, each block as planned in `blocks` or reversed; `most_steps` bounds the search for
/// the least after a first answer.
///
/// # Errors
/// As [`Design::top`].
pub fn press_top(
    design: &Design,
    blocks: &BTreeMap<BlockId, (SeamTree, Pressing)>,
    most_steps: u64,
) -> Result<TopPressing, EditError> {
    let top = design.top()?;
    let ends: Ends = blocks.iter().map(|(id, (tree, _))| (*id, ends(tree, &Segments::of(tree)))).collect();
    let turns =
        ends.iter().map(|(id, ends)| (*id, ends.iter().map(|end| turn(end, &blocks[id].1)).collect())).collect();
    let meets = meetings(&top, &ends);
    let used = top.placed.iter().filter_map(|placed| block_of(placed.source));
    let unplanned = used.filter(|id| !blocks.contains_key(id)).collect();
    let ask = Ask { top: &top, meets: &meets, turns: &turns, rows: design.setting().sewn_size().0, most_steps };
    Ok(TopPressing {
        same_for_all: ask.answer(|place| block_of(top.placed[place].source)),
        per_place: ask.answer(|place| Some(top.placed[place].place)),
        meetings: meets.len(),
        unplanned,
    })
}

/// Which way round the seams at each end of each block are pressed: counter-clockwise or not; none if both ways or open.
type Turns = BTreeMap<BlockId, Vec<Option<bool>>>;

fn turn(end: &End, pressing: &Pressing) -> Option<bool> {
    let turn = |&(segment, flip): &Literal| match pressing.toward.get(segment)? {
        Toward::Left => Some(!flip),
        Toward::Right => Some(flip),
        Toward::Open => None,
    };
    let turns: Vec<Option<bool>> = end.rays.iter().map(turn).collect();
    let one_way = turns.windows(2).all(|pair| pair[0] == pair[1]);
    turns.first().copied().flatten().filter(|_| one_way)
}

pub(crate) const fn block_of(source: Source) -> Option<BlockId> {
    match source {
        Source::Block(id) => Some(id),
        _ => None,
    }
}

/// One question about a top.
struct Ask<'a> {
    top: &'a Top,
    meets: &'a [Meet],
    turns: &'a Turns,
    rows: u16,
    most_steps: u64,
}

/// Meetings that demand the same are one group, since they are met together.
pub(crate) struct Demanded {
    pub(crate) groups: Vec<Group>,
    /// The first meeting of each group.
    pub(crate) first: Vec<usize>,
}

impl Ask<'_> {
    /// The answer with what `key` says of a place as one: it is pressed as planned or reversed in all its places.
    fn answer<K: Copy + Ord>(&self, key: impl Fn(usize) -> Option<K>) -> TopAnswer<K> {
        let places = self.top.placed.iter().enumerate().filter(|(_, placed)| block_of(placed.source).is_some());
        let keys: BTreeSet<K> = places.filter_map(|(i, _)| key(i)).collect();
        let keys: Vec<K> = keys.into_iter().collect();
        let direction = |turned: Turned| match turned {
            Turned::Place(place) => key(place).and_then(|key| keys.binary_search(&key).ok()),
            Turned::Row(row) => Some(keys.len() + usize::from(row)),
        };
        let literals: Vec<Option<Vec<Literal>>> =
            self.meets.iter().map(|meet| self.literals(meet, direction)).collect();
        let demanded = demanded(&literals);
        let directions = keys.len() + usize::from(self.rows);
        let given = least(directions, &demanded.groups, self.most_steps);
        let mut parity = Parity::new(directions);
        for (i, group) in demanded.groups.iter().enumerate() {
            if given.broken.binary_search(&i).is_err() {
                parity.meet(&group.literals);
            }
        }
        let turned = orient(&parity, keys.len(), directions);
        let unnested = self.unnested(&literals, &turned);
        let mixed = literals.iter().filter(|literals| literals.is_none()).count();
        let proved = usize::try_from(given.at_least).unwrap_or(usize::MAX);
        let party = |direction: usize| match keys.get(direction) {
            Some(key) => Party::Pressed(*key),
            None => Party::RowSeams(u16::try_from(direction - keys.len()).unwrap_or(u16::MAX)),
        };
        let link = |&(direction, group): &(usize, usize)| {
            let meet = &self.meets[demanded.first[group]];
            (party(direction), meet.at.clone(), meet.seam)
        };
        let side = |right: &bool| if *right { Side::Right } else { Side::Left };
        TopAnswer {
            reversed: keys.iter().zip(&turned).filter(|(_, turned)| **turned).map(|(key, _)| *key).collect(),
            rows: turned[keys.len()..].iter().map(side).collect(),
            count: Count { at_least: proved + mixed, found: unnested.len() },
            unnested,
            conflicts: given.cycles.iter().map(|c| TopConflict { links: c.iter().map(link).collect() }).collect(),
            steps: given.steps,
        }
    }

    /// Which way round seams that end at a point are pressed as planned.
    fn turn(&self, ray: &TopRay) -> Option<bool> {
        match ray.owner {
            Turned::Row(_) => Some(ray.turn),
            Turned::Place(place) => {
                let turns = self.turns.get(&block_of(self.top.placed[place].source)?)?;
                turns.get(ray.end)?.map(|turn| turn ^ ray.turn)
            }
        }
    }

    /// What a meeting demands; none if it cannot be met whatever is reversed.
    fn literals(&self, meet: &Meet, direction: impl Fn(Turned) -> Option<usize>) -> Option<Vec<Literal>> {
        let literal = |ray: &TopRay| Some((direction(ray.owner)?, self.turn(ray)?));
        meet.rays.iter().map(literal).collect::<Option<_>>().map(normal)
    }

    fn unnested(&self, literals: &[Option<Vec<Literal>>], turned: &[bool]) -> Vec<TopMeeting> {
        let nests = |literals: &[Literal]| {
            let turn = |literal: &Literal| turned[literal.0] ^ literal.1;
            literals.windows(2).all(|pair| turn(&pair[0]) == turn(&pair[1]))
        };
        let failed = self.meets.iter().zip(literals).filter(|(_, l)| !l.as_ref().is_some_and(|l| nests(l)));
        failed
            .map(|(meet, _)| {
                let place = |turned: Turned| match turned {
                    Turned::Place(place) => Some(self.top.placed[place].place),
                    Turned::Row(_) => None,
                };
                let mixed = meet.rays.iter().find(|ray| self.turn(ray).is_none()).and_then(|ray| place(ray.owner));
                TopMeeting {
                    at: meet.at.clone(),
                    seam: meet.seam,
                    places: meet.rays.iter().filter_map(|ray| place(ray.owner)).collect(),
                    why: mixed.map_or(Why::GivenUp, Why::Mixed),
                }
            })
            .collect()
    }
}

/// The same demand in its least form: all turned over it says the same.
pub(crate) fn normal(mut literals: Vec<Literal>) -> Vec<Literal> {
    literals.sort_unstable();
    literals.dedup();
    let first = literals.first().is_some_and(|literal| literal.1);
    literals.iter_mut().for_each(|literal| literal.1 ^= first);
    literals.sort_unstable();
    literals
}

/// The different demands, each weighing as many meetings as make it.
pub(crate) fn demanded(literals: &[Option<Vec<Literal>>]) -> Demanded {
    let mut count: BTreeMap<&[Literal], (usize, u128)> = BTreeMap::new();
    for (i, literals) in literals.iter().enumerate() {
        if let Some(literals) = literals.as_ref().filter(|literals| literals.len() > 1) {
            count.entry(literals).or_insert((i, 0)).1 += 1;
        }
    }
    let mut ordered: Vec<(usize, u128, &[Literal])> =
        count.into_iter().map(|(literals, (first, weight))| (first, weight, literals)).collect();
    ordered.sort_unstable();
    let first = ordered.iter().map(|demand| demand.0).collect();
    let groups = ordered.into_iter().map(|(_, weight, l)| Group { literals: l.to_vec(), weight }).collect();
    Demanded { groups, first }
}

/// Fixes the directions that are bound to each other: as few reversed as can be, then rows right and left in turn, the
/// top row to the right. Directions from `rows_from` on are those of rows.
fn orient(parity: &Parity, rows_from: usize, count: usize) -> Vec<bool> {
    // What the root's being turned costs more than its not being turned.
    let mut costs = vec![(0_i64, 0_i64); count];
    for direction in 0..count {
        let (root, odd) = parity.find(direction);
        let sign = if odd { -1 } else { 1 };
        match direction.checked_sub(rows_from) {
            None => costs[root].0 += sign,
            Some(row) if row.is_multiple_of(2) => costs[root].1 -= sign,
            Some(_) => costs[root].1 += sign,
        }
    }
    (0..count)
        .map(|direction| {
            let (root, odd) = parity.find(direction);
            (costs[root] < (0, 0)) ^ odd
        })
        .collect()
}
