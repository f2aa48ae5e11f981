//! The words of a strip read as whoever cuts does: nothing is taken from a band that was not cut, and bands have room.

use std::collections::BTreeMap;
use std::path::Path;

use cutting::{FabricPlan, Ledger, StripRun};
use geometry::lay::UNITS_PER_INCH;
use layout::file::Document;
use layout::{Design, Tally, Units};
use publish::cut_words::{RowWords, strip_lines};

/// The samples in inches, whose widths of strips are marks of the ruler.
fn samples() -> Vec<(String, Design)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|end| end == "json"));
    files.sort();
    let design = |file: &Path| {
        let design = Document::open(file).unwrap().variants()[0].design.clone();
        (file.file_stem().unwrap().to_string_lossy().into_owned(), design)
    };
    files.iter().map(|file| design(file)).filter(|(_, design)| design.units() == Units::Inches).collect()
}

/// "2½″" in eighths of an inch.
fn eighths(told: &str) -> Option<i64> {
    let figure = told.trim_end_matches('″');
    let fractions = ["⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
    let found = (1..).zip(fractions).find(|(_, glyph)| figure.ends_with(glyph));
    let (whole, part) = found.map_or((figure, 0), |(part, glyph)| (figure.trim_end_matches(glyph), part));
    if whole.is_empty() { Some(part) } else { Some(8 * whole.parse::<i64>().ok()? + part) }
}

/// The bands that a line tells to cut, in eighths with how many of each: "…, along the strip, into 2 bands 2½″ wide and a band 3″ wide".
fn bands(line: &str) -> BTreeMap<i64, i64> {
    let (_, told) = line.split_once(", along the strip, into ").unwrap();
    let words: Vec<&str> = told.split([' ', ',']).collect();
    let at = |index: usize| {
        let count = if words[index - 1] == "a" { 1 } else { words[index - 1].parse().unwrap() };
        (eighths(words[index + 1]).unwrap(), count)
    };
    (0..words.len()).filter(|index| words[*index].starts_with("band")).map(at).collect()
}

/// What is wrong with the words of one run.
fn faults(strip: &StripRun, rows: &[RowWords]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut cut: BTreeMap<i64, i64> = BTreeMap::new();
    for row in rows {
        for line in &row.first {
            let made = bands(line);
            let taken: i64 = made.iter().map(|(width, count)| width * count).sum();
            if taken * UNITS_PER_INCH / 8 > strip.height {
                faults.push(format!("{line}: {taken} eighths of a strip {} units wide", strip.height));
            }
            for (width, count) in made {
                *cut.entry(width).or_default() += count;
            }
        }
        let named = row.text.split_once("″ band").map(|(before, _)| before.rsplit(' ').next().unwrap());
        if let Some(width) = named.and_then(eighths)
            && !cut.contains_key(&width)
        {
            faults.push(format!("{} before its band is cut", row.text));
        }
    }
    let (told, planned): (u64, u64) =
        (rows.iter().map(|row| row.count).sum(), strip.segments.iter().map(|row| row.count).sum());
    if told != planned {
        faults.push(format!("{told} pieces told of {planned}"));
    }
    faults
}

#[test]
fn bands_are_cut_before_what_is_cut_from_them() {
    let mut with_bands = 0;
    for (name, design) in samples() {
        let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
        let plans: Vec<&FabricPlan> = ledger.plans().values().map(|plan| plan.as_ref().unwrap()).collect();
        for plan in plans {
            for cloth in plan.cloths() {
                for strip in cloth.strips {
                    let rows = strip_lines(plan, strip, cloth.width, Units::Inches);
                    assert_eq!(faults(strip, &rows), Vec::<String>::new(), "{name}: {rows:#?}");
                    with_bands += usize::from(rows.iter().any(|row| !row.first.is_empty()));
                }
            }
        }
    }
    assert!(with_bands > 5, "{with_bands} strips are cut into bands");
}

/// A reader that finds no fault must be one that could.
#[test]
fn the_reader_finds_faults() {
    assert_eq!(
        bands("Cut the rest of the strip, along the strip, into 2 bands 2½″ wide and a band 3″ wide"),
        [(20, 2), (24, 1)].into()
    );
    let strip = StripRun { height: 5 * UNITS_PER_INCH, repeat: 1, segments: Vec::new() };
    let row = |first: &str, text: &str| RowWords {
        piece: cutting::PieceId(0),
        number: 1,
        count: 1,
        first: (!first.is_empty()).then(|| first.to_owned()).into_iter().collect(),
        how: String::new(),
        text: text.to_owned(),
    };
    let too_wide = row("Cut the strip, along the strip, into 2 bands 2¾″ wide", "1 × square, from the 2¾″ bands");
    let too_early = row("", "1 × square, from the 2¾″ band");
    assert_eq!(faults(&strip, &[too_early, too_wide]).len(), 3);
}
