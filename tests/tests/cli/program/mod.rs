//! The real program, run in a folder of its own.

use serde_json::Value;
use std::ffi::{OsStr, OsString};
use std::fs::Permissions;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use tempfile::TempDir;

pub use stories::program::jigtrue;

/// How a run ended.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("output is UTF-8"),
            err: String::from_utf8(output.stderr).expect("messages are UTF-8"),
        }
    }
}

impl Ran {
    /// Fails the story unless the run ended with this code.
    pub fn expect(self, code: i32) -> Self {
        assert_eq!(self.code, code, "\n--- out\n{}\n--- err\n{}", self.out, self.err);
        self
    }

    /// The one JSON document it wrote.
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out)
            .unwrap_or_else(|e| panic!("not one JSON document ({e}):\n{}", self.out))
    }
}

/// The shipped jobs.
pub const CASES: [&str; 5] = ["two-post", "hold", "sixty", "upright", "rigged"];

/// Files made once, with which several stories begin: name, content, who may use it.
pub type Prepared = Vec<(OsString, Vec<u8>, Permissions)>;

/// A folder with what a story needs.
pub struct Bench {
    folder: TempDir,
}

impl Bench {
    pub fn new() -> Self {
        Self { folder: TempDir::new().expect("a folder for the story") }
    }

    /// A folder with these files.
    pub fn of(files: &Prepared) -> Self {
        let bench = Self::new();
        for (name, content, permissions) in files {
            let path = bench.folder.path().join(name);
            std::fs::write(&path, content).expect("the story's file is written");
            std::fs::set_permissions(&path, permissions.clone()).expect("the story's file is ours");
        }
        bench
    }

    /// The files of this folder as they are now.
    pub fn files(&self) -> Prepared {
        let entries = std::fs::read_dir(self.folder.path()).expect("the story's folder is read");
        entries
            .map(|entry| {
                let entry = entry.expect("the story's folder is read");
                let content = std::fs::read(entry.path()).expect("the story's file is read");
                (entry.file_name(), content, entry.metadata().expect("the file is there").permissions())
            })
            .collect()
    }

    /// A log of the small plan at its first stage, begun once for all stories.
    pub fn begun() -> Self {
        static BEGUN: OnceLock<Prepared> = OnceLock::new();
        Self::of(BEGUN.get_or_init(|| {
            let bench = Self::with_plan(SMALL_PLAN);
            bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
            bench.files()
        }))
    }

    /// A shipped job as `demo` leaves it, played once for all stories.
    pub fn demo(case: &str) -> Self {
        static PLAYED: [OnceLock<Prepared>; CASES.len()] = [const { OnceLock::new() }; CASES.len()];
        let place = CASES.iter().position(|name| *name == case).expect("a shipped job");
        Self::of(PLAYED[place].get_or_init(|| {
            let bench = Self::new();
            bench.line(&format!("demo --case {case}")).expect(0);
            bench.files()
        }))
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, content: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), content).expect("the story's file is written");
    }

    pub fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).expect("the story's file is read")
    }

    /// The program without the surroundings, except a name for who is at the bench.
    pub fn command(&self, args: &[impl AsRef<OsStr>]) -> Command {
        let mut command = Command::new(jigtrue());
        command
            .args(args)
            .current_dir(self.folder.path())
            .env_clear()
            .env("JIGTRUE_BY", "ann")
            .stdin(Stdio::null());
        command
    }

    pub fn run(&self, args: &[impl AsRef<OsStr>]) -> Ran {
        self.command(args).output().expect("the program runs").into()
    }

    /// A line as a person types it; double quotes keep words together.
    pub fn line(&self, line: &str) -> Ran {
        self.run(&words(line))
    }

    /// The same with something on standard input.
    pub fn piped(&self, line: &str, input: &str) -> Ran {
        let mut child = self
            .command(&words(line))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        // A program that refuses early need not read it all.
        let _ = child.stdin.take().expect("a pipe").write_all(input.as_bytes());
        child.wait_with_output().expect("the program ends").into()
    }

    /// A log started from a plan, with the first stage begun.
    pub fn with_plan(plan: &str) -> Self {
        let bench = Self::new();
        bench.write("plan.toml", plan);
        bench.line("new plan.toml wing.jigtrue").expect(0);
        bench
    }
}

pub fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    let mut begun = false;
    for c in line.chars() {
        match c {
            '"' => (quoted, begun) = (!quoted, true),
            ' ' if !quoted => {
                if begun {
                    words.push(String::new());
                    begun = false;
                }
            }
            c => {
                begun = true;
                words.last_mut().expect("never empty").push(c);
            }
        }
    }
    if !begun {
        words.pop();
    }
    words
}

/// A shipped case's file.
pub fn shipped(case: &str, file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-readings").join(case).join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// A spar on which the small plan's wing hangs by a support with a screw, as tables of the plan.
pub const SUPPORT: &str = r#"
[[spar]]
name = "front"
aft_root = 200
[[support]]
name = "tip front"
span = 3000
spar = "front"
direction = "up"
travel = 12
screw = { per_turn = 1.25, clockwise = "raises" }
"#;

/// A small invented plan: three stations, reversal pairs, a torque and a row of depths.
pub const SMALL_PLAN: &str = r#"
format = 1

[wing]
name = "small invented wing"
side = "left"
attitude = "chord-level"

[tolerance]
setting = 0.5
washout = 0.3
station = 0.3

[[station]]
name = "S1"
span = 300
chord = 1400
incidence = 2.0

[[station]]
name = "S2"
span = 1500
chord = 1300
incidence = 1.0

[[station]]
name = "S3"
span = 3000
chord = 1200
incidence = 0.0

[[spot]]
name = "bolt"
quantity = "torque"
lower = "80 in-lb"
upper = "95 in-lb"

[[instrument]]
name = "beam level"
kind = "inclinometer"
resolution = 0.05
accuracy = 0.1
repeatability = 0.03
checked = "2026-01-10"
due = "2099-01-10"

[[instrument]]
name = "torque wrench"
kind = "torque-wrench"
resolution = "1 in-lb"
accuracy = "2 in-lb"
repeatability = "0.5 in-lb"
checked = "2026-01-10"
due = "2099-01-10"

[[stage]]
name = "ribs on"
requires = ["incidence@*"]

[[stage]]
name = "ready to skin"
requires = ["incidence@*", "spot@*"]
disturbs = ["incidence@*"]
open = ["tip post brace loose"]
"#;

/// A number of a JSON answer is within so much of the expected one.
pub fn near(found: &Value, expected: f64, within: f64) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{found} is no number"));
    assert!((found - expected).abs() <= within, "{found} and not {expected} ± {within}");
}
