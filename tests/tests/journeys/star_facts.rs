//! Facts about the stars, asked as a stranger would: a quilt file written by hand, and what the commands say of it.
//!
//! Lengths of a tilted star of side S = (2+√2)s and of an on-axis star in a regular octagon with S = (1+√2)·edge
//! (Weisstein, MathWorld, "Octagon": inradius (1+√2)/2 × side) follow by elementary geometry.

use crate::program;

use std::collections::BTreeMap;
use std::path::PathBuf;

use program::{good, on};
use serde_json::{Value as Json, json};
use tempfile::TempDir;

/// A role, its value and its fabric.
type RoleRow = (&'static str, &'static str, u32);

/// Fabrics 1 to 4: dark, light, and two more.
const COLOURS: [(&str, &str); 4] =
    [("#102040", "dark"), ("#f0f0e0", "light"), ("#c05030", "medium"), ("#60a080", "medium")];

/// A quilt file in a folder of its own.
struct Quilt {
    _folder: TempDir,
    file: PathBuf,
}

impl Quilt {
    /// Blocks of one recipe in a square of `side` × `side`; `place` gives turn and halves.
    fn new(
        units: &str,
        recipe: &Json,
        roles: &[RoleRow],
        side: u16,
        place: impl Fn(u16, u16) -> (u8, Vec<&'static str>),
    ) -> Self {
        let inch = |num: i64, den: i64| json!([num, 0, 0, 0, den]);
        let fabrics = (1..).zip(COLOURS).map(|(id, (colour, value)): (u32, _)| {
            json!({"id": id, "name": format!("Fabric {id}"), "colour": colour, "value": value,
                "usable_width": inch(40, 1), "print": "tossed"})
        });
        let roles = roles.iter().map(|(role, value, fabric)| json!({"role": role, "value": value, "fabric": fabric}));
        let cells = (0..side).flat_map(|row| (0..side).map(move |column| (row, column)));
        let places = cells.map(|(row, column)| {
            let (turn, halves) = place(row, column);
            json!({"row": row, "column": column, "block": 1, "turn": turn, "halves": halves})
        });
        let text = json!({"format": "lozenge quilt", "version": 1, "variants": [{
            "variant": "Only", "name": "Facts", "units": units,
            "seam_allowance": inch(1, 4), "ruler_step": inch(1, 8),
            "buying": {"shrinkage_permille": 0, "step": "1/8 yd"},
            "fabrics": fabrics.collect::<Vec<_>>(),
            "blocks": [{"id": 1, "name": "Block", "recipe": recipe, "roles": roles.collect::<Vec<_>>()}],
            "setting": {"kind": "straight", "rows": side, "columns": side},
            "places": places.collect::<Vec<_>>(),
            "paint": {"roles": [], "patches": []}, "borders": [],
            "binding": {"strip_width": inch(5, 2), "fabric": 1, "extra": inch(12, 1), "join": "diagonal"},
            "backing": {"overhang": inch(4, 1), "usable_width": inch(40, 1)}
        }]});
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("facts.json");
        std::fs::write(&file, text.to_string()).unwrap();
        Self { _folder: folder, file }
    }

    fn one(units: &str, recipe: &Json, roles: &[RoleRow]) -> Self {
        let halves = if recipe["family"] == "diagonal half block" { vec!["dark", "light"] } else { vec![] };
        Self::new(units, recipe, roles, 1, |_, _| (0, halves.clone()))
    }

    fn json(&self, command: &str) -> Json {
        serde_json::from_str(&good(on(command, &self.file, &["--json"]))).unwrap()
    }

    /// Counts by role and fabric.
    fn roles(&self) -> BTreeMap<(String, u64), u64> {
        let totals = self.json("totals");
        let row = |r: &Json| {
            ((r["role"].as_str().unwrap().to_owned(), r["fabric"].as_u64().unwrap()), r["count"].as_u64().unwrap())
        };
        totals["roles"].as_array().unwrap().iter().map(row).collect()
    }

    /// Finished shapes: for each label, the lengths of the edges in ascending order.
    fn edges(&self) -> BTreeMap<String, Vec<f64>> {
        let mut edges = BTreeMap::new();
        for fabric in self.json("cut")["fabrics"].as_array().unwrap() {
            for piece in fabric["pieces"].as_array().unwrap().iter().filter(|p| !p["finished"].is_null()) {
                let corners: Vec<[f64; 2]> = serde_json::from_value(piece["finished"].clone()).unwrap();
                let next = corners.iter().cycle().skip(1);
                let mut lengths: Vec<f64> =
                    corners.iter().zip(next).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).collect();
                lengths.sort_by(f64::total_cmp);
                edges.insert(piece["label"].as_str().unwrap().to_owned(), lengths);
            }
        }
        edges
    }

    /// The polygons of the picture by fabric colour.
    fn picture(&self) -> BTreeMap<String, Vec<Vec<[f64; 2]>>> {
        let out = self.file.with_extension("svg");
        good(on("draw", &self.file, &["--out", out.to_str().unwrap(), "--no-seams"]));
        let text = std::fs::read_to_string(out).unwrap();
        let mut polygons: BTreeMap<String, Vec<_>> = BTreeMap::new();
        for path in text.split("<path ").skip(1) {
            let attribute = |name: &str| path.split(&format!("{name}=\"")).nth(1).unwrap().split('"').next().unwrap();
            let shapes = attribute(" d").split('M').skip(1).map(|shape| {
                let numbers: Vec<f64> =
                    shape.split(['L', 'Z', ' ']).filter(|t| !t.is_empty()).map(|t| t.parse().unwrap()).collect();
                numbers.chunks(2).map(|p| [p[0], p[1]]).collect()
            });
            polygons.entry(attribute("fill").to_owned()).or_default().extend(shapes);
        }
        polygons
    }
}

const STAR: [RoleRow; 4] = [
    ("diamond", "dark", 1),
    ("diamond", "medium", 1),
    ("background square", "light", 2),
    ("background triangle", "light", 2),
];

fn half_roles(dark: u32, light: u32, diamond_on_dark: u32, diamond_on_light: u32) -> [RoleRow; 6] {
    [
        ("triangle", "dark", dark),
        ("trapezoid", "dark", dark),
        ("triangle", "light", light),
        ("trapezoid", "light", light),
        ("diamond", "dark", diamond_on_dark),
        ("diamond", "light", diamond_on_light),
    ]
}

/// Every role of every star block in fabric 1.
fn plain_roles(family: &str) -> Vec<RoleRow> {
    match family {
        "tilted star" => STAR.iter().map(|(role, value, _)| (*role, *value, 1)).collect(),
        "on-axis star" => vec![
            ("diamond", "dark", 1),
            ("sector", "medium", 1),
            ("sector triangle", "light", 1),
            ("corner triangle", "light", 1),
        ],
        _ => half_roles(1, 1, 1, 1).to_vec(),
    }
}

/// Even sectors split, odd ones whole.
fn recipe(family: &str, by: &str, length: &Json) -> Json {
    let size = json!({"by": by, "length": length});
    if family == "on-axis star" {
        json!({"family": family, "size": size, "split": [true, false, true, false, true, false, true, false]})
    } else {
        json!({"family": family, "size": size})
    }
}

fn twelve_inch(family: &str) -> Json {
    recipe(family, "block side", &json!([12, 0, 0, 0, 1]))
}

#[test]
fn a_tilted_star_has_eight_diamonds_four_squares_and_four_triangles() {
    let star = Quilt::one("in", &twelve_inch("tilted star"), &STAR);
    let wanted = [("background square", 2, 4), ("background triangle", 2, 4), ("diamond", 1, 8)];
    let wanted: BTreeMap<_, _> = wanted.into_iter().map(|(role, f, n)| ((role.to_owned(), f), n)).collect();
    assert_eq!(star.roles(), wanted);
    // s² = 216 − 144√2: eight diamonds of s²/√2, four squares of s², four triangles of s²/2.
    let s2 = 216.0 - 144.0 * 2.0_f64.sqrt();
    let totals = star.json("totals");
    for (fabric, area) in totals["fabrics"].as_array().unwrap().iter().zip([s2 * 32.0_f64.sqrt(), 6.0 * s2]) {
        let told = fabric["finished_area"].as_f64().unwrap();
        assert!((told - area).abs() < 1e-9, "{told} is not {area}");
    }
}

#[test]
fn edges_of_twelve_inch_blocks() {
    let rows: [(&str, &str, &[f64]); 4] = [
        ("tilted star", "diamond", &[3.5147; 4]),
        ("on-axis star", "diamond", &[3.2472; 4]),
        ("on-axis star", "sector", &[4.9706, 6.4944, 6.4944]),
        ("diagonal half block", "trapezoid", &[3.5147, 3.5147, 4.9706, 9.9411]),
    ];
    for (family, label, wanted) in rows {
        let edges = Quilt::one("in", &twelve_inch(family), &plain_roles(family)).edges();
        let (_, told) = edges.iter().find(|(l, _)| l.split(',').next() == Some(label)).unwrap();
        assert_eq!(told.len(), wanted.len());
        for (a, b) in told.iter().zip(wanted) {
            assert!((a - b).abs() < 6e-5, "{family}, {label}: {told:?}");
        }
    }
}

#[test]
fn any_size_is_proved_and_its_area_is_exact() {
    // Numerator and denominator of the side in inches; ten times that in millimetres below.
    let inches = [(1, 2), (33, 64), (12, 1), (769, 64), (2175, 64), (48, 1)];
    let millimetres = [13, 100, 305, 1219];
    for family in ["tilted star", "on-axis star", "diagonal half block"] {
        for (num, den) in inches {
            let quilt =
                Quilt::one("in", &recipe(family, "block side", &json!([num, 0, 0, 0, den])), &plain_roles(family));
            // n²/4096 has an end in binary, so a float holds it exactly.
            let side = f64::from(num) / f64::from(den);
            checked(&quilt, &json!(side), &format!("{}", side * side));
        }
        for mm in millimetres {
            // 1 mm = 5/127 in.
            let quilt =
                Quilt::one("cm", &recipe(family, "block side", &json!([5 * mm, 0, 0, 0, 127])), &plain_roles(family));
            checked(&quilt, &json!(f64::from(mm) / 10.0), &format!("{}", f64::from(mm * mm) / 100.0));
        }
    }
}

/// The file proves, and the block has this side and this area.
fn checked(quilt: &Quilt, side: &Json, area: &str) {
    assert_eq!(quilt.json("check")["variants"][0]["proved"], true);
    let totals = quilt.json("totals");
    assert_eq!(totals["finished_width"].as_f64(), side.as_f64());
    assert_eq!(totals["finished_height"], totals["finished_width"]);
    assert_eq!(totals["fabrics"][0]["finished_area"].to_string(), area);
}

#[test]
fn a_diamond_side_is_a_size() {
    for family in ["tilted star", "diagonal half block"] {
        for (num, den) in [(7, 2), (3, 1), (97, 32)] {
            let diamond = f64::from(num) / f64::from(den);
            let quilt =
                Quilt::one("in", &recipe(family, "diamond side", &json!([num, 0, 0, 0, den])), &plain_roles(family));
            assert_eq!(quilt.json("check")["variants"][0]["proved"], true);
            let totals = quilt.json("totals");
            let side = (2.0 + 2.0_f64.sqrt()) * diamond;
            assert!((totals["finished_width"].as_f64().unwrap() - side).abs() < 1e-9);
            assert!((totals["fabrics"][0]["finished_area"].as_f64().unwrap() - side * side).abs() < 1e-9);
            let edges = quilt.edges();
            let (_, told) = edges.iter().find(|(label, _)| label.starts_with("diamond")).unwrap();
            assert!(told.iter().all(|e| (e - diamond).abs() < 1e-9), "{told:?}");
        }
    }
}

/// The diagonals of neighbours meet: from the lower left to the upper right at turn 0, the other way at turn 1.
fn point_to_point(row: u16, column: u16) -> u8 {
    u8::from((row + column).is_multiple_of(2))
}

/// How many polygons of each colour have a corner at this point.
fn meeting(picture: &BTreeMap<String, Vec<Vec<[f64; 2]>>>, x: f64, y: f64) -> BTreeMap<&str, usize> {
    let here = |p: &[f64; 2]| (p[0] - x).abs() < 1e-4 && (p[1] - y).abs() < 1e-4;
    let counted = picture
        .iter()
        .map(|(colour, shapes)| (colour.as_str(), shapes.iter().filter(|shape| shape.iter().any(here)).count()));
    counted.filter(|(_, count)| *count > 0).collect()
}

#[test]
fn four_diagonal_half_blocks_point_to_point_show_a_star() {
    let roles = half_roles(1, 2, 3, 3);
    let place = |row, column| (point_to_point(row, column), vec!["dark", "light"]);
    let picture = Quilt::new("in", &twelve_inch("diagonal half block"), &roles, 2, place).picture();
    // In the middle meet eight diamonds and nothing else.
    assert_eq!(meeting(&picture, 12.0, 12.0), BTreeMap::from([("#c05030", 8)]));
    // Their far tips: eight, one every 45°, at 2s·cos 22.5° = s√(2+√2) with s = 12/(2+√2).
    let reach = 12.0 / (2.0 + 2.0_f64.sqrt()).sqrt();
    for eighth in 0..8 {
        let (sin, cos) = (22.5 + 45.0 * f64::from(eighth)).to_radians().sin_cos();
        assert_eq!(meeting(&picture, 12.0 + reach * cos, 12.0 + reach * sin)["#c05030"], 1);
    }
    // Set the other way, the points lie apart and no star is in the middle.
    let apart = |row, column| (1 - point_to_point(row, column), vec!["dark", "light"]);
    let picture = Quilt::new("in", &twelve_inch("diagonal half block"), &roles, 2, apart).picture();
    assert!(!meeting(&picture, 12.0, 12.0).contains_key("#c05030"));
}

#[test]
fn diamonds_go_against_their_half() {
    let rows = [
        (["dark", "dark"], [("diamond", 2, 4), ("trapezoid", 1, 2), ("triangle", 1, 2)].as_slice()),
        (["light", "light"], &[("diamond", 1, 4), ("trapezoid", 2, 2), ("triangle", 2, 2)]),
        (
            ["dark", "light"],
            &[
                ("diamond", 1, 2),
                ("trapezoid", 1, 1),
                ("triangle", 1, 1),
                ("diamond", 2, 2),
                ("trapezoid", 2, 1),
                ("triangle", 2, 1),
            ],
        ),
    ];
    for (halves, wanted) in rows {
        let block = twelve_inch("diagonal half block");
        let quilt = Quilt::new("in", &block, &half_roles(1, 2, 2, 1), 1, |_, _| (0, halves.to_vec()));
        let wanted: BTreeMap<_, _> = wanted.iter().map(|(role, f, n)| (((*role).to_owned(), *f), *n)).collect();
        assert_eq!(quilt.roles(), wanted, "{halves:?}");
    }
}

#[test]
fn two_three_and_four_colours_in_a_four_by_four_top() {
    // 16 dark–light blocks of 8 patches: two triangles, two trapezoids and four diamonds.
    let rows = [([1, 2, 2, 1], [64, 64, 0, 0]), ([1, 2, 3, 3], [32, 32, 64, 0]), ([1, 2, 3, 4], [32, 32, 32, 32])];
    for ([dark, light, on_dark, on_light], wanted) in rows {
        let place = |row, column| (point_to_point(row, column), vec!["dark", "light"]);
        let roles = half_roles(dark, light, on_dark, on_light);
        let quilt = Quilt::new("in", &twelve_inch("diagonal half block"), &roles, 4, place);
        let totals = quilt.json("totals");
        let mut counts = [0; 4];
        for fabric in totals["fabrics"].as_array().unwrap() {
            counts[usize::try_from(fabric["id"].as_u64().unwrap()).unwrap() - 1] = fabric["patches"].as_u64().unwrap();
        }
        assert_eq!(counts, wanted);
        // Complete stars: eight diamonds and nothing else where four diagonals meet, at every other inner corner.
        let picture = quilt.picture();
        for (x, y) in (1..4).flat_map(|x| (1..4).map(move |y| (x, y))).filter(|(x, y)| (x + y) % 2 == 0) {
            let meet = meeting(&picture, 12.0 * f64::from(x), 12.0 * f64::from(y));
            assert_eq!(meet.values().sum::<usize>(), 8, "at {x}, {y}: {meet:?}");
        }
    }
}
