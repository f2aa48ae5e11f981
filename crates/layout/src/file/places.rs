//! The places of a top as they stand in a file.

use super::FileError;
use super::read::content;
use super::v1::{self, At, Piece};
use crate::PlaceId;

/// The place that `file` names.
pub(super) fn read(path: &str, file: &At) -> Result<PlaceId, FileError> {
    plain(file).or_else(|| of_piece(file)).ok_or_else(|| {
        let why = match file.piece {
            None => "give row and column, or row and end, or border and side, or a piece with its own fields",
            Some(Piece::SideTriangle) => "a side triangle has side and index",
            Some(Piece::CornerTriangle) => "a corner triangle has a corner",
            Some(Piece::SettingTriangle) => "a setting triangle has row, index, and side top or bottom",
            Some(Piece::LongSash) => "a long sash has a row",
            Some(Piece::SashInRow | Piece::SashBetweenRows | Piece::Cornerstone) => "this piece has row and column",
            Some(Piece::BorderCorner) => "a border corner has border and corner",
            Some(Piece::Filler) => "a filler has an index",
            Some(Piece::BorderBlock) => "a border block has border, side and index",
        };
        content(&format!("{path}.at"), why)
    })
}

fn plain(file: &At) -> Option<PlaceId> {
    if let At { piece: None, row, column, end, border, side, corner: None, index: None } = *file {
        return match (row, column, end, border, side) {
            (Some(row), Some(column), None, None, None) => Some(PlaceId::Cell { row, column }),
            (Some(row), None, Some(end), None, None) => Some(PlaceId::RowEnd { row, side: end.into() }),
            (None, None, None, Some(border), Some(side)) => Some(PlaceId::Border { border, side: side.into() }),
            _ => None,
        };
    }
    None
}

fn of_piece(file: &At) -> Option<PlaceId> {
    let At { piece, row, column, end: None, border, side, corner, index } = *file else { return None };
    Some(match (piece?, row, column, border, side, corner, index) {
        (Piece::SideTriangle, None, None, None, Some(side), None, Some(index)) => {
            PlaceId::SideTriangle { side: side.into(), index }
        }
        (Piece::CornerTriangle, None, None, None, None, Some(corner), None) => PlaceId::CornerTriangle(corner.into()),
        (Piece::SettingTriangle, Some(row), None, None, Some(side), None, Some(gap)) => {
            let upper = match side {
                v1::Side::Top => true,
                v1::Side::Bottom => false,
                v1::Side::Left | v1::Side::Right => return None,
            };
            PlaceId::SettingTriangle { row, gap, upper }
        }
        (Piece::SashInRow, Some(row), Some(column), None, None, None, None) => {
            PlaceId::Sash { row, column, level: false }
        }
        (Piece::SashBetweenRows, Some(row), Some(column), None, None, None, None) => {
            PlaceId::Sash { row, column, level: true }
        }
        (Piece::LongSash, Some(row), None, None, None, None, None) => PlaceId::LongSash { row },
        (Piece::Cornerstone, Some(row), Some(column), None, None, None, None) => PlaceId::Cornerstone { row, column },
        (Piece::BorderCorner, None, None, Some(border), None, Some(corner), None) => {
            PlaceId::BorderCorner { border, corner: corner.into() }
        }
        (Piece::BorderBlock, None, None, Some(border), Some(side), None, Some(index)) => {
            PlaceId::BorderBlock { border, side: side.into(), index }
        }
        (Piece::Filler, None, None, None, None, None, Some(index)) => PlaceId::Filler(index),
        _ => return None,
    })
}

/// How a file names `place`.
pub(super) fn write(place: PlaceId) -> At {
    let piece = |piece: Piece| At { piece: Some(piece), ..At::default() };
    match place {
        PlaceId::Cell { row, column } => At { row: Some(row), column: Some(column), ..At::default() },
        PlaceId::RowEnd { row, side } => At { row: Some(row), end: Some(side.into()), ..At::default() },
        PlaceId::Border { border, side } => At { border: Some(border), side: Some(side.into()), ..At::default() },
        PlaceId::SideTriangle { side, index } => {
            At { side: Some(side.into()), index: Some(index), ..piece(Piece::SideTriangle) }
        }
        PlaceId::CornerTriangle(corner) => At { corner: Some(corner.into()), ..piece(Piece::CornerTriangle) },
        PlaceId::SettingTriangle { row, gap, upper } => {
            let side = if upper { v1::Side::Top } else { v1::Side::Bottom };
            At { row: Some(row), index: Some(gap), side: Some(side), ..piece(Piece::SettingTriangle) }
        }
        PlaceId::Sash { row, column, level } => {
            let kind = if level { Piece::SashBetweenRows } else { Piece::SashInRow };
            At { row: Some(row), column: Some(column), ..piece(kind) }
        }
        PlaceId::LongSash { row } => At { row: Some(row), ..piece(Piece::LongSash) },
        PlaceId::Cornerstone { row, column } => {
            At { row: Some(row), column: Some(column), ..piece(Piece::Cornerstone) }
        }
        PlaceId::BorderCorner { border, corner } => {
            At { border: Some(border), corner: Some(corner.into()), ..piece(Piece::BorderCorner) }
        }
        PlaceId::BorderBlock { border, side, index } => {
            At { border: Some(border), side: Some(side.into()), index: Some(index), ..piece(Piece::BorderBlock) }
        }
        PlaceId::Filler(index) => At { index: Some(index), ..piece(Piece::Filler) },
    }
}
