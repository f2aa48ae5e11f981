//! The pages of every sample's booklet: nothing stands beyond the margins or on top of something else.

use crate::booklet::list;
use crate::pdf_text;
use crate::program;

use std::path::Path;

use pdf_text::{Page, Run};
use program::{good, on};
use serde_json::Value as Json;

/// Margins of the pages in points, as `house.typ` has them: 0.75 in at the sides; head and foot stand in the others.
const MARGIN: f64 = 54.0;
/// Margins of sheets of templates, which printers can still reach: 0.5 in.
const SHEET_MARGIN: f64 = 36.0;
/// A full stop or hyphen at the end of a line may hang over the margin by so much, as typesetters let it.
const HANGING: f64 = 2.5;

/// Panics where words of a booklet stand beyond the margins of this paper or on something else; `options` are those it was
/// made with.
pub fn stand_well(pages: &[Page], (file, label): (&Path, &str), paper: &str, options: &[&str]) {
    let [width, height] = if paper == "a4" { [595.28, 841.89] } else { [612.0, 792.0] };
    assert!(pages.len() >= 8, "{}: {} pages", file.display(), pages.len());
    let of_text = pages.len() - template_sheets(file, label, options);
    for (number, page) in (1..).zip(pages) {
        let what = format!("{} ({label}) on {paper}, page {number}", file.display());
        assert!((page.width - width).abs() < 0.01 && (page.height - height).abs() < 0.01, "{what}");
        stands_within(page, if number <= of_text { MARGIN } else { SHEET_MARGIN }, &what);
        // Letters of sheets of templates are placed one by one; that their words have room is tested there.
        if number <= of_text {
            stands_apart(page, &what);
        }
    }
}

/// How many of the last pages are templates at their true size.
fn template_sheets(file: &Path, label: &str, options: &[&str]) -> usize {
    let told = good(on("booklet", file, &[&["--variant", label, "--json"], options].concat()));
    let data: Json = serde_json::from_str(&told).unwrap();
    let sheets = list(&data, "templates").len();
    assert!(sheets > 0, "{}: no templates", file.display());
    sheets
}

fn stands_within(page: &Page, margin: f64, what: &str) {
    assert!(!page.runs.is_empty(), "{what} is empty");
    for run in &page.runs {
        let within = run.left >= margin - HANGING && run.right <= page.width - margin + HANGING;
        assert!(within && run.baseline > 30.0 && run.baseline < page.height - 30.0, "{what}: {run:?}");
    }
}

/// No two runs share more room than a hair: letters reach from a fifth of their size below the baseline to seven tenths
/// above it (common practice, no source).
fn stands_apart(page: &Page, what: &str) {
    let level: Vec<&Run> = page.runs.iter().filter(|run| !run.turned).collect();
    for (index, a) in level.iter().enumerate() {
        for b in &level[index + 1..] {
            let across = a.right.min(b.right) - a.left.max(b.left);
            let top = |run: &Run| run.baseline + 0.7 * run.size;
            let low = |run: &Run| run.baseline - 0.1 * run.size;
            let high = top(a).min(top(b)) - low(a).max(low(b));
            assert!(across < 1.0 || high < 1.0, "{what}: {a:?} lies on {b:?}");
        }
    }
}
