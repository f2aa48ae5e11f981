//! What is held while a quilt is made to fit a bed, and the search for proposals beside the window.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use geometry::{Exact, Length};
use layout::beds::{BEDS, Bed, Proposal, Target, Wishes, bed, propose_while};
use layout::{Design, Units};

use crate::words::parse_length;

/// The bed of one who has chosen none yet.
const FIRST_BED: &str = "queen";

/// The bed that is looked at, and what is wished.
#[derive(Debug, Clone, PartialEq)]
pub struct BedSession {
    /// Whether the section is open; nothing is searched while it is not.
    pub open: bool,
    /// Which bed was chosen.
    pub bed: &'static Bed,
    /// It, with drops and tuck, each of which can be changed.
    pub target: Target,
    /// Block sizes to try as they were typed, with commas between them; the usual ones when empty.
    pub sizes: String,
    /// The narrowest plain border, where it is not the usual one.
    pub least: Option<Length>,
    /// The widest plain border, where it is not the usual one.
    pub most: Option<Length>,
    /// How many borders may be added.
    pub added: u8,
}

impl BedSession {
    /// A sitting with this bed chosen; with another where there is no such bed.
    #[must_use]
    pub fn with_bed(id: &str) -> Self {
        let chosen = bed(id).or_else(|| bed(FIRST_BED)).unwrap_or(&BEDS[0]);
        let (sizes, target) = (String::new(), chosen.target());
        Self { open: false, bed: chosen, target, sizes, least: None, most: None, added: 2 }
    }

    /// The same with another bed, its drops the usual ones.
    #[must_use]
    pub fn choose(&self, bed: &'static Bed) -> Self {
        Self { bed, target: bed.target(), ..self.clone() }
    }

    /// What is wished for a quilt.
    ///
    /// # Errors
    /// In words, for sizes that cannot be read or wishes that make no sense.
    pub fn wishes(&self, design: &Design) -> Result<Wishes, String> {
        let usual = Wishes::usual(design).map_err(|e| e.to_string())?;
        let typed: Vec<&str> = self.sizes.split([',', ';']).map(str::trim).filter(|text| !text.is_empty()).collect();
        let sizes = typed.iter().map(|text| typed_length(text, design.units())).collect::<Result<Vec<_>, _>>()?;
        let wishes = Wishes {
            sizes: if sizes.is_empty() { usual.sizes } else { sizes },
            least: self.least.clone().unwrap_or(usual.least),
            most: self.most.clone().unwrap_or(usual.most),
            added: self.added,
            ..usual
        };
        wishes.check().map_err(|e| e.to_string())?;
        Ok(wishes)
    }
}

/// A size as it was typed: to the 64th of an inch or the tenth of a millimetre.
#[expect(clippy::cast_possible_truncation, reason = "saturates, and is refused then")]
fn typed_length(text: &str, units: Units) -> Result<Length, String> {
    let read = parse_length(text).and_then(|shown| match units {
        Units::Inches => Length::inch_fraction((shown * 64.0).round() as i64, 64).ok(),
        Units::Centimetres => Length::millimetre_fraction((shown * 100.0).round() as i64, 10).ok(),
    });
    read.ok_or_else(|| format!("\"{text}\" is no block size; write sizes with commas between them, such as 9, 9½, 10"))
}

/// What the proposals follow from: while it is the same, they are.
#[derive(Debug, Clone, PartialEq)]
struct Cause {
    revision: u64,
    target: Target,
    wishes: Wishes,
}

#[derive(Debug)]
struct Running {
    cause: Cause,
    stop: Arc<AtomicBool>,
    answer: Receiver<Result<Vec<Proposal>, String>>,
}

/// The proposals and the search for them.
#[derive(Debug, Default)]
pub(crate) struct Fitting {
    running: Option<Running>,
    found: Option<(Cause, Result<Vec<Proposal>, String>)>,
    /// Wishes that cannot be read.
    refused: Option<String>,
}

/// How far the proposals are.
#[derive(Debug, Clone, PartialEq)]
pub enum Fit<'a> {
    /// They are those of the quilt, bed and wishes as they are.
    Found(&'a [Proposal]),
    /// There are none, for this reason.
    Refused(&'a str),
    /// They are being looked for.
    Looking,
}

impl Fitting {
    /// Looks at the quilt and the wishes as they are now: takes an answer, stops what is out of date, begins what is due.
    /// `wake` is called from another thread when an answer is there.
    pub(crate) fn follow(
        &mut self,
        revision: u64,
        design: &Design,
        session: &BedSession,
        wake: impl Fn() + Send + 'static,
    ) {
        self.take_answer();
        if !session.open {
            return self.abandon();
        }
        self.refused = None;
        let cause = match session.wishes(design) {
            Ok(wishes) => Cause { revision, target: session.target.clone(), wishes },
            Err(why) => {
                self.refused = Some(why);
                return self.abandon();
            }
        };
        if self.running.as_ref().is_some_and(|running| running.cause != cause) {
            self.abandon();
        }
        if self.running.is_none() && self.found.as_ref().is_none_or(|(of, _)| *of != cause) {
            self.begin(cause, design.clone(), wake);
        }
    }

    fn begin(&mut self, cause: Cause, design: Design, wake: impl Fn() + Send + 'static) {
        let (send, answer) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        self.running = Some(Running { cause: cause.clone(), stop: Arc::clone(&stop), answer });
        std::thread::spawn(move || {
            let go_on = || !stop.load(Ordering::Relaxed);
            let found = propose_while(&design, &cause.target, &cause.wishes, go_on).map_err(|e| e.to_string());
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(found);
            wake();
        });
    }

    fn take_answer(&mut self) {
        let Some(running) = self.running.take() else { return };
        match running.answer.try_recv() {
            Ok(found) => self.found = Some((running.cause, found)),
            Err(TryRecvError::Empty) => self.running = Some(running),
            Err(TryRecvError::Disconnected) => {}
        }
    }

    fn abandon(&mut self) {
        if let Some(running) = self.running.take() {
            running.stop.store(true, Ordering::Relaxed);
        }
    }

    /// How far the proposals for this revision are.
    pub(crate) fn fit(&self, revision: u64, target: &Target) -> Fit<'_> {
        if let Some(why) = &self.refused {
            return Fit::Refused(why);
        }
        let true_now = self.running.is_none();
        match &self.found {
            Some((cause, found)) if true_now && cause.revision == revision && cause.target == *target => match found {
                Ok(proposals) => Fit::Found(proposals),
                Err(why) => Fit::Refused(why),
            },
            _ => Fit::Looking,
        }
    }
}

/// A shown number of inches or centimetres as it is set: to the eighth of an inch, or the millimetre.
#[expect(clippy::cast_possible_truncation, reason = "fields are bounded")]
pub(crate) fn set_to_ruler(shown: f64, units: Units) -> Exact {
    let length = match units {
        Units::Inches => Exact::ratio((shown * 8.0).round() as i64, 8),
        Units::Centimetres => Exact::ratio((shown * 10.0).round() as i64 * 5, 127),
    };
    length.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::window::gallery::Choice;
    use std::time::Duration;

    fn found(fitting: &mut Fitting, revision: u64, design: &Design, session: &BedSession) -> usize {
        for _ in 0..12_000 {
            fitting.follow(revision, design, session, || {});
            match fitting.fit(revision, &session.target) {
                Fit::Found(proposals) => return proposals.len(),
                Fit::Refused(why) => panic!("{why}"),
                Fit::Looking => std::thread::sleep(Duration::from_millis(5)),
            }
        }
        panic!("nothing was found");
    }

    #[test]
    fn proposals_follow_the_quilt_and_the_bed() {
        let design = Choice::default().design().unwrap();
        let mut fitting = Fitting::default();
        let closed = BedSession::with_bed("twin");
        fitting.follow(1, &design, &closed, || {});
        assert_eq!(fitting.fit(1, &closed.target), Fit::Looking);
        assert!(fitting.running.is_none(), "a closed section looks for nothing");
        let open = BedSession { open: true, ..closed };
        assert!(found(&mut fitting, 1, &design, &open) > 0);
        assert_eq!(fitting.fit(2, &open.target), Fit::Looking, "the quilt is another now");
        let queen = open.choose(bed("queen").unwrap());
        assert_eq!(fitting.fit(1, &queen.target), Fit::Looking, "the bed is another now");
        assert!(found(&mut fitting, 2, &design, &queen) > 0);
    }

    #[test]
    fn sizes_are_typed_with_commas_and_refused_in_words() {
        let design = Choice::default().design().unwrap();
        let session = BedSession { open: true, sizes: "9, 9½; 10 ".to_owned(), ..BedSession::with_bed("no such bed") };
        assert_eq!(session.bed.id, FIRST_BED);
        let sizes = session.wishes(&design).unwrap().sizes;
        assert_eq!(sizes, [(18, 2), (19, 2), (20, 2)].map(|(num, den)| Length::inch_fraction(num, den).unwrap()));
        let wrong = BedSession { sizes: "9, large".to_owned(), ..session };
        let mut fitting = Fitting::default();
        fitting.follow(1, &design, &wrong, || {});
        assert!(matches!(fitting.fit(1, &wrong.target), Fit::Refused(why) if why.contains("large")));
    }
}
