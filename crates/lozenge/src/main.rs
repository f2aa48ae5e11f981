//! The one program: a window, and commands that work without one.

use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let code = lozenge::run(std::env::args_os(), &mut out, &mut std::io::stderr());
    // What could not be flushed had no reader.
    let _ = out.flush();
    code
}
