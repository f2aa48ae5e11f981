//! One way to press each kind of block of a quilt top, chosen with its neighbours in view.
//!
//! The seams of a block have the same directions in all its places. What is wished inside the blocks weighs as often as
//! a block is made, and between blocks seams nest at as many points of the top as can be. So the answer to "can all
//! copies of a block be pressed alike, and everything nest?" is proved over every way to press the blocks, not only over
//! one plan and its reverse.

use std::collections::BTreeMap;

use geometry::Point;
use layout::{BlockId, Design, EditError, Side, Top};

use crate::pressing::parity::{Group, Literal, Parity};
use crate::pressing::plan::{CLASSES, Planned, agree, class, least_in_order, weights};
use crate::pressing::prefer::{Leaning, directions};
use crate::pressing::top::{TopSeam, block_of, demanded, normal};
use crate::pressing::top_points::{Ends, Meet, TopRay, Turned, ends, meetings};
use crate::pressing::{Count, Demand, Pressing, PressingWishes, alike, press_block};
use crate::tree::{SeamTree, UnitId};

/// What takes part in a conflict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlanParty {
    /// A segment of a block, by its place in the list of the block's pressing.
    Segment(BlockId, usize),
    /// The seams between the blocks of a row.
    RowSeams(u16),
}

/// What one link of a conflict asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlanDemand {
    /// A demand inside a block.
    InBlock(BlockId, Demand),
    /// That seams nest between blocks, for one at this point on this seam.
    Between(Point, TopSeam),
}

/// An odd cycle: each demand binds the party beside it to the next one, and the last contradicts the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanConflict {
    /// Parties, each with the demand that binds it to the next.
    pub links: Vec<(PlanParty, PlanDemand)>,
}

/// How each kind of block is pressed, the same in all its places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlockPlans {
    /// The pressing of each block. Its counts are those of the block by itself.
    pub pressings: BTreeMap<BlockId, Pressing>,
    /// For each row from the top, to which side the seams between its blocks are pressed: left or right.
    pub rows: Vec<Side>,
    /// Points of the whole top, inside blocks and between them, where seams do not nest.
    pub unnested: Count,
    /// What proves that not every demand can be met.
    pub conflicts: Vec<PlanConflict>,
    /// Effort: how many edges of the graph of demands were looked at.
    pub steps: u64,
}

/// One kind of block and where its segments stand among all directions.
struct Kind<'a> {
    id: BlockId,
    tree: &'a SeamTree,
    wishes: PressingWishes<'a>,
    planned: Planned,
    /// Direction of its first segment.
    offset: usize,
    copies: u128,
}

/// Presses each block of `trees` for the top of `design`. Of `wishes`, readiness at the outline is not looked at: the
/// neighbours are known. `most_steps` bounds the search for the least after a first answer.
///
/// # Errors
/// As [`Design::top`].
pub fn plan_blocks<'a>(
    design: &Design,
    trees: &'a BTreeMap<BlockId, SeamTree>,
    wishes: impl Fn(BlockId) -> PressingWishes<'a>,
    most_steps: u64,
) -> Result<BlockPlans, EditError> {
    let top = design.top()?;
    let mut copies: BTreeMap<BlockId, u128> = BTreeMap::new();
    top.placed.iter().filter_map(|placed| block_of(placed.source)).for_each(|id| *copies.entry(id).or_insert(0) += 1);
    let mut kinds: Vec<Kind<'_>> = Vec::new();
    let mut pressings = BTreeMap::new();
    let mut offset = 0;
    for (&id, tree) in trees {
        let wishes = PressingWishes { ready_at_outline: false, ..wishes(id) };
        let Some(&copies) = copies.get(&id) else {
            pressings.insert(id, press_block(tree, &wishes));
            continue;
        };
        let planned = Planned::new(tree, &wishes);
        let count = planned.segments.list.len();
        kinds.push(Kind { id, tree, wishes, planned, offset, copies });
        offset += count;
    }
    let rows = usize::from(design.setting().sewn_size().0);
    let joint = Joint::new(&top, kinds, offset, rows);
    let mut plans = joint.answer(most_steps);
    plans.pressings.append(&mut pressings);
    Ok(plans)
}

/// All kinds of block together.
struct Joint<'a> {
    kinds: Vec<Kind<'a>>,
    /// Direction of the seams of the first row; those of the other rows follow.
    rows_from: usize,
    rows: usize,
    meets: Vec<Meet>,
    /// What each meeting demands of the directions.
    literals: Vec<Vec<Literal>>,
}

/// A demand of the whole.
#[derive(Clone, Copy)]
enum Wish {
    InBlock(usize, Demand),
    /// Number of a meeting that makes it.
    Between(usize),
}

impl<'a> Joint<'a> {
    fn new(top: &Top, kinds: Vec<Kind<'a>>, rows_from: usize, rows: usize) -> Self {
        let ends: Ends = kinds.iter().map(|kind| (kind.id, ends(kind.tree, &kind.planned.segments))).collect();
        let meets = meetings(top, &ends);
        let offsets: BTreeMap<BlockId, usize> = kinds.iter().map(|kind| (kind.id, kind.offset)).collect();
        let of_ray = |ray: &TopRay| -> Vec<Literal> {
            match ray.owner {
                Turned::Row(row) => vec![(rows_from + usize::from(row), ray.turn)],
                Turned::Place(place) => {
                    let id = block_of(top.placed[place].source);
                    let found = id.and_then(|id| Some((offsets.get(&id)?, ends.get(&id)?.get(ray.end)?)));
                    let rays = found.map(|(offset, end)| end.rays.iter().map(move |&(s, flip)| (offset + s, flip)));
                    rays.into_iter().flatten().map(|(segment, flip)| (segment, flip ^ ray.turn)).collect()
                }
            }
        };
        let literals = meets.iter().map(|meet| normal(meet.rays.iter().flat_map(of_ray).collect())).collect();
        Self { kinds, rows_from, rows, meets, literals }
    }

    /// All demands, weighed by how often they occur on the top.
    fn wishes(&self) -> (Vec<Wish>, Vec<Group>, u128) {
        let mut found: Vec<(Wish, usize, Group)> = Vec::new();
        for (number, kind) in self.kinds.iter().enumerate() {
            for (demand, group) in kind.planned.demands.list.iter().zip(&kind.planned.demands.groups) {
                let literals = group.literals.iter().map(|&(s, flip)| (kind.offset + s, flip)).collect();
                let group = Group { literals, weight: kind.copies };
                found.push((Wish::InBlock(number, *demand), class(*demand), group));
            }
        }
        let known: Vec<Option<Vec<Literal>>> = self.literals.iter().cloned().map(Some).collect();
        let between = demanded(&known);
        let pairs = between.first.into_iter().zip(between.groups);
        found.extend(pairs.map(|(meet, group)| (Wish::Between(meet), 0, group)));
        let mut counts = [0_u128; CLASSES];
        found.iter().for_each(|(_, class, group)| counts[*class] += group.weight);
        let weights = weights(&counts);
        let weighed = |(wish, class, group): (Wish, usize, Group)| {
            (wish, Group { weight: group.weight * weights[class], ..group })
        };
        let (wishes, groups) = found.into_iter().map(weighed).unzip();
        (wishes, groups, weights[0])
    }

    fn answer(self, most_steps: u64) -> BlockPlans {
        let (wishes, groups, nest) = self.wishes();
        let keys = self.keys();
        let classes: Vec<usize> = wishes.iter().map(Wish::class).collect();
        let given = least_in_order(&keys, &classes, &groups, most_steps);
        let mut parity = Parity::new(keys.len());
        for (i, group) in groups.iter().enumerate() {
            if given.broken.binary_search(&i).is_err() {
                parity.meet(&group.literals);
            }
        }
        let like: Vec<Vec<UnitId>> = self
            .kinds
            .iter()
            .map(|kind| {
                let bound = (&mut parity, kind.offset);
                alike::press_alike(kind.tree, &kind.planned.segments, kind.wishes.value, bound)
            })
            .collect();
        let turned = directions(&self.leanings(), &parity);
        let link = |&(direction, group): &(usize, usize)| (self.party(direction), self.demand(wishes[group]));
        let conflicts = given.cycles.iter().map(|c| PlanConflict { links: c.iter().map(link).collect() }).collect();
        let side = |right: &bool| if *right { Side::Right } else { Side::Left };
        let rows = turned[self.rows_from..].iter().map(side).collect();
        let at_least = usize::try_from(given.at_least / nest).unwrap_or(usize::MAX);
        let (pressings, found) = self.report(&turned, like);
        BlockPlans { pressings, rows, unnested: Count { at_least, found }, conflicts, steps: given.steps }
    }

    /// The pressing of each block, and at how many points of the top seams do not nest.
    fn report(self, turned: &[bool], like: Vec<Vec<UnitId>>) -> (BTreeMap<BlockId, Pressing>, usize) {
        let mut held = vec![false; turned.len()];
        let mut unnested = 0;
        for literals in &self.literals {
            if agree(literals, turned) {
                literals.iter().for_each(|literal| held[literal.0] = true);
            } else {
                unnested += 1;
            }
        }
        let mut pressings = BTreeMap::new();
        for (kind, like) in self.kinds.into_iter().zip(like) {
            let own = kind.offset..kind.offset + kind.planned.segments.list.len();
            let (left, held) = (turned[own.clone()].to_vec(), &held[own]);
            let pressing = kind.planned.report(kind.tree, like, left, held, &kind.wishes);
            unnested += pressing.unnested.found * usize::try_from(kind.copies).unwrap_or(usize::MAX);
            pressings.insert(kind.id, pressing);
        }
        (pressings, unnested)
    }

    /// What names each direction whatever way the top is turned.
    fn keys(&self) -> Vec<(usize, crate::PatchSet, crate::PatchSet, usize)> {
        let of_kind = |(number, kind): (usize, &Kind<'_>)| {
            let patches = |segment: &crate::pressing::Segment| {
                let (low, high) = segment.patches();
                (number, low, high, 0)
            };
            kind.planned.segments.list.iter().map(patches).collect::<Vec<_>>()
        };
        let mut keys: Vec<_> = self.kinds.iter().enumerate().flat_map(of_kind).collect();
        keys.extend((0..self.rows).map(|row| (usize::MAX, crate::PatchSet::EMPTY, crate::PatchSet::EMPTY, row)));
        keys
    }

    fn leanings(&self) -> Vec<Leaning> {
        let of_kind = |(number, kind): (usize, &Kind<'_>)| {
            let list = &kind.planned.segments.list;
            list.iter().map(|s| Leaning::of_segment(number, s, kind.wishes.value)).collect::<Vec<_>>()
        };
        let blocks = self.kinds.iter().enumerate().flat_map(of_kind);
        blocks.chain((0..self.rows).map(Leaning::of_row)).collect()
    }

    fn party(&self, direction: usize) -> PlanParty {
        match direction.checked_sub(self.rows_from) {
            Some(row) => PlanParty::RowSeams(u16::try_from(row).unwrap_or(u16::MAX)),
            None => {
                let after = self.kinds.partition_point(|kind| kind.offset <= direction);
                let kind = &self.kinds[after - 1];
                PlanParty::Segment(kind.id, direction - kind.offset)
            }
        }
    }

    fn demand(&self, wish: Wish) -> PlanDemand {
        match wish {
            Wish::InBlock(kind, demand) => PlanDemand::InBlock(self.kinds[kind].id, demand),
            Wish::Between(meet) => PlanDemand::Between(self.meets[meet].at.clone(), self.meets[meet].seam),
        }
    }
}

impl Wish {
    const fn class(&self) -> usize {
        match self {
            Self::InBlock(_, demand) => class(*demand),
            Self::Between(_) => 0,
        }
    }
}
