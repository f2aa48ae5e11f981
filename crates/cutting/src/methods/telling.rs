//! What a method is called, what kind it is, and how many cuts it takes.

use layout::MethodKind;

use super::{Blank, Method};

impl Method {
    /// The kind by which a maker wants it or avoids it.
    #[must_use]
    pub const fn kind(self) -> MethodKind {
        match self {
            Self::SquareOnce | Self::SquareTwice => MethodKind::CutSquares,
            Self::PairedSquares(_) | Self::QuarteredPairs(_) => MethodKind::PairedSquares,
            Self::StripSet(_) => MethodKind::StripSets,
            Self::OntoStrip(_) => MethodKind::OntoStrips,
            Self::Folded { .. } => MethodKind::Folded,
            Self::Nested { .. } => MethodKind::Templates,
        }
    }

    /// What its blank is called.
    #[must_use]
    pub const fn blank_name(self) -> &'static str {
        match self {
            Self::SquareOnce | Self::SquareTwice => "square",
            Self::PairedSquares(_) | Self::QuarteredPairs(_) => "square to pair",
            Self::StripSet(_) => "strip of a set",
            Self::OntoStrip(_) => "strip to sew onto",
            Self::Folded { .. } => "folded strip",
            Self::Nested { .. } => "panel",
        }
    }
}

impl Blank {
    /// How many cuts take one blank apart; a cut through folded fabric, or through a whole strip set, counts once for
    /// all that it cuts.
    #[must_use]
    pub fn cuts(&self) -> u64 {
        match self.method {
            Method::SquareOnce | Method::PairedSquares(_) => 1,
            Method::SquareTwice | Method::QuarteredPairs(_) => 2,
            Method::Folded { pairs } => pairs,
            Method::StripSet(_) | Method::OntoStrip(_) | Method::Nested { .. } => self.inner.len() as u64,
        }
    }
}
