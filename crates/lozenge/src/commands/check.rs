//! `check`: proves every block and top, re-lays every piece, and says so.

use std::io::Write;

use cutting::audit;
use layout::file::Variant;
use serde::Serialize;

use super::{chosen, open, planned, print_json, uncut};
use crate::args::Reading;
use crate::error::CommandError;
use crate::words::{counted, finished};

#[derive(Serialize)]
struct Checked {
    variant: String,
    name: String,
    blocks: usize,
    patches: u64,
    proved: bool,
    pieces_laid: u64,
    plan: &'static str,
}

/// Checks one variant, or all.
pub(super) fn run(reading: &Reading, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&reading.file)?;
    let wanted: Vec<&Variant> = match &reading.variant {
        Some(label) => vec![chosen(&document, Some(label))?],
        None => document.variants().iter().collect(),
    };
    let mut checked = Vec::new();
    for variant in wanted {
        checked.push(check(variant, reading.json, out)?);
    }
    if reading.json {
        #[derive(Serialize)]
        struct Report {
            variants: Vec<Checked>,
        }
        print_json(&Report { variants: checked }, out)?;
    }
    Ok(())
}

fn check(variant: &Variant, quiet: bool, out: &mut dyn Write) -> Result<Checked, CommandError> {
    let design = &variant.design;
    // Opening has proved every block and the top; the audit re-lays the plans from the top, patch by patch.
    let (tally, ledger) = planned(design)?;
    uncut(ledger.plans())?;
    let verified = audit(design, ledger.plans()).map_err(|problems| {
        let count = problems.len();
        problems.into_iter().next().map_or_else(
            || CommandError::Uncut("the audit failed without a problem".to_owned()),
            |(_, first)| CommandError::Audit { count, first },
        )
    })?;
    let pieces_laid = verified.values().map(|v| v.placements).sum();
    let result = Checked {
        variant: variant.label.clone(),
        name: design.name().to_owned(),
        blocks: design.blocks().count(),
        patches: tally.total(),
        proved: true,
        pieces_laid,
        plan: "quick",
    };
    if !quiet {
        let (width, height) = design.finished_size();
        let size = |l| finished(l, design.units());
        writeln!(out, "{} ({}): {} × {}", result.name, result.variant, size(&width), size(&height))?;
        for (_, def) in design.blocks() {
            let patches = def.block().patches().len() as u64;
            writeln!(out, "  {}: {} it exactly", def.name(), counted(patches, "patch tiles", "patches tile"))?;
        }
        writeln!(out, "  the top: {} it exactly", counted(result.patches, "patch tiles", "patches tile"))?;
        writeln!(out, "  quick plan: {} laid without overlap, none missing", counted(pieces_laid, "piece", "pieces"))?;
    }
    Ok(result)
}
