//! Text for people: `(3 + 2√2)/4`.

use super::Exact;
use num_bigint::BigInt;
use num_traits::{One, Signed, Zero};
use std::fmt;

const ROOTS: [&str; 4] = ["", "√2", "√3", "√6"];

impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (num, den) = self.parts();
        let sum = sum_text(&num);
        let terms = num.iter().filter(|n| !n.is_zero()).count();
        let text = match (den.is_one(), terms) {
            (true, _) => sum,
            (false, 1) => format!("{sum}/{den}"),
            (false, _) => format!("({sum})/{den}"),
        };
        f.pad(&text)
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Exact({self})")
    }
}

fn sum_text(num: &[BigInt; 4]) -> String {
    let mut text = String::new();
    for (n, root) in num.iter().zip(ROOTS).filter(|(n, _)| !n.is_zero()) {
        text += match (text.is_empty(), n.is_negative()) {
            (true, false) => "",
            (true, true) => "-",
            (false, false) => " + ",
            (false, true) => " - ",
        };
        let size = n.abs();
        if root.is_empty() || !size.is_one() {
            text += &size.to_string();
        }
        text += root;
    }
    if text.is_empty() {
        text.push('0');
    }
    text
}
