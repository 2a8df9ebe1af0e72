//! Instruments that others wrote: a Modbus slave and an NMEA talker by published Python libraries, and a slave as
//! strict as a line of two wires. Whole rounds of ten stations, in both facings, by the real program.
#![cfg(unix)]

use crate::board::{Board, HalfDuplex};
use crate::listening::{Listening, readings, taken};
use crate::program::{Bench, SMALL_PLAN};
use instrument::InstrumentFile;
use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

const STATIONS: i32 = 10;
const LISTEN: [&str; 7] =
    ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];

/// The registers of `modbus_slave.py`: a float among the input registers, and a separate one among the holding
/// registers.
const MODBUS: &str = r#"speaks = "modbus"
slave = 17
every_ms = 50
answer_ms = 400
value = [
    { axis = "angle", unit = "deg", registers = "input", address = 7, form = "f32", order = "high-first" },
    { axis = "cross", unit = "deg", registers = "holding", address = 44, form = "i16", scale = 0.01 },
]"#;
const NMEA: &str = r#"speaks = "nmea"
names = { PITCH = "angle", ROLL = "cross" }"#;

fn file(dialect: &str) -> String {
    format!(
        "name = \"port level\"\nkind = \"inclinometer\"\nresolution = 0.01\naccuracy = 0.05\nrepeatability = 0.02\n[port]\n\
         baud = 9600\n[dialect]\n{dialect}\n[axes]\nmeasures = \"angle\"\npositive = \"arrow end up\"\n[settle]\nhold_ms = 400\n"
    )
}

/// The design of a station, in hundredths of a degree.
fn design(station: i32) -> i32 {
    200 - 25 * (station - 1)
}

/// A log of ten stations at its first stage.
fn bench(dialect: &str) -> Bench {
    let stations = SMALL_PLAN.find("[[station]]").unwrap()..SMALL_PLAN.find("[[spot]]").unwrap();
    let mut ten = String::new();
    for station in 1..=STATIONS {
        writeln!(
            ten,
            "[[station]]\nname = \"S{station}\"\nspan = {}\nchord = 1400\nincidence = {}\n",
            300 * station,
            f64::from(design(station)) / 100.0
        )
        .unwrap();
    }
    let bench =
        Bench::with_plan(&format!("{}{ten}{}", &SMALL_PLAN[..stations.start], &SMALL_PLAN[stations.end..]));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench.write("level.toml", file(dialect));
    bench
}

/// What the instrument shows at the place the program asks for: a zero of 0.10 on a true wing.
fn wanted(now: &str) -> i32 {
    let place = now.split("incidence@S").nth(1).unwrap();
    let station: i32 = place.split(',').next().unwrap().parse().unwrap();
    let true_value = design(station);
    if now.contains("forward") { true_value + 10 } else { 10 - true_value }
}

/// An instrument on the port whose value can be changed, and that can be unplugged and plugged in again.
trait Plugged {
    fn carry_to(&mut self, hundredths: i32);
    fn pull_out_and_plug_in_again(&mut self, hundredths: i32, program: &mut Listening);
}

fn whole_round(bench: &Bench, plugged: &mut dyn Plugged) {
    let mut program = Listening::start(bench, &LISTEN);
    let mut shown = Vec::new();
    for at in 0..2 * STATIONS {
        let now = program.until("now ");
        let value = wanted(&now);
        if at == 7 {
            // Unplugged at the spot just taken, and plugged in there again: that is not a second reading.
            plugged.pull_out_and_plug_in_again(*shown.last().unwrap(), &mut program);
        }
        plugged.carry_to(value);
        program.until("taken ");
        shown.push(value);
    }
    let end = program.until("readings taken");
    assert!(end.contains("20 readings taken. Nothing more is wanted"), "{end}");
    program.ends();
    let got: Vec<i64> = taken(bench).into_iter().map(|(_, _, value)| value).collect();
    let shown: Vec<i64> = shown.into_iter().map(i64::from).collect();
    assert_eq!(got, shown);
    // No digit that was not sent: the display has hundredths.
    for reading in readings(bench) {
        let text = reading.text;
        let decimals =
            text.split(' ').next().unwrap().split_once('.').map_or(0, |(_, decimals)| decimals.len());
        assert!(decimals <= 2, "{text}");
    }
    bench.line("verify wing.jigtrue").expect(0);
}

/// A Python that has these modules; `None`, with a loud message, if there is none.
fn python(imports: &str) -> Option<&'static str> {
    let found = ["python3", "/usr/bin/python3"].into_iter().find(|python| {
        let asked = Command::new(python).args(["-c", imports]).stderr(Stdio::null()).status();
        asked.is_ok_and(|status| status.success())
    });
    if found.is_none() {
        let line =
            format!("\n*** SKIPPED: no Python that can do `{imports}`; what it answers is recorded ***\n");
        let _ = std::io::stderr().write_all(line.as_bytes());
    }
    found
}

struct Script {
    python: &'static str,
    script: PathBuf,
    link: PathBuf,
    child: Child,
}

impl Script {
    fn start(python: &'static str, script: &str, link: &Path) -> Self {
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("others").join(script);
        let child = Self::run(python, &script, link);
        Self { python, script, link: link.to_owned(), child }
    }

    fn run(python: &str, script: &Path, link: &Path) -> Child {
        let mut child = Command::new(python)
            .arg(script)
            .arg(link)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut ready = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut ready).unwrap();
        assert_eq!(ready, "ready\n");
        child
    }

    fn show(&mut self, hundredths: i32) {
        writeln!(self.child.stdin.as_mut().unwrap(), "{}", f64::from(hundredths) / 100.0).unwrap();
    }

    fn kill(&mut self) {
        let _ = std::fs::remove_file(&self.link);
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Plugged for Script {
    fn carry_to(&mut self, hundredths: i32) {
        for far in [3_000, 3_300, 2_700] {
            self.show(far);
            std::thread::sleep(Duration::from_millis(300));
        }
        self.show(hundredths);
    }

    fn pull_out_and_plug_in_again(&mut self, hundredths: i32, program: &mut Listening) {
        self.kill();
        program.until("lost ");
        self.child = Self::run(self.python, &self.script, &self.link);
        self.show(hundredths);
        program.until("found ");
        std::thread::sleep(Duration::from_millis(1_500));
    }
}

impl Drop for Script {
    fn drop(&mut self) {
        self.kill();
    }
}

#[test]
fn a_modbus_slave_of_a_published_library() {
    let imports = "from pymodbus.server.async_io import ModbusSerialServer; from pymodbus.transaction import \
                   ModbusRtuFramer; from pymodbus.datastore import ModbusSlaveContext";
    let Some(python) = python(imports) else { return };
    let bench = bench(MODBUS);
    let mut slave = Script::start(python, "modbus_slave.py", &bench.path("port"));
    whole_round(&bench, &mut slave);
}

#[test]
fn sentences_of_a_published_library() {
    let Some(python) = python("import pynmea2") else { return };
    let bench = bench(NMEA);
    let mut talker = Script::start(python, "nmea_talker.py", &bench.path("port"));
    whole_round(&bench, &mut talker);
}

struct TwoWires {
    board: Option<Board>,
    link: PathBuf,
}

impl TwoWires {
    fn plug_in(link: &Path, hundredths: i32) -> Board {
        // 9600 bits per second, ten bits a byte.
        let line = HalfDuplex { byte: Duration::from_micros(1_042), latency: Duration::from_millis(190) };
        let spec = InstrumentFile::read(&file(MODBUS)).unwrap().dialect;
        Board::plug_in_half_duplex(link, spec, f64::from(hundredths) / 100.0, line)
    }
}

impl Plugged for TwoWires {
    fn carry_to(&mut self, hundredths: i32) {
        self.board.as_ref().unwrap().carry_to(f64::from(hundredths) / 100.0);
    }

    fn pull_out_and_plug_in_again(&mut self, hundredths: i32, program: &mut Listening) {
        assert_eq!(self.board.take().unwrap().destroyed(), 0);
        program.until("lost ");
        self.board = Some(Self::plug_in(&self.link, hundredths));
        program.until("found ");
        std::thread::sleep(Duration::from_millis(2_000));
    }
}

/// A slave that takes 190 ms for an answer and hears nothing meanwhile, asked for two separate registers twenty times
/// a second.
#[test]
fn a_slave_on_two_wires_is_never_asked_while_it_answers() {
    let bench = bench(MODBUS);
    let link = bench.path("port");
    let mut wires = TwoWires { board: Some(TwoWires::plug_in(&link, 0)), link };
    whole_round(&bench, &mut wires);
    assert_eq!(wires.board.unwrap().destroyed(), 0);
}
