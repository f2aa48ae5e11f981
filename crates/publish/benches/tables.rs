//! A table of about ten thousand rows, on one thread and on two by turns: rows a second, and how the two compare.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use std::path::Path;
use std::time::{Duration, Instant};

use cutting::Watch;
use geometry::Length;
use layout::Design;
use layout::beds::BEDS;
use layout::file::Document;
use publish::tables::{Colours, Extent, Table, TableWishes, tables};

/// Runs with each number of threads.
const RUNS: usize = 7;

fn main() {
    for name in ["crib-night-ferry", "lap-owl-lane"] {
        let design = quilt(name);
        let wishes = wishes();
        let mut times = [Vec::new(), Vec::new()];
        let mut rows = 0;
        for _ in 0..RUNS {
            for (threads, times) in [1, 2].into_iter().zip(&mut times) {
                let start = Instant::now();
                let table = made(&design, &wishes, threads);
                times.push(start.elapsed());
                rows = table.rows.len();
            }
        }
        let [one, two] = times.map(median);
        println!("{name}: {rows} rows; {}", work(&design, &wishes));
        println!("  1 thread   {one:>8.1?}  {:>9.0} rows/s", per_second(rows, one));
        println!("  2 threads  {two:>8.1?}  {:>9.0} rows/s", per_second(rows, two));
        println!(
            "  ratio {:.2}; 10,000 rows on 2 threads {:.2?}",
            ratio(one, two),
            two.mul_f64(10_000.0 / count(rows))
        );
    }
}

fn quilt(name: &str) -> Design {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts");
    let document = Document::open(&Path::new(folder).join(name).with_extension("json")).unwrap();
    document.variants()[0].design.clone()
}

/// A hundred block sizes from 6 in by eighths, all beds, and some numbers of rows and columns, in 2, 3 and 4 fabrics.
fn wishes() -> TableWishes {
    let eighths = (48..148).map(|eighths| Length::inch_fraction(eighths, 8).unwrap());
    let counts = (4..18).map(|n| Extent::Blocks { rows: n + 1, columns: n });
    TableWishes {
        sizes: eighths.collect(),
        extents: BEDS.iter().map(Extent::Bed).chain(counts).collect(),
        colours: vec![Colours::Two, Colours::Three, Colours::Four],
        within: Length::whole_inches(6).unwrap(),
    }
}

fn made(design: &Design, wishes: &TableWishes, threads: usize) -> Table {
    tables(design, wishes, threads, &Watch::new()).unwrap()
}

fn work(design: &Design, wishes: &TableWishes) -> String {
    let table = made(design, wishes, 2);
    let work = table.work;
    format!(
        "{} left out, {} blocks drafted, {} tops, {} fabrics planned",
        table.left_out.len(),
        work.blocks_drafted,
        work.tops_made,
        work.fabrics_planned
    )
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn count(rows: usize) -> f64 {
    f64::from(u32::try_from(rows).unwrap())
}

fn per_second(rows: usize, time: Duration) -> f64 {
    count(rows) / time.as_secs_f64()
}

fn ratio(one: Duration, two: Duration) -> f64 {
    one.as_secs_f64() / two.as_secs_f64()
}
