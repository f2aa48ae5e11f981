//! How the quilt top is put together: rows of blocks, then borders.

use geometry::Exact;
use layout::{Design, Setting, Side};
use piecing::{Distance, QuiltPlan};

use super::border_words::border_words;
use super::end_words::{corners_words, ends_words};
use super::hexagon_words::hexagon_words;
use super::nest_words::nest_words;
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
    let mut lines = bare_words(design, plan)?;
    // What goes where is told where it is laid out, before it is sewn.
    if let Some(ends) = ends_words(design)?.or(corners_words(design)?) {
        lines.insert(lines.len().min(1), ends);
    }
    Ok(lines)
}

fn bare_words(design: &Design, plan: &QuiltPlan) -> Result<Vec<String>, PublishError> {
    if let Some(told) = setting_words(design, plan).or_else(|| hexagon_words(design, plan.pressed_rows())) {
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
            raw(&whole),
            raw(design.cell().height()),
            row_words(plan.pressed_rows())
        ));
    }
    if rows > 1 {
        let nested = if plan.unnested.found == 0 { ", seams nested" } else { "" };
        lines.push(format!(
            "Sew the rows together{nested}. {LONG_SEAMS} The top measures {} × {} now.",
            raw(&whole),
            raw(&high)
        ));
    }
    lines
}

/// How long seams from row to row are pressed: nothing meets them that is sewn later (common practice, no source).
pub(super) const LONG_SEAMS: &str = "Press the long seams down.";

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
