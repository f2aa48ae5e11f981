//! One block, sewn once: the inner loop. Nothing is allocated here.

use super::fit::Probe;
use super::measure::{Across, Measures, Side};
use super::motion::{Line, Pair, Pose, dot, less, plus};
use super::seam::{SeamLine, SeamPlan, SeamSide, Tip};
use super::trim::{LayPlan, TrimPlan};
use super::{Errors, Simulation};

/// What is done, in order.
#[derive(Debug, Clone)]
pub(super) enum Step {
    Sew(SeamPlan),
    Trim(TrimPlan),
}

/// Figures of one block, in inches.
pub(super) const WIDTH: usize = 0;
pub(super) const HEIGHT: usize = 1;
pub(super) const SQUARENESS: usize = 2;
/// How far the worst point stands out over the finished outline.
pub(super) const OVER_OUTLINE: usize = 3;
/// How far the worst point stands out over a seam that is sewn beside it.
pub(super) const OVER_SEAM: usize = 4;
/// The margins that the trimmed units need, in their order.
pub(super) const MARGINS: usize = 5;

/// A straight line along a seam or a side, by its offset in the middle and its slope.
#[derive(Debug, Clone, Copy, Default)]
struct Height {
    offset: f64,
    slope: f64,
}

impl Height {
    fn at(self, place: f64) -> f64 {
        self.offset + self.slope * place
    }
}

/// Where everything is while a block is sewn; used again for the next block.
#[derive(Debug, Clone)]
pub(super) struct Bench<'a> {
    plan: &'a Simulation,
    poses: Vec<Pose>,
    /// Raw edges, then stitched lines, each as seen from its patch; raw edges moved in by their allowance.
    lines: Vec<Line>,
    heights: Vec<Height>,
    corners: Vec<Pair>,
}

/// The random numbers of a block that are still to come.
struct Draw<'a>(&'a [f64]);

impl Draw<'_> {
    fn next(&mut self) -> f64 {
        let Some((&first, rest)) = self.0.split_first() else { return 0.0 };
        self.0 = rest;
        first
    }
}

impl<'a> Bench<'a> {
    pub(super) fn new(plan: &'a Simulation) -> Self {
        let sides = plan.measures.sides.len();
        Self {
            plan,
            poses: vec![Pose::IDENTITY; plan.nominal.patches],
            lines: vec![Line::default(); 2 * plan.nominal.edges.len()],
            heights: vec![Height::default(); sides],
            corners: vec![[0.0; 2]; sides],
        }
    }

    /// How many figures a block has.
    pub(super) const fn figures(plan: &Simulation) -> usize {
        MARGINS + plan.trimmed.len()
    }

    /// Sews one block with these standard normal errors, and measures it.
    pub(super) fn sew(&mut self, normals: &[f64], figures: &mut [f64]) {
        let plan = self.plan;
        let errors = &plan.errors;
        self.poses.fill(Pose::IDENTITY);
        for ((edge, line), z) in plan.nominal.edges.iter().zip(&mut self.lines).zip(normals) {
            *line = Line { level: edge.line.level + errors.cut_spread.to_f64() * z, ..edge.line };
        }
        let sides_from = plan.draws.edges + 3 * plan.draws.seam_lines;
        let mut seams = Draw(&normals[plan.draws.edges..sides_from]);
        let mut sides = Draw(&normals[sides_from..]);
        let mut over_seam = f64::NEG_INFINITY;
        let mut trims = MARGINS;
        for step in &plan.steps {
            match step {
                Step::Sew(seam) => over_seam = over_seam.max(self.seam(seam, errors, &mut seams)),
                Step::Trim(trim) => {
                    figures[trims] = self.trim(trim, errors, &mut sides);
                    trims += 1;
                }
            }
        }
        figures[OVER_SEAM] = over_seam;
        self.measure(&plan.measures, figures);
    }

    /// What probes add up to.
    fn sum<const N: usize, const E: usize>(&self, probes: &[Probe<N, E>]) -> [f64; N] {
        let mut sum = [0.0; N];
        for probe in probes {
            let line = self.poses[probe.patch].line(&self.lines[probe.line]);
            let scale = 1.0 / dot(line.normal, probe.along);
            for (at, gain) in probe.at.iter().zip(&probe.gain) {
                let found = (line.level - dot(line.normal, *at)) * scale;
                for (entry, gain) in sum.iter_mut().zip(gain) {
                    *entry += gain * found;
                }
            }
        }
        sum
    }

    fn height(&self, probes: &[Probe<2, 2>]) -> Height {
        let [offset, slope] = self.sum(probes);
        Height { offset, slope }
    }

    /// Sews a seam; answers how far the worst point stands out over it.
    fn seam(&mut self, seam: &SeamPlan, errors: &Errors, draw: &mut Draw<'_>) -> f64 {
        let mut motion = [0.0; 3];
        let mut over = f64::NEG_INFINITY;
        for line in &seam.lines {
            let depth = errors.seam_mean.to_f64() + errors.seam_spread.to_f64() * draw.next();
            let taper = errors.taper_spread.to_f64() * draw.next() / line.length;
            let loss = errors.pressing_loss_mean.to_f64() + errors.pressing_loss_spread.to_f64() * draw.next();
            // The raw edges lie on each other, so both units lose the same at each place; so they do in the fold.
            let (mut near, mut far) = (self.height(&line.near.probes), self.height(&line.far.probes));
            // Pins are set before the seam is sewn.
            let shift = self.matched(&line.near, near) - self.matched(&line.far, far);
            let lost = depth + loss / 2.0;
            near = Height { offset: near.offset - lost, slope: near.slope - taper };
            far = Height { offset: far.offset + lost, slope: far.slope + taper };
            over = over.max(self.over(line, &line.near, near, 1.0)).max(self.over(line, &line.far, far, -1.0));
            let gap = near.offset - far.offset;
            for (i, entry) in motion.iter_mut().enumerate() {
                *entry += line.gap[i] * gap + line.slope[i] * (near.slope - far.slope) + line.shift[i] * shift;
            }
            self.stitch(line, &line.near, near, 1.0);
            self.stitch(line, &line.far, far, -1.0);
        }
        self.move_by(&seam.moved, seam.centre, motion);
        over
    }

    /// Where a unit is matched along the seam, which is meant to lie at this height.
    fn matched(&self, side: &SeamSide, height: Height) -> f64 {
        let [met] = self.sum(&side.marks.probes);
        met + side.marks.offset * height.offset + side.marks.slope * height.slope
    }

    /// How far the points of one unit stand out over the stitches, towards the other unit.
    fn over(&self, line: &SeamLine, side: &SeamSide, height: Height, towards: f64) -> f64 {
        let over = |tip: &Tip| {
            let from = less(self.tip(tip), line.middle);
            towards * (dot(from, line.across) - height.at(dot(from, line.along)))
        };
        side.tips.iter().map(over).fold(f64::NEG_INFINITY, f64::max)
    }

    fn tip(&self, tip: &Tip) -> Pair {
        let pose = &self.poses[tip.patch];
        pose.line(&self.lines[tip.lines.0]).crossing(&pose.line(&self.lines[tip.lines.1]))
    }

    /// Notes where the seam shows on the edges of one unit.
    fn stitch(&mut self, line: &SeamLine, side: &SeamSide, height: Height, towards: f64) {
        let tilted = plus(line.across, -height.slope, line.along);
        let scale = towards / (1.0 + height.slope * height.slope).sqrt();
        let normal = tilted.map(|part| part * scale);
        let level = dot(normal, plus(line.middle, height.offset, line.across));
        for &(patch, index) in &side.stitched {
            self.lines[index] = self.poses[patch].back(&Line { normal, level });
        }
    }

    fn move_by(&mut self, patches: &[usize], centre: Pair, motion: [f64; 3]) {
        let motion = Pose::small(centre, motion);
        for &patch in patches {
            self.poses[patch] = self.poses[patch].then(&motion);
        }
    }

    /// Lays a unit where its inner seams say: the second time makes up for the bend of what the first took for straight.
    fn lay(&mut self, lay: &LayPlan) {
        for _ in 0..2 {
            let motion = self.sum(&lay.probes);
            self.move_by(&lay.patches, lay.centre, motion);
        }
    }

    /// Trims a unit; answers the least margin with which it was large enough.
    fn trim(&mut self, trim: &TrimPlan, errors: &Errors, draw: &mut Draw<'_>) -> f64 {
        self.lay(&trim.lay);
        let mut needed = f64::NEG_INFINITY;
        let edges = &self.plan.nominal.edges;
        for trimmed in &trim.edges {
            let own = &edges[trimmed.edge];
            let raw = self.poses[own.patch].line(&self.lines[trimmed.edge]);
            needed = trimmed.ends.iter().map(|&end| -raw.from(end, own.line.normal)).fold(needed, f64::max);
        }
        let cut = draw.0.split_at(trim.sides.min(draw.0.len()));
        draw.0 = cut.1;
        for trimmed in &trim.edges {
            let own = &edges[trimmed.edge];
            let level = own.line.level + errors.cut_spread.to_f64() * cut.0[trimmed.side];
            self.lines[trimmed.edge] = self.poses[own.patch].back(&Line { level, ..own.line });
        }
        needed
    }

    fn measure(&mut self, measures: &Measures, figures: &mut [f64]) {
        if let Some(lay) = &measures.lay {
            self.lay(lay);
        }
        let mut over = f64::NEG_INFINITY;
        for (k, side) in measures.sides.iter().enumerate() {
            let height = self.height(&side.probes);
            self.heights[k] = height;
            for tip in &side.tips {
                let from = less(self.tip(tip), side.middle);
                over = over.max(dot(from, side.outward) - height.at(dot(from, side.along)));
            }
        }
        figures[OVER_OUTLINE] = over;
        let count = measures.sides.len();
        for k in 0..count {
            let before = (k + count - 1) % count;
            let (a, b) = (&measures.sides[before], &measures.sides[k]);
            self.corners[k] = corner(a, self.heights[before].at(a.half), b, self.heights[k].at(-b.half));
        }
        figures[WIDTH] = measures.width.finished + self.across(&measures.width);
        figures[HEIGHT] = measures.height.finished + self.across(&measures.height);
        let differ = |alike: &Vec<Across>| {
            let off = alike.iter().map(|across| self.across(across));
            let widest = |(low, high): (f64, f64), off: f64| (low.min(off), high.max(off));
            let (least, most) = off.fold((f64::INFINITY, f64::NEG_INFINITY), widest);
            most - least
        };
        figures[SQUARENESS] = measures.alike.iter().map(differ).fold(0.0, f64::max);
    }

    /// By how much a measurement is off.
    fn across(&self, across: &Across) -> f64 {
        across.gain.iter().zip(&self.corners).map(|(gain, shift)| dot(*gain, *shift)).sum()
    }
}

/// The shift of the corner between two sides that are off by `off_a` and `off_b` there.
const fn corner(a: &Side, off_a: f64, b: &Side, off_b: f64) -> Pair {
    let (a, b) = (Line { normal: a.outward, level: off_a }, Line { normal: b.outward, level: off_b });
    a.crossing(&b)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use geometry::{Length, Measure, Recipe, Size};

    use super::*;
    use crate::order_of_sewing;

    /// A block without errors that lies askew is laid back to where it belongs, along its seams too.
    #[test]
    fn a_block_is_laid_where_its_seams_say() {
        let inches = |whole| Length::whole_inches(whole).unwrap();
        let check = |recipe: Recipe| {
            let tree = order_of_sewing(&Arc::new(recipe.draft().unwrap())).unwrap();
            let plan = Simulation::new(&tree, &inches(1), &[], Errors::NONE).unwrap();
            let mut bench = Bench::new(&plan);
            bench.sew(&vec![0.0; plan.draws.count()], &mut vec![0.0; Bench::figures(&plan)]);
            let lay = plan.measures.lay.as_ref().unwrap();
            bench.move_by(&lay.patches, [9.0, -4.0], [0.05, -0.1, 0.03]);
            bench.lay(lay);
            for (edge, line) in plan.nominal.edges.iter().zip(&bench.lines) {
                let found = bench.poses[edge.patch].line(line);
                let off = [edge.from, edge.to].map(|end| found.from(end, edge.line.normal).abs());
                assert!(off[0] < 1e-6 && off[1] < 1e-6, "{recipe:?}: {off:?}");
            }
        };
        check(Recipe::NinePatch(Size { by: Measure::Block, length: inches(6) }));
        check(Recipe::HalfSquare(Size { by: Measure::Block, length: inches(6) }));
        check(Recipe::Stripes { width: inches(6), height: inches(6), count: 3 });
    }
}
