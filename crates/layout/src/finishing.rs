//! What finishes a quilt beside its top: binding, backing, batting, and how fabric is bought.

use geometry::{Exact, Length};

use crate::error::{EditError, bounded};
use crate::ids::FabricId;

/// Units on screen and paper. Everything is kept exactly, whichever is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Units {
    /// Inches and yards.
    Inches,
    /// Centimetres and metres.
    Centimetres,
}

/// How the strips of a binding are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Join {
    /// On the diagonal: each join costs one strip width of length.
    Diagonal,
    /// Straight across: each join costs two seam allowances.
    Straight,
}

/// How the strips of a binding lie on the fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum BindingGrain {
    /// Straight across it, from selvage to selvage: enough for straight edges.
    #[default]
    Across,
    /// At 45° to the grain: the strips give, as curved edges and rounded corners need. Their slanted ends lie on the
    /// straight grain and are joined there, whatever [`Join`] says.
    Bias,
}

/// Binding: strips joined end to end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Binding {
    /// Cut width of the strips; 2½ in is usual for a doubled binding (common practice, no source).
    pub strip_width: Length,
    /// Its fabric.
    pub fabric: FabricId,
    /// What is cut beyond the quilt's perimeter for corners and the last join; 10 to 16 in is usual.
    pub extra: Length,
    /// How strips are joined.
    pub join: Join,
    /// How strips lie on the fabric.
    pub grain: BindingGrain,
}

/// Backing and batting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backing {
    /// How far backing and batting reach beyond each side of the top; 3–4 in is usual.
    pub overhang: Length,
    /// Usable width of the backing fabric.
    pub usable_width: Length,
}

/// What is added to the required length, and how the sum is rounded up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Buying {
    /// Shrinkage in thousandths of the length, 0 to [`MAX_SHRINKAGE`].
    shrinkage_permille: u16,
    /// Length that is lost when the cut end is squared up; none if left out.
    pub squaring_up: Option<Length>,
    /// The step to which fabric is sold.
    pub step: BuyingStep,
}

/// The most shrinkage, in thousandths.
pub const MAX_SHRINKAGE: u16 = 250;

/// The step to which fabric is sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BuyingStep {
    /// An eighth of a yard, 4½ inches.
    EighthYard,
    /// Ten centimetres.
    TenCentimetres,
}

impl Buying {
    /// Shrinkage in thousandths of the length, the end that is squared up, and the step of sale.
    ///
    /// # Errors
    /// [`EditError::OutOfBounds`] for shrinkage above [`MAX_SHRINKAGE`].
    pub fn new(shrinkage_permille: u16, squaring_up: Option<Length>, step: BuyingStep) -> Result<Self, EditError> {
        bounded("shrinkage in thousandths", 0, MAX_SHRINKAGE.into(), shrinkage_permille.into())?;
        Ok(Self { shrinkage_permille, squaring_up, step })
    }

    /// Shrinkage in thousandths of the length.
    #[must_use]
    pub const fn shrinkage_permille(&self) -> u16 {
        self.shrinkage_permille
    }
}

/// Refuses a ruler step that is irrational, finer than 1/64 in (0.4 mm) or wider than a foot.
pub(crate) fn check_ruler_step(step: &Length) -> Result<(), EditError> {
    let inches = step.inches();
    let finest = Exact::ratio(1, 64).unwrap_or_default();
    let good = inches.as_rational().is_some() && *inches >= finest && *inches <= Exact::int(12);
    if good { Ok(()) } else { Err(EditError::RulerStep) }
}
