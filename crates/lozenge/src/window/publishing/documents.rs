//! The one table of what can be published: its words on screen, its files, and the function that makes it.

use layout::Tally;
use publish::exports::{cutting_list, cutting_table, share_sheet, shopping_list, testers_sheet};
use publish::kit::{ClassKit, ClassOrder, Reserve, Taken, WorkMinutes, handout_pages, label_pages, teacher_pages};
use publish::sewing::{block_pages, sewing_sheets, top_words};
use publish::tables::{TableWishes, quilt_of, spreadsheet, table_pages, tables};
use publish::templates::{SheetOptions, templates, trim_sheets};
use publish::{BookletInput, BookletOptions, LayPicture, PublishError, booklet, lay_sheets, quilt_picture, sheets};

use super::ingredients::{Ingredients, Needs, Unmade};
use super::made::Made;
use super::session::Class;

/// Something that can be published of a quilt.
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
    /// Whether it is set on paper of a size that can be chosen.
    pub on_paper: bool,
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
        on_paper: true,
        words: Words::All,
        needs: Needs::Pattern,
        make: pattern,
    },
    DocumentEntry {
        document: Document::CuttingList,
        name: "Cutting list",
        line: "Every fabric, strip by strip",
        files: &[FileKind::Pdf, FileKind::Csv],
        on_paper: true,
        words: Words::None,
        needs: Needs::Cutting,
        make: lays,
    },
    DocumentEntry {
        document: Document::SewingSheets,
        name: "Sewing sheets",
        line: "Every step with its diagrams",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::None,
        needs: Needs::Sewing,
        make: steps,
    },
    DocumentEntry {
        document: Document::Templates,
        name: "Templates",
        line: "Every kind of piece at its true size",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: template_sheets,
    },
    DocumentEntry {
        document: Document::TrimSheets,
        name: "Trim sheets",
        line: "Where to trim each unit, at true size",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: trims,
    },
    DocumentEntry {
        document: Document::ShoppingList,
        name: "Shopping list",
        line: "What to buy of everything",
        files: &[FileKind::Pdf, FileKind::Csv],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Cutting,
        make: shopping,
    },
    DocumentEntry {
        document: Document::ShareSheet,
        name: "Share sheet",
        line: "The picture and the totals on one page",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Cutting,
        make: share,
    },
    DocumentEntry {
        document: Document::TestersSheet,
        name: "Tester sheet",
        line: "For whoever tries the pattern",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Sewing,
        make: tester,
    },
    DocumentEntry {
        document: Document::Tables,
        name: "Tables",
        line: "Every block size for every bed",
        files: &[FileKind::Pdf, FileKind::Csv],
        on_paper: true,
        words: Words::None,
        needs: Needs::Quilt,
        make: table,
    },
    DocumentEntry {
        document: Document::ClassKit,
        name: "Class kit",
        line: "For the teacher: buy, cut, pack, time",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: teacher,
    },
    DocumentEntry {
        document: Document::BagLabels,
        name: "Bag labels",
        line: "A label for every bag of every kit",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: labels,
    },
    DocumentEntry {
        document: Document::Handout,
        name: "Class handout",
        line: "For students, in large print",
        files: &[FileKind::Pdf],
        on_paper: true,
        words: Words::HeadAndFoot,
        needs: Needs::Class,
        make: handout,
    },
    DocumentEntry {
        document: Document::Picture,
        name: "Picture",
        line: "The quilt top as PNG or SVG",
        files: &[FileKind::Png, FileKind::Svg],
        on_paper: false,
        words: Words::None,
        needs: Needs::Quilt,
        make: picture,
    },
];

impl Document {
    /// The table, in the order in which documents are offered.
    #[must_use]
    pub const fn all() -> &'static [DocumentEntry] {
        TABLE
    }

    /// Whether it is made for a class.
    #[must_use]
    pub fn is_for_class(self) -> bool {
        self.entry().needs == Needs::Class
    }

    /// Its row of the table.
    #[must_use]
    pub fn entry(self) -> &'static DocumentEntry {
        TABLE.iter().find(|entry| entry.document == self).unwrap_or(&TABLE[0])
    }
}

fn pattern(from: &Ingredients) -> Result<Made, Unmade> {
    let offered = from.all_offered()?;
    let input = BookletInput { quilt: from.offered()?, sewing: from.sewing()?, offered: &offered };
    let options = BookletOptions { about: from.about(), photo: from.photo()?, hand: from.options.hand };
    Ok(Made::pages(booklet(&input, &options)?))
}

fn picture(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::drawing(quilt_picture(&from.design, from.options.seams)?))
}

fn lays(from: &Ingredients) -> Result<Made, Unmade> {
    let design = &from.design;
    let mut drawings = Vec::new();
    for plan in from.plans()? {
        let lay = LayPicture::new(plan, design.fabric(plan.fabric)?, design.units())?;
        drawings.extend(lay_sheets(&lay, from.options.paper)?);
    }
    let table = cutting_table(&cutting_list(&from.offered()?)?, design.units());
    Ok(Made::pages(sheets(design.name(), &drawings)?).with_csv(table.csv()?))
}

fn shopping(from: &Ingredients) -> Result<Made, Unmade> {
    let list = shopping_list(&from.offered()?, &from.about())?;
    Ok(Made::pages(list.pages()?).with_csv(list.table().csv()?))
}

fn share(from: &Ingredients) -> Result<Made, Unmade> {
    let (sheet, figures) = share_sheet(&from.offered()?, &from.about())?;
    Ok(Made::pages(sheet.pages(&figures)?))
}

fn tester(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(testers_sheet(&from.offered()?, from.sewing()?, &from.about())?.pages()?))
}

fn steps(from: &Ingredients) -> Result<Made, Unmade> {
    let (design, sewing, sewn) = (&from.design, from.sewing()?, from.offered()?.sewn);
    let pages = sewing.blocks.iter().map(|plan| block_pages(design, plan, sewn, from.options.hand));
    let pages = pages.collect::<Result<Vec<_>, _>>()?;
    let drawings = sewing_sheets(design, &pages, &top_words(design, sewing)?, from.options.paper)?;
    Ok(Made::pages(sheets(design.name(), &drawings)?))
}

fn template_sheets(from: &Ingredients) -> Result<Made, Unmade> {
    let (design, tally, ledger) = (&from.design, Tally::count(&from.design)?, from.offered()?.ledger);
    let made = templates(design, &tally, ledger, Some(from.sewing()?), &from.about(), &SheetOptions::default())?;
    Ok(Made::pages(made.document.pages()?))
}

fn trims(from: &Ingredients) -> Result<Made, Unmade> {
    let made = trim_sheets(&from.design, from.sewing()?, &from.about(), &SheetOptions::default())?;
    if made.trim_sheets.is_empty() {
        return Err(Unmade::NothingTrimmed);
    }
    Ok(Made::pages(made.document.pages()?))
}

fn table(from: &Ingredients) -> Result<Made, Unmade> {
    let design = quilt_of(&from.design, from.options.table_of).map_err(PublishError::from)?;
    let wishes = TableWishes::usual(&design).map_err(PublishError::from)?;
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZeroUsize::get);
    let table = tables(&design, &wishes, threads, &from.watch).map_err(PublishError::from)?;
    let pages = table_pages(&table, &design, from.options.paper)?;
    Ok(Made::pages(pages).with_csv(spreadsheet(&table, &design).csv()?))
}

/// The kits of a class in which all make the open variant.
fn kit(from: &Ingredients) -> Result<ClassKit<'_>, Unmade> {
    let Class { students, spare } = from.options.class;
    let order = ClassOrder { students, takes: Vec::new(), reserve: Reserve::Kits(spare) };
    let (offered, sewing) = (from.offered()?, from.sewing()?);
    let shares = order.shares(&[offered.label]).map_err(PublishError::from)?;
    let taken: Vec<Taken<'_>> = shares.into_iter().map(|share| Taken { offered, sewing, share }).collect();
    Ok(ClassKit::new(&taken, WorkMinutes::default())?)
}

fn teacher(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(teacher_pages(&kit(from)?, &from.about())?))
}

fn labels(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(label_pages(&kit(from)?, &from.about())?))
}

fn handout(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(handout_pages(&kit(from)?, &from.about(), from.options.hand)?))
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
            assert!(!kinds.is_empty() && kinds.len() == entry.files.len(), "{}", entry.name);
        }
    }
}
