//! Surveys hold what their coverage says, sort and filter it, and find all that a symmetry keeps.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;
use std::sync::Arc;

use common::half_block;
use geometry::Exact;
use layout::pairings::{
    Allowed, BlockStates, Browser, Budget, Coverage, Exchange, Filter, Group, HalfType, Identified, Kept, Measured,
    Measures, Motif, PairingError, Position, SortBy, Stratum, Survey, SurveyWatch, Turning, Wrap,
};
use num_bigint::BigUint;

fn survey(types: &[HalfType], size: (u8, u8), wrap: Wrap, budget: Budget) -> (Browser, Survey) {
    let block = Arc::new(half_block(12).draft().unwrap());
    let states = BlockStates::new(block, &Allowed::types(types)).unwrap();
    let motif = Motif::new(size.0, size.1, wrap).unwrap();
    let identified = Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Colours, shifts: true };
    let browser = Browser::new(Group::new(&states, motif, identified)).unwrap();
    let found = Survey::of(&browser, &Measures::new(&states, motif), budget).unwrap();
    (browser, found)
}

/// The states and measures of the list that [`survey`] looks through.
fn tools(types: &[HalfType], browser: &Browser) -> (BlockStates, Measures) {
    let block = Arc::new(half_block(12).draft().unwrap());
    let states = BlockStates::new(block, &Allowed::types(types)).unwrap();
    let measures = Measures::new(&states, browser.group().motif());
    (states, measures)
}

/// Each class has as many members as the group is larger than what keeps one of them (Lagrange), so that over a whole
/// survey they come to all fillings.
#[test]
fn a_whole_survey_accounts_for_every_filling() {
    let budget = Budget { steps: 300_000, arrangements: 50_000 };
    for (types, size, wrap) in [
        (&HalfType::ALL[..], (2, 2), Wrap::Repeats),
        (&HalfType::ALL[..], (2, 3), Wrap::Alone),
        (&HalfType::ALL[..1], (3, 3), Wrap::Repeats),
        (&HalfType::ALL[..1], (3, 3), Wrap::Alone),
        (&HalfType::ALL[..1], (2, 4), Wrap::Repeats),
    ] {
        let (browser, survey) = survey(types, size, wrap, budget);
        assert_eq!(*survey.coverage(), Coverage::All, "{size:?}");
        assert_eq!(BigUint::from(survey.found().len()), browser.group().classes(), "{size:?}");
        let order = u128::try_from(browser.group().order()).unwrap();
        let members: u128 = survey.found().iter().map(|one| order / u128::from(one.symmetry.order)).sum();
        assert_eq!(members, browser.total(), "{size:?} {wrap:?}");
    }
}

#[test]
fn a_survey_is_sorted_and_filtered() {
    let (_, survey) = survey(&HalfType::ALL, (2, 2), Wrap::Repeats, Budget { steps: 10_000, arrangements: 1_000 });
    let all = Filter::default();
    let stars: Vec<u16> = survey.sorted(SortBy::Stars, &all).iter().map(|one| one.stars).collect();
    assert_eq!(stars.len(), 118);
    assert!(stars.is_sorted_by(|a, b| a >= b) && stars[0] > 0, "{stars:?}");
    let dark = survey.sorted(SortBy::Dark, &all);
    assert!(dark.is_sorted_by(|a, b| a.dark >= b.dark));
    let orders: Vec<u16> = survey.sorted(SortBy::Symmetry, &all).iter().map(|one| one.symmetry.order).collect();
    assert!(orders.is_sorted_by(|a, b| a >= b) && orders[0] > orders[117]);
    let islands = survey.sorted(SortBy::Islands, &all);
    assert!(islands.is_sorted_by_key(|one| one.dark_islands + one.light_islands));
    // A filter keeps exactly those that a look at all of them finds.
    let half = Exact::ratio(1, 2).unwrap();
    let filter = Filter { turns: 2..=4, mirrors: Some(false), stars: 0..=0, dark: half.clone()..=half.clone() };
    let wanted = |one: &Measured| {
        let s = one.symmetry;
        s.turns > 1 && s.straight_mirrors + s.diagonal_mirrors == 0 && one.stars == 0 && *one.dark == half
    };
    let expected: BTreeSet<u128> = survey.found().iter().filter(|one| wanted(one)).map(|one| one.raw).collect();
    let kept: BTreeSet<u128> = survey.sorted(SortBy::Dark, &filter).iter().map(|one| one.raw).collect();
    assert_eq!(kept, expected);
    assert!(!kept.is_empty() && kept.len() < 60, "{}", kept.len());
}

/// What a stratum shows is what a walk through the whole list finds of that symmetry, nothing else and nothing twice.
#[test]
fn a_stratum_holds_all_that_a_symmetry_keeps() {
    let budget = Budget { steps: 300_000, arrangements: 50_000 };
    for (types, size, wrap) in [
        (&HalfType::ALL[..], (2, 2), Wrap::Repeats),
        (&HalfType::ALL[..], (2, 2), Wrap::Alone),
        (&HalfType::ALL[..], (1, 4), Wrap::Repeats),
        (&HalfType::ALL[..], (2, 3), Wrap::Alone),
        (&HalfType::ALL[..1], (3, 3), Wrap::Repeats),
        (&HalfType::ALL[..1], (3, 3), Wrap::Alone),
    ] {
        let (browser, all) = survey(types, size, wrap, budget);
        let (states, measures) = tools(types, &browser);
        for kept in Kept::ALL {
            let is_kept = |one: &&Measured| match kept {
                Kept::ByHalfTurn => one.symmetry.turns > 1,
                Kept::ByQuarterTurn => one.symmetry.turns == 4,
                Kept::ByMirror => one.symmetry.straight_mirrors > 0,
                Kept::ByDiagonalMirror => one.symmetry.diagonal_mirrors > 0,
            };
            let expected: Vec<Measured> = all.found().iter().filter(is_kept).cloned().collect();
            let stratum = Stratum::new(&states, &browser, kept);
            let found = Survey::of_stratum(&browser, &measures, &stratum, budget, &SurveyWatch::new()).unwrap();
            assert_eq!(*found.coverage(), Coverage::All);
            assert_eq!(found.found(), expected, "{size:?} {wrap:?} {kept:?}");
            assert_eq!(stratum.filling(stratum.count()), None);
        }
    }
}

/// 4096 of 2⁴⁸ fillings are looked at to find every 4 × 4 arrangement that quarter turns keep.
#[test]
fn a_stratum_of_a_long_list_is_short() {
    let budget = Budget { steps: 5_000, arrangements: 5_000 };
    let (browser, _) = survey(&HalfType::ALL, (4, 4), Wrap::Alone, Budget { steps: 1, arrangements: 1 });
    let (states, measures) = tools(&HalfType::ALL, &browser);
    let quarter = Stratum::new(&states, &browser, Kept::ByQuarterTurn);
    assert_eq!(quarter.count(), 4_096);
    let found = Survey::of_stratum(&browser, &measures, &quarter, budget, &SurveyWatch::new()).unwrap();
    assert_eq!(*found.coverage(), Coverage::All);
    assert!(found.found().iter().all(|one| one.symmetry.turns == 4));
    // Each class here has 2 × 2 members that quarter turns keep, or fewer.
    assert!((1_024..2_048).contains(&found.found().len()), "{}", found.found().len());
    let half = Stratum::new(&states, &browser, Kept::ByHalfTurn);
    let some = Survey::of_stratum(&browser, &measures, &half, budget, &SurveyWatch::new()).unwrap();
    assert_eq!(*some.coverage(), Coverage::Sample { of: BigUint::from(8_u32).pow(8) });
    assert!(some.found().len() > 4_500 && some.found().iter().all(|one| one.symmetry.turns > 1));
}

#[test]
fn a_sample_says_that_it_is_one() {
    let budget = Budget { steps: 200_000, arrangements: 300 };
    let (browser, first) = survey(&HalfType::ALL, (4, 4), Wrap::Repeats, budget);
    assert_eq!(*first.coverage(), Coverage::Sample { of: BigUint::from(1_099_528_013_448_u64) });
    assert_eq!(first.found().len(), 300);
    let raws: BTreeSet<u128> = first.found().iter().map(|one| one.raw).collect();
    assert_eq!(raws.len(), 300, "all different");
    let last = raws.last().unwrap();
    assert!(*last > browser.total() / 100 * 98, "spread over the list");
    let (_, again) = survey(&HalfType::ALL, (4, 4), Wrap::Repeats, budget);
    assert_eq!(again.found(), first.found());
    // Too few steps for one class a place: less is found, none twice, and nothing fails.
    let (_, poor) = survey(&HalfType::ALL, (4, 4), Wrap::Repeats, Budget { steps: 2_000, arrangements: 300 });
    assert!(poor.found().len() < 40, "{}", poor.found().len());
    // Few fillings, but more classes than may be kept.
    let (_, short) = survey(&HalfType::ALL, (2, 2), Wrap::Repeats, Budget { steps: 10_000, arrangements: 100 });
    assert_eq!(*short.coverage(), Coverage::Sample { of: BigUint::from(118_u32) });
    assert!(short.found().len() <= 100);
}

/// A page gives what a survey can measure.
#[test]
fn pages_can_be_measured() {
    let (browser, _) = survey(&HalfType::ALL, (4, 4), Wrap::Alone, Budget { steps: 1, arrangements: 1 });
    let (_, measures) = tools(&HalfType::ALL, &browser);
    for arrangement in browser.page(Position::Share { part: 9, of: 10 }, 20).arrangements {
        assert_eq!(measures.of(&arrangement).unwrap().raw, arrangement.raw);
    }
}

/// A watch ends at the whole of the work, and one that was stopped ends the survey.
#[test]
fn a_survey_tells_how_far_it_is_and_can_be_stopped() {
    let small = Budget { steps: 10_000, arrangements: 1_000 };
    let (browser, _) = survey(&HalfType::ALL, (2, 2), Wrap::Repeats, small);
    let (states, measures) = tools(&HalfType::ALL, &browser);
    let half = Stratum::new(&states, &browser, Kept::ByHalfTurn);
    let sample = Budget { steps: 1_000, arrangements: 100 };
    for budget in [small, sample] {
        let watch = SurveyWatch::new();
        assert_eq!(watch.progress(), (0, 0));
        Survey::of_watched(&browser, &measures, budget, &watch).unwrap();
        let (done, all) = watch.progress();
        assert!(all > 0 && done == all, "{done} of {all}");
        let watch = SurveyWatch::new();
        Survey::of_stratum(&browser, &measures, &half, budget, &watch).unwrap();
        let (done, all) = watch.progress();
        assert!(all > 0 && done == all, "{done} of {all}");
        watch.stop();
        let stopped = Survey::of_stratum(&browser, &measures, &half, budget, &watch);
        assert_eq!(stopped.err(), Some(PairingError::Stopped));
        let stopped = Survey::of_watched(&browser, &measures, budget, &watch);
        assert_eq!(stopped.err(), Some(PairingError::Stopped));
    }
}
