//! The keys of a command, and how they are written in menus and tips.

/// A key with what is held down: `command` is Ctrl, or ⌘ on a Mac.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Keys {
    /// Ctrl or ⌘.
    pub command: bool,
    /// Shift.
    pub shift: bool,
    /// The key, as egui names it.
    pub key: &'static str,
}

impl Keys {
    pub(crate) const fn plain(key: &'static str) -> Self {
        Self { command: false, shift: false, key }
    }

    pub(crate) const fn shift(key: &'static str) -> Self {
        Self { command: false, shift: true, key }
    }

    pub(crate) const fn command(key: &'static str) -> Self {
        Self { command: true, shift: false, key }
    }

    pub(crate) const fn command_shift(key: &'static str) -> Self {
        Self { command: true, shift: true, key }
    }

    /// As it stands in the menu.
    #[must_use]
    pub fn text(self) -> String {
        let held = [(self.command, "Ctrl+"), (self.shift, "Shift+")];
        let prefix: String = held.iter().filter(|(on, _)| *on).map(|(_, name)| *name).collect();
        format!("{prefix}{}", shown_key(self.key))
    }
}

fn shown_key(key: &str) -> &str {
    match key {
        "Plus" => "+",
        "Minus" => "−",
        "OpenBracket" => "[",
        "CloseBracket" => "]",
        "Comma" => ",",
        "Period" => ".",
        "Escape" => "Esc",
        "PageDown" => "Page Down",
        "PageUp" => "Page Up",
        other => other,
    }
}
