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
        Method::Nested { rows } => {
            format!("{rows} rows pushed into each other, cut round the template, up to {many} from each")
        }
    }
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
