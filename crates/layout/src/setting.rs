//! Settings: how blocks are arranged, and the pieces a setting adds at its edges.

use std::sync::Arc;

use geometry::{Block, Exact, Length, Motion, Patch, PatchKey, Point, Polygon, Role, Tone, Value, Vector};

use crate::error::EditError;
use crate::ids::{FabricId, PlaceId, Side};

/// The most rows or columns.
pub const MAX_ROWS: u16 = 400;

/// The most cells.
pub const MAX_CELLS: usize = 40_000;

/// The most bits a coefficient of the cell's size may need: every place of the top is computed from it.
const MAX_CELL_BITS: u64 = 160;

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
}

/// A plain border with butted corners.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Border {
    /// Finished width.
    pub width: Length,
    /// Its fabric.
    pub fabric: FabricId,
}

impl Setting {
    /// Number of rows and of columns.
    #[must_use]
    pub const fn size(self) -> (u16, u16) {
        match self {
            Self::Straight { rows, columns } | Self::TriangleRows { rows, columns, .. } => (rows, columns),
        }
    }

    /// Whether `row`, `column` is a cell of it.
    #[must_use]
    pub const fn has_cell(self, row: u16, column: u16) -> bool {
        let (rows, columns) = self.size();
        row < rows && column < columns
    }

    /// All cells, row by row from the top left.
    pub fn cells(self) -> impl Iterator<Item = PlaceId> {
        let (rows, columns) = self.size();
        (0..rows).flat_map(move |row| (0..columns).map(move |column| PlaceId::Cell { row, column }))
    }

    /// The places of half units at the ends of rows.
    pub fn row_ends(self) -> impl Iterator<Item = PlaceId> {
        let rows = if matches!(self, Self::TriangleRows { .. }) { self.size().0 } else { 0 };
        (0..rows).flat_map(|row| [Side::Left, Side::Right].map(|side| PlaceId::RowEnd { row, side }))
    }

    /// Refuses a setting with no cells or too many.
    pub(crate) fn check(self) -> Result<(), EditError> {
        let (rows, columns) = self.size();
        if rows == 0 || columns == 0 {
            return Err(EditError::TooFew("row and column"));
        }
        let longest = rows.max(columns);
        if longest > MAX_ROWS {
            return Err(EditError::TooMany { what: "rows or columns", most: MAX_ROWS.into(), given: longest.into() });
        }
        let cells = usize::from(rows) * usize::from(columns);
        if cells > MAX_CELLS {
            return Err(EditError::TooMany { what: "blocks", most: MAX_CELLS, given: cells });
        }
        Ok(())
    }
}

/// The one outline that all blocks of a setting share, with its lower left corner at the origin.
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
        let outline = to_origin(base);
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
        if to_origin(base).same_outline(&self.outline) {
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
    /// rectangles, thirds for triangles.
    #[must_use]
    pub fn allows_turn(&self, setting: Setting, turn: u8) -> bool {
        match setting {
            Setting::Straight { .. } if self.width == self.height => turn < 4,
            Setting::Straight { .. } => turn == 0 || turn == 2,
            Setting::TriangleRows { .. } => turn < 3,
        }
    }

    /// Where the cell in `row`, `column` carries a block with this base, from the lower left of the setting.
    pub(crate) fn motion(
        &self,
        setting: Setting,
        row: u16,
        column: u16,
        turn: u8,
        mirrored: bool,
        base: &Polygon,
    ) -> Motion {
        let (min, _) = base.bounds();
        let centre = Point::new(self.width.half(), self.height.half());
        let mut motion = Motion::shift(-&min.to_vector());
        if mirrored {
            motion = motion.then(&Motion::mirror(&centre));
        }
        let (rows, _) = setting.size();
        let y = self.height.scale_int(i64::from(rows) - 1 - i64::from(row));
        match setting {
            Setting::Straight { .. } => {
                let x = self.width.scale_int(i64::from(column));
                motion.then(&Motion::turn(6 * i32::from(turn), &centre)).then(&Motion::shift(Vector::new(x, y)))
            }
            Setting::TriangleRows { .. } => {
                let third = Exact::ratio(1, 3).unwrap_or_default();
                let centroid = Point::new(self.width.half(), &self.height * &third);
                let down = i32::from(!points_up(row, column)) * 12;
                let x = self.width.half().scale_int(i64::from(column));
                motion
                    .then(&Motion::turn(8 * i32::from(turn), &centroid))
                    .then(&Motion::turn(down, &centre))
                    .then(&Motion::shift(Vector::new(x, y)))
            }
        }
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

    /// Width and height of the whole setting in inches.
    pub(crate) fn setting_size(&self, setting: Setting) -> (Exact, Exact) {
        let (rows, columns) = setting.size();
        let width = match setting {
            Setting::Straight { .. } => self.width.scale_int(columns.into()),
            Setting::TriangleRows { .. } => self.width.half().scale_int(i64::from(columns) + 1),
        };
        (width, self.height.scale_int(rows.into()))
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

/// A plain piece of `width` × `height` inches for a border, grain along its longer side.
pub(crate) fn border_block(width: &Exact, height: &Exact) -> Result<Block, EditError> {
    let zero = Exact::ZERO;
    let corners = vec![
        Point::origin(),
        Point::new(width.clone(), zero.clone()),
        Point::new(width.clone(), height.clone()),
        Point::new(zero.clone(), height.clone()),
    ];
    let grain = if width >= height { Vector::new(Exact::ONE, zero) } else { Vector::new(zero, Exact::ONE) };
    one_patch("border", corners, grain)
}

fn one_patch(role: &str, corners: Vec<Point>, grain: Vector) -> Result<Block, EditError> {
    let outline = Polygon::new(corners).map_err(|e| EditError::Recipe {
        name: role.to_owned(),
        source: Box::new(geometry::RecipeError::Draft(e.into())),
    })?;
    let patch = Patch {
        key: PatchKey(0),
        outline: outline.clone(),
        role: Role::new(role)?,
        tone: Tone::Own(Value::Medium),
        grain: Some(grain),
    };
    Ok(Block::prove(outline, vec![patch])?)
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
