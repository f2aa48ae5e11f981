//! Names of files after the quilt, safe on every system.

/// The most bytes of a name before what it is and its ending: with both, it stays within the 143 bytes that the
/// strictest of the usual file systems allow (eCryptfs; ext4, NTFS and APFS take 255 bytes or characters).
const MOST_BYTES: usize = 100;

/// A quilt without a name that a file could have.
const NAMELESS: &str = "quilt";

/// Names that are devices, whatever their ending. Source: Microsoft, "Naming Files, Paths, and Namespaces".
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// Devices that are counted: `com1`, `lpt9`.
const COUNTED_DEVICES: [&str; 2] = ["com", "lpt"];

/// "Night ferry, shopping list.csv": the name of a file after the quilt, which document it is, and its ending.
///
/// Characters that a system reserves become hyphens, and what cannot be seen is left out. It neither begins nor ends
/// with what a system or a shell takes in another sense, is no device, and is short enough for every usual disk.
#[must_use]
pub fn file_name(quilt: &str, document: &str, ending: &str) -> String {
    let document = if document.is_empty() { String::new() } else { format!(", {document}") };
    format!("{}{document}.{ending}", file_stem(quilt))
}

/// The part that is the quilt's name.
fn file_stem(name: &str) -> String {
    let seen = name.chars().filter(|c| !is_unseen(*c)).map(|c| if is_reserved(c) { '-' } else { c });
    let plain = seen.collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ");
    let mut end = plain.len().min(MOST_BYTES);
    while !plain.is_char_boundary(end) {
        end -= 1;
    }
    let trimmed = plain[..end].trim_matches([' ', '.']).trim_start_matches(['-', ' ', '.', ',', '~']);
    let stem = if trimmed.is_empty() { NAMELESS } else { trimmed };
    if is_device(stem) { format!("{NAMELESS} {stem}") } else { stem.to_owned() }
}

/// What some system keeps for itself in names. Sources: Microsoft as above; POSIX for `/`.
fn is_reserved(c: char) -> bool {
    matches!(c, '<' | '>' | ':' | '"' | '/' | '\\' | '|' | '?' | '*') || c.is_control()
}

/// Marks that steer how text runs, and spaces of no width: two names could look alike, or one look like another.
const fn is_unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// Whether a name is a device, also with more behind a full stop.
fn is_device(stem: &str) -> bool {
    let first = stem.split(['.', ',']).next().unwrap_or(stem).trim_end().to_lowercase();
    let mut letters = first.chars();
    let last = letters.next_back();
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '¹' | '²' | '³');
    DEVICES.contains(&first.as_str()) || (COUNTED_DEVICES.contains(&letters.as_str()) && last.is_some_and(is_number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_named_after_the_quilt() {
        let rows = [
            ("Night ferry", "Night ferry, shopping list.csv"),
            ("  Owl   lane ", "Owl lane, shopping list.csv"),
            ("6\" star: A/B?", "6- star- A-B-, shopping list.csv"),
            ("..", "quilt, shopping list.csv"),
            ("../../etc/passwd", "etc-passwd, shopping list.csv"),
            ("-rf", "rf, shopping list.csv"),
            ("~home", "home, shopping list.csv"),
            (".hidden.", "hidden, shopping list.csv"),
            ("CON", "quilt CON, shopping list.csv"),
            ("aux.txt", "quilt aux.txt, shopping list.csv"),
            ("Lpt1", "quilt Lpt1, shopping list.csv"),
            ("com²", "quilt com², shopping list.csv"),
            ("Console", "Console, shopping list.csv"),
            ("comet", "comet, shopping list.csv"),
            ("\u{202e}evil\u{200b}", "evil, shopping list.csv"),
            ("Großmutters Blüte ½″", "Großmutters Blüte ½″, shopping list.csv"),
            ("\u{7}", "quilt, shopping list.csv"),
        ];
        for (quilt, name) in rows {
            assert_eq!(file_name(quilt, "shopping list", "csv"), name);
        }
        assert_eq!(file_name("Night ferry", "", "png"), "Night ferry.png");
    }

    proptest::proptest! {
        /// Whatever the quilt is called, a file can have the name on every system, and lies where it should.
        #[test]
        fn any_name_is_safe(quilt in ".{0,200}") {
            let name = file_name(&quilt, "shopping list", "csv");
            proptest::prop_assert!(name.len() <= 143, "{}", name);
            proptest::prop_assert!(!name.contains(['/', '\\', ':', '*', '?', '"', '<', '>', '|']), "{}", name);
            proptest::prop_assert!(!name.chars().any(char::is_control), "{}", name);
            proptest::prop_assert!(!name.starts_with(['.', '-', ' ', ',']), "{}", name);
            proptest::prop_assert!(name.ends_with(", shopping list.csv"), "{}", name);
        }
    }
}
