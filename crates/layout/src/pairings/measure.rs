//! What can be said of one arrangement as a whole: symmetry, stars, islands and how dark it is.

use std::sync::Arc;

use geometry::{Exact, Value};

use super::error::PairingError;
use super::facing::Edge;
use super::motif::{Arrangement, Motif, Wrap};
use super::picture::{Fan, Joined, Picture, Stretch, is_complete_star, pictures};
use super::states::{BlockStates, StateId};
use super::symmetry::{Symmetry, SymmetryFinder};

/// Measures arrangements of one motif.
#[derive(Debug, Clone)]
pub struct Measures {
    motif: Motif,
    pictures: Arc<[Picture]>,
    symmetry: SymmetryFinder,
    cells_share: Exact,
}

/// What was found about one arrangement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// Its number among all fillings of the motif.
    pub raw: u128,
    /// How symmetric it is.
    pub symmetry: Symmetry,
    /// Points at which patches make a complete star: at least six star points of one shape, all of one fabric or of
    /// two in turn. Points on the edge of a motif that stands alone are no stars.
    pub stars: u16,
    /// Connected regions of dark patches.
    pub dark_islands: u16,
    /// Connected regions of light patches.
    pub light_islands: u16,
    /// Which part of the motif is dark, from 0 to 1, exactly.
    pub dark: Arc<Exact>,
}

impl Measures {
    /// Prepares to measure arrangements of `motif`, filled with states of `block`.
    #[must_use]
    pub fn new(block: &BlockStates, motif: Motif) -> Self {
        let cells = i64::try_from(motif.cells()).unwrap_or(1);
        Self {
            motif,
            pictures: pictures(block).into(),
            symmetry: SymmetryFinder::new(block, motif),
            cells_share: Exact::ratio(1, cells).unwrap_or(Exact::ONE),
        }
    }

    /// Measures one arrangement.
    ///
    /// # Errors
    /// [`PairingError::Foreign`] for an arrangement of another motif or block.
    pub fn of(&self, arrangement: &Arrangement) -> Result<Measured, PairingError> {
        let states = &arrangement.states;
        let foreign = PairingError::Foreign { cells: self.motif.cells(), states: self.pictures.len() };
        if arrangement.motif != self.motif || states.len() != self.motif.cells() {
            return Err(foreign);
        }
        let pictures: Option<Vec<&Picture>> = states.iter().map(|state| self.picture(*state)).collect();
        let pictures = pictures.ok_or(foreign)?;
        let [light_islands, dark_islands] = self.islands(&pictures);
        let dark = pictures.iter().fold(Exact::ZERO, |sum, picture| &sum + &picture.dark);
        Ok(Measured {
            raw: arrangement.raw,
            symmetry: self.symmetry.of(states),
            stars: u16::try_from(self.stars(&pictures)).unwrap_or(u16::MAX),
            dark_islands,
            light_islands,
            dark: Arc::new(&dark * &self.cells_share),
        })
    }

    fn picture(&self, state: StateId) -> Option<&Picture> {
        self.pictures.get(usize::from(state.0))
    }

    /// The number of the cell so many rows down and columns to the right, if the motif goes on there.
    fn neighbour(&self, (row, column): (u8, u8), down: u8, right: u8) -> Option<usize> {
        let (row, column) = (row + down, column + right);
        let inside = row < self.motif.rows() && column < self.motif.columns();
        let goes_on = inside || self.motif.wrap() == Wrap::Repeats;
        goes_on.then(|| self.motif.cell(row % self.motif.rows(), column % self.motif.columns()))
    }

    /// Each pair of cells that share a side, with the sides that face each other.
    fn facing(&self) -> impl Iterator<Item = [(usize, Edge); 2]> {
        self.motif.positions().flat_map(|at @ (row, column)| {
            let here = self.motif.cell(row, column);
            let right = self.neighbour(at, 0, 1).map(|there| [(here, Edge::Right), (there, Edge::Left)]);
            let below = self.neighbour(at, 1, 0).map(|there| [(there, Edge::Top), (here, Edge::Bottom)]);
            right.into_iter().chain(below)
        })
    }

    fn stars(&self, pictures: &[&Picture]) -> usize {
        let inside: u32 = pictures.iter().map(|picture| picture.stars).sum();
        let at_corners = self.motif.positions().filter(|at| self.is_star_at_corner(pictures, *at)).count();
        let on_sides = |[(a, edge), (b, opposite)]: [(usize, Edge); 2]| {
            let (a, b) = (&pictures[a].side_fans[edge.index()], &pictures[b].side_fans[opposite.index()]);
            a.iter().filter(|(mark, fan)| b.get(mark).is_some_and(|other| is_star_of(&[fan, other]))).count()
        };
        let on_sides: usize = self.facing().map(on_sides).sum();
        usize::try_from(inside).unwrap_or(usize::MAX) + at_corners + on_sides
    }

    /// Whether a star is complete about the lower right corner of a cell.
    fn is_star_at_corner(&self, pictures: &[&Picture], at: (u8, u8)) -> bool {
        // Counter-clockwise from the cell at the upper right, each with the corner that it has at the point.
        let about = [((0, 1), Edge::Bottom), ((0, 0), Edge::Right), ((1, 0), Edge::Top), ((1, 1), Edge::Left)];
        let fan = |((down, right), edge): ((u8, u8), Edge)| {
            let cell = self.neighbour(at, down, right)?;
            pictures[cell].corner_fans[edge.index()].as_ref()
        };
        let [Some(a), Some(b), Some(c), Some(d)] = about.map(fan) else { return false };
        is_star_of(&[a, b, c, d])
    }

    /// How many regions are light, and how many dark.
    fn islands(&self, pictures: &[&Picture]) -> [u16; 2] {
        let mut firsts = Vec::with_capacity(pictures.len());
        let mut values: Vec<Value> = Vec::with_capacity(pictures.len() * 4);
        for picture in pictures {
            firsts.push(values.len());
            values.extend(&picture.areas);
        }
        let mut joined = Joined::new(values.len());
        for [(a, edge), (b, opposite)] in self.facing() {
            let sides = (&pictures[a].sides[edge.index()], &pictures[b].sides[opposite.index()]);
            for (one, other) in touching(sides.0, sides.1) {
                let (one, other) = (firsts[a] + one, firsts[b] + other);
                if values[one] == values[other] {
                    joined.join(one, other);
                }
            }
        }
        let mut counts = [0, 0];
        for (area, value) in values.iter().enumerate() {
            match value {
                _ if joined.root(area) != area => {}
                Value::Light => counts[0] += 1,
                Value::Dark => counts[1] += 1,
                Value::Medium => {}
            }
        }
        counts
    }
}

fn is_star_of(fans: &[&Fan]) -> bool {
    let rays: Fan = fans.iter().flat_map(|fan| fan.iter().copied()).collect();
    is_complete_star(&rays)
}

/// The areas of two sides that share a stretch.
fn touching<'a>(a: &'a [Stretch], b: &'a [Stretch]) -> impl Iterator<Item = (usize, usize)> + 'a {
    let (mut i, mut j) = (0, 0);
    std::iter::from_fn(move || {
        while let (Some(one), Some(other)) = (a.get(i), b.get(j)) {
            if one.to <= other.to {
                i += 1;
            } else {
                j += 1;
            }
            if one.from.max(other.from) < one.to.min(other.to) {
                return Some((one.area, other.area));
            }
        }
        None
    })
}
