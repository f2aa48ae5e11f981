//! The one table of what can be published: its words on screen, its files, what it depends on, and the function that
//! makes it.

use super::ingredients::{Ingredients, Needs};
use super::made::Made;
use super::making;
use super::unmade::Unmade;
use super::wishes::{Beside, Wish};

/// Something that can be published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Document {
    /// The whole pattern, from the cover to the words it uses.
    Booklet,
    /// The lay and the cutting list of every fabric.
    CuttingList,
    /// The steps of sewing on sheets of paper.
    SewingSheets,
    /// A template of every kind of piece at its true size.
    Templates,
    /// A sheet for every unit that is trimmed, at its true size.
    TrimSheets,
    /// What is bought for the quilt.
    ShoppingList,
    /// A picture of the quilt with its totals.
    ShareSheet,
    /// What someone who tries the pattern writes down.
    TestersSheet,
    /// The quilt in other sizes, for every bed.
    Tables,
    /// What a class of students is given, for the teacher.
    ClassKit,
    /// Labels for the bags of a class.
    BagLabels,
    /// What every student gets on paper.
    Handout,
    /// What changed since an earlier edition.
    Changes,
    /// The quilt tops that can be cut from fabrics in hand.
    FromFabrics,
    /// The quilt top as a picture.
    Picture,
}

/// A kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FileKind {
    /// Pages.
    Pdf,
    /// A picture of pixels.
    Png,
    /// A picture of lines.
    Svg,
    /// A table for a spreadsheet.
    Csv,
    /// A drawing for a cutting machine.
    Dxf,
}

impl FileKind {
    /// The ending of its files.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Png => "png",
            Self::Svg => "svg",
            Self::Csv => "csv",
            Self::Dxf => "dxf",
        }
    }

    /// What it is called on screen.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pdf => "PDF",
            Self::Png => "PNG",
            Self::Svg => "SVG",
            Self::Csv => "CSV",
            Self::Dxf => "DXF",
        }
    }
}

/// Which of the maker's words a document shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Words {
    /// None.
    None,
    /// Author and edition, in head and foot.
    HeadAndFoot,
    /// All of them, and the photo.
    All,
}

/// A row of the table.
#[derive(Debug, Clone, Copy)]
pub struct DocumentEntry {
    /// Which document.
    pub document: Document,
    /// Its name.
    pub name: &'static str,
    /// What it is, in one line.
    pub line: &'static str,
    /// The kinds of file it is saved as, the usual one first.
    pub files: &'static [FileKind],
    /// What the user can choose of it: another choice makes another document, a choice of anything else does not.
    pub wishes: &'static [Wish],
    /// Which of the maker's words it shows.
    pub words: Words,
    pub(super) needs: Needs,
    pub(super) make: fn(&Ingredients) -> Result<Made, Unmade>,
}

const TABLE: &[DocumentEntry] = &[
    DocumentEntry {
        document: Document::Booklet,
        name: "Booklet",
        line: "The whole pattern, cover to glossary",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::Hand, Wish::Photo],
        words: Words::All,
        needs: Needs::Pattern,
        make: making::pattern,
    },
    DocumentEntry {
        document: Document::CuttingList,
        name: "Cutting list",
        line: "Every fabric, strip by strip",
        files: &[FileKind::Pdf, FileKind::Csv],
        wishes: &[Wish::Paper],
        words: Words::HeadAndFoot,
        needs: Needs::Cutting,
        make: making::lays,
    },
    DocumentEntry {
        document: Document::SewingSheets,
        name: "Sewing sheets",
        line: "Every step with its diagrams",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::Hand],
        words: Words::None,
        needs: Needs::Sewing,
        make: making::steps,
    },
    DocumentEntry {
        document: Document::Templates,
        name: "Templates",
        line: "Every kind of piece at its true size",
        files: &[FileKind::Pdf, FileKind::Svg, FileKind::Dxf],
        wishes: &[Wish::Paper, Wish::Lines],
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: making::template_sheets,
    },
    DocumentEntry {
        document: Document::TrimSheets,
        name: "Trim sheets",
        line: "Where to trim each unit, at true size",
        files: &[FileKind::Pdf, FileKind::Svg, FileKind::Dxf],
        wishes: &[Wish::Paper, Wish::Lines],
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: making::trims,
    },
    DocumentEntry {
        document: Document::ShoppingList,
        name: "Shopping list",
        line: "What to buy of everything",
        files: &[FileKind::Pdf, FileKind::Csv],
        wishes: &[Wish::Paper],
        words: Words::HeadAndFoot,
        needs: Needs::Cutting,
        make: making::shopping,
    },
    DocumentEntry {
        document: Document::ShareSheet,
        name: "Share sheet",
        line: "The picture and the totals on one page",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper],
        words: Words::HeadAndFoot,
        needs: Needs::Cutting,
        make: making::share,
    },
    DocumentEntry {
        document: Document::TestersSheet,
        name: "Tester sheet",
        line: "For whoever tries the pattern",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper],
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: making::tester,
    },
    DocumentEntry {
        document: Document::Tables,
        name: "Tables",
        line: "Every block size for every bed",
        files: &[FileKind::Pdf, FileKind::Csv],
        wishes: &[Wish::Paper, Wish::TableOf],
        words: Words::None,
        needs: Needs::Quilt,
        make: making::table,
    },
    DocumentEntry {
        document: Document::ClassKit,
        name: "Class kit",
        line: "For the teacher: buy, cut, pack, time",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::Class, Wish::Minutes],
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: making::teacher,
    },
    DocumentEntry {
        document: Document::BagLabels,
        name: "Bag labels",
        line: "A label for every bag of every kit",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::Class],
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: making::labels,
    },
    DocumentEntry {
        document: Document::Handout,
        name: "Class handout",
        line: "For students, in large print",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::Hand, Wish::Class],
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: making::handout,
    },
    DocumentEntry {
        document: Document::Changes,
        name: "Changes",
        line: "What differs from an earlier file",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::File(Beside::Earlier)],
        words: Words::HeadAndFoot,
        needs: Needs::Editions,
        make: making::changes,
    },
    DocumentEntry {
        document: Document::FromFabrics,
        name: "From fabrics in hand",
        line: "Tops to cut from what you have",
        files: &[FileKind::Pdf],
        wishes: &[Wish::Paper, Wish::File(Beside::Fabrics)],
        words: Words::None,
        needs: Needs::Fabrics,
        make: making::from_fabrics,
    },
    DocumentEntry {
        document: Document::Picture,
        name: "Picture",
        line: "The quilt top as PNG or SVG",
        files: &[FileKind::Png, FileKind::Svg],
        wishes: &[Wish::Seams],
        words: Words::None,
        needs: Needs::Quilt,
        make: making::picture,
    },
];

impl DocumentEntry {
    /// Whether it depends on this.
    #[must_use]
    pub fn wishes_for(&self, wish: Wish) -> bool {
        self.wishes.contains(&wish)
    }

    /// Whether it names lengths of fabric by the best cutting plans, while the totals are those of the quick ones.
    #[must_use]
    pub const fn takes_best_plans(&self) -> bool {
        matches!(
            self.document,
            Document::Booklet
                | Document::CuttingList
                | Document::ShoppingList
                | Document::ShareSheet
                | Document::TestersSheet
        )
    }
}

impl Document {
    /// The table, in the order in which documents are offered.
    #[must_use]
    pub const fn all() -> &'static [DocumentEntry] {
        TABLE
    }

    /// Whether it is made of the quilt that is open, and another one when that changes.
    #[must_use]
    pub fn is_of_quilt(self) -> bool {
        self.entry().needs != Needs::Fabrics
    }

    /// Its row of the table.
    #[must_use]
    pub fn entry(self) -> &'static DocumentEntry {
        TABLE.iter().find(|entry| entry.document == self).unwrap_or(&TABLE[0])
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_document_stands_once_with_its_words_and_files() {
        let mut names = BTreeSet::new();
        let mut documents = BTreeSet::new();
        for entry in TABLE {
            assert!(names.insert(entry.name) && documents.insert(entry.document), "{} stands twice", entry.name);
            assert_eq!(entry.document.entry().name, entry.name);
            assert!(!entry.line.is_empty() && !entry.line.ends_with('.'), "{}", entry.name);
            let kinds: BTreeSet<FileKind> = entry.files.iter().copied().collect();
            let wishes: BTreeSet<Wish> = entry.wishes.iter().copied().collect();
            assert_eq!(wishes.len(), entry.wishes.len(), "{}", entry.name);
            assert!(!kinds.is_empty() && kinds.len() == entry.files.len(), "{}", entry.name);
        }
    }
}
