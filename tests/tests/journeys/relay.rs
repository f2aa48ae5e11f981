//! A stranger checks the cutting plan of every sample from its JSON alone, with zero tolerance on the stated grid;
//! and refuses the same plan with one small thing changed.

use crate::program;
use crate::stranger;

use std::path::Path;

use program::{good, on, sample_files};
use serde_json::Value as Json;
use stranger::{Corners, Fixed, Known, Plan, re_lay};

/// A sample's variant: its plan as printed, and what the quilt file and the totals say.
struct Case {
    name: String,
    plan: String,
    known: Known,
}

fn cases() -> Vec<Case> {
    sample_files().iter().flat_map(|file| cases_of(file)).collect()
}

fn cases_of(file: &Path) -> Vec<Case> {
    let quilt: Json = serde_json::from_slice(&std::fs::read(file).unwrap()).unwrap();
    let variants = quilt["variants"].as_array().unwrap().iter();
    variants
        .map(|variant| {
            let label = variant["variant"].as_str().unwrap();
            let options = ["--json", "--variant", label];
            let totals: Json = serde_json::from_str(&good(on("totals", file, &options))).unwrap();
            let area =
                |f: &Json| (u32::try_from(f["id"].as_u64().unwrap()).unwrap(), f["finished_area"].as_f64().unwrap());
            Case {
                name: format!("{} ({label})", file.display()),
                plan: good(on("cut", file, &options)),
                known: Known {
                    seam: seam(variant),
                    areas: with_offcuts(totals["fabrics"].as_array().unwrap().iter().map(area), variant),
                },
            }
        })
        .collect()
}

/// Finished areas of fabrics with what is cut off at mitred corners. Such a strip is cut as a rectangle of the border's
/// width w, as long as its outer edge, which reaches past the finished corner by (1 + √2) seams at either end; without seam
/// allowances that is w² + 2√2·seam·w more than the finished piece has.
fn with_offcuts<A: FromIterator<(u32, f64)>>(areas: impl Iterator<Item = (u32, f64)>, variant: &Json) -> A {
    let inch = if variant["units"] == "cm" { 2.54 } else { 1.0 };
    let mitred: Vec<&Json> = variant["borders"].as_array().unwrap().iter().filter(|b| b["mitred"] == true).collect();
    let more = |fabric: u32| -> f64 {
        let own = mitred.iter().filter(|border| border["fabric"] == fabric);
        own.map(|border| {
            let width = border["width"][0].as_f64().unwrap() / border["width"][4].as_f64().unwrap() * inch;
            4.0 * width * (width + 8.0_f64.sqrt() * seam(variant))
        })
        .sum()
    };
    areas.map(|(fabric, area)| (fabric, area + more(fabric))).collect()
}

/// The seam allowance of the file, `[a, b, c, d, den]` in inches, in the quilt's own unit.
fn seam(variant: &Json) -> f64 {
    let parts: Vec<f64> = variant["seam_allowance"].as_array().unwrap().iter().map(|n| n.as_f64().unwrap()).collect();
    assert_eq!(parts[1..4], [0.0; 3], "a sample's seam allowance is rational");
    let inch = if variant["units"] == "cm" { 2.54 } else { 1.0 };
    parts[0] / parts[4] * inch
}

#[test]
fn every_sample_passes_in_inches_and_centimetres() {
    let mut units = Vec::new();
    for case in cases() {
        match re_lay(&case.plan, &case.known) {
            Ok(laid) => assert!(laid > 0),
            Err(why) => panic!("{}: {why}", case.name),
        }
        units.push(serde_json::from_str::<Plan>(&case.plan).unwrap().unit);
    }
    assert!(units.iter().any(|u| u == "in") && units.iter().any(|u| u == "cm"), "{units:?}");
}

#[test]
fn the_grid_is_two_to_the_minus_sixteen_of_an_inch() {
    for case in cases() {
        let plan: Plan = serde_json::from_str(&case.plan).unwrap();
        let inch = if plan.unit == "cm" { "2.54" } else { "1" };
        assert_eq!(plan.grid.0 * 65536, Fixed::parse(inch).unwrap().0, "{}", case.name);
    }
}

/// Left, bottom, right and top of a polygon, and whether it is that very rectangle.
fn extent(polygon: &Corners) -> ([i128; 4], bool) {
    let along = |axis: usize| {
        let mut values: Vec<i128> = polygon.iter().map(|p| p[axis].0).collect();
        values.sort_unstable();
        values.dedup();
        values
    };
    let (x, y) = (along(0), along(1));
    ([x[0], y[0], x[x.len() - 1], y[y.len() - 1]], polygon.len() == 4 && x.len() == 2 && y.len() == 2)
}

/// Shifts a rectangle to the right or up, by the gap between it and the next piece, which is a rectangle too, and
/// `more`; `None` if no two rectangles lie beside each other.
fn push_together(plan: &mut Plan, more: i128) -> Option<()> {
    for lay in plan.fabrics.iter_mut().flat_map(|f| &mut f.lays) {
        let extents: Vec<_> = lay.placements.iter().map(|p| extent(&p.polygon)).collect();
        for (along, across) in [(0, 1), (1, 0)] {
            let gap_after = |(a, upright): &([i128; 4], bool)| {
                let in_the_way = |b: &[i128; 4]| {
                    b[along + 2] > a[along + 2] && b[across] < a[across + 2] && a[across] < b[across + 2]
                };
                let (next, next_upright) =
                    extents.iter().filter(|(b, _)| in_the_way(b)).min_by_key(|(b, _)| b[along])?;
                (*upright && *next_upright && next[along] >= a[along + 2]).then_some(next[along] - a[along + 2])
            };
            if let Some((pushed, gap)) = extents.iter().enumerate().find_map(|(i, e)| Some((i, gap_after(e)?))) {
                for corner in &mut lay.placements[pushed].polygon {
                    corner[along].0 += gap + more;
                }
                return Some(());
            }
        }
    }
    None
}

/// The stranger's verdict on a changed plan.
fn verdict(case: &Case, change: impl FnOnce(&mut Plan)) -> Result<usize, String> {
    let mut plan: Plan = serde_json::from_str(&case.plan).unwrap();
    change(&mut plan);
    re_lay(&serde_json::to_string(&plan).unwrap(), &case.known)
}

#[test]
fn touching_is_allowed_and_one_unit_more_is_not() {
    for case in cases() {
        assert!(verdict(&case, |_| ()).is_ok(), "{}", case.name);
        assert!(verdict(&case, |plan| push_together(plan, 0).unwrap()).is_ok(), "{}", case.name);
        let told = verdict(&case, |plan| push_together(plan, plan.grid.0).unwrap()).unwrap_err();
        assert!(told.contains("overlap"), "{}: {told}", case.name);
    }
}

fn first_placement(plan: &mut Plan) -> &mut stranger::Placement {
    &mut plan.fabrics[0].lays[0].placements[0]
}

#[test]
fn a_small_change_is_refused() {
    type Change = fn(&mut Plan);
    let rows: [(&str, Change, &str); 9] = [
        ("one piece wanted more", |p| p.fabrics[0].pieces[0].count += 1, "wanted"),
        ("one placement lost", |p| drop(p.fabrics[0].lays[0].placements.pop()), "laid"),
        (
            "one corner one unit off",
            |p| {
                let grid = p.grid.0;
                first_placement(p).polygon[0][0].0 += grid;
            },
            "shape",
        ),
        ("half a grid unit off", |p| first_placement(p).polygon.iter_mut().for_each(|c| c[0].0 += 1), "on the grid"),
        ("one lay narrower", |p| p.fabrics[0].lays[0].width.0 /= 2, "leaves the fabric"),
        ("a lay wider than the fabric", |p| p.fabrics[0].lays[0].width.0 += p.grid.0, "wider"),
        ("one unit less required", |p| p.fabrics[0].required_length.0 -= 1, "shorter"),
        ("less bought", |p| p.fabrics[0].buy_length.0 /= 2, "less is bought"),
        ("a finished shape off", |p| shift_finished(&mut p.fabrics[0].pieces[0]), "seam allowance"),
    ];
    for case in cases() {
        for (what, change, why) in &rows {
            let told = verdict(&case, change).unwrap_err();
            assert!(told.contains(why), "{}, {what}: {told}", case.name);
        }
    }
}

/// By 10⁻⁴, more than the grid rounds outward.
fn shift_finished(piece: &mut stranger::Piece) {
    for corner in piece.finished.as_mut().unwrap() {
        corner[1].0 -= 100_000_000_000_000;
    }
}
