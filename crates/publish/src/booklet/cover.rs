//! The first page.

use serde::Serialize;

use super::{BookletInput, BookletOptions, Picture, picture};
use crate::exports::materials::finished_size;
use crate::{Figures, PublishError, Seams, quilt_picture};

/// What the cover shows.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cover {
    /// A line under the title; may be empty.
    pub lead: String,
    /// Which variant the booklet is about; empty when there is one only.
    pub variant: String,
    /// Finished size.
    pub size: String,
    /// The quilt, or the user's photo.
    pub picture: Picture,
    /// Paragraphs of the author's own.
    pub notes: Vec<String>,
}

/// The cover of a booklet.
pub(super) fn cover(
    input: &BookletInput<'_>,
    options: &BookletOptions,
    figures: &mut Figures,
) -> Result<Cover, PublishError> {
    let design = input.quilt.design;
    let picture = match &options.photo {
        Some(photo) => {
            let (bytes, ending) = photo.file();
            let [width_in, height_in] = photo.pixels().map(inches);
            let alt = format!("Photo of {}", options.about.title);
            Picture { file: figures.file(bytes, ending), width_in, height_in, alt }
        }
        None => {
            let alt = format!("{}, the finished quilt top", design.name());
            picture(figures, &quilt_picture(design, Seams::Shown)?, alt)
        }
    };
    let several = input.offered.len() > 1;
    Ok(Cover {
        lead: design.imprint().lead.clone(),
        variant: if several { input.quilt.label.to_owned() } else { String::new() },
        size: finished_size(design),
        picture,
        notes: design.imprint().notes.clone(),
    })
}

/// As many pixels as inches: the page has room for less, so that only the proportion counts.
#[expect(clippy::cast_precision_loss, reason = "a photo has fewer pixels than 2⁵³")]
const fn inches(pixels: usize) -> f64 {
    pixels as f64
}
