//! The commands that work without a window.

mod beds;
mod booklet;
mod check;
mod cut;
mod cut_json;
mod draw;
mod editions;
mod export;
mod fits;
mod kit;
mod kit_json;
mod offer;
mod pairings;
mod save;
mod sew;
mod sew_json;
mod tables;
mod tables_json;
mod templates;
mod totals;

use std::io::Write;
use std::path::Path;

use cutting::Ledger;
use layout::file::{Document, Variant};
use layout::{Design, Tally};
use serde::Serialize;

pub(crate) use self::booklet::BookletArgs;
pub(crate) use self::editions::EditionsArgs;
pub(crate) use self::export::ExportArgs;
pub(crate) use self::fits::FitsArgs;
pub(crate) use self::kit::KitArgs;
pub(crate) use self::tables::TablesArgs;
pub(crate) use self::templates::TemplatesArgs;
use crate::args::{Args, Command};
use crate::error::CommandError;

/// Runs what was asked.
pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), CommandError> {
    match &args.command {
        Some(Command::Check(reading)) => check::run(reading, out),
        Some(Command::Totals(reading)) => totals::run(reading, out),
        Some(Command::Cut(reading)) => cut::run(reading, out),
        Some(Command::Sew(args)) => sew::run(args, out),
        Some(Command::Draw(draw)) => draw::run(draw, out),
        Some(Command::Templates(args)) => templates::run(args, out),
        Some(Command::Pairings(args)) => pairings::run(args, out),
        Some(Command::Beds(args)) => beds::run(args, out),
        Some(Command::Booklet(args)) => booklet::run(args, out),
        Some(Command::Fits(args)) => fits::run(args, out),
        Some(Command::Kit(args)) => kit::run(args, out),
        Some(Command::Export(args)) => export::run(args, out),
        Some(Command::Editions(args)) => editions::run(args, out),
        Some(Command::Tables(args)) => tables::run(args, out),
        Some(Command::Save(save)) => save::run(save, out),
        None => {
            let document = args.file.as_deref().map(|path| Ok::<_, CommandError>((open(path)?, path.to_path_buf())));
            crate::window::open(document.transpose()?)
        }
    }
}

/// Opens a file and proves what is in it.
fn open(path: &Path) -> Result<Document, CommandError> {
    Document::open(path).map_err(|source| CommandError::of_quilt(path, source))
}

/// The variant with this label, or the first.
fn chosen<'a>(document: &'a Document, label: Option<&str>) -> Result<&'a Variant, CommandError> {
    let variants = document.variants();
    let found = label.map_or_else(|| variants.first(), |label| variants.iter().find(|v| v.label == label));
    found.ok_or_else(|| CommandError::NoVariant {
        wanted: label.unwrap_or_default().to_owned(),
        has: variants.iter().map(|v| v.label.as_str()).collect::<Vec<_>>().join(", "),
    })
}

/// Counts and plans of a design.
fn planned(design: &Design) -> Result<(Tally, Ledger), CommandError> {
    let tally = Tally::count(design)?;
    let ledger = Ledger::new(design, &tally)?;
    Ok((tally, ledger))
}

/// The errors of the fabrics that could not be planned, as one.
fn uncut(plans: &cut_json::Plans) -> Result<(), CommandError> {
    let errors: Vec<String> = plans.values().filter_map(|p| p.as_ref().err()).map(ToString::to_string).collect();
    if errors.is_empty() { Ok(()) } else { Err(CommandError::Uncut(errors.join("\nlozenge: "))) }
}

/// Prints one JSON value and a line feed.
fn print_json(value: &impl Serialize, out: &mut dyn Write) -> Result<(), CommandError> {
    let text = serde_json::to_string_pretty(value)?;
    writeln!(out, "{text}")?;
    Ok(())
}
