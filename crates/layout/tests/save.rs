//! Saving: whole or not at all, never over a file that was not to be replaced, nothing left behind.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::fs;
use std::path::{Path, PathBuf};

use layout::Overwrite::{Refuse, Replace};
use layout::{Overwrite, SaveError, SaveFault, save, save_all};

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name());
    let mut names: Vec<_> = entries.map(|name| name.into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_new_file_holds_the_bytes_and_stands_alone() {
    for overwrite in [Refuse, Replace] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("star.svg");
        save(&path, b"star", overwrite).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"star");
        assert_eq!(names(folder.path()), ["star.svg"]);
    }
}

#[test]
fn an_old_file_is_replaced_only_on_request() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("star.svg");
    fs::write(&path, "a longer old text").unwrap();
    check_refused(&path, Refuse, SaveFault::Exists, "ask to replace it");
    assert_eq!(fs::read(&path).unwrap(), b"a longer old text");
    save(&path, b"new", Replace).unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"new");
    assert_eq!(names(folder.path()), ["star.svg"]);
}

#[test]
fn a_failed_save_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    fs::create_dir(root.join("pictures")).unwrap();
    fs::write(root.join("pictures/kept.png"), "kept").unwrap();
    fs::write(root.join("notes.txt"), "notes").unwrap();
    fs::write(root.join("locked.svg"), "locked").unwrap();
    let mut locked = fs::metadata(root.join("locked.svg")).unwrap().permissions();
    locked.set_readonly(true);
    fs::set_permissions(root.join("locked.svg"), locked).unwrap();
    for (target, fault, remedy) in [
        ("pictures", SaveFault::NotAFile, "add a file name"),
        ("pictures/..", SaveFault::NotAFile, "add a file name"),
        ("missing/star.svg", SaveFault::NoFolder, "make it first"),
        ("notes.txt/star.svg", SaveFault::NoFolder, "choose another"),
        ("locked.svg", SaveFault::ReadOnlyFile, "clear the mark"),
    ] {
        check_refused(&root.join(target), Replace, fault, remedy);
        assert_eq!(names(root), ["locked.svg", "notes.txt", "pictures"], "after {target}");
        assert_eq!(names(&root.join("pictures")), ["kept.png"], "after {target}");
    }
    assert_eq!(fs::read(root.join("notes.txt")).unwrap(), b"notes");
    assert_eq!(fs::read(root.join("locked.svg")).unwrap(), b"locked");
    check_refused(Path::new(""), Replace, SaveFault::NotAFile, "add a file name");
}

/// The error says what is wrong and what to do, and ends with the path.
fn check_refused(path: &Path, overwrite: Overwrite, expected: SaveFault, remedy: &str) {
    let error = save(path, b"new", overwrite).unwrap_err();
    let told = error.to_string();
    assert!(matches!(error, SaveError { fault, .. } if fault == expected), "{told}");
    assert!(told.contains(remedy) && told.ends_with(&path.display().to_string()), "{told}");
}

/// Files of these names in a folder, each holding its own name.
fn files(folder: &Path, names: &[&str]) -> Vec<(PathBuf, Vec<u8>)> {
    names.iter().map(|name| (folder.join(name), name.as_bytes().to_vec())).collect()
}

#[test]
fn several_files_are_saved_together() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("b.csv"), "old").unwrap();
    save_all(&files(folder.path(), &["a.pdf", "b.csv"]), Replace).unwrap();
    assert_eq!(names(folder.path()), ["a.pdf", "b.csv"]);
    assert_eq!(fs::read(folder.path().join("b.csv")).unwrap(), b"b.csv");
    save_all(&[], Refuse).unwrap();
}

/// Whichever of several files cannot be saved, none is, and what was there is as it was.
#[test]
fn of_several_files_all_or_none_are_saved() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    fs::create_dir(root.join("folder")).unwrap();
    fs::write(root.join("old.csv"), "old").unwrap();
    for (wanted, overwrite, fault) in [
        (["a.pdf", "old.csv", "z.png"], Refuse, SaveFault::Exists),
        (["a.pdf", "old.csv", "folder"], Replace, SaveFault::NotAFile),
        (["missing/a.pdf", "old.csv", "z.png"], Replace, SaveFault::NoFolder),
        (["a.pdf", "old.csv", "folder/../OLD.csv"], Replace, SaveFault::Twice),
    ] {
        let error = save_all(&files(root, &wanted), overwrite).unwrap_err();
        assert_eq!(error.fault, fault, "{error}");
        assert_eq!(names(root), ["folder", "old.csv"], "{wanted:?}");
        assert!(names(&root.join("folder")).is_empty(), "{wanted:?}");
        assert_eq!(fs::read(root.join("old.csv")).unwrap(), b"old", "{wanted:?}");
    }
}

#[cfg(unix)]
mod unix {
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    use super::*;

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn permissions_are_those_of_any_new_file_or_of_the_old_one() {
        let folder = tempfile::tempdir().unwrap();
        let [plain, ours] = ["plain", "ours"].map(|name| folder.path().join(name));
        fs::write(&plain, "written the plain way").unwrap();
        save(&ours, b"new", Refuse).unwrap();
        assert_eq!(mode(&ours), mode(&plain));
        fs::set_permissions(&ours, fs::Permissions::from_mode(0o640)).unwrap();
        save(&ours, b"newer", Replace).unwrap();
        assert_eq!(mode(&ours), 0o640);
    }

    #[test]
    fn a_link_is_followed() {
        let folder = tempfile::tempdir().unwrap();
        let [real, link] = ["real.svg", "link.svg"].map(|name| folder.path().join(name));
        fs::write(&real, "old").unwrap();
        symlink(&real, &link).unwrap();
        check_refused(&link, Refuse, SaveFault::Exists, "ask to replace it");
        save(&link, b"new", Replace).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(&real).unwrap(), b"new");
    }
    /// Looking first is not enough: whatever takes the name between the look and the save must stay as well. A link
    /// to nothing looks like a free name and is not one.
    #[test]
    fn a_name_taken_unseen_is_not_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let link = folder.path().join("link.svg");
        symlink("nowhere.svg", &link).unwrap();
        check_refused(&link, Refuse, SaveFault::Exists, "ask to replace it");
        assert_eq!(names(folder.path()), ["link.svg"]);
    }
    /// A name that is taken unseen is found out when the others have theirs already: they are taken back.
    #[test]
    fn files_that_were_placed_are_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        symlink("nowhere.svg", folder.path().join("m.csv")).unwrap();
        let error = save_all(&files(folder.path(), &["a.pdf", "m.csv", "z.png"]), Refuse).unwrap_err();
        assert_eq!(error.fault, SaveFault::Exists, "{error}");
        assert_eq!(names(folder.path()), ["m.csv"]);
    }
}
