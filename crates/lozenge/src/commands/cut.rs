//! `cut`: how every fabric is cut, in words, as JSON, or drawn.

use std::io::Write;
use std::path::Path;

use cutting::{BestBook, Cloth, FabricPlan, Ledger, Planner, SewnRun, Watch, audit};
use layout::{Design, Overwrite, save};
use publish::cut_words::{
    RowWords, bound_words, buy_words, cloth_headings, cloth_words, cut_size, listed_name, purchase_lines, sewn_line,
    strip_heading, strip_letter, strip_lines, trim_words,
};
use publish::ruler_words::ruler_words;
use publish::{LayPicture, Paper, lay_sheets, svg};

use super::cut_json::{Plans, cut};
use super::{chosen, open, planned, print_json, uncut};
use crate::args::Cut;
use crate::error::CommandError;

/// Prints the cutting plan of one variant, after it has passed its audit.
pub(super) fn run(args: &Cut, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&args.reading.file)?;
    let design = &chosen(&document, args.reading.variant.as_deref())?.design;
    let (_, ledger) = planned(design)?;
    let book =
        if args.quick { None } else { Some(BestBook::new(design, &ledger, &BestBook::default(), &Watch::new())?) };
    let (plans, sewn, planner) = match &book {
        // Best plans have been audited when they were made.
        Some(book) => (book.plans(), book.sewn(), Planner::Best.name()),
        None => {
            audited(design, ledger.plans())?;
            (ledger.plans(), [].as_slice(), Planner::Quick.name())
        }
    };
    if args.reading.json {
        print_json(&cut(design, plans, sewn, planner)?, out)?;
    } else {
        print(design, &ledger, plans, sewn, planner, out)?;
    }
    if let Some(folder) = &args.lays {
        draw_lays(design, plans, folder, args.force)?;
    }
    uncut(plans)
}

/// Refuses plans that do not survive the audit.
pub(super) fn audited(design: &Design, plans: &Plans) -> Result<(), CommandError> {
    let Err(problems) = audit(design, plans) else { return Ok(()) };
    let count = problems.len();
    match problems.into_iter().next() {
        Some((_, first)) => Err(CommandError::Audit { count, first }),
        None => Ok(()),
    }
}

/// Writes the lay of every fabric, page by page.
fn draw_lays(design: &Design, plans: &Plans, folder: &Path, force: bool) -> Result<(), CommandError> {
    let overwrite = if force { Overwrite::Replace } else { Overwrite::Refuse };
    for plan in plans.values().filter_map(|plan| plan.as_ref().ok()) {
        let fabric = design.fabric(plan.fabric)?;
        let lay = LayPicture::new(plan, fabric, design.units())?;
        for (page, drawing) in (1..).zip(lay_sheets(&lay, Paper::of(design.units()))?) {
            let file = folder.join(format!("fabric-{}-page-{page}.svg", plan.fabric.0));
            save(&file, svg(&drawing).as_bytes(), overwrite)?;
        }
    }
    Ok(())
}

/// Prints the plans in words.
fn print(
    design: &Design,
    ledger: &Ledger,
    plans: &Plans,
    sewn: &[SewnRun],
    planner: &str,
    out: &mut dyn Write,
) -> Result<(), CommandError> {
    writeln!(out, "{} · {planner} cutting plan", design.name())?;
    writeln!(
        out,
        "Read the makers' instructions for rotary cutter and iron; keep blades and small parts from children."
    )?;
    writeln!(out, "Sizes are set on the ruler; the exact cut sizes stand beside the pieces.")?;
    for plan in plans.values().filter_map(|plan| plan.as_ref().ok()) {
        writeln!(out)?;
        print_fabric(design, plan, out)?;
    }
    if !sewn.is_empty() {
        writeln!(out, "\nSewn before they are cut:")?;
        for run in sewn {
            writeln!(out, "  {}", sewn_line(run, design)?)?;
        }
    }
    for (heading, lines) in ruler_words(design, ledger.book()) {
        writeln!(out, "\n{heading}:")?;
        for line in lines {
            writeln!(out, "  {line}")?;
        }
    }
    Ok(())
}

fn print_fabric(design: &Design, plan: &FabricPlan, out: &mut dyn Write) -> Result<(), CommandError> {
    let units = design.units();
    let fabric = design.fabric(plan.fabric)?;
    writeln!(out, "{}: {}; buy {}", fabric.name, cloth_words(plan, units), buy_words(plan))?;
    if plan.parts > 1 {
        writeln!(out, "  {} different fabrics; cut this from each of them", plan.parts)?;
    }
    for line in bound_words(plan) {
        writeln!(out, "  {line}")?;
    }
    let lines: Vec<String> = purchase_lines(plan, units).into_iter().map(|(n, l)| format!("{n} {l}")).collect();
    writeln!(out, "  Length: {}", lines.join(", "))?;
    for piece in &plan.pieces {
        let trim = trim_words(plan, piece, units).map(|words| format!("; {words}")).unwrap_or_default();
        writeln!(out, "  {} × {} ({}{trim})", piece.count, listed_name(piece, units), cut_size(piece, units))?;
    }
    let mut letter = 0;
    for (cloth, heading) in plan.cloths().iter().zip(cloth_headings(plan, units)) {
        if let Some(heading) = heading {
            writeln!(out, "  {heading}:")?;
        }
        print_cloth(plan, cloth, units, &mut letter, out)?;
    }
    Ok(())
}

fn print_cloth(
    plan: &FabricPlan,
    cloth: &Cloth<'_>,
    units: layout::Units,
    letter: &mut usize,
    out: &mut dyn Write,
) -> Result<(), CommandError> {
    for strip in cloth.strips {
        writeln!(out, "  [ ] {} Cut {}:", strip_letter(*letter), strip_heading(strip, units))?;
        *letter += 1;
        for (_, line) in strip_lines(plan, strip, cloth.width, units).iter().flat_map(RowWords::lines) {
            writeln!(out, "        {line}")?;
        }
    }
    Ok(())
}
