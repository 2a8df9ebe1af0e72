//! Writes a folder whole: makes it beside its place, flushes it to disk, and moves it there.

use crate::refusal::Refusal;
use crate::{Cannot, SessionError};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The file that marks a folder as one of our exports.
const MARK: &str = "jigtrue-export.json";
const MARKED: &[u8] = b"{\"format\": 1, \"export\": \"jigtrue\"}\n";

pub struct Folder {
    place: PathBuf,
    part: PathBuf,
    old: PathBuf,
    /// Held while it is made.
    _lock: File,
}

impl Folder {
    /// Begins a folder at `place`, after checking that it may be made there.
    pub fn begin(place: &Path) -> Result<Self, SessionError> {
        let place = std::path::absolute(place).map_err(|e| SessionError::io(place, Cannot::Use, e))?;
        let (Some(parent), Some(name)) = (place.parent(), place.file_name()) else {
            return Err(Refusal::NoFolderName(place).into());
        };
        let beside = |end: &str| parent.join(format!(".{}.jigtrue-{end}", name.to_string_lossy()));
        let (part, old) = (beside("part"), beside("old"));
        if !place.exists() && is_ours(&old) {
            fs::rename(&old, &place).map_err(|e| SessionError::io(&place, Cannot::PutBack, e))?;
        }
        let free = match fs::read_dir(&place) {
            Ok(mut inside) => inside.next().is_none() || is_ours(&place),
            Err(_) => fs::symlink_metadata(&place).is_err(),
        };
        if !free {
            return Err(Refusal::NotOurFolder(place).into());
        }
        let cannot = |e| SessionError::io(&part, Cannot::Make, e);
        match fs::create_dir(&part) {
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists && is_ours(&part) => {}
            made => made.map_err(cannot)?,
        }
        let mark = part.join(MARK);
        let mut lock =
            OpenOptions::new().write(true).create(true).truncate(false).open(&mark).map_err(cannot)?;
        if let Err(TryLockError::WouldBlock) = lock.try_lock() {
            return Err(Refusal::FolderInUse(place).into());
        }
        // What a killed export left behind.
        for found in fs::read_dir(&part).map_err(cannot)?.flatten().filter(|f| f.path() != mark) {
            fs::remove_dir_all(found.path()).map_err(cannot)?;
        }
        lock.set_len(0)
            .and_then(|()| lock.write_all(MARKED))
            .and_then(|()| lock.sync_all())
            .map_err(cannot)?;
        Ok(Self { place, part, old, _lock: lock })
    }

    pub fn part(&self) -> &Path {
        &self.part
    }

    pub fn keep(self) -> Result<(), SessionError> {
        let cannot = |e| SessionError::io(&self.place, Cannot::PutInPlace, e);
        sync(&self.part).map_err(cannot)?;
        if is_ours(&self.old) {
            fs::remove_dir_all(&self.old).map_err(cannot)?;
        }
        if self.place.exists() {
            fs::rename(&self.place, &self.old).map_err(cannot)?;
        }
        fs::rename(&self.part, &self.place).map_err(cannot)?;
        if let Some(parent) = self.place.parent() {
            File::open(parent).and_then(|folder| folder.sync_all()).map_err(cannot)?;
        }
        if self.old.exists() {
            fs::remove_dir_all(&self.old).map_err(cannot)?;
        }
        Ok(())
    }
}

fn is_ours(folder: &Path) -> bool {
    fs::symlink_metadata(folder).is_ok_and(|m| m.is_dir())
        && fs::read(folder.join(MARK)).is_ok_and(|text| text.is_empty() || text == MARKED)
}

/// Flushes the names in a folder and its subfolders to disk; the files are there already.
fn sync(folder: &Path) -> std::io::Result<()> {
    for found in fs::read_dir(folder)?.flatten() {
        if found.file_type()?.is_dir() {
            sync(&found.path())?;
        }
    }
    File::open(folder)?.sync_all()
}
