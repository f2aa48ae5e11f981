//! Errors of cutting and sewing, checked against what they add up to by hand.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::sync::Arc;

use geometry::{Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value};
use piecing::simulate::{Chance, Distribution, Errors, Inches, Ladder, Sample, Simulation, SimulationError};
use piecing::{Making, PatchSet, SeamTree, order_of_sewing};
use proptest::prelude::*;

const BLOCKS: u32 = 10_000;

fn inches(whole: i64) -> Length {
    Length::whole_inches(whole).unwrap()
}

fn sized(whole: i64) -> Size {
    Size { by: Measure::Block, length: inches(whole) }
}

fn quarter_inch() -> Length {
    Length::inch_fraction(1, 4).unwrap()
}

fn tree(recipe: &Recipe) -> SeamTree {
    order_of_sewing(&Arc::new(recipe.draft().unwrap())).unwrap()
}

fn row(count: u8) -> Recipe {
    Recipe::Stripes { width: inches(2), height: inches(2 * i64::from(count)), count }
}

fn library() -> Vec<Recipe> {
    vec![
        Recipe::NinePatch(sized(6)),
        Recipe::FourPatch(sized(6)),
        Recipe::HalfSquare(sized(6)),
        Recipe::QuarterSquare(sized(6)),
        Recipe::FlyingGoose(sized(6)),
        Recipe::SquareInSquare(sized(12)),
        Recipe::DiagonalHalf { size: sized(6), band: None },
        Recipe::OnAxisStar { size: sized(12), split: [true; 8] },
        Recipe::TiltedStar(sized(12)),
        Recipe::SixtyUnit(Size { by: Measure::Side, length: inches(6) }),
        row(5),
    ]
}

/// All sewn units of four patches or fewer, and the block.
fn some_units(tree: &SeamTree) -> Vec<PatchSet> {
    let sewn = tree.units().iter().filter(|unit| matches!(unit.making, Making::Sewn { .. }));
    let all = tree.graph().all();
    sewn.map(|unit| unit.patches).filter(|patches| patches.len() <= 4 || *patches == all).collect()
}

fn simulation(tree: &SeamTree, trimmed: &[PatchSet], errors: Errors) -> Simulation {
    Simulation::new(tree, &quarter_inch(), trimmed, errors).unwrap()
}

fn no_taper() -> Errors {
    Errors {
        seam_mean: Inches::fraction(1, 100),
        seam_spread: Inches::fraction(1, 64),
        cut_spread: Inches::fraction(1, 50),
        pressing_loss_mean: Inches::fraction(1, 80),
        pressing_loss_spread: Inches::fraction(1, 128),
        ..Errors::NONE
    }
}

/// Mean and spread within three of their standard errors; of a normal sample these are σ/√n and σ/√(2(n−1)).
fn agrees(found: &Distribution, mean: f64, spread: f64, what: &str) {
    let count = f64::from(BLOCKS);
    let off_mean = (found.mean().to_f64() - mean).abs() / (spread / count.sqrt());
    let off_spread = (found.spread().to_f64() - spread).abs() / (spread / (2.0 * count - 2.0).sqrt());
    assert!(
        off_mean < 3.0 && off_spread < 3.0,
        "{what}: mean off by {off_mean}, spread by {off_spread} standard errors"
    );
}

#[test]
fn without_errors_blocks_come_out_exactly_and_nothing_goes_wrong() {
    for recipe in library() {
        let tree = tree(&recipe);
        for trimmed in [Vec::new(), some_units(&tree)] {
            let sample = simulation(&tree, &trimmed, Errors::NONE).run(3, 1).unwrap();
            let (low, high) = tree.graph().block().base().bounds();
            let check = |found: Distribution, finished: Exact| {
                let off = (found.mean().to_f64() - finished.to_f64()).abs() + found.spread().to_f64();
                assert!(off < 1e-11, "{recipe:?}: {off}");
            };
            check(sample.width(), &high.x - &low.x);
            check(sample.height(), &high.y - &low.y);
            assert!(sample.squareness().quantile(1000).to_f64() < 1e-11);
            assert_eq!(sample.point_cut_off(Inches::ZERO).hits, 0, "{recipe:?}");
            assert_eq!(sample.point_cut_off_inside(Inches::ZERO).hits, 0, "{recipe:?}");
            assert!(sample.too_small(&Exact::ZERO).iter().all(|chance| chance.hits == 0), "{recipe:?}");
            assert_eq!(sample.success(&Exact::ZERO, Inches::ZERO).hits, 3);
        }
    }
}

/// A row of n patches: 2n cut edges count once, n − 1 seams twice, n − 1 folds once (root sum of squares, JCGM
/// 100:2008, 5.1.2). The width is that of the middle of a line through n edges on the left and n on the right.
#[test]
fn a_row_varies_by_the_root_of_the_sum_of_squares() {
    for count in [2_u8, 3, 5, 8] {
        let errors = no_taper();
        let sample = simulation(&tree(&row(count)), &[], errors).run(BLOCKS, 11).unwrap();
        let (n, square) = (f64::from(count), |x: Inches| x.to_f64().powi(2));
        let lost = 2.0 * errors.seam_mean.to_f64() + errors.pressing_loss_mean.to_f64();
        let per_seam = 4.0 * square(errors.seam_spread) + square(errors.pressing_loss_spread);
        let spread = (2.0 * n * square(errors.cut_spread) + (n - 1.0) * per_seam).sqrt();
        agrees(&sample.height(), 2.0 * n - (n - 1.0) * lost, spread, "height");
        agrees(&sample.width(), 2.0, (2.0 / n * square(errors.cut_spread)).sqrt(), "width");
    }
}

/// A nine-patch, along its rows: the mean of three rows; across them: two seams, and the mean of three patches in each
/// of three rows.
#[test]
fn a_nine_patch_varies_by_the_root_of_the_sum_of_squares_both_ways() {
    let errors = no_taper();
    let tree = tree(&Recipe::NinePatch(sized(6)));
    let sample = simulation(&tree, &[], errors).run(BLOCKS, 12).unwrap();
    let square = |x: Inches| x.to_f64().powi(2);
    let seams = 2.0 * (4.0 * square(errors.seam_spread) + square(errors.pressing_loss_spread));
    let lost = 2.0 * (2.0 * errors.seam_mean.to_f64() + errors.pressing_loss_mean.to_f64());
    let row = tree.steps()[0].units[0];
    let (low, high) = tree.graph().block().base().bounds();
    let corners: Vec<_> = tree
        .unit(row)
        .patches
        .iter()
        .flat_map(|p| tree.graph().block().patches()[p].outline.corners().to_vec())
        .collect();
    let lies_along_x = corners.iter().any(|c| c.x == low.x) && corners.iter().any(|c| c.x == high.x);
    let (along, across) =
        if lies_along_x { (sample.width(), sample.height()) } else { (sample.height(), sample.width()) };
    agrees(&along, 6.0 - lost, ((6.0 * square(errors.cut_spread) + seams) / 3.0).sqrt(), "along");
    agrees(&across, 6.0 - lost, (2.0 * square(errors.cut_spread) + seams).sqrt(), "across");
}

/// The law of propagation, JCGM 100:2008, 5.1.2, for all blocks and all errors at once, trimmed or not.
#[test]
fn samples_agree_with_the_law_of_propagation() {
    let tenth = |length: Inches| {
        assert!(length.to_f64() < 0.02);
        Inches::fraction(1, 640)
    };
    let usual = Errors::default();
    let errors = Errors {
        seam_mean: Inches::ZERO,
        seam_spread: tenth(usual.seam_spread),
        taper_spread: tenth(usual.taper_spread),
        cut_spread: tenth(usual.cut_spread),
        pressing_loss_mean: Inches::ZERO,
        pressing_loss_spread: Inches::fraction(1, 1280),
    };
    for (recipe, seed) in library().iter().zip(40..) {
        let tree = tree(recipe);
        for trimmed in [Vec::new(), some_units(&tree)] {
            let simulation = simulation(&tree, &trimmed, errors);
            let sample = simulation.run(BLOCKS, seed).unwrap();
            let [width, height] = simulation.propagate();
            let name = format!("{recipe:?}, {} trimmed", trimmed.len());
            agrees(&sample.width(), width.mean.to_f64(), width.spread.total.to_f64(), &name);
            agrees(&sample.height(), height.mean.to_f64(), height.spread.total.to_f64(), &name);
        }
    }
}

#[test]
fn after_the_last_trim_only_the_cut_varies() {
    let errors = Errors::default();
    let cut = errors.cut_spread.to_f64() * 2.0_f64.sqrt();
    for recipe in library().iter().filter(|recipe| !matches!(recipe, Recipe::SixtyUnit(_))) {
        let tree = tree(recipe);
        let block = tree.graph().all();
        let sample = simulation(&tree, &[block], errors).run(BLOCKS, 5).unwrap();
        let (low, high) = tree.graph().block().base().bounds();
        agrees(&sample.width(), (&high.x - &low.x).to_f64(), cut, &format!("{recipe:?}"));
        agrees(&sample.height(), (&high.y - &low.y).to_f64(), cut, &format!("{recipe:?}"));
    }
}

/// A chance within three of its standard errors.
fn is_likely(found: Chance, chance: f64, what: &str) {
    let off = (found.share() - chance).abs() / (chance * (1.0 - chance) / f64::from(found.of)).sqrt();
    assert!(off < 3.0, "{what}: {} for {chance}, off by {off} standard errors", found.share());
}

/// A plain block is centred between its raw edges: two opposite edges fall short together, each by the mean of two cuts.
/// It is large enough with a chance of Φ(m√2/σ)²; Φ from any table.
#[test]
fn a_plain_block_is_too_small_as_often_as_its_cuts_say() {
    let tree = tree(&Recipe::Plain { width: inches(4), height: inches(3) });
    let errors = Errors { cut_spread: Inches::fraction(1, 64), ..Errors::NONE };
    let sample = simulation(&tree, &[tree.graph().all()], errors).run(BLOCKS, 6).unwrap();
    let check = |margin: i64, phi: f64| {
        let margin = Exact::ratio(margin, 64).unwrap();
        let [found] = sample.too_small(&margin)[..] else { panic!("one unit is trimmed") };
        is_likely(found, 1.0 - phi * phi, "too small");
        assert_eq!(found.hits + sample.large_enough(&margin).hits, BLOCKS);
    };
    check(0, 0.5);
    // √2 and 2√2 standard deviations.
    check(1, 0.921_350);
    check(2, 0.997_661);
}

/// The tip of a flying goose lies where its two seams cross. A goose that is trimmed along them loses its tip when the
/// ruler slips by more than the tolerance: 1 and 2 standard deviations are passed upwards by 15.87 and 2.275 in 100.
#[test]
fn a_trimmed_goose_loses_its_tip_as_often_as_the_cut_says() {
    let tree = tree(&Recipe::FlyingGoose(sized(6)));
    // Tapered seams cross at another angle, and then the tip is off by itself.
    let errors = Errors { taper_spread: Inches::ZERO, ..Errors::default() };
    let sample = simulation(&tree, &[tree.graph().all()], errors).run(BLOCKS, 14).unwrap();
    is_likely(sample.point_cut_off(Inches::fraction(1, 64)), 0.158_655, "one");
    is_likely(sample.point_cut_off(Inches::fraction(2, 64)), 0.022_750, "two");
    assert_eq!(sample.point_cut_off_inside(Inches::ZERO).hits, 0, "no seam is sewn past the tip");
}

/// Seams that are all too deep by e take the tip of a flying goose down by √2·e, and the raw edges above it, which come
/// down with their triangles by 2e at 45°, by as much.
#[test]
fn deep_seams_bring_the_tip_of_a_goose_and_the_edge_above_it_down_together() {
    let tree = tree(&Recipe::FlyingGoose(sized(6)));
    for depth in [-3, 5] {
        let errors = Errors {
            seam_mean: Inches::fraction(depth, 64),
            pressing_loss_mean: Inches::fraction(1, 50),
            ..Errors::NONE
        };
        let sample = simulation(&tree, &[], errors).run(1, 1).unwrap();
        let over = sample.point_over_outline().unwrap().mean().to_f64();
        assert!(over.abs() < 1e-6, "{over}");
        let lost = 2.0 * f64::from(depth) / 64.0 + 0.02;
        let width = sample.width().mean().to_f64();
        assert!((width - (6.0 - 2.0_f64.sqrt() * lost)).abs() < 1e-6, "{width}");
    }
}

/// A sector of the star is trimmed before its points meet the next seam, which then finds them nearer to where they
/// belong; the last trim leaves the cut alone.
#[test]
fn units_trimmed_on_the_way_bring_points_nearer_to_their_seams() {
    let tree = tree(&Recipe::OnAxisStar { size: sized(12), split: [true; 8] });
    let sectors = some_units(&tree);
    assert_eq!(sectors.len(), 9, "eight sectors and the block");
    let over = |trimmed: &[PatchSet]| {
        let sample = simulation(&tree, trimmed, Errors::default()).run(BLOCKS, 16).unwrap();
        agrees(&sample.width(), 12.0, 2.0_f64.sqrt() / 64.0, "width");
        let over = sample.point_over_seam().unwrap();
        (over.mean().to_f64(), sample.point_cut_off_inside(Inches::fraction(1, 32)).share())
    };
    let (untrimmed, trimmed) = (over(&[tree.graph().all()]), over(&sectors));
    assert!(trimmed.0 < untrimmed.0 * 0.9 && trimmed.1 < untrimmed.1, "{trimmed:?} {untrimmed:?}");
}

/// From seed to seed the mean of a sample is off by its standard error, no more and no less: the mean square of the
/// ratio is 1, with a variance of 2/n.
#[test]
fn samples_of_other_seeds_are_other_samples() {
    const SEEDS: u32 = 100;
    let tree = tree(&Recipe::NinePatch(sized(6)));
    let simulation = simulation(&tree, &[tree.graph().all()], Errors::default());
    let standard_error = (2.0_f64 / 500.0).sqrt() / 64.0;
    let squares = (0..SEEDS).map(|seed| {
        let sample = simulation.run(500, u64::from(seed) << 31).unwrap();
        ((sample.width().mean().to_f64() - 6.0) / standard_error).powi(2)
    });
    let mean_square = squares.sum::<f64>() / f64::from(SEEDS);
    assert!((mean_square - 1.0).abs() < 3.0 * (2.0 / f64::from(SEEDS)).sqrt(), "{mean_square}");
}

/// A seam whose depth differs by t from end to end takes t off either unit there: the sides that it joins come out 2t
/// different each way, and |N(0, σ)| has the mean σ√(2/π).
#[test]
fn a_tapered_seam_makes_one_side_longer_than_the_other() {
    let taper = 1.0 / 128.0;
    let errors = Errors { taper_spread: Inches::fraction(1, 128), ..Errors::NONE };
    let squareness = simulation(&tree(&row(2)), &[], errors).run(BLOCKS, 17).unwrap().squareness();
    let (spread, pi) = (2.0 * taper, std::f64::consts::PI);
    let (mean, own) = (spread * (2.0 / pi).sqrt(), spread * (1.0 - 2.0 / pi).sqrt());
    let off = (squareness.mean().to_f64() - mean) / (own / f64::from(BLOCKS).sqrt());
    assert!(off.abs() < 3.0, "{} for {mean}", squareness.mean().to_f64());
}

/// A triangle of base 4 and height 4 between two others, and a strip sewn over its point.
fn point_under_a_strip() -> Recipe {
    let outline = |corners: &[(i64, i64)]| {
        let corners = corners.iter().map(|&(x, y)| Point::new(Exact::int(x), Exact::int(y))).collect();
        Polygon::new(corners).unwrap()
    };
    let shapes: [&[(i64, i64)]; 4] = [
        &[(0, 0), (4, 0), (2, 4)],
        &[(0, 0), (2, 4), (0, 4)],
        &[(4, 0), (4, 4), (2, 4)],
        &[(0, 4), (4, 4), (4, 5), (0, 5)],
    ];
    let patches = shapes.iter().zip(0..).map(|(corners, key)| Patch {
        key: PatchKey(key),
        outline: outline(corners),
        role: Role::new("piece").unwrap(),
        tone: Tone::Own(Value::Light),
        grain: None,
    });
    Recipe::Own { base: outline(&[(0, 0), (4, 0), (4, 5), (0, 5)]), patches: patches.collect() }
}

/// The point of a piece with the half angle α goes back by e/sin α when the seams on both its sides are e too deep. The
/// raw edge before it comes back with the pieces beside it, by 2e·sin α, and the next seam lies e further in. Here
/// sin α = 1/√5, so that deep seams keep clear of the point and scant seams cut it off.
#[test]
fn deep_seams_keep_clear_of_a_point_and_scant_seams_cut_it_off() {
    let tree = tree(&point_under_a_strip());
    for depth in [-10, 10] {
        let errors = Errors { seam_mean: Inches::fraction(depth, 1_000), ..Errors::NONE };
        let sample = simulation(&tree, &[], errors).run(1, 1).unwrap();
        let over = sample.point_over_seam().unwrap().mean().to_f64();
        let wanted = -f64::from(depth) / 1_000.0 * (5.0_f64.sqrt() - 2.0 / 5.0_f64.sqrt() - 1.0);
        assert!((over - wanted).abs() < 1e-6, "{over} for {wanted}");
        assert_eq!(sample.point_cut_off_inside(Inches::fraction(1, 1_000)).hits, u32::from(depth < 0));
        assert!(sample.point_over_outline().is_none(), "the strip keeps the point from the outline");
    }
}

fn in_pool<T: Send>(threads: usize, work: impl FnOnce() -> T + Send) -> T {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(work)
}

#[test]
fn one_and_two_threads_give_the_same_bits() {
    let tree = tree(&Recipe::TiltedStar(sized(12)));
    let simulation = simulation(&tree, &some_units(&tree), Errors::default());
    let sample = |threads| in_pool(threads, || simulation.run(1_000, 3).unwrap());
    let (one, two) = (sample(1), sample(2));
    assert!(one == two);
    assert!(one != simulation.run(1_000, 4).unwrap(), "another seed, other blocks");
}

#[test]
fn a_diagonal_half_block_needs_a_margin_that_the_ladder_finds() {
    let tree = tree(&Recipe::DiagonalHalf { size: sized(6), band: None });
    let simulation = simulation(&tree, &[tree.graph().all()], Errors::default());
    let sample = simulation.run(BLOCKS, 8).unwrap();
    let ladder = Ladder { step: Length::inch_fraction(1, 16).unwrap(), rungs: 8 };
    let found = sample.recommend(&ladder, Inches::fraction(1, 16), 990);
    let shares: Vec<f64> = found.rungs.iter().map(|rung| rung.large_enough.share()).collect();
    assert!(shares[0] < 0.05 && shares[8] > 0.999, "{shares:?}");
    let margin = found.to_trim.unwrap();
    let needed = sample.needed_margin(0).unwrap();
    // The share that succeeds is the distribution of the margin that is needed.
    assert!(margin.to_f64() >= needed.quantile(990).to_f64());
    assert!(margin.to_f64() - 1.0 / 16.0 < needed.quantile(995).to_f64());
}

#[test]
fn what_cannot_be_simulated_is_refused_with_a_reason() {
    let tree = tree(&Recipe::NinePatch(sized(6)));
    let refused = |trimmed: &[PatchSet], errors| Simulation::new(&tree, &quarter_inch(), trimmed, errors).unwrap_err();
    let two: PatchSet = [0, 8].into_iter().collect();
    assert_eq!(refused(&[two], Errors::NONE), SimulationError::NotAUnit { patches: vec![0, 8] });
    let negative = Errors { taper_spread: Inches::fraction(-1, 64), ..Errors::NONE };
    assert!(matches!(refused(&[], negative), SimulationError::NegativeSpread { .. }));
    let ready = simulation(&tree, &[], Errors::NONE);
    assert_eq!(ready.run(0, 1).unwrap_err(), SimulationError::Blocks { blocks: 0 });
    assert_eq!(ready.run(u32::MAX, 1).unwrap_err(), SimulationError::Blocks { blocks: u32::MAX });
}

fn successes(sample: &Sample, margin: i64) -> u32 {
    sample.success(&Exact::ratio(margin, 64).unwrap(), Inches::fraction(1, 64)).hits
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// The same errors with a larger margin never do worse; the same block is the same in a larger sample.
    #[test]
    fn larger_margins_never_lower_success(seed: u64, which in 0_usize..11, fewer in 1_u32..200) {
        let tree = tree(&library()[which]);
        let simulation = simulation(&tree, &some_units(&tree), Errors::default());
        let sample = simulation.run(200, seed).unwrap();
        let by_margin: Vec<u32> = (0..16).map(|margin| successes(&sample, margin)).collect();
        prop_assert!(by_margin.is_sorted(), "{:?}", by_margin);
        let part = simulation.run(fewer, seed).unwrap();
        prop_assert!(successes(&part, 4) <= by_margin[4]);
        prop_assert!(part.width().quantile(0) >= sample.width().quantile(0));
    }
}
