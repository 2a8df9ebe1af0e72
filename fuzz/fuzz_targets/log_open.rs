#![no_main]
//! Files opened as a log: refused with a message, or read, verified and added to, without a crash and without
//! changing what a whole chain says. The file lies in memory.

use libfuzzer_sys::fuzz_target;
use journal::Journal;
use record::{At, What};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static LOG: LazyLock<PathBuf> = LazyLock::new(|| {
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { memory.to_owned() } else { std::env::temp_dir() };
    folder.join(format!("jigtrue-fuzz-{}.jigtrue", std::process::id()))
});

fn beside(suffix: &str) -> PathBuf {
    let mut name = LOG.clone().into_os_string();
    name.push(suffix);
    name.into()
}

fuzz_target!(|data: &[u8]| {
    for suffix in ["-wal", "-shm", "-journal"] {
        let _ = fs::remove_file(beside(suffix));
    }
    fs::write(&*LOG, data).expect("a file");
    let verified = match Journal::open_read_only(&LOG) {
        Ok(log) => {
            for entry in log.entries_as_found() {
                let _ = entry.inspect_err(|why| assert!(!why.to_string().is_empty()));
            }
            let walked: Result<Vec<_>, _> = log.entries().collect();
            let verified = log.verify();
            if let Ok(head) = &verified {
                assert_eq!(walked.expect("what verifies is read whole").len() as u64, head.seq);
            }
            verified.ok()
        }
        Err(why) => {
            assert!(!why.to_string().is_empty());
            None
        }
    };
    let Ok(mut log) = Journal::open(&LOG) else { return };
    let added = log.append(At::from_millis(0), "ann", &What::Note { text: "more".to_owned() });
    if let (Some(before), Ok(head)) = (verified, added) {
        assert_eq!(head.seq, before.seq + 1);
        assert_eq!(log.verify().expect("what was added to is whole"), head);
    }
});
