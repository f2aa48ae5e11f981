//! Which seams must turn alike: groups of directions that are bound to each other, and the odd cycles that keep them
//! from being met all at once.
//!
//! A *group* says of some directions that, each perhaps turned over, they are equal. Groups and directions are the two
//! kinds of node of one graph; all groups can be met at once exactly when no cycle of it turns over an odd number of
//! directions.

use std::collections::VecDeque;

use rustc_hash::FxHashMap;

/// A direction as a group takes it: as it is, or turned over.
pub(crate) type Literal = (usize, bool);

/// Directions that should all be equal, and what it costs if they are not.
#[derive(Debug, Clone)]
pub(crate) struct Group {
    pub(crate) literals: Vec<Literal>,
    pub(crate) weight: u128,
}

/// An odd cycle: each direction is held by the group beside it and by the one before; the first one by the last.
pub(crate) type Cycle = Vec<(usize, usize)>;

/// Directions that are known to be equal or opposite, as sets.
#[derive(Debug, Clone)]
pub(crate) struct Parity {
    parent: Vec<usize>,
    /// Whether the direction is opposite to its parent's.
    odd: Vec<bool>,
    size: Vec<usize>,
}

impl Parity {
    pub(crate) fn new(count: usize) -> Self {
        Self { parent: (0..count).collect(), odd: vec![false; count], size: vec![1; count] }
    }

    /// The set's root, and whether the direction is opposite to the root's.
    pub(crate) fn find(&self, mut at: usize) -> (usize, bool) {
        let mut odd = false;
        while self.parent[at] != at {
            odd ^= self.odd[at];
            at = self.parent[at];
        }
        (at, odd)
    }

    /// Makes the directions equal (or opposite, if `odd`); false, and nothing done, if they cannot be.
    pub(crate) fn join(&mut self, a: usize, b: usize, odd: bool) -> bool {
        let ((root_a, odd_a), (root_b, odd_b)) = (self.find(a), self.find(b));
        let turned = odd_a ^ odd_b ^ odd;
        if root_a == root_b {
            return !turned;
        }
        // The smaller set goes below the larger, so that no path is longer than the logarithm of their number.
        let (low, high) = if self.size[root_a] < self.size[root_b] { (root_a, root_b) } else { (root_b, root_a) };
        self.parent[low] = high;
        self.odd[low] = turned;
        self.size[high] += self.size[low];
        true
    }

    /// Meets a whole group; false, and nothing done, if it cannot be met.
    pub(crate) fn meet(&mut self, group: &[Literal]) -> bool {
        let mut wanted: Vec<(usize, bool)> = group
            .iter()
            .map(|&(direction, flip)| {
                let (root, odd) = self.find(direction);
                (root, odd ^ flip)
            })
            .collect();
        wanted.sort_unstable();
        wanted.dedup();
        if wanted.windows(2).any(|pair| pair[0].0 == pair[1].0) {
            return false;
        }
        wanted.windows(2).all(|pair| self.join(pair[0].0, pair[1].0, pair[0].1 ^ pair[1].1))
    }
}

/// The graph of directions and groups.
#[derive(Debug)]
pub(crate) struct Ties {
    pub(crate) groups: Vec<Group>,
    /// The groups that hold each direction.
    holds: Vec<Vec<(usize, bool)>>,
}

/// The forest that a walk through the graph leaves behind. Nodes are directions, then groups.
struct Forest {
    /// Value and depth of each node that was reached.
    seen: Vec<Option<(bool, u32)>>,
    parent: Vec<usize>,
}

/// How far a shorter cycle is looked for.
const NEAR: usize = 3_000;

impl Ties {
    pub(crate) fn new(directions: usize, groups: Vec<Group>) -> Self {
        let mut holds = vec![Vec::new(); directions];
        for (i, group) in groups.iter().enumerate() {
            for &(direction, flip) in &group.literals {
                holds[direction].push((i, flip));
            }
        }
        Self { groups, holds }
    }

    pub(crate) const fn directions(&self) -> usize {
        self.holds.len()
    }

    /// The nodes beside `node`.
    fn beside(&self, node: usize) -> impl Iterator<Item = (usize, bool)> + '_ {
        let shift = self.holds.len();
        let (held, holders) = match node.checked_sub(shift) {
            Some(group) => (self.groups[group].literals.as_slice(), [].as_slice()),
            None => ([].as_slice(), self.holds[node].as_slice()),
        };
        held.iter().copied().chain(holders.iter().map(move |&(group, flip)| (group + shift, flip)))
    }

    fn is_active(&self, node: usize, active: &[bool]) -> bool {
        node.checked_sub(self.holds.len()).is_none_or(|group| active[group])
    }

    /// Walks the graph of active groups and hands every odd cycle it comes upon to `found`, which may make groups
    /// inactive; a cycle through such a group is passed over. If no cycle is handed over there is none.
    pub(crate) fn odd_cycles(
        &self,
        active: &mut [bool],
        steps: &mut u64,
        mut found: impl FnMut(Cycle, &mut [bool]) -> bool,
    ) {
        let nodes = self.holds.len() + self.groups.len();
        let mut forest = Forest { seen: vec![None; nodes], parent: vec![usize::MAX; nodes] };
        let mut open = VecDeque::new();
        for root in 0..self.holds.len() {
            if forest.seen[root].is_some() {
                continue;
            }
            forest.seen[root] = Some((false, 0));
            open.push_back(root);
            while let Some(node) = open.pop_front() {
                let Some((value, depth)) = forest.seen[node] else { continue };
                for (next, flip) in self.beside(node) {
                    *steps += 1;
                    if !self.is_active(next, active) || !self.is_active(node, active) {
                        continue;
                    }
                    match forest.seen[next] {
                        None => {
                            forest.seen[next] = Some((value ^ flip, depth + 1));
                            forest.parent[next] = node;
                            open.push_back(next);
                        }
                        Some((other, _)) if other == value ^ flip => {}
                        Some(_) => {
                            let Some(cycle) = self.cycle(&forest, node, next, active, steps) else { continue };
                            if !found(cycle, active) {
                                return;
                            }
                        }
                    }
                }
            }
        }
    }

    /// The cycle that the edge from `a` to `b` closes, or a shorter one near it; none if it runs through a group that
    /// is no longer active.
    fn cycle(&self, forest: &Forest, a: usize, b: usize, active: &[bool], steps: &mut u64) -> Option<Cycle> {
        let (mut up, mut down) = (vec![a], vec![b]);
        let depth = |node: usize| forest.seen[node].map_or(0, |seen| seen.1);
        let (mut left, mut right) = (a, b);
        while left != right {
            *steps += 1;
            if depth(left) >= depth(right) {
                left = forest.parent[left];
                up.push(left);
            } else {
                right = forest.parent[right];
                down.push(right);
            }
        }
        // Both lists end in the common node.
        if up.last() == down.last() {
            down.pop();
        }
        down.reverse();
        up.append(&mut down);
        let walk = up;
        if !walk.iter().all(|&node| self.is_active(node, active)) {
            return None;
        }
        let group = if a >= self.holds.len() { a } else { b };
        let shorter = (walk.len() > 2).then(|| self.near(group, walk.len(), active, steps)).flatten();
        Some(self.as_cycle(&shorter.unwrap_or(walk)))
    }

    /// A shortest odd walk from a group back to itself, made simple; none if it is not found near by.
    fn near(&self, group: usize, shorter_than: usize, active: &[bool], steps: &mut u64) -> Option<Vec<usize>> {
        type State = (usize, bool);
        let start: State = (group, false);
        let mut from: FxHashMap<State, (State, usize)> = FxHashMap::default();
        from.insert(start, (start, 0));
        let mut open = VecDeque::from([start]);
        while let Some(state) = open.pop_front() {
            let depth = from.get(&state)?.1;
            if depth + 1 >= shorter_than || from.len() > NEAR {
                return None;
            }
            for (next, flip) in self.beside(state.0) {
                *steps += 1;
                let reached = (next, state.1 ^ flip);
                if !self.is_active(next, active) || from.contains_key(&reached) {
                    continue;
                }
                from.insert(reached, (state, depth + 1));
                if reached == (group, true) {
                    let back = |s: &State| from.get(s).map(|f| f.0).filter(|before| before != s);
                    let walk: Vec<State> = std::iter::successors(Some(reached), back).collect();
                    return simple(&walk);
                }
                open.push_back(reached);
            }
        }
        None
    }

    /// A closed walk through directions and groups in turn, as a cycle that begins with a direction.
    fn as_cycle(&self, walk: &[usize]) -> Cycle {
        let first = usize::from(walk.first().is_some_and(|&node| node >= self.holds.len()));
        let at = |i: usize| walk[(first + i) % walk.len()];
        (0..walk.len() / 2).map(|i| (at(2 * i), at(2 * i + 1) - self.holds.len())).collect()
    }
}

/// An odd cycle without repeated nodes within a closed odd walk, whose first and last node are the same.
fn simple(walk: &[(usize, bool)]) -> Option<Vec<usize>> {
    let mut kept: Vec<(usize, bool)> = Vec::new();
    for &(node, value) in walk {
        let Some(before) = kept.iter().position(|k| k.0 == node) else {
            kept.push((node, value));
            continue;
        };
        if kept[before].1 != value {
            return Some(kept[before..].iter().map(|k| k.0).collect());
        }
        // A detour that turns nothing over is left out.
        kept.truncate(before + 1);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_group_that_cannot_be_met_leaves_nothing_behind() {
        let mut parity = Parity::new(4);
        assert!(parity.meet(&[(2, false), (3, true)]));
        assert!(!parity.meet(&[(0, false), (1, false), (2, false), (3, false)]));
        // Neither 0 and 1 nor 1 and 2 were bound by it.
        assert!(parity.meet(&[(0, false), (1, true)]) && parity.meet(&[(1, true), (2, false)]));
        // 0 and 1 are opposite, 1 and 2, and 2 and 3: so are 0 and 3.
        assert!(parity.find(0).1 ^ parity.find(3).1);
    }
}
