//! Divides a rectangle with blocks in it by straight seams from edge to edge, so that every part is a block or filler.
//!
//! A seam may run wherever it cuts no block. Any such seam can be sewn last without spoiling the others: what divides
//! the blocks of the whole divides those on either side of it too. So no choice of seam leads into a dead end, and where
//! none is left there is none. What is chosen is the number and length of fillers: of all ways to divide up to
//! [`SEARCHED`] blocks the one with the fewest fillers, then with the shortest seams; among more blocks first the
//! margins, then the seam that leaves as many blocks on either side.
//!
//! Coordinates are numbers of lines: everything that matters happens on the edges of blocks.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::set_in;

/// The most blocks that are divided in every way there is.
const SEARCHED: usize = 7;

/// A rectangle between lines: first and last upright line, first and last level one from below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Span {
    pub(super) x: [u16; 2],
    pub(super) y: [u16; 2],
}

impl Span {
    /// From and to along one direction: level lines lie one above the other.
    pub(super) const fn across(self, level: bool) -> [u16; 2] {
        if level { self.y } else { self.x }
    }

    /// The parts below and above a level line, or left and right of an upright one.
    const fn split(self, line: Line) -> (Self, Self) {
        let (mut first, mut second) = (self, self);
        if line.level {
            first.y[1] = line.at;
            second.y[0] = line.at;
        } else {
            first.x[1] = line.at;
            second.x[0] = line.at;
        }
        (first, second)
    }

    /// Whether the two have more than edges in common.
    pub(super) fn overlaps(self, other: Self) -> bool {
        [true, false].into_iter().all(|level| {
            let (a, b) = (self.across(level), other.across(level));
            a[0] < b[1] && b[0] < a[1]
        })
    }
}

/// A block by its number, and where it stands.
pub(super) type Standing = (usize, Span);

/// A straight seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Line {
    level: bool,
    at: u16,
}

/// A part of the whole.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub(super) span: Span,
    pub(super) made: Made,
}

/// What a part is made of.
#[derive(Debug, Clone)]
pub(super) enum Made {
    /// A block.
    Block(usize),
    /// Filler.
    Filler,
    /// Parts from the top.
    Stack(Vec<Part>),
    /// Parts from the left.
    Row(Vec<Part>),
    /// Parts that no straight seam divides.
    SetIn(Vec<Part>),
}

/// The part that holds two, one above the other or side by side, their own parts joined to it where they run alike.
pub(super) fn joined(level: bool, first: Part, second: Part) -> Part {
    let span = Span { x: [first.span.x[0], second.span.x[1]], y: [first.span.y[0], second.span.y[1]] };
    let loose = |part: Part| match part.made {
        Made::Stack(parts) if level => parts,
        Made::Row(parts) if !level => parts,
        _ => vec![part],
    };
    // Stacks count from the top.
    let (before, after) = if level { (second, first) } else { (first, second) };
    let mut parts = loose(before);
    parts.extend(loose(after));
    Part { span, made: if level { Made::Stack(parts) } else { Made::Row(parts) } }
}

/// What a division costs: fillers, then inches of seam, of which only the order matters.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Cost(usize, f64);

impl Cost {
    fn plus(self, other: Self) -> Self {
        Self(self.0 + other.0, self.1 + other.1)
    }

    fn order(self, other: Self) -> Ordering {
        self.0.cmp(&other.0).then(self.1.total_cmp(&other.1))
    }
}

/// Where the lines lie in inches, near enough to compare lengths.
#[derive(Debug, Clone)]
pub(super) struct Inches {
    pub(super) x: Vec<f64>,
    pub(super) y: Vec<f64>,
}

impl Inches {
    fn length(&self, span: Span, level: bool) -> f64 {
        let (of, [from, to]) = if level { (&self.x, span.x) } else { (&self.y, span.y) };
        let at = |line: u16| of.get(usize::from(line)).copied().unwrap_or(0.0);
        at(to) - at(from)
    }
}

/// Divides rectangles.
#[derive(Debug)]
pub(super) struct Divider {
    inches: Inches,
    known: BTreeMap<Span, (Cost, Option<Line>)>,
}

impl Divider {
    pub(super) const fn new(inches: Inches) -> Self {
        Self { inches, known: BTreeMap::new() }
    }

    /// `span` with `blocks` in it, which do not overlap.
    pub(super) fn divide(&mut self, span: Span, blocks: &[Standing]) -> Part {
        match blocks {
            [] => return Part { span, made: Made::Filler },
            [(number, own)] if *own == span => return Part { span, made: Made::Block(*number) },
            _ => {}
        }
        let Some(line) = self.choose(span, blocks) else { return set_in::fill(span, blocks) };
        let (first, second) = span.split(line);
        let (below, above) = shared_out(blocks, line);
        let first = self.divide(first, &below);
        let second = self.divide(second, &above);
        joined(line.level, first, second)
    }

    fn choose(&mut self, span: Span, blocks: &[Standing]) -> Option<Line> {
        if blocks.len() <= SEARCHED {
            return self.search(span, blocks).1;
        }
        self.margin(span, blocks).or_else(|| self.middle(span, blocks))
    }

    /// The least cost, and the seam that leads to it.
    fn search(&mut self, span: Span, blocks: &[Standing]) -> (Cost, Option<Line>) {
        match blocks {
            [] => return (Cost(1, 0.0), None),
            [(_, own)] if *own == span => return (Cost(0, 0.0), None),
            _ => {}
        }
        if let Some(known) = self.known.get(&span) {
            return *known;
        }
        let mut best: Option<(Cost, Line)> = None;
        for line in lines(span, blocks) {
            let (first, second) = span.split(line);
            let (below, above) = shared_out(blocks, line);
            let both = self.search(first, &below).0.plus(self.search(second, &above).0);
            let cost = both.plus(Cost(0, self.inches.length(span, line.level)));
            if best.is_none_or(|(least, _)| cost.order(least) == Ordering::Less) {
                best = Some((cost, line));
            }
        }
        // Where no seam divides the blocks, none does in any other division either: the cost is the same for all.
        let found = best.map_or((Cost(0, 0.0), None), |(cost, line)| (cost, Some(line)));
        self.known.insert(span, found);
        found
    }

    /// The longest margin: a seam with all blocks on one side of it.
    fn margin(&self, span: Span, blocks: &[Standing]) -> Option<Line> {
        let sides = [(true, 1), (true, 0), (false, 0), (false, 1)];
        let line = |(level, end): (bool, usize)| {
            let edges = blocks.iter().map(|(_, own)| own.across(level)[end]);
            let at = if end == 0 { edges.min() } else { edges.max() }?;
            (at != span.across(level)[end]).then_some(Line { level, at })
        };
        let length = |line: &Line| self.inches.length(span, line.level);
        // The first of equals.
        sides.into_iter().filter_map(line).rev().max_by(|a, b| length(a).total_cmp(&length(b)))
    }

    /// The seam that leaves as many blocks on either side as can be; the shortest of equals.
    fn middle(&self, span: Span, blocks: &[Standing]) -> Option<Line> {
        let unequal = |line: &Line| {
            let below = blocks.iter().filter(|(_, own)| own.across(line.level)[1] <= line.at).count();
            below.abs_diff(blocks.len() - below)
        };
        let length = |line: &Line| self.inches.length(span, line.level);
        let all = lines(span, blocks).into_iter().map(|line| (unequal(&line), line));
        all.min_by(|a, b| a.0.cmp(&b.0).then(length(&a.1).total_cmp(&length(&b.1)))).map(|(_, line)| line)
    }
}

/// Seams along edges of blocks that cut none, level ones first.
fn lines(span: Span, blocks: &[Standing]) -> Vec<Line> {
    let mut found = Vec::new();
    for level in [true, false] {
        let [from, to] = span.across(level);
        let mut edges: Vec<[u16; 2]> = blocks.iter().map(|(_, own)| own.across(level)).collect();
        edges.sort_unstable();
        let mut reached = from;
        for [start, end] in edges {
            // Between what has been reached and the next block nothing stands.
            if start >= reached {
                found.extend([reached, start].map(|at| Line { level, at }));
            }
            reached = reached.max(end);
        }
        found.push(Line { level, at: reached });
        found.retain(|line| line.level != level || (from < line.at && line.at < to));
    }
    found.dedup();
    found
}

/// The blocks on either side of a seam.
fn shared_out(blocks: &[Standing], line: Line) -> (Vec<Standing>, Vec<Standing>) {
    blocks.iter().partition(|(_, own)| own.across(line.level)[1] <= line.at)
}
