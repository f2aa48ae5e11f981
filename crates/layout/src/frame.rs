//! The borders of a design in their places round the centre.

use geometry::{Block, Exact, Motion, Vector};

use crate::border::{Border, BorderKind, MAX_BORDER_BLOCKS, PiecedBorder, corner_turn};
use crate::design::Design;
use crate::error::EditError;
use crate::ids::{Corner, PlaceId, Side, Source};
use crate::pieces::rectangle;

/// How many blocks a pieced border has at the left and right each, and at the bottom and top each; zero for others.
pub(crate) type BorderCounts = Vec<[u16; 2]>;

impl Design {
    /// Width and height inside border `border`.
    pub(crate) fn size_within(&self, border: usize) -> (Exact, Exact) {
        let (width, height) = self.centre().size();
        let inside = self.borders.get(..border).unwrap_or(&self.borders);
        let (across, up) = around(inside);
        (&width + &across.scale_int(2), &height + &up.scale_int(2))
    }

    /// From the lower left of the centre to the lower left of the top.
    pub(crate) fn inside_borders(&self) -> Motion {
        let (across, up) = around(&self.borders);
        Motion::shift(Vector::new(across, up))
    }

    /// Refuses blocks that do not fill the sides of their border, and says how many there are of them.
    pub(crate) fn count_border_blocks(&self) -> Result<BorderCounts, EditError> {
        (0..).zip(self.borders.iter()).map(|(number, border)| self.count_of(number, border)).collect()
    }

    fn count_of(&self, number: u16, border: &Border) -> Result<[u16; 2], EditError> {
        if border.level_width.is_some() && border.kind != BorderKind::Butted {
            return Err(EditError::TwoWidths(u32::from(number) + 1));
        }
        let Some(pieced) = border.pieced() else { return Ok([0, 0]) };
        let refuse = |block, why: String| EditError::BorderBlock { block, border: u32::from(number) + 1, why };
        let (def, corner) = (self.block(pieced.block)?, self.block(pieced.corner)?);
        if pieced.turn > 3 {
            return Err(EditError::Turn { block: def.name().to_owned(), turns: 4, given: pieced.turn });
        }
        let (along, depth) = pieced.extent(def.block());
        if def.block().base().area() != &along * &depth {
            return Err(refuse(def.name().to_owned(), "only rectangles make a border".to_owned()));
        }
        let width = border.width.inches();
        if depth != *width {
            let why = format!("it is {} in deep, the border {} in wide", depth.to_decimal(4), width.to_decimal(4));
            return Err(refuse(def.name().to_owned(), why));
        }
        let square = corner.block().base();
        if square.extent() != (depth.clone(), depth.clone()) || square.area() != &depth * &depth {
            let why = format!("its corners need squares of {} in", depth.to_decimal(4));
            return Err(refuse(corner.name().to_owned(), why));
        }
        let fit = pieced.fit(number, def.block(), &self.size_within(number.into()));
        if !fit.upright.fits() || !fit.level.fits() {
            return Err(EditError::BorderMisfit(Box::new(fit)));
        }
        let count = |blocks: u64| match u16::try_from(blocks) {
            Ok(n) if n <= MAX_BORDER_BLOCKS => Ok(n),
            _ => Err(EditError::TooMany {
                what: "blocks on a side of a border",
                most: MAX_BORDER_BLOCKS.into(),
                given: usize::try_from(blocks).unwrap_or(usize::MAX),
            }),
        };
        Ok([count(fit.upright.blocks)?, count(fit.level.blocks)?])
    }

    fn border(&self, border: u16) -> Option<&Border> {
        self.borders.get(usize::from(border))
    }

    fn blocks_on(&self, border: u16, side: Side) -> u16 {
        let level = matches!(side, Side::Bottom | Side::Top);
        self.border_counts.get(usize::from(border)).map_or(0, |counts| counts[usize::from(level)])
    }

    /// What stands in a place of a border.
    pub(crate) fn border_source(&self, place: PlaceId) -> Option<Source> {
        match place {
            PlaceId::Border { border, side } => {
                let plain = self.border(border)?.pieced().is_none();
                plain.then_some(Source::Border { border, level: matches!(side, Side::Bottom | Side::Top) })
            }
            PlaceId::BorderCorner { border, .. } => match self.border(border)?.kind {
                BorderKind::CornerSquares(_) => Some(Source::BorderCorner { border }),
                BorderKind::Pieced(pieced) => Some(Source::Block(pieced.corner)),
                BorderKind::Butted | BorderKind::Mitred => None,
            },
            PlaceId::BorderBlock { border, side, index } => {
                let pieced = self.border(border)?.pieced()?;
                (index < self.blocks_on(border, side)).then_some(Source::Block(pieced.block))
            }
            _ => None,
        }
    }

    /// The block of a border's own piece; none for other sources.
    pub(crate) fn border_piece(&self, source: Source) -> Option<Result<Block, EditError>> {
        match source {
            Source::Border { border, level } => {
                Some(self.border(border)?.side_piece(&self.size_within(border.into()), level))
            }
            Source::BorderCorner { border } => {
                let width = self.border(border)?.width.inches();
                Some(rectangle("corner square", width, width))
            }
            _ => None,
        }
    }

    /// What a mitred side is cut as: a strip on which the points of the mitre have their seam allowance.
    pub(crate) fn mitred_strip(&self, source: Source) -> Option<Result<Block, EditError>> {
        let Source::Border { border, level } = source else { return None };
        let own = self.border(border).filter(|own| own.kind == BorderKind::Mitred)?;
        let (width, height) = own.side_size(&self.size_within(border.into()), level);
        // The cut edges of a corner of 45° meet (1 + √2) seam allowances beyond it; one is added to every edge.
        let points = &(self.seam.inches() * &Exact::sqrt2()) * &Exact::int(2);
        Some(if level {
            rectangle("border", &(&width + &points), &height)
        } else {
            rectangle("border", &width, &(&height + &points))
        })
    }

    /// Where what stands in a place of a border goes, from the lower left of the top; none for other places.
    pub(crate) fn border_motion(&self, place: PlaceId) -> Option<Motion> {
        self.border_source(place)?;
        let (PlaceId::Border { border, .. }
        | PlaceId::BorderCorner { border, .. }
        | PlaceId::BorderBlock { border, .. }) = place
        else {
            return None;
        };
        let own = self.border(border)?;
        let inner = self.size_within(border.into());
        let of = |id| self.block(id).ok().map(|def| def.block().as_ref());
        let motion = match (place, own.pieced()) {
            (PlaceId::Border { side, .. }, _) => own.side_motion(&inner, side),
            (PlaceId::BorderCorner { corner, .. }, None) => own.corner_motion(&inner, corner),
            (PlaceId::BorderCorner { corner, .. }, Some(PiecedBorder { corner: block, .. })) => {
                corner_turn(of(block)?, corner).then(&own.corner_motion(&inner, corner))
            }
            (PlaceId::BorderBlock { side, index, .. }, Some(pieced)) => {
                pieced.motion(of(pieced.block)?, &inner, side, index)
            }
            _ => return None,
        };
        let outside = around(self.borders.get(usize::from(border) + 1..).unwrap_or(&[]));
        Some(motion.then(&Motion::shift(Vector::new(outside.0, outside.1))))
    }

    /// The places of the borders, from the inside.
    pub(crate) fn border_places(&self) -> impl Iterator<Item = PlaceId> + '_ {
        (0..).zip(self.borders.iter()).flat_map(move |(border, own): (u16, &Border)| {
            let sides = own.pieced().is_none().then_some(Side::ALL).into_iter().flatten();
            let sides = sides.map(move |side| PlaceId::Border { border, side });
            let has_corners = matches!(own.kind, BorderKind::CornerSquares(_) | BorderKind::Pieced(_));
            let corners = has_corners.then_some(Corner::ALL).into_iter().flatten();
            let corners = corners.map(move |corner| PlaceId::BorderCorner { border, corner });
            let blocks = Side::ALL.into_iter().flat_map(move |side| {
                (0..self.blocks_on(border, side)).map(move |index| PlaceId::BorderBlock { border, side, index })
            });
            sides.chain(blocks).chain(corners)
        })
    }
}

/// What borders add at the left and right each, and at the bottom and top each.
fn around(borders: &[Border]) -> (Exact, Exact) {
    let sum = |level| borders.iter().fold(Exact::ZERO, |sum, border| &sum + border.across(level));
    (sum(false), sum(true))
}
