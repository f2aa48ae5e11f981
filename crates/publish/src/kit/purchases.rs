//! What to buy for a whole class: the strips of all kits of a fabric on one length.
//!
//! The lengths that the kits take are added first, and squaring up, shrinkage and rounding come on the sum, through the
//! same purchase as for one quilt. Rounding each kit by itself would buy more, and is told only for one who buys one kit.

use cutting::{AllParts, FabricPlan, PrecutPurchase, Purchase};
use layout::{Buying, Design, Fabric, FabricId, Units};

use crate::cut_words::{bought_words, buy_words, buying_lines};
use crate::lengths::counted;
use crate::{Offered, PublishError};

/// A fabric of the class.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassFabric {
    /// The fabric, without what is at hand.
    pub fabric: Fabric,
    /// In which units it is told.
    pub units: Units,
    /// Which variant it was first met in, and which fabric it is there.
    pub first: (usize, FabricId),
    /// The same for the other variants.
    pub others: Vec<(usize, FabricId)>,
    /// Who takes it.
    pub takers: Vec<Taker>,
    /// Strips of all kits, of each of its parts.
    pub strips: u64,
    /// So many different fabrics it stands for; lengths are those of one of them.
    pub parts: u16,
    /// Lengths of all kits on one another, and what is bought for them.
    pub purchase: Purchase,
    /// Precuts to buy, for a fabric that is sold like that; each kit has whole ones.
    pub precuts: Option<PrecutPurchase>,
    /// What to buy, as a person asks for it.
    pub buy: String,
    /// How the fabric is bought, and how often it is squared up.
    terms: (Buying, u16),
}

/// The kits of one variant that hold a fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taker {
    /// Label of the variant.
    pub label: String,
    /// How many kits.
    pub kits: u64,
    /// What one of these kits would be bought as by itself.
    pub one_kit: String,
}

/// Fabrics at hand are the teacher's own: kits are cut from what is bought.
///
/// # Errors
/// Not for a checked design.
pub fn without_what_is_at_hand(design: &Design) -> Result<Design, layout::EditError> {
    let at_hand = |(_, fabric): &(FabricId, &Fabric)| !fabric.in_hand.is_empty();
    let mut bought = design.clone();
    for (id, fabric) in design.fabrics().filter(at_hand) {
        let fabric = Fabric { in_hand: Vec::new(), ..fabric.clone() };
        bought = layout::apply(&bought, &layout::Edit::ChangeFabric { id, fabric })?.0;
    }
    Ok(bought)
}

/// What to buy for kits of these variants, so many of each; fabrics that are the same in several variants are bought
/// together.
///
/// # Errors
/// [`PublishError::Uncut`] for a fabric without a plan.
pub(super) fn purchases(kits: &[(Offered<'_>, u64)]) -> Result<Vec<ClassFabric>, PublishError> {
    let mut found: Vec<(ClassFabric, FabricPlan, u64)> = Vec::new();
    for (index, (offered, kits)) in kits.iter().enumerate() {
        let design = offered.design;
        let terms = (design.buying().clone(), design.cutting().squaring_every);
        for plan in offered.made()? {
            let fabric = design.fabric(plan.fabric)?.clone();
            let taker = Taker { label: offered.label.to_owned(), kits: *kits, one_kit: buy_words(plan) };
            let strips = plan.strips_cut().saturating_mul(*kits);
            let required = plan.purchase.required.scale_int(signed(*kits));
            let sheets = plan.precuts.as_ref().map_or(0, |precuts| precuts.buy).saturating_mul(*kits);
            let known = found.iter_mut().find(|(known, first, _)| {
                known.fabric == fabric
                    && known.terms == terms
                    && first.parts == plan.parts
                    && known.units == design.units()
            });
            if let Some((known, _, known_sheets)) = known {
                known.takers.push(taker);
                known.others.push((index, plan.fabric));
                known.strips += strips;
                known.purchase.required = &known.purchase.required + &required;
                *known_sheets += sheets;
            } else {
                let purchase = Purchase { required, ..plan.purchase.clone() };
                let fabric = ClassFabric {
                    fabric,
                    units: design.units(),
                    first: (index, plan.fabric),
                    others: Vec::new(),
                    takers: vec![taker],
                    strips,
                    parts: plan.parts,
                    purchase,
                    precuts: None,
                    buy: String::new(),
                    terms: terms.clone(),
                };
                found.push((fabric, plan.clone(), sheets));
            }
        }
    }
    Ok(found.into_iter().map(|(fabric, plan, sheets)| fabric.bought(&plan, sheets)).collect())
}

impl ClassFabric {
    /// Buys what the kits take together.
    fn bought(self, plan: &FabricPlan, sheets: u64) -> Self {
        let (buying, squaring_every) = &self.terms;
        let price = self.fabric.price;
        let purchase = Purchase::by_length(self.purchase.required.clone(), self.strips, buying, *squaring_every, price);
        let precuts = plan.precuts.as_ref().map(|_| PrecutPurchase::new(sheets, price));
        let buy = bought_words(plan, &purchase, precuts.as_ref());
        Self { purchase, precuts, buy, ..self }
    }

    /// Which fabric of which variants it is.
    pub fn members(&self) -> impl Iterator<Item = (usize, FabricId)> + '_ {
        std::iter::once(self.first).chain(self.others.iter().copied())
    }

    /// Kits that hold it.
    #[must_use]
    pub fn kits(&self) -> u64 {
        self.takers.iter().map(|taker| taker.kits).sum()
    }

    /// What is bought of all parts together, for all kits.
    #[must_use]
    pub const fn all_parts(&self) -> AllParts<'_> {
        AllParts { parts: self.parts, purchase: &self.purchase, precuts: self.precuts.as_ref() }
    }

    /// The lines that lead to what is bought, as they are shown; those of one part.
    #[must_use]
    pub fn lines(&self) -> Vec<(&'static str, String)> {
        if self.precuts.is_some() { Vec::new() } else { buying_lines(&self.purchase, self.units) }
    }

    /// What one kit by itself would be bought as; by variant where that differs.
    #[must_use]
    pub fn one_kit(&self) -> String {
        let first = self.takers.first().map_or("", |taker| &taker.one_kit);
        if self.takers.iter().all(|taker| taker.one_kit == first) {
            return first.to_owned();
        }
        self.takers.iter().map(|taker| format!("{}: {}", taker.label, taker.one_kit)).collect::<Vec<_>>().join("; ")
    }

    /// "10 kits", or "Dusk 6, Noon 4".
    #[must_use]
    pub fn kits_words(&self) -> String {
        match self.takers.as_slice() {
            [only] => counted(only.kits, "kit", "kits"),
            several => several.iter().map(|t| format!("{} {}", t.label, t.kits)).collect::<Vec<_>>().join(", "),
        }
    }
}

/// Numbers of kits are small.
fn signed(kits: u64) -> i64 {
    i64::try_from(kits).unwrap_or(i64::MAX)
}
