//! The program run in this process, and the sample quilts.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What one run gave.
pub struct Ran {
    pub code: ExitCode,
    pub out: String,
    pub err: String,
}

/// Runs `lozenge` with these arguments.
pub fn lozenge<A: Into<OsString>>(args: impl IntoIterator<Item = A>) -> Ran {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once(OsString::from("lozenge")).chain(args.into_iter().map(Into::into));
    let code = lozenge::run(args, &mut out, &mut err);
    Ran { code, out: String::from_utf8(out).unwrap(), err: String::from_utf8(err).unwrap() }
}

/// The output of a run that must be good.
pub fn good<A: Into<OsString>>(args: impl IntoIterator<Item = A>) -> String {
    let ran = lozenge(args);
    assert_eq!(ran.code, ExitCode::SUCCESS, "{}", ran.err);
    assert_eq!(ran.err, "");
    ran.out
}

/// A command on a file: `["totals", file, "--json"]`.
pub fn on(command: &str, file: &Path, options: &[&str]) -> Vec<OsString> {
    let mut args = vec![OsString::from(command), file.into()];
    args.extend(options.iter().map(OsString::from));
    args
}

/// Where the samples are.
pub fn sample_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().join("sample-quilts")
}

/// The sample files, in order of their names.
pub fn sample_files() -> Vec<PathBuf> {
    let entries = std::fs::read_dir(sample_folder()).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = entries.filter(|path| path.extension().is_some_and(|e| e == "json")).collect();
    files.sort();
    files
}
