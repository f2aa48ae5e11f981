//! Fabrics: what a patch is cut from.

use std::fmt;

use geometry::{Length, Value};

use crate::error::EditError;
use crate::stock::{self, InHand, Price, Sold};

/// The longest name of a fabric, block or quilt, in characters.
pub const MAX_NAME_CHARS: usize = 120;

/// A colour on screen, 8 bits a channel, sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Colour {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

impl Colour {
    /// The colour with these shares of red, green and blue.
    #[must_use]
    pub const fn rgb(red: u8, green: u8, blue: u8) -> Self {
        Self { red, green, blue }
    }

    /// Reads `#rrggbb`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let hex = text.strip_prefix('#').filter(|hex| hex.len() == 6 && hex.bytes().all(|b| b.is_ascii_hexdigit()))?;
        let number = u32::from_str_radix(hex, 16).ok()?;
        let [_, red, green, blue] = number.to_be_bytes();
        Some(Self { red, green, blue })
    }
}

/// Writes `#rrggbb`.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
}

/// How a fabric is shown. Closed today to plain colours; photographs come as a further kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Look {
    /// One plain colour.
    Plain(Colour),
}

impl Look {
    /// The colour that stands for it.
    #[must_use]
    pub const fn colour(self) -> Colour {
        match self {
            Self::Plain(colour) => colour,
        }
    }
}

/// What may be done to a piece on the fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Print {
    /// Has a right side; pieces may be turned by quarters and halves. Nearly every print and solid.
    Tossed,
    /// No right side: pieces may also be turned over.
    TwoSided,
    /// Has a direction: pieces keep their way up.
    Directional,
}

impl Print {
    /// All kinds.
    pub const ALL: [Self; 3] = [Self::Tossed, Self::TwoSided, Self::Directional];
}

/// A fabric of the quilt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fabric {
    /// Name, as it stands in lists.
    pub name: String,
    /// How it is shown.
    pub look: Look,
    /// How light or dark it reads.
    pub value: Value,
    /// Width from selvage to selvage that can be cut.
    pub usable_width: Length,
    /// What may be done to pieces on it.
    pub print: Print,
    /// How it is sold.
    pub sold: Sold,
    /// Pieces at hand, which are cut before any is bought; at most [`MAX_IN_HAND`](crate::MAX_IN_HAND) kinds.
    pub in_hand: Vec<InHand>,
    /// Width from selvage to selvage, where it is known; at least the usable width.
    pub bolt_width: Option<Length>,
    /// What it costs, where it is known.
    pub price: Option<Price>,
    /// So many different fabrics does it stand for, its pieces shared out evenly among them: 1 to
    /// [`MAX_MIXED`](crate::MAX_MIXED).
    pub mixed_from: u16,
}

impl Fabric {
    /// A fabric of one plain colour without a direction, sold by length, of which nothing is at hand.
    #[must_use]
    pub fn plain(name: impl Into<String>, colour: Colour, value: Value, usable_width: Length) -> Self {
        Self {
            name: name.into(),
            look: Look::Plain(colour),
            value,
            usable_width,
            print: Print::Tossed,
            sold: Sold::ByLength,
            in_hand: Vec::new(),
            bolt_width: None,
            price: None,
            mixed_from: 1,
        }
    }

    /// The same with its name trimmed.
    ///
    /// # Errors
    /// [`EditError::Name`], and counts and widths out of bounds.
    pub(crate) fn checked(&self) -> Result<Self, EditError> {
        stock::check_in_hand_kinds(self.in_hand.len())?;
        self.in_hand.iter().try_for_each(|piece| InHand::check_count(piece.count))?;
        self.bolt_width.as_ref().map_or(Ok(()), |bolt| stock::check_bolt(bolt, &self.usable_width))?;
        stock::check_mixed(self.mixed_from)?;
        Ok(Self { name: checked_name(&self.name)?, ..self.clone() })
    }
}

/// Usable width of a bolt sold as 44 in wide, common practice, no source.
#[must_use]
pub fn default_usable_width() -> Option<Length> {
    Length::whole_inches(40).ok()
}

/// Trims a name and refuses one that cannot be shown in a list.
///
/// # Errors
/// [`EditError::Name`] for an empty name, one over [`MAX_NAME_CHARS`], or one with control characters.
pub(crate) fn checked_name(name: &str) -> Result<String, EditError> {
    let name = name.trim();
    if name.is_empty() || name.chars().count() > MAX_NAME_CHARS || name.chars().any(char::is_control) {
        return Err(EditError::Name(name.chars().take(40).filter(|c| !c.is_control()).collect()));
    }
    Ok(name.to_owned())
}
