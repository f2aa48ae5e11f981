//! How a panel of pieces is cut apart, in words: with the ruler where it is a grid, in straight bands or columns where cuts
//! part them, else piece by piece round the template.

use cutting::methods::Blank;
use cutting::rounding::GRID_ALLOWANCE;
use cutting::row::nearly_same;
use geometry::lay::{LayBounds, LayPolygon};
use layout::Units;

use crate::lengths::{counted, finished, marked, on_ruler_in, up_to_ruler};

/// How many of the pieces of a panel the quilt takes, and of how many panels like it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Needed {
    /// Whether it takes all of them.
    pub(crate) all: bool,
    /// Whether there is only one panel.
    pub(crate) one: bool,
}

/// What is done with a panel of `rows` rows, round a template that is called so.
pub(crate) fn panel_words(blank: &Blank, rows: u32, units: Units, template: &str, needed: Needed) -> String {
    let many = blank.inner.len();
    let (most, each) = (if needed.all { "" } else { "up to " }, if needed.one { "it" } else { "each" });
    let taken = format!("{most}{many} from {each}");
    let polygons: Vec<&LayPolygon> = blank.inner.iter().map(|placement| &placement.polygon).collect();
    if let Some(told) = grid(&polygons, units) {
        return format!("{told}: {taken}");
    }
    let turned = if are_turned(&polygons) { ", every other one turned" } else { "" };
    let bands = Parts::of(&polygons, |bounds| (bounds.min.y, bounds.max.y));
    let columns = Parts::of(&polygons, |bounds| (bounds.min.x, bounds.max.x));
    let parted = |parts: &Parts, extent: (i64, i64), [one, many]: [&str; 2], apart: &str| {
        let each = parts.even()?;
        let count = counted(parts.count(), &format!("straight {one}"), &format!("straight {many}"));
        let wide = parts.pitch().map(|wide| format!(" of {}", part_size(wide, parts, extent, units)));
        let told = format!("{count}{}, {each} in each{turned}, {taken}", wide.unwrap_or_default());
        let edge = "edge to edge as drawn, for which wider cuts have no room";
        Some(format!("{told}: cut the {many} apart {apart} the fabric, then the pieces round {template}, {edge}"))
    };
    let across = blank.width - filled(&polygons, |bounds| (bounds.min.x, bounds.max.x));
    let along = blank.height - filled(&polygons, |bounds| (bounds.min.y, bounds.max.y));
    parted(&bands, (blank.height, across), ["band", "bands"], "across")
        .or_else(|| parted(&columns, (blank.width, along), ["column", "columns"], "along"))
        .unwrap_or_else(|| format!("{rows} rows pushed into each other{turned}, {taken}: cut round {template}"))
}

/// From the first edge of all pieces to the last one in one direction.
fn filled(polygons: &[&LayPolygon], span: impl Fn(&LayBounds) -> (i64, i64)) -> i64 {
    let spans: Vec<(i64, i64)> = polygons.iter().map(|polygon| span(&polygon.bounds())).collect();
    let ends = spans.iter().map(|span| span.0).min().zip(spans.iter().map(|span| span.1).max());
    ends.map_or(0, |(from, to)| to - from)
}

/// How wide each of several parts is: up to a mark of the ruler where the panel has the room, else exactly, and then no mark
/// will do. `extent` is that of the panel across its parts, `spare` what is free in it along them: slanted pieces of a wider
/// part reach farther, twice as far as it is wider at the most.
fn part_size(wide: i64, parts: &Parts, (extent, spare): (i64, i64), units: Units) -> String {
    let exact = on_ruler_in(wide);
    let at_mark = up_to_ruler(&exact, units);
    let count = i64::try_from(parts.count()).unwrap_or(i64::MAX);
    let farther = (&at_mark - &exact).scale_int(2);
    let has_room = at_mark.scale_int(count) <= on_ruler_in(extent) && farther <= on_ruler_in(spare);
    if at_mark == exact || (parts.are_apart() && has_room) {
        finished(&at_mark, units)
    } else {
        format!("exactly {}, set by the template and not by a mark of the ruler", marked(&exact, units))
    }
}

fn size(value: i64, units: Units) -> String {
    marked(&on_ruler_in(value), units)
}

/// "cut with the ruler into 5 strips 2¼″ wide, then every 2¼″": how rectangles in a grid are cut; none for other shapes and
/// for rows that are moved against each other so that a cut along the strip would part a piece.
fn grid(polygons: &[&LayPolygon], units: Units) -> Option<String> {
    let first = polygons.first()?.bounds();
    let is_alike = |polygon: &&LayPolygon| {
        let bounds = polygon.bounds();
        let is_upright = polygon.corners().len() == 4
            && polygon.edges().all(|(a, b)| (a.x - b.x).abs() <= GRID_ALLOWANCE || (a.y - b.y).abs() <= GRID_ALLOWANCE);
        is_upright
            && (bounds.width() - first.width()).abs() <= GRID_ALLOWANCE
            && (bounds.height() - first.height()).abs() <= GRID_ALLOWANCE
    };
    let bands = Parts::of(polygons, |bounds| (bounds.min.y, bounds.max.y));
    let is_single = bands.spans.iter().all(|(from, to, _)| to - from <= first.height() + GRID_ALLOWANCE);
    if !is_single || !polygons.iter().all(is_alike) {
        return None;
    }
    let (high, wide) = (size(first.height(), units), size(first.width(), units));
    let strips = counted(bands.count(), "strip", "strips");
    Some(format!("cut with the ruler into {strips} {high} wide, then every {wide}"))
}

/// Whether the pieces of a panel lie in more than one way.
fn are_turned(polygons: &[&LayPolygon]) -> bool {
    let Some(first) = polygons.first() else { return false };
    !polygons.iter().all(|other| nearly_same(&first.at_origin(), &other.at_origin()))
}

/// Parts of a panel that straight cuts part from their neighbours: where each begins and ends, and how many pieces it has.
struct Parts {
    spans: Vec<(i64, i64, usize)>,
}

impl Parts {
    fn of(polygons: &[&LayPolygon], span: impl Fn(&LayBounds) -> (i64, i64)) -> Self {
        let mut each: Vec<(i64, i64)> = polygons.iter().map(|polygon| span(&polygon.bounds())).collect();
        each.sort_unstable();
        let mut spans: Vec<(i64, i64, usize)> = Vec::new();
        for (from, to) in each {
            match spans.last_mut() {
                Some((_, reached, count)) if from < *reached => {
                    *reached = to.max(*reached);
                    *count += 1;
                }
                _ => spans.push((from, to, 1)),
            }
        }
        Self { spans }
    }

    fn count(&self) -> u64 {
        self.spans.len() as u64
    }

    /// Whether each part begins where the one before it ends.
    fn are_apart(&self) -> bool {
        self.spans.windows(2).all(|pair| pair[1].0 + GRID_ALLOWANCE >= pair[0].1)
    }

    /// How many pieces are in each of several parts, if in all of them as many.
    fn even(&self) -> Option<usize> {
        let (_, _, first) = *self.spans.first()?;
        (self.spans.len() > 1 && self.spans.iter().all(|(_, _, count)| *count == first)).then_some(first)
    }

    /// From one part to the next, if they follow each other evenly.
    fn pitch(&self) -> Option<i64> {
        let steps: Vec<i64> = self.spans.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
        let first = *steps.first()?;
        steps.iter().all(|step| (step - first).abs() <= GRID_ALLOWANCE).then_some(first)
    }
}

#[cfg(test)]
mod tests {
    use cutting::methods::Method;
    use cutting::{PieceId, Placement};
    use geometry::lay::{LayPoint, UNITS_PER_INCH};

    use super::*;

    /// A panel of three rows of four pieces an inch wide; every second row is moved by so many quarters of an inch across,
    /// every second piece by so many up.
    fn panel(piece: &LayPolygon, [across, up]: [i64; 2]) -> Blank {
        let quarter = UNITS_PER_INCH / 4;
        let place = |row: i64, column: i64| {
            let x = column * UNITS_PER_INCH + row % 2 * across * quarter;
            let y = row * UNITS_PER_INCH + column % 2 * up * quarter;
            Placement { piece: PieceId(0), polygon: piece.moved(x, y) }
        };
        let inner = (0..3).flat_map(|row| (0..4).map(move |column| (row, column)));
        let inner = inner.map(|(row, column)| place(row, column)).collect();
        let (width, height) = (5 * UNITS_PER_INCH, 3 * UNITS_PER_INCH);
        let method = Method::Nested { rows: 3 };
        Blank { method, width, height, exact_width: width, exact_height: height, inner }
    }

    fn told(piece: &LayPolygon, moved: [i64; 2]) -> String {
        panel_words(&panel(piece, moved), 3, Units::Inches, "template C", Needed { all: true, one: true })
    }

    #[test]
    fn panels_are_cut_as_they_lie() {
        let square = LayPolygon::rectangle(UNITS_PER_INCH, UNITS_PER_INCH).unwrap();
        let triangle = [(0, 0), (UNITS_PER_INCH, 0), (0, UNITS_PER_INCH)].map(|(x, y)| LayPoint::new(x, y)).to_vec();
        let triangle = LayPolygon::new(triangle).unwrap();
        assert_eq!(told(&square, [0, 0]), "cut with the ruler into 3 strips 1″ wide, then every 1″: 12 from it");
        // Strips may be moved against each other; the ruler parts their squares all the same.
        assert_eq!(told(&square, [2, 0]), told(&square, [0, 0]));
        let bands = told(&triangle, [2, 0]);
        assert!(bands.starts_with("3 straight bands of 1″, 4 in each, 12 from it: "), "{bands}");
        assert!(bands.contains("then the pieces round template C, edge to edge as drawn"), "{bands}");
        let columns = told(&square, [0, 2]);
        assert!(columns.starts_with("4 straight columns of 1″, 3 in each, 12 from it: "), "{columns}");
        let nested = told(&triangle, [2, 2]);
        assert_eq!(nested, "3 rows pushed into each other, 12 from it: cut round template C");
    }
}
