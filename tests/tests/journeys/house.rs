//! The rules of the house that the compiler does not keep: which way dependencies point, what a source file may not
//! hold, and that everything in `assets/` has its licence beside it.
//!
//! Each rule is a function from what it looks at to the faults it finds. It is run on the workspace, and on made-up
//! cases that break it, so that a rule that sees nothing is seen.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use cargo_metadata::{DependencyKind, MetadataCommand};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

fn assert_none(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

// Dependencies

/// What each crate of the workspace may depend on within it.
const ARROWS: [(&str, &[&str]); 6] = [
    ("geometry", &[]),
    ("layout", &["geometry"]),
    ("cutting", &["layout", "geometry"]),
    ("piecing", &["layout", "geometry"]),
    ("publish", &["cutting", "piecing", "layout", "geometry"]),
    ("lozenge", &["publish", "cutting", "piecing", "layout", "geometry"]),
];
/// The crate of the tests; it may depend on all others, none may depend on it.
const TESTS: &str = "journeys";
/// The one crate that may know the window.
const WINDOW: &str = "lozenge";
const WINDOW_TOOLKIT: [&str; 4] = ["egui", "eframe", "epaint", "emath"];

/// Who depends on whom, by name.
#[derive(Default)]
struct Dependencies {
    /// The crates of the workspace.
    members: BTreeSet<String>,
    /// Dependencies of every kind, also for tests and build scripts.
    all: BTreeMap<String, BTreeSet<String>>,
    /// Dependencies that end up in what is shipped.
    shipped: BTreeMap<String, BTreeSet<String>>,
}

impl Dependencies {
    fn of_workspace() -> Self {
        // Without a platform, cargo would want the sources of crates that only other systems need.
        let platform = format!("--filter-platform={}", host());
        let options = vec!["--offline".to_owned(), platform];
        let manifest = root().join("Cargo.toml");
        let metadata = MetadataCommand::new().manifest_path(manifest).other_options(options).exec().unwrap();
        let name = |id| metadata[id].name.to_string();
        let mut found = Self { members: metadata.workspace_members.iter().map(name).collect(), ..Self::default() };
        for node in metadata.resolve.as_ref().unwrap().nodes.iter() {
            for to in &node.deps {
                let shipped = to.dep_kinds.iter().any(|kind| kind.kind == DependencyKind::Normal);
                found.add(&name(&node.id), &name(&to.pkg), shipped);
            }
        }
        found
    }

    fn add(&mut self, from: &str, to: &str, shipped: bool) {
        self.all.entry(from.to_owned()).or_default().insert(to.to_owned());
        if shipped {
            self.shipped.entry(from.to_owned()).or_default().insert(to.to_owned());
        }
    }

    /// Everything shipped with a crate, however indirectly.
    fn shipped_with<'a>(&'a self, start: &'a str) -> BTreeSet<&'a str> {
        let mut seen = BTreeSet::new();
        let mut open = vec![start];
        while let Some(next) = open.pop() {
            let targets = self.shipped.get(next).into_iter().flatten();
            open.extend(targets.map(String::as_str).filter(|&target| seen.insert(target)));
        }
        seen
    }

    fn faults(&self) -> Vec<String> {
        self.members.iter().filter(|&member| member != TESTS).flat_map(|member| self.faults_of(member)).collect()
    }

    fn faults_of(&self, member: &str) -> Vec<String> {
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == member) else {
            return vec![format!("{member}: a new crate; say in ARROWS what it may depend on")];
        };
        let inner = self.all.get(member).into_iter().flatten().filter(|to| self.members.contains(*to));
        let mut faults: Vec<_> = inner
            .filter(|to| !allowed.contains(&to.as_str()))
            .map(|to| format!("{member} -> {to}: this arrow points the wrong way"))
            .collect();
        if member != WINDOW {
            let shipped = self.shipped_with(member);
            let toolkit = WINDOW_TOOLKIT.iter().filter(|name| shipped.contains(*name));
            faults.extend(toolkit.map(|name| format!("{member} -> … -> {name}: only {WINDOW} may know the window")));
        }
        faults
    }
}

/// The platform the tests run on, as the compiler names it.
fn host() -> String {
    let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let told = String::from_utf8(Command::new(compiler).arg("-vV").output().unwrap().stdout).unwrap();
    told.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

#[test]
fn dependencies_point_one_way() {
    let found = Dependencies::of_workspace();
    for member in ["geometry", "layout", "cutting", "publish", "lozenge", TESTS] {
        assert!(found.members.contains(member), "{member} was not looked at");
    }
    assert!(found.shipped_with("lozenge").contains("geometry"), "no arrows were found");
    assert_none(&found.faults());
}

#[test]
fn a_forbidden_arrow_is_found() {
    for (arrows, expected) in [
        (&[("layout", "geometry", true), ("lozenge", "publish", true), ("journeys", "lozenge", false)][..], None),
        (&[("lozenge", "eframe", true), ("eframe", "egui", true)], None),
        (&[("geometry", "layout", true)], Some("geometry -> layout: ")),
        (&[("cutting", "piecing", false)], Some("cutting -> piecing: ")),
        (&[("publish", "lozenge", true)], Some("publish -> lozenge: ")),
        (&[("layout", "journeys", false)], Some("layout -> journeys: ")),
        (&[("publish", "plot", true), ("plot", "ink", true), ("ink", "egui", true)], Some("publish -> … -> egui: ")),
        (&[("utils", "geometry", true)], Some("utils: a new crate")),
    ] {
        check_arrows(arrows, expected);
    }
}

fn check_arrows(arrows: &[(&str, &str, bool)], expected: Option<&str>) {
    let names = ARROWS.iter().map(|(name, _)| *name).chain([TESTS, "utils"]);
    let used = |name: &str| arrows.iter().any(|(from, to, _)| *from == name || *to == name);
    let members = names.filter(|name| used(name)).map(str::to_owned).collect();
    let mut made_up = Dependencies { members, ..Dependencies::default() };
    arrows.iter().for_each(|(from, to, shipped)| made_up.add(from, to, *shipped));
    let faults = made_up.faults();
    assert_eq!(faults.len(), usize::from(expected.is_some()), "{arrows:?}: {faults:?}");
    let as_expected = faults.iter().zip(expected).all(|(fault, start)| fault.starts_with(start));
    assert!(as_expected, "{arrows:?}: {faults:?}");
}

// Source files

const MOST_LINES: usize = 500;

/// What no source file may hold. Put together from halves, or this file would hold it.
const FORBIDDEN: [(&str, &str); 8] = [
    (concat!("#[ign", "ore"), "a test that does not run"),
    (concat!("to", "do!("), "work left undone"),
    (concat!("unimpl", "emented!("), "work left undone"),
    (concat!("/wo", "rk/"), "a path of one machine"),
    (concat!("/t", "mp/"), "a path of one machine"),
    (concat!("/ro", "ot/"), "a path of one machine"),
    (concat!("/ho", "me/"), "a path of one machine"),
    (concat!("C:", "\\"), "a path of one machine"),
];

/// The faults of one Rust file, named by its path from the root of the workspace.
fn source_faults(name: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    if name.split('/').any(|part| part == "src") && !text.starts_with("//!") {
        faults.push(format!("{name}:1: begin with a `//!` line that says what the module is for"));
    }
    let count = text.lines().count();
    if count > MOST_LINES {
        faults.push(format!("{name}: {count} lines; split it into modules of at most {MOST_LINES}"));
    }
    for (line, number) in text.split('\n').zip(1..) {
        if line.ends_with(char::is_whitespace) {
            faults.push(format!("{name}:{number}: white space at the end of the line"));
        }
        let hits = FORBIDDEN.iter().filter(|(needle, _)| line.contains(needle));
        faults.extend(hits.map(|(needle, meaning)| format!("{name}:{number}: `{needle}` is {meaning}")));
    }
    faults
}

/// All files below a folder, in order; none if the folder does not exist. Hidden and build folders are passed over.
fn files_below(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| !path.ends_with("target") && !file_name(path).starts_with('.'));
    paths.sort();
    paths.into_iter().flat_map(|path| if path.is_dir() { files_below(&path) } else { vec![path] }).collect()
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

#[test]
fn source_files_are_tidy() {
    let root = root();
    let mut files = files_below(&root.join("crates"));
    files.extend(files_below(&root.join("tests")));
    files.retain(|path| path.extension().is_some_and(|extension| extension == "rs"));
    assert!(files.iter().any(|path| path.ends_with("journeys/house.rs")), "not even this file was looked at");
    let name = |path: &Path| path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
    let faults: Vec<_> =
        files.iter().flat_map(|path| source_faults(&name(path), &fs::read_to_string(path).unwrap())).collect();
    assert_none(&faults);
}

#[test]
fn an_untidy_file_is_found() {
    let good = "//! Says what it is for.\n\nfn star() {}\n";
    let long = "//! Long.\n".to_owned() + &"// line\n".repeat(MOST_LINES);
    let mut rows = vec![
        ("crates/a/src/lib.rs", good.to_owned(), None),
        ("crates/a/tests/b.rs", "fn star() {}\n".to_owned(), None),
        ("crates/a/src/lib.rs", "fn star() {}\n".to_owned(), Some("crates/a/src/lib.rs:1: begin with")),
        ("crates/a/tests/b.rs", long, Some("crates/a/tests/b.rs: 501 lines")),
        ("tests/tests/b.rs", "fn star() {} \n".to_owned(), Some("tests/tests/b.rs:1: white space")),
        ("tests/tests/b.rs", "fn a() {}\r\n".to_owned(), Some("tests/tests/b.rs:1: white space")),
    ];
    let needles = FORBIDDEN.map(|(needle, _)| ("b.rs", format!("\nlet a = {needle};\n"), Some("b.rs:2: `")));
    rows.extend(needles);
    for (name, text, expected) in rows {
        let faults = source_faults(name, &text);
        assert_eq!(faults.len(), usize::from(expected.is_some()), "{name}: {faults:?}");
        assert!(faults.iter().zip(expected).all(|(fault, start)| fault.starts_with(start)), "{name}: {faults:?}");
    }
}

// Assets

/// Files whose folder holds no licence.
fn unlicensed(assets: &Path) -> Vec<String> {
    let begins = |path: &Path, starts: &[&str]| {
        let name = file_name(path).to_lowercase();
        starts.iter().any(|start| name.starts_with(start))
    };
    let is_licence = |path: &Path| begins(path, &["license", "licence", "copying", "ofl"]);
    let files = files_below(assets);
    let licensed: BTreeSet<_> = files.iter().filter(|path| is_licence(path)).filter_map(|path| path.parent()).collect();
    files
        .iter()
        .filter(|path| !is_licence(path) && !begins(path, &["readme"]))
        .filter(|path| !licensed.contains(path.parent().unwrap()))
        .map(|path| format!("{}: put its licence beside it", path.display()))
        .collect()
}

#[test]
fn every_asset_has_its_licence_beside_it() {
    assert_none(&unlicensed(&root().join("assets")));
}

#[test]
fn an_asset_without_licence_is_found() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["fonts/plain.ttf", "fonts/OFL.txt", "icons/star.svg", "icons/README.md", "LICENSE"] {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, "made up").unwrap();
    }
    let expected = folder.path().join("icons").join("star.svg");
    assert_eq!(unlicensed(folder.path()), [format!("{}: put its licence beside it", expected.display())]);
}
