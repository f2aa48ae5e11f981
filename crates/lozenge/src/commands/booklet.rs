//! `booklet`: the whole pattern as a PDF, or as data.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use layout::file::Variant;
use layout::{Overwrite, save};
use piecing::CuttingHand;
use publish::booklet::booklet_data;
use publish::{About, BookletInput, BookletOptions, Offered, Paper, Photo, booklet};

use super::export::paper;
use super::kit::check_path;
use super::offer::Offer;
use super::{chosen, open, print_json};
use crate::args::Reading;
use crate::error::CommandError;

/// What is asked of a booklet.
#[derive(Debug, Args)]
pub(crate) struct BookletArgs {
    #[command(flatten)]
    reading: Reading,
    /// Booklet to write, PDF
    #[arg(long, value_name = "PDF", required_unless_present = "json")]
    out: Option<PathBuf>,
    /// Paper, a4 or letter; what goes with the quilt's units when left out
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    paper: Option<Paper>,
    /// The quick cutting plans in place of the best ones
    #[arg(long)]
    quick: bool,
    /// Who made the pattern
    #[arg(long, value_name = "NAME")]
    author: Option<String>,
    /// Which edition of the pattern it is
    #[arg(long, value_name = "EDITION")]
    edition: Option<String>,
    /// A photo for the cover, PNG, JPEG, GIF or WebP
    #[arg(long, value_name = "PICTURE")]
    photo: Option<PathBuf>,
    /// Trim for a cutter held in the left hand
    #[arg(long)]
    left_handed: bool,
    /// Replace a booklet that is there
    #[arg(long, requires = "out")]
    force: bool,
}

/// Writes the booklet of one variant.
pub(super) fn run(args: &BookletArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    check_path("booklet", args.out.as_deref(), &args.reading.file)?;
    let document = open(&args.reading.file)?;
    let variant = chosen(&document, args.reading.variant.as_deref())?;
    let options = options(args, variant)?;
    let offers: Vec<Offer<'_>> =
        document.variants().iter().map(|variant| Offer::new(variant, args.quick)).collect::<Result<_, _>>()?;
    // Labels may be alike: the first of them is meant, as everywhere.
    let Some(offer) = offers.iter().find(|offer| offer.offered().label == variant.label) else { return Ok(()) };
    let sewing = offer.sewing()?;
    let offered: Vec<Offered<'_>> = offers.iter().map(Offer::offered).collect();
    let input = BookletInput { quilt: offer.offered(), sewing: &sewing, offered: &offered };
    let pages = match &args.out {
        Some(path) => {
            let pages = booklet(&input, &options)?;
            let overwrite = if args.force { Overwrite::Replace } else { Overwrite::Refuse };
            save(path, &pages.pdf()?, overwrite)?;
            Some((path, pages.count()))
        }
        None => None,
    };
    if args.reading.json {
        return print_json(&booklet_data(&input, &options)?.0, out);
    }
    if let Some((path, count)) = pages {
        writeln!(out, "wrote {count} pages: {}", path.display())?;
    }
    Ok(())
}

/// What the user says of the booklet.
fn options(args: &BookletArgs, variant: &Variant) -> Result<BookletOptions, CommandError> {
    let paper = args.paper.unwrap_or_else(|| Paper::of(variant.design.units()));
    let mut about = About::quilt(&variant.design, paper);
    if let Some(author) = &args.author {
        about.author.clone_from(author);
    }
    if let Some(edition) = &args.edition {
        about.edition.clone_from(edition);
    }
    let photo = photo_path(args, variant).map(|path| Photo::read(&path)).transpose()?;
    let hand = if args.left_handed { CuttingHand::Left } else { CuttingHand::Right };
    Ok(BookletOptions { about, photo, hand })
}

/// The photo that was named, or that of the quilt, whose path begins at the quilt's folder.
fn photo_path(args: &BookletArgs, variant: &Variant) -> Option<PathBuf> {
    let own = variant.design.imprint().photo.as_str();
    let beside = |own: &str| args.reading.file.parent().unwrap_or(Path::new("")).join(own);
    args.photo.clone().or_else(|| (!own.is_empty()).then(|| beside(own)))
}
