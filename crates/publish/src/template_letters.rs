//! By which template every piece of a fabric is cut, so that words can point to it by its letter.

use std::collections::BTreeMap;

use cutting::PieceId;
use layout::FabricId;

use crate::templates::{Template, TemplateCount};

/// The templates of the pieces of one fabric, in words: "template C", "template C turned over". Without templates all
/// pieces have "the template".
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct TemplateLetters {
    words: BTreeMap<PieceId, String>,
}

impl TemplateLetters {
    /// The letters for the pieces of a fabric.
    pub(crate) fn new(templates: &[Template], fabric: FabricId) -> Self {
        let mut found: BTreeMap<PieceId, Vec<(String, u64)>> = BTreeMap::new();
        for template in templates {
            let Some(TemplateCount { as_drawn, turned_over }) = template.counts.get(&fabric).copied() else { continue };
            let own = PieceId(template.piece.0);
            // What is its own mirror image but for its tips is one kind of piece, whichever way its template lies.
            let mirror = if template.is_symmetric { Some(own) } else { template.mirror.map(|class| PieceId(class.0)) };
            let mut add = |piece, words: String, count| {
                if count > 0 {
                    found.entry(piece).or_default().push((words, count));
                }
            };
            add(own, template.letter.clone(), as_drawn);
            add(mirror.unwrap_or(own), format!("{} turned over", template.letter), turned_over);
        }
        Self { words: found.into_iter().map(|(piece, ways)| (piece, told(&ways))).collect() }
    }

    /// "template C", or "the template" where there is none with a letter.
    pub(crate) fn of(&self, piece: PieceId) -> &str {
        self.words.get(&piece).map_or("the template", String::as_str)
    }

    /// "template C" for a piece that has one.
    pub(crate) fn known(&self, piece: PieceId) -> Option<&str> {
        self.words.get(&piece).map(String::as_str)
    }
}

/// One way as it is; of several, how many are cut each way.
fn told(ways: &[(String, u64)]) -> String {
    match ways {
        [(only, _)] => format!("template {only}"),
        _ => {
            let each: Vec<String> = ways.iter().map(|(way, count)| format!("{way} for {count}")).collect();
            format!("template {}, alike but for the tips", each.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_ways_are_counted() {
        assert_eq!(told(&[("C".to_owned(), 100)]), "template C");
        let both = [("C".to_owned(), 100), ("C turned over".to_owned(), 50)];
        assert_eq!(told(&both), "template C for 100, C turned over for 50, alike but for the tips");
    }
}
