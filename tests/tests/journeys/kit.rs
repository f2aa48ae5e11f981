//! Kits for a class as a shell sees them: sums against the cutting list of one quilt, files, and what is refused.

use crate::program;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use program::{good, lozenge, on, sample_folder};
use serde_json::Value;

fn sample(name: &str) -> PathBuf {
    sample_folder().join(name).with_extension("json")
}

fn json(command: &str, file: &Path, options: &[&str]) -> Value {
    let options: Vec<&str> = options.iter().copied().chain(["--json"]).collect();
    serde_json::from_str(&good(on(command, file, &options))).unwrap()
}

fn list<'a>(value: &'a Value, field: &str) -> &'a Vec<Value> {
    value[field].as_array().unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn whole(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

fn assert_near(a: f64, b: f64, what: &str) {
    assert!((a - b).abs() < 1e-6 * b.abs().max(1.0), "{what}: {a} and {b}");
}

/// Widths of the strips of one quilt's fabric and how many of each, from its cutting list; those of all its parts.
fn strips_of(fabric: &Value) -> Vec<(f64, u64)> {
    let parts = fabric.get("parts").map_or(1, whole);
    let of = |strips: &Value, times: u64| {
        let strip = |strip: &Value| (number(&strip["height"]), whole(&strip["strips"]) * times * parts);
        strips.as_array().unwrap().iter().map(strip).collect::<Vec<_>>()
    };
    let sheets = fabric.get("sheets").and_then(Value::as_array).into_iter().flatten();
    let mut found: Vec<(f64, u64)> = sheets.flat_map(|sheet| of(&sheet["strips"], whole(&sheet["sheets"]))).collect();
    found.extend(of(&fabric["strips"], 1));
    found
}

#[test]
fn kits_are_students_times_the_strips_of_the_cutting_list() {
    for (name, options) in [
        ("crib-night-ferry", &["--quick"][..]),
        ("crib-night-ferry", &[]),
        ("single-birch-and-slate", &["--quick"]),
        ("full-six-winds", &["--quick"]),
        ("king-lantern-orchard", &["--quick"]),
    ] {
        let file = sample(name);
        let cut = json("cut", &file, options);
        let asked: Vec<&str> = options.iter().copied().chain(["--students", "12", "--reserve", "10%"]).collect();
        let kit = json("kit", &file, &asked);
        assert_eq!((whole(&kit["students"]), whole(&kit["kits"])), (12, 14), "{name}");
        assert_eq!((&kit["plan"], &kit["unit"]), (&cut["plan"], &cut["unit"]));
        let quilt = &list(&kit, "quilts")[0];
        let owners: Vec<&str> = list(quilt, "owners").iter().map(|owner| owner.as_str().unwrap()).collect();
        assert_eq!((owners.len(), owners[0], owners[11], owners[13]), (14, "Student 1", "Student 12", "Spare 2"));
        let mut bags = list(quilt, "bags").iter();
        for (one, all) in list(&cut, "fabrics").iter().zip(list(&kit, "fabrics")) {
            assert_eq!(one["name"], all["name"]);
            let strips = strips_of(one);
            for (width, count) in &strips {
                let bag = bags.next().unwrap();
                assert_eq!(bag["fabric"], one["id"]);
                assert_near(number(&bag["width"]), *width, name);
                assert_eq!((whole(&bag["strips"]), whole(&bag["strips_in_all"])), (*count, 14 * count), "{name}");
            }
            assert_eq!(whole(&all["strips"]), 14 * strips.iter().map(|(_, count)| count).sum::<u64>());
            assert_near(number(&all["required_length"]), 14.0 * number(&one["required_length"]), name);
            let lines = ["required_length", "squaring_up", "shrinkage", "rounding"];
            assert_near(lines.iter().map(|line| number(&all[*line])).sum(), number(&all["buy_length"]), name);
            assert!(number(&all["buy_length"]) <= 14.0 * number(&one["buy_length"]) + 1e-6);
            assert_eq!(all["takers"][0]["one_kit_label"], one["buy_label"]);
        }
        assert!(bags.next().is_none());
        assert_eq!(whole(&kit["bags"]), 14 * list(quilt, "bags").len() as u64);
        let totals = json("totals", &file, &[]);
        let tasks = list(&quilt["timing"], "tasks");
        let of_top = tasks.iter().filter(|task| !task["what"].as_str().unwrap().contains("end to end"));
        let seams: u64 = of_top.map(|task| whole(&task["seams"]) + whole(&task["joins"])).sum();
        assert_eq!(seams, whole(&totals["patches"]) - 1, "{name}");
        let minutes: f64 = tasks.iter().map(|task| number(&task["minutes"])).sum();
        assert_near(minutes, number(&quilt["timing"]["total"]), name);
    }
}

#[test]
fn students_take_the_variants_they_ask_for() {
    let file = sample("throw-two-windows");
    let kit = json("kit", &file, &["--quick", "--students", "10", "--takes", "Noon=4, Dusk=6", "--reserve", "1"]);
    let quilts = list(&kit, "quilts");
    let told: Vec<(&str, u64, u64)> = quilts
        .iter()
        .map(|quilt| (quilt["variant"].as_str().unwrap(), whole(&quilt["students"]), whole(&quilt["kits"])))
        .collect();
    assert_eq!(told, [("Dusk", 6, 7), ("Noon", 4, 5)]);
    assert_eq!(quilts[1]["owners"][0], "Student 7");
    assert_eq!(quilts[1]["owners"][4], "Spare 2");
    for fabric in list(&kit, "fabrics") {
        let mut required = 0.0;
        for taker in list(fabric, "takers") {
            let variant = taker["variant"].as_str().unwrap();
            let cut = json("cut", &file, &["--quick", "--variant", variant]);
            let one = list(&cut, "fabrics").iter().find(|one| one["id"] == taker["fabric"]).unwrap();
            required += whole(&taker["kits"]) as f64 * number(&one["required_length"]);
        }
        assert_near(number(&fabric["required_length"]), required, &fabric["name"].to_string());
    }
}

#[test]
fn minutes_come_from_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("minutes.json");
    let sample = sample("crib-night-ferry");
    let kit = |options: &[&str]| {
        let asked: Vec<&str> = ["--quick", "--students", "3"].iter().chain(options).copied().collect();
        json("kit", &sample, &asked)
    };
    let usual = kit(&[]);
    let mut minutes = usual["minutes"].clone();
    fs::write(&file, minutes.to_string()).unwrap();
    let with = |file: &Path| kit(&["--minutes", file.to_str().unwrap()]);
    assert_eq!(with(&file), usual, "minutes can be read as they were printed");
    minutes["sew_seam"] = Value::from(number(&minutes["sew_seam"]) + 0.25);
    fs::write(&file, minutes.to_string()).unwrap();
    let slower = with(&file);
    let total = |kit: &Value| number(&kit["quilts"][0]["timing"]["total"]);
    let seams: u64 = list(&usual["quilts"][0]["timing"], "tasks").iter().map(|task| whole(&task["seams"])).sum();
    assert_near(total(&slower) - total(&usual), 0.25 * seams as f64, "minutes");
    fs::write(&file, "{\n \"sew_seem\": 1\n}").unwrap();
    let asked = on("kit", &sample, &["--students", "3", "--minutes", file.to_str().unwrap()]);
    refused(asked, 1, &["minutes.json", "sew_seem", "line 2", "correct"]);
    fs::write(&file, " ".repeat(70_000)).unwrap();
    let asked = on("kit", &sample, &["--students", "3", "--minutes", file.to_str().unwrap()]);
    refused(asked, 1, &["minutes.json", "64 kilobytes"]);
}

fn refused(args: Vec<std::ffi::OsString>, code: u8, words: &[&str]) {
    let told = format!("{args:?}");
    let ran = lozenge(args);
    assert_eq!(ran.code, ExitCode::from(code), "{told}: {}", ran.err);
    assert_eq!(ran.out, "", "{told}");
    assert!(words.iter().all(|word| ran.err.contains(word)), "{told} says: {}", ran.err);
}

#[test]
fn what_cannot_be_is_refused_with_a_remedy() {
    let file = sample("throw-two-windows");
    let rows: [(&[&str], u8, &[&str]); 12] = [
        (&["--students", "0"], 1, &["1 to 200 students"]),
        (&["--students", "201"], 1, &["1 to 200 students"]),
        (&["--students", "5", "--takes", "Dawn=5"], 1, &["\"Dawn\"", "Dusk, Noon"]),
        (&["--students", "5", "--takes", "Dusk=2,Noon=2"], 1, &["4 kits", "5 students"]),
        (&["--students", "5", "--takes", "Dusk=5,Dusk=0"], 1, &["twice"]),
        (&["--students", "5", "--takes", "Dusk"], 2, &["Dusk=6,Noon=4"]),
        (&["--students", "5", "--reserve", "51"], 1, &["0 to 50 kits"]),
        (&["--students", "5", "--reserve", "101%"], 1, &["100 %"]),
        (&["--students", "5", "--reserve", "some"], 2, &["10%"]),
        (&["--students", "5", "--out", "kit.txt"], 1, &["kit.txt", ".pdf"]),
        (&["--students", "5", "--minutes", "not-there.json"], 1, &["not-there.json", "cannot be read"]),
        (&[], 2, &["--students"]),
    ];
    for (options, code, words) in rows {
        refused(on("kit", &file, options), code, words);
    }
    refused(on("kit", &sample("not-there"), &["--students", "5"]), 1, &["not-there.json", "cannot read"]);
}

/// The names in a folder, in order.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = entries.collect();
    names.sort();
    names
}

#[test]
fn papers_are_written_together_or_not_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (out, labels, handout) = (path("class.pdf"), path("labels.pdf"), path("handout.pdf"));
    let sample = sample("crib-night-ferry");
    let asked = |more: &[&str]| {
        let papers = ["--quick", "--students", "4", "--out", &out, "--labels", &labels, "--handout", &handout];
        let options: Vec<&str> = papers.iter().chain(more).copied().collect();
        on("kit", &sample, &options)
    };
    fs::write(&labels, "mine").unwrap();
    refused(asked(&[]), 1, &["labels.pdf", "there already"]);
    assert_eq!(names(folder.path()), ["labels.pdf"]);
    assert_eq!(fs::read(&labels).unwrap(), b"mine");
    let told = good(asked(&["--force"]));
    assert_eq!(names(folder.path()), ["class.pdf", "handout.pdf", "labels.pdf"]);
    for file in [&out, &labels, &handout] {
        assert!(fs::read(file).unwrap().starts_with(b"%PDF-"), "{file}");
        assert!(told.contains(file.as_str()), "{told}");
    }
    let quilt = path("quilt.pdf");
    fs::copy(&sample, &quilt).unwrap();
    let over = ["--quick", "--students", "4", "--handout", &quilt, "--force"];
    refused(on("kit", Path::new(&quilt), &over), 1, &["quilt.pdf", "the quilt file itself"]);
    assert_eq!(fs::read(&quilt).unwrap(), fs::read(&sample).unwrap());
    fs::remove_file(&quilt).unwrap();
    let nowhere = path("missing/labels.pdf");
    let only = path("alone.pdf");
    let options = ["--quick", "--students", "4", "--out", &only, "--labels", &nowhere];
    refused(on("kit", &sample, &options), 1, &["labels.pdf", "folder does not exist"]);
    assert_eq!(names(folder.path()), ["class.pdf", "handout.pdf", "labels.pdf"]);
}

#[test]
fn the_words_say_what_to_buy_and_pack() {
    let file = sample("crib-night-ferry");
    let told = good(on("kit", &file, &["--quick", "--students", "10", "--reserve", "1"]));
    let kit = json("kit", &file, &["--quick", "--students", "10", "--reserve", "1"]);
    assert!(told.contains("quick cutting plan") && told.contains("10 students, 1 spare kit, 11 kits in all"), "{told}");
    for fabric in list(&kit, "fabrics") {
        let (name, buy) = (fabric["name"].as_str().unwrap(), fabric["buy_label"].as_str().unwrap());
        assert!(told.contains(&format!("{name} (11 kits): {buy}")), "{told}");
    }
}
