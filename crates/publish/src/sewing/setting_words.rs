//! How a centre is put together that is more than rows of blocks side by side: on point, with sashing, or a sampler.

use geometry::Exact;
use layout::{Design, Setting};
use piecing::Distance;

use super::sampler_words::sampler_words;
use crate::lengths::{counted, distance_words};

/// The steps up to the borders; none for plain rows.
pub(super) fn setting_words(design: &Design) -> Option<Vec<String>> {
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
            "Lay out {of} on point{between}, as in the picture of the quilt. Put side triangles into the gaps along the edges \
             and corner triangles in the corners, their straight grain on the outside."
        )
    } else {
        format!("Lay out {of}, as in the picture of the quilt, and turn every block as it is shown.")
    });
    lines.extend(sashing_words(design, &raw));
    let (width, height) = design.setting_extent();
    lines.push(if on_point {
        "Sew diagonal rows, each with the side triangles at its ends, then sew the rows together. Sew the corner triangles \
         on last."
            .to_owned()
    } else {
        "Sew each row together, then sew the rows together.".to_owned()
    });
    if on_point {
        let beyond =
            design.float().map_or_else(|| design.seam().inches().clone(), |f| f.inches() + design.seam().inches());
        lines.push(format!(
            "Trim the edges straight, {} beyond the tips of the blocks.",
            distance_words(&Distance::of(beyond), units)
        ));
    }
    lines.push(format!("The top measures {} × {} now.", raw(&width), raw(&height)));
    Some(lines)
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
