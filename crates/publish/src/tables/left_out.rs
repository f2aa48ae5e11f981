//! What a table has no row for, and why.

use geometry::Length;
use layout::Units;

use super::wishes::{Colours, Extent};
use crate::lengths::finished;

/// What there is no row for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Which block size; none for all.
    pub size: Option<Length>,
    /// Which number of fabrics; none for all.
    pub colours: Option<Colours>,
    /// Which size of quilt; none for all.
    pub extent: Option<Extent>,
    /// Why.
    pub why: String,
}

impl LeftOut {
    /// "blocks of 9½″, 3 fabrics, Queen: why".
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let size = self.size.as_ref().map(|size| format!("blocks of {}", finished(size.inches(), units)));
        let colours = self.colours.map(|colours| colours.words().to_owned());
        let what = [size, colours, self.extent.map(Extent::words)].into_iter().flatten().collect::<Vec<_>>();
        format!("{}: {}", what.join(", "), self.why)
    }
}
