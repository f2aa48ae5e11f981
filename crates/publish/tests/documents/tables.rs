//! Tables: what they hold and leave out, how much work they are, the same rows on any number of threads, and what CSV and
//! pages make of them. That each row is what `totals` says is shown by the journeys, through the program.

use std::collections::BTreeMap;
use std::path::PathBuf;

use cutting::{Ledger, Watch};
use geometry::{Exact, Length, Measure, Recipe, Size, Value};
use layout::beds::bed;
use layout::file::Document;
use layout::{
    BlockId, Colour, ColourScheme, Design, Edit, FabricId, PlaceId, Resize, Setting, Starter, Tally, Units, apply,
};
use publish::tables::{
    Colours, Extent, MAX_EXTENTS, Table, TableError, TableWishes, TableWork, quilt_of, spreadsheet, table_pages, tables,
};
use publish::{Paper, exports};

fn inches(eighths: i64) -> Length {
    Length::inch_fraction(eighths, 8).unwrap()
}

fn block(inches: i64) -> Size {
    Size { by: Measure::Block, length: Length::whole_inches(inches).unwrap() }
}

fn quilt(recipe: Recipe) -> Design {
    let fabric = |name: &str, value| (name.to_owned(), Colour::rgb(90, 90, 120), value);
    let starter = Starter {
        name: "Harbour lights".to_owned(),
        units: Units::Inches,
        fabrics: vec![
            fabric("Slate", Value::Dark),
            fabric("Chalk", Value::Light),
            fabric("Brick", Value::Medium),
            fabric("Moss", Value::Medium),
        ],
        blocks: vec![("Half block".to_owned(), recipe)],
        scheme: ColourScheme::Four {
            dark: FabricId(1),
            light: FabricId(2),
            on_dark: FabricId(3),
            on_light: FabricId(4),
        },
        setting: Setting::Straight { rows: 6, columns: 4 },
        borders: vec![(Length::whole_inches(3).unwrap(), FabricId(1))],
        binding: FabricId(1),
    };
    starter.design().unwrap()
}

fn half_blocks() -> Design {
    quilt(Recipe::DiagonalHalf { size: block(9), band: None })
}

fn beds(ids: &[&str]) -> Vec<Extent> {
    ids.iter().map(|id| Extent::Bed(bed(id).unwrap())).collect()
}

/// Block sizes in eighths of an inch.
fn wishes(eighths: &[i64], extents: Vec<Extent>) -> TableWishes {
    TableWishes {
        sizes: eighths.iter().map(|n| inches(*n)).collect(),
        extents,
        colours: vec![Colours::Two, Colours::Three, Colours::Four],
        within: Length::whole_inches(6).unwrap(),
    }
}

fn made(design: &Design, wishes: &TableWishes) -> Table {
    tables(design, wishes, 1, &Watch::new()).unwrap()
}

fn refused(design: &Design, wishes: &TableWishes) -> String {
    tables(design, wishes, 1, &Watch::new()).unwrap_err().to_string()
}

/// By hand: 5 columns × 7 rows of 8 in and a border of 3 in; 46 × 62 in. In two fabrics the diamonds of a dark half are
/// light and those of a light half dark, so both fabrics have a triangle, a trapezoid and two diamonds a block.
#[test]
fn a_row_by_hand() {
    let table = made(&half_blocks(), &wishes(&[64], vec![Extent::Blocks { rows: 7, columns: 5 }]));
    let [two, three, four] = table.rows.as_slice() else { panic!("{} rows", table.rows.len()) };
    for row in [two, three, four] {
        assert_eq!((row.rows, row.columns, row.blocks), (7, 5, 35));
        assert_eq!(row.finished, (Exact::int(46), Exact::int(62)));
        assert_eq!(row.patches, 35 * 8 + 4);
        // Perimeter 216 in and 12 in over, of 40 in strips that lose 2½ in at each join: 6 · 40 − 5 · 2½ = 227½ < 228.
        assert_eq!(row.binding.strips, 7);
        assert_eq!((&row.backing.width, &row.backing.height), (&Exact::int(54), &Exact::int(70)));
    }
    let count = |row: &publish::tables::TableRow, fabric: usize, role: &str| {
        row.fabrics[fabric].roles.iter().find(|(own, _)| own.name() == role).map_or(0, |(_, count)| *count)
    };
    assert_eq!([0, 1].map(|fabric| count(two, fabric, "diamond")), [70, 70]);
    assert_eq!([0, 1, 2].map(|fabric| count(three, fabric, "diamond")), [0, 0, 140]);
    assert_eq!([0, 1, 2, 3].map(|fabric| count(four, fabric, "diamond")), [0, 0, 70, 70]);
    assert_eq!([0, 1].map(|fabric| count(four, fabric, "trapezoid")), [35, 35]);
    assert!(table.left_out.is_empty());
}

/// Rows stand by size, fabrics and size of quilt, and any number of threads gives the same.
#[test]
fn threads_change_nothing() {
    let design = half_blocks();
    let mut asked = wishes(&[96, 48, 76, 48], beds(&["queen", "crib"]));
    asked.extents.push(Extent::Blocks { rows: 5, columns: 5 });
    let one = made(&design, &asked);
    for threads in [2, 3] {
        let more = tables(&design, &asked, threads, &Watch::new()).unwrap();
        assert_eq!(more, one, "{threads} threads");
        assert_eq!(spreadsheet(&more, &design).csv().unwrap(), spreadsheet(&one, &design).csv().unwrap());
    }
    let key = |row: &publish::tables::TableRow| {
        let extent = asked.extents.iter().position(|extent| *extent == row.extent).unwrap();
        (row.size.length.clone(), row.colours, extent)
    };
    assert!(one.rows.is_sorted_by(|a, b| key(a) < key(b)), "each once and in order");
    let whole =
        one.rows.len() + one.left_out.iter().map(|left| if left.colours.is_some() { 1 } else { 3 }).sum::<usize>();
    assert_eq!(whole, 3 * 3 * 3);
}

/// Each row is what the counts and plans of one edit from the quilt itself say.
#[test]
fn rows_are_what_one_edit_gives() {
    let design = half_blocks();
    let extents = vec![Extent::Blocks { rows: 4, columns: 3 }, Extent::Blocks { rows: 1, columns: 1 }];
    let table = made(&design, &TableWishes { colours: vec![Colours::AsPainted], ..wishes(&[56, 72], extents) });
    assert_eq!(table.rows.len(), 4);
    for row in &table.rows {
        let size = Size { by: Measure::Block, length: row.size.length.clone() };
        let recipes = vec![(BlockId(1), Recipe::DiagonalHalf { size, band: None })];
        let (rows, columns, borders) = (row.rows, row.columns, design.borders().to_vec());
        let (quilt, _) = apply(&design, &Edit::Resize(Resize { recipes, rows, columns, borders })).unwrap();
        let tally = Tally::count(&quilt).unwrap();
        let ledger = Ledger::new(&quilt, &tally).unwrap();
        assert_eq!(row.patches, tally.total());
        assert_eq!(row.fabrics.len(), ledger.plans().len());
        for (fabric, (id, plan)) in row.fabrics.iter().zip(ledger.plans()) {
            let plan = plan.as_ref().unwrap();
            assert_eq!(
                (fabric.fabric, &fabric.required, &fabric.buy),
                (*id, &plan.all_parts().required(), &plan.all_parts().to_buy())
            );
            let roles: BTreeMap<_, _> = fabric.roles.iter().cloned().collect();
            assert_eq!(Some(roles), ledger.uses().get(id).map(|used| used.roles.clone()));
        }
    }
}

/// Blocks are drafted once a size, tops made once a size of quilt, and a fabric whose pieces do not change between three
/// and four fabrics (here the dark and the light one) is planned once for both.
#[test]
fn work_is_shared() {
    let extents: Vec<Extent> = (3..8).map(|n| Extent::Blocks { rows: n + 1, columns: n }).collect();
    let table = made(&half_blocks(), &wishes(&[48, 64, 80], extents));
    assert_eq!(table.rows.len(), 3 * 5 * 3);
    let tops = 3 * 5;
    // Two fabrics, then three others of them anew, then the third and the fourth.
    assert_eq!(table.work, TableWork { blocks_drafted: 3, tops_made: tops, fabrics_planned: tops * (2 + 3 + 2) });
}

#[test]
fn what_is_left_out_is_told() {
    let design = quilt(Recipe::NinePatch(block(9)));
    let seventh = Length::inch_fraction(64, 7).unwrap();
    let mut asked = wishes(&[72, 320], beds(&["crib", "king"]));
    asked.sizes.push(seventh);
    let table = made(&design, &asked);
    let told: Vec<String> = table.left_out.iter().map(|left| left.words(Units::Inches)).collect();
    for part in [
        "3 fabrics: its patches take no more than 2 of them",
        "4 fabrics: its patches take no more than 2 of them",
        "no ruler with steps of ⅛″ has it",
        "blocks of 40″, Crib: one block is larger than 27¼″ × 51⅝″",
    ] {
        assert!(told.iter().any(|line| line.contains(part)), "{part} in {told:?}");
    }
    let near = TableWishes { within: inches(1), ..asked };
    let table = made(&design, &near);
    let misses = table.left_out.iter().filter(|left| left.why.starts_with("the nearest quilt misses by too much"));
    assert!(misses.count() > 0, "{:?}", table.left_out);
    for row in &table.rows {
        let (wider, longer) = row.over.as_ref().unwrap();
        assert!(wider.abs() <= *inches(1).inches() && longer.abs() <= *inches(1).inches());
    }
}

#[test]
fn a_piece_that_no_fabric_holds_leaves_its_rows_out() {
    let plain = Recipe::Plain { width: Length::whole_inches(9).unwrap(), height: Length::whole_inches(9).unwrap() };
    let extents = vec![Extent::Blocks { rows: 2, columns: 2 }];
    let asked = TableWishes { colours: vec![Colours::AsPainted], ..wishes(&[72, 400], extents) };
    let table = made(&quilt(plain), &asked);
    assert_eq!(table.rows.len(), 1);
    let [left] = table.left_out.as_slice() else { panic!("{:?}", table.left_out) };
    assert_eq!((left.size.as_ref(), left.colours), (Some(&inches(400)), Some(Colours::AsPainted)));
    assert!(left.why.contains("50.5"), "{}", left.why);
}

#[test]
fn wishes_without_sense_are_refused() {
    let design = half_blocks();
    let good = wishes(&[72], beds(&["crib"]));
    let many = vec![Extent::Blocks { rows: 2, columns: 2 }; MAX_EXTENTS + 1];
    for (asked, told) in [
        (TableWishes { sizes: Vec::new(), ..good.clone() }, "give 1 to 100 block sizes, not 0"),
        (TableWishes { extents: Vec::new(), ..good.clone() }, "give 1 to 100 beds"),
        (TableWishes { colours: Vec::new(), ..good.clone() }, "numbers of fabrics, not 0"),
        (TableWishes { extents: many, ..good.clone() }, "not 101"),
        (
            TableWishes { extents: vec![Extent::Blocks { rows: 0, columns: 4 }], ..good.clone() },
            "not 0 rows × 4 columns",
        ),
        (
            TableWishes { sizes: vec![Length::inch_fraction(64, 7).unwrap()], ..good.clone() },
            "there is no quilt to list",
        ),
    ] {
        let error = refused(&design, &asked);
        assert!(error.contains(told), "{told} in {error}");
    }
    let stopped = Watch::new();
    stopped.stop();
    assert!(matches!(tables(&design, &good, 1, &stopped), Err(TableError::Stopped)));
    let watch = Watch::new();
    tables(&design, &good, 1, &watch).unwrap();
    assert_eq!(watch.progress(), (1, 1));
}

#[test]
fn one_block_makes_a_quilt_of_its_own() {
    let sample = sample_of("throw-two-windows.json");
    let error = quilt_of(&sample, Some(BlockId(99))).unwrap_err().to_string();
    assert!(error.starts_with("there is no block 99; the quilt has 1 "), "{error}");
    for file in ["full-six-winds.json", "king-lantern-orchard.json", "queen-weathervane.json"] {
        let sample = sample_of(file);
        for (id, def) in sample.blocks() {
            let alone = quilt_of(&sample, Some(id)).unwrap();
            assert!(alone.places().all(|(_, place)| place.block == id), "{file}: {}", def.name());
            assert!(alone.borders().is_empty() && alone.sashing().is_none());
            assert_eq!(alone.seam(), sample.seam());
        }
    }
}

fn sample_of(file: &str) -> Design {
    let path = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts")).join(file);
    Document::open(&path).unwrap().variants()[0].design.clone()
}

/// A spreadsheet gives back every cell, and the lines of a quilt are its fabrics, its backing and its batting.
#[test]
fn csv_is_read_back() {
    let design = half_blocks();
    let table = made(&design, &wishes(&[60, 72], beds(&["crib", "twin"])));
    let exports::Table { head: headings, rows: lines } = spreadsheet(&table, &design);
    let bytes = spreadsheet(&table, &design).csv().unwrap();
    let mut reader = csv::Reader::from_reader(bytes.strip_prefix(b"\xef\xbb\xbf").unwrap());
    assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), headings);
    let read: Vec<Vec<String>> =
        reader.records().map(|line| line.unwrap().iter().map(str::to_owned).collect()).collect();
    assert_eq!(read, lines);
    assert_eq!(lines.len(), table.rows.iter().map(|row| row.fabrics.len() + 2).sum::<usize>());
    let column = |name: &str| headings.iter().position(|heading| heading == name).unwrap();
    let mut line = lines.iter();
    for row in &table.rows {
        for fabric in &row.fabrics {
            let cells = line.next().unwrap();
            let cell = |name: &str| cells[column(name)].as_str();
            assert_eq!([cell("plan"), cell("what"), cell("fabric")], ["quick", "fabric", &fabric.name]);
            assert_eq!(cell("to buy"), fabric.buy_label);
            let bought: f64 = cell("length to buy (in)").parse().unwrap();
            assert!((bought - fabric.buy.to_f64()).abs() < 1e-9);
            let roles: u64 = (column("cost") + 1..headings.len()).map(|i| cells[i].parse::<u64>().unwrap()).sum();
            assert_eq!(roles, fabric.patches);
        }
        assert_eq!(line.next().unwrap()[column("what")], "backing");
        assert_eq!(line.next().unwrap()[column("what")], "batting");
    }
}

/// Where text stands on a page, from its lower left corner in points: beginnings of text runs, and the page's size.
fn texts(pdf: &lopdf::Document, page: lopdf::ObjectId) -> Vec<(f32, f32)> {
    let content = lopdf::content::Content::decode(&pdf.get_page_content(page)).unwrap();
    let mut stack = vec![[1.0_f32, 0.0, 0.0, 1.0, 0.0, 0.0]];
    let mut found = Vec::new();
    for operation in content.operations {
        let operands: Vec<f32> = operation.operands.iter().filter_map(|o| o.as_float().ok()).collect();
        match (operation.operator.as_str(), operands.as_slice()) {
            ("q", _) => stack.push(*stack.last().unwrap()),
            ("Q", _) => drop(stack.pop()),
            ("cm", &[a, b, c, d, e, f]) => {
                let [m0, m1, m2, m3, m4, m5] = *stack.last().unwrap();
                let (x, y) = (e * m0 + f * m2 + m4, e * m1 + f * m3 + m5);
                let next = [a * m0 + b * m2, a * m1 + b * m3, c * m0 + d * m2, c * m1 + d * m3, x, y];
                *stack.last_mut().unwrap() = next;
            }
            ("Tm", &[_, _, _, _, x, y]) => {
                let [a, b, c, d, e, f] = *stack.last().unwrap();
                found.push((x * a + y * c + e, x * b + y * d + f));
            }
            _ => {}
        }
    }
    found
}

/// Pages lie across, nothing is set beyond the margins, and a table that goes on has its head on every page.
#[test]
fn pages_keep_their_margins_and_repeat_their_heads() {
    let design = half_blocks();
    let extents = (3..40).map(|n| Extent::Blocks { rows: n + 1, columns: n }).collect();
    let table = made(&design, &wishes(&[64], extents));
    for paper in Paper::ALL {
        let pages = table_pages(&table, &design, paper).unwrap();
        let pdf = lopdf::Document::load_mem(&pages.pdf().unwrap()).unwrap();
        let numbers: Vec<u32> = pdf.get_pages().keys().copied().collect();
        assert!(numbers.len() > 6, "{} pages", numbers.len());
        let mut heads = 0;
        for (number, page) in pdf.get_pages() {
            let sizes = pdf.get_dictionary(page).unwrap().get(b"MediaBox").unwrap().as_array().unwrap();
            let [width, height] = [2, 3].map(|i: usize| sizes[i].as_float().unwrap());
            assert!(width > height, "landscape");
            let at = texts(&pdf, page);
            assert!(!at.is_empty());
            for (x, y) in at {
                assert!((53.9..=width - 54.0).contains(&x), "page {number}: text at {x}");
                assert!((20.0..=height - 20.0).contains(&y), "page {number}: text at {y}");
            }
            let text = pdf.extract_text(&[number]).unwrap();
            heads += usize::from(text.contains("Finished") && text.contains("Backing"));
        }
        assert!(heads >= 3, "the head of what to buy stands on {heads} pages");
        let all = pdf.extract_text(&numbers).unwrap();
        for part in ["Quick plan", "Usable width 40", "shrinkage", "Seam allowance"] {
            assert!(all.contains(part), "{part}");
        }
    }
}

/// Paint of single patches and places does not follow into so few fabrics; the quilt itself keeps it.
#[test]
fn a_painted_quilt_is_counted_as_painted_or_in_its_own_two_fabrics() {
    let plain = half_blocks();
    let place = PlaceId::Cell { row: 0, column: 0 };
    let patches = plain.block(BlockId(1)).unwrap().block().patches();
    let patch = patches.iter().find(|patch| patch.role.name() == "trapezoid").unwrap().key;
    let edit = Edit::PaintPatch { place, patch, fabric: FabricId(3) };
    let painted = apply(&plain, &edit).unwrap().0;
    let asked = wishes(&[72], vec![Extent::Blocks { rows: 6, columns: 4 }]);
    let asked = TableWishes { colours: Colours::ALL.to_vec(), ..asked };
    let [one, other] = [&plain, &painted].map(|design| made(design, &asked));
    assert_ne!(one.rows[0], other.rows[0], "as painted");
    assert_eq!(one.rows[1..], other.rows[1..]);
    assert_eq!(other.rows[1].fabrics.len(), 2);
}
