//! The record that `recorder/recorder.c` writes.

use std::path::PathBuf;

/// One change, in the order they happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A file was made, or cut to nothing.
    Created(PathBuf),
    /// Bytes were written at an offset.
    Written(PathBuf, usize, Vec<u8>),
    /// A file got this length.
    Length(PathBuf, usize),
    /// A file, or the names in a folder, are on disk.
    Synced(PathBuf),
    /// A file was moved.
    Moved(PathBuf, PathBuf),
    /// A file has a second name.
    Linked(PathBuf, PathBuf),
    /// A name was removed.
    Removed(PathBuf),
    /// The program said this.
    Said(String),
}

/// Reads a record.
///
/// # Panics
/// If it is not one.
#[must_use]
pub fn read(mut bytes: &[u8]) -> Vec<Change> {
    let mut all = Vec::new();
    while !bytes.is_empty() {
        let end = bytes.iter().position(|b| *b == b'\n').expect("a line end");
        let head = std::str::from_utf8(&bytes[..end]).expect("text");
        let words: Vec<&str> = head.split(' ').collect();
        let number = |i: usize| words[i].parse::<usize>().expect("a number");
        let (at, path, data) = (number(1), number(2), number(3));
        let rest = &bytes[end + 1..];
        let text = |b: &[u8]| String::from_utf8(b.to_vec()).expect("text");
        let (name, data) = (PathBuf::from(text(&rest[..path])), &rest[path..path + data]);
        bytes = &rest[path + data.len()..];
        all.push(match words[0] {
            "C" => Change::Created(name),
            "W" => Change::Written(name, at, data.to_vec()),
            "T" => Change::Length(name, at),
            "S" => Change::Synced(name),
            "R" => Change::Moved(name, text(data).into()),
            "L" => Change::Linked(name, text(data).into()),
            "U" => Change::Removed(name),
            "A" => Change::Said(text(data)),
            other => unreachable!("{other}"),
        });
    }
    all
}
