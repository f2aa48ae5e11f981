//! Templates and trim sheets as files for machines: one file each, lines of each kind in a layer or class of their own.

use layout::Units;

use super::{SheetOptions, Templates, TrimSheets};
use crate::{Drawing, PublishError, svg};

/// What a template is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MachineFile {
    /// A picture of lines, in inches.
    Svg,
    /// A drawing for a cutting machine, in the units of the quilt: inches or millimetres.
    Dxf,
}

impl MachineFile {
    const fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Dxf => "dxf",
        }
    }
}

/// One template or trim sheet as a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MachineSheet {
    /// The letter of the template or the number of the trim sheet.
    pub mark: String,
    /// A name for the file, with its ending; no two are alike.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl MachineSheet {
    /// A file named after what it is, its mark and its name.
    fn new(
        kind: MachineFile,
        [what, mark, name]: [&str; 3],
        picture: impl FnOnce() -> Result<Drawing, PublishError>,
        machine_drawing: impl FnOnce() -> Result<Vec<u8>, PublishError>,
    ) -> Result<Self, PublishError> {
        let bytes = match kind {
            MachineFile::Svg => svg(&picture()?).into_bytes(),
            MachineFile::Dxf => machine_drawing()?,
        };
        let name = format!("{what}-{mark}-{}.{}", plain(name), kind.ending());
        Ok(Self { mark: mark.to_owned(), name, bytes })
    }
}

impl Templates {
    /// A file of each template.
    ///
    /// # Errors
    /// A template that cannot be drawn; a defect.
    pub fn files(
        &self,
        kind: MachineFile,
        units: Units,
        options: &SheetOptions,
    ) -> Result<Vec<MachineSheet>, PublishError> {
        let file = |t: &super::Template| {
            let titles = ["template", &t.letter, &t.name];
            MachineSheet::new(kind, titles, || t.drawing(options), || t.dxf(units, options))
        };
        self.templates.iter().map(file).collect()
    }
}

impl TrimSheets {
    /// A file of each trim sheet.
    ///
    /// # Errors
    /// A sheet that cannot be drawn; a defect.
    pub fn files(
        &self,
        kind: MachineFile,
        units: Units,
        options: &SheetOptions,
    ) -> Result<Vec<MachineSheet>, PublishError> {
        let file = |sheet: &super::TrimSheet| {
            let titles = ["trim-sheet", &sheet.number.to_string(), &sheet.name()];
            MachineSheet::new(kind, titles, || sheet.drawing(options), || sheet.dxf(units, options))
        };
        self.trim_sheets.iter().map(file).collect()
    }
}

/// A name as part of a file's name: small letters, digits, and one hyphen for anything else.
fn plain(name: &str) -> String {
    let parts = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-").to_ascii_lowercase()
}
