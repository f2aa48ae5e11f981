//! What stands on the first sheet: how to print, cut and use templates and trim sheets, and a list of them.

use std::collections::BTreeMap;

use cutting::{ClassBook, ClassId};
use layout::{Design, FabricId, Print};

use super::document::{proof_block, titled, told};
use super::{SheetOptions, Template, TrimSheet};
use crate::PublishError;
use crate::block::Block;
use crate::cut_words::bounds_words;
use crate::set_text::{BODY_IN, TITLE_IN, line, paragraph};
use crate::typeface::fitted;
use crate::{Weight, lengths};

/// How far the words of a list stand in from its letters.
const INDENT_IN: f64 = 0.4;

/// What holds whenever something is cut along a sheet.
const CAUTIONS: [&str; 3] = [
    "A rotary cutter slips on paper and shaves it: trace round a paper template and cut with scissors, or lay an acrylic \
     ruler over the line and cut along the ruler, fingers well behind its edge.",
    "Close the blade after every cut; keep blades, scissors and small parts from children.",
    "Templates cut by machine from acrylic or plastic: some plastics give off harmful fumes, so cut only what the maker of \
     the machine allows. The makers of blade, ruler, machine and fabric have the last word.",
];

/// Titles, proof squares and how to print.
fn opening(kind: &str, design: &Design, room: f64) -> Vec<Block> {
    let title = fitted(&format!("{kind}: {}", design.name()), TITLE_IN, Weight::Bold, room);
    let items = vec![line(title, [0.0, TITLE_IN], TITLE_IN, Weight::Bold)];
    let mut blocks = vec![Block { items, height_in: TITLE_IN * 1.7, with_next: true }];
    let print = "Print at actual size (100 %), with no fitting to the page. Then measure this square of one inch and this \
                 square of five centimetres: if one is off by more than the width of its line, nothing else on these \
                 sheets is true.";
    blocks.push(proof_block(print, room));
    blocks
}

/// A list of words with something in bold before each.
fn listed(lines: Vec<(String, String)>, room: f64) -> Vec<Block> {
    let entry = |(letter, words): (String, String)| {
        let mut block = paragraph(&words, INDENT_IN, room - INDENT_IN, BODY_IN);
        block.items.push(line(letter, [0.0, BODY_IN], BODY_IN, Weight::Bold));
        block
    };
    lines.into_iter().map(entry).collect()
}

fn cautions(room: f64) -> Vec<Block> {
    let mut blocks = vec![titled("Take care")];
    blocks.extend(told(&CAUTIONS.map(str::to_owned), room));
    blocks
}

const ON_SEVERAL: &str = "What is larger than a sheet comes on several: cut or fold one of two neighbours along its dotted \
                          frame, lay crosses on crosses and tape them together. Check a long edge with a ruler afterwards.";

/// The first sheets of the templates.
pub(super) fn template_words(
    design: &Design,
    templates: &[Template],
    strips: &[String],
    room: f64,
    options: &SheetOptions,
) -> Result<Vec<Block>, PublishError> {
    let mut blocks = opening("Templates", design, room);
    blocks.push(titled("How to read them"));
    blocks.extend(told(&reading(design, templates, options)?, room));
    blocks.extend(cautions(room));
    blocks.push(titled("The templates"));
    let mut lines = Vec::new();
    for template in templates {
        let (size, counts) = (template.size_words(design.units()), template.count_words(design)?.join("; "));
        let like: String = template.like_words().iter().map(|words| format!(" {words}.")).collect();
        let words = format!("{}, {size}. {counts}.{like}", template.name_words());
        lines.push((template.letter.clone(), words));
    }
    blocks.extend(listed(lines, room));
    if !strips.is_empty() {
        blocks.push(titled("Cut with the ruler"));
        if design.borders().iter().any(|border| border.pieced().is_none()) {
            blocks.extend(told(&["Measure your own top before you cut its borders to length.".to_owned()], room));
        }
        blocks.extend(told(strips, room));
    }
    Ok(blocks)
}

/// What the lines and words of a template mean, as far as these templates have them.
fn reading(design: &Design, templates: &[Template], options: &SheetOptions) -> Result<Vec<String>, PublishError> {
    let mut lines = vec![
        "Solid line: cut. Dashed line: the seam, which is the finished shape. The double arrow lies on the straight \
         grain, lengthwise or crosswise."
            .to_owned(),
    ];
    if templates.iter().any(|template| template.trims > 0) {
        let text = "A tip that is cut off is trimmed so that its raw edges match those of the patch sewn there.";
        lines.push(text.to_owned());
    }
    if templates.iter().any(Template::is_turned_over) {
        let text = "Turned over, a template gives the mirror image. Both hands come at once from fabric folded with its \
                    right sides together; where you follow the cutting plan, cut in a single layer as it says.";
        lines.push(text.to_owned());
    }
    let fabrics = templates.iter().flat_map(|template| template.counts.keys());
    for id in fabrics.collect::<std::collections::BTreeSet<_>>() {
        let fabric = design.fabric(*id)?;
        if fabric.print == Print::Directional {
            lines.push(format!(
                "{} has a direction: lay every template the same way up, its arrow from selvage to selvage, and do not \
                 fold the fabric.",
                fabric.name
            ));
        }
    }
    if design.cutting().spare_permille > 0 {
        lines.push("The counts are those of the quilt; the cutting plan adds spare pieces.".to_owned());
    }
    if options.kerf_in > 0.0 {
        let half = options.kerf_in / 2.0;
        lines.push(format!(
            "For a cutting machine, cut lines are moved out by half of its kerf: {half:.4}″ ({:.3} mm).",
            half * 25.4
        ));
    }
    lines.push(ON_SEVERAL.to_owned());
    Ok(lines)
}

/// The first sheets of the trim sheets.
pub(super) fn trim_sheet_words(design: &Design, sheets: &[TrimSheet], room: f64) -> Vec<Block> {
    let mut blocks = opening("Trim sheets", design, room);
    blocks.push(titled("How to use them"));
    let mut lines = Vec::new();
    match &design.cutting().oversize {
        None => lines.push("This quilt is cut without an oversize margin, so nothing is trimmed.".to_owned()),
        Some(margin) => {
            let margin = lengths::finished(margin.inches(), design.units());
            lines.push(format!(
                "Units are sewn with {margin} to spare on the edges that are trimmed. Press the unit, lay it under the \
                 sheet on a light table or at a window, right side up, so that its seams lie under the dashed lines, and \
                 mark along the solid ones; or set your ruler to the measures, from the seam to the cut."
            ));
            lines.push("Each sheet serves one size. Trim, then measure the unit once with a ruler.".to_owned());
            lines.push(ON_SEVERAL.to_owned());
        }
    }
    blocks.extend(told(&lines, room));
    blocks.extend(cautions(room));
    if !sheets.is_empty() {
        blocks.push(titled("The sheets"));
        let entry = |sheet: &TrimSheet| (sheet.number.to_string(), format!("{}: trim {}", sheet.name(), sheet.count));
        blocks.extend(listed(sheets.iter().map(entry).collect(), room));
    }
    blocks
}

/// What a ruler cuts, a line each: "border, 60½″ × 3″. Plum: cut 2."
pub(super) fn strip_words(
    design: &Design,
    book: &ClassBook,
    strips: &BTreeMap<ClassId, BTreeMap<FabricId, u64>>,
) -> Result<Vec<String>, PublishError> {
    let mut lines = Vec::new();
    for (class, fabrics) in strips {
        let Some(class) = book.class(*class) else { continue };
        let counts = fabrics.iter().map(|(id, count)| Ok(format!("{}: cut {count}", design.fabric(*id)?.name)));
        let counts = counts.collect::<Result<Vec<_>, PublishError>>()?.join("; ");
        let size = bounds_words(&class.shape.outline().bounds(), design.units());
        lines.push(format!("{}, {size}. {counts}.", class.label_of_either_hand(|_| true)));
    }
    Ok(lines)
}
