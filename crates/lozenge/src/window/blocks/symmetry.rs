//! Doing the same in the mirror image: where a place has its images, and how a block lies there so that the picture is
//! symmetric.
//!
//! All of it is exact. A place is the image of another when the motion of the whole top carries the one's middle to the
//! other's, and the block's turn and mirror there follow from composing that motion with those of the two places, so
//! the rule holds in any setting. Floating point only proposes which places to ask.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Block, Exact, Motion, Point, Value, Vector};
use layout::{BlockDef, BlockId, Design, Halves, Place, PlaceId};

use super::laid::{Change, Laid};
use super::selection;
use crate::window::session::Spot;
use crate::window::wall::{Scene, Standing};

/// In which images the same is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Symmetry {
    /// In none.
    #[default]
    Off,
    /// Left for right.
    LeftRight,
    /// Top for bottom.
    TopBottom,
    /// Left for right, top for bottom, and both.
    Both,
    /// Quarter, half and three-quarter turn.
    QuarterTurns,
}

impl Symmetry {
    /// All.
    pub const ALL: [Self; 5] = [Self::Off, Self::LeftRight, Self::TopBottom, Self::Both, Self::QuarterTurns];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Off => "Off",
            Self::LeftRight => "Left to right",
            Self::TopBottom => "Top to bottom",
            Self::Both => "Both ways",
            Self::QuarterTurns => "Quarter turns",
        }
    }

    /// The motions of the top that carry a place to its images.
    fn motions(self, centre: &Point) -> Vec<Motion> {
        let across = Motion::mirror(centre);
        let over = across.then(&Motion::turn(12, centre));
        let turns = |steps: &[i32]| steps.iter().map(|s| Motion::turn(*s, centre)).collect::<Vec<_>>();
        match self {
            Self::Off => Vec::new(),
            Self::LeftRight => vec![across],
            Self::TopBottom => vec![over],
            Self::Both => vec![across, over, Motion::turn(12, centre)],
            Self::QuarterTurns => turns(&[6, 12, 18]),
        }
    }
}

/// A turn with or without a mirror image: in the x axis first, then by steps of 15°.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stance {
    turn15: i32,
    mirrored: bool,
}

impl Stance {
    /// That of a motion, read from where it carries the x axis.
    fn of(motion: &Motion) -> Self {
        let x = motion.vector(&Vector::unit15(0));
        let turn15 = (0..24).find(|steps| Vector::unit15(*steps) == x).unwrap_or(0);
        Self { turn15, mirrored: motion.is_mirrored() }
    }

    /// That of something on the wall: turns are whole steps of 15°, so the nearest is the one.
    #[expect(clippy::cast_possible_truncation, reason = "at most 12 steps")]
    fn on_wall(stands: &Standing) -> Self {
        let [x, y, _] = stands.map;
        let steps = x[1].atan2(x[0]).to_degrees() / 15.0;
        Self { turn15: (steps.round() as i32).rem_euclid(24), mirrored: x[0] * y[1] < x[1] * y[0] }
    }

    /// That of a block in its cell: left for right, then turned by steps of `unit` × 15°.
    fn of_place(place: Place, unit: i32) -> Self {
        let turn15 = unit * i32::from(place.turn) + if place.mirrored { 12 } else { 0 };
        Self { turn15, mirrored: place.mirrored }
    }

    /// The turn and mirror of a block in its cell; none when no turn of `unit` × 15° makes it.
    fn place(self, unit: i32) -> Option<(u8, bool)> {
        let turn15 = (self.turn15 - if self.mirrored { 12 } else { 0 }).rem_euclid(24);
        (turn15 % unit == 0).then(|| u8::try_from(turn15 / unit).ok())?.map(|turn| (turn, self.mirrored))
    }

    /// This, then `next`.
    fn then(self, next: Self) -> Self {
        let turn15 = if next.mirrored { next.turn15 - self.turn15 } else { next.turn15 + self.turn15 };
        Self { turn15: turn15.rem_euclid(24), mirrored: self.mirrored != next.mirrored }
    }

    fn undone(self) -> Self {
        // Every mirror image undoes itself.
        if self.mirrored { self } else { Self { turn15: (-self.turn15).rem_euclid(24), ..self } }
    }
}

/// A way in which a block is its own mirror image.
#[derive(Debug, Clone, PartialEq, Eq)]
struct OwnImage {
    /// Left for right and then this many turns give the block again.
    turns: u8,
    /// For each half, the half that it becomes.
    halves: Vec<u8>,
}

/// Finds images in one design.
#[derive(Debug)]
pub struct Images<'a> {
    design: &'a Design,
    scene: &'a Scene,
    motions: Vec<Motion>,
    /// Steps of 15° in one turn of a block.
    unit: i32,
    /// The middle of each block in its own frame.
    middles: BTreeMap<BlockId, Point>,
    own: BTreeMap<BlockId, Option<OwnImage>>,
    fit: bool,
}

impl<'a> Images<'a> {
    /// The images of a symmetry.
    #[must_use]
    pub fn new(design: &'a Design, scene: &'a Scene, symmetry: Symmetry) -> Self {
        let (width, height) = design.finished_size();
        let motions = symmetry.motions(&Point::new(width.half(), height.half()));
        // A triangle comes back to its outline by thirds of a turn, a hexagon by sixths, everything else by quarters.
        let first = design.places().next().and_then(|(_, p)| design.block(p.block).ok());
        let unit = match first.map(|def| def.block().base().corners().len()) {
            Some(3) => 8,
            Some(6) => 4,
            _ => 6,
        };
        let middles = design.blocks().map(|(id, def)| (id, middle(def.block()))).collect();
        let mut images = Self { design, scene, motions, unit, middles, own: BTreeMap::new(), fit: true };
        images.fit = selection::first(design)
            .is_none_or(|corner| images.motions.iter().all(|motion| images.place_of(corner, motion).is_some()));
        if !images.fit {
            images.motions.clear();
        }
        images
    }

    /// Blocks mirrored left for right, each where it lies.
    #[must_use]
    pub fn mirror(design: &'a Design, scene: &'a Scene) -> Self {
        Self::new(design, scene, Symmetry::LeftRight)
    }

    /// The other places of a place's images, those that there are.
    #[must_use]
    pub fn places(&self, place: PlaceId) -> BTreeSet<PlaceId> {
        let found = self.motions.iter().filter_map(|motion| self.place_of(place, motion));
        found.filter(|image| *image != place).collect()
    }

    /// Whether the quilt has all images of the symmetry; without them, it has none of them.
    #[must_use]
    pub const fn fit(&self) -> bool {
        self.fit
    }

    /// `change` and the same in its images, so that the picture there is symmetric. Of a place and its images, the first
    /// that changes leads; a place that is its own image holds what it was given.
    #[must_use]
    pub fn with_images(&mut self, change: &Change) -> Change {
        let mut all = Change::new();
        for (id, laid) in change {
            if all.contains_key(id) {
                continue;
            }
            all.insert(*id, laid.clone());
            for motion in self.motions.clone() {
                let Some(image) = self.place_of(*id, &motion).filter(|image| !all.contains_key(image)) else {
                    continue;
                };
                if let Some(laid) = self.laid_at(*id, laid, image, &motion) {
                    all.insert(image, laid);
                }
            }
        }
        all
    }

    /// The mirror image left for right of what lies in a place, in that place.
    #[must_use]
    pub fn in_place(&mut self, id: PlaceId, laid: &Laid) -> Option<Laid> {
        self.laid_at(id, laid, id, &Motion::mirror(&Point::origin()))
    }

    /// The patches that are the images of a patch.
    #[must_use]
    pub fn patches(&self, spot: Spot) -> Vec<Spot> {
        self.motions.iter().filter_map(|motion| self.patch_of(spot, motion)).filter(|image| *image != spot).collect()
    }

    fn patch_of(&self, spot: Spot, motion: &Motion) -> Option<Spot> {
        let place = self.place_of(spot.place, motion)?;
        let outline = |spot: Spot, motion: &Motion| {
            let block = self.design.source_block(self.design.source(spot.place).ok()?).ok()?;
            Some(motion.polygon(&block.patches().get(spot.patch)?.outline))
        };
        let wanted = outline(spot, &self.design.motion(spot.place).ok()?.then(motion))?;
        let own = self.design.motion(place).ok()?;
        let count = self.scene.at(place)?.fabrics.len();
        (0..count)
            .map(|patch| Spot { place, patch })
            .find(|image| outline(*image, &own).is_some_and(|own| own.same_outline(&wanted)))
    }

    /// The place whose middle is the image of another's.
    fn place_of(&self, place: PlaceId, motion: &Motion) -> Option<PlaceId> {
        let wanted = motion.point(&self.middle(place)?);
        let near = wanted.to_f64();
        let cells = self.scene.within(near, near).map(|stands| stands.place);
        cells.filter(|id| self.design.place(*id).is_ok()).find(|id| self.middle(*id).is_some_and(|m| m == wanted))
    }

    /// The mean of the corners of what stands in a place: any motion carries it along.
    fn middle(&self, place: PlaceId) -> Option<Point> {
        let own = self.middles.get(&self.design.place(place).ok()?.block)?;
        Some(self.design.motion(place).ok()?.point(own))
    }

    /// How a block lies in the place `to` so that it is the image of how it lies at `from`.
    fn laid_at(&mut self, from: PlaceId, laid: &Laid, to: PlaceId, motion: &Motion) -> Option<Laid> {
        let seen = Stance::of_place(laid.place, self.unit).then(self.cell(from)?).then(Stance::of(motion));
        let (turn, mirrored) = seen.then(self.cell(to)?.undone()).place(self.unit)?;
        let next = Laid { place: Place { turn, mirrored, ..laid.place }, ..laid.clone() };
        let plain = self.unmirrored(&next).unwrap_or(next);
        self.design.cell().allows_turn(self.design.setting(), plain.place.turn).then_some(plain)
    }

    /// How a cell itself is turned: what its motion adds to the block's own turn and mirror.
    fn cell(&self, id: PlaceId) -> Option<Stance> {
        let own = Stance::of_place(*self.design.place(id).ok()?, self.unit);
        Some(own.undone().then(Stance::on_wall(self.scene.at(id)?)))
    }

    /// The same picture without a mirror image, where the block is its own mirror image: a diagonal half block turned by
    /// a quarter, say. Pieces need then not be cut as mirror images.
    fn unmirrored(&mut self, laid: &Laid) -> Option<Laid> {
        if !laid.place.mirrored || laid.is_painted() {
            return None;
        }
        let (design, unit) = (self.design, self.unit);
        let own = self.own.entry(laid.place.block);
        let own = own.or_insert_with_key(|id| design.block(*id).ok().and_then(|def| own_image(def, unit))).as_ref()?;
        let turns = u8::try_from(24 / unit).ok()?;
        let turn = (laid.place.turn + turns - own.turns) % turns;
        let mut values: Vec<Value> = laid.place.halves.values().to_vec();
        for (half, value) in own.halves.iter().zip(laid.place.halves.values()) {
            *values.get_mut(usize::from(*half))? = *value;
        }
        let place = Place { turn, mirrored: false, halves: Halves::new(&values), ..laid.place };
        design.cell().allows_turn(design.setting(), turn).then(|| Laid { place, ..laid.clone() })
    }
}

fn middle(block: &Block) -> Point {
    let corners = block.base().corners();
    let count = i64::try_from(corners.len()).unwrap_or(1);
    let share = Exact::ratio(1, count).unwrap_or_default();
    let sum = |axis: fn(&Point) -> &Exact| corners.iter().map(axis).sum::<Exact>();
    Point::new(&sum(|p| &p.x) * &share, &sum(|p| &p.y) * &share)
}

/// A way in which a block is its own mirror image, first one in which each half stays itself.
fn own_image(def: &BlockDef, unit: i32) -> Option<OwnImage> {
    let centre = middle(def.block());
    let turns = u8::try_from(24 / unit).ok()?;
    let found: Vec<OwnImage> = (0..turns)
        .filter_map(|turns| {
            let motion = Motion::mirror(&centre).then(&Motion::turn(unit * i32::from(turns), &centre));
            Some(OwnImage { turns, halves: halves_under(def, &motion)? })
        })
        .collect();
    let keeps = |own: &&OwnImage| (0..).zip(&own.halves).all(|(k, half): (u8, &u8)| k == *half);
    found.iter().find(keeps).or(found.first()).cloned()
}

/// The half that each half becomes under a motion that carries the block to itself, patch by patch with role, paint and
/// straight grain; none when it does not.
fn halves_under(def: &BlockDef, motion: &Motion) -> Option<Vec<u8>> {
    use geometry::Tone;
    let block = def.block();
    let mut halves: BTreeMap<u8, u8> = BTreeMap::new();
    for patch in block.patches() {
        let outline = motion.polygon(&patch.outline);
        let image = block.patches().iter().find(|p| p.role == patch.role && p.outline.same_outline(&outline))?;
        let straight = match (&patch.grain, &image.grain) {
            (Some(from), Some(to)) => {
                let from = motion.vector(from);
                from.cross(to) == Exact::ZERO || from.dot(to) == Exact::ZERO
            }
            (None, None) => true,
            _ => false,
        };
        let becomes = match (patch.tone, image.tone) {
            (Tone::Half(a), Tone::Half(b)) | (Tone::AgainstHalf(a), Tone::AgainstHalf(b)) => {
                *halves.entry(a).or_insert(b) == b
            }
            (a, b) => a == b,
        };
        if !straight || !becomes || def.painted().get(&patch.key) != def.painted().get(&image.key) {
            return None;
        }
    }
    (0..block.halves()).map(|half| halves.get(&half).copied()).collect()
}
