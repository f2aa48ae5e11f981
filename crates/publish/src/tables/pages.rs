//! A table as pages, landscape: how its figures come about, then for every block size and number of fabrics what to buy
//! and what to cut, then what was left out.

use std::collections::BTreeSet;

use geometry::Role;
use layout::{Design, FabricId, Units};
use serde::Serialize;

use super::notes::{bed_notes, notes};
use super::{Extent, MAX_PRINTED_ROWS, Table, TableError, TableRow};
use crate::bed_words::miss;
use crate::lengths::{about_size, counted, finished};
use crate::{About, Figures, Pages, Paper, PublishError, Seams, quilt_picture, typeset};

/// The most columns of fabrics or roles side by side.
const COLUMNS: usize = 6;

/// What must be heeded before fabric is bought and cut.
const CAUTIONS: [&str; 4] = [
    "Measure the fabric you have: where its usable width is less than stated here, it takes more.",
    "Buy all of a fabric at once; another bolt may differ in colour.",
    "Make a test block first: a seam that is too deep shows in the size of the whole quilt.",
    "Read the makers’ instructions for rotary cutter, ruler and iron; keep blades and small parts from children.",
];

#[derive(Serialize)]
struct Printed {
    about: About,
    picture: String,
    notes: Vec<String>,
    beds: Vec<String>,
    cautions: [&'static str; 4],
    groups: Vec<Group>,
    left_out: Vec<String>,
}

/// The quilts of one block size and number of fabrics.
#[derive(Serialize)]
struct Group {
    heading: String,
    buying: Vec<Sheet>,
    patches: Vec<Sheet>,
}

/// One table on paper.
#[derive(Serialize)]
struct Sheet {
    head: Vec<Head>,
    rows: Vec<Vec<String>>,
}

/// A heading of a column, with the colour of the fabric that it is about.
#[derive(Serialize)]
struct Head {
    words: String,
    colour: Option<String>,
}

/// Sets the pages of a table of `design`.
///
/// # Errors
/// [`PublishError::Tables`] for more than [`MAX_PRINTED_ROWS`] rows; a quilt that cannot be drawn.
pub fn table_pages(table: &Table, design: &Design, paper: Paper) -> Result<Pages, PublishError> {
    if table.rows.len() > MAX_PRINTED_ROWS {
        return Err(TableError::TooManyPages { rows: table.rows.len() }.into());
    }
    let units = design.units();
    let mut figures = Figures::default();
    let picture = figures.add(&quilt_picture(design, Seams::Shown)?);
    let alike = |a: &TableRow, b: &TableRow| (&a.size, a.colours) == (&b.size, b.colours);
    let printed = Printed {
        about: About { title: format!("{}: tables", design.name()), ..About::quilt(design, paper) },
        picture,
        notes: notes(table, design),
        beds: bed_notes(table, design),
        cautions: CAUTIONS,
        groups: table.rows.chunk_by(alike).map(|rows| group(table, rows, units)).collect(),
        left_out: table.left_out.iter().map(|left| left.words(units)).collect(),
    };
    typeset("tables.typ", &printed, &figures)
}

fn group(table: &Table, rows: &[TableRow], units: Units) -> Group {
    let fabrics: BTreeSet<FabricId> = rows.iter().flat_map(|row| &row.fabrics).map(|fabric| fabric.fabric).collect();
    let fabrics: Vec<FabricId> = fabrics.into_iter().collect();
    let heading = rows.first().map_or_else(String::new, |row| {
        let size = finished(row.size.length.inches(), units);
        format!("Blocks of {size} ({}), {}", row.size.by.words(), row.colours.words())
    });
    let buying = fabrics.chunks(COLUMNS).map(|fabrics| buying(table, rows, fabrics, units)).collect();
    let roles: BTreeSet<(FabricId, &Role)> = rows
        .iter()
        .flat_map(|row| &row.fabrics)
        .flat_map(|fabric| fabric.roles.iter().map(|(role, _)| (fabric.fabric, role)))
        .collect();
    let roles: Vec<(FabricId, &Role)> = roles.into_iter().collect();
    let patches = roles.chunks(COLUMNS).map(|roles| patches(table, rows, roles)).collect();
    Group { heading, buying, patches }
}

fn head(words: &str) -> Head {
    Head { words: words.to_owned(), colour: None }
}

/// A column about a fabric, or about its patches of a role.
fn fabric_head(table: &Table, id: FabricId, role: Option<&Role>) -> Head {
    table.fabrics.get(&id).map_or(head(""), |fabric| Head {
        words: role.map_or_else(|| fabric.name.clone(), |role| format!("{}: {}", fabric.name, role.name())),
        colour: Some(fabric.look.colour().to_string()),
    })
}

/// "Queen", or nothing where rows and columns say it all.
fn size_for(row: &TableRow) -> String {
    match row.extent {
        Extent::Bed(bed) => bed.name.to_owned(),
        Extent::Blocks { .. } => "–".to_owned(),
    }
}

/// What to buy for each quilt: "3½ yd, 14 strips" of each fabric.
fn buying(table: &Table, rows: &[TableRow], fabrics: &[FabricId], units: Units) -> Sheet {
    let mut heads = vec![head("For"), head("Rows × columns"), head("Finished"), head("Borders")];
    heads.extend(fabrics.iter().map(|id| fabric_head(table, *id, None)));
    heads.extend([head("Binding"), head("Backing"), head("Batting")]);
    let line = |row: &TableRow| {
        let borders: Vec<String> = row.borders.iter().map(|(sides, _)| finished(sides, units)).collect();
        let size = about_size(&row.finished.0, &row.finished.1, units);
        let beside = row.over.as_ref().map(|over| format!("\n{}", miss(over, units))).unwrap_or_default();
        let mut cells = vec![
            size_for(row),
            format!("{} × {}", row.rows, row.columns),
            format!("{size}{beside}"),
            if borders.is_empty() { "–".to_owned() } else { borders.join(" + ") },
        ];
        cells.extend(fabrics.iter().map(|id| {
            let fabric = row.fabrics.iter().find(|fabric| fabric.fabric == *id);
            fabric.map_or("–".to_owned(), |own| {
                format!("{}\n{}", own.buy_label, counted(own.strips, "strip", "strips"))
            })
        }));
        let bound = table.fabrics.get(&row.binding_fabric).map_or("", |fabric| &fabric.name);
        cells.push(format!("{}\nof {bound}", counted(row.binding.strips, "strip", "strips")));
        cells.push(row.backing_purchase.label.clone());
        cells.push(about_size(&row.backing.width, &row.backing.height, units));
        cells
    };
    Sheet { head: heads, rows: rows.iter().map(line).collect() }
}

/// How many patches of each role each fabric gives.
fn patches(table: &Table, rows: &[TableRow], roles: &[(FabricId, &Role)]) -> Sheet {
    let mut heads = vec![head("For"), head("Rows × columns")];
    heads.extend(roles.iter().map(|(id, role)| fabric_head(table, *id, Some(role))));
    let line = |row: &TableRow| {
        let mut cells = vec![size_for(row), format!("{} × {}", row.rows, row.columns)];
        cells.extend(roles.iter().map(|(id, role)| {
            let fabric = row.fabrics.iter().find(|fabric| fabric.fabric == *id);
            let count = fabric.and_then(|fabric| fabric.roles.iter().find(|(own, _)| own == *role));
            count.map_or("–".to_owned(), |(_, count)| count.to_string())
        }));
        cells
    };
    Sheet { head: heads, rows: rows.iter().map(line).collect() }
}
