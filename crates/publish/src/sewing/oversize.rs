//! How much oversize is enough: what a sample of blocks sewn with errors says, in words and figures.

use cutting::Ledger;
use geometry::{Exact, Length};
use layout::{CuttingWishes, Design, Edit, Tally, Units, apply};
use piecing::BlockPlan;
use piecing::simulate::{Chance, Errors, Inches, Ladder, Rung, Sample, Simulation, SimulationError};

use crate::lengths::{fabric_length, finished};

/// Blocks in a sample.
pub const SAMPLE_BLOCKS: u32 = 10_000;
/// Where the random numbers of a sample begin: equal questions have equal answers.
const SEED: u64 = 1;
/// So many of a thousand blocks are to be large enough to trim, if nobody says otherwise.
pub const WANTED_PER_MILLE: u16 = 990;
/// A point may be cut off by so much before it shows, 1/16 in (common practice, no source).
const TOLERANCE: Inches = Inches::fraction(1, 16);

/// What oversize margins do for a block.
#[derive(Debug, Clone, PartialEq)]
pub struct OversizeReport {
    /// Spread of the finished width of blocks that are not trimmed, and of those that are, in inches.
    pub spread: [f64; 2],
    /// What margins to choose from do, from none up.
    pub rungs: Vec<Rung>,
    /// The least margin with which nearly all units can be trimmed; none if no rung is enough.
    pub recommended: Option<Exact>,
    /// What all that comes to, a sentence each.
    pub lines: Vec<String>,
}

/// What margins do for the block of `plan` when it is cut and sewn with these errors, and the least with which
/// `wanted_per_mille` of a thousand blocks can be trimmed.
///
/// # Errors
/// Errors out of bounds.
pub fn oversize_report(
    design: &Design,
    plan: &BlockPlan,
    errors: Errors,
    wanted_per_mille: u16,
) -> Result<OversizeReport, SimulationError> {
    let seam = design.seam();
    let sample = |trimmed: &[piecing::PatchSet]| -> Result<Sample, SimulationError> {
        Simulation::new(&plan.tree, seam, trimmed, errors)?.run(SAMPLE_BLOCKS, SEED)
    };
    let (untrimmed, trimmed) = (sample(&[])?, sample(&plan.to_trim)?);
    let recommendation = ladder(design.units())
        .map(|ladder| trimmed.recommend(&ladder, TOLERANCE, wanted_per_mille))
        .unwrap_or_default();
    let mut report = OversizeReport {
        spread: [untrimmed.width().spread().to_f64(), trimmed.width().spread().to_f64()],
        rungs: recommendation.rungs,
        recommended: recommendation.to_trim,
        lines: Vec::new(),
    };
    report.lines = lines(design, &report, wanted_per_mille, [&untrimmed, &trimmed]);
    Ok(report)
}

/// Steps of 1/16 in or of 2 mm; none for a length that could not be made, which these can.
fn ladder(units: Units) -> Option<Ladder> {
    let step = match units {
        Units::Inches => Length::inch_fraction(1, 16),
        Units::Centimetres => Length::millimetres(2),
    };
    Some(Ladder { step: step.ok()?, rungs: 16 })
}

/// A size with errors in it, as it is told.
fn measured(inches: f64, units: Units) -> String {
    match units {
        Units::Inches => format!("{inches:.3}″"),
        Units::Centimetres => format!("{:.2} cm", inches * 2.54),
    }
}

/// "99 of 100", or "995 of 1000".
fn wanted_words(per_mille: u16) -> String {
    if per_mille.is_multiple_of(10) { format!("{} of 100", per_mille / 10) } else { format!("{per_mille} of 1000") }
}

/// "99.4 %".
fn per_cent(chance: Chance) -> String {
    format!("{:.1} %", chance.share() * 100.0)
}

fn lines(
    design: &Design,
    report: &OversizeReport,
    wanted_per_mille: u16,
    [untrimmed, trimmed]: [&Sample; 2],
) -> Vec<String> {
    let wanted = wanted_words(wanted_per_mille);
    let units = design.units();
    let [loose, exact] = report.spread;
    let mut lines = vec![
        format!(
            "Two of three blocks that are not trimmed come out within {} of {} wide; trimmed, within {}.",
            measured(loose, units),
            measured(untrimmed.width().mean().to_f64(), units),
            measured(exact, units)
        ),
        format!(
            "A point at the block’s edge is cut off by more than {} in {} of blocks that are not trimmed, in {} of those that are.",
            match units {
                Units::Inches => "1/16″",
                Units::Centimetres => "0.16 cm",
            },
            per_cent(untrimmed.point_cut_off(TOLERANCE)),
            per_cent(trimmed.point_cut_off(TOLERANCE))
        ),
    ];
    lines.push(match &report.recommended {
        Some(margin) if margin.is_zero() => "No margin is needed to have enough to trim.".to_owned(),
        Some(margin) => {
            let cost = fabric_cost(design, margin).map_or_else(String::new, |cost| {
                format!(" It takes {} more fabric in all (quick plan).", fabric_length(cost, units))
            });
            let kept = report.rungs.iter().find(|rung| rung.margin == *margin).map(|rung| per_cent(rung.success));
            let kept = kept.map_or_else(String::new, |kept| {
                format!(" In {kept} all points are kept as well, those inside the block too.")
            });
            format!("With a margin of {}, {wanted} blocks can be trimmed.{kept}{cost}", finished(margin, units))
        }
        None => format!("No margin of these is enough for {wanted} blocks; smaller errors are."),
    });
    lines
}

/// By how many lay units all fabrics together grow when the margin is `margin` instead of none; none when a fabric
/// cannot be planned.
fn fabric_cost(design: &Design, margin: &Exact) -> Option<i64> {
    let length = |oversize: Option<Length>| -> Option<i64> {
        let wishes = CuttingWishes { oversize, ..design.cutting().clone() };
        all_fabrics(&apply(design, &Edit::SetCutting(wishes)).ok()?.0)
    };
    Some(length(Length::new(margin.clone()).ok())? - length(None)?)
}

/// The length of all fabrics together in lay units, by the quick plan; none when a fabric cannot be planned.
pub(super) fn all_fabrics(design: &Design) -> Option<i64> {
    let ledger = Ledger::new(design, &Tally::count(design).ok()?).ok()?;
    ledger.plans().values().map(|plan| plan.as_ref().ok().map(|plan| plan.plan.length)).sum()
}
