//! The command that lists beds and proposals, as a stranger reads it: what is proposed for a sample is what the sample
//! measures once it is changed so.

use crate::program;

use std::process::ExitCode;

use layout::beds::{BEDS, Drops, Target, Wishes, bed, propose};
use layout::file::Document;
use layout::{Overwrite, apply};
use program::{good, lozenge, on, sample_files, sample_folder};
use serde_json::Value as Json;

fn json(args: &[&str]) -> Json {
    serde_json::from_str(&good(args.iter().copied())).unwrap()
}

#[test]
fn the_table_has_every_bed_with_its_source() {
    let text = good(["beds"]);
    let table = json(&["beds", "--json"]);
    let rows = table["beds"].as_array().unwrap();
    assert_eq!(rows.len(), BEDS.len());
    for (bed, row) in BEDS.iter().zip(rows) {
        assert!(text.contains(bed.id) && text.contains(bed.name) && text.contains(bed.origin.words()));
        assert_eq!(row["id"], bed.id);
        assert_eq!(row["source"], bed.origin.words());
    }
    assert!(text.contains("common practice, no source"));
    assert!(text.contains("under 12 months"), "a crib quilt comes with its caution");
    let one = json(&["beds", "--bed", "140x200", "--drop", "40cm", "--tuck", "0", "--json"]);
    let row = &one["beds"][0];
    assert_eq!(row["unit"], "cm");
    for (key, wanted) in [("width", 140.0), ("length", 200.0), ("wanted_width", 220.0), ("wanted_length", 240.0)] {
        assert_eq!(row[key].as_f64(), Some(wanted), "{key}");
    }
}

/// The quilt is changed as the library proposes, saved, and measured by another command.
#[test]
fn proposals_are_what_the_quilt_measures_afterwards() {
    let folder = tempfile::tempdir().unwrap();
    for file in sample_files() {
        let options = ["--bed", "queen", "--drop", "15", "--foot", "12", "--tuck", "8", "--head", "0", "--json"];
        let listing: Json = serde_json::from_str(&good(on("beds", &file, &options))).unwrap();
        let document = Document::open(&file).unwrap();
        let design = &document.variants()[0].design;
        let inches = geometry::Exact::int;
        let drops = Drops { left: inches(15), right: inches(15), foot: inches(12), head: inches(0) };
        let (width, length) = bed("queen").unwrap().size();
        let target = Target { drops, tuck: inches(8), width, length };
        let wishes = Wishes { count: 8, ..Wishes::usual(design).unwrap() };
        let Some(proposal) = propose(design, &target, &wishes).unwrap().into_iter().next() else {
            // Neither a sampler nor a medallion of a few blocks has other sizes that come near.
            assert_eq!(listing["proposals"].as_array().map(Vec::len), Some(0), "{}", file.display());
            assert!(design.sampler_plan().is_some() || design.setting().size() == (1, 1), "{}", file.display());
            continue;
        };
        let best = &listing["proposals"][0];
        let next = proposal.edits().iter().fold(design.clone(), |design, edit| apply(&design, edit).unwrap().0);
        let saved = folder.path().join("fitted.json");
        Document::new(next).save(&saved, Overwrite::Replace).unwrap();
        let totals: Json = serde_json::from_str(&good(on("totals", &saved, &["--json"]))).unwrap();
        assert_eq!(totals["finished_width"], best["finished_width"], "{}", file.display());
        assert_eq!(totals["finished_height"], best["finished_length"], "{}", file.display());
        assert_eq!(totals["blocks"], best["blocks"]);
    }
}

#[test]
fn people_read_sizes_misses_and_changes() {
    let file = sample_folder().join("twin-meadow-survey.json");
    let text =
        good(on("beds", &file, &["--bed", "queen", "--drop", "15", "--foot", "12", "--tuck", "8", "--count", "3"]));
    for part in ["Wanted:    90″ × 100″", "The quilt:", "rows ×", "block side", " 3  "] {
        assert!(text.contains(part), "{part} in {text}");
    }
    assert!(!text.contains(" 4  "));
}

#[test]
fn what_cannot_be_is_refused() {
    let file = sample_folder().join("twin-meadow-survey.json");
    for (options, word) in [
        (&["--bed", "sofa"][..], "california-king"),
        (&["--bed", "queen", "--drop", "-3"], "0 to 100"),
        (&[], "--bed"),
        (&["--bed", "queen", "--count", "0"], "0"),
    ] {
        let ran = lozenge(on("beds", &file, options));
        assert_eq!(ran.code, ExitCode::from(2), "{options:?}: {}", ran.err);
        assert!(ran.err.contains(word), "{options:?}: {}", ran.err);
    }
}
