//! How rows of hexagons and star rows are put together: the one with set-in seams, the other with straight ones.

use geometry::Exact;
use layout::{Design, PlaceId, Setting, Side};
use piecing::Distance;

use super::top_words::{LONG_SEAMS, row_words};
use crate::lengths::{counted, distance_words};

/// The steps up to the borders; none for other settings.
pub(super) fn hexagon_words(design: &Design, pressed: &[Side]) -> Option<Vec<String>> {
    let units = design.units();
    let raw = |inches: &Exact| distance_words(&Distance::of(inches + &design.seam().inches().scale_int(2)), units);
    let (width, height) = design.setting_extent();
    let mut lines = match design.setting() {
        Setting::HexagonRows { rows, columns, .. } => hexagon_rows(design, (rows, columns), pressed),
        Setting::StarRows { rows, columns, .. } => {
            let row = format!("A row measures {} × {}.", raw(&width), raw(design.cell().height()));
            star_rows((rows, columns), &row, pressed)
        }
        _ => return None,
    };
    lines.push(format!("The top measures {} × {} now.", raw(&width), raw(&height)));
    Some(lines)
}

/// How often rows of hexagons are set into each other and edge triangles into them; other settings have straight seams.
pub(crate) fn pivots_of_rows(design: &Design) -> u64 {
    let Setting::HexagonRows { rows, columns, .. } = design.setting() else { return 0 };
    in_a_seam(columns) * (u64::from(rows) - 1) + edge_triangles(design)
}

/// Pivots of a seam from row to row.
fn in_a_seam(columns: u16) -> u64 {
    2 * u64::from(columns) - 1
}

fn edge_triangles(design: &Design) -> u64 {
    design.all_places().filter(|place| matches!(place, PlaceId::SideTriangle { .. })).count() as u64
}

/// Hexagons on a point: every seam from row to row is set in.
fn hexagon_rows(design: &Design, (rows, columns): (u16, u16), pressed: &[Side]) -> Vec<String> {
    let between = if rows > 1 {
        let fewer = match columns {
            1 => "only half a hexagon at either end".to_owned(),
            _ => format!("{} and half a hexagon at either end", u64::from(columns) - 1),
        };
        format!(", {} {fewer}", if rows > 2 { "in the rows between" } else { "in the second" })
    } else {
        String::new()
    };
    let edges = edge_triangles(design);
    let corners = design.all_places().filter(|place| matches!(place, PlaceId::CornerTriangle(_))).count() as u64;
    let first = if rows > 2 { "in the first row and every second one after it" } else { "in the first row" };
    let mut lines = vec![
        format!(
            "Lay out {} of hexagons on a point, as in the picture of the quilt, and turn every block as it is shown: {} \
             {first}{between}. Put {} along top and bottom and {} into the corners, their \
             straight grain on the outside.",
            counted(rows.into(), "row", "rows"),
            columns,
            counted(edges, "edge triangle", "edge triangles"),
            counted(corners, "corner triangle", "corner triangles"),
        ),
        "Mark on the wrong side where seam lines cross at every corner. Sew each row together at its upright seams from mark \
         to mark, and leave the allowances at both ends open."
            .to_owned(),
    ];
    // Rows are pressed before they are set into each other.
    let pressing = press_words(pressed, rows, columns);
    lines.extend(pressing.first().cloned());
    let (in_a_seam, seams) = (in_a_seam(columns), u64::from(rows) - 1);
    if seams > 0 {
        let all = if seams > 1 { format!(", {} in all", in_a_seam * seams) } else { String::new() };
        lines.push(format!(
            "Set the rows into each other. A seam from row to row is a zigzag of {} sides with {} to set in{all}: sew from mark \
             to mark with the needle down at each mark, lift the presser foot, turn, and go on along the next side.",
            2 * columns,
            counted(in_a_seam, "pivot", "pivots"),
        ));
    }
    if edges > 0 {
        lines.push(format!("Set in the edge triangles in the same way, each with one pivot, {edges} in all."));
    }
    if corners > 0 {
        lines.push("Sew the corner triangles on last; their seams are straight.".to_owned());
    }
    lines.extend(pressing.into_iter().skip(1));
    if edges + corners > 0 {
        lines.push("Press the seams of edge and corner triangles toward the triangles.".to_owned());
    }
    lines
}

/// How set-in rows are pressed: within the rows, then between them. Seams that turn the same way round lie flat (common
/// practice, no source): with all upright seams on one side, those between rows then go up and down by turns.
fn press_words(pressed: &[Side], rows: u16, columns: u16) -> Vec<String> {
    if rows == 1 && columns == 1 {
        return Vec::new();
    }
    let alike = pressed.windows(2).all(|pair| pair[0] == pair[1]);
    let between = match rows {
        1 => None,
        _ if alike => Some(
            "Press the seams between rows last, up and down by turns from side to side, so that the three seams at every point \
             turn the same way round and lie flat.",
        ),
        _ => Some("Press the seams between rows last, at every point to the side on which it lies flattest."),
    };
    std::iter::once(row_words(pressed)).chain(between.map(str::to_owned)).collect()
}

/// Hexagons on a side, point to point: with its setting triangles every block sews in straight seams.
fn star_rows((rows, columns): (u16, u16), row: &str, pressed: &[Side]) -> Vec<String> {
    let of = format!("{} of {}", counted(rows.into(), "row", "rows"), counted(columns.into(), "block", "blocks"));
    let ends = "two end triangles at the left and right of every row";
    let gaps = if columns > 1 {
        format!("a setting triangle into the upper and the lower gap between neighbours, and {ends}")
    } else {
        ends.to_owned()
    };
    let mut lines = vec![format!(
        "Lay out {of} on a side, point to point, as in the picture of the quilt, and turn every block as it is shown. Put \
         {gaps}, the straight grain of all of them along the edges of the row."
    )];
    lines.push(if columns > 1 {
        "Sew a setting triangle to the upper left and one to the lower right of every block, with two exceptions. The first \
         block of a row takes an end triangle at its upper left and one at its lower left, and a setting triangle at its lower \
         right. The last block takes a setting triangle at its upper left, and an end triangle at its upper right and one at \
         its lower right. All these seams are straight. Press them toward the triangles."
            .to_owned()
    } else {
        "Sew the end triangles to the left and right of every block, in straight seams. Press them toward the triangles.".to_owned()
    });
    if columns > 1 {
        lines.push(format!(
            "Sew the blocks of each row together: straight seams, each along a block and a triangle on either side, matched \
             where the points of the blocks meet. {}",
            row_words(pressed)
        ));
    }
    if rows > 1 {
        let diamonds = if columns > 1 {
            ". The setting triangles of two rows meet there as diamonds: pin where their points come together"
        } else {
            ""
        };
        lines.push(format!("{row} Sew the rows together in straight seams{diamonds}. {LONG_SEAMS}"));
    }
    lines
}
