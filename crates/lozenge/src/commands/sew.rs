//! `sew`: the order of sewing of every block and of the top, in words, as JSON, or on pages.

use std::io::Write;
use std::path::Path;

use cutting::{BestBook, ClassBook, Ledger, SewnRun, Watch};
use geometry::Exact;
use layout::{Design, MethodKind, Overwrite, save};
use piecing::simulate::Errors;
use piecing::{BlockPlan, CuttingHand, QuiltPlan};
use publish::lengths::finished;
use publish::sewing::{
    BlockPages, OtherWay, OversizeReport, StepPage, StripWays, TestBlock, block_pages, other_ways, oversize_report,
    ready_units, sewing_sheets, strip_ways, test_block, top_words,
};
use publish::{Paper, svg};

use super::{chosen, open, planned, print_json, sew_json};
use crate::args::Sew;
use crate::error::CommandError;

/// All that is told of one block.
pub(super) struct Told {
    pub(super) plan: BlockPlan,
    pub(super) pages: BlockPages,
    pub(super) test: TestBlock,
    pub(super) strips: StripWays,
    pub(super) oversize: OversizeReport,
    pub(super) ways: Vec<OtherWay>,
}

/// The errors that were given, and the usual ones for the rest.
fn errors(given: &crate::args::Errors) -> Errors {
    let usual = Errors::default();
    Errors {
        seam_mean: given.seam_mean.unwrap_or(usual.seam_mean),
        seam_spread: given.seam_spread.unwrap_or(usual.seam_spread),
        taper_spread: given.taper.unwrap_or(usual.taper_spread),
        cut_spread: given.cut_spread.unwrap_or(usual.cut_spread),
        pressing_loss_mean: given.fold.unwrap_or(usual.pressing_loss_mean),
        pressing_loss_spread: given.fold_spread.unwrap_or(usual.pressing_loss_spread),
    }
}

/// What is known of cutting: the pieces, and what is sewn before it is cut.
struct Cut<'a> {
    book: &'a ClassBook,
    sewn: &'a [SewnRun],
}

/// The best cutting plan, if it may sew patches before they are cut; that is asked for among the wishes of Cut.
fn best_book(design: &Design, ledger: &Ledger) -> Result<Option<BestBook>, CommandError> {
    let sewn = [MethodKind::PairedSquares, MethodKind::StripSets, MethodKind::OntoStrips];
    if sewn.iter().all(|method| design.cutting().avoid.contains(method)) {
        return Ok(None);
    }
    Ok(Some(BestBook::new(design, ledger, &BestBook::default(), &Watch::new())?))
}

/// Prints how one variant is sewn.
pub(super) fn run(args: &Sew, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&args.reading.file)?;
    let design = &chosen(&document, args.reading.variant.as_deref())?.design;
    let (_, ledger) = planned(design)?;
    let hand = if args.left_handed { CuttingHand::Left } else { CuttingHand::Right };
    let book = best_book(design, &ledger)?;
    let cut = Cut { book: ledger.book(), sewn: book.as_ref().map_or(&[], BestBook::sewn) };
    let plan = QuiltPlan::new(design, &ready_units(design, cut.sewn))?;
    let top = top_words(design, &plan)?;
    let lost = plan.not_nested().to_vec();
    let told: Vec<Told> =
        plan.blocks.into_iter().map(|plan| tell(design, plan, &cut, args, hand)).collect::<Result<_, _>>()?;
    // Pages first: what cannot be written is said before anything is told.
    if let Some(folder) = &args.pages {
        draw_pages(design, &told, &top, folder, args.force)?;
    }
    if args.reading.json {
        print_json(&sew_json::sew(design, &told, (&top, &lost))?, out)
    } else {
        print(design, &told, &top, out)
    }
}

/// Works out all that is told of one block.
fn tell(design: &Design, plan: BlockPlan, cut: &Cut<'_>, args: &Sew, hand: CuttingHand) -> Result<Told, CommandError> {
    let pages = block_pages(design, &plan, cut.sewn, hand)?;
    let test = test_block(design, &plan, cut.book)?;
    let strips = strip_ways(design, &plan, cut.book, cut.sewn);
    let oversize = oversize_report(design, &plan, errors(&args.errors), args.wanted)?;
    let ways = other_ways(design, plan.block)?;
    Ok(Told { plan, pages, test, strips, oversize, ways })
}

/// Writes all steps on sheets of paper.
fn draw_pages(design: &Design, told: &[Told], top: &[String], folder: &Path, force: bool) -> Result<(), CommandError> {
    let overwrite = if force { Overwrite::Replace } else { Overwrite::Refuse };
    let pages: Vec<BlockPages> = told.iter().map(|told| told.pages.clone()).collect();
    for (number, drawing) in (1..).zip(sewing_sheets(design, &pages, top, Paper::of(design.units()))?) {
        save(&folder.join(format!("sewing-page-{number}.svg")), svg(&drawing).as_bytes(), overwrite)?;
    }
    Ok(())
}

/// Prints the steps in words.
fn print(design: &Design, told: &[Told], top: &[String], out: &mut dyn Write) -> Result<(), CommandError> {
    writeln!(out, "{} · order of sewing", design.name())?;
    writeln!(out, "Seam allowance {} throughout.", finished(design.seam().inches(), design.units()))?;
    writeln!(
        out,
        "Read the makers' instructions for rotary cutter, iron and machine; keep blades, pins and small parts from \
         children."
    )?;
    for told in told {
        print_block(told, out)?;
    }
    if let Some(margin) = margin_for_all(told) {
        let margin = finished(&margin, design.units());
        writeln!(out, "\nA quilt has one margin; {margin} is enough for all its blocks.")?;
    }
    writeln!(out, "\nPutting the top together:")?;
    for line in top {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// The margin that is enough for every block; none for one block, which says so itself.
pub(super) fn margin_for_all(told: &[Told]) -> Option<Exact> {
    let margins: Option<Vec<&Exact>> = told.iter().map(|told| told.oversize.recommended.as_ref()).collect();
    margins.filter(|all| all.len() > 1)?.into_iter().max().cloned()
}

fn print_block(told: &Told, out: &mut dyn Write) -> Result<(), CommandError> {
    let pages = &told.pages;
    writeln!(out, "\n{} ({} in the quilt): {}", pages.name, pages.copies, pages.seams)?;
    for line in pages.cutting.iter().chain(&pages.reversed) {
        writeln!(out, "  {line}")?;
    }
    for step in &pages.steps {
        print_step(step, pages.steps.len(), out)?;
    }
    print_list("Sewn before they are cut, as the cutting plan has it:", &told.strips.used, out)?;
    print_list("Could be sewn before they are cut (choose among the methods of Cut):", &told.strips.possible, out)?;
    if told.ways.len() > 1 {
        writeln!(out, "  Ways to sew it:")?;
    }
    for way in told.ways.iter().filter(|_| told.ways.len() > 1) {
        let fabric = way.fabric.as_ref().map_or_else(String::new, |fabric| format!(", {fabric}"));
        let mark = if way.chosen { "*" } else { " " };
        writeln!(out, "   {mark}{}: {}{fabric}", way.title, way.facts)?;
    }
    let mut test = told.test.pieces.clone();
    test.extend(told.test.bias.clone());
    print_list("Test block, cut first:", &test, out)?;
    print_list("How much oversize is enough:", &told.oversize.lines, out)
}

/// A heading and its lines; nothing without lines.
fn print_list(heading: &str, lines: &[String], out: &mut dyn Write) -> Result<(), CommandError> {
    if !lines.is_empty() {
        writeln!(out, "  {heading}")?;
    }
    for line in lines {
        writeln!(out, "    {line}")?;
    }
    Ok(())
}

fn print_step(step: &StepPage, of: usize, out: &mut dyn Write) -> Result<(), CommandError> {
    writeln!(out, "  [ ] Step {} of {of}: make {}", step.number, step.makes)?;
    for line in step.variants.iter().chain(&step.lines).chain(&step.pressing).chain(&step.trim) {
        writeln!(out, "        {line}")?;
    }
    if let Some(measures) = &step.measures {
        writeln!(out, "        Measure here: {measures}.")?;
    }
    Ok(())
}
