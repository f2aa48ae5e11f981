//! Two lists of figures, line by line.

use std::collections::{BTreeMap, BTreeSet};

use super::Change;
use super::figures::{Figure, PARTS};

/// What is another figure now, in the order of the new list; what is gone stands where it stood.
pub(super) fn compare(old: &[Figure], new: &[Figure]) -> Vec<Change> {
    let places: BTreeMap<&str, usize> = old.iter().enumerate().map(|(at, figure)| (figure.key.as_str(), at)).collect();
    let kept: BTreeSet<&str> = new.iter().map(|figure| figure.key.as_str()).collect();
    let gone = |from: usize, to: usize| -> Vec<Change> {
        let passed = old.get(from..to).unwrap_or_default().iter();
        let gone = passed.filter(|figure| !kept.contains(figure.key.as_str()));
        gone.map(|figure| change(figure, Some(&figure.told), None)).collect()
    };
    let mut changes = Vec::new();
    let mut next = 0;
    for figure in new {
        let Some(&at) = places.get(figure.key.as_str()) else {
            changes.push(change(figure, None, Some(&figure.told)));
            continue;
        };
        changes.extend(gone(next, at));
        next = next.max(at + 1);
        if let Some(before) = old.get(at).filter(|before| before.told != figure.told) {
            changes.push(change(figure, Some(&before.told), Some(&figure.told)));
        }
    }
    changes.extend(gone(next, old.len()));
    // What is gone of one part may come after the beginning of the next.
    changes.sort_by_key(|change| PARTS.iter().position(|part| *part == change.part));
    changes
}

fn change(figure: &Figure, old: Option<&String>, new: Option<&String>) -> Change {
    Change { part: figure.part, what: figure.what.clone(), old: old.cloned(), new: new.cloned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(rows: &[(usize, &str, &str)]) -> Vec<Figure> {
        let figure = |(part, key, told): &(usize, &str, &str)| Figure {
            part: PARTS[*part],
            key: (*key).to_owned(),
            what: (*key).to_owned(),
            told: (*told).to_owned(),
        };
        rows.iter().map(figure).collect()
    }

    #[test]
    fn changes_stand_in_the_order_of_the_booklet() {
        let old = list(&[(0, "size", "6"), (1, "plum", "1 yd"), (1, "fog", "2 yd"), (2, "A", "3"), (2, "B", "4")]);
        let new = list(&[(0, "size", "6½"), (1, "rust", "½ yd"), (1, "plum", "1 yd"), (2, "A", "5"), (2, "C", "1")]);
        let told: Vec<String> = compare(&old, &new)
            .iter()
            .map(|c| format!("{} {:?} {:?}", c.what, c.old.as_deref().unwrap_or("–"), c.new.as_deref().unwrap_or("–")))
            .collect();
        assert_eq!(
            told,
            [
                "size \"6\" \"6½\"",
                "rust \"–\" \"½ yd\"",
                "fog \"2 yd\" \"–\"",
                "A \"3\" \"5\"",
                "C \"–\" \"1\"",
                "B \"4\" \"–\""
            ]
        );
        assert!(compare(&old, &old).is_empty());
    }
}
