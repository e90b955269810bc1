//! Every figure and every list that somebody may want to change, in one place.

/// The wasm modules of the app, by the names of their `[[bin]]` in Cargo.toml. The list of jobs is
/// drawn without any; the first, the app, is loaded when a job is opened, and fetched ahead meanwhile.
/// The others are kept beside it, each for one kind of work. `web/boot.js` knows them by name.
pub(crate) const MODULES: &[&str] = &["bothends", "papers", "scanner"];

/// The most that may be transferred until the first screen is usable, in bytes after brotli: page,
/// style and scripts. On a slow mobile link of 1.6 Mbit/s this is 0.8 s.
pub(crate) const FIRST_LOAD_BUDGET: usize = 160_000;

/// The most that the app itself takes on a phone for use without a network, in bytes after brotli,
/// icons apart. It is kept whole or not at all. On the same link it takes 2.4 s, behind a first screen
/// that works meanwhile. It was 450,000 before the screens of the rough-in, of the tags, of scanning, of
/// conduits, of the rack builder's bench and of the crew came in: what they decide needs the registry, so
/// they cannot go beside it. 40,000 are what it takes to have the part that opens a job compiled to be fast.
pub(crate) const WHOLE_BUDGET: usize = 653_000;

/// The most that is kept beside the app once that is there, in bytes after brotli: what a job can be
/// done without, so that a slow link does not hold the app up for it. The demo job; room for modules
/// that one kind of work alone needs.
pub(crate) const BESIDE_BUDGET: usize = 150_000;

/// Features of wasm that the compiler emits by default and the optimiser must be told of.
pub(crate) const WASM_FEATURES: &[&str] = &[
    "--enable-bulk-memory",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-sign-ext",
    "--enable-multivalue",
    "--enable-mutable-globals",
];

/// What the optimiser does. What counts is the size after brotli: the passes that are skipped make
/// the module smaller as it lies on the disk and larger as it is sent, because they turn what is
/// written alike in many places into many slightly different things. The first 1024 bytes of memory
/// are the far end of the stack, so that no address there is ever computed from a pointer. It is done twice over:
/// the second time finds a little more, and puts the functions in order ([`WASM_ORDER`]).
pub(crate) const WASM_OPTIMISER: &str = "-Oz --low-memory-unused --skip-pass=inlining-optimizing \
    --skip-pass=local-cse --skip-pass=simplify-locals --skip-pass=merge-locals";

/// How the optimiser puts the functions in order; `order.rs` gives them names for that.
pub(crate) const WASM_ORDER: &str = "--reorder-functions-by-name";

/// What the optimiser takes out at the end, once the names of the functions are written down.
pub(crate) const WASM_STRIP: &str = "--strip-debug --strip-producers";

/// Flags of Cargo that build the standard library with the app: the same code is optimised as one,
/// and its sorts, searches and prints are the short ones.
pub(crate) const BUILD_STD: &str =
    "-Zbuild-std=std,panic_abort -Zbuild-std-features=optimize_for_size";

/// Flags of the compiler where the standard library is built with the app: a mistake of the program
/// traps at once, without a message or a place. Those of all the places that never fail were a twentieth
/// of the app; the screen that follows shows the numbers of the functions that were at work instead,
/// and the build writes down their names. `Debug` writes nothing there: it is for tests, and no words for
/// people come of it (`tests/architecture/words.rs`).
pub(crate) const TRAP_AT_ONCE: &str =
    "-Zunstable-options -Cpanic=immediate-abort -Zlocation-detail=none -Zfmt-debug=none";

/// The compiler for the browser where rustup has no wasm32 target: Debian's, whatever version it has.
pub(crate) const DEBIAN_RUST: &[&str] =
    &["rustc-web", "cargo-web", "rust-web-src", "rust-web-clippy"];

/// Licences that may stand in the dependency tree, by their SPDX names. All of them allow use in a
/// program under MIT or Apache-2.0 and ask for no source in return.
pub(crate) const LICENCES: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-1-Clause",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Where `cargo xtask serve` listens unless told otherwise.
pub(crate) const SERVE_PORT: u16 = 8080;

/// The seeds of the photographs of tags that readers are compared on. None of them was used to tune ours,
/// which was done on 1 to 3.
pub(crate) const SCAN_SEEDS: [u64; 5] = [101, 102, 103, 104, 105];

/// How many steps our reader of tags has for a photograph there: about 50 ms of a picture that it cannot
/// read.
pub(crate) const SCAN_STEPS: usize = 14;

/// The packages of Python that hold the other readers; the benchmark alone uses them.
pub(crate) const SCAN_OTHERS: &str = "numpy pyzbar zxing-cpp";

/// The package of npm that judges the page; the benchmark alone uses it, and it is too large (111 MB) to
/// stand among what the browser tests need.
pub(crate) const LIGHTHOUSE: &str = "lighthouse@12.2.3";

/// How many random seeds a long test tries unless told otherwise.
pub(crate) const LONG_SEEDS: u64 = 2000;

/// How many random histories of several phones a long test tries, whatever it is told for the others.
pub(crate) const LONG_HISTORIES: u64 = 10_000;

/// For how many seconds a long test gives each reader hostile input unless told otherwise.
pub(crate) const FUZZ_SECONDS: u64 = 600;

#[cfg(test)]
mod tests {
    use super::MODULES;

    #[test]
    fn every_program_of_the_app_is_a_module() {
        let path = crate::paths::root().join("Cargo.toml");
        let manifest = std::fs::read_to_string(path).unwrap_or_default();
        let programs: Vec<&str> = manifest
            .split("[[bin]]")
            .skip(1)
            .filter_map(|section| {
                section
                    .lines()
                    .find_map(|line| line.strip_prefix("name = "))
            })
            .map(|name| name.trim_matches('"'))
            .collect();
        let mut modules = MODULES.to_vec();
        modules.sort_unstable();
        let mut programs = programs;
        programs.sort_unstable();
        assert_eq!(programs, modules);
    }
}
