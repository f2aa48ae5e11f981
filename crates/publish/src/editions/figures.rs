//! The figures of one edition, in the order of the booklet.

use std::collections::BTreeMap;

use cutting::FabricPlan;
use geometry::Exact;
use piecing::{BlockPlan, CuttingHand};

use super::EditionOf;
use super::names::Names;
use crate::PublishError;
use crate::cut_words::{
    RowWords, buy_words, cloth_names, cloth_words, cut_size, strip_heading, strip_letter, strip_lines,
};
use crate::exports::materials::{backing_and_batting, binding_strips};
use crate::lengths::{counted, finished};
use crate::sewing::{StepPage, block_pages, top_words};

/// The parts of the booklet, in its order.
pub(super) const PARTS: [&str; 6] = [GLANCE, FABRICS, CUTTING, SEWING, TOP, FINISHING];
const GLANCE: &str = "At a glance";
const FABRICS: &str = "Fabrics";
const CUTTING: &str = "Cutting";
const SEWING: &str = "Sewing";
const TOP: &str = "The top";
const FINISHING: &str = "Finishing";

/// A figure of an edition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Figure {
    /// The part of the booklet.
    pub(super) part: &'static str,
    /// What it is called in both editions, whatever fabrics and blocks are called.
    pub(super) key: String,
    /// What it is of, for a reader.
    pub(super) what: String,
    /// The figure.
    pub(super) told: String,
}

/// All figures of an edition. No name stands in a figure but that of its own fabric or block, so that a new name is
/// told once.
pub(super) fn figures(edition: &EditionOf<'_>, names: &Names) -> Result<Vec<Figure>, PublishError> {
    let mut list = List { edition, names, figures: Vec::new() };
    list.glance();
    list.fabrics()?;
    list.cutting()?;
    for plan in &edition.sewing.blocks {
        list.sewing(plan)?;
    }
    list.top()?;
    list.finishing()?;
    Ok(list.figures)
}

/// The figures so far.
struct List<'a> {
    edition: &'a EditionOf<'a>,
    names: &'a Names,
    figures: Vec<Figure>,
}

impl List<'_> {
    fn add(&mut self, part: &'static str, key: impl Into<String>, what: impl Into<String>, told: impl Into<String>) {
        self.figures.push(Figure { part, key: key.into(), what: what.into(), told: told.into() });
    }

    /// Width and height as they are, however many decimals that takes.
    fn size(&self, (width, height): (&Exact, &Exact)) -> String {
        let units = self.edition.quilt.design.units();
        format!("{} × {}", finished(width, units), finished(height, units))
    }

    fn glance(&mut self) {
        let quilt = self.edition.quilt;
        let design = quilt.design;
        let (width, height) = design.finished_size();
        let patches: u64 = quilt.ledger.uses().values().map(|used| used.patches).sum();
        let length = |length: &geometry::Length| finished(length.inches(), design.units());
        self.add(GLANCE, "size", "Finished size", self.size((&width, &height)));
        self.add(GLANCE, "blocks", "Blocks", design.places().count().to_string());
        self.add(GLANCE, "patches", "Patches", patches.to_string());
        self.add(GLANCE, "seam", "Seam allowance", length(design.seam()));
        if let Some(margin) = &design.cutting().oversize {
            self.add(GLANCE, "oversize", "Oversize on edges that are trimmed later", length(margin));
        }
        for (id, def) in design.blocks() {
            let count = design.places_of(id).count() as u64;
            if count > 0 {
                let (width, height) = def.block().base().extent();
                let key = format!("{} block", self.names.block(id));
                self.add(GLANCE, format!("{key} name"), "Name of a block", def.name());
                self.add(GLANCE, format!("{key} count"), format!("{}: how many", def.name()), count.to_string());
                let size = self.size((&width, &height));
                self.add(GLANCE, format!("{key} size"), format!("{}: finished", def.name()), size);
            }
        }
    }

    fn fabrics(&mut self) -> Result<(), PublishError> {
        let quilt = self.edition.quilt;
        for plan in quilt.made()? {
            let name = &quilt.design.fabric(plan.fabric)?.name;
            let key = format!("{} fabric", self.names.fabric(plan.fabric));
            self.add(FABRICS, format!("{key} name"), "Name of a fabric", name);
            self.add(
                FABRICS,
                format!("{key} takes"),
                format!("{name}: takes"),
                cloth_words(plan, quilt.design.units()),
            );
            self.add(FABRICS, format!("{key} buy"), format!("{name}: to buy"), buy_words(plan));
            if let Some(cost) = plan.all_parts().cost() {
                self.add(FABRICS, format!("{key} cost"), format!("{name}: price"), cost.to_string());
            }
        }
        for other in backing_and_batting(&quilt)? {
            self.add(FABRICS, format!("{} takes", other.name), format!("{}: takes", other.name), other.takes);
            self.add(FABRICS, format!("{} buy", other.name), format!("{}: to buy", other.name), other.buy);
        }
        Ok(())
    }

    fn cutting(&mut self) -> Result<(), PublishError> {
        for plan in self.edition.quilt.made()? {
            let name = self.edition.quilt.design.fabric(plan.fabric)?.name.clone();
            self.strips(plan, &name);
            self.pieces(plan, &name);
        }
        Ok(())
    }

    /// Strips by their letters, as the booklet and the lay drawings have them.
    fn strips(&mut self, plan: &FabricPlan, name: &str) {
        let units = self.edition.quilt.design.units();
        let key = format!("{} strip", self.names.fabric(plan.fabric));
        self.add(CUTTING, format!("{key}s"), format!("{name}: strips in all"), plan.strips_cut().to_string());
        let mut letters = (0..).map(strip_letter);
        for (cloth, of) in plan.cloths().iter().zip(cloth_names(plan)) {
            let of = of.map_or_else(String::new, |of| format!(", {of}"));
            for (strip, letter) in cloth.strips.iter().zip(&mut letters) {
                let lines = strip_lines(plan, strip, cloth.width, units);
                let rows: Vec<&str> = lines.iter().flat_map(RowWords::lines).map(|(_, told)| told).collect();
                let told = format!("{} {}{of}", strip_heading(strip, units), rows.join("; "));
                self.add(CUTTING, format!("{key} {letter}"), format!("{name}: strip {letter}"), told);
            }
        }
    }

    /// Pieces by what they are; those of one name and fabric in their order.
    fn pieces(&mut self, plan: &FabricPlan, name: &str) {
        let units = self.edition.quilt.design.units();
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        for piece in &plan.pieces {
            let what = if piece.blank.is_some() { format!("blank, {}", piece.label) } else { piece.label.clone() };
            let number = seen.entry(what.clone()).or_insert(0);
            *number += 1;
            let which = if *number > 1 { format!("{what} ({number})") } else { what };
            let key = format!("{} piece {which}", self.names.fabric(plan.fabric));
            let told = format!("{}, {}", counted(piece.count, "piece", "pieces"), cut_size(piece, units));
            self.add(CUTTING, key, format!("{name}: {which}"), told);
        }
    }

    fn sewing(&mut self, plan: &BlockPlan) -> Result<(), PublishError> {
        let quilt = self.edition.quilt;
        let pages = block_pages(quilt.design, plan, quilt.sewn, CuttingHand::Right)?;
        let key = format!("{} sewn", self.names.block(plan.block));
        let name = &pages.name;
        self.add(SEWING, format!("{key} steps"), format!("{name}: steps"), pages.steps.len().to_string());
        self.add(SEWING, format!("{key} seams"), format!("{name}: seams"), pages.seams);
        if let Some(reversed) = &pages.reversed {
            self.add(SEWING, format!("{key} reversed"), format!("{name}: pressed the other way round"), reversed);
        }
        for step in &pages.steps {
            self.step(&key, name, step);
        }
        Ok(())
    }

    fn step(&mut self, key: &str, name: &str, step: &StepPage) {
        let (key, what) = (format!("{key} {}", step.number), format!("{name}, step {}", step.number));
        self.add(SEWING, format!("{key} makes"), format!("{what}: make"), step.makes.to_string());
        self.add(SEWING, format!("{key} words"), format!("{what}: sewing"), step.lines.join(" "));
        if !step.trim.is_empty() {
            self.add(SEWING, format!("{key} trim"), format!("{what}: trimming"), step.trim.join(" "));
        }
        if let Some(measures) = &step.measures {
            self.add(SEWING, format!("{key} measures"), format!("{what}: measures"), measures);
        }
    }

    fn top(&mut self) -> Result<(), PublishError> {
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        for (number, line) in (1..).zip(top_words(self.edition.quilt.design, self.edition.sewing)?) {
            let shape = without_figures(&line);
            let nth = seen.entry(shape.clone()).or_insert(0);
            *nth += 1;
            let key = format!("top {nth} {shape}");
            self.add(TOP, key, format!("Paragraph {number}"), line);
        }
        Ok(())
    }

    fn finishing(&mut self) -> Result<(), PublishError> {
        let quilt = self.edition.quilt;
        for other in backing_and_batting(&quilt)? {
            self.add(FINISHING, format!("{} made", other.name), other.name, other.used_for);
        }
        let binding = quilt.ledger.binding()?;
        let needed = finished(&binding.needed, quilt.design.units());
        self.add(FINISHING, "binding", "Binding", binding_strips(quilt.design, binding));
        self.add(FINISHING, "binding length", "Binding: length needed", needed);
        Ok(())
    }
}

/// A paragraph without its figures and what stands in brackets: the same for two editions that say the same of other
/// sizes.
fn without_figures(line: &str) -> String {
    let mut depth = 0_usize;
    let outside = |c: &char| {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth == 0 && *c != ')'
    };
    let plain: String = line.chars().filter(outside).collect();
    let mut words: Vec<&str> = Vec::new();
    for word in plain.split_whitespace() {
        let word = if word.contains(char::is_numeric) { "#" } else { word };
        if word != "#" || words.last() != Some(&"#") {
            words.push(word);
        }
    }
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_are_known_by_their_words() {
        let rows = [
            ("A row measures 9½″ × 43 5/16″. Press.", "A row measures # × # Press."),
            ("It measures 3.515″ (just over 3½″) × 6″.", "It measures # × #"),
            ("Sew the rows together.", "Sew the rows together."),
        ];
        for (line, shape) in rows {
            assert_eq!(without_figures(line), shape);
        }
    }
}
