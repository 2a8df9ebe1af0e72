//! Circles: two files of one room that use each other. The remaining ones are listed here; the list only gets
//! shorter.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A module as its names from the root of the room; empty for the root itself.
type Module = Vec<String>;

/// Remaining circles, as `room: file <-> file`. None may be added.
const LEFT: &[&str] = &[
    "window: action <-> model",
    "window: keys <-> pages/files",
    "window: pages <-> screens",
    "window: pages <-> screens/more",
    "window: pages <-> screens/moves",
    "window: pages/ask <-> screens",
    "window: screens <-> state",
];

/// What a file names of its room: the module a path leads into, and the first name after it.
struct Named {
    module: Module,
    name: Option<String>,
    /// True for `pub use`, which passes a name on and uses nothing itself.
    handed_on: bool,
}

/// The names and signs of a file outside comments and strings, up to its own tests.
fn tokens(text: &str) -> Vec<String> {
    let product = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let mut found: Vec<String> = Vec::new();
    for line in product.lines().filter(|line| !line.trim_start().starts_with("//")) {
        let mut quoted = false;
        let mut word = String::new();
        for c in line.chars().chain(['\n']) {
            if !quoted && (c.is_alphanumeric() || c == '_') {
                word.push(c);
                continue;
            }
            if !word.is_empty() {
                found.push(std::mem::take(&mut word));
            }
            match c {
                '"' => quoted = !quoted,
                ':' if !quoted && found.last().is_some_and(|last| last == ":") => {
                    found.pop();
                    found.push("::".to_owned());
                }
                _ if quoted || c.is_whitespace() => {}
                _ => found.push(c.to_string()),
            }
        }
    }
    found
}

/// The paths of a `use`, from `at` on, each with `before` in front; and where it ended.
fn tree(tokens: &[String], mut at: usize, before: &[String], paths: &mut Vec<Module>) -> usize {
    let mut path = before.to_vec();
    loop {
        match tokens.get(at).map(String::as_str) {
            Some("{") => {
                at += 1;
                while !matches!(tokens.get(at).map(String::as_str), Some("}") | None) {
                    at = tree(tokens, at, &path, paths);
                    if tokens.get(at).is_some_and(|t| t == ",") {
                        at += 1;
                    }
                }
                return at + 1;
            }
            Some("," | "}" | ";") | None => {
                paths.push(path);
                return at;
            }
            Some("::") => at += 1,
            Some("as") => at += 2,
            Some(name) => {
                path.push(name.to_owned());
                at += 1;
            }
        }
    }
}

/// The module and the name that a path of `from` leads to; `None` if it leads out of the room.
fn leads(modules: &BTreeSet<Module>, from: &Module, path: &[String], handed_on: bool) -> Option<Named> {
    let mut module = from.clone();
    let mut rest = path.iter().map(String::as_str).peekable();
    match rest.peek().copied()? {
        "crate" => {
            module.clear();
            rest.next();
        }
        "self" => drop(rest.next()),
        "super" => {
            while rest.next_if_eq(&"super").is_some() {
                module.pop();
            }
        }
        first => {
            let child: Module = module.iter().cloned().chain([first.to_owned()]).collect();
            if !modules.contains(&child) {
                return None;
            }
        }
    }
    while let Some(next) = rest.peek() {
        let child: Module = module.iter().cloned().chain([(*next).to_owned()]).collect();
        if !modules.contains(&child) {
            break;
        }
        module = child;
        rest.next();
    }
    Some(Named { module, name: rest.next().map(str::to_owned), handed_on })
}

fn named(modules: &BTreeSet<Module>, from: &Module, text: &str) -> Vec<Named> {
    let tokens = tokens(text);
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        let after = tokens.get(at + 1).map(String::as_str);
        if token == "use" {
            let handed_on = at > 0 && matches!(tokens[at - 1].as_str(), "pub" | ")");
            let mut paths = Vec::new();
            at = tree(&tokens, at + 1, &[], &mut paths);
            found.extend(paths.iter().filter_map(|path| leads(modules, from, path, handed_on)));
        } else if matches!(token.as_str(), "crate" | "super") && after == Some("::") {
            let path: Module = tokens[at..]
                .chunks(2)
                .take_while(|pair| pair.get(1).is_some_and(|t| t == "::"))
                .map(|pair| pair[0].clone())
                .collect();
            let end = at + 2 * path.len();
            let last = tokens.get(end).cloned();
            found.extend(leads(modules, from, &path.into_iter().chain(last).collect::<Vec<_>>(), false));
            at = end + 1;
        } else {
            at += 1;
        }
    }
    found
}

/// The circles of the room in this folder, as `file <-> file`.
pub fn of(src: &Path, files: &[std::path::PathBuf]) -> BTreeSet<String> {
    let module = |file: &Path| -> Module {
        let inside = file.strip_prefix(src).unwrap().with_extension("");
        let mut names: Module = inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
        if matches!(names.last().map(String::as_str), Some("mod" | "lib" | "main")) {
            names.pop();
        }
        names
    };
    let texts: BTreeMap<Module, String> =
        files.iter().map(|file| (module(file), std::fs::read_to_string(file).unwrap())).collect();
    let modules: BTreeSet<Module> = texts.keys().cloned().collect();
    let all: BTreeMap<&Module, Vec<Named>> =
        texts.iter().map(|(at, text)| (at, named(&modules, at, text))).collect();
    // Where a name that was passed on comes from.
    let home = |named: &Named| {
        let (mut module, mut name) = (&named.module, &named.name);
        for _ in 0..6 {
            let from = name.as_ref().and_then(|name| {
                all[module]
                    .iter()
                    .find(|n| n.handed_on && n.name.as_ref() == Some(name) && n.module != *module)
            });
            let Some(from) = from else { break };
            (module, name) = (&from.module, &from.name);
        }
        module.clone()
    };
    let uses: BTreeMap<&Module, BTreeSet<Module>> = all
        .iter()
        .map(|(at, names)| (*at, names.iter().filter(|n| !n.handed_on).map(home).collect()))
        .collect();
    let word = |module: &Module| if module.is_empty() { "lib".to_owned() } else { module.join("/") };
    let mut found = BTreeSet::new();
    for (at, used) in &uses {
        for other in used.iter().filter(|other| other > at) {
            if uses.get(other).is_some_and(|back| back.contains(*at)) {
                found.insert(format!("{} <-> {}", word(at), word(other)));
            }
        }
    }
    found
}

#[test]
fn no_two_files_of_a_room_use_each_other() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    let mut found = BTreeSet::new();
    let rooms = std::fs::read_dir(format!("{root}/crates")).unwrap().map(|room| room.unwrap().path());
    for room in rooms.chain([Path::new(root).join("firmware-protocol")]) {
        let src = room.join("src");
        let name = room.file_name().unwrap().to_string_lossy().into_owned();
        let files = super::rust_files(&src.to_string_lossy());
        found.extend(of(&src, &files).into_iter().map(|circle| format!("{name}: {circle}")));
    }
    let left: BTreeSet<String> = LEFT.iter().map(|circle| (*circle).to_owned()).collect();
    let new: Vec<_> = found.difference(&left).collect();
    assert!(new.is_empty(), "move what both need into a file of its own:\n{new:#?}");
    for gone in left.difference(&found) {
        println!("no circle any more, take it off the list: {gone}");
    }
}

#[test]
fn a_circle_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let files = [
        write("lib.rs", "mod a;\nmod b;\nmod c;\npub use a::{One, Two as Other};\n"),
        write("a.rs", "use crate::b::Three;\npub struct One;\n"),
        write("b.rs", "// use crate::c;\nfn f() { crate::One; }\n"),
        write("c.rs", "use super::{a::Two, b};\n"),
    ];
    assert_eq!(of(folder.path(), &files), BTreeSet::from(["a <-> b".to_owned()]));
}
