//! Fabric first, end to end: from a list of fabrics in hand to a quilt file whose plan a stranger lays again on just
//! those fabrics.

use crate::program;
use crate::stranger;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use program::{good, lozenge, on};
use serde::Deserialize;
use serde_json::Value as Json;
use serde_json::value::RawValue;
use stranger::{Known, Plan, re_lay};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().join("sample-fabrics").join(name)
}

/// What `fits --json` prints, its plans as they stand there: their decimals have more digits than a float.
#[derive(Deserialize)]
struct Listed {
    complete: bool,
    entries: Vec<Entry>,
}

#[derive(Deserialize)]
struct Entry {
    number: usize,
    finished_width: f64,
    finished_height: f64,
    block: String,
    pairing: Option<String>,
    gives: Vec<Json>,
    plan: Box<RawValue>,
}

fn listed(fabrics: &Path, options: &[&str]) -> Listed {
    let options: Vec<&str> = options.iter().copied().chain(["--json"]).collect();
    serde_json::from_str(&good(on("fits", fabrics, &options))).unwrap()
}

fn json(text: &str) -> Json {
    serde_json::from_str(text).unwrap()
}

/// Saves entry `number` and gives its file.
fn saved(fabrics: &Path, number: usize, folder: &Path, options: &[&str]) -> PathBuf {
    let quilt = folder.join(format!("entry-{number}.json"));
    let number = number.to_string();
    let mut args = vec!["--save", &number, "--out", quilt.to_str().unwrap()];
    args.extend(options);
    good(on("fits", fabrics, &args));
    quilt
}

/// A plan as `cut` prints it, laid again by the stranger. Sheets are told by their lays alone: the stranger takes each
/// lay for as wide as the fabric, and here each is looked for among the pieces in hand, by size and number.
fn lay_again(plan: &str, totals: &Json, seam: f64, hand: &Json) -> usize {
    let mut plan: Plan = serde_json::from_str(plan).unwrap();
    for fabric in &mut plan.fabrics {
        let id = fabric.id;
        let of_hand = hand.as_array().unwrap().get(usize::try_from(id).unwrap() - 1);
        if let Some(in_hand) = of_hand {
            let mut left: Vec<(i128, i128, u64)> = in_hand.as_array().unwrap().iter().map(piece).collect();
            for lay in &fabric.lays {
                let (width, length) = (lay.width.0, lay.length.0);
                let fits = |(w, l, n): &&mut (i128, i128, u64)| {
                    // A lay is the piece, rounded down to the grid, as it is or turned.
                    let near = |a: i128, b: i128| a <= b && b - a <= plan.grid.0;
                    *n > 0 && ((near(width, *w) && near(length, *l)) || (near(width, *l) && near(length, *w)))
                };
                let found = left.iter_mut().find(fits);
                found.unwrap_or_else(|| panic!("fabric {id}: a lay {width} × {length} that is not in hand")).2 -= 1;
            }
            assert_eq!(fabric.buy_length.0, 0, "fabric {id} has something to buy");
            fabric.usable_width = fabric.lays.iter().flat_map(|lay| [lay.width, lay.length]).max().unwrap();
            fabric.required_length.0 = fabric.lays.iter().map(|lay| lay.length.0).sum();
            fabric.buy_length = fabric.required_length;
        }
    }
    let areas = totals["fabrics"].as_array().unwrap().iter();
    let area = |f: &Json| (u32::try_from(f["id"].as_u64().unwrap()).unwrap(), f["finished_area"].as_f64().unwrap());
    let known = Known { seam, areas: areas.map(area).collect() };
    re_lay(&serde_json::to_string(&plan).unwrap(), &known).unwrap()
}

/// Width, length and count of a piece in hand, sizes in 10⁻¹⁸ of the unit.
fn piece(piece: &Json) -> (i128, i128, u64) {
    let side = |name: &str| stranger::Fixed::parse(&piece[name].to_string()).unwrap().0;
    (side("width"), side("length"), piece["count"].as_u64().unwrap())
}

/// What is in hand of each fabric of a sample, written out once more by hand.
fn sixteen() -> Json {
    Json::Array(vec![json(r#"[{"width": 22, "length": 18, "count": 1}]"#); 16])
}

fn trunk() -> Json {
    json(
        r#"[
        [{"width": 110, "length": 150, "count": 1}],
        [{"width": 55, "length": 50, "count": 2}],
        [{"width": 110, "length": 60, "count": 1}, {"width": 110, "length": 35, "count": 1}],
        [{"width": 40, "length": 30, "count": 3}],
        [{"width": 140, "length": 150, "count": 1}],
        [{"width": 45, "length": 28, "count": 4}, {"width": 30, "length": 30, "count": 2}]
    ]"#,
    )
}

/// A lap quilt is about 48 × 60 to 60 × 72 in (common practice, no source).
#[test]
fn eight_dark_and_eight_light_fat_quarters_give_a_lap_quilt() {
    let fabrics = sample("sixteen-fat-quarters.json");
    let listing = listed(&fabrics, &["--blocks", "diagonal half block"]);
    assert!(listing.complete);
    let is_lap = |entry: &&Entry| {
        (48.0..=60.0).contains(&entry.finished_width) && (60.0..=72.0).contains(&entry.finished_height)
    };
    let lap = listing.entries.iter().find(is_lap).unwrap();
    assert_eq!((lap.block.as_str(), lap.pairing.as_deref()), ("diagonal half block", Some("dark–light")));
    assert_eq!(lap.gives.len(), 16);

    let folder = tempfile::tempdir().unwrap();
    let quilt = saved(&fabrics, lap.number, folder.path(), &["--blocks", "diagonal half block"]);
    good(on("check", &quilt, &[]));
    let totals = json(&good(on("totals", &quilt, &["--json"])));
    assert_eq!(totals["finished_width"], lap.finished_width);
    assert_eq!(totals["finished_height"], lap.finished_height);
    // The plan of the list, the quick one and the best one of the saved quilt.
    let laid = lay_again(lap.plan.get(), &totals, 0.25, &sixteen());
    for options in [&["--json", "--quick"][..], &["--json"]] {
        assert_eq!(lay_again(&good(on("cut", &quilt, options)), &totals, 0.25, &sixteen()), laid);
    }
}

#[test]
fn every_entry_of_a_mixed_trunk_is_laid_again_on_what_is_in_hand() {
    let fabrics = sample("attic-trunk.json");
    let folder = tempfile::tempdir().unwrap();
    let entries = listed(&fabrics, &["--count", "6"]).entries;
    assert_eq!(entries.len(), 6);
    for entry in entries {
        let quilt = saved(&fabrics, entry.number, folder.path(), &["--count", "6"]);
        let totals = json(&good(on("totals", &quilt, &["--json"])));
        assert_eq!(totals["unit"], "cm");
        assert!(lay_again(entry.plan.get(), &totals, 0.75, &trunk()) > 0);
    }
}

#[test]
fn a_saved_quilt_is_not_overwritten_unless_it_is_wished() {
    let fabrics = sample("sixteen-fat-quarters.json");
    let folder = tempfile::tempdir().unwrap();
    let options = ["--blocks", "diagonal half block", "--sizes", "12", "--count", "1"];
    let quilt = saved(&fabrics, 1, folder.path(), &options);
    let before = std::fs::read(&quilt).unwrap();
    let again = |more: &[&str]| {
        let mut args = vec!["--save", "1", "--out", quilt.to_str().unwrap()];
        args.extend(options.iter().chain(more));
        lozenge(on("fits", &fabrics, &args))
    };
    let refused = again(&["--arrangement", "pinwheels"]);
    assert_eq!(refused.code, ExitCode::from(1));
    assert_eq!(std::fs::read(&quilt).unwrap(), before);
    assert_eq!(again(&["--arrangement", "pinwheels", "--force"]).code, ExitCode::SUCCESS);
    assert_ne!(std::fs::read(&quilt).unwrap(), before);
    let unknown = again(&["--arrangement", "spirals", "--force"]);
    assert!(unknown.err.contains("choose one of: ") && unknown.err.contains("pinwheels"), "{}", unknown.err);
}

/// The list as pages; with a quilt beside it, both are written or neither.
#[test]
fn the_list_is_written_as_pages() {
    let fabrics = sample("sixteen-fat-quarters.json");
    let folder = tempfile::tempdir().unwrap();
    let [pages, quilt] = ["list.pdf", "quilt.json"].map(|name| folder.path().join(name));
    let [pages_arg, quilt_arg] = [&pages, &quilt].map(|path| path.to_str().unwrap());
    let options = ["--blocks", "diagonal half block", "--sizes", "12", "--count", "1", "--paper", "a4"];
    let run = |more: &[&str]| lozenge(on("fits", &fabrics, &[&options, more].concat()));
    let told = run(&["--pages", pages_arg]);
    assert_eq!(told.code, ExitCode::SUCCESS, "{}", told.err);
    assert!(told.out.contains("list.pdf"), "{}", told.out);
    let before = std::fs::read(&pages).unwrap();
    assert!(before.starts_with(b"%PDF"));
    let both = ["--pages", pages_arg, "--save", "1", "--out", quilt_arg];
    let refused = run(&both);
    assert_eq!(refused.code, ExitCode::from(1));
    assert!(refused.err.contains("list.pdf") && !quilt.exists(), "{}", refused.err);
    assert_eq!(run(&[&both[..], &["--force"]].concat()).code, ExitCode::SUCCESS);
    assert!(quilt.exists());
    assert_eq!(std::fs::read(&pages).unwrap(), before, "the same list, the same bytes");
    let wrong = run(&["--pages", folder.path().join("list.txt").to_str().unwrap()]);
    assert!(wrong.err.contains("list of quilt tops is written as .pdf"), "{}", wrong.err);
}

#[test]
fn what_is_wrong_is_named_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let head = r#"{"format": "lozenge fabrics", "version": 1, "units": "in", "fabrics": "#;
    let rows = [
        (folder.path().join("nowhere.json"), "cannot be read"),
        (write("broken.json", "{"), "line 1, column"),
        (write("none.json", &format!("{head}[]}}")), "fabrics: list 1 to 64"),
        (
            write("bad.json", &format!(r#"{head}[{{"name": "a", "value": "dark", "lengths": ["?"]}}]}}"#)),
            "fabrics[0].lengths[0]",
        ),
    ];
    for (path, told) in rows {
        let out = folder.path().join("out.json");
        let ran = lozenge(on("fits", &path, &["--save", "1", "--out", out.to_str().unwrap()]));
        assert_eq!(ran.code, ExitCode::from(1));
        assert!(ran.err.contains(told) && ran.err.contains(path.file_name().unwrap().to_str().unwrap()), "{}", ran.err);
        assert!(!out.exists());
    }
    let tiny = write("tiny.json", &format!(r#"{head}[{{"name": "a", "value": "dark"}}], "sizes": [8]}}"#));
    let text = good(on("fits", &tiny, &[]));
    assert!(text.contains("Not one block") && text.contains("any light fabric"), "{text}");
    let ran = lozenge(on("fits", &tiny, &["--save", "1", "--out", "x.json"]));
    assert!(ran.err.contains("there is no entry 1 to save; the list has 0"), "{}", ran.err);
    let sizes = lozenge(on("fits", &tiny, &["--sizes", "8,wide"]));
    assert!(sizes.err.contains("--sizes: \"wide\" is no length"), "{}", sizes.err);
}
