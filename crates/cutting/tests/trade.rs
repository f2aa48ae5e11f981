//! What the trade knows: cut sizes, strips, joined borders, binding, backing, and what is bought.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, by, edited, fraction, inches, ledger, ratio, starter, straight, with_fabric,
};
use cutting::bias::{bias_length, bias_square};
use cutting::buying::{inches as lay_inches, length_label};
use cutting::joined::{backing_cut, binding_cut, sections};
use cutting::{CutError, FabricPlan, PanelDirection, PlannedPiece, Purchase};
use geometry::lay::UNITS_PER_INCH;
use geometry::{Exact, Length, Measure, PatchKey, Recipe, Role};
use layout::{
    Backing, Binding, BindingGrain, BlockId, Border, Buying, BuyingStep, Design, Edit, FabricId, Join, Print, Setting,
    Units,
};
use proptest::prelude::*;

fn plan_of(design: &Design, id: FabricId) -> FabricPlan {
    ledger(design).plans()[&id].clone().unwrap()
}

fn piece<'a>(plan: &'a FabricPlan, label: &str) -> &'a PlannedPiece {
    plan.pieces.iter().find(|p| p.label.starts_with(label)).unwrap()
}

/// 2½ in binding on 40 in of width, joined on the diagonal or straight with ¼ in seams. Common practice, no source;
/// the numbers of strips are counted by hand from n·40 − (n−1)·loss.
#[test]
fn binding_strips() {
    let rows = [
        // Perimeter 308 + 12 = 320 in: eight strips are 320 in only until they are joined.
        (Join::Diagonal, (74, 80), 12, 9, ratio(340, 1)),
        (Join::Straight, (74, 80), 12, 9, ratio(356, 1)),
        // 302½ and 316½ in from eight strips.
        (Join::Diagonal, (72, 73), 12, 8, ratio(605, 2)),
        (Join::Straight, (72, 80), 12, 8, ratio(633, 2)),
        (Join::Diagonal, (72, 80), 12, 9, ratio(340, 1)),
        (Join::Straight, (5, 5), 12, 1, ratio(40, 1)),
    ];
    for (join, (width, height), extra, strips, joined) in rows {
        let binding = Binding {
            strip_width: fraction(5, 2),
            fabric: LIGHT,
            extra: inches(extra),
            join,
            grain: BindingGrain::Across,
        };
        let cut = binding_cut(&binding, &Exact::int(2 * (width + height)), &Exact::int(40), &fraction(1, 4)).unwrap();
        assert_eq!((cut.strips, &cut.joined), (strips, &joined), "{width} × {height} {join:?}");
        assert_eq!(cut.needed, Exact::int(2 * (width + height) + extra));
        assert!(cut.joined >= cut.needed);
    }
}

#[test]
fn joins_that_use_the_strip_up_are_refused() {
    let binding = Binding {
        strip_width: inches(18),
        fabric: LIGHT,
        extra: inches(12),
        join: Join::Diagonal,
        grain: BindingGrain::Across,
    };
    let refused = binding_cut(&binding, &Exact::int(300), &Exact::int(18), &fraction(1, 4)).unwrap_err();
    assert_eq!(refused, CutError::TooNarrowToJoin { width: "18.0000".to_owned() });
}

/// 4 in overhang, 40 in of usable width, ¼ in seams. Common practice, no source; panels counted by hand.
#[test]
fn backing_panels() {
    use PanelDirection::{Level, Upright};
    let rows = [
        // 120 in of back: three panels are 120 in only until they are seamed.
        ((112, 80), 4, Upright, 352),
        // Across 138 in also four, but of 120 in each.
        ((112, 130), 4, Level, 480),
        ((130, 112), 4, Upright, 480),
        // A square quilt needs the same both ways.
        ((60, 60), 2, Upright, 136),
        ((112, 112), 4, Upright, 480),
        ((32, 50), 1, Upright, 58),
    ];
    for ((width, height), panels, direction, required) in rows {
        let backing = Backing { overhang: inches(4), usable_width: inches(40) };
        let cut = backing_cut(&backing, &Exact::int(width), &Exact::int(height), &fraction(1, 4)).unwrap();
        assert_eq!(
            (cut.panels, cut.direction, &cut.required),
            (panels, direction, &Exact::int(required)),
            "{width} × {height}"
        );
        assert_eq!((cut.width, cut.height), (Exact::int(width + 8), Exact::int(height + 8)));
    }
}

/// A 12 in tilted star: diamonds of side 12/(2+√2) need strips 2.9853 in high, 3 in on the ruler, and all eight come
/// from one strip of 40 in. Common practice, no source; the height is 12/(2+√2)/√2 + ½.
#[test]
fn eight_diamonds_of_a_star_from_one_strip() {
    let star = starter(&[Recipe::TiltedStar(block_of(12))], straight(1, 1), &[]).design().unwrap();
    let role = Role::new("diamond").unwrap();
    let star = edited(&star, &Edit::PaintRole { block: BlockId(1), role, value: None, fabric: THIRD });
    let plan = plan_of(&star, THIRD);
    let diamond = piece(&plan, "diamond");
    assert_eq!(diamond.count, 8);
    let height = lay_inches(diamond.prepared.bounds().height());
    assert_eq!(height.to_decimal(4), "2.9853");
    assert_eq!((plan.plan.strips.len(), plan.plan.strips[0].repeat), (1, 1));
    assert_eq!(plan.plan.length, 3 * UNITS_PER_INCH);
    assert_eq!(plan.purchase.required, Exact::int(3));
}

/// What a cut size exceeds the finished size by, in lay units: `exact` inches, rounded outward at two corners.
fn exceeds(size: i64, finished: i64, exact: &Exact) -> bool {
    let more = lay_inches(size) - Exact::int(finished);
    more >= *exact && more <= exact + &lay_inches(4)
}

/// Half-square triangles are cut from squares ⅞ in larger, exactly s(2+√2): classroom handout on seam allowances.
/// Quarter-square triangles 1¼ in, exactly s(2+2√2): North Hampshire Quilters guild. Setting and corner triangles of
/// a square on point are the same shapes.
#[test]
fn triangles_cut_from_squares() {
    let half = &ratio(1, 4) * &(&Exact::int(2) + &Exact::sqrt2());
    let quarter = &ratio(1, 4) * &(&Exact::int(2) + &Exact::sqrt2().scale_int(2));
    assert_eq!((half.to_decimal(4), quarter.to_decimal(4)), ("0.8536".to_owned(), "1.2071".to_owned()));
    for finished in [3, 5, 12] {
        let size = by(Measure::Block, inches(finished));
        let design = starter(&[Recipe::HalfSquare(size.clone())], straight(1, 1), &[]).design().unwrap();
        for id in [DARK, LIGHT] {
            let bounds = piece(&plan_of(&design, id), "half-square triangle").prepared.bounds();
            assert!(exceeds(bounds.width(), finished, &half), "{finished} in: {bounds:?}");
            assert!(exceeds(bounds.height(), finished, &half), "{finished} in: {bounds:?}");
        }
        let design = starter(&[Recipe::QuarterSquare(size)], straight(1, 1), &[]).design().unwrap();
        let bounds = piece(&plan_of(&design, DARK), "quarter-square triangle").prepared.bounds();
        assert!(exceeds(bounds.width(), finished, &quarter), "{finished} in: {bounds:?}");
    }
}

/// Yards and eighths, metres and tenths; the figures are worked by hand.
#[test]
fn what_is_bought() {
    use BuyingStep::{EighthYard, TenCentimetres};
    let rows = [
        // 45.1 in is over an even 1¼ yd.
        (ratio(451, 10), 0, None, EighthYard, "1⅜ yd"),
        (ratio(45, 1), 0, None, EighthYard, "1¼ yd"),
        (ratio(36, 1), 0, None, EighthYard, "1 yd"),
        (ratio(1, 100), 0, None, EighthYard, "⅛ yd"),
        // (36 + 1)/0.9 = 41.1 in are over 1⅛ yd = 40½ in.
        (ratio(36, 1), 100, Some(inches(1)), EighthYard, "1¼ yd"),
        // 47½ in = 120.65 cm.
        (ratio(95, 2), 0, None, TenCentimetres, "1.3 m"),
        (ratio(5000, 127), 0, None, TenCentimetres, "1.0 m"),
        (Exact::ZERO, 30, Some(inches(1)), EighthYard, "0 yd"),
    ];
    for (required, shrinkage, end, step, label) in rows {
        let purchase = Purchase::new(required.clone(), &Buying::new(shrinkage, end, step).unwrap());
        assert_eq!(purchase.label, label, "{required}");
    }
    assert_eq!(length_label(&ratio(99, 2), EighthYard), "1⅜ yd");
    assert_eq!(length_label(&ratio(6500, 127), TenCentimetres), "1.3 m");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn enough_is_left_after_shrinkage(required in 1_i64..3_000_000, permille in 0_u16..=250, end in 0_i64..5, yards: bool) {
        let step = if yards { BuyingStep::EighthYard } else { BuyingStep::TenCentimetres };
        let buying = Buying::new(permille, (end > 0).then(|| inches(end)), step).unwrap();
        let required = ratio(required, 1000);
        let bought = Purchase::new(required.clone(), &buying);
        let left = ratio(1000 - i64::from(permille), 1000);
        prop_assert!(&bought.buy * &left >= &required + &Exact::int(end));
        let lines = [&bought.squaring_up, &bought.shrinkage, &bought.rounding];
        prop_assert!(lines.iter().all(|line| !line.is_negative()));
        prop_assert_eq!(lines.into_iter().fold(bought.required.clone(), |sum, line| &sum + line), bought.buy.clone());
        let size = if yards { ratio(9, 2) } else { ratio(500, 127) };
        prop_assert!(bought.buy.checked_div(&size).unwrap().as_rational().unwrap().1 == 1.into(), "whole steps");
        prop_assert!(bought.rounding < size, "never a step too many");
    }

    #[test]
    fn sections_of_a_long_strip(length in 1_i64..20_000, width in 180_i64..1200, seam in 1_i64..8) {
        let (length, width, seam) = (ratio(length, 16), ratio(width, 40), fraction(seam, 16));
        let longest = &width - &seam.inches().scale_int(2);
        match sections(&length, &width, &seam) {
            Ok(found) => {
                prop_assert_eq!(found.iter().fold(Exact::ZERO, |sum, s| &sum + s), length.clone());
                prop_assert!(found.iter().all(|s| *s <= longest));
                prop_assert!(found.len() == 1 || found.iter().all(|s| *s >= Exact::int(2)), "{:?}", found);
                let fewest = -(-&length).floor_div(&longest).unwrap();
                prop_assert_eq!(num(found.len()), Exact::from(fewest), "no more joins than needed");
            }
            Err(error) => {
                prop_assert!(longest < Exact::int(4), "{}", error);
            }
        }
    }
}

fn num(n: usize) -> Exact {
    Exact::int(i64::try_from(n).unwrap())
}

/// Sixteen 12 in blocks with a 3 in border: sides of 48 in and 54 in. On 40 in of width the longest section is 39½ in
/// finished; each is a whole strip, and the rests of 9, 9, 15 and 15 in cut fit two strips more: six of 3½ in.
#[test]
fn borders_joined_from_sections() {
    let design = starter(&[Recipe::FourPatch(block_of(12))], straight(4, 4), &[]).design().unwrap();
    let borders = vec![Border::plain(inches(3), FOURTH)];
    let design = edited(&design, &Edit::SetBorders(borders));
    let plan = plan_of(&design, FOURTH);
    let mut found: Vec<(String, u64)> = plan
        .pieces
        .iter()
        .map(|p| {
            assert!(p.is_section && p.label == "border, section", "{}", p.label);
            (p.shape.as_ref().unwrap().finished().extent().0.to_decimal(1), p.count)
        })
        .collect();
    found.sort();
    assert_eq!(found, [("14.5".to_owned(), 2), ("39.5".to_owned(), 4), ("8.5".to_owned(), 2)]);
    assert_eq!(plan.plan.strips.iter().map(|s| s.repeat).sum::<u64>(), 6);
    assert_eq!(plan.purchase.required, Exact::int(21));
}

/// Widths that the lay grid cannot state, as all metric ones: whole-width sections must still lie on the fabric.
#[test]
fn borders_joined_on_metric_fabric() {
    for mm in [1000, 1070, 1100, 1137, 1500] {
        let mut start = starter(&[Recipe::FourPatch(block_of(12))], straight(4, 4), &[]);
        start.units = Units::Centimetres;
        start.borders = vec![(Length::millimetres(75).unwrap(), FOURTH)];
        let design = start.design().unwrap();
        for print in Print::ALL {
            let design = with_fabric(&design, FOURTH, print, Length::millimetres(mm).unwrap());
            let plan = plan_of(&design, FOURTH);
            assert!(plan.verify(&plan.lays().unwrap()).is_ok(), "{mm} mm");
            let finished = |p: &PlannedPiece| {
                let (across, along) = p.shape.as_ref().unwrap().finished().extent();
                across.max(along).scale_int(i64::try_from(p.count).unwrap())
            };
            let total = plan.pieces.iter().fold(Exact::ZERO, |sum, p| &sum + &finished(p));
            let (width, height) = design.finished_size();
            let sides = &(&width + &height).scale_int(2) - &Length::millimetres(150).unwrap().inches().scale_int(2);
            assert_eq!(total, sides, "{mm} mm");
        }
    }
}

/// A band askew across a block, 36√2 in long and 12√2 in wide: its sections add up to its own length, not to that of
/// the upright rectangle round it.
#[test]
fn a_long_strip_that_stands_askew_is_joined_from_its_own_length() {
    let corners = |list: &[(i64, i64)]| -> Vec<geometry::Point> {
        list.iter().map(|(x, y)| point(&Exact::int(*x), *y)).collect()
    };
    let diagonal = geometry::Vector::new(Exact::ONE, Exact::ONE);
    let level = geometry::Vector::new(Exact::ONE, Exact::ZERO);
    let patch = |key, role: &str, list: &[(i64, i64)], grain: &geometry::Vector| geometry::Patch {
        key: PatchKey(key),
        outline: geometry::Polygon::new(corners(list)).unwrap(),
        role: Role::new(role).unwrap(),
        tone: geometry::Tone::Own(if role == "band" { geometry::Value::Dark } else { geometry::Value::Light }),
        grain: Some(grain.clone()),
    };
    let recipe = Recipe::Own {
        base: geometry::Polygon::new(corners(&[(0, 0), (48, 0), (48, 48), (0, 48)])).unwrap(),
        patches: vec![
            patch(0, "band", &[(12, 0), (48, 36), (36, 48), (0, 12)], &diagonal),
            patch(1, "corner", &[(0, 0), (12, 0), (0, 12)], &level),
            patch(2, "corner", &[(48, 48), (36, 48), (48, 36)], &level),
            patch(3, "side", &[(12, 0), (48, 0), (48, 36)], &level),
            patch(4, "side", &[(0, 12), (36, 48), (0, 48)], &level),
        ],
    };
    let tossed = starter(&[recipe], straight(1, 1), &[]).design().unwrap();
    let extent = plan_of(&tossed, DARK).pieces[0].shape.as_ref().unwrap().finished().extent();
    // A patch of a block is not joined where the print lets it lie lengthwise.
    assert_eq!((extent.0.to_decimal(4), plan_of(&tossed, DARK).pieces.len()), ("48.0000".to_owned(), 1));
    assert!(cutting::audit(&tossed, ledger(&tossed).plans()).is_ok());
    let design = with_fabric(&tossed, DARK, Print::Directional, inches(40));
    let plan = plan_of(&design, DARK);
    let mut found: Vec<(String, String)> = plan
        .pieces
        .iter()
        .map(|p| p.shape.as_ref().unwrap().finished().extent())
        .map(|(length, width)| (length.to_decimal(4), width.to_decimal(4)))
        .collect();
    found.sort();
    // 36√2 = 50.9117, 12√2 = 16.9706.
    assert_eq!(found, [("11.4117".to_owned(), "16.9706".to_owned()), ("39.5000".to_owned(), "16.9706".to_owned())]);
    assert!(cutting::audit(&design, ledger(&design).plans()).is_ok());
}

/// A seam-free piece that is too wide, with everything that helps: the fabric, the piece, its size, the remedy.
#[test]
fn fabric_too_narrow_for_a_patch() {
    let design = starter(&[Recipe::HalfSquare(block_of(24))], straight(2, 2), &[]).design().unwrap();
    let design = with_fabric(&design, DARK, Print::Tossed, inches(18));
    let ledger = ledger(&design);
    let error = ledger.plans()[&DARK].as_ref().unwrap_err().to_string();
    for part in ["Plum: ", "half-square triangle", "24.854 × 24.854 in", "18 in wide", "use a wider fabric", "smaller"]
    {
        assert!(error.contains(part), "{part} in: {error}");
    }
    assert!(ledger.plans()[&LIGHT].is_ok(), "the other fabric is planned all the same");
    assert!(cutting::audit(&design, ledger.plans()).is_ok(), "and can be audited");
}

#[test]
fn fabric_too_narrow_to_join_a_binding_or_a_border() {
    let design = starter(&[Recipe::FourPatch(block_of(3))], straight(4, 4), &[inches(1)]).design().unwrap();
    let narrow = with_fabric(&design, LIGHT, Print::Tossed, fraction(5, 2));
    let found = ledger(&narrow);
    let error = found.plans()[&LIGHT].as_ref().unwrap_err().to_string();
    assert_eq!(error, "Oat: strips 2.5000 in long cannot be joined: the joins would use them up; use wider fabric");
    assert!(found.plans()[&DARK].is_ok() && found.binding().is_err());
    let narrow = with_fabric(&design, DARK, Print::Tossed, inches(3));
    let error = ledger(&narrow).plans()[&DARK].as_ref().unwrap_err().to_string();
    assert!(error.starts_with("Plum: strips 3.0000 in long cannot be joined"), "{error}");
}

fn point(x: &Exact, y: i64) -> geometry::Point {
    geometry::Point::new(x.clone(), Exact::int(y))
}

fn own(patches: &[Vec<geometry::Point>]) -> Recipe {
    let corners = [(0, 0), (12, 0), (12, 12), (0, 12)].map(|(x, y)| point(&Exact::int(x), y));
    let patch = |(key, corners): (u32, &Vec<geometry::Point>)| geometry::Patch {
        key: PatchKey(key),
        outline: geometry::Polygon::new(corners.clone()).unwrap(),
        role: Role::new(&format!("part {key}")).unwrap(),
        tone: geometry::Tone::Half(0),
        grain: None,
    };
    Recipe::Own {
        base: geometry::Polygon::new(corners.to_vec()).unwrap(),
        patches: (0..).zip(patches).map(patch).collect(),
    }
}

/// A diamond on point in a 12 in block whose lower tip is an edge of 1/64 in, and a sliver 1/64 in high.
#[test]
fn edges_of_a_sixty_fourth_of_an_inch() {
    let at = |x: i64, y| point(&Exact::int(x), y);
    let past = point(&(&Exact::int(6) + &ratio(1, 64)), 0);
    let blunt = own(&[
        vec![at(6, 0), past.clone(), at(12, 6), at(6, 12), at(0, 6)],
        vec![at(0, 0), at(6, 0), at(0, 6)],
        vec![past, at(12, 0), at(12, 6)],
        vec![at(12, 6), at(12, 12), at(6, 12)],
        vec![at(0, 6), at(6, 12), at(0, 12)],
    ]);
    let design = starter(&[blunt], straight(2, 2), &[]).design().unwrap();
    let found = ledger(&design);
    assert!(found.plans().values().all(Result::is_ok));
    assert!(cutting::audit(&design, found.plans()).is_ok());

    let low = |x: i64| geometry::Point::new(Exact::int(x), ratio(1, 64));
    let sliver = own(&[vec![at(0, 0), at(12, 0), low(12)], vec![at(0, 0), low(12), at(12, 12), at(0, 12)]]);
    let design = starter(&[sliver], straight(1, 1), &[]).design().unwrap();
    let error = cutting::Ledger::new(&design, &common::tally(&design)).unwrap_err().to_string();
    assert!(error.starts_with("Block 1, part 0: ") && error.contains("too sharp"), "{error}");
}

/// Patches wider than 16 in have a label and a plan too, whatever their proportions.
#[test]
fn large_patches() {
    for (width, height) in [(31, 31), (100, 90), (200, 3)] {
        let recipe = Recipe::Plain { width: inches(width), height: inches(height) };
        let design = starter(&[recipe], straight(1, 1), &[]).design().unwrap();
        let design = with_fabric(&design, DARK, Print::Tossed, inches(300));
        assert_eq!(plan_of(&design, DARK).pieces[0].label, "plain patch", "{width} × {height}");
    }
    let size = by(Measure::Side, inches(120));
    let setting = Setting::TriangleRows { rows: 1, columns: 1, ends: THIRD };
    let design = starter(&[Recipe::SixtyTriangle(size)], setting, &[]).design().unwrap();
    let plan = plan_of(&with_fabric(&design, THIRD, Print::Tossed, inches(300)), THIRD);
    let mut labels: Vec<&str> = plan.pieces.iter().map(|p| p.label.as_str()).collect();
    labels.sort_unstable();
    assert_eq!(labels, ["row end triangle, leaning left", "row end triangle, leaning right"]);
}

/// A square of 12 in gives 72 in of bias strip at 2 in: side² ÷ width, an upper bound by area (mathematics). The
/// binding of a 74 × 80 in quilt, 308 in and 12 in more, wants a square of 28⅜ in at 2½ in: √(320·2½) = 28.28.
#[test]
fn bias_from_a_square() {
    assert_eq!(bias_length(&Exact::int(12), &Exact::int(2)), Some(Exact::int(72)));
    let side = bias_square(&Exact::int(320), &ratio(5, 2), &fraction(1, 8)).unwrap();
    assert_eq!(side, ratio(227, 8));
    assert_eq!(bias_square(&Exact::int(72), &Exact::int(2), &fraction(1, 8)), Some(Exact::int(12)));
}

/// Side setting triangles from squares cut twice, corner ones from squares cut once: finished block × 1.414 + 1¼ in and
/// ÷ 1.414 + ⅞ in (Moonlight Quilters guild: 6 → 9¾ and 5⅛, 12 → 9⅜; exact 9.6924, 5.0962, 9.3388).
#[test]
fn setting_triangles_from_squares() {
    use cutting::methods::{square_once, square_twice};
    use cutting::{CutPiece, Freedom, PieceId};
    let cut = |corners: [(Exact, Exact); 3]| {
        let corners = corners.into_iter().map(|(x, y)| geometry::Point::new(x, y)).collect();
        let polygon = geometry::Polygon::new(corners).unwrap();
        let grain = geometry::Vector::new(Exact::ONE, Exact::ZERO);
        let shape = geometry::cut::CutShape::mitred(&polygon, &vec![ratio(1, 4); 3], &grain).unwrap();
        CutPiece { id: PieceId(1), polygon: shape.outline().clone(), freedom: Freedom::TURNS }
    };
    let inches = |units: i64| cutting::buying::inches(units);
    let half = |e: &Exact| e.half();
    for (block, side, corner) in [(6, ratio(39, 4), ratio(41, 8)), (12, ratio(73, 4), ratio(75, 8))] {
        let long = &Exact::int(block) * &Exact::sqrt2();
        let zero = || Exact::ZERO;
        let side_piece = cut([(zero(), zero()), (long.clone(), zero()), (half(&long), half(&long))]);
        let leg = half(&long);
        let corner_piece = cut([(zero(), zero()), (leg.clone(), zero()), (zero(), leg.clone())]);
        assert_eq!(inches(square_twice(&side_piece, cutting::RulerStep::EIGHTH_INCH).unwrap().width), side, "{block}");
        assert_eq!(
            inches(square_once(&corner_piece, cutting::RulerStep::EIGHTH_INCH).unwrap().width),
            corner,
            "{block}"
        );
    }
}
