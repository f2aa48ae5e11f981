//! From what a plan takes to what is bought and paid: the lines add up exactly, and enough is left to cut.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use cutting::{Cost, PrecutPurchase, Purchase, with_spares};
use geometry::{Exact, Length};
use layout::{Buying, BuyingStep, Price};
use proptest::prelude::*;

fn ratio(num: i64, den: i64) -> Exact {
    Exact::ratio(num, den).unwrap()
}

fn inch() -> Option<Length> {
    Some(Length::whole_inches(1).unwrap())
}

/// The figures are worked by hand.
#[test]
fn lines_and_costs() {
    use BuyingStep::{EighthYard, TenCentimetres};
    let buying = |permille, step| Buying::new(permille, inch(), step).unwrap();
    // 33 in; 13 strips squared every 6: 3 in; 36/0.9 = 40 in, over 1 yd: 1⅛ yd = 40½ in at 12.99 a yard is 14.61375.
    let bought = Purchase::by_length(Exact::int(33), 13, &buying(100, EighthYard), 6, Price::new(1299).ok());
    let lines = [&bought.required, &bought.squaring_up, &bought.shrinkage, &bought.rounding, &bought.buy];
    assert_eq!(lines.map(|l| l.to_decimal(2)), ["33.00", "3.00", "4.00", "0.50", "40.50"]);
    assert_eq!((bought.label.as_str(), bought.cost.unwrap().to_string().as_str()), ("1⅛ yd", "14.62"));
    // Squared up once, 11 strips or not: 34 in are under 1 yd = 36 in; at 10 a yard, 10.00 and no more.
    let once = Purchase::by_length(Exact::int(33), 11, &buying(0, EighthYard), 0, Price::new(1000).ok());
    assert_eq!(once.squaring_up, Exact::ONE);
    assert_eq!((once.label.as_str(), once.cost), ("1 yd", Some(Cost { hundredths: 1000 })));
    // 33 in and 1 in = 86.36 cm: 0.9 m at 19.99 a metre is 17.991.
    let metric = Purchase::by_length(Exact::int(33), 11, &buying(0, TenCentimetres), 0, Price::new(1999).ok());
    assert_eq!((metric.label.as_str(), metric.cost.unwrap().to_string().as_str()), ("0.9 m", "18.00"));
    let nothing = Purchase::by_length(Exact::ZERO, 0, &buying(30, EighthYard), 6, Price::new(5).ok());
    assert_eq!((nothing.label.as_str(), nothing.cost), ("0 yd", Some(Cost { hundredths: 0 })), "nothing costs nothing");
}

#[test]
fn precuts_are_counted() {
    let price = Price::new(325).unwrap();
    let eight = PrecutPurchase::new(8, Some(price));
    assert_eq!((eight.buy, eight.cost.unwrap().to_string()), (8, "26.00".to_owned()));
    assert_eq!(PrecutPurchase::new(8, None).cost, None);
    assert_eq!(PrecutPurchase::new(u64::MAX, Some(price)).cost, None, "beyond any purse");
}

#[test]
fn spares_are_whole_pieces() {
    for (count, permille, wanted) in
        [(100, 50, 105), (1, 1, 2), (0, 500, 0), (7, 0, 7), (20, 51, 22), (3, 500, 5), (u64::MAX, 500, u64::MAX)]
    {
        assert_eq!(with_spares(count, permille), wanted, "{count} and {permille}/1000");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn enough_is_left_after_washing(
        length in 1_i64..3_000_000,
        (permille, every, strips) in (0_u16..=250, 0_u16..9, 0_u64..90),
        hundredths in 0_u32..1_000_000,
        yards: bool,
    ) {
        let step = if yards { BuyingStep::EighthYard } else { BuyingStep::TenCentimetres };
        let buying = Buying::new(permille, inch(), step).unwrap();
        let length = ratio(length, 1000);
        let bought = Purchase::by_length(length.clone(), strips, &buying, every, Price::new(hundredths).ok());
        let lines = [&bought.required, &bought.squaring_up, &bought.shrinkage, &bought.rounding];
        prop_assert!(lines.iter().all(|line| !line.is_negative()));
        prop_assert_eq!(lines.into_iter().fold(Exact::ZERO, |sum, line| &sum + line), bought.buy.clone());
        prop_assert_eq!(bought.required.clone(), length.clone());
        let times = (1..=strips).filter(|n| every > 0 && n.is_multiple_of(u64::from(every))).count() + 1;
        prop_assert_eq!(bought.squaring_up.clone(), Exact::int(i64::try_from(times).unwrap()));
        let washed = &bought.buy * &ratio(1000 - i64::from(permille), 1000);
        prop_assert!(washed >= &length + &bought.squaring_up);
        let unit = if yards { Exact::int(36) } else { ratio(5000, 127) };
        prop_assert!(bought.rounding < &unit * &ratio(1, if yards { 8 } else { 10 }), "never a step too many");
        // hundredths × length/unit ≤ cost < that and one more.
        let exact = bought.buy.scale_int(i64::from(hundredths));
        let cost = i64::try_from(bought.cost.unwrap().hundredths).unwrap();
        prop_assert!(exact <= unit.scale_int(cost) && unit.scale_int(cost - 1) < exact);
    }
}
