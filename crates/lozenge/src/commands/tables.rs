//! `tables`: one quilt or block in every size, for every bed, in two, three and four fabrics, as CSV, pages or JSON.

use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use cutting::Watch;
use geometry::Length;
use layout::beds::bed;
use layout::{BlockId, Design, Overwrite, save};
use publish::Paper;
use publish::tables::{Colours, Extent, Table, TableWishes, quilt_of, spreadsheet, table_pages, tables};

use super::{chosen, open, print_json, tables_json};
use crate::args::{Reading, bed_of_id, rows_and_columns};
use crate::error::CommandError;
use crate::measured::block_size;
use crate::words::counted;

/// Lengths are in inches, such as 9, 9.5 or 19/2, or end in cm or mm. Beds have their usual drops.
#[derive(Debug, Args)]
pub(crate) struct TablesArgs {
    #[command(flatten)]
    reading: Reading,
    /// Table to write; its ending (.csv or .pdf) says which kind
    #[arg(long, value_name = "TABLE", required_unless_present = "json")]
    out: Option<PathBuf>,
    /// Number of the block that the quilts are made of, without borders; the quilt as it is when left out
    #[arg(long, value_name = "NUMBER")]
    block: Option<u32>,
    /// Block sizes, told as the blocks are; those near the present one when left out
    #[arg(long, value_name = "LENGTHS", value_delimiter = ',', value_parser = block_size)]
    sizes: Vec<Length>,
    /// Beds as `lozenge beds` lists them, or rows and columns of blocks such as 7x5
    #[arg(long, value_name = "BEDS", value_delimiter = ',', value_parser = extent)]
    beds: Vec<Extent>,
    /// How many fabrics the blocks are made of; 2,3,4 when left out
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_enum)]
    colours: Vec<ColoursArg>,
    /// Leave out quilts that miss the width or length of a bed by more than this; 4 in or 10 cm when left out
    #[arg(long, value_name = "LENGTH", value_parser = block_size)]
    within: Option<Length>,
    /// Paper of a PDF, a4 or letter; that of the quilt's units when left out
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    paper: Option<Paper>,
    /// How many threads work on it; all there are when left out
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
    /// Replace a table that is there
    #[arg(long, requires = "out")]
    force: bool,
}

/// How many fabrics.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum ColoursArg {
    /// Those of the quilt
    AsPainted,
    /// A dark and a light
    #[value(name = "2")]
    Two,
    /// A dark, a light and a third
    #[value(name = "3")]
    Three,
    /// A dark, a light, a third and a fourth
    #[value(name = "4")]
    Four,
}

/// Reads the id of a bed, or `7x5`.
fn extent(text: &str) -> Result<Extent, String> {
    // Beds are also called by their sizes in centimetres.
    if bed(text).is_none()
        && let Ok((rows, columns)) = rows_and_columns(text)
    {
        return Ok(Extent::Blocks { rows: rows.into(), columns: columns.into() });
    }
    bed_of_id(text).map(Extent::Bed).map_err(|why| format!("{why}, or rows and columns such as 7x5"))
}

fn paper(text: &str) -> Result<Paper, String> {
    match text {
        "a4" => Ok(Paper::A4),
        "letter" => Ok(Paper::Letter),
        _ => Err("write a4 or letter".to_owned()),
    }
}

/// What is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Csv,
    Pdf,
}

impl Kind {
    fn of(path: &Path) -> Result<Self, CommandError> {
        match path.extension().and_then(OsStr::to_str).map(str::to_lowercase).as_deref() {
            Some("csv") => Ok(Self::Csv),
            Some("pdf") => Ok(Self::Pdf),
            _ => Err(CommandError::Ending {
                document: "table",
                endings: "csv or .pdf".to_owned(),
                path: path.to_path_buf(),
            }),
        }
    }
}

/// Makes the table, writes it, and says what it holds and what was left out.
pub(super) fn run(args: &TablesArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    let target = args.out.as_deref().map(|path| Kind::of(path).map(|kind| (path, kind))).transpose()?;
    let document = open(&args.reading.file)?;
    let design = &chosen(&document, args.reading.variant.as_deref())?.design;
    let design = quilt_of(design, args.block.map(BlockId))?;
    let table = tables(&design, &wishes(args, &design)?, threads(args), &Watch::new())?;
    if let Some((path, kind)) = target {
        let bytes = match kind {
            Kind::Csv => spreadsheet(&table, &design).csv()?,
            Kind::Pdf => {
                let paper = args.paper.unwrap_or_else(|| Paper::of(design.units()));
                table_pages(&table, &design, paper)?.pdf()?
            }
        };
        save(path, &bytes, if args.force { Overwrite::Replace } else { Overwrite::Refuse })?;
    }
    if args.reading.json {
        print_json(&tables_json::table_json(&table, &design, args.out.as_deref()), out)
    } else {
        print(&table, &design, args.out.as_deref(), out)
    }
}

fn wishes(args: &TablesArgs, design: &Design) -> Result<TableWishes, CommandError> {
    let usual = TableWishes::usual(design)?;
    let colours = args.colours.iter().map(|colours| match colours {
        ColoursArg::AsPainted => Colours::AsPainted,
        ColoursArg::Two => Colours::Two,
        ColoursArg::Three => Colours::Three,
        ColoursArg::Four => Colours::Four,
    });
    Ok(TableWishes {
        sizes: if args.sizes.is_empty() { usual.sizes } else { args.sizes.clone() },
        extents: if args.beds.is_empty() { usual.extents } else { args.beds.clone() },
        colours: if args.colours.is_empty() { usual.colours } else { colours.collect() },
        within: args.within.clone().unwrap_or(usual.within),
    })
}

fn threads(args: &TablesArgs) -> usize {
    let all = || std::thread::available_parallelism().map_or(1, std::num::NonZeroUsize::get);
    args.threads.map_or_else(all, usize::from)
}

fn print(table: &Table, design: &Design, path: Option<&Path>, out: &mut dyn Write) -> Result<(), CommandError> {
    let quilts = counted(table.rows.len() as u64, "quilt", "quilts");
    let place = path.map(|path| format!(" in {}", path.display())).unwrap_or_default();
    writeln!(out, "{quilts}{place} (quick plan)")?;
    if !table.left_out.is_empty() {
        writeln!(out, "Left out:")?;
    }
    for left in &table.left_out {
        writeln!(out, "  {}", left.words(design.units()))?;
    }
    Ok(())
}
