//! Blanks that hold several patches: trade figures, true counts, and every blank proved by laying.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod drawn;
mod shapes;

use cutting::methods::{
    Blank, Method, NoBlank, SewnMethod, SewnUnit, SquareSize, blanks_for, folded, nested, sewn_units, square_once,
    square_twice, unit_blanks,
};
use cutting::rounding::GRID_ALLOWANCE;
use cutting::{CutPiece, Freedom, PieceId, PreparedPiece, RulerStep, verify};
use drawn::{block, cut_piece, fraction, inches, millimetres, pieces_of, polygon, ratio, scaled};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::ruler::{half_square_addition, quarter_square_addition};
use geometry::{Exact, Length, Measure, Patch, Recipe, Size, Vector};
use proptest::prelude::*;

const INCH: i64 = UNITS_PER_INCH;
const WIDTH: i64 = 40 * INCH;
const EIGHTH: RulerStep = RulerStep::EIGHTH_INCH;

/// Lays the blank's pieces on the blank itself and checks them, trusting nothing but the pieces.
fn proved(blank: &Blank, pieces: &[&CutPiece]) {
    let counts = blank.counts();
    let wanted: Vec<(&CutPiece, u64)> = pieces.iter().map(|p| (*p, counts.get(&p.id).copied().unwrap_or(0))).collect();
    let verified = verify(blank.width, &wanted, &[blank.to_lay()]);
    assert!(verified.is_ok(), "{:?}: {verified:?}", blank.method);
    assert!(!blank.inner.is_empty() && counts.values().sum::<u64>() == verified.unwrap().placements);
    assert!(blank.exact_width <= blank.width && blank.exact_height <= blank.height, "{blank:?}");
}

fn prepared(polygon: LayPolygon, freedom: Freedom) -> PreparedPiece {
    prepared_as(1, polygon, freedom)
}

fn prepared_as(id: u32, polygon: LayPolygon, freedom: Freedom) -> PreparedPiece {
    PreparedPiece::new(CutPiece { id: PieceId(id), polygon, freedom }, EIGHTH).unwrap()
}

/// A right triangle with legs of `leg` inches; its grain along a leg, or along the long side.
fn right_triangle(leg: &Exact, along_leg: bool) -> Patch {
    let zero = Exact::ZERO;
    let grain = if along_leg { Vector::new(Exact::ONE, zero.clone()) } else { Vector::new(Exact::ONE, Exact::ONE) };
    let corners = [(zero.clone(), zero.clone()), (leg.clone(), zero), (leg.clone(), leg.clone())];
    drawn::patch(0, &corners, Some(grain))
}

/// The square that the triangle with this leg is cut from, once or twice on the diagonal.
fn square(leg: &Exact, once: bool, seam: &Length, step: RulerStep) -> (Blank, CutPiece) {
    let piece = cut_piece(&right_triangle(leg, once), seam, 1, Freedom::TURNS);
    let blank = if once { square_once(&piece, step) } else { square_twice(&piece, step) }.unwrap();
    (blank, piece)
}

/// The exact side: finished leg + d(2+√2), or finished long side + d(2+2√2).
fn exact_side(leg: &Exact, once: bool, seam: &Length) -> Exact {
    if once { leg + &half_square_addition(seam) } else { &(leg * &Exact::sqrt2()) + &quarter_square_addition(seam) }
}

/// Sources for ¼ in: classroom handout on seam allowances, 3 in half-square triangle → 3⅞; North Hampshire Quilters
/// guild, 3 in quarter-square triangle → 4¼; Moonlight Quilters guild, side setting triangle ×1.414 + 1¼ (6 → 9¾) and
/// corner setting triangle ÷1.414 + ⅞ (6 → 5⅛, 12 → 9⅜). Metric: mathematics, next millimetre; 7.5 mm and 6 mm
/// allowances add 25.607 and 20.485 mm to half-square, 36.213 and 28.971 mm to quarter-square triangles.
#[test]
fn squares_cut_on_the_diagonal_have_the_trade_figures() {
    let quarter = fraction(1, 4);
    let half_root = Exact::sqrt2().half();
    let rows = [
        (Exact::int(3), true, fraction(31, 8)),
        (&Exact::int(3) * &half_root, false, fraction(17, 4)),
        (Exact::int(6), false, fraction(39, 4)),
        (&Exact::int(6) * &half_root, true, fraction(41, 8)),
        (&Exact::int(12) * &half_root, true, fraction(75, 8)),
    ];
    for (leg, once, wanted) in rows {
        let (blank, piece) = square(&leg, once, &quarter, EIGHTH);
        proved(&blank, &[&piece]);
        assert_eq!((blank.width, blank.height), (scaled(wanted.inches()), scaled(wanted.inches())), "{leg}");
        assert_eq!(blank.inner.len(), if once { 2 } else { 4 });
    }
    let metric = [(75, true, 126), (75, false, 137), (60, true, 121), (60, false, 129)];
    for (tenths, once, wanted) in metric {
        let seam = Length::millimetre_fraction(tenths, 10).unwrap();
        let side = millimetres(100).inches().clone();
        let leg = if once { side } else { &side * &half_root };
        let (blank, piece) = square(&leg, once, &seam, RulerStep::MILLIMETRE);
        proved(&blank, &[&piece]);
        assert_eq!(blank.width, scaled(millimetres(wanted).inches()), "{tenths} tenths of a millimetre");
    }
}

#[test]
fn squares_are_refused_where_the_print_or_the_shape_forbids_them() {
    let quarter = fraction(1, 4);
    let piece = |once, freedom| cut_piece(&right_triangle(&Exact::int(3), once), &quarter, 1, freedom);
    let half_turns = Freedom { half_turn: true, ..Freedom::NONE };
    assert_eq!(square_once(&piece(true, Freedom::NONE), EIGHTH), Err(NoBlank::Turned { turn: "half a turn" }));
    assert_eq!(square_twice(&piece(false, half_turns), EIGHTH), Err(NoBlank::Turned { turn: "a quarter turn" }));
    assert!(square_once(&piece(true, half_turns), EIGHTH).is_ok());
    for (shape, other) in [(true, false), (false, true)] {
        let wrong = piece(shape, Freedom::ALL);
        let refused = if other { square_once(&wrong, EIGHTH) } else { square_twice(&wrong, EIGHTH) };
        assert!(matches!(refused, Err(NoBlank::Shape { .. })), "{refused:?}");
    }
    let long = CutPiece { id: PieceId(1), polygon: polygon(&[(0, 0), (4, 0), (0, 3)], INCH), freedom: Freedom::ALL };
    assert!(square_once(&long, EIGHTH).is_err() && square_twice(&long, EIGHTH).is_err());
}

/// Whether a size is this figure, but for the grid's rounding that any figure on the ruler may carry.
fn is_on_ruler(size: i64, figure: &Exact) -> bool {
    (0..=GRID_ALLOWANCE).contains(&(size - scaled(figure)))
}

/// The only unit of this method, and the pieces of its places.
fn only_unit(recipe: &Recipe, method: SewnMethod, seam: &Length, freedom: Freedom) -> (SewnUnit, Vec<CutPiece>) {
    let block = recipe.draft().unwrap();
    let units = sewn_units(&block, seam);
    let unit = units.into_iter().find(|unit| unit.method == method).unwrap();
    let pieces = pieces_of(&block, &unit, seam, freedom);
    (unit, pieces)
}

fn blanks_of(unit: &SewnUnit, pieces: &[CutPiece], step: RulerStep, size: SquareSize) -> Vec<Blank> {
    let blanks = unit_blanks(unit, &pieces.iter().collect::<Vec<_>>(), WIDTH, step, size).unwrap();
    assert_eq!(blanks.len(), pieces.len());
    blanks.iter().zip(pieces).for_each(|(blank, piece)| proved(blank, &[piece]));
    blanks
}

/// Half-square units from 3⅞ in squares for 3 in, or from 4 in to trim; quarter-square units from 4¼ in, or 4½ to
/// trim. Sources as above; to trim, common practice, no source.
#[test]
fn paired_squares_have_the_trade_figures() {
    let rows = [
        (Recipe::HalfSquare(block(3)), SewnMethod::PairedSquares, SquareSize::Exact, fraction(31, 8)),
        (Recipe::HalfSquare(block(3)), SewnMethod::PairedSquares, SquareSize::ToTrim, inches(4)),
        (Recipe::QuarterSquare(block(3)), SewnMethod::QuarteredPairs, SquareSize::Exact, fraction(17, 4)),
        (Recipe::QuarterSquare(block(3)), SewnMethod::QuarteredPairs, SquareSize::ToTrim, fraction(9, 2)),
    ];
    for (recipe, method, size, wanted) in rows {
        let (unit, pieces) = only_unit(&recipe, method, &fraction(1, 4), Freedom::TURNS);
        for blank in blanks_of(&unit, &pieces, EIGHTH, size) {
            assert!(is_on_ruler(blank.width, wanted.inches()), "{recipe:?} {size:?}: {}", blank.width);
            assert_eq!(blank.width, blank.height);
        }
        let directional: Vec<CutPiece> =
            pieces.iter().map(|p| CutPiece { freedom: Freedom::NONE, ..p.clone() }).collect();
        let refused = unit_blanks(&unit, &directional.iter().collect::<Vec<_>>(), WIDTH, EIGHTH, size);
        assert!(matches!(refused, Err(NoBlank::Turned { .. })), "{refused:?}");
    }
}

/// Strips for `units`, when each strip holds `each`.
fn strips(units: usize, each: usize) -> usize {
    units.div_ceil(each)
}

/// A 9 in nine-patch: strips and segments of 3½ in, ⌊40 ÷ 3½⌋ = 11 to a set; 20 blocks need 40 rows dark-light-dark
/// and 20 light-dark-light, so 4 and 2 sets. Common practice, no source; the counts by hand.
#[test]
fn nine_patches_from_strip_sets() {
    let (unit, pieces) = only_unit(&Recipe::NinePatch(block(9)), SewnMethod::StripSet, &fraction(1, 4), Freedom::NONE);
    assert_eq!((unit.count(), unit.positions.len(), unit.angle.is_square()), (3, 3, true));
    for blank in blanks_of(&unit, &pieces, EIGHTH, SquareSize::Exact) {
        assert_eq!((blank.height, blank.inner.len()), (7 * INCH / 2, 11));
        let Method::StripSet(across) = blank.method else { panic!("{:?}", blank.method) };
        assert_eq!((across.pitch, across.square_to_cut, across.lean), (7 * INCH / 2, 7 * INCH / 2, 0));
        assert_eq!((strips(2 * 20, blank.inner.len()), strips(20, blank.inner.len())), (4, 2));
    }
}

/// In centimetres on 110 cm: 6 cm squares with 7.5 mm seams are strips of 75 mm, ⌊1100 ÷ 75⌋ = 14 segments.
#[test]
fn metric_strip_sets() {
    let seam = Length::millimetre_fraction(15, 2).unwrap();
    let size = Size { by: Measure::Block, length: millimetres(120) };
    let (unit, pieces) = only_unit(&Recipe::FourPatch(size), SewnMethod::StripSet, &seam, Freedom::TURNS);
    let width = scaled(millimetres(1100).inches());
    let pieces: Vec<&CutPiece> = pieces.iter().collect();
    let blanks = unit_blanks(&unit, &pieces, width, RulerStep::MILLIMETRE, SquareSize::Exact).unwrap();
    for (blank, piece) in blanks.iter().zip(pieces) {
        proved(blank, &[piece]);
        assert!(is_on_ruler(blank.height, millimetres(75).inches()), "{}", blank.height);
        assert_eq!(blank.inner.len(), 14);
    }
}

/// Chains of the diamonds of a 12 in tilted star: 3 in strips, cut at 45° in steps of 3 in; ⌊(40 − 3) ÷ 3√2⌋ = 8, so
/// the star's eight diamonds fit one strip, as eight segments of two need two. Common practice, no source.
#[test]
fn chains_of_star_diamonds_from_strip_sets() {
    let side = &Exact::int(12) * &(&Exact::int(2) + &Exact::sqrt2()).recip().unwrap();
    let lean = &Vector::unit15(3) * &side;
    let recipe = drawn::chain(&Vector::new(side, Exact::ZERO), &lean, &[Exact::ONE, Exact::ONE]);
    let (unit, pieces) = only_unit(&recipe, SewnMethod::StripSet, &fraction(1, 4), Freedom::NONE);
    assert_eq!((unit.count(), unit.angle.steps15()), (1, Some(3)));
    for blank in blanks_of(&unit, &pieces, EIGHTH, SquareSize::Exact) {
        let Method::StripSet(across) = blank.method else { panic!("{:?}", blank.method) };
        assert_eq!((blank.height, across.square_to_cut, across.lean), (3 * INCH, 3 * INCH, 3 * INCH));
        assert_eq!(blank.inner.len(), 8);
    }
}

/// Diagonal half blocks of 12 in: trapezoids fed along 3 in strips for the diamonds, 8 to a strip (as above). 60° units
/// of side 6 in: strips 3√3/2 + ½ → 3⅛ in, cut at 60° in steps of 3⅜ in at least. Counts by hand.
#[test]
fn strips_to_sew_onto() {
    let seam = fraction(1, 4);
    let half = Recipe::DiagonalHalf { size: block(12), band: None };
    let unit = Recipe::SixtyUnit(Size { by: Measure::Side, length: inches(6) });
    for (recipe, height, each) in [(half, 3 * INCH, 8), (unit, 25 * INCH / 8, 9)] {
        let (unit, pieces) = only_unit(&recipe, SewnMethod::OntoStrip, &seam, Freedom::NONE);
        let blanks = blanks_of(&unit, &pieces, EIGHTH, SquareSize::Exact);
        assert_eq!((blanks[0].height, blanks[0].inner.len()), (height, each), "{recipe:?}");
    }
}

/// 3 in squares fed along a strip that becomes half-square triangles: strip and steps 3⅞ in, ⌊40 ÷ 3⅞⌋ = 10.
#[test]
fn squares_along_a_strip_that_becomes_triangles() {
    let along = Some(Vector::new(Exact::ONE, Exact::ZERO));
    let square = drawn::whole_patch(0, &[(0, 0), (3, 0), (3, 3), (0, 3)], along.clone());
    let triangle = drawn::whole_patch(1, &[(3, 0), (6, 0), (3, 3)], along);
    let base = drawn::whole_patch(2, &[(0, 0), (6, 0), (3, 3), (0, 3)], None).outline;
    let recipe = Recipe::Own { base, patches: vec![square, triangle] };
    let units = sewn_units(&recipe.draft().unwrap(), &fraction(1, 4));
    let found: Vec<_> = units.iter().map(|u| (u.method, u.places[0].iter().map(|k| k.0).collect::<Vec<_>>())).collect();
    assert_eq!(found, [(SewnMethod::OntoStrip, vec![0, 1]), (SewnMethod::OntoStrip, vec![1, 0])]);
    let pieces = pieces_of(&recipe.draft().unwrap(), &units[1], &fraction(1, 4), Freedom::TURNS);
    let blanks = blanks_of(&units[1], &pieces, EIGHTH, SquareSize::Exact);
    assert_eq!((blanks[0].height, blanks[0].inner.len()), (31 * INCH / 8, 10));
}

/// Both hands of a diamond from folded fabric: in each half as many as its row holds on half the width.
#[test]
fn folded_strips_give_both_hands() {
    let half = Recipe::DiagonalHalf { size: block(12), band: None }.draft().unwrap();
    let seam = fraction(1, 4);
    let [left, right] = [0, 1].map(|i| &half.patches()[i]).map(|patch| {
        let piece = cut_piece(patch, &seam, patch.key.0, Freedom::TURNS);
        PreparedPiece::new(piece, EIGHTH).unwrap()
    });
    let blanks = folded(&left, &right, WIDTH, EIGHTH).unwrap();
    assert!(!blanks.is_empty());
    blanks.iter().for_each(|blank| proved(blank, &[left.piece(), right.piece()]));
    // ⌊(20 − 3) ÷ 3√2⌋ = 4 of either hand.
    assert_eq!((blanks[0].method, blanks[0].height), (Method::Folded { pairs: 4 }, 3 * INCH));
    assert_eq!(blanks[0].counts().into_values().collect::<Vec<_>>(), [4, 4]);
    assert_eq!(folded(&left, &left, WIDTH, EIGHTH), Err(NoBlank::NothingSaved));
    let other = prepared_as(9, LayPolygon::rectangle(INCH, INCH).unwrap(), Freedom::ALL);
    assert_eq!(folded(&left, &other, WIDTH, EIGHTH), Err(NoBlank::OffGrain { piece: PieceId(9) }));
    assert_eq!(folded(&left, &right, 5 * INCH, EIGHTH), Err(NoBlank::TooNarrow));
}

/// Cuts a patch with corners in `unit` inches, its grain at `steps` × 15°, and its mirror image from folded fabric, each
/// rounded to the grid by itself. A patch without a cut shape is passed over.
fn either_hand(corners: &[(i64, i64)], unit: &Exact, steps: i32, (step, width, seam): (RulerStep, i64, &Length)) {
    let corners: Vec<(Exact, Exact)> = corners.iter().map(|(x, y)| (unit.scale_int(*x), unit.scale_int(*y))).collect();
    let patch = drawn::patch(1, &corners, Some(Vector::unit15(steps)));
    let mirror = geometry::Motion::mirror(&geometry::Point::origin());
    let grain = patch.grain.as_ref().map(|g| mirror.vector(g));
    let other = drawn::from_outline(2, mirror.polygon(&patch.outline), grain);
    let [left, right] = [&patch, &other].map(|patch| {
        let piece = drawn::try_cut_piece(patch, seam, patch.key.0, Freedom::TURNS)?;
        PreparedPiece::new(piece, step).ok()
    });
    let (Some(left), Some(right)) = (left, right) else { return };
    match folded(&left, &right, width, step) {
        Ok(blanks) => blanks.iter().for_each(|blank| {
            proved(blank, &[left.piece(), right.piece()]);
            assert_eq!(blank.counts()[&PieceId(1)], blank.counts()[&PieceId(2)]);
        }),
        Err(refused) => assert_eq!(refused, NoBlank::TooNarrow),
    }
}

/// A sliver whose tips are rounded to the grid far apart in its two hands is known as the same shape all the same.
#[test]
fn sharp_tips_of_either_hand() {
    let seam = Length::millimetre_fraction(15, 2).unwrap();
    let bench = (RulerStep::MILLIMETRE, scaled(millimetres(900).inches()), &seam);
    either_hand(&[(1, 8), (5, 2), (4, 4)], &(&ratio(21, 44) + &ratio(1, 4)), 8, bench);
}

/// The hexagon's piece at ¼ in allowances, its finished edge `edge` inches.
fn hexagon(edge: i64, freedom: Freedom) -> PreparedPiece {
    let block = Recipe::Hexagon(Size { by: Measure::Side, length: inches(edge) }).draft().unwrap();
    prepared(cut_piece(&block.patches()[0], &fraction(1, 4), 1, freedom).polygon, freedom)
}

/// Hexagons of edge e interlock: on a corner, neighbours are √3·e apart and rows 1.5·e; mathematics. On 40 in, a cut
/// edge of 2 + ½/√3 = 2.2887 in gives rows of 10 and 9, and m rows are 2e + 1.5e(m − 1) long.
#[test]
fn hexagons_nest_without_waste() {
    let edge = 2.0 + 0.5 / 3.0_f64.sqrt();
    let piece = hexagon(2, Freedom::TURNS);
    for rows in 2..=cutting::methods::MAX_NESTED_ROWS {
        let blank = nested(&piece, WIDTH, rows, EIGHTH).unwrap();
        proved(&blank, &[piece.piece()]);
        let height = edge * 1.5f64.mul_add(f64::from(rows - 1), 2.0);
        let count = 10 * rows.div_ceil(2) + 9 * (rows / 2);
        let laid = (blank.inner.len(), drawn::to_inches(blank.exact_height));
        let worse = f64::from(count) * laid.1 - drawn::count(laid.0) * height;
        assert!(worse < 0.05, "{rows} rows: {laid:?} against {count} in {height}");
    }
    // One way round, flat sides up: three edges from piece to piece, rows half a height apart.
    let one_way = hexagon(2, Freedom::NONE);
    let blank = nested(&one_way, WIDTH, 6, EIGHTH).unwrap();
    proved(&blank, &[one_way.piece()]);
    let best = one_way.patterns()[0].capacity(WIDTH);
    assert!(drawn::count(blank.inner.len()) / drawn::to_inches(blank.height) > best as f64 / 4.0);
}

#[test]
fn shapes_whose_rows_waste_nothing_are_not_nested() {
    let triangle = polygon(&[(0, 0), (3, 0), (0, 3)], INCH);
    let diamond = polygon(&[(0, 0), (4, 0), (7, 3), (3, 3)], INCH);
    let square = LayPolygon::rectangle(5 * INCH / 2, 5 * INCH / 2).unwrap();
    for shape in [triangle, diamond, square] {
        let piece = prepared(shape, Freedom::TURNS);
        for rows in 1..5 {
            assert_eq!(nested(&piece, WIDTH, rows, EIGHTH), Err(NoBlank::NothingSaved));
        }
    }
}

/// A kite, 3 in wide and 4 in high, its widest part 3 in up: rows of upright kites leave as much as they use.
#[test]
fn kites_nest() {
    let piece = prepared(polygon(&[(3, 0), (6, 6), (3, 8), (0, 6)], INCH / 2), Freedom::TURNS);
    let blanks = blanks_for(&piece, None, WIDTH, EIGHTH);
    assert_eq!(blanks.len(), 11);
    for blank in &blanks {
        proved(blank, &[piece.piece()]);
        let used = piece.piece().polygon.double_area() * i128::try_from(blank.inner.len()).unwrap();
        assert!(2 * i128::from(blank.width) * i128::from(blank.height) < used * 2, "{:?}", blank.method);
    }
}

fn bench() -> impl Strategy<Value = (RulerStep, i64, Length)> {
    let steps = prop_oneof![Just(EIGHTH), Just(RulerStep::GRID)];
    let inch = (steps, 20_i64..60, prop_oneof![Just(2), Just(3)]).prop_map(|(s, w, n)| (s, w * INCH, fraction(n, 8)));
    let metric = (900_i64..1500, prop_oneof![Just(60_i64), Just(75)]).prop_map(|(width, tenths)| {
        let seam = Length::millimetre_fraction(tenths, 10).unwrap();
        (RulerStep::MILLIMETRE, scaled(millimetres(width).inches()), seam)
    });
    prop_oneof![inch, metric]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Exact figures lie within the grid's rounding of finished size and addition, and never above the ruler's.
    #[test]
    fn any_square_is_the_finished_side_and_its_addition(
        (num, den, root, once) in (1_i64..400, 1_i64..40, any::<bool>(), any::<bool>()),
        (step, _, seam) in bench(),
    ) {
        let size = &Exact::ratio(num, den).unwrap() + &ratio(1, 4);
        let leg = if root { &size * &Exact::sqrt2() } else { size };
        let (blank, piece) = square(&leg, once, &seam, step);
        proved(&blank, &[&piece]);
        let exact = scaled(&exact_side(&leg, once, &seam));
        prop_assert!((exact..=exact + 8).contains(&blank.exact_width), "{} for {exact}", blank.exact_width);
        prop_assert!(blank.width >= blank.exact_width && blank.width == blank.height);
    }

    /// Chains of parallelograms at any angle: counts are ⌊(W − h·cot α)/p⌋ at sizes on the ruler.
    #[test]
    fn any_chain_is_a_strip_set_with_true_counts(
        (side, run, rise) in (8_i64..48, -24_i64..24, 6_i64..24),
        heights in prop::collection::vec(1_i64..5, 2..5),
        (step, width, seam) in bench(),
        turn in 0..24,
    ) {
        let inches = |v: i64| ratio(v, 8);
        let strip = Vector::new(inches(side), Exact::ZERO).turned15(turn);
        let lean = Vector::new(inches(run), inches(rise)).turned15(turn);
        let parts: Vec<Exact> = heights.iter().map(|h| ratio(*h, 2)).collect();
        let recipe = drawn::chain(&strip, &lean, &parts);
        let block = recipe.draft().unwrap();
        let units = sewn_units(&block, &seam);
        prop_assert_eq!(units.len(), 1);
        prop_assert_eq!((units[0].method, units[0].count()), (SewnMethod::StripSet, 1));
        let pieces = pieces_of(&block, &units[0], &seam, Freedom::NONE);
        let blanks = unit_blanks(&units[0], &pieces.iter().collect::<Vec<_>>(), width, step, SquareSize::Exact);
        let slope = f64::from(i32::try_from(run).unwrap()) / f64::from(i32::try_from(rise).unwrap());
        let (cot, sine) = (slope.abs(), 1.0 / slope.hypot(1.0));
        let doubled = 2.0 * seam.inches().to_f64();
        let segment = (inches(side).to_f64()).mul_add(sine, doubled);
        // The grid's outward rounding, by a few units, may carry a size over to the next step.
        let [wanted, at_least] = [0, 8].map(|noise| {
            let round_up = |v: f64| drawn::to_inches(step.round_up(drawn::from_inches(v) + noise));
            let strip_height = |h: i64| round_up(f64::from(i32::try_from(h * rise).unwrap()) / 16.0 + doubled);
            let tallest = heights.iter().map(|h| strip_height(*h)).fold(0.0, f64::max);
            (drawn::to_inches(width) - tallest * cot) / (round_up(segment) / sine)
        });
        match blanks {
            Ok(blanks) => for (blank, piece) in blanks.iter().zip(&pieces) {
                proved(blank, &[piece]);
                let count = drawn::count(blank.inner.len());
                prop_assert!(count <= wanted + 1e-4 && at_least - 1e-4 < count + 1.0, "{} for {}", count, wanted);
            },
            Err(refused) => prop_assert!(refused == NoBlank::TooNarrow && at_least < 1.0 + 1e-4, "{} {}", refused, wanted),
        }
    }

    /// Any shape and its mirror image from folded fabric: as many in each half as its row holds there.
    #[test]
    fn any_piece_and_its_mirror_image_are_cut_folded(
        shape in shapes::small(), (sx, sy) in (6000_i64..30_000, 6000_i64..30_000), width in (10 * INCH)..(60 * INCH),
    ) {
        let shape = shapes::stretched(&shape, sx, sy);
        let left = prepared_as(1, shape.clone(), Freedom::TURNS);
        let right = prepared_as(2, shape.turned_over().at_origin(), Freedom::TURNS);
        let none = |refused| if refused == NoBlank::TooNarrow { Ok(Vec::new()) } else { Err(refused) };
        let blanks = folded(&left, &right, width, EIGHTH).or_else(none).unwrap();
        for blank in &blanks {
            proved(blank, &[left.piece(), right.piece()]);
            prop_assert_eq!(blank.counts()[&PieceId(1)], blank.counts()[&PieceId(2)]);
        }
        let pairs = |blank: &Blank| if let Method::Folded { pairs } = blank.method { pairs } else { 0 };
        let rows: Vec<u64> = left.patterns().iter().map(|row| row.capacity(width / 2)).filter(|n| *n > 0).collect();
        prop_assert_eq!(blanks.iter().map(pairs).collect::<Vec<_>>(), rows);
    }

    /// Strips to sew onto, any size of block: every piece lies in its slot between two cuts, neighbours have room for
    /// their cut edge, and no further slot fits.
    #[test]
    fn any_strip_to_sew_onto_is_proved(
        (which, num, den) in (0..3, 60_i64..400, 20_i64..40), (step, width, seam) in bench(),
    ) {
        let length = fraction(num, den);
        let recipe = match which {
            0 => Recipe::DiagonalHalf { size: Size { by: Measure::Diamond, length }, band: None },
            1 => Recipe::SixtyUnit(Size { by: Measure::Side, length }),
            _ => Recipe::OnAxisStar { size: Size { by: Measure::OctagonEdge, length }, split: [true; 8] },
        };
        let block = recipe.draft().unwrap();
        for unit in sewn_units(&block, &seam) {
            let pieces = pieces_of(&block, &unit, &seam, Freedom::NONE);
            let blank = match unit_blanks(&unit, &[&pieces[0]], width, step, SquareSize::Exact) {
                Ok(blanks) => blanks.into_iter().next().unwrap(),
                Err(refused) => {
                    prop_assert_eq!(refused, NoBlank::TooNarrow);
                    continue;
                }
            };
            proved(&blank, &[&pieces[0]]);
            let Method::OntoStrip(across) = blank.method else { panic!("{:?}", blank.method) };
            let right = unit.angle.steps15().unwrap() < 6;
            for (k, placement) in (0_i64..).zip(&blank.inner) {
                for p in placement.polygon.corners() {
                    // The slot's sides lean over by `lean` on their way up.
                    let rise = if right { p.y } else { blank.height - p.y };
                    let along = (p.x - k * across.pitch) * blank.height - rise * across.lean;
                    let slack = GRID_ALLOWANCE * blank.height;
                    prop_assert!((-slack..=across.pitch * blank.height + slack).contains(&along), "slot {}", k);
                }
            }
            let count = i64::try_from(blank.inner.len()).unwrap();
            prop_assert!(count * across.pitch + across.lean <= width && (count + 1) * across.pitch + across.lean > width);
            let fed = unit.fed.as_ref().unwrap();
            let edge = fed.edges().filter(|(a, b)| a.y.max(b.y) <= GRID_ALLOWANCE).map(|(a, b)| b.x - a.x).max().unwrap();
            prop_assert!(across.pitch >= edge, "{} for a cut edge of {}", across.pitch, edge);
        }
    }

    /// Folded strips of patches whose two hands are rounded to the grid each by itself.
    #[test]
    fn patches_of_either_hand_are_cut_folded(
        shape in shapes::convex(), (num, den) in (1_i64..40, 1_i64..17), steps in 0..24, (step, width, seam) in bench(),
    ) {
        let corners: Vec<(i64, i64)> = shape.corners().iter().map(|p| (p.x, p.y)).collect();
        either_hand(&corners, &(&ratio(num, 4 * den) + &ratio(1, 4)), steps, (step, width, &seam));
    }

    /// Nested panels of any shape are laid without overlap, and yield more for their height than plain rows.
    #[test]
    fn any_nested_panel_is_proved_and_saves(
        shape in shapes::small(), (sx, sy) in (6000_i64..30_000, 6000_i64..30_000),
        freedom in shapes::freedom(), rows in 1_u32..7,
    ) {
        let piece = prepared(shapes::stretched(&shape, sx, sy), freedom);
        match nested(&piece, WIDTH, rows, EIGHTH) {
            Ok(blank) => {
                proved(&blank, &[piece.piece()]);
                for row in piece.patterns() {
                    let plain = i128::from(row.capacity(WIDTH)) * i128::from(blank.height);
                    prop_assert!(i128::try_from(blank.inner.len()).unwrap() * i128::from(row.strip_height()) > plain);
                }
            }
            Err(refused) => {
                let known = matches!(refused, NoBlank::NothingSaved | NoBlank::TooManyCorners { .. });
                prop_assert!(known, "{}", refused);
            }
        }
    }
}
