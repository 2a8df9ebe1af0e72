//! Tests that would never run: in the source of a crate whose library is not built as a test, or not read for
//! examples.

use serde_json::Value;
use std::path::{Path, PathBuf};

pub(super) fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found
}

/// What in a source file would never run.
fn unrun(text: &str, library: &Value) -> Option<&'static str> {
    let lines = || text.lines().map(str::trim_start);
    let mut code = lines().filter(|l| !l.starts_with("//"));
    if library["test"] == false && code.any(|l| l.contains("#[test]") || l.contains("cfg(test)")) {
        return Some("a test, and its crate has `test = false`");
    }
    let mut docs = lines().filter(|l| l.starts_with("///") || l.starts_with("//!"));
    (library["doctest"] == false && docs.any(|l| l.contains("```")))
        .then_some("an example, and its crate has `doctest = false`")
}

/// True if the source belongs to a program whose own tests run: its root, or a module that the root names.
fn of_a_program(source: &Path, targets: &[Value]) -> bool {
    targets.iter().filter(|t| t["kind"][0] == "bin" && t["test"] == true).any(|t| {
        let root = Path::new(t["src_path"].as_str().unwrap());
        let text = std::fs::read_to_string(root).unwrap();
        let named =
            text.lines().filter_map(|l| l.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';'));
        let mut places = named.map(|m| root.with_file_name(m));
        source == root || places.any(|p| source.starts_with(&p) || source == p.with_extension("rs"))
    })
}

#[test]
fn no_test_and_no_example_stands_where_it_would_never_run() {
    let metadata = super::metadata();
    let (mut looked, mut wrong) = (0, Vec::new());
    for package in metadata["packages"].as_array().unwrap() {
        let targets = package["targets"].as_array().unwrap();
        for library in targets.iter().filter(|t| t["kind"][0] == "lib") {
            let folder = Path::new(library["src_path"].as_str().unwrap()).parent().unwrap();
            for source in sources(folder).into_iter().filter(|s| !of_a_program(s, targets)) {
                looked += 1;
                let text = std::fs::read_to_string(&source).unwrap();
                wrong.extend(unrun(&text, library).map(|what| format!("{}: {what}", source.display())));
            }
        }
    }
    assert!(looked > 300, "{looked} sources");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_test_that_would_never_run_is_found() {
    let library = |test: bool| serde_json::json!({ "test": test, "doctest": test });
    for text in ["    #[test]\n    fn a() {}", "#[cfg(test)]\nmod tests;", "/// ```\n/// a();\n/// ```"] {
        assert!(unrun(text, &library(false)).is_some(), "{text}");
        assert!(unrun(text, &library(true)).is_none(), "{text}");
    }
    assert!(unrun("// not a #[test]\nfn a() {}", &library(false)).is_none());
}
