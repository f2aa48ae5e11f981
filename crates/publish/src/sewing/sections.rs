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
    if let Some(drawing) = &page.hands {
        let label = format!("Diagram, the unit of step {} beside its mirror image", page.number);
        let figure = Figure { caption: String::new(), fabrics: String::new(), label, drawing };
        sections.push(Section { title: "Both hands", lines: Vec::new(), figures: vec![figure] });
    }
    if !page.trim.is_empty() || page.trim_diagram.is_some() {
        let label = format!("Diagram, trimming of step {}: {}", page.number, page.trim.join(" "));
        let figure = |drawing| Figure { caption: String::new(), fabrics: String::new(), label: label.clone(), drawing };
        let figures = page.trim_diagram.iter().map(figure).collect();
        sections.push(Section { title: "Trim", lines: page.trim.clone(), figures });
    }
    // Before what holds for all edges of the block, so that it stands with the unit that is measured.
    if let Some(size) = &page.measures {
        sections.push(Section { title: "Measure here", lines: vec![size.clone()], figures: Vec::new() });
    }
    if let Some((words, drawing)) = &page.stretch {
        let label = "Diagram, the block with its edges on the bias drawn heavily".to_owned();
        let figure = Figure { caption: String::new(), fabrics: String::new(), label, drawing };
        sections.push(Section { title: "Edges that stretch", lines: vec![words.clone()], figures: vec![figure] });
    }
    sections
}

/// The figures of a step: one for each set of fabrics.
fn variants(page: &StepPage) -> Vec<Figure<'_>> {
    let figure = |(index, (drawing, words))| {
        let (drawing, words): (&Drawing, &String) = (drawing, words);
        // The words begin with how many, up to the colon.
        let (count, fabrics) = words.split_once(": ").unwrap_or((words, ""));
        let (count, mirrored) = count.strip_suffix(" mirrored").map_or((count, ""), |count| (count, ", mirrored"));
        let these = match count {
            "1" => " like this",
            // "24 of unit 2a" says it already.
            count if count.contains(' ') => "",
            _ => " of these",
        };
        let caption = format!("Now make {count}{these}{mirrored}");
        let label = format!("Diagram {} of step {}, parts and sewn unit. {caption}: {fabrics}", index + 1, page.number);
        Figure { caption, fabrics: fabrics.to_owned(), label, drawing }
    };
    page.diagrams.iter().zip(&page.variants).enumerate().map(figure).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Page;

    /// Nothing of a step is left out, and every figure has its own words.
    #[test]
    fn all_of_a_step_is_in_its_sections() {
        let drawing = Drawing::new(Page { width_in: 2.0, height_in: 1.0, background: None }, Vec::new()).unwrap();
        let words = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
        let page = StepPage {
            number: 3,
            makes: 24,
            variants: words(&["16: diamond in Plum", "8 mirrored: diamond in Oat"]),
            kinds: Vec::new(),
            lines: words(&["Sew diamond to diamond."]),
            pressing: words(&["Press the seam open."]),
            trim: words(&["Trim to 3 × 3."]),
            measures: Some("3 × 3".to_owned()),
            diagrams: vec![drawing.clone(), drawing.clone()],
            hands: Some(drawing.clone()),
            trim_diagram: Some(drawing.clone()),
            stretch: Some(("2 edges stretch.".to_owned(), drawing)),
        };
        let told = sections(&page);
        let lines: Vec<&String> = told.iter().flat_map(|section| &section.lines).collect();
        assert_eq!(
            lines,
            ["Sew diamond to diamond.", "Press the seam open.", "Trim to 3 × 3.", "3 × 3", "2 edges stretch."]
        );
        let figures: Vec<(&str, &str, &str)> = told
            .iter()
            .flat_map(|section| &section.figures)
            .map(|figure| (figure.caption.as_str(), figure.fabrics.as_str(), figure.label.as_str()))
            .collect();
        let of = "of step 3, parts and sewn unit.";
        let labels = [
            format!("Diagram 1 {of} Now make 16 of these: diamond in Plum"),
            format!("Diagram 2 {of} Now make 8 of these, mirrored: diamond in Oat"),
        ];
        let expected = [
            ("Now make 16 of these", "diamond in Plum", labels[0].as_str()),
            ("Now make 8 of these, mirrored", "diamond in Oat", labels[1].as_str()),
            ("", "", "Diagram, the unit of step 3 beside its mirror image"),
            ("", "", "Diagram, trimming of step 3: Trim to 3 × 3."),
            ("", "", "Diagram, the block with its edges on the bias drawn heavily"),
        ];
        assert_eq!(figures, expected);
    }
}
