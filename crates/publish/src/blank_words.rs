//! What is done with a blank, in the words of the cutting table.

use cutting::PlannedPiece;
use cutting::methods::{Blank, Method};
use layout::Units;

use crate::lengths::{counted, ruler};

/// "each cut twice on the diagonal into 4": how pieces come out of a blank; none for a piece that is no blank.
#[must_use]
pub fn blank_words(piece: &PlannedPiece, units: Units) -> Option<String> {
    piece.blank.as_ref().map(|blank| taken_apart(blank, units))
}

fn taken_apart(blank: &Blank, units: Units) -> String {
    let many = blank.inner.len() as u64;
    match blank.method {
        Method::SquareOnce => "each cut once on the diagonal into 2".to_owned(),
        Method::SquareTwice => "each cut twice on the diagonal into 4".to_owned(),
        Method::PairedSquares(_) => "each sewn to its partner on both sides of a diagonal, then cut on it".to_owned(),
        Method::QuarteredPairs(_) => "each sewn to its partner and cut, paired across and cut again".to_owned(),
        Method::StripSet(across) => {
            let apart = ruler(across.square_to_cut, units);
            format!("sewn into a set, then cut across every {apart}: {} of each", counted(many, "segment", "segments"))
        }
        Method::OntoStrip(across) => {
            let apart = ruler(across.square_to_cut, units);
            format!("neighbours sewn on every {apart}, then cut apart: {many} of each")
        }
        Method::Folded { pairs } => {
            format!("folded selvage to selvage, {} through both layers", counted(pairs, "cut", "cuts"))
        }
        Method::Nested { rows } if columns(blank) > 1 && columns(blank) * u64::from(rows) == many => {
            let columns = columns(blank);
            format!(
                "{columns} straight columns of {rows}: cut the columns apart along the fabric, then the pieces across them, up \
                 to {many} from each"
            )
        }
        Method::Nested { rows } => {
            format!("{rows} rows pushed into each other, cut round the template, up to {many} from each")
        }
    }
}

/// How many columns of a panel a straight cut along the fabric parts from their neighbours.
fn columns(blank: &Blank) -> u64 {
    let mut spans: Vec<(i64, i64)> = blank
        .inner
        .iter()
        .map(|placement| {
            let bounds = placement.polygon.bounds();
            (bounds.min.x, bounds.max.x)
        })
        .collect();
    spans.sort_unstable();
    let mut columns = 0;
    let mut reached = i64::MIN;
    for (from, to) in spans {
        columns += u64::from(from >= reached);
        reached = reached.max(to);
    }
    columns
}

/// The size of a blank on the ruler: one side for a square, its height for a strip as long as the fabric is wide.
#[must_use]
pub fn blank_size(blank: &Blank, units: Units) -> String {
    let (width, height) = (ruler(blank.width, units), ruler(blank.height, units));
    match blank.method {
        Method::SquareOnce | Method::SquareTwice | Method::PairedSquares(_) | Method::QuarteredPairs(_) => width,
        Method::StripSet(_) | Method::OntoStrip(_) | Method::Folded { .. } | Method::Nested { .. } => height,
    }
}

#[cfg(test)]
mod tests {
    use cutting::{PieceId, Placement};
    use geometry::lay::{LayPolygon, UNITS_PER_INCH};

    use super::*;

    /// A panel of three rows of four squares of an inch, every second row moved by so many quarters of an inch.
    fn panel(moved: i64) -> Blank {
        let square = LayPolygon::rectangle(UNITS_PER_INCH, UNITS_PER_INCH).unwrap();
        let place = |row: i64, column: i64| {
            let aside = row % 2 * moved * UNITS_PER_INCH / 4;
            let polygon = square.moved(column * UNITS_PER_INCH + aside, row * UNITS_PER_INCH);
            Placement { piece: PieceId(0), polygon }
        };
        let inner = (0..3).flat_map(|row| (0..4).map(move |column| (row, column)));
        let inner = inner.map(|(row, column)| place(row, column)).collect();
        let (width, height) = (5 * UNITS_PER_INCH, 3 * UNITS_PER_INCH);
        let method = Method::Nested { rows: 3 };
        Blank { method, width, height, exact_width: width, exact_height: height, inner }
    }

    #[test]
    fn a_panel_of_straight_columns_is_not_cut_round_a_template() {
        let straight = taken_apart(&panel(0), Units::Inches);
        assert!(
            straight.starts_with("4 straight columns of 3: ") && straight.ends_with("up to 12 from each"),
            "{straight}"
        );
        let nested = taken_apart(&panel(2), Units::Inches);
        assert!(nested.contains("cut round the template"), "{nested}");
    }
}
