//! Drawn lines read back from a PDF: every stroked path with the matrices that lead to it.
//!
//! Operators: ISO 32000-1 (PDF 1.7), annex A.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

/// One stroked path in points, from the lower left corner of its page.
#[derive(Debug, Clone)]
pub(crate) struct Stroked {
    pub(crate) points: Vec<[f64; 2]>,
    pub(crate) closed: bool,
    /// Operands of the stroke's colour, as they stand in the file.
    pub(crate) colour: Vec<f64>,
}

/// Columns of a matrix as PDF has them: a b c d e f.
type Matrix = [f64; 6];

const STILL: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// `first`, then `next`.
fn then(first: Matrix, next: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = next;
    [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]
}

fn carried([x, y]: [f64; 2], [a, b, c, d, e, f]: Matrix) -> [f64; 2] {
    [a * x + c * y + e, b * x + d * y + f]
}

#[derive(Clone)]
struct State {
    matrix: Matrix,
    colour: Vec<f64>,
}

/// The stroked paths of every page.
pub(crate) fn stroked(bytes: &[u8]) -> Vec<Vec<Stroked>> {
    let document = Document::load_mem(bytes).unwrap();
    let pages = document.get_pages();
    pages.values().map(|page| of_page(&document, *page)).collect()
}

fn of_page(document: &Document, page: ObjectId) -> Vec<Stroked> {
    let content = document.get_page_content(page);
    let (own, inherited) = document.get_page_resources(page).unwrap();
    let resources = own.cloned().or_else(|| inherited.first().map(|id| document.get_dictionary(*id).unwrap().clone()));
    let mut found = Vec::new();
    let state = State { matrix: STILL, colour: Vec::new() };
    walk(document, &content, &resources.unwrap_or_default(), state, &mut found);
    found
}

fn numbers(operands: &[Object]) -> Vec<f64> {
    operands.iter().filter_map(|number| number.as_float().ok()).map(f64::from).collect()
}

fn walk(document: &Document, content: &[u8], resources: &Dictionary, mut state: State, found: &mut Vec<Stroked>) {
    let mut saved: Vec<State> = Vec::new();
    let mut paths: Vec<(Vec<[f64; 2]>, bool)> = Vec::new();
    for operation in Content::decode(content).unwrap().operations {
        let values = numbers(&operation.operands);
        match operation.operator.as_str() {
            "q" => saved.push(state.clone()),
            "Q" => state = saved.pop().unwrap(),
            "cm" => state.matrix = then(values.try_into().unwrap(), state.matrix),
            "RG" | "G" | "K" | "SC" | "SCN" => state.colour = values,
            "m" => paths.push((vec![carried([values[0], values[1]], state.matrix)], false)),
            "l" => paths.last_mut().unwrap().0.push(carried([values[0], values[1]], state.matrix)),
            "c" | "v" | "y" => {
                let n = values.len();
                paths.last_mut().unwrap().0.push(carried([values[n - 2], values[n - 1]], state.matrix));
            }
            "re" => {
                let [x, y, w, h] = values.try_into().unwrap();
                let corners = [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
                paths.push((corners.map(|p| carried(p, state.matrix)).to_vec(), true));
            }
            "h" => paths.last_mut().unwrap().1 = true,
            "S" | "s" | "B" | "b" => {
                let closes = matches!(operation.operator.as_str(), "s" | "b");
                found.extend(paths.drain(..).map(|(points, closed)| Stroked {
                    points,
                    closed: closed || closes,
                    colour: state.colour.clone(),
                }));
            }
            "f" | "F" | "f*" | "n" => paths.clear(),
            "Do" => {
                let name = operation.operands[0].as_name().unwrap();
                form(document, name, resources, &state, found);
            }
            _ => {}
        }
    }
}

/// Follows a form into its own content.
fn form(document: &Document, name: &[u8], resources: &Dictionary, state: &State, found: &mut Vec<Stroked>) {
    let all = document.get_dict_in_dict(resources, b"XObject").unwrap();
    let stream = document.dereference(all.get(name).unwrap()).unwrap().1.as_stream().unwrap();
    if stream.dict.get(b"Subtype").unwrap().as_name().unwrap() != b"Form" {
        return;
    }
    let matrix =
        stream.dict.get(b"Matrix").map_or(STILL, |matrix| numbers(matrix.as_array().unwrap()).try_into().unwrap());
    let inner = stream.dict.get(b"Resources").map(|inner| document.dereference(inner).unwrap().1.as_dict().unwrap());
    let state = State { matrix: then(matrix, state.matrix), ..state.clone() };
    let content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
    walk(document, &content, inner.unwrap_or(resources), state, found);
}
