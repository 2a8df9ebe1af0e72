//! Flags: a call with a bare `true` or `false` does not say what it asks for. The remaining ones are listed; the list
//! only gets shorter.

use std::collections::BTreeSet;

/// Remaining functions that others can call with a flag among their parameters, as `file: function`.
const LEFT: &[&str] = &["window/app/port: take", "window/draw/button: chosen_if"];

/// The functions of a file that others can call and that take a flag.
fn with_flags(text: &str) -> Vec<String> {
    let product = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let code: Vec<&str> = product.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let code = code.join("\n");
    let mut found = Vec::new();
    for (at, _) in code.match_indices("fn ") {
        let before = code[..at].rsplit('\n').next().unwrap_or_default();
        if !before.trim_start().starts_with("pub") {
            continue;
        }
        let rest = &code[at + 3..];
        let Some(open) = rest.find('(') else { continue };
        let (mut depth, mut end) = (0, rest.len());
        for (i, c) in rest[open..].char_indices() {
            match c {
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                end = open + i;
                break;
            }
        }
        if rest[open..end].split(',').any(|parameter| parameter.trim_end().ends_with(": bool")) {
            found.push(rest[..open].split('<').next().unwrap_or_default().to_owned());
        }
    }
    found
}

#[test]
fn no_function_that_others_call_takes_a_flag() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../crates/");
    let mut found = BTreeSet::new();
    for path in super::rust_files(root) {
        let name = path.strip_prefix(root).unwrap().with_extension("").to_string_lossy().into_owned();
        let Some((room, file)) = name.split_once("/src/") else { continue };
        if file.split('/').any(|part| part == "tests") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        found.extend(with_flags(&text).into_iter().map(|function| format!("{room}/{file}: {function}")));
    }
    let left: BTreeSet<String> = LEFT.iter().map(|one| (*one).to_owned()).collect();
    let new: Vec<_> = found.difference(&left).collect();
    assert!(new.is_empty(), "an enum with names, or two functions, in place of a flag:\n{new:#?}");
    for gone in left.difference(&found) {
        println!("no flag any more, take it off the list: {gone}");
    }
}

#[test]
fn a_flag_is_found() {
    let text = "pub fn a(x: u8, on: bool) {}\npub(crate) fn b<T>(\n    on: bool,\n) {}\nfn own(on: bool) {}\npub fn c() -> bool {}\n// pub fn d(on: bool)\npub const fn e(f: fn(bool), g: &[bool]) {}\n";
    assert_eq!(with_flags(text), ["a", "b"]);
}
