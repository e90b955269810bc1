//! The table of modules, in reading order.

/// What one module may name.
pub(super) struct Row {
    /// The module's path below the crate. The row with the longest fitting path counts.
    pub(super) module: &'static str,
    /// Modules whose items it may name, beside its own. A path stands for all below it, except
    /// where a part of it has a row of its own.
    pub(super) modules: &'static [&'static str],
    /// Crates it may name; the standard library is free to all.
    pub(super) crates: &'static [&'static str],
}

const BROWSER: &[&str] = &[
    "gloo_storage",
    "indexed_db_futures",
    "js_sys",
    "wasm_bindgen",
    "wasm_bindgen_futures",
    "web_sys",
];
const PLAIN_PAGE: &[&str] = &["js_sys", "wasm_bindgen", "wasm_bindgen_futures", "web_sys"];
const DRAWING_AND_BROWSER: &[&str] = &[
    "js_sys",
    "wasm_bindgen",
    "wasm_bindgen_futures",
    "web_sys",
    "yew",
];

/// Who may import whom; everything else is forbidden.
pub(super) const TABLE: &[Row] = &[
    Row {
        module: "lib",
        modules: &[],
        crates: &["bothends_record", "talc"],
    },
    Row {
        module: "record",
        modules: &[],
        crates: &[],
    },
    Row {
        module: "main",
        modules: &["shell"],
        crates: &[],
    },
    Row {
        module: "bin::papers",
        modules: &["papers", "tags"],
        crates: &["wasm_bindgen"],
    },
    Row {
        module: "bin::scanner",
        modules: &["relay", "scan"],
        crates: &["wasm_bindgen"],
    },
    Row {
        module: "domain",
        modules: &[],
        crates: &["thin_vec"],
    },
    Row {
        module: "journal",
        modules: &["domain", "journal::wire"],
        crates: &["rustc_hash", "sha2", "thin_vec"],
    },
    Row {
        module: "journal::wire",
        modules: &["domain", "journal"],
        crates: &["serde", "serde_json", "sha2", "thin_vec"],
    },
    Row {
        module: "codes",
        modules: &["domain"],
        crates: &["qrcodegen", "sha2"],
    },
    Row {
        module: "scan",
        modules: &["codes"],
        crates: &[],
    },
    Row {
        module: "tags",
        modules: &["domain", "journal", "codes", "names", "query", "walk"],
        crates: &[],
    },
    Row {
        module: "papers",
        modules: &["tags", "codes", "exchange", "relay"],
        crates: &["miniz_oxide", "pdf_writer"],
    },
    Row {
        module: "command",
        modules: &["domain", "journal", "codes", "names", "walk"],
        crates: &[],
    },
    Row {
        module: "query",
        modules: &["domain", "journal", "codes", "names", "walk"],
        crates: &["rustc_hash"],
    },
    Row {
        module: "names",
        modules: &["domain", "journal"],
        crates: &[],
    },
    Row {
        module: "walk",
        modules: &["domain", "journal"],
        crates: &["rustc_hash"],
    },
    Row {
        module: "schedule",
        modules: &["domain", "journal", "codes", "names", "walk", "exchange"],
        crates: &["sha2"],
    },
    Row {
        module: "exchange",
        modules: &["domain", "journal", "journal::wire", "codes"],
        crates: &["base64", "serde", "serde_json", "sha2"],
    },
    Row {
        module: "relay",
        modules: &[],
        crates: &["base45", "miniz_oxide", "sha2"],
    },
    Row {
        module: "app",
        modules: &[
            "domain", "journal", "command", "query", "codes", "exchange", "names", "walk",
            "schedule", "tags", "relay",
        ],
        crates: &[],
    },
    Row {
        module: "view",
        modules: &["domain"],
        crates: &[],
    },
    Row {
        module: "platform",
        modules: &["app::ports"],
        crates: BROWSER,
    },
    Row {
        module: "ui",
        modules: &[
            "app", "command", "names", "exchange", "schedule", "query", "domain", "codes", "tags",
            "view",
        ],
        crates: &[],
    },
    Row {
        module: "touched",
        modules: &["view"],
        crates: PLAIN_PAGE,
    },
    Row {
        module: "paint",
        modules: &["touched", "view"],
        crates: DRAWING_AND_BROWSER,
    },
    Row {
        module: "shell",
        modules: &["app", "domain", "journal", "paint", "platform", "ui"],
        crates: DRAWING_AND_BROWSER,
    },
];

/// The row that counts for a path such as `journal::wire::v1`.
pub(super) fn row_of(path: &str) -> Option<&'static Row> {
    TABLE
        .iter()
        .filter(|row| is_within(path, row.module))
        .max_by_key(|row| row.module.len())
}

/// Whether `path` is `module` or something below it.
pub(super) fn is_within(path: &str, module: &str) -> bool {
    path.strip_prefix(module)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with("::"))
}

#[test]
fn the_longest_fitting_row_counts() {
    for (path, wanted) in [
        ("journal::fact", Some("journal")),
        ("journal::wire::v1", Some("journal::wire")),
        ("journal::wired", Some("journal")),
        ("journals", None),
    ] {
        assert_eq!(row_of(path).map(|row| row.module), wanted, "{path}");
    }
}
