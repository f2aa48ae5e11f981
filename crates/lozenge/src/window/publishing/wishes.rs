//! What the user can choose of documents, and which documents another choice makes old.

use std::collections::BTreeMap;
use std::path::PathBuf;

use layout::BlockId;
use piecing::CuttingHand;
use publish::kit::WorkMinutes;
use publish::{Paper, Seams};

use super::class::Class;
use super::lines::Lines;

/// Something that can be chosen of a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wish {
    /// The paper it is set on.
    Paper,
    /// The hand that cuts.
    Hand,
    /// Who takes which variant in a class, and the spare kits.
    Class,
    /// The minutes of each kind of work.
    Minutes,
    /// The block that tables are of.
    TableOf,
    /// Whether pictures of the quilt show seams.
    Seams,
    /// How wide the lines of true-size drawings are, and what a cutting machine takes away.
    Lines,
    /// The photo, whose path begins at the quilt's file.
    Photo,
    /// A file beside the quilt.
    File(Beside),
}

/// What a document can be made of beside the quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Beside {
    /// A list of fabrics in hand.
    Fabrics,
    /// An earlier edition of the quilt.
    Earlier,
}

/// A file that was chosen. It is read when it is chosen; choosing it once more reads it once more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChosenFile {
    /// Where it is.
    pub path: PathBuf,
    /// How often a file was chosen before.
    pub read: u32,
}

impl ChosenFile {
    /// This file in place of the one that was chosen before; none when the path is empty.
    #[must_use]
    pub fn after(before: Option<&Self>, path: PathBuf) -> Option<Self> {
        let read = before.map_or(0, |before| before.read.wrapping_add(1));
        (!path.as_os_str().is_empty()).then_some(Self { path, read })
    }
}

/// What the user wishes of documents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Options {
    /// The paper they are set on.
    pub(crate) paper: Paper,
    /// The hand that cuts.
    pub(crate) hand: CuttingHand,
    /// The class that kits are for.
    pub(crate) class: Class,
    /// The minutes of each kind of work in class.
    pub(crate) minutes: WorkMinutes,
    /// The block that tables are of; the quilt as it is when there is none.
    pub(crate) table_of: Option<BlockId>,
    /// Whether pictures of the quilt show seams.
    pub(crate) seams: Seams,
    /// The lines of true-size drawings.
    pub(crate) lines: Lines,
    /// The quilt's file, to which the path of the photo is relative.
    pub(crate) file: Option<PathBuf>,
    /// The files beside it.
    pub(crate) files: BTreeMap<Beside, ChosenFile>,
}

impl Options {
    /// The same where a document depends on it, and elsewhere one and the same value: a document is made of what its
    /// order holds, so what it does not depend on cannot make it old.
    pub(crate) fn only(self, wishes: &[Wish]) -> Self {
        let has = |wish| wishes.contains(&wish);
        Self {
            paper: if has(Wish::Paper) { self.paper } else { Paper::A4 },
            hand: if has(Wish::Hand) { self.hand } else { CuttingHand::Right },
            class: if has(Wish::Class) { self.class } else { Class::default() },
            minutes: if has(Wish::Minutes) { self.minutes } else { WorkMinutes::default() },
            table_of: self.table_of.filter(|_| has(Wish::TableOf)),
            lines: if has(Wish::Lines) { self.lines } else { Lines::default() },
            seams: if has(Wish::Seams) { self.seams } else { Seams::Shown },
            file: self.file.filter(|_| has(Wish::Photo)),
            files: self.files.into_iter().filter(|(beside, _)| has(Wish::File(*beside))).collect(),
        }
    }

    /// The file that has to be chosen before a document of these wishes can be made.
    pub(crate) fn missing(&self, wishes: &[Wish]) -> Option<Beside> {
        wishes.iter().find_map(|wish| match wish {
            Wish::File(beside) if !self.files.contains_key(beside) => Some(*beside),
            _ => None,
        })
    }
}
