//! `totals`: what is in the quilt and what to buy.

use std::io::Write;

use cutting::{Ledger, PanelDirection, Purchase};
use geometry::Exact;
use layout::{BindingGrain, Design, Join, Tally};
use publish::cut_words::buy_words;
use serde::Serialize;

use super::{chosen, open, planned, print_json, uncut};
use crate::args::Reading;
use crate::decimal::{Decimal, area, length, unit_name};
use crate::error::CommandError;
use crate::words::{counted, fabric_length, finished};

#[derive(Serialize)]
struct Totals {
    unit: &'static str,
    plan: &'static str,
    name: String,
    finished_width: Decimal,
    finished_height: Decimal,
    blocks: usize,
    patches: u64,
    fabrics: Vec<FabricTotal>,
    roles: Vec<RoleTotal>,
    binding: Option<BindingTotal>,
    backing: Option<BackingTotal>,
    batting: BattingTotal,
}

#[derive(Serialize)]
struct FabricTotal {
    id: u32,
    name: String,
    value: &'static str,
    patches: u64,
    finished_area: Decimal,
    required_length: Option<Decimal>,
    buy_length: Option<Decimal>,
    buy_label: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
    least_by_any_means_length: Option<Decimal>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<String>,
}

#[derive(Serialize)]
struct RoleTotal {
    role: String,
    fabric: u32,
    count: u64,
}

#[derive(Serialize)]
struct BindingTotal {
    fabric: u32,
    strips: u64,
    strip_width: Decimal,
    /// Only on the bias: length of a strip along its middle, before it is joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    bias_strip_length: Option<Decimal>,
    join: &'static str,
    needed_length: Decimal,
    joined_length: Decimal,
}

#[derive(Serialize)]
struct BackingTotal {
    width: Decimal,
    height: Decimal,
    panels: u64,
    panels_run: &'static str,
    panel_length: Decimal,
    required_length: Decimal,
    buy_length: Decimal,
    buy_label: String,
}

#[derive(Serialize)]
struct BattingTotal {
    width: Decimal,
    height: Decimal,
}

/// Prints the totals of one variant.
pub(super) fn run(reading: &Reading, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&reading.file)?;
    let variant = chosen(&document, reading.variant.as_deref())?;
    let design = &variant.design;
    let (tally, ledger) = planned(design)?;
    let totals = totals(design, &tally, &ledger);
    if !reading.json && document.variants().len() > 1 {
        writeln!(out, "Variant: {} (of {}; choose with --variant)", variant.label, document.variants().len())?;
    }
    if reading.json {
        print_json(&totals, out)?;
    } else {
        print(design, &totals, &ledger, out)?;
    }
    uncut(ledger.plans())
}

fn totals(design: &Design, tally: &Tally, ledger: &Ledger) -> Totals {
    let units = design.units();
    let (width, height) = design.finished_size();
    let around = design.backing().overhang.inches().scale_int(2);
    Totals {
        unit: unit_name(units),
        plan: "quick",
        name: design.name().to_owned(),
        finished_width: length(&width, units),
        finished_height: length(&height, units),
        blocks: design.places().count(),
        patches: tally.total(),
        fabrics: fabric_totals(design, ledger),
        roles: role_totals(ledger),
        binding: binding_total(design, ledger),
        backing: backing_total(design, ledger),
        batting: BattingTotal {
            width: length(&(&width + &around), units),
            height: length(&(&height + &around), units),
        },
    }
}

fn fabric_totals(design: &Design, ledger: &Ledger) -> Vec<FabricTotal> {
    let units = design.units();
    let listed = ledger.plans().iter().map(|(id, plan)| {
        let used = ledger.uses().get(id);
        let (name, value) =
            design.fabric(*id).map_or_else(|_| (String::new(), ""), |f| (f.name.clone(), f.value.word()));
        let made = plan.as_ref().ok();
        FabricTotal {
            id: id.0,
            name,
            value,
            patches: used.map_or(0, |u| u.patches),
            finished_area: area(&used.map_or(Exact::ZERO, |u| u.area.clone()), units),
            required_length: made.map(|p| length(&p.all_parts().required(), units)),
            buy_length: made.map(|p| length(&p.all_parts().to_buy(), units)),
            buy_label: made.map(buy_words),
            cost: made.and_then(|plan| plan.all_parts().cost()).map(|cost| cost.to_string()),
            least_by_any_means_length: plan.as_ref().ok().map(|p| crate::decimal::lay(p.least_by_any_means, units)),
            error: plan.as_ref().err().map(ToString::to_string),
        }
    });
    listed.collect()
}

fn role_totals(ledger: &Ledger) -> Vec<RoleTotal> {
    let by_fabric = ledger.uses().iter();
    by_fabric
        .flat_map(|(fabric, used)| {
            used.roles.iter().map(|(role, count)| RoleTotal {
                role: role.name().to_owned(),
                fabric: fabric.0,
                count: *count,
            })
        })
        .collect()
}

fn binding_total(design: &Design, ledger: &Ledger) -> Option<BindingTotal> {
    let units = design.units();
    ledger.binding().ok().map(|b| BindingTotal {
        fabric: design.binding().fabric.0,
        strips: b.strips,
        strip_width: length(&b.strip_width, units),
        bias_strip_length: (b.grain == BindingGrain::Bias).then(|| length(&b.strip_length, units)),
        join: match (b.grain, design.binding().join) {
            (BindingGrain::Bias, _) | (_, Join::Diagonal) => "diagonal",
            (BindingGrain::Across, Join::Straight) => "straight",
        },
        needed_length: length(&b.needed, units),
        joined_length: length(&b.joined, units),
    })
}

fn backing_total(design: &Design, ledger: &Ledger) -> Option<BackingTotal> {
    let units = design.units();
    ledger.backing().ok().map(|b| {
        let purchase = Purchase::new(b.required.clone(), design.buying());
        BackingTotal {
            width: length(&b.width, units),
            height: length(&b.height, units),
            panels: b.panels,
            panels_run: match b.direction {
                PanelDirection::Upright => "from top to bottom",
                PanelDirection::Level => "from side to side",
            },
            panel_length: length(&b.panel_length, units),
            required_length: length(&b.required, units),
            buy_length: length(&purchase.buy, units),
            buy_label: purchase.label,
        }
    })
}

/// Prints the totals for a person.
fn print(design: &Design, totals: &Totals, ledger: &Ledger, out: &mut dyn Write) -> Result<(), CommandError> {
    let units = design.units();
    let (width, height) = design.finished_size();
    let size = |w: &Exact, h: &Exact| format!("{} × {}", finished(w, units), finished(h, units));
    writeln!(out, "{}", design.name())?;
    writeln!(
        out,
        "{} finished · {} · {}",
        size(&width, &height),
        counted(totals.blocks as u64, "block", "blocks"),
        counted(totals.patches, "patch", "patches")
    )?;
    writeln!(out)?;
    let name_width = totals.fabrics.iter().map(|f| f.name.chars().count()).max().unwrap_or(0).max(7);
    writeln!(out, "{:<name_width$}  {:>8}  {:>12}  {:>12}", "Fabric", "patches", "required", "to buy")?;
    for (fabric, plan) in totals.fabrics.iter().zip(ledger.plans().values()) {
        let (required, buy) = plan.as_ref().map_or_else(
            |_| ("–".to_owned(), "–".to_owned()),
            |plan| (fabric_length(plan.plan.length, units), buy_words(plan)),
        );
        writeln!(out, "{:<name_width$}  {:>8}  {required:>12}  {buy:>12}", fabric.name, fabric.patches)?;
    }
    writeln!(out, "(quick plan; required is what the strips take, to buy adds shrinkage and squaring up)")?;
    writeln!(out)?;
    if let Ok(b) = ledger.binding() {
        let strips = counted(b.strips, "strip", "strips");
        let fabric = design.fabric(design.binding().fabric)?;
        let width = finished(&b.strip_width, units);
        let how = publish::cut_words::binding_words(b, units);
        writeln!(out, "Binding  {strips} {width} wide{how} of {} (in its length above)", fabric.name)?;
    }
    if let (Ok(b), Some(total)) = (ledger.backing(), &totals.backing) {
        let panels = counted(b.panels, "panel", "panels");
        let size = size(&b.width, &b.height);
        writeln!(out, "Backing  {size}, {panels} {}, {}", total.panels_run, total.buy_label)?;
        writeln!(out, "Batting  {size}")?;
    }
    Ok(())
}
