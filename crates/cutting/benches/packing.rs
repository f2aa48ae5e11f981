//! Published cutting problems: values and heights reached, against what is known of them.
//!
//! `cargo bench -p cutting --bench packing [-- FOLDER]` prints a table of all problem files in a folder; without one,
//! of those beside this file. Seconds are those that one core worked, so that other programs do not count.
#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a failed unwrap is a failed benchmark")]

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

use cpu_time::ThreadTime;
use cutting::guillotine::{DEFAULT_STEPS, Rectangle, SheetKind, Turning, pack, sheet_value};
use cutting::watch::Watch;
use serde_json::Value;

fn main() {
    let folder = std::env::args().skip(1).find(|argument| !argument.starts_with('-'));
    let folder = folder.map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("benches/problems"), PathBuf::from);
    if let Err(error) = table(&folder) {
        eprintln!("{}: {error}", folder.display());
        std::process::exit(1);
    }
}

/// Optimal values of guillotine patterns, any number of each kind: fixed, and with quarter turns where published.
/// gcut1 to gcut4 (Beasley 1985): values by Cintra, IME-USP. cgcut1 to cgcut3 (Christofides and Whitlock 1977) with the
/// limits on copies ignored: Hifi and Zissimopoulos 1996.
const VALUES: [(&str, i64, Option<i64>); 7] = [
    ("gcut1", 56460, Some(58136)),
    ("gcut2", 60536, Some(60611)),
    ("gcut3", 61036, Some(61626)),
    ("gcut4", 61698, Some(62265)),
    ("cgcut1", 249, None),
    ("cgcut2", 3076, None),
    ("cgcut3", 2240, None),
];

/// Least heights that other general-purpose programs reached by straight cuts.
const PEERS: [(&str, i64); 5] =
    [("ht2000_c1p1", 20), ("bkw2004_n02", 52), ("hopper2000_t1a", 220), ("hopper2000_n1a", 230), ("ht2000_c3p1", 31)];

fn table(folder: &Path) -> Result<(), Box<dyn Error>> {
    let mut sheets = Vec::new();
    let mut strips: BTreeMap<String, Vec<(String, Value)>> = BTreeMap::new();
    let mut paths: Vec<PathBuf> =
        fs::read_dir(folder)?.map(|entry| entry.map(|e| e.path())).collect::<Result<_, _>>()?;
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    paths.sort();
    for path in paths {
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let problem: Value = serde_json::from_str(&fs::read_to_string(&path)?)?;
        if problem.get("stock").is_some() {
            sheets.push((name, problem));
        } else if problem.get("width").is_some() {
            strips.entry(set_of(&name)).or_default().push((name, problem));
        } else {
            println!("{name}: neither `stock` nor `width`, left out");
        }
    }
    println!("One sheet, any number of each kind, guillotine cuts: every value is proved, by dynamic programming\n");
    println!("{:<10} {:<9} {:>8} {:>10} {:>9}", "problem", "turns", "value", "published", "seconds");
    for (name, problem) in &sheets {
        sheet(name, problem)?;
    }
    println!(
        "\nStrips, quarter turns, guillotine cuts, {DEFAULT_STEPS} steps, one core. `free` is the least height by any"
    );
    println!("means as published; `proved` is a height that no guillotine pattern is below.");
    for (set, problems) in &strips {
        strip_set(set, problems)?;
    }
    Ok(())
}

/// The set a strip file is of: its name without the last part's digits and letters.
fn set_of(name: &str) -> String {
    let (set, last) = name.rsplit_once('_').unwrap_or((name, ""));
    format!("{set} {}", last.chars().take(1).collect::<String>())
}

fn sheet(name: &str, problem: &Value) -> Result<(), Box<dyn Error>> {
    let stock = numbers(&problem["stock"])?;
    let (&[width, height], items) = (stock.as_slice(), lists(&problem["items"])?) else {
        return Err(format!("{name}: `stock` is not two lengths").into());
    };
    let kind = |item: &Vec<i64>| match **item {
        [width, height, .., value] => Ok(SheetKind { width, height, value }),
        _ => Err(format!("{name}: an item is not width, height, value")),
    };
    let kinds: Vec<SheetKind> = items.iter().map(kind).collect::<Result<_, _>>()?;
    let published = VALUES.iter().find(|(known, ..)| *known == name);
    for (turning, word, known) in [
        (Turning::Fixed, "fixed", published.map(|p| p.1)),
        (Turning::QuarterTurns, "quarter", published.and_then(|p| p.2)),
    ] {
        let begun = ThreadTime::now();
        let plan = sheet_value(width, height, &kinds, turning, u64::MAX)?;
        let seconds = begun.elapsed().as_secs_f64();
        let verdict = match known {
            Some(known) if known == plan.value => "reached",
            Some(_) => "DIFFERS",
            None => "",
        };
        let known = known.map_or_else(|| "-".to_owned(), |known| known.to_string());
        println!("{name:<10} {word:<9} {:>8} {known:>10} {seconds:>9.3} {verdict}", plan.value);
    }
    Ok(())
}

fn strip_set(set: &str, problems: &[(String, Value)]) -> Result<(), Box<dyn Error>> {
    println!("\n{set}");
    println!(
        "{:<15} {:>3} {:>5} {:>6} {:>7} {:>6} {:>5} {:>8} {:>11}",
        "problem", "n", "free", "height", "proved", "gap %", "peer", "seconds", "steps"
    );
    let mut gaps = Vec::new();
    for (name, problem) in problems {
        let width = problem["width"].as_i64().ok_or("`width` is not a whole number")?;
        let rectangle = |item: &Vec<i64>| match **item {
            [width, height] => Ok(Rectangle { width, height, turning: Turning::QuarterTurns, count: 1 }),
            _ => Err(format!("{name}: an item is not width, height")),
        };
        let kinds: Vec<Rectangle> = lists(&problem["items"])?.iter().map(rectangle).collect::<Result<_, _>>()?;
        let begun = ThreadTime::now();
        let packing = pack(width, &kinds, DEFAULT_STEPS, &Watch::new())?;
        let seconds = begun.elapsed().as_secs_f64();
        let free = problem["optimum_height"].as_i64();
        let gap = free.map(|free| percent(packing.height - free, free));
        gaps.extend(gap);
        let peer = PEERS.iter().find(|(known, _)| known == name).map(|p| p.1);
        let text = |number: Option<i64>| number.map_or_else(|| "-".to_owned(), |n| n.to_string());
        println!(
            "{name:<15} {:>3} {:>5} {:>6} {:>7} {:>6} {:>5} {seconds:>8.2} {:>11} {}{}",
            kinds.len(),
            text(free),
            packing.height,
            packing.least,
            gap.map_or_else(|| "-".to_owned(), |gap| format!("{gap:.1}")),
            text(peer),
            packing.steps,
            if packing.is_proved_least() { "least " } else { "" },
            if peer.is_some_and(|peer| packing.height > peer) { "WORSE THAN PEER" } else { "" },
        );
    }
    if !gaps.is_empty() {
        println!("mean gap {:.2} %", gaps.iter().sum::<f64>() / gaps.len() as f64);
    }
    Ok(())
}

fn percent(part: i64, whole: i64) -> f64 {
    100.0 * part as f64 / whole as f64
}

fn lists(value: &Value) -> Result<Vec<Vec<i64>>, Box<dyn Error>> {
    value.as_array().ok_or("`items` is not a list")?.iter().map(numbers).collect()
}

fn numbers(value: &Value) -> Result<Vec<i64>, Box<dyn Error>> {
    let list = value.as_array().ok_or("not a list of whole numbers")?;
    list.iter().map(|number| number.as_i64().ok_or_else(|| "not a whole number".into())).collect()
}
