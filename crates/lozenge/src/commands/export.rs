//! `export`: shopping list, cutting list, share sheet, tester's sheet and picture of one variant, all of them or none.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args as ClapArgs;
use layout::file::Variant;
use layout::{Overwrite, save_all};
use publish::exports::{cutting_list, cutting_table, file_name, share_sheet, shopping_list, testers_sheet};
use publish::{About, Paper, Seams, png, quilt_picture, svg};
use serde::Serialize;

use super::offer::Offer;
use super::{chosen, open, print_json};
use crate::error::CommandError;

/// What is exported, and where to.
#[derive(Debug, ClapArgs)]
pub(crate) struct ExportArgs {
    /// Quilt file
    file: PathBuf,
    /// Which variant of the quilt, by its label
    #[arg(long, value_name = "LABEL")]
    variant: Option<String>,
    /// Shopping list, CSV or PDF; may be given for each
    #[arg(long, value_name = "X.csv|X.pdf")]
    shopping: Vec<PathBuf>,
    /// Cutting list, CSV
    #[arg(long, value_name = "X.csv")]
    cutting_list: Option<PathBuf>,
    /// Share sheet with picture and totals, PDF
    #[arg(long, value_name = "X.pdf")]
    share: Option<PathBuf>,
    /// Tester's sheet, PDF
    #[arg(long, value_name = "X.pdf")]
    tester: Option<PathBuf>,
    /// Picture of the quilt top, SVG or PNG; may be given for each
    #[arg(long, value_name = "X.svg|X.png")]
    picture: Vec<PathBuf>,
    /// All of these into a folder, named after the quilt
    #[arg(long, value_name = "FOLDER")]
    all: Option<PathBuf>,
    /// Width of a PNG in pixels
    #[arg(long, value_name = "PIXELS", default_value_t = 1600)]
    width: u32,
    /// Paper of the PDFs: a4 or letter; by default that of the quilt's units
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    paper: Option<Paper>,
    /// The quick plan in place of the best one
    #[arg(long)]
    quick: bool,
    /// Replace files that are there
    #[arg(long)]
    force: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Reads a paper.
pub(super) fn paper(text: &str) -> Result<Paper, String> {
    match text.to_ascii_lowercase().as_str() {
        "a4" => Ok(Paper::A4),
        "letter" | "us-letter" => Ok(Paper::Letter),
        _ => Err("write a4 or letter".to_owned()),
    }
}

/// A document that is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Shopping,
    CuttingList,
    Share,
    Tester,
    Picture,
}

impl Kind {
    /// Every kind, with the endings that it is written with.
    const ALL: [(Self, &'static [&'static str]); 5] = [
        (Self::Shopping, &["csv", "pdf"]),
        (Self::CuttingList, &["csv"]),
        (Self::Share, &["pdf"]),
        (Self::Tester, &["pdf"]),
        (Self::Picture, &["svg", "png"]),
    ];

    /// What it is called in the name of a file.
    const fn name(self) -> &'static str {
        match self {
            Self::Shopping => "shopping list",
            Self::CuttingList => "cutting list",
            Self::Share => "share sheet",
            Self::Tester => "tester sheet",
            Self::Picture => "picture",
        }
    }

    /// The endings that it is written with.
    fn endings(self) -> &'static [&'static str] {
        Self::ALL.iter().find(|(kind, _)| *kind == self).map_or(&[], |(_, endings)| endings)
    }
}

#[derive(Serialize)]
struct Exported<'a> {
    exported: Vec<Written<'a>>,
}

#[derive(Serialize)]
struct Written<'a> {
    file: &'a Path,
    bytes: usize,
}

/// Writes what was asked for.
pub(super) fn run(args: &ExportArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&args.file)?;
    let variant = chosen(&document, args.variant.as_deref())?;
    let wanted = wanted(args, variant, document.variants().len() > 1)?;
    let offer = Offer::new(variant, args.quick)?;
    let mut files = Vec::with_capacity(wanted.len());
    for (kind, ending, path) in wanted {
        files.push((path, made(args, &offer, kind, ending)?));
    }
    save_all(&files, if args.force { Overwrite::Replace } else { Overwrite::Refuse })?;
    if args.json {
        let exported = files.iter().map(|(file, bytes)| Written { file, bytes: bytes.len() }).collect();
        return print_json(&Exported { exported }, out);
    }
    for (path, _) in &files {
        writeln!(out, "wrote {}", path.display())?;
    }
    Ok(())
}

/// Every document with its ending and its file, checked before anything is worked out.
fn wanted(
    args: &ExportArgs,
    variant: &Variant,
    several: bool,
) -> Result<Vec<(Kind, &'static str, PathBuf)>, CommandError> {
    let given = [
        (Kind::Shopping, args.shopping.as_slice()),
        (Kind::CuttingList, args.cutting_list.as_slice()),
        (Kind::Share, args.share.as_slice()),
        (Kind::Tester, args.tester.as_slice()),
        (Kind::Picture, args.picture.as_slice()),
    ];
    let mut wanted = Vec::new();
    for (kind, path) in given.into_iter().flat_map(|(kind, paths)| paths.iter().map(move |path| (kind, path))) {
        let own = path.extension().and_then(|ending| ending.to_str()).map(str::to_ascii_lowercase);
        let ending = kind.endings().iter().find(|ending| Some(**ending) == own.as_deref());
        let Some(ending) = ending else {
            let endings = kind.endings().join(" or .");
            return Err(CommandError::Ending { document: kind.name(), endings, path: path.clone() });
        };
        if is_same(path, &args.file) {
            return Err(CommandError::OverQuilt(path.clone()));
        }
        wanted.push((kind, *ending, path.clone()));
    }
    if let Some(folder) = &args.all {
        let design = &variant.design;
        let name = if several { format!("{}, {}", design.name(), variant.label) } else { design.name().to_owned() };
        let named = Kind::ALL.iter().flat_map(|(kind, endings)| endings.iter().map(move |ending| (*kind, *ending)));
        wanted.extend(named.map(|(kind, ending)| (kind, ending, folder.join(file_name(&name, kind.name(), ending)))));
    }
    if wanted.is_empty() { Err(CommandError::NothingToExport) } else { Ok(wanted) }
}

/// Whether two paths lead to one file that is there.
pub(super) fn is_same(a: &Path, b: &Path) -> bool {
    matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b)
}

/// The bytes of a document.
fn made(args: &ExportArgs, offer: &Offer<'_>, kind: Kind, ending: &str) -> Result<Vec<u8>, CommandError> {
    let quilt = offer.offered();
    let about = About::quilt(quilt.design, args.paper.unwrap_or_else(|| Paper::of(quilt.design.units())));
    Ok(match (kind, ending) {
        (Kind::Shopping, "csv") => shopping_list(&quilt, &about)?.table().csv()?,
        (Kind::Shopping, _) => shopping_list(&quilt, &about)?.pages()?.pdf()?,
        (Kind::CuttingList, _) => {
            cutting_table(&cutting_list(&quilt)?, quilt.design.units()).in_edition(&about.edition).csv()?
        }
        (Kind::Share, _) => {
            let (sheet, figures) = share_sheet(&quilt, &about)?;
            sheet.pages(&figures)?.pdf()?
        }
        (Kind::Tester, _) => testers_sheet(&quilt, &offer.sewing()?, &about)?.pages()?.pdf()?,
        (Kind::Picture, "png") => png(&quilt_picture(quilt.design, Seams::Shown)?, args.width)?,
        (Kind::Picture, _) => svg(&quilt_picture(quilt.design, Seams::Shown)?).into_bytes(),
    })
}
