//! Shape curves: the least extents that hold a part of a pattern, over all ways to turn and join what is in it.
//!
//! Stockmeyer 1983, "Optimal orientations of cells in slicing floorplan designs", Information and Control 57, 91–101.

/// One way to hold a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Shape {
    pub(super) width: i64,
    pub(super) height: i64,
}

/// Which shapes are kept.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// No wider than the fabric.
    pub(super) width: i64,
    /// No taller than this.
    pub(super) height: i64,
    /// No larger than this.
    pub(super) area: i64,
    /// No more than this many, those of least area.
    pub(super) shapes: usize,
}

/// Limits for the parts of a pattern.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rules {
    /// Width of the fabric.
    pub(super) width: i64,
    /// Length of fabric beyond which no pattern is wanted.
    pub(super) height: i64,
    /// The most area that may be wasted in any part, and so in the whole.
    pub(super) waste: i64,
    /// The most that a part may be larger than the rectangles in it, in thousandths of these.
    pub(super) per_mille: i64,
    /// The most shapes that are kept of a part.
    pub(super) shapes: usize,
}

impl Rules {
    /// The limits of a part whose rectangles have the given area.
    pub(super) fn limits(&self, area: i64, is_whole: bool) -> Limits {
        let relative = i128::from(area) * i128::from(self.per_mille) / 1000;
        let relative = i64::try_from(relative).unwrap_or(i64::MAX);
        let most = if is_whole { i64::MAX } else { relative.min(area.saturating_add(self.waste)) };
        Limits { width: self.width, height: self.height, area: most, shapes: self.shapes }
    }
}

/// Room for the work on one curve, kept to be used again.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    beside: Vec<Shape>,
    above: Vec<Shape>,
    areas: Vec<i64>,
}

/// Writes to `out` the curve of two parts joined side by side or one above the other: widths rise, heights fall.
/// Returns the steps taken.
pub(super) fn join(
    first: &[Shape],
    second: &[Shape],
    limits: &Limits,
    scratch: &mut Scratch,
    out: &mut Vec<Shape>,
) -> u64 {
    beside(first, second, limits, &mut scratch.beside);
    above(first, second, limits, &mut scratch.above);
    merge(&scratch.beside, &scratch.above, limits.area, out);
    if out.len() > limits.shapes && limits.shapes > 0 {
        scratch.areas.clear();
        scratch.areas.extend(out.iter().map(|s| s.width * s.height));
        let (_, worst, _) = scratch.areas.select_nth_unstable(limits.shapes - 1);
        out.retain(|s| s.width * s.height <= *worst);
    }
    2 + (scratch.beside.len() + scratch.above.len()) as u64
}

/// From the narrowest and tallest on: whichever part is taller takes its next lower shape.
fn beside(first: &[Shape], second: &[Shape], limits: &Limits, out: &mut Vec<Shape>) {
    out.clear();
    let (mut a, mut b) = (first.iter(), second.iter());
    let (mut left, mut right) = (a.next(), b.next());
    while let (Some(l), Some(r)) = (left, right) {
        let width = l.width + r.width;
        if width > limits.width {
            return;
        }
        let height = l.height.max(r.height);
        if height <= limits.height {
            out.push(Shape { width, height });
        }
        if l.height >= r.height {
            left = a.next();
        } else {
            right = b.next();
        }
    }
}

/// From the widest and lowest on: whichever part is wider takes its next narrower shape. Widths fall.
fn above(first: &[Shape], second: &[Shape], limits: &Limits, out: &mut Vec<Shape>) {
    out.clear();
    let (mut a, mut b) = (first.iter().rev(), second.iter().rev());
    let (mut lower, mut upper) = (a.next(), b.next());
    while let (Some(l), Some(u)) = (lower, upper) {
        let height = l.height + u.height;
        if height > limits.height {
            return;
        }
        let width = l.width.max(u.width);
        if width <= limits.width {
            out.push(Shape { width, height });
        }
        if l.width >= u.width {
            lower = a.next();
        } else {
            upper = b.next();
        }
    }
}

/// Shapes of both that are below all narrower ones and no larger than `area`.
fn merge(beside: &[Shape], above: &[Shape], area: i64, out: &mut Vec<Shape>) {
    out.clear();
    let (mut a, mut b) = (beside.iter().peekable(), above.iter().rev().peekable());
    let mut lowest = i64::MAX;
    loop {
        let next = match (a.peek(), b.peek()) {
            (Some(x), Some(y)) if x <= y => a.next(),
            (Some(_), None) => a.next(),
            (_, Some(_)) => b.next(),
            (None, None) => return,
        };
        let Some(&shape) = next else { return };
        if shape.height < lowest {
            lowest = shape.height;
            if shape.width * shape.height <= area {
                out.push(shape);
            }
        }
    }
}

/// How `whole` is joined from shapes of two parts: the place in each curve and whether they lie side by side.
pub(super) fn parted(first: &[Shape], second: &[Shape], whole: Shape) -> Option<(usize, usize, bool)> {
    for (i, a) in first.iter().enumerate() {
        for (j, b) in second.iter().enumerate() {
            if a.width + b.width <= whole.width && a.height.max(b.height) <= whole.height {
                return Some((i, j, true));
            }
            if a.height + b.height <= whole.height && a.width.max(b.width) <= whole.width {
                return Some((i, j, false));
            }
        }
    }
    None
}
