//! The PNG of a drawing: its size, its colours, and joints between areas through which nothing shows.

use publish::{Area, Colour, Drawing, Item, Page, Point, PublishError, png, svg};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg;

const WHITE: Colour = Colour::rgb(255, 255, 255);

fn area(fill: Colour, polygons: Vec<Vec<Point>>) -> Item {
    Item::Area(Area { label: String::new(), fill, polygons })
}

fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> Vec<Point> {
    vec![[left, top], [right, top], [right, bottom], [left, bottom]]
}

fn drawing(width_in: f64, height_in: f64, background: Option<Colour>, items: Vec<Item>) -> Drawing {
    Drawing::new(Page { width_in, height_in, background }, items).unwrap()
}

fn picture(drawing: &Drawing, pixels_wide: u32) -> Pixmap {
    Pixmap::decode_png(&png(drawing, pixels_wide).unwrap()).unwrap()
}

fn colour_at(picture: &Pixmap, x: u32, y: u32) -> Option<Colour> {
    let pixel = picture.pixel(x, y).unwrap().demultiply();
    match pixel.alpha() {
        0 => None,
        255 => Some(Colour::rgb(pixel.red(), pixel.green(), pixel.blue())),
        alpha => unreachable!("a half transparent pixel at ({x}, {y}): {alpha}"),
    }
}

#[test]
fn size_and_colours_are_those_of_the_drawing() {
    let (rust, sage) = (Colour::rgb(170, 68, 34), Colour::rgb(120, 150, 110));
    let ring = vec![rectangle(0.0, 0.0, 4.0, 4.0), rectangle(1.0, 1.0, 3.0, 3.0)];
    let items = vec![area(rust, ring), area(sage, vec![rectangle(4.0, 0.0, 8.0, 4.0)])];
    for (background, hole) in [(None, None), (Some(WHITE), Some(WHITE))] {
        let picture = picture(&drawing(10.0, 4.0, background, items.clone()), 200);
        assert_eq!((picture.width(), picture.height()), (200, 80));
        for (x, y, expected) in [(10, 10, Some(rust)), (40, 40, hole), (120, 40, Some(sage)), (199, 79, hole)] {
            assert_eq!(colour_at(&picture, x, y), expected, "at ({x}, {y})");
        }
        // The first laying reaches under its neighbour but moves no edge: the joint lies between these two pixels.
        assert_eq!(colour_at(&picture, 79, 40), Some(rust));
        assert_eq!(colour_at(&picture, 80, 40), Some(sage));
    }
}

#[test]
fn height_is_rounded_to_a_whole_pixel() {
    for (width_in, height_in, wide, high) in
        [(3.0, 2.0, 100, 67), (3.0, 1.0, 100, 33), (10_000.0, 1.0, 10, 1), (0.01, 1_000.0, 1, 100_000)]
    {
        let picture = picture(&drawing(width_in, height_in, Some(WHITE), vec![]), wide);
        assert_eq!((picture.width(), picture.height()), (wide, high));
        assert_eq!(colour_at(&picture, wide - 1, high - 1), Some(WHITE), "the page fills the picture");
    }
}

#[test]
fn pictures_beyond_the_limits_are_refused() {
    let square = drawing(10.0, 10.0, None, vec![]);
    for wide in [0, 16_385, u32::MAX] {
        assert!(matches!(png(&square, wide), Err(PublishError::PngWidth { pixels_wide }) if pixels_wide == wide));
    }
    let error = png(&square, 10_001).unwrap_err();
    assert!(matches!(error, PublishError::PngPixels { pixels_high: 10_001, .. }));
    assert!(error.to_string().ends_with("choose a smaller width"), "{error}");
    assert!(matches!(png(&drawing(0.01, 10_000.0, None, vec![]), 16_384), Err(PublishError::PngPixels { .. })));
}

/// Two halves of a disc about the middle of a 4 in page, meeting along a line at this angle, off the pixel grid.
fn halves(degrees: u32, fills: [Colour; 2]) -> Drawing {
    let middle = [2.003, 1.998];
    let at = |turn: u32| {
        let (sin, cos) = f64::from(degrees + turn).to_radians().sin_cos();
        [middle[0] + 1.9 * cos, middle[1] + 1.9 * sin]
    };
    let half = |from: u32| (from..=from + 180).step_by(10).map(at).collect();
    drawing(4.0, 4.0, Some(WHITE), vec![area(fills[0], vec![half(0)]), area(fills[1], vec![half(180)])])
}

/// How much lighter than the lighter fill the lightest pixel well inside the disc is, so also along the whole joint:
/// the largest excess over both fills in any channel, of 255.
fn excess(picture: &Pixmap, fills: [Colour; 2]) -> u8 {
    let channels = |colour: Colour| [colour.red, colour.green, colour.blue];
    let (one, other) = (channels(fills[0]), channels(fills[1]));
    let from_middle = |c: u32| c.abs_diff(picture.width() / 2);
    let radius = picture.width() * 2 / 5;
    let pixels = (0..picture.height()).flat_map(|y| (0..picture.width()).map(move |x| (x, y)));
    pixels
        .filter(|&(x, y)| from_middle(x).pow(2) + from_middle(y).pow(2) <= radius.pow(2))
        .flat_map(|(x, y)| {
            let found = channels(colour_at(picture, x, y).unwrap());
            [0, 1, 2].map(|channel| found[channel].saturating_sub(one[channel].max(other[channel])))
        })
        .max()
        .unwrap()
}

fn rendered(svg: &str, wide: u16) -> Pixmap {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).unwrap();
    let mut picture = Pixmap::new(wide.into(), wide.into()).unwrap();
    let scale = f32::from(wide) / tree.size().width();
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut picture.as_mut());
    picture
}

const DARK: [[Colour; 2]; 2] =
    [[Colour::rgb(0, 0, 0), Colour::rgb(0, 0, 0)], [Colour::rgb(20, 30, 90), Colour::rgb(70, 20, 10)]];
/// The renderer blends in whole steps of 1/255 and may be off by one; a gap is off by up to 64.
const ROUNDING: u8 = 1;
/// The SVG cannot know how large a pixel will be; in small views a little more comes through than can be seen.
const UNSEEN: u8 = 3;

#[test]
fn no_page_shows_through_a_joint_in_a_picture() {
    for fills in DARK {
        for degrees in (0..180).step_by(7) {
            for wide in [50, 317] {
                let excess = excess(&picture(&halves(degrees, fills), wide), fills);
                assert!(excess <= ROUNDING, "{degrees}° at {wide} pixels: lighter by {excess}");
            }
        }
    }
}

/// It is made for views of 1,000 pixels and holds from half that upward.
#[test]
fn no_page_shows_through_a_joint_in_the_svg() {
    for fills in DARK {
        for degrees in (0..180).step_by(15) {
            let text = svg(&halves(degrees, fills));
            for wide in [500, 1_000, 2_500] {
                let excess = excess(&rendered(&text, wide), fills);
                assert!(excess <= UNSEEN, "{degrees}° at {wide} pixels: lighter by {excess}");
            }
        }
    }
}

/// Without the first laying the page does show, so the two tests above look at the right thing.
#[test]
fn without_its_first_laying_a_joint_is_seen_to_gape() {
    let text = svg(&halves(30, DARK[0]));
    let (start, end) = (text.find("<g ").unwrap(), text.find("</g>").unwrap());
    let bare = format!("{}{}", &text[..start], &text[end + "</g>".len()..]);
    assert!(excess(&rendered(&bare, 1_000), DARK[0]) > 50);
}

/// Beyond what the renderer can hold in a few hundred megabytes, SVG is named instead.
#[test]
fn a_drawing_of_very_many_points_is_refused() {
    let triangle = |i: u32| {
        let x = f64::from(i % 1000) / 100.0;
        let y = f64::from(i / 1000) / 100.0;
        vec![[x, y], [x + 0.01, y], [x, y + 0.01]]
    };
    let page = Page { width_in: 10.0, height_in: 10.0, background: None };
    let drawn = |count: u32| {
        let polygons = (0..count).map(triangle).collect();
        let area = Area { label: "All".to_owned(), fill: Colour::rgb(1, 2, 3), polygons };
        Drawing::new(page, vec![Item::Area(area)]).unwrap()
    };
    let most = u32::try_from(publish::MAX_PNG_POINTS / 3).unwrap();
    let refused = png(&drawn(most + 1), 100).unwrap_err();
    assert!(matches!(refused, PublishError::PngPoints { .. }), "{refused}");
    assert!(refused.to_string().contains("SVG"));
}
