//! What is being done in Set and is not yet the quilt's: borders that were refused, and blocks chosen to stand in turn.

use layout::{BlockId, Border, EditError, FabricId};

use super::studio_medallion::MedallionChoice;

/// What a view of Set asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum SetAction {
    /// Make the borders these, from the inside; what is refused is kept to be put right.
    Borders(Vec<Border>),
    /// Put the plain border inside the pieced one with which its blocks fit.
    AddSpacer,
    /// Add a plain square for the corners of a pieced border.
    AddCorner,
    /// Go back to the borders that the quilt has.
    DropBorders,
    /// Choose the blocks that stand in turn.
    ChooseTurn(TurnChoice),
    /// Fill the setting with them.
    FillInTurn,
    /// Choose what a medallion is made of.
    ChooseMedallion(MedallionChoice),
    /// Make the quilt a medallion.
    MakeMedallion,
}

/// Borders that the quilt cannot have as they are.
#[derive(Debug, Clone, PartialEq)]
pub struct RefusedBorders {
    /// As they were asked for.
    pub borders: Vec<Border>,
    /// Why not.
    pub why: EditError,
    /// Of which design; another one knows nothing of them.
    pub revision: u64,
}

impl RefusedBorders {
    /// The plain border with which a pieced one fits, and the number from the inside at which it goes.
    #[must_use]
    pub fn spacer(&self) -> Option<(usize, Border)> {
        let EditError::BorderMisfit(misfit) = &self.why else { return None };
        let number = usize::from(misfit.border);
        let fabric = self.borders.get(number)?.fabric;
        Some((number, misfit.spacer(fabric)?))
    }
}

/// The second of two blocks in turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Second {
    /// One of the quilt's.
    Block(BlockId),
    /// A plain one of this fabric, which the quilt does not have yet.
    Plain(FabricId),
}

/// Two blocks that are to stand in turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TurnChoice {
    /// In the top left, and every other place from there.
    pub first: BlockId,
    /// In the others.
    pub second: Second,
}

/// What is being done in Set.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SetSession {
    /// Borders that were refused.
    pub refused: Option<RefusedBorders>,
    /// Blocks that were chosen; the quilt's first ones when there are none.
    pub turn: Option<TurnChoice>,
    /// What a medallion is to be made of; the quilt's first square blocks when nothing is chosen.
    pub medallion: Option<MedallionChoice>,
}
