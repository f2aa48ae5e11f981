//! What `editions` tells of two editions of a quilt.

use crate::program;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use program::{good, on, sample_files, sample_folder};
use serde_json::{Value as Json, json};

/// The sample of diagonal half blocks as JSON.
fn lap() -> Json {
    serde_json::from_str(&fs::read_to_string(sample_folder().join("lap-owl-lane.json")).unwrap()).unwrap()
}

fn write(folder: &Path, name: &str, quilt: &Json) -> PathBuf {
    let file = folder.join(name);
    fs::write(&file, quilt.to_string()).unwrap();
    file
}

fn told(old: &Path, new: &Path) -> Json {
    serde_json::from_str(&good(on("editions", old, &[new.to_str().unwrap(), "--quick", "--json"]))).unwrap()
}

/// The changes of the first variant: what, old and new.
fn changes(told: &Json) -> BTreeMap<String, (Option<String>, Option<String>)> {
    let text = |value: &Json| value.as_str().map(str::to_owned);
    let listed = told["variants"][0]["changes"].as_array().unwrap().iter();
    listed.map(|c| (c["what"].as_str().unwrap().to_owned(), (text(&c["old"]), text(&c["new"])))).collect()
}

#[test]
fn equal_files_have_no_changes() {
    for file in sample_files() {
        let told = told(&file, &file);
        assert_eq!(told["differ"], json!(false), "{file:?}");
        let variants = told["variants"].as_array().unwrap();
        assert!(!variants.is_empty() && variants.iter().all(|v| v["changes"] == json!([])), "{file:?}");
        assert!(good(on("editions", &file, &[file.to_str().unwrap(), "--quick"])).contains("No figure changed."));
    }
}

/// The strips of `cut` as it prints them, by fabric and letter.
fn strips(file: &Path) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let (mut fabric, mut strip) = (String::new(), String::new());
    for line in good(on("cut", file, &["--quick"])).lines() {
        if let Some((name, _)) =
            line.split_once(": ").filter(|(name, rest)| !name.starts_with(' ') && rest.contains("buy"))
        {
            name.clone_into(&mut fabric);
        } else if let Some(cut) = line.strip_prefix("  [ ] ") {
            let (letter, told) = cut.split_once(" Cut ").unwrap();
            strip = format!("{fabric}: strip {letter}");
            found.insert(strip.clone(), told.to_owned());
        } else if let Some(row) = line.strip_prefix("        ") {
            found.get_mut(&strip).unwrap().push_str(row);
        }
    }
    assert!(found.len() > 10, "{found:?}");
    found
}

#[test]
fn another_size_changes_every_figure_that_follows_from_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut quilt = lap();
    let old = write(folder.path(), "old.json", &quilt);
    for block in quilt["variants"][0]["blocks"].as_array_mut().unwrap() {
        assert_eq!(block["recipe"]["size"]["length"], json!([6, 0, 0, 0, 1]));
        block["recipe"]["size"]["length"] = json!([13, 0, 0, 0, 2]);
    }
    let new = write(folder.path(), "new.json", &quilt);
    let changes = changes(&told(&old, &new));
    // Every strip that `cut` prints otherwise is told, and no other.
    let (before, after) = (strips(&old), strips(&new));
    let all: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let differ: BTreeSet<&String> = all.into_iter().filter(|key| before.get(*key) != after.get(*key)).collect();
    let is_strip = |what: &&String| what.contains(": strip ");
    assert_eq!(changes.keys().filter(is_strip).collect::<BTreeSet<_>>(), differ);
    // Every fabric that is bought in another length, and no other.
    let bought = |file: &Path| -> BTreeMap<String, String> {
        let cut: Json = serde_json::from_str(&good(on("cut", file, &["--quick", "--json"]))).unwrap();
        let text = |value: &Json| value.as_str().unwrap().to_owned();
        let listed = cut["fabrics"].as_array().unwrap().iter();
        listed.map(|f| (format!("{}: to buy", text(&f["name"])), text(&f["buy_label"]))).collect()
    };
    for ((what, was), is) in bought(&old).into_iter().zip(bought(&new).into_values()) {
        let expected = (was != is).then_some((Some(was), Some(is)));
        assert_eq!(changes.get(&what).cloned(), expected, "{what}");
    }
    // Its size, and that of the block and of all that is sewn on the way; not how many there are.
    assert_eq!(changes["Finished size"].0.as_deref(), Some("60″ × 72″"));
    assert_eq!(changes["Diagonal half: finished"], (Some("6″ × 6″".to_owned()), Some("6½″ × 6½″".to_owned())));
    let measured = changes.keys().filter(|what| what.ends_with(": measures")).count();
    assert!(measured >= 2, "{changes:?}");
    for same in ["Blocks", "Patches", "Seam allowance", "Diagonal half: how many", "Diagonal half: steps"] {
        assert!(!changes.contains_key(same), "{same}");
    }
    assert!(changes.keys().all(|what| !what.ends_with(": make")), "{changes:?}");
    // In the order of the booklet.
    let parts = ["At a glance", "Fabrics", "Cutting", "Sewing", "The top", "Finishing"];
    let told = told(&old, &new);
    let order: Vec<usize> = told["variants"][0]["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| parts.iter().position(|part| c["part"] == *part).unwrap())
        .collect();
    assert!(order.is_sorted());
    assert_eq!(order.iter().collect::<BTreeSet<_>>().len(), parts.len(), "{order:?}");
}

#[test]
fn a_renamed_fabric_is_told_as_renamed() {
    let folder = tempfile::tempdir().unwrap();
    let mut quilt = lap();
    let old = write(folder.path(), "old.json", &quilt);
    quilt["variants"][0]["fabrics"][0]["name"] = json!("Midnight");
    let new = write(folder.path(), "new.json", &quilt);
    let expected =
        BTreeMap::from([("Name of a fabric".to_owned(), (Some("Slate".to_owned()), Some("Midnight".to_owned())))]);
    assert_eq!(changes(&told(&old, &new)), expected);
}

#[test]
fn variants_are_matched_by_label_and_the_pdf_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let mut quilt = lap();
    let mut second = quilt["variants"][0].clone();
    second["variant"] = json!("Second");
    quilt["variants"].as_array_mut().unwrap().push(second.clone());
    let old = write(folder.path(), "old.json", &quilt);
    second["variant"] = json!("Third");
    quilt["variants"][1] = second;
    let new = write(folder.path(), "new.json", &quilt);
    let out = folder.path().join("changes.pdf");
    let args = [new.to_str().unwrap(), "--quick", "--out", out.to_str().unwrap()];
    let text = good(on("editions", &old, &args));
    assert!(
        text.contains("only in the new edition: Third") && text.contains("only in the old edition: Second"),
        "{text}"
    );
    let pdf = lopdf::Document::load(&out).unwrap().extract_text(&[1]).unwrap();
    let plain: String = pdf.chars().filter(|c| !c.is_whitespace()).collect();
    assert!(plain.contains("Nofigurechanged.") && plain.contains("Third"), "{pdf}");
    let bytes = fs::read(&out).unwrap();
    let ran = program::lozenge(on("editions", &old, &args));
    assert!(ran.err.contains("changes.pdf") && ran.err.contains("ask to replace it"), "{}", ran.err);
    assert_eq!(fs::read(&out).unwrap(), bytes);
}
