//! How symmetric one arrangement is, in plain words.

use std::collections::BTreeSet;

use super::group::{Element, Group, Identified, Turning};
use super::motif::{Motif, Wrap};
use super::states::{BlockStates, Exchange, StateId};

/// The symmetries of one arrangement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Symmetry {
    /// How many turns keep it, turn 0 included: 1, 2 (half turns) or 4 (quarter turns).
    pub turns: u8,
    /// In how many directions, level and upright, it has a mirror line.
    pub straight_mirrors: u8,
    /// In how many of the two diagonal directions it has a mirror line.
    pub diagonal_mirrors: u8,
    /// In how many directions a mirror image must be moved on along the mirror line to fit: a glide.
    pub glides: u8,
    /// Whether a turn, mirror or shift makes of it the same with dark and light exchanged.
    pub exchanges: bool,
    /// How many turns, mirrors and shifts of the motif keep it, with and without exchange, the one that changes
    /// nothing included.
    pub order: u16,
}

impl Symmetry {
    /// The words for it, such as "half turn" or "quarter turns, mirrors and diagonal mirrors".
    #[must_use]
    pub fn words(self) -> String {
        let turn = [(2, "half turn"), (4, "quarter turns")].into_iter().find(|(turns, _)| *turns == self.turns);
        let plural = |count: u8, one: &'static str, more: &'static str| match count {
            0 => None,
            1 => Some(one),
            _ => Some(more),
        };
        let parts: Vec<&str> = [
            turn.map(|(_, words)| words),
            plural(self.straight_mirrors, "mirror", "mirrors"),
            plural(self.diagonal_mirrors, "diagonal mirror", "diagonal mirrors"),
            plural(self.glides, "mirror with a step", "mirrors with a step"),
        ]
        .into_iter()
        .flatten()
        .collect();
        let Some((last, before)) = parts.split_last() else {
            return if self.exchanges { "only with dark and light exchanged" } else { "no symmetry" }.to_owned();
        };
        let plain = if before.is_empty() { (*last).to_owned() } else { format!("{} and {last}", before.join(", ")) };
        if self.exchanges { format!("{plain}, more with dark and light exchanged") } else { plain }
    }
}

/// Finds the symmetries of arrangements of one motif.
#[derive(Debug, Clone)]
pub(super) struct SymmetryFinder {
    group: Group,
}

/// The direction of a mirror line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Line {
    Upright,
    Level,
    Rising,
    Falling,
}

impl SymmetryFinder {
    pub(super) fn new(block: &BlockStates, motif: Motif) -> Self {
        // What the reader takes for the same does not matter here: all symmetries are looked for.
        let all = Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Colours, shifts: true };
        Self { group: Group::new(block, motif, all) }
    }

    /// The symmetries of the arrangement with these states.
    pub(super) fn of(&self, states: &[StateId]) -> Symmetry {
        let (mut turns, mut mirrors, mut glides) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
        let (mut exchanges, mut order) = (false, 0);
        for element in self.group.elements().iter().filter(|element| element.keeps(states)) {
            order += 1;
            match element.exchange {
                Exchange::Colours => exchanges = true,
                Exchange::Nothing if element.mirrored => {
                    let line = line(element);
                    let lines = if is_mirror(element, self.group.motif()) { &mut mirrors } else { &mut glides };
                    lines.insert(line);
                }
                Exchange::Nothing => {
                    turns.insert(element.turn);
                }
            }
        }
        let count =
            |lines: &BTreeSet<Line>, wanted: [Line; 2]| wanted.iter().map(|line| u8::from(lines.contains(line))).sum();
        glides.retain(|line| !mirrors.contains(line));
        Symmetry {
            turns: if turns.contains(&1) { 4 } else { 1 + u8::from(turns.contains(&2)) },
            straight_mirrors: count(&mirrors, [Line::Upright, Line::Level]),
            diagonal_mirrors: count(&mirrors, [Line::Rising, Line::Falling]),
            glides: count(&glides, [Line::Upright, Line::Level]) + count(&glides, [Line::Rising, Line::Falling]),
            exchanges,
            order,
        }
    }
}

/// Whether a mirrored symmetry leaves a line where it is, and does not move it along itself.
pub(super) fn is_mirror(element: &Element, motif: Motif) -> bool {
    if motif.wrap() == Wrap::Alone {
        return true;
    }
    let (down, right) = element.shift;
    match line(element) {
        Line::Upright => down == 0,
        Line::Level => right == 0,
        // Cells on a diagonal line keep the sum, or the difference, of row and column but for the shift along it.
        // The motif is a square here, and a shift by its side is none.
        Line::Rising => down == right,
        Line::Falling => (down + right) % motif.rows() == 0,
    }
}

/// The line in which an element mirrors: left for right, then turned.
const fn line(element: &Element) -> Line {
    match element.turn {
        0 => Line::Upright,
        1 => Line::Falling,
        2 => Line::Level,
        _ => Line::Rising,
    }
}
