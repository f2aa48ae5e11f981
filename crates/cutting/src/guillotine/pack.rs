//! Rectangles on fabric of a given width, by straight cuts, on the least length.

use std::collections::BTreeMap;

use super::Turning;
use super::anneal::{Found, Task, anneal};
use super::blocks::{Group, Outcome, Ready, search};
use super::curve::Shape;
use super::error::GuillotineError;
use super::pattern::{Content, Pattern, Slice};
use super::shelf::shelves;
use super::tree::Tree;
use crate::watch::Watch;

/// The most rectangles that are laid out one by one.
pub const MAX_RECTANGLES: u64 = 10_000;
/// Steps that are enough for some dozens of rectangles.
pub const DEFAULT_STEPS: u64 = 32_000_000;
/// Of the steps, one part in this many goes to patterns with little waste and to proofs.
const SHARE_OF_PROOFS: u64 = 8;

/// A kind of rectangle to be cut. Lengths in the unit of the fabric's width.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rectangle {
    /// Extent across the fabric.
    pub width: i64,
    /// Extent along the fabric.
    pub height: i64,
    /// Whether it may be turned.
    pub turning: Turning,
    /// How many are cut.
    pub count: u64,
}

/// Rectangles laid on fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packing {
    /// Length of fabric taken.
    pub height: i64,
    /// No guillotine pattern takes less than this.
    pub least: i64,
    /// Where the rectangles lie, and the cuts.
    pub pattern: Pattern,
    /// Steps of work done.
    pub steps: u64,
}

impl Packing {
    /// Whether no guillotine pattern takes less fabric.
    #[must_use]
    pub const fn is_proved_least(&self) -> bool {
        self.height <= self.least
    }
}

/// Lays all rectangles on fabric of the given width by guillotine cuts, on as little length as `steps` steps find.
///
/// The same input and number of steps give the same pattern. More steps are no promise of a better one, but the
/// pattern is valid after any number, also if the watch says stop.
///
/// # Errors
///
/// [`GuillotineError`] if a length is not positive, a rectangle is wider than the fabric however it may be turned,
/// there are more than [`MAX_RECTANGLES`], or areas leave 64 bits.
pub fn pack(width: i64, kinds: &[Rectangle], steps: u64, watch: &Watch) -> Result<Packing, GuillotineError> {
    let order = Order::new(width, kinds)?;
    if order.members.is_empty() {
        let pattern = Pattern { width, height: 0, placed: Vec::new(), cuts: Vec::new() };
        return Ok(Packing { height: 0, least: 0, pattern, steps: 0 });
    }
    watch.expect(steps);
    let mut proofs = Proofs { least: order.least, found: None, steps: 0 };
    proofs.run(&order, steps / SHARE_OF_PROOFS, watch);
    watch.advance(proofs.steps);
    let mut done = proofs.steps;
    let mut best = proofs.found.take();
    if best.as_ref().is_none_or(|(height, _)| *height > proofs.least) {
        let found = order.improve(proofs.least, steps.saturating_sub(done), watch).ok_or(GuillotineError::TooLarge)?;
        done += found.steps;
        if best.as_ref().is_none_or(|(height, _)| *height > found.height) {
            best = Some((found.height, found.slices));
        }
    }
    watch.advance(steps.saturating_sub(done));
    let (height, slices) = best.ok_or(GuillotineError::TooLarge)?;
    Ok(Packing { height, least: proofs.least, pattern: Pattern::new(width, height, &slices), steps: done })
}

/// Rectangles that can be laid.
struct Order<'a> {
    width: i64,
    kinds: &'a [Rectangle],
    /// The kind of each rectangle.
    members: Vec<usize>,
    area: i64,
    /// Height of all rectangles one above the other.
    tallest: i64,
    /// By area, and by the rectangle that takes most of the length.
    least: i64,
}

impl<'a> Order<'a> {
    fn new(width: i64, kinds: &'a [Rectangle]) -> Result<Self, GuillotineError> {
        if width <= 0 {
            return Err(GuillotineError::EmptyFabric { side: "width", length: width });
        }
        let mut order = Self { width, kinds, members: Vec::new(), area: 0, tallest: 0, least: 0 };
        let rectangles = kinds.iter().map(|k| k.count).fold(0, u64::saturating_add);
        for (kind, rectangle) in kinds.iter().enumerate() {
            let &Rectangle { width: across, height: along, count, .. } = rectangle;
            if across <= 0 || along <= 0 {
                return Err(GuillotineError::EmptyRectangle { kind, width: across, height: along });
            }
            let Some(shortest) = curve(width, rectangle).last().map(|shape| shape.height) else {
                return Err(GuillotineError::TooWide { kind, width: across, height: along, fabric: width });
            };
            if rectangles > MAX_RECTANGLES {
                return Err(GuillotineError::TooMany { rectangles, limit: MAX_RECTANGLES });
            }
            if count > 0 {
                order.least = order.least.max(shortest);
                order.add(kind, rectangle).ok_or(GuillotineError::TooLarge)?;
            }
        }
        order.least = order.least.max(order.area / width + i64::from(order.area % width > 0));
        Ok(order)
    }

    /// `None` if lengths or areas become too large.
    fn add(&mut self, kind: usize, rectangle: &Rectangle) -> Option<()> {
        let count = i64::try_from(rectangle.count).ok()?;
        let area = rectangle.width.checked_mul(rectangle.height)?.checked_mul(count)?;
        self.area = self.area.checked_add(area)?;
        let longer = rectangle.width.max(rectangle.height);
        self.tallest = self.tallest.checked_add(longer.checked_mul(count)?)?;
        // Room for what the search adds up and for its temperature.
        self.tallest.checked_mul(self.width)?.checked_mul(4)?;
        self.tallest.checked_mul(1 << 14)?;
        self.members.extend((0..count).map(|_| kind));
        Some(())
    }

    fn improve(&self, least: i64, steps: u64, watch: &Watch) -> Option<Found> {
        let rectangle = |leaf: usize| self.members.get(leaf).and_then(|kind| self.kinds.get(*kind));
        let given = |leaf: usize| {
            let shape = rectangle(leaf).map_or(Shape { width: 0, height: 0 }, Rectangle::shape);
            (self.members.get(leaf).copied().unwrap_or(0), shape)
        };
        let leaves: Vec<Vec<Shape>> =
            (0..self.members.len()).filter_map(rectangle).map(|r| curve(self.width, r)).collect();
        let lying: Vec<Shape> = leaves.iter().filter_map(|curve| curve.last().copied()).collect();
        let tree = Tree::new(leaves, &shelves(self.width, &lying))?;
        let count = i64::try_from(self.members.len()).ok()?;
        // A sixteenth of the side of a middling rectangle, in 1024ths: the best of what was tried on published problems.
        let temperature = (self.area / count).isqrt() * 1024 / 16;
        let task = Task { width: self.width, tallest: self.tallest, area: self.area, least, given: &given, watch };
        anneal(&task, tree, temperature, steps)
    }
}

impl Rectangle {
    const fn shape(&self) -> Shape {
        Shape { width: self.width, height: self.height }
    }
}

/// The ways to lay a rectangle on the fabric, narrowest first.
fn curve(fabric: i64, rectangle: &Rectangle) -> Vec<Shape> {
    let given = rectangle.shape();
    let turned = Shape { width: given.height, height: given.width };
    let turns = rectangle.turning == Turning::QuarterTurns && given != turned;
    let mut ways: Vec<Shape> = [Some(given), turns.then_some(turned)].into_iter().flatten().collect();
    ways.retain(|way| way.width <= fabric);
    ways.sort_unstable();
    ways
}

/// Patterns with little waste, and heights that are proved impossible.
struct Proofs {
    least: i64,
    found: Option<(i64, Vec<Slice>)>,
    steps: u64,
}

impl Proofs {
    /// Tries the least height, then more and more, then between what is impossible and what was found.
    fn run(&mut self, order: &Order<'_>, most: u64, watch: &Watch) {
        let (groups, mut members) = groups(order);
        let lowest = self.least;
        let ready = Ready::new(groups, order.width.max(lowest.saturating_mul(2)));
        let mut found = None;
        loop {
            let height = match &found {
                None => self.least + (self.least - lowest) / 2,
                Some((height, _)) if *height > self.least => self.least + (*height - self.least) / 2,
                Some(_) => break,
            };
            match search((order.width, height), &ready, &mut self.steps, most, watch) {
                Outcome::Found(slices) => found = slices.first().map(|whole| (whole.height, slices.clone())),
                Outcome::Impossible => self.least = height + 1,
                Outcome::Unknown => break,
            }
        }
        self.found = found.map(|(height, mut slices)| {
            for slice in &mut slices {
                if let Content::Piece { kind, turned } = &mut slice.content {
                    rename(order, &ready, &mut members, kind, turned);
                }
            }
            (height, slices)
        });
    }
}

/// Equal rectangles, and the kinds they come from.
fn groups(order: &Order<'_>) -> (Vec<Group>, Vec<Vec<usize>>) {
    let mut members: BTreeMap<(Shape, Turning), Vec<usize>> = BTreeMap::new();
    for &kind in &order.members {
        let Some(rectangle) = order.kinds.get(kind) else { continue };
        let mut shape = rectangle.shape();
        if rectangle.turning == Turning::QuarterTurns && shape.width > shape.height {
            shape = Shape { width: shape.height, height: shape.width };
        }
        members.entry((shape, rectangle.turning)).or_default().push(kind);
    }
    let group = |(&(shape, turning), kinds): (&(Shape, Turning), &Vec<usize>)| Group {
        shape,
        turning,
        count: kinds.len() as u64,
    };
    (members.iter().map(group).collect(), members.into_values().collect())
}

/// From a group to the next kind in it, and from how the group lies to how the kind does.
fn rename(order: &Order<'_>, ready: &Ready, members: &mut [Vec<usize>], kind: &mut usize, turned: &mut bool) {
    let group = *kind;
    let next = members.get_mut(group).and_then(Vec::pop);
    if let (Some(next), Some(group)) = (next, ready.group(group)) {
        *turned ^= order.kinds.get(next).is_some_and(|k| k.shape() != group.shape);
        *kind = next;
    }
}
