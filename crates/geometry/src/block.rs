//! Blocks and units: patches that are proved to tile their base.
//!
//! A block is data: an outline, and patches with a role, a value and a grain. Whatever drew it, it becomes a
//! [`Block`] through one door, [`Block::prove`], so a `Block` anywhere in the program tiles its base exactly.

use std::fmt;
use std::sync::Arc;

use thiserror::Error;

use crate::exact::Exact;
use crate::point::{Point, Vector, on_segment};
use crate::polygon::Polygon;
use crate::seams::{Seam, edge_neighbours, seams};
use crate::tiling::prove_tiling;

/// The most bits a coefficient of a coordinate may need.
const LIMIT_BITS: u64 = Exact::LIMIT_BITS;

/// The most patches one block may have.
pub const MAX_PATCHES: usize = 20_000;

/// The most halves (parts whose value is set place by place) one block may have.
pub const MAX_HALVES: u8 = 8;

/// The longest name of a role, in characters.
pub const MAX_ROLE_CHARS: usize = 60;

/// How light or dark a fabric or a patch reads beside the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Value {
    /// Light.
    Light,
    /// Medium.
    Medium,
    /// Dark.
    Dark,
}

impl Value {
    /// All values, from light to dark.
    pub const ALL: [Self; 3] = [Self::Light, Self::Medium, Self::Dark];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Medium => "medium",
            Self::Dark => "dark",
        }
    }

    /// Light for dark and dark for light; medium stays.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Light => Self::Dark,
            Self::Medium => Self::Medium,
            Self::Dark => Self::Light,
        }
    }
}

/// What a patch is in its block: "diamond", "background square", "trapezoid" and so on.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Role(Arc<str>);

impl Role {
    /// A role with this name.
    ///
    /// # Errors
    /// [`BlockError::RoleName`] for an empty name, one of over [`MAX_ROLE_CHARS`] characters, or one with
    /// control characters.
    pub fn new(name: &str) -> Result<Self, BlockError> {
        let name = name.trim();
        if name.is_empty() || name.chars().count() > MAX_ROLE_CHARS || name.chars().any(char::is_control) {
            return Err(BlockError::RoleName(name.chars().take(MAX_ROLE_CHARS).collect()));
        }
        Ok(Self(name.into()))
    }

    /// A role of the built-in library, whose names are known to be good.
    pub(crate) fn known(name: &'static str) -> Self {
        Self(name.into())
    }

    /// The name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Where a patch takes its value from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Tone {
    /// Always this value.
    Own(Value),
    /// The value that its half has in the place where the block is set.
    Half(u8),
    /// The opposite of the value of its half: the diamonds that make stars where halves meet.
    AgainstHalf(u8),
}

impl Tone {
    /// The half it follows, if any.
    #[must_use]
    pub const fn half(self) -> Option<u8> {
        match self {
            Self::Own(_) => None,
            Self::Half(half) | Self::AgainstHalf(half) => Some(half),
        }
    }

    /// The value by which the role table is asked: the patch's own, or that of its half.
    #[must_use]
    pub fn table_value(self, halves: &[Value]) -> Value {
        match self {
            Self::Own(value) => value,
            Self::Half(half) | Self::AgainstHalf(half) => halves.get(usize::from(half)).copied().unwrap_or(Value::Dark),
        }
    }
}

/// A patch's name within its block, the same through every redraft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PatchKey(pub u32);

/// One piece of fabric in a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Patch {
    /// Stable name.
    pub key: PatchKey,
    /// Finished shape, in the block's frame.
    pub outline: Polygon,
    /// What it is.
    pub role: Role,
    /// Where its value comes from.
    pub tone: Tone,
    /// Direction of the straight grain (of no particular length); `None` leaves it free.
    pub grain: Option<Vector>,
}

/// A block or unit whose patches tile its base, proved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    base: Polygon,
    patches: Vec<Patch>,
    halves: u8,
}

/// Why patches are not a block.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum BlockError {
    /// No patch at all, or more than [`MAX_PATCHES`].
    #[error("a block has 1 to {MAX_PATCHES} patches, this one has {0}")]
    PatchCount(usize),
    /// A half beyond those the block says it has, or too many halves.
    #[error("patch {patch} follows half {half}, but a block has at most {MAX_HALVES} halves, counted from 0")]
    Half {
        /// The patch.
        patch: u32,
        /// The half it asks for.
        half: u8,
    },
    /// A role name that cannot be printed.
    #[error("a role needs a name of 1 to {MAX_ROLE_CHARS} printable characters, not \"{0}\"")]
    RoleName(String),
    /// Two patches with one key.
    #[error("two patches have the key {0}; give each patch a key of its own")]
    SameKey(u32),
    /// A grain direction of no length.
    #[error("patch {0} has a grain direction of no length; give two numbers that are not both 0")]
    NoGrain(u32),
    /// A coordinate with too many digits.
    #[error("patch {0} has a corner that needs more than {LIMIT_BITS} bits; draw its seams through simpler points")]
    TooFine(u32),
    /// The patches leave a gap, overlap, or stick out.
    #[error(
        "the patches do not tile the block: near x = {x} in, y = {y} in there is {what}; correct the corners there"
    )]
    NotTiled {
        /// Where, in inches.
        x: String,
        /// Where, in inches.
        y: String,
        /// What the areas say.
        what: String,
    },
}

impl Block {
    /// Proves that `patches` tile `base` and makes them a block.
    ///
    /// # Errors
    /// Any [`BlockError`]; the first one found in the order of the patches, the proof of tiling last.
    pub fn prove(base: Polygon, patches: Vec<Patch>) -> Result<Self, BlockError> {
        if patches.is_empty() || patches.len() > MAX_PATCHES {
            return Err(BlockError::PatchCount(patches.len()));
        }
        let mut keys = std::collections::BTreeSet::new();
        let mut halves = 0;
        for patch in &patches {
            check_patch(patch)?;
            if !keys.insert(patch.key) {
                return Err(BlockError::SameKey(patch.key.0));
            }
            halves = halves.max(patch.tone.half().map_or(0, |half| half + 1));
        }
        // One patch that is the whole block, as every border piece and sash is, needs no proof.
        if !matches!(patches.as_slice(), [whole] if whole.outline.same_outline(&base)) {
            prove_tiling(&base, patches.iter().map(|p| &p.outline)).map_err(|fault| BlockError::NotTiled {
                x: fault.near.x.to_decimal(4),
                y: fault.near.y.to_decimal(4),
                what: surplus_text(fault.surplus.as_ref()),
            })?;
        }
        Ok(Self { base, patches, halves })
    }

    /// The outline.
    #[must_use]
    pub fn base(&self) -> &Polygon {
        &self.base
    }

    /// The patches.
    #[must_use]
    pub fn patches(&self) -> &[Patch] {
        &self.patches
    }

    /// How many halves (parts whose value is set in each place) the block has.
    #[must_use]
    pub fn halves(&self) -> u8 {
        self.halves
    }

    /// The index of the patch with this key.
    #[must_use]
    pub fn index_of(&self, key: PatchKey) -> Option<usize> {
        // Most blocks keep the keys of their recipe, which count from 0.
        let natural = usize::try_from(key.0).ok().filter(|i| self.patches.get(*i).is_some_and(|p| p.key == key));
        natural.or_else(|| self.patches.iter().position(|p| p.key == key))
    }

    /// Which patches meet along which seams.
    #[must_use]
    pub fn seams(&self) -> Vec<Seam> {
        seams(self.patches.iter().map(|p| &p.outline))
    }

    /// For each edge of patch `index`, whether it lies on the outline of the block; empty for a patch that is not there.
    #[must_use]
    pub fn outside_edges(&self, index: usize) -> Vec<bool> {
        self.patches.get(index).map_or_else(Vec::new, |patch| outside_edges(&self.base, &patch.outline))
    }

    /// For each patch and each of its edges, the patches that share a stretch of that edge, in order.
    #[must_use]
    pub fn edge_neighbours(&self) -> Vec<Vec<Vec<usize>>> {
        let outlines: Vec<&Polygon> = self.patches.iter().map(|p| &p.outline).collect();
        edge_neighbours(&outlines)
    }

    /// For each patch of a unit (patches named once, by index) and each of its edges, whether the edge lies whole on
    /// the outline of the unit: no stretch of it is shared with another patch of the unit. Empty for a patch that is
    /// not there.
    #[must_use]
    pub fn unit_outside_edges(&self, unit: &[usize]) -> Vec<Vec<bool>> {
        let outline = |index: &usize| self.patches.get(*index).map(|p| &p.outline);
        let mut edges = edge_neighbours(&unit.iter().filter_map(outline).collect::<Vec<_>>()).into_iter();
        let outside = |edges: Vec<Vec<usize>>| edges.iter().map(Vec::is_empty).collect();
        unit.iter().map(|i| outline(i).and_then(|_| edges.next()).map_or_else(Vec::new, outside)).collect()
    }

    /// The same block with its patches renamed: `keys` in the order of the patches.
    ///
    /// # Errors
    /// As many keys as patches are needed, all different.
    pub fn with_keys(mut self, keys: &[PatchKey]) -> Result<Self, BlockError> {
        if keys.len() != self.patches.len() {
            return Err(BlockError::PatchCount(keys.len()));
        }
        let mut seen = std::collections::BTreeSet::new();
        for (patch, key) in self.patches.iter_mut().zip(keys) {
            if !seen.insert(*key) {
                return Err(BlockError::SameKey(key.0));
            }
            patch.key = *key;
        }
        Ok(self)
    }
}

/// For each edge of `outline`, a patch of a block with the outline `base`, whether it lies on an edge of `base`.
#[must_use]
pub fn outside_edges(base: &Polygon, outline: &Polygon) -> Vec<bool> {
    let on_base = |p: &Point, q: &Point| base.edges().any(|(a, b)| on_segment(a, b, p) && on_segment(a, b, q));
    outline.edges().map(|(p, q)| on_base(p, q)).collect()
}

/// What can be wrong with one patch by itself.
fn check_patch(patch: &Patch) -> Result<(), BlockError> {
    let key = patch.key.0;
    if let Some(half) = patch.tone.half().filter(|half| *half >= MAX_HALVES) {
        return Err(BlockError::Half { patch: key, half });
    }
    if patch.grain.as_ref().is_some_and(Vector::is_zero) {
        return Err(BlockError::NoGrain(key));
    }
    let too_fine = |p: &Point| p.x.bits() > LIMIT_BITS || p.y.bits() > LIMIT_BITS;
    if patch.outline.corners().iter().any(too_fine) {
        return Err(BlockError::TooFine(key));
    }
    Ok(())
}

fn surplus_text(surplus: Option<&Exact>) -> String {
    let Some(surplus) = surplus else { return "a gap or an overlap".to_owned() };
    let area = match surplus.abs().to_decimal(4).as_str() {
        "0.0000" => "less than 0.0001".to_owned(),
        area => area.to_owned(),
    };
    match surplus.signum() {
        1 => format!("an overlap, or a patch that sticks out: {area} square inches too much in all"),
        -1 => format!("a gap: {area} square inches too little in all"),
        _ => "a gap and an overlap of the same area".to_owned(),
    }
}
