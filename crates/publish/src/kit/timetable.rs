//! The timetable of a class: its work shared out to sessions with breaks.

use serde::Serialize;

use super::minutes::{Minutes, WorkMinutes};
use super::timing::Task;

/// The most sessions that are listed.
pub const MAX_SESSIONS: usize = 40;
/// What is shorter than this at the end of a session or before a break is left for after it.
const SHORTEST: Minutes = Minutes::whole(5);
/// What is said of work that began before.
const GOING_ON: &str = ", going on";

/// A session.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Session {
    /// What is done, in order.
    pub entries: Vec<Entry>,
}

/// Something in a session.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// When it begins, from the beginning of the session.
    pub from: Minutes,
    /// When it ends.
    pub to: Minutes,
    /// What it is.
    pub what: String,
}

/// A whole class.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Timetable {
    /// Sessions that it takes.
    pub count: u64,
    /// The first of them, at most [`MAX_SESSIONS`].
    pub sessions: Vec<Session>,
}

/// A session on its way.
struct Clock<'a> {
    minutes: &'a WorkMinutes,
    now: Minutes,
    /// Work since the last break.
    worked: Minutes,
    entries: Vec<Entry>,
}

impl<'a> Clock<'a> {
    const fn new(minutes: &'a WorkMinutes) -> Self {
        Self { minutes, now: Minutes(0), worked: Minutes(0), entries: Vec::new() }
    }

    const fn left(&self) -> Minutes {
        Minutes(self.minutes.session.0.saturating_sub(self.now.0))
    }

    fn pass(&mut self, time: Minutes, what: String) {
        let from = self.now;
        self.now = from.and(time);
        self.worked = self.worked.and(time);
        match self.entries.last_mut() {
            Some(last) if what.strip_suffix(GOING_ON).unwrap_or(&what) == last.what || what == last.what => {
                last.to = self.now;
            }
            _ if time > Minutes(0) => self.entries.push(Entry { from, to: self.now, what }),
            _ => {}
        }
    }

    /// A break, when one is due and work can go on after it.
    fn rest(&mut self) {
        let until_break = Minutes(self.minutes.break_after.0.saturating_sub(self.worked.0));
        let goes_on = self.left() > self.minutes.pause.and(SHORTEST);
        if until_break < SHORTEST && goes_on && self.minutes.pause > Minutes(0) {
            self.pass(self.minutes.pause, "Break".to_owned());
        }
        if until_break < SHORTEST {
            self.worked = Minutes(0);
        }
    }

    /// How long work can go on now.
    fn room(&self) -> Minutes {
        let until_break = Minutes(self.minutes.break_after.0.saturating_sub(self.worked.0));
        self.left().min(if until_break < SHORTEST { self.left() } else { until_break })
    }
}

impl Timetable {
    /// Shares work out to sessions; work that does not end before a break goes on after it.
    #[must_use]
    pub fn new(tasks: &[Task], minutes: &WorkMinutes) -> Self {
        let mut table = Self { count: 0, sessions: Vec::new() };
        let mut clock = Clock::new(minutes);
        clock.pass(minutes.welcome, "Welcome, tools, safety at blade and iron, fabrics and kits".to_owned());
        for task in tasks {
            let mut left = task.minutes;
            while left > Minutes(0) {
                clock.rest();
                let room = clock.room();
                if room < SHORTEST && left > room {
                    table.end(&mut clock);
                    continue;
                }
                let part = left.min(room);
                let again = if left == task.minutes { "" } else { GOING_ON };
                clock.pass(part, format!("{}{again}", task.what));
                left = Minutes(left.0 - part.0);
            }
        }
        table.end(&mut clock);
        table
    }

    /// Ends a session and begins the next one.
    fn end(&mut self, clock: &mut Clock<'_>) {
        let entries = std::mem::take(&mut clock.entries);
        if entries.is_empty() {
            return;
        }
        self.count += 1;
        if self.sessions.len() < MAX_SESSIONS {
            self.sessions.push(Session { entries });
        }
        *clock = Clock::new(clock.minutes);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(what: &str, minutes: u64) -> Task {
        let minutes = Minutes::whole(minutes);
        Task { what: what.to_owned(), makes: 0, cuts: 0, seams: 0, turns: 0, trims: 0, joins: 0, minutes }
    }

    fn told(table: &Timetable) -> Vec<Vec<String>> {
        let entry = |e: &Entry| format!("{}–{} {}", e.from, e.to, e.what.split(',').next().unwrap_or_default());
        table.sessions.iter().map(|session| session.entries.iter().map(entry).collect()).collect()
    }

    #[test]
    fn work_goes_on_after_breaks_and_sessions() {
        let minutes = WorkMinutes::default();
        let table = Timetable::new(&[task("Cut", 30), task("Sew", 200)], &minutes);
        let expected = [
            vec!["0:00–0:15 Welcome", "0:15–0:45 Cut", "0:45–1:20 Sew", "1:20–1:35 Break", "1:35–3:00 Sew"],
            vec!["0:00–1:20 Sew"],
        ];
        assert_eq!(told(&table), expected);
        assert_eq!(table.count, 2);
    }

    /// No minute of work is lost or made up, whatever the sessions are.
    #[test]
    fn all_work_is_in_the_sessions() {
        for session in [30, 45, 61, 180, 720] {
            for break_after in [10, 33, 80] {
                let minutes = WorkMinutes {
                    session: Minutes::whole(session),
                    break_after: Minutes::whole(break_after),
                    ..WorkMinutes::default()
                };
                let table = Timetable::new(&[task("Cut", 47), task("Sew", 131), task("Join", 4)], &minutes);
                let entries: Vec<&Entry> = table.sessions.iter().flat_map(|session| &session.entries).collect();
                let is_work = |e: &&&Entry| !e.what.starts_with("Break") && !e.what.starts_with("Welcome");
                let worked: u64 = entries.iter().filter(is_work).map(|e| e.to.0 - e.from.0).sum();
                assert_eq!(worked, 18_200, "{session} {break_after}: {:?}", told(&table));
                for session in &table.sessions {
                    assert!(session.entries.windows(2).all(|pair| pair[0].to == pair[1].from));
                    assert!(session.entries.iter().all(|e| e.to <= minutes.session));
                }
            }
        }
    }
}
