//! The quilt file: JSON with a format version and types of its own, written whole or not at all.
//!
//! Same document, same bytes. A file that cannot be read gives an error with the line, or with the field and
//! what to do; it is never changed by the attempt.

mod buying;
mod effort;
mod number;
mod places;
mod print;
mod read;
mod references;
mod settings;
mod v1;
mod v1_recipe;
mod words;
mod write;

use std::fs::File;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use thiserror::Error;

use crate::design::Design;
use crate::fabric::checked_name;
use crate::save::{Overwrite, SaveError, save};

/// What the file says it is.
const FORMAT: &str = "lozenge quilt";

/// The version that is written, and the newest that is read.
pub const VERSION: u32 = 1;

/// The largest file that is read, in bytes.
pub const MAX_BYTES: u64 = 5 << 20;

/// The most variants in a file.
pub const MAX_VARIANTS: usize = 50;

/// One variant of the quilt, such as another colouring.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variant {
    /// What it is called among the variants.
    pub label: String,
    /// Its design.
    pub design: Design,
}

/// What a file holds: one quilt in one or several variants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    variants: Vec<Variant>,
}

/// Why a file could not be read or written.
#[derive(Debug, Error)]
pub enum FileError {
    /// The system would not let it be read.
    #[error("cannot read: {source}; check the name and your rights: {}", path.display())]
    Io {
        /// What the system said.
        source: std::io::Error,
        /// The file.
        path: PathBuf,
    },
    /// Larger than any quilt.
    #[error("this file has more than {} megabytes; a quilt file has fewer, so this is not one", MAX_BYTES >> 20)]
    TooLarge,
    /// More than could be opened again.
    #[error(
        "this quilt would fill more than {} megabytes, which could not be opened again; take out variants, or paint \
         roles in place of single patches",
        MAX_BYTES >> 20
    )]
    TooLargeToSave,
    /// Not JSON, or not the fields of a quilt.
    #[error("line {line}, column {column}: {why}; correct the file there or open a copy")]
    Syntax {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong.
        why: String,
    },
    /// JSON of something else.
    #[error("this is not a quilt file: its \"format\" should be \"{FORMAT}\"")]
    NotAQuilt,
    /// Made by a newer program.
    #[error(
        "this file has version {0}, and this program reads versions up to {VERSION}; update the program to open it"
    )]
    Newer(u32),
    /// A version that never was.
    #[error("there is no file version 0; this file is damaged or made by hand: set \"version\" to {VERSION}")]
    NoSuchVersion,
    /// A field that cannot be.
    #[error("{field}: {why}")]
    Content {
        /// The field's place in the file.
        field: String,
        /// What is wrong with it and what to do.
        why: String,
    },
    /// It could not be saved.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// It could not be turned into text; a defect.
    #[error("the quilt could not be written as text: {0}")]
    Write(serde_json::Error),
}

/// The two fields that every version has.
#[derive(Deserialize)]
struct Header {
    #[serde(default)]
    format: String,
    #[serde(default)]
    version: u32,
}

impl Document {
    /// A document with one variant.
    #[must_use]
    pub fn new(design: Design) -> Self {
        Self { variants: vec![Variant { label: "First".to_owned(), design }] }
    }

    /// A document with these variants.
    ///
    /// # Errors
    /// None, or more than [`MAX_VARIANTS`], or a label that cannot be shown.
    pub fn with_variants(variants: Vec<Variant>) -> Result<Self, FileError> {
        let refuse = |why: String| FileError::Content { field: "variants".to_owned(), why };
        if variants.is_empty() || variants.len() > MAX_VARIANTS {
            return Err(refuse(format!("a file has 1 to {MAX_VARIANTS} variants, not {}", variants.len())));
        }
        for variant in &variants {
            checked_name(&variant.label).map_err(|e| refuse(e.to_string()))?;
        }
        Ok(Self { variants })
    }

    /// The variants, at least one.
    #[must_use]
    pub fn variants(&self) -> &[Variant] {
        &self.variants
    }

    /// Reads a document from the text of a file and proves every block and top in it.
    ///
    /// # Errors
    /// Every [`FileError`] but those of reading and saving.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, FileError> {
        if u64::try_from(bytes.len()).is_ok_and(|n| n > MAX_BYTES) {
            return Err(FileError::TooLarge);
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let header: Header = serde_json::from_slice(bytes).map_err(|e| syntax(&e))?;
        match header {
            Header { format, .. } if format != FORMAT => return Err(FileError::NotAQuilt),
            Header { version: 0, .. } => return Err(FileError::NoSuchVersion),
            Header { version, .. } if version > VERSION => return Err(FileError::Newer(version)),
            Header { .. } => {}
        }
        let file: v1::File = serde_json::from_slice(bytes).map_err(|e| syntax(&e))?;
        let mut effort = effort::Effort::default();
        let mut variants = Vec::new();
        for (i, variant) in file.variants.iter().take(MAX_VARIANTS + 1).enumerate() {
            let path = format!("variants[{i}]");
            effort.add(&path, variant)?;
            let design = read::variant(&path, variant)?;
            variants.push(Variant { label: variant.variant.clone(), design });
        }
        Self::with_variants(variants)
    }

    /// The text of the file: the same for the same document.
    ///
    /// # Errors
    /// [`FileError::TooLargeToSave`]; [`FileError::Write`], which would be a defect.
    pub fn to_bytes(&self) -> Result<Vec<u8>, FileError> {
        let file = v1::File {
            format: FORMAT.to_owned(),
            version: VERSION,
            variants: self.variants.iter().map(|v| write::variant(&v.label, &v.design)).collect(),
        };
        let text = print::to_text(&file).map_err(FileError::Write)?;
        if u64::try_from(text.len()).is_ok_and(|n| n > MAX_BYTES) {
            return Err(FileError::TooLargeToSave);
        }
        Ok(text)
    }

    /// Opens a file.
    ///
    /// # Errors
    /// Any [`FileError`]; the file is only read.
    pub fn open(path: &Path) -> Result<Self, FileError> {
        let io = |source| FileError::Io { source, path: path.to_path_buf() };
        let mut bytes = Vec::new();
        // One byte beyond the limit tells a file that is too large without reading it all.
        File::open(path).map_err(io)?.take(MAX_BYTES + 1).read_to_end(&mut bytes).map_err(io)?;
        Self::from_bytes(&bytes)
    }

    /// Saves to a file, whole or not at all.
    ///
    /// # Errors
    /// [`FileError::Save`]; what was there before is untouched.
    pub fn save(&self, path: &Path, overwrite: Overwrite) -> Result<(), FileError> {
        Ok(save(path, &self.to_bytes()?, overwrite)?)
    }
}

/// The longest reason that is shown, in characters.
const MAX_REASON_CHARS: usize = 400;

/// A reason may quote the file: it is cut to a length that can be read, and control characters, which could
/// command a terminal, are replaced.
fn fit_to_show(why: &str) -> String {
    let shown = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    if why.chars().nth(MAX_REASON_CHARS).is_none() {
        return why.chars().map(shown).collect();
    }
    why.chars().take(MAX_REASON_CHARS).map(shown).chain(['…']).collect()
}

/// serde_json puts the place at the end of its message; it goes to the front here.
fn syntax(error: &serde_json::Error) -> FileError {
    let (line, column) = (error.line(), error.column());
    let told = error.to_string();
    let why = told.strip_suffix(&format!(" at line {line} column {column}")).unwrap_or(&told).to_owned();
    FileError::Syntax { line, column, why: fit_to_show(&why) }
}
