//! `save`: reads, proves and writes a copy.

use std::io::Write;

use layout::Overwrite;
use serde::Serialize;

use super::{open, print_json};
use crate::args::Save;
use crate::error::CommandError;

#[derive(Serialize)]
struct Saved<'a> {
    saved: &'a std::path::Path,
    variants: usize,
}

/// Saves a copy.
pub(super) fn run(save: &Save, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&save.file)?;
    let overwrite = if save.force { Overwrite::Replace } else { Overwrite::Refuse };
    document.save(&save.out, overwrite).map_err(|source| CommandError::of_quilt(&save.file, source))?;
    if save.json {
        return print_json(&Saved { saved: &save.out, variants: document.variants().len() }, out);
    }
    writeln!(out, "saved {}", save.out.display())?;
    Ok(())
}
