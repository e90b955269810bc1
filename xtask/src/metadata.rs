//! What Cargo says of the dependency tree.

use serde_json::Value;

use crate::failure::{Failure, Outcome};
use crate::run::Run;

/// One package of the tree.
pub(crate) struct Package {
    /// Its name in the registry.
    pub(crate) name: String,
    /// Its version.
    pub(crate) version: String,
    /// Its licence expression, where it states one.
    pub(crate) licence: Option<String>,
    /// Whether it belongs to this project.
    pub(crate) ours: bool,
    /// What it depends on directly.
    pub(crate) dependencies: Vec<Dependency>,
}

/// One direct dependency.
pub(crate) struct Dependency {
    /// The name that sources use.
    pub(crate) name: String,
    /// Whether only tests and examples have it.
    pub(crate) for_tests: bool,
}

/// All packages of the lock file, for every target and for tests too.
pub(crate) fn packages() -> Outcome<Vec<Package>> {
    let text = Run::new("cargo")
        .words("metadata --format-version 1 --locked")
        .read()?;
    let all: Value = serde_json::from_str(&text)
        .map_err(|error| Failure::new(format!("cannot read what cargo metadata says: {error}")))?;
    let list = all["packages"]
        .as_array()
        .ok_or_else(|| Failure::new("cargo metadata lists no packages"))?;
    Ok(list.iter().map(package).collect())
}

fn package(value: &Value) -> Package {
    let text = |name: &str| value[name].as_str().map(str::to_owned);
    let dependencies = value["dependencies"]
        .as_array()
        .map(Vec::as_slice)
        .unwrap_or_default();
    Package {
        name: text("name").unwrap_or_default(),
        version: text("version").unwrap_or_default(),
        licence: text("license"),
        ours: value["source"].is_null(),
        dependencies: dependencies
            .iter()
            .map(|dependency| {
                let name = dependency["rename"]
                    .as_str()
                    .or(dependency["name"].as_str())
                    .unwrap_or_default();
                Dependency {
                    name: name.replace('-', "_"),
                    for_tests: dependency["kind"] == "dev",
                }
            })
            .collect(),
    }
}
