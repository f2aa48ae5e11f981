//! Fabrics in hand.

use geometry::Value;
use layout::{Fabric, Units};

use super::error::FitsError;

/// The most fabrics in hand.
pub const MAX_HAND_FABRICS: usize = 64;

/// What lies on the shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hand {
    /// What it is called; quilts made of it are called after it.
    pub name: String,
    /// Units on screen and paper.
    pub units: Units,
    /// The fabrics, what there is of each under [`Fabric::in_hand`]. How a fabric is sold says how more of it would be
    /// bought.
    pub fabrics: Vec<Fabric>,
}

impl Hand {
    /// Refuses none, and more than are shared out.
    pub(super) fn check(&self) -> Result<(), FitsError> {
        match self.fabrics.len() {
            0 => Err(FitsError::NoFabrics),
            1..=MAX_HAND_FABRICS => Ok(()),
            more => Err(FitsError::TooManyFabrics(more)),
        }
    }

    /// The fabrics of a value, by their number in the list.
    pub fn of_value(&self, value: Value) -> impl Iterator<Item = (usize, &Fabric)> {
        self.fabrics.iter().enumerate().filter(move |(_, fabric)| fabric.value == value)
    }
}
