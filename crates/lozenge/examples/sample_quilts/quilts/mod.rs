//! The sample quilts. Names, scenarios and figures are invented; bed sizes are those of the README beside the samples.

mod crib;
mod full;
mod king;
mod lap;
mod making;
mod orchard;
mod queen;
mod single;
mod throw;
mod twin;

use layout::file::Document;

use making::Made;

/// A sample and the file it goes to.
pub(crate) struct Sample {
    /// Name of the file.
    pub(crate) file: &'static str,
    /// What is in it.
    pub(crate) document: Document,
}

/// Makes one sample.
type Maker = fn() -> Made<Document>;

/// All samples, from crib to king.
pub(crate) fn samples() -> Made<Vec<Sample>> {
    let rows: [(&str, Maker); 9] = [
        ("crib-night-ferry.json", crib::night_ferry),
        ("lap-owl-lane.json", lap::owl_lane),
        ("throw-two-windows.json", throw::two_windows),
        ("twin-meadow-survey.json", twin::meadow_survey),
        ("single-birch-and-slate.json", single::birch_and_slate),
        ("full-six-winds.json", full::six_winds),
        ("queen-weathervane.json", queen::weathervane),
        ("king-ember-tide.json", king::ember_tide),
        ("king-lantern-orchard.json", orchard::lantern_orchard),
    ];
    rows.into_iter().map(|(file, make)| Ok(Sample { file, document: make()? })).collect()
}
