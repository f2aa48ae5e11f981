//! Settings: how blocks are arranged, and the pieces a setting adds at its edges.

mod hexagon;

use std::sync::Arc;

use geometry::{Block, Exact, Motion, Point, Polygon, Vector};

use crate::error::EditError;
use crate::ids::{FabricId, PlaceId, Side};
use crate::pieces::one_patch;

/// The most rows or columns.
pub const MAX_ROWS: u16 = 400;

/// The most cells.
pub const MAX_CELLS: usize = 40_000;

/// The most turns in which a block can stand in its cell: sixths of hexagons.
pub(crate) const MAX_TURNS: u8 = 6;

/// The most bits a coefficient of the cell's size may need: every place of the top is computed from it.
pub(crate) const MAX_CELL_BITS: u64 = 160;

/// How blocks are arranged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// Rows and columns of equal rectangles, most often squares.
    Straight {
        /// Rows.
        rows: u16,
        /// Columns.
        columns: u16,
    },
    /// Rows of equilateral triangles, one up, one down; half units trim the ends of the rows square.
    TriangleRows {
        /// Rows.
        rows: u16,
        /// Triangles in a row.
        columns: u16,
        /// Fabric of the half units at the ends.
        ends: FabricId,
    },
    /// Squares on point: `rows` of `columns` blocks that stand on a corner, and between them `rows − 1` rows of
    /// `columns − 1` blocks; setting triangles make the edges straight.
    ///
    /// Cells count as they are seen, level row by level row: row 0 has `columns` blocks, row 1 the `columns − 1`
    /// between it and row 2, and so on to row 2·`rows` − 2.
    OnPoint {
        /// Rows of `columns` blocks.
        rows: u16,
        /// Blocks in each of them.
        columns: u16,
        /// Fabric of the side setting triangles.
        sides: FabricId,
        /// Fabric of the corner setting triangles.
        corners: FabricId,
    },
    /// Rows of hexagons that stand on a point: rows 0, 2, 4 … have `columns` of them, the rows between, moved by half a
    /// hexagon, `columns − 1` and half a hexagon at either end; edge triangles make top and bottom straight.
    HexagonRows {
        /// Rows.
        rows: u16,
        /// Hexagons in the first row.
        columns: u16,
        /// Fabric of the half hexagons.
        halves: FabricId,
        /// Fabric of the edge triangles and of the halves of them in the corners.
        edges: FabricId,
    },
    /// Rows of hexagons that stand on a side and touch point to point, most often stars; two setting triangles between
    /// neighbours and two right triangles at either end make every row a rectangle. Rows lie straight below each other, so
    /// that the setting triangles of two rows make diamonds.
    StarRows {
        /// Rows.
        rows: u16,
        /// Hexagons in a row.
        columns: u16,
        /// Fabric of the setting triangles between neighbours.
        between: FabricId,
        /// Fabric of the right triangles at the ends of rows.
        ends: FabricId,
    },
    /// Blocks of different sizes, in rows or freely placed, with fillers between them: where they stand is said by
    /// [`crate::SamplerPlan`].
    Sampler {
        /// Rows; 1 for freely placed blocks.
        rows: u16,
        /// Blocks in the longest row.
        columns: u16,
        /// Fabric of the fillers.
        filler: FabricId,
    },
}

impl Setting {
    /// Number of rows and of columns; on point, of the rows and columns that reach the edges.
    #[must_use]
    pub const fn size(self) -> (u16, u16) {
        match self {
            Self::Straight { rows, columns }
            | Self::TriangleRows { rows, columns, .. }
            | Self::OnPoint { rows, columns, .. }
            | Self::HexagonRows { rows, columns, .. }
            | Self::StarRows { rows, columns, .. }
            | Self::Sampler { rows, columns, .. } => (rows, columns),
        }
    }

    /// The same kind of setting with another number of rows and columns.
    #[must_use]
    pub const fn with_size(self, rows: u16, columns: u16) -> Self {
        match self {
            Self::Straight { .. } => Self::Straight { rows, columns },
            Self::TriangleRows { ends, .. } => Self::TriangleRows { rows, columns, ends },
            Self::OnPoint { sides, corners, .. } => Self::OnPoint { rows, columns, sides, corners },
            Self::HexagonRows { halves, edges, .. } => Self::HexagonRows { rows, columns, halves, edges },
            Self::StarRows { between, ends, .. } => Self::StarRows { rows, columns, between, ends },
            Self::Sampler { filler, .. } => Self::Sampler { rows, columns, filler },
        }
    }

    /// The fabrics that its own pieces take.
    pub(crate) fn fabrics(mut self) -> Vec<FabricId> {
        self.fabrics_mut().into_iter().map(|fabric| *fabric).collect()
    }

    /// The same, to be changed.
    pub(crate) fn fabrics_mut(&mut self) -> Vec<&mut FabricId> {
        match self {
            Self::Straight { .. } => Vec::new(),
            Self::TriangleRows { ends, .. } => vec![ends],
            Self::OnPoint { sides, corners, .. } => vec![sides, corners],
            Self::HexagonRows { halves, edges, .. } => vec![halves, edges],
            Self::StarRows { between, ends, .. } => vec![between, ends],
            Self::Sampler { filler, .. } => vec![filler],
        }
    }

    /// How many level rows of cells there are.
    #[must_use]
    pub const fn cell_rows(self) -> u16 {
        match self {
            Self::OnPoint { rows, .. } => rows.saturating_mul(2).saturating_sub(1),
            Self::Straight { rows, .. }
            | Self::TriangleRows { rows, .. }
            | Self::HexagonRows { rows, .. }
            | Self::StarRows { rows, .. }
            | Self::Sampler { rows, .. } => rows,
        }
    }

    /// How many cells there are in a level row; in a sampler at most so many.
    #[must_use]
    pub const fn cells_in_row(self, row: u16) -> u16 {
        let columns = self.size().1;
        if self.has_shorter_rows() && row % 2 == 1 { columns.saturating_sub(1) } else { columns }
    }

    /// Whether every other row of cells has one cell fewer.
    pub(crate) const fn has_shorter_rows(self) -> bool {
        matches!(self, Self::OnPoint { .. } | Self::HexagonRows { .. })
    }

    /// Whether strips can be sewn between its blocks: where two of them face each other along a straight side, and the
    /// strips along them are straight too.
    pub(crate) const fn takes_sashing(self) -> bool {
        matches!(self, Self::Straight { .. } | Self::OnPoint { .. })
    }

    /// Whether its blocks are hexagons.
    pub(crate) const fn is_of_hexagons(self) -> bool {
        matches!(self, Self::HexagonRows { .. } | Self::StarRows { .. })
    }

    /// Whether `row`, `column` is a cell of it; a row of a sampler may end before.
    #[must_use]
    pub const fn has_cell(self, row: u16, column: u16) -> bool {
        row < self.cell_rows() && column < self.cells_in_row(row)
    }

    /// All cells, row by row from the top left; of a sampler all that there would be if no row were shorter than the
    /// longest.
    pub fn cells(self) -> impl Iterator<Item = PlaceId> {
        (0..self.cell_rows())
            .flat_map(move |row| (0..self.cells_in_row(row)).map(move |column| PlaceId::Cell { row, column }))
    }

    /// The cell of this setting whose block stands at `place` when another kind of setting takes its place: rows that
    /// reach the edges stay in their order, and those between them on point are filled anew.
    pub(crate) const fn same_cell_of(self, new: Self, place: PlaceId) -> Option<PlaceId> {
        let PlaceId::Cell { row, column } = place else { return None };
        let on_point = matches!(new, Self::OnPoint { .. });
        if on_point && row % 2 == 1 {
            return None;
        }
        let row = if on_point { row / 2 } else { row };
        let row = if matches!(self, Self::OnPoint { .. }) { row.saturating_mul(2) } else { row };
        Some(PlaceId::Cell { row, column })
    }

    /// Number of rows and columns in which blocks are sewn together: for blocks on point the diagonal ones. Rows run
    /// up to the right and count from the top left, columns run down to the right and count from the bottom left.
    #[must_use]
    pub const fn sewn_size(self) -> (u16, u16) {
        match self {
            Self::OnPoint { rows, columns, .. } => (rows + columns - 1, rows + columns - 1),
            Self::Straight { .. }
            | Self::TriangleRows { .. }
            | Self::HexagonRows { .. }
            | Self::StarRows { .. }
            | Self::Sampler { .. } => self.size(),
        }
    }

    /// The row and column in which the cell at `row`, `column` is sewn.
    #[must_use]
    pub const fn sewn_at(self, row: u16, column: u16) -> (u16, u16) {
        match self {
            Self::OnPoint { rows, .. } => {
                // Half a block to the right, and half a block down, is one step of `x` and of `y`.
                let x = 2 * column + row % 2;
                ((x + row) / 2, (x + 2 * (rows - 1) - row) / 2)
            }
            Self::Straight { .. }
            | Self::TriangleRows { .. }
            | Self::HexagonRows { .. }
            | Self::StarRows { .. }
            | Self::Sampler { .. } => (row, column),
        }
    }

    /// The columns of the blocks that are sewn in a row, first and last; none beyond the edge.
    pub(crate) fn sewn_row(self, row: Option<u16>) -> Option<(u16, u16)> {
        let row = row.filter(|row| *row < self.sewn_size().0)?;
        let (rows, columns) = self.size();
        Some(match self {
            Self::OnPoint { .. } => {
                let last = rows - 1;
                (last.abs_diff(row), (row + last).min(2 * (columns - 1) + last - row))
            }
            Self::Straight { .. }
            | Self::TriangleRows { .. }
            | Self::HexagonRows { .. }
            | Self::StarRows { .. }
            | Self::Sampler { .. } => (0, columns - 1),
        })
    }

    /// Whether a block is sewn at this row and column; none stands beyond the edges.
    pub(crate) fn is_sewn(self, row: Option<u16>, column: Option<u16>) -> bool {
        self.sewn_row(row).zip(column).is_some_and(|((first, last), column)| (first..=last).contains(&column))
    }

    /// The places of half units or half hexagons at the ends of rows.
    pub fn row_ends(self) -> impl Iterator<Item = PlaceId> {
        let rows = (0..self.size().0).filter(move |row| self.has_row_ends(*row));
        rows.flat_map(|row| [Side::Left, Side::Right].map(|side| PlaceId::RowEnd { row, side }))
    }

    /// Whether a row has half units or half hexagons at its ends.
    pub(crate) const fn has_row_ends(self, row: u16) -> bool {
        match self {
            Self::TriangleRows { rows, .. } => row < rows,
            Self::HexagonRows { rows, .. } => row < rows && row % 2 == 1,
            Self::Straight { .. } | Self::OnPoint { .. } | Self::StarRows { .. } | Self::Sampler { .. } => false,
        }
    }

    /// Refuses a setting with no cells or too many.
    pub(crate) fn check(self) -> Result<(), EditError> {
        let (rows, columns) = self.size();
        if rows == 0 || columns == 0 {
            return Err(EditError::TooFew("row and column"));
        }
        // How many blocks a sampler may have is said of its plan.
        let is_sampler = matches!(self, Self::Sampler { .. });
        let longest = if is_sampler { rows } else { rows.max(columns) };
        if longest > MAX_ROWS {
            return Err(EditError::TooMany { what: "rows or columns", most: MAX_ROWS.into(), given: longest.into() });
        }
        let mut cells = usize::from(rows) * usize::from(columns);
        if matches!(self, Self::OnPoint { .. }) {
            cells += usize::from(rows - 1) * usize::from(columns - 1);
        }
        if matches!(self, Self::HexagonRows { .. }) {
            cells -= usize::from(rows / 2);
        }
        if cells > MAX_CELLS && !is_sampler {
            return Err(EditError::TooMany { what: "blocks", most: MAX_CELLS, given: cells });
        }
        Ok(())
    }
}

/// The one outline that all blocks of a setting share, with its lower left corner at the origin; in a sampler that of
/// the first block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    outline: Arc<Polygon>,
    width: Exact,
    height: Exact,
}

impl Cell {
    /// The cell for blocks with this base.
    ///
    /// # Errors
    /// In words, when the setting has no place for such a shape.
    pub(crate) fn for_base(setting: Setting, base: &Polygon) -> Result<Self, String> {
        let outline = if setting.is_of_hexagons() { hexagon::outline(setting, base)? } else { to_origin(base) };
        let (width, height) = outline.extent();
        if width.bits().max(height.bits()) > MAX_CELL_BITS {
            return Err(format!(
                "its size needs more than {MAX_CELL_BITS} bits; draw its outline through simpler points"
            ));
        }
        match setting {
            Setting::Straight { .. } if outline.area() != &width * &height => {
                Err("a straight setting needs square or rectangular blocks".to_owned())
            }
            Setting::OnPoint { .. } if width != height || outline.area() != &width * &height => {
                Err("only square blocks can be set on point".to_owned())
            }
            Setting::TriangleRows { .. } if !is_standing_triangle(&outline, &width) => {
                Err("rows of triangles need 60° triangles that stand on a side".to_owned())
            }
            _ => Ok(Self { outline: Arc::new(outline), width, height }),
        }
    }

    /// Finished width in inches.
    #[must_use]
    pub const fn width(&self) -> &Exact {
        &self.width
    }

    /// Finished height in inches.
    #[must_use]
    pub const fn height(&self) -> &Exact {
        &self.height
    }

    /// Refuses a block with another outline, in words.
    pub(crate) fn fits(&self, base: &Polygon) -> Result<(), String> {
        if self.lay(base).polygon(base).same_outline(&self.outline) {
            return Ok(());
        }
        let (width, height) = base.extent();
        Err(format!(
            "it is {} × {} in, its place is {} × {} in",
            width.to_decimal(4),
            height.to_decimal(4),
            self.width.to_decimal(4),
            self.height.to_decimal(4)
        ))
    }

    /// How many turns bring a block back into its cell: quarter turns for squares, half turns (0 and 2) for
    /// rectangles, thirds for triangles, sixths for hexagons.
    #[must_use]
    pub fn allows_turn(&self, setting: Setting, turn: u8) -> bool {
        match setting {
            // Where a block of a sampler is turned on its side, its place is turned with it.
            Setting::OnPoint { .. } | Setting::Sampler { .. } => turn < 4,
            Setting::Straight { .. } if self.width == self.height => turn < 4,
            Setting::Straight { .. } => turn == 0 || turn == 2,
            Setting::TriangleRows { .. } => turn < 3,
            Setting::HexagonRows { .. } | Setting::StarRows { .. } => turn < 6,
        }
    }

    /// Where a block with this base goes to stand in its cell, the lower left corner of the cell at the origin.
    pub(crate) fn stand(&self, turn: u8, mirrored: bool, base: &Polygon) -> Motion {
        let centre = self.centre();
        self.bring(mirrored, base).then(&Motion::turn(6 * i32::from(turn), &centre))
    }

    /// Where the triangle in `row`, `column` carries a block with this base, from the lower left of the setting.
    pub(crate) fn triangle_motion(
        &self,
        rows: u16,
        (row, column): (u16, u16),
        turn: u8,
        mirrored: bool,
        base: &Polygon,
    ) -> Motion {
        let third = Exact::ratio(1, 3).unwrap_or_default();
        let centroid = Point::new(self.width.half(), &self.height * &third);
        let down = i32::from(!points_up(row, column)) * 12;
        let x = self.width.half().scale_int(i64::from(column));
        let y = self.height.scale_int(i64::from(rows) - 1 - i64::from(row));
        self.bring(mirrored, base)
            .then(&Motion::turn(8 * i32::from(turn), &centroid))
            .then(&Motion::turn(down, &self.centre()))
            .then(&Motion::shift(Vector::new(x, y)))
    }

    /// The block brought to the origin, mirrored if asked.
    fn bring(&self, mirrored: bool, base: &Polygon) -> Motion {
        let (min, max) = base.bounds();
        let mirror = if mirrored { Motion::mirror(&min.midpoint(&max)) } else { Motion::still() };
        mirror.then(&self.lay(base))
    }

    /// The block brought to the origin as it stands in the cell: hexagons on a side or on a point, others as drafted.
    fn lay(&self, base: &Polygon) -> Motion {
        let (min, _) = base.bounds();
        let drafted = Motion::shift(-&min.to_vector());
        if self.outline.corners().len() == 6 { hexagon::lay(&self.outline, base, drafted) } else { drafted }
    }

    fn centre(&self) -> Point {
        Point::new(self.width.half(), self.height.half())
    }

    /// Where the half unit at an end of `row` goes, from the lower left of the setting.
    pub(crate) fn row_end_motion(&self, setting: Setting, row: u16, side: Side) -> Motion {
        let (rows, columns) = setting.size();
        let half = self.width.half();
        let centre = Point::new(half.half(), self.height.half());
        let left = side == Side::Left;
        let up = if left { points_up(row, 0) } else { points_up(row, columns - 1) };
        let flip = Motion::mirror(&centre);
        let turn = Motion::turn(12, &centre);
        // The half unit is drawn for the left end beside a triangle that points up.
        let motion = match (left, up) {
            (true, true) => Motion::still(),
            (true, false) => flip.then(&turn),
            (false, true) => flip,
            (false, false) => turn,
        };
        let x = if left { Exact::ZERO } else { half.scale_int(i64::from(columns)) };
        let y = self.height.scale_int(i64::from(rows) - 1 - i64::from(row));
        motion.then(&Motion::shift(Vector::new(x, y)))
    }

    /// The half unit at the end of a row of triangles: a right triangle, its long leg on the straight grain.
    pub(crate) fn row_end_block(&self) -> Result<Block, EditError> {
        let zero = Exact::ZERO;
        let corners = vec![
            Point::origin(),
            Point::new(self.width.half(), self.height.clone()),
            Point::new(zero.clone(), self.height.clone()),
        ];
        one_patch("row end triangle", corners, Vector::new(zero, Exact::ONE))
    }
}

/// Whether the triangle in `row`, `column` points up: neighbours differ, so six meet at every point.
const fn points_up(row: u16, column: u16) -> bool {
    (row + column).is_multiple_of(2)
}

fn to_origin(base: &Polygon) -> Polygon {
    let (min, _) = base.bounds();
    Motion::shift(-&min.to_vector()).polygon(base)
}

/// Whether `outline` is the equilateral triangle of this width, standing on a side at the origin.
fn is_standing_triangle(outline: &Polygon, width: &Exact) -> bool {
    let height = width * &geometry::triangle_height_ratio();
    let corners = [Point::origin(), Point::new(width.clone(), Exact::ZERO), Point::new(width.half(), height)];
    outline.corners().len() == 3 && corners.iter().all(|c| outline.corners().contains(c))
}
