//! scratch
use cpu_time::ThreadTime;
use geometry::PatchKey;
use layout::file::Document;
use layout::{Edit, FabricId, PlaceId};
use std::path::{Path, PathBuf};

fn main() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/king-lantern-orchard.json");
    let design = Document::open(&path).unwrap().variants()[0].design.clone();
    let mut tally = layout::Tally::count(&design).unwrap();
    let mut ledger = cutting::Ledger::new(&design, &tally).unwrap();
    let place = PlaceId::Cell { row: 0, column: 0 };
    let n = 20000;
    let mut t = [0.0f64; 3];
    let mut now = design.clone();
    for i in 0..n {
        let fabric = FabricId(if i % 2 == 0 { 4 } else { 3 });
        let a = ThreadTime::now();
        let (next, delta) = layout::apply(&now, &Edit::PaintPatch { place, patch: PatchKey(0), fabric }).unwrap();
        t[0] += a.elapsed().as_secs_f64();
        let a = ThreadTime::now();
        let (change, _) = tally.follow(&now, &next, &delta.touched).unwrap();
        t[1] += a.elapsed().as_secs_f64();
        let a = ThreadTime::now();
        ledger.follow(&next, &tally, &change).unwrap();
        t[2] += a.elapsed().as_secs_f64();
        now = next;
    }
    for x in t {
        println!("{:.2} us", x / n as f64 * 1e6);
    }
    let _ = PathBuf::new();
    for (id, plan) in ledger.plans() {
        let p = plan.as_ref().unwrap();
        println!("{id:?} {} pieces {} strips {}", p.pieces.len(), p.plan.strips.len(), ledger.book().len());
    }
}
