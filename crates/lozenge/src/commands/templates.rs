//! `templates`: templates of all pieces, or trim sheets of all units that are trimmed, at their true size.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use geometry::lay::LayPolygon;
use layout::{Colour, Design, Overwrite, Units, save_all};
use piecing::QuiltPlan;
use piecing::simulate::Inches;
use publish::templates::{
    LineClass, MachineFile, SheetOptions, Template, Templates, TrimSheet, TrimSheets, TrueSheets, templates,
    trim_sheets,
};
use publish::{About, Paper, PublishError};
use serde::Serialize;

use super::export::paper;
use super::{chosen, open, planned, print_json};
use crate::args::Reading;
use crate::decimal::{Decimal, coordinate, lay, unit_name};
use crate::error::CommandError;

/// Lengths are in inches, such as 1/64 or 0.2mm.
#[derive(Debug, Args)]
pub(crate) struct TemplatesArgs {
    #[command(flatten)]
    reading: Reading,
    /// PDF to write, or with --as the folder for one file each
    #[arg(long, value_name = "PDF")]
    out: PathBuf,
    /// One file for each template, of this kind, into the folder --out
    #[arg(long = "as", value_name = "KIND", value_enum)]
    kind: Option<FileKind>,
    /// Paper, a4 or letter; that of the quilt's units when left out
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    paper: Option<Paper>,
    /// Sheets to trim sewn units by, in place of templates
    #[arg(long)]
    trim_sheets: bool,
    /// Width of cut lines
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    line: Option<Inches>,
    /// What a cutting machine takes away; cut lines are moved out by half of it
    #[arg(long, value_name = "LENGTH", value_parser = crate::measured::length)]
    kerf: Option<Inches>,
    /// Colour of a kind of line, such as cut=#ff0000; kinds are cut, seam, grain, oversize and measure
    #[arg(long, value_name = "KIND=COLOUR", value_parser = line_colour)]
    colour: Vec<(LineClass, Colour)>,
    /// Replace files that are there
    #[arg(long)]
    force: bool,
}

/// What each template is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum FileKind {
    /// Pictures, in inches
    Svg,
    /// Drawings for machines, in inches or millimetres
    Dxf,
}

/// Reads `cut=#ff0000`.
fn line_colour(text: &str) -> Result<(LineClass, Colour), String> {
    let told = || "write a kind of line and a colour, such as cut=#ff0000".to_owned();
    let (kind, colour) = text.split_once('=').ok_or_else(told)?;
    let class = LineClass::ALL.into_iter().find(|class| class.layer().eq_ignore_ascii_case(kind)).ok_or_else(told)?;
    Ok((class, Colour::parse(colour).ok_or_else(told)?))
}

/// Writes templates or trim sheets of one variant.
pub(super) fn run(args: &TemplatesArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    let is_pdf = args.out.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    if args.kind.is_none() && !is_pdf {
        return Err(CommandError::TemplateKind(args.out.clone()));
    }
    let document = open(&args.reading.file)?;
    let design = &chosen(&document, args.reading.variant.as_deref())?.design;
    let paper = args.paper.unwrap_or_else(|| Paper::of(design.units()));
    let (about, options) = (About::quilt(design, paper), options(args));
    let plan = QuiltPlan::new(design, &BTreeMap::new());
    let made = if args.trim_sheets {
        let made = trim_sheets(design, &plan?, &about, &options)?;
        if made.trim_sheets.is_empty() {
            return Err(CommandError::NothingTrimmed);
        }
        Made::Trims(made)
    } else {
        let (tally, ledger) = planned(design)?;
        // Blocks that have no order of sewing still have templates.
        Made::Templates(templates(design, &tally, &ledger, plan.as_ref().ok(), &about, &options)?)
    };
    let files = match args.kind {
        Some(kind) => made.files(&args.out, kind, design.units(), &options)?,
        None => vec![(args.out.clone(), made.document().pages()?.pdf()?)],
    };
    let overwrite = if args.force { Overwrite::Replace } else { Overwrite::Refuse };
    save_all(&files, overwrite)?;
    if args.reading.json {
        return print_json(&made.told(design, &files, &options)?, out);
    }
    made.print(&files, out)
}

fn options(args: &TemplatesArgs) -> SheetOptions {
    let usual = SheetOptions::default();
    let line_in = args.line.map_or(usual.line_in, Inches::to_f64);
    let kerf_in = args.kerf.map_or(usual.kerf_in, Inches::to_f64);
    let mut options = SheetOptions { line_in, kerf_in, ..usual };
    for (class, colour) in &args.colour {
        options.colours.set(*class, *colour);
    }
    options
}

/// What was drawn, or why it could not be.
type Drawn<T> = Result<T, PublishError>;

/// A file and its bytes.
type Written = (PathBuf, Vec<u8>);

/// What was made.
enum Made {
    Templates(Templates),
    Trims(TrimSheets),
}

impl Made {
    const fn document(&self) -> &TrueSheets {
        match self {
            Self::Templates(made) => &made.document,
            Self::Trims(made) => &made.document,
        }
    }

    /// One file each.
    fn files(&self, folder: &Path, kind: FileKind, units: Units, options: &SheetOptions) -> Drawn<Vec<Written>> {
        let kind = match kind {
            FileKind::Svg => MachineFile::Svg,
            FileKind::Dxf => MachineFile::Dxf,
        };
        let files = match self {
            Self::Templates(made) => made.files(kind, units, options),
            Self::Trims(made) => made.files(kind, units, options),
        };
        Ok(files?.into_iter().map(|sheet| (folder.join(sheet.name), sheet.bytes)).collect())
    }

    /// Tells a person what was written.
    fn print(&self, files: &[(PathBuf, Vec<u8>)], out: &mut dyn Write) -> Result<(), CommandError> {
        let (count, what) = match self {
            Self::Templates(made) => (made.templates.len(), "templates"),
            Self::Trims(made) => (made.trim_sheets.len(), "trim sheets"),
        };
        if let [(file, _)] = files {
            let sheets = self.document().sheets.len();
            writeln!(out, "{count} {what} on {sheets} sheets: {}", file.display())?;
        } else {
            writeln!(out, "{count} {what}, a file each:")?;
            for (file, _) in files {
                writeln!(out, "  {}", file.display())?;
            }
        }
        if let Self::Templates(made) = self {
            for strip in &made.strips {
                writeln!(out, "  cut with the ruler: {strip}")?;
            }
        }
        Ok(())
    }

    /// The same for a program.
    fn told<'a>(
        &'a self,
        design: &Design,
        files: &'a [(PathBuf, Vec<u8>)],
        options: &SheetOptions,
    ) -> Result<Told<'a>, CommandError> {
        let units = design.units();
        let mut told = Told {
            unit: unit_name(units),
            name: design.name().to_owned(),
            written: files.iter().map(|(path, _)| path.as_path()).collect(),
            kerf: coordinate(options.kerf_in, units),
            templates: None,
            cut_with_ruler: None,
            trim_sheets: None,
        };
        match self {
            Self::Templates(made) => {
                let templates = made.templates.iter().map(|template| template_told(design, template));
                told.templates = Some(templates.collect::<Result<_, CommandError>>()?);
                told.cut_with_ruler = Some(&made.strips);
            }
            Self::Trims(made) => {
                told.trim_sheets = Some(made.trim_sheets.iter().map(|sheet| trim_told(sheet, units)).collect());
            }
        }
        Ok(told)
    }
}

#[derive(Serialize)]
struct Told<'a> {
    unit: &'static str,
    name: String,
    written: Vec<&'a Path>,
    /// Cut lines in the files are moved out by half of it; the polygons here are not.
    kerf: Decimal,
    #[serde(skip_serializing_if = "Option::is_none")]
    templates: Option<Vec<TemplateTold<'a>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cut_with_ruler: Option<&'a [String]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    trim_sheets: Option<Vec<TrimTold<'a>>>,
}

/// Names as `cut` has them: `piece` is the number of the piece there, `finished` and `cut` its polygons.
#[derive(Serialize)]
struct TemplateTold<'a> {
    letter: &'a str,
    name: &'a str,
    blocks: &'a [String],
    piece: u32,
    mirror_piece: Option<u32>,
    count: u64,
    fabrics: Vec<FabricTold>,
    grain: Option<u16>,
    finished: Vec<[Decimal; 2]>,
    cut: Vec<[Decimal; 2]>,
    trimmed: Vec<[Decimal; 2]>,
}

#[derive(Serialize)]
struct FabricTold {
    id: u32,
    name: String,
    count: u64,
    turned_over: u64,
}

#[derive(Serialize)]
struct TrimTold<'a> {
    number: usize,
    name: String,
    block: &'a str,
    step: usize,
    mirrored: bool,
    count: u64,
    words: &'a [String],
    trimmed: Vec<[Decimal; 2]>,
    seams: Vec<[[Decimal; 2]; 2]>,
}

fn template_told<'a>(design: &Design, template: &'a Template) -> Result<TemplateTold<'a>, CommandError> {
    let units = design.units();
    let fabrics = template.counts.iter().map(|(id, count)| {
        let name = design.fabric(*id)?.name.clone();
        let all = count.as_drawn + count.turned_over;
        Ok(FabricTold { id: id.0, name, count: all, turned_over: count.turned_over })
    });
    let fabrics = fabrics.collect::<Result<Vec<_>, CommandError>>()?;
    let polygon = |polygon: &LayPolygon| polygon.corners().iter().map(|p| [lay(p.x, units), lay(p.y, units)]).collect();
    let finished = template.shape.finished_in_frame();
    Ok(TemplateTold {
        letter: &template.letter,
        name: &template.name,
        blocks: &template.blocks,
        piece: template.piece.0,
        mirror_piece: template.mirror.map(|mirror| mirror.0),
        count: fabrics.iter().map(|fabric| fabric.count).sum(),
        fabrics,
        grain: template.has_grain.then_some(0),
        finished: finished.into_iter().map(|p| p.map(|v| coordinate(v, units))).collect(),
        cut: polygon(template.shape.outline()),
        trimmed: polygon(&template.trimmed),
    })
}

fn trim_told(sheet: &TrimSheet, units: Units) -> TrimTold<'_> {
    let point = |p: &[f64; 2]| p.map(|v| coordinate(v, units));
    TrimTold {
        number: sheet.number,
        name: sheet.name(),
        block: &sheet.block,
        step: sheet.step,
        mirrored: sheet.mirrored,
        count: sheet.count,
        words: &sheet.words,
        trimmed: sheet.trimmed.iter().map(point).collect(),
        seams: sheet.seams.iter().map(|ends| ends.each_ref().map(point)).collect(),
    }
}
