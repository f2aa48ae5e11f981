//! Documents where they cannot be written: on a disk that takes no more of them, and in a folder that takes none. Each is
//! refused in words with a remedy, what was there stays as it was and nothing is left half written.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const BINARY: &str = env!("CARGO_BIN_EXE_lozenge");

/// Every document: its command, the option that names its file, and the file.
const DOCUMENTS: [(&[&str], &str, &str); 17] = [
    (&["booklet", "--quick"], "--out", "booklet.pdf"),
    (&["templates"], "--out", "templates.pdf"),
    (&["templates", "--as", "svg"], "--out", "."),
    (&["templates", "--as", "dxf"], "--out", "."),
    (&["tables", "--beds", "crib"], "--out", "tables.pdf"),
    (&["tables", "--beds", "crib"], "--out", "tables.csv"),
    (&["kit", "--quick", "--students", "2"], "--out", "teacher.pdf"),
    (&["kit", "--quick", "--students", "2"], "--labels", "labels.pdf"),
    (&["kit", "--quick", "--students", "2"], "--handout", "handout.pdf"),
    (&["export", "--quick"], "--shopping", "shopping.pdf"),
    (&["export", "--quick"], "--cutting-list", "cutting.csv"),
    (&["export", "--quick"], "--share", "share.pdf"),
    (&["export", "--quick"], "--tester", "tester.pdf"),
    (&["export", "--quick"], "--picture", "picture.png"),
    (&["export", "--quick"], "--all", "."),
    (&["draw"], "--out", "picture.svg"),
    (&["save"], "--out", "copy.json"),
];

fn sample() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/crib-night-ferry.json")
}

fn arguments((command, option, name): (&[&str], &str, &str), folder: &Path, force: bool) -> Vec<OsString> {
    let mut args: Vec<OsString> = command.iter().map(OsString::from).collect();
    args.extend([sample().into(), option.into(), folder.join(name).into()]);
    args.extend(force.then(|| "--force".into()));
    args
}

/// Runs the program where no file may become longer than half a kilobyte. The signal that would end the program is switched
/// off, so that it is told by the system as it is told of a full disk.
fn run_where_files_stay_short(args: &[OsString]) -> Output {
    let script = "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\"";
    Command::new("sh").args(["-c", script, BINARY]).args(args).output().unwrap()
}

/// Names and bytes of all files in a folder.
fn files(folder: &Path) -> BTreeMap<OsString, Vec<u8>> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap());
    entries.map(|entry| (entry.file_name(), fs::read(entry.path()).unwrap())).collect()
}

fn told(ran: &Output, args: &[OsString]) -> String {
    let told = String::from_utf8_lossy(&ran.stderr).into_owned();
    assert_eq!(ran.status.code(), Some(1), "{args:?}: {told}");
    assert_eq!(String::from_utf8_lossy(&ran.stdout), "", "{args:?}");
    assert!(told.lines().count() == 1 && !told.contains("panicked"), "{args:?}: {told}");
    told
}

#[test]
fn a_disk_that_takes_no_more_leaves_everything_as_it_was() {
    for document in DOCUMENTS {
        let folder = tempfile::tempdir().unwrap();
        if document.2 != "." {
            fs::write(folder.path().join(document.2), "from before").unwrap();
        }
        let before = files(folder.path());
        let args = arguments(document, folder.path(), true);
        let told = told(&run_where_files_stay_short(&args), &args);
        assert!(told.contains("does not take so large a file; choose another disk"), "{args:?}: {told}");
        assert!(told.contains(folder.path().to_str().unwrap()), "{args:?} does not name the place: {told}");
        assert_eq!(files(folder.path()), before, "{args:?}");
    }
}

/// Nobody may make files in `/sys`, not even who may do everything else.
#[test]
fn a_folder_that_takes_nothing_is_told_with_its_remedy() {
    for document in DOCUMENTS {
        let args = arguments(document, Path::new("/sys"), false);
        let told = told(&Command::new(BINARY).args(&args).output().unwrap(), &args);
        assert!(told.contains("writing is not allowed there; choose a folder of your own"), "{args:?}: {told}");
        assert!(told.contains("/sys"), "{args:?}: {told}");
    }
}
