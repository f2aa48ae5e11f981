//! The SVG of a drawing: its exact text, its numbers and labels, and what no drawing may hold.

use proptest::prelude::*;
use publish::{Anchor, Area, Colour, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text, Weight, svg};
use resvg::usvg::roxmltree::Document;

const INDIGO: Colour = Colour::rgb(31, 42, 99);
const CREAM: Colour = Colour::rgb(244, 236, 216);

fn page(width_in: f64, height_in: f64) -> Page {
    Page { width_in, height_in, background: None }
}

fn area(label: &str, fill: Colour, polygons: &[&[Point]]) -> Item {
    let polygons = polygons.iter().map(|corners| corners.to_vec()).collect();
    Item::Area(Area { label: label.to_owned(), fill, polygons })
}

fn lines(width_in: f64, points: &[Point], closed: bool) -> Item {
    let polylines = vec![Polyline { points: points.to_vec(), closed }];
    Item::Lines(Lines { stroke: INDIGO, width_in, dashes: Vec::new(), polylines })
}

fn text(text: &str, size_in: f64, turned: f64) -> Item {
    let (at, anchor, weight) = ([1.0, 1.0], Anchor::Middle, Weight::Bold);
    Item::Text(Text { text: text.to_owned(), at, anchor, size_in, weight, fill: INDIGO, turned })
}

fn dashed(dashes: &[f64]) -> Item {
    let polylines = vec![Polyline { points: vec![[0.0, 0.5], [2.0, 0.5]], closed: false }];
    Item::Lines(Lines { stroke: INDIGO, width_in: 0.02, dashes: dashes.to_vec(), polylines })
}

const TRIANGLE: &[Point] = &[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]];

#[test]
fn a_small_drawing_is_written_as_expected() {
    let drawing = Drawing::new(
        Page { background: Some(Colour::rgb(255, 255, 255)), ..page(4.5, 2.0) },
        vec![
            area("Indigo", INDIGO, &[&[[0.0, 0.0], [2.0, 0.0], [0.0, 2.0]], &[[2.0, 0.0], [2.0, 2.0], [1.0, 1.0]]]),
            area("Cream", CREAM, &[&[[2.0, 0.0], [-0.000_000_1, 2.0], [1.0 / 3.0, 2.0]]]),
            lines(0.03, &[[0.0, 0.0], [2.0, 0.0], [2.0, 2.0]], true),
            area("", CREAM, &[TRIANGLE]),
        ],
    );
    insta::assert_snapshot!(svg(&drawing.unwrap()), @r##"
    <?xml version="1.0" encoding="UTF-8"?>
    <svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="4.5in" height="2in" viewBox="0 0 4.5 2">
    <rect width="4.5" height="2" fill="#ffffff"/>
    <g stroke-width="0.009" stroke-linejoin="round">
    <use xlink:href="#item-1" stroke="#1f2a63"/>
    <use xlink:href="#item-2" stroke="#f4ecd8"/>
    </g>
    <path id="item-1" fill="#1f2a63" fill-rule="evenodd" d="M0 0L2 0 0 2ZM2 0L2 2 1 1Z"><title>Indigo</title></path>
    <path id="item-2" fill="#f4ecd8" fill-rule="evenodd" d="M2 0L0 2 0.33333 2Z"><title>Cream</title></path>
    <path fill="none" stroke="#1f2a63" stroke-width="0.03" stroke-linecap="round" stroke-linejoin="round" d="M0 0L2 0 2 2Z"/>
    <g stroke-width="0.009" stroke-linejoin="round">
    <use xlink:href="#item-4" stroke="#f4ecd8"/>
    </g>
    <path id="item-4" fill="#f4ecd8" fill-rule="evenodd" d="M0 0L1 0 0 1Z"/>
    </svg>
    "##);
}

#[test]
fn text_and_dashes_are_written_as_expected() {
    let start = Text {
        text: "A & B".to_owned(),
        at: [0.5, 1.5],
        anchor: Anchor::Start,
        size_in: 0.25,
        weight: Weight::Regular,
        fill: INDIGO,
        turned: 0.0,
    };
    let items = vec![dashed(&[0.1, 0.05]), text("1½″", 0.2, -90.0), Item::Text(start)];
    insta::assert_snapshot!(svg(&Drawing::new(page(2.0, 2.0), items).unwrap()), @r##"
    <?xml version="1.0" encoding="UTF-8"?>
    <svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="2in" height="2in" viewBox="0 0 2 2">
    <path fill="none" stroke="#1f2a63" stroke-width="0.02" stroke-linecap="butt" stroke-linejoin="round" stroke-dasharray="0.1 0.05" d="M0 0.5L2 0.5"/>
    <g font-family="Lato, sans-serif">
    <text x="1" y="1" font-size="0.2" font-weight="bold" text-anchor="middle" transform="rotate(-90 1 1)" fill="#1f2a63">1½″</text>
    <text x="0.5" y="1.5" font-size="0.25" fill="#1f2a63">A &amp; B</text>
    </g>
    </svg>
    "##);
}

#[test]
fn items_move_as_a_whole() {
    let items = [area("a", INDIGO, &[TRIANGLE]), lines(0.1, TRIANGLE, true), text("a", 0.2, 0.0)];
    let there_and_back = |item: &Item| item.clone().moved([0.25, 0.5]).moved([-0.25, -0.5]);
    for item in items {
        assert_ne!(item.clone().moved([0.25, 0.5]), item);
        assert_eq!(there_and_back(&item), item);
    }
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    let draw = || svg(&Drawing::new(page(3.0, 3.0), vec![area("a", INDIGO, &[TRIANGLE])]).unwrap());
    assert_eq!(draw(), draw());
}

#[test]
fn labels_cannot_break_the_file() {
    for (label, shown) in [
        ("Plain & simple", "Plain & simple"),
        ("</title></path><script>alert(1)</script>", "</title></path><script>alert(1)</script>"),
        ("12\" × 'half' ]]> <!-- &amp;", "12\" × 'half' ]]> <!-- &amp;"),
        (
            "nul \0, bell \u{7}, not a character \u{FFFE}\u{FFFF}",
            "nul \u{FFFD}, bell \u{FFFD}, not a character \u{FFFD}\u{FFFD}",
        ),
        ("line\r\nnext\ttab", "line\r\nnext\ttab"),
        ("étoile ☆ 🧵", "étoile ☆ 🧵"),
    ] {
        check_label(label, shown);
    }
}

fn check_label(label: &str, shown: &str) {
    let text = svg(&Drawing::new(page(2.0, 2.0), vec![area(label, INDIGO, &[TRIANGLE])]).unwrap());
    let document = Document::parse(&text).unwrap();
    let paths: Vec<_> = document.descendants().filter(|node| node.has_tag_name("path")).collect();
    assert_eq!(paths.len(), 1, "{text}");
    let title = paths[0].first_element_child().unwrap();
    assert!(title.has_tag_name("title"));
    assert_eq!(title.text().unwrap_or_default(), shown);
    assert!(document.descendants().all(|node| !node.has_tag_name("script")));
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    type Refused = fn(&PublishError) -> bool;
    let coordinate: Refused = |error| matches!(error, PublishError::Coordinate { item: 0, .. });
    let size: Refused = |error| matches!(error, PublishError::PageSize { .. });
    let few: Refused = |error| matches!(error, PublishError::TooFewPoints { item: 0, .. });
    let width: Refused = |error| matches!(error, PublishError::LineWidth { item: 0, .. });
    let dashes: Refused = |error| matches!(error, PublishError::Dashes { item: 0 });
    let letters: Refused = |error| matches!(error, PublishError::TextSize { item: 0, .. });
    let with = |x: f64| vec![area("a", INDIGO, &[&[[0.0, 0.0], [x, 1.0], [1.0, 0.0]]])];
    let side = 10.0;
    for (page, items, expected) in [
        (page(side, side), with(f64::NAN), coordinate),
        (page(side, side), with(f64::INFINITY), coordinate),
        (page(side, side), with(f64::NEG_INFINITY), coordinate),
        (page(side, side), with(100_000.1), coordinate),
        (page(side, side), vec![lines(0.1, &[[0.0, f64::NAN], [1.0, 1.0]], false)], coordinate),
        (page(f64::NAN, side), vec![], size),
        (page(side, 0.0), vec![], size),
        (page(-side, side), vec![], size),
        (page(side, f64::INFINITY), vec![], size),
        (page(side, side), vec![area("a", INDIGO, &[&[[0.0, 0.0], [1.0, 1.0]]])], few),
        (page(side, side), vec![area("a", INDIGO, &[&[]])], few),
        (page(side, side), vec![lines(0.1, &[[0.0, 0.0]], true)], few),
        (page(side, side), vec![lines(0.0, &[[0.0, 0.0], [1.0, 0.0]], true)], width),
        (page(side, side), vec![lines(f64::NAN, &[[0.0, 0.0], [1.0, 0.0]], true)], width),
        (page(side, side), vec![dashed(&[0.1])], dashes),
        (page(side, side), vec![dashed(&[0.1, 0.0])], dashes),
        (page(side, side), vec![dashed(&[0.1; 10])], dashes),
        (page(side, side), vec![text("a", 0.0, 0.0)], letters),
        (page(side, side), vec![text("a", f64::NAN, 0.0)], letters),
        (page(side, side), vec![text("a", 0.1, f64::INFINITY)], letters),
        (page(side, side), vec![text("a", 0.1, 0.0).moved([f64::NAN, 0.0])], coordinate),
    ] {
        let described = format!("{page:?} {items:?}");
        let error = Drawing::new(page, items).expect_err(&described);
        assert!(expected(&error), "{described}: {error}");
    }
}

#[test]
fn a_page_too_full_is_refused() {
    let many = vec![area("", INDIGO, &[]); publish::MAX_ITEMS + 1];
    assert!(matches!(Drawing::new(page(1.0, 1.0), many), Err(PublishError::TooManyItems { .. })));
    let round = vec![[0.5, 0.5]; publish::MAX_POINTS / 2 + 1];
    let heavy = vec![area("", INDIGO, &[&round]), area("", INDIGO, &[&round])];
    assert!(matches!(Drawing::new(page(1.0, 1.0), heavy), Err(PublishError::TooManyPoints { item: 1 })));
    let long = vec![text(&"a".repeat(publish::MAX_POINTS + 1), 0.1, 0.0)];
    assert!(matches!(Drawing::new(page(1.0, 1.0), long), Err(PublishError::TooManyPoints { item: 0 })));
}

/// The numbers of the only path, as text.
fn coordinates(text: &str) -> Vec<String> {
    let document = Document::parse(text).unwrap();
    let path = document.descendants().find(|node| node.has_tag_name("path")).unwrap();
    let numbers = path.attribute("d").unwrap().split(|c: char| c.is_whitespace() || c.is_ascii_alphabetic());
    numbers.filter(|part| !part.is_empty()).map(str::to_owned).collect()
}

proptest! {
    #[test]
    fn coordinates_keep_five_decimals_in_shortest_form(
        corners in prop::collection::vec(prop::array::uniform2(prop_oneof![-200.0..200.0, -0.001..0.001, Just(-0.0)]), 3..9)
    ) {
        let drawing = Drawing::new(page(100.0, 100.0), vec![area("", INDIGO, &[&corners])]).unwrap();
        let written = coordinates(&svg(&drawing));
        prop_assert_eq!(written.len(), corners.len() * 2);
        for (text, exact) in written.iter().zip(corners.as_flattened()) {
            let value: f64 = text.parse().unwrap();
            prop_assert!((value - exact).abs() <= 0.000_005_1, "{} for {}", text, exact);
            // Shortest means that the value, printed the standard library's way, is the text itself.
            prop_assert_eq!(&value.to_string(), text);
            prop_assert_ne!(text, "-0");
            prop_assert!(text.split_once('.').is_none_or(|(_, decimals)| decimals.len() <= 5), "{}", text);
        }
    }

    #[test]
    fn any_label_gives_a_well_formed_file(characters in prop::collection::vec(any::<char>(), 0..40)) {
        let label = String::from_iter(characters);
        let text = svg(&Drawing::new(page(1.0, 1.0), vec![area(&label, INDIGO, &[TRIANGLE])]).unwrap());
        let document = Document::parse(&text).unwrap();
        let title = document.descendants().find(|node| node.has_tag_name("title"));
        let shown = title.and_then(|node| node.text()).unwrap_or_default();
        prop_assert_eq!(shown.chars().count(), label.chars().count());
    }
}
