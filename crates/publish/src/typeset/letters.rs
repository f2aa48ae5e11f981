//! Letters that the bundled type does not have: they would be printed as empty boxes.

use serde_json::Value;

use crate::PublishError;
use crate::typeface::has_letter;

/// Looks through one text.
///
/// # Errors
/// As [`check_letters`].
pub(super) fn check_text(text: &str) -> Result<(), PublishError> {
    match text.chars().find(|letter| !has_letter(*letter)) {
        Some(letter) => Err(PublishError::NoLetter { letter, text: text.to_owned() }),
        None => Ok(()),
    }
}

/// Looks through all texts of a document's data.
///
/// # Errors
/// [`PublishError::NoLetter`] for the first letter that cannot be printed, with the text it stands in.
pub(super) fn check_letters(data: &Value) -> Result<(), PublishError> {
    match data {
        Value::String(text) => check_text(text),
        Value::Array(values) => values.iter().try_for_each(check_letters),
        Value::Object(values) => values.values().try_for_each(check_letters),
        Value::Null | Value::Bool(_) | Value::Number(_) => Ok(()),
    }
}
