//! Documents where they cannot be written: on a disk that takes no more of them, and in a folder that takes none. Each is
//! refused in words with a remedy, what was there stays as it was and nothing is left half written.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const BINARY: &str = env!("CARGO_BIN_EXE_lozenge");

/// A document: its command with its options, the samples it is made from, the option that names its file, and the file; a
/// point stands for the folder, into which several are written.
struct Document {
    command: &'static [&'static str],
    samples: &'static [&'static str],
    option: &'static str,
    file: &'static str,
}

const fn of_quilt(command: &'static [&'static str], option: &'static str, file: &'static str) -> Document {
    Document { command, samples: &["sample-quilts/crib-night-ferry.json"], option, file }
}

/// Every document that a command writes.
const DOCUMENTS: [Document; 22] = [
    of_quilt(&["booklet", "--quick"], "--out", "booklet.pdf"),
    of_quilt(&["templates"], "--out", "templates.pdf"),
    of_quilt(&["templates", "--as", "svg"], "--out", "."),
    of_quilt(&["templates", "--as", "dxf"], "--out", "."),
    Document {
        command: &["templates", "--trim-sheets"],
        samples: &["sample-quilts/throw-toymakers-shelf.json"],
        option: "--out",
        file: "trim-sheets.pdf",
    },
    of_quilt(&["tables", "--beds", "crib"], "--out", "tables.pdf"),
    of_quilt(&["tables", "--beds", "crib"], "--out", "tables.csv"),
    of_quilt(&["kit", "--quick", "--students", "2"], "--out", "teacher.pdf"),
    of_quilt(&["kit", "--quick", "--students", "2"], "--labels", "labels.pdf"),
    of_quilt(&["kit", "--quick", "--students", "2"], "--handout", "handout.pdf"),
    of_quilt(&["export", "--quick"], "--shopping", "shopping.pdf"),
    of_quilt(&["export", "--quick"], "--cutting-list", "cutting.csv"),
    of_quilt(&["export", "--quick"], "--share", "share.pdf"),
    of_quilt(&["export", "--quick"], "--tester", "tester.pdf"),
    of_quilt(&["export", "--quick"], "--picture", "picture.png"),
    of_quilt(&["export", "--quick"], "--all", "."),
    of_quilt(&["draw"], "--out", "picture.svg"),
    of_quilt(&["save"], "--out", "copy.json"),
    of_quilt(&["cut", "--quick"], "--lays", "."),
    of_quilt(&["sew"], "--pages", "."),
    Document {
        command: &["editions", "--quick"],
        samples: &["sample-quilts/crib-night-ferry.json", "sample-quilts/crib-pebble-ford.json"],
        option: "--out",
        file: "changes.pdf",
    },
    Document {
        command: &["fits", "--count", "1", "--steps", "20"],
        samples: &["sample-fabrics/sixteen-fat-quarters.json"],
        option: "--pages",
        file: "in-hand.pdf",
    },
];

fn arguments(document: &Document, folder: &Path, force: bool) -> Vec<OsString> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut args: Vec<OsString> = document.command.iter().map(OsString::from).collect();
    args.extend(document.samples.iter().map(|sample| root.join(sample).into()));
    args.extend([document.option.into(), folder.join(document.file).into()]);
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
    // These print their list whether it is saved as well or not.
    let prints = ["cut", "sew", "editions", "fits"].into_iter().any(|command| args[0] == command);
    assert!(prints || ran.stdout.is_empty(), "{args:?}: {}", String::from_utf8_lossy(&ran.stdout));
    assert!(told.lines().count() == 1 && !told.contains("panicked"), "{args:?}: {told}");
    told
}

#[test]
fn a_disk_that_takes_no_more_leaves_everything_as_it_was() {
    for document in DOCUMENTS {
        let folder = tempfile::tempdir().unwrap();
        if document.file != "." {
            fs::write(folder.path().join(document.file), "from before").unwrap();
        }
        let before = files(folder.path());
        let args = arguments(&document, folder.path(), true);
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
        let args = arguments(&document, Path::new("/sys"), false);
        let told = told(&Command::new(BINARY).args(&args).output().unwrap(), &args);
        assert!(told.contains("writing is not allowed there; choose a folder of your own"), "{args:?}: {told}");
        assert!(told.contains("/sys"), "{args:?}: {told}");
    }
}
