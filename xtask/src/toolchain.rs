//! Which compiler builds for the browser.
//!
//! The order: the wasm32 target where it is installed; else rustup adds it; else Debian's compiler.
//! Either compiler builds the standard library from source, with the variants of its algorithms
//! that are small, where that source can be had: Debian's has no other, rustup's has a ready-made
//! one, which makes the same app about a twelfth larger.

use std::path::{Path, PathBuf};

use crate::failure::{Failure, Outcome};
use crate::run::{Run, find};
use crate::{packages, paths, settings};

const TARGET: &str = "wasm32-unknown-unknown";

/// A way to run Cargo for the browser.
pub(crate) enum Toolchain {
    /// The default toolchain has the target.
    Installed(Standard),
    /// Debian's own compiler, which needs the standard library built from source.
    Debian {
        /// The program that links wasm.
        linker: PathBuf,
    },
}

/// The standard library that goes into the app.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Standard {
    /// Built here, small.
    FromSource,
    /// The one that came with the target.
    ReadyMade,
}

impl Toolchain {
    /// Cargo with `words` (a subcommand and its flags) for the app's library and modules.
    pub(crate) fn cargo(&self, words: &str) -> Run {
        let rest = format!("-p bothends --lib --bins --target {TARGET}");
        let run = |cargo: &str| {
            Run::new(cargo)
                .words(words)
                .words(&rest)
                .arg("--target-dir")
                .arg(paths::web_target())
        };
        match self {
            Self::Installed(Standard::ReadyMade) => run("cargo"),
            Self::Installed(Standard::FromSource) => run("cargo")
                .words(settings::BUILD_STD)
                .env("RUSTFLAGS", settings::TRAP_AT_ONCE)
                .env("RUSTC_BOOTSTRAP", "1"),
            Self::Debian { linker } => run("/usr/bin/cargo")
                .words(settings::BUILD_STD)
                .without(&[
                    "RUSTUP_TOOLCHAIN",
                    "CARGO",
                    "RUSTC_WRAPPER",
                    "CARGO_ENCODED_RUSTFLAGS",
                ])
                .env("RUSTFLAGS", settings::TRAP_AT_ONCE)
                .env("RUSTC_BOOTSTRAP", "1")
                .env("RUSTC", "/usr/bin/rustc")
                .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker)
                .env("PATH", system_first()),
        }
    }
}

/// Finds the compiler, and sets up what is missing.
pub(crate) fn find_or_install() -> Outcome<Toolchain> {
    if target_installed() {
        return Ok(Toolchain::Installed(standard()));
    }
    if packages::debian_has(settings::DEBIAN_RUST) && paths::web_target().join("debian").is_file() {
        return debian();
    }
    if find(&["rustup"]).is_some() {
        match Run::new("rustup").words("target add").arg(TARGET).show() {
            Ok(()) if target_installed() => return Ok(Toolchain::Installed(standard())),
            _ => println!("rustup cannot add the target here; trying Debian's compiler"),
        }
    }
    if find(&["apt-get"]).is_none() {
        return Err(
            Failure::new(format!("the target {TARGET} is not installed"))
                .mend(format!("rustup target add {TARGET}")),
        );
    }
    if !packages::debian_has(settings::DEBIAN_RUST) {
        packages::debian(settings::DEBIAN_RUST, "a compiler for the browser")?;
    }
    debian()
}

fn target_installed() -> bool {
    Run::new("rustc")
        .words("--print target-libdir --target")
        .arg(TARGET)
        .read()
        .is_ok_and(|folder| PathBuf::from(folder.trim()).is_dir())
}

/// Whether the source of the standard library and of what it depends on can be had.
fn standard() -> Standard {
    let Ok(sysroot) = Run::new("rustc").words("--print sysroot").read() else {
        return Standard::ReadyMade;
    };
    let library = PathBuf::from(sysroot.trim()).join("lib/rustlib/src/rust/library");
    if !library.is_dir() && find(&["rustup"]).is_some() {
        // What comes of it is seen by looking for the source again.
        Run::new("rustup")
            .words("component add rust-src")
            .show()
            .unwrap_or_else(|_| println!("rustup cannot add the source of the standard library"));
    }
    if library.is_dir() && fetched(&library) {
        Standard::FromSource
    } else {
        println!("taking the ready-made standard library: the app will be larger");
        Standard::ReadyMade
    }
}

/// Fetches the packages that the standard library is built from, unless they are all here.
fn fetched(library: &Path) -> bool {
    let fetch = |more: &str| {
        Run::new("cargo")
            .words("fetch --locked --manifest-path")
            .arg(library.join("Cargo.toml"))
            .arg("--target")
            .arg(TARGET)
            .words(more)
            .env("RUSTC_BOOTSTRAP", "1")
            .read()
            .is_ok()
    };
    fetch("--offline") || fetch("")
}

/// Remembers the choice, so that rustup is not asked again at every build.
fn debian() -> Outcome<Toolchain> {
    let linker = linker()?;
    let folder = paths::web_target();
    std::fs::create_dir_all(&folder)
        .and_then(|()| std::fs::write(folder.join("debian"), "rustup could not add the target\n"))
        .map_err(|error| Failure::file("write", &folder, &error))?;
    Ok(Toolchain::Debian { linker })
}

/// rustup's linker, which every toolchain carries; else the newest of Debian's.
fn linker() -> Outcome<PathBuf> {
    let sysroot = Run::new("rustc")
        .words("--print sysroot")
        .read()
        .unwrap_or_default();
    let hosts = std::fs::read_dir(PathBuf::from(sysroot.trim()).join("lib/rustlib"));
    let own = hosts
        .into_iter()
        .flatten()
        .flatten()
        .map(|host| host.path().join("bin/rust-lld"));
    if let Some(found) = own.into_iter().find(|file| file.is_file()) {
        return Ok(found);
    }
    if let Some(found) = debian_linker() {
        return Ok(found);
    }
    packages::debian(&["lld"], "a linker for wasm")?;
    debian_linker()
        .ok_or_else(|| Failure::new("no linker for wasm was found").mend("apt-get install lld-22"))
}

/// Debian names its linkers by version; the newest reads what the newest compiler writes.
fn debian_linker() -> Option<PathBuf> {
    let names = std::fs::read_dir("/usr/bin").ok()?.flatten();
    let version = |path: &PathBuf| -> Option<u32> {
        let name = path.file_name()?.to_str()?;
        let rest = name.strip_prefix("wasm-ld")?;
        if rest.is_empty() {
            Some(0)
        } else {
            rest.strip_prefix('-')?.parse().ok()
        }
    };
    names
        .map(|entry| entry.path())
        .filter(|path| version(path).is_some())
        .max_by_key(version)
}

fn system_first() -> std::ffi::OsString {
    let mut path = std::ffi::OsString::from("/usr/bin:");
    path.push(std::env::var_os("PATH").unwrap_or_default());
    path
}
