//! How the quilt top is put together: rows of blocks, then borders.

use std::collections::{BTreeMap, BTreeSet};

use geometry::Exact;
use layout::{Design, PlaceId, Setting, Side};
use piecing::{Distance, QuiltPlan};

use super::border_words::border_words;
use super::hexagon_words::hexagon_words;
use super::sampler_words::listed;
use super::setting_words::setting_words;
use crate::PublishError;
use crate::lengths::{counted, distance_words};

/// The steps of the top, a sentence or two each: what is inside the borders, then the borders.
///
/// # Errors
/// A block or fabric that is not there.
pub fn top_words(design: &Design, plan: &QuiltPlan) -> Result<Vec<String>, PublishError> {
    let mut lines = inside_words(design, plan)?;
    lines.extend(nest_words(design, plan));
    lines.extend(border_words(design)?);
    Ok(lines)
}

/// The steps up to the borders.
///
/// # Errors
/// A block that is not there.
pub fn inside_words(design: &Design, plan: &QuiltPlan) -> Result<Vec<String>, PublishError> {
    if let Some(told) = setting_words(design).or_else(|| hexagon_words(design, &plan.rows)) {
        return Ok(told);
    }
    let mut places = design.places();
    match (places.next(), places.next()) {
        (Some((_, only)), None) => Ok(vec![centre(design, design.block(only.block)?.name())]),
        _ => Ok(rows_of_blocks(design, plan)),
    }
}

/// One block that is the whole centre.
fn centre(design: &Design, name: &str) -> String {
    let (width, height) = design.setting_extent();
    let raw =
        |inches: &Exact| distance_words(&Distance::of(inches + &design.seam().inches().scale_int(2)), design.units());
    let turned = "turned as in the picture of the quilt";
    format!("{name} is the centre, {turned}. It measures {} × {}.", raw(&width), raw(&height))
}

/// Whether seams nest where blocks meet, and what to do where they do not.
#[must_use]
pub fn nest_words(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    // Where three hexagons meet no two seams run on in a line: there is nothing to nest but the seams of blocks. Nesting
    // of samplers is not planned, and one block alone meets no other.
    let may_nest = !matches!(design.setting(), Setting::HexagonRows { .. }) || plan.unnested.found > 0;
    let meets = design.places().nth(1).is_some();
    if may_nest && meets && design.sampler_plan().is_none() { nested(design, plan) } else { Vec::new() }
}

/// Rows of blocks side by side.
fn rows_of_blocks(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    let (rows, columns) = design.setting().size();
    let seam = design.seam().inches();
    let units = design.units();
    let raw = |inches: &Exact| distance_words(&Distance::of(inches + &seam.scale_int(2)), units);
    let (whole, high) = design.setting_extent();
    let mut lines = vec![format!(
        "Lay out {} of {}, as in the picture of the quilt, and turn every block as it is shown.",
        counted(rows.into(), "row", "rows"),
        counted(columns.into(), "block", "blocks")
    )];
    let halves = matches!(design.setting(), Setting::TriangleRows { .. });
    let ends = if halves { " Sew a row end triangle to each end of the row, leaning as shown." } else { "" };
    if columns > 1 {
        lines.push(format!(
            "Sew the blocks of each row together.{ends} A row measures {} × {}. {}",
            raw(design.cell().height()),
            raw(&whole),
            row_words(&plan.rows)
        ));
    }
    if rows > 1 {
        let nested = if plan.unnested.found == 0 { ", seams nested" } else { "" };
        lines.push(format!("Sew the rows together{nested}. The top measures {} × {} now.", raw(&whole), raw(&high)));
    }
    lines
}

/// To which side the seams of the rows go.
pub(super) fn row_words(rows: &[Side]) -> String {
    let word = |side: Side| if side == Side::Left { "left" } else { "right" };
    let alternate = rows.windows(2).all(|pair| pair[0] != pair[1]);
    match rows {
        [first, second, ..] if alternate => format!(
            "Press the seams between the blocks to the {} in the first row, to the {} in the next, and so on by turns.",
            word(*first),
            word(*second)
        ),
        [only] => format!("Press the seams between the blocks to the {}.", word(*only)),
        [first, ..] if rows.iter().all(|side| side == first) => {
            format!("Press the seams between the blocks to the {} in all rows.", word(*first))
        }
        rows => {
            let of = |wanted: Side| {
                let rows = rows.iter().enumerate().filter(|(_, side)| **side == wanted);
                rows.map(|(index, _)| (index + 1).to_string()).collect::<Vec<_>>().join(", ")
            };
            format!(
                "Press the seams between the blocks to the left in rows {}, to the right in rows {}.",
                of(Side::Left),
                of(Side::Right)
            )
        }
    }
}

/// Whether seams nest all over the top.
fn nested(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    let points = |n: usize| counted(n as u64, "meeting of seams", "meetings of seams");
    if plan.unnested.found == 0 {
        return vec!["Pressed as the arrows show, seams nest wherever blocks meet.".to_owned()];
    }
    let proof = if plan.unnested.is_least() {
        "fewer are not possible with all copies of a block pressed alike (proved)".to_owned()
    } else {
        format!("at least {} are left with all copies of a block pressed alike", plan.unnested.at_least)
    };
    let mut lines = vec![format!(
        "{} between blocks cannot nest: {proof}. Press one of the two open there, or pin.",
        points(plan.unnested.found)
    )];
    lines.extend(lost_words(plan));
    let (reversed, left) = (&plan.reversed.0, plan.reversed.1);
    if left.found < plan.unnested.found && !reversed.is_empty() {
        lines.push(format!(
            "Only {} left if {} pressed the other way round throughout: {}.",
            counted(left.found as u64, "is", "are"),
            counted(reversed.len() as u64, "block is", "blocks are"),
            places_words(design, reversed)
        ));
    }
    lines
}

/// Where seams do not nest: the first few places.
fn lost_words(plan: &QuiltPlan) -> Option<String> {
    const TOLD: usize = 4;
    let told: Vec<String> = plan.lost.iter().take(TOLD).map(|meeting| between(&meeting.places)).collect();
    let more = plan.lost.len().saturating_sub(TOLD);
    let more = if more == 0 { String::new() } else { format!("; and {more} more") };
    (!told.is_empty()).then(|| format!("They are in {}{more}.", told.join("; ")))
}

/// "rows 4 and 5, column 2": the blocks that meet at a point.
fn between(places: &[PlaceId]) -> String {
    let (mut rows, mut columns) = (BTreeSet::new(), BTreeSet::new());
    for place in places {
        let PlaceId::Cell { row, column } = place else {
            return places.iter().map(PlaceId::to_string).collect::<Vec<_>>().join(" and ");
        };
        rows.insert(row + 1);
        columns.insert(column + 1);
    }
    let told = |name: &str, numbers: BTreeSet<u16>| {
        let plural = if numbers.len() == 1 { "" } else { "s" };
        let numbers: Vec<String> = numbers.into_iter().map(|n| n.to_string()).collect();
        format!("{name}{plural} {}", numbers.join(" and "))
    };
    format!("{}, {}", told("row", rows), told("column", columns))
}

/// "all of rows 2 and 4; row 1: blocks 2, 4": places by row, blocks counted from the left.
fn places_words(design: &Design, places: &[PlaceId]) -> String {
    let mut rows: BTreeMap<u16, BTreeSet<u16>> = BTreeMap::new();
    for place in places {
        if let PlaceId::Cell { row, column } = place {
            rows.entry(*row).or_default().insert(column + 1);
        }
    }
    let in_row = |wanted: u16| {
        design.places().filter(|(place, _)| matches!(place, PlaceId::Cell { row, .. } if *row == wanted)).count()
    };
    let (whole, part): (Vec<_>, Vec<_>) = rows.into_iter().partition(|(row, blocks)| blocks.len() == in_row(*row));
    let whole: Vec<String> = whole.into_iter().map(|(row, _)| (row + 1).to_string()).collect();
    let mut told: Vec<String> = match whole.as_slice() {
        [] => Vec::new(),
        [only] => vec![format!("all of row {only}")],
        rows => vec![format!("all of rows {}", listed(rows))],
    };
    told.extend(part.into_iter().map(|(row, blocks)| {
        let name = if blocks.len() == 1 { "block" } else { "blocks" };
        let blocks: Vec<String> = blocks.iter().map(u16::to_string).collect();
        format!("row {}: {name} {}", row + 1, blocks.join(", "))
    }));
    told.join("; ")
}
