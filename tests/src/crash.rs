//! A program killed while it works.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::Duration;

/// Runs `program`, kills it (SIGKILL, which it cannot catch) `after` its first line of output, and returns every
/// whole line it had written to its standard output by then: what it had acknowledged.
///
/// # Panics
/// If the program cannot be run, ends by itself, or writes nothing.
pub fn killed(program: &mut Command, after: Duration) -> Vec<String> {
    let mut child = program.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().expect("the program runs");
    let mut out = BufReader::new(child.stdout.take().expect("its output is ours"));
    let mut lines = Vec::new();
    let first = whole_line(&mut out).expect("it acknowledges something before it is killed");
    lines.push(first);
    thread::scope(|scope| {
        let reader = scope.spawn(|| std::iter::from_fn(|| whole_line(&mut out)).collect::<Vec<_>>());
        thread::sleep(after);
        kill(&mut child);
        lines.extend(reader.join().expect("the reader ends with the pipe"));
    });
    lines
}

fn kill(child: &mut Child) {
    assert!(child.try_wait().expect("its state").is_none(), "the program ended before it was killed");
    child.kill().expect("it can be killed");
    child.wait().expect("it is gone");
}

/// A line with its end; what was cut off in the middle was not acknowledged.
fn whole_line(out: &mut impl BufRead) -> Option<String> {
    let mut line = String::new();
    out.read_line(&mut line).ok()?;
    line.strip_suffix('\n').map(str::to_owned)
}
