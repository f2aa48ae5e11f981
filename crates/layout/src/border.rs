//! Borders round the centre of the quilt.

use geometry::Length;

use crate::ids::FabricId;

/// A plain border with butted corners.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Border {
    /// Finished width.
    pub width: Length,
    /// Its fabric.
    pub fabric: FabricId,
}
