//! Quilts of any size for tests of many blocks, and what shows in their places.

use std::collections::BTreeSet;

use geometry::Value;
use layout::file::Document;
use layout::{Design, Edit, PlaceId};
use lozenge::window::blocks::BlockChange;
use lozenge::window::paint::shown_fabric;
use lozenge::window::studio::Studio;

use super::studio;

/// The place in a row and column.
pub const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

/// Places by row and column.
pub fn cells(at: &[(u16, u16)]) -> BTreeSet<PlaceId> {
    at.iter().map(|(row, column)| cell(*row, *column)).collect()
}

/// A sample in its own setting with this many rows and columns, without a border of blocks, which would no longer fit.
pub fn sized(name: &str, rows: u16, columns: u16) -> Studio {
    let mut studio = studio(name);
    if studio.design().borders().iter().any(|border| border.pieced().is_some()) {
        studio.edit(&Edit::SetBorders(Vec::new()));
    }
    let setting = studio.design().setting().with_size(rows, columns);
    let fill = studio.design().places().next().unwrap().1.block;
    studio.edit(&Edit::SetSetting { setting, fill });
    assert_eq!(studio.design().setting(), setting, "{:?}", studio.notices());
    // What did not fit was told.
    while !studio.notices().is_empty() {
        studio.dismiss(0);
    }
    studio
}

/// The file of a design.
pub fn bytes(design: &Design) -> Vec<u8> {
    Document::new(design.clone()).to_bytes().unwrap()
}

/// Every change, from a number; a block that is put has the size of the others.
pub fn change(die: u8, studio: &Studio) -> BlockChange {
    let design = studio.design();
    let size = |id| design.block(id).unwrap().block().base().extent();
    let first = design.places().next().unwrap().1.block;
    let blocks: Vec<_> = design.blocks().map(|(id, _)| id).filter(|id| size(*id) == size(first)).collect();
    match die % 10 {
        0 => BlockChange::TurnLeft,
        1 => BlockChange::TurnRight,
        2 => BlockChange::Mirror,
        3 => BlockChange::FlipHalf(die / 10 % 2),
        4 => BlockChange::FlipHalves,
        5 => BlockChange::SetHalf(die / 10 % 2, Value::Dark),
        6 => BlockChange::AllHalves(Value::Light),
        7 => BlockChange::Put(blocks[usize::from(die / 10) % blocks.len()]),
        8 => BlockChange::ClearPaint,
        _ => BlockChange::AllHalves(Value::Dark),
    }
}

/// What shows in a place: a number for each fabric, at each point of a fine grid that no seam of a block goes along.
pub fn looks(studio: &Studio, place: PlaceId, from_right: bool) -> String {
    let [low, high] = studio.derived().scene().at(place).unwrap().bounds;
    let share = |i: u32, off: f64| (f64::from(i) + off) / 13.0;
    let mut text = String::new();
    for y in (0..13).map(|i| low[1] + (high[1] - low[1]) * share(i, 0.611)) {
        for x in (0..13).map(|i| low[0] + (high[0] - low[0]) * share(i, 0.37)) {
            let x = if from_right { low[0] + high[0] - x } else { x };
            let spot = studio.derived().scene().spot([x, y]).filter(|spot| spot.place == place);
            let fabric = spot.and_then(|spot| shown_fabric(studio.design(), spot));
            text += &fabric.map_or(".".to_owned(), |id| id.0.to_string());
        }
        text.push('\n');
    }
    text
}

/// How a place looks.
pub fn picture(studio: &Studio, place: PlaceId) -> String {
    looks(studio, place, false)
}

/// How the mirror image of a place looks.
pub fn picture_mirrored(studio: &Studio, place: PlaceId) -> String {
    looks(studio, place, true)
}
