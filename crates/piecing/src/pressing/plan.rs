//! From the segments of a tree to the directions in which they are pressed.

use crate::pressing::least::{Given, least};
use crate::pressing::parity::{Group, Literal, Parity};
use crate::pressing::prefer::Leaning;
use crate::pressing::segments::{Crossing, Segment, Segments};
use crate::pressing::{Conflict, Count, Demand, Meeting, Pressing, PressingWishes, Toward, alike, bulk, prefer};
use crate::tree::{SeamTree, UnitId};

/// The demands in the order of their weight: a whole class of them weighs less than one of the class before.
pub(crate) const CLASSES: usize = 4;

/// The wishes of one block as groups of directions.
pub(crate) struct Demands {
    pub(crate) list: Vec<Demand>,
    pub(crate) groups: Vec<Group>,
    /// Weight of one demand of each class.
    weights: [u128; CLASSES],
}

pub(crate) const fn class(demand: Demand) -> usize {
    match demand {
        Demand::Nest(_) => 0,
        Demand::Spin(_) => 1,
        Demand::NoRelease(_) => 2,
        Demand::Outline(_) => 3,
    }
}

pub(crate) fn press(tree: &SeamTree, wishes: &PressingWishes<'_>) -> Pressing {
    let planned = Planned::new(tree, wishes);
    let mut parity = Parity::new(planned.segments.list.len());
    for (i, group) in planned.demands.groups.iter().enumerate() {
        if planned.alone.broken.binary_search(&i).is_err() {
            parity.meet(&group.literals);
        }
    }
    let like = alike::press_alike(tree, &planned.segments, wishes.value, (&mut parity, 0));
    let leanings: Vec<Leaning> =
        planned.segments.list.iter().map(|segment| Leaning::of_segment(0, segment, wishes.value)).collect();
    let left = prefer::directions(&leanings, &parity);
    let held = vec![false; left.len()];
    planned.report(tree, like, left, &held, wishes)
}

/// A block with what is demanded of its directions, and what has to be given up if it is pressed for itself.
pub(crate) struct Planned {
    pub(crate) segments: Segments,
    pub(crate) demands: Demands,
    alone: Given,
}

impl Planned {
    pub(crate) fn new(tree: &SeamTree, wishes: &PressingWishes<'_>) -> Self {
        let segments = Segments::of(tree);
        let demands = demands(tree, &segments, wishes);
        let alone = give_up(&segments, &demands, wishes.most_steps);
        Self { segments, demands, alone }
    }

    /// The pressing with these directions; segments that are `held` are not pressed open.
    pub(crate) fn report(
        self,
        tree: &SeamTree,
        like: Vec<UnitId>,
        left: Vec<bool>,
        held: &[bool],
        wishes: &PressingWishes<'_>,
    ) -> Pressing {
        let toward = with_open(&self.segments, &left, held, wishes);
        report(tree, self.segments, &self.demands, &self.alone, Pressed { left, toward, like }, wishes)
    }
}

/// The least to give up in a block by itself.
fn give_up(segments: &Segments, demands: &Demands, most_steps: u64) -> Given {
    let keys: Vec<_> = segments.list.iter().map(Segment::patches).collect();
    let classes: Vec<usize> = demands.list.iter().map(|demand| class(*demand)).collect();
    least_in_order(&keys, &classes, &demands.groups, most_steps)
}

/// The least to give up. Of answers that are as good, which one is found depends on the order of directions and groups:
/// they are put in the order of `keys` and `classes`, so that it is the same in a block that is turned or mirrored.
pub(crate) fn least_in_order<K: Ord>(keys: &[K], classes: &[usize], groups: &[Group], most_steps: u64) -> Given {
    let mut ordered: Vec<usize> = (0..keys.len()).collect();
    ordered.sort_by_key(|&direction| &keys[direction]);
    let mut rank = vec![0; ordered.len()];
    ordered.iter().enumerate().for_each(|(to, &from)| rank[from] = to);
    let ranked = |group: &Group| {
        let mut literals: Vec<Literal> = group.literals.iter().map(|&(s, flip)| (rank[s], flip)).collect();
        literals.sort_unstable();
        Group { literals, weight: group.weight }
    };
    let mut groups: Vec<(usize, Group)> = groups.iter().map(ranked).enumerate().collect();
    groups.sort_by_cached_key(|(i, group)| {
        (classes[*i], group.literals.iter().map(|literal| literal.0).collect::<Vec<_>>())
    });
    let (numbers, groups): (Vec<usize>, Vec<Group>) = groups.into_iter().unzip();
    let mut given = least(ordered.len(), &groups, most_steps);
    given.broken.iter_mut().for_each(|g| *g = numbers[*g]);
    given.broken.sort_unstable();
    for (direction, group) in given.cycles.iter_mut().flatten() {
        (*direction, *group) = (ordered[*direction], numbers[*group]);
    }
    given
}

/// What was decided.
struct Pressed {
    left: Vec<bool>,
    toward: Vec<Toward>,
    like: Vec<UnitId>,
}

fn demands(tree: &SeamTree, segments: &Segments, wishes: &PressingWishes<'_>) -> Demands {
    let mut found: Vec<(Demand, Vec<Literal>)> = Vec::new();
    for (i, crossing) in segments.crossings.iter().enumerate() {
        found.push((Demand::Nest(i), crossing.rays.clone()));
        if let Some((before, after)) = crossing.through {
            found.push((Demand::NoRelease(i), vec![(before, false), (after, false)]));
        }
        if is_crowded(crossing, wishes) {
            found.push((Demand::Spin(i), all_round(crossing)));
        }
    }
    if wishes.ready_at_outline {
        let points = segments.outline_points(tree.graph());
        found.extend(points.into_iter().map(|p| (Demand::Outline(p), segments.rays(p))).filter(|d| d.1.len() > 1));
    }
    let mut counts = [0_u128; CLASSES];
    found.iter().for_each(|(demand, _)| counts[class(*demand)] += 1);
    let weights = weights(&counts);
    let groups = found
        .iter()
        .map(|(demand, literals)| Group { literals: literals.clone(), weight: weights[class(*demand)] })
        .collect();
    Demands { list: found.into_iter().map(|d| d.0).collect(), groups, weights }
}

/// Weights of a demand of each class: more than all demands of the classes after it.
pub(crate) fn weights(counts: &[u128; CLASSES]) -> [u128; CLASSES] {
    let mut weights = [1_u128; CLASSES];
    for k in (0..CLASSES - 1).rev() {
        weights[k] = weights[k + 1] * (counts[k + 1] + 1);
    }
    weights
}

/// Whether so many patches meet at a crossing that its seams should be pressed one way round.
fn is_crowded(crossing: &Crossing, wishes: &PressingWishes<'_>) -> bool {
    crossing.through.is_some() && crossing.rays.len() + 2 >= wishes.spin_from
}

/// All seams about a crossing that the seam runs through, itself included.
fn all_round(crossing: &Crossing) -> Vec<Literal> {
    let through = crossing.through.into_iter().flat_map(|(before, after)| [(before, true), (after, false)]);
    crossing.rays.iter().copied().chain(through).collect()
}

pub(crate) fn agree(literals: &[Literal], left: &[bool]) -> bool {
    let turned = |&(segment, flip): &Literal| left[segment] ^ flip;
    literals.windows(2).all(|pair| turned(&pair[0]) == turned(&pair[1]))
}

/// Directions, those pressed open that nest nowhere: seams that run on unreleased are opened together, when some of the
/// meetings that they take part in do not nest and none does; never those that are `held` by something else.
fn with_open(segments: &Segments, left: &[bool], held: &[bool], wishes: &PressingWishes<'_>) -> Vec<Toward> {
    let mut runs = Parity::new(left.len());
    let unreleased = |&(before, after): &(usize, usize)| left[before] == left[after];
    for (before, after) in segments.crossings.iter().filter_map(|c| c.through).filter(unreleased) {
        runs.join(before, after, false);
    }
    let (mut holds, mut fails) = (vec![false; left.len()], vec![false; left.len()]);
    (0..left.len()).filter(|&segment| held[segment]).for_each(|segment| holds[runs.find(segment).0] = true);
    for crossing in &segments.crossings {
        let met = if agree(&crossing.rays, left) { &mut holds } else { &mut fails };
        crossing.rays.iter().for_each(|ray| met[runs.find(ray.0).0] = true);
        let round = all_round(crossing);
        if is_crowded(crossing, wishes) && agree(&round, left) {
            round.iter().for_each(|ray| holds[runs.find(ray.0).0] = true);
        }
    }
    let toward = |(segment, &left): (usize, &bool)| {
        let run = runs.find(segment).0;
        match (fails[run] && !holds[run], left) {
            (true, _) => Toward::Open,
            (false, true) => Toward::Left,
            (false, false) => Toward::Right,
        }
    };
    left.iter().enumerate().map(toward).collect()
}

/// The most layers at each point.
pub(crate) fn layers(tree: &SeamTree, segments: &Segments, toward: &[Toward]) -> Vec<usize> {
    let graph = tree.graph();
    (0..graph.points().len()).map(|point| bulk::layers(graph, segments, toward, point)).collect()
}

fn report(
    tree: &SeamTree,
    segments: Segments,
    demands: &Demands,
    given: &Given,
    pressed: Pressed,
    wishes: &PressingWishes<'_>,
) -> Pressing {
    let meetings: Vec<Meeting> = segments.crossings.iter().map(|crossing| meeting(crossing, &pressed)).collect();
    let unspun = segments.crossings.iter().zip(&meetings).filter(|(c, m)| is_crowded(c, wishes) && !m.spins).count();
    let found =
        [meetings.iter().filter(|m| !m.nested).count(), unspun, meetings.iter().filter(|m| m.released).count(), 0];
    let at_least = at_least(given.at_least, &demands.weights, &found);
    let count = |k: usize| Count { at_least: at_least[k], found: found[k] };
    let mut conflicts: Vec<Conflict> = given
        .cycles
        .iter()
        .map(|cycle| Conflict { links: cycle.iter().map(|&(s, g)| (s, demands.list[g])).collect() })
        .collect();
    conflicts.sort_by_key(|conflict| !conflict.is_about_nesting());
    Pressing {
        layers: layers(tree, &segments, &pressed.toward),
        meetings,
        unnested: count(0),
        unspun: count(1),
        releases: count(2),
        conflicts,
        steps: given.steps,
        segments: segments.list,
        toward: pressed.toward,
        like: pressed.like,
    }
}

fn meeting(crossing: &Crossing, pressed: &Pressed) -> Meeting {
    let mut ends: Vec<usize> = crossing.rays.iter().map(|ray| ray.0).collect();
    ends.sort_unstable();
    ends.dedup();
    let nested = agree(&crossing.rays, &pressed.left);
    let sides = crossing.through.map(|(before, after)| (pressed.toward[before], pressed.toward[after]));
    Meeting {
        unit: crossing.unit,
        seam: crossing.seam,
        point: crossing.point,
        segments: ends,
        nested,
        spins: nested
            && sides.is_some_and(|(before, after)| before != Toward::Open && after != Toward::Open)
            && agree(&all_round(crossing), &pressed.left),
        released: sides.is_some_and(|(before, after)| before != after),
    }
}

/// What a bound on the whole weight says of each class. A class is only spoken of when those before are settled.
fn at_least(mut weight: u128, weights: &[u128; CLASSES], found: &[usize; CLASSES]) -> [usize; CLASSES] {
    let mut bounds = [0; CLASSES];
    for k in 0..CLASSES - 1 {
        bounds[k] = usize::try_from(weight / weights[k]).unwrap_or(usize::MAX);
        weight %= weights[k];
        if bounds[k] != found[k] {
            break;
        }
    }
    bounds
}
