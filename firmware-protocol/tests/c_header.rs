//! The C99 header: compiled with every warning an error, and tested with the same golden lines.
#![allow(clippy::disallowed_methods, reason = "a test that runs compilers and programs")]
#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests fail the test they serve")]

use std::path::{Path, PathBuf};
use std::process::Command;

const STRICT: [&str; 6] = ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-pedantic", "-Werror"];

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Compiles `c/test_lines.c` and runs it over the golden lines.
fn golden_lines_by(more: &[&str], name: &str) {
    let program = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let compiler = std::env::var("CC").unwrap_or_else(|_| "cc".to_owned());
    let compiled = Command::new(&compiler)
        .args(STRICT)
        .args(more)
        .arg("-o")
        .arg(&program)
        .arg(here("c/test_lines.c"))
        .output()
        .unwrap_or_else(|error| panic!("a C compiler is needed ({compiler}: {error})"));
    assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
    let ran = Command::new(&program).arg(here("vectors/lines.txt")).output().unwrap();
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let said = String::from_utf8_lossy(&ran.stdout);
    assert_eq!(said.trim(), "28 lines written, 7 commands heard, 47 refused");
}

#[test]
fn the_header_writes_and_hears_the_golden_lines() {
    golden_lines_by(&["-O2"], "lines_o2");
}

#[test]
fn nothing_undefined_happens() {
    golden_lines_by(&["-O1", "-g", "-fsanitize=undefined,address", "-fno-sanitize-recover=all"], "lines_san");
}

#[test]
fn an_unsigned_plain_char_makes_no_difference() {
    golden_lines_by(&["-O2", "-funsigned-char"], "lines_uchar");
}

/// The same header on other processors, under user-mode emulation.
#[test]
fn the_golden_lines_on_arm() {
    for (compiler, emulator) in
        [("arm-linux-gnueabihf-gcc", "qemu-arm"), ("aarch64-linux-gnu-gcc", "qemu-aarch64")]
    {
        let program = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("lines_{emulator}"));
        let compiled = Command::new(compiler)
            .args(STRICT)
            .args(["-O2", "-static", "-o"])
            .arg(&program)
            .arg(here("c/test_lines.c"))
            .output();
        let ran = Command::new(emulator).arg(&program).arg(here("vectors/lines.txt")).output();
        let (Ok(compiled), Ok(ran)) = (compiled, ran) else {
            println!("SKIPPED: no {compiler} or no {emulator} here, the header was not tried there");
            continue;
        };
        assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
        assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
        assert_eq!(
            String::from_utf8_lossy(&ran.stdout).trim(),
            "28 lines written, 7 commands heard, 47 refused"
        );
    }
}

/// The sketch for a Cortex-M3, linked as it goes onto the chip.
#[test]
fn the_cortex_sketch_links() {
    let program = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tilt_stm32f103.elf");
    let linked = ["arm-none-eabi-gcc", "arm-linux-gnueabihf-gcc"].into_iter().find_map(|compiler| {
        Command::new(compiler)
            .args(STRICT)
            .args(["-Os", "-mcpu=cortex-m3", "-mthumb", "-mfloat-abi=soft", "-ffreestanding", "-fno-pie"])
            .args(["-nostdlib", "-static", "-Wl,--build-id=none", "-T"])
            .arg(here("c/examples/stm32f103.ld"))
            .arg("-o")
            .arg(&program)
            .arg(here("c/examples/tilt_stm32f103.c"))
            .output()
            .ok()
    });
    let Some(linked) = linked else {
        println!(
            "SKIPPED: no compiler for Cortex-M here (Debian: gcc-arm-none-eabi or gcc-arm-linux-gnueabihf)"
        );
        return;
    };
    assert!(linked.status.success(), "{}", String::from_utf8_lossy(&linked.stderr));
    // The first two vectors: the end of the RAM, and where the processor begins, in flash and in Thumb code.
    let bytes = std::fs::read(&program).unwrap();
    let vectors = bytes.windows(8).find(|eight| eight[..4] == [0x00, 0x50, 0x00, 0x20]).unwrap();
    assert!(vectors[4] & 1 == 1 && vectors[6..8] == [0x00, 0x08], "{vectors:02X?}");
}

/// Flash and RAM of the example sketches, as PROTOCOL.md states them.
#[test]
fn example_sketches_fit_as_stated() {
    let text = include_str!("../PROTOCOL.md");
    for sketch in ["tilt_sensor", "caliper_bridge"] {
        let program = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{sketch}.elf"));
        let compiled = Command::new("avr-gcc")
            .args(STRICT)
            .args(["-Os", "-mmcu=atmega328p", "-DF_CPU=16000000UL", "-o"])
            .arg(&program)
            .arg(here(&format!("c/examples/{sketch}.c")))
            .output();
        let Ok(compiled) = compiled else {
            println!("SKIPPED: no avr-gcc here, {sketch} was not compiled (Debian: gcc-avr avr-libc)");
            continue;
        };
        assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
        let sizes = Command::new("avr-size").arg(&program).output().unwrap();
        let sizes = String::from_utf8(sizes.stdout).unwrap();
        let row: Vec<usize> =
            sizes.lines().nth(1).unwrap().split_whitespace().take(3).map(|n| n.parse().unwrap()).collect();
        let (flash, ram) = (row[0] + row[1], row[1] + row[2]);
        println!("{sketch}: {flash} bytes of flash, {ram} of RAM");
        let stated = text.lines().find(|line| line.contains(&format!("`c/examples/{sketch}.c`"))).unwrap();
        let stated: Vec<usize> = stated.split('|').filter_map(|cell| cell.trim().parse().ok()).collect();
        // Other releases of the compiler may differ a little from the one used for the stated figures.
        assert!(flash.abs_diff(stated[0]) * 20 <= stated[0], "{sketch}: flash {flash}, stated {}", stated[0]);
        assert!(ram.abs_diff(stated[1]) * 20 <= stated[1], "{sketch}: RAM {ram}, stated {}", stated[1]);
    }
}
