//! The list of what can be made, largest first.

use std::collections::BTreeMap;

use cutting::{CutError, FabricPlan, Verified, Watch};
use geometry::{Exact, Length, Value};
use layout::{BlockId, Design, EditError, FabricId};

use super::capacity::{Bench, Halt, Steps};
use super::choice::{Colours, Family, Pairing};
use super::error::FitsError;
use super::hand::Hand;
use super::made::{Turning, arranged};
use super::more::Next;
use super::probe::{Drawn, Probe};
use super::shape::{Shape, Shapes};

/// The most entries of a list.
pub const MAX_FITS: usize = 100;

/// The most sizes that are tried of each block.
pub const MAX_SIZES: usize = 24;

/// The most blocks of a quilt that are tried.
const MAX_QUILT_BLOCKS: usize = 24;

/// Plans of one fabric in a search, unless it is wished otherwise.
const USUAL_STEPS: u64 = 200_000;

/// What is to be tried.
#[derive(Debug, Clone)]
pub struct Wanted {
    /// Block families.
    pub families: Vec<Family>,
    /// Finished sides of the blocks.
    pub sizes: Vec<Length>,
    /// A quilt whose blocks are tried too, at their own size and at those of `sizes`.
    pub quilt: Option<Design>,
    /// How many entries to list.
    pub count: usize,
    /// How many plans of one fabric may be made.
    pub steps: u64,
}

impl Wanted {
    /// Stars and diagonal half blocks in usual sizes: 6, 8, 10 and 12 in, or 15, 20, 25 and 30 cm.
    ///
    /// # Errors
    /// None for these sizes.
    pub fn usual(units: layout::Units) -> Result<Self, FitsError> {
        let sizes = match units {
            layout::Units::Inches => [6, 8, 10, 12].map(Length::whole_inches),
            layout::Units::Centimetres => [150, 200, 250, 300].map(Length::millimetres),
        };
        let sizes = sizes.into_iter().collect::<Result<_, _>>()?;
        Ok(Self { families: Family::USUAL.to_vec(), sizes, quilt: None, count: 12, steps: USUAL_STEPS })
    }

    fn check(&self) -> Result<(), FitsError> {
        let bounded = |what, most, given| match given {
            1.. if given <= most => Ok(()),
            _ => Err(FitsError::Bounds { what, most, given }),
        };
        bounded("the number of entries", MAX_FITS, self.count)?;
        if self.quilt.is_none() {
            bounded("the number of blocks", Family::ALL.len(), self.families.len())?;
        }
        bounded("the number of sizes", MAX_SIZES, self.sizes.len())
    }
}

/// A quilt top that can be made of the fabrics in hand.
#[derive(Debug, Clone)]
pub struct Entry {
    /// What the block is called.
    pub block: String,
    /// Finished width and height of the block in inches.
    pub block_size: (Exact, Exact),
    /// Which values its patches take.
    pub colours: Colours,
    /// Which halves it shows, if it has any.
    pub pairing: Option<Pairing>,
    /// Rows and columns.
    pub shape: Shape,
    /// How many blocks each fabric has a share in, by its number in the hand.
    pub gives: BTreeMap<usize, u64>,
    /// The quilt, its blocks turned in the first of the arrangements.
    pub design: Design,
    /// The plan of each fabric; only the binding's has anything to buy.
    pub plans: BTreeMap<FabricId, Result<FabricPlan, CutError>>,
    /// What was laid again, piece by piece.
    pub verified: BTreeMap<FabricId, Verified>,
    /// The next size, and what more it needs; none where that was not found.
    pub next: Option<Next>,
    probe: Probe,
    turnings: Vec<Turning>,
}

impl Entry {
    /// Finished width and height in inches.
    #[must_use]
    pub fn finished_size(&self) -> (Exact, Exact) {
        self.design.finished_size()
    }

    /// The names of the ways to turn its blocks. The pieces are the same in all of them.
    #[must_use]
    pub fn arrangements(&self) -> Vec<&'static str> {
        self.turnings.iter().map(|turning| turning.name()).collect()
    }

    /// The quilt with its blocks turned in the arrangement of this name.
    ///
    /// # Errors
    /// [`FitsError::NoArrangement`].
    pub fn arranged(&self, name: &str) -> Result<Design, FitsError> {
        let found = self.turnings.iter().find(|turning| turning.name() == name);
        let turning =
            found.ok_or_else(|| FitsError::NoArrangement { asked: name.to_owned(), has: self.arrangements() })?;
        arranged(&self.probe, &self.design, self.shape, *turning)
    }
}

/// A block of which not one can be cut, and what more that needs.
#[derive(Debug, Clone)]
pub struct Short {
    /// What the block is called.
    pub block: String,
    /// Finished width and height of the block in inches.
    pub block_size: (Exact, Exact),
    /// Which values its patches take.
    pub colours: Colours,
    /// Which halves it shows, if it has any.
    pub pairing: Option<Pairing>,
    /// What more is needed for the least of it.
    pub next: Next,
}

/// What can be made.
#[derive(Debug, Clone)]
pub struct Listing {
    /// Tops, largest first; of equal ones those whose block was named first.
    pub entries: Vec<Entry>,
    /// When nothing can be made: what more the smallest tops would need, least first.
    pub short: Vec<Short>,
    /// How many ways were tried: block × size × colours × pairing.
    pub tried: usize,
    /// Plans of one fabric that were made.
    pub steps: u64,
    /// Whether everything was tried that was wanted; otherwise the steps were used up.
    pub complete: bool,
}

/// One way to make a top, with what it can become.
struct Candidate<'a> {
    bench: Bench<'a>,
    shapes: Shapes,
    block_size: (Exact, Exact),
    shape: Option<Shape>,
    made: Option<super::made::Made>,
}

/// Lists the tops that the fabrics in hand give.
///
/// # Errors
/// [`FitsError::NoFabrics`], [`FitsError::TooManyFabrics`] and [`FitsError::Bounds`] for what cannot be searched;
/// [`FitsError::Stopped`] when it was stopped; a size at which a block cannot be drafted.
pub fn fits(hand: &Hand, wanted: &Wanted, watch: &Watch) -> Result<Listing, FitsError> {
    hand.check()?;
    wanted.check()?;
    let mut steps = Steps::new(wanted.steps, watch);
    let mut candidates = Vec::new();
    let mut complete = true;
    for drawn in drawings(hand, wanted)? {
        for pairing in drawn.pairings()? {
            match Candidate::new(drawn.clone(), pairing, hand, &mut steps) {
                Ok(candidate) => candidates.push(candidate),
                Err(Halt::NoSteps) => complete = false,
                Err(Halt::Error(error)) => return Err(error),
            }
        }
    }
    let tried = candidates.len();
    let mut listing = Listing { entries: Vec::new(), short: Vec::new(), tried, steps: 0, complete };
    match listing.fill(candidates, wanted.count, &mut steps) {
        Ok(()) => {}
        Err(Halt::NoSteps) => listing.complete = false,
        Err(Halt::Error(error)) => return Err(error),
    }
    listing.steps = steps.finish();
    Ok(listing)
}

impl Listing {
    /// Makes the largest ones. What was promised is made before it is listed, and may turn out smaller.
    fn fill(&mut self, mut open: Vec<Candidate<'_>>, count: usize, steps: &mut Steps<'_>) -> Result<(), Halt> {
        while self.entries.len() < count {
            let places = 0..open.len();
            // Of equal ones the first: later ones win only by being larger.
            let best = places
                .filter(|i| open[*i].shape.is_some())
                .reduce(|a, b| if open[b].area() > open[a].area() { b } else { a });
            let Some(best) = best else { break };
            if open[best].made.is_some() {
                let entry = open.remove(best).entry(steps)?;
                self.entries.extend(entry);
            } else {
                open[best].make(steps)?;
            }
        }
        if self.entries.is_empty() {
            for candidate in &mut open {
                self.short.extend(candidate.short(steps)?);
            }
            self.short.sort_by_cached_key(|short| short.next.area());
            self.short.truncate(count);
        }
        Ok(())
    }
}

impl<'a> Candidate<'a> {
    fn new(drawn: Drawn, pairing: Option<Pairing>, hand: &'a Hand, steps: &mut Steps<'_>) -> Result<Self, Halt> {
        let block_size = drawn.block()?.base().extent();
        let shapes = Shapes::of_blocks(&block_size.0, &block_size.1);
        let mut bench = Bench::new(Probe::new(drawn, pairing)?, hand);
        let mut shares: Option<u64> = None;
        for value in bench.probe.values().collect::<Vec<_>>() {
            let given = bench.capacities(value, steps)?.iter().map(|(_, capacity)| capacity.shares).sum();
            shares = Some(shares.map_or(given, |fewest| fewest.min(given)));
        }
        let blocks = shares.unwrap_or(0).saturating_mul(bench.probe.blocks_in_share());
        Ok(Self { shape: shapes.largest(blocks), bench, shapes, block_size, made: None })
    }

    /// Finished area of the top that is promised or made.
    fn area(&self) -> Exact {
        let blocks = i64::try_from(self.shape.map_or(0, Shape::blocks)).unwrap_or(0);
        (&self.block_size.0 * &self.block_size.1).scale_int(blocks)
    }

    /// Makes what is promised, or promises less.
    fn make(&mut self, steps: &mut Steps<'_>) -> Result<(), Halt> {
        let Some(shape) = self.shape else { return Ok(()) };
        self.made = self.bench.make(shape, steps)?;
        if self.made.is_none() {
            self.shape = self.shapes.largest(shape.blocks() - 1);
        }
        Ok(())
    }

    /// What is more than this, and what it needs.
    fn next(&mut self, steps: &mut Steps<'_>) -> Result<Option<Next>, Halt> {
        let Some(shape) = self.shapes.next(self.shape.map_or(0, Shape::blocks)) else { return Ok(None) };
        let more = self.bench.more_for(shape, steps)?;
        Ok(more.map(|more| Next {
            shape,
            width: self.block_size.0.scale_int(shape.columns.into()),
            height: self.block_size.1.scale_int(shape.rows.into()),
            more,
        }))
    }

    fn entry(mut self, steps: &mut Steps<'_>) -> Result<Option<Entry>, Halt> {
        // An entry stands without its next size where the steps do not reach for that.
        let next = match self.next(steps) {
            Err(Halt::NoSteps) => None,
            next => next?,
        };
        let (Some(made), Some(shape)) = (self.made, self.shape) else { return Ok(None) };
        let probe = self.bench.probe;
        Ok(Some(Entry {
            block: probe.drawn.name.clone(),
            block_size: self.block_size,
            colours: probe.drawn.colours,
            pairing: probe.pairing,
            shape,
            gives: made.gives,
            design: made.design,
            plans: made.plans,
            verified: made.verified,
            next,
            turnings: Turning::of(&probe)?,
            probe,
        }))
    }

    fn short(&mut self, steps: &mut Steps<'_>) -> Result<Option<Short>, Halt> {
        let Some(next) = self.next(steps)? else { return Ok(None) };
        let drawn = &self.bench.probe.drawn;
        Ok(Some(Short {
            block: drawn.name.clone(),
            block_size: self.block_size.clone(),
            colours: drawn.colours,
            pairing: self.bench.probe.pairing,
            next,
        }))
    }
}

/// Every block at every size in every choice of colours, those of the quilt first.
fn drawings(hand: &Hand, wanted: &Wanted) -> Result<Vec<Drawn>, FitsError> {
    let mut drawn = Vec::new();
    if let Some(quilt) = &wanted.quilt {
        drawn.extend(of_quilt(quilt, hand, wanted)?);
    }
    let has_medium = hand.of_value(Value::Medium).next().is_some();
    for family in &wanted.families {
        for side in &wanted.sizes {
            drawn.push(Drawn::of_family(*family, side, Colours::Two, hand.units)?);
            if has_medium {
                let three = Drawn::of_family(*family, side, Colours::Three, hand.units)?;
                drawn.extend(three.shows(Value::Medium)?.then_some(three));
            }
        }
    }
    Ok(drawn)
}

/// The blocks of a quilt that stand in straight rows, at their own size and at those that are wanted.
fn of_quilt(quilt: &Design, hand: &Hand, wanted: &Wanted) -> Result<Vec<Drawn>, FitsError> {
    let mut drawn = Vec::new();
    let mut refused = None;
    for (id, def) in quilt.blocks().take(MAX_QUILT_BLOCKS) {
        let (width, height) = def.block().base().extent();
        if def.block().base().area() != &width * &height {
            refused = Some(FitsError::NotARectangle { block: def.name().to_owned() });
            continue;
        }
        let mut factors = vec![Exact::ONE];
        let scales = wanted.sizes.iter().filter_map(|side| side.inches().checked_div(&width));
        factors.extend(scales.filter(|factor| *factor != Exact::ONE));
        for factor in factors {
            drawn.push(sized(quilt, id, &factor, hand)?);
        }
    }
    match (drawn.is_empty(), refused) {
        (true, Some(error)) => Err(error),
        _ => Ok(drawn),
    }
}

fn sized(quilt: &Design, id: BlockId, factor: &Exact, hand: &Hand) -> Result<Drawn, FitsError> {
    let def = quilt.block(id)?;
    let recipe = def
        .recipe()
        .scaled(factor)
        .map_err(|source| EditError::Recipe { name: def.name().to_owned(), source: Box::new(source) })?;
    Drawn::of_quilt(quilt, id, recipe, hand.units)
}
