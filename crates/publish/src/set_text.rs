//! Text and sheets of paper: what all printed pages have in common.

use layout::Units;
use serde::{Deserialize, Serialize};

use crate::block::{Block, paged};
use crate::typeface::{fitted, wrapped};
use crate::{Anchor, Colour, Drawing, Item, Page, Point, PublishError, Text, Weight};

/// Width of what is printed on a page of letter size or A4, in inches.
pub(crate) const PRINTED_IN: f64 = 7.5;
/// Sizes of type in inches.
pub(crate) const TITLE_IN: f64 = 0.22;
pub(crate) const BODY_IN: f64 = 0.125;
pub(crate) const SMALL_IN: f64 = 0.11;
/// From one line of text to the next, as a share of its size.
pub(crate) const LEADING: f64 = 1.35;
/// Paper.
pub(crate) const PAPER: Colour = Colour::rgb(255, 255, 255);
/// Text and outlines.
pub(crate) const INK: Colour = Colour::rgb(26, 28, 32);
/// Quieter text.
pub(crate) const QUIET: Colour = Colour::rgb(88, 92, 100);
/// Room left at the head and the foot of a sheet, in inches.
const HEAD_IN: f64 = 0.5;
/// Room for the line at the foot of a sheet.
const RUNNING_FOOT_IN: f64 = 0.25;

/// A sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Paper {
    /// 8½ by 11 inches.
    #[serde(rename = "us-letter")]
    Letter,
    /// 210 by 297 mm (ISO 216).
    #[serde(rename = "a4")]
    A4,
}

impl Paper {
    /// Both, in the order in which they are offered.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// What it is called on screen.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Letter => "US Letter",
            Self::A4 => "A4",
        }
    }

    /// The paper that goes with units.
    #[must_use]
    pub const fn of(units: Units) -> Self {
        match units {
            Units::Inches => Self::Letter,
            Units::Centimetres => Self::A4,
        }
    }

    /// Width and height in inches.
    #[must_use]
    pub const fn size_in(self) -> [f64; 2] {
        match self {
            Self::Letter => [8.5, 11.0],
            Self::A4 => [210.0 / 25.4, 297.0 / 25.4],
        }
    }
}

/// The blocks on sheets of paper, each with `foot` and its number at the foot; one sheet where they have room.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub(crate) fn sheets(blocks: &[Block], paper: Paper, foot: &str) -> Result<Vec<Drawing>, PublishError> {
    let [width_in, height_in] = paper.size_in();
    let page = Page { width_in, height_in, background: Some(PAPER) };
    let left = (width_in - PRINTED_IN) / 2.0;
    let sheets = paged(blocks, height_in - 2.0 * HEAD_IN - RUNNING_FOOT_IN);
    let count = sheets.len();
    let sheet = |(index, items): (usize, Vec<Item>)| {
        let foot = running_foot(foot, index + 1, count).into_iter().map(|item| item.moved([left, height_in - HEAD_IN]));
        Drawing::new(page, items.into_iter().map(|item| item.moved([left, HEAD_IN])).chain(foot).collect())
    };
    sheets.into_iter().enumerate().map(sheet).collect()
}

/// The foot of a sheet: what it belongs to, which sheet.
fn running_foot(name: &str, number: usize, count: usize) -> Vec<Item> {
    let name = fitted(name, SMALL_IN, Weight::Regular, PRINTED_IN - 1.5);
    let quiet = |text: String, x: f64, anchor| {
        let (size_in, weight) = (SMALL_IN, Weight::Regular);
        Item::Text(Text { text, at: [x, 0.0], anchor, size_in, weight, fill: QUIET, turned: 0.0 })
    };
    vec![quiet(name, 0.0, Anchor::Start), quiet(format!("sheet {number} of {count}"), PRINTED_IN, Anchor::End)]
}

/// A colour as pale as this share of it makes it.
pub(crate) fn tinted(colour: Colour, share: f64) -> Colour {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
    let channel = |v: u8| (255.0 - (255.0 - f64::from(v)) * share).round() as u8;
    Colour::rgb(channel(colour.red), channel(colour.green), channel(colour.blue))
}

/// A line of text that begins at a point.
pub(crate) fn line(text: impl Into<String>, at: Point, size_in: f64, weight: Weight) -> Item {
    Item::Text(Text { text: text.into(), at, anchor: Anchor::Start, size_in, weight, fill: INK, turned: 0.0 })
}

/// A line of text that ends at a point.
pub(crate) fn line_to(text: impl Into<String>, at: Point, size_in: f64, weight: Weight) -> Item {
    Item::Text(Text { text: text.into(), at, anchor: Anchor::End, size_in, weight, fill: INK, turned: 0.0 })
}

/// A heading, which stays with what follows it.
pub(crate) fn heading(text: &str) -> Block {
    let items = vec![line(text, [0.0, BODY_IN], BODY_IN, Weight::Bold)];
    Block { items, height_in: BODY_IN * LEADING + 0.04, with_next: true }
}

/// Text in as many lines as it needs.
pub(crate) fn paragraph(text: &str, x: f64, width: f64, size_in: f64) -> Block {
    let lines = wrapped(text, size_in, Weight::Regular, width);
    let pitch = size_in * LEADING;
    let mut items = Vec::with_capacity(lines.len());
    let mut top = 0.0;
    for text in lines {
        items.push(line(text, [x, top + size_in], size_in, Weight::Regular));
        top += pitch;
    }
    Block { items, height_in: top + 0.02, with_next: false }
}
