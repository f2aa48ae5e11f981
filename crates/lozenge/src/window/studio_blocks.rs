//! What is done to many blocks at once, each time as one step.

use std::collections::BTreeSet;

use layout::PlaceId;

use super::blocks::{
    BlockAction, BlockChange, Change, Images, Laid, Motif, Spread, Symmetry, edits_for, exchanged, selection, swapped,
};
use super::session::{Session, Spot};
use super::studio::Studio;
use crate::words::counted;

impl Session {
    /// The block that the pointer or the arrows are at.
    #[must_use]
    pub fn focused(&self) -> Option<PlaceId> {
        self.hover.map(|spot| spot.place).filter(|place| matches!(place, PlaceId::Cell { .. }))
    }
}

impl Studio {
    /// Carries out what was asked for on the wall or in its panel.
    pub fn block_action(&mut self, action: BlockAction) {
        match action {
            BlockAction::Lift(place) => self.session.blocks.lifted = place,
            BlockAction::Exchange(a, b) => {
                self.session.blocks.lifted = None;
                let change = exchanged(self.design(), a, b);
                self.lay("Exchange blocks", &change);
            }
            BlockAction::Grow { from, to } => self.grow_selection(from, to),
            BlockAction::Change(change) => self.change_blocks(change),
        }
    }

    /// Does this to every selected block, and to their images where that is asked for.
    pub fn change_blocks(&mut self, change: BlockChange) {
        if !self.has_selection() {
            return;
        }
        let next = change.of(self.design(), self.derived().scene(), &self.session.selection);
        if let BlockChange::Put(_) = change {
            let now = Laid::of(self.design(), next.keys().copied());
            let lost = next.iter().filter(|(id, laid)| !laid.is_painted() && now.get(id).is_some_and(Laid::is_painted));
            let lost = lost.count();
            if lost > 0 {
                self.say(format!("Could not be kept: paint of {}", counted(lost as u64, "block", "blocks")));
            }
        }
        self.lay(change.label(), &next);
    }

    /// Exchanges the two selected blocks.
    pub fn swap_selected(&mut self) {
        match swapped(self.design(), &self.session.selection) {
            Some(change) => {
                self.lay("Exchange blocks", &change);
            }
            None => self.say(format!("Select two blocks to swap them; {} selected now", self.session.selection.len())),
        }
    }

    /// Copies the selected blocks as a motif; what was copied, in words.
    pub fn copy_motif(&mut self) -> Option<String> {
        if !self.has_selection() {
            return None;
        }
        let motif = Motif::copy(self.design(), &self.session.selection)?;
        let (rows, columns) = motif.size();
        let told = format!("{rows} × {columns} motif of {}", counted(motif.blocks() as u64, "block", "blocks"));
        self.session.blocks.motif = Some(motif);
        self.say(format!("Copied: {told}"));
        Some(told)
    }

    /// Lays the copied motif down with its upper left corner at the block in focus, else at the first selected one.
    pub fn paste_motif(&mut self) {
        let Some((motif, at)) = self.motif_and_place() else { return };
        let change = motif.at(self.design(), at);
        let beyond = motif.blocks() - change.len();
        if beyond > 0 {
            self.say(format!("{} of the motif would lie beyond the quilt", counted(beyond as u64, "block", "blocks")));
        }
        if self.lay("Paste motif", &change) {
            self.session.selection = change.keys().copied().collect();
            self.session.blocks.anchor = Some(at);
        }
    }

    /// Repeats the copied motif over the whole quilt.
    pub fn tile_motif(&mut self) {
        let Some((motif, at)) = self.motif_and_place() else { return };
        let change = motif.tiled(self.design(), at);
        self.lay("Repeat motif", &change);
    }

    fn motif_and_place(&mut self) -> Option<(Motif, PlaceId)> {
        let Some(motif) = self.session.blocks.motif.clone() else {
            self.say("Copy a motif first: select blocks and press Ctrl+C");
            return None;
        };
        if !motif.suits(self.design()) {
            self.say("The motif was copied from another kind of setting; copy one here first");
            return None;
        }
        let at = self.session.focused().or_else(|| self.session.selection.first().copied());
        Some((motif, at.or_else(|| selection::first(self.design()))?))
    }

    /// Spreads the selection to whole rows, columns, rings or kinds; without one, from the block in focus.
    pub fn spread_selection(&mut self, how: Spread) {
        let mut from = self.session.selection.clone();
        if from.is_empty() {
            from.extend(self.session.focused());
        }
        if from.is_empty() {
            self.say("Select a block first, or point at one");
            return;
        }
        self.session.selection = selection::spread(self.design(), &from, how);
    }

    /// Selects the rectangle from where the selection began to `to`.
    fn grow_selection(&mut self, from: PlaceId, to: PlaceId) {
        let anchor = *self.session.blocks.anchor.get_or_insert(from);
        self.session.selection = selection::rectangle(self.design(), anchor, to);
    }

    /// Does the same in these images from now on, or says why the quilt has none.
    pub fn set_symmetry(&mut self, symmetry: Symmetry) {
        self.session.blocks.symmetry = symmetry;
        if symmetry == Symmetry::Off {
            self.say("What is done is done once, not in the mirror image");
        }
        if !Images::new(self.design(), self.derived().scene(), symmetry).fit() {
            let needs = match symmetry {
                Symmetry::QuarterTurns => "square blocks, and as many rows as columns",
                _ => "blocks whose mirror image is a place too",
            };
            self.say(format!("{}: this quilt has no such images; that needs {needs}", symmetry.name()));
        }
    }

    /// The images of a patch in which it is painted too.
    pub(crate) fn images_of(&self, spot: Spot) -> Vec<Spot> {
        let symmetry = self.session.blocks.symmetry;
        if symmetry == Symmetry::Off {
            return Vec::new();
        }
        Images::new(self.design(), self.derived().scene(), symmetry).patches(spot)
    }

    /// Lays blocks in their places and in the images of these, as one step. False when that was refused.
    pub fn lay(&mut self, label: &str, change: &Change) -> bool {
        let symmetry = self.session.blocks.symmetry;
        let edits = if symmetry == Symmetry::Off {
            edits_for(self.design(), change)
        } else {
            let mut images = Images::new(self.design(), self.derived().scene(), symmetry);
            edits_for(self.design(), &images.with_images(change))
        };
        self.edit_all(label, &edits)
    }

    fn has_selection(&mut self) -> bool {
        let any = !self.session.selection.is_empty();
        if !any {
            self.say("Select a block first: press V and click one");
        }
        any
    }

    /// The places that hold blocks.
    #[must_use]
    pub fn all_blocks(&self) -> BTreeSet<PlaceId> {
        self.design().places().map(|(id, _)| id).collect()
    }
}
