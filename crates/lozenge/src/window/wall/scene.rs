//! The quilt top as floats: where everything stands, what colour each patch has, what is under a point.
//!
//! Triangles and outlines are kept once for each source, in the block's own frame; a place is a motion of them. A
//! quilt of a hundred thousand patches is a few small meshes and a list of places.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::{Block, Motion, Point};
use layout::{Design, EditError, FabricId, PlaceId, Source, Touched};

use super::mesh::SourceMesh;
use crate::window::session::Spot;

/// Cells of the grid that finds places, along the longer side.
const INDEX_CELLS: usize = 128;

/// One thing in its place.
#[derive(Debug, Clone)]
pub struct Standing {
    /// Where.
    pub place: PlaceId,
    /// What.
    pub source: Source,
    /// From the block's frame to the wall, column by column: x, y, shift.
    pub map: [[f64; 2]; 3],
    /// Lower left and upper right corner on the wall.
    pub bounds: [[f64; 2]; 2],
    /// The fabric of each patch.
    pub fabrics: Vec<FabricId>,
}

/// The whole top.
#[derive(Debug, Clone)]
pub struct Scene {
    size: [f64; 2],
    standing: Vec<Standing>,
    by_place: BTreeMap<PlaceId, usize>,
    meshes: BTreeMap<Source, Arc<SourceMesh>>,
    index: Index,
}

impl Standing {
    /// A point of the block on the wall.
    #[must_use]
    pub fn apply(&self, p: [f64; 2]) -> [f64; 2] {
        let [x, y, shift] = self.map;
        [p[0] * x[0] + p[1] * y[0] + shift[0], p[0] * x[1] + p[1] * y[1] + shift[1]]
    }

    /// A wall point in the block's frame: the map is a turn or a mirror image, so its transpose undoes it.
    fn undo(&self, p: [f64; 2]) -> [f64; 2] {
        let [x, y, shift] = self.map;
        let d = [p[0] - shift[0], p[1] - shift[1]];
        [d[0] * x[0] + d[1] * x[1], d[0] * y[0] + d[1] * y[1]]
    }
}

impl Scene {
    /// The top of a design.
    ///
    /// # Errors
    /// Not for a checked design.
    pub fn new(design: &Design) -> Result<Self, EditError> {
        let top = design.top()?;
        let size = [top.width.to_f64(), top.height.to_f64()];
        let mut meshes: BTreeMap<Source, Arc<SourceMesh>> = BTreeMap::new();
        let mut standing = Vec::with_capacity(top.placed.len());
        for placed in &top.placed {
            let mesh = meshes.entry(placed.source).or_insert_with(|| Arc::new(SourceMesh::new(&placed.block)));
            let map = map_of(&placed.motion);
            let mut stands = Standing {
                place: placed.place,
                source: placed.source,
                map,
                bounds: [[0.0; 2]; 2],
                fabrics: fabrics_of(design, placed.place, placed.source, &placed.block)?,
            };
            stands.bounds = bounds_of(mesh.outline().iter().map(|p| stands.apply(*p)));
            standing.push(stands);
        }
        let by_place = standing.iter().enumerate().map(|(i, s)| (s.place, i)).collect();
        let index = Index::new(size, &standing);
        Ok(Self { size, standing, by_place, meshes, index })
    }

    /// Follows an edit that changed no more than paint.
    pub(crate) fn follow(&mut self, design: &Design, touched: &Touched) -> Result<(), EditError> {
        match touched {
            Touched::Nothing => self.refresh_turns(design),
            Touched::Patch(place, _) => self.refresh(design, *place),
            Touched::Place(place) => self.refresh(design, *place),
            Touched::Source(source, _) => {
                let block = design.source_block(*source)?;
                for stands in self.standing.iter_mut().filter(|s| s.source == *source) {
                    stands.fabrics = fabrics_of(design, stands.place, *source, &block)?;
                }
                Ok(())
            }
            Touched::Everything => {
                *self = Self::new(design)?;
                Ok(())
            }
        }
    }

    /// Turning a block touches no count, so its edit says that it touched nothing; the picture still turns.
    fn refresh_turns(&mut self, design: &Design) -> Result<(), EditError> {
        for i in 0..self.standing.len() {
            if matches!(self.standing[i].place, PlaceId::Cell { .. }) {
                self.stand(design, i)?;
            }
        }
        Ok(())
    }

    fn refresh(&mut self, design: &Design, place: PlaceId) -> Result<(), EditError> {
        let Some(&i) = self.by_place.get(&place) else { return Ok(()) };
        let source = design.source(place)?;
        let block = design.source_block(source)?;
        self.meshes.entry(source).or_insert_with(|| Arc::new(SourceMesh::new(&block)));
        self.standing[i].source = source;
        self.standing[i].fabrics = fabrics_of(design, place, source, &block)?;
        self.stand(design, i)
    }

    fn stand(&mut self, design: &Design, i: usize) -> Result<(), EditError> {
        let map = map_of(&design.motion(self.standing[i].place)?);
        self.standing[i].map = map;
        Ok(())
    }

    /// Finished width and height in inches.
    #[must_use]
    pub const fn size(&self) -> [f64; 2] {
        self.size
    }

    /// Everything in its place.
    #[must_use]
    pub fn standing(&self) -> &[Standing] {
        &self.standing
    }

    /// What stands in a place.
    #[must_use]
    pub fn at(&self, place: PlaceId) -> Option<&Standing> {
        self.by_place.get(&place).and_then(|i| self.standing.get(*i))
    }

    /// Triangles and outlines of a source.
    #[must_use]
    pub fn mesh(&self, source: Source) -> Option<&SourceMesh> {
        self.meshes.get(&source).map(Arc::as_ref)
    }

    /// How many patches there are.
    #[must_use]
    pub fn patches(&self) -> usize {
        self.standing.iter().map(|s| s.fabrics.len()).sum()
    }

    /// The things that may show between two corners of the wall, in their order.
    pub fn within(&self, low: [f64; 2], high: [f64; 2]) -> impl Iterator<Item = &Standing> {
        self.index.within(low, high).into_iter().filter_map(move |i| {
            let stands = self.standing.get(i)?;
            let [min, max] = stands.bounds;
            (0..2).all(|k| min[k] <= high[k] && max[k] >= low[k]).then_some(stands)
        })
    }

    /// The patch at a point of the wall.
    #[must_use]
    pub fn spot(&self, p: [f64; 2]) -> Option<Spot> {
        self.within(p, p).find_map(|stands| {
            let patch = self.mesh(stands.source)?.patch_at(stands.undo(p))?;
            Some(Spot { place: stands.place, patch })
        })
    }

    /// The outline of a patch on the wall.
    #[must_use]
    pub fn outline(&self, spot: Spot) -> Option<Vec<[f64; 2]>> {
        let stands = self.at(spot.place)?;
        let patch = self.mesh(stands.source)?.patches().get(spot.patch)?;
        Some(patch.outline.iter().map(|p| stands.apply(*p)).collect())
    }
}

fn fabrics_of(design: &Design, place: PlaceId, source: Source, block: &Block) -> Result<Vec<FabricId>, EditError> {
    (0..block.patches().len()).map(|i| design.paint(place, source, block, i)).collect()
}

/// A motion as a matrix, from where it sends the origin and the unit points.
fn map_of(motion: &Motion) -> [[f64; 2]; 3] {
    use geometry::{Exact, Vector};
    let shift = motion.point(&Point::origin()).to_f64();
    let unit = |x: Exact, y: Exact| {
        let v = motion.vector(&Vector::new(x, y));
        [v.x.to_f64(), v.y.to_f64()]
    };
    [unit(Exact::ONE, Exact::ZERO), unit(Exact::ZERO, Exact::ONE), shift]
}

fn bounds_of(points: impl Iterator<Item = [f64; 2]>) -> [[f64; 2]; 2] {
    points.fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}

/// A grid over the wall that knows which things reach into each of its cells.
#[derive(Debug, Clone)]
struct Index {
    step: f64,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
}

impl Index {
    fn new(size: [f64; 2], standing: &[Standing]) -> Self {
        let longest = size[0].max(size[1]).max(1e-6);
        #[expect(clippy::cast_precision_loss, reason = "a small constant")]
        let step = longest / INDEX_CELLS as f64;
        let mut index = Self { step, columns: 0, rows: 0, cells: Vec::new() };
        index.columns = index.cell(size[0]) + 1;
        index.rows = index.cell(size[1]) + 1;
        index.cells = vec![Vec::new(); index.columns * index.rows];
        for (i, stands) in standing.iter().enumerate() {
            let number = u32::try_from(i).unwrap_or(u32::MAX);
            for cell in index.covered(stands.bounds[0], stands.bounds[1]) {
                index.cells[cell].push(number);
            }
        }
        index
    }

    /// The cell number of a coordinate; what lies off the wall belongs to the nearest cell.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the grid")]
    #[expect(clippy::cast_precision_loss, reason = "a small constant")]
    fn cell(&self, v: f64) -> usize {
        (v / self.step).clamp(0.0, INDEX_CELLS as f64) as usize
    }

    fn covered(&self, low: [f64; 2], high: [f64; 2]) -> Vec<usize> {
        let (x0, x1) = (self.cell(low[0]).min(self.columns - 1), self.cell(high[0]).min(self.columns - 1));
        let (y0, y1) = (self.cell(low[1]).min(self.rows - 1), self.cell(high[1]).min(self.rows - 1));
        (y0..=y1).flat_map(|y| (x0..=x1).map(move |x| y * self.columns + x)).collect()
    }

    fn within(&self, low: [f64; 2], high: [f64; 2]) -> Vec<usize> {
        let mut found: Vec<usize> =
            self.covered(low, high).into_iter().flat_map(|c| self.cells[c].iter().map(|i| *i as usize)).collect();
        found.sort_unstable();
        found.dedup();
        found
    }
}
