//! A variant of the quilt that the pattern offers, with its cutting plans.

use std::collections::BTreeMap;

use cutting::{CutError, FabricPlan, Ledger, Planner, SewnRun};
use layout::{Design, FabricId};

use crate::PublishError;

/// A variant of the quilt that the pattern offers, with its cutting plans.
#[derive(Debug, Clone, Copy)]
pub struct Offered<'a> {
    /// What it is called among the variants.
    pub label: &'a str,
    /// Its design.
    pub design: &'a Design,
    /// Its counts, binding and backing.
    pub ledger: &'a Ledger,
    /// The plan of each fabric.
    pub plans: &'a BTreeMap<FabricId, Result<FabricPlan, CutError>>,
    /// What is sewn before it is cut.
    pub sewn: &'a [SewnRun],
    /// Which planner made the plans.
    pub planner: Planner,
}

impl Offered<'_> {
    /// The plans, in the order of the fabrics.
    ///
    /// # Errors
    /// [`PublishError::Uncut`] for a fabric that has none.
    pub(crate) fn made(&self) -> Result<Vec<&FabricPlan>, PublishError> {
        let refused =
            |error: &CutError| PublishError::Uncut { variant: self.label.to_owned(), cause: error.to_string() };
        self.plans.values().map(|plan| plan.as_ref().map_err(refused)).collect()
    }
}
