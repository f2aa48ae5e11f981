//! A variant of a quilt worked out for documents: counts, cutting plans and the order of sewing.

use cutting::{BestBook, Ledger, Planner, Watch};
use layout::file::Variant;
use piecing::QuiltPlan;
use publish::Offered;
use publish::sewing::ready_units;

use super::cut::audited;
use super::planned;
use crate::error::CommandError;

/// A variant with its plans.
pub(super) struct Offer<'a> {
    variant: &'a Variant,
    ledger: Ledger,
    best: Option<BestBook>,
}

impl<'a> Offer<'a> {
    /// Plans a variant: with the quick plan, or the best one. Either has passed its audit.
    pub(super) fn new(variant: &'a Variant, quick: bool) -> Result<Self, CommandError> {
        let design = &variant.design;
        let (_, ledger) = planned(design)?;
        let best = if quick {
            audited(design, ledger.plans())?;
            None
        } else {
            Some(BestBook::new(design, &ledger, &BestBook::default(), &Watch::new())?)
        };
        Ok(Self { variant, ledger, best })
    }

    /// What documents are made from.
    pub(super) fn offered(&self) -> Offered<'_> {
        Offered {
            label: &self.variant.label,
            design: &self.variant.design,
            ledger: &self.ledger,
            plans: self.best.as_ref().map_or_else(|| self.ledger.plans(), BestBook::plans),
            sewn: self.best.as_ref().map_or(&[], BestBook::sewn),
            planner: if self.best.is_some() { Planner::Best } else { Planner::Quick },
        }
    }

    /// How it is sewn, with the units that the plan sews before it cuts.
    pub(super) fn sewing(&self) -> Result<QuiltPlan, CommandError> {
        let Offered { design, sewn, .. } = self.offered();
        Ok(QuiltPlan::new(design, &ready_units(design, sewn))?)
    }
}
