//! What a kit holds: a bundle for every kind of strip, with the letters of the cutting plan.

use geometry::Value;
use layout::{Colour, FabricId};
use serde::Serialize;

use crate::cut_words::RowWords;
use crate::lengths::{counted, ruler};
use crate::{LayPicture, Offered, PublishError};

/// Equal strips of one kit, which go into one bag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bundle {
    /// Which bag of the kit it is, from 1.
    pub number: usize,
    /// Its fabric.
    pub fabric: FabricId,
    /// Name of the fabric.
    pub name: String,
    /// Its colour on screen.
    pub colour: Colour,
    /// How light or dark it reads.
    pub value: Value,
    /// The letter of the strip in the fabric's cutting plan.
    pub letter: String,
    /// Strips in one kit.
    pub strips: u64,
    /// So many different fabrics do they come from, as many strips from each.
    pub parts: u16,
    /// Width of each, which is set on the ruler, in lay units.
    pub height: i64,
    /// Length of each in lay units: the fabric's usable width, or a side of a precut.
    pub length: i64,
    /// The precut it comes from; none for fabric by length.
    pub sheet: Option<String>,
    /// Width of a strip in words.
    pub wide: String,
    /// Its length in words.
    pub long: String,
    /// What is cut from each, in words.
    pub rows: Vec<String>,
}

/// How many strips, in words: "4 strips", or "2 strips of each of 8 fabrics".
#[must_use]
pub fn strips_words(strips: u64, parts: u16) -> String {
    match parts {
        0 | 1 => counted(strips, "strip", "strips"),
        parts => format!("{} of each of {parts} fabrics", counted(strips / u64::from(parts), "strip", "strips")),
    }
}

/// The bundles of one kit, fabric by fabric in the order of work.
///
/// # Errors
/// [`PublishError::Uncut`] for a fabric without a plan.
pub(super) fn bundles(offered: &Offered<'_>) -> Result<Vec<Bundle>, PublishError> {
    let units = offered.design.units();
    let mut found = Vec::new();
    for plan in offered.made()? {
        let lay = LayPicture::new(plan, offered.design.fabric(plan.fabric)?, units)?;
        for cloth in &lay.cloths {
            for strip in &cloth.strips {
                found.push(Bundle {
                    number: found.len() + 1,
                    fabric: plan.fabric,
                    name: lay.fabric.clone(),
                    colour: lay.colour,
                    value: lay.value,
                    letter: strip.letter.clone(),
                    strips: strip.repeat * cloth.repeat * u64::from(plan.parts),
                    parts: plan.parts,
                    height: strip.height,
                    length: cloth.width,
                    sheet: cloth.name.clone(),
                    wide: ruler(strip.height, units),
                    long: ruler(cloth.width, units),
                    rows: strip.words.iter().flat_map(RowWords::lines).map(|(_, told)| told.to_owned()).collect(),
                });
            }
        }
    }
    Ok(found)
}

/// Whose a kit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Owner {
    /// A student, by number from 1.
    Student(u64),
    /// The reserve, by number from 1.
    Spare(u64),
}

/// Writes `Student 3` or `Spare 1`.
impl std::fmt::Display for Owner {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Student(number) => write!(f, "Student {number}"),
            Self::Spare(number) => write!(f, "Spare {number}"),
        }
    }
}
