//! Binding on the bias: strips at 45° that are long enough when they are joined, as real pieces on the fabric.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{DARK, FOURTH, block_of, edited, fraction, inches, ledger, ratio, starter, straight, with_fabric};
use cutting::bias::{bias_length, bias_square};
use cutting::{CutError, FabricPlan, audit};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Exact, Length, Measure, Recipe};
use layout::{Binding, BindingGrain, Design, Edit, Join, Print, Units};
use proptest::prelude::*;

/// A quilt of four-patches with a bias binding of a fabric of its own.
fn bound(side: i64, (rows, columns): (u16, u16), strip_width: Length, extra: i64) -> Design {
    let design = starter(&[Recipe::FourPatch(block_of(side))], straight(rows, columns), &[]).design().unwrap();
    let binding =
        Binding { strip_width, fabric: FOURTH, extra: inches(extra), join: Join::Diagonal, grain: BindingGrain::Bias };
    edited(&design, &Edit::SetBinding(binding))
}

/// The outlines of the bias strips where they lie on the fabric, checked by the verifier.
fn strips(plan: &FabricPlan) -> Vec<LayPolygon> {
    let lays = plan.lays().unwrap();
    plan.verify(&lays).unwrap();
    let id = plan.pieces.iter().find(|p| p.label == "bias binding strip").unwrap().prepared.id();
    let placed = lays.iter().flat_map(|on| &on.lay.placements);
    placed.filter(|p| p.piece == id).map(|p| p.polygon.clone()).collect()
}

fn units(n: i64) -> Exact {
    Exact::ratio(n, UNITS_PER_INCH).unwrap()
}

/// What the strips give when they are joined, worked out from their outlines alone: each stands on the one before, the
/// slanted ends overlapping by two seam allowances, and the bias rises 1 in 1.
fn joined(strips: &[LayPolygon], seam: &Length) -> Exact {
    let rise = strips.iter().fold(Exact::ZERO, |sum, strip| &sum + &units(strip.bounds().height()));
    let overlaps = seam.inches().scale_int(2 * (strips.len() as i64 - 1));
    &(&rise - &overlaps) * &Exact::sqrt2()
}

/// Every strip is a parallelogram on the bias, no narrower than asked for and wider by less than the grid rounds.
fn check_strip(strip: &LayPolygon, width: &Exact) {
    let corners = strip.corners();
    assert_eq!(corners.len(), 4);
    let level: Vec<i64> = strip.edges().filter(|(a, b)| a.y == b.y).map(|(a, b)| (b.x - a.x).abs()).collect();
    let slanted: Vec<_> = strip.edges().filter(|(a, b)| a.y != b.y).collect();
    assert!(slanted.len() == 2 && slanted.iter().all(|(a, b)| b.x - a.x == b.y - a.y), "{corners:?}");
    let square_across = &units(level[0]) * &Exact::sqrt2().half();
    assert!(level[0] == level[1] && square_across >= *width && &square_across - &units(1) < *width, "{corners:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn joined_bias_strips_go_round_the_quilt(
        side in 3_i64..15, rows in 1_u16..9, columns in 1_u16..9, eighths in 8_i64..33, extra in 6_i64..20,
        usable in 14_i64..60, seam in 1_i64..5, metric in any::<bool>(),
    ) {
        let design = bound(side, (rows, columns), fraction(eighths, 8), extra);
        let design = with_fabric(&design, FOURTH, Print::Tossed, inches(usable));
        let seam = fraction(seam, 8);
        let design = edited(&design, &Edit::SetSeam(seam.clone()));
        let design = edited(&design, &Edit::SetUnits(if metric { Units::Centimetres } else { Units::Inches }));
        let found = ledger(&design);
        audit(&design, found.plans()).unwrap();
        let plan = found.plans()[&FOURTH].as_ref().unwrap();
        let strips = strips(plan);
        strips.iter().for_each(|strip| check_strip(strip, fraction(eighths, 8).inches()));
        let around = Exact::int(2 * side * i64::from(rows + columns) + extra);
        let told = found.binding().unwrap();
        prop_assert_eq!(&told.needed, &around);
        prop_assert_eq!(told.strips, strips.len() as u64);
        // What is told is exact; on the lay grid each strip is at most a unit longer.
        let joined = joined(&strips, &seam);
        prop_assert!(told.joined >= around && joined >= told.joined);
        prop_assert!(&joined - &units(2 * strips.len() as i64) < told.joined);
        // One strip less would not do.
        let shorter = &told.joined - &(&told.strip_length - &(&seam.inches().scale_int(2) * &Exact::sqrt2()));
        prop_assert!(strips.len() == 1 || shorter < around);
        // No way to cut them takes less than their area.
        let area = &units(plan.plan.length) * &Exact::int(usable);
        prop_assert!(area >= &around * fraction(eighths, 8).inches());
    }
}

/// A 60 × 72 in quilt, 2½ in strips, 40 in of cloth, worked by hand: 276 in are needed. The lowest band with strips of a
/// foot is 9 in: each strip adds 12.02 in, so 23 of them, 8 a band, 3 bands, 27 in. A quarter of a yard more is 36 in. From
/// bands of 17 in each strip adds 23.33 in, so 12, and (40 − 17) ÷ 3.54 is 6 a band: 2 bands, 34 in. Bands of 18 in need 12
/// strips too but 36 in; of 19 in 11 strips, but 3 bands.
#[test]
fn long_strips_are_worth_a_quarter_of_a_yard() {
    let design = bound(12, (6, 5), fraction(5, 2), 12);
    let found = ledger(&design);
    let told = found.binding().unwrap();
    assert_eq!(told.needed, Exact::int(276));
    assert_eq!((told.strips, &told.strip_length), (12, &(&Exact::int(17) * &Exact::sqrt2())));
    assert_eq!(&told.joined - &(&Exact::int(11) * &(&ratio(33, 2) * &Exact::sqrt2())), told.strip_length);
    let plan = found.plans()[&FOURTH].as_ref().unwrap();
    assert_eq!((strips(plan).len(), plan.plan.length), (12, 34 * UNITS_PER_INCH));
    // From cut to cut along the band: 2½ in square to the cut.
    let piece = plan.pieces.iter().find(|p| p.label == "bias binding strip").unwrap();
    let pitch = &units(piece.prepared.patterns()[0].pitches()[0]) * &Exact::sqrt2().half();
    assert!(pitch >= ratio(5, 2) && &pitch - &units(2) < ratio(5, 2));
}

/// Length × width = area, and its root is the side of the square to cut from: 20 in at 2 in give 200 in, and 250 in at 2 in
/// take 22.36 in, cut 23 (mydecozo.co.uk, questions on soft furnishing); 100 in at 3½ in take 18.71 in, cut 19 (Quilter's
/// Question Time, 5 August 2021).
#[test]
fn the_area_method() {
    let inch = inches(1);
    assert_eq!(bias_length(&Exact::int(20), &Exact::int(2)), Some(Exact::int(200)));
    assert_eq!(bias_square(&Exact::int(250), &Exact::int(2), &inch), Some(Exact::int(23)));
    assert_eq!(bias_square(&Exact::int(100), &ratio(7, 2), &inch), Some(Exact::int(19)));
}

#[test]
fn cloth_too_narrow_for_a_bias_strip_is_told() {
    let design = with_fabric(&bound(6, (2, 2), fraction(5, 2), 12), FOURTH, Print::Tossed, inches(4));
    let found = ledger(&design);
    assert_eq!(found.binding().unwrap_err(), CutError::TooNarrowToJoin { width: "4.0000".to_owned() });
    assert!(found.plans()[&FOURTH].is_err() && found.plans()[&DARK].is_ok());
}

/// A block sized by its side may be any; the binding does not care.
#[test]
fn the_same_strips_go_round_other_blocks_of_the_size() {
    let star =
        Recipe::OnAxisStar { size: geometry::Size { by: Measure::Block, length: inches(12) }, split: [false; 8] };
    let quilt = |recipe| {
        let design = starter(&[recipe], straight(6, 5), &[]).design().unwrap();
        let binding = Binding { grain: BindingGrain::Bias, ..design.binding().clone() };
        edited(&design, &Edit::SetBinding(binding))
    };
    let of = |design: &Design| ledger(design).binding().unwrap().clone();
    assert_eq!(of(&quilt(star)), of(&quilt(Recipe::FourPatch(block_of(12)))));
}
