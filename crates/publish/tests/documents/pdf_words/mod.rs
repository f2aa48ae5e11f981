//! The words of pages, read back from their PDF.

use lopdf::Document as Pdf;
use publish::Pages;

/// All words without their spaces; heads and feet are among them.
pub(crate) fn words(pages: &Pages) -> String {
    let pdf = Pdf::load_mem(&pages.pdf().unwrap()).unwrap();
    let numbers: Vec<u32> = pdf.get_pages().into_keys().collect();
    plain(&pdf.extract_text(&numbers).unwrap())
}

/// A text without its spaces.
pub(crate) fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}
