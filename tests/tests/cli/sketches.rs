//! A real board, emulated: the example sketches run on an ATmega328P, and the real program reads them.
#![cfg(unix)]

use crate::emulated::{Plugged, emulator};
use crate::listening::{Listening, entries, readings, taken};
use crate::program::{Bench, SMALL_PLAN};
use jigtrue_protocol::{Command, Message, Request};
use record::{Source, What};
use std::time::Duration;

const SHIPPED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-readings/instruments/");
const LISTEN: [&str; 6] = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "board.toml"];

/// The sum of 64 conversions at a tilt, and the millidegrees that the sketch makes of it: 65536 are 75 degrees, the
/// middle is 0.
fn sum_at(millidegrees: i32) -> (i32, i32) {
    let sum = (f64::from(millidegrees) * 65_536.0 / 75_000.0).round();
    (sum as i32 + 32_768, (sum * 75_000.0 / 65_536.0).round() as i32)
}

/// Holds the board at this tilt; returns the millidegrees it will show.
fn hold(board: &mut Plugged, millidegrees: i32) -> i32 {
    let (sum, shown) = sum_at(millidegrees);
    board.happens(&format!("tilt {sum}"));
    shown
}

/// A log at its first stage and a shipped instrument file, its check in date for ever.
fn bench(plan: &str, file: &str) -> Bench {
    let bench = Bench::with_plan(plan);
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    let text = std::fs::read_to_string(format!("{SHIPPED}{file}")).unwrap();
    let dates = |line: &&str| !line.starts_with("checked") && !line.starts_with("due");
    let text = text.lines().filter(dates).collect::<Vec<_>>().join("\n");
    bench.write("board.toml", text.replace("noise = 0.004", "noise = 0.004\nhold_ms = 800"));
    bench
}

fn command(number: u16, request: Request) -> String {
    let line = Message::Command(Command { number, request }).encode().unwrap();
    std::str::from_utf8(line.as_bytes()).unwrap().trim_end().to_owned()
}

/// CRC-16/IBM-3740, bit by bit as the catalogue gives it, apart from the code under test.
fn crc(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0xffff, |crc, byte| {
        (0..8).fold(crc ^ (u16::from(*byte) << 8), |crc, _| {
            if crc & 0x8000 == 0 { crc << 1 } else { (crc << 1) ^ 0x1021 }
        })
    })
}

/// What a board sent, each line checked: the CRC, and a sequence without a gap. Returned without sequence and time,
/// repeated values only once.
fn checked(sent: &[u8]) -> Vec<String> {
    let text = std::str::from_utf8(sent).unwrap();
    let mut said = Vec::new();
    for (sequence, line) in text.split_inclusive("\r\n").enumerate() {
        let line = line.strip_suffix("\r\n").unwrap_or_else(|| panic!("cut short: {line}"));
        let (body, check) = line.strip_prefix('~').unwrap().rsplit_once('*').unwrap();
        assert_eq!(check, format!("{:04X}", crc(body.as_bytes())), "{line}");
        let fields: Vec<&str> = body.split(',').collect();
        assert_eq!((fields[0], fields[2]), ("1", sequence.to_string().as_str()), "{line}");
        said.push([&fields[1..2], &fields[4..]].concat().join(","));
    }
    said.dedup();
    said
}

#[test]
fn a_tilt_sensor_sends_the_same_in_every_run() {
    assert_eq!(crc(b"123456789"), 0x29b1);
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("tilt_sensor", "tilt_golden", &[]);
    // Changes fall in the middle between two samples.
    let (at_2150, shows_2150) = sum_at(2150);
    let (at_minus_1950, shows_minus_1950) = sum_at(-1950);
    let damaged = command(8, Request::Zero).replace("zero", "zerp");
    let zero = command(7, Request::Zero);
    let happens = [
        format!("wait 350\ntilt {at_2150}\nwait 400\nhear {zero}\nwait 400\nhear {damaged}\nwait 100"),
        format!(
            "tilt {at_minus_1950}\nwait 300\nhear {zero}\nwait 200\ntilt 60000\nwait 200\ntilt 0\nwait 200"
        ),
        format!("hear {}\nwait 200\n", command(9, Request::Zero)),
        format!("hear {}\nwait 200\n", command(10, Request::Rate { interval_ms: 5 })),
        format!("hear {}\nwait 200\n", command(65_535, Request::Rate { interval_ms: 65_535 })),
        format!("hear {}\nwait 200\n", command(12, Request::Identify)),
    ]
    .join("\n");
    let (sent, _) = sketch.run(&happens);
    let from_zero = shows_minus_1950 - shows_2150;
    let over = (60_000 - 32_768) * 75_000 / 65_536 + 1 - shows_2150;
    let wanted = [
        "identify,tilt sensor,T-0001,1.0".to_owned(),
        "status,100,0,r".to_owned(),
        "sample,angle,0e-3,deg,r".to_owned(),
        "sample,angle,0e-3,deg,-".to_owned(),
        format!("sample,angle,{shows_2150}e-3,deg,-"),
        "answer,7,done,-".to_owned(),
        "sample,angle,0e-3,deg,z".to_owned(),
        format!("sample,angle,{from_zero}e-3,deg,z"),
        // The same command again is answered again, and nothing is done twice.
        "answer,7,done,-".to_owned(),
        format!("sample,angle,{from_zero}e-3,deg,z"),
        format!("sample,angle,{over}e-3,deg,Oz"),
        "fault,sensor,no voltage from sensor".to_owned(),
        "answer,9,refused,no voltage from sensor".to_owned(),
        "answer,10,refused,20 ms or more".to_owned(),
        "answer,65535,done,-".to_owned(),
        "identify,tilt sensor,T-0001,1.0".to_owned(),
        "status,65535,0,z".to_owned(),
        "answer,12,done,-".to_owned(),
    ];
    assert_eq!(checked(&sent), wanted);
    assert_eq!(sketch.run(&happens).0, sent);
}

#[test]
fn a_caliper_bridge_sends_the_same_in_every_run() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("caliper_bridge", "caliper_golden", &[]);
    let zero = command(7, Request::Zero);
    // 12.34 mm, -1.2345 inch, a frame of twelve nibbles, one of fourteen, invalid digits, and 12.34 mm again; then 24
    // bits: 12.34 mm below zero (0x4D2, the lowest nibble first), half an inch (0x3E8 half thousandths), a bit that
    // must be zero.
    let happens = format!(
        "wait 100\nframe FFFF00012342\nwait 100\nframe FFFF0001234200\nwait 100\nframe FFFF000123420\nwait 100\n\
         frame FFFF801234541\nwait 100\nframe FFFF00A123420\nwait 100\nframe FFFF000123420\nwait 100\n\
         frame 2D4001\nwait 100\nframe 8E3008\nwait 100\nframe 2D4002\nwait 100\nhear {zero}\nwait 100\n"
    );
    let (sent, _) = sketch.run(&happens);
    let wanted = [
        "identify,caliper bridge,C-0001,1.0",
        "status,0,0,r",
        "fault,input,frame did not fit",
        "sample,length,1234e-2,mm,r",
        "sample,length,-12345e-4,in,-",
        "fault,input,frame did not fit",
        "sample,length,1234e-2,mm,-",
        "sample,length,-1234e-2,mm,-",
        "sample,length,5000e-4,in,-",
        "fault,input,frame did not fit",
        "answer,7,refused,zero at the caliper",
    ];
    assert_eq!(checked(&sent), wanted);
    assert_eq!(sketch.run(&happens).0, sent);
    let turned = emulator.compile("caliper_bridge", "caliper_turned", &["-DTURNED_ROUND"]);
    assert_eq!(checked(&turned.run(&format!("turned 1\n{happens}")).0), wanted);
}

/// A number that a board makes while it runs is a plain text in RAM; other texts are in flash.
#[test]
fn texts_in_ram_and_in_flash_are_both_sent() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("ram_text", "ram_text", &[]);
    let (sent, _) = sketch.run("wait 100\n");
    let wanted = [
        "identify,made here,R-0042,1.0",
        "identify,in flash,F-0001,1.0",
        "fault,other,from RAM",
        "fault,sensor,from flash",
    ];
    assert_eq!(checked(&sent), wanted);
}

/// Numbers and points of the entries that the program acknowledged.
fn told(lines: &[String]) -> Vec<(u64, String)> {
    lines
        .iter()
        .filter_map(|line| line.strip_prefix("taken   "))
        .map(|ack| {
            let (entry, rest) = ack.split_once(": ").unwrap();
            (entry.parse().unwrap(), rest.split_once(" = ").unwrap().0.to_owned())
        })
        .collect()
}

/// Entry numbers and points of the readings in the log.
fn logged(bench: &Bench) -> Vec<(u64, String)> {
    (1..)
        .zip(entries(bench))
        .filter_map(|(seq, what)| match what {
            What::Reading(reading) => Some((seq, reading.point.to_string())),
            _ => None,
        })
        .collect()
}

#[test]
fn a_board_is_read_from_end_to_end_while_it_is_killed_and_comes_back() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("tilt_sensor", "tilt_whole_way", &[]);
    let bench = bench(SMALL_PLAN, "tilt-board.toml");
    let link = bench.path("port");
    let round = [
        ("incidence@S1", "forward", 2150),
        ("incidence@S1", "aft", -1950),
        // The level is turned once at a station, so the next one begins with the facing it has.
        ("incidence@S2", "aft", -950),
        ("incidence@S2", "forward", 1150),
        ("incidence@S3", "forward", 150),
        ("incidence@S3", "aft", 50),
    ];
    let mut board = sketch.plug_in(&link);
    let mut program = Listening::start(&bench, &[&LISTEN[..], &["--hands-free"]].concat());
    let mut wanted = Vec::new();
    for (at, (point, facing, tilt)) in round.into_iter().enumerate() {
        let now = program.until("now ");
        assert!(now.contains(point) && now.contains(facing), "{now}");
        if at == 3 {
            // Killed at the spot just taken and started again on the same spot: that is not a second reading.
            drop(board);
            program.until("lost ");
            board = sketch.plug_in(&link);
            hold(&mut board, round[2].2);
            program.until("found ");
            std::thread::sleep(Duration::from_secs(3));
            assert_eq!(readings(&bench).len(), 3);
        }
        let shown = hold(&mut board, tilt);
        if at == 4 {
            // Killed on the way to the next spot.
            program.until("moving");
            drop(board);
            program.until("lost ");
            board = sketch.plug_in(&link);
            hold(&mut board, tilt);
            program.until("found ");
        }
        let line = program.until("taken ");
        assert!(line.contains(point), "{line}");
        wanted.push((point.to_owned(), facing, i64::from((f64::from(shown) / 10.0).round() as i32)));
    }
    program.until("6 readings taken. Nothing more is wanted");
    program.ends();
    assert_eq!(taken(&bench), wanted);
    assert_eq!(told(program.last_words()), logged(&bench));
    let readings = readings(&bench);
    assert!(readings.iter().all(|r| r.source == Source::Port && !r.unsettled && r.scatter == Some(0.0)));
    bench.line("verify wing.jigtrue").expect(0);
}

/// Waits until it has settled at this many millidegrees, and takes that with Enter.
fn take_settled(program: &mut Listening, millidegrees: i32) {
    program.until(&format!("settled at {:+.3} deg", f64::from(millidegrees) / 1000.0));
    program.types("");
    program.until("taken ");
}

#[test]
fn a_zero_is_set_and_answered_and_lost_with_the_board() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("tilt_sensor", "tilt_zero", &[]);
    let bench = bench(SMALL_PLAN, "tilt-board.toml");
    let mut board = sketch.plug_in(&bench.path("port"));
    let first = hold(&mut board, 2150);
    let mut program = Listening::start(&bench, &[&LISTEN[..], &["--facing", "forward"]].concat());
    take_settled(&mut program, first);
    program.types("z");
    program.until("zeroed; a new round begins");
    let second = hold(&mut board, 3150) - first;
    take_settled(&mut program, second);
    drop(board);
    program.until("lost ");
    let mut board = sketch.plug_in(&bench.path("port"));
    let third = hold(&mut board, 100);
    program.until("found ");
    program.until("has lost its zero; a new round begins");
    take_settled(&mut program, third);
    program.ends();
    let values: Vec<_> =
        readings(&bench).iter().map(|r| (r.round, (r.value * 1000.0).round() as i32)).collect();
    assert_eq!(values, [(1, first), (2, second), (3, third)]);
    assert_eq!(told(program.last_words()), logged(&bench));
}

/// A plan with many spots of one length.
fn rivets(count: usize) -> String {
    let spot = |n: usize| {
        format!("[[spot]]\nname = \"rivet-{n:02}\"\nquantity = \"length\"\nlower = 1.0\nupper = 30.0\n\n")
    };
    let (before, after) = SMALL_PLAN.split_once("[[spot]]").unwrap();
    let after = after.split_once("[[instrument]]").unwrap().1;
    let after = after.replacen("incidence@*", "spot@*", 1);
    format!("{before}{}[[instrument]]{after}", (1..=count).map(spot).collect::<String>())
}

#[test]
fn every_press_of_a_caliper_is_one_reading_through_kills_of_both() {
    const COUNT: usize = 16;
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("caliper_bridge", "caliper_whole_way", &[]);
    let bench = bench(&rivets(COUNT), "caliper-board.toml");
    let link = bench.path("port");
    let args = [&LISTEN[..], &["--hands-free"]].concat();
    let mut board = sketch.plug_in(&link);
    let mut program = Listening::start(&bench, &args);
    let mut acknowledged = Vec::new();
    let mut pressed = Vec::new();
    for press in 0..COUNT {
        let point = program.until("now ");
        assert!(point.contains(&format!("spot@rivet-{:02}", press + 1)), "{point}");
        match press {
            // The board is killed between two presses; a press while it is gone is lost.
            3 | 9 => {
                drop(board);
                program.until("lost ");
                board = sketch.plug_in(&link);
                program.until("found ");
            }
            // The program is killed, and started again for what is still wanted.
            5 | 11 => {
                program.kill();
                acknowledged.extend(told(program.last_words()));
                program = Listening::start(&bench, &args);
                program.until("now ");
            }
            2 => {
                program.types("z");
                program.until("the board refuses to zero: zero at the caliper");
            }
            // The caliper stutters.
            7 => {
                board.happens("frame FFFF0001234");
                program.until("(frame did not fit); ignored");
            }
            _ => {}
        }
        // Two presses with the same value are two readings.
        let hundredths = 1200 + 25 * (press / 2);
        board.happens(&format!("frame FFFF0{hundredths:06}20"));
        let line = program.until("taken ");
        assert!(line.contains(&format!("spot@rivet-{:02}", press + 1)), "{line}");
        pressed.push((format!("spot@rivet-{:02}", press + 1), "-", hundredths as i64));
    }
    program.ends();
    acknowledged.extend(told(program.last_words()));
    assert_eq!(taken(&bench), pressed);
    assert_eq!(acknowledged, logged(&bench));
    bench.line("verify wing.jigtrue").expect(0);
}

#[test]
fn nothing_is_taken_from_a_board_other_than_the_files() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("tilt_sensor", "tilt_other", &[]);
    let bench = bench(SMALL_PLAN, "tilt-board.toml");
    let text = String::from_utf8(bench.read("board.toml")).unwrap();
    bench.write("board.toml", text.replace("T-0001", "T-0002"));
    let mut board = sketch.plug_in(&bench.path("port"));
    hold(&mut board, 2150);
    let mut program = Listening::start(&bench, &LISTEN);
    program.until("hears   tilt sensor number T-0001, firmware 1.0");
    program.until("wrong instrument: number T-0001 is here, T-0002 is wanted; nothing is recorded");
    // No key records any of it.
    for typed in ["", "!", "q"] {
        program.types(typed);
    }
    program.ends();
    assert_eq!(readings(&bench).len(), 0);
    let watch =
        ["watch", "wing.jigtrue", "--point", "incidence@S1", "--port", "port", "--instrument", "board.toml"];
    let mut program = Listening::start(&bench, &watch);
    program.until("wrong instrument: number T-0001 is here, T-0002 is wanted; nothing is recorded");
    program.types("q");
    program.until("0 records of incidence@S1");
    program.ends();
}

#[test]
fn an_unknown_board_is_named() {
    let Some(emulator) = emulator() else { return };
    let sketch = emulator.compile("tilt_sensor", "tilt_unknown", &[]);
    let bench = bench(SMALL_PLAN, "tilt-board.toml");
    let mut board = sketch.plug_in(&bench.path("port"));
    hold(&mut board, 2150);
    let heard = bench.line("instruments --port port --baud 115200").expect(0).out;
    assert!(heard.contains("lines of jigtrue's own protocol"), "{heard}");
    assert!(heard.contains("board.toml reads"), "{heard}");
}
