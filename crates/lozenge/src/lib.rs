//! Lozenge, a designer for pieced star quilts: the program without its `main`.
//!
//! [`run`] takes the arguments and two streams, and gives the exit code: 0 good, 1 bad input, 2 wrong usage.

mod args;
mod commands;
mod error;
mod measured;
pub mod window;
mod words;

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::Parser as _;
use clap::error::ErrorKind;

pub use error::CommandError;
pub(crate) use publish::{bed_words, decimal};

/// What went wrong for the caller's shell.
const BAD_INPUT: u8 = 1;
const BAD_USAGE: u8 = 2;

/// Runs the program with these arguments, the program's name first.
pub fn run(args: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> ExitCode {
    let parsed = match args::Args::try_parse_from(args) {
        Ok(parsed) => parsed,
        Err(told) => {
            let asked_for = matches!(told.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
            let stream: &mut dyn Write = if asked_for { &mut *out } else { &mut *err };
            // A closed pipe is no reason to fail: the reader has what it wanted.
            let _ = write!(stream, "{told}");
            return if asked_for { ExitCode::SUCCESS } else { ExitCode::from(BAD_USAGE) };
        }
    };
    match commands::run(&parsed, out).and_then(|()| Ok(out.flush()?)) {
        Ok(()) => ExitCode::SUCCESS,
        // The reader has what it wanted.
        Err(CommandError::Output(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(err, "lozenge: {error}");
            ExitCode::from(if matches!(error, CommandError::NoDisplay) { BAD_USAGE } else { BAD_INPUT })
        }
    }
}
