//! The quilt top as floats: where everything stands, what colour each patch has, what is under a point.
//!
//! Triangles and outlines are kept once for each source, in the block's own frame; a place is a motion of them. A
//! quilt of a hundred thousand patches is a few small meshes and a list of places.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;

use geometry::{Block, Motion, Point};
use layout::{Design, EditError, FabricId, Halves, PlaceId, Source, Touched};

use super::changes::Changes;
use super::grid::{Grid, Reach};
use super::mesh::SourceMesh;
use crate::window::session::Spot;

/// One thing in its place.
#[derive(Debug, Clone, PartialEq)]
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
    pub fabrics: Arc<[FabricId]>,
    /// The turn and mirror of a block in its cell.
    stance: (u8, bool),
}

/// The whole top.
#[derive(Debug, Clone)]
pub struct Scene {
    size: [f64; 2],
    standing: Vec<Standing>,
    by_place: Arc<BTreeMap<PlaceId, usize>>,
    meshes: BTreeMap<Source, Arc<SourceMesh>>,
    grid: Arc<Grid>,
    patches: usize,
    blocks: usize,
    changes: Changes,
    /// The stamp of the first scene of this quilt.
    quilt: u64,
}

impl Standing {
    /// Whether another stands in the same place and looks the same. Where it stands may be worked out in two ways, which
    /// differ in the last bits.
    fn looks_like(&self, other: &Self) -> bool {
        let near = |a: [f64; 2], b: [f64; 2]| (0..2).all(|k| (a[k] - b[k]).abs() < 1e-6);
        (self.place, self.source, &self.fabrics) == (other.place, other.source, &other.fabrics)
            && self.map.into_iter().zip(other.map).all(|(a, b)| near(a, b))
            && self.bounds.into_iter().zip(other.bounds).all(|(a, b)| near(a, b))
    }

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
        let mut looks = Looks::new(design);
        let mut standing = Vec::with_capacity(top.placed.len());
        for placed in &top.placed {
            let mesh = meshes.entry(placed.source).or_insert_with(|| Arc::new(SourceMesh::new(&placed.block)));
            let map = map_of(&placed.motion);
            let mut stands = Standing {
                place: placed.place,
                source: placed.source,
                map,
                bounds: [[0.0; 2]; 2],
                fabrics: looks.of(placed.place, placed.source)?,
                stance: stance_of(design, placed.place),
            };
            stands.bounds = bounds_of(mesh.outline().iter().map(|p| stands.apply(*p)));
            standing.push(stands);
        }
        let by_place = Arc::new(standing.iter().enumerate().map(|(i, s)| (s.place, i)).collect());
        let reaches = standing.iter().map(|s| Reach { bounds: s.bounds, patches: s.fabrics.len() });
        let grid = Arc::new(Grid::new(size, reaches));
        let patches = standing.iter().map(|s| s.fabrics.len()).sum();
        let blocks = standing.iter().filter(|s| matches!(s.place, PlaceId::Cell { .. })).count();
        let changes = Changes::everything();
        let quilt = changes.now();
        Ok(Self { size, standing, by_place, meshes, grid, patches, blocks, changes, quilt })
    }

    /// This scene as the one that comes after `before`: what is the same as there does not count as changed.
    #[must_use]
    #[expect(clippy::float_cmp, reason = "the same size gives the same floats; anything else counts as changed")]
    pub(crate) fn after(mut self, before: &Self) -> Self {
        self.quilt = before.quilt;
        let same = |(source, mesh): (&Source, &Arc<SourceMesh>)| before.meshes.get(source).is_none_or(|m| m == mesh);
        let alike = self.size == before.size && self.by_place == before.by_place && self.meshes.iter().all(same);
        if alike {
            self.changes = before.changes.clone();
            for (number, (new, old)) in self.standing.iter().zip(&before.standing).enumerate() {
                if !new.looks_like(old) {
                    self.changes.note(number);
                }
            }
        }
        self
    }

    /// Follows an edit that changed no more than paint.
    pub(crate) fn follow(&mut self, design: &Design, touched: &Touched) -> Result<(), EditError> {
        match touched {
            Touched::Nothing | Touched::Plans => Ok(()),
            Touched::Patch(place, _) | Touched::Place(place) => self.refresh(design, &[*place]),
            Touched::Places(places) => self.refresh(design, places),
            Touched::Source(source, _) => self.recolour(design, |own| own == *source),
            Touched::Paint => self.recolour(design, |_| true),
            Touched::Everything => {
                *self = Self::new(design)?.after(self);
                Ok(())
            }
        }
    }

    /// Looks up the paint of everything that shows one of these sources.
    fn recolour(&mut self, design: &Design, shows: impl Fn(Source) -> bool) -> Result<(), EditError> {
        let mut looks = Looks::new(design);
        for (number, stands) in self.standing.iter_mut().enumerate().filter(|(_, s)| shows(s.source)) {
            let fabrics = looks.of(stands.place, stands.source)?;
            if stands.fabrics != fabrics {
                stands.fabrics = fabrics;
                self.changes.note(number);
            }
        }
        Ok(())
    }

    fn refresh(&mut self, design: &Design, places: &[PlaceId]) -> Result<(), EditError> {
        let mut looks = Looks::new(design);
        let mut turns = Turns::default();
        let mut next = 0;
        for place in places {
            // Places come in order, so the next one mostly stands next.
            let number = if self.standing.get(next).is_some_and(|stands| stands.place == *place) {
                next
            } else {
                let Some(&number) = self.by_place.get(place) else { continue };
                number
            };
            next = number + 1;
            let source = design.source(*place)?;
            if let Entry::Vacant(free) = self.meshes.entry(source) {
                free.insert(Arc::new(SourceMesh::new(design.source_block(source)?.as_ref())));
            }
            let fabrics = looks.of(*place, source)?;
            let stands = &mut self.standing[number];
            let stance = stance_of(design, *place);
            let map = turns.map(design, stands, (source, stance))?;
            self.patches = self.patches - stands.fabrics.len() + fabrics.len();
            *stands = Standing { source, fabrics, map, stance, ..*stands };
            self.changes.note(number);
        }
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
    pub const fn patches(&self) -> usize {
        self.patches
    }

    /// How many blocks there are, setting pieces and borders apart.
    #[must_use]
    pub const fn blocks(&self) -> usize {
        self.blocks
    }

    /// A stamp that is another one after every change, and in every other scene.
    #[must_use]
    pub const fn stamp(&self) -> u64 {
        self.changes.now()
    }

    /// A number that stays the same as long as the same quilt is worked on.
    #[must_use]
    pub(crate) const fn quilt(&self) -> u64 {
        self.quilt
    }

    /// The numbers, in [`Scene::standing`], of what changed after a stamp; none when it may be anything.
    #[must_use]
    pub fn changed_since(&self, stamp: u64) -> Option<Vec<usize>> {
        self.changes.since(stamp)
    }

    /// About how many patches show between two corners of the wall, without looking at them.
    #[must_use]
    pub fn patches_within(&self, low: [f64; 2], high: [f64; 2]) -> usize {
        self.grid.patches_within(low, high)
    }

    /// The things that may show between two corners of the wall, in their order.
    pub fn within(&self, low: [f64; 2], high: [f64; 2]) -> impl Iterator<Item = &Standing> {
        self.grid.within(low, high).into_iter().filter_map(move |i| {
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

/// The turn and mirror of the block in a cell; of other pieces none.
fn stance_of(design: &Design, place: PlaceId) -> (u8, bool) {
    design.place(place).map_or((0, false), |held| (held.turn, held.mirrored))
}

/// The fabrics of all patches of a place; places without paint of their own share them.
struct Looks<'a> {
    design: &'a Design,
    blocks: BTreeMap<Source, Arc<Block>>,
    plain: BTreeMap<(Source, Halves), Arc<[FabricId]>>,
}

impl<'a> Looks<'a> {
    const fn new(design: &'a Design) -> Self {
        Self { design, blocks: BTreeMap::new(), plain: BTreeMap::new() }
    }

    fn of(&mut self, place: PlaceId, source: Source) -> Result<Arc<[FabricId]>, EditError> {
        let (painted, halves) = (self.design.is_painted(place), self.design.halves(place));
        if let Some(plain) = self.plain.get(&(source, halves)).filter(|_| !painted) {
            return Ok(Arc::clone(plain));
        }
        let block = match self.blocks.entry(source) {
            Entry::Occupied(held) => held.into_mut(),
            Entry::Vacant(free) => free.insert(self.design.source_block(source)?),
        };
        let patches = 0..block.patches().len();
        if painted {
            return patches.map(|i| self.design.paint(place, source, block, i)).collect();
        }
        let found: Result<Arc<[FabricId]>, EditError> =
            patches.map(|i| self.design.base_paint(source, block, i, halves.values())).collect();
        let found = found?;
        self.plain.insert((source, halves), Arc::clone(&found));
        Ok(found)
    }
}

/// What stands in a cell, with its turn and mirror.
type Stance = (Source, (u8, bool));

/// What it does to the map of a cell when another block stands in it, or the same in another way. That is the same in
/// every cell, because all have one outline, so it is worked out exactly only the first time.
#[derive(Default)]
struct Turns(BTreeMap<(Stance, Stance), Map>);

/// A motion column by column: x, y, shift.
type Map = [[f64; 2]; 3];

impl Turns {
    /// The map of what stands in a place now that was `from` there before.
    fn map(&mut self, design: &Design, from: &Standing, to: Stance) -> Result<Map, EditError> {
        let was = (from.source, from.stance);
        if was == to {
            return Ok(from.map);
        }
        if let Some(turn) = self.0.get(&(was, to)) {
            return Ok(composed(from.map, *turn));
        }
        let map = map_of(&design.motion(from.place)?);
        self.0.insert((was, to), composed(undone(from.map), map));
        Ok(map)
    }
}

/// The map that does `inner` first.
fn composed(outer: Map, inner: Map) -> Map {
    let [x, y, shift] = outer;
    let turned = |v: [f64; 2]| [v[0] * x[0] + v[1] * y[0], v[0] * x[1] + v[1] * y[1]];
    let [u, v, s] = inner.map(turned);
    [u, v, [s[0] + shift[0], s[1] + shift[1]]]
}

/// The map back: a turn or a mirror image is undone by its transpose.
fn undone([x, y, shift]: Map) -> Map {
    let back = |d: [f64; 2]| [d[0] * x[0] + d[1] * x[1], d[0] * y[0] + d[1] * y[1]];
    let moved = back(shift);
    [[x[0], y[0]], [x[1], y[1]], [-moved[0], -moved[1]]]
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
