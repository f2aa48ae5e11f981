//! The file of fabrics in hand: JSON with a format version and types of its own.
//!
//! It is written by hand, so lengths are read as they are typed, and every refusal names the line or the field.

use std::fmt;
use std::fs::File as OpenFile;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use geometry::{Length, Value};
use layout::file::Document;
use layout::{
    Colour, Fabric, InHand, Look, MAX_IN_HAND, MAX_IN_HAND_COUNT, MAX_NAME_CHARS, Precut, Print, Sold, Units,
};
use serde::de::Visitor;
use serde::{Deserialize, Deserializer};

use super::choice::Family;
use super::error::FabricsFileError;
use super::hand::{Hand, MAX_HAND_FABRICS};
use super::listing::{MAX_SIZES, Wanted};
use super::measure::typed_length;

/// What the file says it is.
pub(super) const FABRICS_FORMAT: &str = "lozenge fabrics";

/// The version that is read.
pub const FABRICS_VERSION: u32 = 1;

/// The largest file that is read, in bytes.
pub const MAX_FABRICS_BYTES: u64 = 256 << 10;

/// The longest reason that is shown, in characters.
const MAX_REASON_CHARS: usize = 400;

/// What a file holds: fabrics in hand, and what is to be tried with them.
#[derive(Debug, Clone)]
pub struct FabricsFile {
    /// The fabrics.
    pub hand: Hand,
    /// Blocks and sizes.
    pub wanted: Wanted,
}

#[derive(Deserialize)]
struct Header {
    #[serde(default)]
    format: String,
    #[serde(default)]
    version: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    name: Option<String>,
    units: UnitsWord,
    fat_quarter: Option<SizeRow>,
    fabrics: Vec<FabricRow>,
    blocks: Option<Vec<String>>,
    sizes: Option<Vec<Typed>>,
    quilt: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    width: Typed,
    length: Typed,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FabricRow {
    name: String,
    value: ValueWord,
    colour: Option<String>,
    print: Option<PrintWord>,
    usable_width: Option<Typed>,
    #[serde(default)]
    fat_quarters: u32,
    #[serde(default)]
    lengths: Vec<Typed>,
    #[serde(default)]
    scraps: Vec<ScrapRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ScrapRow {
    width: Typed,
    length: Typed,
    count: Option<u32>,
}

#[derive(Clone, Copy, Deserialize)]
enum UnitsWord {
    #[serde(rename = "in")]
    Inches,
    #[serde(rename = "cm")]
    Centimetres,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
enum ValueWord {
    Light,
    Medium,
    Dark,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum PrintWord {
    Tossed,
    TwoSided,
    Directional,
}

/// A length as it is typed: a number, or text.
struct Typed(String);

impl<'de> Deserialize<'de> for Typed {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(TypedVisitor)
    }
}

struct TypedVisitor;

impl Visitor<'_> for TypedVisitor {
    type Value = Typed;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a length such as 18, 12.5 or \"12 1/2\"")
    }

    fn visit_u64<E>(self, v: u64) -> Result<Typed, E> {
        Ok(Typed(v.to_string()))
    }

    fn visit_i64<E>(self, v: i64) -> Result<Typed, E> {
        Ok(Typed(v.to_string()))
    }

    /// The shortest decimal that is this number, which is the one that was typed.
    fn visit_f64<E: serde::de::Error>(self, v: f64) -> Result<Typed, E> {
        Ok(Typed(v.to_string()))
    }

    fn visit_str<E: serde::de::Error>(self, v: &str) -> Result<Typed, E> {
        if v.len() > MAX_NAME_CHARS {
            Err(E::custom("a length is not that long a text"))
        } else {
            Ok(Typed(v.to_owned()))
        }
    }
}

impl FabricsFile {
    /// Opens a file; a quilt that it names is looked for from the file's folder.
    ///
    /// # Errors
    /// Any [`FabricsFileError`]; files are only read.
    pub fn open(path: &Path) -> Result<Self, FabricsFileError> {
        let mut bytes = Vec::new();
        // One byte beyond the limit tells a file that is too large without reading it all.
        let file = OpenFile::open(path).map_err(FabricsFileError::Io)?;
        file.take(MAX_FABRICS_BYTES + 1).read_to_end(&mut bytes).map_err(FabricsFileError::Io)?;
        Self::from_bytes(&bytes, path.parent().unwrap_or(Path::new("")))
    }

    /// Reads the text of a file; a quilt that it names is looked for from `folder`.
    ///
    /// # Errors
    /// Every [`FabricsFileError`] but that of reading the file itself.
    pub fn from_bytes(bytes: &[u8], folder: &Path) -> Result<Self, FabricsFileError> {
        if u64::try_from(bytes.len()).is_ok_and(|n| n > MAX_FABRICS_BYTES) {
            return Err(FabricsFileError::TooLarge);
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let header: Header = serde_json::from_slice(bytes).map_err(|e| syntax(&e))?;
        match header {
            Header { format, .. } if format != FABRICS_FORMAT => return Err(FabricsFileError::NotFabrics),
            Header { version, .. } if version != FABRICS_VERSION => return Err(FabricsFileError::Version(version)),
            Header { .. } => {}
        }
        let file: File = serde_json::from_slice(bytes).map_err(|e| syntax(&e))?;
        read(&file, folder)
    }
}

/// What the rows mean.
fn read(file: &File, folder: &Path) -> Result<FabricsFile, FabricsFileError> {
    let units = match file.units {
        UnitsWord::Inches => Units::Inches,
        UnitsWord::Centimetres => Units::Centimetres,
    };
    if file.fabrics.is_empty() || file.fabrics.len() > MAX_HAND_FABRICS {
        let why = format!("list 1 to {MAX_HAND_FABRICS} fabrics, not {}", file.fabrics.len());
        return Err(content("fabrics", why));
    }
    let usual = Usual::of(units, file.fat_quarter.as_ref())?;
    let fabrics = file.fabrics.iter().enumerate().map(|(i, row)| fabric(&format!("fabrics[{i}]"), row, units, &usual));
    let hand = Hand {
        name: name("name", file.name.as_deref().unwrap_or("Fabrics in hand"))?,
        units,
        fabrics: fabrics.collect::<Result<_, _>>()?,
    };
    let mut wanted = Wanted::usual(units).map_err(|e| content("units", e.to_string()))?;
    if let Some(names) = &file.blocks {
        wanted.families = families(names)?;
    } else if file.quilt.is_some() {
        wanted.families = Vec::new();
    }
    if let Some(sizes) = &file.sizes {
        if sizes.is_empty() || sizes.len() > MAX_SIZES {
            return Err(content("sizes", format!("list 1 to {MAX_SIZES} sizes, not {}", sizes.len())));
        }
        let sizes = sizes.iter().enumerate().map(|(i, size)| length(&format!("sizes[{i}]"), size, units));
        wanted.sizes = sizes.collect::<Result<_, _>>()?;
    }
    if let Some(quilt) = &file.quilt {
        let path = folder.join(PathBuf::from(quilt));
        let document =
            Document::open(&path).map_err(|source| FabricsFileError::Quilt { path, source: Box::new(source) })?;
        wanted.quilt = document.variants().first().map(|variant| variant.design.clone());
    }
    Ok(FabricsFile { hand, wanted })
}

fn families(names: &[String]) -> Result<Vec<Family>, FabricsFileError> {
    let mut families = Vec::new();
    for (i, name) in names.iter().enumerate() {
        let field = format!("blocks[{i}]");
        let family = Family::named(name).map_err(|why| content(&field, why))?;
        if families.contains(&family) {
            return Err(content(&field, format!("\"{}\" is named twice; name it once", family.name())));
        }
        families.push(family);
    }
    if families.is_empty() {
        return Err(content("blocks", "name at least one block, or leave the field out".to_owned()));
    }
    Ok(families)
}

/// Sizes that are meant where a fabric does not give its own.
struct Usual {
    usable_width: Length,
    fat_quarter: Precut,
}

impl Usual {
    /// 40 in or 110 cm of usable width, common practice, no source; fat quarters as [`Precut::usual`] has them.
    fn of(units: Units, given: Option<&SizeRow>) -> Result<Self, FabricsFileError> {
        let (width, name) = match units {
            Units::Inches => (Length::whole_inches(40), "fat quarter"),
            Units::Centimetres => (Length::millimetres(1100), "fat quarter 50 × 55 cm"),
        };
        let refused = |e: geometry::LengthError| content("units", e.to_string());
        let usable_width = width.map_err(refused)?;
        let usual = Precut::usual(&usable_width).map_err(refused)?;
        let fat_quarter = match given {
            Some(size) => Precut {
                width: length("fat_quarter.width", &size.width, units)?,
                length: length("fat_quarter.length", &size.length, units)?,
            },
            None => usual
                .into_iter()
                .find(|(known, _)| *known == name)
                .map(|(_, precut)| precut)
                .ok_or_else(|| content("fat_quarter", "give its width and length".to_owned()))?,
        };
        Ok(Self { usable_width, fat_quarter })
    }
}

fn fabric(field: &str, row: &FabricRow, units: Units, usual: &Usual) -> Result<Fabric, FabricsFileError> {
    let of = |name: &str| format!("{field}.{name}");
    let width = match &row.usable_width {
        Some(width) => length(&of("usable_width"), width, units)?,
        None => usual.usable_width.clone(),
    };
    let value = match row.value {
        ValueWord::Light => Value::Light,
        ValueWord::Medium => Value::Medium,
        ValueWord::Dark => Value::Dark,
    };
    let mut in_hand = Vec::new();
    if row.fat_quarters > 0 {
        let Precut { width, length } = usual.fat_quarter.clone();
        let count = count(&of("fat_quarters"), row.fat_quarters)?;
        in_hand.push(InHand { width, length, count });
    }
    for (i, long) in row.lengths.iter().enumerate() {
        let length = length(&of(&format!("lengths[{i}]")), long, units)?;
        in_hand.push(InHand { width: width.clone(), length, count: 1 });
    }
    for (i, scrap) in row.scraps.iter().enumerate() {
        let of_scrap = |name: &str| of(&format!("scraps[{i}].{name}"));
        in_hand.push(InHand {
            width: length(&of_scrap("width"), &scrap.width, units)?,
            length: length(&of_scrap("length"), &scrap.length, units)?,
            count: count(&of_scrap("count"), scrap.count.unwrap_or(1))?,
        });
    }
    if in_hand.len() > MAX_IN_HAND {
        let why = format!("{} sizes of pieces are more than {MAX_IN_HAND}; put alike ones together", in_hand.len());
        return Err(content(field, why));
    }
    let colour = match &row.colour {
        Some(text) => Colour::parse(text).ok_or_else(|| {
            content(&of("colour"), "write a colour as # and six hexadecimal digits, such as #4b1d3f".to_owned())
        })?,
        None => grey(value),
    };
    let only_fat_quarters = row.fat_quarters > 0 && row.lengths.is_empty() && row.scraps.is_empty();
    Ok(Fabric {
        look: Look::Plain(colour),
        print: match row.print {
            Some(PrintWord::TwoSided) => Print::TwoSided,
            Some(PrintWord::Directional) => Print::Directional,
            Some(PrintWord::Tossed) | None => Print::Tossed,
        },
        sold: if only_fat_quarters { Sold::Precut(usual.fat_quarter.clone()) } else { Sold::ByLength },
        in_hand,
        ..Fabric::plain(name(&of("name"), &row.name)?, colour, value, width)
    })
}

/// What stands for a fabric whose colour is not given.
const fn grey(value: Value) -> Colour {
    match value {
        Value::Light => Colour::rgb(0xE4, 0xE0, 0xD6),
        Value::Medium => Colour::rgb(0x9A, 0x94, 0x8C),
        Value::Dark => Colour::rgb(0x4A, 0x46, 0x42),
    }
}

fn name(field: &str, text: &str) -> Result<String, FabricsFileError> {
    let text = text.trim();
    if text.is_empty() || text.chars().count() > MAX_NAME_CHARS || text.chars().any(char::is_control) {
        return Err(content(field, format!("give a name of 1 to {MAX_NAME_CHARS} printable characters")));
    }
    Ok(text.to_owned())
}

fn length(field: &str, typed: &Typed, units: Units) -> Result<Length, FabricsFileError> {
    typed_length(&typed.0, units).map_err(|why| content(field, why))
}

fn count(field: &str, count: u32) -> Result<u32, FabricsFileError> {
    if (1..=MAX_IN_HAND_COUNT).contains(&count) {
        Ok(count)
    } else {
        Err(content(field, format!("give a count of 1 to {MAX_IN_HAND_COUNT}, not {count}")))
    }
}

fn content(field: &str, why: String) -> FabricsFileError {
    FabricsFileError::Content { field: field.to_owned(), why }
}

/// The place goes to the front of the message; what is quoted from the file is cut to what can be shown.
fn syntax(error: &serde_json::Error) -> FabricsFileError {
    let (line, column) = (error.line(), error.column());
    let told = error.to_string();
    let why = told.strip_suffix(&format!(" at line {line} column {column}")).unwrap_or(&told);
    let shown = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    FabricsFileError::Syntax { line, column, why: why.chars().take(MAX_REASON_CHARS).map(shown).collect() }
}
