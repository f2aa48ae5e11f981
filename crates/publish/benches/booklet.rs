//! A booklet of some twelve pages: its data, its pages, and the PDF of them.
//!
//! The plans are made beforehand; the typesetter forgets what it kept between runs only as it does in the program.
#![allow(clippy::unwrap_used, reason = "a bench that fails is a failed bench")]

use std::path::Path;

use cutting::{BestBook, Ledger, Planner, Watch};
use divan::Bencher;
use layout::file::Document;
use layout::{Design, Tally};
use piecing::{CuttingHand, QuiltPlan};
use publish::booklet::booklet_data;
use publish::sewing::ready_units;
use publish::{About, BookletInput, BookletOptions, Offered, Paper, booklet};

fn main() {
    divan::main();
}

/// A quilt with its plans.
struct Planned {
    design: Design,
    ledger: Ledger,
    book: BestBook,
    sewing: QuiltPlan,
}

impl Planned {
    fn new(sample: &str) -> Self {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
        let design = Document::open(&folder.join(sample)).unwrap().variants()[0].design.clone();
        let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
        let book = BestBook::new(&design, &ledger, &BestBook::default(), &Watch::new()).unwrap();
        let sewing = QuiltPlan::new(&design, &ready_units(&design, book.sewn())).unwrap();
        Self { design, ledger, book, sewing }
    }

    fn offered(&self) -> Offered<'_> {
        Offered {
            label: "First",
            design: &self.design,
            ledger: &self.ledger,
            plans: self.book.plans(),
            sewn: self.book.sewn(),
            planner: Planner::Best,
        }
    }

    fn options(&self) -> BookletOptions {
        BookletOptions { about: About::quilt(&self.design, Paper::Letter), photo: None, hand: CuttingHand::Right }
    }
}

const SAMPLES: [&str; 2] = ["crib-night-ferry.json", "king-lantern-orchard.json"];

#[divan::bench(args = SAMPLES)]
fn data(bencher: Bencher<'_, '_>, sample: &str) {
    let planned = Planned::new(sample);
    let offered = [planned.offered()];
    let input = BookletInput { quilt: offered[0], sewing: &planned.sewing, offered: &offered };
    bencher.bench_local(|| booklet_data(&input, &planned.options()).unwrap());
}

/// From plans to the bytes of the PDF.
#[divan::bench(args = SAMPLES)]
fn pdf(bencher: Bencher<'_, '_>, sample: &str) {
    let planned = Planned::new(sample);
    let offered = [planned.offered()];
    let input = BookletInput { quilt: offered[0], sewing: &planned.sewing, offered: &offered };
    let pages = booklet(&input, &planned.options()).unwrap().count();
    println!("{sample}: {pages} pages");
    bencher.bench_local(|| booklet(&input, &planned.options()).unwrap().pdf().unwrap());
}

/// The same, when the typesetter has kept nothing: as the command does it.
#[divan::bench(args = SAMPLES, sample_count = 10)]
fn first_pdf(bencher: Bencher<'_, '_>, sample: &str) {
    let planned = Planned::new(sample);
    let offered = [planned.offered()];
    let input = BookletInput { quilt: offered[0], sewing: &planned.sewing, offered: &offered };
    bencher
        .with_inputs(|| comemo::evict(0))
        .bench_local_values(|()| booklet(&input, &planned.options()).unwrap().pdf().unwrap());
}
