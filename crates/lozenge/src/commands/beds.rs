//! `beds`: beds with their sources, and how to make a quilt as large as one of them wants it.

use std::io::Write;

use geometry::Exact;
use layout::beds::{BEDS, Bed, Drops, Proposal, Target, Wishes, propose};
use layout::{Design, Units};
use serde::Serialize;

use super::{chosen, open, print_json};
use crate::args::Beds;
use crate::bed_words::{change, made_of, miss};
use crate::decimal::{Decimal, length, unit_name};
use crate::error::CommandError;
use crate::words::{about_size, finished};

#[derive(Serialize)]
struct Table {
    beds: Vec<BedRow>,
}

#[derive(Serialize)]
struct BedRow {
    id: &'static str,
    name: &'static str,
    unit: &'static str,
    width: Decimal,
    length: Decimal,
    wanted_width: Decimal,
    wanted_length: Decimal,
    source: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    caution: Option<&'static str>,
}

#[derive(Serialize)]
struct Listing {
    unit: &'static str,
    name: String,
    bed: BedRow,
    wanted_width: Decimal,
    wanted_length: Decimal,
    finished_width: Decimal,
    finished_length: Decimal,
    proposals: Vec<ProposalRow>,
}

#[derive(Serialize)]
struct ProposalRow {
    finished_width: Decimal,
    finished_length: Decimal,
    wider: Decimal,
    longer: Decimal,
    rows: u16,
    columns: u16,
    blocks: usize,
    block_size: Decimal,
    block_size_of: &'static str,
    borders: Vec<Decimal>,
    changes: Vec<String>,
}

/// Lists beds, or proposals for one of them.
pub(super) fn run(args: &Beds, out: &mut dyn Write) -> Result<(), CommandError> {
    let Some((path, bed)) = args.file.as_deref().zip(args.bed) else {
        let beds = BEDS.iter().filter(|bed| args.bed.is_none_or(|asked| asked.id == bed.id));
        return table(&beds.copied().collect::<Vec<_>>(), args, out);
    };
    let document = open(path)?;
    let design = &chosen(&document, args.variant.as_deref())?.design;
    let target = target(bed, args);
    let wishes = Wishes { count: args.count.into(), ..Wishes::usual(design)? };
    let proposals = propose(design, &target, &wishes)?;
    if args.json {
        print_json(&listing(design, bed, &target, &proposals), out)
    } else {
        print(design, bed, &target, &proposals, out)
    }
}

/// The bed with the drops that were asked for.
fn target(bed: &Bed, args: &Beds) -> Target {
    let usual = bed.target();
    let or = |given: &Option<Exact>, otherwise: Exact| given.clone().unwrap_or(otherwise);
    let side = |given: &Option<Exact>, usual: Exact| or(given, or(&args.drop, usual));
    let drops = Drops {
        left: side(&args.left, usual.drops.left),
        right: side(&args.right, usual.drops.right),
        foot: side(&args.foot, usual.drops.foot),
        head: or(&args.head, usual.drops.head),
    };
    Target { drops, tuck: or(&args.tuck, usual.tuck), width: usual.width, length: usual.length }
}

fn row(bed: &Bed, args_target: &Target) -> BedRow {
    let ((width, long), wanted) = (bed.size(), args_target.wanted());
    BedRow {
        id: bed.id,
        name: bed.name,
        unit: unit_name(bed.units),
        width: length(&width, bed.units),
        length: length(&long, bed.units),
        wanted_width: length(&wanted.0, bed.units),
        wanted_length: length(&wanted.1, bed.units),
        source: bed.origin.words(),
        caution: bed.caution.map(layout::beds::Caution::words),
    }
}

fn table(beds: &[Bed], args: &Beds, out: &mut dyn Write) -> Result<(), CommandError> {
    if args.json {
        let beds = beds.iter().map(|bed| row(bed, &target(bed, args))).collect();
        return print_json(&Table { beds }, out);
    }
    writeln!(out, "{:<16} {:<16} {:<24} a quilt for it", "bed", "name", "mattress or size")?;
    for bed in beds {
        let ((width, length), wanted) = (bed.size(), target(bed, args).wanted());
        let size = |width: &Exact, length: &Exact| about_size(width, length, bed.units);
        writeln!(out, "{:<16} {:<16} {:<24} {}", bed.id, bed.name, size(&width, &length), size(&wanted.0, &wanted.1))?;
    }
    writeln!(out)?;
    let mut sources: Vec<&str> = beds.iter().map(|bed| bed.origin.words()).collect();
    sources.dedup();
    for source in sources {
        let of: Vec<&str> = beds.iter().filter(|bed| bed.origin.words() == source).map(|bed| bed.id).collect();
        writeln!(out, "{}: {source}", of.join(", "))?;
    }
    let cautions = beds.iter().filter_map(|bed| bed.caution).next();
    if let Some(caution) = cautions {
        writeln!(out, "{}", caution.words())?;
    }
    writeln!(out, "Mattresses differ from maker to maker: measure the one that is there.")?;
    Ok(())
}

fn listing(design: &Design, bed: &Bed, target: &Target, proposals: &[Proposal]) -> Listing {
    let units = design.units();
    let (wanted, size) = (target.wanted(), design.finished_size());
    Listing {
        unit: unit_name(units),
        name: design.name().to_owned(),
        bed: row(bed, target),
        wanted_width: length(&wanted.0, units),
        wanted_length: length(&wanted.1, units),
        finished_width: length(&size.0, units),
        finished_length: length(&size.1, units),
        proposals: proposals.iter().map(|proposal| proposal_row(proposal, units)).collect(),
    }
}

fn proposal_row(proposal: &Proposal, units: Units) -> ProposalRow {
    ProposalRow {
        finished_width: length(&proposal.size.0, units),
        finished_length: length(&proposal.size.1, units),
        wider: length(&proposal.over.0, units),
        longer: length(&proposal.over.1, units),
        rows: proposal.rows,
        columns: proposal.columns,
        blocks: proposal.blocks,
        block_size: length(proposal.block_size.length.inches(), units),
        block_size_of: proposal.block_size.by.words(),
        borders: proposal.borders.iter().map(|border| length(border.width.inches(), units)).collect(),
        changes: proposal.changes.iter().map(|one| change(one, units)).collect(),
    }
}

/// Prints the proposals for a person.
fn print(
    design: &Design,
    bed: &Bed,
    target: &Target,
    proposals: &[Proposal],
    out: &mut dyn Write,
) -> Result<(), CommandError> {
    let units = design.units();
    let (wanted, size) = (target.wanted(), design.finished_size());
    let over = (&size.0 - &wanted.0, &size.1 - &wanted.1);
    writeln!(out, "{}, {} ({})", bed.name, about_size(&target.width, &target.length, units), bed.origin.words())?;
    let [left, right, foot, head] = [&target.drops.left, &target.drops.right, &target.drops.foot, &target.drops.head]
        .map(|drop| finished(drop, units));
    writeln!(
        out,
        "Drops: left {left}, right {right}, foot {foot}, head {head}; tuck {}",
        finished(&target.tuck, units)
    )?;
    writeln!(out, "Wanted:    {}", about_size(&wanted.0, &wanted.1, units))?;
    writeln!(out, "The quilt: {}, {}", about_size(&size.0, &size.1, units), miss(&over, units))?;
    if let Some(caution) = bed.caution {
        writeln!(out, "{}", caution.words())?;
    }
    for (number, proposal) in (1..).zip(proposals) {
        let changes: Vec<String> = proposal.changes.iter().map(|one| change(one, units)).collect();
        writeln!(out)?;
        let size = about_size(&proposal.size.0, &proposal.size.1, units);
        writeln!(out, "{number:>2}  {size}: {}", miss(&proposal.over, units))?;
        writeln!(out, "    {}", made_of(proposal, units))?;
        writeln!(out, "    {}", changes.join("; "))?;
    }
    if proposals.is_empty() {
        writeln!(out, "Nothing comes near: try another bed or other drops.")?;
    }
    Ok(())
}
