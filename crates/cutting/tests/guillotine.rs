//! Guillotine patterns against published values, brute force, and a checker that knows nothing of the planner.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use cutting::Watch;
use cutting::guillotine::{
    Cut, CutDirection, GuillotineError, MAX_RECTANGLES, Packing, Pattern, Placed, Rectangle, Region, SheetKind,
    Turning, pack, sheet_value,
};
use proptest::prelude::*;
use serde_json::Value;

const FIXED: Turning = Turning::Fixed;
const TURNS: Turning = Turning::QuarterTurns;

// The checker.

const fn overlap(a: &Region, b: &Region) -> bool {
    a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
}

/// Whether straight cuts from edge to edge can part the rectangles: some cut misses all of them and leaves some on
/// either side, and the same holds on each side.
fn parts(regions: &[Region]) -> bool {
    if regions.len() < 2 {
        return true;
    }
    for crosswise in [false, true] {
        let span = |r: &Region| if crosswise { (r.y, r.y + r.height) } else { (r.x, r.x + r.width) };
        let mut sorted = regions.to_vec();
        sorted.sort_by_key(span);
        let mut reach = i64::MIN;
        for at in 1..sorted.len() {
            reach = reach.max(span(&sorted[at - 1]).1);
            if reach <= span(&sorted[at]).0 {
                // Where one cut is possible it does no harm: it never crosses what another would part.
                return parts(&sorted[..at]) && parts(&sorted[at..]);
            }
        }
    }
    false
}

/// Makes the cuts one by one; afterwards each rectangle must be one of the regions that are left.
fn follow(pattern: &Pattern) -> Result<(), String> {
    let mut left = BTreeMap::from([(Region { x: 0, y: 0, width: pattern.width, height: pattern.height }, 1)]);
    for Cut { region, direction, at } in &pattern.cuts {
        let count = left.get_mut(region).filter(|count| **count > 0).ok_or(format!("{region:?} is not at hand"))?;
        *count -= 1;
        let (first, second) = match direction {
            CutDirection::Lengthwise => (
                Region { width: at - region.x, ..*region },
                Region { x: *at, width: region.x + region.width - at, ..*region },
            ),
            CutDirection::Crosswise => (
                Region { height: at - region.y, ..*region },
                Region { y: *at, height: region.y + region.height - at, ..*region },
            ),
        };
        for part in [first, second] {
            if part.width <= 0 || part.height <= 0 {
                return Err(format!("the cut at {at} is not within {region:?}"));
            }
            *left.entry(part).or_insert(0) += 1;
        }
    }
    for placed in &pattern.placed {
        if left.get(&placed.region) != Some(&1) {
            return Err(format!("{placed:?} is not cut out"));
        }
    }
    Ok(())
}

/// All that makes a pattern valid but for how many of each kind there are.
fn check(pattern: &Pattern, sides: &[(i64, i64, Turning)]) -> Result<(), String> {
    let regions: Vec<Region> = pattern.placed.iter().map(|p| p.region).collect();
    for (at, placed) in pattern.placed.iter().enumerate() {
        let Placed { kind, turned, region } = *placed;
        let (width, height, turning) = sides[kind];
        let size = if turned { (height, width) } else { (width, height) };
        if size != (region.width, region.height) || (turned && turning == FIXED) {
            return Err(format!("{placed:?} is not {width} × {height}"));
        }
        let inside = region.x >= 0
            && region.y >= 0
            && region.x + region.width <= pattern.width
            && region.y + region.height <= pattern.height;
        if !inside {
            return Err(format!("{placed:?} is outside"));
        }
        if let Some(other) = regions[..at].iter().find(|other| overlap(other, &region)) {
            return Err(format!("{placed:?} overlaps {other:?}"));
        }
    }
    if !parts(&regions) {
        return Err("straight cuts cannot part it".to_owned());
    }
    follow(pattern)
}

fn check_packing(packing: &Packing, kinds: &[Rectangle]) -> Result<(), String> {
    let sides: Vec<_> = kinds.iter().map(|k| (k.width, k.height, k.turning)).collect();
    check(&packing.pattern, &sides)?;
    let mut counts = vec![0; kinds.len()];
    for placed in &packing.pattern.placed {
        counts[placed.kind] += 1;
    }
    if counts != kinds.iter().map(|k| k.count).collect::<Vec<u64>>() {
        return Err(format!("{counts:?} are laid"));
    }
    if packing.height != packing.pattern.height || packing.height < packing.least {
        return Err(format!("{} long, pattern {}, least {}", packing.height, packing.pattern.height, packing.least));
    }
    Ok(())
}

// Problems.

fn problem(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("benches/problems").join(name).with_extension("json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn items(problem: &Value) -> Vec<Vec<i64>> {
    let numbers = |item: &Value| item.as_array().unwrap().iter().map(|n| n.as_i64().unwrap()).collect();
    problem["items"].as_array().unwrap().iter().map(numbers).collect()
}

fn strip(name: &str) -> (i64, Vec<Rectangle>) {
    let problem = problem(name);
    let kinds = items(&problem).iter().map(|item| rectangle(item[0], item[1], TURNS, 1)).collect();
    (problem["width"].as_i64().unwrap(), kinds)
}

const fn rectangle(width: i64, height: i64, turning: Turning, count: u64) -> Rectangle {
    Rectangle { width, height, turning, count }
}

fn packed(width: i64, kinds: &[Rectangle], steps: u64) -> Packing {
    let packing = pack(width, kinds, steps, &Watch::new()).unwrap();
    check_packing(&packing, kinds).unwrap();
    packing
}

fn best_value(name: &str, turning: Turning) -> i64 {
    let problem = problem(name);
    let kind = |item: &Vec<i64>| SheetKind { width: item[0], height: item[1], value: *item.last().unwrap() };
    let kinds: Vec<SheetKind> = items(&problem).iter().map(kind).collect();
    let stock = |at: usize| problem["stock"][at].as_i64().unwrap();
    let plan = sheet_value(stock(0), stock(1), &kinds, turning, u64::MAX).unwrap();
    check_sheet(&plan.pattern, &kinds, turning, plan.value).unwrap();
    plan.value
}

fn check_sheet(pattern: &Pattern, kinds: &[SheetKind], turning: Turning, value: i64) -> Result<(), String> {
    let sides: Vec<_> = kinds.iter().map(|k| (k.width, k.height, turning)).collect();
    check(pattern, &sides)?;
    let worth: i64 = pattern.placed.iter().map(|p| kinds[p.kind].value).sum();
    if worth == value { Ok(()) } else { Err(format!("worth {worth}, not {value}")) }
}

// Published values.

/// Problems: Beasley 1985, Journal of the Operational Research Society 36, 297–306. Values: Cintra, IME-USP.
#[test]
fn beasley_1985_values_by_cintra() {
    for (name, fixed, turned) in
        [("gcut1", 56460, 58136), ("gcut2", 60536, 60611), ("gcut3", 61036, 61626), ("gcut4", 61698, 62265)]
    {
        assert_eq!((best_value(name, FIXED), best_value(name, TURNS)), (fixed, turned), "{name}");
    }
}

/// Problems: Christofides and Whitlock 1977, Operations Research 25, 30–44, the limits on copies ignored. Values: Hifi
/// and Zissimopoulos 1996.
#[test]
fn christofides_whitlock_1977_values_by_hifi_zissimopoulos_1996() {
    for (name, value) in [("cgcut1", 249), ("cgcut2", 3076), ("cgcut3", 2240)] {
        assert_eq!(best_value(name, FIXED), value, "{name}");
    }
}

/// Heights that are the optimum of the whole problem (Hopper and Turton 2001, European Journal of Operational Research
/// 128, 34–57; Burke, Kendall and Whitwell 2004, Operations Research 52) and can be reached by straight cuts.
#[test]
fn hopper_turton_2001_and_burke_kendall_whitwell_2004_perfect_by_straight_cuts() {
    for (name, height) in
        [("ht2000_c1p1", 20), ("ht2000_c1p2", 20), ("ht2000_c1p3", 20), ("bkw2004_n01", 40), ("bkw2004_n02", 50)]
    {
        let (width, kinds) = strip(name);
        let packing = packed(width, &kinds, 2_000_000);
        assert_eq!((packing.height, packing.is_proved_least()), (height, true), "{name}");
    }
}

/// Hopper, PhD thesis, Cardiff 2000; Hopper and Turton 2001; Burke, Kendall and Whitwell 2004: never below the optimum
/// of the problem, never far above it. The upper heights are what other general-purpose programs reach by straight
/// cuts, or 10 % above the optimum.
#[test]
fn hopper_2000_and_others_within_what_is_known() {
    for (name, free, most) in [
        ("hopper2000_t1a", 200, 220),
        ("hopper2000_t1b", 200, 220),
        ("hopper2000_t2a", 200, 220),
        ("hopper2000_t3a", 200, 220),
        ("hopper2000_n1a", 200, 220),
        ("ht2000_c2p1", 15, 16),
        ("ht2000_c2p2", 15, 16),
        ("ht2000_c2p3", 15, 16),
        ("ht2000_c3p1", 30, 32),
        ("ht2000_c3p2", 30, 32),
        ("ht2000_c3p3", 30, 32),
        ("bkw2004_n03", 50, 55),
        ("bkw2004_n04", 80, 88),
        ("bkw2004_n05", 100, 110),
    ] {
        let (width, kinds) = strip(name);
        let packing = packed(width, &kinds, 3_000_000);
        assert!((free..=most).contains(&packing.height), "{name}: {}", packing.height);
        assert!(packing.least >= free, "{name}");
    }
}

/// All rectangles that some of the items tile without waste by straight cuts.
fn perfect_blocks(items: &[Rectangle]) -> BTreeSet<(u64, i64, i64)> {
    let mut blocks = BTreeSet::new();
    let mut new: Vec<(u64, i64, i64)> =
        (0..).zip(items).flat_map(|(at, r)| [(1 << at, r.width, r.height), (1 << at, r.height, r.width)]).collect();
    while let Some(block) = new.pop() {
        if !blocks.insert(block) {
            continue;
        }
        for &(set, width, height) in blocks.iter().filter(|other| other.0 & block.0 == 0) {
            if height == block.2 {
                new.push((set | block.0, width + block.1, height));
            }
            if width == block.1 {
                new.push((set | block.0, width, height + block.2));
            }
        }
    }
    blocks
}

/// In a pattern without waste, the last cut of any part leaves two rectangles with a side in common. Making all such
/// blocks from these items ends long before all items are used: their optimum, 200, which is met by overlapping joints,
/// is out of reach of straight cuts.
#[test]
fn hopper_2000_problems_have_no_perfect_pattern_by_straight_cuts() {
    for name in ["hopper2000_t1a", "hopper2000_t1b", "hopper2000_t2a", "hopper2000_t3a", "hopper2000_n1a"] {
        let (width, kinds) = strip(name);
        let most = perfect_blocks(&kinds).iter().map(|block| block.0.count_ones()).max().unwrap();
        assert!((most as usize) < kinds.len() / 2, "{name}: {most}");
        assert!(packed(width, &kinds, 100_000).least > 200, "{name}");
    }
    let (_, kinds) = strip("ht2000_c1p1");
    assert!(perfect_blocks(&kinds).iter().any(|block| block.0.count_ones() == 16), "the same count finds one here");
}

// Brute force.

/// The best value of a sheet, cutting at every whole number.
fn brute_value(width: i64, height: i64, kinds: &[SheetKind], known: &mut BTreeMap<(i64, i64), i64>) -> i64 {
    if let Some(value) = known.get(&(width, height)) {
        return *value;
    }
    let fits = kinds.iter().filter(|k| k.width <= width && k.height <= height).map(|k| k.value);
    let mut best = fits.max().unwrap_or(0);
    for at in 1..width {
        best = best.max(brute_value(at, height, kinds, known) + brute_value(width - at, height, kinds, known));
    }
    for at in 1..height {
        best = best.max(brute_value(width, at, kinds, known) + brute_value(width, height - at, kinds, known));
    }
    known.insert((width, height), best);
    best
}

/// For each set of rectangles and each width the least height, over all ways to part the set.
fn brute_height(width: usize, items: &[Rectangle]) -> i64 {
    const NEVER: i64 = i64::MAX / 4;
    let mut least = vec![vec![NEVER; width + 1]; 1 << items.len()];
    for set in 1_usize..1 << items.len() {
        for across in 1..=width {
            let room = i64::try_from(across).unwrap();
            let mut best = NEVER;
            if set.is_power_of_two() {
                let item = items[set.trailing_zeros() as usize];
                let turned = (item.height, item.width);
                let ways = [Some((item.width, item.height)), (item.turning == TURNS).then_some(turned)];
                best = ways.into_iter().flatten().filter(|w| w.0 <= room).map(|w| w.1).min().unwrap_or(NEVER);
            }
            for part in (1..set).filter(|part| part & set == *part) {
                let rest = set ^ part;
                best = best.min(least[part][across] + least[rest][across]);
                for left in 1..across {
                    best = best.min(least[part][left].max(least[rest][across - left]));
                }
            }
            least[set][across] = best.min(NEVER);
        }
    }
    least.last().unwrap()[width]
}

fn turning() -> impl Strategy<Value = Turning> {
    prop_oneof![Just(FIXED), Just(TURNS)]
}

fn small_rectangles() -> impl Strategy<Value = Vec<Rectangle>> {
    let one =
        (1..=9_i64, 1..=9_i64, turning()).prop_map(|(width, height, turning)| rectangle(width, height, turning, 1));
    prop::collection::vec(one, 1..=5)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn sheet_value_is_that_of_brute_force(
        width in 1..=14_i64,
        height in 1..=14_i64,
        kinds in prop::collection::vec((1..=9_i64, 1..=9_i64, 1..=20_i64), 0..=4),
        turning in turning(),
    ) {
        let kinds: Vec<SheetKind> =
            kinds.into_iter().map(|(width, height, value)| SheetKind { width, height, value }).collect();
        let plan = sheet_value(width, height, &kinds, turning, u64::MAX).unwrap();
        prop_assert_eq!(check_sheet(&plan.pattern, &kinds, turning, plan.value), Ok(()));
        let turned = kinds.iter().map(|k| SheetKind { width: k.height, height: k.width, value: k.value });
        let mut all = kinds.clone();
        all.extend(turned.filter(|_| turning == TURNS));
        prop_assert_eq!(plan.value, brute_value(width, height, &all, &mut BTreeMap::new()));
    }

    #[test]
    fn height_is_that_of_brute_force(kinds in small_rectangles(), width in 9..=14_usize) {
        let packing = packed(i64::try_from(width).unwrap(), &kinds, 40_000);
        let least = brute_height(width, &kinds);
        prop_assert!(packing.least <= least, "{} is called impossible below {}", least, packing.least);
        prop_assert_eq!(packing.height, least);
    }

    #[test]
    fn any_order_is_laid_whole(
        kinds in prop::collection::vec((1..=300_i64, 1..=300_i64, turning(), 0..=12_u64), 0..=12),
        unit in prop_oneof![Just(1), Just(1 << 16), Just(99_991)],
        steps in prop_oneof![Just(0), Just(1_000), Just(50_000)],
    ) {
        let kinds: Vec<Rectangle> =
            kinds.into_iter().map(|(w, h, turning, count)| rectangle(w * unit, h * unit, turning, count)).collect();
        let packing = packed(300 * unit, &kinds, steps);
        let area: i64 = kinds.iter().map(|k| k.width * k.height * i64::try_from(k.count).unwrap()).sum();
        prop_assert!(packing.height * 300 * unit >= area);
        prop_assert_eq!(pack(300 * unit, &kinds, steps, &Watch::new()).unwrap(), packing);
    }
}

// The checker finds faults.

fn pinwheel() -> Pattern {
    let place = |x, y, width, height| Placed { kind: 0, turned: width == 2, region: Region { x, y, width, height } };
    let placed = vec![place(0, 0, 1, 2), place(1, 0, 2, 1), place(2, 1, 1, 2), place(0, 2, 2, 1)];
    Pattern { width: 3, height: 3, placed, cuts: Vec::new() }
}

#[test]
fn the_checker_finds_faults() {
    let kinds = [rectangle(1, 2, TURNS, 4)];
    let good = packed(3, &kinds, 10_000);
    type Change = fn(&mut Packing);
    let changes: [(&str, Change); 9] = [
        ("a rectangle left out", |p| p.pattern.placed.truncate(3)),
        ("one laid twice", |p| p.pattern.placed.push(p.pattern.placed[0])),
        ("one moved", |p| p.pattern.placed[0].region.x += 1),
        ("one outside", |p| p.pattern.placed[0].region.y -= 1),
        ("one turned in words only", |p| p.pattern.placed[0].turned ^= true),
        ("no cuts", |p| p.pattern.cuts.truncate(0)),
        ("a cut elsewhere", |p| p.pattern.cuts[0].at = 0),
        ("a shorter length", |p| p.height -= 1),
        ("a pinwheel", |p| p.pattern = pinwheel()),
    ];
    for (name, change) in changes {
        let mut bad = good.clone();
        change(&mut bad);
        assert!(check_packing(&bad, &kinds).is_err(), "{name}");
    }
    assert!(!parts(&pinwheel().placed.iter().map(|p| p.region).collect::<Vec<_>>()));
}

// Counts, limits, cancelling.

/// Squares on fabric: as many rows as the count divided by what fits across, rounded up.
#[test]
fn equal_squares_lie_in_rows() {
    for (side, width, count, height) in [(5, 42, 100, 65), (5, 42, 8, 5), (10, 42, 9, 30), (42, 42, 3, 126)] {
        let packing = packed(width, &[rectangle(side, side, FIXED, count)], 300_000);
        assert_eq!(packing.height, height, "{count} of {side} on {width}");
    }
}

#[test]
fn nothing_takes_nothing() {
    for kinds in [vec![], vec![rectangle(3, 4, TURNS, 0)]] {
        let packing = packed(10, &kinds, 1000);
        assert_eq!((packing.height, packing.is_proved_least()), (0, true));
    }
}

#[test]
fn stopped_work_ends_at_once_with_a_valid_pattern() {
    let (width, kinds) = strip("hopper2000_t3a");
    let watch = Watch::new();
    watch.stop();
    let packing = pack(width, &kinds, u64::MAX, &watch).unwrap();
    check_packing(&packing, &kinds).unwrap();
    assert!(packing.steps < 100_000, "{}", packing.steps);
}

#[test]
fn progress_ends_where_it_was_expected_to() {
    for name in ["hopper2000_t1a", "ht2000_c1p1"] {
        let (width, kinds) = strip(name);
        let watch = Watch::new();
        pack(width, &kinds, 500_000, &watch).unwrap();
        assert_eq!(watch.progress(), (500_000, 500_000), "{name}");
    }
}

#[test]
fn what_cannot_be_packed_says_why() {
    let large = 1 << 40;
    for (width, kind, wanted) in [
        (0, rectangle(1, 1, TURNS, 1), "the fabric's width is 0; give a length greater than zero"),
        (-5, rectangle(1, 1, TURNS, 1), "the fabric's width is -5; give a length greater than zero"),
        (10, rectangle(0, 3, TURNS, 1), "rectangle 0 is 0 × 3; give both sides a length greater than zero"),
        (10, rectangle(4, -3, TURNS, 1), "rectangle 0 is 4 × -3; give both sides a length greater than zero"),
        (10, rectangle(11, 3, FIXED, 1), "rectangle 0 is 11 × 3 and cannot lie on fabric 10 wide; use wider fabric"),
        (10, rectangle(11, 12, TURNS, 0), "rectangle 0 is 11 × 12 and cannot lie on fabric 10 wide; use wider fabric"),
        (
            large,
            rectangle(large, large, FIXED, 1),
            "the rectangles are too large or too many to reckon with; use a coarser unit or fewer at a time",
        ),
        (
            i64::MAX,
            rectangle(i64::MAX, i64::MAX, FIXED, MAX_RECTANGLES),
            "the rectangles are too large or too many to reckon with; use a coarser unit or fewer at a time",
        ),
        (
            10,
            rectangle(1, 1, FIXED, u64::MAX),
            "18446744073709551615 rectangles are more than the 10000 that are laid out one by one; cut fewer at a time",
        ),
    ] {
        let error = pack(width, &[kind], 1000, &Watch::new()).unwrap_err();
        assert_eq!(error.to_string(), wanted);
    }
    assert!(pack(10, &[rectangle(11, 3, TURNS, 1)], 1000, &Watch::new()).is_ok(), "it may lie on its side");
}

#[test]
fn sheets_that_cannot_be_planned_say_why() {
    let kind = |width, height, value| SheetKind { width, height, value };
    for (sheet, kind, steps, wanted) in [
        ((0, 5), kind(1, 1, 1), 9999, GuillotineError::EmptyFabric { side: "width", length: 0 }),
        ((5, -1), kind(1, 1, 1), 9999, GuillotineError::EmptyFabric { side: "height", length: -1 }),
        ((5, 5), kind(1, 0, 1), 9999, GuillotineError::EmptyRectangle { kind: 0, width: 1, height: 0 }),
        ((5, 5), kind(1, 1, 0), 9999, GuillotineError::WorthNothing { kind: 0, value: 0 }),
        ((1 << 40, 5), kind(1, 1, 1), 9999, GuillotineError::TooManyPoints { limit: 4096 }),
        ((4000, 4000), kind(1, 1, 1), 9999, GuillotineError::TooManyPoints { limit: 4096 }),
        ((5, 5), kind(1, 1, i64::MAX), 9999, GuillotineError::TooLarge),
        ((50, 50), kind(1, 1, 1), 99, GuillotineError::StepsUsedUp { steps: 99 }),
    ] {
        let error = sheet_value(sheet.0, sheet.1, &[kind], FIXED, steps).unwrap_err();
        assert_eq!(error, wanted);
    }
    let plan = sheet_value(i64::MAX, i64::MAX, &[kind(i64::MAX, i64::MAX, 7)], TURNS, 9999).unwrap();
    assert_eq!((plan.value, plan.pattern.cuts.len()), (7, 0), "a sheet of the size of the piece");
}
