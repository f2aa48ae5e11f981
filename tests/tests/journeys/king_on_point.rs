//! A king quilt on point against sums that are worked out from its rows, columns and sizes alone: what the commands
//! count, cut and draw must be that, and the same in all three.

use crate::pictured;
use crate::program;

use std::collections::BTreeMap;

use geometry::Exact;
use layout::file::Document;
use pictured::{Pictured, pictured};
use program::{good, on, sample_folder};
use serde_json::Value as Json;

/// Rows and columns of blocks that reach the edges, on point.
const ROWS: u64 = 6;
const COLUMNS: u64 = 5;

/// Inches: blocks, sashes, blocks of the border, plain border outside.
const BLOCK: f64 = 9.0;
const SASH: f64 = 1.5;
const TEETH: f64 = 6.0;
const EDGE: f64 = 3.0;

/// Blocks of the border along the top and along a side.
const TEETH_ACROSS: u64 = 14;
const TEETH_DOWN: u64 = 16;

const NIGHT: u32 = 1;
const OATMEAL: u32 = 2;
const APRICOT: u32 = 3;
const OLIVE: u32 = 4;
const LANTERN: u32 = 5;
const BARK: u32 = 6;

/// Patches and square inches.
type Sums = BTreeMap<u32, (u64, f64)>;

/// √2 by its own square, to be independent of the library's.
fn root2() -> f64 {
    2.0_f64.sqrt()
}

/// What every fabric shows, from rows, columns and sizes alone.
fn sums() -> Sums {
    let mut sums = Sums::new();
    let mut add = |fabric: u32, places: u64, each: u64, area: f64| {
        let patches = places * each;
        let entry = sums.entry(fabric).or_default();
        entry.0 += patches;
        entry.1 += area * count(patches);
    };
    // Stars stand in the first, third and fifth column of the outer rows, half blocks between them, nine-patches in the
    // rows between.
    let stars = ROWS * COLUMNS.div_ceil(2);
    let halves = ROWS * (COLUMNS / 2);
    let nines = (ROWS - 1) * (COLUMNS - 1);
    let blocks = ROWS * COLUMNS + nines;

    // Side of the diamonds of a star: S = (2 + √2) a. A diamond of 45° is a²/√2, the squares a², the triangles half that.
    let a = BLOCK / (2.0 + root2());
    add(NIGHT, stars, 4, a * a / root2());
    add(APRICOT, stars, 4, a * a / root2());
    add(OATMEAL, stars, 4, a * a);
    add(OATMEAL, stars, 4, a * a / 2.0);

    // Half blocks: in each half two diamonds, a trapezoid and a triangle with legs S − a; the half is S²/2.
    let triangle = (BLOCK - a) * (BLOCK - a) / 2.0;
    let trapezoid = BLOCK * BLOCK / 2.0 - triangle - 2.0 * a * a / root2();
    for (own, against) in [(NIGHT, APRICOT), (OATMEAL, OLIVE)] {
        add(own, halves, 1, trapezoid);
        add(own, halves, 1, triangle);
        add(against, halves, 2, a * a / root2());
    }

    // Nine-patches: five dark squares and four light ones.
    let ninth = BLOCK * BLOCK / 9.0;
    add(BARK, nines, 5, ninth);
    add(LANTERN, nines, 4, ninth);

    // Every block has four sides; each block of the rows between shares all of its own. So many vertices: those at the
    // left and right of the outer rows, and those above and below.
    add(BARK, 4 * blocks - 4 * nines, 1, SASH * BLOCK);
    add(APRICOT, ROWS * (COLUMNS + 1) + COLUMNS * (ROWS + 1), 1, SASH * SASH);

    // Half a square of block and sash by its diagonal; a quarter of one with sashes all round.
    let pitch = BLOCK + SASH;
    add(OLIVE, 2 * (ROWS - 1) + 2 * (COLUMNS - 1), 1, pitch * pitch / 2.0);
    let corner = BLOCK + 2.0 * SASH;
    add(LANTERN, 4, 1, corner * corner / 4.0);

    // The spacer makes up what the blocks of the border leave.
    let (width, height) = centre();
    let (inner_width, inner_height) = (TEETH * count(TEETH_ACROSS), TEETH * count(TEETH_DOWN));
    let (side, end) = ((inner_width - width) / 2.0, (inner_height - height) / 2.0);
    add(OATMEAL, 2, 1, side * height);
    add(OATMEAL, 2, 1, end * inner_width);

    let teeth = 2 * (TEETH_ACROSS + TEETH_DOWN);
    add(NIGHT, teeth, 1, TEETH * TEETH / 2.0);
    add(OATMEAL, teeth, 1, TEETH * TEETH / 2.0);
    add(BARK, 4, 2, TEETH * TEETH / 4.0);
    add(LANTERN, 4, 2, TEETH * TEETH / 4.0);

    let (width, height) = finished();
    add(NIGHT, 2, 1, EDGE * (height - 2.0 * EDGE));
    add(NIGHT, 2, 1, EDGE * width);
    sums
}

/// Width and height of the blocks on point with their sashing: tip to tip of all but one, and one with sashes all round.
fn centre() -> (f64, f64) {
    let along = |blocks: u64| root2() * ((BLOCK + SASH) * count(blocks) + SASH);
    (along(COLUMNS), along(ROWS))
}

fn finished() -> (f64, f64) {
    let along = |blocks: u64| TEETH * count(blocks + 2) + 2.0 * EDGE;
    (along(TEETH_ACROSS), along(TEETH_DOWN))
}

#[allow(clippy::cast_precision_loss, reason = "some hundreds")]
fn count(n: u64) -> f64 {
    n as f64
}

fn near(a: f64, b: f64, what: &str) {
    assert!((a - b).abs() <= 1e-6 * b.abs().max(1.0), "{what}: {a}, not {b}");
}

fn json(command: &str, options: &[&str]) -> Json {
    serde_json::from_str(&good(on(command, &sample_folder().join("king-lantern-orchard.json"), options))).unwrap()
}

fn by_fabric(list: &Json, figure: impl Fn(&Json) -> (u64, f64)) -> Sums {
    let id = |f: &Json| u32::try_from(f["id"].as_u64().unwrap()).unwrap();
    list.as_array().unwrap().iter().map(|f| (id(f), figure(f))).collect()
}

fn agree(told: &Sums, wanted: &Sums, what: &str) {
    let counts = |sums: &Sums| sums.iter().map(|(id, (patches, _))| (*id, *patches)).collect::<Vec<_>>();
    assert_eq!(counts(told), counts(wanted), "{what}");
    for (id, (_, area)) in wanted {
        near(told[id].1, *area, &format!("{what}, square inches of fabric {id}"));
    }
}

#[test]
fn the_sums_fill_a_king_quilt() {
    let (width, height) = finished();
    let area: f64 = sums().values().map(|(_, area)| area).sum();
    near(area, width * height, "all fabrics together");
    // Often printed for a king mattress: 76 × 80 in.
    assert!((76.0 + 16.0..=76.0 + 44.0).contains(&width) && (80.0 + 16.0..=80.0 + 44.0).contains(&height));
}

#[test]
fn totals_are_the_sums() {
    let totals = json("totals", &["--json"]);
    let told =
        by_fabric(&totals["fabrics"], |f| (f["patches"].as_u64().unwrap(), f["finished_area"].as_f64().unwrap()));
    agree(&told, &sums(), "totals");
    let (width, height) = finished();
    near(totals["finished_width"].as_f64().unwrap(), width, "width");
    near(totals["finished_height"].as_f64().unwrap(), height, "height");
    assert_eq!(totals["patches"].as_u64().unwrap(), sums().values().map(|(patches, _)| patches).sum::<u64>());
}

/// Square inches and number of the plain border strips of a fabric, which are cut as sections of their own number.
fn strips(fabric: u32) -> (u64, f64) {
    let (width, height) = centre();
    let (inner_width, inner_height) = (TEETH * count(TEETH_ACROSS), TEETH * count(TEETH_DOWN));
    match fabric {
        OATMEAL => (4, inner_width * inner_height - width * height),
        NIGHT => {
            let (width, height) = finished();
            (4, width * height - (width - 2.0 * EDGE) * (height - 2.0 * EDGE))
        }
        _ => (0, 0.0),
    }
}

#[test]
fn what_is_cut_is_the_sums() {
    for options in [&["--json"][..], &["--json", "--quick"]] {
        let cut = json("cut", options);
        let of_patches = |piece: &&Json| {
            let label = piece["label"].as_str().unwrap();
            !label.contains("section") && !label.contains("binding")
        };
        let told = by_fabric(&cut["fabrics"], |fabric| {
            let pieces = fabric["pieces"].as_array().unwrap().iter().filter(of_patches);
            pieces.fold((0, 0.0), |(patches, area), piece| {
                let n = piece["count"].as_u64().unwrap();
                (patches + n, area + count(n) * outline_area(&piece["finished"]))
            })
        });
        let wanted: Sums = sums()
            .into_iter()
            .map(|(fabric, (patches, area))| {
                let (strips, of_strips) = strips(fabric);
                (fabric, (patches - strips, area - of_strips))
            })
            .collect();
        agree(&told, &wanted, "cut");
        for fabric in cut["fabrics"].as_array().unwrap() {
            let wanted: u64 = fabric["pieces"].as_array().unwrap().iter().map(|p| p["count"].as_u64().unwrap()).sum();
            let lays = fabric["lays"].as_array().unwrap();
            let laid: usize = lays.iter().map(|lay| lay["placements"].as_array().unwrap().len()).sum();
            assert_eq!(laid as u64, wanted, "every piece is laid");
        }
    }
}

fn outline_area(corners: &Json) -> f64 {
    let corners: Vec<[f64; 2]> =
        corners.as_array().unwrap().iter().map(|p| [0, 1].map(|k| p[k].as_f64().unwrap())).collect();
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(p, q)| (p[0] * q[1] - p[1] * q[0]) / 2.0).sum::<f64>().abs()
}

#[test]
fn the_proof_is_exact_and_the_areas_fill_the_rectangle_exactly() {
    let report = json("check", &["--json"]);
    assert_eq!(report["variants"][0]["proved"], true);
    assert_eq!(report["variants"][0]["patches"].as_u64().unwrap(), sums().values().map(|(n, _)| n).sum::<u64>());
    let design =
        Document::open(&sample_folder().join("king-lantern-orchard.json")).unwrap().variants()[0].design.clone();
    let mut area = Exact::ZERO;
    for placed in design.top().unwrap().placed {
        for patch in placed.block.patches() {
            area = &area + &patch.outline.area();
        }
    }
    // 14 + 2 blocks of 6 in and 3 in on both sides, by 16 + 2 of them: whole numbers, though the centre has none.
    assert_eq!(area, Exact::int(102 * 114));
}

#[test]
fn every_patch_is_drawn_and_no_other() {
    let folder = tempfile::tempdir().unwrap();
    let picture = folder.path().join("king.svg");
    let file = sample_folder().join("king-lantern-orchard.json");
    good(on("draw", &file, &["--out", picture.to_str().unwrap()]));
    let design = Document::open(&file).unwrap().variants()[0].design.clone();
    let ids: BTreeMap<String, u32> =
        design.fabrics().map(|(id, fabric)| (fabric.look.colour().to_string(), id.0)).collect();
    let Pictured { width, height, areas } = pictured(&std::fs::read_to_string(&picture).unwrap());
    let mut drawn = Sums::new();
    for (colour, area) in areas {
        let entry = drawn.entry(ids[&colour]).or_default();
        entry.0 += 1;
        entry.1 += area;
    }
    // Coordinates are printed with five decimals.
    let wanted = sums();
    assert_eq!(
        drawn.iter().map(|(id, (n, _))| (*id, *n)).collect::<Vec<_>>(),
        wanted.iter().map(|(id, (n, _))| (*id, *n)).collect::<Vec<_>>()
    );
    for (id, (patches, area)) in &wanted {
        let off = (drawn[id].1 - area).abs();
        assert!(off < 1e-3 * count(*patches), "fabric {id}: {off} square inches off");
    }
    near(width, finished().0, "width of the picture");
    near(height, finished().1, "height of the picture");
}
