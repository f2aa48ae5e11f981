//! What to buy, for each variant that the pattern offers.

use cutting::{PanelDirection, Purchase};
use layout::{BuyingStep, Design};
use serde::Serialize;

use super::exchanged::exchanged_words;
use crate::cut_words::{binding_words, buy_words, cloth_words};
use crate::exports::materials::{backing_length, backing_size};
use crate::lengths::{about_size, counted, finished};
use crate::{Offered, PublishError};

/// The fabrics of a variant.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OfferedFabrics {
    /// What the variant is called.
    pub label: String,
    /// Its finished size.
    pub size: String,
    /// Which plan the figures are of.
    pub plan: String,
    /// A row for each fabric, then backing and batting.
    pub rows: Vec<FabricRow>,
    /// What the lengths hold.
    pub notes: Vec<String>,
}

/// A row of the table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FabricRow {
    /// The fabric's colour, `#rrggbb`; empty where any fabric will do.
    pub colour: String,
    /// Its name.
    pub name: String,
    /// How light or dark it reads; may be empty.
    pub value: String,
    /// What is cut of it.
    pub used_for: String,
    /// What that takes.
    pub takes: String,
    /// What to buy.
    pub buy: String,
}

/// The fabrics of all variants, and how those are made that are not `quilt`.
pub(super) fn fabrics_part(quilt: &Offered<'_>, offered: &[Offered<'_>]) -> Result<Vec<OfferedFabrics>, PublishError> {
    let of_variant = |other: &Offered<'_>| {
        let mut fabrics = offered_fabrics(other)?;
        if other.label != quilt.label {
            fabrics.notes.insert(0, exchanged_words(quilt, other)?);
        }
        Ok(fabrics)
    };
    offered.iter().map(of_variant).collect()
}

/// The fabrics of a variant.
fn offered_fabrics(offered: &Offered<'_>) -> Result<OfferedFabrics, PublishError> {
    let design = offered.design;
    let units = design.units();
    let (width, height) = design.finished_size();
    let mut rows = Vec::new();
    for plan in offered.made()? {
        let fabric = design.fabric(plan.fabric)?;
        let parts = if plan.parts > 1 { format!("{} fabrics, of each: ", plan.parts) } else { String::new() };
        rows.push(FabricRow {
            colour: fabric.look.colour().to_string(),
            name: fabric.name.clone(),
            value: fabric.value.word().to_owned(),
            used_for: used_for(offered, plan.fabric)?,
            takes: format!("{parts}{}", cloth_words(plan, units)),
            buy: buy_words(plan),
        });
    }
    rows.extend(backing_rows(offered)?);
    Ok(OfferedFabrics {
        label: offered.label.to_owned(),
        size: about_size(&width, &height, units),
        plan: offered.planner.name().to_owned(),
        rows,
        notes: notes(design, offered.planner.name()),
    })
}

/// "96 × diamond, 48 × background square, binding: 6 strips 2½″ wide"; a count stays with what it counts.
fn used_for(offered: &Offered<'_>, fabric: layout::FabricId) -> Result<String, PublishError> {
    let design = offered.design;
    let roles = offered.ledger.uses().get(&fabric).map(|used| &used.roles);
    let mut told: Vec<String> =
        roles.into_iter().flatten().map(|(role, count)| format!("{count}\u{a0}×\u{a0}{}", role.name())).collect();
    if design.binding().fabric == fabric {
        let binding = offered.ledger.binding()?;
        let strips = counted(binding.strips, "strip", "strips");
        let units = design.units();
        let how = binding_words(binding, units);
        told.push(
            format!("binding: {strips} {} wide{how}", finished(&binding.strip_width, units))
                .trim_end_matches(',')
                .to_owned(),
        );
    }
    Ok(told.join(", "))
}

/// Which way the panels of a backing run, in words.
pub(super) const fn direction_words(direction: PanelDirection) -> &'static str {
    match direction {
        PanelDirection::Upright => "from top to bottom",
        PanelDirection::Level => "from side to side",
    }
}

/// Backing and batting.
fn backing_rows(offered: &Offered<'_>) -> Result<[FabricRow; 2], PublishError> {
    let design = offered.design;
    let units = design.units();
    let backing = offered.ledger.backing()?;
    let (size, length) = (backing_size(backing, units), backing_length(backing, units));
    let panels = counted(backing.panels, "panel", "panels");
    let usable = finished(design.backing().usable_width.inches(), units);
    let plain = |name: &str, used_for: String, takes: String, buy: String| FabricRow {
        colour: String::new(),
        name: name.to_owned(),
        value: String::new(),
        used_for,
        takes,
        buy,
    };
    let panels = format!("{panels} {}, {size} in all", direction_words(backing.direction));
    Ok([
        plain(
            "Backing",
            panels,
            format!("{length} long, {usable} wide"),
            Purchase::new(backing.required.clone(), design.buying()).label,
        ),
        plain("Batting", "one piece".to_owned(), size.clone(), size),
    ])
}

/// What the lengths hold, and how they are rounded.
fn notes(design: &Design, plan: &str) -> Vec<String> {
    let buying = design.buying();
    let mut held = Vec::new();
    if buying.shrinkage_permille() > 0 {
        let (whole, tenth) = (buying.shrinkage_permille() / 10, buying.shrinkage_permille() % 10);
        let tenth = if tenth == 0 { String::new() } else { format!(".{tenth}") };
        held.push(format!("{whole}{tenth} % for shrinkage"));
    }
    if let Some(lost) = &buying.squaring_up {
        held.push(format!("{} to square up the cut end", finished(lost.inches(), design.units())));
    }
    let step = match buying.step {
        BuyingStep::EighthYard => "the next eighth of a yard",
        BuyingStep::TenCentimetres => "the next 10 cm",
    };
    let held = if held.is_empty() { String::new() } else { format!("hold {} and ", held.join(" and ")) };
    vec![
        format!(
            "Lengths to buy {held}are rounded up to {step}; what the strips take stands beside them ({plan} plan)."
        ),
        "Colours are for orientation: compare fabrics by their value, light, medium or dark.".to_owned(),
    ]
}
