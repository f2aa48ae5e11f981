//! One template: its lines at true size, and what it says.

use std::collections::BTreeMap;
use std::sync::Arc;

use cutting::{ClassBook, ClassId};
use geometry::cut::CutShape;
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use layout::{Design, FabricId, Print, Units};

use super::figure::{Figure, polyline};
use super::kinds::{Kind, TemplateCount};
use super::label::{Grain, Label};
use super::{LineClass, SheetOptions};
use crate::cut_words::{bounds_words, strip_letter};
use crate::lengths::finished;
use crate::names::listed_names;
use crate::{Drawing, Point, PublishError};

/// A template: one kind of piece, dog ears trimmed.
#[derive(Debug, Clone)]
pub struct Template {
    /// By which lists call it: A, B, C.
    pub letter: String,
    /// What its patches are: "diamond".
    pub name: String,
    /// The blocks and pieces of the setting that it belongs to.
    pub blocks: Vec<String>,
    /// Its kind of piece in the cutting plan, as it is drawn.
    pub piece: ClassId,
    /// The kind of piece that is its mirror image, if the quilt has both hands.
    pub mirror: Option<ClassId>,
    /// How many to cut of each fabric; the cutting plan's spare pieces are not counted.
    pub counts: BTreeMap<FabricId, TemplateCount>,
    /// Whether the piece is its own mirror image before its tips are trimmed.
    pub is_symmetric: bool,
    /// Whether straight grain is asked for; it runs along x.
    pub has_grain: bool,
    /// Finished and mitred cut shape, as in the cutting plan.
    pub shape: Arc<CutShape>,
    /// The cut shape with its dog ears trimmed, in the same frame.
    pub trimmed: LayPolygon,
    /// How many corners are trimmed.
    pub trims: usize,
    /// The templates that differ from it only in which tips are trimmed.
    pub like: Vec<String>,
    /// The templates that are its mirror image but for which tips are trimmed.
    pub mirror_of: Vec<String>,
    /// Which way the piece leans as it is drawn, and as it comes with the template turned over; none for a piece without a
    /// hand, or where no fabric has a right side.
    pub hands: Option<[&'static str; 2]>,
    pub(super) figure: Figure,
}

/// Inches of a length on the lay grid.
pub(super) fn inches(units: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "lay coordinates are far below 2^53")]
    const fn float(units: i64) -> f64 {
        units as f64
    }
    float(units) / float(UNITS_PER_INCH)
}

impl Template {
    /// The template of one of the kinds, by its number from 0.
    pub(super) fn new(
        design: &Design,
        book: &ClassBook,
        kinds: &[Kind],
        index: usize,
        options: &SheetOptions,
    ) -> Result<Self, PublishError> {
        let kind = &kinds[index];
        let letters = |is_alike: &dyn Fn(&Kind) -> bool| -> Vec<String> {
            let found = kinds.iter().enumerate().filter(|(i, other)| *i != index && is_alike(other));
            found.map(|(i, _)| strip_letter(i)).collect()
        };
        let class = book.class(kind.class);
        let has_side = |id: &FabricId| design.fabric(*id).is_ok_and(|fabric| fabric.print != Print::TwoSided);
        let hand = class.and_then(|class| class.hand).filter(|_| kind.counts.keys().any(has_side));
        let hands = hand.map(|hand| {
            let other = if hand == "leaning left" { "leaning right" } else { "leaning left" };
            [hand, other]
        });
        let name = class.map_or_else(String::new, |class| match hands {
            Some(_) => class.label(),
            None => class.label_of_either_hand(|_| true),
        });
        let mut blocks: Vec<String> = kind.sources.iter().map(|source| design.source_name(*source)).collect();
        blocks.dedup();
        let mut template = Self {
            letter: strip_letter(index),
            name,
            blocks,
            piece: kind.class,
            mirror: kind.mirror,
            counts: kind.counts.clone(),
            is_symmetric: class.is_some_and(|class| class.symmetric),
            has_grain: class.is_some_and(|class| class.has_grain),
            shape: Arc::clone(&kind.shape),
            trimmed: kind.trimmed.clone(),
            like: letters(&|other| other.class == kind.class),
            mirror_of: letters(&|other| Some(other.class) == kind.mirror),
            hands,
            trims: kind.trimmed.corners().len().saturating_sub(kind.shape.outline().corners().len()),
            figure: Figure::empty(),
        };
        template.figure = template.drawn(design, options)?;
        Ok(template)
    }

    /// The template on a page of its own, at its true size.
    ///
    /// # Errors
    /// A template that cannot be drawn.
    pub fn drawing(&self, options: &SheetOptions) -> Result<Drawing, PublishError> {
        self.figure.drawing(options)
    }

    /// The template as a DXF file in inches, or in millimetres for centimetres; its layers are CUT, SEAM, GRAIN and TEXT.
    ///
    /// # Errors
    /// [`PublishError::Dxf`].
    pub fn dxf(&self, units: Units, options: &SheetOptions) -> Result<Vec<u8>, PublishError> {
        self.figure.dxf(units, options)
    }

    /// "Plum: 24, and 24 with the template turned over", a line for each fabric.
    ///
    /// # Errors
    /// A fabric that is not there.
    pub fn count_words(&self, design: &Design) -> Result<Vec<String>, PublishError> {
        // Cut from strips, both are one kind of piece: no left and no right hand.
        let tips = match self.hands {
            _ if self.is_symmetric => ", alike but for their tips".to_owned(),
            Some([_, over]) => format!(" ({over})"),
            None => String::new(),
        };
        let words = |(id, count): (&FabricId, &TemplateCount)| {
            let fabric = design.fabric(*id)?;
            let cut = match (count.as_drawn, count.turned_over) {
                (drawn, 0) => format!("cut {drawn}"),
                (0, over) => format!("cut {over} with the template turned over{tips}"),
                (drawn, over) => format!("cut {drawn}, and {over} with the template turned over{tips}"),
            };
            Ok(format!("{}: {cut}", fabric.name))
        };
        self.counts.iter().map(words).collect()
    }

    /// "diamond (Star)": its name, and where it belongs to, unless that is called the same.
    #[must_use]
    pub fn name_words(&self) -> String {
        let places = self.places();
        if places.is_empty() { self.name.clone() } else { format!("{} ({})", self.name, listed_names(places)) }
    }

    /// The blocks and pieces of the setting that it belongs to, but those that are called as it is.
    fn places(&self) -> Vec<&str> {
        self.blocks.iter().map(String::as_str).filter(|place| *place != self.name).collect()
    }

    /// "As C, but for the tips", "The mirror image of C, but for the tips": what it might be taken for.
    #[must_use]
    pub fn like_words(&self) -> Vec<String> {
        let told = |before: &str, letters: &[String]| {
            (!letters.is_empty()).then(|| format!("{before} {}, but for the tips", letters.join(", ")))
        };
        [told("As", &self.like), told("The mirror image of", &self.mirror_of)].into_iter().flatten().collect()
    }

    /// Whether some are cut with the template turned over.
    #[must_use]
    pub fn is_turned_over(&self) -> bool {
        self.counts.values().any(|count| count.turned_over > 0)
    }

    /// Its size when cut, as in the cutting plan: "5¾″ × 2⅜″".
    #[must_use]
    pub fn size_words(&self, units: Units) -> String {
        let size = bounds_words(&self.shape.outline().bounds(), units);
        if self.trims == 0 { size } else { format!("{size} before trimming its tips") }
    }

    /// What the allowance is, and where there is more.
    fn allowance_words(&self, design: &Design) -> String {
        let seam = design.seam().inches();
        let n = self.shape.finished().corners().len();
        let widest = (0..n).map(|i| self.shape.allowance_of_edge(i)).max().unwrap_or_default();
        let told = |inches| finished(inches, design.units());
        let more = &widest - seam;
        if more.is_positive() {
            format!("{} seam allowance, {} more on edges that are trimmed later", told(seam), told(&more))
        } else {
            format!("{} seam allowance included", told(seam))
        }
    }

    /// Its lines and words.
    fn drawn(&self, design: &Design, options: &SheetOptions) -> Result<Figure, PublishError> {
        let cut: Vec<Point> = self.trimmed.corners().iter().map(|p| [inches(p.x), inches(p.y)]).collect();
        let cut = outset(&cut, options.kerf_in / 2.0);
        let [low, high] = super::figure::bounds(&cut);
        // The fabric's y axis points up, the page's down.
        let page = |[x, y]: Point| [x - low[0], high[1] - y];
        let seam: Vec<Point> = self.shape.finished_in_frame().into_iter().map(page).collect();
        let cut: Vec<Point> = cut.into_iter().map(page).collect();
        let marks = vec![
            Figure::stroke(LineClass::Seam, vec![polyline(seam.clone(), true)], options),
            Figure::stroke(LineClass::Cut, vec![polyline(cut, true)], options),
        ];
        let places = self.places();
        let mut more: Vec<String> = (!places.is_empty()).then(|| places.join(", ")).into_iter().collect();
        more.push(self.size_words(design.units()));
        more.extend(self.count_words(design)?);
        more.push(self.allowance_words(design));
        more.extend(self.like_words());
        let grain = if self.has_grain { Grain::Level } else { Grain::Free };
        Ok(Figure {
            name: format!("Template {}", self.letter),
            marks,
            room: seam,
            words: Label { letter: self.letter.clone(), name: self.name.clone(), more, grain },
            size_in: [high[0] - low[0], high[1] - low[1]],
        })
    }
}

/// A polygon with all edges moved out, corners mitred; counter-clockwise where y points up.
pub(super) fn outset(polygon: &[Point], by: f64) -> Vec<Point> {
    if by <= 0.0 {
        return polygon.to_vec();
    }
    let n = polygon.len();
    let line = |i: usize| {
        let (a, b) = (polygon[i % n], polygon[(i + 1) % n]);
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
        let out = [dy / length, -dx / length];
        (out, a[0] * out[0] + a[1] * out[1] + by)
    };
    let corner = |i: usize| {
        let ((a, c), (b, d)) = (line(i + n - 1), line(i));
        let det = a[0] * b[1] - a[1] * b[0];
        // Corners that are nearly straight are moved along their normal.
        if det.abs() < 1e-6 {
            let p = polygon[i];
            return [p[0] + b[0] * by, p[1] + b[1] * by];
        }
        [(c * b[1] - d * a[1]) / det, (a[0] * d - b[0] * c) / det]
    };
    (0..n).map(corner).collect()
}
