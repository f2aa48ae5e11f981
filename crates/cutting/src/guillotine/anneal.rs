//! Search among groupings by simulated annealing.
//!
//! Wong and Liu 1986, "A new algorithm for floorplan design", Design Automation Conference, 101–107: parts of a slicing
//! tree change places, and a worse tree is taken with a chance that falls as the search cools.

use super::curve::{Rules, Shape};
use super::pattern::Slice;
use super::random::Random;
use super::tree::{Move, Tree, Undo};
use crate::watch::Watch;

/// Temperature falls in this many stages, each time to 247/256, all in all to a tenth.
const STAGES: u64 = 64;
/// Moves between looks at the clock of steps.
const MOVES: u32 = 64;
/// Shapes kept of each part.
const SHAPES: usize = 40;
/// Chance of a move worse by more than this many temperatures is below one in four hundred: such patterns are cut off.
const WORSE: i64 = 6;

/// What the search needs to know of the rectangles.
pub(super) struct Task<'a> {
    pub(super) width: i64,
    /// Height of all rectangles one above the other.
    pub(super) tallest: i64,
    pub(super) area: i64,
    /// Height that no pattern is below.
    pub(super) least: i64,
    /// Kind and given shape of each leaf.
    pub(super) given: &'a dyn Fn(usize) -> (usize, Shape),
    pub(super) watch: &'a Watch,
}

/// The best pattern found, its root first, and the steps taken.
pub(super) struct Found {
    pub(super) height: i64,
    pub(super) slices: Vec<Slice>,
    pub(super) steps: u64,
}

/// Improves the grouping for a number of steps, or until the height is least or the watch says stop.
pub(super) fn anneal(task: &Task<'_>, mut tree: Tree, temperature: i64, steps: u64) -> Option<Found> {
    let open = Rules { width: task.width, height: task.tallest, waste: i64::MAX, per_mille: i64::MAX, shapes: SHAPES };
    let begun = tree.refresh(&open);
    task.watch.advance(begun);
    let height = tree.height()?;
    let best = Found { height, slices: tree.slices(task.given)?, steps: begun };
    let mut search = Search {
        task,
        temperature,
        rules: open,
        current: height,
        best,
        random: Random::new(),
        undo: Undo::default(),
        tree,
    };
    search.run(temperature, steps);
    Some(search.best)
}

struct Search<'a> {
    task: &'a Task<'a>,
    tree: Tree,
    current: i64,
    best: Found,
    /// In 1024ths of a length.
    temperature: i64,
    rules: Rules,
    random: Random,
    undo: Undo,
}

impl Search<'_> {
    fn run(&mut self, hot: i64, steps: u64) {
        let mut stage = 0;
        self.temperature = hot;
        let begun = self.best.steps;
        while self.best.steps < steps && self.best.height > self.task.least && !self.task.watch.is_stopped() {
            let due = (self.best.steps - begun).saturating_mul(STAGES) / (steps - begun).max(1);
            while stage < due {
                self.temperature = self.temperature / 256 * 247 + self.temperature % 256 * 247 / 256;
                stage += 1;
            }
            self.limit(stage);
            let before = self.best.steps;
            for _ in 0..MOVES {
                self.step();
            }
            self.task.watch.advance(self.best.steps - before);
        }
    }

    /// Parts must be the fuller the cooler it is, and never so wasteful that the whole could not be taken.
    fn limit(&mut self, stage: u64) {
        let height = self.current.saturating_add(self.temperature * WORSE / 1024 + 1).min(self.task.tallest);
        let whole =
            i128::from(self.task.width) * i128::from(self.best.height) * 1000 / i128::from(self.task.area.max(1));
        let whole = i64::try_from(whole).unwrap_or(i64::MAX / 4);
        let loose = 400 - 1200 * i64::try_from(stage).unwrap_or(0) / 64;
        self.rules.height = height;
        self.rules.waste = self.task.width.saturating_mul(height).saturating_sub(self.task.area);
        self.rules.per_mille = whole + 50 + loose.max(0);
    }

    fn step(&mut self) {
        let size = self.tree.size();
        let (u, v) = (self.random.below(size), self.random.below(size));
        let change = if self.random.below(2) == 0 { Move::Swap(u, v) } else { Move::Graft(u, v) };
        self.best.steps += 1;
        if !self.tree.allows(change) {
            return;
        }
        let (steps, left) = self.tree.apply(change, &self.rules, &mut self.undo);
        self.best.steps += steps;
        match self.tree.height().filter(|height| left && self.takes(*height)) {
            Some(height) => {
                Tree::keep(&mut self.undo);
                self.current = height;
                self.note(height);
            }
            None => self.tree.revert(&mut self.undo),
        }
    }

    fn takes(&mut self, height: i64) -> bool {
        let worse = i128::from(height) - i128::from(self.current);
        worse <= 0 || worse << 20 <= i128::from(self.temperature) * i128::from(self.random.exponential())
    }

    fn note(&mut self, height: i64) {
        if height < self.best.height
            && let Some(slices) = self.tree.slices(self.task.given)
        {
            self.best.height = height;
            self.best.slices = slices;
        }
    }
}
