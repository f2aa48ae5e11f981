//! The centre of the quilt, all that lies inside the borders: where its blocks, setting triangles and sashes go.
//!
//! Blocks stand in sewn rows and columns, a sash apart. On point the rows are diagonal: everything is laid out as if
//! it were straight, turned by 45°, and moved to its place. Setting triangles then fill the edges.
//!
//! A *float* widens the edge beyond the tips of the blocks. It follows the sewing: the seams between the diagonal rows
//! run on to the edge of the quilt, and the corner triangles are sewn on last, over the ends of the rows beside them.

mod hexagon;

use geometry::{Block, Exact, Length, Motion, Point, Polygon, Vector};

use crate::error::EditError;
use crate::ids::{Corner, PlaceId, Side, Source};
use crate::pieces::{one_patch, rectangle};
use crate::sampler::Sampler;
use crate::sashing::Sashing;
use crate::setting::{Cell, Setting};

/// The centre of a quilt, for as long as it is looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Centre<'a> {
    pub(crate) setting: Setting,
    pub(crate) cell: &'a Cell,
    pub(crate) sashing: Option<&'a Sashing>,
    pub(crate) float: Option<&'a Length>,
    pub(crate) sampler: Option<&'a Sampler>,
}

impl Centre<'_> {
    /// Refuses what does not go together.
    pub(crate) fn check(&self) -> Result<(), EditError> {
        let on_point = matches!(self.setting, Setting::OnPoint { .. });
        let (rows, columns) = self.setting.size();
        match self.sashing {
            Some(_) if !self.setting.takes_sashing() => return Err(EditError::NoSashing),
            Some(sashing) if on_point && !sashing.outer && rows.min(columns) == 1 && rows.max(columns) > 1 => {
                return Err(EditError::NothingToSash);
            }
            _ => {}
        }
        match self.float {
            Some(_) if !on_point => Err(EditError::NoFloat),
            Some(float) if float.inches().scale_int(2) >= self.tip_to_tip() => {
                Err(EditError::WideFloat { most: self.tip_to_tip().half().to_decimal(3) })
            }
            _ => Ok(()),
        }
    }

    /// A float must be less than this, in inches; none where blocks do not stand on point.
    pub(crate) fn float_limit(&self) -> Option<Exact> {
        matches!(self.setting, Setting::OnPoint { .. }).then(|| self.tip_to_tip().half())
    }

    fn sash(&self) -> Exact {
        self.sashing.map_or(Exact::ZERO, |sashing| sashing.width.inches().clone())
    }

    /// Width of the outer sashing.
    fn margin(&self) -> Exact {
        self.sashing.filter(|sashing| sashing.outer).map_or(Exact::ZERO, |sashing| sashing.width.inches().clone())
    }

    fn float(&self) -> Exact {
        self.float.map_or(Exact::ZERO, |float| float.inches().clone())
    }

    /// From one block to the next in a row, and from row to row.
    fn pitch(&self) -> (Exact, Exact) {
        let sash = self.sash();
        (self.cell.width() + &sash, self.cell.height() + &sash)
    }

    /// From tip to tip of blocks on point, which is the long side of a side triangle.
    fn tip_to_tip(&self) -> Exact {
        &self.pitch().0 * &Exact::sqrt2()
    }

    /// Half the diagonal of a block on point with the sashes round it.
    fn half_diagonal(&self) -> Exact {
        &(self.cell.width() + &self.margin().scale_int(2)) * &Exact::sqrt2().half()
    }

    /// Width and height in inches.
    pub(crate) fn size(&self) -> (Exact, Exact) {
        if let Some(sampler) = self.sampler {
            return sampler.size();
        }
        let (rows, columns) = self.setting.size();
        let more = |n: u16| i64::from(n) - 1;
        let around = self.margin().scale_int(2);
        let (across, down) = self.pitch();
        match self.setting {
            Setting::Straight { .. } | Setting::Sampler { .. } => (
                &(&across.scale_int(more(columns)) + self.cell.width()) + &around,
                &(&down.scale_int(more(rows)) + self.cell.height()) + &around,
            ),
            Setting::TriangleRows { .. } => {
                (self.cell.width().half().scale_int(i64::from(columns) + 1), self.cell.height().scale_int(rows.into()))
            }
            Setting::OnPoint { .. } => {
                let tips = self.tip_to_tip();
                let ends = (&self.half_diagonal() + &self.float()).scale_int(2);
                (&tips.scale_int(more(columns)) + &ends, &tips.scale_int(more(rows)) + &ends)
            }
            Setting::HexagonRows { .. } | Setting::StarRows { .. } => self.hexagons_size(),
        }
    }

    /// What the setting has in a place that holds no block and belongs to no border.
    pub(crate) fn source(&self, place: PlaceId) -> Option<Source> {
        match (place, self.setting) {
            (_, Setting::HexagonRows { .. } | Setting::StarRows { .. }) => self.hexagons_source(place),
            (PlaceId::RowEnd { row, side: Side::Left | Side::Right }, Setting::TriangleRows { rows, .. }) => {
                (row < rows).then_some(Source::RowEnd)
            }
            (PlaceId::SideTriangle { side, index }, Setting::OnPoint { .. }) => {
                let along = self.triangles_along(side);
                // Corner triangles at the bottom left and top right lie across the rows.
                let by_corner = match side {
                    Side::Left | Side::Top => index + 1 == along,
                    Side::Right | Side::Bottom => index == 0,
                };
                let by_corner = self.float.is_some() && by_corner;
                (index < along).then_some(Source::SideTriangle { by_corner })
            }
            (PlaceId::CornerTriangle(corner), Setting::OnPoint { .. }) => {
                let row_end = matches!(corner, Corner::BottomLeft | Corner::TopRight);
                Some(Source::CornerTriangle { row_end: row_end && self.float.is_some() })
            }
            (PlaceId::Sash { .. } | PlaceId::LongSash { .. } | PlaceId::Cornerstone { .. }, _) => {
                self.sashing?.source(self.setting, place)
            }
            (PlaceId::Filler(number), _) => self.sampler?.filler(number).map(|_| Source::Filler(number)),
            _ => None,
        }
    }

    /// The cells of its blocks, row by row.
    pub(crate) fn cells(&self) -> impl Iterator<Item = PlaceId> + '_ {
        let of_setting = self.sampler.is_none().then(|| self.setting.cells());
        let of_sampler = self.sampler.map(Sampler::cells);
        of_setting.into_iter().flatten().chain(of_sampler.into_iter().flatten())
    }

    pub(crate) fn has_cell(&self, place: PlaceId) -> bool {
        match (place, self.sampler) {
            (_, Some(sampler)) => sampler.has_cell(place),
            (PlaceId::Cell { row, column }, None) => self.setting.has_cell(row, column),
            _ => false,
        }
    }

    fn triangles_along(&self, side: Side) -> u16 {
        let (rows, columns) = self.setting.size();
        if matches!(side, Side::Left | Side::Right) { rows - 1 } else { columns - 1 }
    }

    /// The places of the setting that hold no blocks: row ends, setting triangles, sashes.
    pub(crate) fn pieces(&self) -> impl Iterator<Item = PlaceId> + '_ {
        let on_point = matches!(self.setting, Setting::OnPoint { .. });
        let sides = if on_point { Side::ALL.as_slice() } else { &[] };
        let corners = if on_point { Corner::ALL.as_slice() } else { &[] };
        let along = |side: &Side| {
            let side = *side;
            (0..self.triangles_along(side)).map(move |index| PlaceId::SideTriangle { side, index })
        };
        let triangles = sides.iter().flat_map(along).chain(corners.iter().copied().map(PlaceId::CornerTriangle));
        let sashes = self.sashing.into_iter().flat_map(|sashing| sashing.places(self.setting));
        let round_hexagons = if self.setting.is_of_hexagons() { self.hexagons_pieces() } else { Vec::new() };
        let fillers = self.sampler.into_iter().flat_map(Sampler::fillers).map(PlaceId::Filler);
        self.setting.row_ends().chain(triangles).chain(sashes).chain(round_hexagons).chain(fillers)
    }

    /// Where the block that stands in the cell at `row`, `column` goes, from the lower left of the centre.
    pub(crate) fn cell_motion(&self, row: u16, column: u16, turn: u8, mirrored: bool, base: &Polygon) -> Motion {
        if let Setting::TriangleRows { rows, .. } = self.setting {
            return self.cell.triangle_motion(rows, (row, column), turn, mirrored, base);
        }
        if self.setting.is_of_hexagons() {
            return self.cell.hexagon_motion(self.setting, (row, column), turn, mirrored, base);
        }
        if let Some(sampler) = self.sampler {
            return sampler.cell_motion(PlaceId::Cell { row, column }, turn, mirrored, base);
        }
        let (row, column) = self.setting.sewn_at(row, column);
        self.cell.stand(turn, mirrored, base).then(&self.sewn(row, column))
    }

    /// From a cell at the origin to the cell sewn in `row` and `column`.
    fn sewn(&self, row: u16, column: u16) -> Motion {
        let (across, down) = self.pitch();
        let rows = i64::from(self.setting.sewn_size().0);
        let x = across.scale_int(column.into());
        let y = down.scale_int(rows - 1 - i64::from(row));
        let laid = Motion::shift(Vector::new(x, y));
        let (right, up) = self.edge();
        match self.setting {
            Setting::OnPoint { .. } => {
                laid.then(&Motion::turn(3, &Point::origin())).then(&Motion::shift(Vector::new(right, up)))
            }
            Setting::Straight { .. }
            | Setting::TriangleRows { .. }
            | Setting::HexagonRows { .. }
            | Setting::StarRows { .. }
            | Setting::Sampler { .. } => laid.then(&Motion::shift(Vector::new(right, up))),
        }
    }

    /// Where the origin of the rows lies: by the outer sashing, or on point so that the tips reach the edges.
    fn edge(&self) -> (Exact, Exact) {
        let margin = self.margin();
        if !matches!(self.setting, Setting::OnPoint { .. }) {
            return (margin.clone(), margin);
        }
        // The first block of the top row is sewn in row 0 and column `rows` − 1. Turned, its centre lies at
        // ((column − up) · pitch, (column + up) · pitch + side) / √2, with `up` rows below it.
        let (rows, _) = self.setting.size();
        let column = i64::from(rows) - 1;
        let up = i64::from(self.setting.sewn_size().0) - 1;
        let half_tips = self.tip_to_tip().half();
        let in_from_edge = &self.half_diagonal() + &self.float();
        let x = &in_from_edge - &half_tips.scale_int(column - up);
        let from_below = &half_tips.scale_int(column + up) + &(self.cell.width() * &Exact::sqrt2().half());
        let y = &(&self.size().1 - &in_from_edge) - &from_below;
        (x, y)
    }

    /// Where the piece in a place goes, from the lower left of the centre; none for a place that is not there.
    pub(crate) fn piece_motion(&self, place: PlaceId) -> Option<Motion> {
        self.source(place)?;
        if self.setting.is_of_hexagons() {
            return self.hexagons_motion(place);
        }
        let sash = self.sash();
        let before = |dx: &Exact, dy: &Exact| Motion::shift(Vector::new(dx.clone(), dy.clone()));
        let zero = Exact::ZERO;
        Some(match place {
            PlaceId::RowEnd { row, side } => self.cell.row_end_motion(self.setting, row, side),
            PlaceId::SideTriangle { side, index } => self.side_motion(side, index),
            PlaceId::CornerTriangle(corner) => self.corner_motion(corner),
            // Drawn from the lower left of the cell to the right of it or below it.
            PlaceId::Sash { row, column, level: false } => before(&-&sash, &zero).then(&self.sewn(row, column)),
            PlaceId::Sash { row, column, level: true } => {
                before(&zero, self.cell.height()).then(&self.sewn(row, column))
            }
            PlaceId::Cornerstone { row, column } => before(&-&sash, self.cell.height()).then(&self.sewn(row, column)),
            PlaceId::LongSash { row } => {
                let (first, _) = self.sashing?.span(self.setting, row)?;
                before(&-&self.margin(), self.cell.height()).then(&self.sewn(row, first))
            }
            PlaceId::Filler(number) => Motion::shift(self.sampler?.filler(number)?.corner.to_vector()),
            PlaceId::Cell { .. }
            | PlaceId::SettingTriangle { .. }
            | PlaceId::Border { .. }
            | PlaceId::BorderCorner { .. }
            | PlaceId::BorderBlock { .. } => return None,
        })
    }

    /// A side triangle is drawn for the left side with the lower of its two tips at the origin.
    fn side_motion(&self, side: Side, index: u16) -> Motion {
        let (width, height) = self.size();
        let float = self.float();
        let first = &self.half_diagonal() + &float;
        let step = |n: u16| &first + &self.tip_to_tip().scale_int(n.into());
        let origin = Point::origin();
        let half_turn = Motion::turn(12, &origin);
        // The diagonal rows are their own image in a half turn, and in the mirror image that exchanges x and y.
        let across = if self.float.is_some() {
            Motion::mirror(&origin).then(&Motion::turn(-6, &origin))
        } else {
            Motion::turn(6, &origin).then(&Motion::shift(Vector::new(self.tip_to_tip(), Exact::ZERO)))
        };
        let to = |x: Exact, y: Exact| Motion::shift(Vector::new(x, y));
        match side {
            Side::Left => to(float, &height - &step(index + 1)),
            Side::Right => half_turn.then(&to(&width - &float, &height - &step(index))),
            Side::Bottom => across.then(&to(step(index), float)),
            Side::Top => across.then(&half_turn).then(&to(step(index + 1), &height - &float)),
        }
    }

    /// A corner triangle is drawn for the bottom left.
    fn corner_motion(&self, corner: Corner) -> Motion {
        let (width, height) = self.size();
        let zero = Exact::ZERO;
        let (quarters, x, y) = match corner {
            Corner::BottomLeft => (0, zero.clone(), zero),
            Corner::BottomRight => (1, width, zero),
            Corner::TopRight => (2, width, height),
            Corner::TopLeft => (3, zero, height),
        };
        Motion::turn(6 * quarters, &Point::origin()).then(&Motion::shift(Vector::new(x, y)))
    }

    /// The block of a piece of the setting; none for other sources.
    pub(crate) fn piece(&self, source: Source) -> Option<Result<Block, EditError>> {
        if self.setting.is_of_hexagons() {
            return self.hexagons_piece(source);
        }
        let sash = self.sash();
        Some(match source {
            Source::RowEnd => self.cell.row_end_block(),
            Source::SideTriangle { by_corner } => self.side_triangle(by_corner),
            Source::CornerTriangle { row_end } => self.corner_triangle(row_end),
            Source::Sash { level: true } => rectangle("sash", self.cell.width(), &sash),
            Source::Sash { level: false } => rectangle("sash", &sash, self.cell.height()),
            Source::LongSash { blocks } => {
                let blocks = self.pitch().0.scale_int(blocks.into());
                rectangle("long sash", &(&(&blocks - &sash) + &self.margin().scale_int(2)), &sash)
            }
            Source::Cornerstone => rectangle("cornerstone", &sash, &sash),
            Source::Filler(number) => return self.sampler?.filler_block(number),
            Source::Block(_) | Source::SettingTriangle { .. } | Source::Border { .. } | Source::BorderCorner { .. } => {
                return None;
            }
        })
    }

    /// What a floating piece is cut as, where that is more than is left of it: a whole triangle, so that it comes from
    /// a square like any other. What reaches over the seams beside it is trimmed off when they are sewn.
    pub(crate) fn piece_as_cut(&self, source: Source) -> Option<Result<Block, EditError>> {
        let float = self.float?.inches();
        let at = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        let tips = self.tip_to_tip();
        match source {
            Source::SideTriangle { .. } => {
                let out = -float;
                let corners = vec![at(&out, &out), at(&tips.half(), &tips.half()), at(&out, &(&tips + float))];
                Some(one_patch("side triangle", corners, Vector::new(Exact::ZERO, Exact::ONE)))
            }
            Source::CornerTriangle { .. } => Some(self.corner_triangle(false)),
            _ => None,
        }
    }

    /// Half a block, its long side on the straight grain; with a float, as far as the seams beside it run.
    fn side_triangle(&self, by_corner: bool) -> Result<Block, EditError> {
        let tips = self.tip_to_tip();
        let out = -&self.float();
        let at = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        let apex = at(&tips.half(), &tips.half());
        let upper = at(&Exact::ZERO, &tips);
        let corners = match (self.float, by_corner) {
            (None, _) => vec![Point::origin(), apex, upper],
            (Some(_), false) => vec![at(&out, &out), apex, upper, at(&out, &(&tips + &out))],
            (Some(_), true) => {
                vec![Point::origin(), apex, upper, at(&out, &(&tips + &out)), at(&out, &-&out)]
            }
        };
        one_patch("side triangle", corners, Vector::new(Exact::ZERO, Exact::ONE))
    }

    /// A quarter of a block, its legs on the straight grain; with a float, larger by as much on both of them.
    fn corner_triangle(&self, row_end: bool) -> Result<Block, EditError> {
        let float = self.float();
        let leg = &self.half_diagonal() + &float.scale_int(2);
        let at = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        // The ends of an only row have a corner triangle on both sides; the ones along the row are sewn on last.
        let (rows, columns) = self.setting.size();
        let (along, cut) = (&leg - &float, &leg - &float.scale_int(2));
        let zero = Exact::ZERO;
        let mut corners = vec![Point::origin()];
        if row_end && columns == 1 {
            corners.extend([at(&cut, &zero), at(&along, &float)]);
        } else {
            corners.push(at(&leg, &zero));
        }
        if row_end && rows == 1 {
            corners.extend([at(&float, &along), at(&zero, &cut)]);
        } else {
            corners.push(at(&zero, &leg));
        }
        one_patch("corner triangle", corners, Vector::new(Exact::ONE, zero))
    }
}
