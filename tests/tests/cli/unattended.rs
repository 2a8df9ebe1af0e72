//! What runs a watch without a screen: the unit and the rule, checked by the programs that use them.
#![cfg(unix)]

use std::path::Path;
use std::process::Command;

const UNIT: &str = include_str!("../../../packaging/systemd/jigtrue-watch@.service");
const RULE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../packaging/udev/70-jigtrue.rules");

/// The complaints of `systemd-analyze verify` about a unit; `None` if it is not installed.
fn against(folder: &Path, unit: &str) -> Option<String> {
    let path = folder.join("jigtrue-watch@beam.service");
    std::fs::write(&path, unit).unwrap();
    let said = Command::new("systemd-analyze").args(["verify", "--man=no"]).arg(&path).output().ok()?;
    Some(String::from_utf8_lossy(&said.stderr).into_owned())
}

#[test]
fn the_unit_is_valid() {
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
fn the_rule_is_valid() {
    let said = Command::new("udevadm").args(["verify", RULE]).output();
    let said = said.map(|said| (said.status.success(), String::from_utf8_lossy(&said.stderr).into_owned()));
    match said {
        Ok((true, _)) => {}
        Ok((false, why)) if !why.contains("nknown command") => assert_eq!(why, ""),
        _ => println!(
            "SKIPPED: no udevadm with the verb verify here (systemd 254 and later); the rule is only played"
        ),
    }
}

/// What udev makes of these rules if a terminal of this machine is presented as the adapter, with devices, records
/// and rules that only this program sees. `None` if that cannot be done.
fn played(rules: &str, known: &str) -> Option<String> {
    let folder = tempfile::tempdir().unwrap();
    let device = "tty1";
    let rules = rules.replace("ttyUSB[0-9]*|ttyACM[0-9]*", device);
    std::fs::write(folder.path().join("70-jigtrue.rules"), format!("KERNEL==\"{device}\", {known}\n{rules}"))
        .unwrap();
    let hidden = "set -e; mkdir -p /run/udev /etc/udev/rules.d; mount -t tmpfs none /run/udev; mount -t tmpfs none /dev; \
                  mount -t tmpfs none /usr/lib/udev/rules.d; mount --bind \"$1\" /etc/udev/rules.d; \
                  exec udevadm test \"/sys/class/tty/$2\" 2>&1";
    let said = Command::new("unshare")
        .args(["--mount", "sh", "-c", hidden, "sh"])
        .arg(folder.path())
        .arg(device)
        .output();
    let said = String::from_utf8_lossy(&said.ok()?.stdout).into_owned();
    said.contains("Reading rules file: /etc/udev/rules.d/70-jigtrue.rules").then_some(said)
}

#[test]
fn the_rule_gives_an_adapter_its_name_and_its_group() {
    let rules = std::fs::read_to_string(RULE).unwrap();
    let of = |known| played(&rules, known);
    let Some(usb) = of("ENV{ID_USB_SERIAL_SHORT}=\"A1234\", ENV{ID_SERIAL_SHORT}=\"B5678\"") else {
        println!("SKIPPED: the rule was not played: that needs root, unshare and udevadm (Debian: udev)");
        return;
    };
    let other = of("ENV{ID_SERIAL_SHORT}=\"B5678\"").unwrap();
    for (said, name) in [(&usb, "jigtrue/A1234"), (&other, "jigtrue/B5678")] {
        assert!(said.contains(&format!("LINK '{name}'")), "{said}");
        assert!(said.contains("MODE 0660") && said.contains("GROUP "), "{said}");
        assert!(!said.contains("nvalid") && !said.contains("ignoring the rule"), "{said}");
    }
    assert!(!usb.contains("B5678'"), "two names: {usb}");
    assert!(!of("ENV{NOTHING}=\"1\"").unwrap().contains("LINK '"));
    let wrong = played(&rules.replace("MODE=", "MDOE="), "ENV{ID_SERIAL_SHORT}=\"B5678\"").unwrap();
    assert!(wrong.contains("nvalid"), "{wrong}");
}

/// What the page tells you to copy exists, and the verbs and options it names are the program's.
#[test]
fn the_page_names_only_what_exists() {
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
