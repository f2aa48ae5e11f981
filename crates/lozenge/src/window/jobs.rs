//! Work off the window's thread: file dialogs and pictures. Answers come back through a channel.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

use eframe::egui::Context;
use layout::{Design, Overwrite, save};
use publish::{Seams, png, quilt_picture, svg};

use super::panels::PathUse;

/// A dialog that answers "nothing" sooner than this was never shown: there is none on this system.
const TOO_SOON: Duration = Duration::from_millis(400);

/// Width of a picture in pixels.
const PICTURE_PIXELS: u32 = 2400;

/// An answer.
#[derive(Debug)]
pub(crate) enum Answer {
    /// A file was chosen.
    Chosen(PathUse, PathBuf),
    /// There is no dialog on this system: let the path be typed.
    NoDialog(PathUse),
    /// The dialog was closed.
    Nothing,
    /// A picture was saved, or why not.
    Picture(Result<PathBuf, String>),
}

/// Running work.
pub(crate) struct Jobs {
    send: Sender<Answer>,
    receive: Receiver<Answer>,
    running: usize,
}

impl Default for Jobs {
    fn default() -> Self {
        let (send, receive) = channel();
        Self { send, receive, running: 0 }
    }
}

impl Jobs {
    /// The answers since the last call.
    pub(crate) fn answers(&mut self) -> Vec<Answer> {
        let answers: Vec<Answer> = self.receive.try_iter().collect();
        self.running = self.running.saturating_sub(answers.len());
        answers
    }

    /// Whether something is still running.
    pub(crate) const fn busy(&self) -> bool {
        self.running > 0
    }

    fn run(&mut self, ctx: &Context, work: impl FnOnce() -> Answer + Send + 'static) {
        let (send, ctx) = (self.send.clone(), ctx.clone());
        self.running += 1;
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(work());
            ctx.request_repaint();
        });
    }

    /// Asks for a file.
    pub(crate) fn ask(&mut self, ctx: &Context, what: PathUse, name: String) {
        self.run(ctx, move || {
            let began = Instant::now();
            let chosen = match what {
                PathUse::Open => rfd::FileDialog::new().add_filter("Quilt", &["json"]).pick_file(),
                PathUse::Save => rfd::FileDialog::new().add_filter("Quilt", &["json"]).set_file_name(name).save_file(),
                PathUse::Picture => {
                    rfd::FileDialog::new().add_filter("Picture", &["svg", "png"]).set_file_name(name).save_file()
                }
            };
            match chosen {
                Some(path) => Answer::Chosen(what, path),
                None if began.elapsed() < TOO_SOON => Answer::NoDialog(what),
                None => Answer::Nothing,
            }
        });
    }

    /// Saves the picture.
    pub(crate) fn picture(&mut self, ctx: &Context, design: Design, seams: bool, path: PathBuf, overwrite: Overwrite) {
        self.run(ctx, move || Answer::Picture(save_picture(&design, seams, &path, overwrite).map(|()| path)));
    }
}

fn save_picture(design: &Design, seams: bool, path: &std::path::Path, overwrite: Overwrite) -> Result<(), String> {
    let drawing = quilt_picture(design, if seams { Seams::Shown } else { Seams::Hidden }).map_err(|e| e.to_string())?;
    let ending = path.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase);
    let bytes = match ending.as_deref() {
        Some("svg") => svg(&drawing).into_bytes(),
        Some("png") => png(&drawing, PICTURE_PIXELS).map_err(|e| e.to_string())?,
        _ => return Err(format!("pictures are saved as .svg or .png; \"{}\" ends in neither", path.display())),
    };
    save(path, &bytes, overwrite).map_err(|e| e.to_string())
}
