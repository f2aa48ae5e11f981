//! The command line.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand};
use piecing::simulate::Inches;

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
    /// Picture of the quilt top as SVG or PNG
    Draw(Draw),
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
    /// Picture to write; its ending (.svg or .png) says which kind
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
