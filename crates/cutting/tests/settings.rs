//! Pieces of settings: squares cut on the diagonal, their sizes, and the grain on the outside of the quilt.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{DARK, FOURTH, LIGHT, THIRD, block_of, by, edited, fraction, inches, ledger, ratio, starter};
use cutting::methods::{EdgeGrain, outside_grain, square_once, square_twice};
use cutting::{CutPiece, audit};
use geometry::{Exact, Measure, Point, Recipe};
use layout::{
    BlockId, Border, BorderKind, Design, Edit, FabricId, Halves, Place, SamplerBlock, SamplerDraft, SamplerFree,
    SamplerPlan, SamplerRow, SamplerRows, Sashing, Setting, Source,
};

/// Blocks on point; the side triangles are rust, the corners fern.
fn on_point(side: i64, float: Option<geometry::Length>) -> Design {
    let setting = Setting::OnPoint { rows: 3, columns: 4, sides: THIRD, corners: FOURTH };
    let recipe = Recipe::HalfSquare(block_of(side));
    let design = starter(&[recipe], setting, &[]).design().unwrap();
    edited(&design, &Edit::SetFloat(float))
}

/// The only piece of a fabric, and how many there are.
fn only_piece(design: &Design, fabric: FabricId) -> (CutPiece, u64, String) {
    let ledger = ledger(design);
    let plan = ledger.plans()[&fabric].as_ref().unwrap();
    assert_eq!(plan.pieces.len(), 1, "{:?}", plan.pieces.iter().map(|p| &p.label).collect::<Vec<_>>());
    let piece = &plan.pieces[0];
    (piece.prepared.piece().clone(), piece.count, piece.label.clone())
}

/// Side triangles come from squares of the finished side × √2 + 1¼ in cut twice, corners from squares of the side ÷ √2 +
/// ⅞ in cut once (Moonlight Quilters guild: 6 in blocks 9¾ and 5⅛ in, 12 in blocks 9⅜ in for the corners). A float of 1
/// in makes the first 2 in larger; the second grow by 2 in as well, 1 in beyond either end of the leg.
#[test]
fn setting_triangles_of_a_quilt_are_cut_from_squares() {
    let step = cutting::RulerStep::EIGHTH_INCH;
    for (side, sides, corners) in [(6, ratio(39, 4), ratio(41, 8)), (12, ratio(73, 4), ratio(75, 8))] {
        for (float, more) in [(None, Exact::ZERO), (Some(inches(1)), Exact::int(2))] {
            let design = on_point(side, float.clone());
            let (piece, count, label) = only_piece(&design, THIRD);
            let square = square_twice(&piece, step).unwrap();
            assert_eq!(cutting::buying::inches(square.width), &sides + &more, "{side} in, float {float:?}");
            assert_eq!((count, label.as_str()), (10, "side triangle"));
            let (piece, count, label) = only_piece(&design, FOURTH);
            let square = square_once(&piece, step).unwrap();
            assert_eq!(cutting::buying::inches(square.width), &corners + &more, "{side} in, float {float:?}");
            assert_eq!((count, label.as_str()), (4, "corner triangle"));
            assert!(audit(&design, ledger(&design).plans()).is_ok());
        }
    }
}

/// No edge on the outside of a quilt is on the bias: neither that of a finished piece nor that of the piece as it is cut.
#[test]
fn the_outside_of_a_quilt_on_point_keeps_the_straight_grain() {
    for float in [None, Some(fraction(3, 2))] {
        let design = on_point(9, float);
        let top = design.top().unwrap();
        let on_edge = |p: &Point| p.x.is_zero() || p.y.is_zero() || p.x == top.width || p.y == top.height;
        let (mut outside, mut inside) = (0, 0);
        for placed in top.placed.iter().filter(|placed| !matches!(placed.source, Source::Block(_))) {
            for edge in outside_grain(&placed.block) {
                let (a, b) = placed.block.patches()[0].outline.edges().nth(edge.edge).unwrap();
                let (a, b) = (&placed.motion.point(a), &placed.motion.point(b));
                if on_edge(a) && on_edge(b) && on_edge(&a.midpoint(b)) {
                    assert_eq!(edge.grain, EdgeGrain::Straight, "{}", placed.place);
                    outside += 1;
                } else {
                    inside += usize::from(edge.grain == EdgeGrain::Bias);
                }
            }
        }
        assert_eq!(outside, 2 * 2 + 2 * 3 + 4 * 2, "every piece of the edge was looked at");
        assert!(inside > 0, "the seams to the blocks are on the bias");
    }
}

/// Sashes and cornerstones, 3 rows of 3 blocks of 6 in with outer sashing of 1½ in: 24 sashes of 2 × 6½ in and 16
/// cornerstones of 2 in (+ ½ in for seams: classroom handout on seam allowances).
#[test]
fn sashes_are_cut_with_their_seams() {
    let recipe = Recipe::HalfSquare(block_of(6));
    let design = starter(&[recipe], common::straight(3, 3), &[]).design().unwrap();
    let sashing = Sashing { width: fraction(3, 2), fabric: THIRD, cornerstones: Some(FOURTH), outer: true };
    let design = edited(&design, &Edit::SetSashing(Some(sashing)));
    let size = |piece: &CutPiece| {
        let bounds = piece.polygon.bounds();
        let (w, h) = (cutting::buying::inches(bounds.width()), cutting::buying::inches(bounds.height()));
        if w > h { (w, h) } else { (h, w) }
    };
    let (piece, count, label) = only_piece(&design, THIRD);
    assert_eq!((size(&piece), count, label.as_str()), ((ratio(13, 2), Exact::int(2)), 24, "sash"));
    let (piece, count, label) = only_piece(&design, FOURTH);
    assert_eq!((size(&piece), count, label.as_str()), ((Exact::int(2), Exact::int(2)), 16, "cornerstone"));
    assert!(design.fabric(DARK).is_ok() && design.fabric(LIGHT).is_ok());
}

/// Round 20 × 30 in, mitred borders of 3 in: strips as long as the finished quilt, and at either end (1 + √2) seam
/// allowances for the point of the mitre, 0.6036 in at ¼ in (mathematics).
#[test]
fn mitred_borders_are_cut_as_whole_strips() {
    let recipe = Recipe::HalfSquare(block_of(10));
    let design = starter(&[recipe], common::straight(3, 2), &[]).design().unwrap();
    let mitred = Border { kind: BorderKind::Mitred, ..Border::plain(inches(3), THIRD) };
    let design = edited(&design, &Edit::SetBorders(vec![mitred]));
    let ledger = ledger(&design);
    assert!(audit(&design, ledger.plans()).is_ok());
    let plan = ledger.plans()[&THIRD].as_ref().unwrap();
    let mut long: Vec<(u64, f64)> = plan
        .pieces
        .iter()
        .map(|p| {
            let bounds = p.prepared.piece().polygon.bounds();
            (p.count, cutting::buying::inches(bounds.width().max(bounds.height())).to_f64())
        })
        .collect();
    long.sort_by(|a, b| a.1.total_cmp(&b.1));
    let wanted = [26.0, 36.0].map(|finished| finished + 0.5 * (1.0 + 2_f64.sqrt()));
    assert_eq!(long.len(), 2, "{long:?}");
    for ((count, length), wanted) in long.iter().zip(wanted) {
        assert_eq!(*count, 2);
        assert!((length - wanted).abs() < 1e-3, "{long:?}");
    }
}

/// A 6-inch edge: half hexagons, edge and corner triangles, setting and end triangles, each cut in one class, as many as
/// there are; what is not its own mirror image in both hands.
#[test]
fn pieces_round_hexagons_are_cut_and_counted() {
    let size = by(Measure::Side, inches(6));
    let star = Recipe::HexagonStar { size, split: [true; 6] };
    let rows = [
        (
            Setting::HexagonRows { rows: 3, columns: 4, halves: THIRD, edges: FOURTH },
            // Two ends of the middle row; three gaps above and three below, and the four corners.
            [
                vec![(2, "half hexagon")],
                vec![(6, "edge triangle"), (2, "corner triangle, leaning left"), (2, "corner triangle, leaning right")],
            ],
        ),
        (
            Setting::StarRows { rows: 2, columns: 3, between: THIRD, ends: FOURTH },
            // Two in each of the two gaps of both rows; four at the ends of both, half of them of either hand.
            [
                vec![(8, "setting triangle")],
                vec![(4, "end triangle, leaning left"), (4, "end triangle, leaning right")],
            ],
        ),
    ];
    for (setting, [third, fourth]) in rows {
        let design = starter(std::slice::from_ref(&star), setting, &[inches(2)]).design().unwrap();
        let ledger = ledger(&design);
        assert!(audit(&design, ledger.plans()).is_ok(), "{setting:?}");
        for (fabric, mut wanted) in [(THIRD, third), (FOURTH, fourth)] {
            let plan = ledger.plans()[&fabric].as_ref().unwrap();
            // The diamonds of the stars are of the third fabric too.
            let of_setting = plan.pieces.iter().filter(|p| !p.label.starts_with("diamond"));
            let mut found: Vec<(u64, &str)> = of_setting.map(|p| (p.count, p.label.as_str())).collect();
            found.sort_unstable();
            wanted.sort_unstable();
            assert_eq!(found, wanted, "{setting:?}");
        }
    }
}

/// The long side of an edge triangle of a hexagon of edge e is e√3 and lies on the straight grain, the legs of an end
/// triangle are e/2 and e√3/2 and both do (mathematics).
#[test]
fn the_outside_of_hexagons_keeps_the_straight_grain() {
    let hexagon = Recipe::Hexagon(by(Measure::Side, inches(6)));
    for setting in [
        Setting::HexagonRows { rows: 4, columns: 3, halves: THIRD, edges: FOURTH },
        Setting::StarRows { rows: 2, columns: 3, between: THIRD, ends: FOURTH },
    ] {
        let design = starter(std::slice::from_ref(&hexagon), setting, &[]).design().unwrap();
        let top = design.top().unwrap();
        let on_edge = |p: &Point| p.x.is_zero() || p.y.is_zero() || p.x == top.width || p.y == top.height;
        let mut outside = 0;
        for placed in top.placed.iter().filter(|placed| !matches!(placed.source, Source::Block(_))) {
            for edge in outside_grain(&placed.block) {
                let (a, b) = placed.block.patches()[0].outline.edges().nth(edge.edge).unwrap();
                let (a, b) = (&placed.motion.point(a), &placed.motion.point(b));
                if on_edge(a) && on_edge(b) && on_edge(&a.midpoint(b)) {
                    assert_eq!(edge.grain, EdgeGrain::Straight, "{}", placed.place);
                    outside += 1;
                }
            }
        }
        assert!(outside > 8, "{outside}");
    }
}

/// A sampler of blocks as they are drafted, its fillers rust.
fn sampler(recipes: &[Recipe], plan: SamplerPlan) -> Design {
    let design = starter(recipes, common::straight(1, 1), &[]).design().unwrap();
    let block = |(number, _): (u32, _)| {
        let block = BlockId(number);
        let halves = Halves::alternating(design.block(block).unwrap().block().halves());
        SamplerBlock { place: Place { block, turn: 0, mirrored: false, halves }, was: None }
    };
    let blocks = (1..).zip(recipes).map(block).collect();
    edited(&design, &Edit::SetSampler(SamplerDraft { plan, filler: THIRD, blocks }))
}

/// Width and height of each kind of rust-coloured piece as it is cut, the longer first, and how many.
fn filler_cuts(design: &Design) -> Vec<(f64, f64, u64)> {
    let ledger = ledger(design);
    assert!(audit(design, ledger.plans()).is_ok());
    let plan = ledger.plans()[&THIRD].as_ref().unwrap();
    let size = |piece: &cutting::PlannedPiece| {
        let bounds = piece.prepared.piece().polygon.bounds();
        let (w, h) =
            (cutting::buying::inches(bounds.width()).to_f64(), cutting::buying::inches(bounds.height()).to_f64());
        (w.max(h), w.min(h), piece.count)
    };
    let mut sizes: Vec<(f64, f64, u64)> = plan.pieces.iter().map(size).collect();
    sizes.sort_by(|a, b| a.partial_cmp(b).unwrap());
    sizes
}

/// Blocks of 12 and 6 in side by side, 2 in between them: a strip of 2 × 6 beside the small block and one of 8 × 6 in over
/// both, cut ½ in larger. With one of 2 × 12 in between the seams would be 4 in longer.
#[test]
fn fillers_of_a_sampler_are_cut_with_their_seams() {
    let recipes = [Recipe::HalfSquare(block_of(12)), Recipe::NinePatch(block_of(6))];
    let rows = SamplerRows { rows: vec![SamplerRow::of(2)], gap: Some(inches(2)), row_gap: None };
    let design = sampler(&recipes, SamplerPlan::Rows(rows));
    assert_eq!(filler_cuts(&design), [(6.5, 2.5, 1), (8.5, 6.5, 1)]);
}

/// Alone in 60 × 20 in: two strips of 60 × 4 in are longer than the fabric of 40 in is wide, and yet are planned; the
/// plans hold up to their audit.
#[test]
fn long_fillers_are_cut_lengthwise_or_joined() {
    let recipes = [Recipe::TiltedStar(block_of(12))];
    let corners = vec![Point::new(Exact::int(24), Exact::int(4))];
    let plan = SamplerPlan::Free(SamplerFree { width: inches(60), height: inches(20), corners });
    let cuts = filler_cuts(&sampler(&recipes, plan));
    assert!(!cuts.is_empty(), "{cuts:?}");
}
