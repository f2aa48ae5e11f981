//! Saving finished files: each whole or not at all, and several all together or none.

use std::collections::BTreeSet;
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
    /// The file is larger than the disk or the system lets a file be.
    TooLarge,
    /// Two files were to be saved under this one name.
    Twice,
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
            Self::TooLarge => "the disk does not take so large a file; choose another disk",
            Self::Twice => "two files were to get this one name; give each a name of its own",
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
    let staged = Staged::new(path, bytes, overwrite).map_err(|failure| failure.at(path))?;
    staged.place().map_err(|failure| failure.at(path))
}

/// Saves several files, each with its bytes: all of them or none.
///
/// All are written and flushed beside their places first; only when that went well do they get their names. When one of
/// the names cannot be given after all, those that were given are taken back: new files are removed, and replaced ones
/// hold again what they held.
///
/// # Errors
/// [`SaveError`] of the first file that cannot be saved; [`SaveFault::Twice`] for two files of one name, also where the
/// names differ by capitals alone, since many disks do not tell them apart.
pub fn save_all(files: &[(PathBuf, Vec<u8>)], overwrite: Overwrite) -> Result<(), SaveError> {
    let mut staged: Vec<(&Path, Staged)> = Vec::with_capacity(files.len());
    let mut names = BTreeSet::new();
    for (path, bytes) in files {
        let one = Staged::new(path, bytes, overwrite).map_err(|failure| failure.at(path))?;
        if !names.insert(one.name()) {
            return Err(Failure(SaveFault::Twice, None).at(path));
        }
        staged.push((path.as_path(), one));
    }
    let held = staged.iter().map(|(path, one)| one.held().map_err(|error| Failure::from(error).at(path)));
    let held = held.collect::<Result<Vec<_>, _>>()?;
    let mut placed: Vec<(PathBuf, Option<Vec<u8>>)> = Vec::with_capacity(staged.len());
    for ((path, one), old) in staged.into_iter().zip(held) {
        let target = one.target.clone();
        match one.place() {
            Ok(()) => placed.push((target, old)),
            Err(failure) => {
                placed.into_iter().rev().for_each(take_back);
                return Err(failure.at(path));
            }
        }
    }
    Ok(())
}

/// Undoes the saving of one file. What the system refuses here is not told: the failure that led here is.
fn take_back((target, old): (PathBuf, Option<Vec<u8>>)) {
    let _ = match old {
        Some(bytes) => save(&target, &bytes, Overwrite::Replace).is_ok(),
        None => fs::remove_file(&target).is_ok(),
    };
}

struct Failure(SaveFault, Option<io::Error>);

impl Failure {
    fn at(self, path: &Path) -> SaveError {
        SaveError { fault: self.0, path: path.to_path_buf(), source: self.1 }
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self(fault_of(error.kind()), Some(error))
    }
}

/// A file that is written in full beside its place and waits for its name. Dropped, it is removed.
struct Staged {
    new: tempfile::NamedTempFile,
    target: PathBuf,
    replaces: bool,
    overwrite: Overwrite,
}

impl Staged {
    fn new(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<Self, Failure> {
        if path.file_name().is_none() || path.is_dir() {
            return Err(Failure(SaveFault::NotAFile, None));
        }
        let old = existing(path)?;
        let target = match (&old, overwrite) {
            (Some(_), Overwrite::Refuse) => return Err(Failure(SaveFault::Exists, None)),
            (Some((_, old)), Overwrite::Replace) if old.readonly() => {
                return Err(Failure(SaveFault::ReadOnlyFile, None));
            }
            (Some((real, _)), Overwrite::Replace) => real,
            (None, _) => path,
        };
        let mut new = new_file_in(folder_of(target))?;
        new.write_all(bytes)?;
        if let Some((_, permissions)) = &old {
            new.as_file().set_permissions(permissions.clone())?;
        }
        new.as_file().sync_all()?;
        Ok(Self { new, target: target.to_path_buf(), replaces: old.is_some(), overwrite })
    }

    /// Where it will lie, the same for every way to write the path.
    fn name(&self) -> (PathBuf, String) {
        let folder = folder_of(&self.target);
        let name = self.target.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
        (fs::canonicalize(folder).unwrap_or_else(|_| folder.to_path_buf()), name)
    }

    /// What the file that it replaces holds.
    fn held(&self) -> io::Result<Option<Vec<u8>>> {
        if self.replaces { fs::read(&self.target).map(Some) } else { Ok(None) }
    }

    fn place(self) -> Result<(), Failure> {
        // Dropping the error drops the new file with it, which removes it.
        match self.overwrite {
            Overwrite::Refuse => self.new.persist_noclobber(&self.target),
            Overwrite::Replace => self.new.persist(&self.target),
        }
        .map_err(|refused| refused.error)?;
        Ok(())
    }
}

/// The folder that holds a file.
fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    }
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
        ErrorKind::FileTooLarge => SaveFault::TooLarge,
        _ => SaveFault::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// That a name cannot be given after others were is hard to bring about; taking back is checked alone.
    #[test]
    fn what_is_taken_back_is_as_it_was() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let [new, old] = ["new.csv", "old.csv"].map(|name| folder.path().join(name));
        fs::write(&new, "written")?;
        fs::write(&old, "written")?;
        take_back((new.clone(), None));
        take_back((old.clone(), Some(b"held before".to_vec())));
        assert!(!new.exists());
        assert_eq!(fs::read(&old)?, b"held before");
        Ok(())
    }

    /// A full disk or a foreign folder cannot be had on demand in a test, so the naming of causes is checked alone.
    #[test]
    fn each_cause_has_its_own_remedy() {
        let rows = [
            (ErrorKind::StorageFull, "the disk is full; free some space"),
            (ErrorKind::QuotaExceeded, "the disk is full; free some space"),
            (ErrorKind::FileTooLarge, "choose another disk"),
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
