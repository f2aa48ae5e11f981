//! Pieces and cuts in the words of a cutter: what is set on the ruler, at which angle, and what is trimmed.

use crate::made::{quilt_in, sized};

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use cutting::{FabricPlan, Ledger, PlannedPiece, Planner};
use geometry::{Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Tone, Value, Vector};
use layout::file::Document;
use layout::{CuttingWishes, Design, Edit, FabricId, Setting, Source, Tally, apply};
use piecing::{CuttingHand, QuiltPlan};
use publish::booklet::{BookletData, CutFabric, booklet_data};
use publish::cut_words::{cut_size, listed_name, piece_name, strip_lines, trim_words};
use publish::{About, BookletInput, BookletOptions, Offered, Paper};

fn sample(name: &str) -> Design {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../sample-quilts/{name}.json"));
    Document::open(&file).unwrap().variants()[0].design.clone()
}

fn straight(recipe: Recipe) -> Design {
    quilt_in(recipe, Setting::Straight { rows: 2, columns: 3 }, &[])
}

fn plans(design: &Design) -> Vec<FabricPlan> {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    ledger.plans().values().map(|plan| plan.as_ref().unwrap().clone()).collect()
}

/// The words of every patch.
fn sizes(design: &Design) -> BTreeSet<String> {
    let patch = |piece: &&PlannedPiece| piece.shape.is_some() && piece.blank.is_none();
    let told = |plan: &FabricPlan| -> Vec<String> {
        plan.pieces.iter().filter(patch).map(|piece| cut_size(piece, design.units())).collect()
    };
    plans(design).iter().flat_map(told).collect()
}

/// A square of 12 in with another on point in it, whose sides are 6√2 in, and its grain along the block's sides.
fn window() -> Recipe {
    let at = |x: i64, y: i64| Point::new(Exact::int(x), Exact::int(y));
    let patch = |key: u32, role: &str, corners: Vec<Point>| Patch {
        key: PatchKey(key),
        outline: Polygon::new(corners).unwrap(),
        role: Role::new(role).unwrap(),
        tone: Tone::Own(Value::Dark),
        grain: Some(Vector::new(Exact::ONE, Exact::ZERO)),
    };
    let corners = [
        vec![at(0, 0), at(6, 0), at(0, 6)],
        vec![at(12, 0), at(12, 6), at(6, 0)],
        vec![at(12, 12), at(6, 12), at(12, 6)],
        vec![at(0, 12), at(0, 6), at(6, 12)],
    ];
    let mut patches = vec![patch(0, "pane", vec![at(6, 0), at(12, 6), at(6, 12), at(0, 6)])];
    patches.extend((1..).zip(corners).map(|(key, corners)| patch(key, "corner", corners)));
    Recipe::Own { base: Polygon::new(vec![at(0, 0), at(12, 0), at(12, 12), at(0, 12)]).unwrap(), patches }
}

/// Worked out by hand for seam allowances of ¼ in: half-square triangles are their finished leg + 0.8536 in, quarter-square
/// ones their finished base + 1.2071 in, 60° triangles ¾ in higher than finished (common practice, no source); strips and
/// whatever lies between parallel sides ½ in wider.
#[test]
fn pieces_are_told_by_what_is_set_on_the_ruler() {
    let rows = Setting::TriangleRows { rows: 2, columns: 5, ends: FabricId(2) };
    let whole = |size| Recipe::OnAxisStar { size, split: [false; 8] };
    let half = Recipe::DiagonalHalf { size: sized(Measure::Block, 12), band: None };
    let told: [(Design, &[&str]); 5] = [
        (
            straight(Recipe::TiltedStar(sized(Measure::Block, 12))),
            &[
                "45° diamond, 2.9853″ between sides",
                "4.0147″ × 4.0147″",
                "quarter-square triangle, base 6.1777″, height 3.0888″, ends 45°",
            ],
        ),
        (
            straight(whole(sized(Measure::Block, 12))),
            &["half-square triangle, legs 4.3683″", "triangle, base 5.7189″, height 6.9033″, ends 67.5°"],
        ),
        // The trapezoid's long side is the diagonal, 16.9706 in, less two sides of diamonds, 7.0294 in, and the allowances
        // that reach past its corners of 45°: 1.2071 in. What is cut off at 45° is as long as the strip is wide.
        (straight(half), &["trapezoid, 11.1482″ and 5.1777″ long, 2.9853″ high, ends 45°"]),
        (
            quilt_in(Recipe::SixtyUnit(sized(Measure::Side, 6)), rows, &[]),
            &[
                "60° diamond, 3.0981″ between sides",
                "60° triangle, height 3.3481″, sides 3.8660″",
                // Half of a triangle of side 6 in: legs 3 in and 3√3 in, and the allowances at its corners of 30° and 60°.
                "right triangle, legs 6.3792″ and 3.6830″, ends 30° and 60°",
            ],
        ),
        (straight(window()), &["8.9853″ × 8.9853″, turned 45° in the strip, edges on the bias"]),
    ];
    for (design, wanted) in told {
        let sizes = sizes(&design);
        for words in wanted {
            assert!(sizes.contains(*words), "{words} is not in {sizes:?}");
        }
    }
}

/// A hexagon is told by how far its flats are apart.
#[test]
fn hexagons_are_told_across_their_flats() {
    let rows = Setting::HexagonRows { rows: 2, columns: 3, halves: FabricId(1), edges: FabricId(2) };
    let design = quilt_in(Recipe::Hexagon(sized(Measure::Side, 3)), rows, &[]);
    // 3√3 in and two allowances.
    assert!(sizes(&design).contains("hexagon, 5.6962″ across flats"), "{:?}", sizes(&design));
}

/// The cut lengths that the words give enclose just the area of the cut shape, for every triangle, diamond and trapezoid of
/// the samples: no figure is taken from somewhere else.
#[test]
fn the_figures_told_make_the_cut_area() {
    let mut seen = BTreeSet::new();
    for name in ["throw-two-windows", "throw-toymakers-shelf", "full-six-winds", "lap-owl-lane"] {
        let design = sample(name);
        for piece in plans(&design).iter().flat_map(|plan| &plan.pieces) {
            let words = cut_size(piece, design.units());
            let Some(area) = area_told(&words) else { continue };
            let cut = area_of(piece);
            assert!((area - cut).abs() < 0.002 * cut.max(1.0), "{name}: {words} make {area}, cut are {cut}");
            seen.insert(words.split([',', ' ']).find(|word| word.chars().all(char::is_alphabetic)).unwrap().to_owned());
        }
    }
    assert!(seen.len() >= 3, "{seen:?}");
}

/// Square inches of a shape with these words; none for shapes that they do not settle.
fn area_told(words: &str) -> Option<f64> {
    let lengths: Vec<f64> = words.split([' ', ',']).filter_map(inches_of).collect();
    let angle: Option<f64> = words.split('°').next().and_then(|first| first.rsplit(' ').next()?.parse().ok());
    let is = |name: &str| words.contains(name);
    Some(match lengths[..] {
        [leg] if is("half-square") => leg * leg / 2.0,
        [a, b] if is("right triangle") || is("base") => a * b / 2.0,
        [a, b] if is("60° triangle") => a * b / 2.0,
        [apart] if is("diamond") => apart * apart / angle?.to_radians().sin(),
        [a, b] if is("parallelogram") => a * b / angle?.to_radians().sin(),
        [long, short, high] if is("trapezoid") => (long + short) / 2.0 * high,
        _ => return None,
    })
}

/// "3.1360″" or "3½″" in inches.
fn inches_of(word: &str) -> Option<f64> {
    let figure = word.strip_suffix('″')?;
    if let Ok(decimal) = figure.parse() {
        return Some(decimal);
    }
    let eighths = [("⅛", 1.0), ("¼", 2.0), ("⅜", 3.0), ("½", 4.0), ("⅝", 5.0), ("¾", 6.0), ("⅞", 7.0)];
    let (glyph, eighths) = eighths.into_iter().find(|(glyph, _)| figure.ends_with(glyph))?;
    let whole = figure.strip_suffix(glyph)?;
    Some(eighths / 8.0 + if whole.is_empty() { 0.0 } else { whole.parse().ok()? })
}

fn area_of(piece: &PlannedPiece) -> f64 {
    let corners = piece.shape.as_ref().map(|shape| shape.cut_in_frame()).unwrap_or_default();
    let n = corners.len();
    (0..n).map(|i| corners[i][0] * corners[(i + 1) % n][1] - corners[(i + 1) % n][0] * corners[i][1]).sum::<f64>() / 2.0
}

/// What is cut from the strips of a design, with the pieces' names.
fn rows(design: &Design) -> Vec<String> {
    let of_plan = |plan: &FabricPlan| -> Vec<String> {
        let cloths = plan.cloths();
        let strips = cloths.iter().flat_map(|cloth| cloth.strips.iter().map(|strip| (strip, cloth.width)));
        strips
            .flat_map(|(strip, length)| strip_lines(plan, strip, length, design.units()))
            .map(|row| row.text)
            .collect()
    };
    plans(design).iter().flat_map(of_plan).collect()
}

/// Every row says how its pieces are cut off, one piece alone too, but for what is as long as its name or its strip says.
#[test]
fn rows_tell_angles_and_distances() {
    let all: Vec<String> = ["throw-two-windows", "single-birch-and-slate", "throw-toymakers-shelf", "full-six-winds"]
        .iter()
        .flat_map(|name| rows(&sample(name)))
        .collect();
    for words in [
        // Strips of 3¼ in: two star points take 3¼ in × √2 along them, and 54.7° is atan √2.
        "star point, leaning left, every other one turned, cut at 90° and 35.3° by turns, each two 4.5962″ (just under 4⅝″) \
         along the strip",
        "corner, every other one turned, cut at 90° and 45° by turns, each two 4⅜″ along the strip",
        // Both ends lean by 3 in in a strip of 3 in, so that long and short sides differ by 6 in; two pieces take 16½ in.
        "trapezoid, every other one turned, cut at 45° both ways, 5¼″ and 11¼″ along one edge by turns",
        "side triangle, every other one turned, cut at 60° both ways, each two 4.3301″ (just under 4⅜″) \
         along the strip",
        "diamond, leaning right, cut at 45°, 3″ apart",
        "pane, every 4⅛″",
    ] {
        assert!(all.iter().any(|row| row.contains(words)), "{words} is not in {all:#?}");
    }
    for row in &all {
        let is_told = ["cut at", "cut round", "every", " long", " along the strip", "binding strip"]
            .iter()
            .any(|how| row.contains(how));
        assert!(is_told, "{row}");
    }
}

/// Strips of one height are cut apart at the same step square to the cut, in centimetres as in inches: 7.86 cm is set at
/// 7.90 cm both ways.
#[test]
fn diamonds_are_set_alike_both_ways() {
    let design = sample("single-birch-and-slate");
    let rows = rows(&design);
    let diamonds: Vec<&String> = rows.iter().filter(|row| row.contains("diamond")).collect();
    assert!(!diamonds.is_empty() && diamonds.iter().all(|row| row.contains("7.90 cm apart")), "{diamonds:?}");
}

/// The words for a piece of this name.
fn trims(design: &Design) -> BTreeMap<(String, String), Option<String>> {
    let units = design.units();
    let of_plan = |plan: &FabricPlan| -> Vec<_> {
        let told = |p: &PlannedPiece| ((piece_name(p, units), cut_size(p, units)), trim_words(plan, p, units));
        plan.pieces.iter().map(told).collect()
    };
    plans(design).iter().flat_map(of_plan).collect()
}

#[test]
fn what_the_ruler_sets_wider_is_trimmed() {
    let star = |design: &Design, size: &str| {
        let all = trims(design);
        let found = all.iter().find(|((_, cut), _)| cut == size);
        found.unwrap_or_else(|| panic!("{size} is not in {all:?}")).1.clone()
    };
    let design = straight(Recipe::TiltedStar(sized(Measure::Block, 12)));
    let before = Some("trim to this size before sewing".to_owned());
    assert_eq!(star(&design, "4.0147″ × 4.0147″"), before);
    // 4.3683 in are set at 4⅜ in, and 2.9853 in at 3 in: no blade takes off what is over.
    let as_cut = Some("sew as cut: less than 1/32″ over".to_owned());
    assert_eq!(star(&design, "45° diamond, 2.9853″ between sides"), as_cut);
    let octagon = straight(Recipe::OnAxisStar { size: sized(Measure::Block, 12), split: [false; 8] });
    assert_eq!(star(&octagon, "half-square triangle, legs 4.3683″"), as_cut);
    // A nine-patch of 9 in is cut from strips of 3½ in: nothing is left to trim.
    let plain = straight(Recipe::NinePatch(sized(Measure::Block, 9)));
    assert!(trims(&plain).values().all(Option::is_none), "{:?}", trims(&plain));
    // With a margin the outer pieces are trimmed with the block, the diamonds inside it before they are sewn.
    let wishes = CuttingWishes { oversize: Length::inch_fraction(1, 4).ok(), ..design.cutting().clone() };
    let with_margin = apply(&design, &Edit::SetCutting(wishes)).unwrap().0;
    assert_eq!(star(&with_margin, "4.2647″ × 4.2647″"), Some("trimmed later with its unit".to_owned()));
    assert_eq!(star(&with_margin, "45° diamond, 2.9853″ between sides"), as_cut);
}

fn pattern(design: &Design) -> BookletData {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    let sewing = QuiltPlan::new(design, &BTreeMap::new()).unwrap();
    let (plans, sewn) = (ledger.plans(), [].as_slice());
    let offered = [Offered { label: "First", design, ledger: &ledger, plans, sewn, planner: Planner::Quick }];
    let input = BookletInput { quilt: offered[0], sewing: &sewing, offered: &offered };
    let about = About::quilt(design, Paper::A4);
    booklet_data(&input, &BookletOptions { about, photo: None, hand: CuttingHand::Right }).unwrap().0
}

/// A border that finishes 12√2 − 14.3 in wide, 2.6706 in, is cut 3.1706 in; the ruler sets 3¼ in. One that finishes
/// 12√2 − 14½ in wide and is cut 2.9706 in is set at 3 in, and nobody trims off the rest.
#[test]
fn a_border_that_the_ruler_sets_wider_is_told_exactly() {
    let told = |width: Length| {
        let block = Recipe::FourPatch(sized(Measure::Block, 12));
        let design = quilt_in(block, Setting::Straight { rows: 2, columns: 2 }, &[width]);
        pattern(&design).top.borders.join(" ")
    };
    let less = |num, den| Length::new(&Exact::sqrt2().scale_int(12) - &Exact::ratio(num, den).unwrap()).unwrap();
    let odd = told(less(143, 10));
    let trim = "its strips are set at 3¼″ on the ruler: trim them to 3.1706″ (just over 3⅛″) before you sew";
    assert!(odd.contains(trim), "{odd}");
    assert!(odd.find(trim) < odd.find("measure the height"), "trimmed before it is sewn: {odd}");
    let hair = told(less(29, 2));
    assert!(!hair.contains("trim them"), "{hair}");
    let even = told(Length::whole_inches(3).unwrap());
    assert!(!even.contains("trim them"), "{even}");
}

/// Sections are told with the side that they go to, in the list of pieces and where borders are sewn; those for one piece,
/// less two allowances at each join, are as long as the piece and what it has to spare.
#[test]
fn sections_are_told_for_their_side() {
    let data = pattern(&sample("full-six-winds"));
    let pieces: Vec<&str> =
        data.cutting.fabrics.iter().flat_map(|fabric| &fabric.pieces).map(|piece| piece.name.as_str()).collect();
    for name in [
        "border, section 40″ long (all sides of border 2)",
        "border, section 36″ long (sides of border 2)",
        "border, section 38⅜″ long (top and bottom of border 2)",
    ] {
        assert!(pieces.contains(&name), "{name} is not in {pieces:?}");
    }
    // Rows of 17 triangles 6 in high and their halves at the ends are 36√3 in wide, with borders of 1½ in and 6 in on either
    // side 77.3538 in, cut 77.8538 in; the sections are 78⅜ in, less ½ in at their join.
    let borders = data.top.borders.join(" ");
    let told = "Border 2: top and bottom are each joined from 1 section 38⅜″ long and 1 section 40″ long; cut as \
                planned, the joined piece has nothing to spare.";
    assert!(borders.contains(told), "{borders}");
    // How the pieces of a border are joined is told before it is sewn on.
    let before = borders.find("Border 2: top and bottom are each joined").unwrap();
    assert!(before < borders.find("Border 2: measure").unwrap(), "{borders}");
    assert!(borders.find("Border 1: measure").unwrap() < before, "{borders}");
}

/// Where pieces lean, their fabric says how it lies and the notes say what leaning means; elsewhere neither is told.
#[test]
fn pieces_with_a_hand_are_cut_from_one_layer() {
    let data = pattern(&sample("throw-two-windows"));
    let told = |fabric: &CutFabric| fabric.told.iter().any(|line| line.contains("in a single layer, right side up"));
    for fabric in &data.cutting.fabrics {
        let leans = fabric.pieces.iter().any(|piece| piece.name.contains("leaning"));
        assert_eq!(told(fabric), leans, "{}", fabric.name);
    }
    assert!(data.cutting.fabrics.iter().any(told) && !data.cutting.fabrics.iter().all(told));
    let means = |data: &BookletData| data.cutting.notes.iter().any(|note| note.starts_with("“Leaning right”"));
    assert!(means(&data));
    assert!(!means(&pattern(&straight(Recipe::NinePatch(sized(Measure::Block, 9))))));
}

/// The table of pieces points to the templates by their letters, and to a template turned over for the other hand.
#[test]
fn pieces_name_their_templates() {
    let data = pattern(&sample("throw-two-windows"));
    let of = |name: &str| {
        let mut pieces = data.cutting.fabrics.iter().flat_map(|fabric| &fabric.pieces);
        pieces.find(|piece| piece.name == name).unwrap().template.clone()
    };
    assert_eq!(of("pane"), "template A");
    assert_eq!(of("star point, leaning left"), "template C");
    assert_eq!(of("star point, leaning right"), "template C turned over for 50, D for 50, alike but for the tips");
    assert_eq!(of("border (sides of border 2)"), "", "the ruler cuts borders");
}

/// Words are explained that the booklet needs: no set-in seams where it has none, setting triangles by the setting.
#[test]
fn the_glossary_has_what_the_quilt_has() {
    let terms =
        |name: &str| -> Vec<String> { pattern(&sample(name)).glossary.into_iter().map(|entry| entry.term).collect() };
    let has = |terms: &[String], term: &str| terms.iter().any(|t| t == term);
    let windows = terms("throw-two-windows");
    assert!(has(&windows, "Half-square triangle") && has(&windows, "Leaning left, leaning right"), "{windows:?}");
    assert!(!has(&windows, "Set in") && !has(&windows, "Setting triangle"), "{windows:?}");
    // Its blocks have side triangles, and its rows end with half triangles: none is a setting triangle.
    assert!(!has(&terms("full-six-winds"), "Setting triangle"));
    assert!(has(&terms("king-lantern-orchard"), "Setting triangle"));
}

/// The backing is reckoned from the finished quilt: of 4 in all round, ¼ in is under the seam allowance of the top.
#[test]
fn the_backing_reaches_beyond_the_finished_quilt() {
    let backing = pattern(&sample("throw-two-windows")).finishing.backing.join(" ");
    let told =
        "79″ × 79″, and cut the batting as large: 4″ beyond the finished quilt on every side, 3¾″ beyond the raw edges";
    assert!(backing.contains(told), "{backing}");
}

/// What a piece is called in a fabric are the roles that stand there in this fabric, and a square cut with a margin at one
/// side is told to be none.
#[test]
fn names_say_what_occurs_in_the_fabric() {
    let names = |sample: &Design| -> Vec<Vec<String>> {
        plans(sample)
            .iter()
            .map(|plan| plan.pieces.iter().map(|piece| listed_name(piece, sample.units())).collect())
            .collect()
    };
    let windows = names(&sample("throw-two-windows"));
    let with = |role: &str| windows.iter().filter(|names| names.iter().any(|name| name == role)).count();
    assert_eq!((with("inner corner"), with("outer corner")), (1, 1), "{windows:?}");
    let shelf = sample("throw-toymakers-shelf");
    for plan in plans(&shelf) {
        for piece in plan.pieces.iter().filter(|piece| piece.label.starts_with("square")) {
            let bounds = piece.prepared.bounds();
            let oblong = bounds.width().abs_diff(bounds.height()) > 8;
            assert_eq!(piece.label, if oblong { "square, cut oblong" } else { "square" });
        }
    }
    assert!(names(&shelf).concat().iter().any(|name| name == "square, cut oblong"));
}

/// Every filler of a sampler stands once in the list of pieces, by the number that it has where the top is put together.
#[test]
fn fillers_have_their_numbers_where_they_are_cut() {
    let design = sample("throw-toymakers-shelf");
    let mut numbers: Vec<u16> = Vec::new();
    for piece in plans(&design).iter().flat_map(|plan| &plan.pieces).filter(|piece| !piece.is_section) {
        let own: Vec<u16> =
            piece.strips.keys().filter_map(|s| if let Source::Filler(n) = s { Some(*n) } else { None }).collect();
        if own.is_empty() {
            continue;
        }
        assert_eq!(own.len() as u64, piece.count, "{}", piece.label);
        let told: Vec<String> = own.iter().map(|number| (number + 1).to_string()).collect();
        let name = listed_name(piece, design.units());
        assert!(name.ends_with(&format!(" {} of the top)", told.join(", "))), "{name}");
        for number in &own {
            let (width, height) = design.source_block(Source::Filler(*number)).unwrap().base().extent();
            let seams = design.seam().inches().scale_int(2);
            let size = [&width + &seams, &height + &seams].map(|side| side.to_f64());
            let words = cut_size(piece, design.units());
            let cut: Vec<f64> = words.split(' ').filter_map(inches_of).collect();
            let same = |a: f64, b: f64| (a - b).abs() < 1e-3;
            let lies = |a: usize, b: usize| same(cut[0], size[a]) && same(cut[1], size[b]);
            assert!(lies(0, 1) || lies(1, 0), "filler {}: {cut:?} for {size:?}", number + 1);
        }
        numbers.extend(own);
    }
    numbers.sort_unstable();
    assert!(numbers.windows(2).all(|pair| pair[0] < pair[1]) && numbers.len() > 20, "{numbers:?}");
}

/// Half triangles of either hand stand at the ends of rows of triangles: the words name both as the cutting list does, and
/// give every end of every row one of them.
#[test]
fn ends_of_rows_say_which_triangle_they_take() {
    for (name, piece) in [("full-six-winds", "row end triangle"), ("lap-frost-almanac", "end triangle")] {
        let design = sample(name);
        let lines = pattern(&design).top.lines;
        let told = lines.iter().find(|line| line.starts_with("Which end takes which")).unwrap();
        let cut: BTreeSet<String> =
            plans(&design).iter().flat_map(|plan| &plan.pieces).map(|piece| piece.label.clone()).collect();
        for hand in ["leaning left", "leaning right"] {
            let label = format!("{piece}, {hand}");
            assert!(cut.contains(&label) && told.contains(&format!("{label}, goes to the ")), "{told} for {cut:?}");
        }
    }
    let plain = pattern(&sample("twin-meadow-survey")).top.lines;
    assert!(!plain.iter().any(|line| line.contains("Which end")), "rows of squares have no end triangles");
}

/// The smallest piece is the narrowest to handle, not the one with the shortest box round it.
#[test]
fn the_smallest_piece_is_the_narrowest() {
    let told = |recipe| {
        let data = pattern(&straight(recipe));
        data.facts.skill.reasons.into_iter().find(|reason| reason.name == "Smallest piece").unwrap()
    };
    // Narrow diamonds of a star of 4 in: side 4 ÷ (2 + √2) in, so 0.8284 in between their sides.
    let star = told(Recipe::TiltedStar(sized(Measure::Block, 4)));
    assert_eq!(star.told, "diamond, leaning right, finished 0.8284″ at its narrowest");
    assert_eq!(star.points, 1);
    assert_eq!(told(Recipe::FourPatch(sized(Measure::Block, 12))).points, 0);
}
