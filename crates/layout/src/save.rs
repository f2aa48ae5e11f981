//! Saving a finished file: whole or not at all.

use std::fmt;
use std::fs;
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// What to do when a file of that name exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overwrite {
    /// Leave it alone and report [`SaveFault::Exists`].
    Refuse,
    /// Put the new file in its place, with the permissions the old one had. A link is followed.
    Replace,
}

/// A file could not be saved. Whatever was at the path before is untouched.
#[derive(Debug, Error)]
#[error("cannot save: {fault}: {}", path.display())]
pub struct SaveError {
    /// Cause and remedy.
    pub fault: SaveFault,
    /// The file that was to be written.
    pub path: PathBuf,
    /// What the operating system said, where it was asked.
    pub source: Option<io::Error>,
}

/// Why a file could not be saved. It prints as cause and remedy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum SaveFault {
    /// A file is there already and was not to be replaced.
    Exists,
    /// A folder has that name, or the path names no file.
    NotAFile,
    /// The folder is missing.
    NoFolder,
    /// The file is marked read-only.
    ReadOnlyFile,
    /// The system does not let this user write there.
    NoPermission,
    /// The disk is full or its share used up.
    DiskFull,
    /// Anything else; the error's source says what.
    Other,
}

impl fmt::Display for SaveFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Exists => "a file of this name is there already; choose another name or ask to replace it",
            Self::NotAFile => "this names a folder, not a file; add a file name",
            Self::NoFolder => "the folder does not exist; make it first or choose another",
            Self::ReadOnlyFile => "the file is marked read-only; clear the mark or choose another name",
            Self::NoPermission => "writing is not allowed there; choose a folder of your own",
            Self::DiskFull => "the disk is full; free some space or choose another disk",
            Self::Other => "the system refused to write; check the disk and try again or choose another folder",
        })
    }
}

/// Saves `bytes` as the file `path`, all of them or none.
///
/// They are written to a new file in the same folder, flushed to disk, and only then given their name. On failure
/// the old file is as it was and the new one is removed.
///
/// # Errors
/// [`SaveError`], with the cause, what to do about it and the path.
pub fn save(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), SaveError> {
    write(path, bytes, overwrite).map_err(|Failure(fault, source)| SaveError {
        fault,
        path: path.to_path_buf(),
        source,
    })
}

struct Failure(SaveFault, Option<io::Error>);

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self(fault_of(error.kind()), Some(error))
    }
}

fn write(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), Failure> {
    if path.file_name().is_none() || path.is_dir() {
        return Err(Failure(SaveFault::NotAFile, None));
    }
    let old = existing(path)?;
    let target = match (&old, overwrite) {
        (Some(_), Overwrite::Refuse) => return Err(Failure(SaveFault::Exists, None)),
        (Some((_, old)), Overwrite::Replace) if old.readonly() => return Err(Failure(SaveFault::ReadOnlyFile, None)),
        (Some((real, _)), Overwrite::Replace) => real,
        (None, _) => path,
    };
    let folder = match target.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    };
    let mut new = new_file_in(folder)?;
    new.write_all(bytes)?;
    if let Some((_, permissions)) = &old {
        new.as_file().set_permissions(permissions.clone())?;
    }
    new.as_file().sync_all()?;
    // Dropping the error drops the new file with it, which removes it.
    match overwrite {
        Overwrite::Refuse => new.persist_noclobber(target),
        Overwrite::Replace => new.persist(target),
    }
    .map_err(|refused| refused.error)?;
    Ok(())
}

/// Where the file really lies and its permissions, if there is one.
fn existing(path: &Path) -> io::Result<Option<(PathBuf, fs::Permissions)>> {
    match fs::canonicalize(path) {
        Ok(real) => fs::metadata(&real).map(|data| Some((real, data.permissions()))),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// A file without a lasting name. It would be private to the user by default; a saved file gets what the user's
/// own settings (the umask) grant to any new file.
fn new_file_in(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    let any = <fs::Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o666);
    #[cfg(unix)]
    builder.permissions(any);
    builder.tempfile_in(folder)
}

fn fault_of(kind: ErrorKind) -> SaveFault {
    match kind {
        ErrorKind::AlreadyExists => SaveFault::Exists,
        ErrorKind::IsADirectory => SaveFault::NotAFile,
        ErrorKind::NotFound | ErrorKind::NotADirectory => SaveFault::NoFolder,
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => SaveFault::NoPermission,
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => SaveFault::DiskFull,
        _ => SaveFault::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A full disk or a foreign folder cannot be had on demand in a test, so the naming of causes is checked alone.
    #[test]
    fn each_cause_has_its_own_remedy() {
        let rows = [
            (ErrorKind::StorageFull, "the disk is full; free some space"),
            (ErrorKind::QuotaExceeded, "the disk is full; free some space"),
            (ErrorKind::PermissionDenied, "choose a folder of your own"),
            (ErrorKind::ReadOnlyFilesystem, "choose a folder of your own"),
            (ErrorKind::NotFound, "the folder does not exist; make it first"),
            (ErrorKind::AlreadyExists, "choose another name or ask to replace it"),
            (ErrorKind::TimedOut, "the system refused to write"),
        ];
        for (kind, remedy) in rows {
            let told = fault_of(kind).to_string();
            assert!(told.contains(remedy), "{kind:?} is told as: {told}");
        }
    }
}
