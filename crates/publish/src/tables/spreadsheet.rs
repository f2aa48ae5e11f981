//! A table as a spreadsheet.
//!
//! A line is one thing to buy for one quilt: each fabric, then the backing, then the batting. So a spreadsheet can filter
//! by size, bed or fabric, and the lengths of a quilt's lines add up to what is bought for it. What is said of the quilt
//! stands in each of its lines. Numbers have their unit in the heading; beside them stands what to ask for in a shop.
//! How many patches of each role a fabric gives has a column a role.

use std::collections::BTreeSet;

use geometry::Role;
use layout::{Design, Units};

use super::row::{FabricRow, TableRow};
use super::{Extent, Table};
use crate::bed_words::miss;
use crate::decimal::{length, unit_name};
use crate::exports;

/// The table of `design` as a spreadsheet.
#[must_use]
pub fn spreadsheet(table: &Table, design: &Design) -> exports::Table {
    let of_rows = table.rows.iter().flat_map(|row| &row.fabrics).flat_map(|fabric| &fabric.roles);
    let roles: BTreeSet<&Role> = of_rows.map(|(role, _)| role).collect();
    let sheet = Sheet { design, units: design.units(), roles: roles.into_iter().collect() };
    let lines = table.rows.iter().flat_map(|row| sheet.lines(row)).collect();
    exports::Table { head: sheet.headings(), rows: lines }.in_edition(&design.imprint().edition)
}

struct Sheet<'a> {
    design: &'a Design,
    units: Units,
    /// The roles that have a column.
    roles: Vec<&'a Role>,
}

/// What only one kind of line tells.
#[derive(Default)]
struct Line {
    what: &'static str,
    fabric: String,
    patches: String,
    strips: String,
    binding_strips: String,
    width: String,
    length: String,
    required: String,
    buy: String,
    buy_label: String,
    cost: String,
    roles: Vec<String>,
}

impl Sheet<'_> {
    fn headings(&self) -> Vec<String> {
        let unit = unit_name(self.units);
        let plain = |text: &str| text.to_owned();
        let measured = |text: &str| format!("{text} ({unit})");
        let mut headings = vec![plain("quilt"), plain("plan"), plain("block size of"), measured("block size")];
        headings.extend(["size for", "rows", "columns", "blocks", "patches of the quilt"].map(plain));
        headings.extend(["finished width", "finished length"].map(measured));
        headings.push(plain("beside the bed's wish"));
        headings.extend([measured("border widths"), plain("fabrics"), plain("what"), plain("fabric")]);
        headings.extend(["patches", "strips, with binding", "binding strips"].map(plain));
        headings.extend(["width", "length", "required length", "length to buy"].map(measured));
        headings.extend(["to buy", "cost"].map(plain));
        headings.extend(self.roles.iter().map(|role| format!("patches: {}", role.name())));
        headings
    }

    /// All lines of one quilt.
    fn lines(&self, row: &TableRow) -> Vec<Vec<String>> {
        let backing = &row.backing;
        let measured = |inches| length(inches, self.units).to_string();
        let size = Line { width: measured(&backing.width), length: measured(&backing.height), ..Line::default() };
        let backing = Line {
            what: "backing",
            required: measured(&backing.required),
            buy: measured(&row.backing_purchase.buy),
            buy_label: row.backing_purchase.label.clone(),
            width: size.width.clone(),
            length: size.length.clone(),
            ..Line::default()
        };
        let fabrics = row.fabrics.iter().map(|fabric| self.fabric(row, fabric));
        let all = fabrics.chain([backing, Line { what: "batting", ..size }]);
        let quilt = self.of_quilt(row);
        all.map(|line| quilt.iter().cloned().chain(self.cells(line)).collect()).collect()
    }

    fn fabric(&self, row: &TableRow, fabric: &FabricRow) -> Line {
        let measured = |inches| length(inches, self.units).to_string();
        let count = |role: &&Role| fabric.roles.iter().find(|(own, _)| own == *role).map_or(0, |(_, count)| *count);
        let binding = if fabric.fabric == row.binding_fabric { row.binding.strips } else { 0 };
        Line {
            what: "fabric",
            fabric: fabric.name.clone(),
            patches: fabric.patches.to_string(),
            strips: fabric.strips.to_string(),
            binding_strips: binding.to_string(),
            required: measured(&fabric.required),
            buy: measured(&fabric.buy),
            buy_label: fabric.buy_label.clone(),
            cost: fabric.cost.map(|cost| cost.to_string()).unwrap_or_default(),
            roles: self.roles.iter().map(|role| count(role).to_string()).collect(),
            ..Line::default()
        }
    }

    /// What is said of the whole quilt.
    fn of_quilt(&self, row: &TableRow) -> Vec<String> {
        let measured = |inches| length(inches, self.units).to_string();
        let borders: Vec<String> = row.borders.iter().map(|(sides, _)| measured(sides)).collect();
        let size_for = match row.extent {
            Extent::Bed(bed) => bed.name.to_owned(),
            Extent::Blocks { .. } => "rows and columns".to_owned(),
        };
        vec![
            self.design.name().to_owned(),
            "quick".to_owned(),
            row.size.by.words().to_owned(),
            measured(row.size.length.inches()),
            size_for,
            row.rows.to_string(),
            row.columns.to_string(),
            row.blocks.to_string(),
            row.patches.to_string(),
            measured(&row.finished.0),
            measured(&row.finished.1),
            row.over.as_ref().map(|over| miss(over, self.units)).unwrap_or_default(),
            borders.join(" + "),
            row.colours.words().to_owned(),
        ]
    }

    /// The cells of what only one line tells, in the order of the headings.
    fn cells(&self, line: Line) -> impl Iterator<Item = String> + use<> {
        let roles = if line.roles.is_empty() { vec![String::new(); self.roles.len()] } else { line.roles };
        let cells = [
            line.what.to_owned(),
            line.fabric,
            line.patches,
            line.strips,
            line.binding_strips,
            line.width,
            line.length,
            line.required,
            line.buy,
            line.buy_label,
            line.cost,
        ];
        cells.into_iter().chain(roles)
    }
}
