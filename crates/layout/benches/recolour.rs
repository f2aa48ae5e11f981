//! What a repaint costs in quilts of 1,000, 10,000 and 100,000 patches, beside counting anew and opening a file.
#![allow(clippy::unwrap_used, reason = "a bench that cannot be set up is no bench")]
#![allow(missing_docs, reason = "a bench has no callers")]

use divan::{Bencher, black_box};
use geometry::{Length, Measure, PatchKey, Recipe, Size, Value};
use layout::file::Document;
use layout::{Colour, ColourScheme, Design, Edit, FabricId, PlaceId, Setting, Starter, Tally, Units, apply};

/// Rows and columns of blocks of eight patches: 1,000, 10,000 and 100,000 patches.
const SIZES: [(u16, u16); 3] = [(5, 25), (25, 50), (50, 250)];

fn main() {
    divan::main();
}

/// A top of diagonal half blocks, eight patches each.
fn quilt(rows: u16, columns: u16) -> Design {
    let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
    let fabric = |name: &str, value| (name.to_owned(), Colour { red: 90, green: 90, blue: 90 }, value);
    let (dark, light) = (FabricId(1), FabricId(2));
    let starter = Starter {
        name: "Bench".into(),
        units: Units::Inches,
        fabrics: vec![fabric("Dark", Value::Dark), fabric("Light", Value::Light)],
        blocks: vec![("Half block".into(), Recipe::DiagonalHalf { size, band: None })],
        scheme: ColourScheme::Two { dark, light },
        setting: Setting::Straight { rows, columns },
        borders: Vec::new(),
        binding: dark,
    };
    starter.design().unwrap()
}

#[divan::bench(args = SIZES)]
fn repaint_one_patch_and_follow(bencher: Bencher<'_, '_>, (rows, columns): (u16, u16)) {
    let design = quilt(rows, columns);
    let tally = Tally::count(&design).unwrap();
    let place = PlaceId::Cell { row: rows / 2, column: columns / 2 };
    let edit = Edit::PaintPatch { place, patch: PatchKey(0), fabric: FabricId(1) };
    bencher.with_inputs(|| tally.clone()).bench_local_refs(|tally| {
        let (next, delta) = apply(&design, black_box(&edit)).unwrap();
        tally.follow(&design, &next, &delta.touched).unwrap()
    });
}

#[divan::bench(args = SIZES)]
fn count_anew(bencher: Bencher<'_, '_>, (rows, columns): (u16, u16)) {
    let design = quilt(rows, columns);
    bencher.bench_local(|| Tally::count(black_box(&design)).unwrap());
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn open_a_file(bencher: Bencher<'_, '_>, (rows, columns): (u16, u16)) {
    let bytes = Document::new(quilt(rows, columns)).to_bytes().unwrap();
    bencher.bench_local(|| Document::from_bytes(black_box(&bytes)).unwrap());
}
