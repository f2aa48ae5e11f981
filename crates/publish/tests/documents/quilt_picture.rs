//! The picture of a quilt: where patches are drawn, in which colours, and that nothing is left out.

use geometry::{Length, Measure, Recipe, Size, Value};
use layout::{Colour, ColourScheme, Design, FabricId, Setting, Starter, Units};
use publish::{Item, Seams, png, quilt_picture, svg};
use resvg::tiny_skia::Pixmap;

const DARK: &str = "#1f3a4d";
const LIGHT: &str = "#f1eadc";
const ACCENT: &str = "#c05a32";

fn quilt(recipe: Recipe, setting: Setting) -> Design {
    let fabric = |name: &str, colour, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    Starter {
        name: "Trial".to_owned(),
        units: Units::Inches,
        fabrics: vec![
            fabric("Deep water", DARK, Value::Dark),
            fabric("Linen & lace", LIGHT, Value::Light),
            fabric("Rust", ACCENT, Value::Medium),
        ],
        blocks: vec![("Block".to_owned(), recipe)],
        scheme: ColourScheme::Three { dark: FabricId(1), light: FabricId(2), accent: FabricId(3) },
        setting,
        borders: vec![(Length::whole_inches(1).unwrap(), FabricId(1))],
        binding: FabricId(1),
    }
    .design()
    .unwrap()
}

fn half_square() -> Recipe {
    Recipe::HalfSquare(Size { by: Measure::Block, length: Length::whole_inches(2).unwrap() })
}

fn star() -> Recipe {
    Recipe::TiltedStar(Size { by: Measure::Block, length: Length::whole_inches(12).unwrap() })
}

#[test]
fn a_half_square_with_a_border_is_drawn_with_y_down() {
    let design = quilt(half_square(), Setting::Straight { rows: 1, columns: 1 });
    let picture = svg(&quilt_picture(&design, Seams::Hidden).unwrap());
    insta::assert_snapshot!(picture);
}

#[test]
fn pixels_show_the_fabrics_where_they_are() {
    let design = quilt(star(), Setting::Straight { rows: 1, columns: 1 });
    // 14 in wide with the border: 700 pixels are 50 to the inch.
    let bytes = png(&quilt_picture(&design, Seams::Hidden).unwrap(), 700).unwrap();
    let pixels = Pixmap::decode_png(&bytes).unwrap();
    assert_eq!((pixels.width(), pixels.height()), (700, 700));
    // The centre is (7, 7) in. Diamond k lies between 45°·k and 45°·(k+1); even ones are dark, odd ones accent.
    let s = 12.0 / (2.0 + std::f64::consts::SQRT_2);
    let diamond = |k: f64| {
        let angle = (45.0 * k + 22.5_f64).to_radians();
        (7.0 + s * angle.cos(), 7.0 - s * angle.sin())
    };
    let rows = [
        ((0.5, 0.5), DARK),
        ((1.5, 1.5), LIGHT),
        ((12.5, 12.5), LIGHT),
        ((7.0, 1.5), LIGHT),
        (diamond(0.0), DARK),
        (diamond(1.0), ACCENT),
        (diamond(2.0), DARK),
        (diamond(7.0), ACCENT),
    ];
    for ((x, y), colour) in rows {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a small picture")]
        let pixel = pixels.pixel((x * 50.0) as u32, (y * 50.0) as u32).unwrap();
        let seen = format!("#{:02x}{:02x}{:02x}", pixel.red(), pixel.green(), pixel.blue());
        assert_eq!(seen, colour, "at ({x:.2}, {y:.2}) in");
    }
}

#[test]
fn every_patch_is_drawn_once_and_seams_only_when_asked() {
    let setting = Setting::Straight { rows: 3, columns: 2 };
    let design = quilt(star(), setting);
    let count = |seams| {
        let drawing = quilt_picture(&design, seams).unwrap();
        let (mut areas, mut lines) = (0, 0);
        for item in drawing.items() {
            match item {
                Item::Area(area) => areas += area.polygons.len(),
                Item::Lines(drawn) => lines += drawn.polylines.len(),
                _ => {}
            }
        }
        (areas, lines)
    };
    // Six blocks of 16 patches and four border pieces.
    assert_eq!(count(Seams::Hidden), (100, 0));
    assert_eq!(count(Seams::Shown), (100, 100));
}
