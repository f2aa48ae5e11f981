//! What was worked out for earlier documents, kept for quilts that are cut and sewn alike.

use std::sync::Arc;

use cutting::{BestBook, Ledger, Planner, Watch};
use layout::file::Document;
use layout::{Design, Edit, Imprint, Tally, apply};
use piecing::QuiltPlan;
use publish::Offered;
use publish::fits::{FabricsFile, FitsError, fits};
use publish::sewing::ready_units;

use super::made::Found;
use super::unmade::Unmade;
use super::wishes::ChosenFile;

/// How many designs keep what was worked out for them.
const KEPT: usize = 16;

/// The counts and best plans of a design.
#[derive(Debug)]
pub(super) struct Cut {
    ledger: Ledger,
    book: BestBook,
}

/// A variant and what is worked out of it.
#[derive(Debug, Clone)]
pub(super) struct Planned {
    pub(super) label: String,
    pub(super) design: Design,
    pub(super) cut: Option<Arc<Cut>>,
    pub(super) sewing: Option<Arc<QuiltPlan>>,
}

impl Planned {
    /// The variant with its cutting plans.
    pub(super) fn offered(&self) -> Result<Offered<'_>, Unmade> {
        let Cut { ledger, book } = self.cut.as_deref().ok_or(Unmade::Stopped)?;
        let (label, design) = (self.label.as_str(), &self.design);
        Ok(Offered { label, design, ledger, plans: book.plans(), sewn: book.sewn(), planner: Planner::Best })
    }

    /// The order of sewing.
    pub(super) fn sewing(&self) -> Result<&QuiltPlan, Unmade> {
        self.sewing.as_deref().ok_or(Unmade::Stopped)
    }
}

/// How far a variant is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Depth {
    /// Not at all.
    AsItIs,
    /// Its cutting plans.
    Cut,
    /// Its cutting plans and the order of sewing.
    Sewn,
}

/// What was worked out, with the designs that it is of; the newest last.
#[derive(Debug, Clone, Default)]
pub(super) struct Worked {
    cut: Vec<(Design, Arc<Cut>)>,
    sewing: Vec<(Design, Arc<QuiltPlan>)>,
    earlier: Option<(ChosenFile, Arc<Document>)>,
    found: Option<(ChosenFile, Arc<Found>)>,
}

/// What is known of this design.
fn known<T>(kept: &[(Design, Arc<T>)], design: &Design) -> Option<Arc<T>> {
    kept.iter().find(|(of, _)| of == design).map(|(_, known)| Arc::clone(known))
}

/// Keeps what is known of a design, and lets the oldest go.
fn keep<T>(kept: &mut Vec<(Design, Arc<T>)>, design: &Design, known: &Arc<T>) {
    kept.retain(|(of, _)| of != design);
    kept.push((design.clone(), Arc::clone(known)));
    if kept.len() > KEPT {
        kept.remove(0);
    }
}

/// The design without its words, which nothing that is cut or sewn depends on.
fn wordless(design: &Design) -> Design {
    let words = [Edit::Rename("Quilt".to_owned()), Edit::SetImprint(Imprint::default())];
    words.iter().fold(design.clone(), |design, edit| apply(&design, edit).map_or(design, |(next, _)| next))
}

impl Worked {
    /// What holds for other quilts too.
    pub(super) fn for_another_quilt(&self) -> Self {
        Self { found: self.found.clone(), ..Self::default() }
    }

    /// Works a variant out, as far as it is not known.
    pub(super) fn variant(
        &mut self,
        label: &str,
        design: Design,
        depth: Depth,
        watch: &Watch,
    ) -> Result<Planned, Unmade> {
        let (mut cut, mut sewing) = (None, None);
        if depth >= Depth::Cut {
            let bare = wordless(&design);
            let plans = self.cut(&bare, watch)?;
            if depth >= Depth::Sewn {
                sewing = Some(self.sewing(&bare, &plans)?);
            }
            cut = Some(plans);
        }
        Ok(Planned { label: label.to_owned(), design, cut, sewing })
    }

    /// The plans of a design; those of a fabric whose pieces did not change are kept.
    fn cut(&mut self, design: &Design, watch: &Watch) -> Result<Arc<Cut>, Unmade> {
        if let Some(cut) = known(&self.cut, design) {
            return Ok(cut);
        }
        let none = BestBook::default();
        let near = self.cut.last().map_or(&none, |(_, cut)| &cut.book);
        let ledger = Ledger::new(design, &Tally::count(design)?)?;
        let book = BestBook::new(design, &ledger, near, watch)?;
        let cut = Arc::new(Cut { ledger, book });
        keep(&mut self.cut, design, &cut);
        Ok(cut)
    }

    /// The order of sewing of a design, with the units that its cutting plan sews before it cuts.
    fn sewing(&mut self, design: &Design, cut: &Cut) -> Result<Arc<QuiltPlan>, Unmade> {
        if let Some(sewing) = known(&self.sewing, design) {
            return Ok(sewing);
        }
        let sewing = Arc::new(QuiltPlan::new(design, &ready_units(design, cut.book.sewn()))?);
        keep(&mut self.sewing, design, &sewing);
        Ok(sewing)
    }

    /// The variants of an earlier edition, worked out, and its edition mark.
    pub(super) fn earlier(&mut self, chosen: &ChosenFile, watch: &Watch) -> Result<(Vec<Planned>, String), Unmade> {
        let document = match &self.earlier {
            Some((known, document)) if known == chosen => Arc::clone(document),
            _ => {
                let fault = |source| Unmade::NoEarlier { path: chosen.path.clone(), source: Box::new(source) };
                let document = Arc::new(Document::open(&chosen.path).map_err(fault)?);
                self.earlier = Some((chosen.clone(), Arc::clone(&document)));
                document
            }
        };
        let fault = |source: Unmade| match source {
            Unmade::Stopped => Unmade::Stopped,
            source => Unmade::Earlier { path: chosen.path.clone(), source: Box::new(source) },
        };
        let variants = document.variants().iter();
        let worked = variants
            .map(|variant| self.variant(&variant.label, variant.design.clone(), Depth::Sewn, watch).map_err(fault));
        let worked: Vec<Planned> = worked.collect::<Result<_, _>>()?;
        let edition = worked.first().map_or_else(String::new, |first| first.design.imprint().edition.clone());
        Ok((worked, edition))
    }

    /// What can be made of the fabrics in a file.
    pub(super) fn found(&mut self, chosen: &ChosenFile, watch: &Watch) -> Result<Arc<Found>, Unmade> {
        if let Some((_, found)) = self.found.as_ref().filter(|(known, _)| known == chosen) {
            return Ok(Arc::clone(found));
        }
        let path = || chosen.path.clone();
        let file = FabricsFile::open(&chosen.path)
            .map_err(|source| Unmade::NoFabrics { path: path(), source: Box::new(source) })?;
        let listing = fits(&file.hand, &file.wanted, watch).map_err(|source| match source {
            FitsError::Stopped => Unmade::Stopped,
            source => Unmade::Fabrics { path: path(), source: Box::new(source) },
        })?;
        let found = Arc::new(Found { hand: file.hand, listing });
        self.found = Some((chosen.clone(), Arc::clone(&found)));
        Ok(found)
    }
}
