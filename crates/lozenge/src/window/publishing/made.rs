//! A document that is made: pages to look at, and the bytes of its files.

use std::sync::Arc;

use layout::Units;
use publish::fits::{Hand, Listing};
use publish::templates::{MachineFile, MachineSheet, SheetOptions, Templates, TrimSheets};
use publish::{Drawing, PagePicture, Pages, PublishError, png, svg};
use tiny_skia::Pixmap;

use super::documents::FileKind;

/// A finished document.
#[derive(Debug)]
pub struct Made {
    shown: Shown,
    csv: Option<Vec<u8>>,
    found: Option<Arc<Found>>,
    parts: Option<Parts>,
}

/// True-size drawings that are also saved as a file each.
#[derive(Debug)]
pub(super) struct Parts {
    pub(super) of: TrueSize,
    pub(super) units: Units,
    pub(super) options: SheetOptions,
}

/// What is drawn at its true size.
#[derive(Debug)]
pub(super) enum TrueSize {
    Templates(Templates),
    Trims(TrimSheets),
}

/// Fabrics in hand, and the quilt tops that they give.
#[derive(Debug)]
pub struct Found {
    /// The fabrics.
    pub hand: Hand,
    /// The tops.
    pub listing: Listing,
}

#[derive(Debug)]
enum Shown {
    Pages(Pages),
    Drawing(Drawing),
}

impl Made {
    pub(super) const fn pages(pages: Pages) -> Self {
        Self { shown: Shown::Pages(pages), csv: None, found: None, parts: None }
    }

    pub(super) const fn drawing(drawing: Drawing) -> Self {
        Self { shown: Shown::Drawing(drawing), csv: None, found: None, parts: None }
    }

    /// The same with a table of it for spreadsheets.
    pub(super) fn with_csv(self, csv: Vec<u8>) -> Self {
        Self { csv: Some(csv), ..self }
    }

    /// The same with the tops that its pages show.
    pub(super) fn with_found(self, found: Arc<Found>) -> Self {
        Self { found: Some(found), ..self }
    }

    /// The same with its drawings, which are also saved as a file each.
    pub(super) fn with_parts(self, parts: Parts) -> Self {
        Self { parts: Some(parts), ..self }
    }

    /// Whether it is saved as several files of this kind: one for each of its drawings.
    #[must_use]
    pub const fn is_several(&self, kind: FileKind) -> bool {
        self.parts.is_some() && matches!(kind, FileKind::Svg | FileKind::Dxf)
    }

    /// Its drawings as files of this kind; none where it is not saved so.
    ///
    /// # Errors
    /// A drawing that cannot be written down.
    pub fn sheets(&self, kind: FileKind) -> Result<Option<Vec<MachineSheet>>, PublishError> {
        let kind = match kind {
            FileKind::Svg => MachineFile::Svg,
            FileKind::Dxf => MachineFile::Dxf,
            FileKind::Pdf | FileKind::Png | FileKind::Csv => return Ok(None),
        };
        let Some(Parts { of, units, options }) = &self.parts else { return Ok(None) };
        match of {
            TrueSize::Templates(made) => made.files(kind, *units, options),
            TrueSize::Trims(made) => made.files(kind, *units, options),
        }
        .map(Some)
    }

    /// The tops that its pages show, where they are of fabrics in hand.
    #[must_use]
    pub fn found(&self) -> Option<&Found> {
        self.found.as_deref()
    }

    /// How many pages it has.
    #[must_use]
    pub fn count(&self) -> usize {
        match &self.shown {
            Shown::Pages(pages) => pages.count(),
            Shown::Drawing(_) => 1,
        }
    }

    /// Width and height of a page (from 0) in inches; none when there is no such page.
    #[must_use]
    pub fn size_in(&self, page: usize) -> Option<[f64; 2]> {
        match &self.shown {
            Shown::Pages(pages) => pages.size_in(page),
            Shown::Drawing(drawing) => {
                let sheet = drawing.page();
                (page == 0).then_some([sheet.width_in, sheet.height_in])
            }
        }
    }

    /// A page (from 0) as pixels, so many across.
    ///
    /// # Errors
    /// In words, for a page that is not there or cannot be drawn.
    pub fn picture(&self, page: usize, pixels_wide: u32) -> Result<PagePicture, String> {
        let missing = || format!("there is no page {}", page + 1);
        let [width_in, _] = self.size_in(page).ok_or_else(missing)?;
        match &self.shown {
            Shown::Pages(pages) => {
                #[expect(clippy::cast_possible_truncation, reason = "a density of pixels")]
                let density = (f64::from(pixels_wide) / width_in) as f32;
                pages.picture(page, density).ok_or_else(missing)
            }
            Shown::Drawing(drawing) => {
                let bytes = png(drawing, pixels_wide).map_err(|error| error.to_string())?;
                let pixels = Pixmap::decode_png(&bytes).map_err(|error| error.to_string())?;
                let rgba = pixels.pixels().iter().flat_map(|pixel| {
                    let plain = pixel.demultiply();
                    [plain.red(), plain.green(), plain.blue(), plain.alpha()]
                });
                Ok(PagePicture { width: pixels.width(), height: pixels.height(), rgba: rgba.collect() })
            }
        }
    }

    /// Its bytes as a file of this kind, a PNG so many pixels across; none for a kind that it is not saved as.
    ///
    /// # Errors
    /// A PNG that is too large, or pages that cannot be written down.
    pub fn bytes(&self, kind: FileKind, pixels_wide: u32) -> Result<Option<Vec<u8>>, PublishError> {
        Ok(match (&self.shown, kind) {
            (Shown::Pages(pages), FileKind::Pdf) => Some(pages.pdf()?),
            (Shown::Drawing(drawing), FileKind::Png) => Some(png(drawing, pixels_wide)?),
            (Shown::Drawing(drawing), FileKind::Svg) => Some(svg(drawing).into_bytes()),
            (_, FileKind::Csv) => self.csv.clone(),
            _ => None,
        })
    }
}
