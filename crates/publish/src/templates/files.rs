//! Templates and trim sheets as files for machines: one file each, lines of each kind in a layer or class of their own.

use layout::Units;

use super::{SheetOptions, Templates, TrimSheets};
use crate::{PublishError, svg};

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

impl Templates {
    /// A file of each template: its name, and its bytes. Names differ by the letters of the templates.
    ///
    /// # Errors
    /// A template that cannot be drawn; a defect.
    pub fn files(
        &self,
        kind: MachineFile,
        units: Units,
        options: &SheetOptions,
    ) -> Result<Vec<(String, Vec<u8>)>, PublishError> {
        let file = |template: &super::Template| {
            let bytes = match kind {
                MachineFile::Svg => svg(&template.drawing(options)?).into_bytes(),
                MachineFile::Dxf => template.dxf(units, options)?,
            };
            Ok((format!("template-{}-{}.{}", template.letter, plain(&template.name), kind.ending()), bytes))
        };
        self.templates.iter().map(file).collect()
    }
}

impl TrimSheets {
    /// A file of each trim sheet: its name, and its bytes. Names differ by the numbers of the sheets.
    ///
    /// # Errors
    /// A sheet that cannot be drawn; a defect.
    pub fn files(
        &self,
        kind: MachineFile,
        units: Units,
        options: &SheetOptions,
    ) -> Result<Vec<(String, Vec<u8>)>, PublishError> {
        let file = |sheet: &super::TrimSheet| {
            let bytes = match kind {
                MachineFile::Svg => svg(&sheet.drawing(options)?).into_bytes(),
                MachineFile::Dxf => sheet.dxf(units, options)?,
            };
            Ok((format!("trim-sheet-{}-{}.{}", sheet.number, plain(&sheet.name()), kind.ending()), bytes))
        };
        self.trim_sheets.iter().map(file).collect()
    }
}

/// A name as part of a file's name: small letters, digits, and one hyphen for anything else.
fn plain(name: &str) -> String {
    let parts = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-").to_ascii_lowercase()
}
