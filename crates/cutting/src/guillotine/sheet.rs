//! The most valuable guillotine pattern of one sheet, any number of each kind.

use super::Turning;
use super::error::GuillotineError;
use super::pattern::{Content, Pattern, Slice};
use super::points::{place_below, points};

/// The most places that a sheet may be cut at, in each direction.
pub const MAX_POINTS: usize = 4096;
/// The most sub-sheets that are looked at.
pub const MAX_CELLS: usize = 1 << 22;

/// A kind of rectangle and what one of it is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct SheetKind {
    /// Extent across the sheet.
    pub width: i64,
    /// Extent along the sheet.
    pub height: i64,
    /// What one is worth, more than zero.
    pub value: i64,
}

/// The best pattern of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetPlan {
    /// Its value: no guillotine pattern of the sheet is worth more.
    pub value: i64,
    /// The pattern.
    pub pattern: Pattern,
    /// Steps of work: pairs of sub-sheets compared.
    pub steps: u64,
}

/// The most valuable guillotine pattern of a sheet `width` × `height`, with any number of each kind.
///
/// Dynamic programming over the sub-sheets whose sides are discretisation points (Beasley 1985, Journal of the
/// Operational Research Society 36, 297–306), so the value is proved. At most `steps` pairs of sub-sheets are compared.
///
/// # Errors
///
/// [`GuillotineError`] if a length or value is not positive, if the sheet can be cut at more than [`MAX_POINTS`] places
/// one way or into more than [`MAX_CELLS`] sub-sheets, if the value leaves 64 bits, or if the steps run out.
/// Kinds that do not fit the sheet are left out.
pub fn sheet_value(
    width: i64,
    height: i64,
    kinds: &[SheetKind],
    turning: Turning,
    steps: u64,
) -> Result<SheetPlan, GuillotineError> {
    check(width, height, kinds)?;
    let ways = ways(width, height, kinds, turning);
    let too_many = GuillotineError::TooManyPoints { limit: MAX_POINTS };
    let sides = |side: fn(&Way) -> i64| ways.iter().map(side).collect::<Vec<i64>>();
    let xs = points(&sides(|way| way.width), width, MAX_POINTS).ok_or_else(|| too_many.clone())?;
    let ys = points(&sides(|way| way.height), height, MAX_POINTS).ok_or_else(|| too_many.clone())?;
    if xs.len().checked_mul(ys.len()).is_none_or(|cells| cells > MAX_CELLS) {
        return Err(too_many);
    }
    let mut table = Table { cells: vec![Cell::default(); xs.len() * ys.len()], xs, ys, steps: 0 };
    table.single(&ways);
    table.fill(steps)?;
    let slices = table.slices(&ways);
    let value = table.cells.last().map_or(0, |cell| cell.value);
    Ok(SheetPlan { value, pattern: Pattern::new(width, height, &slices), steps: table.steps })
}

fn check(width: i64, height: i64, kinds: &[SheetKind]) -> Result<(), GuillotineError> {
    for (side, length) in [("width", width), ("height", height)] {
        if length <= 0 {
            return Err(GuillotineError::EmptyFabric { side, length });
        }
    }
    for (kind, &SheetKind { width, height, value }) in kinds.iter().enumerate() {
        if width <= 0 || height <= 0 {
            return Err(GuillotineError::EmptyRectangle { kind, width, height });
        }
        if value <= 0 {
            return Err(GuillotineError::WorthNothing { kind, value });
        }
    }
    Ok(())
}

/// One way to lay one of a kind.
#[derive(Debug, Clone, Copy)]
struct Way {
    kind: usize,
    turned: bool,
    width: i64,
    height: i64,
    value: i64,
}

fn ways(width: i64, height: i64, kinds: &[SheetKind], turning: Turning) -> Vec<Way> {
    let both = kinds.iter().enumerate().flat_map(|(kind, k)| {
        let given = Way { kind, turned: false, width: k.width, height: k.height, value: k.value };
        let turned = Way { turned: true, width: k.height, height: k.width, ..given };
        let turns = turning == Turning::QuarterTurns && k.width != k.height;
        [Some(given), turns.then_some(turned)]
    });
    both.flatten().filter(|way| way.width <= width && way.height <= height).collect()
}

/// What is best in one sub-sheet.
#[derive(Debug, Clone, Copy, Default)]
struct Cell {
    value: i64,
    choice: Choice,
}

#[derive(Debug, Clone, Copy, Default)]
enum Choice {
    #[default]
    Waste,
    /// A place in the list of ways.
    Piece(u32),
    /// A lengthwise cut at a place in the list of `x`.
    Lengthwise(u32),
    /// A crosswise cut at a place in the list of `y`.
    Crosswise(u32),
}

/// All sub-sheets, those of equal height together.
struct Table {
    xs: Vec<i64>,
    ys: Vec<i64>,
    cells: Vec<Cell>,
    steps: u64,
}

impl Table {
    /// The best single piece of each sub-sheet.
    fn single(&mut self, ways: &[Way]) {
        let columns = self.xs.len();
        for (row, &height) in self.ys.iter().enumerate() {
            for (column, &width) in self.xs.iter().enumerate() {
                let fitting = (0..).zip(ways).filter(|(_, way)| way.width <= width && way.height <= height);
                let best = fitting.reduce(|best, next| if next.1.value > best.1.value { next } else { best });
                if let (Some((place, way)), Some(cell)) = (best, self.cells.get_mut(row * columns + column)) {
                    *cell = Cell { value: way.value, choice: Choice::Piece(place) };
                }
            }
        }
    }

    /// The best of each sub-sheet, from those of smaller ones.
    fn fill(&mut self, limit: u64) -> Result<(), GuillotineError> {
        for row in 1..self.ys.len() {
            for column in 1..self.xs.len() {
                let best = self.best(column, row)?;
                let columns = self.xs.len();
                if let Some(cell) = self.cells.get_mut(row * columns + column) {
                    *cell = best;
                }
            }
            if self.steps > limit {
                return Err(GuillotineError::StepsUsedUp { steps: limit });
            }
        }
        Ok(())
    }

    fn value(&self, column: usize, row: usize) -> i64 {
        self.cells.get(row * self.xs.len() + column).map_or(0, |cell| cell.value)
    }

    fn best(&mut self, column: usize, row: usize) -> Result<Cell, GuillotineError> {
        let mut best = self.cells.get(row * self.xs.len() + column).copied().unwrap_or_default();
        let mut better = |sum: Option<i64>, choice: Choice| -> Result<(), GuillotineError> {
            let value = sum.ok_or(GuillotineError::TooLarge)?;
            if value > best.value {
                best = Cell { value, choice };
            }
            Ok(())
        };
        let mut steps = 0;
        for (place, first, second) in halves(&self.xs, column) {
            let sum = self.value(first, row).checked_add(self.value(second, row));
            better(sum, Choice::Lengthwise(place))?;
            steps += 1;
        }
        for (place, first, second) in halves(&self.ys, row) {
            let sum = self.value(column, first).checked_add(self.value(column, second));
            better(sum, Choice::Crosswise(place))?;
            steps += 1;
        }
        self.steps += steps;
        Ok(best)
    }

    /// The pattern behind the last cell.
    fn slices(&self, ways: &[Way]) -> Vec<Slice> {
        let mut slices: Vec<Slice> = Vec::new();
        let waste = Slice { width: 0, height: 0, content: Content::Waste };
        slices.push(waste);
        let mut waiting = vec![(0, self.xs.len() - 1, self.ys.len() - 1)];
        while let Some((slot, column, row)) = waiting.pop() {
            let (Some(&width), Some(&height)) = (self.xs.get(column), self.ys.get(row)) else { continue };
            let cell = self.cells.get(row * self.xs.len() + column).copied().unwrap_or_default();
            let parts = (slices.len(), slices.len() + 1);
            let slice = match cell.choice {
                Choice::Waste => Slice { width, height, content: Content::Waste },
                Choice::Piece(place) => ways.get(place as usize).map_or(waste, Way::slice),
                Choice::Lengthwise(place) => {
                    let (first, second) = parted(&self.xs, column, place);
                    waiting.extend([(parts.0, first, row), (parts.1, second, row)]);
                    Slice { width, height, content: Content::Beside(parts.0, parts.1) }
                }
                Choice::Crosswise(place) => {
                    let (first, second) = parted(&self.ys, row, place);
                    waiting.extend([(parts.0, column, first), (parts.1, column, second)]);
                    Slice { width, height, content: Content::Above(parts.0, parts.1) }
                }
            };
            if matches!(slice.content, Content::Beside(..) | Content::Above(..)) {
                slices.extend([waste, waste]);
            }
            if let Some(free) = slices.get_mut(slot) {
                *free = slice;
            }
        }
        slices
    }
}

impl Way {
    const fn slice(&self) -> Slice {
        let content = Content::Piece { kind: self.kind, turned: self.turned };
        Slice { width: self.width, height: self.height, content }
    }
}

/// The cuts of the length at `last` into a first part of at most half and the largest point that fits in the rest:
/// the place of the cut, that of the first part (the same), and that of the second.
fn halves(points: &[i64], last: usize) -> impl Iterator<Item = (u32, usize, usize)> {
    let whole = points.get(last).copied().unwrap_or(0);
    let mut rest = last;
    (0..).zip(0..).zip(points).skip(1).take_while(move |(_, point)| **point <= whole / 2).map(
        move |((place, first), point)| {
            while points.get(rest).is_some_and(|below| *below > whole - point) {
                rest -= 1;
            }
            (place, first, rest)
        },
    )
}

fn parted(points: &[i64], last: usize, place: u32) -> (usize, usize) {
    let first = place as usize;
    let at = |place: usize| points.get(place).copied().unwrap_or(0);
    (first, place_below(points, at(last) - at(first)))
}
