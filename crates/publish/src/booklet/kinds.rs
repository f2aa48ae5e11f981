//! Kinds of block as they are laid out: blocks of one draft, one hand and the same fabrics, each with a letter.

use std::collections::BTreeSet;
use std::sync::Arc;

use layout::{BlockId, Design, FabricId, PlaceId};
use piecing::QuiltPlan;

use crate::cut_words::strip_letter;
use crate::names::listed_names;
use crate::quilt_picture::block_picture;
use crate::{Drawing, PublishError};

/// A kind of block and where it stands.
pub(super) struct Standing {
    /// Its letter, A for the first kind.
    pub(super) letter: String,
    /// Which block.
    pub(super) block: BlockId,
    /// Its name, and whether it is mirrored.
    pub(super) name: String,
    /// Whether it is the mirror image of its draft.
    pub(super) mirrored: bool,
    /// The fabric of each patch.
    pub(super) fabrics: Arc<Vec<FabricId>>,
    /// Where it stands.
    pub(super) places: Vec<PlaceId>,
}

impl Standing {
    /// The names of its fabrics, each once, in the order of the fabrics.
    pub(super) fn fabric_names(&self, design: &Design) -> Result<String, PublishError> {
        let used: BTreeSet<FabricId> = self.fabrics.iter().copied().collect();
        let names = used.into_iter().map(|id| Ok(design.fabric(id)?.name.as_str()));
        Ok(listed_names(names.collect::<Result<Vec<_>, PublishError>>()?))
    }
}

/// The kinds of block of a quilt, in the order of its blocks, of each in the order of their first places.
pub(super) fn kinds_of(design: &Design, sewing: &QuiltPlan) -> Result<Vec<Standing>, PublishError> {
    let mut found = Vec::new();
    for plan in &sewing.blocks {
        let name = design.block(plan.block)?.name();
        for colouring in &plan.colourings {
            found.push(Standing {
                letter: strip_letter(found.len()),
                block: plan.block,
                name: if colouring.mirrored { format!("{name}, mirrored") } else { name.to_owned() },
                mirrored: colouring.mirrored,
                fabrics: Arc::clone(&colouring.fabrics),
                places: colouring.places.clone(),
            });
        }
    }
    Ok(found)
}

/// The picture of a kind, its own top upward.
pub(super) fn kind_picture(design: &Design, kind: &Standing) -> Result<Drawing, PublishError> {
    block_picture(design, kind.block, kind.mirrored, &kind.fabrics)
}
