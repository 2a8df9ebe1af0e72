//! Puts the recorder of file changes in front of the C library in the one program that is recorded.

fn main() {
    println!("cargo::rerun-if-changed=recorder/recorder.c");
    let is = |key: &str, value: &str| std::env::var(key).is_ok_and(|found| found == value);
    // On other systems the program records nothing, and its stories say that they were skipped.
    if is("CARGO_CFG_TARGET_OS", "linux") && is("CARGO_CFG_TARGET_ENV", "gnu") {
        for object in cc::Build::new().file("recorder/recorder.c").opt_level(2).compile_intermediates() {
            println!("cargo::rustc-link-arg-bin=recorded={}", object.display());
        }
    }
}
