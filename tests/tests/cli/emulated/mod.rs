//! An emulated small board: the example sketches, compiled for it, run by `board/runner.c`.

use crate::listening::PATIENCE;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Output, Stdio};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

const STRICT: [&str; 6] = ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-pedantic", "-Werror"];
/// The compiler's options for a sketch, as PROTOCOL.md and README.md tell them.
const FOR_BOARD: [&str; 4] = ["-Os", "-mmcu=atmega328p", "-DF_CPU=16000000UL", "-o"];

/// What is needed to run a sketch here.
pub struct Emulator {
    runner: PathBuf,
}

/// The emulator, built once for all stories of a run; `None`, with a loud message, if something it needs is not
/// installed.
pub fn emulator() -> Option<&'static Emulator> {
    static EMULATOR: OnceLock<Option<Emulator>> = OnceLock::new();
    let emulator = EMULATOR.get_or_init(Emulator::build).as_ref();
    if emulator.is_none() {
        let line = "\n*** SKIPPED, NOTHING WAS TESTED: no emulated board here (Debian: gcc-avr avr-libc libsimavr-dev libelf-dev) ***\n";
        // Written past the test harness, which captures what a passing test prints.
        let _ = std::io::stderr().write_all(line.as_bytes());
    }
    emulator
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("board")
}

/// Where a sketch's source lies.
fn source(sketch: &str) -> PathBuf {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../firmware-protocol/c/examples");
    [examples, folder()]
        .iter()
        .map(|folder| folder.join(format!("{sketch}.c")))
        .find(|path| path.exists())
        .unwrap_or_else(|| panic!("no sketch {sketch}"))
}

/// A file name of this test program alone: two may run at once.
fn built(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()))
}

impl Emulator {
    fn build() -> Option<Self> {
        let there = |program: &str| Command::new(program).arg("--version").output().is_ok();
        let headers = ["/usr/include", "/usr/local/include"];
        let library = headers.iter().any(|folder| Path::new(folder).join("simavr/sim_avr.h").exists());
        if !(there("avr-gcc") && library && Path::new("/usr/include/libelf.h").exists()) {
            return None;
        }
        let runner = built("runner");
        let compiler = std::env::var("CC").unwrap_or_else(|_| "cc".to_owned());
        let compiled = Command::new(compiler)
            .args(["-O2", "-Wall", "-Wextra", "-Werror", "-o"])
            .arg(&runner)
            .arg(folder().join("runner.c"))
            .args(["-lsimavr", "-lelf"])
            .output()
            .unwrap();
        assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
        Some(Self { runner })
    }

    /// A sketch compiled for the board, with more options for the compiler.
    pub fn compile(&self, sketch: &str, as_name: &str, more: &[&str]) -> Sketch {
        let program = built(&format!("{as_name}-{:?}.elf", std::thread::current().id()));
        let compiled = Command::new("avr-gcc")
            .args(STRICT)
            .args(FOR_BOARD)
            .arg(&program)
            .args(more)
            .arg(source(sketch))
            .output()
            .unwrap();
        assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
        Sketch { runner: self.runner.clone(), program }
    }
}

/// A compiled sketch.
pub struct Sketch {
    runner: PathBuf,
    program: PathBuf,
}

/// Bytes that a sketch takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    pub flash: usize,
    /// Without the stack.
    pub ram: usize,
}

impl Sketch {
    /// What it takes of the board, by `avr-size`.
    pub fn size(&self) -> Size {
        let out = Command::new("avr-size").arg(&self.program).output().unwrap();
        let out = String::from_utf8(out.stdout).unwrap();
        let row = out.lines().nth(1).unwrap();
        let row: Vec<usize> = row.split_whitespace().take(3).map(|n| n.parse().unwrap()).collect();
        Size { flash: row[0] + row[1], ram: row[1] + row[2] }
    }

    /// Runs it at full speed through what happens; returns what it sent, and what the runner says at the end.
    pub fn run(&self, happens: &str) -> (Vec<u8>, String) {
        let mut child = Command::new(&self.runner)
            .arg(&self.program)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(happens.as_bytes()).unwrap();
        let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
        let said = String::from_utf8_lossy(&stderr).into_owned();
        assert!(status.success(), "{said}");
        (stdout, said)
    }

    /// Runs it in real time, with its serial line at the end of the link.
    pub fn plug_in(&self, link: &Path) -> Plugged {
        let mut child = Command::new(&self.runner)
            .arg(&self.program)
            .arg(link)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let began = Instant::now();
        while !link.exists() {
            assert!(child.try_wait().unwrap().is_none(), "the emulator has ended");
            assert!(began.elapsed() < PATIENCE, "the emulator does not begin");
            std::thread::sleep(Duration::from_millis(5));
        }
        let input = child.stdin.take();
        Plugged { child, input, link: link.to_owned() }
    }
}

impl Drop for Sketch {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.program);
    }
}

/// An emulated board on a terminal. Dropping it unplugs it: the emulator is killed.
pub struct Plugged {
    child: Child,
    input: Option<ChildStdin>,
    link: PathBuf,
}

impl Plugged {
    /// Something happens at the board; the words are those of `board/runner.c`.
    pub fn happens(&mut self, line: &str) {
        writeln!(self.input.as_mut().unwrap(), "{line}").unwrap();
    }
}

impl Drop for Plugged {
    fn drop(&mut self) {
        // First the link, as the system does with a port that is gone: its number may be given out again at once, and
        // the link would lead to another story's board.
        let _ = std::fs::remove_file(&self.link);
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
