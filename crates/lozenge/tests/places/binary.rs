//! The program as it is shipped: a few runs of the real binary. Every other run of a command is tested in process.

use std::fs::{self, File};
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use assert_cmd::Command as Checked;

const BINARY: &str = env!("CARGO_BIN_EXE_lozenge");

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts").join(name)
}

#[test]
fn every_command_does_its_job_on_every_sample() {
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(sample("")).unwrap() {
        let file = entry.unwrap().path();
        if file.extension().is_none_or(|e| e != "json") {
            continue;
        }
        let name = file.file_stem().unwrap().to_str().unwrap().to_owned();
        let made = |ending: &str| folder.path().join(format!("{name}.{ending}"));
        for command in ["check", "totals", "cut"] {
            let run = Checked::new(BINARY).args([command, "--json"]).arg(&file).assert().success().stderr("");
            serde_json::from_slice::<serde_json::Value>(&run.get_output().stdout).unwrap();
        }
        for (command, ending) in [("draw", "svg"), ("draw", "png"), ("save", "json")] {
            let mut run = Checked::new(BINARY);
            run.arg(command).arg(&file).arg("--out").arg(made(ending)).assert().success().stderr("");
            assert!(fs::metadata(made(ending)).unwrap().len() > 0);
        }
    }
}

#[test]
fn exit_codes_reach_the_shell() {
    Checked::new(BINARY).args(["check", "no such file.json"]).assert().code(1).stdout("");
    Checked::new(BINARY).arg("check").assert().code(2).stdout("");
    Checked::new(BINARY).arg(sample("crib-night-ferry.json")).assert().code(2).stdout("");
}

#[test]
fn a_reader_may_leave_early() {
    let mut child = Command::new(BINARY)
        .args(["cut", "--json"])
        .arg(sample("king-ember-tide.json"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut start = [0; 16];
    let mut stdout = child.stdout.take().unwrap();
    stdout.read_exact(&mut start).unwrap();
    drop(stdout);
    let ended = child.wait_with_output().unwrap();
    assert_eq!(ended.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_told() {
    let full = File::options().write(true).open("/dev/full").unwrap();
    let ended = Command::new(BINARY)
        .arg("totals")
        .arg(sample("crib-night-ferry.json"))
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
        .wait_with_output()
        .unwrap();
    assert_eq!(ended.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&ended.stderr).contains("cannot write the output"));
}
