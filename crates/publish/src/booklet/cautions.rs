//! What may hurt someone or cost dear: the usual cautions (common practice, no source).

use serde::Serialize;

/// Cautions of the whole work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cautions {
    /// Blades, irons, needles, small parts.
    pub safety: Vec<String>,
    /// Fabric and time that a test saves.
    pub fabric: Vec<String>,
}

/// The cautions of every booklet.
pub(super) fn cautions() -> Cautions {
    let owned = |lines: &[&str]| lines.iter().map(|line| (*line).to_owned()).collect();
    Cautions {
        safety: owned(&[
            "A rotary blade is as sharp as a razor. Cut away from yourself, close the blade after every cut, keep fingers behind \
             the edge of the ruler, and change a dull blade.",
            "An iron burns and may scorch fabric. Let it cool where nobody reaches it, and test heat and steam on a scrap.",
            "Templates of acrylic or card slip: hold them down firmly, and never cut round thin paper with a rotary blade.",
            "Keep blades, pins, needles and small parts away from children and pets; count pins when the work is done.",
            "The makers of your tools, fabrics and batting have the last word: follow their instructions where they differ.",
        ]),
        fabric: owned(&[
            "Sew one test block and measure it before you cut all the fabric. Its pieces are listed before its steps; cut them \
             from fabric to spare, since the cutting plan holds none for it.",
            "Wash and press fabric as the finished quilt will be washed, or not at all, before you measure and cut.",
            "Measure the usable width of your own fabric, without selvages; the cutting needs the width that is named.",
        ]),
    }
}
