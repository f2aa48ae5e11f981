//! The turns, mirrors, shifts and exchanges of colour under which arrangements count as the same.

use std::sync::Arc;

use num_bigint::BigUint;

use super::error::PairingError;
use super::motif::{Motif, Wrap};
use super::states::{BlockStates, Exchange, StateId};

/// How a motif may be moved without counting as another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Turning {
    /// Not at all.
    Fixed,
    /// It may be turned.
    Turns,
    /// It may be turned and mirrored.
    TurnsAndMirrors,
}

/// What counts as the same arrangement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Identified {
    /// Turns and mirrors.
    pub turning: Turning,
    /// Whether dark and light may change places.
    pub exchange: Exchange,
    /// Whether a motif that repeats may begin in another of its rows and columns; one that stands alone never does.
    pub shifts: bool,
}

/// One symmetry of the motif: where each cell goes, and what each state becomes on the way.
#[derive(Debug, Clone)]
pub(super) struct Element {
    /// Quarter turns, counter-clockwise, after the mirror.
    pub(super) turn: u8,
    /// Mirrored left for right.
    pub(super) mirrored: bool,
    /// Whether colours change places.
    pub(super) exchange: Exchange,
    /// Rows and columns by which it is shifted last.
    pub(super) shift: (u8, u8),
    /// Where each cell goes.
    pub(super) cells: Vec<usize>,
    /// What each state becomes.
    pub(super) states: Vec<StateId>,
}

/// A group of symmetries of a motif.
///
/// Symmetries that would lead out of the allowed states are left out; what remains is a group still.
#[derive(Debug, Clone)]
pub struct Group {
    motif: Motif,
    states: usize,
    elements: Arc<[Element]>,
}

impl Group {
    /// The symmetries of `motif`, filled with states of a block, that `identified` asks for.
    #[must_use]
    pub fn new(block: &BlockStates, motif: Motif, identified: Identified) -> Self {
        let quarters = motif.rows() == motif.columns() && block.is_square();
        let turns: &[u8] = match identified.turning {
            Turning::Fixed => &[0],
            _ if quarters => &[0, 1, 2, 3],
            _ => &[0, 2],
        };
        let mirrors: &[bool] = if identified.turning == Turning::TurnsAndMirrors { &[false, true] } else { &[false] };
        let both = [Exchange::Nothing, Exchange::Colours];
        let exchanges = if identified.exchange == Exchange::Colours { &both[..] } else { &both[..1] };
        let mut elements = Vec::new();
        for (&exchange, &mirrored, &turn) in
            exchanges.iter().flat_map(|e| mirrors.iter().flat_map(move |m| turns.iter().map(move |t| (e, m, t))))
        {
            let Some(states) = block.moved(turn, mirrored, exchange) else { continue };
            elements.extend(shifts(motif, identified.shifts).map(|shift| Element {
                turn,
                mirrored,
                exchange,
                shift,
                cells: moved_cells(motif, turn, mirrored, shift),
                states: states.clone(),
            }));
        }
        Self { motif, states: block.states().len(), elements: elements.into() }
    }

    /// The motif.
    #[must_use]
    pub const fn motif(&self) -> Motif {
        self.motif
    }

    /// How many states a cell can have.
    #[must_use]
    pub const fn states(&self) -> usize {
        self.states
    }

    /// How many symmetries there are, the one that changes nothing included.
    #[must_use]
    pub fn order(&self) -> usize {
        self.elements.len()
    }

    /// How many ways there are to fill the motif.
    #[must_use]
    pub fn raw(&self) -> BigUint {
        power(self.states, self.motif.cells())
    }

    /// How many there are when those that a symmetry carries to each other count once.
    ///
    /// The lemma of Cauchy, Frobenius and Burnside: the mean, over the symmetries, of how many fillings each leaves
    /// as they are.
    #[must_use]
    pub fn classes(&self) -> BigUint {
        let sum = self.elements.iter().map(|element| fixed(element, self.motif)).sum::<BigUint>();
        sum / self.order()
    }

    /// The number of the filling with these states.
    ///
    /// # Errors
    /// States of another motif or block, or more fillings than can be numbered.
    pub fn raw_of(&self, states: &[StateId]) -> Result<u128, PairingError> {
        if states.len() != self.motif.cells() || states.iter().any(|state| usize::from(state.0) >= self.states) {
            return Err(PairingError::Foreign { cells: self.motif.cells(), states: self.states });
        }
        let base = u128::try_from(self.states).map_err(|_| PairingError::TooManyToList)?;
        let digit = |sum: u128, state: &StateId| sum.checked_mul(base)?.checked_add(u128::from(state.0));
        states.iter().rev().try_fold(0, digit).ok_or(PairingError::TooManyToList)
    }

    pub(super) fn elements(&self) -> &[Element] {
        &self.elements
    }
}

impl Element {
    /// The same symmetry as it is seen after everything was moved by `by`: where each cell goes, and each state.
    pub(super) fn seen_from(&self, by: &Self) -> (Vec<usize>, Vec<StateId>) {
        let (mut cells, mut states) = (self.cells.clone(), self.states.clone());
        for (from, to) in self.cells.iter().enumerate() {
            cells[by.cells[from]] = by.cells[*to];
        }
        for (from, to) in self.states.iter().enumerate() {
            states[usize::from(by.states[from].0)] = by.states[usize::from(to.0)];
        }
        (cells, states)
    }

    /// Whether it leaves `states` as they are.
    pub(super) fn keeps(&self, states: &[StateId]) -> bool {
        states.iter().zip(&self.cells).all(|(state, cell)| states[*cell] == self.states[usize::from(state.0)])
    }
}

/// By how many rows and columns a motif may be shifted.
fn shifts(motif: Motif, allowed: bool) -> impl Iterator<Item = (u8, u8)> {
    let all = if allowed && motif.wrap() == Wrap::Repeats { motif.cells() } else { 1 };
    motif.positions().take(all)
}

/// Where each cell goes; row 0 is at the top.
fn moved_cells(motif: Motif, turn: u8, mirrored: bool, shift: (u8, u8)) -> Vec<usize> {
    let (rows, columns) = (motif.rows(), motif.columns());
    let moved = |(row, column): (u8, u8)| {
        let column = if mirrored { columns - 1 - column } else { column };
        let (row, column) = match turn {
            1 => (columns - 1 - column, row),
            2 => (rows - 1 - row, columns - 1 - column),
            3 => (column, rows - 1 - row),
            _ => (row, column),
        };
        motif.cell((row + shift.0) % rows, (column + shift.1) % columns)
    };
    motif.positions().map(moved).collect()
}

/// How many fillings a symmetry leaves as they are: one choice for each cycle of cells, of a state that comes back to
/// itself after the cycle.
fn fixed(element: &Element, motif: Motif) -> BigUint {
    let mut seen = vec![false; motif.cells()];
    let mut product = BigUint::from(1_u8);
    for start in 0..motif.cells() {
        let (mut cell, mut length) = (start, 0_usize);
        while !std::mem::replace(&mut seen[cell], true) {
            cell = element.cells[cell];
            length += 1;
        }
        if length > 0 {
            product *= returning(&element.states, length);
        }
    }
    product
}

/// How many states come back to themselves after so many steps.
fn returning(states: &[StateId], steps: usize) -> usize {
    let after = |state: usize| (0..steps).fold(state, |state, _| usize::from(states[state].0));
    (0..states.len()).filter(|state| after(*state) == *state).count()
}

fn power(base: usize, exponent: usize) -> BigUint {
    BigUint::from(base).pow(u32::try_from(exponent).unwrap_or(u32::MAX))
}
