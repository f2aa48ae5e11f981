//! The one program: a window, and commands that work without one.

use std::process::ExitCode;

fn main() -> ExitCode {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    lozenge::run(std::env::args_os(), &mut out, &mut std::io::stderr())
}
