//! The command line.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use geometry::Exact;
use layout::beds::{BEDS, Bed, bed};
use layout::pairings::Position;
use piecing::simulate::Inches;

use crate::commands::{BookletArgs, EditionsArgs, ExportArgs, FitsArgs, KitArgs, TablesArgs, TemplatesArgs};

/// Design pieced star quilts: exact blocks, true totals, cutting plans.
#[derive(Debug, Parser)]
#[command(name = "lozenge", version, about, args_conflicts_with_subcommands = true)]
pub(crate) struct Args {
    /// Quilt to open in the window
    pub(crate) file: Option<PathBuf>,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Prove every block and top, and re-lay every piece of the cutting plans
    Check(Reading),
    /// Patches, fabric to buy, binding, backing and batting
    Totals(Reading),
    /// Strips and subcuts for every fabric
    Cut(Cut),
    /// Order of sewing, pressing, trimming, and how much oversize is enough
    Sew(Sew),
    /// Picture of the quilt top as SVG, PNG or DXF
    Draw(Draw),
    /// The whole pattern as a booklet, PDF
    Booklet(BookletArgs),
    /// Templates of all pieces at true size, or sheets to trim units by
    Templates(TemplatesArgs),
    /// Every way to fill a small motif with one block, counted and listed
    Pairings(Pairings),
    /// Beds with their sources, and how to make a quilt fit one of them
    Beds(Beds),
    /// From fabrics in hand to the quilts that can be made of them
    Fits(FitsArgs),
    /// Kits for a class: what to buy, cut ahead and pack, labels, times, and a handout
    Kit(KitArgs),
    /// Shopping list, cutting list, share sheet, tester's sheet and picture
    Export(ExportArgs),
    /// What changed in figures between two editions of a quilt file
    Editions(EditionsArgs),
    /// The quilt in every block size, for every bed, in 2, 3 and 4 fabrics: fabric to buy, patches, strips
    Tables(TablesArgs),
    /// Read, prove and write a copy
    Save(Save),
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Reading {
    /// Quilt file
    pub(crate) file: PathBuf,
    /// Which variant of the quilt, by its label
    #[arg(long, value_name = "LABEL")]
    pub(crate) variant: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Cut {
    #[command(flatten)]
    pub(crate) reading: Reading,
    /// The quick plan in place of the best one
    #[arg(long)]
    pub(crate) quick: bool,
    /// Write a drawing of every lay into this folder, SVG
    #[arg(long, value_name = "FOLDER")]
    pub(crate) lays: Option<PathBuf>,
    /// Replace drawings that are there
    #[arg(long, requires = "lays")]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Sew {
    #[command(flatten)]
    pub(crate) reading: Reading,
    /// Trim for a cutter held in the left hand
    #[arg(long)]
    pub(crate) left_handed: bool,
    /// Write the steps as pages into this folder, SVG
    #[arg(long, value_name = "FOLDER")]
    pub(crate) pages: Option<PathBuf>,
    /// Replace pages that are there
    #[arg(long, requires = "pages")]
    pub(crate) force: bool,
    #[command(flatten)]
    pub(crate) errors: Errors,
    /// So many of a thousand blocks are to be large enough to trim
    #[arg(long, value_name = "BLOCKS", default_value_t = 990, value_parser = clap::value_parser!(u16).range(1..=999))]
    pub(crate) wanted: u16,
}

/// Errors of cutting and sewing as measured on a test block; lengths like 1/64, 0.02 or 0.4mm.
#[derive(Debug, ClapArgs)]
pub(crate) struct Errors {
    /// By how much seams are too deep on average; negative for scant seams
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length, allow_hyphen_values = true)]
    pub(crate) seam_mean: Option<Inches>,
    /// By how much seams vary (standard deviation)
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    pub(crate) seam_spread: Option<Inches>,
    /// By how much the depths at the ends of a seam differ
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    pub(crate) taper: Option<Inches>,
    /// By how much cut edges vary
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    pub(crate) cut_spread: Option<Inches>,
    /// What the fold of a pressed seam takes
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    pub(crate) fold: Option<Inches>,
    /// By how much that varies
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    pub(crate) fold_spread: Option<Inches>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Draw {
    /// Quilt file
    pub(crate) file: PathBuf,
    /// Picture to write; its ending (.svg, .png or .dxf) says which kind
    #[arg(long, value_name = "PICTURE")]
    pub(crate) out: PathBuf,
    /// Which variant of the quilt, by its label
    #[arg(long, value_name = "LABEL")]
    pub(crate) variant: Option<String>,
    /// Width of a PNG in pixels
    #[arg(long, value_name = "PIXELS", default_value_t = 1600)]
    pub(crate) width: u32,
    /// Leave the seam lines out
    #[arg(long)]
    pub(crate) no_seams: bool,
    /// Replace a picture that is there
    #[arg(long)]
    pub(crate) force: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Pairings {
    #[command(flatten)]
    pub(crate) reading: Reading,
    /// Number of the block; the quilt's first when left out
    #[arg(long, value_name = "NUMBER")]
    pub(crate) block: Option<u32>,
    /// Rows and columns of the motif, such as 2x3
    #[arg(long, value_name = "ROWSxCOLUMNS", value_parser = rows_and_columns)]
    pub(crate) motif: (u8, u8),
    /// The motif repeats in all directions
    #[arg(long)]
    pub(crate) repeat: bool,
    /// Types of half that are allowed: dark–light, dark–dark, light–light
    #[arg(long, value_enum, value_delimiter = ',', default_value = "dl")]
    pub(crate) types: Vec<HalfArg>,
    /// List those that only differ by exchange of dark and light once
    #[arg(long)]
    pub(crate) swap: bool,
    /// Where in the list to begin: a part of it, such as 0.9 or 90%
    #[arg(long, value_name = "PLACE", value_parser = part_of_the_list, default_value = "0")]
    pub(crate) from: Position,
    /// Number in the list at which to begin, as the page before gave it
    #[arg(long, value_name = "NUMBER", conflicts_with = "from")]
    pub(crate) number: Option<u128>,
    /// How many to list
    #[arg(long, value_name = "NUMBER", default_value_t = 10, value_parser = clap::value_parser!(u16).range(1..=10_000))]
    pub(crate) count: u16,
}

/// Lengths are in inches, such as 12 or 25/2, or end in cm or mm.
#[derive(Debug, ClapArgs)]
pub(crate) struct Beds {
    /// Quilt file; without one the beds are listed
    #[arg(requires = "bed")]
    pub(crate) file: Option<PathBuf>,
    /// Which bed, as it is called in the list, such as queen or 140x200
    #[arg(long, value_name = "BED", value_parser = bed_of_id)]
    pub(crate) bed: Option<&'static Bed>,
    /// Which variant of the quilt, by its label
    #[arg(long, value_name = "LABEL", requires = "file")]
    pub(crate) variant: Option<String>,
    /// How far the quilt hangs down at left, right and foot
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) drop: Option<Exact>,
    /// At the left, where that is another
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) left: Option<Exact>,
    /// At the right, where that is another
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) right: Option<Exact>,
    /// At the foot, where that is another
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) foot: Option<Exact>,
    /// At the head
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) head: Option<Exact>,
    /// What is tucked under the pillows
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::drop, allow_hyphen_values = true)]
    pub(crate) tuck: Option<Exact>,
    /// How many proposals to list
    #[arg(long, value_name = "NUMBER", default_value_t = 8, value_parser = clap::value_parser!(u8).range(1..=50))]
    pub(crate) count: u8,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Finds a bed by what it is called.
pub(crate) fn bed_of_id(id: &str) -> Result<&'static Bed, String> {
    bed(id).ok_or_else(|| {
        let ids: Vec<&str> = BEDS.iter().map(|bed| bed.id).collect();
        format!("there is no such bed; choose one of {}", ids.join(", "))
    })
}

/// A type of half.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum HalfArg {
    /// One half dark, one light
    Dl,
    /// Both dark
    Dd,
    /// Both light
    Ll,
}

/// Reads `2x3`.
pub(crate) fn rows_and_columns(text: &str) -> Result<(u8, u8), String> {
    let parts = text.split_once(['x', '×']);
    let read = parts.and_then(|(rows, columns)| Some((rows.parse().ok()?, columns.parse().ok()?)));
    read.ok_or_else(|| "write rows and columns, such as 2x3".to_owned())
}

/// Reads a part of the list (`0.9`, `90%`) to a millionth.
fn part_of_the_list(text: &str) -> Result<Position, String> {
    const PARTS: u32 = 1_000_000;
    let told = || "write a part from 0 to 1 such as 0.9, or a percentage such as 90%".to_owned();
    let (number, places) = text.strip_suffix('%').map_or((text, 6), |percent| (percent, 4));
    let (whole, fraction) = number.split_once('.').unwrap_or((number, ""));
    let digits = whole.len() + fraction.len();
    let all_digits = whole.bytes().chain(fraction.bytes()).all(|byte| byte.is_ascii_digit());
    if digits == 0 || whole.len() > 9 - places || !all_digits {
        return Err(told());
    }
    let kept: String = whole.chars().chain(fraction.chars().chain(std::iter::repeat('0')).take(places)).collect();
    let part = kept.parse().ok().filter(|part| *part <= PARTS).ok_or_else(told)?;
    Ok(Position::Share { part, of: PARTS })
}

#[derive(Debug, ClapArgs)]
pub(crate) struct Save {
    /// Quilt file
    pub(crate) file: PathBuf,
    /// Copy to write
    #[arg(long, value_name = "COPY")]
    pub(crate) out: PathBuf,
    /// Replace a file that is there
    #[arg(long)]
    pub(crate) force: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_in_a_list_are_read() {
        let share = |part| Position::Share { part, of: 1_000_000 };
        for (text, place) in [
            ("0", share(0)),
            ("1", share(1_000_000)),
            ("0.9", share(900_000)),
            (".25", share(250_000)),
            ("90%", share(900_000)),
            ("99.5%", share(995_000)),
            ("100%", share(1_000_000)),
            ("0.12345678", share(123_456)),
        ] {
            assert_eq!(part_of_the_list(text), Ok(place), "{text}");
        }
        for text in ["", ".", "%", "2", "101%", "-1", "1e3", "#4096", "nan", "9999999999"] {
            assert!(part_of_the_list(text).is_err(), "{text}");
        }
    }

    #[test]
    fn motifs_are_read() {
        assert_eq!(rows_and_columns("2x3"), Ok((2, 3)));
        assert_eq!(rows_and_columns("4×4"), Ok((4, 4)));
        for text in ["", "2", "2x", "x2", "300x1", "2x2x2"] {
            assert!(rows_and_columns(text).is_err(), "{text}");
        }
    }
}
