//! `watch`: whether a value stays where it is, for hours.

use super::happen::open;
use super::listen::{enter, figure};
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use assess::drift::Span;
use bench::{Came, PortEvent, Said};
use clap::Args;
use instrument::Fault;
use quantity::Celsius;
use quantity::shown::counted;
use record::{DriftShift, Entry, What};
use serde::Serialize;
use session::gauges::Connected;
use session::port::{Driver, Leave, Listener, TypedLines, Watched};
use session::{PlanPoint, Rotating, Session, SessionError, shown, stamp};
use std::path::PathBuf;
use std::time::Duration;

/// How long to wait for an event before looking at what was typed.
const LOOK: Duration = Duration::from_millis(100);

#[derive(Debug, Args)]
pub struct Watch {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The port the instrument is on
    #[arg(long)]
    port: String,
    /// The instrument's file (TOML)
    #[arg(long)]
    instrument: PathBuf,
    /// The point it stands on
    #[arg(long)]
    point: String,
    /// Seconds that one record covers
    #[arg(long, default_value_t = 60, value_parser = clap::value_parser!(u32).range(1..=3600))]
    every: u32,
    /// Stop after this many records; without it, q or Ctrl-C stops
    #[arg(long)]
    records: Option<u64>,
    /// Also write what is shown into this file; a full file is renamed, and five of those are kept
    #[arg(long = "log", value_name = "FILE")]
    lines: Option<PathBuf>,
    /// Who watches (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Default, Serialize)]
struct Answer {
    event: &'static str,
    point: String,
    unit: &'static str,
    records: u64,
    shifts: u64,
    last_shift: Option<ShiftView>,
    level: Option<f64>,
    /// Things received that are not values.
    faults: u64,
}

#[derive(Clone, Serialize)]
struct ShiftView {
    size: f64,
    since: String,
}

#[derive(Default, Serialize)]
struct Event<'a> {
    event: &'a str,
    words: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    record: Option<RecordView>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shift: Option<ShiftView>,
}

/// A record, in the base unit.
#[derive(Serialize)]
struct RecordView {
    seq: u64,
    at: String,
    mean: f64,
    least: f64,
    most: f64,
    samples: u32,
    seconds: u32,
    temperature_c: Option<f64>,
}

/// A watch in progress. Its memory is constant.
struct Running<'a> {
    session: Session,
    driver: Driver,
    device: &'a Connected,
    show: &'a Show,
    lines: Option<Rotating>,
    answer: Answer,
}

impl Watch {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let device = Connected::read(&self.instrument)?;
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let PlanPoint { point, quantity } = session.point_named(&self.point)?;
        if quantity != device.quantity() {
            return Err(Refusal::OtherQuantity { point, asks: quantity, reads: device.quantity() }.into());
        }
        // First what may fail: nothing enters the log for a missing port.
        let lines = self.lines.as_deref().map(Rotating::open).transpose()?;
        let listener = Listener::open(&self.port, device.settings, device.dialect)?;
        let leave = Leave::begin()?;
        enter(&mut session, &device, show)?;
        let answer = Answer {
            event: "ended",
            point: point.to_string(),
            unit: quantity.base_symbol(),
            ..Answer::default()
        };
        let mut driver = Driver::new(&device, listener);
        driver.watch(point, u64::from(self.every) * 1000);
        let mut running = Running { session, driver, device: &device, show, lines, answer };
        let watching = format!(
            "watching {} on {} with `{}`; q or Ctrl-C leaves",
            running.answer.point,
            shown(&self.port),
            shown(&device.facts.name)
        );
        running.tell("watching", "", &watching)?;
        running.go_on(self.records, &leave)?;
        if self.records.is_none_or(|most| running.answer.records < most) {
            let written = running.driver.end_span(&mut running.session)?;
            running.wrote(written)?;
        }
        running.answer.level = running.driver.bench().watched_level();
        show.event(String::new, &running.answer)?;
        let end = text(&running.answer);
        show.text(&end)?;
        running.keep(&end);
        Ok(Exit::Done)
    }
}

impl Running<'_> {
    /// Runs until enough records are written or the person leaves. The end of input is no reason to leave: a watch
    /// may be started without a terminal.
    fn go_on(&mut self, most: Option<u64>, leave: &Leave) -> Result<(), SessionError> {
        let lines = TypedLines::begin()?;
        while !leave.asked() {
            for event in self.driver.wait(LOOK) {
                self.event(&event)?;
                if most.is_some_and(|most| self.answer.records >= most) {
                    return Ok(());
                }
            }
            // Another program may have written meanwhile.
            if self.session.refresh()? {
                self.driver.look(&self.session);
            }
            while let Some(line) = lines.next() {
                if line.text == "q" {
                    return Ok(());
                }
            }
        }
        Ok(())
    }

    fn event(&mut self, event: &PortEvent) -> Result<(), SessionError> {
        if let Came::Fault(fault) = &event.what
            && *fault != Fault::Start
        {
            self.answer.faults += 1;
            // The first is shown; the rest are counted.
            if self.answer.faults == 1 {
                self.tell("fault", "note    ", &shown(&format!("{fault}; further ones are counted")))?;
            }
        }
        for said in self.driver.event(&mut self.session, event)? {
            self.said(&said)?;
        }
        let written = self.driver.write_spans(&mut self.session)?;
        self.wrote(written)
    }

    fn said(&mut self, said: &Said) -> Result<(), SessionError> {
        let (event, before) = match said {
            Said::Lost { .. } => ("lost", "lost    "),
            Said::Found => ("found", "found   "),
            Said::Hears { .. } => ("hears", "hears   "),
            Said::Wrong { .. } => ("wrong", "note    "),
            Said::Zeroed(_) => {
                return self.tell(
                    "zeroed",
                    "note    ",
                    "the instrument was zeroed, or lost its zero; its level is learned again",
                );
            }
            // Everything else concerns readings, and a watch takes none.
            _ => return Ok(()),
        };
        self.tell(event, before, &shown(&self.driver.words(said)))
    }

    /// Shows a line, as text or as JSON, and writes it to the file.
    fn tell(&mut self, event: &str, before: &str, words: &str) -> Result<(), SessionError> {
        let event = Event { event, words, ..Event::default() };
        self.out(&event, &format!("{before}{words}"))
    }

    fn out(&mut self, event: &Event<'_>, line: &str) -> Result<(), SessionError> {
        self.show.event(String::new, event)?;
        self.show.text(line)?;
        self.keep(line);
        Ok(())
    }

    /// Writes a line into the file of lines. The records are in the log, where a full disk is reported; here it is
    /// ignored.
    fn keep(&mut self, line: &str) {
        if let Some(lines) = &mut self.lines
            && let Err(why) = lines.line(&format!("{} {line}", stamp(session::now())))
        {
            self.show.aside(&why.to_string());
        }
    }

    fn wrote(&mut self, written: Vec<Watched>) -> Result<(), SessionError> {
        written.into_iter().try_for_each(|one| self.record(&one.span, one.taken.entry))
    }

    fn record(&mut self, span: &Span, entry: Entry) -> Result<(), SessionError> {
        self.answer.records += 1;
        let step = self.device.facts.resolution;
        let unit = self.answer.unit;
        let at = stamp(entry.at);
        let What::Drift { temperature, shift, .. } = entry.what else { return Ok(()) };
        let words = format!(
            "{at}  {} {unit}, {} to {}, {} in {} s",
            figure(span.mean, step / 10.0),
            figure(span.least, step),
            figure(span.most, step),
            counted(span.samples, "value", "values"),
            span.seconds
        );
        let record = RecordView {
            seq: entry.seq,
            at,
            mean: span.mean,
            least: span.least,
            most: span.most,
            samples: span.samples,
            seconds: span.seconds,
            temperature_c: temperature.map(Celsius::value),
        };
        let event = Event { event: "record", words: &words, record: Some(record), ..Event::default() };
        self.out(&event, &words)?;
        let Some(DriftShift { size, since }) = shift else { return Ok(()) };
        let shift = ShiftView { size, since: stamp(since) };
        self.answer.shifts += 1;
        self.answer.last_shift = Some(shift.clone());
        let words =
            format!("{} {unit} since {}; the level moved and stayed", figure(size, step / 10.0), shift.since);
        let event = Event { event: "shift", words: &words, shift: Some(shift), ..Event::default() };
        self.out(&event, &format!("shift   {words}"))
    }
}

fn text(answer: &Answer) -> String {
    let shifts = match answer.shifts {
        0 => "no shift found".to_owned(),
        n => format!("{} found", counted(n, "shift", "shifts")),
    };
    let learning = if answer.level.is_none() {
        "; too few records yet to tell a shift (the first ten give the level)"
    } else {
        ""
    };
    let records = counted(answer.records, "record", "records");
    let faults = match answer.faults {
        0 => String::new(),
        count => format!("; {count} times something came that is not a value"),
    };
    format!("{records} of {}, {shifts}{learning}{faults}", shown(&answer.point))
}
