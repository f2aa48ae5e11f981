//! Seams with the side they are pressed to, as diagrams and words tell them.

use geometry::Point;

/// The side a seam is pressed to, walking from its first to its second point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Toward {
    /// The left.
    Left,
    /// The right.
    Right,
    /// Neither: the allowances are opened.
    Open,
}

/// A stretch of seam that is pressed one way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PressedSeam {
    pub(super) from: Point,
    pub(super) to: Point,
    pub(super) toward: Toward,
}
