//! What the typesetter may see: templates, data and figures in memory, and the bundled fonts.

use std::collections::HashMap;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};

use crate::{PublishError, typeface};

/// The bundled fonts, read once.
static FONTS: LazyLock<Fonts> = LazyLock::new(Fonts::read);
/// The typesetter's own library of functions.
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(<Library as LibraryExt>::default()));

struct Fonts {
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

impl Fonts {
    fn read() -> Self {
        let fonts: Vec<Font> =
            typeface::FILES.iter().flat_map(|file| Font::iter(Bytes::new(*file)).collect::<Vec<_>>()).collect();
        Self { book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
    }
}

/// One document's files in memory.
pub(super) struct PageWorld {
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
}

impl PageWorld {
    /// Puts templates and files in their places; `main` names the template that is set.
    pub(super) fn new<'a>(
        main: &str,
        templates: &[(&str, &str)],
        files: impl Iterator<Item = (&'a str, &'a [u8])>,
    ) -> Result<Self, PublishError> {
        let mut world = Self { main: id_of(main)?, sources: HashMap::new(), files: HashMap::new() };
        for (name, text) in templates {
            let id = id_of(name)?;
            world.sources.insert(id, Source::new(id, (*text).to_owned()));
        }
        for (name, bytes) in files {
            world.files.insert(id_of(name)?, Bytes::new(bytes.to_vec()));
        }
        Ok(world)
    }
}

fn id_of(name: &str) -> Result<FileId, PublishError> {
    let path = VirtualPath::new(name).map_err(|error| PublishError::Typeset { cause: format!("{name}: {error:?}") })?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// What the typesetter says is wrong, with the template's line.
pub(super) fn told(world: &PageWorld, errors: &[SourceDiagnostic]) -> String {
    let told: Vec<String> = errors
        .iter()
        .map(|error| {
            let place = world.range(error.span).and_then(|range| {
                let source = world.sources.get(&error.span.id()?)?;
                let line = source.text().get(..range.start)?.matches('\n').count() + 1;
                Some(format!("{}, line {line}: ", source.id().vpath().get_without_slash()))
            });
            format!("{}{}", place.unwrap_or_default(), error.message)
        })
        .collect();
    told.join("; ")
}

impl World for PageWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.fonts.get(index).cloned()
    }

    /// Documents are the same on every day: a date comes with the data or not at all.
    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_without_slash().into())
}
