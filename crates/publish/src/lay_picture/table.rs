//! What stands round the fabric of a lay drawing: title, measured bar, pieces and the cutting list in words.

use layout::Units;

use super::strip::{LEFT_IN, reduction, widest};
use super::{LAY_WIDTH_IN, LayPicture, LayPiece, LayStrip};
use crate::block::Block;
use crate::cut_words::RowWords;
use crate::lengths::counted;
use crate::set_text::{BODY_IN, INK, PAPER, SMALL_IN, TITLE_IN, heading, line, line_to, paragraph};
use crate::typeface::{fitted, text_width};
use crate::{Anchor, Area, Item, Lines, Polyline, Text, Weight};

/// Where the text of a numbered line begins.
const INDENT_IN: f64 = 0.32;
/// Room between two columns.
const GUTTER_IN: f64 = 0.3;

/// Name of the fabric, what to buy, what it takes.
pub(super) fn title(lay: &LayPicture) -> Vec<Block> {
    let buy = format!("buy {}", lay.buy);
    let room = LAY_WIDTH_IN - text_width(&buy, TITLE_IN, Weight::Bold) - GUTTER_IN;
    let name = fitted(&lay.fabric, TITLE_IN, Weight::Bold, room);
    let strips = counted(lay.strips_cut(), "strip", "strips");
    let value = lay.value.word();
    let told = format!("{value} · {} · {strips} · drawn 1 : {:.0}", lay.extent, reduction(lay));
    let told = fitted(&told, BODY_IN, Weight::Regular, LAY_WIDTH_IN);
    let items = vec![
        line(name, [0.0, 0.24], TITLE_IN, Weight::Bold),
        line_to(buy, [LAY_WIDTH_IN, 0.24], TITLE_IN, Weight::Bold),
        line(told, [0.0, 0.45], BODY_IN, Weight::Regular),
    ];
    vec![Block { items, height_in: 0.58, with_next: true }]
}

/// A bar of a round length, to measure the drawing by.
pub(super) fn scale_bar(lay: &LayPicture) -> Block {
    let (unit_in, unit, steps) = match lay.units {
        Units::Inches => (1.0, "″", [12.0, 6.0, 3.0, 1.0]),
        Units::Centimetres => (1.0 / 2.54, " cm", [30.0, 20.0, 10.0, 5.0]),
    };
    let on_page = |length: f64| length * unit_in / reduction(lay);
    let length = steps.into_iter().find(|step| on_page(*step) <= widest(lay) * 0.5).unwrap_or(steps[3]);
    let (left, top, high) = (LEFT_IN, 0.06, 0.05);
    let half = on_page(length) / 2.0;
    let part = |k: f64| {
        let (from, to) = (left + k * half, left + (k + 1.0) * half);
        vec![[from, top], [to, top], [to, top + high], [from, top + high]]
    };
    let outline = vec![Polyline { points: part(0.0), closed: true }, Polyline { points: part(1.0), closed: true }];
    let area = |fill, k| Item::Area(Area { label: String::new(), fill, polygons: vec![part(k)] });
    let mark = |text: String, x: f64| {
        let at = [x, top + high + SMALL_IN];
        let (anchor, weight) = (Anchor::Middle, Weight::Regular);
        Item::Text(Text { text, at, anchor, size_in: SMALL_IN, weight, fill: INK, turned: 0.0 })
    };
    let items = vec![
        area(PAPER, 0.0),
        area(INK, 1.0),
        Item::Lines(Lines { stroke: INK, width_in: 0.008, dashes: Vec::new(), polylines: outline }),
        mark("0".to_owned(), left),
        mark(format!("{length}{unit}"), left + 2.0 * half),
    ];
    Block { items, height_in: 0.36, with_next: false }
}

/// The list of pieces in two columns, read line by line.
pub(super) fn pieces(lay: &LayPicture) -> Vec<Block> {
    let mut blocks = vec![heading("Pieces, with their size when cut")];
    for pair in lay.pieces.chunks(2) {
        let width = (LAY_WIDTH_IN - GUTTER_IN) / 2.0;
        let columns = [0.0, width + GUTTER_IN];
        let cells: Vec<Block> = pair.iter().zip(columns).map(|(piece, x)| piece_cell(piece, x, width)).collect();
        let height_in = cells.iter().map(|cell| cell.height_in).fold(0.0, f64::max);
        let items = cells.into_iter().flat_map(|cell| cell.items).collect();
        blocks.push(Block { items, height_in, with_next: false });
    }
    blocks.push(Block::space(0.12));
    blocks
}

/// One piece: number, how many, name and size.
fn piece_cell(piece: &LayPiece, x: f64, width: f64) -> Block {
    let trim = if piece.trim.is_empty() { String::new() } else { format!("; {}", piece.trim) };
    let text = format!("{} × {}, {}{trim}", piece.count, piece.name, piece.size);
    let mut block = paragraph(&text, x + INDENT_IN, width - INDENT_IN, BODY_IN);
    block.items.push(line(piece.number.to_string(), [x, BODY_IN], BODY_IN, Weight::Bold));
    block
}

/// The strips in words, in the order of work, each with a box to tick.
pub(super) fn cutting_list(lay: &LayPicture) -> Vec<Block> {
    let mut blocks = vec![heading("In the order of work")];
    for cloth in &lay.cloths {
        if let Some(words) = &cloth.heading {
            let mut block = paragraph(&format!("{words}:"), 0.0, LAY_WIDTH_IN, BODY_IN);
            block.with_next = true;
            blocks.push(block);
        }
        blocks.extend(cloth.strips.iter().flat_map(strip_words));
    }
    blocks.push(Block::space(0.12));
    blocks
}

fn strip_words(strip: &LayStrip) -> Vec<Block> {
    let side = BODY_IN * 0.8;
    let top = BODY_IN - side;
    let square = vec![[0.0, top], [side, top], [side, top + side], [0.0, top + side]];
    let polylines = vec![Polyline { points: square, closed: true }];
    let text = INDENT_IN + 0.25;
    let mut block = paragraph(&format!("{}:", strip.heading), text, LAY_WIDTH_IN - text, BODY_IN);
    block.items.push(line(strip.letter.clone(), [INDENT_IN, BODY_IN], BODY_IN, Weight::Bold));
    block.items.push(Item::Lines(Lines { stroke: INK, width_in: 0.01, dashes: Vec::new(), polylines }));
    block.with_next = true;
    let mut blocks = vec![block];
    let mut lines = strip.words.iter().flat_map(RowWords::lines).peekable();
    while let Some((number, told)) = lines.next() {
        let under = text + INDENT_IN;
        let mut block = paragraph(told, under, LAY_WIDTH_IN - under, BODY_IN);
        block.items.extend(number.map(|number| line(number.to_string(), [text, BODY_IN], BODY_IN, Weight::Bold)));
        block.with_next = lines.peek().is_some();
        blocks.push(block);
    }
    blocks.push(Block::space(0.04));
    blocks
}

/// What holds for every cutting list.
pub(super) fn cautions() -> Vec<Block> {
    let told = [
        "Strips and cuts are rounded up to the ruler’s step; the exact cut sizes stand beside the pieces.",
        "Read the makers’ instructions for rotary cutter and iron; keep blades and small parts from children.",
    ];
    told.iter().map(|text| paragraph(text, 0.0, LAY_WIDTH_IN, SMALL_IN)).collect()
}
