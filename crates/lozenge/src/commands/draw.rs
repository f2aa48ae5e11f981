//! `draw`: the picture of the quilt top.

use std::io::Write;

use layout::{Overwrite, save};
use publish::{Seams, drawing_dxf, png, quilt_picture, svg};
use serde::Serialize;

use super::{chosen, open, print_json};
use crate::args::Draw;
use crate::error::CommandError;

#[derive(Serialize)]
struct Drawn<'a> {
    drawn: &'a std::path::Path,
    bytes: usize,
}

/// What is drawn.
enum Kind {
    Svg,
    Png,
    Dxf,
}

/// Draws a picture; its ending says which kind.
pub(super) fn run(draw: &Draw, out: &mut dyn Write) -> Result<(), CommandError> {
    let ending = draw.out.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase);
    let kind = match ending.as_deref() {
        Some("svg") => Kind::Svg,
        Some("png") => Kind::Png,
        Some("dxf") => Kind::Dxf,
        _ => return Err(CommandError::PictureKind(draw.out.clone())),
    };
    let document = open(&draw.file)?;
    let design = &chosen(&document, draw.variant.as_deref())?.design;
    let seams = if draw.no_seams { Seams::Hidden } else { Seams::Shown };
    let drawing = quilt_picture(design, seams)?;
    let bytes = match kind {
        Kind::Svg => svg(&drawing).into_bytes(),
        Kind::Png => png(&drawing, draw.width)?,
        Kind::Dxf => drawing_dxf(&drawing, design.units())?,
    };
    let overwrite = if draw.force { Overwrite::Replace } else { Overwrite::Refuse };
    save(&draw.out, &bytes, overwrite)?;
    if draw.json {
        return print_json(&Drawn { drawn: &draw.out, bytes: bytes.len() }, out);
    }
    writeln!(out, "drew {}", draw.out.display())?;
    Ok(())
}
