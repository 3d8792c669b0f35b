//! How far a long review is, on a terminal only.

use std::io::{self, IsTerminal, Write};
use std::time::{Duration, Instant};

/// A review that is done sooner shows nothing.
const PATIENCE: Duration = Duration::from_secs(1);

/// The line is drawn anew no sooner than this.
const APART: Duration = Duration::from_millis(100);

/// A line such as `120 of 4000 plans`, drawn over itself.
pub struct Progress<W: Write> {
    to: W,
    terminal: bool,
    total: usize,
    done: usize,
    started: Instant,
    drawn: Option<Drawn>,
}

#[derive(Debug, Clone, Copy)]
struct Drawn {
    columns: usize,
    at: Instant,
}

impl Progress<io::Stderr> {
    /// On standard error where that is a terminal and nothing speaks against it.
    pub fn on_standard_error(total: usize, wanted: bool) -> Self {
        let terminal = wanted && total > 1 && io::stderr().is_terminal();
        Self::new(io::stderr(), terminal, total, Instant::now())
    }
}

impl<W: Write> Progress<W> {
    fn new(to: W, terminal: bool, total: usize, started: Instant) -> Self {
        Self {
            to,
            terminal,
            total,
            done: 0,
            started,
            drawn: None,
        }
    }

    /// One more is done; whether the line should be drawn.
    pub fn step(&mut self, now: Instant) -> bool {
        self.done += 1;
        let stale = self
            .drawn
            .is_none_or(|drawn| now.duration_since(drawn.at) >= APART);
        self.terminal
            && self.done < self.total
            && now.duration_since(self.started) >= PATIENCE
            && stale
    }

    /// Draws the line. If nobody reads it, that is no reason to fail.
    pub fn draw(&mut self, now: Instant) {
        let line = format!("{} of {} plans", self.done, self.total);
        let _ = write!(self.to, "\r{line}").and_then(|()| self.to.flush());
        // The line only grows: it needs no wiping before it is drawn over.
        self.drawn = Some(Drawn {
            columns: line.len(),
            at: now,
        });
    }

    /// Wipes the line, before something else is written to the terminal.
    pub fn make_way(&mut self) {
        if let Some(Drawn { columns, .. }) = self.drawn.take() {
            let _ = write!(self.to, "\r{:columns$}\r", "").and_then(|()| self.to.flush());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(terminal: bool, steps: &[(u64, bool)]) -> String {
        let (mut to, started) = (Vec::new(), Instant::now());
        let mut progress = Progress::new(&mut to, terminal, 20, started);
        for &(milliseconds, something_else) in steps {
            let now = started + Duration::from_millis(milliseconds);
            if something_else {
                progress.make_way();
            }
            if progress.step(now) {
                progress.draw(now);
            }
        }
        progress.make_way();
        String::from_utf8(to).expect("text")
    }

    #[test]
    fn a_short_review_shows_nothing() {
        assert_eq!(shown(true, &[(10, false), (500, true), (999, false)]), "");
    }

    #[test]
    fn no_terminal_no_line() {
        assert_eq!(shown(false, &[(1500, false), (9000, true)]), "");
    }

    #[test]
    fn a_long_one_is_drawn_ten_times_a_second_and_wiped() {
        let steps = [(999, false), (1000, false), (1050, false), (1100, false)];
        assert_eq!(
            shown(true, &steps),
            "\r2 of 20 plans\r4 of 20 plans\r             \r"
        );
    }

    #[test]
    fn other_output_finds_the_line_empty_and_gets_it_back() {
        let wiped = "\r             \r";
        assert_eq!(
            shown(true, &[(1000, false), (1001, true)]),
            format!("\r1 of 20 plans{wiped}\r2 of 20 plans{wiped}")
        );
    }

    #[test]
    fn the_last_plan_draws_nothing() {
        let steps: Vec<_> = (1..=20)
            .map(|n| (if n < 20 { n } else { 5000 }, false))
            .collect();
        assert_eq!(shown(true, &steps), "");
    }
}
