//! The JSON of `tables`: each row in the words and figures of `totals --json`.

use std::path::Path;

use layout::{BindingGrain, Design, Units};
use publish::decimal::{Decimal, length, unit_name};
use publish::tables::{Colours, Extent, FabricRow, LeftOut, Table, TableRow};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct TableJson {
    unit: &'static str,
    plan: &'static str,
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<String>,
    rows: Vec<RowJson>,
    left_out: Vec<LeftOutJson>,
}

#[derive(Serialize)]
struct RowJson {
    block_size: Decimal,
    block_size_of: &'static str,
    size_for: String,
    colours: &'static str,
    rows: u16,
    columns: u16,
    blocks: usize,
    patches: u64,
    finished_width: Decimal,
    finished_height: Decimal,
    #[serde(skip_serializing_if = "Option::is_none")]
    wider: Option<Decimal>,
    #[serde(skip_serializing_if = "Option::is_none")]
    longer: Option<Decimal>,
    borders: Vec<BorderJson>,
    fabrics: Vec<FabricJson>,
    roles: Vec<RoleJson>,
    binding: BindingJson,
    backing: BackingJson,
    batting: BattingJson,
}

#[derive(Serialize)]
struct BorderJson {
    width: Decimal,
    level_width: Decimal,
}

#[derive(Serialize)]
struct FabricJson {
    id: u32,
    name: String,
    patches: u64,
    strips: u64,
    required_length: Decimal,
    buy_length: Decimal,
    buy_label: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
}

#[derive(Serialize)]
struct RoleJson {
    role: String,
    fabric: u32,
    count: u64,
}

#[derive(Serialize)]
struct BindingJson {
    fabric: u32,
    strips: u64,
    strip_width: Decimal,
    #[serde(skip_serializing_if = "Option::is_none")]
    bias_strip_length: Option<Decimal>,
    needed_length: Decimal,
    joined_length: Decimal,
}

#[derive(Serialize)]
struct BackingJson {
    width: Decimal,
    height: Decimal,
    panels: u64,
    panel_length: Decimal,
    required_length: Decimal,
    buy_length: Decimal,
    buy_label: String,
}

#[derive(Serialize)]
struct BattingJson {
    width: Decimal,
    height: Decimal,
}

#[derive(Serialize)]
struct LeftOutJson {
    #[serde(skip_serializing_if = "Option::is_none")]
    block_size: Option<Decimal>,
    #[serde(skip_serializing_if = "Option::is_none")]
    colours: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    size_for: Option<String>,
    why: String,
}

/// All rows of a table of `design`, and the file it was written to.
pub(super) fn table_json(table: &Table, design: &Design, file: Option<&Path>) -> TableJson {
    let units = design.units();
    TableJson {
        unit: unit_name(units),
        plan: "quick",
        name: design.name().to_owned(),
        file: file.map(|path| path.display().to_string()),
        rows: table.rows.iter().map(|row| row_json(row, units)).collect(),
        left_out: table.left_out.iter().map(|left| left_out_json(left, units)).collect(),
    }
}

fn row_json(row: &TableRow, units: Units) -> RowJson {
    let measured = |inches| length(inches, units);
    let (binding, backing) = (&row.binding, &row.backing);
    let roles = |fabric: &FabricRow| {
        let id = fabric.fabric.0;
        let role = |(role, count): &(geometry::Role, u64)| RoleJson {
            role: role.name().to_owned(),
            fabric: id,
            count: *count,
        };
        fabric.roles.iter().map(role).collect::<Vec<_>>()
    };
    RowJson {
        block_size: measured(row.size.length.inches()),
        block_size_of: row.size.by.words(),
        size_for: row.extent.id(),
        colours: row.colours.words(),
        rows: row.rows,
        columns: row.columns,
        blocks: row.blocks,
        patches: row.patches,
        finished_width: measured(&row.finished.0),
        finished_height: measured(&row.finished.1),
        wider: row.over.as_ref().map(|over| measured(&over.0)),
        longer: row.over.as_ref().map(|over| measured(&over.1)),
        borders: row
            .borders
            .iter()
            .map(|(sides, level)| BorderJson { width: measured(sides), level_width: measured(level) })
            .collect(),
        fabrics: row.fabrics.iter().map(|fabric| fabric_json(fabric, units)).collect(),
        roles: row.fabrics.iter().flat_map(roles).collect(),
        binding: BindingJson {
            fabric: row.binding_fabric.0,
            strips: binding.strips,
            strip_width: measured(&binding.strip_width),
            bias_strip_length: (binding.grain == BindingGrain::Bias).then(|| measured(&binding.strip_length)),
            needed_length: measured(&binding.needed),
            joined_length: measured(&binding.joined),
        },
        backing: BackingJson {
            width: measured(&backing.width),
            height: measured(&backing.height),
            panels: backing.panels,
            panel_length: measured(&backing.panel_length),
            required_length: measured(&backing.required),
            buy_length: measured(&row.backing_purchase.buy),
            buy_label: row.backing_purchase.label.clone(),
        },
        batting: BattingJson { width: measured(&backing.width), height: measured(&backing.height) },
    }
}

fn fabric_json(fabric: &FabricRow, units: Units) -> FabricJson {
    FabricJson {
        id: fabric.fabric.0,
        name: fabric.name.clone(),
        patches: fabric.patches,
        strips: fabric.strips,
        required_length: length(&fabric.required, units),
        buy_length: length(&fabric.buy, units),
        buy_label: fabric.buy_label.clone(),
        cost: fabric.cost.map(|cost| cost.to_string()),
    }
}

fn left_out_json(left: &LeftOut, units: Units) -> LeftOutJson {
    LeftOutJson {
        block_size: left.size.as_ref().map(|size| length(size.inches(), units)),
        colours: left.colours.map(Colours::words),
        size_for: left.extent.map(Extent::id),
        why: left.why.clone(),
    }
}
