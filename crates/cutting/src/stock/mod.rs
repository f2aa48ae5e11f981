//! Fabric as it is bought or at hand: lengths, precuts, measured pieces.
//!
//! - [`Stock`]: one thing that pieces can be cut from.
//! - [`share`]: pieces shared out to what is at hand, and the rest to what is bought.
//! - [`plan`]: the answer, sheet by sheet.
//! - `fill`: one sheet filled with strips.
//! - [`bins`]: strips packed into sheets of one length.

use geometry::lay::UNITS_PER_INCH;
use geometry::{Exact, Length};
use layout::{Fabric, Sold};

use crate::error::CutError;

pub mod bins;
mod fill;
pub mod plan;
pub mod share;

pub use plan::{Bought, Least, RollCut, SheetRun, StockLay, StockPlan};
pub use share::{Planner, share_out};

/// What pieces can be cut from. Sizes in lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stock {
    /// Fabric by length, of which there is as much as is asked for.
    Roll {
        /// Usable width.
        width: i64,
    },
    /// Pieces of fabric of one size.
    Sheet {
        /// Across the width of the fabric.
        width: i64,
        /// Along the selvage.
        length: i64,
        /// How many there are; as many as are asked for when left out.
        count: Option<u64>,
    },
}

impl Stock {
    /// What a fabric can be cut from: the pieces at hand in their order, then what is bought. Sizes are rounded down
    /// to lay units.
    ///
    /// # Errors
    /// [`CutError::WidthOutOfRange`] if what is bought is smaller than a lay unit.
    pub fn of_fabric(fabric: &Fabric) -> Result<Vec<Self>, CutError> {
        let mut stock = Vec::new();
        for piece in &fabric.in_hand {
            // A piece smaller than a lay unit holds nothing.
            if let (Ok(width), Ok(length)) = (units(&piece.width), units(&piece.length)) {
                stock.push(Self::Sheet { width, length, count: Some(piece.count.into()) });
            }
        }
        stock.push(match &fabric.sold {
            Sold::ByLength => Self::Roll { width: units(&fabric.usable_width)? },
            Sold::Precut(piece) => {
                Self::Sheet { width: units(&piece.width)?, length: units(&piece.length)?, count: None }
            }
        });
        Ok(stock)
    }
}

/// Whole lay units in a length, at least one.
fn units(length: &Length) -> Result<i64, CutError> {
    let inches: &Exact = length.inches();
    let refused = || CutError::WidthOutOfRange { width: inches.to_decimal(4) };
    let whole = i64::try_from(inches.scale_int(UNITS_PER_INCH).floor()).map_err(|_| refused())?;
    if whole > 0 { Ok(whole) } else { Err(refused()) }
}
