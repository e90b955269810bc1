//! Starting other programs, always saying which.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::failure::{Failure, Outcome};
use crate::paths;

/// A program to start in the project's folder.
pub(crate) struct Run {
    command: Command,
    shown: String,
}

impl Run {
    /// The program, by name or path.
    pub(crate) fn new(program: impl AsRef<OsStr>) -> Self {
        let shown = program.as_ref().to_string_lossy().into_owned();
        let mut command = Command::new(program);
        command.current_dir(paths::root()).stdin(Stdio::null());
        Self { command, shown }
    }

    /// One argument.
    pub(crate) fn arg(mut self, argument: impl AsRef<OsStr>) -> Self {
        self.shown.push(' ');
        self.shown.push_str(&argument.as_ref().to_string_lossy());
        self.command.arg(argument);
        self
    }

    /// Several arguments written as one line; none of them may hold a space.
    pub(crate) fn words(self, line: &str) -> Self {
        line.split_whitespace().fold(self, Self::arg)
    }

    /// Sets a variable of the environment.
    pub(crate) fn env(mut self, name: &str, value: impl AsRef<OsStr>) -> Self {
        self.command.env(name, value);
        self
    }

    /// Takes variables out of the environment.
    pub(crate) fn without(mut self, names: &[&str]) -> Self {
        for name in names {
            self.command.env_remove(name);
        }
        self
    }

    /// Starts it in another folder.
    pub(crate) fn within(mut self, folder: &Path) -> Self {
        self.command.current_dir(folder);
        self
    }

    /// Runs to the end with its output on our terminal.
    pub(crate) fn show(mut self) -> Outcome {
        println!("$ {}", self.shown);
        let status = self
            .command
            .status()
            .map_err(|error| self.cannot_start(&error))?;
        if status.success() {
            Ok(())
        } else {
            Err(Failure::new(format!(
                "`{}` ended with {status}",
                self.shown
            )))
        }
    }

    /// Runs to the end and gives what it printed; its complaints go into the failure.
    pub(crate) fn read(mut self) -> Outcome<String> {
        let output = self
            .command
            .output()
            .map_err(|error| self.cannot_start(&error))?;
        if output.status.success() {
            return Ok(String::from_utf8_lossy(&output.stdout).into_owned());
        }
        let complaint = String::from_utf8_lossy(&output.stderr);
        Err(Failure::new(format!(
            "`{}` ended with {}:\n{}",
            self.shown,
            output.status,
            complaint.trim_end()
        )))
    }

    fn cannot_start(&self, error: &std::io::Error) -> Failure {
        Failure::new(format!("cannot start `{}`: {error}", self.shown))
    }
}

/// The first of these programs that `PATH` holds.
pub(crate) fn find(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    names.iter().find_map(|name| {
        folders
            .iter()
            .map(|folder| folder.join(name))
            .find(|file| file.is_file())
    })
}
