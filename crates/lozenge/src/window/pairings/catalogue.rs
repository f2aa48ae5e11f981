//! The arrangements of one block that some choices allow: counted at once, listed when there are not too many to
//! number.

use std::sync::Arc;

use geometry::Block;
use layout::pairings::{Allowed, BlockStates, Browser, Group, HalfType, Measures, Motif, PairingError};
use num_bigint::BigUint;

use super::session::Choices;

/// What a block and some choices give.
#[derive(Debug, Clone)]
pub struct Catalogue {
    choices: Choices,
    states: BlockStates,
    /// The same block with everything allowed, in which the well-known arrangements are found.
    free: BlockStates,
    measures: Measures,
    count: BigUint,
    fillings: BigUint,
    browser: Result<Arc<Browser>, PairingError>,
}

impl Catalogue {
    /// Counts the arrangements of `block`.
    ///
    /// # Errors
    /// A block that is not looked at, or choices that leave nothing; what to do is in the words of the error.
    pub fn new(block: &Arc<Block>, choices: &Choices) -> Result<Self, PairingError> {
        let turns = if choices.turned { (0..4).collect() } else { [0].into() };
        let allowed = Allowed { types: choices.kinds.clone(), turns, mirrored: choices.mirrored };
        let states = BlockStates::new(Arc::clone(block), &allowed)?;
        let everything = Allowed::types(&HalfType::ALL);
        let free =
            if allowed == everything { states.clone() } else { BlockStates::new(Arc::clone(block), &everything)? };
        let motif = Motif::new(choices.rows, choices.columns, choices.wrap)?;
        let group = Group::new(&states, motif, choices.same);
        Ok(Self {
            choices: choices.clone(),
            measures: Measures::new(&states, motif),
            count: group.classes(),
            fillings: group.raw(),
            browser: Browser::new(group).map(Arc::new),
            free,
            states,
        })
    }

    /// What was chosen.
    #[must_use]
    pub const fn choices(&self) -> &Choices {
        &self.choices
    }

    /// What one cell can be.
    #[must_use]
    pub const fn states(&self) -> &BlockStates {
        &self.states
    }

    /// The same with any turn, mirror and halves.
    #[must_use]
    pub const fn free(&self) -> &BlockStates {
        &self.free
    }

    /// Measures its arrangements.
    #[must_use]
    pub const fn measures(&self) -> &Measures {
        &self.measures
    }

    /// How many arrangements there are, exactly.
    #[must_use]
    pub const fn count(&self) -> &BigUint {
        &self.count
    }

    /// How many ways there are to fill the motif.
    #[must_use]
    pub const fn fillings(&self) -> &BigUint {
        &self.fillings
    }

    /// The list of all.
    ///
    /// # Errors
    /// [`PairingError::TooManyToList`].
    pub const fn browser(&self) -> Result<&Arc<Browser>, &PairingError> {
        self.browser.as_ref()
    }

    /// Whether quarter turns bring the motif onto itself.
    #[must_use]
    pub fn has_quarter_turns(&self) -> bool {
        self.choices.rows == self.choices.columns && self.states.is_square()
    }
}
