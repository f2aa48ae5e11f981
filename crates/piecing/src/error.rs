//! What keeps a block from being planned.

use thiserror::Error;

use crate::patch_set::MAX_PIECED;

/// Why there is no order of sewing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PiecingError {
    /// More patches than are planned as one block.
    #[error(
        "the block has {patches} patches; its sewing is planned for at most {MAX_PIECED}: divide it into smaller blocks"
    )]
    TooManyPatches {
        /// Patches of the block.
        patches: usize,
    },
    /// Patches that touch only at points.
    #[error("the patches of the block do not hang together along seams; give every patch a seam with another")]
    Apart,
    /// A unit asked for that no sewing makes: no patch of the block, patches that do not hang together, or some that
    /// the block does not have.
    #[error(
        "the unit of patches {patches:?} cannot be made by itself: choose patches of the block that hang together along seams"
    )]
    NoUnit {
        /// Indices of its patches.
        patches: Vec<usize>,
    },
    /// Two units asked for share patches, and neither lies within the other.
    #[error(
        "the units of patches {first:?} and {second:?} overlap; trim one of them, or choose units that lie apart or within each other"
    )]
    Cross {
        /// Indices of the patches of one.
        first: Vec<usize>,
        /// Indices of the patches of the other.
        second: Vec<usize>,
    },
    /// A unit that cannot be sewn from the units asked for.
    #[error("no order of sewing makes the unit of patches {patches:?} from the units asked for; ask for fewer units")]
    NoOrder {
        /// Indices of its patches.
        patches: Vec<usize>,
    },
}
