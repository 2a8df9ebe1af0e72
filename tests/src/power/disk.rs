//! A disk: what is certainly on it, and what may be.

use super::Change;
use crate::seeded::Draws;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

const SECTOR: usize = 512;

/// A change that is not yet certain.
#[derive(Clone, Debug)]
enum Pending {
    /// Bytes within one sector of a file.
    Sector { file: usize, at: usize, bytes: Vec<u8> },
    /// A file's length.
    Length { file: usize, length: usize },
    /// A name that leads to a file, or to none.
    Name { path: PathBuf, file: Option<usize> },
}

/// The state of a folder's files, as programs see it and as the disk may hold it.
#[derive(Clone, Debug, Default)]
pub struct Disk {
    /// What programs see: names, and how long each file is.
    names: BTreeMap<PathBuf, usize>,
    lengths: Vec<usize>,
    /// What is certainly there.
    kept_names: BTreeMap<PathBuf, usize>,
    kept: Vec<Vec<u8>>,
    pending: Vec<Pending>,
}

impl Disk {
    /// Takes the next change into account.
    ///
    /// # Panics
    /// If it concerns a file that is not there.
    pub fn change(&mut self, change: &Change) {
        match change {
            Change::Created(path) => {
                let file = match self.names.get(path) {
                    Some(file) => *file,
                    None => {
                        self.kept.push(Vec::new());
                        self.lengths.push(0);
                        self.name(path, Some(self.kept.len() - 1));
                        self.kept.len() - 1
                    }
                };
                self.length(file, 0);
            }
            Change::Written(path, at, bytes) => {
                // Written through a descriptor after the name was removed: nobody will see it.
                let Some(file) = self.names.get(path).copied() else { return };
                let mut done = 0;
                while done < bytes.len() {
                    let at = at + done;
                    let end = bytes.len().min(done + SECTOR - at % SECTOR);
                    self.pending.push(Pending::Sector { file, at, bytes: bytes[done..end].to_vec() });
                    done = end;
                }
                if at + bytes.len() > self.lengths[file] {
                    self.length(file, at + bytes.len());
                }
            }
            Change::Length(path, length) => {
                if let Some(file) = self.names.get(path).copied() {
                    self.length(file, *length);
                }
            }
            Change::Synced(path) => self.synced(path),
            Change::Moved(from, to) => {
                let file = self.names.get(from).copied();
                self.name(to, file);
                self.name(from, None);
            }
            Change::Linked(from, to) => {
                let file = self.names.get(from).copied();
                self.name(to, file);
            }
            Change::Removed(path) => self.name(path, None),
            Change::Said(_) => {}
        }
    }

    fn length(&mut self, file: usize, length: usize) {
        self.lengths[file] = length;
        self.pending.push(Pending::Length { file, length });
    }

    fn name(&mut self, path: &Path, file: Option<usize>) {
        match file {
            Some(file) => self.names.insert(path.to_owned(), file),
            None => self.names.remove(path),
        };
        self.pending.push(Pending::Name { path: path.to_owned(), file });
    }

    /// From here on a file's bytes, or a folder's names, are certain.
    fn synced(&mut self, path: &Path) {
        let file = self.names.get(path).copied();
        let (mut names, mut files) = (std::mem::take(&mut self.kept_names), std::mem::take(&mut self.kept));
        self.pending.retain(|change| {
            let certain = match (change, file) {
                (Pending::Sector { file: of, .. } | Pending::Length { file: of, .. }, Some(file)) => {
                    *of == file
                }
                (Pending::Name { path: name, .. }, None) => name.parent() == Some(path),
                _ => false,
            };
            if certain {
                apply(change, &mut names, &mut files);
            }
            !certain
        });
        (self.kept_names, self.kept) = (names, files);
    }

    /// How many changes are not certain.
    #[must_use]
    pub fn uncertain(&self) -> usize {
        self.pending.len()
    }

    /// The files that the disk may hold if the power fails now: each uncertain change is there with a chance of `share` in 16, and some
    /// sectors only in part.
    #[must_use]
    pub fn after_a_cut(&self, draws: &mut Draws, share: u64) -> BTreeMap<PathBuf, Vec<u8>> {
        let (mut names, mut files) = (self.kept_names.clone(), self.kept.clone());
        for change in &self.pending {
            if draws.below(16) >= share {
                continue;
            }
            match change {
                Pending::Sector { file, at, bytes } if draws.below(8) == 0 => {
                    let part = draws.index(bytes.len() + 1);
                    let torn = Pending::Sector { file: *file, at: *at, bytes: bytes[..part].to_vec() };
                    apply(&torn, &mut names, &mut files);
                }
                whole => apply(whole, &mut names, &mut files),
            }
        }
        names.into_iter().map(|(path, file)| (path, files[file].clone())).collect()
    }
}

fn apply(change: &Pending, names: &mut BTreeMap<PathBuf, usize>, files: &mut [Vec<u8>]) {
    match change {
        Pending::Sector { file, at, bytes } => {
            let content = &mut files[*file];
            if content.len() < at + bytes.len() {
                content.resize(at + bytes.len(), 0);
            }
            content[*at..at + bytes.len()].copy_from_slice(bytes);
        }
        Pending::Length { file, length } => files[*file].resize(*length, 0),
        Pending::Name { path, file: Some(file) } => {
            names.insert(path.clone(), *file);
        }
        Pending::Name { path, file: None } => {
            names.remove(path);
        }
    }
}
