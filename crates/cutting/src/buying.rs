//! From the length a plan takes to the length that is bought.

use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::{Buying, BuyingStep};

/// What to buy, and how it comes about. All lengths in inches; the lines add up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// Length that the plan takes.
    pub required: Exact,
    /// What shrinks away.
    pub shrinkage: Exact,
    /// What is lost when the cut end is squared up.
    pub squaring_up: Exact,
    /// What rounding up to the step of sale adds.
    pub rounding: Exact,
    /// The sum: what to buy.
    pub buy: Exact,
    /// The sum as a person asks for it, such as `1⅜ yd` or `1.3 m`.
    pub label: String,
}

impl Purchase {
    /// What to buy so that `required` inches are left to cut.
    ///
    /// Fabric that shrinks by s leaves 1−s of its length, so required/(1−s) is bought; then the squared-up end,
    /// then the step of sale.
    #[must_use]
    pub fn new(required: Exact, buying: &Buying) -> Self {
        let left = Exact::ratio(1000 - i64::from(buying.shrinkage_permille()), 1000).unwrap_or(Exact::ONE);
        let before = required.checked_div(&left).unwrap_or_else(|| required.clone());
        let shrinkage = &before - &required;
        let nothing = required.is_zero();
        let end = |l: &geometry::Length| if nothing { Exact::ZERO } else { l.inches().clone() };
        let squaring_up = buying.squaring_up.as_ref().map_or(Exact::ZERO, end);
        let sum = &before + &squaring_up;
        let step = step_inches(buying.step);
        // −floor(−x) is the ceiling.
        let steps = -(-&sum).floor_div(&step).unwrap_or_default();
        let buy = &Exact::from(steps) * &step;
        let label = length_label(&buy, buying.step);
        Self { rounding: &buy - &sum, required, shrinkage, squaring_up, buy, label }
    }
}

/// The step of sale in inches: an eighth of a yard is 4½ in, 10 cm are 500/127 in.
fn step_inches(step: BuyingStep) -> Exact {
    match step {
        BuyingStep::EighthYard => Exact::ratio(9, 2),
        BuyingStep::TenCentimetres => Exact::ratio(500, 127),
    }
    .unwrap_or(Exact::ONE)
}

/// A length of fabric in the words of the shop: yards and eighths, or metres with one decimal.
#[must_use]
pub fn length_label(inches: &Exact, step: BuyingStep) -> String {
    match step {
        BuyingStep::EighthYard => {
            let yards = inches * &Exact::ratio(1, 36).unwrap_or_default();
            format!("{} yd", inch_text(&yards))
        }
        BuyingStep::TenCentimetres => {
            let metres = &inches_to_mm(inches) * &Exact::ratio(1, 1000).unwrap_or_default();
            format!("{} m", metres.to_decimal(1))
        }
    }
}

/// Lay units as inches.
#[must_use]
pub fn inches(units: i64) -> Exact {
    Exact::ratio(units, UNITS_PER_INCH).unwrap_or_default()
}
