//! What a document is made from: the variants of the quilt that it needs, each as far worked out as it needs them.

use std::path::Path;
use std::sync::Arc;

use cutting::{CutError, FabricPlan, Watch};
use layout::file::Variant;
use layout::{Design, EditError, FabricId};
use piecing::QuiltPlan;
use publish::kit::{Share, without_what_is_at_hand};
use publish::{About, Offered, Photo, PublishError};

use super::made::Found;
use super::planned::{Depth, Planned, Worked};
use super::unmade::Unmade;
use super::wishes::{Beside, Options};

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
    /// Both, of the variants that are taken, as if no fabric were at hand: what is at hand serves one quilt, not a class.
    Class,
    /// Both, of all variants, and the same of those of an earlier edition.
    Editions,
    /// What can be made of fabrics in hand, whatever quilt is open.
    Fabrics,
}

impl Needs {
    /// How far the open variant is worked out.
    const fn depth(self) -> Depth {
        match self {
            Self::Quilt | Self::Class | Self::Fabrics => Depth::AsItIs,
            Self::Cutting => Depth::Cut,
            Self::Sewing | Self::Pattern | Self::Editions => Depth::Sewn,
        }
    }
}

/// The variants of a quilt as they are now.
#[derive(Debug, Clone)]
pub(crate) struct Variants {
    /// All of them, in the order of the file.
    pub(crate) all: Vec<Variant>,
    /// The one that is open.
    pub(crate) open: usize,
}

/// What a document is made from. What it does not need is missing.
pub(super) struct Ingredients {
    /// The variant that is open.
    open: Planned,
    /// All variants, for what offers or compares them.
    all: Vec<Planned>,
    /// The variants that a class takes.
    taken: Vec<(Planned, Share)>,
    /// The variants of an earlier edition, and its edition mark.
    earlier: (Vec<Planned>, String),
    found: Option<Arc<Found>>,
    /// What the user wishes of the document.
    pub(super) options: Options,
    /// Told when the user stops it.
    pub(super) watch: Arc<Watch>,
}

impl Worked {
    /// Works out what a document needs, as far as it is not known.
    pub(super) fn ingredients(
        &mut self,
        variants: &Variants,
        needs: Needs,
        options: &Options,
        watch: &Arc<Watch>,
    ) -> Result<Ingredients, Unmade> {
        let variant = variants.all.get(variants.open).ok_or(EditError::TooFew("variant"))?;
        let mut made = Ingredients {
            open: self.variant(&variant.label, variant.design.clone(), needs.depth(), watch)?,
            all: Vec::new(),
            taken: Vec::new(),
            earlier: (Vec::new(), String::new()),
            found: None,
            options: options.clone(),
            watch: Arc::clone(watch),
        };
        match needs {
            Needs::Quilt | Needs::Cutting | Needs::Sewing => {}
            Needs::Pattern => made.all = self.all(variants, Depth::Cut, watch)?,
            Needs::Class => made.taken = self.taken(variants, options, watch)?,
            Needs::Editions => {
                made.all = self.all(variants, Depth::Sewn, watch)?;
                let chosen = options.files.get(&Beside::Earlier).ok_or(Unmade::Stopped)?;
                made.earlier = self.earlier(chosen, watch)?;
            }
            Needs::Fabrics => {
                let chosen = options.files.get(&Beside::Fabrics).ok_or(Unmade::Stopped)?;
                made.found = Some(self.found(chosen, watch)?);
            }
        }
        if watch.is_stopped() { Err(Unmade::Stopped) } else { Ok(made) }
    }

    fn all(&mut self, variants: &Variants, depth: Depth, watch: &Watch) -> Result<Vec<Planned>, Unmade> {
        let all = variants.all.iter();
        all.map(|variant| self.variant(&variant.label, variant.design.clone(), depth, watch)).collect()
    }

    /// The variants that a class takes, cut from what is bought.
    fn taken(
        &mut self,
        variants: &Variants,
        options: &Options,
        watch: &Watch,
    ) -> Result<Vec<(Planned, Share)>, Unmade> {
        let labels: Vec<&str> = variants.all.iter().map(|variant| variant.label.as_str()).collect();
        let shares = options.class.shares(&labels, variants.open).map_err(PublishError::from)?;
        let mut taken = Vec::new();
        for share in shares {
            let Some(Variant { label, design }) = variants.all.get(share.variant) else { continue };
            let design = without_what_is_at_hand(design)?;
            taken.push((self.variant(label, design, Depth::Sewn, watch)?, share));
        }
        Ok(taken)
    }
}

/// Variants with their plans of cutting and of sewing.
type Sewn<'a> = Vec<(Offered<'a>, &'a QuiltPlan)>;

fn sewn(planned: &[Planned]) -> Result<Sewn<'_>, Unmade> {
    planned.iter().map(|one| Ok((one.offered()?, one.sewing()?))).collect()
}

impl Ingredients {
    /// The design of the open variant.
    pub(super) const fn design(&self) -> &Design {
        &self.open.design
    }

    /// Head and foot of pages.
    pub(super) fn about(&self) -> About {
        About::quilt(self.design(), self.options.paper)
    }

    /// The open variant with its cutting plans.
    pub(super) fn offered(&self) -> Result<Offered<'_>, Unmade> {
        self.open.offered()
    }

    /// The order of sewing of the open variant.
    pub(super) fn sewing(&self) -> Result<&QuiltPlan, Unmade> {
        self.open.sewing()
    }

    /// All variants that the pattern offers, with their cutting plans.
    pub(super) fn all_offered(&self) -> Result<Vec<Offered<'_>>, Unmade> {
        self.all.iter().map(Planned::offered).collect()
    }

    /// All variants of the quilt as it is now.
    pub(super) fn all_sewn(&self) -> Result<Sewn<'_>, Unmade> {
        sewn(&self.all)
    }

    /// All variants of an earlier edition, and its edition mark.
    pub(super) fn earlier(&self) -> Result<(Sewn<'_>, &str), Unmade> {
        Ok((sewn(&self.earlier.0)?, &self.earlier.1))
    }

    /// What a class takes.
    pub(super) fn taken(&self) -> Result<Vec<(Offered<'_>, &QuiltPlan, Share)>, Unmade> {
        self.taken.iter().map(|(one, share)| Ok((one.offered()?, one.sewing()?, *share))).collect()
    }

    /// What can be made of the fabrics in hand.
    pub(super) fn found(&self) -> Result<Arc<Found>, Unmade> {
        self.found.clone().ok_or(Unmade::Stopped)
    }

    /// The photo of the pattern, whose path begins at the folder of the quilt's file; none when none is named.
    pub(super) fn photo(&self) -> Result<Option<Photo>, Unmade> {
        let named = self.design().imprint().photo.as_str();
        if named.is_empty() {
            return Ok(None);
        }
        let folder = self.options.file.as_deref().and_then(Path::parent);
        let path = folder.unwrap_or(Path::new("")).join(named);
        Ok(Some(Photo::read(&path)?))
    }

    /// The plan of every fabric.
    pub(super) fn plans(&self) -> Result<Vec<&FabricPlan>, Unmade> {
        let design = self.design();
        let named =
            |id: FabricId| design.fabric(id).map_or_else(|_| "A fabric".to_owned(), |fabric| fabric.name.clone());
        let plans = self.offered()?.plans;
        let refused =
            |id: FabricId, source: &CutError| Unmade::Fabric { fabric: named(id), source: Box::new(source.clone()) };
        plans.iter().map(|(id, plan)| plan.as_ref().map_err(|error| refused(*id, error))).collect()
    }
}
