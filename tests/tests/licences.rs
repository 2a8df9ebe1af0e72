//! What the shipped programs are built from: licences that allow redistribution, and nothing that opens the network
//! or a shell.
#![expect(clippy::unwrap_used, reason = "a story stops where something fails")]

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

const SHIPPED: [&str; 2] = ["jigtrue", "jigtrue-window"];

/// Licences (SPDX) whose terms are met by naming them with the program.
const ALLOWED: [&str; 15] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MPL-2.0",
    "OFL-1.1",
    "Ubuntu-font-1.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Crates that open the network, start programs or a shell, or prepare that for others.
const FORBIDDEN: [&str; 34] = [
    "async-net",
    "attohttpc",
    "curl",
    "curl-sys",
    "duct",
    "h2",
    "h3",
    "hickory-resolver",
    "hyper",
    "isahc",
    "libssh2-sys",
    "minreq",
    "mio",
    "native-tls",
    "open",
    "opener",
    "openssl",
    "openssl-sys",
    "quinn",
    "reqwest",
    "rustls",
    "self_update",
    "shellexpand",
    "socket2",
    "subprocess",
    "surf",
    "tiny_http",
    "tokio",
    "tonic",
    "tungstenite",
    "ureq",
    "webbrowser",
    "websocket",
    "xshell",
];

fn host() -> String {
    let out = Command::new("rustc").arg("-vV").output().unwrap();
    let text = String::from_utf8(out.stdout).unwrap();
    text.lines().find_map(|l| l.strip_prefix("host: ")).unwrap().to_owned()
}

/// What the window needs for the desktop's own message bus, for screen readers; the program without a window must not
/// have it.
const ONLY_FOR_THE_DESKTOP: [&str; 4] = ["async-io", "async-process", "polling", "zbus"];

/// What this machine's build of these programs consists of, build scripts and macros included: name and version,
/// licence.
fn tree(programs: &[&str]) -> BTreeMap<String, String> {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--offline", "--locked", "--filter-platform", &host()])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let metadata: Value = serde_json::from_slice(&out.stdout).unwrap();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let packages: BTreeMap<String, &Value> =
        metadata["packages"].as_array().unwrap().iter().map(|p| (text(&p["id"]), p)).collect();
    let nodes: BTreeMap<String, &Value> =
        metadata["resolve"]["nodes"].as_array().unwrap().iter().map(|n| (text(&n["id"]), n)).collect();
    let mut to_do: Vec<String> = packages
        .iter()
        .filter(|(_, p)| programs.contains(&p["name"].as_str().unwrap()) && p["source"].is_null())
        .map(|(id, _)| id.clone())
        .collect();
    assert_eq!(to_do.len(), programs.len());
    let mut seen = BTreeSet::new();
    while let Some(id) = to_do.pop() {
        if !seen.insert(id.clone()) {
            continue;
        }
        for dependency in nodes[&id]["deps"].as_array().unwrap() {
            let kinds = dependency["dep_kinds"].as_array().unwrap();
            if kinds.iter().any(|k| k["kind"] != "dev") {
                to_do.push(text(&dependency["pkg"]));
            }
        }
    }
    seen.iter()
        .map(|id| {
            let p = packages[id];
            (format!("{} {}", text(&p["name"]), text(&p["version"])), text(&p["license"]))
        })
        .collect()
}

/// Whether an SPDX expression (or the older `A/B` for a choice) can be met by allowed licences alone.
fn allowed(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let met = any(&words, &mut at);
    met && at == words.len()
}

fn any(words: &[&str], at: &mut usize) -> bool {
    let mut met = all(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= all(words, at);
    }
    met
}

fn all(words: &[&str], at: &mut usize) -> bool {
    let mut met = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at);
    }
    met
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let word = words.get(*at).copied().unwrap_or_default();
    *at += 1;
    if word == "(" {
        let met = any(words, at);
        *at += 1;
        return met;
    }
    if words.get(*at) == Some(&"WITH") {
        let with = format!("{word} WITH {}", words.get(*at + 1).copied().unwrap_or_default());
        *at += 2;
        return ALLOWED.contains(&with.as_str());
    }
    ALLOWED.contains(&word)
}

#[test]
fn licence_expressions_are_read_as_they_are_meant() {
    for met in [
        "MIT",
        "GPL-3.0 OR MIT",
        "MIT/Apache-2.0",
        "(MIT OR GPL-2.0) AND ISC",
        "Apache-2.0 WITH LLVM-exception",
    ] {
        assert!(allowed(met), "{met}");
    }
    for not_met in
        ["", "GPL-3.0", "MIT AND GPL-3.0", "(MIT OR ISC) AND GPL-2.0", "MIT MIT", "MIT WITH Some-exception"]
    {
        assert!(!allowed(not_met), "{not_met}");
    }
}

#[test]
fn every_licence_allows_redistribution() {
    let tree = tree(&SHIPPED);
    let wrong: Vec<_> = tree.iter().filter(|(_, licence)| !allowed(licence)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    println!("{} crates", tree.len());
}

#[test]
fn nothing_in_the_programs_opens_the_network_or_a_shell() {
    let tree = tree(&SHIPPED);
    let wrong: Vec<_> =
        tree.keys().filter(|crate_| FORBIDDEN.contains(&crate_.split(' ').next().unwrap())).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    let without_window = self::tree(&["jigtrue"]);
    for name in without_window.keys() {
        assert!(!ONLY_FOR_THE_DESKTOP.contains(&name.split(' ').next().unwrap()), "{name}");
    }
}

/// Our own rooms do not ask the standard library for either.
#[test]
fn our_own_code_opens_neither() {
    let mut folders = vec![std::path::PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../crates"))];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let tests = path.file_name().is_some_and(|n| n == "tests" || n == "examples");
            if path.is_dir() && !tests {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                for word in ["std::net", "TcpStream", "UdpSocket", "TcpListener", "std::process::Command"] {
                    assert!(!text.contains(word), "{}: {word}", path.display());
                }
                files += 1;
            }
        }
    }
    assert!(files > 100, "{files} files looked at");
}
