//! Full: 60° units in rows, turned so that six diamonds meet in every star.

use geometry::{Length, Measure, Recipe, Size, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics};

const PINE: FabricId = FabricId(1);
const MIST: FabricId = FabricId(2);
const TEAL: FabricId = FabricId(3);
const PLUM: FabricId = FabricId(4);
const SAFFRON: FabricId = FabricId(5);

const ROWS: u16 = 12;
const COLUMNS: u16 = 17;

/// Every unit's diamond points to the one of its corners where a star is, and takes that star's fabric.
pub(super) fn six_winds() -> Made<Document> {
    let unit = Size { by: Measure::Height, length: Length::whole_inches(6)? };
    let mut quilt = Making::begin(&Starter {
        name: "Six Winds".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Pine", "#1e3d42", Value::Dark),
            ("Mist", "#eef0e6", Value::Light),
            ("Teal", "#2f7f86", Value::Medium),
            ("Plum", "#7a3655", Value::Dark),
            ("Saffron", "#e0a12f", Value::Medium),
        ])?,
        blocks: blocks([("60° unit", Recipe::SixtyUnit(unit))]),
        scheme: ColourScheme::Two { dark: TEAL, light: MIST },
        setting: Setting::TriangleRows { rows: ROWS, columns: COLUMNS, ends: MIST },
        borders: vec![(Length::inch_fraction(3, 2)?, SAFFRON), (Length::whole_inches(6)?, PINE)],
        binding: PLUM,
    })?;
    for at in cells(ROWS, COLUMNS) {
        let (turn, star) = towards_star(at);
        quilt.place(at, BlockId(1), turn)?;
        let fabric = star_fabric(star);
        if fabric != TEAL {
            quilt.role_here(at, "diamond", fabric)?;
        }
    }
    Ok(Document::new(quilt.design()))
}

/// A corner of the net of triangles: half sides from the left, rows from the top.
type Corner = (i32, i32);

/// The turn that brings a unit's diamond to its star, and where that star is.
///
/// The corners of the net fall into three sets so that every triangle has one of each; the stars are one set.
fn towards_star((row, column): (u16, u16)) -> (u8, Corner) {
    let (top, left) = (i32::from(row), i32::from(column));
    let bottom = top + 1;
    // In the order of the turns: lower left, lower right, top; and half a turn around for those that point down.
    let corners = if (row + column) % 2 == 0 {
        [(left, bottom), (left + 2, bottom), (left + 1, top)]
    } else {
        [(left + 2, top), (left, top), (left + 1, bottom)]
    };
    let is_star = |(x, y): Corner| ((x - 1 - y).div_euclid(2) - y).rem_euclid(3) == 1;
    for (turn, corner) in (0_u8..).zip(corners) {
        if is_star(corner) {
            return (turn, corner);
        }
    }
    (0, corners[0])
}

/// Stars change fabric in rings around the middle one; a star that the edge would cut keeps to the ground.
fn star_fabric((x, level): Corner) -> FabricId {
    let (width, rows) = (i32::from(COLUMNS) + 1, i32::from(ROWS));
    if x <= 0 || x >= width || level <= 0 || level >= rows {
        return MIST;
    }
    let ring = (x - width / 2).abs() / 3 + (level - rows / 2).abs();
    match ring / 2 % 3 {
        0 => SAFFRON,
        1 => PLUM,
        _ => TEAL,
    }
}
