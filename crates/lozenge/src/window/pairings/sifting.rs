//! Surveys beside the window: the thread looks through the list, or a sample of it, sorts and filters it.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use layout::pairings::{Budget, Coverage, Kept, MAX_SURVEY, PairingError, Stratum, Survey, SurveyWatch};
use num_bigint::BigUint;

use super::catalogue::Catalogue;
use super::session::Wish;

/// A list that is too long to be looked through is sorted from so many of its arrangements.
pub const SAMPLE: usize = 2_000;

/// Fillings looked at for a sample: more than enough, whatever counts as the same.
const SAMPLE_STEPS: u64 = 20_000_000;

/// A list of more fillings than this is not looked through, even if few of them are different.
const MOST_FILLINGS: u64 = 4_000_000_000;

/// Of a symmetric part of the list, so many fillings are looked at.
const MOST_OF_STRATUM: u128 = 2_000_000;

/// What a wish asks of one catalogue: surveys are kept by this.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Key {
    /// Number of the catalogue.
    catalogue: u64,
    wish: Wish,
}

/// What was sifted.
#[derive(Debug, Clone)]
pub struct Sifted {
    /// Whether all of the list was looked at.
    pub coverage: Coverage,
    /// How many arrangements were looked at.
    pub looked_at: usize,
    /// Numbers of those that are wanted, in order.
    pub numbers: Arc<[u128]>,
}

/// What the thread hands back: the survey is kept, so that sorting anew needs none.
type Answer = Result<(Arc<Survey>, Sifted), PairingError>;

#[derive(Debug)]
struct Running {
    key: Key,
    watch: Arc<SurveyWatch>,
    answer: Receiver<Answer>,
}

/// A survey, and what it is of.
type Surveyed = ((u64, Option<Kept>), Arc<Survey>);

/// The survey and the work on it.
#[derive(Debug, Default)]
pub(super) struct Sifting {
    survey: Option<Surveyed>,
    sifted: Option<(Key, Result<Sifted, PairingError>)>,
    running: Option<Running>,
    /// What the user stopped; it is not begun again by itself.
    stopped: Option<Key>,
}

/// How far a wish is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SiftState {
    /// Nothing is sorted or filtered.
    Plain,
    /// The thread is at work; its share from 0 to 1.
    Running(f32),
    /// The user stopped it.
    Stopped,
    /// It is done.
    Done,
    /// It cannot be done.
    Failed,
}

impl Sifting {
    /// Begins what is wished for, takes what is there. True when something new is to be shown.
    pub(super) fn follow(
        &mut self,
        (number, catalogue): (u64, &Catalogue),
        wish: Wish,
        wake: impl Fn() + Send + 'static,
    ) -> bool {
        let key = Key { catalogue: number, wish };
        let mut news = self.take_answer();
        if self.running.as_ref().is_some_and(|running| running.key != key) {
            self.abandon();
        }
        let known = self.sifted.as_ref().is_some_and(|(of, _)| *of == key);
        if wish.is_plain() {
            news |= self.sifted.take().is_some();
            self.stopped = None;
        } else if !known && self.running.is_none() && self.stopped != Some(key) {
            self.begin(key, catalogue.clone(), wake);
        }
        news
    }

    fn begin(&mut self, key: Key, catalogue: Catalogue, wake: impl Fn() + Send + 'static) {
        let (send, answer) = channel();
        let watch = Arc::new(SurveyWatch::new());
        self.running = Some(Running { key, watch: Arc::clone(&watch), answer });
        let same = self.survey.as_ref().filter(|(of, _)| *of == (key.catalogue, key.wish.kept));
        let before = same.map(|(_, survey)| Arc::clone(survey));
        if before.is_none() {
            // A survey of ten million is not kept twice.
            self.survey = None;
        }
        std::thread::spawn(move || {
            let survey = before.map_or_else(|| survey(&catalogue, key.wish.kept, &watch).map(Arc::new), Ok);
            let answer = survey.map(|survey| {
                let sifted = sift(&survey, key.wish);
                (survey, sifted)
            });
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(answer);
            wake();
        });
    }

    fn take_answer(&mut self) -> bool {
        let Some(running) = &self.running else { return false };
        let key = running.key;
        let answer = match running.answer.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return false,
            Err(TryRecvError::Disconnected) => Err(PairingError::Stopped),
        };
        self.running = None;
        let sifted = answer.map(|(survey, sifted)| {
            self.survey = Some(((key.catalogue, key.wish.kept), survey));
            sifted
        });
        self.sifted = Some((key, sifted));
        true
    }

    fn abandon(&mut self) {
        if let Some(running) = self.running.take() {
            running.watch.stop();
        }
    }

    /// Stops the survey until something else is wished for.
    pub(super) fn stop(&mut self) {
        if let Some(running) = &self.running {
            self.stopped = Some(running.key);
        }
        self.abandon();
    }

    /// Begins again what was stopped.
    pub(super) fn again(&mut self) {
        self.stopped = None;
    }

    /// How far the wish is.
    pub(super) fn state(&self, number: u64, wish: Wish) -> SiftState {
        let key = Key { catalogue: number, wish };
        match (&self.running, &self.sifted) {
            _ if wish.is_plain() => SiftState::Plain,
            (_, Some((of, Ok(_)))) if *of == key => SiftState::Done,
            (_, Some((of, Err(_)))) if *of == key => SiftState::Failed,
            (Some(running), _) => {
                let (done, all) = running.watch.progress();
                #[expect(clippy::cast_precision_loss, reason = "a bar on the screen")]
                let share = if all == 0 { 0.0 } else { done as f32 / all as f32 };
                SiftState::Running(share)
            }
            _ if self.stopped == Some(key) => SiftState::Stopped,
            _ => SiftState::Running(0.0),
        }
    }

    /// What was found for this wish.
    pub(super) fn sifted(&self, number: u64, wish: Wish) -> Option<&Sifted> {
        let key = Key { catalogue: number, wish };
        self.sifted.as_ref().filter(|(of, _)| *of == key).and_then(|(_, sifted)| sifted.as_ref().ok())
    }
}

impl Drop for Sifting {
    fn drop(&mut self) {
        self.abandon();
    }
}

/// Looks through the list, or through what one kind of symmetry keeps of it.
fn survey(catalogue: &Catalogue, kept: Option<Kept>, watch: &SurveyWatch) -> Result<Survey, PairingError> {
    let browser = catalogue.browser().map_err(Clone::clone)?;
    let sample = Budget { steps: SAMPLE_STEPS, arrangements: SAMPLE };
    match kept {
        None => {
            let all = *catalogue.count() <= BigUint::from(MAX_SURVEY) && browser.total() <= u128::from(MOST_FILLINGS);
            let whole = Budget { steps: MOST_FILLINGS, arrangements: MAX_SURVEY };
            Survey::of_watched(browser, catalogue.measures(), if all { whole } else { sample }, watch)
        }
        Some(kept) => {
            let stratum = Stratum::new(catalogue.states(), browser, kept);
            let whole = Budget { steps: MOST_FILLINGS, arrangements: MAX_SURVEY };
            // Of a stratum that is too large, as many are looked at as are shown.
            let some = Budget { steps: SAMPLE as u64, arrangements: SAMPLE };
            let budget = if stratum.count() <= MOST_OF_STRATUM { whole } else { some };
            Survey::of_stratum(browser, catalogue.measures(), &stratum, budget, watch)
        }
    }
}

fn sift(survey: &Survey, wish: Wish) -> Sifted {
    let filter = wish.filter();
    let numbers = match wish.sort {
        Some(by) => survey.sorted(by, &filter).into_iter().map(|one| one.raw).collect(),
        None => survey.found().iter().filter(|one| filter.admits(one)).map(|one| one.raw).collect(),
    };
    Sifted { coverage: survey.coverage().clone(), looked_at: survey.found().len(), numbers }
}
