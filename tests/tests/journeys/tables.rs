//! The command that makes tables, as a stranger reads it: each row is what `totals` and `cut` say of the same quilt, made
//! here by other edits, saved and measured through the program.

use crate::program;

use std::collections::BTreeSet;
use std::path::Path;
use std::process::ExitCode;

use geometry::{Exact, Length, Value};
use layout::beds::{Wishes, bed, present_size, propose};
use layout::file::Document;
use layout::{
    ColourScheme, Design, Edit, Fabric, FabricId, Overwrite, PlaceId, PlacePaint, Resize, apply, colour_table,
};
use program::{good, lozenge, on, sample_files, sample_folder};
use serde_json::Value as Json;

fn json(command: &str, file: &Path, options: &[&str]) -> Json {
    serde_json::from_str(&good(on(command, file, &[options, &["--json"]].concat()))).unwrap()
}

fn edited(design: &Design, edit: &Edit) -> Design {
    apply(design, edit).unwrap().0
}

/// The quilt of a row, by one change of size.
fn resized(design: &Design, row: &Json) -> Design {
    let present = present_size(design).unwrap().length;
    let size = length(&row["block_size"], design);
    let number = |key: &str| u16::try_from(row[key].as_u64().unwrap()).unwrap();
    let (rows, columns) = (number("rows"), number("columns"));
    let Some(bed) = bed(row["size_for"].as_str().unwrap()) else {
        return edited(design, &Edit::Resize(scaled(design, &present, &size, (rows, columns))));
    };
    let wishes = Wishes { sizes: vec![size.clone()], count: 1, ..Wishes::usual(design).unwrap() };
    let proposal = propose(design, &bed.target(), &wishes).unwrap().remove(0);
    if (proposal.rows, proposal.columns) == (rows, columns) && has_borders(row, &proposal.borders, design) {
        return edited(design, &proposal.edits()[0]);
    }
    assert_eq!(size, present, "only a quilt that fits as it is stays so");
    design.clone()
}

/// Whether the borders of a row are as wide as these; widths may be printed to twelve decimals.
fn has_borders(row: &Json, borders: &[layout::Border], design: &Design) -> bool {
    let inch = if design.units() == layout::Units::Inches { 1.0 } else { 2.54 };
    let listed = row["borders"].as_array().unwrap();
    let near = |(listed, own): (&Json, &layout::Border)| {
        (listed["width"].as_f64().unwrap() - own.width.inches().to_f64() * inch).abs() < 1e-9
    };
    listed.len() == borders.len() && listed.iter().zip(borders).all(near)
}

/// Blocks of another size, and how many.
fn scaled(design: &Design, from: &Length, to: &Length, (rows, columns): (u16, u16)) -> Resize {
    let factor = to.inches().checked_div(from.inches()).unwrap();
    let placed: BTreeSet<_> = design.places().map(|(_, place)| place.block).collect();
    let recipe = |id| (id, design.block(id).unwrap().recipe().scaled(&factor).unwrap());
    Resize { recipes: placed.into_iter().map(recipe).collect(), rows, columns, borders: design.borders().to_vec() }
}

/// A length that the program printed as a decimal in the quilt's unit.
fn length(printed: &Json, design: &Design) -> Length {
    let text = printed.to_string();
    let (whole, decimals) = text.split_once('.').unwrap_or((&text, ""));
    let places = u32::try_from(decimals.len()).unwrap();
    let value = Exact::ratio(format!("{whole}{decimals}").parse().unwrap(), 10_i64.pow(places)).unwrap();
    let (num, den) = if design.units() == layout::Units::Inches { (1, 1) } else { (50, 127) };
    Length::new(&value * &Exact::ratio(num, den).unwrap()).unwrap()
}

/// The fabrics of a variation: of what the program says is in the quilt, the largest areas of each value.
fn fabrics(design: &Design, totals: &Json, count: usize) -> Vec<Option<FabricId>> {
    let listed = totals["fabrics"].as_array().unwrap().iter();
    let mut shown: Vec<(f64, FabricId, Value)> = listed
        .filter(|fabric| fabric["patches"].as_u64() != Some(0))
        .map(|fabric| {
            let id = FabricId(u32::try_from(fabric["id"].as_u64().unwrap()).unwrap());
            (fabric["finished_area"].as_f64().unwrap(), id, design.fabric(id).unwrap().value)
        })
        .collect();
    let mut most = |values: [Value; 3], known: usize| {
        let best = values[..known].iter().find_map(|value| {
            let of_value = shown.iter().filter(|(_, _, own)| own == value);
            of_value.reduce(|a, b| if b.0 > a.0 { b } else { a }).copied()
        })?;
        shown.retain(|(_, id, _)| *id != best.1);
        Some(best.1)
    };
    use Value::{Dark, Light, Medium};
    let first = [most([Dark, Medium, Light], 2), most([Light, Medium, Dark], 2)];
    let more = [most([Medium, Dark, Light], 3), most([Medium, Dark, Light], 3)];
    first.into_iter().chain(more).take(count).collect()
}

/// The quilt in so many fabrics, its role tables set at once.
fn dressed(design: &Design, totals: &Json, colours: &str) -> Design {
    let Ok(count) = colours.trim_end_matches(" fabrics").parse::<usize>() else { return design.clone() };
    let by_patch = design.place_patches().map(|(place, _, _)| place);
    let painted: BTreeSet<PlaceId> = by_patch.chain(design.place_roles().map(|(place, _, _)| place)).collect();
    let bare = painted.into_iter().map(|place| (place, PlacePaint::default())).collect();
    let mut next = edited(design, &Edit::Repaint(bare));
    let mut chosen = Vec::new();
    for (own, value) in
        fabrics(design, totals, count).into_iter().zip([Value::Dark, Value::Light, Value::Medium, Value::Medium])
    {
        chosen.push(own.unwrap_or_else(|| {
            let look = layout::Colour::rgb(1, 2, 3);
            let fabric = Fabric::plain("added", look, value, design.backing().usable_width.clone());
            next = edited(&next, &Edit::AddFabric(fabric));
            next.fabrics().map(|(id, _)| id).max().unwrap()
        }));
    }
    let others: Vec<(FabricId, Value)> =
        next.fabrics().filter(|(id, _)| !chosen.contains(id)).map(|(id, fabric)| (id, fabric.value)).collect();
    for (from, value) in others {
        let to = match value {
            Value::Dark => chosen[0],
            Value::Light => chosen[1],
            Value::Medium => chosen.get(2).copied().unwrap_or(chosen[0]),
        };
        next = edited(&next, &Edit::ReplaceFabric { from, to });
    }
    let scheme = match *chosen.as_slice() {
        [dark, light] => ColourScheme::Two { dark, light },
        [dark, light, accent] => ColourScheme::Three { dark, light, accent },
        [dark, light, on_dark, on_light] => ColourScheme::Four { dark, light, on_dark, on_light },
        _ => panic!("{colours}"),
    };
    let blocks: Vec<_> = next.blocks().map(|(id, def)| (id, colour_table(def.block(), scheme))).collect();
    for (block, table) in blocks {
        for role in table.keys().map(|(role, _)| role.clone()).collect::<BTreeSet<_>>() {
            // What was painted apart from its role goes with it.
            next = edited(&next, &Edit::PaintRole { block, role, value: None, fabric: chosen[0] });
        }
        next = edited(&next, &Edit::SetRoleTable(block, table));
    }
    next
}

/// Whether a row is what `totals` and `cut` say of its quilt.
fn agrees(name: &str, row: &Json, saved: &Path) {
    let totals = json("totals", saved, &[]);
    let name = format!("{name}: {} {} {}", row["block_size"], row["size_for"], row["colours"]);
    for key in ["rows", "columns"] {
        assert!(row[key].as_u64().unwrap() > 0, "{name}");
    }
    for key in ["blocks", "patches", "finished_width", "finished_height", "roles", "batting"] {
        assert_eq!(row[key], totals[key], "{name}: {key}");
    }
    for part in ["binding", "backing"] {
        for (key, value) in row[part].as_object().unwrap() {
            assert_eq!(*value, totals[part][key], "{name}: {part} {key}");
        }
    }
    let cut = json("cut", saved, &["--quick"]);
    let list = |json: &Json| json["fabrics"].as_array().unwrap().clone();
    assert_eq!(list(row).len(), list(&totals).len(), "{name}");
    for ((own, told), cut) in list(row).iter().zip(list(&totals)).zip(list(&cut)) {
        for key in ["id", "patches", "required_length", "buy_length", "buy_label"] {
            assert_eq!(own[key], told[key], "{name}: {} {key}", told["name"]);
        }
        assert_eq!(own.get("cost"), told.get("cost"), "{name}: {}", told["name"]);
        let strips = cut["strips"].as_array().unwrap().iter().map(|run| run["strips"].as_u64().unwrap()).sum::<u64>();
        if cut.get("sheets").is_none() && cut.get("parts").is_none() {
            assert_eq!(own["strips"].as_u64(), Some(strips), "{name}: strips of {}", told["name"]);
        }
    }
}

/// Every row of a small table of every sample, and of its blocks of a size more for two beds.
#[test]
fn each_row_is_what_totals_says_of_that_quilt() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("row.json");
    let mut seen = 0;
    for file in sample_files() {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        let document = Document::open(&file).unwrap();
        let design = &document.variants()[0].design;
        if design.sampler_plan().is_some() {
            let refused = lozenge(on("tables", &file, &["--json"])).err;
            assert!(refused.contains("a sampler is as large as its blocks make it"), "{refused}");
            continue;
        }
        let totals = json("totals", &file, &[]);
        let sizes = if design.units() == layout::Units::Inches { "8,10.5" } else { "8cm,10.5cm" };
        let options = ["--sizes", sizes, "--beds", "crib,queen,5x4", "--colours", "as-painted,2,3,4", "--within", "8"];
        let table = json("tables", &file, &options);
        assert_eq!(table["plan"], "quick");
        for row in table["rows"].as_array().unwrap() {
            let quilt = dressed(&resized(design, row), &totals, row["colours"].as_str().unwrap());
            Document::new(quilt).save(&saved, Overwrite::Replace).unwrap();
            agrees(&name, row, &saved);
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen} rows");
}

/// Rows here and there of a large table.
#[test]
fn rows_of_a_large_table_are_what_totals_says() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("row.json");
    let file = sample_folder().join("lap-owl-lane.json");
    let document = Document::open(&file).unwrap();
    let design = &document.variants()[0].design;
    let totals = json("totals", &file, &[]);
    let table =
        json("tables", &file, &["--beds", "crib,lap,throw,twin,full,queen,king,wall,4x4,6x5,9x9", "--within", "9"]);
    let rows = table["rows"].as_array().unwrap();
    assert!(rows.len() > 150, "{} rows", rows.len());
    // A step that has no factor in common with the numbers of beds and fabrics meets all of them.
    for row in rows.iter().step_by(17) {
        let quilt = dressed(&resized(design, row), &totals, row["colours"].as_str().unwrap());
        Document::new(quilt).save(&saved, Overwrite::Replace).unwrap();
        agrees("lap-owl-lane", row, &saved);
    }
}

#[test]
fn tables_are_written_whole_and_not_over_others() {
    let folder = tempfile::tempdir().unwrap();
    let file = sample_folder().join("twin-meadow-survey.json");
    let target = folder.path().join("table.csv");
    let to = target.to_str().unwrap();
    let options = ["--out", to, "--sizes", "9", "--beds", "crib,twin", "--threads", "2"];
    let told = good(on("tables", &file, &options));
    assert!(told.contains("quick plan") && told.contains(to), "{told}");
    let first = std::fs::read(&target).unwrap();
    let again = lozenge(on("tables", &file, &options));
    assert_eq!(again.code, ExitCode::from(1));
    assert!(again.err.contains("--force") || again.err.contains("there"), "{}", again.err);
    let one = ["--out", to, "--sizes", "9", "--beds", "crib,twin", "--threads", "1", "--force"];
    good(on("tables", &file, &one));
    assert_eq!(std::fs::read(&target).unwrap(), first, "the same bytes on any number of threads");
    let pages = folder.path().join("table.pdf");
    let to_pages = ["--out", pages.to_str().unwrap(), "--sizes", "9", "--beds", "twin", "--paper", "letter"];
    good(on("tables", &file, &to_pages));
    assert!(std::fs::read(&pages).unwrap().starts_with(b"%PDF"));
}

#[test]
fn what_cannot_be_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let file = sample_folder().join("twin-meadow-survey.json");
    let other = folder.path().join("table.txt");
    for (options, code, told) in [
        (&["--json", "--sizes", "nine"][..], 2, "write a length such as 9"),
        (&["--json", "--sizes", "0"], 2, "more than 0"),
        (&["--json", "--beds", "sofa"], 2, "california-king"),
        (&["--json", "--beds", "sofa"], 2, "rows and columns such as 7x5"),
        (&["--json", "--colours", "5"], 2, "as-painted"),
        (&["--json", "--block", "77"], 1, "there is no block 77"),
        (&["--json", "--beds", "0x4"], 1, "not 0 rows × 4 columns"),
        (&["--json", "--sizes", "9.01"], 1, "no ruler with steps of"),
        (&["--out", other.to_str().unwrap()], 1, "written as .csv or .pdf"),
        (&[], 2, "--out"),
    ] {
        let ran = lozenge(on("tables", &file, options));
        assert_eq!(ran.code, ExitCode::from(code), "{options:?}: {}", ran.err);
        assert!(ran.err.contains(told), "{told} in {options:?}: {}", ran.err);
    }
}
