//! Where the rectangles of a guillotine pattern lie, and the cuts that part them.

/// A rectangle of fabric. Lengths in the unit of the input.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Region {
    /// Left edge.
    pub x: i64,
    /// Lower edge.
    pub y: i64,
    /// Extent across the fabric.
    pub width: i64,
    /// Extent along the fabric.
    pub height: i64,
}

/// Which way a cut runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CutDirection {
    /// Across the width: makes a lower and an upper part.
    Crosswise,
    /// Along the length: makes a left and a right part.
    Lengthwise,
}

/// One straight cut through all of a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Cut {
    /// The fabric that is cut: all of it, or one of the two parts that an earlier cut made.
    pub region: Region,
    /// Which way the cut runs.
    pub direction: CutDirection,
    /// Where: `x` of a lengthwise cut, `y` of a crosswise one; strictly within the region.
    pub at: i64,
}

/// A rectangle in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Placed {
    /// Which of the kinds in the input.
    pub kind: usize,
    /// Whether it lies turned by a quarter.
    pub turned: bool,
    /// Where it lies.
    pub region: Region,
}

/// A guillotine pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// Width of the fabric.
    pub width: i64,
    /// Length of the fabric.
    pub height: i64,
    /// The rectangles.
    pub placed: Vec<Placed>,
    /// The tree of cuts, each after the cut that made its region.
    pub cuts: Vec<Cut>,
}

/// Part of a pattern while it is being planned, with the least extent that holds what is in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Slice {
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) content: Content,
}

/// What a [`Slice`] is cut into; parts are places in the list of slices.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Content {
    Waste,
    Piece { kind: usize, turned: bool },
    Beside(usize, usize),
    Above(usize, usize),
}

impl Pattern {
    /// The pattern whose whole is the first slice, on fabric at least as large.
    pub(super) fn new(width: i64, height: i64, slices: &[Slice]) -> Self {
        let mut pattern = Self { width, height, placed: Vec::new(), cuts: Vec::new() };
        let mut waiting = vec![(0, Region { x: 0, y: 0, width, height })];
        while let Some((at, region)) = waiting.pop() {
            let Some(slice) = slices.get(at) else { continue };
            match slice.content {
                Content::Waste => {}
                Content::Piece { kind, turned } => pattern.piece(kind, turned, slice, region),
                Content::Beside(first, second) => {
                    let left = slices.get(first).map_or(0, |s| s.width);
                    let parts = pattern.lengthwise(region, left);
                    waiting.extend([(second, parts.1), (first, parts.0)]);
                }
                Content::Above(first, second) => {
                    let lower = slices.get(first).map_or(0, |s| s.height);
                    let parts = pattern.crosswise(region, lower);
                    waiting.extend([(second, parts.1), (first, parts.0)]);
                }
            }
        }
        pattern
    }

    /// Trims a region to a piece and places it.
    fn piece(&mut self, kind: usize, turned: bool, slice: &Slice, mut region: Region) {
        if region.width > slice.width {
            region = self.lengthwise(region, slice.width).0;
        }
        if region.height > slice.height {
            region = self.crosswise(region, slice.height).0;
        }
        self.placed.push(Placed { kind, turned, region });
    }

    fn lengthwise(&mut self, region: Region, left: i64) -> (Region, Region) {
        self.cuts.push(Cut { region, direction: CutDirection::Lengthwise, at: region.x + left });
        let right = Region { x: region.x + left, width: region.width - left, ..region };
        (Region { width: left, ..region }, right)
    }

    fn crosswise(&mut self, region: Region, lower: i64) -> (Region, Region) {
        self.cuts.push(Cut { region, direction: CutDirection::Crosswise, at: region.y + lower });
        let upper = Region { y: region.y + lower, height: region.height - lower, ..region };
        (Region { height: lower, ..region }, upper)
    }
}
