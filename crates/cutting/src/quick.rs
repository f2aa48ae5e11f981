//! Strips and their subcuts from piece counts.
//!
//! The plan is a pure function of the counts: its cost depends on how many kinds of piece there are, not on how many
//! of each. Pieces are taken by strip height, tallest first. What is left of a kind after the free ends of earlier
//! strips are filled gets strips of its own, equal ones kept as one run. A few fixed variants (which row to cut,
//! whether kinds share strips) are planned and the shortest is kept; of equally short ones, the one with the fewest
//! segments, which is the least cutting.

use geometry::lay::MAX_COORDINATE;

use crate::error::CutError;
use crate::piece::{PieceId, PreparedPiece};
use crate::rounding::{Direction, decimal_inches};
use crate::row::RowPattern;
use crate::strip_plan::{Segment, StripPlan, StripRun};

/// Plans strips for `pieces` on fabric `width` lay units wide.
///
/// # Errors
/// [`CutError::WidthOutOfRange`], [`CutError::ListedTwice`], [`CutError::TooWide`] for a piece with a count above
/// zero that no allowed orientation lets lie on the fabric, [`CutError::TooLong`] if the length exceeds
/// [`MAX_COORDINATE`].
pub fn quick(width: i64, pieces: &[(&PreparedPiece, u64)]) -> Result<StripPlan, CutError> {
    if !(1..=MAX_COORDINATE).contains(&width) {
        return Err(CutError::WidthOutOfRange { width: decimal_inches(width, Direction::Down) });
    }
    refuse_repeats(pieces)?;
    let kinds: Vec<Kind<'_>> =
        pieces.iter().filter(|p| p.1 > 0).map(|&(p, n)| Kind::new(p, n, width)).collect::<Result<_, _>>()?;

    let mut best: Option<Draft> = None;
    let mut tried: Vec<Vec<usize>> = Vec::new();
    for rule in [RowRule::LeastFabric, RowRule::FewestWholeStrips, RowRule::LowestStrip] {
        let choice: Vec<usize> = kinds.iter().map(|k| k.choose(rule)).collect();
        if tried.contains(&choice) {
            continue;
        }
        let mut offer = |draft: Draft| match &best {
            Some(kept) if kept.score() <= draft.score() => kept.score().0,
            _ => best.insert(draft).score().0,
        };
        let shortest = offer(Draft::of(width, &kinds, &choice, true));
        // Strips of one kind each are never shorter, but when they are as short they are less to cut.
        if unshared_length(&kinds, &choice) <= shortest {
            offer(Draft::of(width, &kinds, &choice, false));
        }
        tried.push(choice);
    }
    best.map_or(Ok(StripPlan { width, length: 0, strips: Vec::new() }), Draft::finish)
}

pub(crate) fn refuse_repeats(pieces: &[(&PreparedPiece, u64)]) -> Result<(), CutError> {
    let mut ids: Vec<PieceId> = pieces.iter().map(|p| p.0.id()).collect();
    ids.sort_unstable();
    match ids.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(pair) => Err(CutError::ListedTwice { piece: pair[0] }),
        None => Ok(()),
    }
}

/// Which row a kind is cut in when it gets strips of its own.
#[derive(Clone, Copy)]
enum RowRule {
    /// Least strip height per piece in full strips.
    LeastFabric,
    /// Least height of all whole strips needed.
    FewestWholeStrips,
    /// Least strip height.
    LowestStrip,
}

/// A kind of piece to plan, with what its rows hold in a full strip.
struct Kind<'a> {
    id: PieceId,
    count: u64,
    patterns: &'a [RowPattern],
    capacities: Vec<u64>,
    /// No row of this kind is narrower or lower than this.
    least: (i64, i64),
}

impl<'a> Kind<'a> {
    fn new(prepared: &'a PreparedPiece, count: u64, width: i64) -> Result<Self, CutError> {
        let patterns = prepared.patterns();
        let capacities: Vec<u64> = patterns.iter().map(|p| p.capacity(width)).collect();
        if capacities.iter().all(|&c| c == 0) {
            let bounds = prepared.bounds();
            return Err(CutError::TooWide {
                piece: prepared.id(),
                piece_width: decimal_inches(bounds.width(), Direction::Up),
                piece_height: decimal_inches(bounds.height(), Direction::Up),
                width: decimal_inches(width, Direction::Down),
            });
        }
        let least_width = patterns.iter().map(RowPattern::first_width).min().unwrap_or(0);
        let least_height = patterns.iter().map(RowPattern::strip_height).min().unwrap_or(0);
        Ok(Self { id: prepared.id(), count, patterns, capacities, least: (least_width, least_height) })
    }

    /// The rows that fit on the fabric: index, height, pieces in a full strip.
    fn usable(&self) -> impl Iterator<Item = (usize, i64, u64)> + '_ {
        let rows = self.patterns.iter().zip(&self.capacities).enumerate();
        rows.filter(|(_, (_, c))| **c > 0).map(|(i, (p, c))| (i, p.strip_height(), *c))
    }

    fn choose(&self, rule: RowRule) -> usize {
        let by_height = |a: i64, b: u64| i128::from(a) * i128::from(b);
        let better = |a: (usize, i64, u64), b: (usize, i64, u64)| match rule {
            RowRule::LeastFabric => by_height(a.1, b.2) < by_height(b.1, a.2),
            RowRule::FewestWholeStrips => {
                by_height(a.1, self.count.div_ceil(a.2)) < by_height(b.1, self.count.div_ceil(b.2))
            }
            RowRule::LowestStrip => a.1 < b.1,
        };
        self.usable().reduce(|best, next| if better(next, best) { next } else { best }).map_or(0, |row| row.0)
    }

    /// The row for the last `count` pieces, fewer than a full strip of row `main`: the lowest that holds them.
    fn row_for_rest(&self, main: usize, count: u64) -> usize {
        let enough = self.usable().filter(|row| row.2 >= count);
        enough.min_by_key(|row| (row.1, self.patterns[row.0].width_of(count))).map_or(main, |row| row.0)
    }

    /// The row that puts most pieces in a free rectangle, with how many.
    fn best_in(&self, free: &Free, strip_width: i64) -> Option<(usize, u64)> {
        if free.width < self.least.0 || free.height < self.least.1 {
            return None;
        }
        let rows = self.patterns.iter().enumerate().filter(|(_, p)| p.strip_height() <= free.height);
        let fit = |p: &RowPattern| {
            if free.width == strip_width { p.capacity(free.width) } else { p.capacity_in_part(free.width) }
        };
        let fits = rows.map(|(i, p)| (i, fit(p))).filter(|row| row.1 > 0);
        fits.reduce(|best, next| if next.1 > best.1 { next } else { best })
    }
}

/// A rectangle that nothing is cut from yet, in each strip of a run.
#[derive(Clone, Copy)]
struct Free {
    run: usize,
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

/// The length when no strip is shared between kinds.
fn unshared_length(kinds: &[Kind<'_>], choice: &[usize]) -> i128 {
    let own = |kind: &Kind<'_>, main: usize| {
        let (full, rest) = (kind.count / kind.capacities[main], kind.count % kind.capacities[main]);
        let height = |row: usize| i128::from(kind.patterns[row].strip_height());
        height(main) * i128::from(full) + if rest > 0 { height(kind.row_for_rest(main, rest)) } else { 0 }
    };
    kinds.iter().zip(choice).map(|(kind, &main)| own(kind, main)).sum()
}

/// For each kind in `order`, the least row width and height of it and all kinds after it.
fn smallest_to_come(kinds: &[Kind<'_>], order: &[usize]) -> Vec<(i64, i64)> {
    let mut floors = vec![(i64::MAX, i64::MAX); order.len()];
    let mut least = (i64::MAX, i64::MAX);
    for (floor, &i) in floors.iter_mut().zip(order).rev() {
        least = (least.0.min(kinds[i].least.0), least.1.min(kinds[i].least.1));
        *floor = least;
    }
    floors
}

/// One variant of the plan: runs of strips, and where they are free.
struct Draft {
    width: i64,
    runs: Vec<StripRun>,
    free: Vec<Free>,
}

impl Draft {
    fn of(width: i64, kinds: &[Kind<'_>], choice: &[usize], share: bool) -> Self {
        let mut order: Vec<usize> = (0..kinds.len()).collect();
        order.sort_by_key(|&i| (-kinds[i].patterns[choice[i]].strip_height(), kinds[i].id));
        let floors = smallest_to_come(kinds, &order);
        let room = 2 * kinds.len();
        let mut draft = Self { width, runs: Vec::with_capacity(room), free: Vec::with_capacity(room) };
        for (i, floor) in order.into_iter().zip(floors) {
            let left = if share { draft.fill_free_ends(&kinds[i], floor) } else { kinds[i].count };
            draft.add_strips(&kinds[i], choice[i], left);
        }
        draft
    }

    /// Puts pieces where strips are free and gives back how many are left.
    ///
    /// Rectangles too small for `floor`, the least of this kind and all after it, are forgotten on the way.
    fn fill_free_ends(&mut self, kind: &Kind<'_>, floor: (i64, i64)) -> u64 {
        self.free.retain(|f| f.width >= floor.0 && f.height >= floor.1);
        let mut left = kind.count;
        let mut index = 0;
        while left > 0 && index < self.free.len() {
            if let Some((pattern, most)) = kind.best_in(&self.free[index], self.width) {
                left = self.fill(index, kind, (pattern, most), left);
            }
            index += 1;
        }
        left
    }

    /// Cuts rows of `most` pieces from one free rectangle in each strip of a run, as long as pieces last, and gives
    /// back how many are left. Strips that come out differently become runs of their own.
    fn fill(&mut self, index: usize, kind: &Kind<'_>, (pattern, most): (usize, u64), left: u64) -> u64 {
        let run = self.free[index].run;
        let repeat = self.runs[run].repeat;
        let (full, rest) = (left / most, left % most);
        if full >= repeat {
            self.cut(index, kind, pattern, most);
            return left - repeat * most;
        }
        let untouched = repeat - full - u64::from(rest > 0);
        if untouched > 0 {
            self.split_off(index, untouched);
        }
        if full > 0 && rest > 0 {
            let last = self.split_off(index, 1);
            self.cut(last, kind, pattern, rest);
        }
        let (strips, each) = if full > 0 { (full, most) } else { (1, rest) };
        self.runs[run].repeat = strips;
        self.cut(index, kind, pattern, each);
        0
    }

    /// Adds a run like that of free rectangle `index`, with `repeat` strips, and gives back the same rectangle there.
    fn split_off(&mut self, index: usize, repeat: u64) -> usize {
        let (run, copy) = (self.free[index].run, self.runs.len());
        let StripRun { height, ref segments, .. } = self.runs[run];
        let segments = segments.clone();
        self.runs.push(StripRun { height, repeat, segments });
        let mut same = index;
        for i in 0..self.free.len() {
            if self.free[i].run == run {
                if i == index {
                    same = self.free.len();
                }
                self.free.push(Free { run: copy, ..self.free[i] });
            }
        }
        same
    }

    /// Cuts a row from the lower left of free rectangle `index`; what is right of it and above it stays free.
    fn cut(&mut self, index: usize, kind: &Kind<'_>, pattern: usize, count: u64) {
        let Free { run, x, y, width, height } = self.free[index];
        let row = &kind.patterns[pattern];
        // A row over the whole strip ends where the strip does.
        let (used, tall) = (row.room_of(count).min(width), row.strip_height());
        self.runs[run].segments.push(Segment { piece: kind.id, pattern, start_x: x, start_y: y, count });
        self.free[index] = Free { run, x: x + used, y, width: width - used, height: tall };
        if height > tall {
            self.free.push(Free { run, x, y: y + tall, width, height: height - tall });
        }
    }

    /// Strips of its own for `left` pieces: full ones as one run, the rest in one more.
    fn add_strips(&mut self, kind: &Kind<'_>, main: usize, left: u64) {
        let (full, rest) = (left / kind.capacities[main], left % kind.capacities[main]);
        let mut add = |pattern: usize, repeat: u64, count: u64| {
            let height = kind.patterns[pattern].strip_height();
            self.free.push(Free { run: self.runs.len(), x: 0, y: 0, width: self.width, height });
            self.runs.push(StripRun { height, repeat, segments: Vec::new() });
            self.cut(self.free.len() - 1, kind, pattern, count);
        };
        if full > 0 {
            add(main, full, kind.capacities[main]);
        }
        if rest > 0 {
            add(kind.row_for_rest(main, rest), 1, rest);
        }
    }

    fn length(&self) -> i128 {
        self.runs.iter().map(|r| i128::from(r.height) * i128::from(r.repeat)).sum()
    }

    /// Smaller is better: length, then segments to cut.
    fn score(&self) -> (i128, usize) {
        (self.length(), self.runs.iter().map(|r| r.segments.len()).sum())
    }

    fn finish(mut self) -> Result<StripPlan, CutError> {
        let length = i64::try_from(self.length()).ok().filter(|&l| l <= MAX_COORDINATE).ok_or(CutError::TooLong)?;
        self.runs.sort_by_key(|r| -r.height);
        Ok(StripPlan { width: self.width, length, strips: self.runs })
    }
}
