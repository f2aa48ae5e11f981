//! The sample quilts. Names, scenarios and figures are invented; bed sizes are those of the README beside the samples.

mod almanac;
mod crib;
mod ford;
mod full;
mod green;
mod king;
mod lap;
mod making;
mod orchard;
mod queen;
mod shelf;
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
    let rows: [(&str, Maker); 13] = [
        ("crib-night-ferry.json", crib::night_ferry),
        ("crib-pebble-ford.json", ford::pebble_ford),
        ("lap-owl-lane.json", lap::owl_lane),
        ("lap-wellhouse-green.json", green::wellhouse_green),
        ("lap-frost-almanac.json", almanac::frost_almanac),
        ("throw-toymakers-shelf.json", shelf::toymakers_shelf),
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
