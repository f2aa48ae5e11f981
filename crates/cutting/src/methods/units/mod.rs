//! Which patches of a block can be sewn before they are cut, from geometry alone.
//!
//! Three ways are looked for: half-square and quarter-square units from paired squares; chains of parallelograms
//! between two parallel lines, cut across a strip set; and a patch whose strip a neighbour is sewn to. A patch is
//! only ever laid on its straight grain: a chain that would turn it off the grain is not told.

use std::collections::{BTreeMap, BTreeSet};

use geometry::cut::CutShape;
use geometry::lay::LayPolygon;
use geometry::{Block, Exact, Length, Patch, PatchKey, Polygon, Vector};

use self::neighbours::{ClassNumber, Neighbours};

mod chains;
mod neighbours;
mod onto;
mod triangles;

/// How the patches of a unit are sewn before they are cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SewnMethod {
    /// Two half-square triangles from a pair of squares.
    PairedSquares,
    /// Four quarter-square triangles from two half-square units: true to the block when opposite triangles are of one
    /// fabric. Otherwise half of the units come out as mirror images.
    QuarteredPairs,
    /// Strips sewn lengthwise, then cut across into segments.
    StripSet,
    /// The second patch sewn onto a strip for the first, which is then cut apart.
    OntoStrip,
}

/// The angle of the cuts to the strip, exact: the direction of a cut seen with the strip along x, counter-clockwise
/// between 0° and 180°. Only its direction counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Angle(Vector);

impl Angle {
    /// The angle from the direction `strip` to the direction `cut`, whichever way either is walked.
    fn between(strip: &Vector, cut: &Vector) -> Self {
        let (along, across) = (strip.dot(cut), strip.cross(cut));
        Self(if across.is_negative() { Vector::new(-&along, -&across) } else { Vector::new(along, across) })
    }

    /// Direction of the cut with the strip along x.
    #[must_use]
    pub const fn direction(&self) -> &Vector {
        &self.0
    }

    /// The angle in steps of 15°, 1 to 11, if it is a multiple of them: 3 is 45°, 4 is 60°, 6 is 90°.
    #[must_use]
    pub fn steps15(&self) -> Option<i32> {
        (1..12).find(|k| {
            let unit = Vector::unit15(*k);
            unit.cross(&self.0).is_zero() && unit.dot(&self.0).is_positive()
        })
    }

    /// The angle seen in a mirror, the strip still along x.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self(Vector::new(-&self.0.x, self.0.y.clone()))
    }

    /// Whether the cut is square to the strip.
    #[must_use]
    pub fn is_square(&self) -> bool {
        self.0.x.is_zero()
    }
}

/// One patch of a unit that is cut by the unit's method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Position {
    /// The patch in the unit's first place.
    pub patch: PatchKey,
    /// Its cut outline, the strip (or a side of the square) along x.
    pub outline: LayPolygon,
    /// Finished height of its strip in inches, or finished side of the unit made from squares; `None` when it is no
    /// number of the field.
    pub finished: Option<Exact>,
}

/// Patches of a block that can be sewn before they are cut: one kind of unit, with every place where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SewnUnit {
    /// How.
    pub method: SewnMethod,
    /// Angle of the cuts to the strips; square for units from squares, whose cuts follow the diagonal.
    pub angle: Angle,
    /// The patches that the method cuts, in the order of the strips from the lowest.
    pub positions: Vec<Position>,
    /// For [`SewnMethod::OntoStrip`], cut outline of the neighbour that is fed along the strip, the strip along x.
    pub fed: Option<LayPolygon>,
    /// Finished width of a segment square to the cuts, in inches; `None` when it is no number of the field.
    pub segment: Option<Exact>,
    /// Every place of the unit, no two of which share a patch: first the patches that are cut, in the order of
    /// [`Self::positions`], then the neighbour that is fed along. The first place is the one that the outlines are of.
    pub places: Vec<Vec<PatchKey>>,
    /// Units, by their index in the answer, that cut some of the same patches: alternatives to this one.
    pub alternatives: Vec<usize>,
    /// Seam allowance in inches.
    pub seam: Exact,
}

impl SewnUnit {
    /// How often the unit stands in the block.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.places.len()
    }

    /// The unit of the mirrored block: the same patches, their cut outlines turned over.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let over = |outline: &LayPolygon| outline.turned_over().at_origin();
        let position = |p: &Position| Position { outline: over(&p.outline), ..p.clone() };
        Self {
            angle: self.angle.mirrored(),
            positions: self.positions.iter().map(position).collect(),
            fed: self.fed.as_ref().map(over),
            ..self.clone()
        }
    }

    /// The patches that the method cuts, in all places.
    pub fn cut_patches(&self) -> impl Iterator<Item = PatchKey> + '_ {
        self.places.iter().flat_map(|place| place.iter().take(self.positions.len()).copied())
    }
}

/// All units of a block that can be sewn before they are cut, with seam allowances of `seam`. Places that match in
/// shape, grain and hand are one unit; places of one unit that would use a patch twice are told as alternatives.
///
/// In the order of method, then of the first patches; the same for a block however it is turned.
#[must_use]
pub fn sewn_units(block: &Block, seam: &Length) -> Vec<SewnUnit> {
    let neighbours = Neighbours::new(block.patches());
    let chains = chains::find(&neighbours);
    // What a strip set sews is not told again as sewn onto a strip.
    let joined: BTreeSet<(usize, usize)> =
        chains.iter().flat_map(|find| find.patches.windows(2)).flat_map(|p| [(p[0], p[1]), (p[1], p[0])]).collect();
    let mut finds: Vec<Find> = triangles::find(&neighbours);
    finds.extend(onto::find(&neighbours).into_iter().filter(|f| !joined.contains(&(f.patches[0], f.patches[1]))));
    finds.extend(chains);
    let mut units: Vec<SewnUnit> = families(finds)
        .into_iter()
        .filter_map(|family| unit_of(block.patches(), &family.finds, seam.inches()))
        .collect();
    units.sort_by(|a, b| (a.method, &a.places[0]).cmp(&(b.method, &b.places[0])));
    mark_alternatives(&mut units);
    units
}

/// One place of a unit, before places are gathered.
#[derive(Debug, Clone)]
struct Find {
    method: SewnMethod,
    /// What places of one unit have in common: shape, grain and hand of each patch, and the edges that are shared.
    mark: Vec<ClassNumber>,
    /// Indexes of the patches; for [`SewnMethod::OntoStrip`] the second is the one that is fed along.
    patches: Vec<usize>,
    /// Direction of the strip past each patch, the patch on its left.
    strip: Vec<Vector>,
    /// Direction of the cuts.
    cut: Vector,
}

impl Find {
    /// The patches that the method cuts.
    fn cut_patches(&self) -> &[usize] {
        if self.method == SewnMethod::OntoStrip { &self.patches[..1] } else { &self.patches }
    }
}

/// Finds of one unit, no two of which cut the same patch.
#[derive(Default)]
struct Family {
    finds: Vec<Find>,
    cut: BTreeSet<usize>,
}

impl Family {
    fn takes(&self, find: &Find) -> bool {
        find.cut_patches().iter().all(|patch| !self.cut.contains(patch))
    }

    fn add(&mut self, find: Find) {
        self.cut.extend(find.cut_patches());
        self.finds.push(find);
    }
}

/// Finds that match, gathered; those that match but cut the same patch are of different families.
fn families(mut finds: Vec<Find>) -> Vec<Family> {
    finds.sort_by(|a, b| (a.method, &a.patches).cmp(&(b.method, &b.patches)));
    let mut by_mark: BTreeMap<(SewnMethod, Vec<ClassNumber>), Vec<Family>> = BTreeMap::new();
    for find in finds {
        let alike = by_mark.entry((find.method, find.mark.clone())).or_default();
        let index = alike.iter().position(|family| family.takes(&find)).unwrap_or(alike.len());
        if index == alike.len() {
            alike.push(Family::default());
        }
        alike[index].add(find);
    }
    by_mark.into_values().flatten().collect()
}

/// The unit of a family; `None` when a patch has no cut shape.
fn unit_of(patches: &[Patch], family: &[Find], seam: &Exact) -> Option<SewnUnit> {
    let first = family.first()?;
    let outline = |k: usize| cut_outline(&patches[first.patches[k]].outline, &first.strip[k], seam);
    let positions = (0..first.cut_patches().len())
        .map(|k| {
            let patch = &patches[first.patches[k]];
            Some(Position { patch: patch.key, outline: outline(k)?, finished: extent_across(patch, first, k) })
        })
        .collect::<Option<Vec<_>>>()?;
    let fed = if first.method == SewnMethod::OntoStrip { Some(outline(1)?) } else { None };
    let place = |find: &Find| find.patches.iter().map(|i| patches[*i].key).collect();
    Some(SewnUnit {
        method: first.method,
        angle: Angle::between(&first.strip[0], &first.cut),
        positions,
        fed,
        segment: segment_width(first),
        places: family.iter().map(place).collect(),
        alternatives: Vec::new(),
        seam: seam.clone(),
    })
}

/// The cut outline of a patch with the direction `strip` laid along x.
fn cut_outline(outline: &Polygon, strip: &Vector, seam: &Exact) -> Option<LayPolygon> {
    let allowances = vec![seam.clone(); outline.corners().len()];
    Some(CutShape::mitred(outline, &allowances, strip).ok()?.outline().clone())
}

/// Finished height of the strip for patch `k`, or side of the unit from squares: how far the patch reaches from its
/// edge along the strip.
fn extent_across(patch: &Patch, find: &Find, k: usize) -> Option<Exact> {
    let strip = &find.strip[k];
    if matches!(find.method, SewnMethod::PairedSquares | SewnMethod::QuarteredPairs) {
        return strip.length();
    }
    let across = |p| strip.cross(&(p - patch.outline.corner(0)));
    let heights: Vec<Exact> = patch.outline.corners().iter().map(across).collect();
    let extent = heights.iter().max()? - heights.iter().min()?;
    extent.checked_div(&strip.length()?)
}

/// Width of a segment square to the cuts.
fn segment_width(find: &Find) -> Option<Exact> {
    match find.method {
        SewnMethod::PairedSquares | SewnMethod::QuarteredPairs => find.strip[0].length(),
        SewnMethod::StripSet | SewnMethod::OntoStrip => {
            find.strip[0].cross(&find.cut).abs().checked_div(&find.cut.length()?)
        }
    }
}

/// Tells each unit which others cut some of its patches.
fn mark_alternatives(units: &mut [SewnUnit]) {
    let mut of_patch: BTreeMap<PatchKey, Vec<usize>> = BTreeMap::new();
    for (index, unit) in units.iter().enumerate() {
        for patch in unit.cut_patches() {
            of_patch.entry(patch).or_default().push(index);
        }
    }
    let mut alternatives: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); units.len()];
    for sharing in of_patch.values() {
        for &index in sharing {
            alternatives[index].extend(sharing.iter().filter(|other| **other != index));
        }
    }
    for (unit, others) in units.iter_mut().zip(alternatives) {
        unit.alternatives = others.into_iter().collect();
    }
}
