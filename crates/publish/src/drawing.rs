//! A finished page of placed shapes: the one form every exporter writes down.
//!
//! Floating point begins here. Whoever builds a drawing turns exact lengths into inches once; nothing computed from
//! a drawing goes back into the design. [`Drawing::new`] refuses whatever no exporter could draw, so that exporters
//! have no such case of their own.

use layout::Colour;

use crate::PublishError;

/// Shortest side of a page, in inches.
pub const MIN_PAGE_IN: f64 = 0.01;
/// Longest side of a page, in inches. Far more than the largest quilt.
pub const MAX_PAGE_IN: f64 = 10_000.0;
/// Thinnest line, in inches.
pub const MIN_LINE_IN: f64 = 0.0001;
/// Farthest a point may lie from the page's corner along either axis, in inches.
pub const MAX_COORDINATE_IN: f64 = 100_000.0;
/// Smallest and largest text, in inches from one line to the next.
pub const TEXT_SIZES_IN: std::ops::RangeInclusive<f64> = 0.01..=100.0;
/// Most dashes and gaps of one kind of line, together.
pub const MAX_DASHES: usize = 8;
/// Most items on one page.
pub const MAX_ITEMS: usize = 100_000;
/// Most points on one page, all items together.
pub const MAX_POINTS: usize = 5_000_000;

/// A place on the page: `[x, y]` in inches from its upper left corner, x to the right and y down.
pub type Point = [f64; 2];

/// The sheet a drawing lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Page {
    /// Width in inches.
    pub width_in: f64,
    /// Height in inches.
    pub height_in: f64,
    /// What the sheet is painted with, or `None` to leave it transparent.
    pub background: Option<Colour>,
}

/// Polygons filled with one colour, as all patches of one fabric.
///
/// The fill is even-odd: a polygon inside another of the same area is a hole in it. Areas that follow each other
/// are meant to lie side by side; where they overlap, the later one hides the earlier.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// What the area is called, shown by viewers that show titles. May be empty.
    pub label: String,
    /// The colour of the inside.
    pub fill: Colour,
    /// Closed polygons of at least three corners; the first corner is not repeated at the end.
    pub polygons: Vec<Vec<Point>>,
}

/// A run of straight segments through its points.
#[derive(Clone, Debug, PartialEq)]
pub struct Polyline {
    /// At least two points.
    pub points: Vec<Point>,
    /// Whether a last segment leads back to the first point.
    pub closed: bool,
}

/// Drawn lines of one colour and width: seams and outlines.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// The colour of the lines.
    pub stroke: Colour,
    /// The width of the lines in inches, at least [`MIN_LINE_IN`].
    pub width_in: f64,
    /// Lengths in inches that are drawn and left out by turns, at least [`MIN_LINE_IN`] each; empty for lines without
    /// gaps.
    pub dashes: Vec<f64>,
    /// Where the lines run.
    pub polylines: Vec<Polyline>,
}

/// How text stands to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// How heavy letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// As in running text.
    Regular,
    /// Heavier.
    Bold,
}

/// One line of text in Lato, or whatever a viewer without it puts in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What it says.
    pub text: String,
    /// Where its baseline is: the beginning, middle or end of it, as `anchor` says.
    pub at: Point,
    /// Which part of the text is at `at`.
    pub anchor: Anchor,
    /// Size of the type in inches, one of [`TEXT_SIZES_IN`]; 1/72 is a point.
    pub size_in: f64,
    /// How heavy.
    pub weight: Weight,
    /// Its colour.
    pub fill: Colour,
    /// How far it is turned about `at`, in degrees clockwise.
    pub turned: f64,
}

impl Item {
    /// The same, moved to the right and down by these inches.
    #[must_use]
    pub fn moved(mut self, [right, down]: Point) -> Self {
        let shift = |point: &mut Point| *point = [point[0] + right, point[1] + down];
        match &mut self {
            Self::Area(area) => area.polygons.iter_mut().flatten().for_each(shift),
            Self::Lines(lines) => lines.polylines.iter_mut().flat_map(|line| &mut line.points).for_each(shift),
            Self::Text(text) => shift(&mut text.at),
        }
        self
    }
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Item {
    /// Filled polygons.
    Area(Area),
    /// Drawn lines.
    Lines(Lines),
    /// A line of text.
    Text(Text),
}

/// A finished page. Later items lie on top of earlier ones.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    page: Page,
    items: Vec<Item>,
}

impl Drawing {
    /// Finishes a page. Shapes may reach over its edge; exporters cut them off there.
    ///
    /// # Errors
    /// [`PublishError::PageSize`] for a side not within [`MIN_PAGE_IN`] and [`MAX_PAGE_IN`];
    /// [`PublishError::TooManyItems`] and [`PublishError::TooManyPoints`] beyond [`MAX_ITEMS`] and [`MAX_POINTS`];
    /// [`PublishError::Coordinate`], [`PublishError::TooFewPoints`], [`PublishError::LineWidth`],
    /// [`PublishError::Dashes`] and [`PublishError::TextSize`] for what cannot be drawn.
    pub fn new(page: Page, items: Vec<Item>) -> Result<Self, PublishError> {
        // Not a number is within no range, so it is refused here and below.
        let sides = MIN_PAGE_IN..=MAX_PAGE_IN;
        if !sides.contains(&page.width_in) || !sides.contains(&page.height_in) {
            return Err(PublishError::PageSize { width_in: page.width_in, height_in: page.height_in });
        }
        if items.len() > MAX_ITEMS {
            return Err(PublishError::TooManyItems { count: items.len() });
        }
        let mut points = 0;
        for (index, item) in items.iter().enumerate() {
            points += checked_points(index, item)?;
            if points > MAX_POINTS {
                return Err(PublishError::TooManyPoints { item: index });
            }
        }
        Ok(Self { page, items })
    }

    /// The sheet.
    #[must_use]
    pub fn page(&self) -> Page {
        self.page
    }

    /// What lies on the sheet, lowest first.
    #[must_use]
    pub fn items(&self) -> &[Item] {
        &self.items
    }
}

/// Checks one item and counts its points; a character counts as one.
fn checked_points(index: usize, item: &Item) -> Result<usize, PublishError> {
    let mut count = 0;
    let mut check = |points: &[Point], needed: usize| {
        if points.len() < needed {
            return Err(PublishError::TooFewPoints { item: index, needed, found: points.len() });
        }
        count += points.len();
        let reachable = |c: &f64| c.abs() <= MAX_COORDINATE_IN;
        match points.iter().find(|point| !point.iter().all(reachable)) {
            Some(&point) => Err(PublishError::Coordinate { item: index, point }),
            None => Ok(()),
        }
    };
    match item {
        Item::Area(area) => area.polygons.iter().try_for_each(|corners| check(corners, 3))?,
        Item::Lines(lines) => {
            if !(MIN_LINE_IN..=MAX_PAGE_IN).contains(&lines.width_in) {
                return Err(PublishError::LineWidth { item: index, width_in: lines.width_in });
            }
            let is_length = |length: &f64| (MIN_LINE_IN..=MAX_PAGE_IN).contains(length);
            let even = lines.dashes.len().is_multiple_of(2);
            if !even || lines.dashes.len() > MAX_DASHES || !lines.dashes.iter().all(is_length) {
                return Err(PublishError::Dashes { item: index });
            }
            lines.polylines.iter().try_for_each(|line| check(&line.points, 2))?;
        }
        Item::Text(text) => {
            if !TEXT_SIZES_IN.contains(&text.size_in) || !text.turned.is_finite() {
                return Err(PublishError::TextSize { item: index, size_in: text.size_in });
            }
            check(&[text.at], 1)?;
            count += text.text.chars().count();
        }
    }
    Ok(count)
}
