//! The sheet by which a unit is trimmed: its trimmed size, the seams that lie under it, and how far each is from the cut.

use std::collections::BTreeSet;

use layout::{Design, Units};
use piecing::{BlockPlan, CuttingHand, Guide, QuiltPlan, SeamTree, Trim, TrimmedEdge, Variant};

use super::figure::{Figure, Mark, polyline, text_box};
use super::label::{Grain, Label};
use super::{LineClass, SheetOptions};
use crate::lengths::finished;
use crate::sewing::diagram::Scale;
use crate::sewing::trim_diagram::{Edge, WORD_PLACES, bounds, edges, measured, offset};
use crate::sewing::words::trim_words;
use crate::{Drawing, Item, Point, Polyline, PublishError};

/// The most measures along one edge; a unit with more parallel seams is trimmed by the farthest of them.
const MEASURES: usize = 4;

/// A trim sheet: one size, one hand.
#[derive(Debug, Clone)]
pub struct TrimSheet {
    /// Its number, from 1.
    pub number: usize,
    /// The block whose unit it trims.
    pub block: String,
    /// The step of sewing that makes the unit, from 1; the last one makes the block.
    pub step: usize,
    /// Whether that step makes the block.
    pub is_block: bool,
    /// Whether it is for the mirror image of the step's unit.
    pub mirrored: bool,
    /// How many units are trimmed by it.
    pub count: u64,
    /// How it is trimmed, in the words of the sewing plan.
    pub words: Vec<String>,
    /// Corners of the trimmed unit on the sheet, in inches from its upper left corner, y downward.
    pub trimmed: Vec<Point>,
    /// Seams of the unit on the sheet, each from end to end.
    pub seams: Vec<[Point; 2]>,
    pub(super) figure: Figure,
}

impl TrimSheet {
    /// The sheet alone on a page, at its true size.
    ///
    /// # Errors
    /// A sheet that cannot be drawn.
    pub fn drawing(&self, options: &SheetOptions) -> Result<Drawing, PublishError> {
        self.figure.drawing(options)
    }

    /// The sheet as a DXF file; its layers are CUT, SEAM, OVERSIZE, MEASURE and TEXT.
    ///
    /// # Errors
    /// [`PublishError::Dxf`].
    pub fn dxf(&self, units: Units, options: &SheetOptions) -> Result<Vec<u8>, PublishError> {
        self.figure.dxf(units, options)
    }

    /// "unit 3 of Six Winds, mirrored".
    #[must_use]
    pub fn name(&self) -> String {
        let what = if self.is_block { self.block.clone() } else { format!("unit {} of {}", self.step, self.block) };
        if self.mirrored { format!("{what}, mirrored") } else { what }
    }
}

/// The trim sheets of all blocks, step by step.
pub(super) fn trim_sheets(
    design: &Design,
    plan: &QuiltPlan,
    options: &SheetOptions,
) -> Result<Vec<TrimSheet>, PublishError> {
    let mut sheets = Vec::new();
    for block in &plan.blocks {
        let name = design.block(block.block)?.name();
        for step in 0..block.steps.len() {
            let hands: BTreeSet<bool> = block.variants[step].iter().map(|variant| variant.mirrored).collect();
            for mirrored in hands {
                let made = Making { design, plan: block, name, step, mirrored, options };
                sheets.extend(made.sheet(sheets.len() + 1));
            }
        }
    }
    Ok(sheets)
}

/// One hand of one step.
struct Making<'a> {
    design: &'a Design,
    plan: &'a BlockPlan,
    name: &'a str,
    step: usize,
    mirrored: bool,
    options: &'a SheetOptions,
}

impl Making<'_> {
    /// The sheet, if the unit is trimmed.
    fn sheet(&self, number: usize) -> Option<TrimSheet> {
        let variants = || self.plan.variants[self.step].iter().filter(|variant| variant.mirrored == self.mirrored);
        let trimmed = |variant: &&Variant| self.plan.trim_of(&variant.patches).is_some_and(|t| !t.edges.is_empty());
        let variant = variants().find(trimmed)?;
        let trim = self.plan.trim_of(&variant.patches)?;
        let units = self.design.units();
        let margin = self.design.cutting().oversize.as_ref()?;
        let lines = Sheet::new(trim, &self.plan.tree, variant, margin.inches().to_f64());
        let count = variants().map(|variant| variant.count).sum();
        let words = trim_words(trim, CuttingHand::Right, units);
        let mut sheet = TrimSheet {
            number,
            block: self.name.to_owned(),
            step: self.step + 1,
            is_block: self.step + 1 == self.plan.steps.len(),
            mirrored: self.mirrored,
            count,
            words,
            trimmed: lines.cut.clone(),
            seams: lines.seams.clone(),
            figure: Figure::empty(),
        };
        let mut more = vec![format!("Trim {count}; {} seam allowance included.", finished(&trim.allowance, units))];
        // The last line tells in which order a ruler cuts.
        more.extend(sheet.words.iter().take(sheet.words.len().saturating_sub(1)).cloned());
        let margin = finished(margin.inches(), units);
        more.push(format!("Dotted: how far the unit reaches before it is trimmed, up to {margin} beyond."));
        sheet.figure = Figure {
            name: format!("Trim sheet {number}"),
            marks: lines.marks(trim, units, self.options),
            room: Vec::new(),
            words: Label { letter: number.to_string(), name: sheet.name(), more, grain: Grain::Free },
            size_in: lines.size_in,
        };
        Some(sheet)
    }
}

/// The lines of a sheet at true size.
struct Sheet {
    scale: Scale,
    edges: Vec<Edge>,
    /// The trimmed unit.
    cut: Vec<Point>,
    /// The unit as it is sewn.
    raw: Vec<Point>,
    seams: Vec<[Point; 2]>,
    size_in: [f64; 2],
}

impl Sheet {
    fn new(trim: &Trim, tree: &SeamTree, variant: &Variant, margin_in: f64) -> Self {
        let edges = edges(trim);
        let allowance = trim.allowance.to_f64();
        let trimmed = |i: usize| trim.edges.iter().any(|edge| edge.edge == i);
        let raw = offset(&edges, |i| if trimmed(i) { allowance + margin_in } else { allowance });
        let cut = offset(&edges, |_| allowance);
        let (low, high) = bounds(&raw);
        let scale = Scale::new(1.0, [low, high], [0.0; 2], variant.drawn_mirrored);
        let page = |points: &[Point]| points.iter().map(|p| scale.at(*p, [0.0; 2])).collect::<Vec<_>>();
        let graph = tree.graph();
        let inside = (0..graph.stretches().len()).filter(|&i| graph.is_inside(i, &trim.patches));
        let ends = |i: usize| {
            let stretch = graph.stretches()[i];
            [stretch.low, stretch.high].map(|point| scale.at(graph.points()[point].to_f64(), [0.0; 2]))
        };
        let seams = inside.map(ends).collect();
        let size_in = [high[0] - low[0], high[1] - low[1]];
        Self { cut: page(&cut), raw: page(&raw), seams, scale, edges, size_in }
    }

    fn marks(&self, trim: &Trim, units: Units, options: &SheetOptions) -> Vec<Mark> {
        let n = self.cut.len();
        let is_trimmed = |i: &usize| trim.edges.iter().any(|edge| edge.edge == *i);
        let edge = |i: usize| polyline(vec![self.cut[i], self.cut[(i + 1) % n]], false);
        let seams: Vec<Polyline> = self.seams.iter().map(|ends| polyline(ends.to_vec(), false)).collect();
        let cut = if (0..n).all(|i| is_trimmed(&i)) {
            vec![polyline(self.cut.clone(), true)]
        } else {
            (0..n).filter(is_trimmed).map(edge).collect()
        };
        let mut marks = vec![
            Figure::stroke(LineClass::Oversize, vec![polyline(self.raw.clone(), true)], options),
            Figure::stroke(LineClass::Seam, seams, options),
            Figure::stroke(LineClass::Cut, cut, options),
        ];
        marks.extend(self.measures(trim, units).into_iter().map(|item| Mark { class: LineClass::Measure, item }));
        // Words lie on top of all lines.
        marks.sort_by_key(|mark| matches!(mark.item, Item::Text(_)));
        marks
    }
}

impl Sheet {
    /// The measures of all edges; the words of each stand where no other measure has its words, if there is such a place.
    fn measures(&self, trim: &Trim, units: Units) -> Vec<Item> {
        let mut items: Vec<Item> = Vec::new();
        let mut taken: Vec<[Point; 2]> = Vec::new();
        for trimmed in &trim.edges {
            let edge = &self.edges[trimmed.edge];
            for (nth, guide) in (0..).zip(guides(trimmed)) {
                let at = |place: usize| measured(edge, (guide, nth), place, self.scale, trim.allowance.to_f64(), units);
                let is_free =
                    |items: &Vec<Item>| word_boxes(items).all(|word| taken.iter().all(|other| !meet(word, *other)));
                let chosen = (0..WORD_PLACES).map(at).find(is_free).unwrap_or_else(|| at(0));
                taken.extend(word_boxes(&chosen));
                items.extend(chosen);
            }
        }
        items
    }
}

/// The boxes of the words among some items.
fn word_boxes(items: &[Item]) -> impl Iterator<Item = [Point; 2]> + '_ {
    items.iter().filter_map(|item| if let Item::Text(text) = item { Some(text_box(text)) } else { None })
}

/// Whether two boxes have room in common.
fn meet(a: [Point; 2], b: [Point; 2]) -> bool {
    (0..2).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k])
}

/// What an edge is measured from: the parallel seams at different distances, or what the ruler is laid by where there is
/// none.
fn guides(edge: &TrimmedEdge) -> Vec<&Guide> {
    let mut parallel: Vec<&Guide> = edge.guides.iter().filter(|g| matches!(g, Guide::Parallel { .. })).collect();
    parallel.dedup_by(|a, b| a.distance() == b.distance());
    parallel.truncate(MEASURES);
    if parallel.is_empty() { edge.ruler_guides() } else { parallel }
}
