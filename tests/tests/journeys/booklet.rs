//! The booklet of every sample, read from its PDF: each figure is the one that `totals`, `cut` and `sew` print, its
//! pages are as they should be, and a booklet that cannot be made leaves no file.

use crate::booklet_pages::stand_well;
use crate::cut_outline::CutOutline;
use crate::pdf_text;
use crate::program;

use std::path::Path;
use std::process::ExitCode;

use layout::file::Document;
use pdf_text::{Page, pages, text};
use program::{good, lozenge, on, sample_files, sample_folder};
use serde_json::Value as Json;

/// A booklet and what the other commands say of the same quilt.
struct Told {
    what: String,
    pages: Vec<Page>,
    text: String,
    totals: Json,
    cut: Json,
    sew: Json,
    inch: bool,
}

impl Told {
    fn new(file: &Path, label: &str, options: &[&str], folder: &Path) -> Self {
        let json = |command: &str, more: &[&str]| -> Json {
            serde_json::from_str(&good(on(command, file, &[&["--json", "--variant", label], more].concat()))).unwrap()
        };
        let is_quick = options.contains(&"--quick");
        let pdf = folder.join("booklet.pdf");
        let out = ["--out", pdf.to_str().unwrap(), "--variant", label, "--force"];
        good(on("booklet", file, &[&out, options].concat()));
        let pages = pages(&std::fs::read(&pdf).unwrap());
        let totals = json("totals", &[]);
        Self {
            what: format!("{} ({label}) {options:?}", file.display()),
            text: pages.iter().map(text).collect::<Vec<_>>().join(" "),
            pages,
            inch: totals["unit"] == "in",
            totals,
            cut: json("cut", if is_quick { &["--quick"] } else { &[] }),
            sew: json("sew", &[]),
        }
    }

    /// Panics unless the booklet says this; spaces and line breaks apart.
    fn says(&self, told: &str) {
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(self.text.contains(&told), "{}: it does not say: {told}", self.what);
    }

    /// A length as the booklet prints what is trimmed later.
    fn at_least(&self, decimal: &Json) -> String {
        at_least(decimal.as_f64().unwrap(), self.inch)
    }

    /// A length as the booklet prints finished sizes.
    fn length(&self, decimal: &Json) -> String {
        length(decimal.as_f64().unwrap(), self.inch)
    }
}

/// The same for what is trimmed later: no less, and such that a ruler has it.
fn at_least(value: f64, inch: bool) -> String {
    if inch && (value * 16.0 - (value * 16.0).round()).abs() < 1e-6 {
        return length(value, true);
    }
    let step = if inch { 0.125 } else { 0.1 };
    length((value / step - 1e-9).ceil() * step, inch)
}

/// A length in words, worked out here anew from its decimals: fractions of at most 64ths, else four decimals of an inch or
/// two of a centimetre.
fn length(value: f64, inch: bool) -> String {
    if !inch {
        return format!("{value:.2} cm");
    }
    let parts = (value * 64.0).round();
    if (value * 64.0 - parts).abs() > 1e-6 {
        return format!("{value:.4}″");
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lengths of quilts")]
    let (parts, mut over) = (parts as u64, 64);
    let (whole, mut rest) = (parts / 64, parts % 64);
    while rest > 0 && rest % 2 == 0 {
        (rest, over) = (rest / 2, over / 2);
    }
    let glyphs = [("1/2", "½"), ("1/4", "¼"), ("3/4", "¾"), ("1/8", "⅛"), ("3/8", "⅜"), ("5/8", "⅝"), ("7/8", "⅞")];
    let fraction = format!("{rest}/{over}");
    let glyph = glyphs.iter().find(|(plain, _)| *plain == fraction).map(|(_, glyph)| *glyph);
    match (whole, rest, glyph) {
        (whole, 0, _) => format!("{whole}″"),
        (0, _, Some(glyph)) => format!("{glyph}″"),
        (0, _, None) => format!("{fraction}″"),
        (whole, _, Some(glyph)) => format!("{whole}{glyph}″"),
        (whole, _, None) => format!("{whole} {fraction}″"),
    }
}

/// A number that stands in the text: "2⅞", "3 5/16", "12.07".
fn number(told: &str) -> f64 {
    let parts = told.split_whitespace().map(|part| match part.split_once('/') {
        Some((over, under)) => over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
        None => {
            let whole: String = part.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            let fraction = match &part[whole.len()..] {
                "" => 0.0,
                "⅛" => 0.125,
                "¼" => 0.25,
                "⅜" => 0.375,
                "½" => 0.5,
                "⅝" => 0.625,
                "¾" => 0.75,
                "⅞" => 0.875,
                other => panic!("{told:?}: {other:?}"),
            };
            fraction + if whole.is_empty() { 0.0 } else { whole.parse::<f64>().unwrap() }
        }
    });
    parts.sum()
}

pub fn list<'a>(json: &'a Json, name: &str) -> &'a Vec<Json> {
    json[name].as_array().unwrap_or_else(|| panic!("no list {name}"))
}

fn count(json: &Json) -> u64 {
    json.as_u64().unwrap()
}

/// "1 strip", "6 strips".
fn counted(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Every variant of every sample.
fn each_variant(mut check: impl FnMut(&Path, &str)) {
    for file in sample_files() {
        for variant in Document::open(&file).unwrap().variants() {
            check(&file, &variant.label);
        }
    }
}

#[test]
fn every_figure_is_that_of_the_other_commands_and_stands_where_it_can_be_read() {
    let folder = tempfile::tempdir().unwrap();
    each_variant(|file, label| {
        for (paper, options) in [("letter", ["--quick", "--paper", "letter"].as_slice()), ("a4", &["--paper", "a4"])] {
            let told = Told::new(file, label, options, folder.path());
            figures_agree(&told);
            stand_well(&told.pages, (file, label), paper, options);
        }
    });
}

fn figures_agree(told: &Told) {
    facts_agree(told);
    fabrics_agree(told);
    strips_agree(told);
    pieces_agree(told);
    steps_agree(told);
    top_agrees(told);
    finishing_agrees(told);
}

fn facts_agree(told: &Told) {
    let Told { totals, cut, .. } = told;
    let size = format!("{} × {}", told.length(&totals["finished_width"]), told.length(&totals["finished_height"]));
    told.says(&format!("Finished size {size}"));
    told.says(&format!("Patches {} patches", totals["patches"]));
    told.says(&format!("Seam allowance {}", told.length(&told.sew["seam"])));
    told.says(&format!("Cutting plan {} plan", cut["plan"].as_str().unwrap()));
    told.says(&format!("This is the {} cutting plan.", cut["plan"].as_str().unwrap()));
    told.says(totals["name"].as_str().unwrap());
}

/// What to buy of each fabric stands in the table and over its cutting; with the quick plan it is what `totals` says.
fn fabrics_agree(told: &Told) {
    for (totals, cut) in list(&told.totals, "fabrics").iter().zip(list(&told.cut, "fabrics")) {
        let (name, buy) = (cut["name"].as_str().unwrap(), cut["buy_label"].as_str().unwrap());
        if told.cut["plan"] == told.totals["plan"] {
            assert_eq!(totals["buy_label"], cut["buy_label"]);
        }
        told.says(&format!("{name} {} buy {buy}", totals["value"].as_str().unwrap()));
        for role in list(&told.totals, "roles").iter().filter(|role| role["fabric"] == totals["id"]) {
            told.says(&format!("{} × {}", role["count"], role["role"].as_str().unwrap()));
        }
    }
}

/// Strips of a fabric in the order of work: those of sheets, then those of the length.
fn planned_strips(fabric: &Json) -> Vec<&Json> {
    let sheets = fabric["sheets"].as_array().into_iter().flatten();
    sheets.flat_map(|sheet| list(sheet, "strips")).chain(list(fabric, "strips")).collect()
}

/// The booklet has exactly the strips of the plan, with their counts and widths, and exactly the pieces cut from each.
fn strips_agree(told: &Told) {
    let unit = if told.inch { "″" } else { " cm" };
    let planned: Vec<&Json> = list(&told.cut, "fabrics").iter().flat_map(planned_strips).collect();
    let marks = [format!("{unit} wide; from each:"), format!("{unit} wide; from it:")];
    let mut found: Vec<(u64, f64, String)> = Vec::new();
    let mut rest = told.text.as_str();
    while let Some((at, mark)) = marks.iter().filter_map(|mark| Some((rest.find(mark)?, mark))).min() {
        let (heading, after) = (&rest[..at], &rest[at + mark.len()..]);
        let word = if heading.rfind(" strips ") > heading.rfind(" strip ") { " strips " } else { " strip " };
        let (before, width) = heading.rsplit_once(word).unwrap();
        let strips = before.rsplit_once(' ').unwrap().1.parse().unwrap();
        if let Some((.., rows)) = found.last_mut() {
            *rows = before.to_owned();
        }
        found.push((strips, number(width), String::new()));
        rest = after;
    }
    assert_eq!(found.len(), planned.len(), "{}: kinds of strips", told.what);
    for ((strips, width, rows), plan) in found.iter().zip(planned) {
        assert_eq!(*strips, count(&plan["strips"]), "{}: {plan}", told.what);
        let height = plan["height"].as_f64().unwrap();
        assert!((width - height).abs() < 0.006, "{}: {width} for {height}", told.what);
        let cut: u64 = list(plan, "rows").iter().map(|row| count(&row["count"])).sum();
        let words: Vec<&str> = rows.split(' ').collect();
        // The last strip of a fabric is followed by other words, so only those before its table count.
        let told_rows: u64 = words
            .windows(3)
            .take_while(|words| words[0] != "No.")
            .filter(|words| words[1].chars().all(|c| c.is_ascii_digit()) && words[2] == "×")
            .filter(|words| words[0].chars().all(|c| c.is_ascii_digit()))
            .filter_map(|words| words[1].parse::<u64>().ok())
            .sum();
        assert!(rows.is_empty() || told_rows == cut, "{}: {told_rows} of {cut} pieces in: {rows}", told.what);
    }
}

/// Every kind of piece stands in its table with its count and the size of its cut outline: width and height of a rectangle,
/// and of other shapes lengths and angles that they have.
fn pieces_agree(told: &Told) {
    for fabric in list(&told.cut, "fabrics") {
        for piece in list(fabric, "pieces") {
            let corners: Vec<[f64; 2]> = serde_json::from_value(piece["cut"].clone()).unwrap();
            let shape = CutOutline(corners);
            let begin = format!("{} × {}", piece["count"], piece["label"].as_str().unwrap());
            let places: Vec<&str> =
                told.text.match_indices(&begin).map(|(at, _)| &told.text[at + begin.len()..]).collect();
            let is_told = |after: &&str| match shape.is_upright_rectangle() {
                true => size_after(after).is_some_and(|size| shape.extends(size)),
                false => shape.has(&figures_after(after)),
            };
            let words = || -> Vec<String> { places.iter().map(|at| at.chars().take(90).collect()).collect() };
            assert!(places.iter().any(is_told), "{}: {begin}, {:?}: {:?}", told.what, shape.0, words());
        }
    }
}

/// Lengths and angles that follow a label in its cell of the table, up to the next piece.
fn figures_after(text: &str) -> (Vec<f64>, Vec<f64>) {
    let words: Vec<&str> = text.split_whitespace().take(30).collect();
    let is_end =
        |i: usize| ["trim", "trimmed", "sew", "No.", "selvage"].contains(&words[i]) || words.get(i + 1) == Some(&"×");
    let cell = &words[..(0..words.len()).find(|i| is_end(*i)).unwrap_or(words.len())];
    let (mut lengths, mut angles) = (Vec::new(), Vec::new());
    for (i, word) in cell.iter().enumerate() {
        let word = word.trim_end_matches(',');
        let before = i.checked_sub(1).map(|before| cell[before]);
        let plain = |word: &str| word.chars().all(|c| c.is_numeric() || "./".contains(c)) && !word.is_empty();
        if let Some(degrees) = word.strip_suffix('°') {
            angles.extend(degrees.parse::<f64>());
        } else if let Some(inches) = word.strip_suffix('″').filter(|inches| plain(inches)) {
            // "3 5/16″" is one length.
            let whole = before.filter(|before| inches.contains('/') && before.chars().all(|c| c.is_ascii_digit()));
            lengths.push(number(inches) + whole.map_or(0.0, number));
        } else if word == "cm" {
            lengths.extend(before.and_then(|before| before.parse::<f64>().ok()));
        }
    }
    (lengths, angles)
}

/// The first size, "5¾″ × 2⅜″", after a label; none where none follows at once.
fn size_after(text: &str) -> Option<[f64; 2]> {
    let words: Vec<&str> = text.split_whitespace().take(24).collect();
    let cross = words.iter().position(|word| *word == "×")?;
    let value = |words: &[&str]| -> Option<f64> {
        let told = words.join(" ").replace("cm", "").replace('″', "");
        let parts: Vec<&str> =
            told.split_whitespace().filter(|part| part.chars().all(|c| !c.is_alphabetic())).collect();
        (!parts.is_empty() && parts.iter().all(|p| p.chars().all(|c| c.is_numeric() || "./".contains(c))))
            .then(|| number(&parts.join(" ")))
    };
    // Where a piece goes may stand behind its name: "(numbers 2, 5)".
    let is_name = |word: &&str| *word != "cm" && (word.starts_with(char::is_alphabetic) || word.ends_with(')'));
    let from = words[..cross].iter().rposition(is_name).map_or(0, |last| last + 1);
    let end = words[cross + 1..].iter().position(|word| word.ends_with('″') || *word == "cm")? + cross + 2;
    Some([value(&words[from..cross])?, value(&words[cross + 1..end])?])
}

/// Every step of every block, in order, with how many it makes, its words, pressing, trims and measures.
fn steps_agree(told: &Told) {
    let mut rest = told.text.as_str();
    for block in list(&told.sew, "blocks") {
        let steps = list(block, "steps");
        told.says(&format!("{} make {}", block["name"].as_str().unwrap(), block["copies"]));
        for step in steps {
            let heading = format!("Step {} of {}: make {} ", step["number"], steps.len(), step["makes"]);
            let at = rest.find(&heading).unwrap_or_else(|| panic!("{}: no {heading}, in order", told.what));
            rest = &rest[at + heading.len()..];
            let lines = ["words", "pressing", "trim"].into_iter().filter_map(|name| step[name].as_array()).flatten();
            for line in lines {
                told.says(line.as_str().unwrap());
            }
            if let Some(size) = step["measures"].as_str() {
                told.says(&format!("Measure here {size}"));
            }
            let variants = list(step, "variants");
            // Several kinds of a unit that is sewn on with have letters.
            let has_letters = variants.len() > 1 && step["number"].as_u64().unwrap() < steps.len() as u64;
            for (variant, letter) in variants.iter().zip('a'..='z') {
                let mirrored = if variant["mirrored"] == true { ", mirrored" } else { "" };
                let these = match (has_letters, variant["count"] == 1) {
                    (true, _) => format!("of unit {}{letter}", step["number"]),
                    (false, true) => "like this".to_owned(),
                    (false, false) => "of these".to_owned(),
                };
                told.says(&format!("Now make {} {these}{mirrored}: ", variant["count"]));
            }
        }
        for line in list(&block["test_block"], "pieces") {
            told.says(line.as_str().unwrap());
        }
    }
    assert!(!rest.contains("Step "), "{}: more steps than planned", told.what);
}

fn top_agrees(told: &Told) {
    for line in list(&told.sew, "top") {
        told.says(line.as_str().unwrap());
    }
}

fn finishing_agrees(told: &Told) {
    let (binding, backing, batting) = (&told.totals["binding"], &told.totals["backing"], &told.totals["batting"]);
    let strips = counted(count(&binding["strips"]), "strip", "strips");
    told.says(&format!("Take the {strips} {} wide", told.length(&binding["strip_width"])));
    let panels = counted(count(&backing["panels"]), "panel", "panels");
    let size = format!("{} × {}", told.at_least(&backing["width"]), told.at_least(&backing["height"]));
    told.says(&format!("Backing {panels} {}, {size} in all", backing["panels_run"].as_str().unwrap()));
    told.says(&format!("Buy {} of backing", backing["buy_label"].as_str().unwrap()));
    told.says(&format!("{} long", told.at_least(&backing["panel_length"])));
    told.says(&format!("Trim the backing to {size}"));
    let batting = format!("{} × {}", told.at_least(&batting["width"]), told.at_least(&batting["height"]));
    told.says(&format!("Batting one piece {batting} {batting}"));
}

#[test]
fn another_block_size_changes_every_figure_that_depends_on_it() {
    let folder = tempfile::tempdir().unwrap();
    let six = std::fs::read_to_string(sample_folder().join("lap-owl-lane.json")).unwrap();
    let (old, new) = ("\"length\":[6,0,0,0,1]", "\"length\":[13,0,0,0,2]");
    assert_eq!(six.replace(' ', "").matches(old).count(), 1);
    let larger = folder.path().join("larger.json");
    std::fs::write(&larger, six.replace("\"length\": [", "\"length\":[").replace(old, new)).unwrap();
    let told = |file: &Path| Told::new(file, "First", &["--quick"], folder.path());
    let (six, larger) = (told(&sample_folder().join("lap-owl-lane.json")), told(&larger));
    figures_agree(&larger);
    for name in ["finished_width", "finished_height"] {
        assert_ne!(six.totals[name], larger.totals[name]);
    }
    let size = |told: &Told| format!("{} finished", if told.what.contains("larger") { "6½″ × 6½″" } else { "6″ × 6″" });
    six.says(&size(&six));
    larger.says(&size(&larger));
    assert!(!larger.text.contains(" 6″ × 6″"), "a block size that is no longer true");
    let old: Vec<&str> = list(&six.sew["blocks"][0], "steps").iter().filter_map(|s| s["measures"].as_str()).collect();
    assert!(!old.is_empty());
    for measures in old {
        assert!(!larger.text.contains(&format!("Measure here {measures} ")), "{measures} is no longer true");
    }
}

#[test]
fn the_same_quilt_gives_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let file = sample_folder().join("single-birch-and-slate.json");
    let made = |name: &str| {
        let pdf = folder.path().join(name);
        good(on("booklet", &file, &["--out", pdf.to_str().unwrap(), "--quick"]));
        std::fs::read(&pdf).unwrap()
    };
    assert!(made("one.pdf") == made("two.pdf"));
}

#[test]
fn the_data_is_printed_without_a_booklet() {
    let file = sample_folder().join("throw-two-windows.json");
    let data: Json =
        serde_json::from_str(&good(on("booklet", &file, &["--json", "--quick", "--variant", "Noon"]))).unwrap();
    assert_eq!(data["about"]["title"], "Two Windows");
    assert_eq!(data["cover"]["variant"], "Noon");
    let offered = list(&data, "fabrics");
    assert_eq!(offered.iter().map(|o| o["label"].as_str().unwrap()).collect::<Vec<_>>(), ["Dusk", "Noon"]);
    let totals: Json = serde_json::from_str(&good(on("totals", &file, &["--json", "--variant", "Noon"]))).unwrap();
    for (row, fabric) in list(&offered[1], "rows").iter().zip(list(&totals, "fabrics")) {
        assert_eq!((&row["name"], &row["buy"]), (&fabric["name"], &fabric["buy_label"]));
    }
}

/// A run that must be refused, with words of its error; nothing may be left in the folder.
fn refused(folder: &Path, options: &[&str], words: &[&str]) {
    let before = std::fs::read_dir(folder).unwrap().count();
    let ran = lozenge(on("booklet", &sample_folder().join("crib-night-ferry.json"), options));
    assert_eq!(ran.code, ExitCode::from(1), "{options:?}");
    assert!(ran.out.is_empty() && words.iter().all(|word| ran.err.contains(word)), "{options:?}: {}", ran.err);
    assert_eq!(std::fs::read_dir(folder).unwrap().count(), before, "{options:?} left a file");
}

#[test]
fn what_cannot_be_made_is_said_and_leaves_no_file() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let pdf = at("booklet.pdf");
    let out = ["--quick", "--out", &pdf];
    let missing = at("photo.jpg");
    refused(folder.path(), &[&out[..], &["--photo", &missing]].concat(), &["photo.jpg", "leave it out"]);
    let text = at("text.png");
    std::fs::write(&text, "no picture").unwrap();
    refused(folder.path(), &[&out[..], &["--photo", &text]].concat(), &["text.png", "no PNG"]);
    let cut = at("cut.png");
    std::fs::write(&cut, &small_png()[..40]).unwrap();
    refused(folder.path(), &[&out[..], &["--photo", &cut]].concat(), &["photo"]);
    // The type has Latin letters; others would be printed as empty boxes.
    refused(folder.path(), &[&out[..], &["--author", "山田"]].concat(), &["no “山”", "“山田”", "Latin letters"]);
    refused(folder.path(), &["--quick", "--out", &at("none/booklet.pdf")], &["the folder does not exist"]);
    refused(folder.path(), &["--quick", "--out", &at("booklet.txt")], &[".pdf"]);
    refused(folder.path(), &[&out[..], &["--variant", "Third"]].concat(), &["Third"]);
    std::fs::write(&pdf, "mine").unwrap();
    refused(folder.path(), &out, &["is there already"]);
    assert_eq!(std::fs::read(&pdf).unwrap(), b"mine");
    good(on("booklet", &sample_folder().join("crib-night-ferry.json"), &[&out[..], &["--force"]].concat()));
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
}

/// The crib quilt, 40 pixels wide.
fn small_png() -> Vec<u8> {
    let document = Document::open(&sample_folder().join("crib-night-ferry.json")).unwrap();
    let picture = publish::quilt_picture(&document.variants()[0].design, publish::Seams::Hidden).unwrap();
    publish::png(&picture, 40).unwrap()
}

#[test]
fn author_edition_and_photo_are_the_users() {
    let folder = tempfile::tempdir().unwrap();
    let (pdf, photo) = (folder.path().join("booklet.pdf"), folder.path().join("photo.png"));
    std::fs::write(&photo, small_png()).unwrap();
    let said = ["--author", "Invented Author", "--edition", "Edition 7", "--photo", photo.to_str().unwrap()];
    let out = ["--quick", "--left-handed", "--out", pdf.to_str().unwrap()];
    good(on("booklet", &sample_folder().join("crib-night-ferry.json"), &[&out[..], &said].concat()));
    let bytes = std::fs::read(&pdf).unwrap();
    let pages = pages(&bytes);
    for page in &pages {
        let text = text(page);
        assert!(text.contains("Invented Author") && text.contains("Edition 7"), "{text}");
    }
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let is_image = |object: &lopdf::Object| {
        object
            .as_stream()
            .is_ok_and(|stream| stream.dict.get(b"Subtype").is_ok_and(|s| s.as_name().is_ok_and(|n| n == b"Image")))
    };
    assert!(document.objects.values().any(is_image), "the photo is not in the booklet");
    let catalog = document.catalog().unwrap();
    for part in [b"Outlines".as_slice(), b"StructTreeRoot"] {
        assert!(catalog.has(part), "{}", String::from_utf8_lossy(part));
    }
}
