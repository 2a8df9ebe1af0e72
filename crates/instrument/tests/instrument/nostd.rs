//! Proves that decoding and settling need no standard library: a program without one is built, linked and run.

use std::path::Path;
use std::process::Command;

#[test]
#[cfg_attr(
    not(all(target_arch = "x86_64", target_os = "linux")),
    ignore = "the program is for Linux on x86-64"
)]
fn a_program_without_a_standard_library_decodes_and_settles() {
    let proof = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nostd");
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("nostd");
    let built = Command::new(env!("CARGO"))
        .args(["build", "--release", "--quiet", "--manifest-path"])
        .arg(proof.join("Cargo.toml"))
        .arg("--target-dir")
        .arg(&target)
        .env_remove("RUSTFLAGS")
        .env_remove("CARGO_ENCODED_RUSTFLAGS")
        .output()
        .unwrap();
    assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
    let ended = Command::new(target.join("release/nostd-proof")).status().unwrap();
    assert_eq!(ended.code(), Some(42));
}
