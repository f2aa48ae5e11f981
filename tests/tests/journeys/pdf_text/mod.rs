//! Text of a PDF with the places where it stands, read from its content streams and the ToUnicode maps of its fonts
//! (ISO 32000-1, 9.4 and 9.10). It knows what the program's own documents hold: fonts of two-byte codes, and forms.

use std::collections::BTreeMap;

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};

/// A run of text on one baseline; lengths are points from the lower left corner of the page.
#[derive(Debug, Clone)]
pub struct Run {
    pub text: String,
    pub left: f64,
    pub right: f64,
    pub baseline: f64,
    /// Height of the type.
    pub size: f64,
    /// Whether it is turned.
    pub turned: bool,
}

/// A page.
#[derive(Debug)]
pub struct Page {
    pub width: f64,
    pub height: f64,
    pub runs: Vec<Run>,
}

/// The pages of a PDF.
pub fn pages(bytes: &[u8]) -> Vec<Page> {
    let document = Document::load_mem(bytes).unwrap();
    let pages = document.get_pages();
    pages.values().map(|id| read_page(&document, document.get_dictionary(*id).unwrap(), *id)).collect()
}

/// The text of a page in the order in which it was set, words apart by one space.
pub fn text(page: &Page) -> String {
    let mut text = String::new();
    let mut before: Option<&Run> = None;
    for run in &page.runs {
        let goes_on = before.is_some_and(|last| {
            (last.baseline - run.baseline).abs() < 0.1 * run.size && (run.left - last.right).abs() < 0.12 * run.size
        });
        // A line may be broken behind a hyphen.
        let broken = before.is_some_and(|last| last.text.ends_with('-') && last.baseline > run.baseline);
        if !goes_on && !broken {
            text.push(' ');
        }
        text.push_str(&run.text);
        before = Some(run);
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

type Matrix = [f64; 6];
const ONE: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// First `a`, then `b`.
fn then(a: Matrix, b: Matrix) -> Matrix {
    let point = |x: f64, y: f64| [x * b[0] + y * b[2], x * b[1] + y * b[3]];
    let (u, v, w) = (point(a[0], a[1]), point(a[2], a[3]), point(a[4], a[5]));
    [u[0], u[1], v[0], v[1], w[0] + b[4], w[1] + b[5]]
}

/// A font: what its codes mean and how wide they are, in thousandths of its size.
struct Font {
    letters: BTreeMap<u16, String>,
    widths: BTreeMap<u16, f64>,
    usual: f64,
}

fn read_page(document: &Document, page: &Dictionary, id: lopdf::ObjectId) -> Page {
    let found: Vec<f64> = page.get(b"MediaBox").unwrap().as_array().unwrap().iter().map(number).collect();
    let mut reader = Reader { document, runs: Vec::new(), fonts: BTreeMap::new() };
    let content = document.get_page_content(id);
    let resources = dictionary(document, page.get(b"Resources").unwrap());
    reader.read(&content, resources, ONE);
    Page { width: found[2] - found[0], height: found[3] - found[1], runs: reader.runs }
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

fn resolved<'a>(document: &'a Document, object: &'a Object) -> &'a Object {
    document.dereference(object).unwrap().1
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> &'a Dictionary {
    match resolved(document, object) {
        Object::Dictionary(dictionary) => dictionary,
        Object::Stream(stream) => &stream.dict,
        other => panic!("not a dictionary: {other:?}"),
    }
}

struct Reader<'a> {
    document: &'a Document,
    runs: Vec<Run>,
    /// By the address of their dictionaries.
    fonts: BTreeMap<usize, Font>,
}

/// What `q` keeps and `Q` restores.
#[derive(Clone, Copy)]
struct State {
    matrix: Matrix,
    font: Option<usize>,
    size: f64,
}

impl<'a> Reader<'a> {
    fn read(&mut self, content: &[u8], resources: &'a Dictionary, matrix: Matrix) {
        let mut state = State { matrix, font: None, size: 0.0 };
        let mut kept = Vec::new();
        let (mut line, mut at) = (ONE, ONE);
        for operation in Content::decode(content).unwrap().operations {
            let numbers = || operation.operands.iter().map(number).collect::<Vec<f64>>();
            let six = || <Matrix>::try_from(numbers()).unwrap();
            match operation.operator.as_str() {
                "q" => kept.push(state),
                "Q" => state = kept.pop().unwrap(),
                "cm" => state.matrix = then(six(), state.matrix),
                "BT" => (line, at) = (ONE, ONE),
                "Tf" => {
                    state.font = Some(self.font(resources, operation.operands[0].as_name().unwrap()));
                    state.size = number(&operation.operands[1]);
                }
                "Tm" => (line, at) = (six(), six()),
                "Td" => {
                    let by = numbers();
                    line = then([1.0, 0.0, 0.0, 1.0, by[0], by[1]], line);
                    at = line;
                }
                "Tj" => at = self.show(&operation.operands, &state, at),
                "TJ" => at = self.show(operation.operands[0].as_array().unwrap(), &state, at),
                "Do" => self.form(resources, operation.operands[0].as_name().unwrap(), state.matrix),
                operator @ ("T*" | "'" | "\"" | "TD" | "TL" | "Tz") => panic!("text is set with {operator}"),
                _ => {}
            }
        }
    }

    fn form(&mut self, resources: &'a Dictionary, name: &[u8], matrix: Matrix) {
        let named = dictionary(self.document, resources.get(b"XObject").unwrap()).get(name).unwrap();
        let Object::Stream(stream) = resolved(self.document, named) else { panic!("no stream") };
        if stream.dict.get(b"Subtype").unwrap().as_name().unwrap() != b"Form" {
            return;
        }
        let own = stream.dict.get(b"Matrix").map_or(ONE, |own| {
            <Matrix>::try_from(own.as_array().unwrap().iter().map(number).collect::<Vec<_>>()).unwrap()
        });
        let inner = stream.dict.get(b"Resources").map_or(resources, |inner| dictionary(self.document, inner));
        let content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
        self.read(&content, inner, then(own, matrix));
    }

    fn font(&mut self, resources: &'a Dictionary, name: &[u8]) -> usize {
        let fonts = dictionary(self.document, resources.get(b"Font").unwrap());
        let font = dictionary(self.document, fonts.get(name).unwrap());
        let key = std::ptr::from_ref(font).addr();
        if !self.fonts.contains_key(&key) {
            self.fonts.insert(key, read_font(self.document, font));
        }
        key
    }

    /// One run for each operator; gives the matrix behind it.
    fn show(&mut self, parts: &[Object], state: &State, mut at: Matrix) -> Matrix {
        let font = &self.fonts[&state.font.unwrap()];
        let start = then(at, state.matrix);
        let mut text = String::new();
        // Where the last letter ends that is no space.
        let mut end = at;
        for part in parts {
            match part {
                Object::String(codes, _) => {
                    for code in codes.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])) {
                        text.push_str(font.letters.get(&code).map_or("", String::as_str));
                        let width = font.widths.get(&code).copied().unwrap_or(font.usual) / 1000.0 * state.size;
                        at = then([1.0, 0.0, 0.0, 1.0, width, 0.0], at);
                        if !text.ends_with(' ') {
                            end = at;
                        }
                    }
                }
                kern => {
                    let back = -number(kern) / 1000.0 * state.size;
                    // A gap as wide as a space parts words where no space was set.
                    if back > 0.15 * state.size {
                        text.push(' ');
                    }
                    at = then([1.0, 0.0, 0.0, 1.0, back, 0.0], at);
                }
            }
        }
        let end = then(end, state.matrix);
        if !text.trim().is_empty() {
            self.runs.push(Run {
                text,
                left: start[4].min(end[4]),
                right: start[4].max(end[4]),
                baseline: start[5],
                size: state.size * start[2].hypot(start[3]),
                turned: (start[5] - end[5]).abs() > 0.01,
            });
        }
        at
    }
}

fn read_font(document: &Document, font: &Dictionary) -> Font {
    assert_eq!(font.get(b"Subtype").unwrap().as_name().unwrap(), b"Type0", "a font of another kind");
    let Object::Stream(map) = resolved(document, font.get(b"ToUnicode").unwrap()) else { panic!("no ToUnicode") };
    let map = String::from_utf8(map.decompressed_content().unwrap_or_else(|_| map.content.clone())).unwrap();
    let descendants = resolved(document, font.get(b"DescendantFonts").unwrap()).as_array().unwrap();
    let inner = dictionary(document, &descendants[0]);
    let mut widths = BTreeMap::new();
    let listed = inner.get(b"W").map(|w| resolved(document, w).as_array().unwrap().clone()).unwrap_or_default();
    let mut rest = listed.as_slice();
    while let [first, second, after @ ..] = rest {
        let first = u16::try_from(first.as_i64().unwrap()).unwrap();
        if let Ok(each) = resolved(document, second).as_array() {
            widths.extend((first..).zip(each.iter().map(number)));
            rest = after;
        } else {
            let (last, width) = (u16::try_from(second.as_i64().unwrap()).unwrap(), number(&after[0]));
            widths.extend((first..=last).map(|code| (code, width)));
            rest = &after[1..];
        }
    }
    let usual = inner.get(b"DW").map_or(1000.0, number);
    Font { letters: letters(&map), widths, usual }
}

/// What codes mean: the `bfchar` and `bfrange` lines of a ToUnicode map.
fn letters(map: &str) -> BTreeMap<u16, String> {
    let code = |hex: &str| u16::from_str_radix(hex, 16).unwrap();
    let meaning = |hex: &str| {
        let units: Vec<u16> = (0..hex.len() / 4).map(|k| code(&hex[4 * k..4 * k + 4])).collect();
        String::from_utf16(&units).unwrap()
    };
    let mut found = BTreeMap::new();
    let mut kind = "";
    for line in map.lines() {
        match line.trim() {
            line if line.ends_with("beginbfchar") => kind = "char",
            line if line.ends_with("beginbfrange") => kind = "range",
            line if line.starts_with("endbf") => kind = "",
            line => {
                let hexes: Vec<&str> = line.split(['<', '>']).map(str::trim).filter(|part| !part.is_empty()).collect();
                match (kind, hexes.as_slice()) {
                    ("char", [from, to]) => {
                        found.insert(code(from), meaning(to));
                    }
                    ("range", [from, to, first]) => {
                        let first = code(first);
                        for (shift, from) in (0..).zip(code(from)..=code(to)) {
                            found.insert(from, String::from_utf16(&[first + shift]).unwrap());
                        }
                    }
                    _ => {}
                }
            }
        }
    }
    found
}
