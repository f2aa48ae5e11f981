//! From the length or the sheets a plan takes to what is bought, and its cost.

use std::fmt;

use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::{Buying, BuyingStep, Price};

/// What to buy, and how it comes about. All lengths in inches; the lines add up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// Length that the plan takes, spare pieces included.
    pub required: Exact,
    /// What is lost when the cut end is squared up, at the start and again after every so many strips.
    pub squaring_up: Exact,
    /// What shrinks away.
    pub shrinkage: Exact,
    /// What rounding up to the step of sale adds.
    pub rounding: Exact,
    /// The sum: what to buy.
    pub buy: Exact,
    /// What it costs, where the price is known.
    pub cost: Option<Cost>,
    /// The sum as a person asks for it, such as `1⅜ yd` or `1.3 m`.
    pub label: String,
}

impl Purchase {
    /// What to buy so that `required` inches are left to cut, the cut end squared up once.
    #[must_use]
    pub fn new(required: Exact, buying: &Buying) -> Self {
        Self::by_length(required, 0, buying, 0, None)
    }

    /// What to buy for `strips` strips that take `required` inches of a roll. The cut end is squared up at the start and again after every
    /// `squaring_every` strips; 0 for once.
    ///
    /// Fabric is washed before it is cut, and what shrinks by s leaves 1−s of its length: so the sum of what is cut
    /// and what is squared up is divided by 1−s, and then rounded up to the step of sale.
    #[must_use]
    pub fn by_length(required: Exact, strips: u64, buying: &Buying, squaring_every: u16, price: Option<Price>) -> Self {
        let times = if required.is_zero() { 0 } else { 1 + strips.checked_div(squaring_every.into()).unwrap_or(0) };
        let once = buying.squaring_up.as_ref().map_or(Exact::ZERO, |l| l.inches().clone());
        let squaring_up = once.scale_int(i64::try_from(times).unwrap_or(i64::MAX));
        let dry = &required + &squaring_up;
        let left = Exact::ratio(1000 - i64::from(buying.shrinkage_permille()), 1000).unwrap_or(Exact::ONE);
        let sum = dry.checked_div(&left).unwrap_or_else(|| dry.clone());
        let step = step_inches(buying.step);
        let steps = sum.ceil_div(&step).unwrap_or_default();
        let buy = &Exact::from(steps) * &step;
        Self {
            shrinkage: &sum - &dry,
            rounding: &buy - &sum,
            cost: price.and_then(|price| cost_of_length(&buy, price, buying.step)),
            label: length_label(&buy, buying.step),
            required,
            squaring_up,
            buy,
        }
    }
}

/// Precut pieces to buy. They are taken as they are sold: not washed, and squared up by no more than their edges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrecutPurchase {
    /// How many to buy.
    pub buy: u64,
    /// What they cost, where the price is known.
    pub cost: Option<Cost>,
}

impl PrecutPurchase {
    /// So many precuts.
    #[must_use]
    pub fn new(pieces: u64, price: Option<Price>) -> Self {
        let cost = price.and_then(|price| u64::from(price.hundredths()).checked_mul(pieces));
        Self { buy: pieces, cost: cost.map(|hundredths| Cost { hundredths }) }
    }
}

/// What is bought of a fabric that stands for several: all parts together, where a purchase is that of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AllParts<'a> {
    /// How many parts.
    pub parts: u16,
    /// The length of one part.
    pub purchase: &'a Purchase,
    /// The precuts of one part, for a fabric that is sold like that.
    pub precuts: Option<&'a PrecutPurchase>,
}

impl AllParts<'_> {
    /// Length that is taken, in inches.
    #[must_use]
    pub fn required(&self) -> Exact {
        self.purchase.required.scale_int(self.parts.into())
    }

    /// Length to buy, in inches.
    #[must_use]
    pub fn to_buy(&self) -> Exact {
        self.purchase.buy.scale_int(self.parts.into())
    }

    /// What it costs, where the price is known; none beyond 2⁶⁴.
    #[must_use]
    pub fn cost(&self) -> Option<Cost> {
        let one = self.precuts.map_or(self.purchase.cost, |precuts| precuts.cost)?;
        one.hundredths.checked_mul(self.parts.into()).map(|hundredths| Cost { hundredths })
    }
}

/// An amount in the user's own currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cost {
    /// Hundredths of the currency, rounded up.
    pub hundredths: u64,
}

/// Writes `12.50`.
impl fmt::Display for Cost {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{:02}", self.hundredths / 100, self.hundredths % 100)
    }
}

/// The cost of a length in inches at a price per yard or metre, rounded up to a hundredth; none beyond 2⁶⁴.
fn cost_of_length(inches: &Exact, price: Price, step: BuyingStep) -> Option<Cost> {
    let unit = match step {
        BuyingStep::EighthYard => Exact::int(36),
        BuyingStep::TenCentimetres => Exact::ratio(5000, 127)?,
    };
    let whole = inches.scale_int(price.hundredths().into()).ceil_div(&unit)?;
    Some(Cost { hundredths: u64::try_from(whole).ok()? })
}

/// `count` pieces and so many thousandths of them spare, rounded up to whole pieces.
#[must_use]
pub fn with_spares(count: u64, permille: u16) -> u64 {
    let spare = (u128::from(count) * u128::from(permille)).div_ceil(1000);
    count.saturating_add(u64::try_from(spare).unwrap_or(u64::MAX))
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
