//! What a shell sees of the commands: exit codes, what goes to which stream, and that files are left alone.

use crate::program;

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use program::{good, lozenge, on, sample_folder};
use tempfile::TempDir;

const COMMANDS: [&str; 11] =
    ["check", "totals", "cut", "draw", "booklet", "pairings", "beds", "kit", "export", "editions", "save"];

/// A folder with a sample in it.
fn desk() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let quilt = folder.path().join("quilt.json");
    fs::copy(sample_folder().join("crib-night-ferry.json"), &quilt).unwrap();
    (folder, quilt)
}

/// The command on a file, with what else it needs.
fn full(command: &str, file: &Path, folder: &Path, options: &[&str]) -> Vec<OsString> {
    let mut args = on(command, file, options);
    match command {
        "draw" => args.extend(["--out".into(), folder.join("out.svg").into()]),
        "booklet" => args.extend(["--quick".into(), "--out".into(), folder.join("out.pdf").into()]),
        "pairings" => args.extend(["--motif".into(), "2x2".into()]),
        "beds" => args.extend(["--bed".into(), "twin".into()]),
        "kit" => args.extend(["--students".into(), "3".into()]),
        "export" => args.extend(["--quick".into(), "--all".into(), folder.into()]),
        "editions" => args.extend([file.into(), "--quick".into()]),
        "save" => args.extend(["--out".into(), folder.join("out.json").into()]),
        _ => {}
    }
    args
}

/// Runs what must fail: `code`, nothing on the output, and each of `words` in the message.
fn refused<A: Into<OsString>>(args: impl IntoIterator<Item = A>, code: u8, words: &[&str]) {
    let args: Vec<OsString> = args.into_iter().map(Into::into).collect();
    let ran = lozenge(args.clone());
    assert_eq!(ran.code, ExitCode::from(code), "{args:?}: {}", ran.err);
    assert_eq!(ran.out, "", "{args:?}");
    for word in words {
        assert!(ran.err.contains(word), "{args:?} says: {}", ran.err);
    }
    assert!(!ran.err.contains("panicked"));
}

#[test]
fn good_runs_give_0_and_no_message() {
    for json in [&[][..], &["--json"]] {
        for command in COMMANDS {
            let (folder, quilt) = desk();
            let out = good(full(command, &quilt, folder.path(), json));
            assert!(!out.is_empty());
            let parsed = serde_json::from_str::<serde_json::Value>(&out);
            assert_eq!(parsed.is_ok_and(|v| v.is_object()), !json.is_empty(), "{command}: {out}");
        }
    }
}

#[test]
fn help_and_version_go_to_the_output() {
    assert!(good(["--version"]).contains(env!("CARGO_PKG_VERSION")));
    let help = good(["--help"]);
    for command in COMMANDS {
        assert!(help.contains(command), "{help}");
        assert!(good([command, "--help"]).contains("Usage"));
    }
}

#[test]
fn wrong_usage_gives_2() {
    refused(["frobnicate", "quilt.json"], 2, &["Usage"]);
    refused(["totals"], 2, &["FILE"]);
    refused(["draw", "quilt.json"], 2, &["--out"]);
    refused(["save", "quilt.json"], 2, &["--out"]);
    refused(["totals", "quilt.json", "--colour"], 2, &["--colour"]);
    refused(["draw", "quilt.json", "--out", "a.png", "--width", "wide"], 2, &["wide"]);
}

#[test]
fn files_that_are_no_quilts_give_1_and_say_why() {
    let (folder, quilt) = desk();
    let text = fs::read_to_string(&quilt).unwrap();
    let cut_off = &text[..text.len() / 2];
    let newer = text.replace("\"version\": 1", "\"version\": 99");
    assert_ne!(newer, text);
    let rows = [
        ("empty", "", "line 1"),
        ("truncated", cut_off, "line "),
        ("broken", &text.replacen(':', ";", 1), "line 2, column "),
        ("another", "{\"format\": \"picture\", \"version\": 1}", "not a quilt file"),
        ("newer", &newer, "version 99"),
        ("float", &text.replacen("[9,0,0,0,1]", "9.5", 1), "line "),
    ];
    for (name, content, why) in rows {
        let file = folder.path().join(format!("{name}.json"));
        fs::write(&file, content).unwrap();
        for command in COMMANDS {
            for json in [&[][..], &["--json"]] {
                refused(full(command, &file, folder.path(), json), 1, &[why, "lozenge: ", name]);
            }
        }
        assert_eq!(fs::read_to_string(&file).unwrap(), content, "{name} was changed");
    }
    assert!(!folder.path().join("out.svg").exists() && !folder.path().join("out.json").exists());
}

#[test]
fn missing_files_and_folders_give_1_and_name_them_once() {
    let (folder, _) = desk();
    let missing = folder.path().join("missing.json");
    for (file, name) in [(missing.as_path(), "missing.json"), (folder.path(), folder.path().to_str().unwrap())] {
        for command in COMMANDS {
            let args = full(command, file, folder.path(), &[]);
            refused(args.clone(), 1, &[name, "cannot read"]);
            assert_eq!(lozenge(args).err.matches(name).count(), 1, "{command}");
        }
    }
}

#[test]
fn an_unknown_variant_gives_1_and_lists_those_there_are() {
    let quilt = sample_folder().join("throw-two-windows.json");
    let folder = tempfile::tempdir().unwrap();
    for command in ["check", "totals", "cut", "draw"] {
        let args = full(command, &quilt, folder.path(), &["--variant", "Midnight"]);
        refused(args, 1, &["\"Midnight\"", "Dusk", "Noon"]);
    }
}

#[test]
fn other_pictures_are_refused_with_words() {
    let (folder, quilt) = desk();
    for name in ["picture.pdf", "picture", "picture.svg.txt", ".png"] {
        let out = folder.path().join(name);
        let args = on("draw", &quilt, &["--out", out.to_str().unwrap()]);
        refused(args, 1, &[".svg, .png or .dxf", name]);
        assert!(!out.exists());
    }
    let out = folder.path().join("PICTURE.SVG");
    good(on("draw", &quilt, &["--out", out.to_str().unwrap()]));
    assert!(out.exists());
}

#[test]
fn nothing_is_replaced_unless_forced() {
    let (folder, quilt) = desk();
    let before = fs::read(&quilt).unwrap();
    for (command, name) in [("draw", "out.svg"), ("draw", "out.png"), ("save", "out.json")] {
        let out = folder.path().join(name);
        fs::write(&out, "precious").unwrap();
        let options = ["--out", out.to_str().unwrap()];
        refused(on(command, &quilt, &options), 1, &[name, "there already"]);
        assert_eq!(fs::read_to_string(&out).unwrap(), "precious");
        good(on(command, &quilt, &[options[0], options[1], "--force"]));
        assert_ne!(fs::read(&out).unwrap(), b"precious");
    }
    // The quilt itself is not written over by a copy of itself either.
    refused(on("save", &quilt, &["--out", quilt.to_str().unwrap()]), 1, &["there already"]);
    assert_eq!(fs::read(&quilt).unwrap(), before);
}

#[test]
fn a_place_that_cannot_be_written_gives_1_and_leaves_nothing() {
    let (folder, quilt) = desk();
    let nowhere = folder.path().join("nowhere");
    for (command, name) in [("draw", "out.svg"), ("save", "out.json")] {
        let out = nowhere.join(name);
        refused(on(command, &quilt, &["--out", out.to_str().unwrap()]), 1, &[name, "folder does not exist"]);
    }
    let left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(left, ["quilt.json"]);
}

#[test]
fn reading_commands_leave_the_file_alone() {
    let (folder, quilt) = desk();
    let before = (fs::read(&quilt).unwrap(), fs::metadata(&quilt).unwrap().modified().unwrap());
    for command in COMMANDS {
        good(full(command, &quilt, folder.path(), &[]));
    }
    let after = (fs::read(&quilt).unwrap(), fs::metadata(&quilt).unwrap().modified().unwrap());
    assert!(before == after);
}

/// An output that fails with this kind of error after some bytes.
struct Failing {
    left: usize,
    kind: io::ErrorKind,
}

impl Write for Failing {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.left == 0 {
            return Err(self.kind.into());
        }
        let taken = bytes.len().min(self.left);
        self.left -= taken;
        Ok(taken)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_left_is_no_error_but_a_full_disk_is() {
    let (_folder, quilt) = desk();
    for (kind, code) in [(io::ErrorKind::BrokenPipe, 0), (io::ErrorKind::StorageFull, 1)] {
        for command in ["check", "totals", "cut"] {
            let args = [vec![OsString::from("lozenge")], on(command, &quilt, &["--json"])].concat();
            let mut err = Vec::new();
            let given = lozenge::run(args, &mut Failing { left: 20, kind }, &mut err);
            assert_eq!(given, ExitCode::from(code), "{command}, {kind:?}");
            assert_eq!(err.is_empty(), code == 0, "{}", String::from_utf8_lossy(&err));
        }
    }
}
