//! What is done in Set that is more than one edit.

use geometry::{Length, Measure, Recipe, Size};
use layout::{BlockId, Border, BorderKind, Design, Edit, EditError, FabricId, PiecedBorder, apply};

use super::paint::fabrics_by_value;
use super::set_borders;
use super::set_session::{RefusedBorders, Second, SetAction, TurnChoice};
use super::studio::Studio;

impl Studio {
    /// Carries out what was asked for in Set.
    pub fn set_action(&mut self, action: SetAction) {
        match action {
            SetAction::Borders(borders) => self.set_borders(borders),
            SetAction::AddSpacer => {
                let refused = self.refused_borders().cloned();
                if let Some((refused, (number, spacer))) = refused.and_then(|r| Some((r.clone(), r.spacer()?))) {
                    let mut borders = refused.borders;
                    borders.insert(number, spacer);
                    self.set_borders(borders);
                }
            }
            SetAction::AddCorner => self.add_corner(),
            SetAction::DropBorders => self.session.set.refused = None,
            SetAction::ChooseTurn(choice) => self.session.set.turn = Some(choice),
            SetAction::FillInTurn => self.fill_in_turn(),
            SetAction::ChooseMedallion(choice) => self.session.set.medallion = Some(choice),
            SetAction::MakeMedallion => self.make_medallion(),
        }
    }

    /// The borders that were refused, if they are of the quilt as it is now.
    #[must_use]
    pub fn refused_borders(&self) -> Option<&RefusedBorders> {
        self.session.set.refused.as_ref().filter(|refused| refused.revision == self.revision())
    }

    /// Sets the borders as one step. What is refused stays to be put right: the quilt keeps its own until then.
    fn set_borders(&mut self, borders: Vec<Border>) {
        let edit = Edit::SetBorders(borders);
        let Err(why) = apply(self.design(), &edit) else {
            self.session.set.refused = None;
            self.edit(&edit);
            return;
        };
        if let Edit::SetBorders(borders) = edit {
            self.session.set.refused = Some(RefusedBorders { borders, why, revision: self.revision() });
        }
    }

    /// Adds a plain square for the corners of a refused border and tries again: one step if that is all it takes.
    fn add_corner(&mut self) {
        let Some(mut borders) = self.refused_borders().map(|refused| refused.borders.clone()) else { return };
        let Some((number, side)) = set_borders::corner_square(self.design(), &borders) else { return };
        let Some(add) = set_borders::add_square(self.design(), &side, borders[number].fabric) else { return };
        let Ok((next, _)) = apply(self.design(), &add) else {
            self.edit(&add);
            return;
        };
        if let BorderKind::Pieced(pieced) = borders[number].kind
            && let Some(corner) = added(self.design(), &next)
        {
            borders[number].kind = BorderKind::Pieced(PiecedBorder { corner, ..pieced });
        }
        let set = Edit::SetBorders(borders.clone());
        if apply(&next, &set).is_ok() {
            self.session.set.refused = None;
            self.edit_all("Change borders", &[add, set]);
        } else {
            self.edit(&add);
            self.set_borders(borders);
        }
    }

    /// The blocks to stand in turn: those chosen as far as they are there, else the first ones that fit.
    #[must_use]
    pub fn turn_choice(&self) -> Option<TurnChoice> {
        let design = self.design();
        let fitting = blocks_in_turn(design);
        let there = |id: BlockId| fitting.contains(&id);
        let chosen = self.session.set.turn;
        let first = chosen.map(|c| c.first).filter(|id| there(*id)).or_else(|| fitting.first().copied())?;
        let still = |second: &Second| match second {
            Second::Block(id) => there(*id),
            Second::Plain(fabric) => design.fabric(*fabric).is_ok() && plain_block(design).is_some(),
        };
        let other = || fitting.iter().copied().find(|id| *id != first).map(Second::Block);
        let plain = || {
            let lightest = fabrics_by_value(design).last().copied()?;
            plain_block(design).map(|_| Second::Plain(lightest))
        };
        let second = chosen.map(|c| c.second).filter(still).or_else(other).or_else(plain)?;
        Some(TurnChoice { first, second })
    }

    /// Fills the setting with two blocks in turn, and adds the plain one if the quilt does not have it, as one step.
    fn fill_in_turn(&mut self) {
        let Some(choice) = self.turn_choice() else {
            self.complain("No block of this quilt fits its setting beside another; add one first");
            return;
        };
        match in_turn(self.design(), choice) {
            Ok(edits) => {
                self.edit_all("Fill in turn", &edits);
            }
            Err(error) => self.complain(error.to_string()),
        }
    }
}

/// The edits that fill the setting in turn.
fn in_turn(design: &Design, choice: TurnChoice) -> Result<Vec<Edit>, EditError> {
    let mut edits = Vec::new();
    let mut next = design.clone();
    let second = match choice.second {
        Second::Block(id) => id,
        Second::Plain(fabric) => {
            let add = add_plain(design, fabric).ok_or(EditError::TooFew("plain block"))?;
            next = apply(design, &add)?.0;
            edits.push(add);
            added(design, &next).ok_or(EditError::TooFew("plain block"))?
        }
    };
    edits.push(Edit::Arrange(next.in_turn(choice.first, second)?));
    Ok(edits)
}

/// The block that a design has beyond those of the one before.
fn added(before: &Design, after: &Design) -> Option<BlockId> {
    after.blocks().map(|(id, _)| id).find(|id| before.block(*id).is_err())
}

/// The quilt's blocks that fit the places of the setting.
pub(crate) fn blocks_in_turn(design: &Design) -> Vec<BlockId> {
    design.blocks().filter(|(_, def)| design.fits_cell(def.block())).map(|(id, _)| id).collect()
}

/// How a plain block is drafted that fits the places of the setting; none where the quilt has one.
pub(crate) fn plain_block(design: &Design) -> Option<Recipe> {
    let has = |def: &layout::BlockDef| def.block().patches().len() == 1 && design.fits_cell(def.block());
    if design.blocks().any(|(_, def)| has(def)) {
        return None;
    }
    let (width, height) = (design.cell().width(), design.cell().height());
    let (width, height) = (Length::new(width.clone()).ok()?, Length::new(height.clone()).ok()?);
    let triangle = Recipe::SixtyTriangle(Size { by: Measure::Side, length: width.clone() });
    let fits = |recipe: &Recipe| recipe.draft().is_ok_and(|block| design.fits_cell(&block));
    [Recipe::Plain { width, height }, triangle].into_iter().find(fits)
}

fn add_plain(design: &Design, fabric: FabricId) -> Option<Edit> {
    set_borders::add_plain(design, plain_block(design)?, fabric)
}
