//! The command that lists pairings, as a stranger reads it: counts from published sequences, pages that go on where the
//! one before ended, and arrangements whose pictures can be put together from what is printed.

use crate::program;

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::ExitCode;

use geometry::Recipe;
use layout::file::Document;
use program::{good, lozenge, on, sample_files};
use serde_json::Value as Json;

/// A sample with a diagonal half block, and the number of the block.
fn half_block_sample() -> (PathBuf, String) {
    let with_block = |file: PathBuf| {
        let document = Document::open(&file).unwrap();
        let is_half = |recipe: &Recipe| matches!(recipe, Recipe::DiagonalHalf { .. });
        let (id, _) = document.variants()[0].design.blocks().find(|(_, def)| is_half(def.recipe()))?;
        Some((file, id.0.to_string()))
    };
    sample_files().into_iter().find_map(with_block).unwrap()
}

fn listed(options: &[&str]) -> Json {
    let (file, block) = half_block_sample();
    let all: Vec<&str> = ["--block", &block, "--json"].iter().chain(options).copied().collect();
    serde_json::from_str(&good(on("pairings", &file, &all))).unwrap()
}

#[test]
fn counts_are_the_published_ones() {
    // OEIS A302484 (turns and mirrors) and A367532 (turns only); the others by orbit counting and brute force.
    for (options, counts) in [
        (&["--motif", "2x2"][..], ["256", "70", "43", "27", "43"]),
        (&["--motif", "3x3"], ["262144", "65536", "32896", "16576", "32896"]),
        (&["--motif", "2x2", "--swap"], ["256", "70", "43", "27", "27"]),
        (&["--motif", "2x2", "--types", "dl,dd,ll"], ["4096", "1044", "610", "322", "610"]),
    ] {
        let found = listed(options);
        let keys = ["fillings", "up_to_turns", "up_to_turns_and_mirrors", "with_exchange_of_dark_and_light", "listed"];
        assert_eq!(keys.map(|key| found["counts"][key].as_str().unwrap()), counts, "{options:?}");
    }
    let long = listed(&["--motif", "4x4", "--repeat", "--swap", "--types", "dl,dd,ll", "--from", "90%"]);
    assert_eq!(long["counts"]["listed"], "1099528013448");
    // Nine tenths of 8¹⁶, rounded down.
    assert_eq!(long["from"], "253327479039590");
    assert_eq!(long["arrangements"].as_array().unwrap().len(), 10);
}

#[test]
fn pages_go_on_where_the_one_before_ended() {
    let mut seen = BTreeSet::new();
    let mut number = "0".to_owned();
    loop {
        let page = listed(&[
            "--motif", "2x2", "--types", "dl,dd,ll", "--repeat", "--swap", "--number", &number, "--count", "50",
        ]);
        for one in page["arrangements"].as_array().unwrap() {
            assert!(seen.insert(one["cells"].to_string()), "twice: {one}");
            assert!(one["dark"].as_f64().is_some_and(|dark| (0.0..=1.0).contains(&dark)));
            assert!(!one["symmetry"].as_str().unwrap().is_empty());
        }
        let Some(next) = page["next"].as_str() else { break };
        next.clone_into(&mut number);
    }
    assert_eq!(seen.len(), 118);
}

#[test]
fn a_person_reads_states_counts_and_rows() {
    let (file, block) = half_block_sample();
    let text = good(on("pairings", &file, &["--block", &block, "--motif", "2x2", "--count", "3"]));
    for words in
        ["4 states", "dark–light, as drafted", "standing alone", "256  ways to fill it", " 43  up to turns and"]
    {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert_eq!(text.lines().filter(|line| line.contains(" / ")).count(), 3, "{text}");
}

#[test]
fn what_cannot_be_listed_says_why() {
    let (file, block) = half_block_sample();
    let refused = |options: &[&str], code: u8, words: &str| {
        let ran = lozenge(on("pairings", &file, options));
        assert_eq!((ran.code, ran.out.as_str()), (ExitCode::from(code), ""), "{options:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{options:?}: {}", ran.err);
    };
    refused(&[], 2, "--motif");
    refused(&["--motif", "two"], 2, "such as 2x3");
    refused(&["--motif", "2x2", "--types", "dark"], 2, "dark");
    refused(&["--motif", "2x2", "--from", "1.5"], 2, "90%");
    refused(&["--motif", "2x2", "--from", "0", "--number", "7"], 2, "--number");
    refused(&["--motif", "2x2", "--count", "0"], 2, "count");
    refused(&["--motif", "5x2"], 1, "not 5 × 2");
    refused(&["--motif", "2x2", "--block", "999"], 1, "no block 999");
    refused(&["--motif", "2x2", "--block", &block, "--variant", "Nowhere"], 1, "Nowhere");
}
