//! The kinds of setting that can be chosen, one row of a table each.

use eframe::egui::Ui;
use layout::{Design, FabricId, Setting};

use super::fields::{fabric, line};
use crate::window::paint::fabrics_by_value;

/// A kind of setting as it is offered.
pub(super) struct Kind {
    /// What it is called.
    pub(super) name: &'static str,
    /// What its rows and columns are called.
    pub(super) counts: [&'static str; 2],
    /// Whether a setting is of this kind.
    pub(super) is: fn(Setting) -> bool,
    /// The one to begin with, of so many rows and columns.
    pub(super) of_size: fn(&Design, (u16, u16)) -> Setting,
    /// Fields that no other kind has.
    pub(super) own: fn(&mut Ui, &Design, &mut Setting),
}

/// All of them, the simplest first.
pub(super) const KINDS: [Kind; 6] = [
    Kind {
        name: "Straight rows",
        counts: ["Rows", "Columns"],
        is: |setting| matches!(setting, Setting::Straight { .. }),
        of_size: |_, (rows, columns)| Setting::Straight { rows, columns },
        own: |_, _, _| {},
    },
    Kind {
        name: "On point",
        counts: ["Rows", "Columns"],
        is: |setting| matches!(setting, Setting::OnPoint { .. }),
        of_size: |design, (rows, columns)| {
            let fabric = lightest(design);
            Setting::OnPoint { rows, columns, sides: fabric, corners: fabric }
        },
        own: |ui, design, setting| {
            if let Setting::OnPoint { sides, corners, .. } = setting {
                line(ui, "Side triangles", |ui| fabric(ui, design, sides, "Fabric of side triangles"));
                line(ui, "Corner triangles", |ui| fabric(ui, design, corners, "Fabric of corner triangles"));
            }
        },
    },
    Kind {
        name: "Rows of triangles",
        counts: ["Rows", "Triangles in a row"],
        is: |setting| matches!(setting, Setting::TriangleRows { .. }),
        of_size: |design, (rows, columns)| Setting::TriangleRows { rows, columns, ends: lightest(design) },
        own: |ui, design, setting| {
            if let Setting::TriangleRows { ends, .. } = setting {
                line(ui, "Ends of rows", |ui| fabric(ui, design, ends, "Fabric of row ends"));
            }
        },
    },
    Kind {
        name: "Rows of hexagons",
        counts: ["Rows", "Hexagons in the first row"],
        is: |setting| matches!(setting, Setting::HexagonRows { .. }),
        of_size: |design, (rows, columns)| {
            let fabric = lightest(design);
            Setting::HexagonRows { rows, columns, halves: fabric, edges: fabric }
        },
        own: |ui, design, setting| {
            if let Setting::HexagonRows { halves, edges, .. } = setting {
                line(ui, "Half hexagons", |ui| fabric(ui, design, halves, "Fabric of half hexagons"));
                line(ui, "Edge triangles", |ui| fabric(ui, design, edges, "Fabric of edge triangles"));
            }
        },
    },
    Kind {
        name: "Star rows",
        counts: ["Rows", "Stars in a row"],
        is: |setting| matches!(setting, Setting::StarRows { .. }),
        of_size: |design, (rows, columns)| {
            let fabric = lightest(design);
            Setting::StarRows { rows, columns, between: fabric, ends: fabric }
        },
        own: |ui, design, setting| {
            if let Setting::StarRows { between, ends, .. } = setting {
                line(ui, "Between stars", |ui| fabric(ui, design, between, "Fabric of setting triangles"));
                line(ui, "Ends of rows", |ui| fabric(ui, design, ends, "Fabric of row ends"));
            }
        },
    },
    Kind {
        name: "Sampler of several sizes",
        counts: ["Rows", "Blocks in the longest row"],
        is: |setting| matches!(setting, Setting::Sampler { .. }),
        of_size: |design, (rows, columns)| Setting::Sampler { rows, columns, filler: lightest(design) },
        own: |ui, design, setting| {
            if let Setting::Sampler { filler, .. } = setting {
                line(ui, "Filler strips", |ui| fabric(ui, design, filler, "Fabric of filler strips"));
            }
        },
    },
];

/// The kind that a setting is of.
pub(super) fn kind_of(setting: Setting) -> &'static Kind {
    KINDS.iter().find(|kind| (kind.is)(setting)).unwrap_or(&KINDS[0])
}

fn lightest(design: &Design) -> FabricId {
    fabrics_by_value(design).last().copied().unwrap_or(design.binding().fabric)
}
