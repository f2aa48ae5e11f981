//! Pieces shared out to sheets and rolls: what fits a precut, what is at hand is used first, and every plan can be cut.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod shapes;

use cutting::stock::bins::{least_bins, pack};
use cutting::verify::At;
use cutting::{
    Bought, CutError, CutPiece, Freedom, Lay, Least, PieceId, PreparedPiece, Problem, RulerStep, Segment, Stock,
    StockLay, StockPlan, StripPlan, StripRun, quick, share_out, verify_stock,
};
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Length, Value};
use layout::{Colour, Fabric, InHand, Precut, Sold};
use proptest::prelude::*;

const INCH: i64 = UNITS_PER_INCH;

/// A fat quarter, 22 in across the width and 18 in along the selvage: common practice, no source.
const fn fat_quarter(count: Option<u64>) -> Stock {
    Stock::Sheet { width: 22 * INCH, length: 18 * INCH, count }
}

fn rectangle(id: u32, width: i64, height: i64, freedom: Freedom) -> PreparedPiece {
    let polygon = LayPolygon::rectangle(width, height).unwrap();
    PreparedPiece::new(CutPiece { id: PieceId(id), polygon, freedom }, RulerStep::EIGHTH_INCH).unwrap()
}

fn shared(pieces: &[(&PreparedPiece, u64)], stock: &[Stock]) -> Result<StockPlan, CutError> {
    share_out(pieces, stock, &mut |width, listed| quick(width, listed))
}

/// The plan's lays, after the checker has passed them.
fn checked(plan: &StockPlan, pieces: &[(&PreparedPiece, u64)]) -> Vec<StockLay> {
    let lays = plan.lays(&pieces.iter().map(|p| p.0).collect::<Vec<_>>()).unwrap();
    let counted: Vec<(&CutPiece, u64)> = pieces.iter().map(|(p, n)| (p.piece(), *n)).collect();
    verify_stock(&plan.stock, &counted, &lays).unwrap();
    lays
}

fn bought(pieces: &[(&PreparedPiece, u64)], stock: &[Stock]) -> Bought {
    let plan = shared(pieces, stock).unwrap();
    checked(&plan, pieces);
    plan.bought
}

/// Source: classroom handout "Number of squares from a fat quarter" (18 × 22 in), sizes as cut.
#[test]
fn squares_from_bought_fat_quarters() {
    let rows = [(4, 99), (5, 56), (6, 42), (7, 30), (8, 20), (9, 16), (10, 12), (11, 12), (12, 9), (13, 6)];
    for (half_inches, wanted) in rows {
        let square = rectangle(1, half_inches * INCH / 2, half_inches * INCH / 2, Freedom::TURNS);
        for sheets in [1, 8] {
            let count = |more| match bought(&[(&square, sheets * wanted + more)], &[fat_quarter(None)]) {
                Bought::Sheets { count, .. } => count,
                other => panic!("{other:?}"),
            };
            assert_eq!((count(0), count(1)), (sheets, sheets + 1), "{half_inches}/2 in");
            let at_hand = [fat_quarter(Some(sheets)), Stock::Roll { width: 40 * INCH }];
            assert_eq!(bought(&[(&square, sheets * wanted)], &at_hand), Bought::Nothing, "{half_inches}/2 in");
            let more = bought(&[(&square, sheets * wanted + 1)], &at_hand);
            assert_eq!(more, Bought::Length(half_inches * INCH / 2), "one strip from the roll");
        }
    }
}

#[test]
fn a_fabric_says_what_it_can_be_cut_from() {
    let inches = |n| Length::whole_inches(n).unwrap();
    let piece = |width, length, count| InHand { width: inches(width), length: inches(length), count };
    let mut fabric = Fabric::plain("Sloe", Colour::rgb(40, 30, 60), Value::Dark, inches(40));
    assert_eq!(Stock::of_fabric(&fabric), Ok(vec![Stock::Roll { width: 40 * INCH }]));
    fabric.in_hand = vec![piece(22, 18, 3), piece(40, 9, 1)];
    fabric.sold = Sold::Precut(Precut::usual(&fabric.usable_width).unwrap().swap_remove(0).1);
    let quarter_yard = Stock::Sheet { width: 40 * INCH, length: 9 * INCH, count: Some(1) };
    assert_eq!(Stock::of_fabric(&fabric), Ok(vec![fat_quarter(Some(3)), quarter_yard, fat_quarter(None)]));
}

/// The larger sheet is filled first, in the direction that uses more of it, and only then is anything bought.
#[test]
fn larger_sheets_at_hand_go_first() {
    let piece = rectangle(1, 10 * INCH, 4 * INCH, Freedom::TURNS);
    let small = Stock::Sheet { width: 10 * INCH, length: 4 * INCH, count: Some(3) };
    let large = Stock::Sheet { width: 8 * INCH, length: 20 * INCH, count: Some(1) };
    let stock = [small, large, Stock::Roll { width: 40 * INCH }];
    let plan = shared(&[(&piece, 9)], &stock).unwrap();
    let used: Vec<_> = plan.sheets.iter().map(|run| (run.stock, run.repeat)).collect();
    assert_eq!(used, [(1, 1), (0, 3)]);
    assert_eq!((plan.bought, plan.strips_cut()), (Bought::Length(4 * INCH), 6));
    checked(&plan, &[(&piece, 9)]);
    assert_eq!(bought(&[(&piece, 7)], &stock), Bought::Nothing);
    assert_eq!(bought(&[(&piece, 0)], &[]), Bought::Nothing, "nothing to cut needs nothing");
    let short = shared(&[(&piece, 9)], &stock[..2]).unwrap_err();
    let told = "the fabric at hand is used up with 2 pieces left to cut; add more of it, or buy some";
    assert_eq!(short.to_string(), told);
}

/// Worked by hand; where strips have the length of all sheets but less than one, no packing does better.
#[test]
fn strips_are_packed_into_the_fewest_sheets() {
    /// Heights of strips, and how many of each.
    type Runs = &'static [(i64, u64)];
    let rows: [(Runs, i64, u64); 5] = [
        (&[(9, 2), (7, 1), (6, 1), (5, 1)], 18, 2),
        (&[(10, 3), (9, 1)], 18, 4),
        // First fit takes three: 4 + 4, 3 + 3 + 3, 3; the best is 4 + 3 + 3, twice.
        (&[(4, 2), (3, 4)], 10, 2),
        (&[(6, 100), (5, 100), (3, 100)], 18, 78),
        (&[], 18, 0),
    ];
    for (runs, length, wanted) in rows {
        let packing = pack(runs, length);
        assert_eq!((packing.sheets(), packing.is_least), (wanted, true), "{runs:?}");
    }
}

#[test]
fn what_is_known_about_the_number_of_sheets_is_said() {
    let square = |inches| rectangle(1, inches * INCH, inches * INCH, Freedom::TURNS);
    let least = |inches, count| bought(&[(&square(inches), count)], &[fat_quarter(None)]);
    assert_eq!(least(6, 9), Bought::Sheets { count: 1, least: Least::ByAnyMeans });
    assert_eq!(least(10, 2), Bought::Sheets { count: 1, least: Least::ByAnyMeans });
    // Four squares of 10 in have the area of little more than one fat quarter, and two strips of two need one each.
    assert_eq!(least(10, 4), Bought::Sheets { count: 2, least: Least::ByAnyMeans });
    assert_eq!(least(10, 7), Bought::Sheets { count: 4, least: Least::OfTheseStrips });
}

/// Ten pieces of 7 × 4 in on sheets 10 × 20 in: across, strips of 7 in hold two and a sheet four; along, they hold
/// five.
#[test]
fn bought_sheets_are_cut_in_the_better_direction() {
    let piece = rectangle(1, 7 * INCH, 4 * INCH, Freedom::TURNS);
    let plan = shared(&[(&piece, 10)], &[Stock::Sheet { width: 10 * INCH, length: 20 * INCH, count: None }]).unwrap();
    assert_eq!(plan.bought, Bought::Sheets { count: 2, least: Least::ByAnyMeans });
    assert!(plan.sheets.iter().all(|run| run.turned && (run.width, run.length) == (20 * INCH, 10 * INCH)));
    checked(&plan, &[(&piece, 10)]);
}

/// One lay unit, 2⁻¹⁶ in, too short for a third strip.
#[test]
fn nearly_is_not_enough() {
    let piece = rectangle(1, 8 * INCH, 4 * INCH, Freedom::NONE);
    for (short, wanted) in [(0, Bought::Nothing), (1, Bought::Length(4 * INCH))] {
        let sheet = Stock::Sheet { width: 9 * INCH, length: 12 * INCH - short, count: Some(1) };
        assert_eq!(bought(&[(&piece, 3)], &[sheet, Stock::Roll { width: 40 * INCH }]), wanted);
    }
}

/// Counts beyond any quilt are planned or refused, and not placed one by one.
#[test]
fn counts_without_end() {
    let square = rectangle(1, 2 * INCH, 2 * INCH, Freedom::TURNS);
    let plan = shared(&[(&square, u64::MAX)], &[fat_quarter(Some(u64::MAX)), fat_quarter(None)]).unwrap();
    assert_eq!((plan.bought, plan.sheets[0].repeat), (Bought::Nothing, u64::MAX / 99));
    assert!(matches!(plan.lays(&[&square]), Err(CutError::TooManyToPlace { .. })));
    assert_eq!(shared(&[(&square, u64::MAX)], &[fat_quarter(None)]), Err(CutError::TooLong));
    let plan = shared(&[(&square, 9_900_000)], &[fat_quarter(None)]).unwrap();
    assert_eq!(plan.bought, Bought::Sheets { count: 100_000, least: Least::ByAnyMeans });
}

#[test]
fn a_piece_larger_than_the_sheet_is_named() {
    let piece = rectangle(7, 23 * INCH, 3 * INCH, Freedom::TURNS);
    let error = shared(&[(&piece, 1)], &[fat_quarter(Some(5)), fat_quarter(None)]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "piece 7 is 23 × 3 in when cut and does not fit on a sheet of 22 × 18 in; buy this fabric by length or as \
         larger precuts, make the block smaller, or seam the piece from two"
    );
    let roll = [fat_quarter(Some(5)), Stock::Roll { width: 40 * INCH }];
    assert_eq!(bought(&[(&piece, 1)], &roll), Bought::Length(3 * INCH), "the roll has room for it");
    assert_eq!(
        shared(&[(&piece, 1), (&piece, 2)], &roll),
        Err(CutError::ListedTwice { piece: PieceId(7) }),
        "listed twice"
    );
    let second = rectangle(9, 40 * INCH, 3 * INCH, Freedom::TURNS);
    let refused =
        [[(&piece, 1), (&second, 1)], [(&second, 1), (&piece, 1)]].map(|both| shared(&both, &[fat_quarter(None)]));
    assert_eq!(refused[0], refused[1], "whichever is listed first");
    let nothing = Stock::Sheet { width: 0, length: 5, count: None };
    assert!(matches!(shared(&[(&piece, 1)], &[nothing]), Err(CutError::TooLargeForSheet { .. })));
}

/// A piece of a directional print keeps its way up on the sheet: 20 in across has no room on 18 in.
#[test]
fn directional_pieces_keep_their_way_up() {
    let stock = [Stock::Sheet { width: 18 * INCH, length: 22 * INCH, count: None }];
    let free = rectangle(1, 20 * INCH, 3 * INCH, Freedom::TURNS);
    assert_eq!(bought(&[(&free, 6)], &stock), Bought::Sheets { count: 1, least: Least::ByAnyMeans });
    let directional = rectangle(1, 20 * INCH, 3 * INCH, Freedom::NONE);
    assert!(matches!(shared(&[(&directional, 6)], &stock), Err(CutError::TooLargeForSheet { .. })));
    let upright = rectangle(1, 3 * INCH, 20 * INCH, Freedom::NONE);
    let plan = shared(&[(&upright, 6)], &stock).unwrap();
    assert!(plan.sheets.iter().all(|run| !run.turned));
    checked(&plan, &[(&upright, 6)]);
}

/// A planner that stacks rows higher than the sheet is long does no harm.
#[test]
fn strips_taller_than_the_sheet_are_planned_again() {
    let piece = rectangle(1, 5 * INCH, 5 * INCH, Freedom::TURNS);
    let mut stacking = |width: i64, listed: &[(&PreparedPiece, u64)]| {
        let row = |i| Segment { piece: PieceId(1), pattern: 0, start_x: 0, start_y: 5 * INCH * i, count: 1 };
        let height = 5 * INCH * i64::try_from(listed[0].1).unwrap();
        let segments = (0..height / (5 * INCH)).map(row).collect();
        Ok(StripPlan { width, length: height, strips: vec![StripRun { height, repeat: 1, segments }] })
    };
    for count in [3, 4, 30] {
        let plan = share_out(&[(&piece, count)], &[fat_quarter(None)], &mut stacking).unwrap();
        checked(&plan, &[(&piece, count)]);
    }
}

#[test]
fn each_fault_of_a_sheet_is_refused() {
    let piece = rectangle(1, 6 * INCH, 4 * INCH, Freedom::NONE);
    let stock = [fat_quarter(Some(2)), Stock::Roll { width: 40 * INCH }];
    let wanted = [(piece.piece(), 25)];
    let plan = shared(&[(&piece, 25)], &stock).unwrap();
    let good = checked(&plan, &[(&piece, 25)]);
    assert_eq!(good.len(), 3);
    let (width, length) = (22 * INCH, 18 * INCH);
    let wrong =
        |width, length| Problem::WrongSheet { lay: 0, width, length, sheet_width: 22 * INCH, sheet_length: 18 * INCH };
    let wide = |width| Problem::WrongFabric { lay: 2, width, length: good[2].lay.length, fabric: 40 * INCH };
    type Fault = fn(&mut Vec<StockLay>);
    let rows: [(Fault, Vec<Problem>); 6] = [
        (|l| l[0].lay.width += 1, vec![wrong(width + 1, length)]),
        (|l| l[0].lay.length += 1, vec![wrong(width, length + 1)]),
        (|l| l[0].stock = 2, vec![Problem::NoSuchStock { lay: 0, stock: 2 }]),
        (
            |l| l.push(StockLay { lay: Lay { placements: Vec::new(), ..l[0].lay.clone() }, ..l[0].clone() }),
            vec![Problem::TooManySheets { stock: 0, used: 3, count: 2 }],
        ),
        (
            |l| l[2].turned = true,
            vec![wide(40 * INCH), Problem::ForbiddenTurn(At { lay: 2, placement: 0, piece: PieceId(1) })],
        ),
        (|l| l[2].lay.width -= 1, vec![wide(40 * INCH - 1)]),
    ];
    for (fault, problems) in rows {
        let mut lays = good.clone();
        fault(&mut lays);
        assert_eq!(verify_stock(&stock, &wanted, &lays), Err(problems));
    }
    // On a turned sheet what lies as given lies across its fabric; turned with the sheet it lies right.
    let on_square = |quarters: u8| {
        let polygon = piece.piece().polygon.turned(quarters).at_origin();
        let placements = vec![cutting::Placement { piece: PieceId(1), polygon }];
        [StockLay { stock: 0, turned: true, lay: Lay { width: 9 * INCH, length: 9 * INCH, placements } }]
    };
    let square = [Stock::Sheet { width: 9 * INCH, length: 9 * INCH, count: None }];
    assert!(verify_stock(&square, &[(piece.piece(), 1)], &on_square(1)).is_ok());
    let refused = verify_stock(&square, &[(piece.piece(), 1)], &on_square(0)).unwrap_err();
    assert!(matches!(refused[..], [Problem::ForbiddenTurn(_)]), "{refused:?}");
}

/// Slow and independent: the fewest sheets for every set of strips, from the fewest for the sets within it.
fn fewest(heights: &[i64], length: i64) -> u64 {
    let total = |set: usize| -> i64 { (0..heights.len()).filter(|i| set >> i & 1 == 1).map(|i| heights[i]).sum() };
    let mut best = vec![0_u64; 1 << heights.len()];
    for set in 1..best.len() {
        let mut part = set;
        best[set] = u64::MAX;
        while part > 0 {
            if total(part) <= length {
                best[set] = best[set].min(best[set & !part] + 1);
            }
            part = (part - 1) & set;
        }
    }
    best[best.len() - 1]
}

/// Up to four sizes of sheet, at hand or to be bought, and a roll at times.
fn stock() -> impl Strategy<Value = Vec<Stock>> {
    let sheet = (2_i64..24, 2_i64..24, prop::option::of(0_u64..9)).prop_map(|(w, l, count)| Stock::Sheet {
        width: w * INCH,
        length: l * INCH,
        count,
    });
    let roll = (8_i64..44).prop_map(|w| Stock::Roll { width: w * INCH });
    prop::collection::vec(prop_oneof![4 => sheet, 1 => roll], 1..5)
}

fn double_area(stock: &Stock) -> i128 {
    match *stock {
        Stock::Roll { .. } => 0,
        Stock::Sheet { width, length, .. } => 2 * i128::from(width) * i128::from(length),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    /// Small packings are the best there is, and the bound is never above it.
    #[test]
    fn small_packings_are_least(mut heights in prop::collection::vec(1_i64..30, 1..9), length in 30_i64..50) {
        heights.sort_by_key(|h| -h);
        let mut runs: Vec<(i64, u64)> = Vec::new();
        for height in &heights {
            match runs.last_mut() {
                Some(last) if last.0 == *height => last.1 += 1,
                _ => runs.push((*height, 1)),
            }
        }
        let packing = pack(&runs, length);
        let wanted = fewest(&heights, length);
        prop_assert_eq!((packing.sheets(), packing.is_least), (wanted, true));
        prop_assert!(least_bins(&runs, length) <= wanted);
        let mut packed = vec![0; runs.len()];
        for bin in &packing.bins {
            prop_assert_eq!(bin.room, length - bin.strips.iter().map(|(r, n)| runs[*r].0 * i64::try_from(*n).unwrap()).sum::<i64>());
            prop_assert!(bin.room >= 0);
            bin.strips.iter().for_each(|(run, n)| packed[*run] += n * bin.repeat);
        }
        prop_assert_eq!(packed, runs.iter().map(|run| run.1).collect::<Vec<_>>());
    }

    /// No more sheets are bought than would be used if there were plenty of them at hand.
    #[test]
    fn buying_is_no_worse_than_having(wanted in shapes::wanted(), (width, length) in (5_i64..24, 5_i64..24)) {
        let ready: Vec<PreparedPiece> =
            wanted.iter().map(|(p, _)| PreparedPiece::new(p.clone(), RulerStep::EIGHTH_INCH).unwrap()).collect();
        let counted: Vec<(&PreparedPiece, u64)> = ready.iter().zip(wanted.iter().map(|w| w.1)).collect();
        let sheets = |count| shared(&counted, &[Stock::Sheet { width: width * INCH, length: length * INCH, count }]);
        if let (Ok(bought), Ok(had)) = (sheets(None), sheets(Some(10_000))) {
            let used = |plan: &StockPlan| plan.sheets.iter().map(|run| run.repeat).sum::<u64>();
            prop_assert!(used(&bought) <= used(&had));
        }
    }

    /// Whatever is shared out can be cut from what there is, does not depend on the order of the list, and is bought
    /// only when what is at hand is used as far as it goes.
    #[test]
    fn shares_pass_the_checker(wanted in shapes::wanted(), stock in stock()) {
        let ready: Vec<PreparedPiece> =
            wanted.iter().map(|(p, _)| PreparedPiece::new(p.clone(), RulerStep::EIGHTH_INCH).unwrap()).collect();
        let mut counted: Vec<(&PreparedPiece, u64)> = ready.iter().zip(wanted.iter().map(|w| w.1)).collect();
        let plan = match shared(&counted, &stock) {
            Ok(plan) => plan,
            Err(CutError::TooLargeForSheet { .. } | CutError::StockUsedUp { .. } | CutError::TooWide { .. }) => {
                return Ok(());
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        };
        let pieces: Vec<(&CutPiece, u64)> = wanted.iter().map(|(p, n)| (p, *n)).collect();
        let lays = plan.lays(&ready.iter().collect::<Vec<_>>()).unwrap();
        let verified = verify_stock(&stock, &pieces, &lays);
        prop_assert!(verified.is_ok(), "{:?}", verified);
        let on_sheets: u64 = plan.sheets.iter().map(|run| run.repeat).sum();
        prop_assert_eq!(u64::try_from(lays.len()).unwrap(), on_sheets + u64::from(plan.roll.is_some()));
        if let Bought::Sheets { count, least } = plan.bought {
            let index = plan.sheets.last().unwrap().stock;
            let is_bought = matches!(stock[index], Stock::Sheet { count: None, .. });
            prop_assert!(is_bought);
            let area = |s: &Stock| if let Stock::Sheet { count: Some(n), .. } = s { double_area(s) * i128::from(*n) } else { 0 };
            let at_hand: i128 = stock.iter().map(area).sum();
            let all: i128 = pieces.iter().map(|(p, n)| p.polygon.double_area() * i128::from(*n)).sum();
            let enough = |sheets: u64| double_area(&stock[index]) * i128::from(sheets) + at_hand >= all;
            prop_assert!(enough(count));
            prop_assert_eq!(least == Least::ByAnyMeans, !enough(count - 1), "{} sheets", count);
        }
        counted.reverse();
        prop_assert_eq!(shared(&counted, &stock).unwrap(), plan);
    }
}
