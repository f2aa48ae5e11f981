//! `editions`: what changed in figures between two editions of a quilt file.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args as ClapArgs;
use layout::file::Document;
use layout::{Design, Overwrite, save};
use piecing::QuiltPlan;
use publish::editions::{Change, EditionOf, Editions, VariantChanges, editions};
use publish::{About, Paper};
use serde::Serialize;

use super::offer::Offer;
use super::{open, print_json};
use crate::error::CommandError;

/// Which editions are compared.
#[derive(Debug, ClapArgs)]
pub(crate) struct EditionsArgs {
    /// Quilt file of the old edition
    old: PathBuf,
    /// Quilt file of the new edition
    new: PathBuf,
    /// Write the changes as PDF, too
    #[arg(long, value_name = "X.pdf")]
    out: Option<PathBuf>,
    /// The quick plans in place of the best ones
    #[arg(long)]
    quick: bool,
    /// Replace a file that is there
    #[arg(long, requires = "out")]
    force: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct EditionsJson<'a> {
    name: &'a str,
    old_edition: &'a str,
    new_edition: &'a str,
    differ: bool,
    added: &'a [String],
    removed: &'a [String],
    variants: &'a [VariantChanges],
}

/// The variants of a file, worked out, with how each is sewn.
fn worked(document: &Document, quick: bool) -> Result<Vec<(Offer<'_>, QuiltPlan)>, CommandError> {
    let mut worked = Vec::with_capacity(document.variants().len());
    for variant in document.variants() {
        let offer = Offer::new(variant, quick)?;
        let sewing = offer.sewing()?;
        worked.push((offer, sewing));
    }
    Ok(worked)
}

/// The design that speaks for a whole file: that of its first variant.
fn first<'a>(document: &'a Document, path: &Path) -> Result<&'a Design, CommandError> {
    let none = || CommandError::NoVariant { wanted: String::new(), has: path.display().to_string() };
    document.variants().first().map(|variant| &variant.design).ok_or_else(none)
}

/// Tells what changed.
pub(super) fn run(args: &EditionsArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    if let Some(path) = args.out.as_ref().filter(|path| !is_pdf(path)) {
        return Err(CommandError::Ending {
            document: "list of changes",
            endings: "pdf".to_owned(),
            path: path.clone(),
        });
    }
    let (old, new) = (open(&args.old)?, open(&args.new)?);
    let (before, after) = (worked(&old, args.quick)?, worked(&new, args.quick)?);
    let (first_old, first_new) = (first(&old, &args.old)?, first(&new, &args.new)?);
    let about = About::quilt(first_new, Paper::of(first_new.units()));
    let editions = editions(&of(&before), &of(&after), &about, &first_old.imprint().edition)?;
    if let Some(path) = &args.out {
        save(path, &editions.pages()?.pdf()?, if args.force { Overwrite::Replace } else { Overwrite::Refuse })?;
    }
    if args.json {
        let told = EditionsJson {
            name: first_new.name(),
            old_edition: &first_old.imprint().edition,
            new_edition: &first_new.imprint().edition,
            differ: editions.differ(),
            added: &editions.added,
            removed: &editions.removed,
            variants: &editions.variants,
        };
        return print_json(&told, out);
    }
    print(&editions, out)
}

fn is_pdf(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"))
}

fn of<'a>(worked: &'a [(Offer<'_>, QuiltPlan)]) -> Vec<EditionOf<'a>> {
    worked.iter().map(|(offer, sewing)| EditionOf { quilt: offer.offered(), sewing }).collect()
}

/// Prints the changes for a person.
fn print(editions: &Editions, out: &mut dyn Write) -> Result<(), CommandError> {
    writeln!(out, "{} · {} · {}", editions.about.title, editions.old, editions.new)?;
    for line in &editions.summary {
        writeln!(out, "{line}")?;
    }
    for variant in &editions.variants {
        writeln!(out, "\n{}", variant.label)?;
        if variant.changes.is_empty() {
            writeln!(out, "  No figure changed.")?;
        }
        let mut part = "";
        for change in &variant.changes {
            if change.part != part {
                part = change.part;
                writeln!(out, "  {part}")?;
            }
            print_change(change, out)?;
        }
    }
    Ok(())
}

fn print_change(change: &Change, out: &mut dyn Write) -> Result<(), CommandError> {
    let Change { what, old, new, .. } = change;
    match (old, new) {
        (Some(old), Some(new)) => writeln!(out, "    {what}: was {old}, is {new}")?,
        (None, Some(new)) => writeln!(out, "    {what}: new, {new}")?,
        (Some(old), None) => writeln!(out, "    {what}: gone, was {old}")?,
        (None, None) => {}
    }
    Ok(())
}
