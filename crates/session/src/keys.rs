//! Key files for signing: an Ed25519 secret key (RFC 8032) as 64 hexadecimal digits, and its public half beside it.

use crate::file_fault::FileFault;
use crate::files::{read_text, write_part};
use crate::{Cannot, FileSort, SessionError};
use journal::whole::{Readers, Whole};
use record::hex::{hex, unhex};
use record::signoff::public_key;
use serde::Serialize;
use std::fs;
use std::path::{Path, PathBuf};

/// The beginning of a public key file.
const PUBLIC: &str = "ed25519 ";

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Made {
    pub key_file: String,
    pub public_file: String,
    pub public_key: String,
}

/// Makes a new key file, readable only by its owner, and `FILE.pub` beside it for those who check.
///
/// # Errors
/// If one of the two exists or cannot be written, or the system gives no random bytes; then neither is left.
pub fn make(path: &Path) -> Result<Made, SessionError> {
    let mut secret = [0_u8; 32];
    getrandom::fill(&mut secret)
        .map_err(|e| SessionError::io(path, Cannot::MakeKey, std::io::Error::other(e)))?;
    let public_key = public_key(&secret);
    let mut name = path.as_os_str().to_owned();
    name.push(".pub");
    let public_file = PathBuf::from(name);
    let public = write_part(&public_file, format!("{PUBLIC}{public_key}\n").as_bytes(), Readers::Usual)?;
    let private = write_part(path, format!("{}\n", hex(&secret)).as_bytes(), Readers::Owner)?;
    let kept = |whole: Whole, path: &Path| whole.keep().map_err(|why| SessionError::unwritten(path, why));
    kept(public, &public_file)?;
    kept(private, path).inspect_err(|_| {
        // A public key without its secret half is useless; if it cannot be removed, it does no harm.
        let _ = fs::remove_file(&public_file);
    })?;
    let name = |path: &Path| path.display().to_string();
    Ok(Made { key_file: name(path), public_file: name(&public_file), public_key })
}

/// A public key, in hexadecimal, from the file that [`make`] wrote beside the secret one (or any text file that
/// contains it).
///
/// # Errors
/// If it cannot be read or contains no public key.
pub fn public(path: &Path) -> Result<String, SessionError> {
    let text = read_text(path, FileSort::PublicKey)?;
    let wrong = |why| SessionError::file(path, why);
    let text = text.trim();
    if unhex::<32>(text).is_some() {
        return Err(wrong(FileFault::SecretKey));
    }
    let digits: String = text.strip_prefix(PUBLIC.trim()).unwrap_or_default().split_whitespace().collect();
    match unhex::<32>(&digits) {
        Some(key) => Ok(hex(&key)),
        None => Err(wrong(FileFault::NoPublicKey)),
    }
}

/// The secret key from a file that only its owner can read.
///
/// # Errors
/// If it cannot be read, is not a key, or others can read it.
pub(crate) fn secret(path: &Path) -> Result<[u8; 32], SessionError> {
    let wrong = |why| SessionError::file(path, why);
    let text = read_text(path, FileSort::KeyFile)?;
    let secret = unhex::<32>(text.trim()).ok_or_else(|| wrong(FileFault::NoKey))?;
    if others_can_read(path) {
        return Err(wrong(FileFault::OpenKey));
    }
    Ok(secret)
}

#[cfg(unix)]
fn others_can_read(path: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    fs::metadata(path).map_or(true, |found| found.permissions().mode() & 0o077 != 0)
}

/// On other systems the folder decides who can read it, and the system's own tools show that.
#[cfg(not(unix))]
fn others_can_read(_: &Path) -> bool {
    false
}
