//! Words of a published pattern: saved, left out when empty, bounded, undone, and no business of any count.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{file_text, quilts, words};
use layout::file::Document;
use layout::{
    Design, DesignParts, Edit, EditError, History, Imprint, MAX_NAME_CHARS, MAX_NOTE_CHARS, MAX_NOTES, MAX_PHOTO_CHARS,
    Tally, Touched, apply,
};

fn text(design: &Design) -> String {
    String::from_utf8(file_text(design)).unwrap()
}

fn opened(text: &str) -> Result<Design, String> {
    Document::from_bytes(text.as_bytes()).map(|d| d.variants()[0].design.clone()).map_err(|e| e.to_string())
}

fn with(imprint: Imprint) -> Result<Design, EditError> {
    apply(&quilts().swap_remove(0), &Edit::SetImprint(imprint)).map(|(design, _)| design)
}

#[test]
fn words_come_back() {
    let design = with(words()).unwrap();
    assert_eq!(*design.imprint(), words());
    let text = text(&design);
    assert_eq!(opened(&text).unwrap(), design);
    let (_, tail) = text.split_once("   \"imprint\"").unwrap();
    insta::assert_snapshot!(tail, @r#"
    : {
        "author": "Invented Author",
        "edition": "Second edition",
        "lead": "A quilt for ½ a winter",
        "notes": ["Press \"as you go\".","Thank you."],
        "photo": "photos/on the fence.jpg"
       }
      }
     ]
    }
    "#);
}

/// A quilt of which nothing is said is written as it was before there were such words.
#[test]
fn nothing_said_is_left_out() {
    for design in quilts() {
        assert!(design.imprint().is_empty());
        let bare = text(&design);
        assert!(!bare.contains("imprint"));
        for given in ["{}", "{\"author\":\"\",\"edition\":\"\",\"lead\":\" \",\"notes\":[],\"photo\":\"\"}"] {
            let said = bare.replacen("   \"backing\"", &format!("   \"imprint\":{given},\n   \"backing\""), 1);
            assert_eq!(opened(&said).unwrap(), design, "{given}");
        }
        let cleared =
            apply(&apply(&design, &Edit::SetImprint(words())).unwrap().0, &Edit::SetImprint(Imprint::default()));
        assert_eq!(text(&cleared.unwrap().0), bare);
    }
}

#[test]
fn spaces_around_words_are_taken_off() {
    let given = Imprint {
        author: "  Invented Author ".to_owned(),
        notes: vec![" One. ".to_owned()],
        photo: " photo.png".to_owned(),
        ..Imprint::default()
    };
    let kept = with(given).unwrap().imprint().clone();
    assert_eq!(
        (kept.author.as_str(), kept.notes[0].as_str(), kept.photo.as_str()),
        ("Invented Author", "One.", " photo.png")
    );
}

/// The longest words are taken and a character more is refused, by the edit, by the file and by the parts alike.
#[test]
fn limits_are_told() {
    let long = |most: usize| "é".repeat(most + 1);
    let name = |what: &str| format!("{what} has 121 characters, more than the 120 that it may have; shorten it");
    let unprintable =
        |what: &str| format!("{what} has a character that cannot be printed, such as a line break; take it out");
    let rows = [
        (Imprint { author: long(MAX_NAME_CHARS), ..words() }, name("the author")),
        (Imprint { edition: long(MAX_NAME_CHARS), ..words() }, name("the edition")),
        (Imprint { lead: long(MAX_NAME_CHARS), ..words() }, name("the line under the title")),
        (Imprint { lead: "two\nlines".to_owned(), ..words() }, unprintable("the line under the title")),
        (Imprint { photo: "a\u{7}.png".to_owned(), ..words() }, unprintable("the path of the photo")),
        (
            Imprint { photo: long(MAX_PHOTO_CHARS), ..words() },
            "the path of the photo has 501 characters, more than the 500 that it may have; shorten it".to_owned(),
        ),
        (
            Imprint { notes: vec!["One.".to_owned(), long(MAX_NOTE_CHARS)], ..words() },
            "note 2 has 2001 characters, more than the 2000 that it may have; shorten it".to_owned(),
        ),
        (
            Imprint { notes: vec!["One.".to_owned(), " ".to_owned()], ..words() },
            "note 2 is empty; write it, or leave it out".to_owned(),
        ),
        (
            Imprint { notes: vec!["One.".to_owned(); MAX_NOTES + 1], ..words() },
            "a quilt may have at most 20 notes, not 21".to_owned(),
        ),
    ];
    let parts = quilts().swap_remove(0).parts();
    for (imprint, told) in rows {
        assert_eq!(with(imprint.clone()).unwrap_err().to_string(), told);
        let assembled = Design::assemble(DesignParts { imprint: imprint.clone(), ..parts.clone() });
        assert_eq!(assembled.unwrap_err().to_string(), told);
    }
    let good = text(&with(words()).unwrap());
    let said = good.replacen("Thank you.", " ", 1);
    assert_eq!(opened(&said).unwrap_err(), "variants[0].imprint: note 2 is empty; write it, or leave it out");
    let unknown = good.replacen("\"lead\"", "\"leed\"", 1);
    assert!(opened(&unknown).unwrap_err().contains("unknown field `leed`"));
    let fullest = Imprint {
        author: "é".repeat(MAX_NAME_CHARS),
        edition: "é".repeat(MAX_NAME_CHARS),
        lead: "é".repeat(MAX_NAME_CHARS),
        notes: vec!["é".repeat(MAX_NOTE_CHARS); MAX_NOTES],
        photo: "é".repeat(MAX_PHOTO_CHARS),
    };
    let design = with(fullest.clone()).unwrap();
    assert_eq!(*opened(&text(&design)).unwrap().imprint(), fullest);
}

#[test]
fn words_touch_no_patch_and_can_be_undone() {
    let start = quilts().swap_remove(0);
    let (next, delta) = apply(&start, &Edit::SetImprint(words())).unwrap();
    assert_eq!(delta.touched, Touched::Nothing);
    assert!(delta.lost.is_empty());
    assert_eq!(Tally::count(&next).unwrap(), Tally::count(&start).unwrap());
    let mut history = History::new(start.clone());
    history.apply(&Edit::SetImprint(words())).unwrap();
    assert_eq!(history.undo_label(), Some("Change words of the pattern"));
    assert!(history.undo());
    assert_eq!(*history.design(), start);
    assert!(history.redo());
    assert_eq!(*history.design().imprint(), words());
}
