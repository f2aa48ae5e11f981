//! Where the length of a fabric goes: lines that add up to what the plan takes.
//!
//! Every line is an area, told as the length of fabric that has this area from selvage to selvage. So the lines can be
//! added whatever they are for, and their sum is the required length, exactly.

use geometry::lay::UNITS_PER_INCH;
use geometry::{Exact, Length};

use crate::cut_list::PlannedPiece;
use crate::methods::Blank;
use crate::strip_plan::{Segment, StripPlan, StripRun};

/// The lines, in inches of fabric length.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Breakdown {
    /// The patches with their seam allowances, and binding as far as it is used.
    pub pieces: Exact,
    /// Margins beyond the seam allowance that are trimmed off later.
    pub oversize: Exact,
    /// Spare pieces.
    pub spare: Exact,
    /// Joins of binding and long borders.
    pub joins: Exact,
    /// Strips that are wider than their pieces because the ruler has no finer step.
    pub rounding: Exact,
    /// Ends of strips, corners that slanted pieces leave, and gaps.
    pub waste: Exact,
    /// Beside the usable width.
    pub selvages: Exact,
}

impl Breakdown {
    /// The lines of a plan that cuts all of `pieces` from one length, on fabric of which `bolt_width` inches lie between the edges of the selvages.
    #[must_use]
    pub fn new(plan: &StripPlan, pieces: &[PlannedPiece], all: bool, bolt_width: Option<&Length>) -> Self {
        let usable = units(plan.width);
        let bolt = bolt_width.map(|b| b.inches().clone()).filter(|b| *b > usable).unwrap_or_else(|| usable.clone());
        let as_length = |area: &Exact| area.checked_div(&bolt).unwrap_or_default();
        let mut found =
            if all { Self::by_kind(pieces) } else { Self { pieces: on_roll(plan, pieces), ..Self::default() } };
        let used = found.sum();
        let rounding = rounding_area(plan, pieces);
        let laid = &units(plan.length) * &usable;
        // Where pieces interlock, less than nothing may seem to be left: then it was the rounding that was used.
        let left = &laid - &used;
        found.rounding = if rounding > left { left.clone() } else { rounding };
        found.waste = &left - &found.rounding;
        found.selvages = &units(plan.length) * &(&bolt - &usable);
        found.each(|line| *line = as_length(line));
        found
    }

    /// Areas of all pieces by what they are for, in square inches.
    fn by_kind(pieces: &[PlannedPiece]) -> Self {
        let mut found = Self::default();
        for piece in pieces.iter().filter(|p| p.blank.is_none()) {
            let area2 = piece.prepared.piece().polygon.double_area();
            let used = piece.count - piece.spare;
            found.spare += &area(area2, piece.spare);
            found.oversize += &area(piece.oversize_area2, used);
            found.joins += &piece.joins;
            found.pieces += &area(area2 - piece.oversize_area2, used);
        }
        found.pieces -= &found.joins;
        found
    }

    /// The lines with their names, in the order they are told.
    #[must_use]
    pub fn lines(&self) -> [(&'static str, &Exact); 7] {
        [
            ("pieces with seam allowances", &self.pieces),
            ("oversize margins", &self.oversize),
            ("spare pieces", &self.spare),
            ("joins", &self.joins),
            ("rounding to the ruler", &self.rounding),
            ("ends and corners", &self.waste),
            ("selvages", &self.selvages),
        ]
    }

    /// The sum: the required length in inches.
    #[must_use]
    pub fn sum(&self) -> Exact {
        self.lines().iter().fold(Exact::ZERO, |sum, (_, line)| &sum + *line)
    }

    fn each(&mut self, change: impl Fn(&mut Exact)) {
        let Self { pieces, oversize, spare, joins, rounding, waste, selvages } = self;
        for line in [pieces, oversize, spare, joins, rounding, waste, selvages] {
            change(line);
        }
    }
}

/// Area in square inches of what is cut from the roll, where the rest is cut from sheets.
fn on_roll(plan: &StripPlan, pieces: &[PlannedPiece]) -> Exact {
    let area_of = |segment: &Segment| {
        let piece = pieces.iter().find(|p| p.prepared.id() == segment.piece)?;
        let inner = |blank: &Blank| blank.inner.iter().map(|p| p.polygon.double_area()).sum();
        Some(piece.blank.as_ref().map_or_else(|| piece.prepared.piece().polygon.double_area(), |b| inner(b)))
    };
    let in_segment = |s: &Segment| area_of(s).unwrap_or(0).saturating_mul(s.count.into());
    let of_run = |run: &StripRun| area(run.segments.iter().map(in_segment).sum(), run.repeat);
    plan.strips.iter().map(of_run).fold(Exact::ZERO, |sum, a| &sum + &a)
}

/// Area in square inches that strips have above the lowest height their tallest row needs.
fn rounding_area(plan: &StripPlan, pieces: &[PlannedPiece]) -> Exact {
    let height_of = |segment: &Segment| {
        let piece = pieces.iter().find(|p| p.prepared.id() == segment.piece)?;
        let row = piece.prepared.patterns().get(segment.pattern)?;
        let exact = row.polygons().iter().map(|p| p.bounds().height()).max()?;
        Some(segment.start_y + exact)
    };
    let above = plan.strips.iter().map(|run| {
        let exact = run.segments.iter().filter_map(height_of).max().unwrap_or(run.height);
        i128::from((run.height - exact).max(0)) * i128::from(run.repeat)
    });
    let above: i128 = above.sum();
    &units(i64::try_from(above).unwrap_or(i64::MAX)) * &units(plan.width)
}

/// Lay units as inches.
fn units(units: i64) -> Exact {
    Exact::ratio(units, UNITS_PER_INCH).unwrap_or_default()
}

/// `count` times half of `area2` square lay units, in square inches.
fn area(area2: i128, count: u64) -> Exact {
    let total = area2.saturating_mul(i128::from(count));
    let per_inch = i128::from(UNITS_PER_INCH);
    // In two steps, so that each quotient's parts are whole numbers of 64 bits.
    let (whole, rest) = (total.div_euclid(per_inch), total.rem_euclid(per_inch));
    let part = |n: i128| Exact::ratio(i64::try_from(n).unwrap_or(i64::MAX), UNITS_PER_INCH).unwrap_or_default();
    let square = &part(whole) + &(&part(rest) * &Exact::ratio(1, UNITS_PER_INCH).unwrap_or_default());
    square.half()
}
