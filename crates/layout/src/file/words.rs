//! The words of the file and the kinds of the program, one for one, both ways.

use super::v1;
use crate::{Along, BindingGrain, BuyingStep, Corner, Join, MethodKind, Print, RulerRounding, Side, Stand, Units};
use geometry::{Measure, Value};

/// Makes conversions both ways between two enums with the same variants; a variant that one side lacks does not
/// compile.
macro_rules! same_words {
    ($($ours:ty => $file:ty { $($word:ident),+ })+) => {$(
        impl From<$file> for $ours {
            fn from(file: $file) -> Self {
                match file { $(<$file>::$word => Self::$word),+ }
            }
        }
        impl From<$ours> for $file {
            fn from(ours: $ours) -> Self {
                match ours { $(<$ours>::$word => Self::$word),+ }
            }
        }
    )+};
}

same_words! {
    Units => v1::Units { Inches, Centimetres }
    BuyingStep => v1::BuyingStep { EighthYard, TenCentimetres }
    Value => v1::Value { Light, Medium, Dark }
    Print => v1::Print { Tossed, TwoSided, Directional }
    Measure => v1::Measure { Block, Diamond, OctagonEdge, Side, Height, AcrossFlats }
    Corner => v1::Corner { BottomLeft, BottomRight, TopRight, TopLeft }
    Side => v1::Side { Left, Right, Bottom, Top }
    Stand => v1::Stand { Top, Middle, Bottom }
    Along => v1::Along { Left, Middle, Right }
    Join => v1::Join { Diagonal, Straight }
    BindingGrain => v1::BindingGrain { Across, Bias }
    RulerRounding => v1::RulerRounding { Up, Nearest }
    MethodKind => v1::MethodKind {
        CutSquares, PairedSquares, StripSets, OntoStrips, Folded, Templates, Lengthwise
    }
}
