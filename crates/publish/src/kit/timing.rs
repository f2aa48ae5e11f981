//! How long a quilt takes: cuts, seams and trims of its plans, times the minutes of each.
//!
//! Seams that join strips end to end are counted by the cutting plan.
//!
//! A seam joins two parts into one, so a top of so many patches has one seam fewer, whatever the order: what is not sewn
//! in the steps of a block is sewn when the top is put together.

use cutting::FabricPlan;
use layout::Design;
use piecing::{BlockPlan, Join, Making, QuiltPlan};
use serde::Serialize;

use super::minutes::{Minutes, WorkMinutes};
use crate::PublishError;

/// One piece of work of a student.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Task {
    /// What it is.
    pub what: String,
    /// How many units it makes; 0 where nobody counts.
    pub makes: u64,
    /// Cuts that take pieces from strips.
    pub cuts: u64,
    /// Seams of units.
    pub seams: u64,
    /// Turns about the needle in set-in seams.
    pub turns: u64,
    /// Units trimmed.
    pub trims: u64,
    /// Seams between blocks, rows and borders.
    pub joins: u64,
    /// What it takes.
    pub minutes: Minutes,
}

impl Task {
    fn new(what: impl Into<String>) -> Self {
        let what = what.into();
        Self { what, makes: 0, cuts: 0, seams: 0, turns: 0, trims: 0, joins: 0, minutes: Minutes(0) }
    }

    /// The same with the minutes of its work: every seam is pressed too.
    fn timed(self, minutes: &WorkMinutes) -> Self {
        let parts = [
            (self.cuts, minutes.cut_piece),
            (self.seams, minutes.sew_seam.and(minutes.press_seam)),
            (self.turns, minutes.set_in),
            (self.trims, minutes.trim_unit),
            (self.joins, minutes.join_seam.and(minutes.press_seam)),
        ];
        let sum = parts.into_iter().fold(Minutes(0), |sum, (count, each)| sum.and(each.times(count)));
        Self { minutes: sum, ..self }
    }
}

/// The work of one quilt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Timing {
    /// Strips of one kit that are cut ahead.
    pub strips_ahead: u64,
    /// What that takes for one kit.
    pub ahead: Minutes,
    /// The work of a student, in order.
    pub tasks: Vec<Task>,
    /// What that takes in all.
    pub total: Minutes,
}

impl Timing {
    /// The work of a design that is cut and sewn like this.
    ///
    /// # Errors
    /// A top that cannot be placed.
    pub fn new(
        design: &Design,
        plans: &[&FabricPlan],
        sewing: &QuiltPlan,
        minutes: &WorkMinutes,
    ) -> Result<Self, PublishError> {
        let of_parts = |count: fn(&FabricPlan) -> u64| plans.iter().map(|p| count(p) * u64::from(p.parts)).sum::<u64>();
        let strips_ahead = of_parts(FabricPlan::strips_cut);
        let cuts = of_parts(FabricPlan::cuts).saturating_sub(strips_ahead);
        let mut tasks = vec![Task { cuts, ..Task::new("Cut the pieces from the strips") }];
        for plan in &sewing.blocks {
            let name = design.block(plan.block)?.name();
            tasks.extend((0..plan.steps.len()).map(|index| step(plan, index, name)));
        }
        let steps: u64 = tasks.iter().map(|task| task.seams).sum();
        let ends = of_parts(|plan| plan.pieces.iter().map(|piece| piece.join_seams).sum());
        if ends > 0 {
            tasks.push(Task { joins: ends, ..Task::new("Join long strips of borders and binding end to end") });
        }
        tasks.extend(top(design, steps)?);
        let tasks: Vec<Task> = tasks.into_iter().map(|task| task.timed(minutes)).collect();
        let total = tasks.iter().fold(Minutes(0), |sum, task| sum.and(task.minutes));
        Ok(Self { strips_ahead, ahead: minutes.cut_strip.times(strips_ahead), tasks, total })
    }
}

/// The work of a step.
fn step(plan: &BlockPlan, index: usize, name: &str) -> Task {
    let unit = plan.tree.unit(plan.steps[index].units[0]);
    let makes: u64 = plan.variants[index].iter().map(|variant| variant.count).sum();
    let (seams, turns) = match &unit.making {
        Making::Cut(_) => (0, 0),
        Making::Sewn { seams, .. } => (seams.len(), seams.iter().map(Join::pivots).sum()),
    };
    let trims = if plan.trim_of(&unit.patches).is_some() { makes } else { 0 };
    Task {
        makes,
        seams: makes * seams as u64,
        turns: makes * turns as u64,
        trims,
        ..Task::new(format!("{name}, step {} of {}", index + 1, plan.steps.len()))
    }
}

/// The work of the top, when so many seams are sewn in the steps of its blocks.
fn top(design: &Design, steps: u64) -> Result<Vec<Task>, PublishError> {
    let placed = design.top()?.placed;
    let seams_inside: u64 = placed.iter().map(|part| (part.block.patches().len() as u64).saturating_sub(1)).sum();
    // Setting pieces of several patches have no steps of their own.
    let others = seams_inside.saturating_sub(steps);
    let joins = (placed.len() as u64).saturating_sub(1);
    let mut tasks = Vec::new();
    if others > 0 {
        tasks.push(Task { seams: others, ..Task::new("Sew the pieces of setting and borders") });
    }
    tasks.push(Task { joins, ..Task::new("Join blocks, rows and borders to the top") });
    Ok(tasks)
}
