//! What runs a watch without a screen: the unit and the rule, looked at by the programs they are for.
#![cfg(unix)]

use std::path::Path;
use std::process::Command;

const UNIT: &str = include_str!("../../../packaging/systemd/jigtrue-watch@.service");
const RULE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../packaging/udev/70-jigtrue.rules");

/// What `systemd-analyze verify` has against a unit; nothing where it is not installed.
fn against(folder: &Path, unit: &str) -> Option<String> {
    let path = folder.join("jigtrue-watch@beam.service");
    std::fs::write(&path, unit).unwrap();
    let said = Command::new("systemd-analyze").args(["verify", "--man=no"]).arg(&path).output().ok()?;
    Some(String::from_utf8_lossy(&said.stderr).into_owned())
}

#[test]
fn the_unit_is_one() {
    let folder = tempfile::tempdir().unwrap();
    let program = stories::program::jigtrue();
    let here = UNIT.replace("/usr/bin/jigtrue ", &format!("{} ", program.display()));
    let Some(said) = against(folder.path(), &here) else {
        println!("SKIPPED: no systemd-analyze here, the unit was not looked at (Debian: systemd)");
        return;
    };
    assert_eq!(said, "");
    let wrong = against(folder.path(), &here.replace("RestartSec=10", "RestartSec=ten")).unwrap();
    assert!(wrong.contains("RestartSec") || wrong.contains("Failed to parse"), "{wrong}");
}

/// The options of the unit are options of the program.
#[test]
fn the_unit_calls_the_program_as_it_is() {
    let line = UNIT.lines().find_map(|line| line.strip_prefix("ExecStart=/usr/bin/jigtrue ")).unwrap();
    let help = Command::new(stories::program::jigtrue()).args(["watch", "--help"]).output().unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    for option in line.split(' ').filter(|word| word.starts_with("--")) {
        assert!(help.contains(option), "{option}\n{help}");
    }
}

#[test]
fn the_rule_is_one() {
    let said = Command::new("udevadm").args(["verify", RULE]).output();
    let said = said.map(|said| (said.status.success(), String::from_utf8_lossy(&said.stderr).into_owned()));
    match said {
        Ok((true, _)) => {}
        Ok((false, why)) if !why.contains("nknown command") => assert_eq!(why, ""),
        _ => println!(
            "SKIPPED: no udevadm with the verb verify here (systemd 254 and later), the rule was not looked at"
        ),
    }
}

/// What the page tells to copy is there, and the verbs and options it names are the program's.
#[test]
fn the_page_names_what_there_is() {
    let page = include_str!("../../../docs/small-computer.md");
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let files = page
        .split(|c: char| c.is_whitespace() || "`)(".contains(c))
        .filter(|word| word.starts_with("packaging/"));
    let mut named = 0;
    for file in files {
        assert!(root.join(file).exists(), "{file}");
        named += 1;
    }
    assert!(named >= 3);
    for (verb, option) in [("ports", "--write"), ("check", "--json"), ("backup", "--json")] {
        assert!(page.contains(&format!("jigtrue {verb}")), "{verb}");
        let help = Command::new(stories::program::jigtrue()).args([verb, "--help"]).output().unwrap();
        assert!(
            help.status.success() && String::from_utf8_lossy(&help.stdout).contains(option),
            "{verb} {option}"
        );
    }
    let env = ["LOG", "PORT", "INSTRUMENT", "POINT"];
    assert!(
        env.iter().all(|name| page.contains(&format!("{name}=")) && UNIT.contains(&format!("${{{name}}}")))
    );
}
