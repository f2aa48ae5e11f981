//! `kit`: kits for a class, in words, as JSON, or as papers for teacher, bags and students.

use std::fs::File;
use std::io::{Read as _, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use layout::file::{Document, Variant};
use layout::{Overwrite, save_all};
use piecing::{CuttingHand, QuiltPlan};
use publish::kit::{
    ClassKit, ClassOrder, ClassQuilt, Reserve, Share, Taken, WorkMinutes, handout_pages, label_pages, strips_words,
    teacher_pages, without_what_is_at_hand,
};
use publish::lengths::counted;
use publish::{About, Pages, Paper, PublishError};

use super::export::{is_same, paper};
use super::offer::Offer;
use super::{kit_json, open, print_json};
use crate::error::CommandError;

/// The largest file of minutes that is read, in bytes.
const MAX_MINUTES_BYTES: u64 = 64 << 10;

/// What is asked of the kits of a class.
#[derive(Debug, Args)]
pub(crate) struct KitArgs {
    /// Quilt file
    file: PathBuf,
    /// How many students the class has
    #[arg(long, value_name = "NUMBER")]
    students: u16,
    /// How many students take which variant, such as "Dusk=6,Noon=4"; the first variant when left out
    #[arg(long, value_name = "LABEL=NUMBER,…", value_parser = takes)]
    takes: Option<Takes>,
    /// Spare kits of each variant that is taken: a number of kits, or per cent of its students, such as 2 or 10%
    #[arg(long, value_name = "KITS|PERCENT%", value_parser = reserve, default_value = "0")]
    reserve: Reserve,
    /// Minutes of each kind of work, JSON as `--json` prints it under "minutes"; what is left out is as usual
    #[arg(long, value_name = "FILE")]
    minutes: Option<PathBuf>,
    /// Write the teacher's papers, PDF
    #[arg(long, value_name = "PDF")]
    out: Option<PathBuf>,
    /// Write labels for the bags, PDF
    #[arg(long, value_name = "PDF")]
    labels: Option<PathBuf>,
    /// Write the handout for students, PDF
    #[arg(long, value_name = "PDF")]
    handout: Option<PathBuf>,
    /// Paper of the PDFs: a4 or letter; by default that of the quilt's units
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    paper: Option<Paper>,
    /// The quick cutting plans in place of the best ones
    #[arg(long)]
    quick: bool,
    /// Trim for a cutter held in the left hand
    #[arg(long)]
    left_handed: bool,
    /// Replace files that are there
    #[arg(long)]
    force: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Labels with the numbers of students.
#[derive(Debug, Clone)]
struct Takes(Vec<(String, u16)>);

/// Reads `Dusk=6,Noon=4`. A label may hold commas and equals signs: it reaches to the last `=` before its number.
fn takes(text: &str) -> Result<Takes, String> {
    let told = || format!("write labels with numbers of students, such as \"Dusk=6,Noon=4\"; \"{text}\" is none");
    let mut found = Vec::new();
    let mut label = String::new();
    for part in text.split(',') {
        label.push_str(part);
        match part.rsplit_once('=').and_then(|(_, number)| number.trim().parse().ok()) {
            Some(students) => {
                let known = label.rsplit_once('=').map_or("", |(known, _)| known.trim());
                found.push((known.to_owned(), students));
                label.clear();
            }
            None => label.push(','),
        }
    }
    if label.is_empty() && found.iter().all(|(label, _)| !label.is_empty()) { Ok(Takes(found)) } else { Err(told()) }
}

/// Reads `2` or `10%`.
fn reserve(text: &str) -> Result<Reserve, String> {
    let told = |_| "write a number of spare kits such as 2, or per cent of the students such as 10%".to_owned();
    match text.strip_suffix('%') {
        Some(percent) => percent.trim().parse().map(Reserve::Percent).map_err(told),
        None => text.parse().map(Reserve::Kits).map_err(told),
    }
}

/// Makes up the kits of a class.
pub(super) fn run(args: &KitArgs, out: &mut dyn Write) -> Result<(), CommandError> {
    for (document, path) in [("kit list", &args.out), ("sheet of labels", &args.labels), ("handout", &args.handout)] {
        check_path(document, path.as_deref(), &args.file)?;
    }
    let minutes = args.minutes.as_deref().map_or_else(|| Ok(WorkMinutes::default()), read_minutes)?;
    let document = open(&args.file)?;
    let taken = variants(&document, args)?;
    let offers: Vec<Offer<'_>> =
        taken.iter().map(|(variant, _)| Offer::new(variant, args.quick)).collect::<Result<_, _>>()?;
    let sewing: Vec<QuiltPlan> = offers.iter().map(Offer::sewing).collect::<Result<_, _>>()?;
    let planned = offers.iter().zip(&sewing).zip(&taken);
    let taken: Vec<Taken<'_>> = planned
        .map(|((offer, sewing), (_, share))| Taken { offered: offer.offered(), sewing, share: *share })
        .collect();
    let kit = ClassKit::new(&taken, minutes)?;
    let written = write_papers(&kit, args)?;
    if args.json {
        return print_json(&kit_json::kit(&kit), out);
    }
    print(&kit, out)?;
    for (path, count) in written {
        writeln!(out, "wrote {}: {}", counted(count as u64, "page", "pages"), path.display())?;
    }
    Ok(())
}

/// Papers are written as PDF alone, and never over the quilt.
pub(super) fn check_path(document: &'static str, path: Option<&Path>, quilt: &Path) -> Result<(), CommandError> {
    let Some(path) = path else { return Ok(()) };
    if !path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf")) {
        return Err(CommandError::Ending { document, endings: "pdf".to_owned(), path: path.to_path_buf() });
    }
    if is_same(path, quilt) { Err(CommandError::OverQuilt(path.to_path_buf())) } else { Ok(()) }
}

/// The variants that are taken, with nothing at hand: kits are cut from what is bought.
fn variants(document: &Document, args: &KitArgs) -> Result<Vec<(Variant, Share)>, CommandError> {
    let variants = document.variants();
    let labels: Vec<&str> = variants.iter().map(|variant| variant.label.as_str()).collect();
    let takes = args.takes.as_ref().map_or_else(Vec::new, |takes| takes.0.clone());
    let order = ClassOrder { students: args.students, takes, reserve: args.reserve };
    let shares = order.shares(&labels).map_err(PublishError::from)?;
    let mut taken = Vec::new();
    for share in shares {
        if let Some(Variant { label, design }) = variants.get(share.variant) {
            taken.push((Variant { label: label.clone(), design: without_what_is_at_hand(design)? }, share));
        }
    }
    Ok(taken)
}

/// Reads minutes from a file.
fn read_minutes(path: &Path) -> Result<WorkMinutes, CommandError> {
    let fault = |why: String| CommandError::Minutes { path: path.to_path_buf(), why };
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MAX_MINUTES_BYTES + 1).read_to_end(&mut bytes));
    read.map_err(|error| fault(format!("cannot be read ({error}); check the name and your rights")))?;
    if u64::try_from(bytes.len()).is_ok_and(|length| length > MAX_MINUTES_BYTES) {
        return Err(fault(format!("has more than {} kilobytes, so it holds no minutes", MAX_MINUTES_BYTES >> 10)));
    }
    serde_json::from_slice(&bytes).map_err(|error| fault(format!("{error}; correct the file there")))
}

/// Writes the papers that were asked for, all or none, and tells how many pages each has.
fn write_papers<'a>(kit: &ClassKit<'_>, args: &'a KitArgs) -> Result<Vec<(&'a Path, usize)>, CommandError> {
    let Some(first) = kit.quilts.first() else { return Ok(Vec::new()) };
    let design = first.taken.offered.design;
    let about = About::quilt(design, args.paper.unwrap_or_else(|| Paper::of(design.units())));
    let hand = if args.left_handed { CuttingHand::Left } else { CuttingHand::Right };
    let mut papers: Vec<(&Path, Pages)> = Vec::new();
    if let Some(path) = &args.out {
        papers.push((path, teacher_pages(kit, &about)?));
    }
    if let Some(path) = &args.labels {
        papers.push((path, label_pages(kit, &about)?));
    }
    if let Some(path) = &args.handout {
        papers.push((path, handout_pages(kit, &about, hand)?));
    }
    let pdf = |(path, pages): &(&Path, Pages)| Ok((path.to_path_buf(), pages.pdf()?));
    let files: Vec<(PathBuf, Vec<u8>)> = papers.iter().map(pdf).collect::<Result<_, CommandError>>()?;
    save_all(&files, if args.force { Overwrite::Replace } else { Overwrite::Refuse })?;
    Ok(papers.iter().map(|(path, pages)| (*path, pages.count())).collect())
}

/// Prints the kits in words.
fn print(kit: &ClassKit<'_>, out: &mut dyn Write) -> Result<(), CommandError> {
    let Some(first) = kit.quilts.first() else { return Ok(()) };
    let offered = &first.taken.offered;
    writeln!(out, "{} · class kits, {} cutting plan", offered.design.name(), offered.planner.name())?;
    let (students, spare) = (kit.students(), kit.kits() - kit.students());
    let told = counted(students, "student", "students");
    writeln!(
        out,
        "{told}, {}, {} in all",
        counted(spare, "spare kit", "spare kits"),
        counted(kit.kits(), "kit", "kits")
    )?;
    writeln!(out, "\nBuy for the class, the strips of all kits on one length:")?;
    for fabric in &kit.fabrics {
        let lines = fabric.lines();
        let lines: Vec<String> = lines.into_iter().map(|(line, length)| format!("{line} {length}")).collect();
        let cost = fabric.all_parts().cost().map_or_else(String::new, |cost| format!(", cost {cost}"));
        writeln!(out, "  {} ({}): {}{cost}", fabric.fabric.name, fabric.kits_words(), fabric.buy)?;
        if !lines.is_empty() {
            writeln!(out, "      {}", lines.join(", "))?;
        }
        writeln!(out, "      one kit bought alone: {}", fabric.one_kit())?;
    }
    for quilt in &kit.quilts {
        print_quilt(quilt, out)?;
    }
    let sessions = counted(kit.timetable.count, "session", "sessions");
    writeln!(out, "\nThe class takes {sessions} of {} (hours:minutes)", kit.minutes.session)?;
    Ok(())
}

fn print_quilt(quilt: &ClassQuilt<'_>, out: &mut dyn Write) -> Result<(), CommandError> {
    let label = quilt.taken.offered.label;
    let kits = quilt.kits();
    writeln!(out, "\n{label}: {}; into each:", counted(kits, "kit", "kits"))?;
    for bundle in &quilt.bundles {
        writeln!(
            out,
            "  [ ] {} of {}  {}, strip {}, {}: {}, {} long; {} in all",
            bundle.number,
            quilt.bundles.len(),
            bundle.name,
            bundle.letter,
            bundle.wide,
            strips_words(bundle.strips, bundle.parts),
            bundle.long,
            bundle.strips * kits
        )?;
    }
    let timing = &quilt.timing;
    writeln!(out, "  Cutting ahead: {} for one kit, {} for all", timing.ahead, timing.ahead.times(kits))?;
    writeln!(out, "  A student's work on the top: {} (hours:minutes)", timing.total)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn takes_are_read() {
        let read = |text: &str| takes(text).map(|takes| takes.0).ok();
        let owned = |rows: &[(&str, u16)]| Some(rows.iter().map(|(l, n)| ((*l).to_owned(), *n)).collect::<Vec<_>>());
        assert_eq!(read("Dusk=6,Noon=4"), owned(&[("Dusk", 6), ("Noon", 4)]));
        assert_eq!(read("Dusk = 6, Noon=4"), owned(&[("Dusk", 6), ("Noon", 4)]));
        assert_eq!(read("Red, white=3,a=b=2"), owned(&[("Red, white", 3), ("a=b", 2)]));
        for text in ["", "Dusk", "Dusk=", "=3", "Dusk=6,", "Dusk=6,Noon", "Dusk=-1", "Dusk=70000"] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn reserves_are_read() {
        assert_eq!(reserve("2"), Ok(Reserve::Kits(2)));
        assert_eq!(reserve("10%"), Ok(Reserve::Percent(10)));
        for text in ["", "%", "-1", "1.5", "ten", "10 kits"] {
            assert!(reserve(text).is_err(), "{text}");
        }
    }
}
