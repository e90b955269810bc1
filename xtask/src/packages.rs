//! What the machine must have beside Rust, installed only where it is missing.

use std::path::PathBuf;

use crate::failure::{Failure, Outcome};
use crate::run::{Run, find};
use crate::{hash, paths};

/// Installs Debian packages; on any other machine it says what is wanted.
pub(crate) fn debian(wanted: &[&str], why: &str) -> Outcome {
    let line = format!(
        "apt-get install -y --no-install-recommends {}",
        wanted.join(" ")
    );
    if find(&["apt-get"]).is_none() {
        let packages = wanted.join(", ");
        return Err(Failure::new(format!(
            "{why} is missing, and this is no Debian machine: install {packages}"
        )));
    }
    if Run::new("id").arg("-u").read()?.trim() != "0" {
        return Err(Failure::new(format!("{why} is missing"))
            .mend(format!("sudo apt-get update && sudo {line}")));
    }
    println!("{why} is missing: installing it");
    let quiet = |line: &str| {
        Run::new("apt-get")
            .words(line)
            .env("DEBIAN_FRONTEND", "noninteractive")
            .show()
    };
    quiet("update -qq")?;
    quiet(&format!(
        "install -y -qq --no-install-recommends {}",
        wanted.join(" ")
    ))
}

/// Whether Debian's package manager says that all of these are installed.
pub(crate) fn debian_has(wanted: &[&str]) -> bool {
    find(&["dpkg-query"]).is_some()
        && wanted.iter().all(|name| {
            Run::new("dpkg-query")
                .arg("-W")
                .arg("-f=${Status}")
                .arg(name)
                .read()
                .is_ok_and(|status| status.trim() == "install ok installed")
        })
}

/// The npm packages of `tests/browser/package-lock.json`: the optimiser and what the tests use.
pub(crate) fn npm() -> Outcome {
    let lock = paths::browser().join("package-lock.json");
    let bytes = std::fs::read(&lock).map_err(|error| Failure::file("read", &lock, &error))?;
    refuse_hosts(&String::from_utf8_lossy(&bytes))?;
    let stamp = paths::browser().join("node_modules/.installed");
    let wanted = hash::sha256(&bytes);
    if std::fs::read_to_string(&stamp).is_ok_and(|found| found == wanted) {
        return Ok(());
    }
    if find(&["node"]).is_none() || find(&["npm"]).is_none() {
        debian(&["nodejs", "npm"], "node with npm")?;
    }
    Run::new("npm")
        .words("ci --no-audit --no-fund")
        .within(&paths::browser())
        .show()
        .map_err(|failure| {
            Failure::new(failure.to_string())
                .mend("(cd tests/browser && npm ci), on a machine that reaches npm")
        })?;
    std::fs::write(&stamp, wanted).map_err(|error| Failure::file("write", &stamp, &error))
}

/// A lock file that names a registry's host would only install where that host is reached.
fn refuse_hosts(lock: &str) -> Outcome {
    if lock.contains("\"resolved\"") {
        return Err(Failure::new("tests/browser/package-lock.json names hosts in its `resolved` fields")
            .mend("(cd tests/browser && rm package-lock.json && npm install --omit-lockfile-registry-resolved)"));
    }
    Ok(())
}

/// The browser that the tests drive: `$CHROMIUM`, or the first one on the `PATH`, or Debian's.
pub(crate) fn chromium() -> Outcome<PathBuf> {
    const NAMES: &[&str] = &[
        "chromium",
        "chromium-browser",
        "google-chrome",
        "google-chrome-stable",
    ];
    if let Some(named) = std::env::var_os("CHROMIUM").map(PathBuf::from) {
        if named.is_file() {
            return Ok(named);
        }
        return Err(Failure::new(format!(
            "CHROMIUM names {}, which is no file",
            named.display()
        )));
    }
    if let Some(found) = find(NAMES) {
        return Ok(found);
    }
    debian(&["chromium"], "Chromium")?;
    find(NAMES).ok_or_else(|| Failure::new("Chromium was installed but is not on the PATH"))
}

/// What the native tests print and read tags with: poppler for the file, `ZBar` for the codes on it.
pub(crate) fn tag_readers() -> Outcome {
    const PROGRAMS: [&str; 3] = ["pdftoppm", "pdfinfo", "zbarimg"];
    if PROGRAMS.iter().all(|name| find(&[name]).is_some()) {
        return Ok(());
    }
    debian(&["poppler-utils", "zbar-tools"], "poppler or ZBar")
}

#[cfg(test)]
mod tests {
    use super::refuse_hosts;

    #[test]
    fn a_lock_file_with_hosts_is_refused_with_the_command_that_mends_it() {
        assert!(refuse_hosts(r#"{"packages":{"a":{"version":"1.0.0"}}}"#).is_ok());
        let refused =
            refuse_hosts(r#"{"packages":{"a":{"resolved":"https://registry.example/a.tgz"}}}"#);
        let Err(failure) = refused else {
            panic!("accepted")
        };
        assert!(
            failure
                .to_string()
                .contains("npm install --omit-lockfile-registry-resolved")
        );
    }
}
