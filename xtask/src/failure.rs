//! Trouble in words: what is wrong, and the command that mends it.

use std::fmt;
use std::path::Path;

/// Why a command stopped.
pub(crate) struct Failure {
    what: String,
    mend: Option<String>,
}

/// The result of a step of work.
pub(crate) type Outcome<T = ()> = Result<T, Failure>;

impl Failure {
    /// A failure described by one sentence.
    pub(crate) fn new(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            mend: None,
        }
    }

    /// Adds the command that puts it right.
    pub(crate) fn mend(mut self, command: impl Into<String>) -> Self {
        self.mend = Some(command.into());
        self
    }

    /// In words that name no place outside a folder, for a table that is copied into a text.
    pub(crate) fn within(&self, folder: &Path) -> String {
        self.to_string()
            .replace(&format!("{}/", folder.display()), "")
    }

    /// A file that could not be read or written.
    pub(crate) fn file(doing: &str, path: &Path, error: &std::io::Error) -> Self {
        Self::new(format!("cannot {doing} {}: {error}", path.display()))
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "xtask: {}", self.what)?;
        match &self.mend {
            Some(command) => write!(to, "\n  to mend it: {command}"),
            None => Ok(()),
        }
    }
}
