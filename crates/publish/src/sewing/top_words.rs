//! How the quilt top is put together: rows of blocks, then borders.

use geometry::Exact;
use layout::{Design, Setting, Units};

use crate::lengths::{counted, finished};

/// The steps of the top, a sentence or two each.
#[must_use]
pub fn top_words(design: &Design) -> Vec<String> {
    let (rows, columns) = design.setting().size();
    let seam = design.seam().inches();
    let units = design.units();
    let raw = |inches: &Exact| finished(&(inches + &seam.scale_int(2)), units);
    let (whole, high) = design.setting_extent();
    let mut lines = vec![format!(
        "Lay out {} of {}, as in the picture of the quilt, and turn every block as it is shown.",
        counted(rows.into(), "row", "rows"),
        counted(columns.into(), "block", "blocks")
    )];
    let ends = match design.setting() {
        Setting::TriangleRows { .. } => " Sew a half triangle to each end of the row.",
        Setting::Straight { .. } => "",
    };
    if columns > 1 {
        lines.push(format!(
            "Sew the blocks of each row together.{ends} A row measures {} × {}. Press the seams of the first row to one side, of \\
             the next row to the other, and so on.",
            raw(design.cell().height()),
            raw(&whole)
        ));
    }
    if rows > 1 {
        lines.push(format!(
            "Sew the rows together, seams nested. The top measures {} × {} now.",
            raw(&whole),
            raw(&high)
        ));
    }
    lines.extend(border_words(design, units, (whole, high)));
    lines
}

/// The borders, from the inside.
fn border_words(design: &Design, units: Units, (mut width, mut height): (Exact, Exact)) -> Vec<String> {
    let seam = design.seam().inches();
    let raw = |inches: &Exact| finished(&(inches + &seam.scale_int(2)), units);
    let mut lines = Vec::new();
    for (index, border) in design.borders().iter().enumerate() {
        let both = border.width.inches().scale_int(2);
        let wide = raw(border.width.inches());
        let sides = raw(&height);
        width = &width + &both;
        lines.push(format!(
            "Border {}: measure the top through its middle before cutting; as planned the side pieces are {wide} × {sides}, \\
             top and bottom {wide} × {}. Sew the sides on first, press outward, then top and bottom.",
            index + 1,
            raw(&width)
        ));
        height = &height + &both;
    }
    if !lines.is_empty() {
        lines.push(format!("The top measures {} × {} with its borders.", raw(&width), raw(&height)));
    }
    lines
}
