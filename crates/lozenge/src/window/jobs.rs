//! Work off the window's thread: file dialogs and pictures. Answers come back through a channel.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

use eframe::egui::Context;
use layout::{Overwrite, save, save_all};
use publish::{Drawing, PublishError, png, svg};

use super::carry_publish::PHOTO_ENDINGS;
use super::panels::PathUse;
use super::publishing::Beside;

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
    /// The picture was stopped.
    Stopped,
    /// A picture was saved, or why not.
    Picture(Result<PathBuf, String>),
    /// Several files were saved: the first, and how many; or why not.
    Files(Result<(PathBuf, usize), String>),
}

/// Running work.
pub(crate) struct Jobs {
    send: Sender<Answer>,
    receive: Receiver<Answer>,
    running: usize,
    /// Set to stop the picture that is being made.
    stop: Arc<AtomicBool>,
    /// Whether a picture is being made.
    drawing: bool,
}

impl Default for Jobs {
    fn default() -> Self {
        let (send, receive) = channel();
        Self { send, receive, running: 0, stop: Arc::default(), drawing: false }
    }
}

impl Jobs {
    /// The answers since the last call.
    pub(crate) fn answers(&mut self) -> Vec<Answer> {
        let answers: Vec<Answer> = self.receive.try_iter().collect();
        self.running = self.running.saturating_sub(answers.len());
        self.drawing &=
            !answers.iter().any(|answer| matches!(answer, Answer::Picture(_) | Answer::Files(_) | Answer::Stopped));
        answers
    }

    /// Whether something is still running.
    pub(crate) const fn busy(&self) -> bool {
        self.running > 0
    }

    /// Whether a picture is being made, which can be stopped.
    pub(crate) const fn can_stop(&self) -> bool {
        self.drawing
    }

    /// Stops the picture that is being made; nothing is saved then.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
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
                PathUse::Open | PathUse::Beside(Beside::Earlier) => {
                    rfd::FileDialog::new().add_filter("Quilt", &["json"]).pick_file()
                }
                PathUse::Beside(Beside::Fabrics) => rfd::FileDialog::new().add_filter("Fabrics", &["json"]).pick_file(),
                PathUse::Example => {
                    rfd::FileDialog::new().add_filter("Fabrics", &["json"]).set_file_name(name).save_file()
                }
                PathUse::Save => rfd::FileDialog::new().add_filter("Quilt", &["json"]).set_file_name(name).save_file(),
                PathUse::Photo => rfd::FileDialog::new().add_filter("Photo", &PHOTO_ENDINGS).pick_file(),
                PathUse::Document(_, kind) => {
                    rfd::FileDialog::new().add_filter(kind.name(), &[kind.ending()]).set_file_name(name).save_file()
                }
                PathUse::Picture | PathUse::Lay | PathUse::Sewing(_) => {
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

    /// Makes a drawing and saves it, as SVG or PNG after the ending of the path.
    pub(crate) fn drawing(
        &mut self,
        ctx: &Context,
        draw: impl FnOnce() -> Result<Drawing, PublishError> + Send + 'static,
        path: PathBuf,
        overwrite: Overwrite,
    ) {
        self.saving(ctx, path, move |path, stop| save_drawing(draw, path, overwrite, stop));
    }

    /// Makes the bytes of a file and saves them.
    pub(crate) fn file(
        &mut self,
        ctx: &Context,
        make: impl FnOnce() -> Result<Vec<u8>, String> + Send + 'static,
        path: PathBuf,
        overwrite: Overwrite,
    ) {
        self.saving(ctx, path, move |path, stop| write(make, path, overwrite, stop));
    }

    /// Makes several files and saves them all or none.
    pub(crate) fn files(
        &mut self,
        ctx: &Context,
        make: impl FnOnce() -> Result<Vec<(PathBuf, Vec<u8>)>, String> + Send + 'static,
        overwrite: Overwrite,
    ) {
        let stop = self.stoppable();
        self.run(ctx, move || {
            let files = match make() {
                Ok(_) if stop.load(Ordering::Relaxed) => return Answer::Stopped,
                Ok(files) => files,
                Err(why) => return Answer::Files(Err(why)),
            };
            let first = files.first().map(|(path, _)| path.clone()).unwrap_or_default();
            let saved = save_all(&files, overwrite);
            Answer::Files(saved.map(|()| (first, files.len())).map_err(|error| error.to_string()))
        });
    }

    /// Begins something that can be stopped, and gives what tells whether it was.
    fn stoppable(&mut self) -> Arc<AtomicBool> {
        let stop = Arc::new(AtomicBool::new(false));
        self.stop = Arc::clone(&stop);
        self.drawing = true;
        stop
    }

    /// Runs something that saves a file and says whether it did, or was stopped.
    fn saving(
        &mut self,
        ctx: &Context,
        path: PathBuf,
        work: impl FnOnce(&Path, &AtomicBool) -> Result<bool, String> + Send + 'static,
    ) {
        let stop = self.stoppable();
        self.run(ctx, move || match work(&path, &stop) {
            Ok(true) => Answer::Picture(Ok(path)),
            Ok(false) => Answer::Stopped,
            Err(why) => Answer::Picture(Err(why)),
        });
    }
}

/// Writes bytes once they are made; false when it was stopped on the way.
fn write(
    make: impl FnOnce() -> Result<Vec<u8>, String>,
    path: &Path,
    overwrite: Overwrite,
    stop: &AtomicBool,
) -> Result<bool, String> {
    let bytes = make()?;
    if stop.load(Ordering::Relaxed) {
        return Ok(false);
    }
    save(path, &bytes, overwrite).map(|()| true).map_err(|e| e.to_string())
}

/// False when it was stopped on the way.
fn save_drawing(
    draw: impl FnOnce() -> Result<Drawing, PublishError>,
    path: &Path,
    overwrite: Overwrite,
    stop: &AtomicBool,
) -> Result<bool, String> {
    let ending = path.extension().and_then(|e| e.to_str()).map(str::to_ascii_lowercase);
    let as_png = match ending.as_deref() {
        Some("svg") => false,
        Some("png") => true,
        _ => return Err(format!("pictures are saved as .svg or .png; \"{}\" ends in neither", path.display())),
    };
    let drawing = draw().map_err(|e| e.to_string())?;
    if stop.load(Ordering::Relaxed) {
        return Ok(false);
    }
    let bytes = || {
        if as_png { png(&drawing, PICTURE_PIXELS).map_err(|e| e.to_string()) } else { Ok(svg(&drawing).into_bytes()) }
    };
    write(bytes, path, overwrite, stop)
}

#[cfg(test)]
mod tests {
    use publish::{Seams, quilt_picture};

    use super::*;
    use crate::window::gallery::Choice;

    #[test]
    fn a_stopped_picture_leaves_no_file() {
        let folder = tempfile::tempdir().unwrap();
        let design = Choice::default().design().unwrap();
        let file = folder.path().join("quilt.svg");
        let refuse = Overwrite::Refuse;
        let draw = || quilt_picture(&design, Seams::Shown);
        assert_eq!(save_drawing(draw, &file, refuse, &AtomicBool::new(true)), Ok(false));
        assert!(!file.exists());
        assert_eq!(save_drawing(draw, &file, refuse, &AtomicBool::new(false)), Ok(true));
        assert!(file.exists());
        assert!(save_drawing(draw, &folder.path().join("quilt.pdf"), refuse, &AtomicBool::new(false)).is_err());
    }
}
