//! Typesets documents of several pages: paragraphs, tables and figures, as PDF and as pictures of pages.
//!
//! A document is a template (a `.typ` file in this folder), its contents as data, and the figures that the contents
//! name. A template knows no quilt: every word and number comes to it in the data, so that what stands on paper can be
//! tested as data too. Nothing is read from disk or network while pages are set, and the only fonts are the bundled ones.

mod about;
mod letters;
mod world;

pub use about::About;

use std::collections::BTreeMap;

use serde::Serialize;
use typst_layout::PagedDocument;

use crate::{Drawing, Item, PublishError, svg};

/// Templates, by the names under which they import each other.
const TEMPLATES: &[(&str, &str)] = &[
    ("booklet.typ", include_str!("booklet.typ")),
    ("editions.typ", include_str!("editions.typ")),
    ("fits.typ", include_str!("fits.typ")),
    ("handout.typ", include_str!("handout.typ")),
    ("house.typ", include_str!("house.typ")),
    ("kit.typ", include_str!("kit.typ")),
    ("labels.typ", include_str!("labels.typ")),
    ("share.typ", include_str!("share.typ")),
    ("sheets.typ", include_str!("sheets.typ")),
    ("shopping.typ", include_str!("shopping.typ")),
    ("tables.typ", include_str!("tables.typ")),
    ("tester.typ", include_str!("tester.typ")),
];

/// The name under which a template finds its data.
const DATA: &str = "data.json";

/// Generations of finished work that are kept for the next document, so that a preview of a document with one changed
/// word does not set all its pages again.
const KEPT_GENERATIONS: usize = 4;

/// Figures of a document, by the names its data calls them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    files: BTreeMap<String, Vec<u8>>,
}

impl Figures {
    /// Takes in a drawing and gives the name by which data can call it.
    pub fn add(&mut self, drawing: &Drawing) -> String {
        self.file(svg(drawing).into_bytes(), "svg")
    }

    /// Takes in a picture file (`png`, `jpg`, `gif`, `webp` or `svg`, as the ending says) and gives its name.
    pub fn file(&mut self, bytes: Vec<u8>, ending: &str) -> String {
        let name = format!("figure-{}.{ending}", self.files.len() + 1);
        self.files.insert(name.clone(), bytes);
        name
    }
}

/// A document whose pages are set.
#[derive(Debug)]
pub struct Pages {
    document: PagedDocument,
}

/// One page as pixels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PagePicture {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Red, green, blue and alpha (not premultiplied; pages are opaque), a byte each, row by row.
    pub rgba: Vec<u8>,
}

/// Sets the pages of a template with this data and these figures.
///
/// # Errors
/// [`PublishError::NoLetter`] for a text with a letter that the type does not have; [`PublishError::Typeset`] when the data
/// does not suit the template or a figure cannot be read.
pub fn typeset(template: &'static str, data: &impl Serialize, figures: &Figures) -> Result<Pages, PublishError> {
    let refused = |error: serde_json::Error| PublishError::Typeset { cause: error.to_string() };
    let data = serde_json::to_value(data).map_err(refused)?;
    letters::check_letters(&data)?;
    let json = serde_json::to_vec(&data).map_err(refused)?;
    let files = figures.files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    let world = world::PageWorld::new(template, TEMPLATES, files.chain([(DATA, json.as_slice())]))?;
    let made = typst::compile::<PagedDocument>(&world);
    comemo::evict(KEPT_GENERATIONS);
    match made.output {
        Ok(document) => Ok(Pages { document }),
        Err(errors) => Err(PublishError::Typeset { cause: world::told(&world, &errors) }),
    }
}

/// Drawings as the pages of one PDF: each page is exactly as large as its drawing, one inch is 72 points.
///
/// # Errors
/// [`PublishError::NoLetter`] for words with a letter that the type does not have; [`PublishError::Typeset`] when a drawing
/// cannot be read back, which no finished drawing should be.
pub fn sheets(title: &str, drawings: &[Drawing]) -> Result<Pages, PublishError> {
    #[derive(Serialize)]
    struct Sheet {
        figure: String,
        width: f64,
        height: f64,
    }
    #[derive(Serialize)]
    struct Sheets<'a> {
        title: &'a str,
        sheets: Vec<Sheet>,
    }
    for item in drawings.iter().flat_map(Drawing::items) {
        if let Item::Text(text) = item {
            letters::check_text(&text.text)?;
        }
    }
    let mut figures = Figures::default();
    let sheets = drawings
        .iter()
        .map(|drawing| Sheet {
            figure: figures.add(drawing),
            width: drawing.page().width_in,
            height: drawing.page().height_in,
        })
        .collect();
    typeset("sheets.typ", &Sheets { title, sheets }, &figures)
}

impl Pages {
    /// How many pages there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.document.pages().len()
    }

    /// Width and height of a page (from 0) in inches, or `None` when there is no such page.
    #[must_use]
    pub fn size_in(&self, page: usize) -> Option<[f64; 2]> {
        let size = self.document.pages().get(page)?.frame.size();
        Some([size.x, size.y].map(|side| side.to_inches()))
    }

    /// The document as a PDF: tagged, with bookmarks, fonts embedded.
    ///
    /// # Errors
    /// [`PublishError::Typeset`] when the pages cannot be written down.
    pub fn pdf(&self) -> Result<Vec<u8>, PublishError> {
        let options = typst_pdf::PdfOptions {
            creator: typst::foundations::Smart::Custom(Some("Lozenge".to_owned())),
            ..typst_pdf::PdfOptions::default()
        };
        typst_pdf::pdf(&self.document, &options).map_err(|errors| {
            let causes: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
            PublishError::Typeset { cause: causes.join("; ") }
        })
    }

    /// A page (from 0) as pixels, or `None` when there is no such page.
    #[must_use]
    pub fn picture(&self, page: usize, pixels_an_inch: f32) -> Option<PagePicture> {
        let page = self.document.pages().get(page)?;
        let options = typst_render::RenderOptions {
            pixel_per_pt: typst::utils::Scalar::new(f64::from(pixels_an_inch) / 72.0),
            ..typst_render::RenderOptions::default()
        };
        let pixels = typst_render::render(page, &options);
        let rgba = pixels.pixels().iter().flat_map(|pixel| {
            let plain = pixel.demultiply();
            [plain.red(), plain.green(), plain.blue(), plain.alpha()]
        });
        Some(PagePicture { width: pixels.width(), height: pixels.height(), rgba: rgba.collect() })
    }
}
