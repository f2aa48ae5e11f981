//! A picture file of the user's own, looked at before it is set.

use std::fmt;
use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::PublishError;

/// The largest photo that is taken, in bytes.
pub const MAX_PHOTO_BYTES: usize = 40 << 20;
/// The most pixels of a photo.
pub const MAX_PHOTO_PIXELS: usize = 100_000_000;

/// A photo that can be set: its kind is known and its size within bounds.
#[derive(Clone, PartialEq, Eq)]
pub struct Photo {
    bytes: Vec<u8>,
    ending: &'static str,
    pixels: [usize; 2],
}

/// Why a file is no photo that can be set.
#[derive(Debug, Error)]
pub enum PhotoError {
    /// It cannot be read.
    #[error("cannot read the photo: {source}; check the name and your rights, or leave it out: {}", path.display())]
    Unread {
        /// Which file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// It is no photo, or a bad one.
    #[error("{}: {source}", path.display())]
    Refused {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        source: Box<PublishError>,
    },
}

impl Photo {
    /// The photo in a file. One byte beyond the limit tells a file that is too large without reading it all.
    ///
    /// # Errors
    /// [`PhotoError`] with the path, for what cannot be read and for what [`Photo::new`] refuses.
    pub fn read(path: &Path) -> Result<Self, PhotoError> {
        let unread = |source| PhotoError::Unread { path: path.to_path_buf(), source };
        let mut bytes = Vec::new();
        File::open(path).map_err(unread)?.take(MAX_PHOTO_BYTES as u64 + 1).read_to_end(&mut bytes).map_err(unread)?;
        Self::new(bytes).map_err(|source| PhotoError::Refused { path: path.to_path_buf(), source: Box::new(source) })
    }

    /// The photo in these bytes of a file.
    ///
    /// # Errors
    /// [`PublishError::Photo`] for a file that is no PNG, JPEG, GIF or WebP picture, has no size, or is too large.
    pub fn new(bytes: Vec<u8>) -> Result<Self, PublishError> {
        let refuse = |cause: String| Err(PublishError::Photo { cause });
        if bytes.len() > MAX_PHOTO_BYTES {
            return refuse(format!("has more than {} megabytes; save a smaller copy", MAX_PHOTO_BYTES >> 20));
        }
        let Some(ending) = ending(&bytes) else {
            return refuse("is no PNG, JPEG, GIF or WebP picture; save a copy as one of these".to_owned());
        };
        let Ok(size) = imagesize::blob_size(&bytes) else {
            return refuse("is damaged: it does not say how large the picture is; save it anew".to_owned());
        };
        let pixels = size.width.saturating_mul(size.height);
        if pixels == 0 || pixels > MAX_PHOTO_PIXELS {
            let most = MAX_PHOTO_PIXELS / 1_000_000;
            let (width, height) = (size.width, size.height);
            return refuse(format!(
                "has {width} × {height} pixels; a photo has one at least and {most} million at most"
            ));
        }
        Ok(Self { bytes, ending, pixels: [size.width, size.height] })
    }

    /// Its bytes and the ending that says what they are.
    pub(crate) fn file(&self) -> (Vec<u8>, &'static str) {
        (self.bytes.clone(), self.ending)
    }

    /// Width and height in pixels.
    #[must_use]
    pub const fn pixels(&self) -> [usize; 2] {
        self.pixels
    }
}

/// Without its bytes, which nobody reads.
impl fmt::Debug for Photo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Photo({}, {:?}, {} bytes)", self.ending, self.pixels, self.bytes.len())
    }
}

/// What kind of picture these bytes begin like, as its ending: PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918-1), GIF (GIF89a),
/// WebP (RFC 9649).
fn ending(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Some("png"),
        [0xff, 0xd8, 0xff, ..] => Some("jpg"),
        [b'G', b'I', b'F', b'8', b'7' | b'9', b'a', ..] => Some("gif"),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some("webp"),
        _ => None,
    }
}
