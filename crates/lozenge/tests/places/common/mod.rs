//! The sample quilts, and the figures of a studio that a user sees.

pub mod blocks;
pub mod desk;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use layout::FabricId;
use layout::file::Document;
use lozenge::window::derived::Derived;
use lozenge::window::publishing::{Beside, PublishAction, Stage};
use lozenge::window::settings::Settings;
use lozenge::window::studio::Studio;

/// All sample quilts.
pub const SAMPLES: [&str; 9] = [
    "crib-night-ferry",
    "full-six-winds",
    "king-ember-tide",
    "king-lantern-orchard",
    "lap-owl-lane",
    "queen-weathervane",
    "single-birch-and-slate",
    "throw-two-windows",
    "twin-meadow-survey",
];

/// Where a sample quilt is.
pub fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts").join(format!("{name}.json"))
}

/// A sample quilt, read.
pub fn document(name: &str) -> Document {
    Document::open(&sample(name)).unwrap()
}

/// A studio with a sample quilt open in it, as saved.
pub fn studio(name: &str) -> Studio {
    Studio::new(&document(name), Some(sample(name)), Settings::default()).unwrap()
}

/// Patches of each fabric, and what to buy of it or why it cannot be cut.
pub type Totals = BTreeMap<FabricId, (u64, String)>;

/// The totals that are shown.
pub fn totals(derived: &Derived) -> Totals {
    let ledger = derived.ledger().unwrap();
    let patches = |id| ledger.uses().get(id).map_or(0, |used| used.patches);
    let buy = |plan: &Result<cutting::FabricPlan, cutting::CutError>| match plan {
        Ok(plan) => plan.purchase.label.clone(),
        Err(error) => error.to_string(),
    };
    ledger.plans().iter().map(|(id, plan)| (*id, (patches(id), buy(plan)))).collect()
}

/// Where a sample of a list of fabrics is.
pub fn sample_fabrics(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-fabrics").join(format!("{name}.json"))
}

/// Chooses the files that documents are made of beside the quilt: a list of fabrics, and the sample itself as its own
/// earlier edition.
pub fn give_files(studio: &mut Studio) {
    studio.publish_action(PublishAction::File(Beside::Fabrics, sample_fabrics("sixteen-fat-quarters")));
    let earlier = studio.path().map(Path::to_path_buf).unwrap_or_default();
    studio.publish_action(PublishAction::File(Beside::Earlier, earlier));
}

/// Follows the document that is wanted until there is no more to do, however long the machine takes.
pub fn settle(studio: &mut Studio) -> Stage {
    let mut now = Instant::now();
    for _ in 0..24_000 {
        if studio.publish(now, || {}).is_none() {
            break;
        }
        now += Duration::from_millis(250);
        std::thread::sleep(Duration::from_millis(5));
    }
    studio.publish_stage()
}
