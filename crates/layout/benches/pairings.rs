//! What a page of 200 arrangements costs at the beginning, in the middle and near the end of a long list.
#![allow(clippy::unwrap_used, reason = "a bench that cannot be set up is no bench")]
#![allow(missing_docs, reason = "a bench has no callers")]

use std::sync::Arc;

use divan::{Bencher, black_box};
use geometry::{Length, Measure, Recipe, Size};
use layout::pairings::{
    Allowed, BlockStates, Browser, Budget, Exchange, Group, HalfType, Identified, Measures, Motif, Position, Survey,
    Turning, Wrap,
};

fn main() {
    divan::main();
}

/// All eight states of a diagonal half block.
fn states() -> BlockStates {
    let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
    let block = Recipe::DiagonalHalf { size, band: None }.draft().unwrap();
    BlockStates::new(Arc::new(block), &Allowed::types(&HalfType::ALL)).unwrap()
}

/// 4 × 4 cells: 10¹² classes where the motif repeats, 2 × 10¹³ where it stands alone.
fn browser(wrap: Wrap) -> Browser {
    let identified = Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Colours, shifts: true };
    Browser::new(Group::new(&states(), Motif::new(4, 4, wrap).unwrap(), identified)).unwrap()
}

#[divan::bench(args = [0, 10, 50, 90, 99])]
fn page_of_200_repeating(bencher: Bencher<'_, '_>, percent: u32) {
    let browser = browser(Wrap::Repeats);
    bencher.bench_local(|| browser.page(Position::Share { part: black_box(percent), of: 100 }, 200));
}

#[divan::bench(args = [0, 10, 50, 90, 99])]
fn page_of_200_alone(bencher: Bencher<'_, '_>, percent: u32) {
    let browser = browser(Wrap::Alone);
    bencher.bench_local(|| browser.page(Position::Share { part: black_box(percent), of: 100 }, 200));
}

/// Everything that a row of 200 thumbnails says: the page, and the measures of each.
#[divan::bench(args = [0, 90])]
fn page_of_200_measured(bencher: Bencher<'_, '_>, percent: u32) {
    let browser = browser(Wrap::Repeats);
    let measures = Measures::new(&states(), browser.group().motif());
    bencher.bench_local(|| {
        let page = browser.page(Position::Share { part: black_box(percent), of: 100 }, 200);
        page.arrangements.iter().map(|one| measures.of(one)).collect::<Result<Vec<_>, _>>().unwrap()
    });
}

/// All 938,928 classes of the repeating 3 × 3 motif would take 134 million fillings; 5,000 of them spread over the list.
#[divan::bench(sample_count = 10)]
fn sample_of_5000() -> Survey {
    let identified = Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Colours, shifts: true };
    let motif = Motif::new(3, 3, Wrap::Repeats).unwrap();
    let browser = Browser::new(Group::new(&states(), motif, identified)).unwrap();
    let budget = Budget { steps: 2_000_000, arrangements: 5_000 };
    Survey::of(&browser, &Measures::new(&states(), motif), budget).unwrap()
}

#[divan::bench]
fn open_the_list() -> Browser {
    browser(Wrap::Repeats)
}
