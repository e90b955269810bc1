//! From Rust to the scripts and wasm modules that a browser loads.

use std::path::{Path, PathBuf};

use wasm_bindgen_cli_support::Bindgen;

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{compress, hash, imports, order, packages, paths, scripts, settings, toolchain};

/// One wasm module, ready to be served.
pub(crate) struct Module {
    /// Name of its `[[bin]]`.
    pub(crate) name: String,
    /// The script that loads it.
    pub(crate) script: String,
    /// The module itself.
    pub(crate) wasm: Vec<u8>,
    /// Its brotli form, which takes longer to find than anything else of a build that was made before.
    pub(crate) packed: Vec<u8>,
    /// Scripts that the loading script imports, by path beside it.
    pub(crate) snippets: Vec<(String, Vec<u8>)>,
}

/// Builds all modules of [`settings::MODULES`].
pub(crate) fn build() -> Outcome<Vec<Module>> {
    packages::npm()?;
    toolchain::find_or_install()?
        .cargo("build --release")
        .show()?;
    settings::MODULES.iter().map(|name| finish(name)).collect()
}

/// The lints of the code that only the browser build sees.
pub(crate) fn clippy() -> Outcome {
    toolchain::find_or_install()?
        .cargo("clippy")
        .words("-- -D warnings")
        .show()
}

/// Binds and optimises one module, or takes the result of an earlier run on the same bytes.
fn finish(name: &str) -> Outcome<Module> {
    let raw_path = paths::web_target()
        .join("wasm32-unknown-unknown/release")
        .join(format!("{name}.wasm"));
    let raw = std::fs::read(&raw_path).map_err(|error| Failure::file("read", &raw_path, &error))?;
    let folder = paths::cache().join(format!("{name}-{}", key(&raw)));
    if !folder.join("done").is_file() {
        forget_older(name)?;
        bind(name, &raw_path, &folder)?;
        optimise(name, &folder)?;
        let packed = compress::brotli(&folder.join(format!("{name}.wasm")))?;
        let path = folder.join(format!("{name}.wasm.br"));
        std::fs::write(&path, packed).map_err(|error| Failure::file("write", &path, &error))?;
        std::fs::write(folder.join("done"), "")
            .map_err(|error| Failure::file("write", &folder, &error))?;
    }
    let script = folder.join(format!("{name}.js"));
    let read =
        |path: PathBuf| std::fs::read(&path).map_err(|error| Failure::file("read", &path, &error));
    let glue =
        std::fs::read_to_string(&script).map_err(|error| Failure::file("read", &script, &error))?;
    Ok(Module {
        name: name.to_owned(),
        script: scripts::minify(&guard(&glue)?)?,
        wasm: read(folder.join(format!("{name}.wasm")))?,
        packed: read(folder.join(format!("{name}.wasm.br")))?,
        snippets: snippets(&folder)?,
    })
}

/// Names a cached result by all that it depends on: the module, the flags and the tools' versions.
fn key(raw: &[u8]) -> String {
    let lock = |path: PathBuf| std::fs::read(path).unwrap_or_default();
    let npm = lock(paths::browser().join("package-lock.json"));
    let cargo = lock(paths::root().join("Cargo.lock"));
    let all = [
        raw,
        include_bytes!("imports.rs").as_slice(),
        include_bytes!("order.rs").as_slice(),
        include_bytes!("../brotli.mjs").as_slice(),
        settings::WASM_FEATURES.join(" ").as_bytes(),
        settings::WASM_OPTIMISER.as_bytes(),
        settings::WASM_ORDER.as_bytes(),
        settings::WASM_STRIP.as_bytes(),
        &npm,
        &cargo,
    ]
    .concat();
    hash::short(&all)
}

fn forget_older(name: &str) -> Outcome {
    let Ok(entries) = std::fs::read_dir(paths::cache()) else {
        return Ok(());
    };
    for path in entries.flatten().map(|entry| entry.path()) {
        let old = path
            .file_name()
            .and_then(|file| file.to_str())
            .and_then(|file| file.rsplit_once('-'));
        if old.is_some_and(|(of, _)| of == name) {
            std::fs::remove_dir_all(&path)
                .map_err(|error| Failure::file("remove", &path, &error))?;
        }
    }
    Ok(())
}

fn bind(name: &str, raw: &Path, folder: &Path) -> Outcome {
    println!("binding {name}");
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(raw)
        .out_name(name)
        .typescript(false)
        .omit_default_module_path(true)
        .remove_producers_section(true);
    let outcome = bindgen
        .web(true)
        .and_then(|bindgen| bindgen.generate(folder));
    outcome.map_err(|error| Failure::new(format!("binding {name}: {error:#}")))?;
    let (script_path, wasm_path) = (
        folder.join(format!("{name}.js")),
        folder.join(format!("{name}_bg.wasm")),
    );
    let script = std::fs::read_to_string(&script_path)
        .map_err(|error| Failure::file("read", &script_path, &error))?;
    let wasm =
        std::fs::read(&wasm_path).map_err(|error| Failure::file("read", &wasm_path, &error))?;
    let (script, wasm) = imports::shorten(&script, &wasm)?;
    std::fs::write(&script_path, script)
        .map_err(|error| Failure::file("write", &script_path, &error))?;
    std::fs::write(&wasm_path, wasm).map_err(|error| Failure::file("write", &wasm_path, &error))
}

fn optimise(name: &str, folder: &Path) -> Outcome {
    let optimiser = || {
        let program = paths::browser().join("node_modules/binaryen/bin/wasm-opt");
        let run = Run::new("node").arg(program);
        settings::WASM_FEATURES
            .iter()
            .fold(run, Run::arg)
            .words(settings::WASM_OPTIMISER)
    };
    let bound = folder.join(format!("{name}_bg.wasm"));
    let (once, named) = (folder.join("once.wasm"), folder.join("named.wasm"));
    optimiser()
        .arg("--debuginfo")
        .arg(&bound)
        .arg("-o")
        .arg(&once)
        .show()?;
    let wasm = std::fs::read(&once).map_err(|error| Failure::file("read", &once, &error))?;
    std::fs::write(&named, order::name_by_likeness(&wasm)?)
        .map_err(|error| Failure::file("write", &named, &error))?;
    let list = folder.join("functions.txt");
    optimiser()
        .words(settings::WASM_ORDER)
        .arg(format!("--symbolmap={}", list.display()))
        .words(settings::WASM_STRIP)
        .arg(&named)
        .arg("-o")
        .arg(folder.join(format!("{name}.wasm")))
        .show()?;
    let names =
        std::fs::read_to_string(&list).map_err(|error| Failure::file("read", &list, &error))?;
    std::fs::write(&list, order::own_names(&names))
        .map_err(|error| Failure::file("write", &list, &error))
}

/// Puts a gate before the module: `bothendsGuard` of `web/boot.js` wraps everything that JavaScript
/// can call, so that after a panic nothing of the module is called again, by whatever timer,
/// promise or event. The text that it replaces must be there once, or the build stops.
fn guard(glue: &str) -> Outcome<String> {
    const OPEN: &str = "wasm = instance.exports;";
    const GUARDED: &str =
        "wasm = globalThis.bothendsGuard?.(instance.exports) ?? instance.exports;";
    match glue.matches(OPEN).count() {
        1 => Ok(glue.replace(OPEN, GUARDED)),
        count => Err(Failure::new(format!(
            "the script made by wasm-bindgen holds `{OPEN}` {count} times, not once: look at wasm::guard again"
        ))),
    }
}

fn snippets(folder: &Path) -> Outcome<Vec<(String, Vec<u8>)>> {
    let mut found = Vec::new();
    let mut waiting = vec![folder.join("snippets")];
    while let Some(next) = waiting.pop() {
        let Ok(entries) = std::fs::read_dir(&next) else {
            continue;
        };
        for path in entries.flatten().map(|entry| entry.path()) {
            if path.is_dir() {
                waiting.push(path);
                continue;
            }
            let bytes =
                std::fs::read(&path).map_err(|error| Failure::file("read", &path, &error))?;
            let name = path
                .strip_prefix(folder)
                .unwrap_or(&path)
                .to_string_lossy()
                .into_owned();
            found.push((name, bytes));
        }
    }
    found.sort();
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::guard;

    #[test]
    fn the_guard_goes_in_once_or_the_build_stops() {
        let Ok(guarded) = guard("function f() { wasm = instance.exports; }") else {
            panic!("refused")
        };
        assert!(guarded.contains("bothendsGuard?.(instance.exports)"));
        assert!(guard("wasm = other;").is_err());
        assert!(guard("wasm = instance.exports; wasm = instance.exports;").is_err());
    }
}
