//! Borders round the centre of the quilt: plain ones with butted, mitred or square corners, and pieced ones.

use std::fmt;

use geometry::{Block, Exact, Length, Motion, Point, Vector};

use crate::error::EditError;
use crate::ids::{BlockId, Corner, FabricId, Side};
use crate::pieces::{one_patch, rectangle};

/// The most blocks on one side of a pieced border.
pub const MAX_BORDER_BLOCKS: u16 = 2000;

/// A border.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Border {
    /// Finished width; of a pieced border the depth of its blocks.
    pub width: Length,
    /// Another finished width at the bottom and top, for a plain border with butted corners that makes room for a
    /// pieced one.
    pub level_width: Option<Length>,
    /// Its fabric; a pieced border has those of its blocks.
    pub fabric: FabricId,
    /// How it is made.
    pub kind: BorderKind,
}

/// How a border is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BorderKind {
    /// Left and right as high as what they enclose, bottom and top as wide as all of it.
    #[default]
    Butted,
    /// Seams at 45° in the corners.
    Mitred,
    /// Squares of this fabric in the corners.
    CornerSquares(FabricId),
    /// A block repeated along the sides.
    Pieced(PiecedBorder),
}

/// A block repeated along the sides of a border, and another in its corners.
///
/// Along the top the block stands as it is turned here, its lower edge towards the centre; along the other sides the
/// border is the same, turned. The corner block stands in the top left corner as it is drafted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PiecedBorder {
    /// The block along the sides.
    pub block: BlockId,
    /// Its quarter turns, counter-clockwise.
    pub turn: u8,
    /// Mirrored left for right, before it is turned.
    pub mirrored: bool,
    /// The block in the corners.
    pub corner: BlockId,
}

/// One direction of a pieced border, against its blocks. Lengths are inches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BorderFit {
    /// Whether this is about the bottom and top, or about the left and right.
    pub level: bool,
    /// Length of the side that the blocks must fill.
    pub length: Exact,
    /// Length of one block along it.
    pub block: Exact,
    /// How many whole blocks it holds.
    pub blocks: u64,
    /// What is left beside them; 0 where they fit.
    pub over: Exact,
    /// The least width of a plain border inside this one, at both ends of the side, with which they fit.
    pub spacer: Exact,
}

impl BorderFit {
    /// Blocks of `block` inches along `length` inches.
    fn new(level: bool, length: Exact, block: Exact) -> Self {
        let blocks = length.floor_div(&block).and_then(|n| u64::try_from(n).ok()).unwrap_or(0);
        let whole = i64::try_from(blocks).unwrap_or(i64::MAX);
        let over = &length - &block.scale_int(whole);
        let spacer = (&block - &over).half();
        Self { level, length, block, blocks, over, spacer }
    }

    /// Whether whole blocks fill the side.
    #[must_use]
    pub const fn fits(&self) -> bool {
        self.over.is_zero()
    }
}

/// Why the blocks of a pieced border do not fill its sides, and which plain border would make them fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BorderMisfit {
    /// Number of the border from the inside.
    pub border: u16,
    /// Left and right.
    pub upright: BorderFit,
    /// Bottom and top.
    pub level: BorderFit,
}

impl BorderMisfit {
    /// The least plain border that makes the blocks fit when it is put inside this one: its width at the left and
    /// right, and at the bottom and top when that is another. `None` if that is no length of a quilt.
    #[must_use]
    pub fn spacer(&self, fabric: FabricId) -> Option<Border> {
        // What is added at the left and right makes the level sides longer.
        let width = Length::new(self.level.spacer.clone()).ok()?;
        let level = Length::new(self.upright.spacer.clone()).ok()?;
        let level_width = (level != width).then_some(level);
        Some(Border { width, level_width, fabric, kind: BorderKind::Butted })
    }
}

impl fmt::Display for BorderMisfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the blocks of border {} do not fill its sides: ", u32::from(self.border) + 1)?;
        let mut first = true;
        for fit in [&self.level, &self.upright].into_iter().filter(|fit| !fit.fits()) {
            let sides = if fit.level { "top and bottom" } else { "left and right" };
            let [length, block, over] = [&fit.length, &fit.block, &fit.over].map(|n| n.to_decimal(4));
            let join = if first { "" } else { "; " };
            write!(f, "{join}{sides} are {length} in, {} blocks of {block} in and {over} in more", fit.blocks)?;
            first = false;
        }
        let [sides, ends] = [&self.level.spacer, &self.upright.spacer].map(|n| n.to_decimal(4));
        if sides == ends {
            write!(f, "; put a plain border of {sides} in inside it")
        } else {
            write!(
                f,
                "; put a plain border inside it, {sides} in at the left and right and {ends} in at top and bottom"
            )
        }
    }
}

impl Border {
    /// A plain border with butted corners.
    #[must_use]
    pub const fn plain(width: Length, fabric: FabricId) -> Self {
        Self { width, level_width: None, fabric, kind: BorderKind::Butted }
    }

    /// Width in inches at the bottom and top, or at the left and right.
    #[must_use]
    pub fn across(&self, level: bool) -> &Exact {
        self.level_width.as_ref().filter(|_| level).unwrap_or(&self.width).inches()
    }

    /// The fabrics that it takes.
    pub(crate) fn fabrics(&self) -> impl Iterator<Item = FabricId> + use<> {
        let corners = if let BorderKind::CornerSquares(fabric) = self.kind { Some(fabric) } else { None };
        std::iter::once(self.fabric).chain(corners)
    }

    /// Sends its fabrics through `map`.
    pub(crate) fn map_fabrics(&mut self, map: impl Fn(FabricId) -> FabricId) {
        self.fabric = map(self.fabric);
        if let BorderKind::CornerSquares(fabric) = &mut self.kind {
            *fabric = map(*fabric);
        }
    }

    /// The blocks of a pieced border.
    #[must_use]
    pub const fn pieced(&self) -> Option<PiecedBorder> {
        if let BorderKind::Pieced(pieced) = self.kind { Some(pieced) } else { None }
    }

    /// The block of one side piece round `inner` inches, drawn for the bottom or for the left.
    pub(crate) fn side_piece(&self, inner: &(Exact, Exact), level: bool) -> Result<Block, EditError> {
        let own = self.across(level);
        let (width, height) = self.side_size(inner, level);
        if self.kind != BorderKind::Mitred {
            return rectangle("border", &width, &height);
        }
        let at = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        let zero = Exact::ZERO;
        let (corners, grain) = if level {
            let inside = &width - own;
            (vec![at(&zero, &zero), at(&width, &zero), at(&inside, own), at(own, own)], Vector::new(Exact::ONE, zero))
        } else {
            let inside = &height - own;
            (vec![at(&zero, &zero), at(own, own), at(own, &inside), at(&zero, &height)], Vector::new(zero, Exact::ONE))
        };
        one_patch("border", corners, grain)
    }

    /// Width and height of the rectangle round one side piece.
    pub(crate) fn side_size(&self, (width, height): &(Exact, Exact), level: bool) -> (Exact, Exact) {
        let own = self.across(level).clone();
        let both = own.scale_int(2);
        match (self.kind, level) {
            (BorderKind::Butted, true) => (width + &self.width.inches().scale_int(2), own),
            (BorderKind::Mitred, true) => (width + &both, own),
            (BorderKind::Mitred, false) => (own, height + &both),
            (_, true) => (width.clone(), own),
            (_, false) => (own, height.clone()),
        }
    }

    /// Where a side piece goes, from the outer lower left corner of the border.
    pub(crate) fn side_motion(&self, inner: &(Exact, Exact), side: Side) -> Motion {
        let (right, up) = (&inner.0 + self.across(false), &inner.1 + self.across(true));
        let zero = Exact::ZERO;
        let level = matches!(side, Side::Bottom | Side::Top);
        if self.kind == BorderKind::Mitred {
            let (width, height) = (&right + self.across(false), &up + self.across(true));
            let half_turn = Motion::turn(12, &Point::origin()).then(&Motion::shift(Vector::new(width, height)));
            return if matches!(side, Side::Left | Side::Bottom) { Motion::still() } else { half_turn };
        }
        // Butted level sides reach into the corners.
        let start = |level_side: bool| {
            let reaches = level_side && self.kind == BorderKind::Butted;
            if reaches { zero.clone() } else { self.across(!level_side).clone() }
        };
        let (x, y) = match side {
            Side::Left => (zero.clone(), start(false)),
            Side::Right => (right, start(false)),
            Side::Bottom => (start(level), zero.clone()),
            Side::Top => (start(level), up),
        };
        Motion::shift(Vector::new(x, y))
    }

    /// Where something `across` × `across` inches at the origin goes to stand in a corner.
    pub(crate) fn corner_motion(&self, inner: &(Exact, Exact), corner: Corner) -> Motion {
        let far = (&inner.0 + self.across(false), &inner.1 + self.across(true));
        let zero = Exact::ZERO;
        let (x, y) = match corner {
            Corner::BottomLeft => (zero.clone(), zero),
            Corner::BottomRight => (far.0, zero),
            Corner::TopRight => far,
            Corner::TopLeft => (zero, far.1),
        };
        Motion::shift(Vector::new(x, y))
    }
}

impl PiecedBorder {
    /// Extent of the block along the side and across it.
    #[must_use]
    pub fn extent(&self, block: &Block) -> (Exact, Exact) {
        let (width, height) = block.base().extent();
        if self.turn.is_multiple_of(2) { (width, height) } else { (height, width) }
    }

    /// How the blocks of border number `border` fit round a centre of `inner` inches, width and height.
    #[must_use]
    pub fn fit(&self, border: u16, block: &Block, inner: &(Exact, Exact)) -> BorderMisfit {
        let (along, _) = self.extent(block);
        BorderMisfit {
            border,
            upright: BorderFit::new(false, inner.1.clone(), along.clone()),
            level: BorderFit::new(true, inner.0.clone(), along),
        }
    }

    /// The block laid for the top, with its lower left corner at the origin.
    fn lay(&self, block: &Block) -> Motion {
        let (min, _) = block.base().bounds();
        let (width, height) = block.base().extent();
        let motion = Motion::shift(-&min.to_vector());
        let centre = Point::new(width.half(), height.half());
        let motion = if self.mirrored { motion.then(&Motion::mirror(&centre)) } else { motion };
        let zero = Exact::ZERO;
        let (x, y) = match self.turn % 4 {
            0 => (zero.clone(), zero),
            1 => (height, zero),
            2 => (width, height),
            _ => (zero, width),
        };
        let turn = Motion::turn(6 * i32::from(self.turn % 4), &Point::origin());
        motion.then(&turn).then(&Motion::shift(Vector::new(x, y)))
    }

    /// Where block `index` of a side goes, from the outer lower left corner of the border.
    pub(crate) fn motion(&self, block: &Block, inner: &(Exact, Exact), side: Side, index: u16) -> Motion {
        let (along, depth) = self.extent(block);
        let (left, bottom) = (depth.clone(), depth.clone());
        let (right, top) = (&left + &inner.0, &bottom + &inner.1);
        let step = |n: u32| along.scale_int(n.into());
        let (this, next) = (step(u32::from(index)), step(u32::from(index) + 1));
        let (quarters, x, y) = match side {
            Side::Top => (0, &left + &this, top),
            Side::Left => (1, left, &top - &next),
            Side::Bottom => (2, &left + &next, bottom),
            Side::Right => (3, right, &top - &this),
        };
        let turn = Motion::turn(6 * quarters, &Point::origin());
        self.lay(block).then(&turn).then(&Motion::shift(Vector::new(x, y)))
    }
}

/// A square block at the origin, turned as it stands in a corner: as drafted in the top left one, and so on round.
pub(crate) fn corner_turn(block: &Block, corner: Corner) -> Motion {
    let (min, _) = block.base().bounds();
    let (width, height) = block.base().extent();
    let centre = Point::new(width.half(), height.half());
    let quarters = match corner {
        Corner::TopLeft => 0,
        Corner::BottomLeft => 1,
        Corner::BottomRight => 2,
        Corner::TopRight => 3,
    };
    Motion::shift(-&min.to_vector()).then(&Motion::turn(6 * quarters, &centre))
}
