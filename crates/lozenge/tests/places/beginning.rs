//! How a sitting begins: new quilts of every kind, and the settings that were kept.

use std::path::Path;

use layout::Units;
use layout::file::Document;
use lozenge::window::derived::Derived;
use lozenge::window::gallery::{Bed, Choice, StartBlock};
use lozenge::window::settings::{Settings, SewingErrors};
use publish::kit::{Minutes, WorkMinutes};

/// A new quilt is one that a file can hold and scissors can cut, and near the size that was asked for.
fn check_choice(choice: Choice) {
    let design = choice.design().unwrap();
    let bytes = Document::new(design.clone()).to_bytes().unwrap();
    assert_eq!(Document::from_bytes(&bytes).unwrap().variants()[0].design, design, "{choice:?}");
    let derived = Derived::new(&design).unwrap();
    for (id, plan) in derived.ledger().unwrap().plans() {
        assert!(plan.is_ok(), "{choice:?}: {}", design.fabric(*id).unwrap().name);
    }
    let (width, height) = design.finished_size();
    let (about_width, about_height) = choice.bed.about_size();
    for (has, about) in [(width, about_width), (height, about_height)] {
        let off = (has.to_f64() - f64::from(i32::try_from(about).unwrap())).abs();
        assert!(off <= f64::from(i32::try_from(choice.inches).unwrap()), "{choice:?} is {off} in off");
    }
    assert_eq!((design.units(), design.fabrics().count()), (choice.units, usize::from(choice.colours)));
}

#[test]
fn every_new_quilt_holds_and_has_about_the_size_of_its_bed() {
    for block in StartBlock::ALL {
        for bed in Bed::ALL {
            for colours in 2..=4 {
                for units in [Units::Inches, Units::Centimetres] {
                    check_choice(Choice { block, inches: 12, bed, colours, units });
                }
            }
        }
        for inches in [3, 5, 7, 10, 17, 24, 36] {
            check_choice(Choice { block, inches, bed: Bed::Crib, ..Choice::default() });
        }
    }
}

#[test]
fn settings_are_kept_and_a_damaged_file_gives_the_usual_ones() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("new folder").join("settings.json");
    assert_eq!(Settings::read(&file), Settings::default());
    let mut own = Settings {
        dark: true,
        text_percent: 130,
        totals_width: 400,
        left_handed: true,
        errors: SewingErrors { cut_spread: 5, ..SewingErrors::default() },
        paper: Some(publish::Paper::Letter),
        minutes: WorkMinutes { sew_seam: Minutes(125), ..WorkMinutes::default() },
        bed: "queen".to_owned(),
        recent: Vec::new(),
    };
    for number in 0..10 {
        own.remember(Path::new(&format!("{number}.json")));
    }
    own.remember(Path::new("5.json"));
    let recent: Vec<_> = own.recent.iter().map(|p| p.to_str().unwrap()).collect();
    assert_eq!(recent, ["5.json", "9.json", "8.json", "7.json", "6.json", "4.json", "3.json", "2.json"]);
    own.write(&file).unwrap();
    assert_eq!(Settings::read(&file), own);

    let long = format!("{{\"dark\": true, \"more\": \"{}\"}}", "x".repeat(1 << 17));
    for damaged in ["", "{", "[1, 2]", "{\"dark\": 7}", "{\"text_percent\": -4}", "\0\0", &long] {
        std::fs::write(&file, damaged).unwrap();
        assert_eq!(Settings::read(&file), Settings::default(), "{}", &damaged[..damaged.len().min(40)]);
    }
    for (text, percent, width) in [
        ("{\"text_percent\": 5, \"totals_width\": 1}", 80, 240),
        ("{\"text_percent\": 9000, \"totals_width\": 9000}", 200, 600),
        ("{\"text_percent\": 120, \"from a later version\": 1}", 120, 320),
    ] {
        std::fs::write(&file, text).unwrap();
        let read = Settings::read(&file);
        assert_eq!((read.text_percent, read.totals_width), (percent, width), "{text}");
    }
    assert!(own.write(folder.path()).is_err(), "a folder is no place for a file");
}

#[test]
fn text_grows_and_shrinks_within_bounds() {
    let mut settings = Settings::default();
    for _ in 0..30 {
        settings.scale_text(true);
    }
    assert_eq!(settings.text_percent, 200);
    for _ in 0..30 {
        settings.scale_text(false);
    }
    assert_eq!(settings.text_percent, 80);
}
