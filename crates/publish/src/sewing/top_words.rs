//! How the quilt top is put together: rows of blocks, then borders.

use std::collections::{BTreeMap, BTreeSet};

use geometry::Exact;
use layout::{BorderKind, Design, PlaceId, Setting, Side};
use piecing::{Distance, QuiltPlan};

use super::hexagon_words::hexagon_words;
use super::setting_words::setting_words;
use crate::lengths::{counted, distance_words, finished};

/// The steps of the top, a sentence or two each: what is inside the borders, then the borders.
#[must_use]
pub fn top_words(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    let mut lines = inside_words(design, plan);
    lines.extend(border_words(design));
    lines
}

/// The steps up to the borders.
#[must_use]
pub fn inside_words(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    let told = setting_words(design).or_else(|| hexagon_words(design, &plan.rows));
    let mut lines = told.unwrap_or_else(|| rows_of_blocks(design, plan));
    // Where three hexagons meet no two seams run on in a line: there is nothing to nest but the seams of blocks. Nesting
    // of samplers is not planned.
    let may_nest = !matches!(design.setting(), Setting::HexagonRows { .. }) || plan.unnested.found > 0;
    let is_planned = design.sampler_plan().is_none();
    lines.extend((may_nest && is_planned).then(|| nest_words(plan)).into_iter().flatten());
    lines
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
    let ends = if halves { " Sew a half triangle to each end of the row." } else { "" };
    if columns > 1 {
        lines.push(format!(
            "Sew the blocks of each row together.{ends} A row measures {} × {}. {}",
            raw(design.cell().height()),
            raw(&whole),
            row_words(&plan.rows)
        ));
    }
    if rows > 1 {
        lines.push(format!(
            "Sew the rows together, seams nested. The top measures {} × {} now.",
            raw(&whole),
            raw(&high)
        ));
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
fn nest_words(plan: &QuiltPlan) -> Vec<String> {
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
            "With {} pressed the other way round throughout, {} left: {}.",
            counted(reversed.len() as u64, "block", "blocks"),
            counted(left.found as u64, "is", "are"),
            places_words(reversed)
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

/// "row 1: 2, 4; row 3: 1": places by row, blocks counted from the left.
fn places_words(places: &[PlaceId]) -> String {
    let mut rows: BTreeMap<u16, Vec<String>> = BTreeMap::new();
    for place in places {
        if let PlaceId::Cell { row, column } = place {
            rows.entry(*row).or_default().push((column + 1).to_string());
        }
    }
    let told = rows.into_iter().map(|(row, blocks)| format!("row {}: {}", row + 1, blocks.join(", ")));
    told.collect::<Vec<_>>().join("; ")
}

/// The borders, from the inside.
#[must_use]
pub fn border_words(design: &Design) -> Vec<String> {
    let (units, (mut width, mut height)) = (design.units(), design.setting_extent());
    let seam = design.seam().inches();
    let raw = |inches: &Exact| distance_words(&Distance::of(inches + &seam.scale_int(2)), units);
    let mut lines = Vec::new();
    for (index, border) in design.borders().iter().enumerate() {
        let inner = (width.clone(), height.clone());
        width = &width + &border.across(false).scale_int(2);
        height = &height + &border.across(true).scale_int(2);
        let wide = raw(border.across(false));
        let level = raw(border.across(true));
        let measure = "measure the top through its middle before cutting; as planned";
        let told = match border.kind {
            BorderKind::Butted => format!(
                "{measure} the side pieces are {wide} × {}, top and bottom {level} × {}. Sew the sides on first, press \
                 outward, then top and bottom.",
                raw(&inner.1),
                raw(&width)
            ),
            BorderKind::Mitred => format!(
                "{measure} the finished quilt is {} × {} here. Sew on strips {wide} wide, the width of the border longer at \
                 either end than the side, up to the seam line of the corners, then sew the corners at 45° and trim them.",
                finished(&width, units),
                finished(&height, units)
            ),
            BorderKind::CornerSquares(_) => format!(
                "{measure} the side pieces are {wide} × {}, top and bottom {wide} × {} with a square of {wide} at either \
                 end. Sew the sides on first, then top and bottom.",
                raw(&inner.1),
                raw(&inner.0)
            ),
            BorderKind::Pieced(_) => format!(
                "sew the blocks of each side together; the sides measure {wide} × {}, top and bottom {wide} × {} with a \
                 corner block at either end. Sew the sides on first, then top and bottom.",
                raw(&inner.1),
                raw(&inner.0)
            ),
        };
        lines.push(format!("Border {}: {told}", index + 1));
    }
    if !lines.is_empty() {
        lines.push(format!("The top measures {} × {} with its borders.", raw(&width), raw(&height)));
    }
    lines
}
