//! The pairings explorer without a window: counts, the list from any place, surveys, and laying as one step.

use crate::common;

use std::collections::BTreeSet;
use std::time::Duration;

use common::blocks::{cells, sized};
use common::studio;
use layout::PlaceId;
use layout::pairings::{Classic, Coverage, Exchange, Kept, MAX_PAGE, SortBy, Wrap};
use lozenge::window::Studio;
use lozenge::window::pairings::{
    Balance, Choices, List, Pace, PairingsAction, Reach, SAMPLE, SiftState, Wish, count_says, listed_as, sifted_says,
};

/// A quilt of diagonal half blocks with the explorer open.
fn explorer(choices: Choices) -> Studio {
    let mut studio = studio("lap-owl-lane");
    studio.pairings_action(PairingsAction::Show(true));
    studio.pairings_action(PairingsAction::Choose(choices));
    studio.follow_pairings(|| {});
    studio
}

/// 4 × 4 cells that repeat, colours exchanged: 10¹² classes.
fn long() -> Choices {
    let mut choices = Choices { rows: 4, columns: 4, ..Choices::default() };
    choices.same.exchange = Exchange::Colours;
    choices
}

fn list(studio: &Studio) -> &List {
    studio.explorer().list().unwrap()
}

fn places(studio: &Studio) -> Vec<u128> {
    list(studio).in_view().map(|item| item.at).collect()
}

/// Follows until what is wished for is there, however long the machine takes.
fn sift(studio: &mut Studio, wish: Wish) {
    studio.pairings_action(PairingsAction::Wish(wish));
    for _ in 0..60_000 {
        studio.follow_pairings(|| {});
        if studio.explorer().sift_state(wish) == SiftState::Done {
            return;
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    panic!("{:?}", studio.explorer().sift_state(wish));
}

/// Each arrangement is met once, whichever way one goes and however many stand in a row.
#[test]
fn every_arrangement_of_a_short_list_is_met() {
    for (columns, rows) in [(1, 1), (4, 3), (7, 2), (50, 9)] {
        let mut studio = explorer(Choices::default());
        studio.pairings_action(PairingsAction::Shape { columns, rows });
        let count = studio.explorer().catalogue().unwrap().1.unwrap().count().to_string();
        let mut walk = |first: Pace, pace: Pace| {
            studio.pairings_action(PairingsAction::Step(first));
            let mut seen = Vec::new();
            while let Some(at) = studio.explorer().chosen().map(|item| item.at).filter(|at| seen.last() != Some(at)) {
                assert!(places(&studio).contains(&at), "what is chosen is in view");
                seen.push(at);
                studio.pairings_action(PairingsAction::Step(pace));
            }
            seen
        };
        let onward = walk(Pace::First, Pace::On);
        let mut back = walk(Pace::Last, Pace::Back);
        assert_eq!(onward.len().to_string(), count);
        assert!(onward.is_sorted());
        back.reverse();
        assert_eq!(onward, back);
    }
}

#[test]
fn the_count_is_told_with_what_counts_once() {
    let says = |choices: Choices| {
        let studio = explorer(choices);
        let catalogue = studio.explorer().catalogue().unwrap().1.unwrap();
        (count_says(catalogue), listed_as(catalogue))
    };
    let (count, listed) = says(long());
    // Checked by orbit counting in the tests of `layout`.
    assert_eq!(count, "1,099,528,013,448 arrangements");
    assert_eq!(
        listed,
        "Of 281,474,976,710,656 ways to fill 4 × 4 blocks; those alike when turned, mirrored, shifted or with dark and light exchanged count once."
    );
    let one = Choices { rows: 1, columns: 1, kinds: [].into(), ..Choices::default() };
    let studio = explorer(one);
    assert!(studio.explorer().catalogue().unwrap().1.is_err() && studio.explorer().list().is_none());
}

/// From any place of a list of 10¹² there is a way on and back, and only a few arrangements are held.
#[test]
fn a_long_list_is_entered_anywhere() {
    let mut studio = explorer(long());
    studio.pairings_action(PairingsAction::Shape { columns: 5, rows: 4 });
    for millionths in [0, 1, 250_000, 900_000, 999_999, 1_000_000] {
        studio.pairings_action(PairingsAction::Jump(millionths));
        let share = list(&studio).share();
        assert!(share.abs_diff(millionths) <= 1, "{millionths}: {share}");
        let before = places(&studio);
        assert!(before.len() >= 20 && before.is_sorted(), "{millionths}");
        if (1..1_000_000).contains(&millionths) {
            studio.pairings_action(PairingsAction::Scroll(-30));
            let above = places(&studio);
            assert!(millionths == 1 || above.last() < before.first(), "{millionths}");
            studio.pairings_action(PairingsAction::Scroll(30));
            assert!(!(2..=999_990).contains(&millionths) || places(&studio) == before, "{millionths}");
        }
    }
    assert!(!list(&studio).goes_on());
    for _ in 0..60 {
        studio.pairings_action(PairingsAction::Scroll(-40));
    }
    assert!(places(&studio).is_sorted() && list(&studio).goes_on());
    let unique: BTreeSet<u128> = places(&studio).into_iter().collect();
    assert!(unique.len() == places(&studio).len() && unique.len() <= MAX_PAGE);
}

#[test]
fn a_short_list_is_sorted_and_filtered() {
    let mut studio = explorer(Choices::default());
    let wish = Wish { sort: Some(SortBy::Stars), ..Wish::default() };
    sift(&mut studio, wish);
    studio.pairings_action(PairingsAction::Shape { columns: 20, rows: 10 });
    let stars: Vec<u16> = list(&studio).in_view().map(|item| item.measured.stars).collect();
    assert!(stars.is_sorted_by(|a, b| a >= b) && stars[0] > *stars.last().unwrap(), "{stars:?}");
    let sifted = studio.explorer().sifted(wish).unwrap();
    assert_eq!(sifted.coverage, Coverage::All);
    assert_eq!(sifted_says(sifted), format!("all {}, sorted", stars.len()));
    let fewest = stars[0];
    let wish = Wish { stars: fewest, balance: Balance::Even, kept: Some(Kept::ByHalfTurn), ..wish };
    sift(&mut studio, wish);
    for item in list(&studio).in_view() {
        assert!(item.measured.stars >= fewest && item.measured.symmetry.turns >= 2);
        assert_eq!(*item.measured.dark, geometry::Exact::ONE.half());
    }
    let none = Wish { stars: fewest + 1, ..wish };
    sift(&mut studio, none);
    assert!(list(&studio).is_empty());
    studio.pairings_action(PairingsAction::Step(Pace::On));
    assert!(studio.explorer().chosen().is_none());
    studio.pairings_action(PairingsAction::Wish(Wish::default()));
    studio.follow_pairings(|| {});
    assert!(!list(&studio).is_empty());
}

/// A list of 10¹² is sorted from a sample, which is called one; what a quarter turn keeps of it is found whole.
#[test]
fn a_long_list_gives_a_sample_or_a_symmetric_part() {
    let mut studio = explorer(long());
    let wish = Wish { sort: Some(SortBy::Islands), ..Wish::default() };
    sift(&mut studio, wish);
    let sifted = studio.explorer().sifted(wish).unwrap();
    assert_eq!(sifted.looked_at, SAMPLE);
    assert_eq!(sifted_says(sifted), "sample: 2,000 of 1.1 × 10¹²");
    let wish = Wish { kept: Some(Kept::ByQuarterTurn), ..wish };
    sift(&mut studio, wish);
    let sifted = studio.explorer().sifted(wish).unwrap();
    assert_eq!(sifted.coverage, Coverage::All);
    assert!(list(&studio).in_view().all(|item| item.measured.symmetry.turns == 4));
}

#[test]
fn a_survey_is_stopped_and_begun_again() {
    // 3 × 3 cells of eight states: 134 million fillings, which take a while.
    let mut studio = explorer(Choices { rows: 3, columns: 3, ..Choices::default() });
    let wish = Wish { sort: Some(SortBy::Dark), ..Wish::default() };
    studio.pairings_action(PairingsAction::Wish(wish));
    studio.follow_pairings(|| {});
    assert!(matches!(studio.explorer().sift_state(wish), SiftState::Running(_)));
    studio.pairings_action(PairingsAction::Stop);
    studio.follow_pairings(|| {});
    assert_eq!(studio.explorer().sift_state(wish), SiftState::Stopped);
    assert!(!list(&studio).is_empty(), "the list stays as it comes");
    studio.pairings_action(PairingsAction::Again);
    studio.follow_pairings(|| {});
    assert!(matches!(studio.explorer().sift_state(wish), SiftState::Running(_)));
}

/// Whatever is laid is one step, in the selected blocks only where that is asked for.
#[test]
fn laying_is_one_step() {
    let mut studio = sized("lap-owl-lane", 5, 6);
    studio.pairings_action(PairingsAction::Show(true));
    studio.pairings_action(PairingsAction::Choose(Choices { wrap: Wrap::Alone, ..Choices::default() }));
    studio.follow_pairings(|| {});
    let (before, steps) = (studio.design().clone(), studio.history().steps());
    studio.pairings_action(PairingsAction::Lay);
    assert_eq!(studio.history().steps(), steps, "nothing is chosen");
    studio.pairings_action(PairingsAction::Jump(500_000));
    let at = places(&studio)[3];
    studio.pairings_action(PairingsAction::Pick(at));
    studio.pairings_action(PairingsAction::Lay);
    assert_eq!(studio.history().steps(), steps + 1);
    let chosen = studio.explorer().chosen().unwrap().arrangement.clone();
    let catalogue = studio.explorer().catalogue().unwrap().1.unwrap();
    for (id, place) in studio.design().places() {
        let PlaceId::Cell { row, column } = id else { continue };
        let state = catalogue.states().states()[usize::from(chosen.state(row, column).0)];
        assert_eq!((place.turn, place.mirrored, place.halves), (state.turn, state.mirrored, state.halves), "{id}");
    }
    studio.pairings_action(PairingsAction::Lay);
    assert_eq!(studio.history().steps(), steps + 1, "the same again is no step");
    studio.undo();
    assert_eq!(*studio.design(), before);
    let selection = cells(&[(1, 1), (2, 3), (3, 3)]);
    studio.session.selection.clone_from(&selection);
    studio.pairings_action(PairingsAction::Reach(Reach::Selection));
    for classic in Classic::ALL {
        studio.pairings_action(PairingsAction::LayClassic(classic));
        for (id, place) in studio.design().places().filter(|(id, _)| !selection.contains(id)) {
            assert_eq!(before.place(id), Ok(place), "{classic:?}");
        }
    }
    assert!(*studio.design() != before);
}
