//! How the file is laid out as text: outer levels one item a line, so that versions can be compared line by
//! line; each block, place or fabric on one line.

use std::io;

use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter, Serializer};

/// Levels that are broken into lines: file, list of variants, variant, its lists.
const OPEN_LEVELS: usize = 4;

/// Serialises `value` to text that ends in a line feed.
pub(super) fn to_text<T: Serialize>(value: &T) -> Result<Vec<u8>, serde_json::Error> {
    let mut text = Vec::new();
    let formatter = LevelFormatter { pretty: PrettyFormatter::with_indent(b" "), depth: 0 };
    value.serialize(&mut Serializer::with_formatter(&mut text, formatter))?;
    text.push(b'\n');
    Ok(text)
}

struct LevelFormatter {
    pretty: PrettyFormatter<'static>,
    depth: usize,
}

/// Sends each call to the pretty printer on the outer levels and to the compact one inside.
macro_rules! by_level {
    ($($name:ident($($arg:ident: $kind:ty),*) $depth:literal;)+) => {$(
        fn $name<W: ?Sized + io::Write>(&mut self, writer: &mut W $(, $arg: $kind)*) -> io::Result<()> {
            if $depth > 0 {
                self.depth += 1;
            }
            let open = self.depth <= OPEN_LEVELS;
            if $depth < 0 {
                self.depth -= 1;
            }
            if open { self.pretty.$name(writer $(, $arg)*) } else { CompactFormatter.$name(writer $(, $arg)*) }
        }
    )+};
}

impl Formatter for LevelFormatter {
    by_level! {
        begin_array() 1;
        end_array() -1;
        begin_array_value(first: bool) 0;
        end_array_value() 0;
        begin_object() 1;
        end_object() -1;
        begin_object_key(first: bool) 0;
        begin_object_value() 0;
        end_object_value() 0;
    }
}
