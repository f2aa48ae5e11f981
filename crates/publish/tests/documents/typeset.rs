//! Pages: one inch is 72 points, pages are as large as their drawings, and errors name the place.

use layout::file::Document as QuiltFile;
use layout::{Colour, Edit, Imprint, apply};
use lopdf::Document;
use publish::{About, Area, Drawing, Figures, Item, Page, Paper, PublishError, sheets, typeset};
use serde_json::json;

fn square(width_in: f64, height_in: f64) -> Drawing {
    let page = Page { width_in, height_in, background: None };
    let polygon = vec![[1.0, 1.0], [2.0, 1.0], [2.0, 2.0], [1.0, 2.0]];
    let area = Area { label: "square".into(), fill: Colour::rgb(0, 0, 0), polygons: vec![polygon] };
    Drawing::new(page, vec![Item::Area(area)]).unwrap()
}

/// Numbers of a page's box in points.
fn page_box(document: &Document, number: u32) -> Vec<f32> {
    let page = document.get_dictionary(document.get_pages()[&number]).unwrap();
    page.get(b"MediaBox").unwrap().as_array().unwrap().iter().map(|number| number.as_float().unwrap()).collect()
}

#[test]
fn a_page_is_as_large_as_its_drawing() {
    let pages = sheets("Two squares", &[square(8.5, 11.0), square(3.0, 4.25)]).unwrap();
    assert_eq!(pages.count(), 2);
    let document = Document::load_mem(&pages.pdf().unwrap()).unwrap();
    assert_eq!(page_box(&document, 1), [0.0, 0.0, 612.0, 792.0]);
    assert_eq!(page_box(&document, 2), [0.0, 0.0, 216.0, 306.0]);
    let [width_in, height_in] = pages.size_in(1).unwrap();
    assert!((width_in - 3.0).abs() < 1e-9 && (height_in - 4.25).abs() < 1e-9, "{width_in} × {height_in}");
    assert_eq!(pages.size_in(2), None);
}

#[test]
fn a_picture_of_a_page_shows_the_square_where_it_is() {
    let pages = sheets("Square", &[square(3.0, 4.0)]).unwrap();
    let picture = pages.picture(0, 100.0).unwrap();
    assert_eq!((picture.width, picture.height), (300, 400));
    let pixel = |x: usize, y: usize| &picture.rgba[4 * (y * 300 + x)..][..4];
    assert_eq!(pixel(150, 150), [0, 0, 0, 255]);
    assert_eq!(pixel(102, 197), [0, 0, 0, 255]);
    assert_eq!(pixel(150, 250), [255, 255, 255, 255]);
    assert_eq!(pixel(95, 150), [255, 255, 255, 255]);
    assert!(pages.picture(1, 100.0).is_none());
}

#[test]
fn the_same_drawings_give_the_same_bytes() {
    let pdf = || sheets("Square", &[square(3.0, 4.0)]).unwrap().pdf().unwrap();
    assert_eq!(pdf(), pdf());
}

#[test]
fn data_that_does_not_suit_a_template_is_an_error_with_its_line() {
    let error = typeset("sheets.typ", &json!({ "title": "No sheets" }), &Figures::default()).unwrap_err();
    assert!(matches!(&error, PublishError::Typeset { cause } if cause.starts_with("sheets.typ, line ")), "{error}");
}

#[test]
fn a_figure_that_is_no_picture_is_an_error() {
    let mut figures = Figures::default();
    let figure = figures.file(b"not a picture".to_vec(), "png");
    let sheet = json!({ "figure": figure, "width": 3, "height": 4 });
    let error = typeset("sheets.typ", &json!({ "title": "Photo", "sheets": [sheet] }), &figures).unwrap_err();
    assert!(error.to_string().contains("could not be set"), "{error}");
}

/// Head and foot say what the quilt's own words say.
#[test]
fn head_and_foot_take_the_words_of_the_quilt() {
    let sample = include_bytes!("../../../../sample-quilts/lap-owl-lane.json");
    let design = QuiltFile::from_bytes(sample).unwrap().variants()[0].design.clone();
    let (author, edition) = ("Invented Author".to_owned(), "Second edition".to_owned());
    let imprint = Imprint { author: author.clone(), edition: edition.clone(), ..Imprint::default() };
    let said = apply(&design, &Edit::SetImprint(imprint)).unwrap().0;
    let title = design.name().to_owned();
    assert_eq!(About::quilt(&said, Paper::A4), About { title, author, edition, paper: Paper::A4 });
    assert_eq!(About::quilt(&design, Paper::A4).author, "");
}

/// A letter that the type does not have is told with its text, in data at any depth and in drawings.
#[test]
fn letters_without_a_shape_are_refused() {
    let deep = json!({ "title": "Sheets", "sheets": [], "more": { "names": ["Plum", "桜 light"] } });
    let of = |error: PublishError| match error {
        PublishError::NoLetter { letter, text } => (letter, text),
        other => panic!("{other}"),
    };
    assert_eq!(of(typeset("sheets.typ", &deep, &Figures::default()).unwrap_err()), ('桜', "桜 light".to_owned()));
    assert_eq!(of(sheets("木", &[square(3.0, 4.0)]).unwrap_err()), ('木', "木".to_owned()));
    for words in ["Äpfel & Łódź, ½″ × 3⅛″ → “here”", "two\nlines\u{a0}of text"] {
        assert!(sheets(words, &[square(3.0, 4.0)]).is_ok(), "{words}");
    }
}
