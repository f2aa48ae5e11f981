//! What one state shows: its stars and star parts, its areas of one value, and how dark it is.
//!
//! A *star point* is a corner of a patch with two equal edges, both of which end in an obtuse corner, as at the sharp
//! corner of a diamond. Where star points of one shape fill the whole turn about a point, the notches between them make
//! a star; six triangles would make a plain hexagon.

use std::collections::BTreeMap;

use geometry::{Exact, Point, Polygon, ShapeClass, Value, Vector};

use super::facing::{Edge, Spot};
use super::states::{BlockStates, Look, State};

/// One star point: its shape, and what it shows.
pub(super) type Ray = (u16, Look);

/// The star points that fill the cell about a point of its outline, counter-clockwise.
pub(super) type Fan = Vec<Ray>;

/// A stretch of a side, between two marks, that belongs to one area.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) area: usize,
}

/// What one state shows.
#[derive(Debug, Clone)]
pub(super) struct Picture {
    /// Complete stars inside the cell.
    pub(super) stars: u32,
    /// The fan at the corner where each side begins, if the corner is filled with star points.
    pub(super) corner_fans: [Option<Fan>; 4],
    /// Fans on each side, by mark.
    pub(super) side_fans: [BTreeMap<usize, Fan>; 4],
    /// The values of the areas of one value.
    pub(super) areas: Vec<Value>,
    /// To which area each stretch of a side belongs, in order of the marks.
    pub(super) sides: [Vec<Stretch>; 4],
    /// Which part of the cell is dark.
    pub(super) dark: Exact,
}

/// The geometry that all states with one turn and mirror share: patches instead of what they show.
struct Drawing {
    fans: Vec<BareFan>,
    /// The patches along each side, between marks.
    sides: [Vec<Stretch>; 4],
}

/// Star points that fill all that there is of the cell about a point: where it is, its mark on a side, and patches and
/// shapes counter-clockwise.
type BareFan = (Spot, usize, Vec<(usize, u16)>);

/// A star point of one patch.
struct StarPoint {
    patch: usize,
    shape: u16,
    /// Direction of the first edge, counter-clockwise.
    start: Vector,
    /// Direction of the second.
    end: Vector,
}

/// The pictures of all states, in order.
pub(super) fn pictures(block: &BlockStates) -> Vec<Picture> {
    let (width, height) = block.block().base().extent();
    let mut outlines: BTreeMap<(u8, bool), Vec<Polygon>> = BTreeMap::new();
    for state in block.states() {
        outlines.entry((state.turn, state.mirrored)).or_insert_with(|| block.outlines(state.turn, state.mirrored));
    }
    let marks = marks(outlines.values().flatten(), &width, &height);
    let mut shapes = Shapes::default();
    let drawings: BTreeMap<(u8, bool), Drawing> = outlines
        .into_iter()
        .map(|(way, outlines)| (way, Drawing::new(&outlines, (&width, &height), &marks, &mut shapes)))
        .collect();
    let seams: Vec<(usize, usize)> = block.block().seams().iter().map(|seam| (seam.left, seam.right)).collect();
    let areas: Vec<Exact> = block.block().patches().iter().map(|patch| patch.outline.area()).collect();
    let picture = |state: &State| {
        let drawing = drawings.get(&(state.turn, state.mirrored))?;
        Some(picture(drawing, &block.looks(state.halves.values()), &seams, &areas))
    };
    block.states().iter().filter_map(picture).collect()
}

fn picture(drawing: &Drawing, looks: &[Look], seams: &[(usize, usize)], areas: &[Exact]) -> Picture {
    let mut joined = Joined::new(looks.len());
    for (left, right) in seams.iter().filter(|(left, right)| looks[*left].shown == looks[*right].shown) {
        joined.join(*left, *right);
    }
    let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
    let mut values = Vec::new();
    for (patch, look) in looks.iter().enumerate() {
        numbers.entry(joined.root(patch)).or_insert_with(|| {
            values.push(look.shown);
            values.len() - 1
        });
    }
    let mut of_patch = |patch: usize| numbers.get(&joined.root(patch)).copied().unwrap_or(0);
    let sides = drawing.sides.each_ref().map(|side| {
        side.iter().map(|stretch| Stretch { area: of_patch(stretch.area), ..*stretch }).collect::<Vec<_>>()
    });
    let dark = areas.iter().zip(looks).filter(|(_, look)| look.shown == Value::Dark);
    let dark = dark.fold(Exact::ZERO, |sum, (area, _)| &sum + area);
    let whole = areas.iter().fold(Exact::ZERO, |sum, area| &sum + area);
    let mut picture = Picture {
        stars: 0,
        corner_fans: [const { None }; 4],
        side_fans: [const { BTreeMap::new() }; 4],
        areas: values,
        sides,
        dark: dark.checked_div(&whole).unwrap_or_default(),
    };
    for (spot, mark, fan) in &drawing.fans {
        let fan: Fan = fan.iter().map(|(patch, shape)| (*shape, looks[*patch])).collect();
        match spot {
            Spot::Inside => picture.stars += u32::from(is_complete_star(&fan)),
            Spot::On(edge) => {
                picture.side_fans[edge.index()].insert(*mark, fan);
            }
            Spot::CornerOf(edge) => picture.corner_fans[edge.index()] = Some(fan),
        }
    }
    picture
}

/// Whether star points that fill a whole turn make a complete star: at least six, of one shape, all of one fabric or
/// of two in turn.
pub(super) fn is_complete_star(fan: &[Ray]) -> bool {
    let [(shape, first), (_, second), ..] = fan else { return false };
    let same_fabric = |a: &Look, b: &Look| (a.role, a.table) == (b.role, b.table);
    let in_turn = |(i, (_, look)): (usize, &Ray)| same_fabric(look, if i % 2 == 0 { first } else { second });
    fan.len() >= 6
        && fan.iter().all(|(other, _)| other == shape)
        && fan.iter().enumerate().all(in_turn)
        && (same_fabric(first, second) || fan.len().is_multiple_of(2))
}

/// The places along the sides where something ends, in order; those of level and of upright sides.
fn marks<'a>(outlines: impl Iterator<Item = &'a Polygon>, width: &Exact, height: &Exact) -> [Vec<Exact>; 2] {
    let mut marks = [Vec::new(), Vec::new()];
    for p in outlines.flat_map(Polygon::corners) {
        for edge in Edge::ALL.iter().filter(|edge| edge.holds(p, width, height)) {
            marks[edge.index() % 2].push(edge.along(p).clone());
        }
    }
    for marks in &mut marks {
        marks.sort();
        marks.dedup();
    }
    marks
}

impl Drawing {
    fn new(
        outlines: &[Polygon],
        (width, height): (&Exact, &Exact),
        marks: &[Vec<Exact>; 2],
        shapes: &mut Shapes,
    ) -> Self {
        let mark = |edge: Edge, p: &Point| marks[edge.index() % 2].binary_search(edge.along(p)).unwrap_or(0);
        let mut sides = [const { Vec::new() }; 4];
        let mut about: BTreeMap<(Exact, Exact), Vec<StarPoint>> = BTreeMap::new();
        for (patch, outline) in outlines.iter().enumerate() {
            for (p, q) in outline.edges() {
                let on = |edge: &&Edge| edge.holds(p, width, height) && edge.holds(q, width, height);
                if let Some(edge) = Edge::ALL.iter().find(on) {
                    let (p, q) = (mark(*edge, p), mark(*edge, q));
                    sides[edge.index()].push(Stretch { from: p.min(q), to: p.max(q), area: patch });
                }
            }
            for (corner, star_point) in shapes.star_points(patch, outline) {
                about.entry((corner.x, corner.y)).or_default().push(star_point);
            }
        }
        for side in &mut sides {
            side.sort_by_key(|stretch: &Stretch| stretch.from);
        }
        let fan = |((x, y), points): ((Exact, Exact), Vec<StarPoint>)| {
            let p = Point::new(x, y);
            let spot = Spot::of(&p, width, height);
            let at = if let Spot::On(edge) = spot { mark(edge, &p) } else { 0 };
            Some((spot, at, in_order(points, spot.opening())?))
        };
        Self { fans: about.into_iter().filter_map(fan).collect(), sides }
    }
}

/// The star points in order, counter-clockwise, if they fill all from the first to the second direction of `opening`,
/// or the whole turn.
fn in_order(mut points: Vec<StarPoint>, opening: Option<(Vector, Vector)>) -> Option<Vec<(usize, u16)>> {
    let (mut at, last) = match opening {
        Some(opening) => opening,
        None => points.first().map(|point| (point.start.clone(), point.start.clone()))?,
    };
    let mut ordered = Vec::with_capacity(points.len());
    while !points.is_empty() {
        let next = points.iter().position(|point| same_direction(&point.start, &at))?;
        let point = points.swap_remove(next);
        ordered.push((point.patch, point.shape));
        at = point.end;
    }
    same_direction(&at, &last).then_some(ordered)
}

fn same_direction(u: &Vector, v: &Vector) -> bool {
    u.cross(v).is_zero() && u.dot(v).is_positive()
}

/// Numbers for the shapes of star points: a patch's class, either hand, and its angle at the point.
#[derive(Default)]
struct Shapes(BTreeMap<(ShapeClass, Exact), u16>);

impl Shapes {
    /// The star points of a patch, by corner.
    fn star_points(&mut self, patch: usize, outline: &Polygon) -> Vec<(Point, StarPoint)> {
        let n = outline.corners().len();
        let mut found = Vec::new();
        for i in 0..n {
            let (start, end) = (outline.edge(i), -&outline.edge(i + n - 1));
            // An inner corner of over 180° is none; at the far ends of both edges the patch is wider than a right
            // angle, so that two neighbours leave a notch.
            let obtuse = |inward: &Vector, onward: &Vector| {
                inward.cross(onward).is_positive() && inward.dot(onward).is_positive()
            };
            let is_star_point = start.length_squared() == end.length_squared()
                && start.cross(&end).is_positive()
                && obtuse(&start, &outline.edge(i + 1))
                && obtuse(&outline.edge(i + n - 2), &outline.edge(i + n - 1));
            if is_star_point {
                let next = u16::try_from(self.0.len()).unwrap_or(u16::MAX);
                let class = ShapeClass::of(outline, None, &[]).either_hand();
                let shape = *self.0.entry((class, start.dot(&end))).or_insert(next);
                found.push((outline.corner(i).clone(), StarPoint { patch, shape, start, end }));
            }
        }
        found
    }
}

/// Which things are joined to each other.
pub(super) struct Joined(Vec<usize>);

impl Joined {
    pub(super) fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    pub(super) fn root(&mut self, mut thing: usize) -> usize {
        while self.0[thing] != thing {
            self.0[thing] = self.0[self.0[thing]];
            thing = self.0[thing];
        }
        thing
    }

    pub(super) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a.max(b)] = a.min(b);
    }
}
