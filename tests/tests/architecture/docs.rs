//! Docs that say no more than the name below them.

use super::unrun::sources;
use std::collections::BTreeSet;
use std::path::Path;

/// Words that say nothing by themselves.
const EMPTY: &str =
    " the a an of in its this it is for to and as by with on at that what which one are be from ";

/// The words of a line without their endings; `SpareWheels` counts as two words.
fn words(line: &str) -> BTreeSet<String> {
    let mut spaced = String::new();
    for c in line.chars() {
        match c {
            'A'..='Z' if spaced.ends_with(|before: char| before.is_ascii_lowercase()) => {
                spaced.extend([' ', c])
            }
            'A'..='Z' | 'a'..='z' => spaced.push(c),
            _ => spaced.push(' '),
        }
    }
    let stem = |word: &str| {
        let ending = ["ies", "es", "s", "ed", "ing"].into_iter().find_map(|e| word.strip_suffix(e));
        ending.filter(|stem| stem.len() > 2).unwrap_or(word).to_owned()
    };
    spaced
        .to_lowercase()
        .split_whitespace()
        .filter(|w| !EMPTY.contains(&format!(" {w} ")))
        .map(stem)
        .collect()
}

/// Docs of a single line whose every word is in the item below it. What the program prints as help has no full stop.
fn repeats(source: &str) -> Vec<&str> {
    let lines: Vec<&str> = source.lines().map(str::trim_start).collect();
    let doc = |i: usize| lines.get(i).and_then(|line| line.strip_prefix("/// "));
    let sentence = |i: &usize| doc(*i).is_some_and(|said| said.ends_with('.'));
    let alone = |i: &usize| doc(*i).is_some() && doc(i + 1).is_none() && (*i == 0 || doc(i - 1).is_none());
    let said_below = |i: &usize| {
        let item = lines.iter().skip(i + 1).find(|line| !line.starts_with("#["));
        let said = words(doc(*i).unwrap_or_default());
        !said.is_empty() && item.is_some_and(|item| said.is_subset(&words(item)))
    };
    (0..lines.len()).filter(alone).filter(sentence).filter(said_below).map(|i| lines[i]).collect()
}

#[test]
fn no_doc_says_only_what_the_name_says() {
    let root = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."));
    let rooms = std::fs::read_dir(root.join("crates")).unwrap();
    let mut wrong = Vec::new();
    for source in rooms.flat_map(|room| sources(&room.unwrap().path().join("src"))) {
        let text = std::fs::read_to_string(&source).unwrap();
        wrong.extend(repeats(&text).into_iter().map(|line| format!("{}: {line}", source.display())));
    }
    assert!(wrong.is_empty(), "{} docs say only what the name says: {wrong:#?}", wrong.len());
}

#[test]
fn a_doc_that_repeats_is_found_and_one_that_says_more_is_not() {
    for text in [
        "/// The stage.\n    pub stage: String,",
        "/// Its points.\n#[must_use]\npub fn points(&self)",
        "/// A foot move.\nstruct FootMove {",
    ] {
        assert_eq!(repeats(text).len(), 1, "{text}");
    }
    for text in [
        "/// The stage, in the plan's order.\npub stage: usize,",
        "/// The span, in mm.\npub span: f64,",
        "/// The stage\n/// judged.\npub stage: String,",
    ] {
        assert!(repeats(text).is_empty(), "{text}");
    }
}
