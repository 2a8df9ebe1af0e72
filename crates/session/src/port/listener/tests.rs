use super::*;
use bench::Came;
use serialport::TTYPort;
use std::io::Write;

/// A face is busy for longer than it takes for an instrument to count as lost; the events it then finds came all
/// along.
#[test]
fn events_not_collected_yet_are_not_silence() {
    let (mut master, slave) = TTYPort::pair().unwrap();
    let name = serialport::SerialPort::name(&slave).unwrap();
    let settings = PortSettings { baud: 9600, ..PortSettings::default() };
    let dialect = DialectSpec::Lines(instrument::Template::new("X={angle deg}").unwrap());
    let listener = Listener::open(&name, settings, dialect).unwrap();
    let mut came = Vec::new();
    while came.is_empty() {
        master.write_all(b"X=0.10\n").unwrap();
        came = listener.wait(Duration::from_millis(20));
    }
    let looked_ms = listener.now_ms();
    for _ in 0..30 {
        master.write_all(b"X=0.10\n").unwrap();
        std::thread::sleep(Duration::from_millis(10));
    }
    assert_eq!(listener.now_ms(), looked_ms);
    let newest_ms = std::iter::repeat_with(|| listener.poll()).find_map(|came| Some(came.last()?.at_ms));
    assert!(newest_ms.unwrap() >= looked_ms && listener.now_ms() >= newest_ms.unwrap());
    // It also advances while nothing is heard.
    while listener.now_ms() < looked_ms + 1000 {
        let _ = listener.wait(Duration::from_millis(20));
    }
    drop((master, slave));
    while !listener.wait(Duration::from_millis(20)).iter().any(|it| matches!(it.what, Came::Lost(_))) {}
    let lost_ms = listener.now_ms();
    while listener.now_ms() == lost_ms {
        let _ = listener.wait(Duration::from_millis(20));
    }
}
