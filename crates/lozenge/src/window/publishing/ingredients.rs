//! What documents are made from: the variants of the quilt, their cutting plans and the order of sewing, worked out once
//! for quilts that are cut and sewn alike.

use std::path::Path;
use std::sync::Arc;

use cutting::{BestBook, CutError, FabricPlan, Ledger, Planner, Watch};
use layout::file::Variant;
use layout::{Design, Edit, EditError, FabricId, Imprint, Tally, apply};
use piecing::{PlanError, QuiltPlan};
use publish::kit::without_what_is_at_hand;
use publish::sewing::ready_units;
use publish::{About, Offered, Photo, PhotoError, PublishError};
use thiserror::Error;

use super::work::Options;

/// Why a document is not made.
#[derive(Debug, Error)]
pub(super) enum Unmade {
    /// It was stopped.
    #[error("stopped")]
    Stopped,
    /// The quilt cannot be counted.
    #[error(transparent)]
    Design(#[from] EditError),
    /// It cannot be cut.
    #[error("{fabric} cannot be cut: {source}")]
    Fabric {
        /// The fabric's name.
        fabric: String,
        /// Why.
        source: Box<CutError>,
    },
    /// The photo cannot be read or set.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// No piece of it can be cut.
    #[error(transparent)]
    Cut(CutError),
    /// It cannot be sewn.
    #[error(transparent)]
    Sewing(#[from] PlanError),
    /// It has no unit that is trimmed.
    #[error("nothing is trimmed in this quilt, as it is cut without an oversize margin; choose a margin under Cut")]
    NothingTrimmed,
    /// It cannot be drawn or set.
    #[error(transparent)]
    Publish(#[from] PublishError),
}

impl From<CutError> for Unmade {
    fn from(error: CutError) -> Self {
        if matches!(error, CutError::Stopped) { Self::Stopped } else { Self::Cut(error) }
    }
}

/// What is worked out before a document is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Needs {
    /// Nothing.
    Quilt,
    /// The cutting plans.
    Cutting,
    /// The cutting plans and the order of sewing.
    Sewing,
    /// Both, and the cutting plans of all variants.
    Pattern,
    /// Both, as if no fabric were at hand: what is at hand serves one quilt, not a class.
    Class,
}

/// The variants of a quilt as they are now.
#[derive(Debug, Clone)]
pub(crate) struct Variants {
    /// All of them, in the order of the file.
    pub(crate) all: Vec<Variant>,
    /// The one that is open.
    pub(crate) open: usize,
}

/// The counts and best plans of a design.
#[derive(Debug)]
struct Cut {
    ledger: Ledger,
    book: BestBook,
}

/// How many designs keep what was worked out for them.
const KEPT: usize = 4;

/// What was worked out for earlier documents, with the designs that it is of; the newest last.
#[derive(Debug, Clone, Default)]
pub(super) struct Worked {
    cut: Vec<(Design, Arc<Cut>)>,
    sewing: Vec<(Design, Arc<QuiltPlan>)>,
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
    /// Works out what a document of the open variant needs, as far as it is not known.
    pub(super) fn ingredients(
        &mut self,
        variants: &Variants,
        needs: Needs,
        options: &Options,
        watch: &Arc<Watch>,
    ) -> Result<Ingredients, Unmade> {
        let variant = variants.all.get(variants.open).ok_or(EditError::TooFew("variant"))?;
        let design = match needs {
            Needs::Class => without_what_is_at_hand(&variant.design)?,
            Needs::Quilt | Needs::Cutting | Needs::Sewing | Needs::Pattern => variant.design.clone(),
        };
        let bare = wordless(&design);
        let cut = if needs == Needs::Quilt { None } else { Some(self.cut(&bare, watch)?) };
        let sewing = match (&cut, needs) {
            (Some(cut), Needs::Sewing | Needs::Class | Needs::Pattern) => Some(self.sewing(&bare, cut)?),
            _ => None,
        };
        let mut all = Vec::new();
        for variant in variants.all.iter().filter(|_| needs == Needs::Pattern) {
            let cut = self.cut(&wordless(&variant.design), watch)?;
            all.push((variant.label.clone(), variant.design.clone(), cut));
        }
        if watch.is_stopped() {
            return Err(Unmade::Stopped);
        }
        let (label, options, watch) = (variant.label.clone(), options.clone(), Arc::clone(watch));
        Ok(Ingredients { label, design, cut, sewing, all, options, watch })
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
}

fn offer<'a>(label: &'a str, design: &'a Design, cut: &'a Cut) -> Offered<'a> {
    let Cut { ledger, book } = cut;
    Offered { label, design, ledger, plans: book.plans(), sewn: book.sewn(), planner: Planner::Best }
}

/// What a document is made from. What it does not need is missing.
pub(super) struct Ingredients {
    label: String,
    /// The design of the open variant.
    pub(super) design: Design,
    cut: Option<Arc<Cut>>,
    sewing: Option<Arc<QuiltPlan>>,
    /// All variants with their plans, for a pattern that offers them.
    all: Vec<(String, Design, Arc<Cut>)>,
    /// What the user wishes of the document.
    pub(super) options: Options,
    /// Told when the user stops it.
    pub(super) watch: Arc<Watch>,
}

impl Ingredients {
    /// Head and foot of pages.
    pub(super) fn about(&self) -> About {
        About::quilt(&self.design, self.options.paper)
    }

    /// The variant with its cutting plans.
    pub(super) fn offered(&self) -> Result<Offered<'_>, Unmade> {
        Ok(offer(&self.label, &self.design, self.cut.as_deref().ok_or(Unmade::Stopped)?))
    }

    /// All variants that the pattern offers, with their cutting plans.
    pub(super) fn all_offered(&self) -> Result<Vec<Offered<'_>>, Unmade> {
        Ok(self.all.iter().map(|(label, design, cut)| offer(label, design, cut)).collect())
    }

    /// The photo of the pattern, whose path begins at the folder of the quilt's file; none when none is named.
    pub(super) fn photo(&self) -> Result<Option<Photo>, Unmade> {
        let named = self.design.imprint().photo.as_str();
        if named.is_empty() {
            return Ok(None);
        }
        let folder = self.options.file.as_deref().and_then(Path::parent);
        let path = folder.unwrap_or(Path::new("")).join(named);
        Ok(Some(Photo::read(&path)?))
    }

    /// The plan of every fabric.
    pub(super) fn plans(&self) -> Result<Vec<&FabricPlan>, Unmade> {
        let named =
            |id: FabricId| self.design.fabric(id).map_or_else(|_| "A fabric".to_owned(), |fabric| fabric.name.clone());
        let plans = self.offered()?.plans;
        let refused =
            |id: FabricId, source: &CutError| Unmade::Fabric { fabric: named(id), source: Box::new(source.clone()) };
        plans.iter().map(|(id, plan)| plan.as_ref().map_err(|error| refused(*id, error))).collect()
    }

    /// The order of sewing.
    pub(super) fn sewing(&self) -> Result<&QuiltPlan, Unmade> {
        self.sewing.as_deref().ok_or(Unmade::Stopped)
    }
}
