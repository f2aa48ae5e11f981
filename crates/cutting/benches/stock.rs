//! Sharing pieces out to sheets at hand and to what is bought.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use cutting::{CutPiece, Freedom, PieceId, PreparedPiece, RulerStep, Stock, quick, share_out};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};

fn main() {
    divan::main();
}

/// Rectangles of many sizes of an invented quilt.
fn kinds(number: u32) -> Vec<PreparedPiece> {
    (0..number)
        .map(|i| {
            let size = UNITS_PER_INCH + i64::from(i * 7 % 30) * UNITS_PER_INCH / 8;
            let polygon = LayPolygon::rectangle(size, size + i64::from(i % 3) * UNITS_PER_INCH).unwrap();
            let piece = CutPiece { id: PieceId(i), polygon, freedom: Freedom::TURNS };
            PreparedPiece::new(piece, RulerStep::EIGHTH_INCH).unwrap()
        })
        .collect()
}

/// So many kinds of piece, to so many sizes of sheet at hand of which there are ten each, and to fat quarters.
#[divan::bench(args = [(5, 1), (30, 1), (30, 50)])]
fn share(bencher: divan::Bencher<'_, '_>, (number, sizes): (u32, i64)) {
    let ready = kinds(number);
    let wanted: Vec<(&PreparedPiece, u64)> = ready.iter().map(|piece| (piece, 400)).collect();
    let sheet = |width: i64, length: i64, count| Stock::Sheet {
        width: width * UNITS_PER_INCH,
        length: length * UNITS_PER_INCH,
        count,
    };
    let mut stock: Vec<Stock> = (0..sizes).map(|i| sheet(9 + i % 30, 9 + i * 7 % 15, Some(10))).collect();
    stock.push(sheet(22, 18, None));
    bencher.bench(|| share_out(divan::black_box(&wanted), &stock, &mut |width, pieces| quick(width, pieces)).unwrap());
}
