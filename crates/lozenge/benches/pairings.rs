//! What the pairings explorer costs the window's thread: counting anew, and going to a place of a list of 10¹²
//! arrangements with 200 of them in view, found, measured and told in words.
#![allow(clippy::unwrap_used, reason = "a bench that cannot be set up is no bench")]
#![allow(missing_docs, reason = "a bench has no callers")]

use std::sync::Arc;

use divan::{Bencher, black_box};
use geometry::{Block, Length, Measure, Recipe, Size};
use layout::pairings::Exchange;
use lozenge::window::pairings::{Catalogue, Choices, List, Source, brief, cells_say, measures_say};

fn main() {
    divan::main();
}

/// 200 cards in view: nine rows of twenty, and the one that is seen in part.
const SHAPE: (usize, usize) = (20, 9);

fn block() -> Arc<Block> {
    let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
    Arc::new(Recipe::DiagonalHalf { size, band: None }.draft().unwrap())
}

/// 4 × 4 cells of eight states that repeat, colours exchanged.
fn choices() -> Choices {
    let mut choices = Choices { rows: 4, columns: 4, ..Choices::default() };
    choices.same.exchange = Exchange::Colours;
    choices
}

fn list() -> List {
    let catalogue = Catalogue::new(&block(), &choices()).unwrap();
    List::new(Source::All(Arc::clone(catalogue.browser().unwrap())), catalogue.measures().clone(), SHAPE)
}

#[divan::bench(args = [0, 100_000, 500_000, 900_000, 990_000])]
fn go_to_200(bencher: Bencher<'_, '_>, millionths: u32) {
    let mut list = list();
    bencher.bench_local(|| {
        list.jump(black_box(millionths));
        list.in_view().count()
    });
}

/// The same with all words of the cards.
#[divan::bench(args = [0, 900_000])]
fn go_to_200_and_tell(bencher: Bencher<'_, '_>, millionths: u32) {
    let mut list = list();
    bencher.bench_local(|| {
        list.jump(black_box(millionths));
        let told = list
            .in_view()
            .map(|item| (brief(&item.measured), measures_say(&item.measured), cells_say(&item.arrangement)));
        told.collect::<Vec<_>>()
    });
}

#[divan::bench]
fn count_anew() -> Catalogue {
    Catalogue::new(&block(), &choices()).unwrap()
}
