//! `draw`: the picture of the quilt top.

use std::io::Write;

use layout::{Overwrite, save};
use publish::{Seams, png, quilt_picture, svg};
use serde::Serialize;

use super::{chosen, open, print_json};
use crate::args::Draw;
use crate::error::CommandError;

#[derive(Serialize)]
struct Drawn<'a> {
    drawn: &'a std::path::Path,
    bytes: usize,
}

/// Draws a picture; its ending says which kind.
pub(super) fn run(draw: &Draw, out: &mut dyn Write) -> Result<(), CommandError> {
    let ending = draw.out.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase);
    let as_png = match ending.as_deref() {
        Some("svg") => false,
        Some("png") => true,
        _ => return Err(CommandError::PictureKind(draw.out.clone())),
    };
    let document = open(&draw.file)?;
    let design = &chosen(&document, draw.variant.as_deref())?.design;
    let seams = if draw.no_seams { Seams::Hidden } else { Seams::Shown };
    let drawing = quilt_picture(design, seams)?;
    let bytes = if as_png { png(&drawing, draw.width)? } else { svg(&drawing).into_bytes() };
    let overwrite = if draw.force { Overwrite::Replace } else { Overwrite::Refuse };
    save(&draw.out, &bytes, overwrite)?;
    if draw.json {
        return print_json(&Drawn { drawn: &draw.out, bytes: bytes.len() }, out);
    }
    writeln!(out, "drew {}", draw.out.display())?;
    Ok(())
}
