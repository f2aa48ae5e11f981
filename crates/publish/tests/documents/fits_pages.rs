//! The pages of what can be made of fabrics in hand say what the list says, of every top and every fabric.

use crate::pdf_words::{plain, words};

use std::path::Path;

use cutting::Watch;
use publish::Paper;
use publish::fits::{FabricsFile, Listing, entry_words, fits, fits_pages, next_words, short_words};
use publish::lengths::about_size;

/// Fabrics of our own invention.
const DRAWER: &str = r##"{"format": "lozenge fabrics", "version": 1, "name": "Winter drawer", "units": "in", "fabrics": [
 {"name": "Plum", "value": "dark", "colour": "#4b1d3f", "fat_quarters": 2},
 {"name": "Ink", "value": "dark", "lengths": ["1/2 yd"], "usable_width": 42},
 {"name": "Oat", "value": "light", "lengths": ["1 1/4 yd"]},
 {"name": "Oddments", "value": "light", "scraps": [{"width": 10, "length": "7 1/2", "count": 6}]}],
 "blocks": ["diagonal half block", "nine-patch"], "sizes": [6, 9]}"##;

const EMPTY: &str = r#"{"format": "lozenge fabrics", "version": 1, "units": "cm", "fabrics": [
 {"name": "Slip", "value": "dark", "scraps": [{"width": 3, "length": 3}]}], "blocks": ["tilted star"], "sizes": [20]}"#;

fn read(text: &str) -> (FabricsFile, Listing) {
    let file = FabricsFile::from_bytes(text.as_bytes(), Path::new("")).unwrap();
    let listing = fits(&file.hand, &file.wanted, &Watch::new()).unwrap();
    (file, listing)
}

#[test]
fn every_top_stands_on_the_pages_with_what_it_is_cut_from() {
    let (FabricsFile { hand, .. }, listing) = read(DRAWER);
    assert!(listing.entries.len() >= 3 && listing.entries.iter().any(|entry| entry.next.is_some()));
    for paper in Paper::ALL {
        let pages = fits_pages(&hand, &listing, paper).unwrap();
        let told = words(&pages);
        let says = |text: &str| assert!(told.contains(&plain(text)), "no {text:?} in {told}");
        says("Winter drawer");
        says("2 dark fabrics, 2 light fabrics");
        says("Binding, backing and batting are not cut from these fabrics: they are to be bought");
        for entry in &listing.entries {
            let (width, height) = entry.finished_size();
            says(&about_size(&width, &height, hand.units));
            says(&entry_words(entry, hand.units));
            says(entry.arrangements()[0]);
            if let Some(next) = &entry.next {
                says(&next_words(next, &hand));
            }
        }
        for fabric in &hand.fabrics {
            says(&fabric.name);
        }
        let [width, height] = pages.size_in(0).unwrap();
        let size = paper.size_in();
        assert!((width - size[0]).abs() < 1e-3 && (height - size[1]).abs() < 1e-3);
    }
}

#[test]
fn an_empty_list_says_what_more_is_needed() {
    let (FabricsFile { hand, .. }, listing) = read(EMPTY);
    assert!(listing.entries.is_empty() && !listing.short.is_empty());
    let told = words(&fits_pages(&hand, &listing, Paper::A4).unwrap());
    for text in ["Not one block", &short_words(&listing.short[0], hand.units), "any light fabric"] {
        assert!(told.contains(&plain(text)), "no {text:?} in {told}");
    }
}
