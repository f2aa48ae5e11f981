//! The functions of the table of documents: each makes one document of ingredients that are worked out.

use layout::Tally;
use publish::editions::{EditionOf, editions};
use publish::exports::{cutting_list, cutting_table, share_sheet, shopping_list, testers_sheet};
use publish::fits::fits_pages;
use publish::kit::{ClassKit, Taken, handout_pages, label_pages, teacher_pages};
use publish::sewing::{block_pages, sewing_sheets, top_words};
use publish::tables::{TableWishes, quilt_of, spreadsheet, table_pages, tables};
use publish::templates::{templates, trim_sheets};
use publish::{BookletInput, BookletOptions, LayPicture, PublishError, booklet, lay_sheets, quilt_picture, sheets};

use super::ingredients::Ingredients;
use super::made::{Made, Parts, TrueSize};
use super::unmade::Unmade;

pub(super) fn pattern(from: &Ingredients) -> Result<Made, Unmade> {
    let offered = from.all_offered()?;
    let input = BookletInput { quilt: from.offered()?, sewing: from.sewing()?, offered: &offered };
    let options = BookletOptions { about: from.about(), photo: from.photo()?, hand: from.options.hand };
    Ok(Made::pages(booklet(&input, &options)?))
}

pub(super) fn picture(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::drawing(quilt_picture(from.design(), from.options.seams)?))
}

pub(super) fn lays(from: &Ingredients) -> Result<Made, Unmade> {
    let design = from.design();
    let mut drawings = Vec::new();
    for plan in from.plans()? {
        let lay = LayPicture::new(plan, design.fabric(plan.fabric)?, design.units())?;
        drawings.extend(lay_sheets(&lay, from.options.paper)?);
    }
    let table = cutting_table(&cutting_list(&from.offered()?)?, design.units()).in_edition(&from.about().edition);
    Ok(Made::pages(sheets(design.name(), &drawings)?).with_csv(table.csv()?))
}

pub(super) fn shopping(from: &Ingredients) -> Result<Made, Unmade> {
    let list = shopping_list(&from.offered()?, &from.about())?;
    Ok(Made::pages(list.pages()?).with_csv(list.table().csv()?))
}

pub(super) fn share(from: &Ingredients) -> Result<Made, Unmade> {
    let (sheet, figures) = share_sheet(&from.offered()?, &from.about())?;
    Ok(Made::pages(sheet.pages(&figures)?))
}

pub(super) fn tester(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(testers_sheet(&from.offered()?, from.sewing()?, &from.about())?.pages()?))
}

pub(super) fn steps(from: &Ingredients) -> Result<Made, Unmade> {
    let (design, sewing, sewn) = (from.design(), from.sewing()?, from.offered()?.sewn);
    let pages = sewing.blocks.iter().map(|plan| block_pages(design, plan, sewn, from.options.hand));
    let pages = pages.collect::<Result<Vec<_>, _>>()?;
    let drawings = sewing_sheets(design, &pages, &top_words(design, sewing)?, from.options.paper)?;
    Ok(Made::pages(sheets(design.name(), &drawings)?))
}

pub(super) fn template_sheets(from: &Ingredients) -> Result<Made, Unmade> {
    let (design, tally, ledger) = (from.design(), Tally::count(from.design())?, from.offered()?.ledger);
    let options = from.options.lines.options();
    let made = templates(design, &tally, ledger, Some(from.sewing()?), &from.about(), &options)?;
    let pages = made.document.pages()?;
    Ok(Made::pages(pages).with_parts(Parts { of: TrueSize::Templates(made), units: design.units(), options }))
}

pub(super) fn trims(from: &Ingredients) -> Result<Made, Unmade> {
    let options = from.options.lines.options();
    let made = trim_sheets(from.design(), from.sewing()?, &from.about(), &options)?;
    if made.trim_sheets.is_empty() {
        return Err(Unmade::NothingTrimmed);
    }
    let pages = made.document.pages()?;
    Ok(Made::pages(pages).with_parts(Parts { of: TrueSize::Trims(made), units: from.design().units(), options }))
}

pub(super) fn table(from: &Ingredients) -> Result<Made, Unmade> {
    let design = quilt_of(from.design(), from.options.table_of).map_err(PublishError::from)?;
    let wishes = TableWishes::usual(&design).map_err(PublishError::from)?;
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZeroUsize::get);
    let table = tables(&design, &wishes, threads, &from.watch).map_err(PublishError::from)?;
    let pages = table_pages(&table, &design, from.options.paper)?;
    Ok(Made::pages(pages).with_csv(spreadsheet(&table, &design).csv()?))
}

/// The kits of the class.
fn kit(from: &Ingredients) -> Result<ClassKit<'_>, Unmade> {
    let taken = from.taken()?.into_iter().map(|(offered, sewing, share)| Taken { offered, sewing, share });
    let taken: Vec<Taken<'_>> = taken.collect();
    Ok(ClassKit::new(&taken, from.options.minutes)?)
}

pub(super) fn teacher(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(teacher_pages(&kit(from)?, &from.about())?))
}

pub(super) fn labels(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(label_pages(&kit(from)?, &from.about())?))
}

pub(super) fn handout(from: &Ingredients) -> Result<Made, Unmade> {
    Ok(Made::pages(handout_pages(&kit(from)?, &from.about(), from.options.hand)?))
}

pub(super) fn changes(from: &Ingredients) -> Result<Made, Unmade> {
    let (old, edition) = from.earlier()?;
    let of = |(quilt, sewing)| EditionOf { quilt, sewing };
    let old: Vec<EditionOf<'_>> = old.into_iter().map(of).collect();
    let new: Vec<EditionOf<'_>> = from.all_sewn()?.into_iter().map(of).collect();
    Ok(Made::pages(editions(&old, &new, &from.about(), edition)?.pages()?))
}

pub(super) fn from_fabrics(from: &Ingredients) -> Result<Made, Unmade> {
    let found = from.found()?;
    let pages = fits_pages(&found.hand, &found.listing, from.options.paper)?;
    Ok(Made::pages(pages).with_found(found))
}
