//! Sewing of every sample quilt, put together again from what `sew --json` says.

use crate::program;

use std::collections::BTreeSet;
use std::path::Path;

use layout::file::{Document, Variant};
use layout::{CuttingWishes, Edit, Overwrite, apply};
use program::{good, lozenge, on, sample_files};
use serde_json::Value as Json;

type Keys = BTreeSet<u64>;

fn each_variant(mut check: impl FnMut(&Path, &Variant, &Json)) {
    for file in sample_files() {
        for variant in Document::open(&file).unwrap().variants() {
            let told = good(on("sew", &file, &["--json", "--variant", &variant.label]));
            check(&file, variant, &serde_json::from_str(&told).unwrap());
        }
    }
}

fn list(json: &Json) -> &[Json] {
    json.as_array().unwrap()
}

fn keys(json: &Json) -> Keys {
    list(json).iter().map(|key| key.as_u64().unwrap()).collect()
}

fn count(json: &Json) -> u64 {
    json.as_u64().unwrap()
}

#[test]
fn steps_put_every_block_together_again() {
    each_variant(|file, variant, told| {
        for block in list(&told["blocks"]) {
            let name = format!("{} {} {}", file.display(), variant.label, block["name"]);
            let mut made: BTreeSet<Keys> = BTreeSet::new();
            let mut pivots = 0;
            for step in list(&block["steps"]) {
                for unit in list(&step["units"]) {
                    let patches = keys(&unit["patches"]);
                    let parts: Vec<Keys> = list(&unit["parts"]).iter().map(keys).collect();
                    let ready = |part: &Keys| part.len() == 1 || made.contains(part);
                    assert!(parts.iter().all(ready), "{name}: a part is not made yet in {unit}");
                    assert_eq!(parts.iter().map(BTreeSet::len).sum::<usize>(), patches.len(), "{name}: {unit}");
                    assert_eq!(parts.iter().flatten().copied().collect::<Keys>(), patches, "{name}: {unit}");
                    let seams = list(&unit["seams"]);
                    assert_eq!(seams.len() + 1, parts.len(), "{name}: {unit}");
                    pivots += seams.iter().map(|seam| list(&seam["path"]).len() - 2).sum::<usize>();
                    made.insert(patches);
                }
            }
            let all = made.last().map_or(0, |_| made.iter().map(BTreeSet::len).max().unwrap());
            let patches = usize::try_from(count(&block["patches"])).unwrap();
            assert!(all == patches || patches == 1, "{name}: {all} of {patches} patches are sewn");
            assert_eq!(pivots as u64, count(&block["pivots"]["found"]), "{name}");
            assert_eq!(block["pivots"]["found"], block["pivots"]["at_least"], "{name}: proved");
        }
    });
}

/// Each step is made as often as its units stand in all copies of the block.
#[test]
fn steps_make_as_many_units_as_the_quilt_needs() {
    each_variant(|file, variant, told| {
        let mut copies = 0;
        for block in list(&told["blocks"]) {
            copies += count(&block["copies"]);
            for step in list(&block["steps"]) {
                let variants: u64 = list(&step["variants"]).iter().map(|v| count(&v["count"])).sum();
                let units = list(&step["units"]).len() as u64;
                assert_eq!(count(&step["makes"]), variants, "{}: {step}", file.display());
                // Mirrored blocks of a step with units of both hands give to the other one; only the sum is kept.
                if step["variants"].to_string().contains("\"mirrored\":true") {
                    continue;
                }
                assert_eq!(variants, units * count(&block["copies"]), "{} {}", file.display(), block["name"]);
            }
            let pieces = list(&block["test_block"]["pieces"]);
            let number = |line: &Json| line.as_str().unwrap().split(' ').next().unwrap().parse::<u64>().unwrap();
            // A block of one piece is not sewn, and needs no test.
            let wanted = if list(&block["steps"]).is_empty() { 0 } else { count(&block["patches"]) };
            assert_eq!(pieces.iter().map(number).sum::<u64>(), wanted, "{pieces:?}");
        }
        let design = &variant.design;
        let places: usize = design.blocks().map(|(id, _)| design.places_of(id).count()).sum();
        assert_eq!(copies, places as u64, "{}: blocks of pieced borders are sewn too", file.display());
    });
}

/// The figure to measure after the last step of a square block is its finished sides, the shorter first,
/// and two seam allowances.
#[test]
fn blocks_measure_what_is_designed() {
    each_variant(|_, variant, told| {
        let seam = variant.design.seam().inches().scale_int(2);
        let units = variant.design.units();
        let side = |inches: &geometry::Exact| publish::lengths::finished(&(inches + &seam), units);
        for block in list(&told["blocks"]) {
            let Some(last) = list(&block["steps"]).last() else { continue };
            let outline = variant.design.blocks().find(|(id, _)| u64::from(id.0) == count(&block["id"])).unwrap();
            if outline.1.block().base().corners().len() == 4 {
                // Blocks of pieced borders have a size of their own.
                let (width, height) = outline.1.block().base().extent();
                let (short, long) = if height < width { (&height, &width) } else { (&width, &height) };
                let wanted = format!("{} × {}", side(short), side(long));
                assert_eq!(last["measures"].as_str(), Some(wanted.as_str()), "{}", block["name"]);
            }
        }
    });
}

#[test]
fn pages_are_written_once_and_replaced_when_asked() {
    let folder = tempfile::tempdir().unwrap();
    let file = &sample_files()[0];
    let pages = folder.path().to_str().unwrap();
    let words = good(on("sew", file, &["--pages", pages]));
    assert!(words.contains("Step 1 of") && words.contains("Putting the top together"), "{words}");
    let first = std::fs::read(folder.path().join("sewing-page-1.svg")).unwrap();
    let refused = lozenge(on("sew", file, &["--pages", pages]));
    assert_eq!(refused.code, std::process::ExitCode::from(1));
    assert!(refused.err.contains("sewing-page-1.svg"), "{}", refused.err);
    good(on("sew", file, &["--pages", pages, "--force"]));
    assert!(std::fs::read(folder.path().join("sewing-page-1.svg")).unwrap() == first, "equal input, equal bytes");
    let left = good(on("sew", file, &["--left-handed"]));
    assert!(left.contains("order of sewing"));
}

/// What the cutting plan sews before it cuts is a unit of the steps, however the block would be sewn otherwise.
#[test]
fn units_that_are_sewn_before_they_are_cut_are_steps() {
    let folder = tempfile::tempdir().unwrap();
    let mut found = 0;
    for sample in sample_files() {
        let document = Document::open(&sample).unwrap();
        let design = &document.variants()[0].design;
        let wishes = CuttingWishes { avoid: BTreeSet::new(), ..design.cutting().clone() };
        let (design, _) = apply(design, &Edit::SetCutting(wishes)).unwrap();
        let file = folder.path().join(sample.file_name().unwrap());
        Document::new(design).save(&file, Overwrite::Refuse).unwrap();
        let told: Json = serde_json::from_str(&good(on("sew", &file, &["--json"]))).unwrap();
        for block in list(&told["blocks"]) {
            let units = |line: &Json| {
                let words = line.as_str().unwrap().rsplit(": ").next().unwrap();
                words.split(' ').next().unwrap().parse::<u64>().ok()
            };
            let sewn: u64 = list(&block["sewn_first"]).iter().filter_map(units).sum();
            let lines = list(&block["steps"]).iter().flat_map(|step| list(&step["words"]));
            let come = lines.filter_map(|line| line.as_str().unwrap().split_once(" of these come sewn"));
            let come: u64 = come.map(|(count, _)| count.parse::<u64>().unwrap()).sum();
            // A strip set tells segments behind the word "into", not at its end.
            if list(&block["sewn_first"]).iter().all(|line| !line.as_str().unwrap().contains("strip set")) {
                assert_eq!(come, sewn, "{} {}", file.display(), block["name"]);
            }
            found += come;
        }
    }
    assert!(found > 100, "only {found} units are sewn first in all samples");
}

/// Seams that do not nest are listed one by one, as many as are counted, each between blocks that are there.
#[test]
fn seams_that_do_not_nest_are_listed() {
    let mut listed = 0;
    each_variant(|file, variant, told| {
        let lost = told["unnested"].as_array().map_or(0, Vec::len);
        let top = list(&told["top"]).iter().map(|line| line.as_str().unwrap());
        let counted = top.clone().find_map(|line| line.split_once(" cannot nest"));
        let counted = counted.map_or(0, |(count, _)| count.split(' ').next().unwrap().parse::<usize>().unwrap());
        assert_eq!(lost, counted, "{} {}", file.display(), variant.label);
        listed += lost;
    });
    assert!(listed > 0, "some sample has seams that do not nest");
}
