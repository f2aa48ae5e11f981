//! What is done with a blank, in the words of the cutting table.

use cutting::methods::{Blank, Method};
use cutting::{FabricPlan, PieceId, PlannedPiece, StripRun};
use layout::Units;

use crate::lengths::{counted, ruler};
use crate::panel_words::{Needed, panel_words};
use crate::template_letters::TemplateLetters;

/// "each cut twice on the diagonal into 4": how pieces come out of a blank; none for a piece that is no blank.
#[must_use]
pub fn blank_words(piece: &PlannedPiece, units: Units) -> Option<String> {
    let blank = piece.blank.as_ref()?;
    Some(taken_apart(blank, units, "the template", Needed { all: false, one: false }, ""))
}

/// The same where it is known which strips it is cut from, of which plan, and which letters templates have.
pub(crate) fn blank_words_by(
    plan: &FabricPlan,
    strip: &StripRun,
    piece: &PlannedPiece,
    units: Units,
    letters: &TemplateLetters,
) -> Option<String> {
    let blank = piece.blank.as_ref()?;
    let template = blank.inner.first().map_or("the template", |first| letters.of(first.piece));
    let needed = Needed { all: all_are_needed(plan, blank), one: strip.repeat == 1 };
    Some(taken_apart(blank, units, template, needed, &numbered(plan, blank)))
}

/// Whether the quilt takes as many pieces out of blanks as all blanks with such pieces give.
fn all_are_needed(plan: &FabricPlan, blank: &Blank) -> bool {
    blank.counts().into_keys().all(|id| taken(plan, id) >= given(plan, id))
}

/// How many pieces all blanks give.
fn given(plan: &FabricPlan, id: PieceId) -> u64 {
    let of = |other: &PlannedPiece| {
        let each = other.blank.as_ref().and_then(|blank| blank.counts().get(&id).copied()).unwrap_or(0);
        each.saturating_mul(other.count)
    };
    plan.pieces.iter().map(of).fold(0, u64::saturating_add)
}

/// How many of them the quilt takes.
fn taken(plan: &FabricPlan, id: PieceId) -> u64 {
    plan.pieces.iter().find(|piece| piece.prepared.id() == id).map_or(0, |piece| piece.from_blanks)
}

/// " of number 2", and how many of those are left over; empty where several kinds of pieces come out of a blank.
fn numbered(plan: &FabricPlan, blank: &Blank) -> String {
    let counts: Vec<PieceId> = blank.counts().into_keys().collect();
    let [id] = counts[..] else { return String::new() };
    let Some(index) = plan.pieces.iter().position(|piece| piece.prepared.id() == id) else { return String::new() };
    let over = given(plan, id).saturating_sub(taken(plan, id));
    let left = if over > 0 { format!(", {over} of them in all to spare") } else { String::new() };
    format!(" of number {}{left}", index + 1)
}

fn taken_apart(blank: &Blank, units: Units, template: &str, needed: Needed, numbered: &str) -> String {
    let many = blank.inner.len() as u64;
    match blank.method {
        Method::SquareOnce => format!("each cut once on the diagonal into 2{numbered}"),
        Method::SquareTwice => format!("each cut twice on the diagonal into 4{numbered}"),
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
        Method::Nested { rows } => panel_words(blank, rows, units, template, needed),
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
