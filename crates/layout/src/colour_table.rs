//! Role tables for designs of two, three and four colours.
//!
//! What follows a half takes the dark or the light fabric. What goes against its half takes the opposite one in
//! two colours, a third fabric in three, and one of two further fabrics in four. In blocks without halves the
//! medium patches take the third fabric, and the second role among the light ones takes the fourth.

use geometry::{Block, Role, Tone, Value};

use crate::block_def::{RoleTable, needed_roles};
use crate::ids::FabricId;

/// The fabrics of a design, by how many colours it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColourScheme {
    /// A dark and a light.
    Two {
        /// Dark fabric.
        dark: FabricId,
        /// Light fabric.
        light: FabricId,
    },
    /// A dark, a light, and one for the diamonds.
    Three {
        /// Dark fabric.
        dark: FabricId,
        /// Light fabric.
        light: FabricId,
        /// Fabric of what goes against its half, and of medium patches.
        accent: FabricId,
    },
    /// A dark, a light, one for the diamonds in dark halves and one for those in light halves.
    Four {
        /// Dark fabric.
        dark: FabricId,
        /// Light fabric.
        light: FabricId,
        /// Fabric of what goes against a dark half, and of medium patches.
        on_dark: FabricId,
        /// Fabric of what goes against a light half, and of the second light role.
        on_light: FabricId,
    },
}

/// The role table that `scheme` gives for `block`: an entry for every role at every value it can have.
#[must_use]
pub fn colour_table(block: &Block, scheme: ColourScheme) -> RoleTable {
    let goes_against =
        |role: &Role| block.patches().iter().any(|p| p.role == *role && matches!(p.tone, Tone::AgainstHalf(_)));
    let second_light = second_light_role(block);
    let fabric = |role: &Role, value: Value| match scheme {
        ColourScheme::Two { dark, light } => {
            let value = if goes_against(role) { value.opposite() } else { value };
            if value == Value::Light { light } else { dark }
        }
        ColourScheme::Three { accent, .. } if goes_against(role) => accent,
        ColourScheme::Three { dark, light, accent } => [light, accent, dark][value as usize],
        ColourScheme::Four { on_dark, on_light, .. } if goes_against(role) => {
            if value == Value::Light {
                on_light
            } else {
                on_dark
            }
        }
        ColourScheme::Four { on_light, .. } if value == Value::Light && second_light.as_ref() == Some(role) => on_light,
        ColourScheme::Four { dark, light, on_dark, .. } => [light, on_dark, dark][value as usize],
    };
    needed_roles(block).into_iter().map(|(role, value)| ((role.clone(), value), fabric(&role, value))).collect()
}

/// In a block without halves, the second role (by first patch) among the light ones.
fn second_light_role(block: &Block) -> Option<Role> {
    if block.halves() > 0 {
        return None;
    }
    let mut roles: Vec<&Role> = Vec::new();
    for patch in block.patches() {
        if patch.tone == Tone::Own(Value::Light) && !roles.contains(&&patch.role) {
            roles.push(&patch.role);
        }
    }
    roles.get(1).map(|role| (*role).clone())
}
