//! Every sample quilt: what the generator writes is what stands in the folder, and every command does its job on it.

use crate::program;
#[path = "../../../crates/lozenge/examples/sample_quilts/quilts/mod.rs"]
mod quilts;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use geometry::{Exact, Recipe};
use layout::Design;
use layout::file::{Document, Variant};
use program::{good, on, sample_files, sample_folder};
use serde_json::Value as Json;

/// Every variant of every sample with its file.
fn each_variant(mut check: impl FnMut(&Path, &Variant)) {
    let files = sample_files();
    assert!(files.len() >= 7, "there are {} samples", files.len());
    for file in files {
        for variant in Document::open(&file).unwrap().variants() {
            check(&file, variant);
        }
    }
}

fn totals(file: &Path, variant: &Variant) -> Json {
    serde_json::from_str(&good(on("totals", file, &["--json", "--variant", &variant.label]))).unwrap()
}

#[test]
fn generating_again_gives_the_same_bytes() {
    let made = quilts::samples().unwrap();
    for sample in &made {
        let stored = std::fs::read(sample_folder().join(sample.file)).unwrap();
        assert!(sample.document.to_bytes().unwrap() == stored, "{} differs: generate the samples again", sample.file);
    }
    let names: Vec<_> = sample_files().iter().map(|f| f.file_name().unwrap().to_str().unwrap().to_owned()).collect();
    let mut generated: Vec<_> = made.iter().map(|s| s.file).collect();
    generated.sort_unstable();
    assert_eq!(names, generated);
}

#[test]
fn saving_a_sample_changes_no_byte() {
    let folder = tempfile::tempdir().unwrap();
    for file in sample_files() {
        let copy = folder.path().join(file.file_name().unwrap());
        good(on("save", &file, &["--out", copy.to_str().unwrap()]));
        assert!(std::fs::read(&copy).unwrap() == std::fs::read(&file).unwrap(), "{}", file.display());
    }
}

#[test]
fn every_sample_is_proved_and_re_laid() {
    for file in sample_files() {
        let report: Json = serde_json::from_str(&good(on("check", &file, &["--json"]))).unwrap();
        let variants = report["variants"].as_array().unwrap();
        assert_eq!(variants.len(), Document::open(&file).unwrap().variants().len());
        for variant in variants {
            assert_eq!(variant["proved"], true);
            // A border may be joined from sections, so there are at least as many pieces as patches.
            assert!(variant["pieces_laid"].as_u64() >= variant["patches"].as_u64(), "{variant}");
        }
        assert!(good(on("check", &file, &[])).contains("laid without overlap"));
    }
}

#[test]
fn every_sample_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    each_variant(|file, variant| {
        let (width, height) = variant.design.finished_size();
        for kind in ["svg", "png"] {
            let picture = folder.path().join(format!("picture.{kind}"));
            let options =
                ["--out", picture.to_str().unwrap(), "--variant", &variant.label, "--width", "300", "--force"];
            good(on("draw", file, &options));
            let bytes = std::fs::read(&picture).unwrap();
            if kind == "svg" {
                let text = String::from_utf8(bytes).unwrap();
                for (_, fabric) in variant.design.fabrics() {
                    assert!(text.contains(&fabric.look.colour().to_string()), "{} is not in the picture", fabric.name);
                }
                continue;
            }
            // PNG, ISO/IEC 15948: the first chunk is IHDR with width and height as 4 bytes each, from byte 16.
            assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
            let size = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
            let wanted = 300.0 * height.to_f64() / width.to_f64();
            assert_eq!(size(16), 300);
            assert!((f64::from(size(20)) - wanted).abs() <= 1.0, "{} is {} high", file.display(), size(20));
        }
    });
}

/// Patches of each fabric, by walking the whole top.
fn walked(design: &Design) -> (BTreeMap<u32, u64>, BTreeMap<(String, u32), u64>) {
    let (mut by_fabric, mut by_role) = (BTreeMap::new(), BTreeMap::new());
    for placed in design.top().unwrap().placed {
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index).unwrap().0;
            *by_fabric.entry(fabric).or_default() += 1;
            *by_role.entry((patch.role.name().to_owned(), fabric)).or_default() += 1;
        }
    }
    (by_fabric, by_role)
}

#[test]
fn totals_count_what_is_in_the_top() {
    each_variant(|file, variant| {
        let totals = totals(file, variant);
        let (by_fabric, by_role) = walked(&variant.design);
        let list = |name: &str| totals[name].as_array().unwrap().clone();
        let told = list("fabrics").iter().map(|f| (id(&f["id"]), f["patches"].as_u64().unwrap())).collect();
        let without_none = |counts: BTreeMap<u32, u64>| counts.into_iter().filter(|(_, n)| *n > 0).collect();
        let told: BTreeMap<u32, u64> = without_none(told);
        assert_eq!(told, by_fabric, "{}", file.display());
        let role = |r: &Json| (r["role"].as_str().unwrap().to_owned(), id(&r["fabric"]));
        let told: BTreeMap<_, _> = list("roles").iter().map(|r| (role(r), r["count"].as_u64().unwrap())).collect();
        assert_eq!(told, by_role, "{}", file.display());
        assert_eq!(totals["patches"].as_u64().unwrap(), by_fabric.values().sum::<u64>());
    });
}

fn id(value: &Json) -> u32 {
    u32::try_from(value.as_u64().unwrap()).unwrap()
}

#[test]
fn finished_areas_fill_the_quilt() {
    each_variant(|file, variant| {
        // Exactly, patch by patch.
        let (width, height) = variant.design.finished_size();
        let mut sum = Exact::ZERO;
        for placed in variant.design.top().unwrap().placed {
            for patch in placed.block.patches() {
                sum = &sum + &patch.outline.area();
            }
        }
        assert_eq!(sum, &width * &height, "{}", file.display());
        // And as printed.
        let totals = totals(file, variant);
        let number = |value: &Json| value.as_f64().unwrap();
        let printed: f64 = totals["fabrics"].as_array().unwrap().iter().map(|f| number(&f["finished_area"])).sum();
        let whole = number(&totals["finished_width"]) * number(&totals["finished_height"]);
        assert!((printed - whole).abs() < 1e-9 * whole, "{}: {printed} of {whole}", file.display());
    });
}

/// What the folder promises: families, units, variants, levels of paint, and the range of sizes.
#[test]
fn samples_differ_in_family_and_size() {
    let mut families = BTreeSet::new();
    let mut sizes = Vec::new();
    let (mut role_paint, mut patch_paint, mut block_paint, mut metric, mut variants) = (0, 0, 0, 0, 0);
    each_variant(|_, variant| {
        let design = &variant.design;
        for (_, def) in design.blocks() {
            families.insert(family(def.recipe()));
            block_paint += def.painted().len();
        }
        sizes.push(design.finished_size().0.to_f64());
        role_paint += design.place_roles().count();
        patch_paint += design.place_patches().count();
        metric += usize::from(design.units() == layout::Units::Centimetres);
        variants += 1;
    });
    assert!(families.len() >= 9, "{families:?}");
    assert!(role_paint > 0 && patch_paint > 0 && block_paint > 0 && metric > 0);
    assert!(variants > sample_files().len());
    let (least, most) = sizes.iter().fold((f64::MAX, 0.0_f64), |(a, b), s| (a.min(*s), b.max(*s)));
    // Better Sleep Council: a crib mattress is 27 × 52 in; often printed for a king: 76 × 80 in. A quilt hangs over.
    assert!((27.0..=48.0).contains(&least), "the smallest is {least} wide");
    assert!((90.0..=120.0).contains(&most), "the largest is {most} wide");
}

/// The word with which a recipe's family begins.
fn family(recipe: &Recipe) -> String {
    format!("{recipe:?}").split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default().to_owned()
}
