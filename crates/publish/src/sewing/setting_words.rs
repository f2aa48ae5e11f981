//! How a centre is put together that is more than rows of blocks side by side: on point, with sashing, or a sampler.

use geometry::Exact;
use layout::{Design, Setting};
use piecing::{Distance, QuiltPlan};

use super::sampler_words::sampler_words;
use super::top_words::{LONG_SEAMS, row_words};
use crate::lengths::{counted, distance_words};

/// The steps up to the borders; none for plain rows.
pub(super) fn setting_words(design: &Design, plan: &QuiltPlan) -> Option<Vec<String>> {
    if let Some(unit) = design.sampler_unit() {
        return Some(sampler_words(design, unit));
    }
    let on_point = matches!(design.setting(), Setting::OnPoint { .. });
    if !on_point && design.sashing().is_none() {
        return None;
    }
    let units = design.units();
    let raw = |inches: &Exact| distance_words(&Distance::of(inches + &design.seam().inches().scale_int(2)), units);
    let (rows, columns) = design.setting().size();
    let mut lines = Vec::new();
    let of = format!("{} of {}", counted(rows.into(), "row", "rows"), counted(columns.into(), "block", "blocks"));
    lines.push(if on_point {
        let between = if rows > 1 && columns > 1 {
            format!(" and, between them, rows of {}", counted(u64::from(columns) - 1, "block", "blocks"))
        } else {
            String::new()
        };
        format!(
            "Lay out {of} on point{between}, counted straight across the quilt, as in the picture of the quilt. Put side triangles into the gaps along the edges \
             and corner triangles in the corners, their straight grain on the outside."
        )
    } else {
        format!("Lay out {of}, as in the picture of the quilt, and turn every block as it is shown.")
    });
    lines.extend(sashing_words(design, &raw));
    let (width, height) = design.setting_extent();
    let sewn = if on_point {
        format!("{}{}", diagonal_rows(design), numbered_rows(design))
    } else {
        "Sew each row together, then sew the rows together.".to_owned()
    };
    // Rows nest only when they are pressed before they are joined.
    lines.push(format!("{sewn} Press each row before it is sewn to the next."));
    lines.push(pressed_words(design, plan));
    if on_point {
        let beyond =
            design.float().map_or_else(|| design.seam().inches().clone(), |f| f.inches() + design.seam().inches());
        lines.push(format!(
            "Straighten the edges: they lie {} beyond the tips of {}; trim what reaches farther.",
            distance_words(&Distance::of(beyond), units),
            outermost(design)
        ));
    }
    lines.push(format!("The top measures {} × {} now.", raw(&width), raw(&height)));
    Some(lines)
}

/// How a top on point is joined. A row of sashes is as long as the row of blocks outside it with its sashes, and the side
/// triangles lie along both.
const fn diagonal_rows(design: &Design) -> &'static str {
    match design.sashing() {
        None => {
            "Sew diagonal rows, each with the side triangles at its ends, then sew the rows together. Sew the corner triangles \
             on last."
        }
        Some(sashing) if sashing.outer => {
            "Sew diagonal rows of blocks with sashes between them and at both ends, and rows of sashes for between and \
             outside them. Sew each row of blocks to the row of sashes on its outer side, then side triangles to the ends \
             of the two, but for the ends where a corner triangle goes. Sew all of these together, and the corner triangles on last."
        }
        Some(_) => {
            "Sew diagonal rows of blocks with sashes between them, each with the side triangles at its ends, and rows of \
             sashes for between them. Sew all of these together, and the corner triangles on last."
        }
    }
}

/// Which rows the numbers mean by which rows of blocks are told and drawn.
fn numbered_rows(design: &Design) -> String {
    match design.setting().sewn_size().0 {
        0 | 1 => String::new(),
        rows => format!(
            " There are {rows} diagonal rows of blocks, which run up to the right; row 1 is the one in the upper left \
             corner. Wherever rows have numbers, these rows are meant."
        ),
    }
}

/// How the seams of a top on point or with sashing are pressed. Toward the sashes seams nest at every cornerstone, and the
/// blocks, where most layers lie, stay flat (common practice, no source).
fn pressed_words(design: &Design, plan: &QuiltPlan) -> String {
    let triangles = if matches!(design.setting(), Setting::OnPoint { .. }) {
        " Press the seams of side and corner triangles toward the triangles."
    } else {
        ""
    };
    match design.sashing() {
        Some(sashing) if sashing.cornerstones.is_some() => format!(
            "Press all these seams toward the sashes, away from blocks and cornerstones: so seams nest at every \
             cornerstone.{triangles}"
        ),
        Some(_) => format!("Press all these seams toward the sashes, away from the blocks.{triangles}"),
        None => format!(
            "{} Left is the end of a diagonal row that lies lower. {LONG_SEAMS}{triangles}",
            row_words(plan.pressed_rows())
        ),
    }
}

/// What has the outermost tips of a top on point.
fn outermost(design: &Design) -> &'static str {
    match design.sashing().filter(|sashing| sashing.outer) {
        None => "the blocks",
        Some(sashing) if sashing.cornerstones.is_some() => "the outer cornerstones",
        Some(_) => "the outer sashes",
    }
}

fn sashing_words(design: &Design, raw: &impl Fn(&Exact) -> String) -> Option<String> {
    let sashing = design.sashing()?;
    let between = if sashing.outer { "between the blocks and round the outside" } else { "between the blocks" };
    let wide = raw(sashing.width.inches());
    Some(if sashing.cornerstones.is_some() {
        format!("Put sashes {wide} wide {between}, and a cornerstone wherever sashes meet.")
    } else {
        format!("Put sashes {wide} wide {between}: short ones within the rows, long ones from row to row.")
    })
}
