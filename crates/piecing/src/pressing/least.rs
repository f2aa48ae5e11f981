//! The least that must be given up: of weighted groups of which not all can be met, those to break.
//!
//! *Bound*: odd cycles are taken out one by one, each with the least weight left on it; what they take adds up to a
//! weight below which no answer goes. *Answer*: the groups that were used up, those that can be met after all put back.
//! Where the two differ, one group of some odd cycle after another is broken in turn, until nothing better can be or
//! the steps run out. Parts of the graph that hold no direction in common are answered apart.

use crate::pressing::parity::{Cycle, Group, Parity, Ties};

/// What to give up.
#[derive(Debug, Clone, Default)]
pub(crate) struct Given {
    /// Groups that are broken, in order.
    pub(crate) broken: Vec<usize>,
    /// Their weight.
    pub(crate) cost: u128,
    /// A weight below which no answer goes.
    pub(crate) at_least: u128,
    /// Odd cycles that prove it, each given in directions and groups.
    pub(crate) cycles: Vec<Cycle>,
    /// Effort: how many edges of the graph were looked at.
    pub(crate) steps: u64,
}

/// Finds what to give up. `steps` bounds the effort after the first answer of each part.
pub(crate) fn least(directions: usize, groups: &[Group], steps: u64) -> Given {
    let mut whole = Given::default();
    for part in parts(directions, groups) {
        let mut search = Search::new(&part, groups);
        search.run(steps.saturating_sub(whole.steps));
        whole.broken.extend(search.best.iter().map(|&g| part.groups[g]));
        whole.cost += search.cost;
        whole.at_least += search.at_least;
        whole.steps += search.steps;
        let global = |cycle: &Cycle| cycle.iter().map(|&(d, g)| (part.directions[d], part.groups[g])).collect();
        whole.cycles.extend(search.cycles.iter().map(global));
    }
    whole.broken.sort_unstable();
    whole
}

/// Directions and groups that hang together.
struct Part {
    directions: Vec<usize>,
    groups: Vec<usize>,
}

/// The parts in order of their first group.
fn parts(directions: usize, groups: &[Group]) -> Vec<Part> {
    let mut sets = Parity::new(directions);
    for group in groups {
        for pair in group.literals.windows(2) {
            sets.join(pair[0].0, pair[1].0, false);
        }
    }
    let mut number = vec![usize::MAX; directions];
    let mut parts: Vec<Part> = Vec::new();
    for (i, group) in groups.iter().enumerate() {
        let Some(&(first, _)) = group.literals.first() else { continue };
        let root = sets.find(first).0;
        if number[root] == usize::MAX {
            number[root] = parts.len();
            parts.push(Part { directions: Vec::new(), groups: Vec::new() });
        }
        parts[number[root]].groups.push(i);
    }
    for direction in 0..directions {
        if let Some(part) = parts.get_mut(number[sets.find(direction).0]) {
            part.directions.push(direction);
        }
    }
    parts
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    Open,
    /// To be met: that it is broken was tried before.
    Kept,
    Broken,
}

/// The odd cycles taken out of the groups that are left.
struct Packing {
    /// Their weight; none when one of them holds only groups that are to be met.
    weight: Option<u128>,
    cycles: Vec<Cycle>,
    used_up: Vec<usize>,
}

struct Search {
    ties: Ties,
    best: Vec<usize>,
    cost: u128,
    at_least: u128,
    cycles: Vec<Cycle>,
    steps: u64,
    limit: u64,
}

impl Search {
    fn new(part: &Part, groups: &[Group]) -> Self {
        let local = |direction: usize| part.directions.partition_point(|&d| d < direction);
        let group = |&g: &usize| {
            let mut literals: Vec<_> = groups[g].literals.iter().map(|&(d, flip)| (local(d), flip)).collect();
            literals.sort_unstable();
            literals.dedup();
            Group { literals, weight: groups[g].weight }
        };
        let ties = Ties::new(part.directions.len(), part.groups.iter().map(group).collect());
        Self { ties, best: Vec::new(), cost: 0, at_least: 0, cycles: Vec::new(), steps: 0, limit: 0 }
    }

    fn run(&mut self, limit: u64) {
        let mut marks = vec![Mark::Open; self.ties.groups.len()];
        let packing = self.pack(&marks);
        self.at_least = packing.weight.unwrap_or(0);
        self.best = self.put_back(&packing.used_up);
        self.cost = self.best.iter().map(|&g| self.ties.groups[g].weight).sum();
        self.cycles = packing.cycles;
        if self.at_least < self.cost {
            self.limit = self.steps.saturating_add(limit);
            self.branch(&mut marks, 0);
            if self.steps < self.limit {
                self.at_least = self.cost;
            }
        }
        self.best.sort_unstable();
    }

    /// Takes odd cycles out of the groups that are not broken until none is left.
    fn pack(&mut self, marks: &[Mark]) -> Packing {
        let mut packing = Packing { weight: Some(0), cycles: Vec::new(), used_up: Vec::new() };
        let left = |(mark, group): (&Mark, &Group)| match mark {
            Mark::Open => group.weight,
            Mark::Kept => u128::MAX,
            Mark::Broken => 0,
        };
        let mut left: Vec<u128> = marks.iter().zip(&self.ties.groups).map(left).collect();
        let mut active: Vec<bool> = left.iter().map(|&w| w > 0).collect();
        loop {
            let before = packing.cycles.len();
            self.ties.odd_cycles(&mut active, &mut self.steps, |cycle, active| {
                let least = cycle.iter().map(|&(_, g)| left[g]).min().unwrap_or(u128::MAX);
                if least == u128::MAX {
                    packing.weight = None;
                    packing.cycles.push(cycle);
                    return false;
                }
                packing.weight = packing.weight.map(|w| w + least);
                for &(_, g) in &cycle {
                    if left[g] != u128::MAX {
                        left[g] -= least;
                        if left[g] == 0 && active[g] {
                            active[g] = false;
                            packing.used_up.push(g);
                        }
                    }
                }
                packing.cycles.push(cycle);
                true
            });
            if packing.weight.is_none() || packing.cycles.len() == before {
                return packing;
            }
        }
    }

    /// Of groups that were used up, those that have to stay broken when the others are met again, heavy ones first.
    fn put_back(&self, used_up: &[usize]) -> Vec<usize> {
        let mut out = vec![false; self.ties.groups.len()];
        used_up.iter().for_each(|&g| out[g] = true);
        let mut parity = Parity::new(self.ties.directions());
        for (group, _) in self.ties.groups.iter().zip(&out).filter(|(_, out)| !**out) {
            parity.meet(&group.literals);
        }
        let mut order: Vec<usize> = used_up.to_vec();
        order.reverse();
        order.sort_by_key(|&g| std::cmp::Reverse(self.ties.groups[g].weight));
        order.retain(|&g| !parity.meet(&self.ties.groups[g].literals));
        order
    }

    /// Breaks the groups of one odd cycle in turn.
    fn branch(&mut self, marks: &mut [Mark], cost: u128) {
        if self.steps >= self.limit {
            return;
        }
        let packing = self.pack(marks);
        let Some(weight) = packing.weight else { return };
        if cost + weight >= self.cost {
            return;
        }
        let free = |cycle: &Cycle| cycle.iter().filter(|(_, g)| marks[*g] == Mark::Open).count();
        let Some(cycle) = packing.cycles.iter().min_by_key(|cycle| free(cycle)) else {
            self.cost = cost;
            self.best = (0..marks.len()).filter(|&g| marks[g] == Mark::Broken).collect();
            return;
        };
        let mut choices: Vec<usize> = cycle.iter().map(|c| c.1).filter(|&g| marks[g] == Mark::Open).collect();
        choices.sort_unstable();
        choices.sort_by_key(|&g| self.ties.groups[g].weight);
        for &g in &choices {
            marks[g] = Mark::Broken;
            self.branch(marks, cost + self.ties.groups[g].weight);
            marks[g] = Mark::Kept;
        }
        for g in choices {
            marks[g] = Mark::Open;
        }
    }
}
