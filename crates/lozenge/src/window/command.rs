//! The one table of commands: menu, search, shortcut and tooltip all read it.

use geometry::Value;

use super::blocks::{BlockChange, Spread, Symmetry};
use super::session::{Room, Scope, Tool};
pub use super::shortcut::Keys;

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

const fn row(command: Command, menu: Menu, name: &'static str, tip: &'static str, keys: Option<Keys>) -> Entry {
    Entry { command, menu, name, tip, keys }
}

/// Every command, in the order of the menus.
pub const TABLE: &[Entry] = &[
    row(Command::New, Menu::Quilt, "New quilt…", "Choose a block and a size to begin with", Some(Keys::command("N"))),
    row(Command::Open, Menu::Quilt, "Open…", "Open a quilt file", Some(Keys::command("O"))),
    row(
        Command::OpenPath,
        Menu::Quilt,
        "Open by path…",
        "Open a quilt file by typing where it is",
        Some(Keys::command_shift("O")),
    ),
    row(Command::Save, Menu::Quilt, "Save", "Save the quilt in its file", Some(Keys::command("S"))),
    row(Command::SaveAs, Menu::Quilt, "Save as…", "Save the quilt under another name", Some(Keys::command_shift("S"))),
    row(
        Command::SavePicture,
        Menu::Quilt,
        "Save picture…",
        "Save the quilt top as SVG or PNG",
        Some(Keys::command("E")),
    ),
    row(
        Command::SaveSteps,
        Menu::Quilt,
        "Save steps as SVG…",
        "Save the steps of the block that is shown in Sew as SVG or PNG",
        Some(Keys::command_shift("E")),
    ),
    row(Command::CopyTotals, Menu::Quilt, "Copy totals", "Copy the totals as text", Some(Keys::command_shift("C"))),
    row(Command::Quit, Menu::Quilt, "Close", "Close the program", Some(Keys::command("Q"))),
    row(Command::Undo, Menu::Edit, "Undo", "Take the last step back", Some(Keys::command("Z"))),
    row(Command::Redo, Menu::Edit, "Redo", "Do the last step again", Some(Keys::command_shift("Z"))),
    row(
        Command::SelectAll,
        Menu::Edit,
        "Select all blocks",
        "Select every block of the quilt",
        Some(Keys::command("A")),
    ),
    row(Command::SelectNone, Menu::Edit, "Select none", "Select nothing", Some(Keys::plain("Escape"))),
    row(
        Command::Spread(Spread::Rows),
        Menu::Edit,
        "Select rows",
        "Select the whole rows of the selection",
        Some(Keys::shift("R")),
    ),
    row(
        Command::Spread(Spread::Columns),
        Menu::Edit,
        "Select columns",
        "Select the whole columns of the selection",
        Some(Keys::shift("C")),
    ),
    row(
        Command::Spread(Spread::Rings),
        Menu::Edit,
        "Select ring",
        "Select all that lies as far from the outside",
        Some(Keys::shift("G")),
    ),
    row(
        Command::Spread(Spread::SameBlock),
        Menu::Edit,
        "Select same block",
        "Select every block of this kind",
        Some(Keys::shift("K")),
    ),
    row(
        Command::Spread(Spread::SameLook),
        Menu::Edit,
        "Select same look",
        "Select this block where it lies and shows alike",
        Some(Keys::shift("L")),
    ),
    row(
        Command::Change(BlockChange::TurnLeft),
        Menu::Blocks,
        "Turn left",
        "Turn the selected blocks counter-clockwise",
        Some(Keys::plain("OpenBracket")),
    ),
    row(
        Command::Change(BlockChange::TurnRight),
        Menu::Blocks,
        "Turn right",
        "Turn the selected blocks clockwise",
        Some(Keys::plain("CloseBracket")),
    ),
    row(
        Command::Change(BlockChange::Mirror),
        Menu::Blocks,
        "Mirror",
        "Mirror the selected blocks left for right",
        Some(Keys::plain("M")),
    ),
    row(
        Command::SwapBlocks,
        Menu::Blocks,
        "Swap two blocks",
        "Exchange the two selected blocks",
        Some(Keys::plain("X")),
    ),
    row(
        Command::Change(BlockChange::FlipHalves),
        Menu::Blocks,
        "Flip halves",
        "Exchange dark and light in every half",
        Some(Keys::plain("F")),
    ),
    row(
        Command::Change(BlockChange::AllHalves(Value::Dark)),
        Menu::Blocks,
        "All halves dark",
        "Make every half dark",
        Some(Keys::plain("D")),
    ),
    row(
        Command::Change(BlockChange::AllHalves(Value::Light)),
        Menu::Blocks,
        "All halves light",
        "Make every half light",
        Some(Keys::plain("L")),
    ),
    row(
        Command::Change(BlockChange::FlipHalf(0)),
        Menu::Blocks,
        "First half dark or light",
        "Change the first half",
        Some(Keys::plain("Comma")),
    ),
    row(
        Command::Change(BlockChange::FlipHalf(1)),
        Menu::Blocks,
        "Second half dark or light",
        "Change the second half",
        Some(Keys::plain("Period")),
    ),
    row(
        Command::Change(BlockChange::ClearPaint),
        Menu::Blocks,
        "Clear paint",
        "Show the selected blocks in their own fabrics again",
        Some(Keys::plain("Delete")),
    ),
    row(
        Command::CopyMotif,
        Menu::Blocks,
        "Copy motif",
        "Copy the selected blocks as they lie and show",
        Some(Keys::command("C")),
    ),
    row(
        Command::PasteMotif,
        Menu::Blocks,
        "Paste motif",
        "Lay the motif down from the block you point at",
        Some(Keys::command("V")),
    ),
    row(
        Command::TileMotif,
        Menu::Blocks,
        "Repeat motif",
        "Lay the motif side by side over the quilt",
        Some(Keys::command_shift("V")),
    ),
    row(
        Command::Pairings,
        Menu::Blocks,
        "Pairings…",
        "Look through every way to turn and pair one block, and lay one over the quilt",
        Some(Keys::shift("P")),
    ),
    row(
        Command::Symmetry(Symmetry::Off),
        Menu::Blocks,
        "No mirror image",
        "What is done is done once",
        Some(Keys::shift("N")),
    ),
    row(
        Command::Symmetry(Symmetry::LeftRight),
        Menu::Blocks,
        "Same left to right",
        "Do the same in the mirror image",
        Some(Keys::shift("H")),
    ),
    row(
        Command::Symmetry(Symmetry::TopBottom),
        Menu::Blocks,
        "Same top to bottom",
        "Do the same upside down",
        Some(Keys::shift("V")),
    ),
    row(
        Command::Symmetry(Symmetry::Both),
        Menu::Blocks,
        "Same both ways",
        "Do the same in all four corners",
        Some(Keys::shift("B")),
    ),
    row(
        Command::Symmetry(Symmetry::QuarterTurns),
        Menu::Blocks,
        "Same by quarter turns",
        "Do the same turned round",
        Some(Keys::shift("Q")),
    ),
    row(Command::Tool(Tool::Select), Menu::Paint, "Select blocks", "A click selects a block", Some(Keys::plain("V"))),
    row(
        Command::Tool(Tool::Paint),
        Menu::Paint,
        "Paint",
        "A click paints with the fabric in hand",
        Some(Keys::plain("B")),
    ),
    row(
        Command::Tool(Tool::Pick),
        Menu::Paint,
        "Pick fabric",
        "A click takes up the fabric under the pointer",
        Some(Keys::plain("I")),
    ),
    row(
        Command::Scope(Scope::Patch),
        Menu::Paint,
        "Reach: this patch",
        "Paint changes one patch",
        Some(Keys::plain("Q")),
    ),
    row(
        Command::Scope(Scope::SamePatch),
        Menu::Paint,
        "Reach: same patch in every block",
        "Paint changes this patch wherever its block stands",
        Some(Keys::plain("W")),
    ),
    row(
        Command::Scope(Scope::Role),
        Menu::Paint,
        "Reach: same role",
        "Paint changes every patch of this role and value",
        Some(Keys::plain("E")),
    ),
    row(
        Command::Scope(Scope::Fabric),
        Menu::Paint,
        "Reach: whole fabric",
        "Paint changes every patch of this fabric",
        Some(Keys::plain("R")),
    ),
    row(Command::Fit, Menu::View, "Show all", "Show the whole quilt", Some(Keys::command("0"))),
    row(
        Command::ActualSize,
        Menu::View,
        "Actual size",
        "Show the quilt at 72 points an inch",
        Some(Keys::command("9")),
    ),
    row(Command::ZoomIn, Menu::View, "Zoom in", "Show the quilt larger", Some(Keys::command("Plus"))),
    row(Command::ZoomOut, Menu::View, "Zoom out", "Show the quilt smaller", Some(Keys::command("Minus"))),
    row(Command::Seams, Menu::View, "Seams", "Show or hide the seam lines", Some(Keys::plain("S"))),
    row(Command::Go(Room::Draft), Menu::View, "Draft", "Go to Draft", Some(Keys::command("1"))),
    row(Command::Go(Room::Set), Menu::View, "Set", "Go to Set", Some(Keys::command("2"))),
    row(Command::Go(Room::Colour), Menu::View, "Colour", "Go to Colour", Some(Keys::command("3"))),
    row(Command::Go(Room::Cut), Menu::View, "Cut", "Go to Cut", Some(Keys::command("4"))),
    row(Command::Go(Room::Sew), Menu::View, "Sew", "Go to Sew", Some(Keys::command("5"))),
    row(Command::Go(Room::Publish), Menu::View, "Publish", "Go to Publish", Some(Keys::command("6"))),
    row(
        Command::Units,
        Menu::View,
        "Inches or centimetres",
        "Change the units that are shown",
        Some(Keys::command("U")),
    ),
    row(
        Command::LightDark,
        Menu::View,
        "Light or dark",
        "Change between the light and the dark look",
        Some(Keys::command("L")),
    ),
    row(Command::TextLarger, Menu::View, "Larger text", "Make the text larger", Some(Keys::command_shift("Plus"))),
    row(Command::TextSmaller, Menu::View, "Smaller text", "Make the text smaller", Some(Keys::command_shift("Minus"))),
    row(Command::Find, Menu::View, "Find a command…", "Type the name of a command", Some(Keys::command("K"))),
];

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
