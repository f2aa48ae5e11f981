//! Which end of a row takes which of its end triangles, where they come in two hands.

use std::collections::{BTreeMap, BTreeSet};

use cutting::ClassBook;
use layout::{Design, PlaceId, Placed, Print, Setting, Side, Source};

use crate::PublishError;
use crate::names::listed;

/// A sentence that says where the end triangles of each hand go; none where all of them are alike.
///
/// # Errors
/// A fabric that is not there, or a piece that has no cut shape.
pub(super) fn ends_words(design: &Design) -> Result<Option<String>, PublishError> {
    if !matches!(design.setting(), Setting::TriangleRows { .. } | Setting::StarRows { .. }) {
        return Ok(None);
    }
    let mut rows: BTreeMap<String, BTreeMap<Corner, BTreeSet<u16>>> = BTreeMap::new();
    let ends = [Source::RowEnd, Source::SettingTriangle { at_end: true }];
    let top = design.top()?;
    let placed: Vec<&Placed> = top.placed.iter().filter(|placed| ends.contains(&placed.source)).collect();
    let hands: BTreeSet<(Source, bool)> = placed.iter().map(|p| (p.source, p.motion.is_mirrored())).collect();
    let book = ClassBook::new(design, hands)?;
    for placed in placed {
        let (Some((row, corner)), [patch]) = (end_of(placed.place), placed.block.patches()) else {
            return Ok(None);
        };
        let print = design.fabric(design.paint(placed.place, placed.source, &placed.block, 0)?)?.print;
        if print == Print::TwoSided {
            return Ok(None);
        }
        let class = book.of_patch(placed.source, patch.key, placed.motion.is_mirrored(), print);
        let Some(class) = class.and_then(|id| book.class(id)) else { return Ok(None) };
        rows.entry(class.label()).or_default().entry(corner).or_default().insert(row);
    }
    if rows.len() < 2 {
        return Ok(None);
    }
    let all = design.setting().size().0;
    let told = rows.into_iter().map(|(label, corners)| {
        let mut by_rows: BTreeMap<&BTreeSet<u16>, Vec<String>> = BTreeMap::new();
        for (corner, rows) in &corners {
            by_rows.entry(rows).or_default().push(corner.words());
        }
        let places: Vec<String> =
            by_rows.iter().map(|(rows, corners)| format!("{} {}", listed(corners), of_rows(rows, all))).collect();
        format!("{label}, goes to {}", listed(&places))
    });
    Ok(Some(format!("Which end takes which: {}.", told.collect::<Vec<_>>().join("; "))))
}

/// A sentence that says which corner triangle of each hand goes where between rows of hexagons; none where all are alike.
///
/// # Errors
/// As [`ends_words`].
pub(super) fn corners_words(design: &Design) -> Result<Option<String>, PublishError> {
    if !matches!(design.setting(), Setting::HexagonRows { .. }) {
        return Ok(None);
    }
    let top = design.top()?;
    let corners: Vec<(&Placed, layout::Corner)> =
        top.placed.iter().filter_map(|placed| Some((placed, corner_of(placed.place)?))).collect();
    let book = ClassBook::new(
        design,
        corners.iter().map(|(p, _)| (p.source, p.motion.is_mirrored())).collect::<BTreeSet<_>>(),
    )?;
    let mut told: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (placed, corner) in corners {
        let [patch] = placed.block.patches() else { return Ok(None) };
        let print = design.fabric(design.paint(placed.place, placed.source, &placed.block, 0)?)?.print;
        let class = book.of_patch(placed.source, patch.key, placed.motion.is_mirrored(), print);
        let Some(class) = class.and_then(|id| book.class(id)).filter(|_| print != Print::TwoSided) else {
            return Ok(None);
        };
        told.entry(class.label()).or_default().push(corner_name(corner).to_owned());
    }
    if told.len() < 2 {
        return Ok(None);
    }
    let told = told.iter().map(|(label, corners)| format!("{label}, goes to {}", listed(corners)));
    Ok(Some(format!("Which corner takes which: {}.", told.collect::<Vec<_>>().join("; "))))
}

const fn corner_of(place: PlaceId) -> Option<layout::Corner> {
    match place {
        PlaceId::CornerTriangle(corner) => Some(corner),
        _ => None,
    }
}

const fn corner_name(corner: layout::Corner) -> &'static str {
    match corner {
        layout::Corner::TopLeft => "the upper left",
        layout::Corner::TopRight => "the upper right",
        layout::Corner::BottomLeft => "the lower left",
        layout::Corner::BottomRight => "the lower right",
    }
}

/// Where at a row an end triangle stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Corner {
    right: bool,
    /// Whether it is the lower of two at the same end; none where there is one alone.
    lower: Option<bool>,
}

impl Corner {
    fn words(self) -> String {
        let side = if self.right { "right" } else { "left" };
        match self.lower {
            None => format!("the {side} end"),
            Some(false) => format!("the upper {side}"),
            Some(true) => format!("the lower {side}"),
        }
    }
}

/// The row of an end triangle, and where at it.
const fn end_of(place: PlaceId) -> Option<(u16, Corner)> {
    match place {
        PlaceId::RowEnd { row, side } => Some((row, Corner { right: matches!(side, Side::Right), lower: None })),
        PlaceId::SettingTriangle { row, gap, upper } => Some((row, Corner { right: gap > 0, lower: Some(!upper) })),
        _ => None,
    }
}

/// "of every row", "of the first row and every second one after it", or "of rows 1, 4".
fn of_rows(rows: &BTreeSet<u16>, all: u16) -> String {
    let every_second = |first: u16| rows.iter().copied().eq((first..all).step_by(2));
    if rows.len() == usize::from(all) {
        return "of every row".to_owned();
    }
    match all {
        2 if every_second(0) => "of the first row".to_owned(),
        2 | 3 if every_second(1) => "of the second row".to_owned(),
        _ if every_second(0) => "of the first row and every second one after it".to_owned(),
        _ if every_second(1) => "of the second row and every second one after it".to_owned(),
        _ => {
            let numbers: Vec<String> = rows.iter().map(|row| (u32::from(*row) + 1).to_string()).collect();
            format!("of {} {}", if numbers.len() == 1 { "row" } else { "rows" }, numbers.join(", "))
        }
    }
}
