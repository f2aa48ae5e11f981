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

/// A plan: strips cut across the fabric, tallest first. Lengths are lay units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuickPlan {
    /// Usable width of the fabric.
    pub width: i64,
    /// Length of fabric taken: the sum of the strip heights.
    pub length: i64,
    /// The strips, tallest first.
    pub strips: Vec<StripRun>,
}

/// Equal strips, one after the other along the fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripRun {
    /// Height of each strip in lay units.
    pub height: i64,
    /// How many equal strips.
    pub repeat: u64,
    /// What is cut from each.
    pub segments: Vec<Segment>,
}

/// One row of pieces in a strip, or in the free end of a strip cut for taller pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Segment {
    /// The kind of piece.
    pub piece: PieceId,
    /// Which of [`PreparedPiece::patterns`] the row follows.
    pub pattern: usize,
    /// Left end of the row, from the strip's left end, in lay units.
    pub start_x: i64,
    /// Lower edge of the row, from the strip's lower edge, in lay units; zero unless rows are stacked in a free end.
    pub start_y: i64,
    /// Pieces in the row.
    pub count: u64,
}

/// Plans strips for `pieces` on fabric `width` lay units wide.
///
/// # Errors
/// [`CutError::WidthOutOfRange`], [`CutError::ListedTwice`], [`CutError::TooWide`] for a piece with a count above
/// zero that no allowed orientation lets lie on the fabric, [`CutError::TooLong`] if the length exceeds
/// [`MAX_COORDINATE`].
pub fn quick(width: i64, pieces: &[(&PreparedPiece, u64)]) -> Result<QuickPlan, CutError> {
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
        for share in [false, true] {
            let draft = Draft::of(width, &kinds, &choice, share);
            if best.as_ref().is_none_or(|b| draft.score() < b.score()) {
                best = Some(draft);
            }
        }
        tried.push(choice);
    }
    best.map_or(Ok(QuickPlan { width, length: 0, strips: Vec::new() }), Draft::finish)
}

fn refuse_repeats(pieces: &[(&PreparedPiece, u64)]) -> Result<(), CutError> {
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
    fn best_in(&self, free: &Free) -> Option<(usize, u64)> {
        if free.width < self.least.0 || free.height < self.least.1 {
            return None;
        }
        let rows = self.patterns.iter().enumerate().filter(|(_, p)| p.strip_height() <= free.height);
        let fits = rows.map(|(i, p)| (i, p.capacity(free.width))).filter(|row| row.1 > 0);
        fits.reduce(|best, next| if next.1 > best.1 { next } else { best })
    }
}

/// A rectangle of a strip that nothing is cut from yet.
#[derive(Clone, Copy)]
struct Free {
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

/// A run of strips with its free rectangles.
#[derive(Clone)]
struct Open {
    run: StripRun,
    free: Vec<Free>,
}

impl Open {
    fn new(width: i64, height: i64, repeat: u64) -> Self {
        Self { run: StripRun { height, repeat, segments: Vec::new() }, free: vec![Free { x: 0, y: 0, width, height }] }
    }

    /// The same strips, `repeat` of them.
    fn part(&self, repeat: u64) -> Self {
        let run = StripRun { height: self.run.height, repeat, segments: self.run.segments.clone() };
        Self { run, free: self.free.clone() }
    }

    /// Cuts a row from the lower left of free rectangle `index`; what is right of it and above it stays free.
    fn cut(&mut self, index: usize, kind: &Kind<'_>, pattern: usize, count: u64) {
        let Free { x, y, width, height } = self.free[index];
        let row = &kind.patterns[pattern];
        let (used, tall) = (row.width_of(count), row.strip_height());
        self.run.segments.push(Segment { piece: kind.id, pattern, start_x: x, start_y: y, count });
        self.free[index] = Free { x: x + used, y, width: width - used, height: tall };
        if height > tall {
            self.free.push(Free { x, y: y + tall, width, height: height - tall });
        }
    }
}

/// One variant of the plan.
struct Draft {
    width: i64,
    open: Vec<Open>,
}

impl Draft {
    fn of(width: i64, kinds: &[Kind<'_>], choice: &[usize], share: bool) -> Self {
        let mut order: Vec<usize> = (0..kinds.len()).collect();
        order.sort_by_key(|&i| (-kinds[i].patterns[choice[i]].strip_height(), kinds[i].id));
        let mut draft = Self { width, open: Vec::with_capacity(2 * kinds.len()) };
        for i in order {
            let left = if share { draft.fill_free_ends(&kinds[i]) } else { kinds[i].count };
            draft.add_strips(&kinds[i], choice[i], left);
        }
        draft
    }

    /// Puts pieces where strips are free and gives back how many are left.
    fn fill_free_ends(&mut self, kind: &Kind<'_>) -> u64 {
        let mut left = kind.count;
        for at in 0..self.open.len() {
            let mut index = 0;
            while left > 0 && index < self.open[at].free.len() {
                if let Some((pattern, most)) = kind.best_in(&self.open[at].free[index]) {
                    left = self.fill(at, index, kind, (pattern, most), left);
                }
                index += 1;
            }
            if left == 0 {
                break;
            }
        }
        left
    }

    /// Cuts rows of `most` pieces from one free rectangle in each strip of a run, as long as pieces last. Strips that
    /// come out differently become runs of their own.
    fn fill(&mut self, at: usize, index: usize, kind: &Kind<'_>, (pattern, most): (usize, u64), left: u64) -> u64 {
        let repeat = self.open[at].run.repeat;
        let (full, rest) = (left / most, left % most);
        if full >= repeat {
            self.open[at].cut(index, kind, pattern, most);
            return left - repeat * most;
        }
        let untouched = repeat - full - u64::from(rest > 0);
        if untouched > 0 {
            let part = self.open[at].part(untouched);
            self.open.push(part);
        }
        if full > 0 && rest > 0 {
            let mut part = self.open[at].part(1);
            part.cut(index, kind, pattern, rest);
            self.open.push(part);
        }
        let (strips, each) = if full > 0 { (full, most) } else { (1, rest) };
        self.open[at].run.repeat = strips;
        self.open[at].cut(index, kind, pattern, each);
        0
    }

    /// Strips of its own for `left` pieces: full ones as one run, the rest in one more.
    fn add_strips(&mut self, kind: &Kind<'_>, main: usize, left: u64) {
        let (full, rest) = (left / kind.capacities[main], left % kind.capacities[main]);
        let mut add = |pattern: usize, repeat: u64, count: u64| {
            let mut strip = Open::new(self.width, kind.patterns[pattern].strip_height(), repeat);
            strip.cut(0, kind, pattern, count);
            self.open.push(strip);
        };
        if full > 0 {
            add(main, full, kind.capacities[main]);
        }
        if rest > 0 {
            add(kind.row_for_rest(main, rest), 1, rest);
        }
    }

    fn length(&self) -> i128 {
        self.open.iter().map(|o| i128::from(o.run.height) * i128::from(o.run.repeat)).sum()
    }

    /// Smaller is better: length, then segments to cut.
    fn score(&self) -> (i128, usize) {
        (self.length(), self.open.iter().map(|o| o.run.segments.len()).sum())
    }

    fn finish(self) -> Result<QuickPlan, CutError> {
        let length = i64::try_from(self.length()).ok().filter(|&l| l <= MAX_COORDINATE).ok_or(CutError::TooLong)?;
        let mut strips: Vec<StripRun> = self.open.into_iter().map(|o| o.run).collect();
        strips.sort_by_key(|s| -s.height);
        Ok(QuickPlan { width: self.width, length, strips })
    }
}
