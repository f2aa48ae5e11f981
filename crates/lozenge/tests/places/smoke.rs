//! The program as it is shipped, on a real screen: Xvfb (Debian: `xvfb`) with Mesa's software OpenGL.
//!
//! Xvfb keeps its screen in a file, in the format of `xwd`, so nothing else is needed to look at it.
#![cfg(target_os = "linux")]

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead as _, BufReader, Read as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const BINARY: &str = env!("CARGO_BIN_EXE_lozenge");

/// The window has so long to appear, also on a slow machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// Screen on which the window is opened.
const WIDTH: usize = 1440;
const HEIGHT: usize = 900;

fn sample() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/crib-night-ferry.json")
}

/// A process of this test; ended with it, however the test ends.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A screen of our own, and the number it found free.
fn screen(folder: &Path) -> (Running, String) {
    let size = format!("{WIDTH}x{HEIGHT}x24");
    let mut command = Command::new("Xvfb");
    // With -displayfd the server takes a free number and writes it there.
    command.args(["-displayfd", "1", "-screen", "0", &size, "-nolisten", "tcp", "-fbdir"]).arg(folder);
    let started = command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn();
    let child = started.unwrap_or_else(|e| panic!("Xvfb cannot be started ({e}); this test needs it (Debian: xvfb)"));
    let mut running = Running(child);
    let mut number = String::new();
    BufReader::new(running.0.stdout.take().unwrap()).read_line(&mut number).unwrap();
    assert!(!number.trim().is_empty(), "Xvfb ended before it had a screen");
    (running, format!(":{}", number.trim()))
}

/// The program with nothing of this machine's desktop in its surroundings.
fn program(home: &Path) -> Command {
    let mut command = Command::new(BINARY);
    command.env_clear().env("HOME", home).env("LIBGL_ALWAYS_SOFTWARE", "1").stdin(Stdio::null());
    if let Some(path) = std::env::var_os("PATH") {
        command.env("PATH", path);
    }
    command
}

/// How often each colour, as `0xRRGGBB`, stands on the screen. The file begins with numbers of four bytes, the
/// greatest first: its head's length, version 7, and so on (the X11 header `XWDFile.h`).
fn colours(file: &Path) -> BTreeMap<u32, usize> {
    let bytes = fs::read(file).unwrap_or_default();
    let number =
        |i: usize| bytes.get(4 * i..4 * i + 4).map_or(0, |b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]) as usize);
    let (head, version, height, least_first, bits, row, maps) =
        (number(0), number(1), number(5), number(7) == 0, number(11), number(12), number(19));
    let mut counts = BTreeMap::new();
    if bytes.is_empty() {
        return counts;
    }
    assert_eq!((version, bits, height), (7, 32, HEIGHT));
    let pixels = bytes.get(head + 12 * maps..).unwrap_or_default();
    for line in pixels.chunks_exact(row).take(height) {
        for p in line.chunks_exact(4).take(WIDTH) {
            let p = [p[0], p[1], p[2], p[3]];
            let colour = if least_first { u32::from_le_bytes(p) } else { u32::from_be_bytes(p) };
            *counts.entry(colour & 0x00ff_ffff).or_default() += 1;
        }
    }
    counts
}

/// The fabrics of the sample cover a good part of the screen, in the colours that its file gives.
fn shows_the_quilt(counts: &BTreeMap<u32, usize>) -> bool {
    let fabrics = [0x001f_2c4d, 0x00f2_e8d5, 0x00e2_993a];
    fabrics.iter().all(|colour| counts.get(colour).is_some_and(|count| *count > 3000))
}

#[test]
fn the_window_opens_and_shows_the_quilt() {
    let folder = tempfile::tempdir().unwrap();
    let (_screen, display) = screen(folder.path());
    let mut command = program(folder.path());
    command.env("DISPLAY", &display).arg(sample()).stdout(Stdio::null()).stderr(Stdio::piped());
    let mut window = Running(command.spawn().unwrap());
    let began = Instant::now();
    let picture = folder.path().join("Xvfb_screen0");
    let counts = loop {
        let counts = colours(&picture);
        if shows_the_quilt(&counts) {
            break counts;
        }
        if let Some(status) = window.0.try_wait().unwrap() {
            let mut told = String::new();
            window.0.stderr.take().unwrap().read_to_string(&mut told).unwrap();
            panic!("the program ended with {status}: {told}");
        }
        assert!(began.elapsed() < PATIENCE, "no quilt on the screen after {PATIENCE:?}: {} colours", counts.len());
        std::thread::sleep(Duration::from_millis(100));
    };
    // Text and slanting edges are blended from many colours; a blank window has one or two.
    assert!(counts.len() > 100, "{} colours", counts.len());
    let most = counts.values().max().unwrap();
    assert!(*most < WIDTH * HEIGHT * 9 / 10, "one colour covers {most} pixels");
    assert!(window.0.try_wait().unwrap().is_none(), "it stays open");
}

#[test]
fn without_a_display_one_sentence_names_the_commands() {
    let home = tempfile::tempdir().unwrap();
    for arguments in [vec![], vec![sample()]] {
        for empty in [false, true] {
            let mut command = program(home.path());
            if empty {
                command.env("DISPLAY", "").env("WAYLAND_DISPLAY", "");
            }
            let ended = command.args(&arguments).output().unwrap();
            let told = String::from_utf8(ended.stderr).unwrap();
            assert_eq!((ended.status.code(), told.lines().count()), (Some(2), 1), "{told}");
            assert!(ended.stdout.is_empty());
            for name in ["check", "totals", "cut", "draw", "save"] {
                assert!(told.contains(name), "{told}");
            }
        }
    }
}

#[test]
fn a_display_that_is_not_there_is_told_in_one_sentence() {
    let home = tempfile::tempdir().unwrap();
    // No server has a number so high.
    let ended = program(home.path()).env("DISPLAY", ":59999").arg(sample()).output().unwrap();
    let told = String::from_utf8(ended.stderr).unwrap();
    assert!(matches!(ended.status.code(), Some(1 | 2)), "{:?}: {told}", ended.status);
    assert!(told.lines().count() == 1 && told.contains("totals"), "{told}");
}
