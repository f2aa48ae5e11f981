//! The words of a step against its diagrams: whoever follows either does the same.

use std::collections::BTreeMap;

use layout::{Colour, Design};
use piecing::{CuttingHand, QuiltPlan};
use publish::sewing::{BlockPages, StepPage, block_pages, top_words};
use publish::{Area, Drawing, Item, Point};

/// The colour of pressing arrows.
const ARROW: Colour = Colour::rgb(163, 34, 64);

fn folder() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts")
}

fn sample(name: &str) -> Design {
    let document = layout::file::Document::open(&folder().join(format!("{name}.json"))).unwrap();
    document.variants()[0].design.clone()
}

fn plan(design: &Design) -> QuiltPlan {
    QuiltPlan::new(design, &BTreeMap::new()).unwrap()
}

fn pages(design: &Design) -> Vec<BlockPages> {
    let told = |block| block_pages(design, block, &[], CuttingHand::Right).unwrap();
    plan(design).blocks.iter().map(told).collect()
}

/// All quilts that come with the program.
fn samples() -> Vec<Design> {
    let files = std::fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path());
    let files = files.filter(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.map(|path| layout::file::Document::open(&path).unwrap().variants()[0].design.clone()).collect()
}

fn far(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Where the diagram has the number of a seam: the words that are a number alone.
fn number_at(drawing: &Drawing, number: usize) -> Option<Point> {
    drawing.items().iter().find_map(|item| match item {
        Item::Text(text) if text.text == number.to_string() => Some(text.at),
        _ => None,
    })
}

fn areas(drawing: &Drawing) -> impl Iterator<Item = &Area> {
    drawing.items().iter().filter_map(|item| if let Item::Area(area) = item { Some(area) } else { None })
}

/// Whether a point lies in a polygon: a ray to the right crosses its edges an odd number of times.
fn holds(polygon: &[Point], [x, y]: Point) -> bool {
    let edges = polygon.iter().zip(polygon.iter().cycle().skip(1));
    let crossed =
        edges.filter(|(a, b)| (a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]);
    crossed.count() % 2 == 1
}

/// The fabric on which the arrow beside a number ends.
fn fabric_of_arrow(drawing: &Drawing, number: Point) -> String {
    let tips = areas(drawing).filter(|area| area.fill == ARROW).map(|area| area.polygons[0][0]);
    let tip = tips.min_by(|a, b| far(*a, number).total_cmp(&far(*b, number))).unwrap();
    let patches = areas(drawing).filter(|area| !area.label.is_empty() && holds(&area.polygons[0], tip));
    patches.last().unwrap().label.clone()
}

/// What is told of each variant: its own words and those of all.
fn told(step: &StepPage) -> impl Iterator<Item = (String, &String, &Drawing)> {
    let each = step.variants.iter().zip(&step.diagrams);
    each.map(|(variant, drawing)| (format!("{variant} {}", step.pressing.join(" ")), variant, drawing))
}

/// "seam 2 toward the diamond" of the words: its number, and what follows "toward".
fn seams(words: &str) -> Vec<(usize, String)> {
    let words = words.replace("Press seam ", ", seam ");
    let parts = words.split(", seam ").skip(1);
    let seam = |part: &str| {
        let (number, toward) = part.split_once(" toward ").unwrap();
        (number.parse().unwrap(), toward.split(['.', ',']).next().unwrap().to_owned())
    };
    parts.map(seam).collect()
}

#[test]
fn seams_that_are_told_by_number_have_it_in_the_diagram_and_go_where_the_arrow_points() {
    let (mut numbered, mut compared) = (0, 0);
    for design in samples() {
        for step in pages(&design).iter().flat_map(|page| &page.steps) {
            for (words, variant, drawing) in told(step) {
                for (number, toward) in seams(&words) {
                    let at = number_at(drawing, number).unwrap_or_else(|| panic!("no {number}: {words}"));
                    numbered += 1;
                    let Some(role) = toward.strip_prefix("the ") else { continue };
                    // Only what comes in one fabric tells where the arrow must end.
                    let fabrics = variant.split([':', ';', ',', '.']).filter_map(|part| part.trim().split_once(" in "));
                    let fabrics: Vec<&str> =
                        fabrics.filter(|(name, _)| *name == role).map(|(_, fabric)| fabric).collect();
                    if let [fabric] = fabrics.as_slice() {
                        assert_eq!(fabric_of_arrow(drawing, at), *fabric, "seam {number} of {words}");
                        compared += 1;
                    }
                }
            }
        }
    }
    assert!(numbered >= 20 && compared >= 8, "{numbered}, {compared}");
}

/// Seams are numbered as one reads: no seam lies right of the next one and below it too.
#[test]
fn rows_of_parts_are_told_from_the_left_or_from_the_top() {
    let mut looked_at = 0;
    for design in samples() {
        for step in pages(&design).iter().flat_map(|page| &page.steps) {
            if !step.lines[0].starts_with("Sew together in this order") {
                continue;
            }
            for (words, _, drawing) in told(step).filter(|(words, ..)| !seams(words).is_empty()) {
                let last = seams(&words).len();
                let (Some(a), Some(b)) = (number_at(drawing, 1), number_at(drawing, last)) else { panic!("{words}") };
                assert!(a[0] <= b[0] || a[1] <= b[1], "{}: {words}", design.name());
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 5);
}

/// "2 × unit 1a, unit 1b" of the words that follow "Made of": how often each is used.
fn made_of(variant: &str) -> Vec<(String, u64)> {
    let Some((_, parts)) = variant.split_once("Made of ") else { return Vec::new() };
    let parts = parts.split('.').next().unwrap().split(", ");
    let part = |part: &str| match part.split_once(" × ") {
        Some((times, unit)) => (unit.to_owned(), times.parse().unwrap()),
        None => (part.to_owned(), 1),
    };
    parts.map(part).collect()
}

/// As many of a lettered unit are made as later steps take, so the letters of both mean the same.
#[test]
fn units_of_several_kinds_are_made_as_often_as_they_are_used() {
    let mut kinds = 0;
    for design in samples() {
        for page in pages(&design) {
            let (mut made, mut used) = (BTreeMap::<String, u64>::new(), BTreeMap::<String, u64>::new());
            for (variant, drawing) in page.steps.iter().flat_map(|step| step.variants.iter().zip(&step.diagrams)) {
                let (head, _) = variant.split_once(": ").unwrap();
                let mut words = head.split(' ');
                let count: u64 = words.next().unwrap().parse().unwrap();
                if let Some((_, unit)) = head.split_once(" of ") {
                    *made.entry(unit.trim_end_matches(" mirrored").to_owned()).or_default() += count;
                }
                let mut parts = BTreeMap::<String, u64>::new();
                for (unit, times) in made_of(variant) {
                    *parts.entry(unit).or_default() += times;
                }
                for (unit, times) in parts {
                    let letter = unit.strip_prefix("unit ").unwrap();
                    let shown = |item: &&Item| matches!(item, Item::Text(text) if text.text == letter);
                    assert_eq!(drawing.items().iter().filter(shown).count() as u64, times, "{variant}");
                    *used.entry(unit).or_default() += count * times;
                }
            }
            assert_eq!(made, used, "{}, {}", design.name(), page.name);
            kinds += made.len();
        }
    }
    assert!(kinds > 8, "{kinds}");
}

/// Two diamonds that differ in hand are named as the cutting table names them, and once it is told why they are kept apart;
/// a star whose diamonds are all of one hand has no need of it.
#[test]
fn hands_are_named_where_a_block_has_both() {
    let design = sample("king-lantern-orchard");
    let pages = pages(&design);
    let page = |name: &str| pages.iter().find(|page| page.name == name).unwrap();
    let (both, star) = (page("Day and night"), page("Star"));
    for hand in ["left", "right"] {
        for variant in &both.steps[0].variants {
            assert!(variant.contains(&format!("diamond, leaning {hand} in")), "{variant}");
        }
        assert!(!star.steps[0].lines[0].contains(hand), "{}", star.steps[0].lines[0]);
    }
    let why = |page: &BlockPages| page.cutting.iter().filter(|note| note.contains("straight grain runs along")).count();
    assert_eq!((why(both), why(star)), (1, 0));
}

/// Nine squares of 2 in, those round the edge cut ¼ in larger there: 2¾ in at the corners, 2½ × 2¾ in at the sides.
#[test]
fn squares_cut_to_different_sizes_are_told_apart() {
    let pages = pages(&sample("throw-toymakers-shelf"));
    let step = &pages.iter().find(|page| page.name == "Nine-patch").unwrap().steps[0];
    let rows: Vec<&str> =
        step.measures.as_ref().unwrap().trim_end_matches(", with what is trimmed later").split("; ").collect();
    for (unit, size) in [("2¾″ × 2¾″ in Plum", "2¾″ × 7″"), ("2½″ × 2½″ in Plum", "2½″ × 7″")]
    {
        let variant = step.variants.iter().find(|variant| variant.contains(&format!("square, {unit}"))).unwrap();
        let (_, number) = variant.split_once(": ").unwrap().0.split_once(" of ").unwrap();
        assert!(rows.contains(&format!("{number} {size}").as_str()), "{rows:?}, {variant}");
        assert!(variant.contains("square, cut oblong, "), "{variant}");
    }
}

/// No line runs through the words of a trim diagram, and no two of them lie on each other.
#[test]
fn measures_of_trims_can_be_read() {
    let mut looked_at = 0;
    for step in pages(&sample("throw-toymakers-shelf")).iter().flat_map(|page| &page.steps) {
        let Some(drawing) = &step.trim_diagram else { continue };
        let items = drawing.items();
        let first = items.iter().position(|item| matches!(item, Item::Text(_))).unwrap();
        assert!(!items[first..].iter().any(|item| matches!(item, Item::Lines(_))), "{:?}", step.trim);
        let words: Vec<Point> =
            items.iter().filter_map(|item| if let Item::Text(text) = item { Some(text.at) } else { None }).collect();
        for (i, a) in words.iter().enumerate() {
            // The least that words of a few figures are wide and high.
            let apart = |b: &Point| (a[0] - b[0]).abs() > 0.25 || (a[1] - b[1]).abs() > 0.11;
            assert!(words[i + 1..].iter().all(apart), "{:?}: {words:?}", step.trim);
        }
        looked_at += 1;
    }
    assert!(looked_at > 3);
}

/// Where sashes part all blocks, none nests with another; diagonal rows are told from those straight across.
#[test]
fn rows_with_numbers_are_told_which_they_are() {
    let design = sample("king-lantern-orchard");
    let told = top_words(&design, &plan(&design)).unwrap().join(" ");
    assert!(!told.contains("seams nest wherever blocks meet"), "{told}");
    assert!(told.contains("There are 10 diagonal rows of blocks"), "{told}");
}

/// Corner triangles between rows of hexagons lean two ways: each corner of the top is told once.
#[test]
fn corners_between_hexagons_are_told_apart() {
    let design = sample("crib-pebble-ford");
    let told = top_words(&design, &plan(&design)).unwrap();
    let corners = told.iter().find(|line| line.starts_with("Which corner takes which")).unwrap();
    for corner in ["upper left", "upper right", "lower left", "lower right"] {
        assert_eq!(corners.matches(&format!("the {corner}")).count(), 1, "{corners}");
    }
    assert!(corners.contains("corner triangle, leaning left, goes to"), "{corners}");
}

/// Every finished block of several kinds is one of them, and every kind takes as many units of a step as any other.
#[test]
fn variants_name_the_kinds_of_block_they_are_for() {
    let design = sample("lap-owl-lane");
    let pages = pages(&design);
    let steps = &pages[0].steps;
    let mut last: Vec<&usize> = steps.last().unwrap().kinds.iter().flatten().collect();
    last.sort_unstable();
    assert_eq!(last, [&0, &1, &2, &3]);
    let units = &steps[0].kinds;
    let often = |kind| units.iter().flatten().filter(|of| **of == kind).count();
    assert_eq!([0, 1, 2, 3].map(often), [2; 4], "{units:?}");
}
