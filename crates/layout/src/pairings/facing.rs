//! The sides and corners of a cell, and how those of neighbours face each other.

use geometry::{Exact, Point, Vector};

/// A side of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Edge {
    Bottom,
    Right,
    Top,
    Left,
}

/// Where in a cell a point lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Spot {
    Inside,
    /// On a side, apart from its ends.
    On(Edge),
    /// The corner at which this side begins, when the outline is walked counter-clockwise.
    CornerOf(Edge),
}

impl Edge {
    /// Counter-clockwise from the bottom.
    pub(super) const ALL: [Self; 4] = [Self::Bottom, Self::Right, Self::Top, Self::Left];

    /// Its place in [`Edge::ALL`].
    pub(super) const fn index(self) -> usize {
        self as usize
    }

    /// Its direction when the outline is walked counter-clockwise.
    fn direction(self) -> Vector {
        let (x, y) = [(1, 0), (0, 1), (-1, 0), (0, -1)][self.index()];
        Vector::new(Exact::int(x), Exact::int(y))
    }

    /// The side before it.
    const fn before(self) -> Self {
        Self::ALL[(self.index() + 3) % 4]
    }

    /// Whether `p`, in the cell of this width and height at the origin, lies on this side or its ends.
    pub(super) fn holds(self, p: &Point, width: &Exact, height: &Exact) -> bool {
        match self {
            Self::Bottom => p.y.is_zero(),
            Self::Right => p.x == *width,
            Self::Top => p.y == *height,
            Self::Left => p.x.is_zero(),
        }
    }

    /// How far along the side `p` lies: from the left, or from the bottom.
    pub(super) fn along(self, p: &Point) -> &Exact {
        if matches!(self, Self::Bottom | Self::Top) { &p.x } else { &p.y }
    }
}

impl Spot {
    /// Where `p` lies in the cell of this width and height at the origin.
    pub(super) fn of(p: &Point, width: &Exact, height: &Exact) -> Self {
        let on = |edge: Edge| edge.holds(p, width, height);
        let corner = Edge::ALL.into_iter().find(|edge| on(*edge) && on(edge.before())).map(Self::CornerOf);
        corner.or_else(|| Edge::ALL.into_iter().find(|edge| on(*edge)).map(Self::On)).unwrap_or(Self::Inside)
    }

    /// The directions at which the cell begins and ends round a point of its outline, counter-clockwise; `None` inside.
    pub(super) fn opening(self) -> Option<(Vector, Vector)> {
        match self {
            Self::Inside => None,
            Self::On(edge) => Some((edge.direction(), -&edge.direction())),
            Self::CornerOf(edge) => Some((edge.direction(), -&edge.before().direction())),
        }
    }
}
