//! Every figure that several commands print of a sample is the same in all of them: totals, both cutting plans, and
//! the picture.

use crate::pictured;
use crate::program;

use std::collections::BTreeMap;
use std::path::Path;

use layout::file::{Document, Variant};
use pictured::{Pictured, pictured};
use program::{good, on, sample_files};
use serde_json::Value as Json;

/// What the commands say of one variant.
struct Told {
    name: String,
    totals: Json,
    quick: Json,
    best: Json,
    picture: Pictured,
    /// Fabrics by their colour, where only one has it.
    colours: BTreeMap<String, u64>,
    /// Inches in the unit of the figures.
    inch: f64,
}

fn told(file: &Path, variant: &Variant, folder: &Path) -> Told {
    let json = |command: &str, more: &[&str]| -> Json {
        let options = [&["--json", "--variant", variant.label.as_str()], more].concat();
        serde_json::from_str(&good(on(command, file, &options))).unwrap()
    };
    let picture = folder.join("picture.svg");
    good(on("draw", file, &["--out", picture.to_str().unwrap(), "--variant", &variant.label, "--force"]));
    let fabrics = variant.design.fabrics();
    let colours: BTreeMap<String, u64> =
        fabrics.map(|(id, fabric)| (fabric.look.colour().to_string(), u64::from(id.0))).collect();
    assert_eq!(colours.len(), variant.design.fabrics().count(), "fabrics of a sample have colours of their own");
    let totals = json("totals", &[]);
    Told {
        name: format!("{} ({})", file.display(), variant.label),
        inch: if totals["unit"] == "cm" { 2.54 } else { 1.0 },
        totals,
        quick: json("cut", &["--quick"]),
        best: json("cut", &[]),
        picture: pictured(&std::fs::read_to_string(&picture).unwrap()),
        colours,
    }
}

fn fabrics(json: &Json) -> &Vec<Json> {
    json["fabrics"].as_array().unwrap()
}

fn number(json: &Json) -> f64 {
    json.as_f64().unwrap()
}

#[allow(clippy::cast_precision_loss, reason = "some thousands")]
fn near(a: f64, b: f64, within: f64, what: &str) {
    assert!((a - b).abs() <= within * b.abs().max(1.0), "{what}: {a} and {b}");
}

#[test]
fn totals_cutting_plans_and_picture_agree_on_every_sample() {
    let folder = tempfile::tempdir().unwrap();
    for file in sample_files() {
        for variant in Document::open(&file).unwrap().variants() {
            let told = told(&file, variant, folder.path());
            heads_agree(&told);
            picture_agrees(&told);
            plans_agree(&told);
            pieces_agree(&told, &told.quick);
            pieces_agree(&told, &told.best);
        }
    }
}

/// Name, unit and which fabrics there are.
fn heads_agree(told: &Told) {
    for plan in [&told.quick, &told.best] {
        for head in ["unit", "name"] {
            assert_eq!(plan[head], told.totals[head], "{}: {head}", told.name);
        }
        for head in ["id", "name"] {
            let listed = |json: &Json| fabrics(json).iter().map(|f| f[head].clone()).collect::<Vec<_>>();
            assert_eq!(listed(plan), listed(&told.totals), "{}: {head}", told.name);
        }
    }
}

/// Size, and patches and area of every fabric.
fn picture_agrees(told: &Told) {
    let Told { totals, picture, inch, name, .. } = told;
    near(picture.width * inch, number(&totals["finished_width"]), 1e-5, name);
    near(picture.height * inch, number(&totals["finished_height"]), 1e-5, name);
    let mut drawn: BTreeMap<u64, (u64, f64)> = BTreeMap::new();
    for (colour, area) in &picture.areas {
        let entry = drawn.entry(told.colours[colour]).or_default();
        *entry = (entry.0 + 1, entry.1 + area * inch * inch);
    }
    for fabric in fabrics(totals) {
        let (patches, area) = drawn.remove(&fabric["id"].as_u64().unwrap()).unwrap_or_default();
        let what = format!("{name}: {}", fabric["name"]);
        assert_eq!(patches, fabric["patches"].as_u64().unwrap(), "{what}");
        near(area, number(&fabric["finished_area"]), 1e-4, &what);
    }
    assert!(drawn.is_empty(), "{name}: drawn and not counted: {drawn:?}");
    assert_eq!(picture.areas.len() as u64, totals["patches"].as_u64().unwrap(), "{name}");
    let roles = totals["roles"].as_array().unwrap().iter();
    assert_eq!(roles.map(|r| r["count"].as_u64().unwrap()).sum::<u64>(), totals["patches"].as_u64().unwrap(), "{name}");
}

/// Lengths and what is bought; the totals are those of the plan they name, and the best is no longer than the quick.
fn plans_agree(told: &Told) {
    let name = &told.name;
    let same = if told.totals["plan"] == "quick" { &told.quick } else { &told.best };
    for (totals, plan) in fabrics(&told.totals).iter().zip(fabrics(same)) {
        let what = format!("{name}: {}", totals["name"]);
        for figure in ["required_length", "buy_length", "buy_label"] {
            assert_eq!(totals[figure], plan[figure], "{what}: {figure}");
        }
        assert_eq!(totals["least_by_any_means_length"], plan["lower_bound_length"], "{what}");
    }
    for (quick, best) in fabrics(&told.quick).iter().zip(fabrics(&told.best)) {
        assert!(number(&best["required_length"]) <= number(&quick["required_length"]), "{name}: {}", best["name"]);
        assert!(number(&best["required_length"]) >= number(&best["lower_bound_length"]), "{name}: {}", best["name"]);
    }
}

/// Pieces are the patches, but for border strips and fillers that are joined from sections; binding strips come on top.
fn pieces_agree(told: &Told, plan: &Json) {
    let binding = &told.totals["binding"];
    for (totals, fabric) in fabrics(&told.totals).iter().zip(fabrics(plan)) {
        let what = format!("{}: {}", told.name, totals["name"]);
        let (mut patches, mut sections, mut strips) = (0, 0, 0);
        for piece in fabric["pieces"].as_array().unwrap() {
            let label = piece["label"].as_str().unwrap();
            let kind = if label.contains("binding") {
                &mut strips
            } else if label.contains("section") {
                &mut sections
            } else {
                &mut patches
            };
            *kind += piece["count"].as_u64().unwrap();
        }
        let of_fabric = |role: &&Json| role["fabric"] == totals["id"];
        let roles = told.totals["roles"].as_array().unwrap().iter().filter(of_fabric);
        let is_long = |r: &&Json| r["role"] == "border" || r["role"] == "filler";
        let borders: u64 = roles.filter(is_long).map(|r| r["count"].as_u64().unwrap()).sum();
        let in_sections = totals["patches"].as_u64().unwrap() - patches;
        assert!(in_sections <= borders && in_sections <= sections, "{what}: {in_sections}, {borders}, {sections}");
        assert!((in_sections > 0) == (sections > 0), "{what}: {in_sections} strips of {sections} sections");
        let wanted = if binding["fabric"] == totals["id"] { binding["strips"].as_u64().unwrap() } else { 0 };
        assert_eq!(strips, wanted, "{what}: binding strips");
    }
}
