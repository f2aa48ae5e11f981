//! `templates` on every sample: the pieces of `cut`, a file each or one PDF, nothing overwritten, all or nothing.

use crate::program;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::ExitCode;

use program::{good, lozenge, on, sample_files};
use serde_json::Value;

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

fn told(file: &Path, out: &Path, options: &[&str]) -> Value {
    let options: Vec<&str> = ["--json", "--out", out.to_str().unwrap()].iter().chain(options).copied().collect();
    json(&good(on("templates", file, &options)))
}

/// Every file in a folder, by name.
fn files(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = entries.collect();
    names.sort();
    names
}

#[test]
fn every_template_is_a_piece_of_the_cutting_plan() {
    let folder = tempfile::tempdir().unwrap();
    for (number, file) in sample_files().iter().enumerate() {
        let out = folder.path().join(format!("{number}.pdf"));
        let made = told(file, &out, &[]);
        assert!(fs::read(&out).unwrap().starts_with(b"%PDF-"));
        let cut = json(&good(on("cut", file, &["--quick", "--json"])));
        // How many pieces of each kind the templates give, and the plan without its spare ones, by fabric.
        let (mut given, mut wanted): (BTreeMap<_, u64>, BTreeMap<_, u64>) = Default::default();
        let mut pieces = BTreeMap::new();
        for fabric in cut["fabrics"].as_array().unwrap() {
            assert!(fabric["parts"].is_null(), "one fabric each: {}", fabric["name"]);
            for piece in fabric["pieces"].as_array().unwrap().iter().filter(|piece| !piece["finished"].is_null()) {
                let id = piece["id"].as_u64().unwrap();
                pieces.insert(id, piece.clone());
                let spare = piece["spare"].as_u64().unwrap_or(0);
                let count = piece["count"].as_u64().unwrap() - spare;
                wanted.insert((fabric["id"].as_u64().unwrap(), id), count);
            }
        }
        for template in made["templates"].as_array().unwrap() {
            let id = template["piece"].as_u64().unwrap();
            let mirror = template["mirror_piece"].as_u64();
            if let Some(piece) = pieces.get(&id) {
                for polygon in ["finished", "cut"] {
                    assert_eq!(template[polygon], piece[polygon], "{}: {polygon}", template["name"]);
                }
                assert_eq!(template["grain"], piece["grain"]);
            } else {
                assert!(mirror.is_some_and(|mirror| pieces.contains_key(&mirror)), "{}", template["name"]);
            }
            for fabric in template["fabrics"].as_array().unwrap() {
                let (fabric_id, over) = (fabric["id"].as_u64().unwrap(), fabric["turned_over"].as_u64().unwrap());
                let drawn = fabric["count"].as_u64().unwrap() - over;
                *given.entry((fabric_id, id)).or_default() += drawn;
                *given.entry((fabric_id, mirror.unwrap_or(id))).or_default() += over;
            }
        }
        given.retain(|_, count| *count > 0);
        for (key, count) in &given {
            assert_eq!(wanted.get(key), Some(count), "{}: piece {key:?}", file.display());
        }
        let ruled = made["cut_with_ruler"].as_array().unwrap().len();
        let patches = |counts: &BTreeMap<_, u64>| counts.values().sum::<u64>();
        assert!(patches(&given) == patches(&wanted) || ruled > 0, "{}", file.display());
    }
}

#[test]
fn a_file_each_into_a_folder() {
    for (kind, begins) in [("svg", "<?xml"), ("dxf", "  0")] {
        let folder = tempfile::tempdir().unwrap();
        let file = &sample_files()[0];
        let made = told(file, folder.path(), &["--as", kind]);
        let written = files(folder.path());
        assert_eq!(written.len(), made["templates"].as_array().unwrap().len());
        for name in &written {
            let text = fs::read_to_string(folder.path().join(name)).unwrap();
            assert!(name.starts_with("template-") && name.ends_with(kind), "{name}");
            assert!(text.starts_with(begins), "{name}: {}", &text[..20]);
        }
    }
}

#[test]
fn nothing_is_overwritten_and_all_or_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let file = &sample_files()[0];
    let args = || on("templates", file, &["--as", "svg", "--out", folder.path().to_str().unwrap()]);
    good(args());
    let names = files(folder.path());
    assert!(names.len() > 2, "{names:?}");
    for name in &names[1..] {
        fs::remove_file(folder.path().join(name)).unwrap();
    }
    fs::write(folder.path().join(&names[0]), "mine").unwrap();
    let ran = lozenge(args());
    assert_eq!(ran.code, ExitCode::from(1));
    assert!(ran.err.contains(&names[0]), "{}", ran.err);
    assert_eq!(files(folder.path()), names[..1]);
    assert_eq!(fs::read_to_string(folder.path().join(&names[0])).unwrap(), "mine");
    let mut forced = args();
    forced.push("--force".into());
    good(forced);
    assert_eq!(files(folder.path()), names);
}

#[test]
fn wrong_asks_are_refused_with_a_remedy() {
    let folder = tempfile::tempdir().unwrap();
    let (pdf, other) = (folder.path().join("x.pdf"), folder.path().join("x.svg"));
    let file = &sample_files()[0];
    let (pdf, other) = (pdf.to_str().unwrap(), other.to_str().unwrap());
    for (options, code, words) in [
        (vec!["--out", other], 1, "--as svg"),
        (vec!["--out", pdf, "--trim-sheets"], 1, "oversize margin"),
        (vec!["--out", pdf, "--kerf", "3"], 1, "kerf"),
        (vec!["--out", pdf, "--line", "0"], 1, "line"),
        (vec!["--out", pdf, "--colour", "cut=red"], 2, "cut=#ff0000"),
        (vec!["--out", pdf, "--paper", "a0"], 2, "letter"),
        (vec!["--out", "/no such folder/x.pdf"], 1, "folder"),
    ] {
        let ran = lozenge(on("templates", file, &options));
        assert_eq!(ran.code, ExitCode::from(code), "{options:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{options:?}: {}", ran.err);
    }
    assert_eq!(files(folder.path()), Vec::<String>::new());
}

#[test]
fn the_picture_of_a_quilt_as_dxf_has_a_layer_for_each_fabric() {
    let folder = tempfile::tempdir().unwrap();
    let file = &sample_files()[0];
    let out = folder.path().join("top.dxf");
    good(on("draw", file, &["--no-seams", "--out", out.to_str().unwrap()]));
    let text = fs::read_to_string(&out).unwrap();
    let totals = json(&good(on("totals", file, &["--json"])));
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    assert!(lines.contains(&"$INSUNITS"));
    let outlines = lines.iter().filter(|line| **line == "POLYLINE").count();
    assert_eq!(outlines as u64, totals["patches"].as_u64().unwrap());
    for fabric in totals["fabrics"].as_array().unwrap().iter().filter(|f| f["patches"].as_u64().unwrap() > 0) {
        let name = fabric["name"].as_str().unwrap().to_ascii_uppercase().replace(' ', "_");
        assert!(lines.iter().any(|line| line.contains(&name)), "{name}");
    }
}
