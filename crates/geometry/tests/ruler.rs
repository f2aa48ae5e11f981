//! Exact figures beside ruler figures, against the additions that the trade prints.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geometry::ruler::{
    Figure, Rounding, half_square_addition, inch_text, quarter_square_addition, sixty_height_addition, strip_addition,
    tilted_star_from_strip,
};
use geometry::{Exact, Length, inches_to_mm};
use proptest::prelude::*;

fn eighth() -> Length {
    Length::inch_fraction(1, 8).unwrap()
}

#[test]
fn additions_in_inches() {
    let d = Length::inch_fraction(1, 4).unwrap();
    let rows = [
        // Classroom handout on seam allowances.
        ("square", strip_addition(&d), "0.5000", "½"),
        ("half-square triangle", half_square_addition(&d), "0.8536", "⅞"),
        // North Hampshire Quilters guild.
        ("quarter-square triangle", quarter_square_addition(&d), "1.2071", "1¼"),
        // Common practice, no source.
        ("60° triangle height", sixty_height_addition(&d), "0.7500", "¾"),
    ];
    for (what, exact, decimals, ruler) in rows {
        assert_eq!(exact.to_decimal(4), decimals, "{what}");
        assert_eq!(inch_text(&Figure::new(exact, &eighth(), Rounding::Up).ruler), ruler, "{what}");
    }
}

#[test]
fn additions_in_centimetres() {
    // Mathematics: s(2+√2) and s(2+2√2).
    for (tenths, half_square, quarter_square) in [(75, "25.607", "36.213"), (60, "20.485", "28.971")] {
        let d = Length::millimetre_fraction(tenths, 10).unwrap();
        assert_eq!(inches_to_mm(&half_square_addition(&d)).to_decimal(3), half_square);
        assert_eq!(inches_to_mm(&quarter_square_addition(&d)).to_decimal(3), quarter_square);
    }
}

#[test]
fn setting_triangles() {
    // Moonlight Quilters guild: side setting triangle ×1.414 + 1 1/4, corner setting triangle ÷1.414 + 7/8.
    let d = Length::inch_fraction(1, 4).unwrap();
    let side = |block: i64| Exact::sqrt2().scale_int(block) + quarter_square_addition(&d);
    let corner = |block: i64| Exact::sqrt2().scale_int(block).half() + half_square_addition(&d);
    let up = |exact: Exact| inch_text(&Figure::new(exact, &eighth(), Rounding::Up).ruler);
    assert_eq!((side(6).to_decimal(4), up(side(6))), ("9.6924".into(), "9¾".into()));
    assert_eq!((corner(6).to_decimal(4), up(corner(6))), ("5.0962".into(), "5⅛".into()));
    assert_eq!((corner(12).to_decimal(4), up(corner(12))), ("9.3388".into(), "9⅜".into()));
}

#[test]
fn strips_of_a_tilted_star() {
    // Mathematics: a 12 in star has diamonds of height 12/(2+2√2) = 2.4853 in.
    let d = Length::inch_fraction(1, 4).unwrap();
    let height = Exact::int(12).checked_div(&(Exact::int(2) + Exact::sqrt2().scale_int(2))).unwrap();
    let strip = Length::new(&height + &strip_addition(&d)).unwrap();
    assert_eq!(strip.inches().to_decimal(4), "2.9853");
    assert_eq!(tilted_star_from_strip(&strip, &d), Some(Exact::int(12)));
    let figure = Figure::new(strip.inches().clone(), &eighth(), Rounding::Nearest);
    assert_eq!((figure.ruler.clone(), figure.error().to_decimal(4)), (Exact::int(3), "0.0147".into()));
    let finished = tilted_star_from_strip(&inches(3), &d).unwrap();
    assert_eq!(finished.to_decimal(2), "12.07");
    let seam_allowance_only = Length::inch_fraction(1, 2).unwrap();
    assert_eq!(tilted_star_from_strip(&seam_allowance_only, &d), None);
}

#[test]
fn inches_as_text() {
    let rows = [
        (frac(3, 1), "3"),
        (frac(7, 2), "3½"),
        (frac(3, 16), "3/16"),
        (frac(51, 16), "3 3/16"),
        (frac(129, 64), "2 1/64"),
        (frac(1, 3), "0.3333"),
        (frac(-1, 2), "-0.5000"),
        (Exact::sqrt2(), "1.4142"),
        (Exact::ZERO, "0"),
    ];
    for (inches, text) in rows {
        assert_eq!(inch_text(&inches), text);
    }
}

proptest! {
    #[test]
    fn rounding_keeps_its_direction(a in -4000..4000_i64, b in -300..300_i64, den in 1..=64_i64, step in 1..=32_i64) {
        let exact = frac(a, 37) + Exact::sqrt2() * frac(b, 11);
        let step = Length::inch_fraction(step, den).unwrap();
        let whole = |figure: &Figure| {
            figure.ruler.checked_div(step.inches()).unwrap().as_rational().is_some_and(|(_, den)| den == 1.into())
        };
        let up = Figure::new(exact.clone(), &step, Rounding::Up);
        prop_assert!(whole(&up));
        prop_assert!(!up.error().is_negative() && up.error() < *step.inches());
        let nearest = Figure::new(exact.clone(), &step, Rounding::Nearest);
        prop_assert!(whole(&nearest));
        prop_assert!(nearest.error().scale_int(2).abs() <= *step.inches());
        prop_assert_eq!(Figure::new(up.ruler.clone(), &step, Rounding::Up).ruler, up.ruler.clone());
        prop_assert_eq!(&nearest.exact, &exact);
    }
}
