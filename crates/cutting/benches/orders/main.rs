//! How good the optimised plan is on 200 mixed orders: `cargo bench -p cutting --bench orders`.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

mod made;

use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use cutting::{CutPiece, PreparedPiece, StripPlan, Watch, Wish, best, lays, least_by_any_means, quick, verify};
use geometry::lay::UNITS_PER_INCH;

use made::{FabricOrder, Order, order};

const ORDERS: u64 = 200;

/// Planned on two threads, as on a machine with two cores.
const THREADS: usize = 2;

/// A yard in lay units; what needs less is reported apart.
const YARD: i64 = 36 * UNITS_PER_INCH;

/// What was found for one fabric.
#[derive(Clone, Copy, Default)]
struct Found {
    length: i64,
    straight: i64,
    any: i64,
    quick: i64,
    steps: u64,
    seconds: f64,
    few: Cuts,
    least: Cuts,
}

/// What there is to cut.
#[derive(Clone, Copy, Default)]
struct Cuts {
    length: i64,
    cuts: u64,
    widths: usize,
    strips: u64,
}

impl Cuts {
    fn of(plan: &StripPlan) -> Self {
        Self { length: plan.length, cuts: plan.cuts(), widths: plan.strip_widths(), strips: plan.strips_cut() }
    }
}

fn main() {
    let orders: Vec<Order> = (0..ORDERS).map(order).collect();
    let fabrics: usize = orders.iter().map(|o| o.fabrics.len()).sum();
    let kinds: Vec<f64> = orders.iter().flat_map(|o| &o.fabrics).map(|f| f.pieces.len() as f64).collect();
    println!("{ORDERS} orders, {fabrics} fabrics, kinds of piece per fabric: {}", spread(kinds));
    let began = Instant::now();
    let mut found = on_threads(&orders, plan);
    let seconds = began.elapsed().as_secs_f64();
    let few = on_threads(&orders, fewest_cuts);
    for (found, few) in found.iter_mut().flatten().zip(few.into_iter().flatten()) {
        found.few = few;
    }
    report(&orders, &found);
    println!("all lays verified; least fabric of all orders in {seconds:.1} s on {THREADS} threads");
}

/// What `work` gives for every fabric of every order, in their order.
fn on_threads<T: Send>(orders: &[Order], work: impl Fn(&FabricOrder) -> T + Sync) -> Vec<Vec<T>> {
    let next = AtomicU64::new(0);
    let mut found: Vec<(usize, Vec<T>)> = std::thread::scope(|scope| {
        let share = || {
            let mut mine = Vec::new();
            while let Some(i) = usize::try_from(next.fetch_add(1, Ordering::Relaxed)).ok().filter(|&i| i < orders.len())
            {
                mine.push((i, orders[i].fabrics.iter().map(&work).collect()));
            }
            mine
        };
        let threads: Vec<_> = (0..THREADS).map(|_| scope.spawn(share)).collect();
        threads.into_iter().flat_map(|t| t.join().unwrap()).collect()
    });
    found.sort_by_key(|f| f.0);
    found.into_iter().map(|f| f.1).collect()
}

fn fewest_cuts(fabric: &FabricOrder) -> Cuts {
    let pieces: Vec<(&PreparedPiece, u64)> = fabric.pieces.iter().map(|(p, n)| (p.as_ref(), *n)).collect();
    let wish = Wish { cut_worth: UNITS_PER_INCH / 2, ..Wish::default() };
    let few = best(fabric.width, &pieces, wish, &Watch::new()).unwrap();
    check(fabric.width, &pieces, &few.plan);
    Cuts::of(&few.plan)
}

fn plan(fabric: &FabricOrder) -> Found {
    let pieces: Vec<(&PreparedPiece, u64)> = fabric.pieces.iter().map(|(p, n)| (p.as_ref(), *n)).collect();
    let fast = quick(fabric.width, &pieces).unwrap();
    let began = Instant::now();
    let good = best(fabric.width, &pieces, Wish::LEAST_FABRIC, &Watch::new()).unwrap();
    let seconds = began.elapsed().as_secs_f64();
    check(fabric.width, &pieces, &good.plan);
    Found {
        length: good.plan.length,
        straight: good.least_by_straight_strips,
        any: least_by_any_means(fabric.width, &pieces).unwrap(),
        quick: fast.length,
        steps: good.steps,
        seconds,
        few: Cuts::default(),
        least: Cuts::of(&good.plan),
    }
}

fn check(width: i64, pieces: &[(&PreparedPiece, u64)], plan: &StripPlan) {
    let ready: Vec<&PreparedPiece> = pieces.iter().map(|p| p.0).collect();
    let wanted: Vec<(&CutPiece, u64)> = pieces.iter().map(|(p, n)| (p.piece(), *n)).collect();
    verify(width, &wanted, &lays(plan, &ready).unwrap()).unwrap();
}

/// Median and worst.
fn spread(values: impl IntoIterator<Item = f64>) -> String {
    let mut values: Vec<f64> = values.into_iter().collect();
    values.sort_by(f64::total_cmp);
    if values.is_empty() {
        return "none".to_owned();
    }
    let at = |share: usize| values[(values.len() - 1) * share / 100];
    format!("median {:.4}, 9 in 10 {:.4}, worst {:.4} (of {})", at(50), at(90), at(100), values.len())
}

fn ratio(a: i64, b: i64) -> f64 {
    a as f64 / b.max(1) as f64
}

fn report(orders: &[Order], found: &[Vec<Found>]) {
    let sum = |order: &[Found], of: fn(&Found) -> i64| order.iter().map(of).sum::<i64>();
    let per_order = |over: fn(&Found) -> i64, under: fn(&Found) -> i64| {
        spread(found.iter().map(|o| ratio(sum(o, over), sum(o, under))))
    };
    let all: Vec<Found> = found.concat();
    println!("required / least by straight strips, per order:  {}", per_order(|f| f.length, |f| f.straight));
    println!(
        "required / least by straight strips, per fabric: {}",
        spread(all.iter().map(|f| ratio(f.length, f.straight)))
    );
    let proved = all.iter().filter(|f| f.length == f.straight).count();
    println!("fabrics whose plan is proved to be the least:    {proved} of {}", all.len());
    println!("required / least by any means, per order:        {}", per_order(|f| f.length, |f| f.any));
    for (what, small) in [("need below 1 yd", true), ("1 yd or more", false)] {
        let these = all.iter().filter(|f| (f.length < YARD) == small).map(|f| ratio(f.length, f.any));
        println!("required / least by any means, {what}: {}", spread(these));
    }
    println!("quick / best, per order:                         {}", per_order(|f| f.quick, |f| f.length));
    println!("fewest cuts / least fabric, length per order:    {}", per_order(|f| f.few.length, |f| f.least.length));
    for (what, of) in [("fewest cuts", (|f| f.few) as fn(&Found) -> Cuts), ("least fabric", |f| f.least)] {
        let total = |of_cuts: fn(Cuts) -> u64| all.iter().map(|f| of_cuts(of(f))).sum::<u64>();
        let (cuts, widths, strips) = (total(|c| c.cuts), total(|c| c.widths as u64), total(|c| c.strips));
        println!("{what}: {cuts} cuts, {strips} strips, {widths} strip widths in all fabrics");
    }
    println!("steps per fabric:                                {}", spread(all.iter().map(|f| f.steps as f64)));
    println!("seconds per fabric:                              {}", spread(all.iter().map(|f| f.seconds)));
    worst(orders, found);
}

/// The fabrics furthest from their bound.
fn worst(orders: &[Order], found: &[Vec<Found>]) {
    let mut list: Vec<(f64, String)> = Vec::new();
    for (order, fabrics) in orders.iter().zip(found) {
        for (i, f) in fabrics.iter().enumerate() {
            let inches = |units: i64| units as f64 / UNITS_PER_INCH as f64;
            let text = format!(
                "{} fabric {i}: {:.3} in, straight strips {:.3}, any means {:.3}, quick {:.3}, {} kinds, {:.2} s",
                order.name,
                inches(f.length),
                inches(f.straight),
                inches(f.any),
                inches(f.quick),
                order.fabrics[i].pieces.len(),
                f.seconds
            );
            list.push((ratio(f.length, f.straight), text));
        }
    }
    list.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (ratio, text) in list.iter().take(12) {
        println!("  {ratio:.4}  {text}");
    }
}
