//! Two blocks in turn, such as a pieced one and a plain one between.

use crate::design::{Design, Place};
use crate::error::EditError;
use crate::ids::{BlockId, Halves, PlaceId};

impl Design {
    /// What [`crate::Edit::Arrange`] takes to fill the setting with two blocks in turn: like the squares of a
    /// chessboard, `first` in the top left, or on point and in rows of hexagons with `second` in the rows between. A place that holds its block
    /// already is left as it is.
    ///
    /// # Errors
    /// [`EditError::NoBlock`].
    pub fn in_turn(&self, first: BlockId, second: BlockId) -> Result<Vec<(PlaceId, Place)>, EditError> {
        let fresh = |block| -> Result<Place, EditError> {
            let halves = Halves::alternating(self.block(block)?.block().halves());
            Ok(Place { block, turn: 0, mirrored: false, halves })
        };
        let (first, second) = (fresh(first)?, fresh(second)?);
        let is_second = |place| match place {
            PlaceId::Cell { row, .. } if self.setting.has_shorter_rows() => row % 2 == 1,
            PlaceId::Cell { row, column } => (row ^ column) % 2 == 1,
            _ => false,
        };
        let wanted = self.places().map(|(id, place)| (id, place.block, if is_second(id) { second } else { first }));
        Ok(wanted.filter(|(_, block, wanted)| *block != wanted.block).map(|(id, _, wanted)| (id, wanted)).collect())
    }
}
