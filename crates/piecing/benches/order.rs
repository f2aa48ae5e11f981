//! How long orders of sewing take: a thousand drafted blocks of up to 60 patches, and the slowest of them by itself.
#![allow(missing_docs, clippy::unwrap_used, reason = "a bench")]

#[path = "../tests/order_common/mod.rs"]
mod order_common;

use std::sync::Arc;
use std::time::Instant;

use order_common::drafted;
use piecing::order_of_sewing;

fn main() {
    let timed = |seed: u64| {
        let block = Arc::new(drafted(seed, 60));
        let start = Instant::now();
        let tree = order_of_sewing(&block).unwrap();
        (start.elapsed(), seed, block.patches().len(), tree.effort())
    };
    let mut times: Vec<_> = (0..1_000).map(timed).collect();
    times.sort_by_key(|time| std::cmp::Reverse(time.0));
    println!("1,000 drafted blocks: median {:?}; slowest (time, seed, patches, effort):", times[500].0);
    times[..5].iter().for_each(|time| println!("  {time:?}"));
    divan::main();
}

/// The slowest block of the thousand when this bench was written.
#[divan::bench(sample_count = 5)]
fn slow_block(bencher: divan::Bencher) {
    let block = Arc::new(drafted(0, 60));
    bencher.bench(|| order_of_sewing(&block).unwrap());
}
