//! A drawing as a PNG picture, rendered from its SVG so that the two cannot tell different stories.

use std::sync::{Arc, LazyLock};

use resvg::{tiny_skia, usvg};

use crate::svg::{FAMILY, svg_with_bleed};
use crate::typeface;
use crate::{Drawing, Item, PublishError};

/// Widest picture, in pixels.
pub const MAX_PNG_WIDTH: u32 = 16_384;
/// Largest picture, in pixels altogether; rendering takes four bytes for each, and as much again to encode them.
pub const MAX_PNG_PIXELS: u64 = 100_000_000;

/// Most points of a drawing that is made into a picture: the renderer takes some 250 bytes for each.
pub const MAX_PNG_POINTS: usize = 900_000;

/// As many points a letter has at most, usually.
const POINTS_PER_LETTER: usize = 60;

/// Width of the stroke that closes the joints between areas, in pixels.
const BLEED_PX: f64 = 2.0;

/// Renders the drawing `pixels_wide` pixels wide and encodes it as PNG.
///
/// The height follows from the page, rounded to a whole pixel (at least one); the page fills the picture exactly.
/// Without a background the sheet is transparent.
///
/// # Errors
/// [`PublishError::PngWidth`] for a width outside 1 to [`MAX_PNG_WIDTH`]; [`PublishError::PngPixels`] where width
/// times height exceeds [`MAX_PNG_PIXELS`]; [`PublishError::PngPoints`] beyond [`MAX_PNG_POINTS`];
/// [`PublishError::Render`] if the renderer fails.
pub fn png(drawing: &Drawing, pixels_wide: u32) -> Result<Vec<u8>, PublishError> {
    let pixels_high = height_for(drawing, pixels_wide)?;
    let points = drawing.items().iter().map(points_of).sum();
    if points > MAX_PNG_POINTS {
        return Err(PublishError::PngPoints { points });
    }
    let bleed_in = BLEED_PX * drawing.page().width_in / f64::from(pixels_wide);
    let tree = usvg::Tree::from_str(&svg_with_bleed(drawing, bleed_in), &options()).map_err(|error| refused(&error))?;
    let mut pixels =
        tiny_skia::Pixmap::new(pixels_wide, pixels_high).ok_or_else(|| refused(&"no room for the pixels"))?;
    #[expect(clippy::cast_possible_truncation, reason = "the renderer works in f32")]
    let scale = |count: u32, size: f32| (f64::from(count) / f64::from(size)) as f32;
    let fit = tiny_skia::Transform::from_scale(
        scale(pixels_wide, tree.size().width()),
        scale(pixels_high, tree.size().height()),
    );
    resvg::render(&tree, fit, &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| refused(&error))
}

/// The renderer with our own type and no other: the same pixels on every machine.
fn options() -> usvg::Options<'static> {
    static TYPE: LazyLock<Arc<usvg::fontdb::Database>> = LazyLock::new(|| {
        let mut fonts = usvg::fontdb::Database::new();
        for font in [typeface::REGULAR, typeface::BOLD] {
            fonts.load_font_data(font.to_vec());
        }
        Arc::new(fonts)
    });
    usvg::Options { fontdb: Arc::clone(&TYPE), font_family: FAMILY.to_owned(), ..usvg::Options::default() }
}

fn points_of(item: &Item) -> usize {
    match item {
        Item::Area(area) => area.polygons.iter().map(Vec::len).sum(),
        Item::Lines(lines) => lines.polylines.iter().map(|line| line.points.len()).sum(),
        Item::Text(text) => text.text.chars().count() * POINTS_PER_LETTER,
    }
}

/// The height that goes with a width, if the picture is within the limits.
fn height_for(drawing: &Drawing, pixels_wide: u32) -> Result<u32, PublishError> {
    if pixels_wide == 0 || pixels_wide > MAX_PNG_WIDTH {
        return Err(PublishError::PngWidth { pixels_wide });
    }
    let page = drawing.page();
    let high = (f64::from(pixels_wide) * page.height_in / page.width_in).round().max(1.0);
    #[expect(clippy::cast_possible_truncation, reason = "a whole number; beyond u64 it saturates, and is refused")]
    let pixels_high = high as u64;
    match u32::try_from(pixels_high) {
        Ok(fitting) if u64::from(pixels_wide) * pixels_high <= MAX_PNG_PIXELS => Ok(fitting),
        _ => Err(PublishError::PngPixels { pixels_wide, pixels_high }),
    }
}

fn refused(cause: &dyn ToString) -> PublishError {
    PublishError::Render { cause: cause.to_string() }
}
