//! Lay drawings: that labels, letters, numbers and counts are those of the plan, and what a drawing looks like.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::BTreeMap;
use std::path::Path;

use cutting::{FabricPlan, Ledger, PieceId};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use layout::file::Document;
use layout::{Colour, Design, Tally};
use publish::{
    Drawing, Item, LayPicture, LayPiece, LayRow, LayStrip, Paper, Text, Weight, lay_picture, lay_sheets, png, svg,
};
use resvg::tiny_skia::Pixmap;

const SAMPLES: [&str; 8] = [
    "crib-night-ferry",
    "full-six-winds",
    "king-ember-tide",
    "lap-owl-lane",
    "queen-weathervane",
    "single-birch-and-slate",
    "throw-two-windows",
    "twin-meadow-survey",
];

fn sample(name: &str) -> Design {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../sample-quilts/{name}.json"));
    Document::open(&file).unwrap().variants()[0].design.clone()
}

/// Looks at the plan of every fabric of the samples, and what is drawn of it.
fn each_plan(mut look: impl FnMut(&str, &FabricPlan, LayPicture)) {
    for name in SAMPLES {
        let design = sample(name);
        let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
        for plan in ledger.plans().values() {
            let plan = plan.as_ref().unwrap();
            let lay = LayPicture::new(plan, design.fabric(plan.fabric).unwrap(), design.units()).unwrap();
            look(&format!("{name}, {}", lay.fabric), plan, lay);
        }
    }
}

fn texts(drawing: &Drawing) -> Vec<&Text> {
    drawing.items().iter().filter_map(|item| if let Item::Text(text) = item { Some(text) } else { None }).collect()
}

/// How often a text stands on the drawing in bold.
fn bold(drawing: &Drawing, wanted: &str) -> usize {
    texts(drawing).iter().filter(|text| text.weight == Weight::Bold && text.text == wanted).count()
}

#[test]
fn what_is_drawn_is_what_the_plan_places() {
    each_plan(|name, plan, lay| {
        // Kinds of pieces and their places along the strip, however high up on the fabric the strip lies.
        let mut placed: BTreeMap<(PieceId, Vec<i64>), u64> = BTreeMap::new();
        let along = |polygon: &LayPolygon| polygon.corners().iter().map(|p| p.x).collect::<Vec<_>>();
        for placement in plan.lays().unwrap().iter().flat_map(|on| &on.lay.placements) {
            *placed.entry((placement.piece, along(&placement.polygon))).or_default() += 1;
        }
        let mut drawn: BTreeMap<(PieceId, Vec<i64>), u64> = BTreeMap::new();
        for strip in &lay.strips {
            for row in &strip.rows {
                let id = plan.pieces[row.number - 1].prepared.id();
                for polygon in &row.polygons {
                    *drawn.entry((id, along(polygon))).or_default() += strip.repeat;
                }
            }
        }
        assert_eq!(drawn, placed, "{name}");
        let taken: i64 = lay.strips.iter().map(|s| s.height * i64::try_from(s.repeat).unwrap()).sum();
        assert_eq!(taken, lay.length, "{name}");
    });
}

#[test]
fn letters_numbers_and_counts_are_those_of_the_list() {
    each_plan(|name, plan, lay| {
        let drawing = lay_picture(&lay).unwrap();
        let told: Vec<&str> = texts(&drawing).iter().map(|text| text.text.as_str()).collect();
        for (strip, run) in lay.strips.iter().zip(&plan.plan.strips) {
            assert_eq!(bold(&drawing, &strip.letter), 1, "{name}: strip {}", strip.letter);
            assert_eq!(strip.repeat, run.repeat);
        }
        let likes = told.iter().filter(|text| text.ends_with("like this")).count();
        assert_eq!(likes, lay.strips.iter().filter(|strip| strip.repeat > 1).count(), "{name}");
        for (piece, planned) in lay.pieces.iter().zip(&plan.pieces) {
            assert_eq!(piece.count, planned.count);
            let begins = format!("{} × ", piece.count);
            assert!(told.iter().any(|text| text.starts_with(&begins)), "{name}: no {begins:?} in {told:?}");
            let rows = || lay.strips.iter().flat_map(|strip| &strip.rows).filter(|row| row.number == piece.number);
            let (shown, least) = (rows().map(|row| row.polygons.len()).sum::<usize>(), rows().count());
            // Once in the list, and on every piece, or once a row where pieces are small.
            let found = bold(&drawing, &piece.number.to_string()) - 1;
            assert!(found <= shown && found >= least, "{name}: {found} of piece {}", piece.number);
        }
        assert!(told.contains(&format!("buy {}", plan.purchase.label).as_str()), "{name}: {told:?}");
    });
}

/// Nothing is drawn off the page, and no text is too small to be read: type of 6 points at least.
#[test]
fn everything_is_on_the_page_and_large_enough() {
    let check = |name: &str, drawing: &Drawing| {
        let page = drawing.page();
        let on_page = |[x, y]: [f64; 2]| (0.0..=page.width_in).contains(&x) && (0.0..=page.height_in).contains(&y);
        for item in drawing.items() {
            let good = match item {
                Item::Area(area) => area.polygons.iter().flatten().all(|p| on_page(*p)),
                Item::Lines(lines) => lines.polylines.iter().flat_map(|line| &line.points).all(|p| on_page(*p)),
                Item::Text(text) => on_page(text.at) && text.size_in >= 6.0 / 72.0,
                _ => false,
            };
            assert!(good, "{name}: {item:?} on {page:?}");
        }
    };
    each_plan(|name, _, lay| {
        check(name, &lay_picture(&lay).unwrap());
        for paper in [Paper::Letter, Paper::A4] {
            let sheets = lay_sheets(&LayPicture { folded: true, ..lay.clone() }, paper).unwrap();
            sheets.iter().for_each(|sheet| check(name, sheet));
        }
    });
}

/// A lay of our own: two kinds of piece, one of them too small for its number.
fn small(repeat: u64) -> LayPicture {
    let inch = UNITS_PER_INCH;
    let square = |side: i64, x: i64| LayPolygon::rectangle(side, side).unwrap().moved(x, 0);
    let row = |number, side: i64, from: i64, count: i64| LayRow {
        number,
        polygons: (0..count).map(|k| square(side, from + k * side)).collect(),
    };
    let strip = |letter: &str, height, repeat, rows| LayStrip {
        letter: letter.to_owned(),
        height,
        repeat,
        heading: String::new(),
        words: Vec::new(),
        rows,
    };
    let piece = |number, name: &str, size: &str, count| LayPiece {
        number,
        name: name.to_owned(),
        size: size.to_owned(),
        count,
    };
    LayPicture {
        fabric: "Plain & simple".to_owned(),
        value: geometry::Value::Light,
        colour: Colour::rgb(240, 220, 180),
        units: layout::Units::Inches,
        width: 12 * inch,
        length: 4 * inch,
        buy: "⅛ yd".to_owned(),
        folded: true,
        pieces: vec![piece(1, "square", "4″ × 4″", repeat), piece(2, "chip", "¼″ × ¼″", 4 * repeat)],
        strips: vec![strip("A", 4 * inch, repeat, vec![row(1, 4 * inch, 4 * inch, 1), row(2, inch / 4, 9 * inch, 4)])],
    }
}

#[test]
fn a_small_lay_is_drawn_as_expected() {
    insta::assert_snapshot!(svg(&lay_picture(&small(3)).unwrap()));
}

#[test]
fn a_plan_of_the_samples_is_drawn_as_before() {
    each_plan(|name, _, lay| {
        if name == "crib-night-ferry, Oat" {
            insta::assert_snapshot!(svg(&lay_picture(&lay).unwrap()));
        }
    });
}

#[test]
fn a_small_piece_has_its_number_once_a_row() {
    let drawing = lay_picture(&small(1)).unwrap();
    assert_eq!((bold(&drawing, "1"), bold(&drawing, "2")), (2, 2), "in the list, and on the fabric");
}

/// A long list goes on to further sheets, and none of it is lost.
#[test]
fn long_lays_take_several_sheets() {
    let mut lay = small(2);
    let strip = lay.strips[0].clone();
    lay.strips =
        (0..30).map(|index| LayStrip { letter: publish::cut_words::strip_letter(index), ..strip.clone() }).collect();
    let sheets = lay_sheets(&lay, Paper::A4).unwrap();
    assert!(sheets.len() > 2, "{} sheets", sheets.len());
    for strip in &lay.strips {
        let found: usize = sheets.iter().map(|sheet| bold(sheet, &strip.letter)).sum();
        assert_eq!(found, 2, "strip {} is drawn once and listed once", strip.letter);
    }
    for (index, sheet) in sheets.iter().enumerate() {
        let foot = format!("sheet {} of {}", index + 1, sheets.len());
        assert!(texts(sheet).iter().any(|text| text.text == foot), "{foot}");
    }
}

/// Text is rendered, with our own type: there is ink where the title is.
#[test]
fn a_picture_shows_its_text() {
    let drawing = lay_picture(&small(1)).unwrap();
    let pixels = Pixmap::decode_png(&png(&drawing, 800).unwrap()).unwrap();
    let title = pixels.pixels().iter().take(800 * 55).filter(|pixel| pixel.red() < 80).count();
    assert!(title > 300, "{title} dark pixels above the fabric");
}
