//! Carries out commands about blocks.

use super::app::Window;
use super::command::Command;

impl Window {
    /// Carries out a command that selects blocks or does something to the selected ones. False for every other command.
    pub(crate) fn block_command(&mut self, command: Command) -> bool {
        let studio = &mut self.studio;
        match command {
            Command::SelectAll => studio.session.selection = studio.all_blocks(),
            // Esc first lets a dragged block lie where it was.
            Command::SelectNone => {
                if studio.session.blocks.lifted.take().is_none() {
                    studio.session.selection.clear();
                    studio.session.blocks.anchor = None;
                }
            }
            Command::Spread(how) => studio.spread_selection(how),
            Command::Change(change) => studio.change_blocks(change),
            Command::SwapBlocks => studio.swap_selected(),
            Command::PasteMotif => studio.paste_motif(),
            Command::TileMotif => studio.tile_motif(),
            Command::Symmetry(symmetry) => studio.set_symmetry(symmetry),
            _ => return false,
        }
        true
    }
}
