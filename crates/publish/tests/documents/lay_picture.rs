//! Lay drawings: that labels, letters, numbers and counts are those of the plan, and what a drawing looks like.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use cutting::{BestBook, FabricPlan, Ledger, PieceId, PlannedPiece, Watch};
use geometry::Length;
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use layout::file::Document;
use layout::{Colour, CuttingWishes, Design, Edit, Fabric, FabricId, InHand, Precut, Sold, Tally, apply};
use publish::cut_words::{buy_words, purchase_lines, strip_letter};
use publish::{
    Drawing, Item, LayCloth, LayCut, LayPicture, LayPiece, LayRow, LayStrip, Paper, Text, Weight, lay_picture,
    lay_sheets, png, svg,
};
use resvg::tiny_skia::Pixmap;

const SAMPLES: [&str; 9] = [
    "crib-night-ferry",
    "full-six-winds",
    "king-ember-tide",
    "king-lantern-orchard",
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
        quick_plans(name, &design, &mut look);
    }
    quick_plans("fat quarters", &fat_quarters(), &mut look);
    quick_plans("at hand", &at_hand(), &mut look);
    best_plans("blanks", &fewest_cuts(), &mut look);
}

fn quick_plans(name: &str, design: &Design, look: &mut impl FnMut(&str, &FabricPlan, LayPicture)) {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    drawn(name, design, ledger.plans().values().map(|plan| plan.as_ref().unwrap()), look);
}

fn best_plans(name: &str, design: &Design, look: &mut impl FnMut(&str, &FabricPlan, LayPicture)) {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    let book = BestBook::new(design, &ledger, &BestBook::default(), &Watch::new()).unwrap();
    drawn(name, design, book.plans().values().map(|plan| plan.as_ref().unwrap()), look);
}

fn drawn<'a>(
    name: &str,
    design: &Design,
    plans: impl Iterator<Item = &'a FabricPlan>,
    look: &mut impl FnMut(&str, &FabricPlan, LayPicture),
) {
    for plan in plans {
        let lay = LayPicture::new(plan, design.fabric(plan.fabric).unwrap(), design.units()).unwrap();
        look(&format!("{name}, {}", lay.fabric), plan, lay);
    }
}

/// A sample with every fabric changed.
fn changed(name: &str, change: impl Fn(&mut Fabric)) -> Design {
    let mut design = sample(name);
    let ids: Vec<FabricId> = design.fabrics().map(|(id, _)| id).collect();
    for id in ids {
        let mut fabric = design.fabric(id).unwrap().clone();
        change(&mut fabric);
        design = apply(&design, &Edit::ChangeFabric { id, fabric }).unwrap().0;
    }
    design
}

fn inches(whole: i64) -> Length {
    Length::whole_inches(whole).unwrap()
}

/// Sold as 18 by 22 inches: common practice, no source.
fn fat_quarters() -> Design {
    let precut = Precut { width: inches(22), length: inches(18) };
    changed("crib-night-ferry", |fabric| fabric.sold = Sold::Precut(precut.clone()))
}

/// One piece of half a yard by twenty inches at hand, the rest by length.
fn at_hand() -> Design {
    changed("crib-night-ferry", |fabric| {
        fabric.in_hand = vec![InHand { width: inches(20), length: inches(18), count: 2 }];
    })
}

/// Every method allowed, and cuts worth half an inch each: what is planned from blanks.
fn fewest_cuts() -> Design {
    let wishes = CuttingWishes { cut_worth: 50, avoid: BTreeSet::new(), ..CuttingWishes::default() };
    apply(&sample("crib-night-ferry"), &Edit::SetCutting(wishes)).unwrap().0
}

fn texts(drawing: &Drawing) -> Vec<&Text> {
    drawing.items().iter().filter_map(|item| if let Item::Text(text) = item { Some(text) } else { None }).collect()
}

/// How often a text stands on the drawing in bold.
fn bold(drawing: &Drawing, wanted: &str) -> usize {
    texts(drawing).iter().filter(|text| text.weight == Weight::Bold && text.text == wanted).count()
}

type Places = BTreeMap<(usize, Vec<i64>), u64>;

/// Kinds of pieces and their places along the strip, however high up on the fabric the strip lies.
fn places(lay: &LayPicture, count: impl Fn(&LayRow) -> Vec<(usize, &[LayPolygon])>) -> Places {
    let mut found = Places::new();
    for cloth in &lay.cloths {
        for strip in &cloth.strips {
            for (number, polygons) in strip.rows.iter().flat_map(&count) {
                for polygon in polygons {
                    *found.entry((number, along(polygon))).or_default() += strip.repeat * cloth.repeat;
                }
            }
        }
    }
    found
}

fn along(polygon: &LayPolygon) -> Vec<i64> {
    polygon.corners().iter().map(|p| p.x).collect()
}

/// Pieces that come out of no blank lie where the plan places them; of those that do, none is missing, and no more are
/// drawn than the blanks give.
#[test]
fn what_is_drawn_is_what_the_plan_places() {
    let mut blanks = 0;
    each_plan(|name, plan, lay| {
        let number_of = |id: PieceId| plan.pieces.iter().position(|p| p.prepared.id() == id).unwrap() + 1;
        let mut placed = Places::new();
        for placement in plan.lays().unwrap().iter().flat_map(|on| &on.lay.placements) {
            *placed.entry((number_of(placement.piece), along(&placement.polygon))).or_default() += 1;
        }
        let drawn = places(&lay, |row| match row.cuts.as_slice() {
            [] => vec![(row.number, row.polygons.as_slice())],
            cuts => cuts.iter().map(|cut| (cut.number, cut.polygons.as_slice())).collect(),
        });
        for (place, count) in &placed {
            assert!(drawn.get(place).is_some_and(|drawn| drawn >= count), "{name}: {place:?}");
        }
        let outlines = places(&lay, |row| vec![(row.number, row.polygons.as_slice())]);
        let total = |places: &Places, number: usize| {
            places.iter().filter(|((n, _), _)| *n == number).map(|(_, count)| count).sum::<u64>()
        };
        for (index, piece) in plan.pieces.iter().enumerate() {
            assert_eq!(total(&outlines, index + 1), piece.from_strips(), "{name}: {}", piece.label);
            let of_blank = |p: &PlannedPiece| {
                p.blank.as_ref().map_or(0, |b| b.counts().get(&piece.prepared.id()).copied().unwrap_or(0) * p.count)
            };
            let given = plan.pieces.iter().map(of_blank).sum::<u64>();
            if piece.blank.is_none() {
                assert_eq!(total(&drawn, index + 1), piece.from_strips() + given, "{name}: {}", piece.label);
            }
            blanks += u64::from(piece.blank.is_some());
        }
        assert_eq!(lay.strips_cut(), plan.strips_cut(), "{name}");
        let length = lay.cloths.iter().find(|cloth| !cloth.is_sheet);
        assert_eq!(length.map_or(0, |cloth| cloth.length), plan.plan.length, "{name}");
        assert_eq!(length.map_or(0, LayCloth::rest), 0, "{name}: strips fill what is taken of the length");
    });
    assert!(blanks > 0, "the plans hold blanks");
}

#[test]
fn letters_numbers_and_counts_are_those_of_the_list() {
    each_plan(|name, plan, lay| {
        let drawing = lay_picture(&lay).unwrap();
        let told: Vec<&str> = texts(&drawing).iter().map(|text| text.text.as_str()).collect();
        let runs = plan.cloths().iter().flat_map(|cloth| cloth.strips).collect::<Vec<_>>();
        assert_eq!(lay.strips().count(), runs.len());
        for (index, (strip, run)) in lay.strips().zip(runs).enumerate() {
            assert_eq!(strip.letter, strip_letter(index));
            assert_eq!(bold(&drawing, &strip.letter), 1, "{name}: strip {}", strip.letter);
            assert_eq!(strip.repeat, run.repeat);
        }
        let likes = told.iter().filter(|text| text.ends_with("like this")).count();
        let several = lay.strips().filter(|strip| strip.repeat > 1 && strip.fold.is_none()).count();
        assert_eq!(likes, several + lay.cloths.iter().filter(|cloth| cloth.repeat > 1).count(), "{name}");
        for heading in lay.cloths.iter().filter_map(|cloth| cloth.heading.as_ref()) {
            assert!(told.contains(&heading.as_str()), "{name}: no {heading:?} in {told:?}");
        }
        for (piece, planned) in lay.pieces.iter().zip(&plan.pieces) {
            assert_eq!(piece.count, planned.count);
            let begins = format!("{} × ", piece.count);
            assert!(told.iter().any(|text| text.starts_with(&begins)), "{name}: no {begins:?} in {told:?}");
            // How many are shown, and in how many groups of equal ones.
            let rows = || lay.strips().flat_map(|strip| &strip.rows);
            let of_row = rows().filter(|row| row.number == piece.number);
            let of_row: Vec<usize> =
                of_row.map(|row| if row.cuts.is_empty() { row.polygons.len() } else { 1 }).collect();
            let cuts = rows().flat_map(|row| &row.cuts).filter(|cut| cut.number == piece.number);
            let cuts: Vec<usize> = cuts.map(|cut| cut.polygons.len()).collect();
            let groups = [of_row, cuts].concat();
            // Once in the list, and on every piece, or once a group where pieces are small.
            let found = bold(&drawing, &piece.number.to_string()) - 1;
            assert!(
                found <= groups.iter().sum() && found >= groups.len(),
                "{name}: {found} of piece {} in {groups:?}",
                piece.number
            );
        }
        assert!(told.contains(&format!("buy {}", buy_words(plan)).as_str()), "{name}: {told:?}");
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
            let told: String = format!("{item:?}").chars().take(300).collect();
            assert!(good, "{name}: {told} on {page:?}");
        }
    };
    each_plan(|name, _, lay| {
        check(name, &lay_picture(&lay).unwrap());
        for paper in [Paper::Letter, Paper::A4] {
            let mut folded = lay.clone();
            for strip in folded.cloths.iter_mut().flat_map(|cloth| &mut cloth.strips) {
                strip.fold = Some(10 * UNITS_PER_INCH);
            }
            let sheets = lay_sheets(&folded, paper).unwrap();
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
        cuts: Vec::new(),
    };
    let strip = |letter: &str, height, repeat, rows| LayStrip {
        letter: letter.to_owned(),
        height,
        repeat,
        fold: Some(6 * inch),
        heading: String::new(),
        words: Vec::new(),
        rows,
    };
    let piece = |number, name: &str, size: &str, count| LayPiece {
        number,
        name: name.to_owned(),
        size: size.to_owned(),
        trim: String::new(),
        count,
    };
    LayPicture {
        fabric: "Plain & simple".to_owned(),
        value: geometry::Value::Light,
        colour: Colour::rgb(240, 220, 180),
        units: layout::Units::Inches,
        extent: "4″ long, 12″ wide".to_owned(),
        buy: "⅛ yd".to_owned(),
        pieces: vec![piece(1, "square", "4″ × 4″", repeat), piece(2, "chip", "¼″ × ¼″", 4 * repeat)],
        cloths: vec![LayCloth {
            name: None,
            heading: None,
            is_sheet: false,
            repeat: 1,
            width: 12 * inch,
            length: 4 * inch,
            strips: vec![strip(
                "A",
                4 * inch,
                repeat,
                vec![row(1, 4 * inch, 4 * inch, 1), row(2, inch / 4, 9 * inch, 4)],
            )],
        }],
    }
}

/// The same as three sheets of which a strip is left over, with a square cut on the diagonal.
fn small_sheets() -> LayPicture {
    let mut lay = small(1);
    let cloth = &mut lay.cloths[0];
    (cloth.is_sheet, cloth.repeat, cloth.length) = (true, 3, 9 * UNITS_PER_INCH);
    (lay.extent, lay.buy) = ("3 precut pieces 12″ × 9″".to_owned(), "3 precut pieces".to_owned());
    let cloth = &mut lay.cloths[0];
    cloth.heading = Some("From each of 3 precut pieces 12″ × 9″".to_owned());
    cloth.strips[0].fold = None;
    let corner = |x: i64, y: i64| LayPoint { x: x * UNITS_PER_INCH, y: y * UNITS_PER_INCH };
    let halves = [[corner(4, 0), corner(8, 0), corner(8, 4)], [corner(4, 0), corner(8, 4), corner(4, 4)]];
    let polygons = halves.map(|corners| LayPolygon::new(corners.to_vec()).unwrap()).to_vec();
    cloth.strips[0].rows[0].cuts.push(LayCut { number: 3, polygons });
    lay.pieces.push(LayPiece {
        number: 3,
        name: "half-square".to_owned(),
        size: "4″ × 4″".to_owned(),
        trim: String::new(),
        count: 2,
    });
    lay
}

#[test]
fn sheets_and_blanks_are_drawn_as_expected() {
    insta::assert_snapshot!(svg(&lay_picture(&small_sheets()).unwrap()));
}

/// What is left of a sheet is told, and how many sheets are alike.
#[test]
fn a_sheet_tells_what_is_left() {
    let drawing = lay_picture(&small_sheets()).unwrap();
    for words in ["5″ left", "3 like this", "From each of 3 precut pieces 12″ × 9″"] {
        assert!(texts(&drawing).iter().any(|text| text.text == words), "{words}");
    }
}

#[test]
fn a_small_lay_is_drawn_as_expected() {
    insta::assert_snapshot!(svg(&lay_picture(&small(3)).unwrap()));
}

#[test]
fn a_plan_of_the_samples_is_drawn_as_before() {
    let mut seen = Vec::new();
    let mut look = |name: &str, _: &FabricPlan, lay: LayPicture| {
        if name.ends_with("Oat") {
            seen.push(name.to_owned());
            insta::assert_snapshot!(name.replace([' ', ','], "-"), svg(&lay_picture(&lay).unwrap()));
        }
    };
    quick_plans("length", &sample("crib-night-ferry"), &mut look);
    quick_plans("fat quarters", &fat_quarters(), &mut look);
    best_plans("blanks", &fewest_cuts(), &mut look);
    assert_eq!(seen.len(), 3, "{seen:?}");
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
    let strip = lay.cloths[0].strips[0].clone();
    lay.cloths[0].strips = (0..30).map(|index| LayStrip { letter: strip_letter(index), ..strip.clone() }).collect();
    let sheets = lay_sheets(&lay, Paper::A4).unwrap();
    assert!(sheets.len() > 2, "{} sheets", sheets.len());
    for strip in lay.strips() {
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

/// Whoever adds the lines up on paper gets the sums that stand there.
#[test]
fn the_lines_of_a_purchase_add_up_as_they_are_shown() {
    let hundredths = |shown: &str| -> i64 {
        let digits: String = shown.chars().filter(char::is_ascii_digit).collect();
        digits.parse().unwrap()
    };
    each_plan(|name, plan, lay| {
        let mut sum = 0;
        for (line, shown) in purchase_lines(plan, lay.units) {
            match line {
                "required" | "to buy" if plan.plan.length > 0 => assert_eq!(hundredths(&shown), sum, "{name}: {line}"),
                "to buy" | "cost" => {}
                _ => sum += hundredths(&shown),
            }
        }
    });
}
