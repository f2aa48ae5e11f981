//! `fits`: what can be made of the fabrics in hand, largest first, in words, as JSON, as pages with pictures, and any of
//! it as a quilt file.

use std::io::Write;
use std::path::PathBuf;

use clap::{ArgGroup, Args};
use cutting::Watch;
use geometry::Length;
use layout::file::Document;
use layout::{Overwrite, Units, save_all};
use publish::Paper;
use publish::fits::{
    Buy, Entry, FabricsFile, Family, Hand, Listing, MAX_FITS, More, Next, entry_words, fits, fits_pages, hand_words,
    next_words, short_words, typed_length, used_words,
};
use serde::Serialize;

use super::cut_json::{Cut, cut};
use super::export::paper;
use super::kit::check_path;
use super::print_json;
use crate::decimal::{Decimal, length, unit_name};
use crate::error::CommandError;
use crate::words::{about_size, counted};

/// Lengths are in the units of the file, such as 12, 12.5 or "12 1/2", or end in in, cm or mm.
#[derive(Debug, Args)]
#[command(group = ArgGroup::new("written").args(["save", "pages"]).multiple(true))]
pub(crate) struct FitsArgs {
    /// File of the fabrics in hand
    pub(crate) file: PathBuf,
    /// Finished sides of the blocks to try, in place of those of the file
    #[arg(long, value_name = "SIZES", value_delimiter = ',')]
    pub(crate) sizes: Vec<String>,
    /// Blocks to try, such as "tilted star,nine-patch", in place of those of the file
    #[arg(long, value_name = "BLOCKS", value_delimiter = ',', value_parser = Family::named)]
    pub(crate) blocks: Vec<Family>,
    /// How many to list
    #[arg(long, value_name = "NUMBER", default_value_t = 12)]
    pub(crate) count: usize,
    /// How many plans of one fabric may be made
    #[arg(long, value_name = "PLANS")]
    pub(crate) steps: Option<u64>,
    /// Save the entry of this number as a quilt
    #[arg(long, value_name = "NUMBER", requires = "out")]
    pub(crate) save: Option<usize>,
    /// Quilt file to write
    #[arg(long, value_name = "QUILT", requires = "save")]
    pub(crate) out: Option<PathBuf>,
    /// How the blocks of the saved quilt are turned, one of the entry's arrangements
    #[arg(long, value_name = "NAME", requires = "save")]
    pub(crate) arrangement: Option<String>,
    /// Write the list as pages with pictures, PDF
    #[arg(long, value_name = "X.pdf")]
    pub(crate) pages: Option<PathBuf>,
    /// Paper of the pages: a4 or letter; by default that of the file's units
    #[arg(long, value_name = "PAPER", value_parser = paper, requires = "pages")]
    pub(crate) paper: Option<Paper>,
    /// Replace files that are there
    #[arg(long, requires = "written")]
    pub(crate) force: bool,
    /// Print JSON, with the cutting plan of every entry
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Serialize)]
struct Table {
    unit: &'static str,
    name: String,
    tried: usize,
    steps: u64,
    complete: bool,
    entries: Vec<EntryRow>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    short: Vec<ShortRow>,
}

#[derive(Serialize)]
struct EntryRow {
    number: usize,
    finished_width: Decimal,
    finished_height: Decimal,
    block: String,
    block_width: Decimal,
    block_height: Decimal,
    rows: u16,
    columns: u16,
    colours: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pairing: Option<&'static str>,
    arrangements: Vec<&'static str>,
    gives: Vec<GivesRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<NextRow>,
    plan: Cut,
}

/// How many blocks, or pairs of blocks, a fabric has a share in.
#[derive(Serialize)]
struct GivesRow {
    fabric: usize,
    name: String,
    shares: u64,
}

#[derive(Serialize)]
struct ShortRow {
    block: String,
    block_width: Decimal,
    block_height: Decimal,
    colours: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pairing: Option<&'static str>,
    next: NextRow,
}

#[derive(Serialize)]
struct NextRow {
    rows: u16,
    columns: u16,
    finished_width: Decimal,
    finished_height: Decimal,
    more: Vec<MoreRow>,
}

/// What more is needed; `fabric` counts from 1 and is left out where there is no fabric of the value.
#[derive(Serialize)]
struct MoreRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    fabric: Option<usize>,
    name: String,
    value: &'static str,
    width: Decimal,
    length: Decimal,
    count: u32,
    label: String,
}

/// Lists what can be made, and saves what was chosen.
pub(super) fn run(args: &FitsArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    check_path("list of quilt tops", args.pages.as_deref(), &args.file)?;
    let FabricsFile { hand, mut wanted } =
        FabricsFile::open(&args.file).map_err(|source| CommandError::of_fabrics(&args.file, source))?;
    if !args.blocks.is_empty() {
        wanted.families.clone_from(&args.blocks);
    }
    if !args.sizes.is_empty() {
        wanted.sizes = sizes(&args.sizes, hand.units)?;
    }
    wanted.steps = args.steps.unwrap_or(wanted.steps);
    // What is to be saved is made, however short the list.
    wanted.count = args.count.max(args.save.unwrap_or(0).min(MAX_FITS));
    let mut listing = fits(&hand, &wanted, &Watch::new())?;
    write_files(&hand, &mut listing, args)?;
    if args.json { print_json(&table(&hand, &listing)?, out) } else { print(&hand, &listing, args, out) }
}

/// Writes what was asked for, all or none, and leaves as many entries as are to be listed.
fn write_files(hand: &Hand, listing: &mut Listing, args: &FitsArgs) -> Result<(), CommandError> {
    let mut files = Vec::new();
    if let Some((number, path)) = args.save.zip(args.out.as_ref()) {
        let chosen = number.checked_sub(1).and_then(|index| listing.entries.get(index));
        let entry = chosen.ok_or(CommandError::NoEntry { wanted: number, has: listing.entries.len() })?;
        let design = match &args.arrangement {
            Some(name) => entry.arranged(name)?,
            None => entry.design.clone(),
        };
        let bytes = Document::new(design).to_bytes().map_err(|source| CommandError::of_quilt(path, source))?;
        files.push((path.clone(), bytes));
    }
    listing.entries.truncate(args.count);
    if let Some(path) = &args.pages {
        let pages = fits_pages(hand, listing, args.paper.unwrap_or_else(|| Paper::of(hand.units)))?;
        files.push((path.clone(), pages.pdf()?));
    }
    Ok(save_all(&files, if args.force { Overwrite::Replace } else { Overwrite::Refuse })?)
}

fn sizes(typed: &[String], units: Units) -> Result<Vec<Length>, CommandError> {
    typed.iter().map(|text| typed_length(text, units).map_err(CommandError::Size)).collect()
}

fn table(hand: &Hand, listing: &Listing) -> Result<Table, CommandError> {
    let rows = (1..).zip(&listing.entries).map(|(number, entry)| entry_row(number, entry, hand));
    let short = listing.short.iter().map(|short| ShortRow {
        block: short.block.clone(),
        block_width: length(&short.block_size.0, hand.units),
        block_height: length(&short.block_size.1, hand.units),
        colours: short.colours.words(),
        pairing: short.pairing.map(publish::fits::Pairing::words),
        next: next_row(&short.next, hand),
    });
    Ok(Table {
        unit: unit_name(hand.units),
        name: hand.name.clone(),
        tried: listing.tried,
        steps: listing.steps,
        complete: listing.complete,
        entries: rows.collect::<Result<_, _>>()?,
        short: short.collect(),
    })
}

fn entry_row(number: usize, entry: &Entry, hand: &Hand) -> Result<EntryRow, CommandError> {
    let (width, height) = entry.finished_size();
    let gives = entry.gives.iter().map(|(index, shares)| GivesRow {
        fabric: index + 1,
        name: hand.fabrics.get(*index).map_or_else(String::new, |fabric| fabric.name.clone()),
        shares: *shares,
    });
    Ok(EntryRow {
        number,
        finished_width: length(&width, hand.units),
        finished_height: length(&height, hand.units),
        block: entry.block.clone(),
        block_width: length(&entry.block_size.0, hand.units),
        block_height: length(&entry.block_size.1, hand.units),
        rows: entry.shape.rows,
        columns: entry.shape.columns,
        colours: entry.colours.words(),
        pairing: entry.pairing.map(publish::fits::Pairing::words),
        arrangements: entry.arrangements(),
        gives: gives.collect(),
        next: entry.next.as_ref().map(|next| next_row(next, hand)),
        plan: cut(&entry.design, &entry.plans, &[], cutting::Planner::Quick.name())?,
    })
}

fn next_row(next: &Next, hand: &Hand) -> NextRow {
    NextRow {
        rows: next.shape.rows,
        columns: next.shape.columns,
        finished_width: length(&next.width, hand.units),
        finished_height: length(&next.height, hand.units),
        more: next.more.iter().map(|more| more_row(more, hand)).collect(),
    }
}

fn more_row(more: &More, hand: &Hand) -> MoreRow {
    let (width, long, count) = match &more.buy {
        Buy::Length { width, length, .. } => (width, length, 1),
        Buy::Precuts { precut, count } => (&precut.width, &precut.length, *count),
    };
    MoreRow {
        fabric: more.fabric.map(|index| index + 1),
        name: more.name.clone(),
        value: more.value.word(),
        width: length(width.inches(), hand.units),
        length: length(long.inches(), hand.units),
        count,
        label: publish::fits::more_words(more, hand),
    }
}

/// Prints the list for a person.
fn print(hand: &Hand, listing: &Listing, args: &FitsArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    let units = hand.units;
    writeln!(out, "{}: {}", hand.name, hand_words(hand))?;
    writeln!(out, "Tops that can be cut from them, largest first. Every plan was laid again piece by piece.")?;
    writeln!(out, "Binding, backing and batting are to be bought: see totals of the saved quilt.")?;
    for (number, entry) in (1..).zip(&listing.entries) {
        let (width, height) = entry.finished_size();
        writeln!(out)?;
        writeln!(out, "{number:>2}  {}: {}", about_size(&width, &height, units), entry_words(entry, units))?;
        writeln!(out, "    {}; arrangements: {}", used_words(entry), entry.arrangements().join(", "))?;
        if let Some(next) = &entry.next {
            writeln!(out, "    next {}", next_words(next, hand))?;
        }
    }
    if listing.entries.is_empty() {
        writeln!(out)?;
        writeln!(out, "Not one block of those that were tried can be cut from them.")?;
        for short in &listing.short {
            writeln!(out, "    {}: {}", short_words(short, units), next_words(&short.next, hand))?;
        }
    }
    writeln!(out)?;
    let ways = counted(listing.tried as u64, "way", "ways");
    writeln!(out, "{ways} tried with {}.", counted(listing.steps, "plan of one fabric", "plans of one fabric"))?;
    if !listing.complete {
        writeln!(out, "The plans were used up before all was tried: try fewer blocks or sizes, or more --steps.")?;
    }
    if let Some((number, path)) = args.save.zip(args.out.as_ref()) {
        writeln!(out, "Saved number {number} as {}.", path.display())?;
    }
    if let Some(path) = &args.pages {
        writeln!(out, "Wrote the list with pictures: {}.", path.display())?;
    }
    Ok(())
}
