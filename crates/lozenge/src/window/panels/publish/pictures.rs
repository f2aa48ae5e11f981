//! Pictures of pages, drawn beside the window: the last one stays until the next is there.

use std::collections::VecDeque;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use eframe::egui::{ColorImage, Context, TextureHandle, TextureOptions};
use publish::PagePicture;

use crate::window::publishing::{Document, Made};

/// How many pictures are kept, so that turning back shows the page at once.
const KEPT: usize = 4;

/// The most pixels of a picture.
const MOST_PIXELS: f64 = 12e6;

/// A page at a size.
#[derive(Clone)]
struct Sheet {
    document: Document,
    made: Arc<Made>,
    page: usize,
    pixels_wide: u32,
}

impl Sheet {
    fn is(&self, other: &Self) -> bool {
        self.is_page(other) && self.pixels_wide == other.pixels_wide
    }

    fn is_page(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.made, &other.made) && self.page == other.page
    }
}

/// The pictures that were drawn last.
#[derive(Default)]
pub(super) struct PagePictures {
    /// The newest first.
    drawn: VecDeque<(Sheet, Result<TextureHandle, String>)>,
    running: Option<(Sheet, Receiver<Result<PagePicture, String>>)>,
}

/// What there is to show of a page.
pub(super) enum PageShown<'a> {
    /// Its picture, and whether it is as fine as the screen.
    Picture(&'a TextureHandle, bool),
    /// It cannot be drawn, and why.
    Problem(&'a str),
    /// Nothing yet.
    Nothing,
}

impl PagePictures {
    /// The picture of a page so many pixels across; while it is drawn, what there is of that page, or of the page of this
    /// number before the document was made anew.
    pub(super) fn page(
        &mut self,
        ctx: &Context,
        (document, made): (Document, &Arc<Made>),
        page: usize,
        pixels_wide: u32,
    ) -> PageShown<'_> {
        self.take_answer(ctx);
        let wanted = Sheet { document, made: Arc::clone(made), page, pixels_wide };
        let there = self.drawn.iter().position(|(sheet, _)| sheet.is(&wanted));
        if there.is_none() && self.running.is_none() {
            self.begin(ctx, wanted.clone());
        }
        let near = || self.drawn.iter().position(|(sheet, picture)| picture.is_ok() && sheet.is_page(&wanted));
        let same = |sheet: &Sheet| sheet.document == document && sheet.page == page;
        let before = || self.drawn.iter().position(|(sheet, picture)| picture.is_ok() && same(sheet));
        match there.or_else(near).or_else(before).and_then(|index| self.drawn.get(index)) {
            Some((_, Ok(picture))) => PageShown::Picture(picture, there.is_some()),
            Some((_, Err(why))) if there.is_some() => PageShown::Problem(why),
            _ => PageShown::Nothing,
        }
    }

    fn begin(&mut self, ctx: &Context, sheet: Sheet) {
        let (send, answer) = channel();
        let (drawn, ctx) = (sheet.clone(), ctx.clone());
        self.running = Some((sheet, answer));
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(drawn.made.picture(drawn.page, drawn.pixels_wide));
            ctx.request_repaint();
        });
    }

    fn take_answer(&mut self, ctx: &Context) {
        let Some((_, answer)) = &self.running else { return };
        let picture = match answer.try_recv() {
            Ok(picture) => picture,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err("this page cannot be drawn; look at the saved document".to_owned()),
        };
        let Some((sheet, _)) = self.running.take() else { return };
        let picture = picture.map(|picture| {
            let size = [picture.width, picture.height].map(|side| side as usize);
            let image = ColorImage::from_rgba_unmultiplied(size, &picture.rgba);
            ctx.load_texture("page", image, TextureOptions::LINEAR)
        });
        self.drawn.push_front((sheet, picture));
        self.drawn.truncate(KEPT);
    }
}

/// How many pixels across a page is drawn that is shown so many pixels wide, within what a picture may have.
pub(super) fn pixels_across(wide: f64, [width_in, height_in]: [f64; 2], most_side: usize) -> u32 {
    let aspect = height_in / width_in;
    #[expect(clippy::cast_precision_loss, reason = "a few thousand pixels")]
    let most_side = most_side as f64;
    let most = (MOST_PIXELS / aspect).sqrt().min(most_side).min(most_side / aspect);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between one and some thousands")]
    let pixels = wide.round().clamp(1.0, most.floor().max(1.0)) as u32;
    pixels
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_picture_is_larger_than_a_screen_can_hold() {
        assert_eq!(pixels_across(500.4, [8.5, 11.0], 8192), 500);
        assert_eq!(pixels_across(0.0, [8.5, 11.0], 8192), 1);
        assert_eq!(pixels_across(9000.0, [8.0, 16.0], 2048), 1024);
        let pixels = f64::from(pixels_across(1e6, [8.5, 11.0], 16384));
        assert!(pixels * pixels * 11.0 / 8.5 <= MOST_PIXELS);
    }
}
