//! The work behind a table: what all rows share, then every quilt top on some thread, then its rows.

use std::collections::{BTreeMap, BTreeSet};

use cutting::{ClassBook, CutError, Ledger, Watch};
use geometry::Length;
use layout::{Design, Fabric, FabricId, Print, Source, Tally, Touched};
use rayon::ThreadPool;
use rayon::prelude::*;

use super::colours::Cast;
use super::quilt::{Made, Sized, Sizing};
use super::row::Quilt;
use super::{Colours, Extent, LeftOut, Table, TableError, TableRow, TableWishes, TableWork};

/// The most quilt tops that a thread takes at a time.
const MOST_AT_A_TIME: usize = 4;

/// What all rows share.
pub(super) struct Making<'a> {
    wishes: &'a TableWishes,
    sizing: Sizing<'a>,
    cast: Cast,
    /// Numbers of fabrics that make a difference.
    colours: Vec<Colours>,
    fabrics: BTreeMap<FabricId, Fabric>,
    left_out: Vec<LeftOut>,
    watch: &'a Watch,
}

/// The blocks in one size, with the classes of their pieces.
struct Known {
    sized: Sized,
    book: ClassBook,
}

/// The rows of one quilt top, in the order of the numbers of fabrics.
#[derive(Default)]
struct OfTop {
    rows: Vec<Result<TableRow, LeftOut>>,
    work: TableWork,
}

impl<'a> Making<'a> {
    pub(super) fn new(design: &'a Design, wishes: &'a TableWishes, watch: &'a Watch) -> Result<Self, TableError> {
        let ledger = Ledger::new(design, &Tally::count(design)?)?;
        let cast = Cast::of(design, &ledger);
        let mut making = Self {
            wishes,
            sizing: Sizing::new(design, wishes)?,
            cast,
            colours: Vec::new(),
            fabrics: BTreeMap::new(),
            left_out: Vec::new(),
            watch,
        };
        for colours in &wishes.colours {
            let dressed = making.cast.dress(design, *colours)?;
            let fabrics: BTreeSet<FabricId> = Tally::count(&dressed)?.counts().map(|count| count.fabric).collect();
            match colours.count() {
                Some(count) if fabrics.len() < count => making.left_out.push(LeftOut {
                    size: None,
                    colours: Some(*colours),
                    extent: None,
                    why: format!("its patches take no more than {} of them", fabrics.len()),
                }),
                _ => {
                    making.colours.push(*colours);
                    making.fabrics.extend(dressed.fabrics().map(|(id, fabric)| (id, fabric.clone())));
                }
            }
        }
        Ok(making)
    }

    /// All rows, worked out by the threads of `pool`.
    pub(super) fn table(&self, pool: &ThreadPool) -> Result<Table, TableError> {
        let (sizes, extents) = (&self.wishes.sizes, &self.wishes.extents);
        self.watch.expect((sizes.len() * extents.len()) as u64);
        let known: Vec<Result<Known, LeftOut>> =
            pool.install(|| sizes.par_iter().with_max_len(1).map(|size| self.known(size)).collect());
        let mut table = Table {
            rows: Vec::new(),
            left_out: self.left_out.clone(),
            fabrics: self.fabrics.clone(),
            work: TableWork::default(),
        };
        let mut sized = Vec::with_capacity(known.len());
        for known in known {
            match known {
                Ok(known) => sized.push(known),
                Err(left) => {
                    self.watch.advance(extents.len() as u64);
                    table.left_out.push(left);
                }
            }
        }
        table.work.blocks_drafted = sized.iter().map(|known| known.sized.drafted).sum();
        let tops: Vec<(&Known, Extent)> =
            sized.iter().flat_map(|known| extents.iter().map(move |extent| (known, *extent))).collect();
        // Tops differ much in work: shared out a few at a time, threads end together.
        let some = tops.par_iter().with_max_len(MOST_AT_A_TIME);
        let mut made: Vec<OfTop> = pool.install(|| some.map(|(known, extent)| self.of_top(known, *extent)).collect());
        if self.watch.is_stopped() {
            return Err(TableError::Stopped);
        }
        for of_size in made.chunks_mut(extents.len()) {
            table.take(of_size);
        }
        Ok(table)
    }

    /// The blocks in one size, and how their pieces are cut.
    fn known(&self, length: &Length) -> Result<Known, LeftOut> {
        let left = |why| LeftOut { size: Some(length.clone()), colours: None, extent: None, why };
        let sized = self.sizing.sized(length).map_err(&left)?;
        let book = prepared(&sized.design).map_err(|e| left(e.to_string()))?;
        Ok(Known { sized, book })
    }

    /// The rows of the quilt that is as large as `extent` says.
    fn of_top(&self, known: &Known, extent: Extent) -> OfTop {
        let mut found = OfTop::default();
        if self.watch.is_stopped() {
            return found;
        }
        let size = &known.sized.size;
        let left = |colours, why| LeftOut { size: Some(size.length.clone()), colours, extent: Some(extent), why };
        match self.sizing.quilt(&known.sized, extent) {
            Err(why) => found.rows.push(Err(left(None, why))),
            Ok(made) => {
                found.work.tops_made = 1;
                found.work.blocks_drafted = known.sized.recipes.len() as u64;
                let mut last: Option<Planned> = None;
                for colours in &self.colours {
                    let row = self.planned(&made, *colours, last.take(), &known.book, &mut found.work);
                    let row = row.map_err(|e| e.to_string()).and_then(|planned| {
                        let Planned { design, tally, ledger } = last.insert(planned);
                        let over = made.over.clone();
                        Quilt { size, extent, colours: *colours, over, design }.row(tally, ledger)
                    });
                    found.rows.push(row.map_err(|why| left(Some(*colours), why)));
                }
            }
        }
        self.watch.advance(1);
        found
    }

    /// The quilt in so many fabrics with its counts and plans; where it was planned in others, these go on.
    fn planned(
        &self,
        made: &Made,
        colours: Colours,
        last: Option<Planned>,
        known: &ClassBook,
        work: &mut TableWork,
    ) -> Result<Planned, CutError> {
        let design = self.cast.dress(&made.design, colours)?;
        if let Some(mut planned) = last {
            let (change, _) = planned.tally.follow(&planned.design, &design, &Touched::Paint)?;
            work.fabrics_planned += planned.ledger.follow(&design, &planned.tally, &change)?.fabrics_planned;
            planned.design = design;
            return Ok(planned);
        }
        let tally = Tally::count(&design)?;
        let ledger = Ledger::with_known(&design, &tally, known)?;
        work.fabrics_planned += ledger.plans().len() as u64;
        Ok(Planned { design, tally, ledger })
    }
}

/// A quilt with its counts and plans.
struct Planned {
    design: Design,
    tally: Tally,
    ledger: Ledger,
}

/// The classes of all blocks that stand in a quilt, with the rows they can be cut in on its fabrics.
fn prepared(design: &Design) -> Result<ClassBook, CutError> {
    let tally = Tally::count(design)?;
    let mut sources: Vec<(Source, bool)> = tally.usage().map(|(source, mirrored, _, _)| (source, mirrored)).collect();
    sources.dedup();
    sources.retain(|(source, _)| matches!(source, Source::Block(_)));
    let mut book = ClassBook::new(design, sources)?;
    let prints: BTreeSet<Print> = design.fabrics().map(|(_, fabric)| fabric.print).collect();
    for print in prints {
        book.prepare(print)?;
    }
    Ok(book)
}

impl Table {
    /// Takes the rows of all quilt tops of one size: number of fabrics by number of fabrics.
    fn take(&mut self, tops: &mut [OfTop]) {
        let most = tops.iter().map(|top| top.rows.len()).max().unwrap_or(0);
        let mut rows: Vec<_> = tops.iter_mut().map(|top| std::mem::take(&mut top.rows).into_iter()).collect();
        for row in (0..most).flat_map(|_| rows.iter_mut().filter_map(Iterator::next).collect::<Vec<_>>()) {
            match row {
                Ok(row) => self.rows.push(row),
                Err(left) => self.left_out.push(left),
            }
        }
        tops.iter().for_each(|top| self.work.add(top.work));
    }
}
