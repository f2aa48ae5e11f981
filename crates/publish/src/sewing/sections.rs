//! A step as titled paragraphs with figures, as the window shows it.

use super::StepPage;
use crate::Drawing;

/// A titled paragraph of a step, with its figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Section<'a> {
    /// Its title; the first section of a step has none.
    pub title: &'static str,
    /// What is said, a sentence or two each.
    pub lines: Vec<String>,
    /// Its figures, in order.
    pub figures: Vec<Figure<'a>>,
}

/// A drawing with the words that belong to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure<'a> {
    /// What is to be done with it: "Now make 16 of these"; empty when the paragraph says all.
    pub caption: String,
    /// The fabrics; empty when the paragraph says all.
    pub fabrics: String,
    /// What it shows, for those who do not see it.
    pub label: String,
    /// The drawing.
    pub drawing: &'a Drawing,
}

/// The paragraphs of a step, in the order of work.
#[must_use]
pub fn sections(page: &StepPage) -> Vec<Section<'_>> {
    let lines = page.lines.iter().chain(&page.pressing).cloned().collect();
    let mut sections = vec![Section { title: "", lines, figures: variants(page) }];
    if !page.trim.is_empty() || page.trim_diagram.is_some() {
        let label = format!("Diagram, trimming of step {}: {}", page.number, page.trim.join(" "));
        let figure = |drawing| Figure { caption: String::new(), fabrics: String::new(), label: label.clone(), drawing };
        let figures = page.trim_diagram.iter().map(figure).collect();
        sections.push(Section { title: "Trim", lines: page.trim.clone(), figures });
    }
    if let Some(size) = &page.measures {
        sections.push(Section { title: "Measure here", lines: vec![size.clone()], figures: Vec::new() });
    }
    sections
}

/// The figures of a step: one for each set of fabrics.
fn variants(page: &StepPage) -> Vec<Figure<'_>> {
    let figure = |(index, (drawing, words))| {
        let (drawing, words): (&Drawing, &String) = (drawing, words);
        // The words begin with how many, up to the colon.
        let (count, fabrics) = words.split_once(": ").unwrap_or((words, ""));
        let caption = match count.strip_suffix(" mirrored") {
            Some(count) => format!("Now make {count} of these, mirrored"),
            None => format!("Now make {count} of these"),
        };
        let label = format!("Diagram {} of step {}, parts and sewn unit. {caption}: {fabrics}", index + 1, page.number);
        Figure { caption, fabrics: fabrics.to_owned(), label, drawing }
    };
    page.diagrams.iter().zip(&page.variants).enumerate().map(figure).collect()
}
