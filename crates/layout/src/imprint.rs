//! What the maker says of a published pattern beside its figures: who made it, which edition it is, notes and a photo.

use crate::error::EditError;
use crate::fabric::MAX_NAME_CHARS;

/// The most notes.
pub const MAX_NOTES: usize = 20;

/// The longest note, in characters.
pub const MAX_NOTE_CHARS: usize = 2000;

/// The longest path of a photo, in characters.
pub const MAX_PHOTO_CHARS: usize = 500;

/// What the maker says of a published pattern. The title is the quilt's name. Every text may be empty, and nothing of it
/// changes what is cut or sewn.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imprint {
    /// Who made the pattern, at most [`MAX_NAME_CHARS`].
    pub author: String,
    /// Which edition of the pattern it is, at most [`MAX_NAME_CHARS`].
    pub edition: String,
    /// A line under the title, at most [`MAX_NAME_CHARS`].
    pub lead: String,
    /// Paragraphs of text, at most [`MAX_NOTES`] of [`MAX_NOTE_CHARS`]; none of them empty.
    pub notes: Vec<String>,
    /// Path of a picture file, relative to the quilt file, at most [`MAX_PHOTO_CHARS`]; empty for none.
    pub photo: String,
}

impl Imprint {
    /// Whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The same with spaces around its texts taken off; a path is kept as it is.
    ///
    /// # Errors
    /// [`EditError::TooMany`] notes, [`EditError::LongText`], [`EditError::Unprintable`], [`EditError::EmptyNote`].
    pub fn checked(&self) -> Result<Self, EditError> {
        if self.notes.len() > MAX_NOTES {
            return Err(EditError::TooMany { what: "notes", most: MAX_NOTES, given: self.notes.len() });
        }
        let note = |(number, note): (usize, &String)| {
            let note = checked_text(&format!("note {number}"), note, MAX_NOTE_CHARS)?;
            if note.is_empty() { Err(EditError::EmptyNote(number)) } else { Ok(note) }
        };
        check_text("the path of the photo", &self.photo, MAX_PHOTO_CHARS)?;
        Ok(Self {
            author: checked_text("the author", &self.author, MAX_NAME_CHARS)?,
            edition: checked_text("the edition", &self.edition, MAX_NAME_CHARS)?,
            lead: checked_text("the line under the title", &self.lead, MAX_NAME_CHARS)?,
            notes: (1..).zip(&self.notes).map(note).collect::<Result<_, _>>()?,
            photo: self.photo.clone(),
        })
    }
}

fn checked_text(what: &str, text: &str, most: usize) -> Result<String, EditError> {
    let text = text.trim();
    check_text(what, text, most)?;
    Ok(text.to_owned())
}

fn check_text(what: &str, text: &str, most: usize) -> Result<(), EditError> {
    let given = text.chars().count();
    if given > most {
        return Err(EditError::LongText { what: what.to_owned(), most, given });
    }
    if text.chars().any(char::is_control) { Err(EditError::Unprintable(what.to_owned())) } else { Ok(()) }
}
