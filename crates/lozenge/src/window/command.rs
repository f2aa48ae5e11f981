//! The one table of commands: menu, search, shortcut and tooltip all read it.

mod table;

use super::blocks::{BlockChange, Spread, Symmetry};
use super::session::{Room, Scope, Tool};
pub use super::shortcut::Keys;
pub use table::TABLE;

/// Something the user can ask for by name, without pointing at anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Command {
    /// Begin a quilt.
    New,
    /// Open a quilt.
    Open,
    /// Open a quilt by typing its path.
    OpenPath,
    /// Save.
    Save,
    /// Save under another name.
    SaveAs,
    /// Save the picture.
    SavePicture,
    /// Save the steps of the block that is shown in Sew.
    SaveSteps,
    /// Save the document that is shown in Publish.
    SaveDocument,
    /// To the next page of the document that is shown in Publish.
    PageOn,
    /// To the page before.
    PageBack,
    /// Copy the totals as text.
    CopyTotals,
    /// Close the program.
    Quit,
    /// Take a step back.
    Undo,
    /// Do it again.
    Redo,
    /// Select all blocks.
    SelectAll,
    /// Select none.
    SelectNone,
    /// Spread the selection.
    Spread(Spread),
    /// Do this to the selected blocks.
    Change(BlockChange),
    /// Exchange two selected blocks.
    SwapBlocks,
    /// Copy the selected blocks as a motif.
    CopyMotif,
    /// Lay the motif down.
    PasteMotif,
    /// Repeat the motif over the quilt.
    TileMotif,
    /// Show the pairings explorer.
    Pairings,
    /// Do the same in the mirror image.
    Symmetry(Symmetry),
    /// Choose what a click does.
    Tool(Tool),
    /// Choose how far paint reaches.
    Scope(Scope),
    /// Show all of the quilt.
    Fit,
    /// Show it at actual size.
    ActualSize,
    /// Show it larger.
    ZoomIn,
    /// Show it smaller.
    ZoomOut,
    /// Show or hide seams.
    Seams,
    /// Go to a place of the window.
    Go(Room),
    /// Change between inches and centimetres.
    Units,
    /// Change between the light and the dark look.
    LightDark,
    /// Larger text.
    TextLarger,
    /// Smaller text.
    TextSmaller,
    /// Find a command by its name.
    Find,
}

/// Where a command stands in the menu.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Menu {
    /// Files.
    Quilt,
    /// Steps, and what is selected.
    Edit,
    /// What is done to the selected blocks.
    Blocks,
    /// Tools and reach.
    Paint,
    /// What is shown.
    View,
}

impl Menu {
    /// All menus.
    pub const ALL: [Self; 5] = [Self::Quilt, Self::Edit, Self::Blocks, Self::Paint, Self::View];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quilt => "Quilt",
            Self::Edit => "Edit",
            Self::Blocks => "Blocks",
            Self::Paint => "Paint",
            Self::View => "View",
        }
    }
}

/// One row of the table.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    /// Which command.
    pub command: Command,
    /// Its menu.
    pub menu: Menu,
    /// Its name.
    pub name: &'static str,
    /// What it does, in one sentence.
    pub tip: &'static str,
    /// Its keys.
    pub keys: Option<Keys>,
}

/// The commands that `typed` can mean, the likeliest first: its exact name, names that begin with it, names that hold
/// it, names that hold all of its words.
#[must_use]
pub fn find(typed: &str) -> Vec<&'static Entry> {
    let wanted = typed.trim().to_lowercase();
    let rank = |entry: &Entry| {
        let name = entry.name.to_lowercase();
        let tests = [
            name == wanted || name.trim_end_matches('…') == wanted,
            name.starts_with(&wanted),
            name.contains(&wanted),
            wanted.split_whitespace().all(|word| name.contains(word)),
        ];
        tests.iter().position(|good| *good)
    };
    let mut found: Vec<(usize, &Entry)> = TABLE.iter().filter_map(|entry| Some((rank(entry)?, entry))).collect();
    found.sort_by_key(|(rank, _)| *rank);
    found.into_iter().map(|(_, entry)| entry).collect()
}

impl Command {
    /// Its row in the table.
    #[must_use]
    pub fn entry(self) -> Option<&'static Entry> {
        TABLE.iter().find(|entry| entry.command == self)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Number keys without anything held down choose fabrics.
    #[test]
    fn no_keys_clash() {
        let mut seen: BTreeSet<Keys> = ["1", "2", "3", "4", "5", "6", "7", "8", "9"].map(Keys::plain).into();
        for entry in TABLE {
            if let Some(keys) = entry.keys {
                assert!(seen.insert(keys), "{} is taken, {}", keys.text(), entry.name);
            }
        }
    }

    #[test]
    fn every_command_stands_once_with_a_name_and_a_tip() {
        let mut names = BTreeSet::new();
        let mut commands = BTreeSet::new();
        for entry in TABLE {
            assert!(names.insert(entry.name), "{} stands twice", entry.name);
            assert!(commands.insert(entry.command), "{} stands twice", entry.name);
            assert!(!entry.tip.is_empty() && !entry.tip.ends_with('.'), "{}", entry.name);
        }
        for room in Room::ALL {
            assert!(Command::Go(room).entry().is_some(), "{room:?}");
        }
        for (tool, scope) in Tool::ALL.into_iter().zip(Scope::ALL) {
            assert!(Command::Tool(tool).entry().is_some() && Command::Scope(scope).entry().is_some());
        }
    }
}
