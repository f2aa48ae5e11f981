//! The tester's sheet: what the pattern says, with room to write what came out.

use geometry::Exact;
use layout::Design;
use piecing::{Distance, QuiltPlan};
use serde::Serialize;

use super::materials::{Material, finished_size, materials};
use crate::lengths::{counted, distance_words};
use crate::sewing::test_block;
use crate::{About, Figures, Offered, Pages, PublishError, typeset};

/// What a tester is asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TestersSheet {
    /// Title, author, edition and paper.
    pub about: About,
    /// What to do with the sheet.
    pub words: Vec<String>,
    /// Fabrics, backing and batting, with what the plan takes and what to buy.
    pub materials: Vec<Material>,
    /// What to measure, block by block, then the top.
    pub measures: Vec<Measures>,
    /// Work to be timed.
    pub work: Vec<String>,
}

/// What is measured of one block, or of the top.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Measures {
    /// The block, or the quilt.
    pub name: String,
    /// What, and what it should measure.
    pub rows: Vec<[String; 2]>,
}

/// The tester's sheet of a quilt that is sewn like this.
///
/// # Errors
/// A fabric that cannot be cut, or a block that is missing.
pub fn testers_sheet(quilt: &Offered<'_>, sewing: &QuiltPlan, about: &About) -> Result<TestersSheet, PublishError> {
    let design = quilt.design;
    let mut measures = Vec::new();
    let mut work = vec!["Cutting".to_owned()];
    for plan in &sewing.blocks {
        let copies: u64 = plan.colourings.iter().map(|colouring| colouring.places.len() as u64).sum();
        let name = design.block(plan.block)?.name();
        let checks = test_block(design, plan, quilt.ledger.book())?.checks;
        let row = |(step, printed): (usize, String)| {
            let variants = step.checked_sub(1).and_then(|index| plan.variants.get(index));
            let makes: u64 = variants.into_iter().flatten().map(|variant| variant.count).sum();
            let last = if step == plan.steps.len() { ", the block" } else { "" };
            [format!("Step {step}{last} (make {makes})"), printed]
        };
        let rows: Vec<[String; 2]> = checks.into_iter().map(row).collect();
        let blocks = counted(copies, "block", "blocks");
        if !rows.is_empty() {
            measures.push(Measures { name: format!("{name}, {blocks}"), rows });
        }
        work.push(format!("Sewing one {name}"));
    }
    measures.push(Measures { name: "Quilt".to_owned(), rows: sizes(design) });
    work.extend(["Putting the top together", "Quilting", "Binding"].map(str::to_owned));
    let words = vec![
        format!(
            "Printed figures are those of the {} cutting plan and of the steps of sewing. Units are measured from raw edge \
             to raw edge, after pressing.",
            quilt.planner.name()
        ),
        "Write down what you used and what you measured, also where it is as printed. Say where a word or a picture held \
         you up."
            .to_owned(),
        "Follow the makers’ instructions for rotary cutter, iron and machine; keep blades and small parts from children."
            .to_owned(),
    ];
    Ok(TestersSheet { about: about.clone(), words, materials: materials(quilt)?, measures, work })
}

/// What the top and the finished quilt measure.
fn sizes(design: &Design) -> Vec<[String; 2]> {
    let raw = |(width, height): (Exact, Exact)| {
        let side = |inches: &Exact| {
            distance_words(&Distance::of(inches + &design.seam().inches().scale_int(2)), design.units())
        };
        format!("{} × {}", side(&width), side(&height))
    };
    let (centre, whole) = (raw(design.setting_extent()), raw(design.finished_size()));
    let mut rows = Vec::new();
    if centre != whole {
        rows.push(["Centre, before its borders".to_owned(), centre]);
    }
    rows.push(["Top, before it is quilted".to_owned(), whole]);
    rows.push(["Finished quilt, bound".to_owned(), finished_size(design)]);
    rows
}

impl TestersSheet {
    /// The sheet on paper.
    ///
    /// # Errors
    /// [`PublishError::Typeset`]; a defect.
    pub fn pages(&self) -> Result<Pages, PublishError> {
        typeset("tester.typ", self, &Figures::default())
    }
}
