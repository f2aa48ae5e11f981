//! What must hold of every template, seen from inside: raw edges match, kinds are those of the patches, words have room.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use cutting::Ledger;
use geometry::cut::{CutOutline, CutShape};
use geometry::dog_ear::{corner_trims, with_corner_trims};
use geometry::lay::LayPolygon;
use geometry::{
    Block, Exact, Length, Measure, Patch, PatchKey, Point as Place, Polygon, Recipe, Role, Size, Tone, Value,
};
use layout::file::Document;
use layout::{
    Colour, ColourScheme, CuttingWishes, Design, Edit, FabricId, Print, Setting, Source, Starter, Tally, Units, apply,
};
use piecing::{Making, QuiltPlan, SeamTree, order_of_sewing};
use proptest::prelude::*;

use super::figure::{bounds, text_box};
use super::kinds::{kinds, sewn_at, shapes};
use super::mates::Mates;
use super::{SheetOptions, templates, trim_sheets};
use crate::{About, Drawing, Item, Paper, Point};

fn quarter() -> Exact {
    Exact::ratio(1, 4).unwrap()
}

/// A square cut in two again and again: each cut names a patch, two of its edges, and where they are met.
fn cut_up(cuts: &[(usize, usize, usize, i64, i64)]) -> Block {
    let corner = |x, y| Place::new(Exact::int(x), Exact::int(y));
    let base = Polygon::new(vec![corner(0, 0), corner(24, 0), corner(24, 24), corner(0, 24)]).unwrap();
    let mut patches = vec![base.clone()];
    for (patch, first, second, a, b) in cuts {
        let whole = patches.swap_remove(patch % patches.len());
        let n = whole.corners().len();
        let i = first % n;
        let j = i + 1 + second % (n - 1);
        let on = |edge: usize, tenths: &i64| {
            whole.corner(edge).along(whole.corner(edge + 1), &Exact::ratio(*tenths, 10).unwrap())
        };
        let (p, q) = (on(i, a), on(j, b));
        let between = |from: usize, to: usize| (from + 1..=to).map(|k| whole.corner(k).clone());
        let one = [p.clone()].into_iter().chain(between(i, j)).chain([q.clone()]).collect();
        let other = [q].into_iter().chain(between(j, i + n)).chain([p]).collect();
        patches.extend([Polygon::new(one).unwrap(), Polygon::new(other).unwrap()]);
    }
    let patch = |(key, outline): (u32, Polygon)| Patch {
        key: PatchKey(key),
        outline,
        role: Role::new("patch").unwrap(),
        tone: Tone::Own(Value::Dark),
        grain: None,
    };
    Block::prove(base, (0..).zip(patches).map(patch).collect()).unwrap()
}

/// The ends of the raw edge beside edge `edge`, along the edge, in inches from its first corner.
fn raw_edge(finished: &Polygon, outline: &CutOutline, edge: usize) -> [f64; 2] {
    let n = finished.corners().len();
    let own = CutOutline::mitred(finished, &vec![quarter(); n]).unwrap().lines()[edge].clone();
    let lines = outline.lines();
    let at = lines.iter().position(|line| *line == own).unwrap();
    let direction = finished.edge(edge);
    let float = |v: &geometry::Vector| [v.x.to_f64(), v.y.to_f64()];
    let unit = |v: [f64; 2]| [v[0] / v[0].hypot(v[1]), v[1] / v[0].hypot(v[1])];
    let along = unit(float(&direction));
    let out = [along[1], -along[0]];
    [at + lines.len() - 1, at + 1].map(|neighbour| {
        let line = &lines[neighbour % lines.len()];
        let normal = unit(float(&line.normal));
        let through = float(&(&line.through + &-&own.through));
        let reach = normal[0] * through[0] + normal[1] * through[1] + 0.25;
        (reach - 0.25 * (normal[0] * out[0] + normal[1] * out[1])) / (normal[0] * along[0] + normal[1] * along[1])
    })
}

/// The sharpest corner of a polygon, in degrees.
fn sharpest(polygon: &Polygon) -> f64 {
    let n = polygon.corners().len();
    let angle = |i: usize| {
        let (a, b) = (polygon.edge(i + n - 1), polygon.edge(i));
        180.0 - a.cross(&b).to_f64().atan2(a.dot(&b).to_f64()).to_degrees()
    };
    (0..n).map(angle).fold(f64::INFINITY, f64::min)
}

/// Patches that are sewn to each other before anything else: two parts of one unit, each a single patch.
fn pairs(tree: &SeamTree) -> Vec<[usize; 2]> {
    let leaf = |id: &piecing::UnitId| match tree.unit(*id).making {
        Making::Cut(patch) => Some(patch),
        Making::Sewn { .. } => None,
    };
    let pair = |unit: &piecing::Unit| match &unit.making {
        Making::Sewn { parts, .. } => match parts.as_slice() {
            [a, b] => Some([leaf(a)?, leaf(b)?]),
            _ => None,
        },
        Making::Cut(_) => None,
    };
    tree.units().iter().filter_map(pair).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn raw_edges_match_with_the_patch_that_is_sewn_there_first(
        cuts in prop::collection::vec((0..8_usize, 0..5_usize, 0..5_usize, 2..9_i64, 2..9_i64), 1..6)
    ) {
        let block = Arc::new(cut_up(&cuts));
        // Tips sharper than that are refused elsewhere, as no allowance can be cut round them.
        prop_assume!(block.patches().iter().all(|patch| sharpest(&patch.outline) > 4.0));
        let tree = order_of_sewing(&block).unwrap();
        let allowances = |patch: usize| vec![quarter(); block.patches()[patch].outline.corners().len()];
        let trimmed = |patch: usize| {
            let trims = corner_trims(&block, patch, &allowances, &|other| sewn_at(&tree, [patch, other])).unwrap();
            with_corner_trims(&block.patches()[patch].outline, &allowances(patch), &trims).unwrap()
        };
        for pair in pairs(&tree) {
            let [ours, theirs] = pair.map(|patch| &block.patches()[patch].outline);
            let shared = (0..ours.corners().len()).find_map(|i| {
                let back = (0..theirs.corners().len())
                    .find(|j| theirs.corner(*j) == ours.corner(i + 1) && theirs.corner(j + 1) == ours.corner(i))?;
                Some((i, back))
            });
            let Some((i, j)) = shared else { continue };
            let (one, other) = (raw_edge(ours, &trimmed(pair[0]), i), raw_edge(theirs, &trimmed(pair[1]), j));
            let edge = ours.edge(i);
            let length = edge.x.to_f64().hypot(edge.y.to_f64());
            // Walked the other way round, the mate's raw edge begins where ours ends.
            prop_assert!((one[0] - (length - other[1])).abs() < 1e-9, "{one:?} and {other:?} of {length}");
            prop_assert!((one[1] - (length - other[0])).abs() < 1e-9, "{one:?} and {other:?} of {length}");
        }
    }
}

/// The sample quilts, as they are and with an oversize margin.
fn samples() -> Vec<Design> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "json"));
    assert!(files.len() >= 9, "{files:?}");
    let mut designs = Vec::new();
    for file in files {
        let design = Document::open(&file).unwrap().variants()[0].design.clone();
        let oversize = geometry::Length::inch_fraction(1, 2).ok();
        let wishes = CuttingWishes { oversize, ..design.cutting().clone() };
        designs.extend([apply(&design, &Edit::SetCutting(wishes)).unwrap().0, design]);
    }
    designs
}

/// Lengths of the sides of a polygon and how they turn, in a form that the lay grid's rounding does not change.
fn sides(polygon: &LayPolygon) -> Vec<[f64; 2]> {
    let at = |i: usize| {
        let p = polygon.corners()[i % polygon.corners().len()];
        [super::template::inches(p.x), super::template::inches(p.y)]
    };
    let side = |i: usize| [at(i + 1)[0] - at(i)[0], at(i + 1)[1] - at(i)[1]];
    let turn = |a: Point, b: Point| (a[0] * b[1] - a[1] * b[0]) / (a[0].hypot(a[1]) * b[0].hypot(b[1]));
    (0..polygon.corners().len()).map(|i| [side(i)[0].hypot(side(i)[1]), turn(side(i), side(i + 1))]).collect()
}

/// Whether a turn carries one polygon to the other, to a thousandth of an inch.
fn is_turned(a: &LayPolygon, b: &LayPolygon) -> bool {
    let (a, b) = (sides(a), sides(b));
    let close = |p: &[f64; 2], q: &[f64; 2]| (p[0] - q[0]).abs() < 1e-3 && (p[1] - q[1]).abs() < 1e-3;
    let n = a.len();
    n == b.len() && (0..n).any(|start| (0..n).all(|i| close(&a[i], &b[(i + start) % n])))
}

/// Borders, sashes and fillers: rectangles, of which the ruler cuts any length.
fn is_cut_with_the_ruler(source: Source) -> bool {
    matches!(source, Source::Border { .. } | Source::Sash { .. } | Source::LongSash { .. } | Source::Filler(_))
}

#[test]
fn rectangles_of_the_setting_are_listed_for_the_ruler() {
    for design in samples() {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        let found = kinds(&design, &tally, ledger.book(), None).unwrap();
        assert!(found.kinds.iter().all(|kind| !kind.sources.iter().any(|source| is_cut_with_the_ruler(*source))));
        let listed: u64 = found.strips.values().flat_map(BTreeMap::values).sum();
        let of_ruler = tally.counts().filter(|count| is_cut_with_the_ruler(count.source));
        assert_eq!(listed, of_ruler.map(|count| count.change.unsigned_abs()).sum::<u64>(), "{}", design.name());
    }
}

#[test]
fn every_patch_has_a_template_of_its_own_shape() {
    for design in samples() {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
        let found = kinds(&design, &tally, ledger.book(), Some(&plan)).unwrap();
        let mates = Mates::of(&design).unwrap();
        for kind in &found.kinds {
            assert!(kind.counts.values().any(|count| count.as_drawn > 0), "drawn in the hand that is cut");
        }
        for count in tally.counts().filter(|count| !is_cut_with_the_ruler(count.source)) {
            let block = design.cut_block(count.source).unwrap();
            let tree = if let Source::Block(id) = count.source { plan.block(id).map(|plan| &plan.tree) } else { None };
            let shapes = shapes(&design, count.source, &block, (tree, &mates)).unwrap();
            let index = block.index_of(count.patch).unwrap();
            let patch = &block.patches()[index];
            let class = ledger.book().of_patch(count.source, count.patch, count.mirrored, Print::Tossed).unwrap();
            let shape = if count.mirrored { shapes[index].mirrored(patch) } else { shapes[index].clone() };
            let outline = with_corner_trims(&shape.outline, &shape.allowances, &shape.trims).unwrap();
            let cut = CutShape::new(&shape.outline, outline, &shape.outline.edge(0));
            let cut = cut.unwrap_or_else(|fault| panic!("{}, {}: {fault}", design.name(), patch.role.name()));
            let of_class = found.kinds.iter().filter(|kind| kind.class == class || kind.mirror == Some(class));
            let same = of_class.filter(|kind| kind.counts.contains_key(&count.fabric)).any(|kind| {
                is_turned(&kind.trimmed, cut.outline()) || is_turned(&kind.trimmed, &cut.outline().turned_over())
            });
            assert!(same, "{}: {} of {}", design.name(), patch.role.name(), design.source_name(count.source));
        }
    }
}

/// A setting triangle is as long along its seams, raw edge to raw edge, as the block that it is sewn to: the tips of 45° that
/// would reach 0.6036 in past the seam end ¼ in past it, as the block does.
#[test]
fn tips_of_setting_triangles_match_the_blocks_beside_them() {
    let fabric = |name: &str, value| (name.to_owned(), Colour { red: 90, green: 70, blue: 120 }, value);
    let starter = Starter {
        name: "Lantern walk".to_owned(),
        units: Units::Inches,
        fabrics: vec![fabric("Plum", Value::Dark), fabric("Oat", Value::Light)],
        blocks: vec![("Block".to_owned(), Recipe::FourPatch(Size { by: Measure::Block, length: inches(6) }))],
        scheme: ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
        setting: Setting::OnPoint { rows: 3, columns: 3, sides: FabricId(1), corners: FabricId(2) },
        borders: vec![(inches(2), FabricId(1))],
        binding: FabricId(1),
    };
    let design = starter.design().unwrap();
    let mates = Mates::of(&design).unwrap();
    // Side triangles are sewn on at their legs, corner triangles at their long side.
    let pieces = [(Source::SideTriangle { by_corner: false }, 2), (Source::CornerTriangle { row_end: false }, 1)];
    for (source, sewn) in pieces {
        let block = design.cut_block(source).unwrap();
        let shape = shapes(&design, source, &block, (None, &mates)).unwrap().remove(0);
        let outline = with_corner_trims(&shape.outline, &shape.allowances, &shape.trims).unwrap();
        let mut edges: Vec<(f64, usize)> = (0..3)
            .map(|i| (shape.outline.edge(i).length_squared().to_f64().sqrt(), i))
            .filter(|(length, _)| (length - 6.0).abs() < 1e-9)
            .collect();
        assert_eq!(edges.len(), sewn, "{source:?}: seams as long as the block's side");
        for (length, i) in edges.drain(..) {
            let raw = raw_edge(&shape.outline, &outline, i);
            assert!((raw[0] + 0.25).abs() < 1e-9 && (raw[1] - length - 0.25).abs() < 1e-9, "{source:?}: {raw:?}");
        }
    }
}

fn inches(whole: i64) -> Length {
    Length::whole_inches(whole).unwrap()
}

/// Texts and cut lines of a sheet.
fn texts(sheet: &Drawing) -> Vec<(&str, [Point; 2])> {
    let words = sheet.items().iter().filter_map(|item| match item {
        Item::Text(text) => Some((text.text.as_str(), text_box(text))),
        _ => None,
    });
    words.collect()
}

fn overlap(a: [Point; 2], b: [Point; 2]) -> f64 {
    (0..2).map(|k| a[1][k].min(b[1][k]) - a[0][k].max(b[0][k])).fold(f64::INFINITY, f64::min)
}

/// Whether a line runs through a box: sampled every 1/50 in.
fn crosses([from, to]: [Point; 2], within: [Point; 2]) -> bool {
    let length = (to[0] - from[0]).hypot(to[1] - from[1]);
    let steps = (length * 50.0).ceil().max(1.0);
    let mut step = 0.0;
    while step <= steps {
        let at = [0, 1].map(|k| from[k] + (to[k] - from[k]) * step / steps);
        if (0..2).all(|k| at[k] > within[0][k] && at[k] < within[1][k]) {
            return true;
        }
        step += 1.0;
    }
    false
}

#[test]
fn words_stay_on_the_paper_and_off_each_other_and_off_the_cut_lines() {
    let options = SheetOptions::default();
    for design in samples() {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
        for paper in Paper::ALL {
            let about = About::quilt(&design, paper);
            let made = templates(&design, &tally, &ledger, Some(&plan), &about, &options).unwrap();
            let trims = trim_sheets(&design, &plan, &about, &options).unwrap();
            let sheets = made.document.sheets.iter().map(|sheet| (sheet, true));
            for (sheet, is_template) in sheets.chain(trims.document.sheets.iter().map(|sheet| (sheet, false))) {
                check_words(design.name(), sheet, paper, is_template, &options);
            }
        }
    }
}

fn check_words(name: &str, sheet: &Drawing, paper: Paper, is_template: bool, options: &SheetOptions) {
    const EDGE_IN: f64 = 0.3;
    let size = paper.size_in();
    let texts = texts(sheet);
    for (i, (text, within)) in texts.iter().enumerate() {
        let on_paper = (0..2).all(|k| within[0][k] >= EDGE_IN && within[1][k] <= size[k] - EDGE_IN);
        assert!(on_paper, "{name}: {text} at {within:?}");
        assert!(!text.contains('…'), "{name}: {text} is shortened");
        for (other, at) in &texts[..i] {
            assert!(overlap(*within, *at) < 0.01, "{name}: {text} lies on {other}");
        }
    }
    let cut = options.colours.cut;
    for item in sheet.items().iter().filter(|_| is_template) {
        let Item::Lines(lines) = item else { continue };
        for line in lines.polylines.iter().filter(|_| lines.stroke == cut) {
            let closing = [line.points[line.points.len() - 1], line.points[0]];
            let closing = line.closed.then_some(closing);
            for ends in line.points.windows(2).map(|ends| [ends[0], ends[1]]).chain(closing) {
                let hit = texts.iter().find(|(_, within)| crosses(ends, *within));
                assert!(hit.is_none(), "{name}: a cut line runs through {hit:?}, {:?}", bounds(&ends));
            }
        }
    }
}
