//! A template or trim sheet at its true size: lines that each mean something, and the words in and under it.

use layout::Units;

use super::label::{Grain, Label};
use super::{LineClass, SheetOptions};
use crate::dxf::DxfLayer;
use crate::set_text::{INK, LEADING, PAPER, SMALL_IN, line};
use crate::typeface::{text_width, wrapped};
use crate::{Anchor, Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Weight, dxf};

/// Room between a figure and the words under it, in inches.
const UNDER_IN: f64 = 0.08;
/// Words under a figure are set at least this wide.
const LEAST_CAPTION_IN: f64 = 2.1;
/// Room round a figure that is drawn alone.
const ROUND_IN: f64 = 0.25;

/// One thing on a figure, by what it means.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mark {
    pub(crate) class: LineClass,
    pub(crate) item: Item,
}

/// A figure at its true size, from its upper left corner, in inches.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    /// What it is called: "Template B".
    pub(crate) name: String,
    /// Lines and what belongs to them.
    pub(crate) marks: Vec<Mark>,
    /// Where words have room; none where they stand under the figure.
    pub(crate) room: Vec<Point>,
    /// What it says, most important first.
    pub(crate) words: Label,
    pub(crate) size_in: [f64; 2],
}

/// Words under a figure, wrapped to its width.
pub(crate) struct Caption {
    pub(crate) lines: Vec<(String, Weight)>,
    pub(crate) width_in: f64,
}

impl Caption {
    fn new(words: &[String], room_in: f64) -> Self {
        let mut lines = Vec::new();
        for (index, text) in words.iter().enumerate() {
            let weight = if index == 0 { Weight::Bold } else { Weight::Regular };
            lines.extend(wrapped(text, SMALL_IN, weight, room_in).into_iter().map(|line| (line, weight)));
        }
        let width_in = lines.iter().map(|(text, weight)| text_width(text, SMALL_IN, *weight)).fold(0.0, f64::max);
        Self { lines, width_in }
    }

    /// None of it.
    pub(crate) const fn none() -> Self {
        Self { lines: Vec::new(), width_in: 0.0 }
    }

    pub(crate) fn height_in(&self) -> f64 {
        let lines: f64 = self.lines.iter().map(|_| SMALL_IN * LEADING).sum();
        if self.lines.is_empty() { 0.0 } else { UNDER_IN + lines }
    }

    /// The words, from the lower left corner of what they stand under.
    pub(crate) fn items(&self, [left, top]: Point) -> Vec<Item> {
        let first = top + UNDER_IN + SMALL_IN;
        let at = (0_u32..).map(|index| [left, first + f64::from(index) * SMALL_IN * LEADING]);
        self.lines.iter().zip(at).map(|((text, weight), at)| line(text.as_str(), at, SMALL_IN, *weight)).collect()
    }
}

impl Figure {
    /// Nothing yet.
    pub(crate) fn empty() -> Self {
        let words = Label { letter: String::new(), name: String::new(), more: Vec::new(), grain: Grain::Free };
        Self { name: String::new(), marks: Vec::new(), room: Vec::new(), words, size_in: [0.0; 2] }
    }

    /// Drawn lines of one class.
    pub(crate) fn stroke(class: LineClass, polylines: Vec<Polyline>, options: &SheetOptions) -> Mark {
        let item = Item::Lines(Lines {
            stroke: options.colours.of(class),
            width_in: class.width_in(options.line_in),
            dashes: class.dashes(),
            polylines,
        });
        Mark { class, item }
    }

    /// The figure given a quarter turn, so that what was its left side lies below.
    pub(crate) fn turned(&self) -> Self {
        let wide = self.size_in[0];
        let turn = |[x, y]: Point| [y, wide - x];
        let marks = self.marks.iter().map(|mark| Mark { class: mark.class, item: turned(mark.item.clone(), turn) });
        Self {
            marks: marks.collect(),
            room: self.room.iter().copied().map(turn).collect(),
            words: self.words.turned(),
            size_in: [self.size_in[1], wide],
            ..self.clone()
        }
    }

    /// The words inside, and those that have no room there.
    pub(crate) fn labelled(&self, options: &SheetOptions) -> (Vec<Mark>, Caption) {
        let (inside, complete) = self.words.inside(&self.room, options);
        let caption = || Caption::new(&self.words.lines(&self.name), self.size_in[0].max(LEAST_CAPTION_IN));
        (inside, if complete { Caption::none() } else { caption() })
    }

    /// What stands under it whether there is room inside or not.
    pub(crate) fn caption(&self, room_in: f64) -> Caption {
        Caption::new(&self.words.lines(&self.name), room_in)
    }

    /// The figure on a page of its own.
    ///
    /// # Errors
    /// A figure that cannot be drawn.
    pub(crate) fn drawing(&self, options: &SheetOptions) -> Result<Drawing, PublishError> {
        let (inside, caption) = self.labelled(options);
        let [width_in, height_in] = self.size_in;
        let page = Page {
            width_in: width_in.max(caption.width_in) + 2.0 * ROUND_IN,
            height_in: height_in + caption.height_in() + 2.0 * ROUND_IN,
            background: None,
        };
        let items = self.marks.iter().chain(&inside).map(|mark| mark.item.clone());
        let all = items.chain(caption.items([0.0, height_in]));
        Drawing::new(page, all.map(|item| item.moved([ROUND_IN; 2])).collect())
    }

    /// The figure as a DXF file, a layer for each kind of line and one for text; the origin is its lower left corner.
    ///
    /// # Errors
    /// [`PublishError::Dxf`].
    pub(crate) fn dxf(&self, units: Units, options: &SheetOptions) -> Result<Vec<u8>, PublishError> {
        let (inside, caption) = self.labelled(options);
        let under = caption.items([0.0, self.size_in[1]]);
        let marks: Vec<&Mark> = self.marks.iter().chain(&inside).collect();
        let of = |class: LineClass| {
            let items = marks.iter().filter(|mark| mark.class == class).map(|mark| &mark.item);
            let items: Vec<&Item> = items.filter(|item| !matches!(item, Item::Text(_))).collect();
            DxfLayer { name: class.layer().to_owned(), colour: options.colours.of(class), items }
        };
        let mut layers: Vec<DxfLayer<'_>> =
            LineClass::ALL.map(of).into_iter().filter(|l| !l.items.is_empty()).collect();
        let texts = marks.iter().map(|mark| &mark.item).filter(|item| matches!(item, Item::Text(_)));
        let texts = texts.chain(&under).collect();
        layers.push(DxfLayer { name: "TEXT".to_owned(), colour: INK, items: texts });
        dxf(&layers, self.size_in[1], units)
    }
}

/// A shape or text carried by a quarter turn to the left.
fn turned(mut item: Item, turn: impl Fn(Point) -> Point) -> Item {
    match &mut item {
        Item::Area(area) => area.polygons.iter_mut().flatten().for_each(|p| *p = turn(*p)),
        Item::Lines(lines) => {
            lines.polylines.iter_mut().flat_map(|line| &mut line.points).for_each(|p| *p = turn(*p));
        }
        Item::Text(text) => {
            text.at = turn(text.at);
            text.turned -= 90.0;
        }
    }
    item
}

/// Lines through points.
pub(crate) fn polyline(points: Vec<Point>, closed: bool) -> Polyline {
    Polyline { points, closed }
}

/// A blank ground under words, so that lines do not run through them.
pub(crate) fn is_ground(item: &Item) -> bool {
    matches!(item, Item::Area(Area { label, fill, .. }) if label.is_empty() && *fill == PAPER)
}

/// The upright rectangle round a text, which may be turned by quarters.
pub(crate) fn text_box(text: &crate::Text) -> [Point; 2] {
    let width = text_width(&text.text, text.size_in, text.weight);
    let start = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (sin, cos) = text.turned.to_radians().sin_cos();
    let corner = |x: f64, y: f64| [text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos];
    let (up, down) = (-0.8 * text.size_in, 0.25 * text.size_in);
    let corners = [corner(start, up), corner(start + width, up), corner(start, down), corner(start + width, down)];
    bounds(&corners)
}

/// Least and greatest coordinates.
pub(crate) fn bounds(points: &[Point]) -> [Point; 2] {
    points.iter().fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}
