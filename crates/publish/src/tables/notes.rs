//! What stands before a printed table: how its figures come about and what they hold for.

use std::collections::BTreeMap;

use geometry::Exact;
use layout::beds::Bed;
use layout::{BuyingStep, Design};

use super::{Extent, Table};
use crate::lengths::{about_size, finished};

/// How the figures come about, one note a line.
pub(super) fn notes(table: &Table, design: &Design) -> Vec<String> {
    let units = design.units();
    let mut notes = vec![
        "Quick plan: each quilt’s strips were planned at once from its counts. A plan with less fabric may be found for the \
         quilt you choose."
            .to_owned(),
    ];
    notes.extend(width_notes(table, design));
    notes.push(format!(
        "Seam allowance {}; strips and subcuts in steps of {}.",
        finished(design.seam().inches(), units),
        finished(design.ruler_step().inches(), units)
    ));
    notes.push(
        "Strips and cuts are rounded up to the ruler’s step. Where that is wider than the exact piece, a block finishes a \
         little larger than its size says: the cutting list has the exact sizes, and a test block shows what comes of it."
            .to_owned(),
    );
    notes.push(reserve_note(design));
    notes.push(format!(
        "Binding of {} strips is part of what its fabric takes. Backing and batting reach {} beyond the top at every side.",
        finished(design.binding().strip_width.inches(), units),
        finished(design.backing().overhang.inches(), units)
    ));
    notes
}

/// The usable width of each fabric, those of one width together.
fn width_notes(table: &Table, design: &Design) -> Vec<String> {
    let units = design.units();
    let mut names: BTreeMap<&Exact, Vec<&str>> = BTreeMap::new();
    let used = table
        .fabrics
        .iter()
        .filter(|(id, _)| table.rows.iter().any(|row| row.fabrics.iter().any(|fabric| fabric.fabric == **id)));
    for (_, fabric) in used {
        names.entry(fabric.usable_width.inches()).or_default().push(&fabric.name);
    }
    names.entry(design.backing().usable_width.inches()).or_default().push("backing");
    let note =
        |(width, names): (&Exact, Vec<&str>)| format!("Usable width {}: {}.", finished(width, units), names.join(", "));
    names.into_iter().map(note).collect()
}

/// What lies between the length that strips take and the length to buy.
fn reserve_note(design: &Design) -> String {
    let (units, buying, wishes) = (design.units(), design.buying(), design.cutting());
    let mut parts = Vec::new();
    if let Some(squaring_up) = &buying.squaring_up {
        let again = match wishes.squaring_every {
            0 => String::new(),
            every => format!(", again after every {every} strips"),
        };
        parts.push(format!("{} to square up the cut end{again}", finished(squaring_up.inches(), units)));
    }
    if buying.shrinkage_permille() > 0 {
        parts.push(format!("{} shrinkage", percent(buying.shrinkage_permille())));
    }
    let step = match buying.step {
        BuyingStep::EighthYard => "⅛ yd",
        BuyingStep::TenCentimetres => "10 cm",
    };
    parts.push(format!("rounding up to {step}"));
    let spare = match wishes.spare_permille {
        0 => String::new(),
        spare => format!(" {} of all pieces are cut to spare.", percent(spare)),
    };
    format!("To buy is what the strips take with {}.{spare}", parts.join(", "))
}

/// Thousandths as a percentage: "3 %", "2.5 %".
fn percent(permille: u16) -> String {
    let (whole, tenth) = (permille / 10, permille % 10);
    if tenth == 0 { format!("{whole} %") } else { format!("{whole}.{tenth} %") }
}

/// What each bed wants and where its size comes from, then what must be said beside them; nothing without beds.
pub(super) fn bed_notes(table: &Table, design: &Design) -> Vec<String> {
    let units = design.units();
    let mut beds: Vec<&Bed> = Vec::new();
    for row in &table.rows {
        if let Extent::Bed(bed) = row.extent
            && !beds.contains(&bed)
        {
            beds.push(bed);
        }
    }
    let mut notes: Vec<String> = beds
        .iter()
        .map(|bed| {
            let (width, length) = bed.size();
            let wanted = bed.target().wanted();
            let kind = if bed.mattress { "mattress" } else { "size" };
            format!(
                "{}: {kind} {}, a quilt of {} ({}).",
                bed.name,
                about_size(&width, &length, units),
                about_size(&wanted.0, &wanted.1, units),
                bed.origin.words()
            )
        })
        .collect();
    if beds.iter().any(|bed| bed.mattress) {
        notes.push("Mattresses differ from maker to maker: measure the one that is there.".to_owned());
    }
    let mut cautions: Vec<&str> = beds.iter().filter_map(|bed| bed.caution).map(layout::beds::Caution::words).collect();
    cautions.dedup();
    notes.extend(cautions.into_iter().map(str::to_owned));
    notes
}
