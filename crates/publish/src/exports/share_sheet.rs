//! The share sheet: the quilt on one page, to hang up in a shop or to send round.

use std::collections::BTreeMap;

use layout::{BlockId, Design};
use serde::Serialize;

use super::materials::{Material, binding_strips, finished_size, materials};
use crate::lengths::about_size;
use crate::quilt_picture::block_picture;
use crate::typeface::fitted;
use crate::{About, Figures, Offered, Pages, PublishError, Seams, Weight, quilt_picture, typeset};

/// The most fabrics that are listed one by one, so that the picture keeps its room.
const MOST_FABRICS: usize = 20;
/// The most kinds of block that are named.
const MOST_BLOCKS: usize = 6;
/// Room for a name beside what to buy, in inches, and the size of its type.
const NAME_ROOM_IN: (f64, f64) = (1.45, 0.139);
/// Room for the name of a block.
const BLOCK_ROOM_IN: f64 = 2.0;

/// What the page shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShareSheet {
    /// Title, author, edition and paper.
    pub about: About,
    /// Name of the quilt's picture among the figures.
    pub picture: String,
    /// Finished size of the quilt.
    pub size: String,
    /// The fabrics, then backing and batting.
    pub rows: Vec<Material>,
    /// How many more fabrics there are; empty when all are listed.
    pub more_fabrics: String,
    /// The blocks.
    pub blocks: Vec<SharedBlock>,
    /// How many more kinds there are; empty when all are shown.
    pub more_blocks: String,
    /// The binding.
    pub binding: String,
    /// What the figures are.
    pub note: String,
}

/// Blocks of one name and size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SharedBlock {
    /// Name, how many, and size: "Night star: 10, 9″ × 9″".
    pub words: String,
    /// Name of its picture among the figures: the first of these blocks in the quilt.
    pub picture: String,
}

/// The share sheet of a quilt, and its figures.
///
/// # Errors
/// A fabric that cannot be cut, or a picture that cannot be drawn.
pub fn share_sheet(quilt: &Offered<'_>, about: &About) -> Result<(ShareSheet, Figures), PublishError> {
    let design = quilt.design;
    let mut figures = Figures::default();
    let mut rows = materials(quilt)?;
    let rest = rows.split_off(rows.len().min(quilt.plans.len()));
    let more = rows.len().saturating_sub(MOST_FABRICS);
    rows.truncate(MOST_FABRICS);
    let (room, size) = NAME_ROOM_IN;
    for row in &mut rows {
        row.name = fitted(&row.name, size, Weight::Regular, room);
    }
    rows.extend(rest);
    let binding = quilt.ledger.binding()?;
    let fabric = &design.fabric(design.binding().fabric)?.name;
    let (blocks, more_blocks) = shared_blocks(design, &mut figures)?;
    let sheet = ShareSheet {
        about: about.clone(),
        picture: figures.add(&quilt_picture(design, Seams::Shown)?),
        size: finished_size(design),
        rows,
        more_fabrics: if more > 0 { format!("and {more} more, as in the shopping list") } else { String::new() },
        blocks,
        more_blocks,
        binding: fitted(
            &format!("{} of {fabric}, in its length", binding_strips(design, binding)),
            size,
            Weight::Regular,
            6.5,
        ),
        note: format!("Figures of the {} cutting plan.", quilt.planner.name()),
    };
    Ok((sheet, figures))
}

impl ShareSheet {
    /// The page.
    ///
    /// # Errors
    /// [`PublishError::Typeset`] for figures of another sheet.
    pub fn pages(&self, figures: &Figures) -> Result<Pages, PublishError> {
        typeset("share.typ", self, figures)
    }
}

/// The blocks that stand in the quilt, those of one name and size together, and how many more there are than are shown.
fn shared_blocks(design: &Design, figures: &mut Figures) -> Result<(Vec<SharedBlock>, String), PublishError> {
    let units = design.units();
    let mut found: Vec<(BlockId, String, String, usize)> = Vec::new();
    let mut known: BTreeMap<(String, String), usize> = BTreeMap::new();
    for (id, def) in design.blocks() {
        let count = design.places_of(id).count();
        if count == 0 {
            continue;
        }
        let (width, height) = def.block().base().extent();
        let size = about_size(&width, &height, units);
        let index = *known.entry((def.name().to_owned(), size.clone())).or_insert(found.len());
        match found.get_mut(index) {
            Some((.., known)) => *known += count,
            None => found.push((id, def.name().to_owned(), size, count)),
        }
    }
    let more = found.len().saturating_sub(MOST_BLOCKS);
    let mut blocks = Vec::new();
    for (id, name, size, count) in found.into_iter().take(MOST_BLOCKS) {
        let name = fitted(&name, NAME_ROOM_IN.1, Weight::Regular, BLOCK_ROOM_IN);
        let colouring = piecing::colourings(design, id)?.into_iter().next();
        let (mirrored, fabrics) = colouring.map(|first| (first.mirrored, first.fabrics)).unwrap_or_default();
        let picture = figures.add(&block_picture(design, id, mirrored, &fabrics)?);
        blocks.push(SharedBlock { words: format!("{name}: {count}, {size}"), picture });
    }
    Ok((blocks, if more > 0 { format!("and {more} more kinds") } else { String::new() }))
}
