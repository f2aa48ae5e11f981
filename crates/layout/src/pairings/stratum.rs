//! The symmetric part of a list: all fillings that one kind of symmetry keeps, made without walking through the rest.
//!
//! A filling is kept by a symmetry when it is kept on every cycle of cells that the symmetry moves round, so one cell of
//! each cycle says all: a 4 × 4 motif of eight states has 2⁴⁸ fillings, and 4096 that a quarter turn keeps.

use super::browse::Browser;
use super::group::{Element, Group, Identified, Turning};
use super::motif::Motif;
use super::states::{BlockStates, Exchange, StateId};
use super::symmetry::is_mirror;

/// A kind of symmetry to ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kept {
    /// Half a turn keeps it.
    ByHalfTurn,
    /// A quarter turn keeps it.
    ByQuarterTurn,
    /// A mirror left for right, or top for bottom, keeps it.
    ByMirror,
    /// A mirror in a diagonal keeps it.
    ByDiagonalMirror,
}

impl Kept {
    /// All kinds.
    pub const ALL: [Self; 4] = [Self::ByHalfTurn, Self::ByQuarterTurn, Self::ByMirror, Self::ByDiagonalMirror];

    fn admits(self, element: &Element, motif: Motif) -> bool {
        let turns: &[u8] = match self {
            Self::ByHalfTurn => &[2],
            Self::ByQuarterTurn => &[1],
            Self::ByMirror => &[0, 2],
            Self::ByDiagonalMirror => &[1, 3],
        };
        let mirrored = matches!(self, Self::ByMirror | Self::ByDiagonalMirror);
        element.mirrored == mirrored && turns.contains(&element.turn) && (!mirrored || is_mirror(element, motif))
    }
}

/// All fillings that some symmetry of one kind keeps; some may be of one class.
#[derive(Debug, Clone)]
pub struct Stratum {
    motif: Motif,
    parts: Vec<Part>,
}

/// The fillings that one symmetry keeps.
#[derive(Debug, Clone)]
struct Part {
    cycles: Vec<Cycle>,
    count: u128,
}

/// Cells that a symmetry moves round, and the ways to fill them.
#[derive(Debug, Clone)]
struct Cycle {
    cells: Vec<usize>,
    /// For each way, the states of the cells in order.
    ways: Vec<Vec<StateId>>,
}

impl Stratum {
    /// The fillings of the list of `browser`, of states of `block`, that are kept like this.
    #[must_use]
    pub fn new(block: &BlockStates, browser: &Browser, kept: Kept) -> Self {
        let motif = browser.group().motif();
        let all = Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Nothing, shifts: true };
        let mut wanted: Vec<Element> = Vec::new();
        for element in Group::new(block, motif, all).elements().iter().filter(|e| kept.admits(e, motif)) {
            // What is kept by one symmetry is carried, by a symmetry of the list, to what is kept by its like.
            let mut likes = browser.group().elements().iter().map(|by| element.seen_from(by));
            if !likes.any(|like| wanted.iter().any(|e| (&e.cells, &e.states) == (&like.0, &like.1))) {
                wanted.push(element.clone());
            }
        }
        Self { motif, parts: wanted.iter().map(Part::new).collect() }
    }

    /// How many fillings there are; those that several symmetries keep count for each.
    #[must_use]
    pub fn count(&self) -> u128 {
        self.parts.iter().map(|part| part.count).sum()
    }

    /// The states of filling `number`, counted from 0; `None` beyond the last.
    #[must_use]
    pub fn filling(&self, mut number: u128) -> Option<Vec<StateId>> {
        for part in &self.parts {
            if number < part.count {
                let mut states = vec![StateId(0); self.motif.cells()];
                for cycle in &part.cycles {
                    let ways = u128::try_from(cycle.ways.len()).ok()?;
                    let way = cycle.ways.get(usize::try_from(number % ways).ok()?)?;
                    number /= ways;
                    for (cell, state) in cycle.cells.iter().zip(way) {
                        states[*cell] = *state;
                    }
                }
                return Some(states);
            }
            number -= part.count;
        }
        None
    }
}

impl Part {
    fn new(element: &Element) -> Self {
        let mut seen = vec![false; element.cells.len()];
        let mut cycles = Vec::new();
        for start in 0..element.cells.len() {
            let (mut cells, mut cell) = (Vec::new(), start);
            while !std::mem::replace(&mut seen[cell], true) {
                cells.push(cell);
                cell = element.cells[cell];
            }
            if !cells.is_empty() {
                cycles.push(Cycle { ways: ways(element, cells.len()), cells });
            }
        }
        // Fewer than the fillings of the list, which fit a `u128`.
        let count = cycles
            .iter()
            .map(|cycle| cycle.ways.len())
            .fold(1_u128, |product, ways| product.saturating_mul(u128::try_from(ways).unwrap_or(u128::MAX)));
        Self { cycles, count }
    }
}

/// The ways to fill a cycle of so many cells: each state that comes back to itself, with what it becomes on the way.
fn ways(element: &Element, length: usize) -> Vec<Vec<StateId>> {
    let next = |state: StateId| element.states[usize::from(state.0)];
    let all = (0..).map(StateId).take(element.states.len());
    let round = |start: StateId| {
        let way: Vec<StateId> = std::iter::successors(Some(start), |state| Some(next(*state))).take(length).collect();
        way.last().is_some_and(|last| next(*last) == start).then_some(way)
    };
    all.filter_map(round).collect()
}
