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
        let file = |template: &super::Template| {
            let bytes = match kind {
                MachineFile::Svg => svg(&template.drawing(options)?).into_bytes(),
                MachineFile::Dxf => template.dxf(units, options)?,
            };
            let name = format!("template-{}-{}.{}", template.letter, plain(&template.name), kind.ending());
            Ok(MachineSheet { mark: template.letter.clone(), name, bytes })
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
            let bytes = match kind {
                MachineFile::Svg => svg(&sheet.drawing(options)?).into_bytes(),
                MachineFile::Dxf => sheet.dxf(units, options)?,
            };
            let name = format!("trim-sheet-{}-{}.{}", sheet.number, plain(&sheet.name()), kind.ending());
            Ok(MachineSheet { mark: sheet.number.to_string(), name, bytes })
        };
        self.trim_sheets.iter().map(file).collect()
    }
}

/// A name as part of a file's name: small letters, digits, and one hyphen for anything else.
fn plain(name: &str) -> String {
    let parts = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-").to_ascii_lowercase()
}
