//! Damaged and hostile files: each gives a quilt that can be saved again or an error that says something; none a
//! panic. What would keep the program busy is refused by counting, before the work is begun.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{families, file_text, imprinted, quilt_of, wished};
use layout::file::{Document, FileError, MAX_BYTES};

/// A small generator of our own (xorshift), so that every run tries the same files.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 11).unwrap() % sides.max(1)
    }
}

/// Tokens that stand where they should not.
const TOKENS: [&str; 16] = [
    "NaN",
    "-1",
    "1e400",
    "0",
    "65535",
    "4294967295",
    "99999999999999999999",
    "\"\\ud800\"",
    "null",
    "[]",
    "{}",
    "true",
    "\"\\u001b[2J\"",
    "[0,0,0,0,0]",
    "\"9\"",
    "0.5",
];

fn mutated(text: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.to_vec();
    let at = dice.roll(bytes.len());
    match dice.roll(10) {
        0 => bytes.truncate(at),
        1 => bytes[at] ^= 1 << dice.roll(8),
        2 | 3 => swap_token(&mut bytes, at, TOKENS[dice.roll(TOKENS.len())].as_bytes()),
        4 => {
            let mut lines: Vec<&[u8]> = text.split_inclusive(|b| *b == b'\n').collect();
            lines.remove(dice.roll(lines.len()));
            bytes = lines.concat();
        }
        5 => {
            let mut lines: Vec<&[u8]> = text.split_inclusive(|b| *b == b'\n').collect();
            let line = dice.roll(lines.len());
            lines.insert(dice.roll(lines.len()), lines[line]);
            bytes = lines.concat();
        }
        6 => {
            bytes.splice(at..at, std::iter::repeat_n(b'[', 1 + dice.roll(500)));
        }
        7 | 8 => {
            // One digit for another: most often still a quilt.
            let digit = bytes[at..].iter().position(u8::is_ascii_digit).map_or(0, |n| at + n);
            bytes[digit] = b"0123456789"[dice.roll(10)];
        }
        _ => {
            let digits = vec![b'7'; 1 + dice.roll(400)];
            swap_token(&mut bytes, at, &digits);
        }
    }
    bytes
}

/// Puts `token` in place of the number or word at or after `at`.
fn swap_token(bytes: &mut Vec<u8>, at: usize, token: &[u8]) {
    let part = |b: &u8| b.is_ascii_alphanumeric();
    let from = bytes[at..].iter().position(part).map_or(at, |n| at + n);
    let to = bytes[from..].iter().position(|b| !part(b)).map_or(bytes.len(), |n| from + n);
    bytes.splice(from..to, token.iter().copied());
}

/// Opens `bytes`; what opens can be saved and is the same again, what does not says why, in words fit to show.
fn check(bytes: &[u8], told: &str) -> bool {
    match Document::from_bytes(bytes) {
        Ok(document) => {
            let saved = document.to_bytes().unwrap();
            let again = Document::from_bytes(&saved).unwrap();
            assert!(again == document && again.to_bytes().unwrap() == saved, "{told}");
            true
        }
        Err(error) => {
            let why = error.to_string();
            assert!(
                !why.is_empty() && why.chars().count() < 1000 && !why.chars().any(char::is_control),
                "{told}: {why}"
            );
            false
        }
    }
}

#[test]
fn damaged_files_open_or_say_why() {
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let mut opened = [0, 0];
    let quilts = families().into_iter().map(|(family, recipe)| (family, quilt_of(family, &recipe)));
    let set = common::quilts().into_iter().skip(5).map(|quilt| ("set in another way", quilt));
    for (family, quilt) in quilts.chain([("wishes", wished()), ("imprint", imprinted())]).chain(set) {
        let text = file_text(&quilt);
        for i in 0..100 {
            let mut bytes = mutated(&text, &mut dice);
            if i % 4 == 0 {
                bytes = mutated(if bytes.is_empty() { &text } else { &bytes }, &mut dice);
            }
            opened[usize::from(check(&bytes, &format!("{family}, file {i}")))] += 1;
        }
    }
    assert!(opened[0] > 500 && opened[1] > 50, "refused and opened: {opened:?}");
}

/// The file of the family with `old` replaced by `new`, compact.
fn altered(family: &str, old: &str, new: &str) -> String {
    let (name, recipe) = families().into_iter().find(|(name, _)| *name == family).unwrap();
    let text = String::from_utf8(file_text(&quilt_of(name, &recipe))).unwrap();
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

fn refusal(bytes: &[u8]) -> String {
    check(bytes, "hostile");
    Document::from_bytes(bytes).unwrap_err().to_string()
}

#[test]
fn giants_are_refused_in_words() {
    let most = usize::try_from(MAX_BYTES).unwrap();
    let brackets = "[".repeat(most);
    assert!(matches!(Document::from_bytes(format!("{brackets}[").as_bytes()), Err(FileError::TooLarge)));
    let inside = format!("{{\"a\":{}", "[".repeat(100_000));
    let long = "A".repeat(most / 2);
    let rows = [
        (brackets, "invalid type: sequence"),
        (inside, "EOF while parsing a list"),
        (altered("plain", "Test quilt", &long), "1 to 120 printable characters"),
        (altered("plain", "\"binding\"", &format!("\"{long}\"")), "unknown field"),
        (altered("plain", "\"family\":\"plain\"", &format!("\"family\":\"{long}\"")), "unknown variant"),
        (altered("own", "\"base\":[", &format!("\"base\":[{}", "[[0]],".repeat(100_000))), "invalid length"),
        (altered("four-patch", "\"rows\": 2", "\"rows\": 60000"), "at most 400 rows or columns"),
    ];
    for (text, told) in &rows {
        let why = refusal(text.as_bytes());
        assert!(why.contains(told), "{why}");
    }
}

/// A comb of `teeth` long teeth: every edge's box overlaps every other's.
fn comb(teeth: usize) -> String {
    let corner = |x: usize, y: usize| format!("[[{x},0,0,0,1],[{y},0,0,0,1]]");
    let mut corners: Vec<String> =
        (0..teeth).map(|i| if i % 2 == 0 { corner(2 * i, 10) } else { corner(2 * i + 10_000, 10_000) }).collect();
    corners.extend([corner(30_000, 10_000), corner(30_000, 0), corner(0, 0)]);
    format!("{{\"role\":\"post\",\"half\":0,\"corners\":[{}]}},", corners.join(","))
}

/// A triangle whose corners share no denominator, of `digits` digits.
fn splinter(i: usize, digits: usize) -> String {
    let number = |k: usize| format!("\"{}{}\"", "3".repeat(digits), 1_000_001 + 6 * i + k);
    let exact = |k: usize| format!("[{0},{0},1,1,{1}]", number(k), number(k + 1));
    let corners: Vec<String> = (0..3).map(|k| format!("[{},{}]", exact(2 * k), exact(2 * k + 1))).collect();
    format!("{{\"role\":\"post\",\"half\":0,\"corners\":[{}]}},", corners.join(","))
}

/// Blocks that would take minutes to draft are refused by a count of their corners and digits.
#[test]
fn work_without_end_is_not_begun() {
    let patches = |list: &str| altered("own", "\"patches\":[{", &format!("\"patches\":[{list}{{"));
    let rows = [
        patches(&comb(396).repeat(100)),
        patches(&(0..2000).map(|i| splinter(i, 1)).collect::<String>()),
        patches(&(0..500).map(|i| splinter(i, 140)).collect::<String>()),
    ];
    for text in &rows {
        let why = refusal(text.as_bytes());
        assert!(
            why.starts_with("variants[0].blocks[0].recipe: ") && why.contains("too many or too finely drawn"),
            "{why}"
        );
    }
}

/// Long sizes are kept where they are few, and refused where forty thousand places would be computed from them.
#[test]
fn long_sizes_are_for_small_quilts() {
    let long = "[\"90000000000000000000000000000000001\",0,0,0,\"7000000000000000000000000000000003\"]";
    let sized = |text: String| text.replacen("\"length\":[12,0,0,0,1]", &format!("\"length\":{long}"), 1);
    assert!(check(sized(altered("four-patch", "Test", "Long")).as_bytes(), "six cells"));
    let cells: Vec<String> =
        (0..40_000).map(|i| format!("{{\"row\":{},\"column\":{},\"block\":1}}", i / 100, i % 100)).collect();
    let text = altered("four-patch", "\"rows\": 2", "\"rows\": 400").replacen("\"columns\": 3", "\"columns\": 100", 1);
    let (head, rest) = text.split_once("\"places\": [").unwrap();
    let tail = rest.split_once("],\n").unwrap().1;
    let many = format!("{head}\"places\": [{}],\n{tail}", cells.join(","));
    assert!(Document::from_bytes(many.as_bytes()).is_ok());
    let why = refusal(sized(many).as_bytes());
    assert!(why.contains("too many for 40000 blocks"), "{why}");
}
