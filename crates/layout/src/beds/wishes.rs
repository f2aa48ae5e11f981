//! What the maker wishes of proposals.

use geometry::{Exact, Length, Size};

use super::error::BedError;
use crate::design::Design;
use crate::finishing::Units;

/// The most block sizes that are tried.
pub const MAX_SIZES: usize = 100;

/// The most borders that are added.
pub const MAX_ADDED: u8 = 2;

/// The most proposals that are listed.
pub const MAX_PROPOSALS: usize = 50;

/// What the maker wishes of proposals.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Wishes {
    /// Block sizes to try, told as the blocks of the quilt are.
    pub sizes: Vec<Length>,
    /// Border widths are whole steps of this.
    pub step: Length,
    /// The narrowest plain border.
    pub least: Length,
    /// The widest plain border.
    pub most: Length,
    /// How many plain borders may be added.
    pub added: u8,
    /// Whether a plain border may be put inside a pieced one that would not fit otherwise.
    pub spacers: bool,
    /// Quilts that miss the wanted size by less than a step of this, width and height together, are near alike; of
    /// those the one with the fewest changes is best.
    pub alike: Length,
    /// How many proposals are listed.
    pub count: usize,
}

impl Wishes {
    /// The usual ones (common practice, no source): the present block size and, up to a third larger or smaller, sizes
    /// in half inches or whole centimetres, below 5 in (12 cm) in quarters or half centimetres; borders of 1 to 8 in in
    /// quarter inches, or of 2 to 20 cm in half centimetres.
    ///
    /// # Errors
    /// [`BedError::Size`].
    pub fn usual(design: &Design) -> Result<Self, BedError> {
        let present = present_size(design)?.length;
        let inches = |num, den| Length::inch_fraction(num, den);
        let mm = Length::millimetres;
        let small = *present.inches() < Exact::int(5);
        let lengths = match design.units() {
            Units::Inches => {
                [inches(1, if small { 4 } else { 2 }), inches(1, 4), inches(1, 1), inches(8, 1), inches(1, 1)]
            }
            Units::Centimetres => [mm(if small { 5 } else { 10 }), mm(5), mm(20), mm(200), mm(20)],
        };
        let [by, step, least, most, alike] = lengths.map(|length| length.map_err(|e| BedError::Size(e.to_string())));
        let sizes = sizes_about(&present, &by?);
        Ok(Self { sizes, step: step?, least: least?, most: most?, added: 2, spacers: true, alike: alike?, count: 12 })
    }

    /// Refuses what has no end or no sense.
    ///
    /// # Errors
    /// [`BedError::Wish`].
    pub fn check(&self) -> Result<(), BedError> {
        let fine = Exact::ratio(1, 64).unwrap_or_default();
        let wrong = [
            (self.sizes.is_empty(), "give at least one block size"),
            (self.sizes.len() > MAX_SIZES, "give at most 100 block sizes"),
            (self.least > self.most, "the narrowest border is wider than the widest"),
            (*self.step.inches() < fine, "the step of border widths is at least 1/64 in"),
            (*self.alike.inches() < fine, "sizes that count as alike differ by at least 1/64 in"),
            (self.added > MAX_ADDED, "at most two borders are added"),
            (self.count == 0 || self.count > MAX_PROPOSALS, "list 1 to 50 proposals"),
        ];
        wrong.into_iter().find(|(is, _)| *is).map_or(Ok(()), |(_, why)| Err(BedError::Wish(why)))
    }
}

/// The size by which the blocks of the setting are told: of the first whose size is a plain number, else of the first.
///
/// # Errors
/// [`BedError::Size`] for blocks that have none.
pub fn present_size(design: &Design) -> Result<Size, BedError> {
    let placed = super::propose::placed_blocks(design);
    let mut sizes = Vec::new();
    for id in placed {
        let def = design.block(id).map_err(|e| BedError::Size(e.to_string()))?;
        sizes.push(def.recipe().size().map_err(|e| BedError::Size(e.to_string()))?);
    }
    let plain = sizes.iter().position(|size| size.length.inches().as_rational().is_some());
    sizes.into_iter().nth(plain.unwrap_or(0)).ok_or_else(|| BedError::Size("there is no block".to_owned()))
}

/// The present size, and whole steps of `by` from two thirds of it to four thirds.
fn sizes_about(present: &Length, by: &Length) -> Vec<Length> {
    let third = Exact::ratio(1, 3).unwrap_or_default();
    let [low, high] = [2, 4].map(|n| &present.inches().scale_int(n) * &third);
    let steps = |to: &Exact| to.floor_div(by.inches()).and_then(|n| i64::try_from(n).ok()).unwrap_or(0);
    // −floor(−x) is the ceiling.
    let (first, last) = (-steps(&-&low), steps(&high).min(-steps(&-&low) + 98));
    let mut sizes: Vec<Length> = (first..=last).filter_map(|n| Length::new(by.inches().scale_int(n)).ok()).collect();
    sizes.push(present.clone());
    sizes.sort();
    sizes.dedup();
    sizes
}
