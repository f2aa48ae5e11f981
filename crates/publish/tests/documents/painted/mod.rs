//! What is painted on the pages of a PDF: sizes of type and colours, read from the content itself.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, Stream};

/// What a document paints.
#[derive(Debug, Default)]
pub(crate) struct Painted {
    /// Sizes of type as they are printed, in points.
    pub(crate) sizes: Vec<f64>,
    /// Components of every colour that is set.
    pub(crate) colours: Vec<Vec<f64>>,
}

type Matrix = [f64; 6];

const UNTURNED: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// First `a`, then `b`.
fn then(a: Matrix, b: Matrix) -> Matrix {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    ]
}

fn numbers(operands: &[Object]) -> Vec<f64> {
    operands.iter().filter_map(|object| object.as_float().ok().map(f64::from)).collect()
}

fn matrix(operands: &[Object]) -> Matrix {
    numbers(operands).try_into().unwrap()
}

/// Reads all pages.
pub(crate) fn painted(pdf: &[u8]) -> Painted {
    let document = Document::load_mem(pdf).unwrap();
    let mut painted = Painted::default();
    for id in document.get_pages().into_values() {
        let page = document.get_dictionary(id).unwrap();
        let content = document.get_page_content(id);
        painted.add(&document, &content, dictionary(&document, page, b"Resources"), UNTURNED);
    }
    painted
}

/// A dictionary in a dictionary, there or referred to.
fn dictionary<'a>(document: &'a Document, within: &'a Dictionary, key: &[u8]) -> Option<&'a Dictionary> {
    let object = within.get(key).ok()?;
    document.dereference(object).ok()?.1.as_dict().ok()
}

impl Painted {
    fn add(&mut self, document: &Document, content: &[u8], resources: Option<&Dictionary>, outer: Matrix) {
        let mut now = outer;
        let mut kept = Vec::new();
        let (mut text, mut size) = (UNTURNED, 0.0);
        for operation in Content::decode(content).unwrap().operations {
            let operands = &operation.operands;
            match operation.operator.as_str() {
                "q" => kept.push(now),
                "Q" => now = kept.pop().unwrap(),
                "cm" => now = then(matrix(operands), now),
                "BT" => text = UNTURNED,
                "Tm" => text = matrix(operands),
                "Tf" => size = numbers(operands)[0],
                "Tj" | "TJ" | "'" | "\"" => {
                    let [a, b, c, d, ..] = then(text, now);
                    self.sizes.push(size * (a * d - b * c).abs().sqrt());
                }
                "g" | "G" | "rg" | "RG" | "k" | "K" | "sc" | "SC" | "scn" | "SCN" => {
                    let components = numbers(operands);
                    // A pattern is named and not a colour; there is none in these documents.
                    assert!(!components.is_empty(), "a pattern is painted: {operation:?}");
                    self.colours.push(components);
                }
                "Do" => {
                    if let Some(form) = form(document, resources, operands) {
                        let inner = form.dict.get(b"Matrix").map_or(UNTURNED, |m| matrix(m.as_array().unwrap()));
                        let content = form.decompressed_content().unwrap_or_else(|_| form.content.clone());
                        let own = dictionary(document, &form.dict, b"Resources").or(resources);
                        self.add(document, &content, own, then(inner, now));
                    }
                }
                _ => {}
            }
        }
    }

    /// The smallest type.
    pub(crate) fn smallest(&self) -> f64 {
        self.sizes.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// Colours that are no greys.
    pub(crate) fn coloured(&self) -> Vec<&Vec<f64>> {
        let is_grey = |c: &Vec<f64>| match c.as_slice() {
            [_] => true,
            [r, g, b] => (r - g).abs() < 0.002 && (g - b).abs() < 0.002,
            [c, m, y, _] => c.abs() + m.abs() + y.abs() < 0.002,
            _ => false,
        };
        self.colours.iter().filter(|colour| !is_grey(colour)).collect()
    }
}

/// The form that is painted; none for a picture of pixels.
fn form<'a>(document: &'a Document, resources: Option<&'a Dictionary>, operands: &[Object]) -> Option<&'a Stream> {
    let name = operands.first()?.as_name().ok()?;
    let object = dictionary(document, resources?, b"XObject")?.get(name).ok()?;
    let stream = document.dereference(object).ok()?.1.as_stream().ok()?;
    (stream.dict.get(b"Subtype").ok()?.as_name().ok()? == b"Form").then_some(stream)
}
