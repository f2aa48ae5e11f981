//! The words of the trade that a booklet uses, with what they mean.
//!
//! A word is explained only where the booklet says it: every text of the booklet is looked through.

use layout::{Design, Source, Tally};
use serde::Serialize;
use serde_json::Value;

use super::BookletData;
use crate::PublishError;

/// A word and what it means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// The word.
    pub term: String,
    /// What it means.
    pub meaning: String,
}

/// The words that are explained, in the order of the alphabet: the word, the forms in which texts have it, in small
/// letters, and what it means.
const TERMS: &[(&str, &[&str], &str)] = &[
    ("Backing", &["backing"], "The fabric on the underside of a quilt."),
    ("Backstitch", &["backstitch"], "Sew two or three stitches back and forth, so that a seam holds at its end."),
    ("Band", &["band", "bands"], "Part of a strip, cut along it."),
    ("Basting", &["baste", "basting"], "Holding the layers together for a while, with long stitches, pins or spray."),
    ("Batting", &["batting"], "The warm layer between top and backing."),
    ("Bias", &["bias"], "Any direction askew to the threads of a fabric. An edge on the bias stretches."),
    ("Binding", &["binding"], "The narrow strip that covers the edges of a finished quilt."),
    ("Border", &["border", "borders"], "A frame of strips or blocks round the quilt."),
    (
        "Chain piecing",
        &["chain", "chain piecing"],
        "Sewing one unit after the other without cutting the thread between them.",
    ),
    ("Cornerstone", &["cornerstone", "cornerstones"], "The square where two sashes cross."),
    ("Cut size", &["when cut", "cut size", "cut sizes"], "The size with seam allowances."),
    ("Diamond", &["diamond", "diamonds"], "A patch with four equal sides and slanted corners."),
    ("Dog ear", &["dog ear", "dog ears"], "The small tip of fabric that reaches over the edge of a sewn unit."),
    ("Fat quarter", &["fat quarter", "fat quarters"], "A quarter of a yard or metre cut to be wide instead of long."),
    ("Filler", &["filler", "fillers"], "A plain piece between blocks of different sizes."),
    ("Finished", &["finished", "finishes"], "Of a size: after sewing, without seam allowances."),
    (
        "Half-square triangle",
        &["half-square triangle", "half-square triangles"],
        "A triangle that is half of a square, cut on the diagonal; its short sides lie on the straight grain.",
    ),
    (
        "Leaning left, leaning right",
        &["leaning left", "leaning right"],
        "Of pieces that are mirror images: right side up, as in the strip, and with the longer extent from left to right, the \
         slanted edges of one that leans right run up to the right, like /.",
    ),
    ("Mirrored", &["mirrored", "mirror image"], "As seen in a mirror: left and right are exchanged."),
    ("Mitre", &["mitre", "mitred", "mitres"], "A corner whose seam runs at 45°."),
    ("Nest", &["nest", "nested"], "Seams pressed to opposite sides lock into each other where they meet."),
    ("On point", &["on point"], "Of a block: standing on a corner."),
    ("Oversize", &["oversize", "generously"], "Cut larger than needed, and trimmed after sewing."),
    ("Pivot", &["pivot", "pivots"], "A corner in a seam, where the pieces are turned about the needle."),
    ("Press open", &["open"], "Press the two seam allowances apart."),
    ("Press toward", &["press", "pressed"], "Iron both seam allowances to one side; the arrow shows to which."),
    (
        "Quarter-square triangle",
        &["quarter-square triangle", "quarter-square triangles"],
        "A triangle that is a quarter of a square, cut on both diagonals; its long side lies on the straight grain.",
    ),
    ("Raw edge", &["raw edge", "raw edges"], "An edge as it was cut."),
    ("Sash", &["sash", "sashes", "sashing"], "A strip between blocks."),
    ("Seam allowance", &["seam allowance", "seam allowances"], "The fabric between the seam and the edge."),
    ("Selvage", &["selvage", "selvages"], "The woven edge of a fabric; it is trimmed off."),
    ("Set in", &["set in", "set-in"], "Sew a piece into an inner corner, with a pivot in the seam."),
    (
        SETTING_TRIANGLE,
        &["setting triangle", "setting triangles"],
        "A triangle that fills the gap at the edge of blocks that are not in straight rows.",
    ),
    ("Squaring up", &["square up", "squaring up"], "Trimming to straight edges and square corners."),
    (
        "Straight grain",
        &["straight grain"],
        "The direction of the threads, along or across the fabric; it stretches least.",
    ),
    ("Strip", &["strip", "strips"], "A length of fabric cut across its width, from which pieces are cut."),
    ("Strip set", &["strip set", "strip sets"], "Strips sewn together along their long sides and then cut across."),
    ("Trim", &["trim"], "Cut a piece or a sewn unit to its exact size."),
    ("Unit", &["unit", "units"], "Patches sewn together, smaller than a block."),
    ("Usable width", &["usable width"], "The width of a fabric that can be cut, without selvages."),
    ("Value", &["value"], "How light or dark a fabric reads."),
];

/// What is told where nothing of a kind occurs, in the counts for the skill.
const NONE: &str = "none";
const SETTING_TRIANGLE: &str = "Setting triangle";

/// The words of a booklet that are explained.
pub(super) fn used_terms(data: &BookletData, design: &Design) -> Result<Vec<Entry>, PublishError> {
    let told = |error: serde_json::Error| PublishError::Typeset { cause: error.to_string() };
    // What is counted for the skill and does not occur, such as set-in seams, need not be explained.
    let mut data = data.clone();
    data.facts.skill.reasons.retain(|reason| reason.told != NONE);
    let mut text = String::new();
    gather(&serde_json::to_value(&data).map_err(told)?, &mut text);
    let text = text.to_lowercase();
    // Side and corner triangles are setting triangles by where they stand; triangles of blocks may be called so too.
    let setting = has_setting_triangles(design)?;
    let is_used = |(term, forms): (&str, &[&str])| {
        forms.iter().any(|form| has_word(&text, form)) || (setting && term == SETTING_TRIANGLE)
    };
    let used = TERMS.iter().filter(|(term, forms, _)| is_used((term, forms)));
    Ok(used.map(|(term, _, meaning)| Entry { term: (*term).to_owned(), meaning: (*meaning).to_owned() }).collect())
}

/// Whether triangles fill up the edge of the setting.
fn has_setting_triangles(design: &Design) -> Result<bool, PublishError> {
    let is_one = |source| {
        matches!(source, Source::SideTriangle { .. } | Source::CornerTriangle { .. } | Source::SettingTriangle { .. })
    };
    Ok(Tally::count(design)?.counts().any(|count| count.change > 0 && is_one(count.source)))
}

/// All texts of a value, one to a line.
fn gather(value: &Value, text: &mut String) {
    match value {
        Value::String(told) => {
            text.push_str(told);
            text.push('\n');
        }
        Value::Array(parts) => parts.iter().for_each(|part| gather(part, text)),
        Value::Object(fields) => fields.values().for_each(|field| gather(field, text)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// Whether a text says a word, not only a part of a longer one.
fn has_word(text: &str, word: &str) -> bool {
    let is_apart = |c: Option<char>| !c.is_some_and(char::is_alphabetic);
    text.match_indices(word).any(|(at, _)| {
        let (before, after) = (&text[..at], &text[at + word.len()..]);
        is_apart(before.chars().next_back()) && is_apart(after.chars().next())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_found_whole() {
        assert!(has_word("sew strips, then", "strips"));
        assert!(!has_word("sew strips", "strip"));
        assert!(!has_word("the nesting", "nest"));
        assert!(has_word("nest", "nest"));
    }

    #[test]
    fn terms_stand_in_the_order_of_the_alphabet_in_small_letters_once() {
        let names: Vec<String> = TERMS.iter().map(|(term, ..)| term.to_lowercase()).collect();
        assert!(names.windows(2).all(|pair| pair[0] < pair[1]), "{names:?}");
        for (term, forms, meaning) in TERMS {
            assert!(!forms.is_empty() && forms.iter().all(|form| *form == form.to_lowercase()), "{term}");
            assert!(meaning.ends_with('.'), "{term}");
        }
    }
}
