//! The quilt top as geometry: every block, setting piece and border in its place, proved to tile the rectangle.

use std::sync::Arc;

use geometry::{Block, Exact, Motion, Point, Polygon, prove_tiling};

use crate::border::Border;
use crate::design::Design;
use crate::error::EditError;
use crate::ids::{Halves, PlaceId, Source};
use crate::setting::Setting;

/// Something in its place.
#[derive(Debug, Clone)]
pub struct Placed {
    /// Where.
    pub place: PlaceId,
    /// What.
    pub source: Source,
    /// Its proved block.
    pub block: Arc<Block>,
    /// From the block's frame to the quilt top: x to the right, y up, origin at the lower left corner.
    pub motion: Motion,
    /// The values of its halves.
    pub halves: Halves,
}

/// A whole quilt top.
#[derive(Debug, Clone)]
pub struct Top {
    /// Finished width in inches.
    pub width: Exact,
    /// Finished height in inches.
    pub height: Exact,
    /// How its blocks are arranged.
    pub setting: Setting,
    /// Everything in its place: cells row by row, pieces of the setting, borders from the inside.
    pub placed: Vec<Placed>,
}

impl Design {
    /// Finished width and height of the whole top in inches.
    #[must_use]
    pub fn finished_size(&self) -> (Exact, Exact) {
        self.size_within(self.borders.len())
    }

    /// Finished width and height of the setting, without borders, in inches.
    #[must_use]
    pub fn setting_extent(&self) -> (Exact, Exact) {
        self.size_within(0)
    }

    /// The place's motion into the top.
    ///
    /// # Errors
    /// [`EditError::NoPlace`].
    pub fn motion(&self, place: PlaceId) -> Result<Motion, EditError> {
        let motion = match place {
            PlaceId::Cell { row, column } => {
                let Some(p) = self.places.get(&place) else { return Err(EditError::NoPlace(place)) };
                let base = self.block(p.block)?.block().base();
                Some(self.centre().cell_motion(row, column, p.turn, p.mirrored, base))
            }
            PlaceId::Border { .. } | PlaceId::BorderCorner { .. } | PlaceId::BorderBlock { .. } => {
                return self.border_motion(place).ok_or(EditError::NoPlace(place));
            }
            _ => self.centre().piece_motion(place),
        };
        Ok(motion.ok_or(EditError::NoPlace(place))?.then(&self.inside_borders()))
    }

    /// Whether what stands in a place is mirrored, and so cut as a mirror image.
    #[must_use]
    pub fn is_mirrored(&self, place: PlaceId) -> bool {
        match place {
            PlaceId::Cell { .. } => self.places.get(&place).is_some_and(|p| p.mirrored),
            PlaceId::BorderBlock { border, .. } => {
                let border = self.borders.get(usize::from(border));
                border.and_then(Border::pieced).is_some_and(|pieced| pieced.mirrored)
            }
            // Of the other pieces only some of these are not their own mirror image.
            PlaceId::RowEnd { .. }
            | PlaceId::SideTriangle { .. }
            | PlaceId::CornerTriangle(_)
            | PlaceId::SettingTriangle { .. } => {
                self.centre().piece_motion(place).is_some_and(|motion| motion.is_mirrored())
            }
            _ => false,
        }
    }

    /// Every place of the top: cells row by row, pieces of the setting, borders from the inside.
    pub fn all_places(&self) -> impl Iterator<Item = PlaceId> {
        let pieces: Vec<PlaceId> = self.centre().pieces().chain(self.border_places()).collect();
        let cells: Vec<PlaceId> = self.centre().cells().collect();
        cells.into_iter().chain(pieces)
    }

    /// The whole top.
    ///
    /// # Errors
    /// A place or block that is missing; not for a checked design.
    pub fn top(&self) -> Result<Top, EditError> {
        let (width, height) = self.finished_size();
        let mut made: std::collections::BTreeMap<Source, Arc<Block>> = std::collections::BTreeMap::new();
        let mut placed = Vec::with_capacity(self.places.size() + 16);
        for place in self.all_places() {
            let source = self.source(place)?;
            let block = match made.get(&source) {
                Some(block) => Arc::clone(block),
                None => {
                    let block = self.source_block(source)?;
                    made.insert(source, Arc::clone(&block));
                    block
                }
            };
            placed.push(Placed { place, source, block, motion: self.motion(place)?, halves: self.halves(place) });
        }
        Ok(Top { width, height, setting: self.setting, placed })
    }
}

impl Top {
    /// Proves that the outlines of everything placed tile the finished rectangle. With each block proved, so do
    /// the patches.
    ///
    /// # Errors
    /// [`EditError::TopNotTiled`] with a point where they do not.
    pub fn prove(&self) -> Result<(), EditError> {
        let fault = |p: &Point| EditError::TopNotTiled { x: p.x.to_decimal(4), y: p.y.to_decimal(4) };
        let base = Polygon::rectangle(&self.width, &self.height).map_err(|_| fault(&Point::origin()))?;
        let outlines: Vec<Polygon> = self.placed.iter().map(|p| p.motion.polygon(p.block.base())).collect();
        prove_tiling(&base, &outlines).map_err(|e| fault(&e.near))
    }

    /// Number of patches in the top.
    #[must_use]
    pub fn patches(&self) -> usize {
        self.placed.iter().map(|p| p.block.patches().len()).sum()
    }
}
