//! What `export` writes: every figure is that of `totals` and `cut`, and no file is lost or half written.

use crate::program;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use layout::file::Document;
use lopdf::Document as Pdf;
use program::{good, lozenge, on, sample_files, sample_folder};
use serde_json::Value as Json;
use tempfile::TempDir;

/// A row of a CSV file by the heads of its columns.
type Row = BTreeMap<String, String>;

fn rows(file: &Path) -> Vec<Row> {
    let bytes = fs::read(file).unwrap();
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").expect("the mark of UTF-8");
    let mut reader = csv::Reader::from_reader(text);
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let row = |record: csv::StringRecord| head.iter().cloned().zip(record.iter().map(str::to_owned)).collect();
    reader.records().map(|record| row(record.unwrap())).collect()
}

/// The words of a PDF without spaces, which a reader of PDFs may find in other places than a person.
fn words(file: &Path) -> (String, usize) {
    let pdf = Pdf::load(file).unwrap();
    let pages: Vec<u32> = pdf.get_pages().into_keys().collect();
    (plain(&pdf.extract_text(&pages).unwrap()), pages.len())
}

fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

fn json(command: &str, file: &Path, options: &[&str]) -> Json {
    serde_json::from_str(&good(on(command, file, &[&["--json"], options].concat()))).unwrap()
}

/// The file of a folder whose name ends so.
fn ending(folder: &Path, ending: &str) -> PathBuf {
    let found = |path: &PathBuf| path.file_name().unwrap().to_str().unwrap().ends_with(ending);
    fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).find(found).unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn every_figure_is_that_of_totals_and_cut_on_every_sample() {
    for file in sample_files() {
        for (number, variant) in Document::open(&file).unwrap().variants().iter().enumerate() {
            // The quick plan is that of `totals`; the best one is that of `cut`.
            let quick = ["--variant", &variant.label, "--quick"];
            let totals = json("totals", &file, &quick[..2]);
            check(&file, &quick, &totals, &json("cut", &file, &quick));
            if number == 0 && file.ends_with("lap-owl-lane.json") {
                check(&file, &quick[..2], &totals, &json("cut", &file, &quick[..2]));
            }
        }
    }
}

fn check(file: &Path, options: &[&str], totals: &Json, cut: &Json) {
    let folder = tempfile::tempdir().unwrap();
    let all = [options, &["--all", folder.path().to_str().unwrap()]].concat();
    good(on("export", file, &all));
    assert_eq!(names(folder.path()).len(), 7, "{file:?}");
    let quick = options.contains(&"--quick");
    let shopping = rows(&ending(folder.path(), "shopping list.csv"));
    let (paper, _) = words(&ending(folder.path(), "shopping list.pdf"));
    let (share, share_pages) = words(&ending(folder.path(), "share sheet.pdf"));
    let (tester, _) = words(&ending(folder.path(), "tester sheet.pdf"));
    assert_eq!(share_pages, 1, "{file:?}");
    let fabrics = cut["fabrics"].as_array().unwrap();
    assert_eq!(shopping.len(), fabrics.len() + 2, "{file:?}");
    for (index, (row, fabric)) in shopping.iter().zip(fabrics).enumerate() {
        let [name, buy] = ["name", "buy_label"].map(|field| fabric[field].as_str().unwrap());
        assert_eq!((row["Item"].as_str(), row["To buy"].as_str()), (name, buy), "{file:?}");
        assert_eq!(row["Price"], fabric["cost"].as_str().unwrap_or_default(), "{file:?}: {name}");
        if quick {
            assert_eq!(totals["fabrics"][index]["buy_label"], buy, "{file:?}: {name}");
        }
        for (document, text) in [("shopping", &paper), ("share", &share), ("tester", &tester)] {
            assert!(text.contains(&plain(name)), "{file:?}: {document}: {name} in {text}");
            assert!(text.contains(&plain(buy)), "{file:?}: {document}: {buy} in {text}");
        }
    }
    let backing = &shopping[fabrics.len()];
    assert_eq!(backing["To buy"], totals["backing"]["buy_label"].as_str().unwrap(), "{file:?}");
    assert_eq!(shopping[fabrics.len() + 1]["Item"], "Batting");
    check_cutting_list(&rows(&ending(folder.path(), "cutting list.csv")), cut, file);
}

/// The lines are the strips of `cut --json`, and all pieces are cut.
fn check_cutting_list(lines: &[Row], cut: &Json, file: &Path) {
    let unit = cut["unit"].as_str().unwrap();
    let number = |row: &Row, column: &str| row[column].parse::<f64>().unwrap_or_else(|_| panic!("{column}: {row:?}"));
    let mut left = lines;
    for fabric in cut["fabrics"].as_array().unwrap() {
        let name = fabric["name"].as_str().unwrap();
        let once = Json::from(1);
        let sheets = fabric["sheets"].as_array().into_iter().flatten();
        let of_sheets =
            sheets.flat_map(|s| s["strips"].as_array().unwrap().iter().map(move |strip| (&s["sheets"], strip)));
        let of_length = fabric["strips"].as_array().unwrap().iter().map(|strip| (&once, strip));
        let mut made: BTreeMap<String, u64> = BTreeMap::new();
        for (times, strip) in of_sheets.chain(of_length) {
            let mut wanted: BTreeMap<u64, u64> = BTreeMap::new();
            for row in strip["rows"].as_array().unwrap() {
                *wanted.entry(row["piece"].as_u64().unwrap()).or_default() += row["count"].as_u64().unwrap();
            }
            let strips = times.as_u64().unwrap() * strip["strips"].as_u64().unwrap();
            let letter = left.first().unwrap()["Strip"].clone();
            let of_strip = left.iter().take_while(|row| row["Strip"] == letter && row["Fabric"] == name).count();
            let (lines, rest) = left.split_at(of_strip);
            left = rest;
            let each: u64 = lines.iter().map(|row| row["Pieces from each strip"].parse::<u64>().unwrap()).sum();
            assert_eq!(each, wanted.values().sum::<u64>(), "{file:?}: {name}, strip {letter}");
            for row in lines {
                assert_eq!(row["Strips"], strips.to_string(), "{file:?}: {name}, strip {letter}");
                let off = number(row, &format!("Strip width ({unit})")) - strip["height"].as_f64().unwrap();
                assert!(off.abs() < 0.006, "{file:?}: {name}, strip {letter}: {off}");
                let pieces = row["Pieces"].parse::<u64>().unwrap();
                assert_eq!(pieces, strips * row["Pieces from each strip"].parse::<u64>().unwrap());
                *made.entry(row["Piece number"].clone()).or_default() += pieces;
                assert!(!row["Cut size"].is_empty() && !row["Piece"].is_empty());
            }
        }
        // Without blanks every piece comes from a strip as it is.
        if fabric["blanks"].is_null() {
            let pieces = fabric["pieces"].as_array().unwrap();
            let wanted: BTreeMap<String, u64> =
                (1..).zip(pieces).map(|(n, p): (u32, _)| (n.to_string(), p["count"].as_u64().unwrap())).collect();
            assert_eq!(made, wanted, "{file:?}: {name}");
        }
    }
    assert!(left.is_empty(), "{file:?}: {left:?}");
}

/// A folder with a sample in it, its quilt and first fabric under these names.
fn desk(quilt: &str, fabric: &str) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("quilt.json");
    let text = fs::read_to_string(sample_folder().join("crib-night-ferry.json")).unwrap();
    let mut json: Json = serde_json::from_str(&text).unwrap();
    json["variants"][0]["name"] = quilt.into();
    json["variants"][0]["fabrics"][0]["name"] = fabric.into();
    fs::write(&file, json.to_string()).unwrap();
    (folder, file)
}

#[test]
fn names_come_back_from_the_csv_and_are_no_formulas() {
    for name in ["Plum, \"dark\"", "=HYPERLINK(\"x\")", "+1", "-2", "@SUM(A1)", "Größe ½″"] {
        let (folder, quilt) = desk("Night ferry", name);
        let [shopping, cutting] = ["s.csv", "c.csv"].map(|file| folder.path().join(file));
        let [to_shopping, to_cutting] = [&shopping, &cutting].map(|path| path.to_str().unwrap());
        good(on("export", &quilt, &["--quick", "--shopping", to_shopping, "--cutting-list", to_cutting]));
        let shown = if name.starts_with(['=', '+', '-', '@']) { format!("'{name}") } else { name.to_owned() };
        assert_eq!(rows(&shopping)[0]["Item"], shown);
        assert_eq!(rows(&cutting)[0]["Fabric"], shown);
        // RFC 4180: every line ends with CR and LF.
        let text = fs::read_to_string(&shopping).unwrap();
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    }
}

#[test]
fn files_are_named_after_the_quilt_and_stay_in_the_folder() {
    let long = "x".repeat(120);
    for (quilt, stem) in [("../CON: a/b?", "CON- a-b-"), ("nul", "quilt nul"), (long.as_str(), &long[..100])] {
        let (folder, file) = desk(quilt, "Plum");
        let out = folder.path().join("out");
        fs::create_dir(&out).unwrap();
        good(on("export", &file, &["--quick", "--all", out.to_str().unwrap()]));
        let documents = [
            "cutting list.csv",
            "picture.png",
            "picture.svg",
            "share sheet.pdf",
            "shopping list.csv",
            "shopping list.pdf",
            "tester sheet.pdf",
        ];
        assert_eq!(names(&out), documents.map(|document| format!("{stem}, {document}")));
        assert_eq!(names(folder.path()), ["out", "quilt.json"]);
    }
}

/// Runs what must fail with 1, and says why.
fn refused(file: &Path, options: &[&str], words: &[&str]) {
    let ran = lozenge(on("export", file, options));
    assert_eq!(ran.code, ExitCode::from(1), "{options:?}: {}", ran.err);
    assert_eq!(ran.out, "", "{options:?}");
    for word in words {
        assert!(ran.err.contains(word), "{options:?} says: {}", ran.err);
    }
}

#[test]
fn nothing_is_overwritten_unasked_and_all_or_nothing_is_written() {
    let (folder, quilt) = desk("Night ferry", "Plum");
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (list, share, missing) = (path("list.csv"), path("share.pdf"), path("missing/tester.pdf"));
    fs::write(&list, "mine").unwrap();
    let untouched = || {
        assert_eq!(fs::read_to_string(&list).unwrap(), "mine");
        assert_eq!(names(folder.path()), ["list.csv", "quilt.json"]);
    };
    let both = ["--quick", "--share", &share, "--shopping", &list];
    refused(&quilt, &both, &["list.csv", "ask to replace it"]);
    untouched();
    refused(&quilt, &[&both[..], &["--force", "--tester", &missing]].concat(), &["tester.pdf", "make it first"]);
    untouched();
    refused(&quilt, &[&both[..], &["--force", "--tester", &share]].concat(), &["share.pdf", "a name of its own"]);
    untouched();
    refused(&quilt, &["--share", &path("share.docx")], &["share sheet", ".pdf", "share.docx"]);
    refused(&quilt, &["--shopping", &path("list.svg")], &[".csv or .pdf"]);
    refused(&quilt, &["--quick"], &["--all FOLDER"]);
    let own = folder.path().join("own.csv");
    fs::rename(&quilt, &own).unwrap();
    refused(&own, &["--force", "--shopping", own.to_str().unwrap()], &["quilt file itself"]);
    fs::rename(&own, &quilt).unwrap();
    untouched();
    let told = good(on("export", &quilt, &[&both[..], &["--force"]].concat()));
    assert!(told.contains("share.pdf") && told.contains("list.csv"), "{told}");
    assert_ne!(fs::read_to_string(&list).unwrap(), "mine");
    assert_eq!(names(folder.path()), ["list.csv", "quilt.json", "share.pdf"]);
}
