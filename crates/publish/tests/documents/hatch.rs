//! Drawings in black and white: every fabric's area is white under its hatch, nothing keeps a colour.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use layout::file::Document;
use layout::{Colour, Design};
use piecing::{CuttingHand, QuiltPlan};
use publish::hatch::Hatching;
use publish::sewing::block_pages;
use publish::{Anchor, Drawing, Item, Page, Seams, Text, Weight, quilt_picture};

fn sample(name: &str) -> Design {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    Document::open(&folder.join(name).with_extension("json")).unwrap().variants()[0].design.clone()
}

fn colours(drawing: &Drawing) -> BTreeSet<Colour> {
    let of = |item: &Item| match item {
        Item::Area(area) => area.fill,
        Item::Lines(lines) => lines.stroke,
        Item::Text(text) => text.fill,
        other => unreachable!("{other:?} is new"),
    };
    drawing.items().iter().map(of).collect()
}

fn is_grey(colour: &Colour) -> bool {
    colour.red == colour.green && colour.green == colour.blue
}

/// Twice the area of polygons, and of the rectangle that hatch lines of this spacing fill.
fn double_area(polygons: &[Vec<[f64; 2]>]) -> f64 {
    let of = |corners: &Vec<[f64; 2]>| {
        let next = corners.iter().skip(1).chain(corners.first());
        corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
    };
    polygons.iter().map(of).sum()
}

#[test]
fn a_quilt_keeps_its_areas_and_loses_its_colours() {
    let design = sample("crib-night-ferry");
    let plain = quilt_picture(&design, Seams::Shown).unwrap();
    assert!(!colours(&plain).iter().all(is_grey), "the picture has colours to lose");
    let hatched = Hatching::new(&design).drawing(&plain, 0.1, 0.2).unwrap();
    assert!(colours(&hatched).iter().all(is_grey));
    let areas = |drawing: &Drawing| {
        let area = |item: &Item| match item {
            Item::Area(area) => Some((area.label.clone(), area.polygons.clone())),
            _ => None,
        };
        drawing.items().iter().filter_map(area).collect::<Vec<_>>()
    };
    assert_eq!(areas(&plain), areas(&hatched));
    // Lines of a hatch, times their distance, are as large as the fabric; those of dark fabrics are crossed.
    let mut lengths = Vec::new();
    for item in hatched.items() {
        let Item::Lines(lines) = item else { continue };
        if lines.polylines.iter().all(|line| !line.closed) {
            let length = |line: &publish::Polyline| {
                let [[ax, ay], [bx, by]] = [line.points[0], line.points[1]];
                (bx - ax).hypot(by - ay)
            };
            lengths.push(lines.polylines.iter().map(length).sum::<f64>());
        }
    }
    let fabrics: Vec<_> = areas(&plain);
    assert_eq!(lengths.len(), fabrics.len());
    for ((label, polygons), length) in fabrics.iter().zip(lengths) {
        let value = ["dark", "medium", "light"].into_iter().find(|word| label.ends_with(&format!("({word})"))).unwrap();
        // Distances as printed, in inches, and how often an area is filled.
        let (distance, times) =
            BTreeMap::from([("dark", (0.05, 2.0)), ("medium", (0.08, 1.0)), ("light", (0.16, 1.0))])[value];
        let filled = length * distance / 0.1 / times;
        let area = double_area(polygons) / 2.0;
        assert!((filled - area).abs() < 0.05 * area, "{label}: {filled} of {area} square inches");
    }
}

#[test]
fn diagrams_of_sewing_lose_every_colour() {
    for name in ["crib-night-ferry", "throw-two-windows", "full-six-winds"] {
        let design = sample(name);
        let hatching = Hatching::new(&design);
        let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
        let mut looked_at = 0;
        for block in &plan.blocks {
            let pages = block_pages(&design, block, &[], CuttingHand::Right).unwrap();
            for step in &pages.steps {
                for drawing in step.diagrams.iter().chain(&step.hands).chain(&step.trim_diagram) {
                    let hatched = hatching.drawing(drawing, 1.7, 14.0 / 72.0).unwrap();
                    assert!(colours(&hatched).iter().all(is_grey), "{name}");
                    assert!(hatched.items().len() > drawing.items().len(), "{name}: nothing was hatched");
                    looked_at += 1;
                }
            }
        }
        assert!(looked_at > 0);
    }
}

#[test]
fn text_is_printed_large_enough_and_stands_on_white() {
    let design = sample("crib-night-ferry");
    let text = |size_in| {
        Item::Text(Text {
            text: "3½″".to_owned(),
            at: [1.0, 1.0],
            anchor: Anchor::Middle,
            size_in,
            weight: Weight::Bold,
            fill: Colour::rgb(163, 34, 64),
            turned: 90.0,
        })
    };
    let page = Page { width_in: 2.0, height_in: 2.0, background: None };
    for (size_in, shown) in [(0.05, 0.1), (0.3, 0.3)] {
        let drawing = Drawing::new(page, vec![text(size_in)]).unwrap();
        let printed = Hatching::new(&design).drawing(&drawing, 2.0, 0.2).unwrap();
        let [Item::Area(ground), Item::Text(text)] = printed.items() else { unreachable!("{printed:?}") };
        assert!((text.size_in - shown).abs() < 1e-9);
        assert!(is_grey(&text.fill) && ground.fill == Colour::rgb(255, 255, 255));
        // The turned text runs upright: its ground is taller than wide, and its point lies within.
        let side = |axis: usize| {
            let along: Vec<f64> = ground.polygons[0].iter().map(|corner| corner[axis]).collect();
            let (low, high) =
                (along.iter().copied().fold(f64::MAX, f64::min), along.iter().copied().fold(f64::MIN, f64::max));
            assert!(low <= 1.0 && 1.0 <= high);
            high - low
        };
        assert!(side(1) > side(0));
    }
}

#[test]
fn every_fabric_has_a_swatch() {
    let design = sample("queen-weathervane");
    let hatching = Hatching::new(&design);
    let swatches: Vec<Drawing> = design.fabrics().map(|(id, _)| hatching.swatch(id).unwrap()).collect();
    assert!(swatches.len() > 3);
    for (index, swatch) in swatches.iter().enumerate() {
        assert!(swatches[..index].iter().all(|other| other != swatch), "two fabrics look alike");
    }
    assert!(hatching.swatch(layout::FabricId(4_000_000)).is_err());
}
