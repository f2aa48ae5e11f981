//! What can be chosen for a design, asked before it is: which settings its blocks go into, which sashing and float it
//! can have, which blocks its cells hold.

use geometry::{Block, Exact};

use crate::centre::Centre;
use crate::design::Design;
use crate::error::EditError;
use crate::ids::{BlockId, PlaceId};
use crate::sashing::Sashing;
use crate::setting::{Cell, Setting};

impl Design {
    /// The block to fill `setting` with: the one in the first place if it fits, else the first of the quilt that does.
    ///
    /// # Errors
    /// [`EditError::Misfit`] of the block in the first place, when no block of the quilt fits.
    pub fn filler(&self, setting: Setting) -> Result<BlockId, EditError> {
        let (place, first) = self.places().next().ok_or(EditError::TooFew("block"))?;
        let fits = |id: BlockId| {
            let def = self.block(id)?;
            Cell::for_base(setting, def.block().base()).map_err(|why| misfit(def.name(), place, why))
        };
        let Err(refused) = fits(first.block) else { return Ok(first.block) };
        self.blocks().map(|(id, _)| id).find(|id| fits(*id).is_ok()).ok_or(refused)
    }

    /// Whether a block can stand in the cells of the setting.
    #[must_use]
    pub fn fits_cell(&self, block: &Block) -> bool {
        self.cell.fits(block.base()).is_ok()
    }

    /// Whether the setting can have this sashing.
    ///
    /// # Errors
    /// [`EditError::NoSashing`] or [`EditError::NothingToSash`].
    pub fn check_sashing(&self, sashing: &Sashing) -> Result<(), EditError> {
        Centre { sashing: Some(sashing), float: None, ..self.centre() }.check()
    }

    /// A float must be less than this, in inches; none where blocks cannot float.
    #[must_use]
    pub fn float_limit(&self) -> Option<Exact> {
        self.centre().float_limit()
    }
}

fn misfit(block: &str, place: PlaceId, why: String) -> EditError {
    EditError::Misfit { block: block.to_owned(), place, why }
}
