//! Measures a real window on a real screen: how soon its first frame is there, how many frames it draws while
//! nothing happens, and how much memory it holds.
//!
//! `window_cost start empty`, `window_cost start [FILE]`: milliseconds from the start of the program until its first
//! frame is made, and until it is on the screen, for a window with nothing in it and for this program's.
//! `window_cost idle SECONDS empty`, `window_cost idle SECONDS [FILE]`: frames in that time, after a time to settle,
//! and memory (as Linux tells it).

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use eframe::egui::{self, CentralPanel};
use layout::file::Document;
use lozenge::window::{Window, options};

/// How long a window is left to settle before its frames are counted.
const SETTLE: Duration = Duration::from_secs(5);

/// The window with its frames counted, or one with nothing in it.
struct Watched {
    inner: Option<Window>,
    began: Instant,
    made: Option<Duration>,
    frames: Arc<AtomicU64>,
    leave: bool,
}

impl eframe::App for Watched {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        if let Some(window) = &mut self.inner {
            window.think(ctx);
        }
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        // The second frame begins when the first is on the screen.
        if let (true, Some(made)) = (self.leave, self.made) {
            println!("{:.1} {:.1}", made.as_secs_f64() * 1e3, self.began.elapsed().as_secs_f64() * 1e3);
            std::process::exit(0);
        }
        self.frames.fetch_add(1, Ordering::Relaxed);
        match &mut self.inner {
            Some(window) => window.show(ui),
            None => {
                CentralPanel::default().show(ui, |_| {});
            }
        }
        self.made.get_or_insert(self.began.elapsed());
        if self.leave {
            ui.ctx().request_repaint();
        }
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let began = Instant::now();
    let mut arguments = std::env::args().skip(1);
    let leave = match arguments.next().as_deref() {
        Some("start") => true,
        Some("idle") => false,
        _ => return Err("usage: window_cost start [empty|FILE], window_cost idle SECONDS [empty|FILE]".into()),
    };
    let frames = Arc::new(AtomicU64::new(0));
    if !leave {
        let seconds = arguments.next().unwrap_or_default().parse()?;
        watch(Duration::from_secs(seconds), Arc::clone(&frames));
    }
    let what = arguments.next();
    let empty = what.as_deref() == Some("empty");
    let document = match what.filter(|_| !empty).map(PathBuf::from) {
        Some(path) => Some((Document::open(&path)?, path)),
        None => None,
    };
    eframe::run_native(
        "Lozenge",
        options(),
        Box::new(move |cc| {
            let inner = if empty { None } else { Some(Window::with_settings(&cc.egui_ctx, document, None)?) };
            Ok(Box::new(Watched { inner, began, made: None, frames, leave }))
        }),
    )?;
    Ok(())
}

/// Counts frames for a time, tells them, and ends the program.
fn watch(time: Duration, frames: Arc<AtomicU64>) {
    std::thread::spawn(move || {
        std::thread::sleep(SETTLE);
        let before = frames.load(Ordering::Relaxed);
        std::thread::sleep(time);
        println!(
            "{} frames to settle, {} in {} s after",
            before,
            frames.load(Ordering::Relaxed) - before,
            time.as_secs()
        );
        let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
        for line in status.lines().filter(|l| l.starts_with("VmHWM") || l.starts_with("VmRSS")) {
            println!("{line}");
        }
        std::process::exit(0);
    });
}
