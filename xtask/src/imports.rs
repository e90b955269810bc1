//! Short names for what a wasm module imports from its script.
//!
//! wasm-bindgen gives each import a name with a hash in it, and the name stands in both files. A hash
//! cannot be compressed: with some three hundred imports that is several kilobytes of every first
//! visit, which say nothing to anybody.

use crate::failure::{Failure, Outcome};

/// Gives every import that carries a hash a short name, in the module and in its script.
pub(crate) fn shorten(script: &str, wasm: &[u8]) -> Outcome<(String, Vec<u8>)> {
    let failure = |error| Failure::new(format!("reading the bound module again: {error:#}"));
    let mut module = walrus::Module::from_buffer(wasm).map_err(failure)?;
    let mut script = script.to_owned();
    let mut count = 0;
    for import in module.imports.iter_mut() {
        if !has_hash(&import.name) {
            continue;
        }
        let short = format!("i{count}");
        count += 1;
        let (long_key, short_key) = (format!(" {}:", import.name), format!(" {short}:"));
        match script.matches(&long_key).count() {
            1 => script = script.replace(&long_key, &short_key),
            found => {
                return Err(Failure::new(format!(
                    "the script made by wasm-bindgen holds `{long_key}` {found} times, not once: look at imports::shorten again"
                )));
            }
        }
        import.name = short;
    }
    Ok((script, module.emit_wasm()))
}

/// Whether a name ends in the sixteen digits of a hash.
fn has_hash(name: &str) -> bool {
    name.rsplit_once('_').is_some_and(|(_, hash)| {
        hash.len() == 16 && hash.bytes().all(|digit| digit.is_ascii_hexdigit())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn module() -> Vec<u8> {
        let mut module = walrus::Module::default();
        let kind = module.types.add(&[], &[]);
        for name in ["__wbg_close_70d38255291ae4c8", "plain"] {
            module.add_import_func("./app_bg.js", name, kind);
        }
        module.emit_wasm()
    }

    fn names(wasm: &[u8]) -> Vec<String> {
        let Ok(module) = walrus::Module::from_buffer(wasm) else {
            panic!("no module");
        };
        let names = module.imports.iter().map(|import| import.name.clone());
        names.collect()
    }

    #[test]
    fn both_files_get_the_short_name_and_others_keep_theirs() {
        let script = "imports = { __wbg_close_70d38255291ae4c8: function() {}, plain: 1 }";
        let Ok((script, wasm)) = shorten(script, &module()) else {
            panic!("refused");
        };
        assert_eq!(script, "imports = { i0: function() {}, plain: 1 }");
        assert_eq!(names(&wasm), ["i0", "plain"]);
    }

    #[test]
    fn a_script_that_does_not_name_an_import_stops_the_build() {
        assert!(shorten("imports = {}", &module()).is_err());
    }
}
