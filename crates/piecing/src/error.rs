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
}
