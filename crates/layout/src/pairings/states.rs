//! What one cell of a motif can be: the states of a block, as its geometry gives them.
//!
//! A block stands turned or not, mirrored or not, each half dark or light. Where two of these ways give the same
//! picture (the same outlines, each of the same role and value) they are one state: a dark–light half block that is
//! its own mirror image across the diagonal has four states, not sixteen. Nothing here asks what the block is called.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::{Block, Exact, Motion, Point, Polygon, Role, Tone, Value};

use super::error::PairingError;
use crate::ids::Halves;

/// The most patches of a block whose pairings are looked at.
pub const MAX_PAIRING_PATCHES: usize = 2_000;

/// A state of the block, by its number among the allowed ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct StateId(pub u16);

/// How dark and light the halves of one block are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum HalfType {
    /// Some halves are dark and some light.
    DarkLight,
    /// All halves are dark.
    DarkDark,
    /// All halves are light.
    LightLight,
}

impl HalfType {
    /// All types.
    pub const ALL: [Self; 3] = [Self::DarkLight, Self::DarkDark, Self::LightLight];

    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::DarkLight => "dark–light",
            Self::DarkDark => "dark–dark",
            Self::LightLight => "light–light",
        }
    }

    /// The type of these halves; `None` for a block without halves, which any choice of types allows.
    #[must_use]
    pub fn of(halves: &[Value]) -> Option<Self> {
        let first = halves.first()?;
        Some(match first {
            _ if halves.iter().any(|value| value != first) => Self::DarkLight,
            Value::Dark => Self::DarkDark,
            _ => Self::LightLight,
        })
    }
}

/// Which ways of setting a block are allowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Allowed {
    /// Types of its halves.
    pub types: BTreeSet<HalfType>,
    /// Quarter turns, 0 to 3; those that do not fit a rectangle are left out by themselves.
    pub turns: BTreeSet<u8>,
    /// Whether it may be mirrored.
    pub mirrored: bool,
}

impl Allowed {
    /// Any turn, mirrored or not, with halves of these types.
    #[must_use]
    pub fn types(types: &[HalfType]) -> Self {
        Self { types: types.iter().copied().collect(), turns: (0..4).collect(), mirrored: true }
    }

    fn admits(&self, way: &State) -> bool {
        HalfType::of(way.halves.values()).is_none_or(|kind| self.types.contains(&kind))
            && self.turns.contains(&way.turn)
            && (self.mirrored || !way.mirrored)
    }
}

/// One way to set the block that gives a state: not mirrored where a turn does as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct State {
    /// Quarter turns, counter-clockwise.
    pub turn: u8,
    /// Mirrored left for right, before it is turned.
    pub mirrored: bool,
    /// Values of the halves.
    pub halves: Halves,
}

/// What a patch shows: two patches of one role and one table value are of one fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Look {
    /// Number of the role.
    pub(super) role: u16,
    /// The value that the role table is asked by.
    pub(super) table: Value,
    /// The value that is seen.
    pub(super) shown: Value,
}

/// The states of one block.
#[derive(Debug, Clone)]
pub struct BlockStates {
    block: Arc<Block>,
    square: bool,
    states: Vec<State>,
    /// For each way to set the block, in order of [`way_number`], its picture.
    pictures: BTreeMap<usize, usize>,
    /// For each picture, its number among the allowed states.
    allowed: Vec<Option<StateId>>,
}

impl BlockStates {
    /// Finds the states of `block`.
    ///
    /// # Errors
    /// A block that fills no rectangle, one of more than [`MAX_PAIRING_PATCHES`] patches, or nothing allowed.
    pub fn new(block: Arc<Block>, allowed: &Allowed) -> Result<Self, PairingError> {
        let (width, height) = block.base().extent();
        if block.base().area() != &width * &height {
            return Err(PairingError::NotARectangle);
        }
        if block.patches().len() > MAX_PAIRING_PATCHES {
            return Err(PairingError::TooManyPatches(block.patches().len()));
        }
        let mut found =
            Self { square: width == height, block, states: Vec::new(), pictures: BTreeMap::new(), allowed: Vec::new() };
        let ways = found.ways();
        found.find_pictures(&ways);
        for way in ways.iter().filter(|way| allowed.admits(way)) {
            let number = StateId(u16::try_from(found.states.len()).unwrap_or(u16::MAX));
            let picture = found.pictures.get(&way_number(way)).and_then(|picture| found.allowed.get_mut(*picture));
            if let Some(unnumbered @ None) = picture {
                *unnumbered = Some(number);
                found.states.push(*way);
            }
        }
        if found.states.is_empty() { Err(PairingError::NoState) } else { Ok(found) }
    }

    /// The block.
    #[must_use]
    pub const fn block(&self) -> &Arc<Block> {
        &self.block
    }

    /// The allowed states; a [`StateId`] is a place in this list.
    #[must_use]
    pub fn states(&self) -> &[State] {
        &self.states
    }

    /// Whether the block fills a square, so that a quarter turn brings it back into its cell.
    #[must_use]
    pub const fn is_square(&self) -> bool {
        self.square
    }

    /// The allowed state that the block shows when it is set like this; `None` if that is not allowed.
    #[must_use]
    pub fn state_of(&self, way: &State) -> Option<StateId> {
        self.pictures.get(&way_number(way)).and_then(|picture| self.allowed.get(*picture).copied().flatten())
    }

    /// Where each state goes when the whole picture is mirrored left for right if asked, then turned by so many
    /// quarters, and dark and light halves change places if asked. `None` when that leads out of the allowed states
    /// or does not fit the cell.
    #[must_use]
    pub fn moved(&self, turn: u8, mirrored: bool, exchanged: Exchange) -> Option<Vec<StateId>> {
        let target = |way: &State| {
            let opposite: Vec<Value> = way.halves.values().iter().map(|value| value.opposite()).collect();
            // A mirror after a turn is a mirror before the opposite turn.
            let turned = if mirrored { 4 - way.turn % 4 } else { way.turn };
            self.state_of(&State {
                turn: (turned + turn) % 4,
                mirrored: way.mirrored != mirrored,
                halves: if exchanged == Exchange::Colours { Halves::new(&opposite) } else { way.halves },
            })
        };
        self.states.iter().map(target).collect()
    }

    /// The outlines of the patches when the block stands like this, with the lower left corner of the cell at the
    /// origin.
    pub(super) fn outlines(&self, turn: u8, mirrored: bool) -> Vec<Polygon> {
        let base = self.block.base();
        let (width, height) = base.extent();
        let centre = Point::new(width.half(), height.half());
        let mut motion = Motion::shift(-&base.bounds().0.to_vector());
        if mirrored {
            motion = motion.then(&Motion::mirror(&centre));
        }
        let motion = motion.then(&Motion::turn(6 * i32::from(turn), &centre));
        self.block.patches().iter().map(|patch| motion.polygon(&patch.outline)).collect()
    }

    /// What the patches show with these halves.
    pub(super) fn looks(&self, halves: &[Value]) -> Vec<Look> {
        let roles: BTreeSet<&Role> = self.block.patches().iter().map(|patch| &patch.role).collect();
        let numbers: BTreeMap<&Role, u16> = roles.into_iter().zip(0..).collect();
        let look = |patch: &geometry::Patch| {
            let table = patch.tone.table_value(halves);
            let shown = if matches!(patch.tone, Tone::AgainstHalf(_)) { table.opposite() } else { table };
            Look { role: numbers.get(&patch.role).copied().unwrap_or_default(), table, shown }
        };
        self.block.patches().iter().map(look).collect()
    }

    /// Every way to set the block, allowed or not: those that are not mirrored first, and mixed halves first.
    fn ways(&self) -> Vec<State> {
        let count = usize::from(self.block.halves());
        let mut halves: Vec<Halves> = (0..1_u32 << count)
            .map(|bits| {
                let value = |k| if bits >> k & 1 == 0 { Value::Dark } else { Value::Light };
                Halves::new(&(0..count).rev().map(value).collect::<Vec<_>>())
            })
            .collect();
        halves.sort_by_key(|halves| HalfType::of(halves.values()));
        let turns: &[u8] = if self.square { &[0, 1, 2, 3] } else { &[0, 2] };
        let mut ways = Vec::with_capacity(halves.len() * 8);
        for mirrored in [false, true] {
            for halves in &halves {
                ways.extend(turns.iter().map(|turn| State { turn: *turn, mirrored, halves: *halves }));
            }
        }
        ways
    }

    /// Numbers the pictures of `ways`.
    fn find_pictures(&mut self, ways: &[State]) {
        let mut shapes: BTreeMap<Vec<Exact>, usize> = BTreeMap::new();
        let mut placed: BTreeMap<(u8, bool), Vec<usize>> = BTreeMap::new();
        for way in ways {
            placed.entry((way.turn, way.mirrored)).or_insert_with(|| {
                let mut number = |outline: &Polygon| {
                    let next = shapes.len();
                    *shapes.entry(from_least_corner(outline)).or_insert(next)
                };
                self.outlines(way.turn, way.mirrored).iter().map(&mut number).collect()
            });
        }
        let mut known: BTreeMap<Vec<(usize, Look)>, usize> = BTreeMap::new();
        for way in ways {
            let shapes = placed.get(&(way.turn, way.mirrored)).into_iter().flatten().copied();
            let mut picture: Vec<(usize, Look)> = shapes.zip(self.looks(way.halves.values())).collect();
            picture.sort_unstable();
            let next = known.len();
            self.pictures.insert(way_number(way), *known.entry(picture).or_insert(next));
        }
        self.allowed = vec![None; known.len()];
    }
}

/// Whether dark and light halves change places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Exchange {
    /// They stay.
    Nothing,
    /// Dark becomes light and light dark.
    Colours,
}

/// A number of its own for each way to set a block.
fn way_number(way: &State) -> usize {
    let bits = way.halves.values().iter().fold(0, |bits, value| bits * 2 + usize::from(*value != Value::Dark));
    (bits * 2 + usize::from(way.mirrored)) * 4 + usize::from(way.turn % 4)
}

/// The coordinates of the corners, beginning at the least: equal for equal outlines.
fn from_least_corner(outline: &Polygon) -> Vec<Exact> {
    let corners = outline.corners();
    let least = (0..corners.len()).min_by(|i, j| corners[*i].order(&corners[*j])).unwrap_or(0);
    let ring = corners[least..].iter().chain(&corners[..least]);
    ring.flat_map(|p| [p.x.clone(), p.y.clone()]).collect()
}
