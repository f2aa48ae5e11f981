//! The cutting list: a line for every kind of piece in every strip, as the cutting plan has it.

use std::collections::{BTreeMap, BTreeSet};

use cutting::{ClassId, Cloth, FabricPlan, PieceId, PlannedPiece, StripRun};
use layout::{Design, Fabric, FabricId, Tally, Units};

use super::spreadsheet::{Table, number, unit};
use crate::cut_words::{RowWords, cloth_names, cut_size, piece_name, strip_letter, strip_lines};
use crate::lengths::{on_ruler_in, ruler};
use crate::{Offered, PublishError};

/// One kind of piece in equal strips of one fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutLine {
    /// Name of the fabric.
    pub fabric: String,
    /// How light or dark it reads.
    pub value: &'static str,
    /// So many different fabrics are each cut like this.
    pub fabrics: u16,
    /// What it is cut from, such as "fat quarter 2 of 5"; empty for a length that is all there is.
    pub cloth: String,
    /// The strips' letter, the same as in the lay drawings.
    pub letter: String,
    /// Width of the strips, in lay units.
    pub strip_width: i64,
    /// How many strips in all.
    pub strips: u64,
    /// The piece.
    pub piece: PieceId,
    /// Its number in the list of the fabric's pieces, from 1.
    pub number: usize,
    /// What it is.
    pub name: String,
    /// How many from each strip.
    pub each: u64,
    /// Width and height when it is cut, in lay units.
    pub size: [i64; 2],
    /// The same in words.
    pub size_words: String,
    /// How the pieces are cut apart; may be empty.
    pub how: String,
    /// The blocks, borders and other places that have the piece.
    pub used_in: Vec<String>,
}

impl CutLine {
    /// How many pieces in all strips.
    #[must_use]
    pub const fn count(&self) -> u64 {
        self.each.saturating_mul(self.strips)
    }
}

/// The lines of all fabrics, in the order of work.
///
/// # Errors
/// A fabric that cannot be cut, or a patch that is missing.
pub fn cutting_list(quilt: &Offered<'_>) -> Result<Vec<CutLine>, PublishError> {
    let places = places_of_pieces(quilt)?;
    let mut lines = Vec::new();
    for plan in quilt.made()? {
        let fabric = quilt.design.fabric(plan.fabric)?;
        let whole = Whole { design: quilt.design, plan, fabric, units: quilt.design.units(), places: &places };
        let mut letters = (0..).map(strip_letter);
        for (cloth, name) in plan.cloths().iter().zip(cloth_names(plan)) {
            for (strip, letter) in cloth.strips.iter().zip(&mut letters) {
                let rows = strip_lines(plan, strip, cloth.width, whole.units);
                lines.extend(rows.iter().filter_map(|row| whole.line(cloth, name.as_deref(), (strip, &letter), row)));
            }
        }
    }
    Ok(lines)
}

/// What all lines of a fabric have in common.
struct Whole<'a> {
    design: &'a Design,
    plan: &'a FabricPlan,
    fabric: &'a Fabric,
    units: Units,
    places: &'a BTreeMap<(FabricId, ClassId), BTreeSet<String>>,
}

impl Whole<'_> {
    fn line(
        &self,
        cloth: &Cloth<'_>,
        name: Option<&str>,
        (strip, letter): (&StripRun, &str),
        row: &RowWords,
    ) -> Option<CutLine> {
        let piece = self.plan.pieces.get(row.number.checked_sub(1)?)?;
        let bounds = piece.prepared.bounds();
        Some(CutLine {
            fabric: self.fabric.name.clone(),
            value: self.fabric.value.word(),
            fabrics: self.plan.parts,
            cloth: name.unwrap_or_default().to_owned(),
            letter: letter.to_owned(),
            strip_width: strip.height,
            strips: strip.repeat.saturating_mul(cloth.repeat),
            piece: row.piece,
            number: row.number,
            name: piece_name(piece, self.units),
            each: row.count,
            size: [bounds.width(), bounds.height()],
            size_words: cut_size(piece, self.units),
            how: row.first.iter().chain([&row.how]).map(String::as_str).collect::<Vec<_>>().join("; "),
            used_in: self.used_in(piece),
        })
    }

    /// Where a piece goes; for a blank, where the pieces go that come out of it.
    fn used_in(&self, piece: &PlannedPiece) -> Vec<String> {
        if piece.is_section {
            return piece.strips.keys().map(|source| self.design.source_name(*source)).collect();
        }
        let of_id = |id: PieceId| self.places.get(&(self.plan.fabric, ClassId(id.0)));
        let found: Vec<&BTreeSet<String>> = match &piece.blank {
            Some(blank) => blank.counts().into_keys().filter_map(of_id).collect(),
            None => of_id(piece.prepared.id()).into_iter().collect(),
        };
        let names: BTreeSet<&String> = found.into_iter().flatten().collect();
        names.into_iter().cloned().collect()
    }
}

/// Where the patches of every class of pieces stand, for every fabric.
fn places_of_pieces(quilt: &Offered<'_>) -> Result<BTreeMap<(FabricId, ClassId), BTreeSet<String>>, PublishError> {
    let (design, book) = (quilt.design, quilt.ledger.book());
    let mut found: BTreeMap<(FabricId, ClassId), BTreeSet<String>> = BTreeMap::new();
    for count in Tally::count(design)?.counts() {
        let print = design.fabric(count.fabric)?.print;
        let Some(id) = book.of_patch(count.source, count.patch, count.mirrored, print) else { continue };
        found.entry((count.fabric, id)).or_default().insert(design.source_name(count.source));
    }
    Ok(found)
}

/// The list as a table for a spreadsheet: sizes in words as they are set on the ruler, and as numbers.
#[must_use]
pub fn cutting_table(lines: &[CutLine], units: Units) -> Table {
    let unit = unit(units);
    let head = [
        "Fabric".to_owned(),
        "Value".to_owned(),
        "Fabrics cut alike".to_owned(),
        "Cut from".to_owned(),
        "Strip".to_owned(),
        "Strip width".to_owned(),
        format!("Strip width ({unit})"),
        "Strips".to_owned(),
        "Piece number".to_owned(),
        "Piece".to_owned(),
        "Pieces from each strip".to_owned(),
        "Pieces".to_owned(),
        "Cut size".to_owned(),
        format!("Cut width ({unit})"),
        format!("Cut height ({unit})"),
        "How".to_owned(),
        "Used in".to_owned(),
    ];
    let inches = |value: i64| number(&on_ruler_in(value), units);
    let row = |line: &CutLine| {
        vec![
            line.fabric.clone(),
            line.value.to_owned(),
            line.fabrics.to_string(),
            if line.cloth.is_empty() { "length".to_owned() } else { line.cloth.clone() },
            line.letter.clone(),
            ruler(line.strip_width, units),
            inches(line.strip_width),
            line.strips.to_string(),
            line.number.to_string(),
            line.name.clone(),
            line.each.to_string(),
            line.count().to_string(),
            line.size_words.clone(),
            inches(line.size[0]),
            inches(line.size[1]),
            line.how.clone(),
            line.used_in.join("; "),
        ]
    };
    Table { head: head.to_vec(), rows: lines.iter().map(row).collect() }
}
