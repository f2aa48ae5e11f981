//! Units that are trimmed on the way, and blocks cut again: pieces, margins and lengths follow, and every plan passes
//! the audit.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeMap;

use common::{DARK, block_of, cell, cut_star, edited, fraction, ledger, starter, straight, view};
use cutting::{BestBook, Watch, audit};
use geometry::{Exact, PatchKey, Recipe};
use layout::{BlockId, CuttingWishes, Design, Edit, FabricId, UnitKeys};

/// The eight sectors of an on-axis star, a diamond and two triangles each.
fn sectors() -> UnitKeys {
    (0..8).map(|k| (3 * k..3 * k + 3).map(PatchKey).collect()).collect()
}

fn on_axis_stars() -> Design {
    starter(&[Recipe::OnAxisStar { size: block_of(12), split: [true; 8] }], straight(3, 3), &[]).design().unwrap()
}

fn trimming(design: &Design, units: UnitKeys) -> Design {
    edited(design, &Edit::SetTrimmedUnits { block: BlockId(1), units })
}

/// A margin of ¼ in beyond the seam allowance of ¼ in.
fn with_margin(design: &Design) -> Design {
    edited(design, &Edit::SetCutting(CuttingWishes { oversize: Some(fraction(1, 4)), ..CuttingWishes::default() }))
}

/// The quick and the best plan of every fabric pass the audit; the lengths of both.
fn audited(design: &Design) -> [BTreeMap<FabricId, i64>; 2] {
    let quick = ledger(design);
    let best = BestBook::new(design, &quick, &BestBook::default(), &Watch::new()).unwrap();
    [quick.plans(), best.plans()].map(|plans| {
        audit(design, plans).unwrap();
        plans.iter().map(|(id, plan)| (*id, plan.as_ref().unwrap().plan.length)).collect()
    })
}

/// How many edges of the pieces with this role have the margin, and their cut area in square inches.
fn piece(design: &Design, role: &str) -> (usize, f64) {
    let found = ledger(design);
    let mut pieces = found.plans().values().flat_map(|plan| &plan.as_ref().unwrap().pieces);
    let shape = pieces.find(|piece| piece.label.starts_with(role)).unwrap().shape.clone().unwrap();
    let half = Exact::ratio(1, 2).unwrap();
    let edges = (0..shape.finished().corners().len()).filter(|edge| shape.allowance_of_edge(*edge) == half).count();
    #[expect(clippy::cast_precision_loss, reason = "an area of some square inches")]
    let area = shape.outline().double_area() as f64 / 2.0 / (65_536.0 * 65_536.0);
    (edges, area)
}

#[test]
fn trimmed_sectors_are_cut_with_the_margin_all_round() {
    let plain = on_axis_stars();
    assert_eq!(view(&ledger(&trimming(&plain, sectors()))), view(&ledger(&plain)), "no margin, nothing to trim");
    let untrimmed = with_margin(&plain);
    let trimmed = trimming(&untrimmed, sectors());
    let edges = |design, role| piece(design, role).0;
    let roles = ["diamond", "sector triangle", "corner triangle"];
    assert_eq!(roles.map(|role| edges(&trimmed, role)), [2, 2, 2]);
    assert_eq!(edges(&untrimmed, "diamond"), 0);
    // The diamond's side is 6/cos 22.5°/2 = 3.2472 in, its angle at the centre 45°. Cut with allowances of ½ in at
    // the centre and ¼ in outside its sides lie ¾ in farther apart than finished, so its area is (h + ¾)²/sin 45° with
    // h = 3.2472·sin 45°: plane trigonometry.
    let (side, sine) = (3.0 / (22.5_f64.to_radians()).cos(), 45_f64.to_radians().sin());
    for (design, more) in [(&untrimmed, 0.5), (&trimmed, 0.75)] {
        let wanted = (side * sine + more) * (side * sine + more) / sine;
        let (_, area) = piece(design, "diamond");
        assert!((area - wanted).abs() < 1e-3, "{area} {wanted}");
    }
    let ([quick_before, best_before], [quick_after, best_after]) = (audited(&untrimmed), audited(&trimmed));
    for (before, after) in [(quick_before, quick_after), (best_before, best_after)] {
        assert!(before.iter().all(|(id, length)| after[id] >= *length), "{before:?} {after:?}");
        assert!(before[&DARK] < after[&DARK], "{before:?} {after:?}");
    }
    assert!(audit(&trimmed, ledger(&untrimmed).plans()).is_err(), "a plan without the margin is no plan for it");
    assert_eq!(view(&ledger(&trimming(&trimmed, UnitKeys::new()))), view(&ledger(&untrimmed)), "and back");
}

#[test]
fn mirrored_blocks_keep_the_margins_of_their_units() {
    let recipe = Recipe::DiagonalHalf { size: block_of(6), band: None };
    let design = with_margin(&starter(&[recipe], straight(3, 3), &[]).design().unwrap());
    // One half of the block: two diamonds, the trapezoid and the triangle.
    let half = trimming(&design, [(0..4).map(PatchKey).collect()].into());
    assert_eq!(piece(&half, "trapezoid").0, 1, "the long edge, along the diagonal");
    audited(&edited(&half, &Edit::Mirror { place: cell(1, 1), mirrored: true }));
}

#[test]
fn a_re_cut_star_has_more_pieces_and_takes_more_fabric() {
    let star = starter(&[Recipe::TiltedStar(block_of(12))], straight(4, 4), &[]).design().unwrap();
    let cut = edited(&star, &Edit::Redraft(vec![(BlockId(1), cut_star())]));
    let pieces = |design: &Design| ledger(design).uses().values().map(|used| used.patches).sum::<u64>();
    assert_eq!([pieces(&star), pieces(&cut)], [16 * 16, 16 * 24]);
    for (before, after) in audited(&star).into_iter().zip(audited(&cut)) {
        assert_eq!(before[&DARK], after[&DARK], "the diamonds are as they were");
        assert!(before.values().sum::<i64>() < after.values().sum::<i64>(), "{before:?} {after:?}");
    }
}
