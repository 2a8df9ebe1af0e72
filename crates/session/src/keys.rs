//! Key files for signing: an Ed25519 secret key (RFC 8032) as 64 hexadecimal digits.

use crate::SessionError;
use crate::files::read_text;
use ed25519_dalek::{Signer, SigningKey, VerifyingKey};
use std::io::Write;
use std::path::Path;

/// Makes a new key file, readable by its owner alone, and returns the public key in hexadecimal.
///
/// # Errors
/// When the file exists or cannot be written, or the system gives no random bytes.
pub fn make(path: &Path) -> Result<String, SessionError> {
    let mut secret = [0_u8; 32];
    getrandom::fill(&mut secret)
        .map_err(|e| SessionError::Refused(format!("the system gives no random bytes: {e}")))?;
    let key = SigningKey::from_bytes(&secret);
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let written = options.open(path).and_then(|mut file| {
        file.write_all(hex(&secret).as_bytes())?;
        file.write_all(b"\n")?;
        file.sync_all()
    });
    written.map_err(|e| SessionError::file(path, "the key file cannot be made", &e))?;
    Ok(hex(key.verifying_key().as_bytes()))
}

/// The public key of a key file, in hexadecimal.
///
/// # Errors
/// When it cannot be read or is no key.
pub fn public(path: &Path) -> Result<String, SessionError> {
    Ok(hex(load(path)?.verifying_key().as_bytes()))
}

/// A signature over a message, with the public key.
pub(crate) fn sign(path: &Path, message: &[u8]) -> Result<record::Signature, SessionError> {
    let key = load(path)?;
    let bytes = hex(&key.sign(message).to_bytes());
    Ok(record::Signature { key: hex(key.verifying_key().as_bytes()), bytes })
}

/// True if the signature is of this message by this key.
#[must_use]
pub(crate) fn fits(signature: &record::Signature, message: &[u8]) -> bool {
    let key = unhex::<32>(&signature.key).and_then(|k| VerifyingKey::from_bytes(&k).ok());
    let bytes = unhex::<64>(&signature.bytes).map(|b| ed25519_dalek::Signature::from_bytes(&b));
    match (key, bytes) {
        (Some(key), Some(bytes)) => key.verify_strict(message, &bytes).is_ok(),
        _ => false,
    }
}

fn load(path: &Path) -> Result<SigningKey, SessionError> {
    let text = read_text(path, "key file")?;
    match unhex::<32>(text.trim()) {
        Some(secret) => Ok(SigningKey::from_bytes(&secret)),
        None => Err(SessionError::File {
            path: path.to_owned(),
            why:
                "is no key file: 64 hexadecimal digits are expected; `jigtrue sign --new-key FILE` makes one"
                    .to_owned(),
        }),
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

fn unhex<const N: usize>(text: &str) -> Option<[u8; N]> {
    if text.len() != 2 * N || !text.is_ascii() {
        return None;
    }
    let mut out = [0_u8; N];
    for (i, byte) in out.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * i..2 * i + 2)?, 16).ok()?;
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::{fits, hex, unhex};
    use ed25519_dalek::{Signer, SigningKey};
    use record::Signature;

    /// RFC 8032, section 7.1, test 2 (recalled from memory; the library's own tests hold the RFC's vectors).
    #[test]
    fn a_known_signature_fits_and_a_changed_one_does_not() {
        let secret = unhex::<32>("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb").unwrap();
        let key = SigningKey::from_bytes(&secret);
        let public = hex(key.verifying_key().as_bytes());
        assert_eq!(public, "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c");
        let signature = Signature { key: public, bytes: hex(&key.sign(&[0x72]).to_bytes()) };
        assert!(fits(&signature, &[0x72]));
        assert!(!fits(&signature, &[0x73]));
        assert!(!fits(&Signature { key: "00".repeat(31), ..signature.clone() }, &[0x72]));
        assert!(!fits(&Signature { bytes: "zz".repeat(64), ..signature }, &[0x72]));
    }
}
