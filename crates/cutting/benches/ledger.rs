//! Recolouring one patch, as it happens while a person paints, against planning the whole quilt anew.
//!
//! Every quilt here is of the same block and the same four fabrics, so that only the number of patches differs.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use cutting::{Ledger, audit};
use geometry::{Length, Measure, PatchKey, Recipe, Size, Value};
use layout::{Colour, ColourScheme, Design, Edit, FabricId, PlaceId, Setting, Starter, Tally, Units, apply};

/// Rows and columns of diagonal half blocks of eight patches: about 1 000, 10 000 and 100 000 patches.
const SIZES: [(u16, u16); 3] = [(10, 13), (25, 50), (100, 125)];

const PATCH: PatchKey = PatchKey(1);

fn main() {
    divan::main();
}

fn quilt((rows, columns): (u16, u16)) -> Design {
    let fabric = |name: &str, value| (name.to_owned(), Colour { red: 90, green: 90, blue: 120 }, value);
    let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
    let starter = Starter {
        name: "Bench".to_owned(),
        units: Units::Inches,
        fabrics: vec![
            fabric("Slate", Value::Dark),
            fabric("Chalk", Value::Light),
            fabric("Brick", Value::Medium),
            fabric("Moss", Value::Medium),
        ],
        blocks: vec![("Half block".to_owned(), Recipe::DiagonalHalf { size, band: None })],
        scheme: ColourScheme::Four {
            dark: FabricId(1),
            light: FabricId(2),
            on_dark: FabricId(3),
            on_light: FabricId(4),
        },
        setting: Setting::Straight { rows, columns },
        borders: vec![(Length::whole_inches(3).unwrap(), FabricId(1))],
        binding: FabricId(2),
    };
    let plain = starter.design().unwrap();
    // One place in seven has paint of its own, as in a quilt that has been worked on.
    let places: Vec<PlaceId> = plain.places().map(|(place, _)| place).step_by(7).collect();
    places.into_iter().fold(plain, |design, place| {
        let edit = Edit::PaintPatch { place, patch: PatchKey(0), fabric: FabricId(2) };
        apply(&design, &edit).unwrap().0
    })
}

fn planned(size: (u16, u16)) -> (Design, Tally, Ledger) {
    let design = quilt(size);
    let tally = Tally::count(&design).unwrap();
    let ledger = Ledger::new(&design, &tally).unwrap();
    (design, tally, ledger)
}

/// The edit, its counts, and the plans of the two fabrics it touches.
fn recoloured(design: &mut Design, tally: &mut Tally, ledger: &mut Ledger, fabric: FabricId) {
    let edit = Edit::PaintPatch { place: PlaceId::Cell { row: 3, column: 4 }, patch: PATCH, fabric };
    let (next, delta) = apply(design, &edit).unwrap();
    let (change, _) = tally.follow(design, &next, &delta.touched).unwrap();
    let work = ledger.follow(&next, tally, &change).unwrap();
    assert_eq!(work.fabrics_planned, 2, "each time is a real change");
    *design = next;
}

#[divan::bench(args = SIZES, sample_count = 1000)]
fn recolour(bencher: divan::Bencher<'_, '_>, size: (u16, u16)) {
    let (mut design, mut tally, mut ledger) = planned(size);
    let mut fabrics = [FabricId(3), FabricId(4)].into_iter().cycle();
    recoloured(&mut design, &mut tally, &mut ledger, FabricId(4));
    bencher.bench_local(|| recoloured(&mut design, &mut tally, &mut ledger, fabrics.next().unwrap()));
}

#[divan::bench(args = SIZES)]
fn ledger_from_scratch(bencher: divan::Bencher<'_, '_>, size: (u16, u16)) {
    let (design, tally, _) = planned(size);
    bencher.bench(|| Ledger::new(divan::black_box(&design), &tally).unwrap());
}

#[divan::bench(args = SIZES)]
fn totals_from_scratch(bencher: divan::Bencher<'_, '_>, size: (u16, u16)) {
    let design = quilt(size);
    bencher.bench(|| {
        let tally = Tally::count(divan::black_box(&design)).unwrap();
        Ledger::new(&design, &tally).unwrap()
    });
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn audited(bencher: divan::Bencher<'_, '_>, size: (u16, u16)) {
    let (design, _, ledger) = planned(size);
    bencher.bench(|| audit(divan::black_box(&design), ledger.plans()).unwrap());
}
