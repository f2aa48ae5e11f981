//! What a quilt takes, row by row: its fabrics, the backing and the batting.

use cutting::{BackingCut, BindingCut, FabricPlan, PanelDirection, Purchase};
use layout::{Design, FabricId, Units};
use serde::Serialize;

use crate::cut_words::{at_hand_words, binding_words, buy_words, cloth_words};
use crate::lengths::{about_size, at_least, counted, finished, up_to_ruler};
use crate::{Offered, PublishError};

/// A fabric, or what else is bought.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Material {
    /// The fabric's colour, `#rrggbb`; empty where any will do.
    pub colour: String,
    /// Its name.
    pub name: String,
    /// How light or dark it reads; may be empty.
    pub value: String,
    /// What is made of it.
    pub used_for: String,
    /// What that takes.
    pub takes: String,
    /// Which pieces at hand are cut; may be empty.
    pub at_hand: String,
    /// What to buy.
    pub buy: String,
    /// What that costs; empty where no price is known.
    pub cost: String,
}

/// The fabrics of the plans, then backing and batting.
pub(crate) fn materials(quilt: &Offered<'_>) -> Result<Vec<Material>, PublishError> {
    let mut rows = Vec::new();
    for plan in quilt.made()? {
        rows.push(of_fabric(quilt, plan)?);
    }
    rows.extend(backing_and_batting(quilt)?);
    Ok(rows)
}

fn of_fabric(quilt: &Offered<'_>, plan: &FabricPlan) -> Result<Material, PublishError> {
    let units = quilt.design.units();
    let fabric = quilt.design.fabric(plan.fabric)?;
    let parts = if plan.parts > 1 { format!("{} fabrics, of each: ", plan.parts) } else { String::new() };
    Ok(Material {
        colour: fabric.look.colour().to_string(),
        name: fabric.name.clone(),
        value: fabric.value.word().to_owned(),
        used_for: used_for(quilt, plan.fabric)?,
        takes: format!("{parts}{}", cloth_words(plan, units)),
        at_hand: at_hand_words(plan, units),
        buy: buy_words(plan),
        cost: plan.all_parts().cost().map(|cost| cost.to_string()).unwrap_or_default(),
    })
}

/// "diamond 96, background square 48, binding 6 strips 2½″ wide".
fn used_for(quilt: &Offered<'_>, fabric: FabricId) -> Result<String, PublishError> {
    let roles = quilt.ledger.uses().get(&fabric).map(|used| &used.roles);
    let mut told: Vec<String> =
        roles.into_iter().flatten().map(|(role, count)| format!("{} {count}", role.name())).collect();
    if quilt.design.binding().fabric == fabric {
        told.push(format!("binding {}", binding_strips(quilt.design, quilt.ledger.binding()?)));
    }
    Ok(told.join(", "))
}

/// "6 strips 2½″ wide": the strips of a binding.
pub(crate) fn binding_strips(design: &Design, binding: &BindingCut) -> String {
    let units = design.units();
    let (strips, width) = (counted(binding.strips, "strip", "strips"), finished(&binding.strip_width, units));
    let told = format!("{strips} {width} wide{}", binding_words(binding, units));
    told.trim_end_matches(',').to_owned()
}

/// Width × height of the backing, and of the batting: both are trimmed to the top later, so that they need not be smaller
/// than a ruler can measure.
pub(crate) fn backing_size(backing: &BackingCut, units: Units) -> String {
    format!("{} × {}", at_least(&backing.width, units), at_least(&backing.height, units))
}

/// The length of all its panels, each as long as [`at_least`] says.
pub(crate) fn backing_length(backing: &BackingCut, units: Units) -> String {
    let panels = i64::try_from(backing.panels).unwrap_or(i64::MAX);
    finished(&up_to_ruler(&backing.panel_length, units).scale_int(panels), units)
}

/// Backing and batting.
pub(crate) fn backing_and_batting(quilt: &Offered<'_>) -> Result<[Material; 2], PublishError> {
    let design = quilt.design;
    let units = design.units();
    let backing = quilt.ledger.backing()?;
    let size = backing_size(backing, units);
    let runs = match backing.direction {
        PanelDirection::Upright => "from top to bottom",
        PanelDirection::Level => "from side to side",
    };
    let usable = finished(design.backing().usable_width.inches(), units);
    let plain = |name: &str, used_for: String, takes: String, buy: String| Material {
        colour: String::new(),
        name: name.to_owned(),
        value: String::new(),
        used_for,
        takes,
        at_hand: String::new(),
        buy,
        cost: String::new(),
    };
    Ok([
        plain(
            "Backing",
            format!("{} {runs}, {size} in all", counted(backing.panels, "panel", "panels")),
            format!("{} long, {usable} wide", backing_length(backing, units)),
            Purchase::new(backing.required.clone(), design.buying()).label,
        ),
        plain("Batting", "one piece".to_owned(), size.clone(), size),
    ])
}

/// "43″ × 52″": the finished size of a quilt; "about 77⅜″ × 87″" where no ruler has it. Centimetres are told to two
/// decimals everywhere, so that a headline says what the tables say.
pub(crate) fn finished_size(design: &Design) -> String {
    let (width, height) = design.finished_size();
    match design.units() {
        Units::Inches => about_size(&width, &height, Units::Inches),
        Units::Centimetres => [width, height].map(|side| finished(&side, Units::Centimetres)).join(" × "),
    }
}
