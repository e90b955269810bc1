//! Versions that must agree, or the built scripts do not fit the built modules.

use super::root;

#[test]
fn wasm_bindgen_and_the_tool_that_reads_its_output_have_one_version() {
    let lock = std::fs::read_to_string(root().join("Cargo.lock")).unwrap_or_default();
    let library = versions(&lock, "wasm-bindgen");
    assert_eq!(library.len(), 1, "one wasm-bindgen: {library:?}");
    assert_eq!(library, versions(&lock, "wasm-bindgen-cli-support"));
}

/// The versions of a package in a Cargo.lock.
fn versions<'lock>(lock: &'lock str, name: &str) -> Vec<&'lock str> {
    let wanted = format!("name = \"{name}\"");
    let packages = lock
        .split("[[package]]")
        .filter(|package| package.lines().any(|line| line == wanted));
    packages
        .filter_map(|package| {
            package
                .lines()
                .find_map(|line| line.strip_prefix("version = "))
        })
        .collect()
}

#[test]
fn a_package_is_found_by_its_whole_name() {
    let lock = "[[package]]\nname = \"a\"\nversion = \"1.0.0\"\n\n[[package]]\nname = \"a-b\"\nversion = \"2.0.0\"\n";
    assert_eq!(versions(lock, "a"), ["\"1.0.0\""]);
    assert_eq!(versions(lock, "c"), Vec::<&str>::new());
}
