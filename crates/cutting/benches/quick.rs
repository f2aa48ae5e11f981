//! Planning from counts, and checking the lays.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use cutting::{CutPiece, Freedom, Lay, PieceId, PreparedPiece, RulerStep, lays, quick, verify};
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};

const WIDTH: i64 = 42 * UNITS_PER_INCH;

fn main() {
    divan::main();
}

/// Kinds of piece of an invented quilt: rectangles, right triangles, rhombi and notched squares of many sizes.
fn kinds(number: u32) -> Vec<PreparedPiece> {
    (0..number)
        .map(|i| {
            let size = UNITS_PER_INCH + i64::from(i * 7 % 30) * UNITS_PER_INCH / 8;
            let corners = match i % 4 {
                0 => vec![(0, 0), (2 * size, 0), (2 * size, size), (0, size)],
                1 => vec![(0, 0), (size, 0), (0, size)],
                2 => vec![(0, 0), (size * 7 / 5, 0), (size * 12 / 5, size), (size, size)],
                _ => vec![(0, 0), (size, 0), (size, size), (size / 2, size / 2), (0, size)],
            };
            let polygon = LayPolygon::new(corners.into_iter().map(|(x, y)| LayPoint::new(x, y)).collect()).unwrap();
            let piece = CutPiece { id: PieceId(i), polygon, freedom: Freedom::TURNS };
            PreparedPiece::new(piece, RulerStep::EIGHTH_INCH).unwrap()
        })
        .collect()
}

fn counted(ready: &[PreparedPiece], total: u64) -> Vec<(&PreparedPiece, u64)> {
    let each = total / u64::try_from(ready.len()).unwrap();
    (0..).zip(ready).map(|(i, p)| (p, each + i)).collect()
}

#[divan::bench(args = [(5, 1_000), (5, 100_000), (30, 1_000), (30, 100_000)])]
fn plan(bencher: divan::Bencher<'_, '_>, (number, total): (u32, u64)) {
    let ready = kinds(number);
    let wanted = counted(&ready, total);
    bencher.bench(|| quick(WIDTH, divan::black_box(&wanted)));
}

#[divan::bench(args = [5, 30])]
fn prepare(number: u32) -> Vec<PreparedPiece> {
    kinds(number)
}

fn placed(total: u64) -> (Vec<PreparedPiece>, Vec<Lay>, Vec<u64>) {
    let ready = kinds(30);
    let wanted = counted(&ready, total);
    let placed = lays(&quick(WIDTH, &wanted).unwrap(), &ready.iter().collect::<Vec<_>>()).unwrap();
    let counts = wanted.iter().map(|w| w.1).collect();
    (ready, placed, counts)
}

#[divan::bench(args = [1_000, 10_000, 100_000])]
fn check(bencher: divan::Bencher<'_, '_>, total: u64) {
    let (ready, placed, counts) = placed(total);
    let wanted: Vec<(&CutPiece, u64)> = ready.iter().map(PreparedPiece::piece).zip(counts).collect();
    bencher.bench(|| verify(WIDTH, &wanted, divan::black_box(&placed)).unwrap());
}
