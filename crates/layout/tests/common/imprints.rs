//! Words of published patterns.

use layout::{Design, Edit, Imprint};

use super::{edited, quilts};

/// A quilt with all the words of a published pattern.
pub(crate) fn imprinted() -> Design {
    edited(&quilts()[1], &[Edit::SetImprint(words())])
}

/// All the words of a published pattern, invented.
pub(crate) fn words() -> Imprint {
    Imprint {
        author: "Invented Author".to_owned(),
        edition: "Second edition".to_owned(),
        lead: "A quilt for ½ a winter".to_owned(),
        notes: vec!["Press \"as you go\".".to_owned(), "Thank you.".to_owned()],
        photo: "photos/on the fence.jpg".to_owned(),
    }
}

/// Words of a published pattern, now and then some that must be refused.
pub(crate) fn some_imprint(a: u16, b: u16) -> Imprint {
    let text = |die: u16| match die % 7 {
        0 => String::new(),
        1 if a.is_multiple_of(5) => "two\nlines".to_owned(),
        2 if a.is_multiple_of(11) => "é".repeat(usize::from(die % 2000)),
        _ => format!(" Words {} ", die % 4),
    };
    Imprint {
        author: text(b),
        edition: text(b / 7),
        lead: text(b / 49),
        notes: (0..a % 4).map(|i| if b % 31 == i { " ".to_owned() } else { format!("Note {b} \"quoted\"") }).collect(),
        photo: if b.is_multiple_of(3) { format!("photos/{a}.jpg") } else { String::new() },
    }
}
