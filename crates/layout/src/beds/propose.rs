//! The search for proposals: every block size that is wished for, every number of rows and columns that comes near, and
//! the borders round them; the best of each, in order.

use std::collections::BTreeSet;

use geometry::{Exact, Size};

use super::centres::{Sized, sized};
use super::error::BedError;
use super::frames::{Frame, frames};
use super::proposal::{Change, Proposal};
use super::target::Target;
use super::wishes::{Wishes, present_size};
use crate::design::Design;
use crate::edit::{Edit, apply};
use crate::ids::BlockId;

/// Ways to make `design` as large as `target` wants it, the best first.
///
/// The order is fixed: by how many whole steps of [`Wishes::alike`] a proposal misses the wanted size, then by how much
/// it changes, then by how much it misses, then by how far blocks and borders are from what they are. Each is made once
/// to be sure that it can be.
///
/// # Errors
/// [`BedError`] for a target or wishes that make no sense, and for blocks that have no size.
pub fn propose(design: &Design, target: &Target, wishes: &Wishes) -> Result<Vec<Proposal>, BedError> {
    propose_while(design, target, wishes, || true)
}

/// The same, for as long as `go_on` says so.
///
/// # Errors
/// As [`propose`], and [`BedError::Stopped`].
pub fn propose_while(
    design: &Design,
    target: &Target,
    wishes: &Wishes,
    go_on: impl Fn() -> bool,
) -> Result<Vec<Proposal>, BedError> {
    let found = Search::new(design, target, wishes)?.found(&go_on)?;
    let mut made = Vec::new();
    for proposal in found {
        if made.len() >= wishes.count {
            break;
        }
        if !go_on() {
            return Err(BedError::Stopped);
        }
        if apply(design, &Edit::Resize(proposal.resize())).is_ok() {
            made.push(proposal);
        }
    }
    Ok(made)
}

/// A quilt that was made to fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fitted {
    /// The quilt.
    pub design: Design,
    /// By how much it is wider and higher than what is wanted, in inches; below 0 where it is narrower or shorter.
    pub over: (Exact, Exact),
}

/// `design` made to fit as the first proposal does it; as it is, where its block size is wished for and it comes as near
/// by whole steps of [`Wishes::alike`]. None where there is no proposal.
///
/// # Errors
/// As [`propose`].
pub fn fit(design: &Design, target: &Target, wishes: &Wishes) -> Result<Option<Fitted>, BedError> {
    let search = Search::new(design, target, wishes)?;
    let size = design.finished_size();
    let over = (&size.0 - &search.wanted.0, &size.1 - &search.wanted.1);
    let as_it_is = wishes.sizes.contains(&search.present.length).then(|| search.steps(&miss(&over)));
    let near_enough =
        |proposal: &Proposal| as_it_is.as_ref().is_some_and(|steps| *steps <= search.steps(&proposal.error()));
    let made = |proposal: &Proposal| apply(design, &Edit::Resize(proposal.resize())).ok();
    // What cannot be made after all is seldom met: only then are all proposals looked for.
    for some in [true, false] {
        for proposal in if some { search.leading()? } else { search.found(&|| true)? } {
            if near_enough(&proposal) {
                return Ok(Some(Fitted { design: design.clone(), over }));
            }
            if let Some((design, _)) = made(&proposal) {
                return Ok(Some(Fitted { design, over: proposal.over }));
            }
        }
    }
    Ok(as_it_is.map(|_| Fitted { design: design.clone(), over }))
}

/// Misses of width and height together.
fn miss(over: &(Exact, Exact)) -> Exact {
    &over.0.abs() + &over.1.abs()
}

/// The blocks that stand in the cells, in order.
pub(super) fn placed_blocks(design: &Design) -> BTreeSet<BlockId> {
    design.places().map(|(_, place)| place.block).collect()
}

/// What proposals are ordered by: misses in whole steps, changes, misses, changes of borders and of blocks, and what
/// leaves no two alike.
type Rank = (Exact, usize, Exact, Exact, Exact, usize, (u16, Exact));

struct Search<'a> {
    design: &'a Design,
    wanted: (Exact, Exact),
    wishes: &'a Wishes,
    present: Size,
}

impl<'a> Search<'a> {
    fn new(design: &'a Design, target: &Target, wishes: &'a Wishes) -> Result<Self, BedError> {
        target.check()?;
        wishes.check()?;
        Ok(Self { design, wanted: target.wanted(), wishes, present: present_size(design)? })
    }

    /// Proposals that were not made yet, the best first.
    fn found(&self, go_on: &impl Fn() -> bool) -> Result<Vec<Proposal>, BedError> {
        let mut found = Vec::new();
        for sized in sized(self.design, &self.wishes.sizes)? {
            for (rows, columns) in sized.near(self.design, &self.wanted, &self.widest()) {
                if !go_on() {
                    return Err(BedError::Stopped);
                }
                found.extend(self.best(&sized, rows, columns));
            }
        }
        found.sort_by(|a, b| a.0.cmp(&b.0));
        Ok(found.into_iter().map(|(_, proposal)| proposal).collect())
    }

    /// The best proposal and some others, the best first.
    ///
    /// Borders that are as wide all round leave what width and height of the centre miss apart from each other. So no
    /// proposal misses by less than that, and the centres that are least apart are tried first: once the next one must miss
    /// by more whole steps than one that is found, none of the rest can be better.
    fn leading(&self) -> Result<Vec<Proposal>, BedError> {
        let mut found: Vec<(Rank, Proposal)> = Vec::new();
        for sized in sized(self.design, &self.wishes.sizes)? {
            let apart = |(rows, columns)| Some((self.apart(&sized.extent(self.design, rows, columns)?), rows, columns));
            let counts = sized.near(self.design, &self.wanted, &self.widest());
            let mut counts: Vec<(Exact, u16, u16)> = counts.into_iter().filter_map(apart).collect();
            counts.sort();
            for (apart, rows, columns) in counts {
                let least = found.iter().map(|(rank, _)| &rank.0).min();
                if self.is_even() && least.is_some_and(|least| self.steps(&apart) > *least) {
                    break;
                }
                found.extend(self.best(&sized, rows, columns));
            }
        }
        found.sort_by(|a, b| a.0.cmp(&b.0));
        Ok(found.into_iter().map(|(_, proposal)| proposal).collect())
    }

    /// Whether borders are as wide all round, whatever their widths.
    fn is_even(&self) -> bool {
        self.design.borders().iter().all(|border| border.level_width.is_none() && border.pieced().is_none())
    }

    /// How far apart the misses of width and height of a centre are.
    fn apart(&self, centre: &(Exact, Exact)) -> Exact {
        (&(&self.wanted.0 - &centre.0) - &(&self.wanted.1 - &centre.1)).abs()
    }

    /// Whole steps of misses that count as alike.
    fn steps(&self, miss: &Exact) -> Exact {
        miss.floor_div(self.wishes.alike.inches()).map_or_else(|| miss.clone(), Exact::from)
    }

    /// The most that all borders together may measure at one side.
    fn widest(&self) -> Exact {
        let mut widest = Exact::ZERO;
        for border in self.design.borders() {
            widest = &widest + border.across(false).max(border.across(true)).max(self.wishes.most.inches());
        }
        &widest + &self.wishes.most.inches().scale_int(self.wishes.added.into())
    }

    /// The best proposal with these blocks; none where no borders go round them or nothing would change.
    fn best(&self, sized: &Sized, rows: u16, columns: u16) -> Option<(Rank, Proposal)> {
        let centre = sized.extent(self.design, rows, columns)?;
        // Borders are as wide all round: what width and height miss apart from each other stays. A sampler has no other centre.
        if self.apart(&centre) > sized.pitch() && self.design.sampler_plan().is_none() {
            return None;
        }
        let ranked = frames(self.design, sized, &centre, &self.wanted, self.wishes)
            .filter_map(|frame| self.ranked(sized, rows, columns, frame));
        ranked.min_by(|a, b| a.0.cmp(&b.0))
    }

    fn ranked(&self, sized: &Sized, rows: u16, columns: u16, frame: Frame) -> Option<(Rank, Proposal)> {
        let changes = self.changes(sized, rows, columns, &frame);
        if changes.is_empty() {
            return None;
        }
        let over = (&frame.size.0 - &self.wanted.0, &frame.size.1 - &self.wanted.1);
        let proposal = Proposal {
            size: frame.size,
            over,
            rows,
            columns,
            blocks: match self.design.sampler_plan() {
                Some(_) => self.design.places().count(),
                None => self.design.setting().with_size(rows, columns).cells().count(),
            },
            block_size: sized.size.clone(),
            borders: frame.borders,
            changes,
            recipes: sized.recipes.clone(),
        };
        Some((self.rank(&proposal), proposal))
    }

    fn changes(&self, sized: &Sized, rows: u16, columns: u16, frame: &Frame) -> Vec<Change> {
        let now = self.design.setting().size();
        let mut changes = Vec::new();
        let (from, to) = (&self.present.length, &sized.size.length);
        if from != to {
            changes.push(Change::BlockSize { from: from.clone(), to: to.clone() });
        }
        if now.0 != rows {
            changes.push(Change::Rows { from: now.0, to: rows });
        }
        if now.1 != columns {
            changes.push(Change::Columns { from: now.1, to: columns });
        }
        for (border, (own, was)) in frame.borders.iter().zip(&frame.was).enumerate() {
            match was.and_then(|was| self.design.borders().get(was)) {
                Some(was) if was.width == own.width => {}
                Some(was) => {
                    let (from, to) = (was.width.clone(), own.width.clone());
                    changes.push(Change::BorderWidth { border, from, to });
                }
                None => {
                    let (width, level) = (own.width.clone(), own.level_width.clone());
                    changes.push(Change::BorderAdded { border, width, level });
                }
            }
        }
        changes
    }

    fn rank(&self, proposal: &Proposal) -> Rank {
        let error = proposal.error();
        let steps = self.steps(&error);
        let weight = |change: &Change| match change {
            Change::Rows { .. } | Change::Columns { .. } | Change::BorderWidth { .. } => 1,
            Change::BlockSize { .. } | Change::BorderAdded { .. } => 2,
        };
        let changes = proposal.changes.iter().map(weight).sum();
        let around =
            |borders: &[crate::border::Border]| borders.iter().fold(Exact::ZERO, |sum, b| &sum + b.across(false));
        let borders = (&around(&proposal.borders) - &around(self.design.borders())).abs();
        let size = proposal.block_size.length.inches();
        let blocks = (size - self.present.length.inches()).abs();
        (steps, changes, error, borders, blocks, proposal.blocks, (proposal.rows, size.clone()))
    }
}
