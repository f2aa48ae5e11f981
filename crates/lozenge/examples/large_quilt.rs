//! Writes a quilt of about as many patches as are asked for, to measure with:
//! `cargo run -p lozenge --example large_quilt -- 100000 large.json`.

use std::path::Path;

use layout::file::Document;
use layout::{Edit, Overwrite, Setting};
use lozenge::window::gallery::{Bed, Choice, StartBlock};

/// Patches of the diagonal half block.
const PATCHES: u32 = 8;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(patches), Some(path)) = (arguments.next(), arguments.next()) else {
        return Err("usage: large_quilt PATCHES FILE".into());
    };
    let side = (patches.parse::<u32>()? / PATCHES).max(1).isqrt();
    let columns = u16::try_from(side)?;
    let rows = u16::try_from(patches.parse::<u32>()? / PATCHES / side)?;
    let choice = Choice { block: StartBlock::DiagonalHalf, inches: 6, bed: Bed::Crib, colours: 4, ..Choice::default() };
    let design = choice.design()?;
    let Some((fill, _)) = design.blocks().next() else { return Err("the new quilt has no block".into()) };
    let setting = Setting::Straight { rows, columns };
    let (design, _) = layout::apply(&design, &Edit::SetSetting { setting, fill })?;
    println!("{} patches", design.top()?.patches());
    Ok(Document::new(design).save(Path::new(&path), Overwrite::Replace)?)
}
