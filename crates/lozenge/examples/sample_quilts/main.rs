//! Writes the sample quilts: `cargo run -p lozenge --example sample_quilts -- sample-quilts`.
//!
//! Every sample begins with a [`layout::Starter`] and goes on with edits, as a user's quilt would. The same program
//! writes the same bytes.

mod quilts;

use std::error::Error;
use std::path::PathBuf;

use layout::Overwrite;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).map(PathBuf::from).ok_or("name the folder to write to")?;
    for sample in quilts::samples()? {
        sample.document.save(&folder.join(sample.file), Overwrite::Replace)?;
        println!("{}", sample.file);
    }
    Ok(())
}
