//! What stands in the head and foot of every page, and on which paper.

use layout::Design;
use serde::Serialize;

use crate::Paper;

/// Head and foot of a document; texts may be empty.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct About {
    /// The quilt's name, or what else the document is about.
    pub title: String,
    /// Who made the pattern.
    pub author: String,
    /// Which edition of the pattern it is.
    pub edition: String,
    /// The paper it is set for.
    pub paper: Paper,
}

impl About {
    /// A document about this quilt.
    #[must_use]
    pub fn quilt(design: &Design, paper: Paper) -> Self {
        let imprint = design.imprint();
        Self {
            title: design.name().to_owned(),
            author: imprint.author.clone(),
            edition: imprint.edition.clone(),
            paper,
        }
    }
}
