//! Tables as CSV files that any spreadsheet opens as they are meant.
//!
//! Lines and quotes follow RFC 4180. The text is UTF-8 and begins with the mark that says so: without it, spreadsheets
//! that guess show `½` and `″` as other characters. What a user has named is never run as a formula (see [`harmless`]).

use std::borrow::Cow;

use geometry::{Exact, inches_to_mm};
use layout::Units;

use crate::PublishError;

/// What tells a spreadsheet that the text is UTF-8.
const UTF8_MARK: &[u8] = b"\xef\xbb\xbf";

/// A table with its head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Names of the columns.
    pub head: Vec<String>,
    /// Rows, each as long as the head.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// The table with the edition of the pattern in a last column, so that no line goes without it when lines are sorted or
    /// copied; as it is where there is none.
    #[must_use]
    pub fn in_edition(mut self, edition: &str) -> Self {
        if !edition.is_empty() {
            self.head.push("Edition".to_owned());
            self.rows.iter_mut().for_each(|row| row.push(edition.to_owned()));
        }
        self
    }

    /// The table as a CSV file.
    ///
    /// # Errors
    /// [`PublishError::Table`] for a row that is longer or shorter than the head.
    pub fn csv(&self) -> Result<Vec<u8>, PublishError> {
        let refused = |cause: String| PublishError::Table { cause };
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(UTF8_MARK.to_vec());
        for row in std::iter::once(&self.head).chain(&self.rows) {
            let cells = row.iter().map(|cell| harmless(cell));
            writer
                .write_record(cells.map(|cell| cell.as_bytes().to_vec()))
                .map_err(|error| refused(error.to_string()))?;
        }
        writer.into_inner().map_err(|error| refused(error.to_string()))
    }
}

/// A cell that no spreadsheet takes for a formula: one that begins like a formula gets an apostrophe before it, which
/// says "text". Source: OWASP, "CSV Injection" (cells that begin with `=`, `+`, `-`, `@`, a tab or a carriage return;
/// also with a line feed or the wide forms of those signs). Spaces before them are looked through.
#[must_use]
pub fn harmless(cell: &str) -> Cow<'_, str> {
    const BEGINS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
    let risky = cell.starts_with(['\t', '\r', '\n']) || cell.trim_start().starts_with(BEGINS);
    if risky { Cow::Owned(format!("'{cell}")) } else { Cow::Borrowed(cell) }
}

/// The short name of a unit, for the heads of columns.
pub(super) const fn unit(units: Units) -> &'static str {
    match units {
        Units::Inches => "in",
        Units::Centimetres => "cm",
    }
}

/// A length of so many inches as a plain number, which a spreadsheet can reckon with: four decimals of an inch, so that
/// a sixty-fourth is near enough, or two of a centimetre; trailing zeros are left out.
pub(super) fn number(inches: &Exact, units: Units) -> String {
    let text = match units {
        Units::Inches => inches.to_decimal(4),
        Units::Centimetres => (&inches_to_mm(inches) * &Exact::ratio(1, 10).unwrap_or_default()).to_decimal(2),
    };
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(rows: &[&[&str]]) -> Table {
        let owned = |row: &[&str]| row.iter().map(|cell| (*cell).to_owned()).collect::<Vec<_>>();
        Table { head: owned(rows[0]), rows: rows[1..].iter().map(|row| owned(row)).collect() }
    }

    /// The rules of RFC 4180, sections 2.1 to 2.7, by hand.
    #[test]
    fn lines_and_quotes_are_those_of_the_rfc() {
        let table = table(&[&["fabric", "note"], &["Plum, dark", "6″ \"star\""], &["Oat", "two\nlines"]]);
        let text = "\u{feff}fabric,note\r\n\"Plum, dark\",\"6″ \"\"star\"\"\"\r\nOat,\"two\nlines\"\r\n";
        assert_eq!(String::from_utf8(table.csv().unwrap()).unwrap(), text);
    }

    #[test]
    fn what_looks_like_a_formula_is_text() {
        for cell in
            ["=1+1", "+49", "-2", "@SUM(A1)", " =1", "\t=1", "\rx", "\nx", "＝1", "－", "-", "=cmd|' /C calc'!A0"]
        {
            assert_eq!(harmless(cell), format!("'{cell}"));
        }
        for cell in ["", "Plum", "1-2", "2½″", "'quoted", "a=b", "–", "× 4", "(6)"] {
            assert_eq!(harmless(cell), cell);
        }
    }

    #[test]
    fn every_line_names_its_edition() {
        let plain = table(&[&["fabric", "note"], &["Plum", "dark"], &["Oat", "light"]]);
        assert_eq!(plain.clone().in_edition(""), plain);
        let marked = table(&[&["fabric", "note", "Edition"], &["Plum", "dark", "2"], &["Oat", "light", "2"]]);
        assert_eq!(plain.in_edition("2"), marked);
    }

    #[test]
    fn numbers_are_plain() {
        let ratio = |num, den| Exact::ratio(num, den).unwrap();
        for (inches, in_inches, in_centimetres) in [
            (ratio(5, 2), "2.5", "6.35"),
            (ratio(100, 1), "100", "254"),
            (ratio(1, 64), "0.0156", "0.04"),
            (ratio(0, 1), "0", "0"),
        ] {
            assert_eq!(number(&inches, Units::Inches), in_inches);
            assert_eq!(number(&inches, Units::Centimetres), in_centimetres);
        }
    }

    #[test]
    fn a_row_of_another_length_is_refused() {
        let error = table(&[&["fabric", "note"], &["Plum"]]).csv().unwrap_err();
        assert!(error.to_string().contains("found record with 1 field"), "{error}");
    }

    proptest::proptest! {
        /// A reader gets back every cell, but for the apostrophe before what looks like a formula.
        #[test]
        fn what_is_written_is_read(cells in proptest::collection::vec("[=+@a\"', ;\r\n\t½″-]{0,8}", 12)) {
            let rows: Vec<Vec<String>> = cells.chunks(3).map(<[String]>::to_vec).collect();
            let table = Table { head: rows[0].clone(), rows: rows[1..].to_vec() };
            let bytes = table.csv().unwrap();
            let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(&bytes[UTF8_MARK.len()..]);
            let read: Vec<Vec<String>> =
                reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect();
            let meant: Vec<Vec<String>> =
                rows.iter().map(|row| row.iter().map(|cell| harmless(cell).into_owned()).collect()).collect();
            proptest::prop_assert_eq!(read, meant);
        }
    }
}
