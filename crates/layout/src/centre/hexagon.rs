//! Rows of hexagons and star rows: the pieces that make them rectangles, and where they go.
//!
//! Every piece is drawn for the lower left and stands elsewhere in a half turn, a mirror image or both. What lies on the
//! outside of the quilt has its straight grain there.

use geometry::{Block, Exact, Motion, Point, Vector};

use super::Centre;
use crate::error::EditError;
use crate::ids::{Corner, PlaceId, Side, Source};
use crate::pieces::one_patch;
use crate::setting::Setting;

const HALF_TURN: i32 = 12;

impl Centre<'_> {
    /// Width and height in inches.
    pub(super) fn hexagons_size(&self) -> (Exact, Exact) {
        let (rows, columns) = self.setting.size();
        let steps = self.cell.row_step(self.setting).scale_int(i64::from(rows) - 1);
        (self.cell.width().scale_int(columns.into()), &steps + self.cell.height())
    }

    /// What a setting of hexagons has in a place that holds no block.
    pub(super) fn hexagons_source(&self, place: PlaceId) -> Option<Source> {
        let (rows, columns) = self.setting.size();
        match (place, self.setting) {
            (PlaceId::RowEnd { row, side: Side::Left | Side::Right }, Setting::HexagonRows { .. }) => {
                self.setting.has_row_ends(row).then_some(Source::RowEnd)
            }
            (PlaceId::SideTriangle { side, index }, Setting::HexagonRows { .. }) => {
                (index < self.edge_triangles(side)).then_some(Source::SideTriangle { by_corner: false })
            }
            (PlaceId::CornerTriangle(corner), Setting::HexagonRows { .. }) => {
                let has = !self.setting.has_row_ends(self.row_at(side_of(corner)));
                has.then_some(Source::CornerTriangle { row_end: false })
            }
            (PlaceId::SettingTriangle { row, gap, .. }, Setting::StarRows { .. }) => {
                (row < rows && gap <= columns).then_some(Source::SettingTriangle { at_end: gap == 0 || gap == columns })
            }
            _ => None,
        }
    }

    /// The row along the top or bottom.
    const fn row_at(&self, side: Side) -> u16 {
        if matches!(side, Side::Top) { 0 } else { self.setting.size().0 - 1 }
    }

    /// How many whole edge triangles lie along a side: between two hexagons, and where a row ends in halves, between these
    /// and their neighbours too.
    fn edge_triangles(&self, side: Side) -> u16 {
        let columns = self.setting.size().1;
        match side {
            Side::Left | Side::Right => 0,
            Side::Top | Side::Bottom if self.setting.has_row_ends(self.row_at(side)) => columns,
            Side::Top | Side::Bottom => columns - 1,
        }
    }

    /// The places that hold no blocks, half hexagons apart.
    pub(super) fn hexagons_pieces(&self) -> Vec<PlaceId> {
        let (rows, columns) = self.setting.size();
        if matches!(self.setting, Setting::StarRows { .. }) {
            let gaps = (0..rows).flat_map(|row| (0..=columns).map(move |gap| (row, gap)));
            let both = |(row, gap)| [true, false].map(|upper| PlaceId::SettingTriangle { row, gap, upper });
            return gaps.flat_map(both).collect();
        }
        let along = |side| (0..self.edge_triangles(side)).map(move |index| PlaceId::SideTriangle { side, index });
        let corners = Corner::ALL.map(PlaceId::CornerTriangle).into_iter();
        let corners = corners.filter(|corner| self.hexagons_source(*corner).is_some());
        [Side::Bottom, Side::Top].into_iter().flat_map(along).chain(corners).collect()
    }

    /// Where the piece in a place goes, from the lower left of the centre.
    pub(super) fn hexagons_motion(&self, place: PlaceId) -> Option<Motion> {
        self.hexagons_source(place)?;
        let (width, height) = self.hexagons_size();
        let (cell_width, cell_height) = (self.cell.width(), self.cell.height());
        let (rows, columns) = self.setting.size();
        let above = |row: u16| self.cell.row_step(self.setting).scale_int(i64::from(rows) - 1 - i64::from(row));
        // What stands at the lower left of the box of the piece's width and height, moved to `x`, `y`.
        let (mirrored, over, corner) = match place {
            PlaceId::RowEnd { row, side } => {
                let right = side == Side::Right;
                let x = if right { &width - &cell_width.half() } else { Exact::ZERO };
                (false, right, (x, above(row)))
            }
            PlaceId::SideTriangle { side, index } => {
                let in_full = self.setting.has_row_ends(self.row_at(side));
                let first = if in_full { Exact::ZERO } else { cell_width.half() };
                let top = side == Side::Top;
                let y = if top { &height - &cell_height.half().half() } else { Exact::ZERO };
                (false, top, (&first + &cell_width.scale_int(index.into()), y))
            }
            PlaceId::CornerTriangle(corner) => {
                let (right, top) = (is_right(corner), side_of(corner) == Side::Top);
                let x = if right { &width - &cell_width.half() } else { Exact::ZERO };
                let y = if top { &height - &cell_height.half().half() } else { Exact::ZERO };
                (right != top, top, (x, y))
            }
            PlaceId::SettingTriangle { row, gap, upper } => {
                let right = gap == columns;
                let first = if gap == 0 { Exact::ZERO } else { -&cell_width.half().half() };
                let y = above(row);
                let y = if upper { &y + &cell_height.half() } else { y };
                // Those between neighbours are their own mirror image.
                let at_end = gap == 0 || right;
                (at_end && right != upper, upper, (&first + &cell_width.scale_int(gap.into()), y))
            }
            _ => return None,
        };
        let centre = self.middle_of(self.hexagons_source(place)?)?;
        let mirror = if mirrored { Motion::mirror(&centre) } else { Motion::still() };
        let turn = if over { Motion::turn(HALF_TURN, &centre) } else { Motion::still() };
        Some(mirror.then(&turn).then(&Motion::shift(Vector::new(corner.0, corner.1))))
    }

    /// The corners of a piece at the lower left, with its box's lower left at the origin, its role and its grain.
    fn hexagons_shape(&self, source: Source) -> Option<(&'static str, Vec<Point>, Vector)> {
        let zero = Exact::ZERO;
        let (width, height) = (self.cell.width(), self.cell.height());
        let (half, up) = (width.half(), height.half());
        let quarter = up.half();
        let at = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        let (across, upright) = (Vector::new(Exact::ONE, zero.clone()), Vector::new(zero.clone(), Exact::ONE));
        Some(match source {
            Source::RowEnd => {
                let inner = [at(&half, &quarter), at(&half, &(&up + &quarter))];
                ("half hexagon", [vec![Point::origin()], inner.to_vec(), vec![at(&zero, height)]].concat(), upright)
            }
            Source::SideTriangle { .. } => {
                ("edge triangle", vec![Point::origin(), at(width, &zero), at(&half, &quarter)], across)
            }
            Source::CornerTriangle { .. } => {
                ("corner triangle", vec![Point::origin(), at(&half, &zero), at(&zero, &quarter)], across)
            }
            Source::SettingTriangle { at_end: false } => {
                ("setting triangle", vec![Point::origin(), at(&half, &zero), at(&half.half(), &up)], across)
            }
            Source::SettingTriangle { at_end: true } => {
                ("end triangle", vec![Point::origin(), at(&half.half(), &zero), at(&zero, &up)], upright)
            }
            _ => return None,
        })
    }

    /// The middle of a piece's box.
    fn middle_of(&self, source: Source) -> Option<Point> {
        let (_, corners, _) = self.hexagons_shape(source)?;
        let most = |axis: fn(&Point) -> &Exact| corners.iter().map(axis).max().cloned();
        Some(Point::new(most(|p| &p.x)?.half(), most(|p| &p.y)?.half()))
    }

    /// The block of a piece; none for other sources.
    pub(super) fn hexagons_piece(&self, source: Source) -> Option<Result<Block, EditError>> {
        let (role, corners, grain) = self.hexagons_shape(source)?;
        Some(one_patch(role, corners, grain))
    }
}

/// Whether a corner lies at the top or at the bottom.
const fn side_of(corner: Corner) -> Side {
    match corner {
        Corner::TopLeft | Corner::TopRight => Side::Top,
        Corner::BottomLeft | Corner::BottomRight => Side::Bottom,
    }
}

const fn is_right(corner: Corner) -> bool {
    matches!(corner, Corner::TopRight | Corner::BottomRight)
}
