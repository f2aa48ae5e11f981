//! Units of the quilt that are sewn before they are cut: which ones pay, and what each fabric then gives.
//!
//! A unit joins several fabrics, so it is chosen for all of them together: its blanks are entered in the lists of all
//! its fabrics, and it stays when the quick plans of these fabrics together become better.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::PatchKey;
use layout::{Design, FabricId, MethodKind, PlaceId, Source};

use crate::best_plan::add_blanks;
use crate::cut_list::PlannedPiece;
use crate::error::CutError;
use crate::fabric_plan::{FabricPlan, Terms, score, share};
use crate::ledger::Ledger;
use crate::methods::{Blank, SewnMethod, SewnUnit, SquareSize, sewn_units, unit_blanks};
use crate::piece::{CutPiece, PieceId};
use crate::quick::quick;
use crate::watch::Watch;

/// The most patches of a block in which units are looked for.
const MAX_PATCHES: usize = 400;

/// One kind of unit in the fabrics of some places, sewn before it is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SewnRun {
    /// The block.
    pub source: Source,
    /// How its patches are sewn.
    pub method: SewnMethod,
    /// Fabric, label of the patch and blank, for each patch of the unit that the method cuts.
    pub parts: Vec<SewnPart>,
    /// How many units.
    pub units: u64,
    /// Every place of the unit in its block, as [`SewnUnit::places`]. Only where it has these fabrics is it sewn first.
    pub places: Vec<Vec<PatchKey>>,
}

/// One patch of a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SewnPart {
    /// Its fabric.
    pub fabric: FabricId,
    /// What it is.
    pub label: String,
    /// What it is cut from.
    pub blank: Arc<Blank>,
    /// How many blanks.
    pub blanks: u64,
}

/// The units of a quilt that are sewn before they are cut, and the lists of the fabrics they are cut from.
#[derive(Debug, Clone, Default)]
pub(crate) struct SewnPlan {
    pub(crate) runs: Vec<SewnRun>,
    pub(crate) lists: BTreeMap<FabricId, Vec<PlannedPiece>>,
}

/// Which unit of a block, and the fabric of each of its patches that the method cuts.
type Group = (Source, usize, Vec<FabricId>);

impl SewnMethod {
    /// The kind by which a maker wants it or avoids it.
    #[must_use]
    pub const fn kind(self) -> MethodKind {
        match self {
            Self::PairedSquares | Self::QuarteredPairs => MethodKind::PairedSquares,
            Self::StripSet => MethodKind::StripSets,
            Self::OntoStrip => MethodKind::OntoStrips,
        }
    }
}

impl SewnPlan {
    /// Chooses units for a design with this ledger.
    ///
    /// # Errors
    /// [`CutError::Stopped`]; what keeps a quick plan from being made.
    pub(crate) fn new(design: &Design, ledger: &Ledger, watch: &Watch) -> Result<Self, CutError> {
        let mut chosen = Self::default();
        let units = units_of_blocks(design)?;
        if units.is_empty() {
            return Ok(chosen);
        }
        let groups = groups(design, &units, watch)?;
        let mut order: Vec<(&Group, u64)> = groups.iter().map(|(group, n)| (group, *n)).collect();
        order.sort_by_key(|(group, n)| (std::cmp::Reverse(*n), *group));
        let mut taken: BTreeSet<(Source, usize)> = BTreeSet::new();
        for ((source, index, fabrics), count) in order {
            let unit = &units[source][*index];
            if watch.is_stopped() {
                return Err(CutError::Stopped);
            }
            if unit.alternatives.iter().any(|other| taken.contains(&(*source, *other))) {
                continue;
            }
            if chosen.try_unit(design, ledger, (*source, unit), fabrics, count)? {
                taken.insert((*source, *index));
            }
        }
        Ok(chosen)
    }

    /// Enters a unit if that pays.
    fn try_unit(
        &mut self,
        design: &Design,
        ledger: &Ledger,
        (source, unit): (Source, &SewnUnit),
        fabrics: &[FabricId],
        units: u64,
    ) -> Result<bool, CutError> {
        let Some(parts) = parts(ledger, source, unit, fabrics, units) else { return Ok(false) };
        let terms = Terms::of(design);
        let different: BTreeSet<FabricId> = fabrics.iter().copied().collect();
        let mut lists = BTreeMap::new();
        let (mut before, mut after) = ((0, 0, 0), (0, 0, 0));
        for &id in &different {
            let Some(Ok(plan)) = ledger.plans().get(&id) else { return Ok(false) };
            let old = self.lists.get(&id).unwrap_or(&plan.pieces);
            let mut new = old.clone();
            for (number, part) in parts.iter().enumerate().filter(|(_, part)| part.fabric == id) {
                add_blanks(&mut new, &part.blank, part.blanks, units, ledger.book().step())?;
                if let Some(last) = new.last_mut() {
                    last.cut_with_another = number > 0;
                }
            }
            let Ok(rated) = rate(&new, plan, terms) else { return Ok(false) };
            before = sum(before, rate(old, plan, terms)?);
            after = sum(after, rated);
            lists.insert(id, new);
        }
        if after >= before {
            return Ok(false);
        }
        self.lists.extend(lists);
        self.runs.push(SewnRun { source, method: unit.method, parts, units, places: unit.places.clone() });
        Ok(true)
    }
}

fn rate(pieces: &[PlannedPiece], plan: &FabricPlan, terms: Terms<'_>) -> Result<(i128, u64, u64), CutError> {
    let cut = share(pieces, &plan.stock, &mut |width, pieces| quick(width, pieces))?;
    Ok(score(&cut, pieces, terms.wishes))
}

fn sum(a: (i128, u64, u64), b: (i128, u64, u64)) -> (i128, u64, u64) {
    (a.0 + b.0, a.1.saturating_add(b.1), a.2.saturating_add(b.2))
}

/// The units of every block in which the maker allows their method.
fn units_of_blocks(design: &Design) -> Result<BTreeMap<Source, Vec<SewnUnit>>, CutError> {
    let mut found = BTreeMap::new();
    let sewn = [SewnMethod::PairedSquares, SewnMethod::StripSet, SewnMethod::OntoStrip];
    let avoid = &design.cutting().avoid;
    if sewn.iter().all(|method| avoid.contains(&method.kind())) {
        return Ok(found);
    }
    for (id, def) in design.blocks() {
        if def.block().patches().len() <= MAX_PATCHES {
            found.insert(Source::Block(id), sewn_units(def.block(), design.seam()));
        }
    }
    Ok(found)
}

/// How often each unit stands in which fabrics.
fn groups(
    design: &Design,
    units: &BTreeMap<Source, Vec<SewnUnit>>,
    watch: &Watch,
) -> Result<BTreeMap<Group, u64>, CutError> {
    let mut groups = BTreeMap::new();
    for (place, standing) in design.places() {
        if watch.is_stopped() {
            return Err(CutError::Stopped);
        }
        let source = Source::Block(standing.block);
        // Mirrored blocks are cut as their mirror images, which are units of their own hand; they are cut patch by patch.
        let Some(listed) = units.get(&source).filter(|_| !standing.mirrored) else { continue };
        let wanted = |unit: &SewnUnit| !design.cutting().avoid.contains(&unit.method.kind());
        for (index, unit) in listed.iter().enumerate().filter(|(_, unit)| wanted(unit)) {
            for group in fabrics_in(design, place, source, unit)? {
                *groups.entry((source, index, group)).or_insert(0) += 1;
            }
        }
    }
    Ok(groups)
}

/// Fabrics of the patches of a unit in each of its places in one block.
fn fabrics_in(
    design: &Design,
    place: PlaceId,
    source: Source,
    unit: &SewnUnit,
) -> Result<Vec<Vec<FabricId>>, CutError> {
    let block = design.source_block(source)?;
    let of_patch = |key: &geometry::PatchKey| {
        let index = block.index_of(*key).unwrap_or(usize::MAX);
        Ok(design.paint(place, source, &block, index)?)
    };
    let cut = unit.positions.len();
    unit.places.iter().map(|patches| patches.iter().take(cut).map(of_patch).collect()).collect()
}

/// The blanks of a unit in these fabrics; none if one of its patches cannot be cut like this.
fn parts(ledger: &Ledger, source: Source, unit: &SewnUnit, fabrics: &[FabricId], units: u64) -> Option<Vec<SewnPart>> {
    let plans: Vec<&FabricPlan> =
        fabrics.iter().map(|id| ledger.plans().get(id)?.as_ref().ok()).collect::<Option<_>>()?;
    // A fabric that stands for several is planned for one of them; how units mix them is not told.
    if plans.iter().any(|plan| plan.parts > 1) {
        return None;
    }
    let width = plans.iter().map(|plan| plan.width).min()?;
    let pieces: Vec<&PlannedPiece> = plans
        .iter()
        .zip(&unit.positions)
        .map(|(plan, position)| {
            let class = ledger.book().of_patch(source, position.patch, false, plan.print)?;
            plan.pieces.iter().find(|p| p.prepared.id() == PieceId(class.0))
        })
        .collect::<Option<_>>()?;
    let cut: Vec<&CutPiece> = pieces.iter().map(|p| p.prepared.piece()).collect();
    let blanks = unit_blanks(unit, &cut, width, ledger.book().step(), SquareSize::Exact).ok()?;
    let part = |(blank, (fabric, piece)): (Blank, (&FabricId, &&PlannedPiece))| SewnPart {
        fabric: *fabric,
        label: piece.label.clone(),
        blanks: units.div_ceil((blank.inner.len() as u64).max(1)),
        blank: Arc::new(blank),
    };
    Some(blanks.into_iter().zip(fabrics.iter().zip(&pieces)).map(part).collect())
}
