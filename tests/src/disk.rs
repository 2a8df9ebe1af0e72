//! Disks that refuse: small ones, read-only ones, and users without permission.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A small file system in memory, unmounted when dropped.
#[derive(Debug)]
pub struct SmallDisk {
    folder: tempfile::TempDir,
}

impl SmallDisk {
    /// Mounts one of `kib` KiB, or says loudly that this machine does not allow it.
    #[must_use]
    pub fn mount(kib: u32) -> Option<Self> {
        let folder = tempfile::tempdir().ok()?;
        let size = format!("size={kib}k,mode=777");
        if run(Command::new("mount").args(["-t", "tmpfs", "-o", &size, "tmpfs"]).arg(folder.path())) {
            Some(Self { folder })
        } else {
            skip("mounting a small file system");
            None
        }
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Makes it read-only, or writable again.
    ///
    /// # Panics
    /// If it cannot be remounted.
    pub fn set_read_only(&self, read_only: bool) {
        let mode = if read_only { "remount,ro" } else { "remount,rw" };
        assert!(run(Command::new("mount").args(["-o", mode]).arg(self.path())), "{mode} works");
    }

    /// Fills it to the last byte; returns the file that does.
    ///
    /// # Panics
    /// If the file cannot be made.
    #[must_use]
    pub fn fill(&self) -> PathBuf {
        let path = self.path().join("filler");
        let mut file = std::fs::File::create(&path).expect("a file to fill with");
        for block in [4096, 1] {
            while file.write_all(&vec![0x55; block]).is_ok() {}
        }
        path
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        run(Command::new("umount").arg("-l").arg(self.folder.path()));
    }
}

/// Says loudly that a story was skipped, and why.
pub fn skip(what: &str) {
    let line = format!("\n*** SKIPPED: {what} is not possible here (it takes root) ***\n");
    // Straight to the descriptor: the test harness captures ordinary output.
    let _ = std::io::stderr().write_all(line.as_bytes());
}

fn run(command: &mut Command) -> bool {
    command.output().is_ok_and(|out| out.status.success())
}
