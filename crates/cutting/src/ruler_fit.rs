//! What the ruler makes of a block: strips set to its nearest step, and block sizes that fit it better.
//!
//! A patch that is cut exactly is set to the nearest step of the ruler, and then the block does not finish at its size.
//! Both are told: by how much, and which sizes nearby have strips that the ruler can set.

use geometry::ruler::{Figure, Rounding};
use geometry::{Block, Exact, Length, Role};
use layout::{BlockId, Design, Source};

use crate::class::ClassBook;

/// How many sizes are proposed on either side of the size as it is.
const PROPOSED: i64 = 4;

/// The most different strips of one block that are told; more would be no table to read.
const MAX_STRIPS: usize = 24;

/// A strip that patches of a block are cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripFit {
    /// Roles of the patches.
    pub roles: Vec<Role>,
    /// Cut width of the strip: exact, and at the nearest step of the ruler, in inches.
    pub strip: Figure,
    /// Width at which the block would finish with all strips to the scale of this one, in inches.
    pub finishes: Exact,
    /// Exact distance of the patch's edges when finished.
    finished: Exact,
    /// Allowances of both edges.
    allowances: Exact,
}

/// A size of the block at which one strip is set exactly on the ruler.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SizeFit {
    /// Cut width of the strip in inches.
    pub strip: Exact,
    /// Finished width of the block in inches.
    pub size: Exact,
    /// The farthest that any other strip of the block is from a step of the ruler, in inches.
    pub worst: Exact,
}

/// What the ruler makes of one block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlockFit {
    /// The block.
    pub block: BlockId,
    /// Its finished width in inches.
    pub size: Exact,
    /// Its strips, narrowest first.
    pub strips: Vec<StripFit>,
    /// Sizes nearby at which the narrowest strip that does not fit the ruler does.
    pub sizes: Vec<SizeFit>,
}

impl BlockFit {
    /// The fit of every block that stands in the design and has a strip.
    #[must_use]
    pub fn of_design(design: &Design, book: &ClassBook) -> Vec<Self> {
        let fit = |(id, def): (BlockId, &layout::BlockDef)| Self::new(id, def.block(), book, design.ruler_step());
        design.blocks().filter_map(fit).collect()
    }

    fn new(id: BlockId, block: &Block, book: &ClassBook, step: &Length) -> Option<Self> {
        let size = block.base().extent().0;
        let mut strips: Vec<StripFit> = Vec::new();
        for patch in block.patches() {
            if strips.len() == MAX_STRIPS {
                break;
            }
            let class = book.of_patch(Source::Block(id), patch.key, false, layout::Print::Tossed);
            let Some(shape) = class.and_then(|c| book.class(c)).map(|c| &c.shape) else { continue };
            let Some((finished, allowances)) = shape.strip_between_edges() else { continue };
            match strips.iter_mut().find(|s| s.finished == finished && s.allowances == allowances) {
                Some(strip) if !strip.roles.contains(&patch.role) => strip.roles.push(patch.role.clone()),
                Some(_) => {}
                None => strips.push(StripFit::new(&patch.role, finished, allowances, &size, step)),
            }
        }
        strips.sort_by(|a, b| a.strip.exact.cmp(&b.strip.exact));
        let sizes = strips.iter().find(|s| !s.strip.error().is_zero()).map(|s| sizes(s, &strips, &size, step));
        (!strips.is_empty()).then(|| Self { block: id, size, strips, sizes: sizes.unwrap_or_default() })
    }

    /// How far the block finishes from its size with the strip that the ruler changes most, in inches.
    #[must_use]
    pub fn worst(&self) -> Exact {
        let off = self.strips.iter().map(|s| &s.finishes - &self.size);
        off.max_by(|a, b| a.abs().cmp(&b.abs())).unwrap_or_default()
    }
}

impl StripFit {
    fn new(role: &Role, finished: Exact, allowances: Exact, size: &Exact, step: &Length) -> Self {
        let strip = Figure::new(&finished + &allowances, step, Rounding::Nearest);
        let scale = (&strip.ruler - &allowances).checked_div(&finished).unwrap_or(Exact::ONE);
        Self { roles: vec![role.clone()], strip, finishes: size * &scale, finished, allowances }
    }
}

/// Sizes at which `strip` lies on a step, from narrow to wide, with what the other strips then are.
fn sizes(strip: &StripFit, all: &[StripFit], size: &Exact, step: &Length) -> Vec<SizeFit> {
    let near = |steps: i64| &strip.strip.ruler + &step.inches().scale_int(steps);
    let fit = |width: Exact| {
        let scale = (&width - &strip.allowances).checked_div(&strip.finished).filter(Exact::is_positive)?;
        let error = |other: &StripFit| {
            Figure::new(&(&other.finished * &scale) + &other.allowances, step, Rounding::Nearest).error().abs()
        };
        let worst = all.iter().map(error).max().unwrap_or_default();
        Some(SizeFit { strip: width, size: size * &scale, worst })
    };
    (-PROPOSED..=PROPOSED).filter_map(|steps| fit(near(steps))).collect()
}
