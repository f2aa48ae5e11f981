//! Templates and trim sheets at their true size, on paper, for a cutting machine, and for the window.
//!
//! [`templates`] gives a template for every kind of piece of a quilt, [`trim_sheets`] a sheet for every unit that is
//! trimmed. Both are finished inputs in, finished sheets out, with no state between:
//!
//! - a booklet takes [`TrueSheets::sheets`], drawings exactly as large as the paper, and puts each on a page of its own
//!   with no margin (as `sheets.typ` does), so that an inch stays an inch;
//! - the window shows [`TrueSheets::pages`], as any other document, and lists [`Templates::templates`];
//! - a file for each is [`Template::drawing`] written by [`crate::svg`], or [`Template::dxf`].
//!
//! Shapes are those of the cutting plan: a template's cut line is the plan's cut shape to the last grid point, apart from
//! dog ears, which are trimmed here where it is known which patch is sewn there.

mod document;
mod figure;
mod files;
mod kinds;
mod label;
mod mates;
mod pack;
mod template;
#[cfg(test)]
mod tests;
mod tile;
mod trim_sheet;
mod words;

pub use self::document::{MAX_SHEETS, PlacedFigure, TrueSheets};
pub use self::files::{MachineFile, MachineSheet};
pub use self::kinds::TemplateCount;
pub use self::template::Template;
pub use self::tile::Window;
pub use self::trim_sheet::TrimSheet;

use cutting::Ledger;
use layout::{Design, Tally};
use piecing::QuiltPlan;

use self::document::{Contents, document, room_in};
use self::figure::Figure;
pub(crate) use self::figure::is_ground;
use self::kinds::kinds;
use self::words::{strip_words, template_words, trim_sheet_words};
use crate::{About, Colour, PublishError};

/// What a line of a template or trim sheet means; each kind has its colour, its dashes, and its layer in DXF.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineClass {
    /// Where fabric, or the template itself, is cut.
    Cut,
    /// Seams: the finished shape, or the seams under a trim sheet.
    Seam,
    /// The straight grain.
    Grain,
    /// How far a unit may reach before it is trimmed.
    Oversize,
    /// Measures from a seam to a trimmed edge.
    Measure,
}

impl LineClass {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Cut, Self::Seam, Self::Grain, Self::Oversize, Self::Measure];

    /// Its layer in DXF.
    #[must_use]
    pub const fn layer(self) -> &'static str {
        match self {
            Self::Cut => "CUT",
            Self::Seam => "SEAM",
            Self::Grain => "GRAIN",
            Self::Oversize => "OVERSIZE",
            Self::Measure => "MEASURE",
        }
    }

    /// How wide it is drawn where cut lines are this wide.
    const fn width_in(self, cut_in: f64) -> f64 {
        match self {
            Self::Cut => cut_in,
            Self::Seam | Self::Grain | Self::Measure | Self::Oversize => cut_in * 0.7,
        }
        .max(crate::MIN_LINE_IN)
    }

    /// Lengths drawn and left out, so that the kinds can be told apart in black and white.
    fn dashes(self) -> Vec<f64> {
        match self {
            Self::Cut | Self::Grain | Self::Measure => Vec::new(),
            Self::Seam => vec![0.08, 0.05],
            Self::Oversize => vec![0.02, 0.05],
        }
    }
}

/// The colours of the kinds of lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LineColours {
    /// [`LineClass::Cut`].
    pub cut: Colour,
    /// [`LineClass::Seam`].
    pub seam: Colour,
    /// [`LineClass::Grain`].
    pub grain: Colour,
    /// [`LineClass::Oversize`].
    pub oversize: Colour,
    /// [`LineClass::Measure`].
    pub measure: Colour,
}

impl LineColours {
    /// The colour of one kind.
    #[must_use]
    pub const fn of(&self, class: LineClass) -> Colour {
        match class {
            LineClass::Cut => self.cut,
            LineClass::Seam => self.seam,
            LineClass::Grain => self.grain,
            LineClass::Oversize => self.oversize,
            LineClass::Measure => self.measure,
        }
    }
}

impl LineColours {
    /// Gives one kind another colour.
    pub const fn set(&mut self, class: LineClass, colour: Colour) {
        let held = match class {
            LineClass::Cut => &mut self.cut,
            LineClass::Seam => &mut self.seam,
            LineClass::Grain => &mut self.grain,
            LineClass::Oversize => &mut self.oversize,
            LineClass::Measure => &mut self.measure,
        };
        *held = colour;
    }
}

impl Default for LineColours {
    fn default() -> Self {
        Self {
            cut: Colour::rgb(0, 0, 0),
            seam: Colour::rgb(40, 90, 160),
            grain: Colour::rgb(30, 120, 70),
            oversize: Colour::rgb(110, 110, 110),
            measure: Colour::rgb(163, 34, 64),
        }
    }
}

/// Widest cut lines and kerf, in inches.
pub const MAX_LINE_IN: f64 = 0.25;

/// How templates and trim sheets are drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetOptions {
    /// Width of cut lines in inches, above 0 and up to [`MAX_LINE_IN`]; the other lines are thinner in proportion.
    pub line_in: f64,
    /// What the beam of a cutting machine takes away, in inches, up to [`MAX_LINE_IN`]: cut lines are moved out by half of
    /// it. 0 for paper.
    pub kerf_in: f64,
    /// Colours.
    pub colours: LineColours,
}

impl Default for SheetOptions {
    fn default() -> Self {
        Self { line_in: 0.5 / 72.0, kerf_in: 0.0, colours: LineColours::default() }
    }
}

impl SheetOptions {
    /// Refuses widths that cannot be drawn.
    fn check(&self) -> Result<(), PublishError> {
        for (what, inches, least) in [("line", self.line_in, crate::MIN_LINE_IN), ("kerf", self.kerf_in, 0.0)] {
            if !(least..=MAX_LINE_IN).contains(&inches) {
                return Err(PublishError::LineOrKerf { what, inches });
            }
        }
        Ok(())
    }
}

/// The templates of a quilt.
#[derive(Debug, Clone)]
pub struct Templates {
    /// One for each kind of piece.
    pub templates: Vec<Template>,
    /// Borders, sashes and fillers, which are cut with the ruler, a line each.
    pub strips: Vec<String>,
    /// All of them on paper.
    pub document: TrueSheets,
}

/// A template for every kind of piece of a quilt but borders, sashes and fillers, on sheets of paper.
///
/// Tips are trimmed against the patch that `sewing` sews there first; without an order of sewing, as for blocks of too
/// many patches, against the first one that they stick out past.
///
/// # Errors
/// [`PublishError::LineOrKerf`], [`PublishError::TooManySheets`], a patch that has no cut shape, or a drawing of more
/// than an exporter can take.
pub fn templates(
    design: &Design,
    tally: &Tally,
    ledger: &Ledger,
    sewing: Option<&QuiltPlan>,
    about: &About,
    options: &SheetOptions,
) -> Result<Templates, PublishError> {
    options.check()?;
    let found = kinds(design, tally, ledger.book(), sewing)?;
    let made = (0..found.kinds.len()).map(|index| Template::new(design, ledger.book(), &found.kinds, index, options));
    let templates = made.collect::<Result<Vec<_>, _>>()?;
    let strips = strip_words(design, ledger.book(), &found.strips)?;
    let figures: Vec<Figure> = templates.iter().map(|template| template.figure.clone()).collect();
    let words = template_words(design, &templates, &strips, room_in(about.paper)[0], options)?;
    let document = document(&Contents { about, kind: "Templates", words, figures: &figures }, options)?;
    Ok(Templates { templates, strips, document })
}

/// The trim sheets of a quilt.
#[derive(Debug, Clone)]
pub struct TrimSheets {
    /// One for each unit that is trimmed, and for each hand of it.
    pub trim_sheets: Vec<TrimSheet>,
    /// All of them on paper.
    pub document: TrueSheets,
}

/// A sheet for every unit that is trimmed to size: laid over the unit so that the printed seams lie on the sewn ones, it
/// shows where to trim. Without an oversize margin nothing is trimmed, and there are no trim sheets.
///
/// # Errors
/// As [`templates`].
pub fn trim_sheets(
    design: &Design,
    plan: &QuiltPlan,
    about: &About,
    options: &SheetOptions,
) -> Result<TrimSheets, PublishError> {
    options.check()?;
    let trim_sheets = trim_sheet::trim_sheets(design, plan, options)?;
    let figures: Vec<Figure> = trim_sheets.iter().map(|sheet| sheet.figure.clone()).collect();
    let words = trim_sheet_words(design, &trim_sheets, room_in(about.paper)[0]);
    let document = document(&Contents { about, kind: "Trim sheets", words, figures: &figures }, options)?;
    Ok(TrimSheets { trim_sheets, document })
}
