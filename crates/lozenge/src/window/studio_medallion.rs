//! A medallion as a starting point: one block in the middle, rounds of blocks about it, plain borders where they need one
//! to fit.

use layout::{
    BlockId, Design, Edit, EditError, Halves, PiecedBorder, Place, PlaceId, Round, Setting, apply, medallion,
};

use super::paint::fabrics_by_value;
use super::studio::Studio;

/// The most rounds of blocks that are offered.
pub const MOST_ROUNDS: usize = 8;

/// What a medallion is to be made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MedallionChoice {
    /// The block in the middle.
    pub centre: BlockId,
    /// Whether it stands on a corner.
    pub on_point: bool,
    /// The block of each round, from the inside.
    pub rounds: Vec<BlockId>,
}

impl Studio {
    /// What was chosen, as far as the quilt has it; none in a quilt without a square block.
    #[must_use]
    pub fn medallion_choice(&self) -> Option<MedallionChoice> {
        let squares = square_blocks(self.design());
        let first = *squares.first()?;
        let mut choice = self.session.set.medallion.clone().unwrap_or(MedallionChoice {
            centre: first,
            on_point: false,
            rounds: vec![squares.last().copied().unwrap_or(first)],
        });
        for block in choice.rounds.iter_mut().chain([&mut choice.centre]) {
            if !squares.contains(block) {
                *block = first;
            }
        }
        Some(choice)
    }

    /// Makes the quilt a medallion, as one step.
    pub(super) fn make_medallion(&mut self) {
        let Some(choice) = self.medallion_choice() else {
            self.complain("A medallion needs a square block; add one first");
            return;
        };
        match medallion_edits(self.design(), &choice) {
            Ok(edits) => {
                self.edit_all("Make medallion", &edits);
            }
            Err(error) => self.complain(error.to_string()),
        }
    }
}

/// The blocks that can stand in a medallion: squares, which are their own corners.
#[must_use]
pub fn square_blocks(design: &Design) -> Vec<BlockId> {
    let is_square = |base: &geometry::Polygon| {
        let (width, height) = base.extent();
        width == height && base.corners().len() == 4 && base.area() == &width * &height
    };
    design.blocks().filter(|(_, def)| is_square(def.block().base())).map(|(id, _)| id).collect()
}

fn medallion_edits(design: &Design, choice: &MedallionChoice) -> Result<Vec<Edit>, EditError> {
    let lightest = fabrics_by_value(design).last().copied().unwrap_or(design.binding().fabric);
    let setting = if choice.on_point {
        Setting::OnPoint { rows: 1, columns: 1, sides: lightest, corners: lightest }
    } else {
        Setting::Straight { rows: 1, columns: 1 }
    };
    let halves = Halves::alternating(design.block(choice.centre)?.block().halves());
    let centre = Place { block: choice.centre, turn: 0, mirrored: false, halves };
    // Borders and sashing of the old size must not stand in the way.
    let mut edits = vec![
        Edit::SetBorders(Vec::new()),
        Edit::SetSashing(None),
        Edit::SetSetting { setting, fill: choice.centre },
        Edit::Arrange(vec![(PlaceId::Cell { row: 0, column: 0 }, centre)]),
    ];
    let mut next = design.clone();
    for edit in &edits {
        next = apply(&next, edit)?.0;
    }
    let round = |block: &BlockId| Round {
        blocks: PiecedBorder { block: *block, turn: 0, mirrored: false, corner: *block },
        spacer: lightest,
        least: None,
    };
    let rounds: Vec<Round> = choice.rounds.iter().map(round).collect();
    edits.push(Edit::SetBorders(medallion(&next, &rounds)?));
    Ok(edits)
}
