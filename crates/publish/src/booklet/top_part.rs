//! How the top is put together: which block stands where and how it is turned, row by row, then the borders.

use piecing::QuiltPlan;
use serde::Serialize;

use super::border_picture::border_picture;
use super::kinds::{Standing, kind_picture, kinds_of};
use super::rows_picture::rows_picture;
use super::{Picture, picture};
use crate::joined_words::{joined_fillers, joined_words};
use crate::sewing::{border_words_joined, inside_words, nest_words};
use crate::{Figures, Offered, PublishError};

/// The top.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TopPart {
    /// The kinds of block by their letters; those in other fabrics or mirrored are kinds of their own.
    pub kinds: Vec<Kind>,
    /// The steps up to the borders.
    pub lines: Vec<String>,
    /// Where seams nest.
    pub notes: Vec<String>,
    /// The blocks in their places, rows apart where they are sewn in rows; none for one block alone.
    pub rows: Option<Picture>,
    /// The same in small, so that it can stay with the lines where there is less room.
    pub rows_small: Option<Picture>,
    /// What the drawing says, in words.
    pub rows_told: String,
    /// The borders, in the order of sewing.
    pub borders: Vec<String>,
    /// Where to measure; none without borders.
    pub border_picture: Option<Picture>,
}

/// A kind of block.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Kind {
    /// Its letter in the drawing.
    pub letter: String,
    /// Name of the block, and whether it is mirrored.
    pub name: String,
    /// Its fabrics.
    pub fabrics: String,
    /// How many the quilt has.
    pub count: u64,
    /// The block, its own top upward.
    pub picture: Picture,
}

/// How the top of a quilt is put together.
pub(super) fn top_part(
    quilt: &Offered<'_>,
    sewing: &QuiltPlan,
    figures: &mut Figures,
) -> Result<TopPart, PublishError> {
    let design = quilt.design;
    let standing = kinds_of(design, sewing)?;
    let kind = |standing: &Standing| -> Result<Kind, PublishError> {
        let drawing = kind_picture(design, standing)?;
        Ok(Kind {
            letter: standing.letter.clone(),
            name: standing.name.clone(),
            fabrics: standing.fabric_names(design)?,
            count: standing.places.len() as u64,
            picture: picture(figures, &drawing, format!("Block {}: {}", standing.letter, standing.name)),
        })
    };
    let kinds = standing.iter().map(kind).collect::<Result<_, _>>()?;
    let is_alone = design.places().nth(1).is_none() && design.setting().size() == (1, 1);
    let reversed = sewing.reversed.as_ref().map(|reversed| reversed.places.clone()).unwrap_or_default();
    let rows = if is_alone { None } else { Some(rows_picture(design, &standing, &reversed)?) };
    let borders = border_words_joined(design, &joined_words(design, &quilt.made()?)?)?;
    let border_drawing = if design.borders().is_empty() { None } else { Some(border_picture(design)?) };
    let mut lines = inside_words(design, sewing)?;
    if let Some(joined) = joined_fillers(&quilt.made()?) {
        lines.insert(lines.len().min(1), joined);
    }
    Ok(TopPart {
        kinds,
        lines,
        notes: nest_words(design, sewing),
        rows: rows.as_ref().map(|rows| picture(figures, &rows.drawing, ROWS_ALT)),
        rows_small: rows.as_ref().map(|rows| picture(figures, &rows.small, ROWS_ALT)),
        rows_told: if reversed.is_empty() { ROWS_TOLD.to_owned() } else { format!("{ROWS_TOLD} {STARS_TOLD}") },
        border_picture: border_drawing
            .map(|drawing| picture(figures, &drawing, "The quilt top with its borders, measured through the middle")),
        borders,
    })
}

/// What the drawing of the rows shows.
const ROWS_ALT: &str = "The blocks of the quilt top in their places, each with its letter";
/// What a star means.
const STARS_TOLD: &str = "A star after a letter: this block is pressed the other way round.";
/// What the letters and marks mean.
const ROWS_TOLD: &str = "Letters name the kinds of block. The small pointer on a letter shows where the top of its picture in the \
                         table of kinds lies: turn the block so.";
